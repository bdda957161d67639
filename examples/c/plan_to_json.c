/* Judges a plan file and writes its report as JSON to standard output; mistakes of the plan go to standard error, by line
 * and column.
 *
 *   cc -std=c11 -Iinclude examples/c/plan_to_json.c -Ltarget/release -lloomwright -o plan_to_json
 *   ./plan_to_json examples/plans/river-launch.toml
 */
#include <stdio.h>
#include <stdlib.h>
#include "loomwright.h"

static char *whole_file(const char *path, size_t *length) {
    FILE *file = fopen(path, "rb");
    if (file == NULL) return NULL;
    char *text = NULL;
    if (fseek(file, 0, SEEK_END) == 0) {
        long size = ftell(file);
        text = size >= 0 && fseek(file, 0, SEEK_SET) == 0 ? malloc((size_t)size + 1) : NULL;
        *length = text == NULL ? 0 : fread(text, 1, (size_t)size, file);
    }
    fclose(file);
    return text;
}

static int tell_mistakes(const lw_plan *plan) {
    size_t count = 0;
    lw_mistake_count(plan, &count);
    for (size_t index = 0; index < count; index++) {
        char text[512];
        lw_mistake place;
        if (lw_mistake_at(plan, index, &place) != LW_OK) return 2;
        if (lw_mistake_text(plan, index, text, sizeof text, NULL) != LW_OK) return 2;
        fprintf(stderr, "%llu:%llu: %s\n", (unsigned long long)place.line, (unsigned long long)place.column, text);
    }
    return 2;
}

int main(int count, char **arguments) {
    if (count != 2) return fprintf(stderr, "which plan?\n"), 2;
    size_t length = 0;
    char *text = whole_file(arguments[1], &length);
    if (text == NULL) return fprintf(stderr, "%s cannot be read\n", arguments[1]), 2;
    lw_plan *plan = NULL;
    int32_t status = lw_plan_read(text, length, &plan);
    free(text);
    int code = 2;
    lw_report *report = NULL;
    if (status == LW_REFUSED) {
        code = tell_mistakes(plan);
    } else if (status == LW_OK && lw_plan_check(plan, &report) == LW_OK) {
        size_t size = 0;
        char verdict[32];
        lw_report_json(report, NULL, 0, &size);
        char *json = malloc(size + 1);
        if (json != NULL && lw_report_json(report, json, size + 1, NULL) == LW_OK) fputs(json, stdout);
        free(json);
        lw_report_text(report, "/verdict", verdict, sizeof verdict, NULL);
        code = verdict[0] == 'h' ? 0 : 1;
    }
    lw_report_free(report);
    lw_plan_free(plan);
    return code;
}
