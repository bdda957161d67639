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

// `power_w` and `lowest_voltage_v` are given, instead of `current_a`.
#define LW_HAS_POWER (1 << 0)

// `drop_percent` is given.
#define LW_HAS_DROP_PERCENT (1 << 1)

// `drop_v` is given, instead of `drop_percent`.
#define LW_HAS_DROP_V (1 << 2)

// `ambient_c` is given.
#define LW_HAS_AMBIENT (1 << 3)

// `insulation_c` is given.
#define LW_HAS_INSULATION (1 << 4)

// `kind` is given.
#define LW_HAS_KIND (1 << 5)

// `material` is given.
#define LW_HAS_MATERIAL (1 << 6)

// `installation` is given.
#define LW_HAS_INSTALLATION (1 << 7)

// `conductors_together` is given.
#define LW_HAS_TOGETHER (1 << 8)

// `bore_mm` is given.
#define LW_HAS_BORE (1 << 9)

// `duty_on_s` and `duty_period_s` are given.
#define LW_HAS_DUTY (1 << 10)

// The circuit returns through the chassis.
#define LW_HAS_CHASSIS_RETURN (1 << 11)

// `chassis_mohm` is given, beside `LW_HAS_CHASSIS_RETURN`.
#define LW_HAS_CHASSIS_RESISTANCE (1 << 12)

// `lugs`, `screw_cages` and `isolators` are given.
#define LW_HAS_JOINTS (1 << 13)

// `terminal_mm2` is given.
#define LW_HAS_TERMINAL (1 << 14)

// `terminal_c` is given.
#define LW_HAS_TERMINAL_TEMPERATURE (1 << 15)

// `practice` is given.
#define LW_HAS_PRACTICE (1 << 16)

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
  // A text is not UTF-8.
  LW_BAD_TEXT = 5,
  // A struct's stated size or an array's stride is not one that this library knows.
  LW_BAD_SIZE = 6,
  // There is no such number: a fuse that may never open, a current that nothing carries.
  LW_NO_VALUE = 7,
  // The plan has mistakes; ask for them. Those of measured weather, and of readings of which none can be used, are in the
  // message.
  LW_REFUSED = 8,
  // The report has no such field, or it is of another kind.
  LW_NO_FIELD = 9,
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

// Conductor kinds.
enum lw_kind
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // IEC 60228 class 1, solid.
  LW_IEC_1 = 1,
  // IEC 60228 class 2, stranded.
  LW_IEC_2 = 2,
  // IEC 60228 class 5, flexible.
  LW_IEC_5 = 5,
  // IEC 60228 class 6, extra-flexible.
  LW_IEC_6 = 6,
  // ISO 6722 road-vehicle cable.
  LW_ISO_6722 = 10,
  // AWG, stranded.
  LW_AWG = 20,
  // SAE gauge.
  LW_SAE = 21,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum lw_kind lw_kind;
#else
typedef int32_t lw_kind;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// How a conductor lies.
enum lw_installation
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // Alone in free air.
  LW_FREE_AIR = 0,
  // Fixed to a surface.
  LW_SURFACE = 1,
  // Bundle in free air.
  LW_BUNDLE = 2,
  // Plastic conduit.
  LW_CONDUIT_PLASTIC = 3,
  // Metal conduit.
  LW_CONDUIT_METAL = 4,
  // Split corrugated conduit.
  LW_CONDUIT_SPLIT = 5,
  // Against thermal insulation.
  LW_INSULATED = 6,
  // Enclosed.
  LW_ENCLOSED = 7,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum lw_installation lw_installation;
#else
typedef int32_t lw_installation;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// Rule sets.
enum lw_practice
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // No particular law.
  LW_GENERAL = 0,
  // Caravans and motor caravans, IEC 60364-7-721.
  LW_IEC_CARAVAN = 1,
  // Small craft, ISO 10133 and ISO 13297.
  LW_ISO_SMALL_CRAFT = 2,
  // US small craft, 33 CFR 183 subpart I.
  LW_US_SMALL_CRAFT = 3,
  // North American recreational vehicles.
  LW_NA_RECREATIONAL_VEHICLE = 4,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum lw_practice lw_practice;
#else
typedef int32_t lw_practice;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// Battery chemistries.
enum lw_chemistry
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // Flooded lead-acid.
  LW_FLOODED = 0,
  // Absorbed glass mat lead-acid.
  LW_AGM = 1,
  // Gel lead-acid.
  LW_GEL = 2,
  // Lithium iron phosphate.
  LW_LITHIUM_IRON_PHOSPHATE = 3,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum lw_chemistry lw_chemistry;
#else
typedef int32_t lw_chemistry;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// What a forecast sizes so that the stay is lasted.
enum lw_size
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // Nothing.
  LW_SIZE_NOTHING = 0,
  // The capacity of the bank that falls short.
  LW_SIZE_BATTERY = 1,
  // The current of the chargers into it.
  LW_SIZE_CHARGER = 2,
  // The panels on it.
  LW_SIZE_PANELS = 3,
  // How the panels are shared between the banks that have some.
  LW_SIZE_SPLIT = 4,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum lw_size lw_size;
#else
typedef int32_t lw_size;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// In which form a readings file is written.
enum lw_readings_form
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // Comma-separated values.
  LW_READINGS_CSV = 0,
  // TOML.
  LW_READINGS_TOML = 1,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum lw_readings_form lw_readings_form;
#else
typedef int32_t lw_readings_form;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// Pictures of a plan.
enum lw_picture
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
  // The single-line diagram.
  LW_PICTURE_DIAGRAM = 0,
  // Every check with its margin, worst first.
  LW_PICTURE_MARGINS = 1,
  // How hot each conductor gets.
  LW_PICTURE_TEMPERATURES = 2,
  // Voltage along the way to a consumer, in every case.
  LW_PICTURE_VOLTAGE = 3,
  // The fuses of a run and its conductor through time.
  LW_PICTURE_FUSES = 4,
  // A battery bank over a stay.
  LW_PICTURE_CHARGE = 5,
  // Joints and conductors as measured.
  LW_PICTURE_JOINTS = 6,
  // Readings against the plan.
  LW_PICTURE_READINGS = 7,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum lw_picture lw_picture;
#else
typedef int32_t lw_picture;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

// A plan that was read, or the mistakes that keep it from being one. Immutable: any thread may use it. Freed by
// `lw_plan_free`.
typedef struct lw_plan lw_plan;

// What was found of a plan: its judgement, its schedule, its readings explained, and so on. Immutable: any thread may use it. Freed by `lw_report_free`.
typedef struct lw_report lw_report;

// One circuit to size. Set `struct_size` to `sizeof(lw_circuit_query)` and `has` to the masks of what is given; what is not
// given takes the default that the command `loomwright cable` lists. Fields that are not given are not read.
typedef struct lw_circuit_query {
  // Size of this struct as the caller knows it.
  uint32_t struct_size;
  // Which fields are given.
  uint32_t has;
  // Current, above 0 to 5000 A.
  double current_a;
  // Power at the load, instead of a current.
  double power_w;
  // The lowest voltage at which the load takes that power.
  double lowest_voltage_v;
  // One-way length, 0.001 to 1000 m; always read.
  double length_m;
  // System voltage, 5 to 60 V; always read.
  double voltage_v;
  // Permitted drop in per cent of the system voltage.
  double drop_percent;
  // Permitted drop in volts.
  double drop_v;
  // Hottest air around the cable, −40 to 200 °C.
  double ambient_c;
  // Insulation class, 40 to 250 °C.
  double insulation_c;
  // Bore of the conduit, 3 to 500 mm.
  double bore_mm;
  // How long the current flows in every period.
  double duty_on_s;
  // The period.
  double duty_period_s;
  // Resistance of the chassis return.
  double chassis_mohm;
  // The largest conductor that the terminals accept.
  double terminal_mm2;
  // How hot the terminals may get, 40 to 250 °C.
  double terminal_c;
  // An `lw_kind`.
  int32_t kind;
  // An `lw_material`.
  int32_t material;
  // An `lw_installation`.
  int32_t installation;
  // An `lw_practice`.
  int32_t practice;
  // Loaded conductors laid together, 1 to 40.
  int32_t conductors_together;
  // Lugs in both legs.
  int32_t lugs;
  // Screw cage terminals.
  int32_t screw_cages;
  // Isolators.
  int32_t isolators;
} lw_circuit_query;

// Where a mistake of a plan is.
typedef struct lw_mistake {
  // Line, from 1.
  uint64_t line;
  // Column in characters, from 1.
  uint64_t column;
  // First byte.
  uint64_t start;
  // The byte after the last.
  uint64_t end;
} lw_mistake;

// A sized circuit. Set `struct_size` to `sizeof(lw_circuit_result)`; only so many bytes are written, so a library that
// knows more fields than its caller leaves them out.
typedef struct lw_circuit_result {
  // Size of this struct as the caller knows it.
  uint32_t struct_size;
  // An `lw_status` for this circuit. `LW_NO_VALUE` when no size passes: the other fields are then 0.
  int32_t status;
  // Conductors in parallel in each leg.
  int32_t parallel;
  // Not used; 0.
  int32_t reserved;
  // The least margin of all checks: 1 or more passes.
  double least_margin;
  // Cross-sectional area of one conductor.
  double csa_mm2;
  // Drop of conductors, joints and fuse.
  double drop_v;
  // Drop of the conductors alone.
  double conductor_drop_v;
  // Voltage at the load.
  double load_voltage_v;
  // Temperature of the conductor.
  double conductor_temperature_c;
  // Heat lost in the circuit.
  double loss_w;
  // What the conductor carries without pause here.
  double ampacity_a;
  // Rating of the fuse.
  double fuse_rating_a;
  // The longest run at this size, within all limits.
  double longest_run_m;
  // The largest current at this size and length, within all limits.
  double largest_current_a;
  // Family of the fuse: a terminated name such as "blade-c".
  char fuse_family[40];
} lw_circuit_result;

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

// How long a full battery lasts down to nothing at 25 °C and at one current, by Peukert's law with the hour rate of its
// rated capacity: t = R·(C/(I·R))ⁿ. Result in hours.
//
// The form t = C/Iⁿ holds only for a capacity measured at one ampere: with a 20-hour rating it is wrong.
//
// `capacity_ah`: rated capacity, above 0 to 100 000 Ah. `hour_rate_h`: the hours within which it is taken, 1 to 100 h, such
// as 20. `peukert`: the exponent n, 1 to 1.6. `current_a`: above 0 to 100 000 A.
//
// # Safety
// `time_h` is null or valid for writing one `double`.
int32_t lw_peukert_time(double capacity_ah,
                        double hour_rate_h,
                        double peukert,
                        double current_a,
                        double *time_h);

// What can be used of a battery between two states of charge at a temperature, at its rated current. Result in
// ampere-hours. Cold takes its share; warmth is not credited.
//
// `chemistry`: an `lw_chemistry`. `capacity_ah`: rated capacity, above 0 to 100 000 Ah. `floor_percent`: the state of charge
// below which it is not used, 0 to 95 %. `ceiling_percent`: that to which it is charged, 20 to 100 %, above the floor.
// `temperature_c`: −40 to 80 °C.
//
// # Safety
// `usable_ah` is null or valid for writing one `double`.
int32_t lw_battery_usable(int32_t chemistry,
                          double capacity_ah,
                          double floor_percent,
                          double ceiling_percent,
                          double temperature_c,
                          double *usable_ah);

// The rated capacity that gives such a charge between two states of charge at a temperature. Result in ampere-hours.
//
// `charge_ah`: above 0 to 100 000 Ah. The others as in `lw_battery_usable`.
//
// # Safety
// `capacity_ah` is null or valid for writing one `double`.
int32_t lw_battery_needed(int32_t chemistry,
                          double charge_ah,
                          double floor_percent,
                          double ceiling_percent,
                          double temperature_c,
                          double *capacity_ah);

// How high the sun stands as it is seen, with refraction, within 0.01°. Result in degrees above the horizon, negative at
// night.
//
// `latitude_deg`: north positive, −90 to 90°. `longitude_deg`: east positive, −180 to 180°. `altitude_m`: above the sea, −500
// to 6000 m. `unix_s`: seconds since 1970-01-01 00:00 UTC, from 2010 to 2109: 1 262 304 000 to 4 417 977 600 s.
//
// # Safety
// `elevation_deg` is null or valid for writing one `double`.
int32_t lw_sun_elevation(double latitude_deg,
                         double longitude_deg,
                         double altitude_m,
                         double unix_s,
                         double *elevation_deg);

// The bearing of the sun, from north over east. Result in degrees, 0 to 360. Otherwise as `lw_sun_elevation`.
//
// # Safety
// `azimuth_deg` is null or valid for writing one `double`.
int32_t lw_sun_azimuth(double latitude_deg,
                       double longitude_deg,
                       double altitude_m,
                       double unix_s,
                       double *azimuth_deg);

// What a clear sky with the usual haze gives on a level plane, beam and rest together. Result in W/m²; 0 at night.
// Arguments as of `lw_sun_elevation`.
//
// # Safety
// `global_w_per_m2` is null or valid for writing one `double`.
int32_t lw_clear_sky_global(double latitude_deg,
                            double longitude_deg,
                            double altitude_m,
                            double unix_s,
                            double *global_w_per_m2);

// The sun's beam through a clear sky on a plane across it; otherwise as `lw_clear_sky_global`.
//
// # Safety
// `beam_w_per_m2` is null or valid for writing one `double`.
int32_t lw_clear_sky_beam(double latitude_deg,
                          double longitude_deg,
                          double altitude_m,
                          double unix_s,
                          double *beam_w_per_m2);

// What a clear sky gives on a level plane from everywhere but the sun itself; otherwise as `lw_clear_sky_global`.
//
// # Safety
// `diffuse_w_per_m2` is null or valid for writing one `double`.
int32_t lw_clear_sky_diffuse(double latitude_deg,
                             double longitude_deg,
                             double altitude_m,
                             double unix_s,
                             double *diffuse_w_per_m2);

// The least tightening torque that makers ask for on such a bolted joint. Result in newton metres. The figure of the part
// at hand comes first, and where this is far from `lw_torque_most`, only that will do.
//
// `joint`: "battery" or "stud". `thread_mm`: of a metric thread, such as 8 for M8.
//
// # Safety
// `joint` is null or a terminated text; `torque_nm` is null or valid for writing one `double`.
int32_t lw_torque_least(const char *joint,
                        double thread_mm,
                        double *torque_nm);

// The most that makers ask for; otherwise as `lw_torque_least`.
//
// # Safety
// `joint` is null or a terminated text; `torque_nm` is null or valid for writing one `double`.
int32_t lw_torque_most(const char *joint, double thread_mm, double *torque_nm);

// Resistance of a reducing pin with its crimp: 25 mm of copper, and 0.1 mΩ. Result in ohms.
//
// `from_mm2`, `to_mm2`: cross-sectional areas of conductor and pin, 0.1 to 1000 mm², the pin's the smaller. `temperature_c`:
// −200 to 500 °C.
//
// # Safety
// `resistance_ohm` is null or valid for writing one `double`.
int32_t lw_pin_resistance(double from_mm2,
                          double to_mm2,
                          double temperature_c,
                          double *resistance_ohm);

// The share of a conduit's bore that so many cables may fill, 0 to 1, by their real outer diameters.
//
// `cables`: 1 to 1000.
//
// # Safety
// `share` is null or valid for writing one `double`.
int32_t lw_conduit_fill(int32_t cables,
                        double *share);

// Rating of the smallest fuse that carries a load without pause. Result in amperes. What it protects, and what it breaks, is
// not judged here; data of families are partly from memory: hold the maker's sheet against them.
//
// `current_a`: 0 to 100 000 A. `highest_v`: the highest charge voltage, not the nominal one, 1 to 100 V. `ambient_c`: air
// around the fuse, −40 to 200 °C.
//
// # Safety
// `rating_a` is null or valid for writing one `double`.
int32_t lw_fuse_rating(double current_a,
                       double highest_v,
                       double ambient_c,
                       double *rating_a);

// Family of the fuse that `lw_fuse_rating` finds, as a terminated text such as "blade-c"; `length` is its whole length in
// bytes without the terminator, and may be null.
//
// # Safety
// `buffer` is null or valid for writing `capacity` bytes, `length` null or valid for writing one `size_t`.
int32_t lw_fuse_family(double current_a,
                       double highest_v,
                       double ambient_c,
                       char *buffer,
                       size_t capacity,
                       size_t *length);

// The latest opening of a fuse or breaker at a current, in 25 °C. Result in seconds; `LW_NO_VALUE` where it may never open.
// Data of families are partly from memory: hold the maker's sheet against them.
//
// `family`: a terminated name such as "blade-c". `rating_a`: one of its ratings. `current_a`: 0 to 1 000 000 A.
//
// # Safety
// `family` is null or a terminated text; `time_s` is null or valid for writing one `double`.
int32_t lw_opening_latest(const char *family,
                          double rating_a,
                          double current_a,
                          double *time_s);

// The earliest opening; otherwise as `lw_opening_latest`. `LW_NO_VALUE` where it holds for good, or its fastest times are
// not at hand.
//
// # Safety
// `family` is null or a terminated text; `time_s` is null or valid for writing one `double`.
int32_t lw_opening_earliest(const char *family,
                            double rating_a,
                            double current_a,
                            double *time_s);

// How much hotter than its cable a joint of such a resistance gets at a steady current, cooled by the one cable that ends on
// it, which is the cautious count. Result in kelvins; `LW_NO_VALUE` where cable or joint would be too hot to be followed.
//
// `current_a`: 0 to 100 000 A. `resistance_mohm`: of the joint, its drop over its current, 0 to 1 000 000 mΩ. The others as
// in `lw_ampacity`.
//
// # Safety
// `rise_k` is null or valid for writing one `double`.
int32_t lw_joint_rise(int32_t kind,
                      int32_t material,
                      double csa_mm2,
                      int32_t installation,
                      int32_t conductors_together,
                      double ambient_c,
                      double current_a,
                      double resistance_mohm,
                      double *rise_k);

// The temperature of the body of such a joint: that of its cable and the rise. Result in °C; otherwise as `lw_joint_rise`.
//
// # Safety
// `body_c` is null or valid for writing one `double`.
int32_t lw_joint_temperature(int32_t kind,
                             int32_t material,
                             double csa_mm2,
                             int32_t installation,
                             int32_t conductors_together,
                             double ambient_c,
                             double current_a,
                             double resistance_mohm,
                             double *body_c);

// The resistance at which a joint gets so much hotter than its cable: the inverse of `lw_joint_rise`. Result in milliohms;
// `LW_NO_VALUE` without current, which heats nothing, and where cable or joint would be too hot to be followed.
//
// `rise_k`: 0 to 1000 K. The others as in `lw_joint_rise`.
//
// # Safety
// `resistance_mohm` is null or valid for writing one `double`.
int32_t lw_joint_resistance(int32_t kind,
                            int32_t material,
                            double csa_mm2,
                            int32_t installation,
                            int32_t conductors_together,
                            double ambient_c,
                            double current_a,
                            double rise_k,
                            double *resistance_mohm);

// How hot the spots are in which a contact touches, by the voltage across it and the temperature of its bodies: the
// relation of Wiedemann, Franz and Lorenz. Result in °C; where the metal melts first, it ends there.
//
// `contact_mv`: 0 to 1 000 000 mV. `body_c`: −40 to 1000 °C.
//
// # Safety
// `spot_c` is null or valid for writing one `double`.
int32_t lw_spot_temperature(double contact_mv,
                            double body_c,
                            double *spot_c);

// The voltage across a contact whose spots have one temperature and whose bodies another: the inverse of
// `lw_spot_temperature`. Result in millivolts: 0 where the spots are not the hotter.
//
// `spot_c`, `body_c`: −40 to 10 000 °C and −40 to 1000 °C.
//
// # Safety
// `contact_mv` is null or valid for writing one `double`.
int32_t lw_contact_voltage(double spot_c,
                           double body_c,
                           double *contact_mv);

// A readings file to fill in, in walking order: for each case what to switch on, where to measure and what the plan lets
// expect. The file is the report's text "/text", as `loomwright reconcile --template` prints it. The caller frees the report
// with `lw_report_free`.
//
// `form`: an `lw_readings_form`. `LW_REFUSED` where the plan has mistakes, `LW_NO_VALUE` where a case cannot be computed.
//
// # Safety
// `plan` is null or a plan that is not freed yet; `report` is null or valid for writing one pointer.
int32_t lw_plan_readings_template(const struct lw_plan *plan,
                                  int32_t form,
                                  struct lw_report **report);

// What was measured against what was planned, as `loomwright reconcile --format json` prints it: of every day each reading,
// each piece of a way with its verdict, worst first, and the one more reading that would tell most. The caller frees it with
// `lw_report_free`; fields are read as of any report, such as "/days/0/segments/0/verdict".
//
// `readings`: comma-separated values or TOML, as the command reads them, UTF-8, `readings_length` bytes, at most 1 MiB, not
// necessarily terminated.
//
// Lines that cannot be used are told under "/refused", and the others are used. `LW_REFUSED` where the plan has mistakes, or
// where no reading at all can be used, which the message then tells line by line. `LW_NO_VALUE` where a case cannot be
// computed.
//
// # Safety
// `plan` is null or a plan that is not freed yet; `readings` is null or valid for reading `readings_length` bytes; `report`
// is null or valid for writing one pointer.
int32_t lw_plan_reconcile(const struct lw_plan *plan,
                          const char *readings,
                          size_t readings_length,
                          struct lw_report **report);

// The commissioning record: plan, readings, verdicts, settings, torques, inspection, and the lines to sign, as `loomwright
// reconcile --record --format json` prints it; otherwise as `lw_plan_reconcile`. It replaces no inspection by a licensed
// person.
//
// # Safety
// As of `lw_plan_reconcile`.
int32_t lw_plan_commission(const struct lw_plan *plan,
                           const char *readings,
                           size_t readings_length,
                           struct lw_report **report);

// What to look at, tighten and measure, and how soon again, as `loomwright inspect --format json` prints it. The caller
// frees it with `lw_report_free`; fields are read as of any report, such as "/rows/0/months".
//
// `readings`: as in `lw_plan_reconcile`, of any days; null with length 0 where nothing was measured yet. Lines that cannot be
// used are passed over. The statuses are those of `lw_plan_reconcile`.
//
// # Safety
// As of `lw_plan_reconcile`.
int32_t lw_plan_inspect(const struct lw_plan *plan,
                        const char *readings,
                        size_t readings_length,
                        struct lw_report **report);

// In what order a new system is made live, as `loomwright inspect --before-energising --format json` prints it. The caller
// frees it with `lw_report_free`; fields are read as of any report, such as "/steps/0/do". `LW_REFUSED` where the plan has
// mistakes, `LW_NO_VALUE` where a case cannot be computed.
//
// # Safety
// `plan` is null or a plan that is not freed yet; `report` is null or valid for writing one pointer.
int32_t lw_plan_before_energising(const struct lw_plan *plan,
                                  struct lw_report **report);

// A picture of a plan, as `loomwright draw` prints it, under the report's text "/svg", with "/title" and "/description" for
// whoever does not see it, and "/width" and "/height" in CSS pixels. The caller frees the report with `lw_report_free`.
//
// `picture`: an `lw_picture`. `of`: the name of the consumer (`LW_PICTURE_VOLTAGE`), run (`LW_PICTURE_FUSES`) or battery
// (`LW_PICTURE_CHARGE`), UTF-8, `of_length` bytes; null with length 0 for the one with least margin, and for pictures of the
// whole plan. `stay`: the name of a stay for `LW_PICTURE_CHARGE`, likewise. `readings`: as in `lw_plan_reconcile`, for
// `LW_PICTURE_JOINTS` and `LW_PICTURE_READINGS`; null with length 0 for the others.
//
// `LW_REFUSED` where the plan has mistakes or no reading can be used. `LW_UNKNOWN_VALUE` where the plan has nothing of that
// name, or the picture does not ask for one. `LW_NO_VALUE` where there is nothing to draw.
//
// # Safety
// `plan` is null or a plan that is not freed yet; `of`, `stay` and `readings` are null or valid for reading as many bytes as
// stated; `report` is null or valid for writing one pointer.
int32_t lw_plan_draw(const struct lw_plan *plan,
                     int32_t picture,
                     const char *of,
                     size_t of_length,
                     const char *stay,
                     size_t stay_length,
                     const char *readings,
                     size_t readings_length,
                     struct lw_report **report);

// Everything about a plan on one page, as `loomwright report` prints it, under the report's text "/html": to read in a browser,
// which needs no network for it, or to print. The caller frees the report with `lw_report_free`.
//
// `readings`: as in `lw_plan_reconcile`; null with length 0 where nothing was measured yet. `samples`: how many of weather and
// loads are drawn for each stay, up to 100 000; the command's is 100. `seed`: the same one gives the same samples; the
// command's is 1. `threads`: 1 to 256; the result is the same on any number of them.
//
// `LW_REFUSED` where the plan has mistakes or no reading can be used, `LW_NO_VALUE` where a case cannot be computed. Stays that
// cannot be forecast are told on the page.
//
// # Safety
// As of `lw_plan_inspect`.
int32_t lw_plan_page(const struct lw_plan *plan,
                     const char *readings,
                     size_t readings_length,
                     int32_t samples,
                     uint64_t seed,
                     int32_t threads,
                     struct lw_report **report);

// Where each standard size takes over around a circuit: "/sizes/0/largest_a/0" and so on are the largest currents that a size
// is chosen for, by the lengths of "/lengths_m"; and the picture of it under "/svg", as `loomwright cable --format svg` prints
// it, with "/title" and "/description". The caller frees the report with `lw_report_free`.
//
// The statuses are those of `lw_size_circuit`.
//
// # Safety
// `query` is null or points to a struct of the size that it says; `report` is null or valid for writing one pointer.
int32_t lw_size_map(const struct lw_circuit_query *query,
                    struct lw_report **report);

// Reads a plan. `*plan` is set in any case but a failure of pointers: with `LW_REFUSED` it holds the mistakes, which
// `lw_mistake_count`, `lw_mistake_at` and `lw_mistake_text` tell.
//
// `text`: UTF-8, `length` bytes, not necessarily terminated. The caller frees the plan with `lw_plan_free`.
//
// # Safety
// `text` is null or valid for reading `length` bytes; `plan` is null or valid for writing one pointer.
int32_t lw_plan_read(const char *text,
                     size_t length,
                     struct lw_plan **plan);

// Frees a plan; null is nothing. Freeing one twice is undefined, as is using it afterwards.
//
// # Safety
// `plan` is null or from `lw_plan_read`, and not freed yet.
void lw_plan_free(struct lw_plan *plan);

// How many mistakes a plan has; 0 for one that was read.
//
// # Safety
// `plan` is null or a plan that is not freed yet; `count` is null or valid for writing one `size_t`.
int32_t lw_mistake_count(const struct lw_plan *plan,
                         size_t *count);

// Where a mistake is; `index` from 0.
//
// # Safety
// `plan` is null or a plan that is not freed yet; `place` is null or valid for writing one `lw_mistake`.
int32_t lw_mistake_at(const struct lw_plan *plan,
                      size_t index,
                      struct lw_mistake *place);

// A mistake in words, after its key, as a terminated text; `length` is its whole length in bytes without the terminator,
// and may be null.
//
// # Safety
// `plan` is null or a plan that is not freed yet; `buffer` is null or valid for writing `capacity` bytes; `length` is null
// or valid for writing one `size_t`.
int32_t lw_mistake_text(const struct lw_plan *plan,
                        size_t index,
                        char *buffer,
                        size_t capacity,
                        size_t *length);

// Judges a plan over its operating cases, with remedies. The caller frees the report with `lw_report_free`.
//
// `LW_REFUSED` where the plan has mistakes, `LW_NO_VALUE` where a case cannot be computed; the message tells why.
//
// # Safety
// `plan` is null or a plan that is not freed yet; `report` is null or valid for writing one pointer.
int32_t lw_plan_check(const struct lw_plan *plan,
                      struct lw_report **report);

// Frees a report; null is nothing. Freeing one twice is undefined, as is using it afterwards.
//
// # Safety
// `report` is null or from a function that gives one, and not freed yet.
void lw_report_free(struct lw_report *report);

// The whole report as JSON, the same as the command with `--format json` prints, as a terminated text; `length` is its
// whole length in bytes without the terminator, and may be null. Call with a null `buffer` and `capacity` 0 to ask for it.
//
// # Safety
// `report` is null or a report that is not freed yet; `buffer` is null or valid for writing `capacity` bytes; `length` is
// null or valid for writing one `size_t`.
int32_t lw_report_json(const struct lw_report *report,
                       char *buffer,
                       size_t capacity,
                       size_t *length);

// A number of the report; true is 1 and false 0.
//
// `field`: a JSON Pointer (RFC 6901) such as "/runs/3/drop_v".
//
// # Safety
// `report` is null or a report that is not freed yet; `field` is null or a terminated text; `number` is null or valid for
// writing one `double`.
int32_t lw_report_number(const struct lw_report *report,
                         const char *field,
                         double *number);

// A text of the report, as a terminated text; otherwise as `lw_report_number` and `lw_report_json`.
//
// # Safety
// `report` is null or a report that is not freed yet; `field` is null or a terminated text; `buffer` is null or valid for
// writing `capacity` bytes; `length` is null or valid for writing one `size_t`.
int32_t lw_report_text(const struct lw_report *report,
                       const char *field,
                       char *buffer,
                       size_t capacity,
                       size_t *length);

// How many entries a list of the report has, such as "/findings".
//
// # Safety
// `report` is null or a report that is not freed yet; `field` is null or a terminated text; `count` is null or valid for
// writing one `size_t`.
int32_t lw_report_count(const struct lw_report *report,
                        const char *field,
                        size_t *count);

// Resistance of one conductor, one way, at a conductor temperature: the largest that its standard permits at 20 °C,
// carried to the temperature. Result in ohms.
//
// `kind`: an `lw_kind`. `material`: an `lw_material`. `csa_mm2`: a standard cross-sectional area, of a gauge its area,
// to half a per cent.
// `length_m`: 0 to 100 000 m. `temperature_c`: −200 to 500 °C.
//
// # Safety
// `resistance_ohm` is null or valid for writing one `double`.
int32_t lw_resistance(int32_t kind,
                      int32_t material,
                      double csa_mm2,
                      double length_m,
                      double temperature_c,
                      double *resistance_ohm);

// Voltage lost in both legs of a two-wire circuit at a conductor temperature, without joints and fuse. Result in volts.
//
// `current_a`: 0 to 100 000 A. `length_m`: one-way length, 0 to 100 000 m; both legs are computed. The others as in
// `lw_resistance`.
//
// # Safety
// `drop_v` is null or valid for writing one `double`.
int32_t lw_drop(int32_t kind,
                int32_t material,
                double csa_mm2,
                double current_a,
                double length_m,
                double temperature_c,
                double *drop_v);

// The current that a conductor carries without end in this installation, by the heat balance: no practice's table caps it.
// Result in amperes.
//
// `installation`: an `lw_installation`. `conductors_together`: loaded conductors laid together, itself counted, 1 to 40; 0
// for the two of its own circuit. `ambient_c`: −40 to 200 °C. `limit_c`: the least of insulation class and terminals, up to
// 250 °C. The others as in `lw_resistance`.
//
// # Safety
// `ampacity_a` is null or valid for writing one `double`.
int32_t lw_ampacity(int32_t kind,
                    int32_t material,
                    double csa_mm2,
                    int32_t installation,
                    int32_t conductors_together,
                    double ambient_c,
                    double limit_c,
                    double *ampacity_a);

// The temperature that a conductor settles at. Result in °C; `LW_NO_VALUE` where it would pass 250 °C.
//
// `current_a`: 0 to 100 000 A. The others as in `lw_ampacity`.
//
// # Safety
// `temperature_c` is null or valid for writing one `double`.
int32_t lw_conductor_temperature(int32_t kind,
                                 int32_t material,
                                 double csa_mm2,
                                 int32_t installation,
                                 int32_t conductors_together,
                                 double ambient_c,
                                 double current_a,
                                 double *temperature_c);

// How long a short circuit may flow, no heat lost: the least of the rounded k of IEC 60364-4-43, k from first constants and
// the conductor's own resistance. Result in seconds; it holds up to 5 s.
//
// `current_a`: above 0 to 1 000 000 A. `start_c`, `end_c`: conductor temperature before and at the end, −40 to 300 °C, the
// end above the start. The others as in `lw_resistance`.
//
// # Safety
// `time_s` is null or valid for writing one `double`.
int32_t lw_withstand_time(int32_t kind,
                          int32_t material,
                          double csa_mm2,
                          double current_a,
                          double start_c,
                          double end_c,
                          double *time_s);

// Area of an AWG gauge by the law of ASTM B258. Result in mm².
//
// `gauge`: 40 down to 1, 0 for 1/0, −1 for 2/0, −2 for 3/0, −3 for 4/0.
//
// # Safety
// `csa_mm2` is null or valid for writing one `double`.
int32_t lw_gauge_area(int32_t gauge, double *csa_mm2);

// The smallest AWG gauge of no less than an area; numbers as in `lw_gauge_area`. `csa_mm2`: 0.001 to 107.2 mm².
//
// # Safety
// `gauge` is null or valid for writing one `double`.
int32_t lw_gauge_for_area(double csa_mm2,
                          double *gauge);

// The current that a converter of constant efficiency draws at its input. Result in amperes.
//
// `output_w`: 0 to 100 000 W. `input_v`: 1 to 100 V; its lock-out voltage gives the largest current. `efficiency_percent`:
// 10 to 100 %.
//
// # Safety
// `current_a` is null or valid for writing one `double`.
int32_t lw_converter_input_current(double output_w,
                                   double input_v,
                                   double efficiency_percent,
                                   double *current_a);

// The smallest conductor of a two-wire circuit, enclosed, with its fuse. Result in mm² of all conductors of a leg together.
//
// `kind`: an `lw_kind`. `material`: an `lw_material`. `current_a`: above 0 to 5000 A. `length_m`: one way, 0.001 to 1000 m.
// `voltage_v`: 5 to 60 V. `drop_percent`: above 0, below 50 %. `ambient_c`: −40 to 200 °C. `insulation_c`: 40 to 250 °C.
// `LW_NO_VALUE` where no size passes.
//
// # Safety
// `csa_mm2` is null or valid for writing one `double`.
int32_t lw_smallest_size(int32_t kind,
                         int32_t material,
                         double current_a,
                         double length_m,
                         double voltage_v,
                         double drop_percent,
                         double ambient_c,
                         double insulation_c,
                         double *csa_mm2);

// The longest one-way run at which the smallest conductor that passes is no larger than this one, within all limits: drop,
// ampacity and fuse. Result in metres, up to 1000 m; `LW_NO_VALUE` where it is too small for any length.
//
// The others as in `lw_smallest_size`.
//
// # Safety
// `length_m` is null or valid for writing one `double`.
int32_t lw_longest_run(int32_t kind,
                       int32_t material,
                       double csa_mm2,
                       double current_a,
                       double voltage_v,
                       double drop_percent,
                       double ambient_c,
                       double insulation_c,
                       double *length_m);

// Sizes one circuit: the smallest standard conductor, with its fuse, that satisfies every check at once.
//
// Returns `LW_OK` also where no size passes: `result.status` is then `LW_NO_VALUE`. A query of another size than this
// library's is refused with `LW_BAD_SIZE`; of a larger result only the known fields are written.
//
// # Safety
// `query` is null or points to a struct of the size that it says; so does `result`, which may be written.
int32_t lw_size_circuit(const struct lw_circuit_query *query,
                        struct lw_circuit_result *result);

// Sizes an array of circuits on so many threads; the results are the same on any number of them.
//
// Query `i` stands `i * query_stride` bytes after `queries`, result `i` `i * result_stride` bytes after `results`. Every
// row has its own status and, before the call, the `struct_size` of its result set; a row whose result has none is left as
// it is. `threads`: 1 to 256. Returns `LW_OK` when all rows were gone through.
//
// # Safety
// `queries` and `results` are null or hold `count` rows of those strides, which no other thread touches until the call
// returns.
int32_t lw_size_circuits(const struct lw_circuit_query *queries,
                         size_t query_stride,
                         struct lw_circuit_result *results,
                         size_t result_stride,
                         size_t count,
                         int32_t threads);

// The schedule of a plan: cables, fuses, terminals, materials, labels, settings and loads, as `loomwright schedule
// --format json` prints it. The caller frees it with `lw_report_free`; fields are read as of any report, such as
// "/sheets/cables/0/cut_m".
//
// `LW_REFUSED` where the plan has mistakes, `LW_NO_VALUE` where a case cannot be computed; a plan that does not hold has a
// schedule all the same, and its "/verdict" says so.
//
// # Safety
// `plan` is null or a plan that is not freed yet; `report` is null or valid for writing one pointer.
int32_t lw_plan_schedule(const struct lw_plan *plan,
                         struct lw_report **report);

// An old plan against a new one, as `loomwright compare --format json` prints it: findings, runs, devices, alternators and
// materials. The caller frees it with `lw_report_free`.
//
// `LW_REFUSED` where one of the plans has mistakes, `LW_NO_VALUE` where a case cannot be computed.
//
// # Safety
// `old_plan` and `new_plan` are null or plans that are not freed yet, and may be the same; `report` is null or valid for
// writing one pointer.
int32_t lw_plan_compare(const struct lw_plan *old_plan,
                        const struct lw_plan *new_plan,
                        struct lw_report **report);

// How surely a plan holds: variants of it within the spread of its parts, as `loomwright tolerance --format json` prints
// it. The caller frees it with `lw_report_free`.
//
// `samples`: how many variants, 1 to 1 000 000. `seed`: the same one gives the same variants. `threads`: 1 to 256; the
// result is the same on any number of them. `LW_REFUSED` where the plan has mistakes, `LW_NO_VALUE` where a case cannot be
// computed, or so many variants of so large a plan do not fit.
//
// # Safety
// `plan` is null or a plan that is not freed yet; `report` is null or valid for writing one pointer.
int32_t lw_plan_tolerance(const struct lw_plan *plan,
                          int32_t samples,
                          uint64_t seed,
                          int32_t threads,
                          struct lw_report **report);

// Whether a plan lasts its stays: every bank of batteries, step by step, as `loomwright forecast --format json` prints it.
// The caller frees it with `lw_report_free`; fields are read as of any report, such as "/stays/0/banks/0/lowest_charge".
//
// `stay`: the name of one, UTF-8, `stay_length` bytes; null with length 0 for every stay of the plan. `weather`: measured
// hours as comma-separated values, as the command reads them, UTF-8, `weather_length` bytes, at most 16 MiB; null with length
// 0 for the climate of the place. Neither is necessarily terminated.
//
// `steps_per_day`: 24, 48, 96, 144, 288, 720 or 1440; 96 are steps of 15 min. `level_percent`: the state of charge to which
// the hours of driving are told besides full, 1 to 100 %; the command's is 80. `size`: an `lw_size`, what to size so that the
// stay is lasted. `series`: 1 to keep every step in the report, 0 for the days only. `samples`: how many of weather and loads
// are drawn, up to 100 000; 0 for none. `seed`: the same one gives the same samples. `threads`: 1 to 256; the result is the
// same on any number of them.
//
// `LW_REFUSED` where the plan has mistakes, or the weather has, which the message then tells line by line.
// `LW_UNKNOWN_VALUE` where the plan has no such stay. `LW_NO_VALUE` where it has no stay or no battery, the place has no
// climate, the weather does not cover the stay, or there is nothing to size.
//
// # Safety
// `plan` is null or a plan that is not freed yet; `stay` is null or valid for reading `stay_length` bytes, `weather` is null
// or valid for reading `weather_length` bytes; `report` is null or valid for writing one pointer.
int32_t lw_plan_forecast(const struct lw_plan *plan,
                         const char *stay,
                         size_t stay_length,
                         const char *weather,
                         size_t weather_length,
                         int32_t steps_per_day,
                         double level_percent,
                         int32_t size,
                         int32_t series,
                         int32_t samples,
                         uint64_t seed,
                         int32_t threads,
                         struct lw_report **report);

#ifdef __cplusplus
}  // extern "C"
#endif  // __cplusplus

#endif  /* LOOMWRIGHT_H */
