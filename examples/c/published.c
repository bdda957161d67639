/* Computes the published numbers of a list and holds them against what is printed; with --bits after it, prints each as it
 * stands in memory.
 *
 *   cc -std=c11 -Iinclude examples/c/published.c -Ltarget/release -lloomwright -lm -o published
 *   ./published examples/published.csv
 */
#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include "loomwright.h"

/* One call by name: numbers `a`, and the first argument as text where it is one. */
static int32_t call(const char *name, const char *text, const double *a, double *out) {
    int32_t kind = (int32_t)a[0], material = (int32_t)a[1];
    if (strcmp(name, "lw_resistance") == 0) return lw_resistance(kind, material, a[2], a[3], a[4], out);
    if (strcmp(name, "lw_drop") == 0) return lw_drop(kind, material, a[2], a[3], a[4], a[5], out);
    if (strcmp(name, "lw_gauge_area") == 0) return lw_gauge_area((int32_t)a[0], out);
    if (strcmp(name, "lw_gauge_for_area") == 0) return lw_gauge_for_area(a[0], out);
    if (strcmp(name, "lw_converter_input_current") == 0) return lw_converter_input_current(a[0], a[1], a[2], out);
    if (strcmp(name, "lw_opening_latest") == 0) return lw_opening_latest(text, a[1], a[2], out);
    if (strcmp(name, "lw_opening_earliest") == 0) return lw_opening_earliest(text, a[1], a[2], out);
    if (strcmp(name, "lw_torque_least") == 0) return lw_torque_least(text, a[1], out);
    if (strcmp(name, "lw_torque_most") == 0) return lw_torque_most(text, a[1], out);
    if (strcmp(name, "lw_peukert_time") == 0) return lw_peukert_time(a[0], a[1], a[2], a[3], out);
    if (strcmp(name, "lw_battery_needed") == 0) return lw_battery_needed((int32_t)a[0], a[1], a[2], a[3], a[4], out);
    if (strcmp(name, "lw_spot_temperature") == 0) return lw_spot_temperature(a[0], a[1], out);
    if (strcmp(name, "lw_contact_voltage") == 0) return lw_contact_voltage(a[0], a[1], out);
    return LW_UNKNOWN_VALUE;
}

int main(int count, char **arguments) {
    int bits = count == 3 && strcmp(arguments[2], "--bits") == 0;
    FILE *file = count >= 2 ? fopen(arguments[1], "r") : NULL;
    if (file == NULL) return fprintf(stderr, "which list?\n"), 2;
    char line[512];
    int checked = 0;
    while (fgets(line, sizeof line, file) != NULL) {
        char id[64], name[64], given[128], text[64] = "";
        double factor, printed, within, a[8] = {0}, found = 0.0;
        if (line[0] == '#' || strncmp(line, "id,", 3) == 0) continue;
        if (sscanf(line, "%63[^,],%63[^,],%127[^,],%lf,%lf,%lf", id, name, given, &factor, &printed, &within) != 6) return 1;
        int index = 0;
        for (char *part = strtok(given, " "); part != NULL && index < 8; part = strtok(NULL, " "), index++) {
            if (index == 0) snprintf(text, sizeof text, "%s", part);
            sscanf(part, "%lf", &a[index]);
        }
        int32_t status = call(name, text, a, &found);
        if (status != LW_OK || fabs(found * factor - printed) > within) {
            char message[256];
            lw_last_message(message, sizeof message);
            return fprintf(stderr, "%s: %g, printed %g %s\n", id, found * factor, printed, message), 1;
        }
        if (bits) {
            uint64_t whole;
            memcpy(&whole, &found, sizeof whole);
            printf("%s %016" PRIx64 "\n", id, whole);
        }
        checked++;
    }
    fclose(file);
    if (!bits) printf("%d published numbers through C\n", checked);
    return checked >= 10 ? 0 : 1;
}
