/* Bars of the C interface: one crossing, a million sizings on one and two threads.
 *
 *   cargo xtask install --prefix target/prefix
 *   cc -O2 -std=gnu11 -Itarget/prefix/include benches/border.c -Ltarget/prefix/lib -lloomwright -o target/border
 *   LD_LIBRARY_PATH=target/prefix/lib target/border
 */
#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include "loomwright.h"

static double now(void) {
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec + 1e-9 * (double)time.tv_nsec;
}

int main(void) {
    enum { CALLS = 5000000, ROWS = 1000000 };
    double area = 0.0, sum = 0.0;
    double begun = now();
    for (int call = 0; call < CALLS; call++) {
        if (lw_gauge_area(call % 40, &area) != LW_OK) return 1;
        sum += area;
    }
    printf("one crossing, with the gauge law: %.0f ns (sum %.3g)\n", (now() - begun) / CALLS * 1e9, sum);

    lw_circuit_query *queries = calloc(ROWS, sizeof *queries);
    lw_circuit_result *results = calloc(ROWS, sizeof *results);
    if (queries == NULL || results == NULL) return 1;
    for (int row = 0; row < ROWS; row++) {
        queries[row].struct_size = (uint32_t)sizeof *queries;
        queries[row].current_a = 0.5 + (row % 997) * 0.1;
        queries[row].length_m = 0.5 + (row % 89) * 0.15;
        queries[row].voltage_v = row % 3 == 0 ? 12.0 : row % 3 == 1 ? 24.0 : 48.0;
        results[row].struct_size = (uint32_t)sizeof *results;
    }
    double alone = 0.0;
    for (int threads = 1; threads <= 2; threads++) {
        begun = now();
        if (lw_size_circuits(queries, sizeof *queries, results, sizeof *results, ROWS, threads) != LW_OK) return 1;
        double took = now() - begun;
        alone = threads == 1 ? took : alone;
        printf("%d sizings on %d: %.2f s, %.2f us a row, %.2f times as fast as on one\n", ROWS, threads, took,
               took / ROWS * 1e6, alone / took);
    }
    free(queries);
    free(results);
    return 0;
}
