/* Reads what was measured in an invented van beside its plan: verdicts worst first, and what to measure next.
 *
 *   cc -std=c11 -Iinclude examples/c/measured.c -Ltarget/release -lloomwright -o measured
 *   ./measured examples/plans/veterinary-van.toml examples/readings/veterinary-van.csv
 */
#include <stdio.h>
#include "loomwright.h"

static int failed(const char *what, int32_t status) {
    char message[512];
    lw_last_message(message, sizeof message);
    printf("%s: %s: %s\n", what, lw_status_text(status), message);
    return 1;
}

static size_t whole(const char *path, char *text, size_t room) {
    FILE *file = fopen(path, "rb");
    if (file == NULL) return 0;
    size_t length = fread(text, 1, room, file);
    fclose(file);
    return length;
}

/* Every day with its pieces, which stand worst first. */
static int32_t told(const lw_report *report) {
    char field[96], verdict[16], name[160], date[16], next[512];
    size_t days = 0, pieces = 0;
    int32_t status = lw_report_count(report, "/days", &days);
    for (size_t day = days; status == LW_OK && day-- > 0;) {
        snprintf(field, sizeof field, "/days/%zu/date", day);
        if (lw_report_text(report, field, date, sizeof date, NULL) != LW_OK) snprintf(date, sizeof date, "no date");
        snprintf(field, sizeof field, "/days/%zu/segments", day);
        status = lw_report_count(report, field, &pieces);
        for (size_t piece = 0; status == LW_OK && piece < pieces; piece++) {
            double excess_mohm = 0.0, within_mohm = 0.0;
            snprintf(field, sizeof field, "/days/%zu/segments/%zu/verdict", day, piece);
            status = lw_report_text(report, field, verdict, sizeof verdict, NULL);
            if (status != LW_OK || (verdict[0] != 'r' && verdict[0] != 'w')) break;
            snprintf(field, sizeof field, "/days/%zu/segments/%zu/name", day, piece);
            status = lw_report_text(report, field, name, sizeof name, NULL);
            snprintf(field, sizeof field, "/days/%zu/segments/%zu/excess_mohm", day, piece);
            if (status == LW_OK) status = lw_report_number(report, field, &excess_mohm);
            snprintf(field, sizeof field, "/days/%zu/segments/%zu/within_mohm", day, piece);
            if (status == LW_OK) status = lw_report_number(report, field, &within_mohm);
            if (status != LW_OK) break;
            printf("%s %s: %s, %.2f mohm too much, within %.2f\n", date, verdict, name, excess_mohm, within_mohm);
            snprintf(field, sizeof field, "/days/%zu/segments/%zu/next", day, piece);
            if (lw_report_text(report, field, next, sizeof next, NULL) == LW_OK) printf("    next: %s\n", next);
        }
    }
    return status;
}

int main(int count, char **arguments) {
    static char text[1 << 16], readings[1 << 16];
    size_t length = count == 3 ? whole(arguments[1], text, sizeof text) : 0;
    size_t readings_length = count == 3 ? whole(arguments[2], readings, sizeof readings) : 0;
    if (length == 0 || readings_length == 0) return fprintf(stderr, "which plan, and which readings?\n"), 2;

    lw_plan *plan = NULL;
    lw_report *report = NULL;
    int32_t status = lw_plan_read(text, length, &plan);
    if (status == LW_OK) status = lw_plan_reconcile(plan, readings, readings_length, &report);
    size_t refused = 0, rows = 0, steps = 0;
    char verdict[16] = "";
    if (status == LW_OK) status = lw_report_count(report, "/refused", &refused);
    if (status == LW_OK) status = lw_report_text(report, "/verdict", verdict, sizeof verdict, NULL);
    if (status == LW_OK) printf("%s, %zu lines refused\n", verdict, refused);
    if (status == LW_OK) status = told(report);
    lw_report_free(report);
    report = NULL;
    if (status == LW_OK) status = lw_plan_inspect(plan, readings, readings_length, &report);
    if (status == LW_OK) status = lw_report_count(report, "/rows", &rows);
    lw_report_free(report);
    report = NULL;
    if (status == LW_OK) status = lw_plan_before_energising(plan, &report);
    if (status == LW_OK) status = lw_report_count(report, "/steps", &steps);
    lw_report_free(report);
    report = NULL;
    if (status == LW_OK) printf("%zu parts to look at, %zu steps to make it live\n", rows, steps);
    if (status != LW_OK) failed("readings", status);

    /* A template that is not filled in says nothing. */
    if (status == LW_OK) status = lw_plan_readings_template(plan, LW_READINGS_CSV, &report);
    if (status == LW_OK) status = lw_report_text(report, "/text", text, sizeof text, &length);
    lw_report_free(report);
    report = NULL;
    if (status == LW_OK && lw_plan_reconcile(plan, text, length, &report) == LW_REFUSED) failed("as expected", LW_REFUSED);
    lw_report_free(report);
    lw_plan_free(plan);
    return status == LW_OK ? 0 : 1;
}
