// Loomwright from C++17: handles that free themselves, failures as exceptions. Header only; link with the C library.
//
// A computation is not an approval: local codes and licensed practice come first.
#ifndef LOOMWRIGHT_HPP
#define LOOMWRIGHT_HPP

#include <cstddef>
#include <memory>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "loomwright.h"

namespace loomwright {

// What a call has failed with: its status, and the message of this thread.
class failure : public std::runtime_error {
  public:
    explicit failure(std::int32_t status) : std::runtime_error(message()), status_(status) {}
    std::int32_t status() const noexcept { return status_; }

  private:
    static std::string message() {
        std::string text(lw_last_message(nullptr, 0), '\0');
        lw_last_message(text.data(), text.size() + 1);
        return text;
    }
    std::int32_t status_;
};

inline void require(std::int32_t status) {
    if (status != LW_OK) throw failure(status);
}

// One number of a scalar function: number(lw_drop, LW_IEC_5, LW_COPPER, 10.0, 18.0, 7.5, 45.0).
template <typename Function, typename... Arguments>
double number(Function function, Arguments... arguments) {
    double result = 0.0;
    require(function(arguments..., &result));
    return result;
}

// An empty query and an empty result, with their sizes set.
inline lw_circuit_query query() {
    lw_circuit_query made{};
    made.struct_size = static_cast<std::uint32_t>(sizeof made);
    return made;
}
inline lw_circuit_result result() {
    lw_circuit_result made{};
    made.struct_size = static_cast<std::uint32_t>(sizeof made);
    return made;
}

inline lw_circuit_result size_circuit(const lw_circuit_query &asked) {
    lw_circuit_result found = result();
    require(lw_size_circuit(&asked, &found));
    return found;
}

inline std::vector<lw_circuit_result> size_circuits(const std::vector<lw_circuit_query> &asked, std::int32_t threads) {
    std::vector<lw_circuit_result> found(asked.size(), result());
    require(lw_size_circuits(asked.data(), sizeof(lw_circuit_query), found.data(), sizeof(lw_circuit_result), asked.size(),
                             threads));
    return found;
}

// A judged plan.
class report {
  public:
    std::string json() const {
        return whole([this](char *buffer, std::size_t capacity, std::size_t *length) {
            return lw_report_json(handle_.get(), buffer, capacity, length);
        });
    }
    // `field`: a JSON Pointer (RFC 6901) such as "/runs/3/drop_v".
    double number(const std::string &field) const {
        double found = 0.0;
        require(lw_report_number(handle_.get(), field.c_str(), &found));
        return found;
    }
    std::string text(const std::string &field) const {
        return whole([&](char *buffer, std::size_t capacity, std::size_t *length) {
            return lw_report_text(handle_.get(), field.c_str(), buffer, capacity, length);
        });
    }
    std::size_t count(const std::string &field) const {
        std::size_t found = 0;
        require(lw_report_count(handle_.get(), field.c_str(), &found));
        return found;
    }

  private:
    friend class plan;
    struct release {
        void operator()(lw_report *handle) const noexcept { lw_report_free(handle); }
    };
    explicit report(lw_report *handle) : handle_(handle) {}
    template <typename Call>
    static std::string whole(Call call) {
        std::size_t length = 0;
        require(call(nullptr, 0, &length));
        std::string found(length, '\0');
        require(call(found.data(), length + 1, nullptr));
        return found;
    }
    std::unique_ptr<lw_report, release> handle_;
};

// How a stay is forecast. The texts have to live until the call has returned.
struct forecast_options {
    std::string_view stay{};    // Of one; without one every stay of the plan.
    std::string_view weather{}; // Measured, as comma-separated values; without it the climate of the place.
    std::int32_t steps_per_day = 96;
    double level_percent = 80.0;
    std::int32_t size = LW_SIZE_NOTHING;
    bool series = false;
    std::int32_t samples = 0;
    std::uint64_t seed = 1;
    std::int32_t threads = 1;
};

// A plan that was read, or its mistakes.
class plan {
  public:
    explicit plan(std::string_view text) {
        lw_plan *handle = nullptr;
        const std::int32_t status = lw_plan_read(text.data(), text.size(), &handle);
        handle_.reset(handle);
        if (status != LW_REFUSED) require(status);
    }
    // Its mistakes, each with its place; none when it was read.
    std::vector<std::pair<lw_mistake, std::string>> mistakes() const {
        std::size_t count = 0;
        require(lw_mistake_count(handle_.get(), &count));
        std::vector<std::pair<lw_mistake, std::string>> found;
        for (std::size_t index = 0; index < count; ++index) {
            lw_mistake place{};
            require(lw_mistake_at(handle_.get(), index, &place));
            found.emplace_back(place, report::whole([&](char *buffer, std::size_t capacity, std::size_t *length) {
                return lw_mistake_text(handle_.get(), index, buffer, capacity, length);
            }));
        }
        return found;
    }
    loomwright::report check() const {
        lw_report *found = nullptr;
        require(lw_plan_check(handle_.get(), &found));
        return loomwright::report(found);
    }
    // Its schedule: "/sheets/cables/0/cut_m" and so on.
    loomwright::report schedule() const {
        lw_report *found = nullptr;
        require(lw_plan_schedule(handle_.get(), &found));
        return loomwright::report(found);
    }
    // How often each of its limits is kept within the spread of its parts.
    loomwright::report tolerance(std::int32_t samples, std::uint64_t seed, std::int32_t threads) const {
        lw_report *found = nullptr;
        require(lw_plan_tolerance(handle_.get(), samples, seed, threads, &found));
        return loomwright::report(found);
    }
    // Whether it lasts its stays: "/stays/0/banks/0/lowest_charge" and so on.
    loomwright::report forecast(const forecast_options &asked = {}) const {
        lw_report *found = nullptr;
        require(lw_plan_forecast(handle_.get(), asked.stay.data(), asked.stay.size(), asked.weather.data(),
                                 asked.weather.size(), asked.steps_per_day, asked.level_percent, asked.size,
                                 asked.series ? 1 : 0, asked.samples, asked.seed, asked.threads, &found));
        return loomwright::report(found);
    }
    // A readings file to fill in, in walking order; `form` is an lw_readings_form.
    std::string readings_template(std::int32_t form = LW_READINGS_CSV) const {
        lw_report *found = nullptr;
        require(lw_plan_readings_template(handle_.get(), form, &found));
        return loomwright::report(found).text("/text");
    }
    // What was measured against it: "/days/0/segments/0/verdict" and so on.
    loomwright::report reconcile(std::string_view readings) const {
        lw_report *found = nullptr;
        require(lw_plan_reconcile(handle_.get(), readings.data(), readings.size(), &found));
        return loomwright::report(found);
    }
    // The commissioning record, to sign and keep.
    loomwright::report commission(std::string_view readings) const {
        lw_report *found = nullptr;
        require(lw_plan_commission(handle_.get(), readings.data(), readings.size(), &found));
        return loomwright::report(found);
    }
    // What to look at, and how soon again: "/rows/0/months" and so on. Without readings nothing was measured yet.
    loomwright::report inspect(std::string_view readings = {}) const {
        lw_report *found = nullptr;
        require(lw_plan_inspect(handle_.get(), readings.data(), readings.size(), &found));
        return loomwright::report(found);
    }
    // In what order it is made live: "/steps/0/do" and so on.
    loomwright::report before_energising() const {
        lw_report *found = nullptr;
        require(lw_plan_before_energising(handle_.get(), &found));
        return loomwright::report(found);
    }
    // A picture: "/svg", "/title", "/description" and so on. `picture` is an lw_picture; `of` and `stay` are names, empty for
    // the one with least margin; `readings` go with joints and readings.
    loomwright::report draw(std::int32_t picture, std::string_view of = {}, std::string_view stay = {},
                            std::string_view readings = {}) const {
        lw_report *found = nullptr;
        require(lw_plan_draw(handle_.get(), picture, of.data(), of.size(), stay.data(), stay.size(), readings.data(),
                             readings.size(), &found));
        return loomwright::report(found);
    }
    // Everything about it on one page of HTML.
    std::string page(std::string_view readings = {}, std::int32_t samples = 100, std::uint64_t seed = 1,
                     std::int32_t threads = 1) const {
        lw_report *found = nullptr;
        require(lw_plan_page(handle_.get(), readings.data(), readings.size(), samples, seed, threads, &found));
        return loomwright::report(found).text("/html");
    }
    // What changes from this plan to another.
    loomwright::report compare(const plan &other) const {
        lw_report *found = nullptr;
        require(lw_plan_compare(handle_.get(), other.handle_.get(), &found));
        return loomwright::report(found);
    }

  private:
    struct release {
        void operator()(lw_plan *handle) const noexcept { lw_plan_free(handle); }
    };
    std::unique_ptr<lw_plan, release> handle_;
};

} // namespace loomwright

#endif
