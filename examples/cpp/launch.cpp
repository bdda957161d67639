// Sizes the circuits of an invented river-survey launch on two threads, and judges its plan.
//
//   c++ -std=c++17 -Iinclude examples/cpp/launch.cpp -Ltarget/release -lloomwright -o launch
//   ./launch examples/plans/river-launch.toml
#include <cstdio>
#include <fstream>
#include <iterator>
#include <string>

#include "loomwright.hpp"

int main(int count, char **arguments) {
    if (count != 2) return std::fprintf(stderr, "which plan?\n"), 2;
    try {
        std::vector<lw_circuit_query> asked;
        for (double current : {2.0, 8.0, 18.0, 60.0}) {
            lw_circuit_query circuit = loomwright::query();
            circuit.has = LW_HAS_MATERIAL;
            circuit.material = LW_TINNED_COPPER;
            circuit.current_a = current;
            circuit.length_m = 6.0;
            circuit.voltage_v = 24.0;
            asked.push_back(circuit);
        }
        const auto sized = loomwright::size_circuits(asked, 2);
        for (std::size_t row = 0; row < sized.size(); ++row) {
            std::printf("%5.1f A: %.4g mm2, %.0f A %s\n", asked[row].current_a, sized[row].csa_mm2,
                        sized[row].fuse_rating_a, sized[row].fuse_family);
        }
        std::ifstream file(arguments[1], std::ios::binary);
        const std::string text((std::istreambuf_iterator<char>(file)), std::istreambuf_iterator<char>());
        const loomwright::plan plan(text);
        for (const auto &[place, words] : plan.mistakes()) {
            std::printf("%llu:%llu: %s\n", static_cast<unsigned long long>(place.line),
                        static_cast<unsigned long long>(place.column), words.c_str());
        }
        const loomwright::report report = plan.check();
        std::printf("%s: %s, %zu runs, %.0f A through %s\n", report.text("/name").c_str(), report.text("/verdict").c_str(),
                    report.count("/runs"), report.number("/runs/0/current_a"), report.text("/runs/0/name").c_str());
        const std::string sheet = plan.readings_template(LW_READINGS_TOML);
        std::printf("%zu steps to make it live, then %s; %zu parts to look at\n", plan.before_energising().count("/steps"),
                    sheet.find("[[readings]]") == std::string::npos ? "nothing to measure" : "a sheet to fill in",
                    plan.inspect().count("/rows"));
        try {
            plan.reconcile(sheet);
        } catch (const loomwright::failure &told) {
            if (told.status() != LW_REFUSED) throw;
            std::printf("not filled in: %s\n", told.what());
        }
        loomwright::number(lw_gauge_area, 99);
    } catch (const loomwright::failure &told) {
        std::printf("as expected: %s\n", told.what());
        return told.status() == LW_OUT_OF_RANGE ? 0 : 1;
    }
    return 1;
}
