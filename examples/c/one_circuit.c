/* Asks the engine for the drop of an invented river-survey launch's sonar feed, and shows what an
 * error looks like.
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
    int32_t status = lw_drop(18.0, 10.0, 7.5, 45.0, LW_TINNED_COPPER, &drop_v);
    if (status != LW_OK) return failed("drop", status);
    printf("sonar feed: %.3f V lost at 18 A over 7.5 m one way of 10 mm2\n", drop_v);

    double ohms = 0.0;
    status = lw_resistance(11.0, 7.5, 20.0, LW_COPPER, &ohms);
    if (status != LW_NO_SUCH_CONDUCTOR) return 1;
    failed("as expected", status);
    printf("engine %s, interface %d\n", lw_version(), lw_abi_version());
    return 0;
}
