// Written by `cargo run -p xtask -- data` from constants.csv; do not edit.

/// permitted drop when nothing is said; ratio. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const DROP_SHARE: f64 = 0.03;
/// hottest air around a cable when nothing is said; °C. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const AMBIENT_C: f64 = 40.0;
/// coldest air in a zone when nothing is said; °C. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const COLDEST_C: f64 = -20.0;
/// highest charge voltage over nominal: a 16-cell lithium iron phosphate battery on 48 V reaches 58.4 V; ratio. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const HIGHEST_OVER_NOMINAL: f64 = 1.2166666666666666;
/// drop of a fuse with its holder at rated current; V. Source: common practice, no source, lug, cage, isolator, chassis path (common-practice).
pub(crate) const FUSE_DROP_AT_RATING_V: f64 = 0.1;
/// the most that any fuse carries continuously; ratio. Source: equipment maker's catalogue citing the 80 % rule, continuous loading (published).
pub(crate) const FUSE_FULL_LOAD_SHARE: f64 = 0.8;
/// a pass with less margin is a caution; ratio. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const THIN_MARGIN: f64 = 1.1;
/// length of the conductor from a converter's case to the chassis when nothing is said; m. Source: common practice, no source, bonding and isolation (common-practice).
pub(crate) const CASE_BOND_M: f64 = 1.0;
/// conductors in parallel from this size up (1/0 AWG); mm2. Source: NFPA 70, 310.10 (memory).
pub(crate) const SMALLEST_PARALLEL_MM2: f64 = 50.0;
/// more than four in parallel share current too unevenly to be counted on; 1. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const MOST_PARALLEL: f64 = 4.0;
/// a strand is about 2 % longer than its conductor; ratio. Source: NFPA 70, editions 2008 to 2023, chapter 9 table 8 (published).
pub(crate) const STRAND_LAY: f64 = 1.02;
/// infrared emissivity of cable insulation; 1. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const EMISSIVITY: f64 = 0.9;
/// thermal resistivity of the insulation: PVC as the highest of the usual materials; K·m/W. Source: IEC 60287-2-1, tables 1, 2 and 4: PVC 5 K·m/W, single cables in air, plastic ducts (published).
pub(crate) const INSULATION_RESISTIVITY: f64 = 5.0;
/// output voltage of a charger over nominal when nothing is said; ratio. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const DC_DC_CHARGE_OVER_NOMINAL: f64 = 1.2;
/// input voltage at which a converter stops when nothing is said; ratio. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const LOCK_OUT_OVER_NOMINAL: f64 = 0.875;
/// a converter works at this much above its lock-out voltage or more; ratio. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const ABOVE_LOCK_OUT: f64 = 1.05;
/// efficiency of a converter when nothing is said; ratio. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const EFFICIENCY: f64 = 0.9;
/// hot output of an alternator over its rating; ratio. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const HOT_OUTPUT_SHARE: f64 = 0.8;
/// output at idle of an alternator over its rating; ratio. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const IDLE_OUTPUT_SHARE: f64 = 0.4;
/// drop between a charger and its battery; V. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const CHARGING_DROP_V: f64 = 0.15;
/// RMS over mean of an inverter's input current; ratio. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const RIPPLE: f64 = 1.1;
/// design current of a solar array over its short-circuit current; ratio. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const ARRAY_DESIGN: f64 = 1.25;
/// the same in North American practice; ratio. Source: NFPA 70, 690.8 (memory).
pub(crate) const ARRAY_DESIGN_NA: f64 = 1.56;
/// length added to a route for cutting; ratio. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const CUT_SHARE: f64 = 0.1;
/// length added for both ends together; m. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const CUT_ENDS_M: f64 = 0.6;
/// drop of a shunt at its rating; V. Source: common practice, no source, lug, cage, isolator, chassis path (common-practice).
pub(crate) const SHUNT_DROP_V: f64 = 0.05;
/// drop of a silicon diode in a one-way splitter; V. Source: common practice, no source, lug, cage, isolator, chassis path (common-practice).
pub(crate) const DIODE_DROP_V: f64 = 0.8;
/// voltage of a cold unloaded solar array over its operating voltage; ratio. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const ARRAY_OPEN_CIRCUIT: f64 = 1.4;
/// lowest voltage of a load with an inrush over nominal when nothing is said; ratio. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const LOWEST_AT_START: f64 = 0.75;
/// a load's net reaches at least this share of its nominal voltage; ratio. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const LEAST_NET: f64 = 0.85;
/// direct voltage above which touching both poles is dangerous; V. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const ARRAY_SHOCK_V: f64 = 60.0;
/// a conductor below this feeds no starter motor; mm2. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const LEAST_CRANKING_MM2: f64 = 16.0;
/// fuse of an alternator over its rating; ratio. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const ALTERNATOR_FUSE: f64 = 1.3;
/// ampacity without a fuse over the largest output of a self-limiting source; ratio. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const SELF_LIMITING: f64 = 1.25;
/// highest voltage that a device bears over its nominal voltage; ratio. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const HIGHEST_LOAD: f64 = 1.3;
/// infrared emissivity of galvanised steel conduit: the dull low end; 1. Source: none, estimates of this project (common-practice).
pub(crate) const METAL_EMISSIVITY: f64 = 0.25;
/// share of the outline of a cable or conduit fixed to a surface that sheds heat; ratio. Source: none, estimates of this project (common-practice).
pub(crate) const WALL_SHARE: f64 = 0.75;
/// area of touching outlines over that of the circle whose surface sheds their heat; ratio. Source: none, estimates of this project (common-practice).
pub(crate) const HULL_FILL: f64 = 0.82;
/// thermal resistivity inside a bundle: that of the insulation; K·m/W. Source: none, estimates of this project (common-practice).
pub(crate) const BUNDLE_RESISTIVITY: f64 = 5.0;
/// area of outlines over the bore of a conduit whose size nobody stated: the fullest that is usual and so the hottest; ratio. Source: NFPA 70:2014, chapter 9 table 1 (memory).
pub(crate) const CONDUIT_FILL: f64 = 0.4;
/// wall of a conduit over its bore; ratio. Source: none, estimates of this project (common-practice).
pub(crate) const CONDUIT_WALL: f64 = 0.07;
/// thermal resistivity of a plastic conduit; K·m/W. Source: IEC 60287-2-1, tables 2 and 4 (memory).
pub(crate) const CONDUIT_RESISTIVITY: f64 = 6.0;
/// depth of the corrugations of a split conduit over its bore; ratio. Source: none, estimates of this project (common-practice).
pub(crate) const CORRUGATION: f64 = 0.12;
/// thermal resistivity of the corrugated layer: plastic and still air side by side; K·m/W. Source: none, estimates of this project (common-practice).
pub(crate) const CORRUGATION_RESISTIVITY: f64 = 9.0;
/// mean film of air between a cable and the lining it lies against: agrees with method A of IEC 60364-5-52; m. Source: none, estimates of this project (common-practice).
pub(crate) const LINING_FILM_M: f64 = 0.0005;
/// conductivity of that air; W/(m·K). Source: none, estimates of this project (common-practice).
pub(crate) const LINING_AIR: f64 = 0.026;
/// how far a 4 mm plywood lining of 0.13 W/(m·K) spreads heat to each side of a cable: √(k·t/h) with 8 W/(m²·K); m. Source: none, estimates of this project (common-practice).
pub(crate) const LINING_REACH_M: f64 = 0.008;
/// heat capacity of insulation: PVC as the lowest of the usual materials; J/(m3·K). Source: IEC 60853-2, heat capacities, as quoted by rating reference pages (published).
pub(crate) const PVC_HEAT_CAPACITY: f64 = 1700000.0;
/// longest time at the short-time temperature; s. Source: IEC 60364-4-43:2008, 434.5.2 and table 43A (published).
pub(crate) const SHORT_TIME_S: f64 = 5.0;
/// short-time temperature of insulation classes up to 105 °C: PVC unless it is known to be cross-linked; °C. Source: IEC 60364-4-43:2008, 434.5.2 and table 43A (published).
pub(crate) const SHORT_TIME_PVC_C: f64 = 160.0;
/// short-time temperature of insulation classes above 105 °C; °C. Source: IEC 60364-4-43:2008, 434.5.2 and table 43A (published).
pub(crate) const SHORT_TIME_XL_C: f64 = 250.0;
/// overload above the insulation class for hours; K. Source: ISO 6722-1:2011, thermal overload classes (memory).
pub(crate) const OVERLOAD_SHORT_K: f64 = 50.0;
/// how long; h. Source: ISO 6722-1:2011, thermal overload classes (memory).
pub(crate) const OVERLOAD_SHORT_H: f64 = 6.0;
/// overload above the insulation class for days; K. Source: ISO 6722-1:2011, thermal overload classes (memory).
pub(crate) const OVERLOAD_LONG_K: f64 = 25.0;
/// how long; h. Source: ISO 6722-1:2011, thermal overload classes (memory).
pub(crate) const OVERLOAD_LONG_H: f64 = 240.0;
/// how long a motor takes to start when nothing is said; s. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const START_S: f64 = 10.0;
/// voltage at which a converter starts again over that at which it stops when nothing is said: the narrowest of two appliance guards (22.8 and 24.2 V); ratio. Source: appliance manuals, 24 V: 22.8 and 24.2 V (published).
pub(crate) const RESTART_OVER_LOCK_OUT: f64 = 1.06;
/// common factor on constant-power demand below which a caution is due; ratio. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const STABILITY_MARGIN: f64 = 2.0;
/// most that one battery of a parallel group carries over its share by capacity; ratio. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const SHARING: f64 = 1.25;
/// peak of an unsuppressed load dump on a 12 V net; V. Source: ISO 16750-2:2012, 4.6.4, tests A and B (memory).
pub(crate) const LOAD_DUMP_12V: f64 = 101.0;
/// the same on a 24 V net; V. Source: ISO 16750-2:2012, 4.6.4, tests A and B (memory).
pub(crate) const LOAD_DUMP_24V: f64 = 202.0;
/// load dump clipped by the alternator's own diodes on a 12 V net; V. Source: ISO 16750-2:2012, 4.6.4, tests A and B (memory).
pub(crate) const SUPPRESSED_12V: f64 = 35.0;
/// the same on a 24 V net; V. Source: ISO 16750-2:2012, 4.6.4, tests A and B (memory).
pub(crate) const SUPPRESSED_24V: f64 = 65.0;
/// fall of temperature over which a battery's resistance doubles; K. Source: common practice, no source, doubles from 25 °C to -20 °C (common-practice).
pub(crate) const COLD_DOUBLES_K: f64 = 45.0;
/// rise of the open-circuit voltage of a 12 V lead-acid block with temperature; V/K. Source: undated chart, 26.7 °C (published).
pub(crate) const LEAD_OPEN_V_PER_K: f64 = 0.001;
/// fall of the regulated voltage of a 12 V alternator with temperature; V/K. Source: vehicle service specifications, model years 2010s, midpoints from -20 to 80 °C (published).
pub(crate) const REGULATED_V_PER_K: f64 = -0.0105;
/// speed of an alternator at idle when nothing is said: the lowest of its efficiency test; 1/min. Source: Decision (EU) 2017/785 for 1800 1/min; ISO 8854 for 6000 1/min, annex, table of test speeds; rated speed from memory (memory).
pub(crate) const IDLE_PER_MIN: f64 = 1800.0;
/// speed at which an alternator gives its rated output when nothing is said; 1/min. Source: Decision (EU) 2017/785 for 1800 1/min; ISO 8854 for 6000 1/min, annex, table of test speeds; rated speed from memory (memory).
pub(crate) const RATED_PER_MIN: f64 = 6000.0;
/// state of charge of a battery called low: for its resistance; ratio. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const LOW_CHARGE: f64 = 0.1;
/// state of charge of a battery called resting: for its resistance; ratio. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const RESTING_CHARGE: f64 = 0.5;
/// reserve on the highest fault current; ratio. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const FAULT_RESERVE: f64 = 1.25;
/// what an alternator drives into a fault over its rating; ratio. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const ALTERNATOR_FAULT: f64 = 2.0;
/// what a converter drives into a fault over its rated output; ratio. Source: IEC TR 60909-4 as quoted in a public verification note, current-limited converter: 1.5 times rated current (published).
pub(crate) const CONVERTER_FAULT: f64 = 1.5;
/// share of a battery's resistance that counts in the peak of its short circuit; ratio. Source: IEC 61660-1 as quoted in public verification notes, battery: peak and quasi-steady-state current (published).
pub(crate) const IEC_61660_PEAK: f64 = 0.9;
/// share of its voltage that counts a second later; ratio. Source: IEC 61660-1 as quoted in public verification notes, battery: peak and quasi-steady-state current (published).
pub(crate) const IEC_61660_STEADY: f64 = 0.95;
/// gassing current of a flooded battery in boost charging; A/Ah. Source: IEC 62485-2, ventilation of stationary batteries, clause 7 (memory).
pub(crate) const GAS_FLOODED_A: f64 = 0.02;
/// the same of a valve-regulated one; A/Ah. Source: IEC 62485-2, ventilation of stationary batteries, clause 7 (memory).
pub(crate) const GAS_SEALED_A: f64 = 0.008;
/// air for every ampere-hour of gassing current and cell; m3/Ah. Source: IEC 62485-2, ventilation of stationary batteries, clause 7 (memory).
pub(crate) const GAS_AIR_M3: f64 = 0.05;
/// free opening for every cubic metre of air an hour; cm2·h/m3. Source: IEC 62485-2, ventilation of stationary batteries, clause 7 (memory).
pub(crate) const GAS_OPENING_CM2: f64 = 28.0;
/// ohmic resistance of a battery (1 kHz) over that against a load; ratio. Source: makers' data sheets; IEC 61660-1, direct-current resistance 1.5 to 3 times the 1 kHz value; lithium iron phosphate about 2 mΩ per 100 Ah of a 12.8 V block (memory).
pub(crate) const OHMIC_SHARE: f64 = 0.5;
/// speed of an alternator below which it gives nothing: between 1000 and 2000; 1/min. Source: vehicle service specifications, model years 2010s, midpoints from -20 to 80 °C (published).
pub(crate) const CUT_IN_PER_MIN: f64 = 1300.0;
/// drop of a Schottky diode in a one-way splitter; V. Source: common practice, no source, lug, cage, isolator, chassis path (common-practice).
pub(crate) const SCHOTTKY_DROP_V: f64 = 0.45;
/// drop of a field-effect one-way splitter; V. Source: common practice, no source, lug, cage, isolator, chassis path (common-practice).
pub(crate) const FIELD_EFFECT_DROP_V: f64 = 0.05;
/// share of a converter's loss at rated output that it takes for itself: median of five measured units brought to a sum of 1; ratio. Source: open battery-storage parameter library of a published performance test, 2023, medians over the five units with losses given over output power (published).
pub(crate) const OWN_LOSS_SHARE: f64 = 0.17;
/// share of that loss that goes with the output; the rest goes with its square; ratio. Source: open battery-storage parameter library of a published performance test, 2023, medians over the five units with losses given over output power (published).
pub(crate) const LINEAR_LOSS_SHARE: f64 = 0.19;
/// least loss over rated output that a fitted converter has anywhere; ratio. Source: none, estimates of this project (common-practice).
pub(crate) const LEAST_LOSS: f64 = 0.0001;
/// least rise of a fitted converter's input per rise of its output; ratio. Source: none, estimates of this project (common-practice).
pub(crate) const LEAST_INPUT_SLOPE: f64 = 0.01;
/// infrared emissivity of converter cases and boxes: painted or anodised metal and plastic and wood at the low end; bare metal sheds less; 1. Source: none, estimates of this project (common-practice).
pub(crate) const CASE_EMISSIVITY: f64 = 0.8;
/// height of the vertical plate that stands for a converter's case or a box: taller than either and so the hotter; m. Source: none, estimates of this project (common-practice).
pub(crate) const PLATE_HEIGHT_M: f64 = 1.0;
/// thermal resistance of a box's wall: 12 mm plywood of 0.13 W/(m·K); a metal wall has none; m2·K/W. Source: none, estimates of this project (common-practice).
pub(crate) const BOX_WALL: f64 = 0.09;
/// share of its melting I²t that a fuse-link bears 10 000 times: what is started now and then over the years; ratio. Source: fuse makers' application notes, pulse-cycle withstand (memory).
pub(crate) const PULSE_SHARE: f64 = 0.29;
/// the same for 100 000 times: what starts in every cycle; ratio. Source: fuse makers' application notes, pulse-cycle withstand (memory).
pub(crate) const PULSE_SHARE_CYCLIC: f64 = 0.22;
/// length of a reducing pin between its barrel and the clamp; m. Source: custom of the trade, common practice, no source (common-practice).
pub(crate) const PIN_LENGTH_M: f64 = 0.025;
/// most lugs on one stud; 1. Source: public page, quoting the American boat standard, four at most (published).
pub(crate) const LUGS_PER_STUD: f64 = 4.0;
/// length with both ends of the tail between a busbar and the device that it stands beside; m. Source: custom of the trade, common practice, no source (common-practice).
pub(crate) const BAR_TAIL_M: f64 = 0.3;
/// largest drop over two terminals in the test at a tenth of their current; V. Source: IEC 60947-7-1:2009, as quoted by a terminal maker, rated cross-sections, test currents and 3.2 mV (published).
pub(crate) const CLAMP_DROP_V: f64 = 0.0032;
/// density of insulation: PVC as the heaviest of the usual materials; kg/m3. Source: handbooks, 1.3 to 1.4 kg/dm³, from memory (memory).
pub(crate) const INSULATION_DENSITY: f64 = 1400.0;
/// heat-shrink sleeve over each lug and label; m. Source: custom of the trade, common practice, no source (common-practice).
pub(crate) const SLEEVE_PER_END_M: f64 = 0.05;
/// least resistance of a conductor over its standard's maximum: real ones lie below it; ratio. Source: custom of the trade, common practice, no source; IEC 60228 gives largest resistances (common-practice).
pub(crate) const SPREAD_CONDUCTOR_LOW: f64 = 0.94;
/// least resistance of a joint over the one that counts: good crimped lugs have 10 to 50 µΩ where 100 count; ratio. Source: custom of the trade, common practice, no source; IEC 60228 gives largest resistances (common-practice).
pub(crate) const SPREAD_JOINT_LOW: f64 = 0.3;
/// largest resistance of a joint over the one that counts: beyond it is a fault and no spread; ratio. Source: custom of the trade, common practice, no source; IEC 60228 gives largest resistances (common-practice).
pub(crate) const SPREAD_JOINT_HIGH: f64 = 2.0;
/// how far below the hottest air of its zone the air may lie; K. Source: custom of the trade, common practice, no source; IEC 60228 gives largest resistances (common-practice).
pub(crate) const SPREAD_AMBIENT_BELOW_K: f64 = 20.0;
/// how far above it; K. Source: custom of the trade, common practice, no source; IEC 60228 gives largest resistances (common-practice).
pub(crate) const SPREAD_AMBIENT_ABOVE_K: f64 = 5.0;
/// how far a source's voltage may lie from the one that counts; ratio. Source: custom of the trade, common practice, no source; IEC 60228 gives largest resistances (common-practice).
pub(crate) const SPREAD_SOURCE: f64 = 0.02;
/// least loss of a converter over the one that counts; ratio. Source: custom of the trade, common practice, no source; IEC 60228 gives largest resistances (common-practice).
pub(crate) const SPREAD_LOSS_LOW: f64 = 0.9;
/// largest loss of a converter over the one that counts; ratio. Source: custom of the trade, common practice, no source; IEC 60228 gives largest resistances (common-practice).
pub(crate) const SPREAD_LOSS_HIGH: f64 = 1.2;
/// chance of being kept below which a limit is told as one that fails; ratio. Source: custom of the trade, common practice, no source; IEC 60228 gives largest resistances (common-practice).
pub(crate) const KEPT_CHANCE: f64 = 0.95;
/// the sun's beam outside the atmosphere at the mean distance; W/m2. Source: ASTM E490, Grena 2012, Erbs 1982, ASHRAE 93, constants (published).
pub(crate) const SOLAR_CONSTANT_W_PER_M2: f64 = 1366.1;
/// terrestrial time less universal time around 2020: half a minute more moves the sun by 0.00001°; s. Source: ASTM E490, Grena 2012, Erbs 1982, ASHRAE 93, constants (published).
pub(crate) const DELTA_T_S: f64 = 69.2;
/// air in which refraction is computed; °C. Source: ASTM E490, Grena 2012, Erbs 1982, ASHRAE 93, constants (published).
pub(crate) const REFRACTION_AIR_C: f64 = 12.0;
/// cosine of 87° from the zenith: below it the quotient of light on the level and sun's height is no measure; 1. Source: ASTM E490, Grena 2012, Erbs 1982, ASHRAE 93, constants (published).
pub(crate) const LOWEST_SUN_COSINE: f64 = 0.052335956;
/// haze of a usual clear sky; 1. Source: common practice, no source (common-practice).
pub(crate) const LINKE_TURBIDITY: f64 = 3.0;
/// share of light that the ground throws back; ratio. Source: common practice, no source (common-practice).
pub(crate) const ALBEDO: f64 = 0.2;
/// how much of a slanting beam flat glass throws back (ASHRAE 93); 1. Source: ASTM E490, Grena 2012, Erbs 1982, ASHRAE 93, constants (published).
pub(crate) const GLASS_B0: f64 = 0.05;
/// brightest day over a usual clear one; ratio. Source: common practice, no source (common-practice).
pub(crate) const BRIGHTEST_DAY: f64 = 1.05;
/// a month brighter than this over a usual clear sky is no month of that place; ratio. Source: common practice, no source (common-practice).
pub(crate) const MOST_OVER_CLEAR: f64 = 1.15;
/// light lost to dirt when nothing is said; ratio. Source: common practice, no source (common-practice).
pub(crate) const SOILING: f64 = 0.05;
/// power lost between unlike modules and in their leads; ratio. Source: common practice, no source (common-practice).
pub(crate) const ARRAY_MISMATCH: f64 = 0.03;
/// wind at a module when nothing is measured; m/s. Source: common practice, no source (common-practice).
pub(crate) const WIND_M_PER_S: f64 = 1.0;
/// change of a module's power per kelvin when nothing is said; 1/K. Source: common practice, no source (common-practice).
pub(crate) const POWER_PER_K: f64 = -0.004;
/// change of a module's open-circuit voltage per kelvin when nothing is said; 1/K. Source: common practice, no source (common-practice).
pub(crate) const VOLTAGE_PER_K: f64 = -0.0033;
/// operating over open-circuit voltage of a module when nothing is said; ratio. Source: common practice, no source (common-practice).
pub(crate) const OPERATING_OVER_OPEN: f64 = 0.82;
/// least string fuse over the short-circuit current; ratio. Source: IEC 62548, string fuses from three parallel strings on, from memory; 1.4 Isc of PRACTICE (memory).
pub(crate) const STRING_FUSE: f64 = 1.4;
/// how far an array stands above its battery at least for a controller to work; V. Source: common practice, no source (common-practice).
pub(crate) const ABOVE_BATTERY_V: f64 = 1.0;
/// share of a drive at idle when nothing is said; ratio. Source: common practice, no source (common-practice).
pub(crate) const IDLE_SHARE: f64 = 0.2;
/// energy lost in conductors on the way to loads and from chargers; ratio. Source: common practice, no source (common-practice).
pub(crate) const WIRING_LOSS: f64 = 0.02;
/// standard deviation of what loads take day by day; ratio. Source: common practice, no source (common-practice).
pub(crate) const SPREAD_DAY_LOAD: f64 = 0.15;
/// standard deviation of what loads take over a whole stay; ratio. Source: common practice, no source (common-practice).
pub(crate) const SPREAD_STAY_LOAD: f64 = 0.1;
/// standard deviation of a day's brightness on the logistic scale: 0.6 of the mean in grey months and 0.1 in bright ones; 1. Source: common practice, no source (common-practice).
pub(crate) const SPREAD_DAY_LIGHT: f64 = 0.9;
/// the same of a whole stay from year to year; 1. Source: common practice, no source (common-practice).
pub(crate) const SPREAD_STAY_LIGHT: f64 = 0.25;
/// how much of a day's brightness the next one keeps; ratio. Source: common practice, no source (common-practice).
pub(crate) const DAY_AFTER_DAY: f64 = 0.3;
/// nominal voltage of a lithium iron phosphate cell; V. Source: makers' data sheets, by chemistry (memory).
pub(crate) const LITHIUM_CELL_V: f64 = 3.2;
/// nominal voltage of a lead-acid cell; V. Source: makers' data sheets, by chemistry (memory).
pub(crate) const LEAD_CELL_V: f64 = 2.0;
/// temperature of batteries where neither a climate nor a temperature is stated; °C. Source: common practice, no source (common-practice).
pub(crate) const MILD_C: f64 = 15.0;
/// what a charger takes at most of what the bank that feeds it has left in a step; ratio. Source: common practice, no source (common-practice).
pub(crate) const CLAIMED_SHARE: f64 = 0.95;
/// what an alternator with variable regulation is counted on to hold in the mean per 12 V; V. Source: common practice, no source (common-practice).
pub(crate) const VARIABLE_HOLDS_V: f64 = 13.2;
/// how far the absorption of a 12 V block may lie below its window before it is told; V. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const ABSORPTION_SLACK_V: f64 = 0.1;
/// how far a charger's temperature compensation may lie from its battery's before it is told; ratio. Source: common practice, no source, ambient, drop, kind, return (common-practice).
pub(crate) const COMPENSATION_SLACK: f64 = 0.5;
/// below this lithium iron phosphate must not be charged; °C. Source: data sheets of lithium iron phosphate cells, no charge below 0 °C; 0.2 C to 15 °C, 0.5 C to 45 °C (published).
pub(crate) const FROST_C: f64 = 0.0;
/// operating voltage of an array over the charge voltage above which a controller that does not track wastes it; ratio. Source: common practice, no source (common-practice).
pub(crate) const DIRECT_ARRAY: f64 = 1.6;
/// strings in parallel from which on each needs a fuse; 1. Source: IEC 62548, string fuses from three parallel strings on, from memory; 1.4 Isc of PRACTICE (memory).
pub(crate) const STRINGS_TO_FUSE: f64 = 3.0;
/// air while it was measured when nothing is said; °C. Source: common practice, no source (common-practice).
pub(crate) const READING_AIR_C: f64 = 20.0;
/// how far that may be off; K. Source: common practice, no source (common-practice).
pub(crate) const READING_AIR_K: f64 = 20.0;
/// how far the air along a conductor may be off that beside the instrument; K. Source: common practice, no source (common-practice).
pub(crate) const READING_AIR_STATED_K: f64 = 10.0;
/// standard deviation of what a load or charger draws over what the plan says; ratio. Source: common practice, no source (common-practice).
pub(crate) const READING_LOAD_SHARE: f64 = 0.2;
/// standard deviation of what a small load draws; A. Source: common practice, no source (common-practice).
pub(crate) const READING_LOAD_FLOOR_A: f64 = 0.1;
/// standard deviation of what an array gives over what the plan says; ratio. Source: common practice, no source (common-practice).
pub(crate) const READING_SUN_SHARE: f64 = 0.5;
/// standard deviation of the voltage of a battery over what the plan says; ratio. Source: common practice, no source (common-practice).
pub(crate) const READING_REST: f64 = 0.03;
/// standard deviation of a regulated voltage over what the plan says; ratio. Source: common practice, no source (common-practice).
pub(crate) const READING_REGULATED: f64 = 0.015;
/// the same of an alternator with variable regulation; ratio. Source: common practice, no source (common-practice).
pub(crate) const READING_VARIABLE: f64 = 0.06;
/// how far the resistance of a shunt may lie off its rating's; ratio. Source: common practice, no source (common-practice).
pub(crate) const SHUNT_SPREAD: f64 = 0.02;
/// least offset of a clamp over its largest error that is told; ratio. Source: common practice, no source (common-practice).
pub(crate) const CLAMP_ZERO_SHARE: f64 = 0.5;
/// a way that measures less than this share of its least resistance was read wrongly; ratio. Source: common practice, no source (common-practice).
pub(crate) const IMPOSSIBLE_SHARE: f64 = 0.5;
/// internal resistance of a battery over the planned one from which on it is worn; ratio. Source: common practice, no source (common-practice).
pub(crate) const BATTERY_WORN: f64 = 2.0;
/// how far the air at a joint may be off that read beside it; K. Source: common practice, no source (common-practice).
pub(crate) const READING_AMBIENT_K: f64 = 2.0;
/// rise of a joint over what was planned at full load from which on it is watched; K. Source: common practice, no source (common-practice).
pub(crate) const WARM_WATCH_K: f64 = 10.0;
/// Lorenz number: how much voltage across a contact heats it by how much; V²/K². Source: two public notes, V² = 4 L (T² − T0²), L = 2.44 to 2.45e-8 V²/K² (published).
pub(crate) const LORENZ_V2_PER_K2: f64 = 2.45e-8;
/// temperature of a joint's body beyond which only that is told: copper melts a little above; °C. Source: common practice, no source (common-practice).
pub(crate) const JOINT_CEILING_C: f64 = 1000.0;
/// permitted rise of a terminal over its surroundings in the type test; K. Source: IEC 60947-7-1 and IEC 60998-1, as quoted by a test laboratory, temperature rise, 45 K (published).
pub(crate) const JOINT_RISE_K: f64 = 45.0;
/// resistance of a terminal after the ageing test over that before: more has failed; ratio. Source: IEC 60947-7-1, as quoted by a terminal maker, 1.5 times the initial drop after the test (published).
pub(crate) const JOINT_GROWN: f64 = 1.5;
/// resistance of a joint over the lowest similar one from which on something is to be done; ratio. Source: public article citing maintenance testing practice, low authority, 50 % above the lowest similar joint (published).
pub(crate) const JOINT_OVER_SIMILAR: f64 = 1.5;
/// resistance of a battery's joint over what it had when it was installed from which on something is to be done; ratio. Source: IEEE 450 and IEEE 1188, connection resistance 20 % above the baseline (memory).
pub(crate) const JOINT_OVER_BASELINE: f64 = 1.2;
/// power of a connection that was seen to glow; W. Source: NBSIR 76-1011, abstract (published).
pub(crate) const GLOWING_W: f64 = 35.0;
/// infrared emissivity of bare bright metal; 1. Source: common practice, no source (common-practice).
pub(crate) const BARE_EMISSIVITY_LOW: f64 = 0.05;
/// infrared emissivity of bare dull metal; 1. Source: common practice, no source (common-practice).
pub(crate) const BARE_EMISSIVITY_HIGH: f64 = 0.3;
/// share of full load below which a measured rise is not carried over to full load; ratio. Source: common practice, no source (common-practice).
pub(crate) const THERMOGRAPHY_LEAST_LOAD: f64 = 0.4;
/// from one inspection of a part to the next in a vehicle or boat when nothing shortens it; month. Source: common practice, no source (common-practice).
pub(crate) const INSPECT_MONTHS: f64 = 12.0;
/// the same in a cabin; month. Source: common practice, no source (common-practice).
pub(crate) const INSPECT_CABIN_MONTHS: f64 = 24.0;
/// shortest time from one inspection to the next; month. Source: common practice, no source (common-practice).
pub(crate) const INSPECT_LEAST_MONTHS: f64 = 1.0;
/// swing of the air in a zone above which metal works on its screws: halves the time; K. Source: common practice, no source (common-practice).
pub(crate) const INSPECT_SWING_K: f64 = 60.0;
/// design current over the permitted one above which the time is halved; ratio. Source: common practice, no source (common-practice).
pub(crate) const INSPECT_LOAD_SHARE: f64 = 0.8;
/// more lugs than this on a terminal halve the time: four are the most; 1. Source: common practice, no source (common-practice).
pub(crate) const INSPECT_LUGS: f64 = 3.0;
/// running time after which a new or remade joint is tightened again if a month has not passed; h. Source: common practice, no source (common-practice).
pub(crate) const INSPECT_NEW_H: f64 = 50.0;
/// a run is measured in a case in which it carries this share of the most that any case gives it; ratio. Source: common practice, no source, instruments, surfaces, limits of what can be (common-practice).
pub(crate) const WALK_MOST_SHARE: f64 = 0.7;
/// a run that carries less of its design current is not worth measuring; ratio. Source: common practice, no source, instruments, surfaces, limits of what can be (common-practice).
pub(crate) const WALK_LEAST_SHARE: f64 = 0.05;
/// less than any usual instrument shows; A. Source: common practice, no source, instruments, surfaces, limits of what can be (common-practice).
pub(crate) const WALK_LEAST_A: f64 = 0.01;
/// until currents and temperatures have settled; min. Source: common practice, no source, instruments, surfaces, limits of what can be (common-practice).
pub(crate) const WALK_WAIT_MIN: f64 = 10.0;
/// no voltage of such a system is above it; V. Source: common practice, no source, instruments, surfaces, limits of what can be (common-practice).
pub(crate) const READING_MOST_V: f64 = 1000.0;
/// no current of such a system is above it; A. Source: common practice, no source, instruments, surfaces, limits of what can be (common-practice).
pub(crate) const READING_MOST_A: f64 = 10000.0;
/// no inverter of such a system gives more; W. Source: common practice, no source, instruments, surfaces, limits of what can be (common-practice).
pub(crate) const READING_MOST_W: f64 = 100000.0;
/// nothing that is measured is colder; °C. Source: common practice, no source, instruments, surfaces, limits of what can be (common-practice).
pub(crate) const READING_COLDEST_C: f64 = -60.0;
/// copper has melted; °C. Source: common practice, no source, instruments, surfaces, limits of what can be (common-practice).
pub(crate) const READING_HOTTEST_C: f64 = 1200.0;
/// no air in which wiring is measured is hotter; °C. Source: common practice, no source, instruments, surfaces, limits of what can be (common-practice).
pub(crate) const READING_HOTTEST_AIR_C: f64 = 120.0;
/// an instrument that may be further off measures nothing; ratio. Source: common practice, no source, instruments, surfaces, limits of what can be (common-practice).
pub(crate) const READING_MOST_SHARE: f64 = 0.5;
/// more digits than that are no accuracy; 1. Source: common practice, no source, instruments, surfaces, limits of what can be (common-practice).
pub(crate) const READING_MOST_DIGITS: f64 = 1000.0;
/// the coarsest class index of indicating instruments; 1. Source: IEC 60051, class index: largest error in per cent of full scale (memory).
pub(crate) const CLASS_INDEX_MOST: f64 = 5.0;
/// infrared emissivity of vinyl electrical tape; 1. Source: common practice, no source, instruments, surfaces, limits of what can be (common-practice).
pub(crate) const EMISSIVITY_TAPE: f64 = 0.95;
/// infrared emissivity of matt paint of any colour; 1. Source: common practice, no source, instruments, surfaces, limits of what can be (common-practice).
pub(crate) const EMISSIVITY_PAINT: f64 = 0.93;
/// polished metal; less is no surface of wiring; 1. Source: common practice, no source, instruments, surfaces, limits of what can be (common-practice).
pub(crate) const EMISSIVITY_LEAST: f64 = 0.05;
/// system voltage above which empty input capacitors weld contacts for certain: 48 V and what stands between; V. Source: common practice, no source (common-practice).
pub(crate) const PRE_CHARGE_V: f64 = 36.0;
/// voltage of an alternator over its setting below which it sags; ratio. Source: common practice, no source (common-practice).
pub(crate) const READING_SAGS: f64 = 0.97;
/// output of a sagging alternator over what it can give below which it is weak; ratio. Source: common practice, no source (common-practice).
pub(crate) const READING_WEAK: f64 = 0.8;
/// half-width of an efficiency above which it tells nothing; ratio. Source: common practice, no source (common-practice).
pub(crate) const READING_COARSE: f64 = 0.1;
