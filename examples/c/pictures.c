/* Draws an invented van: its single-line diagram as SVG on standard output, or what hinders.
 *
 *   cc -std=c11 -Iinclude examples/c/pictures.c -Ltarget/release -lloomwright -o pictures
 *   ./pictures examples/plans/veterinary-van.toml > van.svg
 */
#include <stdio.h>
#include <stdlib.h>
#include "loomwright.h"

static int failed(const char *what, int32_t status) {
    char message[512];
    lw_last_message(message, sizeof message);
    fprintf(stderr, "%s: %s: %s\n", what, lw_status_text(status), message);
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
    int32_t status = lw_plan_read(text, length, &plan);
    if (status == LW_OK) status = lw_plan_draw(plan, LW_PICTURE_DIAGRAM, NULL, 0, NULL, 0, NULL, 0, &report);
    size_t room = 0;
    if (status == LW_OK) status = lw_report_text(report, "/svg", NULL, 0, &room);
    char *svg = status == LW_OK ? malloc(room + 1) : NULL;
    if (svg != NULL) status = lw_report_text(report, "/svg", svg, room + 1, NULL);
    if (svg != NULL && status == LW_OK) fputs(svg, stdout);
    int ended = status == LW_OK && svg != NULL ? 0 : failed(arguments[1], status);
    /* A name that the plan does not have is told, and nothing is made. */
    lw_report_free(report);
    report = NULL;
    status = lw_plan_draw(plan, LW_PICTURE_VOLTAGE, "nothing", 7, NULL, 0, NULL, 0, &report);
    if (status != LW_UNKNOWN_VALUE || report != NULL) ended = 1;
    lw_report_free(report);
    lw_plan_free(plan);
    free(svg);
    return ended;
}
