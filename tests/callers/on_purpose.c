/* Calls a library built to panic inside: a status comes back, in a thread of its own too, and the next call works. */
#include <stdio.h>
#include "loomwright.h"

int main(int count, char **arguments) {
    static char text[1 << 16];
    FILE *file = count == 2 ? fopen(arguments[1], "rb") : NULL;
    if (file == NULL) return 2;
    size_t length = fread(text, 1, sizeof text, file);
    fclose(file);
    double area = 7.5;
    char message[128];
    if (lw_gauge_area(12345, &area) != LW_INTERNAL || area != 7.5) return 1;
    lw_last_message(message, sizeof message);
    if (message[0] == '\0') return 1;
    if (lw_gauge_area(6, &area) != LW_OK) return 1;

    lw_circuit_query queries[3] = {{0}};
    lw_circuit_result results[3] = {{0}};
    for (int row = 0; row < 3; row++) {
        queries[row].struct_size = (uint32_t)sizeof queries[row];
        results[row].struct_size = (uint32_t)sizeof results[row];
        queries[row].current_a = row == 1 ? 12345.0 : 10.0;
        queries[row].length_m = 2.0;
        queries[row].voltage_v = 12.0;
    }
    if (lw_size_circuits(queries, sizeof queries[0], results, sizeof results[0], 3, 2) != LW_OK) return 1;
    if (results[0].status != LW_OK || results[1].status != LW_INTERNAL || results[2].status != LW_OK) return 1;

    lw_plan *plan = NULL;
    lw_report *report = NULL;
    if (lw_plan_read(text, length, &plan) != LW_OK) return 1;
    if (lw_plan_forecast(plan, NULL, 0, NULL, 0, 24, 80.0, 0, 0, 12345, 1, 2, &report) != LW_INTERNAL || report != NULL) return 1;
    if (lw_plan_forecast(plan, NULL, 0, NULL, 0, 24, 80.0, 0, 0, 3, 1, 2, &report) != LW_OK || report == NULL) return 1;
    lw_report_free(report);
    report = NULL;
    if (lw_plan_reconcile(plan, "12345", 5, &report) != LW_INTERNAL || report != NULL) return 1;
    if (lw_plan_reconcile(plan, "12345", 4, &report) != LW_REFUSED || report != NULL) return 1;
    lw_plan_free(plan);
    return 0;
}
