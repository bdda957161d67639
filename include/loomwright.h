/*
 * Loomwright: extra-low-voltage DC wiring, computed. Generated; do not edit.
 *
 * Every function returns an lw_status (0 is success), writes its number through the last pointer, and
 * on failure leaves that number as it was and sets a message for the calling thread. Units stand in the
 * parameter names. All functions may be called from any thread at the same time. Texts returned as
 * pointers are static and never freed. Lengths are one-way; functions that need both legs say so.
 *
 * A computation is not an approval: local codes and licensed practice come first.
 */

#ifndef LOOMWRIGHT_H
#define LOOMWRIGHT_H

#include <stdint.h>
#include <stddef.h>

// Status that every function returns; numbers are never reused.
enum lw_status
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // The result was written.
  LW_OK = 0,
  // A pointer was null or misaligned.
  LW_BAD_POINTER = 1,
  // A number was not finite or lay outside its range; the message tells which.
  LW_OUT_OF_RANGE = 2,
  // An enumerated number that is not known.
  LW_UNKNOWN_VALUE = 3,
  // No conductor of that kind comes in that material or size; the message names what exists.
  LW_NO_SUCH_CONDUCTOR = 4,
  // A fault inside the library was caught; please report it.
  LW_INTERNAL = 99,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum lw_status lw_status;
#else
typedef int32_t lw_status;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// Conductor materials.
enum lw_material
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // Annealed copper.
  LW_COPPER = 0,
  // Tinned copper.
  LW_TINNED_COPPER = 1,
  // Aluminium.
  LW_ALUMINIUM = 2,
  // Copper-clad aluminium.
  LW_COPPER_CLAD_ALUMINIUM = 3,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum lw_material lw_material;
#else
typedef int32_t lw_material;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

#ifdef __cplusplus
extern "C" {
#endif // __cplusplus

// Version of this interface: it grows when anything in the header changes its meaning.
int32_t lw_abi_version(void);

// Version of the library, such as "0.1.0": static text, never freed.
const char *lw_version(void);

// A status in words: static text, never freed. An unknown number gives "unknown status".
const char *lw_status_text(int32_t status);

// Copies the message of this thread's last call into `buffer` and returns its whole length in bytes
// without the terminator; 0 when that call succeeded.
//
// Call with a null `buffer` and `capacity` 0 to ask for the length. The copy is always terminated, and
// shorter than the returned length when `capacity` was too small.
//
// # Safety
// `buffer` is null or valid for writing `capacity` bytes.
size_t lw_last_message(char *buffer,
                       size_t capacity);

// Resistance of one conductor, one way, at a conductor temperature: the maximum of IEC 60228 class 5
// (aluminium: class 2) at 20 °C carried to the temperature. Result in ohms.
//
// `csa_mm2`: a standard cross-sectional area, 0.5 to 400 mm². `length_m`: 0 to 100 000 m.
// `temperature_c`: −200 to 500 °C. `material`: an `lw_material`.
//
// Returns an `lw_status`; on failure `*resistance_ohm` is left as it was and the message is set.
//
// # Safety
// `resistance_ohm` is null or valid for writing one `double`.
int32_t lw_resistance(double csa_mm2,
                      double length_m,
                      double temperature_c,
                      int32_t material,
                      double *resistance_ohm);

// Voltage lost in both legs of a two-wire circuit at a conductor temperature, without joints and fuse.
// Result in volts.
//
// `current_a`: 0 to 100 000 A. `length_m`: one-way length, 0 to 100 000 m; both legs are computed. The
// others as in `lw_resistance`.
//
// Returns an `lw_status`; on failure `*drop_v` is left as it was and the message is set.
//
// # Safety
// `drop_v` is null or valid for writing one `double`.
int32_t lw_drop(double current_a,
                double csa_mm2,
                double length_m,
                double temperature_c,
                int32_t material,
                double *drop_v);

#ifdef __cplusplus
}  // extern "C"
#endif  // __cplusplus

#endif  /* LOOMWRIGHT_H */
