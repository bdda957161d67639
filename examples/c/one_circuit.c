/* Asks the engine for circuits of an invented river-survey launch: one number, a whole circuit, and what an error looks
 * like.
 *
 *   cc -std=c11 -Iinclude examples/c/one_circuit.c -Ltarget/release -lloomwright -o one_circuit
 */
#include <stdio.h>
#include "loomwright.h"

static int failed(const char *what, int32_t status) {
    char message[256];
    lw_last_message(message, sizeof message);
    printf("%s: %s: %s\n", what, lw_status_text(status), message);
    return 1;
}

int main(void) {
    double drop_v = 0.0;
    int32_t status = lw_drop(LW_IEC_5, LW_TINNED_COPPER, 10.0, 18.0, 7.5, 45.0, &drop_v);
    if (status != LW_OK) return failed("drop", status);
    printf("sonar feed: %.3f V lost at 18 A over 7.5 m one way of 10 mm2\n", drop_v);

    lw_circuit_query query = {0};
    query.struct_size = (uint32_t)sizeof query;
    query.has = LW_HAS_MATERIAL | LW_HAS_AMBIENT | LW_HAS_DROP_PERCENT | LW_HAS_PRACTICE;
    query.current_a = 18.0;
    query.length_m = 7.5;
    query.voltage_v = 24.0;
    query.material = LW_TINNED_COPPER;
    query.ambient_c = 50.0;
    query.drop_percent = 3.0;
    query.practice = LW_ISO_SMALL_CRAFT;
    lw_circuit_result result = {0};
    result.struct_size = (uint32_t)sizeof result;
    status = lw_size_circuit(&query, &result);
    if (status != LW_OK) return failed("circuit", status);
    if (result.status != LW_OK) return 1;
    printf("winch feed: %.4g mm2, fuse %.0f A %s, %.3f V lost, %.0f degrees, up to %.1f m\n", result.csa_mm2,
           result.fuse_rating_a, result.fuse_family, result.drop_v, result.conductor_temperature_c, result.longest_run_m);

    double ohms = 0.0;
    status = lw_resistance(LW_IEC_5, LW_COPPER, 11.0, 7.5, 20.0, &ohms);
    if (status != LW_NO_SUCH_CONDUCTOR) return 1;
    failed("as expected", status);
    printf("engine %s, interface %d\n", lw_version(), lw_abi_version());
    return 0;
}
