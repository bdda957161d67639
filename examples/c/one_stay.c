/* Asks whether an invented cabin lasts its week, and how long its battery would last at one current.
 *
 *   cc -std=c11 -Iinclude examples/c/one_stay.c -Ltarget/release -lloomwright -o one_stay
 *   ./one_stay crates/loomwright/examples/cabin.toml
 */
#include <stdio.h>
#include <string.h>
#include "loomwright.h"

static int failed(const char *what, int32_t status) {
    char message[512];
    lw_last_message(message, sizeof message);
    printf("%s: %s: %s\n", what, lw_status_text(status), message);
    return 1;
}

int main(int count, char **arguments) {
    static char text[1 << 16];
    FILE *file = count == 2 ? fopen(arguments[1], "rb") : NULL;
    if (file == NULL) return fprintf(stderr, "which plan?\n"), 2;
    size_t length = fread(text, 1, sizeof text, file);
    fclose(file);

    lw_plan *plan = NULL;
    lw_report *report = NULL;
    const char *stay = "spring";
    int32_t status = lw_plan_read(text, length, &plan);
    if (status == LW_OK) {
        /* Steps of 15 min, driving told to 80 %, nothing sized, days only, no samples. */
        status = lw_plan_forecast(plan, stay, strlen(stay), NULL, 0, 96, 80.0, LW_SIZE_NOTHING, 0, 0, 1, 1, &report);
    }
    double lasts = 0.0, lowest = 0.0, sun_wh = 0.0;
    if (status == LW_OK) status = lw_report_number(report, "/stays/0/lasts", &lasts);
    if (status == LW_OK) status = lw_report_number(report, "/stays/0/banks/0/lowest_charge", &lowest);
    if (status == LW_OK) status = lw_report_number(report, "/stays/0/banks/0/energies/sun_wh", &sun_wh);
    if (status == LW_OK) {
        printf("%s: %s, %.0f %% at the lowest, %.0f Wh from the sun\n", stay, lasts != 0.0 ? "lasts" : "does not last",
               100.0 * lowest, sun_wh);
    } else {
        failed("stay", status);
    }
    lw_report_free(report);
    lw_plan_free(plan);
    if (status != LW_OK) return 1;

    double hours = 0.0;
    status = lw_peukert_time(100.0, 20.0, 1.3, 10.0, &hours);
    if (status != LW_OK) return failed("time", status);
    printf("100 Ah within 20 h last %.2f h at 10 A\n", hours);
    if (lw_peukert_time(100.0, 20.0, 2.0, 10.0, &hours) != LW_OUT_OF_RANGE) return 1;
    failed("as expected", LW_OUT_OF_RANGE);
    return 0;
}
