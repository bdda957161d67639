// Written by `cargo run -p xtask -- data` from sources.toml; do not edit.

use crate::data::{Confidence, Source};

pub(crate) const ALTERNATOR_SERVICE_DATA: Source = Source {
    id: "alternator-service-data",
    title: "Regulated voltage of alternators against temperature, and cut-in speed",
    edition: "vehicle service specifications, model years 2010s",
    section: "midpoints from -20 to 80 °C",
    confidence: Confidence::Published,
};
pub(crate) const ALTERNATOR_SPEEDS: Source = Source {
    id: "alternator-speeds",
    title: "Efficiency of vehicle alternators, test speeds; rated speed of ISO 8854",
    edition: "Decision (EU) 2017/785 for 1800 1/min; ISO 8854 for 6000 1/min",
    section: "annex, table of test speeds; rated speed from memory",
    confidence: Confidence::Memory,
};
pub(crate) const ALUMINIUM_DENSITY_MEMORY: Source = Source {
    id: "aluminium-density-memory",
    title: "Density of aluminium",
    edition: "handbook value",
    section: "2703 kg/m³",
    confidence: Confidence::Memory,
};
pub(crate) const APPLIANCE_GUARDS: Source = Source {
    id: "appliance-guards",
    title: "Battery guards of appliances: cut-off and cut-in voltages",
    edition: "appliance manuals",
    section: "24 V: 22.8 and 24.2 V",
    confidence: Confidence::Published,
};
pub(crate) const ASTM_B33_MEMORY: Source = Source {
    id: "astm-b33-memory",
    title: "Tin-coated annealed copper wire",
    edition: "ASTM B33",
    section: "94.16 % IACS, wire of 0.28 to 0.5 mm",
    confidence: Confidence::Memory,
};
pub(crate) const ASTM_B566: Source = Source {
    id: "astm-b566",
    title: "Copper-clad aluminium wire",
    edition: "ASTM B566",
    section: "class 10A, 62.9 % IACS, 0.120 lb/in³",
    confidence: Confidence::Published,
};
pub(crate) const BATTERY_CHARGE_PAGES: Source = Source {
    id: "battery-charge-pages",
    title: "Charger manuals, a battery data sheet, education and supplier pages on charge voltages",
    edition: "charger manuals and battery pages",
    section: "absorption, float, −3 mV/K a cell, equalisation 15.0 V for 2 h at most, 0.15-0.25 C; flooded float 13.25 to 13.8 V by source",
    confidence: Confidence::Published,
};
pub(crate) const BATTERY_COLD_COMMON_PRACTICE: Source = Source {
    id: "battery-cold-common-practice",
    title: "Resistance of batteries in the cold",
    edition: "common practice, no source",
    section: "doubles from 25 °C to -20 °C",
    confidence: Confidence::CommonPractice,
};
pub(crate) const BATTERY_FAULT_MEMORY: Source = Source {
    id: "battery-fault-memory",
    title: "Short-circuit resistance of batteries",
    edition: "makers' data sheets; IEC 61660-1",
    section: "direct-current resistance 1.5 to 3 times the 1 kHz value; lithium iron phosphate about 2 mΩ per 100 Ah of a 12.8 V block",
    confidence: Confidence::Memory,
};
pub(crate) const BATTERY_MEMORY: Source = Source {
    id: "battery-memory",
    title: "Battery voltages at rest, charge voltages and resistance",
    edition: "makers' data sheets",
    section: "by chemistry",
    confidence: Confidence::Memory,
};
pub(crate) const BATTERY_STORAGE_LEAD: Source = Source {
    id: "battery-storage-lead",
    title: "Public pages on lead-acid batteries: formula sites, battery shops, simulator data files, supplier and education pages",
    edition: "public pages on lead-acid batteries",
    section: "Peukert 1.2-1.6, 1.05-1.15, 1.10-1.25; coulombic 0.80-0.90; depth 0.5; 0.5 %/day, 5 %/month; the taper agrees with a charger manual: 0.14 C to 80 %, full 8 h later",
    confidence: Confidence::Published,
};
pub(crate) const BATTERY_STORAGE_LITHIUM: Source = Source {
    id: "battery-storage-lithium",
    title: "Public supplier pages on lithium iron phosphate batteries; charge efficiency from memory (0.99 and more)",
    edition: "supplier pages on lithium iron phosphate batteries",
    section: "Peukert 1.05; depth 0.80-0.90; 3-5 %/month; 95 % full when absorption begins",
    confidence: Confidence::Memory,
};
pub(crate) const BATTERY_STORAGE_MEMORY: Source = Source {
    id: "battery-storage-memory",
    title: "Capacity of batteries at −40 °C",
    edition: "battery handbooks",
    section: "from memory",
    confidence: Confidence::Memory,
};
pub(crate) const BATTERY_WORKSHEETS: Source = Source {
    id: "battery-worksheets",
    title: "Battery sizing worksheets, temperature multiplier",
    edition: "battery sizing worksheets on four public pages",
    section: "inverse of their temperature multiplier",
    confidence: Confidence::Published,
};
pub(crate) const BEND_MEMORY: Source = Source {
    id: "bend-memory",
    title: "Least bend radii of fixed cables",
    edition: "installation guides",
    section: "from memory",
    confidence: Confidence::Memory,
};
pub(crate) const BONDING_COMMON_PRACTICE: Source = Source {
    id: "bonding-common-practice",
    title: "One negative reference: how negatives, converters and the chassis are joined",
    edition: "common practice, no source",
    section: "bonding and isolation",
    confidence: Confidence::CommonPractice,
};
pub(crate) const BREAKER_MEMORY: Source = Source {
    id: "breaker-memory",
    title: "Circuit breakers: ratings, trip limits and breaking limits",
    edition: "makers' data sheets, SAE J553, UL 489, IEC 60898-1",
    section: "ratings and limits",
    confidence: Confidence::Memory,
};
pub(crate) const BREAKER_RERATING_MEMORY: Source = Source {
    id: "breaker-rerating-memory",
    title: "Circuit breakers: re-rating for ambient, 0.8 % per kelvin where a bimetal trips",
    edition: "makers' data sheets",
    section: "ambient compensation",
    confidence: Confidence::Memory,
};
pub(crate) const BREAKER_THERMAL_PAGE: Source = Source {
    id: "breaker-thermal-page",
    title: "Thermal circuit breakers: types by their reset, 0.70 of the rating without pause, a short circuit in 0.2 s",
    edition: "breaker supplier's page",
    section: "trip curve",
    confidence: Confidence::Published,
};
pub(crate) const CARBON_STEEL_TABLE: Source = Source {
    id: "carbon-steel-table",
    title: "Resistivity of low-carbon steel",
    edition: "resistivity table, encyclopaedia copy",
    section: "carbon steel 1010",
    confidence: Confidence::Published,
};
pub(crate) const CCA_TEMPERATURE_MEMORY: Source = Source {
    id: "cca-temperature-memory",
    title: "Copper-clad aluminium wire, temperature law",
    edition: "as for its aluminium core",
    section: "aluminium is 90 % of the volume",
    confidence: Confidence::Memory,
};
pub(crate) const CEC_WEIGHTED_EFFICIENCY: Source = Source {
    id: "cec-weighted-efficiency",
    title: "Weighted efficiency of inverters",
    edition: "California Energy Commission test protocol",
    section: "weights, as reprinted by a national laboratory",
    confidence: Confidence::Published,
};
pub(crate) const CFR33_183_425: Source = Source {
    id: "cfr33-183-425",
    title: "Boats and associated equipment: conductors",
    edition: "33 CFR 183, current text",
    section: "183.425 and table 5",
    confidence: Confidence::Published,
};
pub(crate) const CFR33_183_425_BUNDLES: Source = Source {
    id: "cfr33-183-425-bundles",
    title: "Boats and associated equipment: conductors",
    edition: "33 CFR 183, current text",
    section: "183.425 table 5 note 2",
    confidence: Confidence::Published,
};
pub(crate) const CFR33_183_425_ENGINE_MEMORY: Source = Source {
    id: "cfr33-183-425-engine-memory",
    title: "Boats and associated equipment: conductors",
    edition: "33 CFR 183, current text",
    section: "183.425 table 5 note 1",
    confidence: Confidence::Memory,
};
pub(crate) const CFR33_183_455: Source = Source {
    id: "cfr33-183-455",
    title: "Boats and associated equipment: overcurrent protection",
    edition: "33 CFR 183, current text",
    section: "183.455(c)(1)",
    confidence: Confidence::Published,
};
pub(crate) const CFR33_183_455_B: Source = Source {
    id: "cfr33-183-455-b",
    title: "Boats and associated equipment: place of overcurrent protection, 7 in and 40 in",
    edition: "33 CFR 183, current text",
    section: "183.455(b)",
    confidence: Confidence::Published,
};
pub(crate) const CHURCHILL_CHU_1975: Source = Source {
    id: "churchill-chu-1975",
    title: "Correlating equations for laminar and turbulent free convection from a horizontal cylinder",
    edition: "Churchill and Chu, Int. J. Heat Mass Transfer 18 (1975) 1049",
    section: "equation for all Rayleigh numbers",
    confidence: Confidence::Published,
};
pub(crate) const COLOUR_COMMON_PRACTICE: Source = Source {
    id: "colour-common-practice",
    title: "Colours of direct-current conductors",
    edition: "custom of the trade",
    section: "common practice, no source",
    confidence: Confidence::CommonPractice,
};
pub(crate) const COMMON_PRACTICE_BOAT_RETURN: Source = Source {
    id: "common-practice-boat-return",
    title: "No current in the hull",
    edition: "common practice, no source",
    section: "return conductor",
    confidence: Confidence::CommonPractice,
};
pub(crate) const COMMON_PRACTICE_DEFAULT: Source = Source {
    id: "common-practice-default",
    title: "Defaults where a plan or a question says nothing",
    edition: "common practice, no source",
    section: "ambient, drop, kind, return",
    confidence: Confidence::CommonPractice,
};
pub(crate) const CONTACT_COMMON_PRACTICE: Source = Source {
    id: "contact-common-practice",
    title: "Resistance of a joint in good order",
    edition: "common practice, no source",
    section: "lug, cage, isolator, chassis path",
    confidence: Confidence::CommonPractice,
};
pub(crate) const CONTACT_RELATION_NOTES: Source = Source {
    id: "contact-relation-notes",
    title: "Voltage and temperature of a contact",
    edition: "two public notes",
    section: "V² = 4 L (T² − T0²), L = 2.44 to 2.45e-8 V²/K²",
    confidence: Confidence::Published,
};
pub(crate) const CONTACT_VOLTAGE_MEMORY: Source = Source {
    id: "contact-voltage-memory",
    title: "Softening and melting voltages of contact metals",
    edition: "books on electric contacts",
    section: "copper, aluminium, iron, zinc",
    confidence: Confidence::Memory,
};
pub(crate) const CONTACT_VOLTAGE_REPORT: Source = Source {
    id: "contact-voltage-report",
    title: "Softening and melting voltages of contact metals",
    edition: "technical report",
    section: "tin, silver, gold, nickel",
    confidence: Confidence::Published,
};
pub(crate) const CONTINUOUS_80: Source = Source {
    id: "continuous-80",
    title: "Continuous load at most 80 % of a fuse rating",
    edition: "equipment maker's catalogue citing the 80 % rule",
    section: "continuous loading",
    confidence: Confidence::Published,
};
pub(crate) const CONVERTER_COMMON_PRACTICE: Source = Source {
    id: "converter-common-practice",
    title: "Losses and cooling of converters: bounds and surfaces",
    edition: "none",
    section: "estimates of this project",
    confidence: Confidence::CommonPractice,
};
pub(crate) const CONVERTER_LOSS_LIBRARY: Source = Source {
    id: "converter-loss-library",
    title: "Quadratic losses of converters",
    edition: "open battery-storage parameter library of a published performance test, 2023",
    section: "medians over the five units with losses given over output power",
    confidence: Confidence::Published,
};
pub(crate) const DIARY_COMMON_PRACTICE: Source = Source {
    id: "diary-common-practice",
    title: "What a day asks of batteries: spread of loads and weather, losses in conductors, share of a drive at idle",
    edition: "common practice",
    section: "no source",
    confidence: Confidence::CommonPractice,
};
pub(crate) const EN_50530_WEIGHTS: Source = Source {
    id: "en-50530-weights",
    title: "European weighted efficiency of inverters",
    edition: "EN 50530",
    section: "conversion efficiency, weights as reprinted on public pages",
    confidence: Confidence::Published,
};
pub(crate) const ENERGISING_COMMON_PRACTICE: Source = Source {
    id: "energising-common-practice",
    title: "The order in which a new system is made live",
    edition: "common practice",
    section: "no source",
    confidence: Confidence::CommonPractice,
};
pub(crate) const FERRULE_LENGTHS_MEMORY: Source = Source {
    id: "ferrule-lengths-memory",
    title: "End ferrules (DIN 46228-4): usual lengths",
    edition: "makers' lists",
    section: "from memory; scope 0.5 to 50 mm²",
    confidence: Confidence::Memory,
};
pub(crate) const FITTING_COMMON_PRACTICE: Source = Source {
    id: "fitting-common-practice",
    title: "Terminations of flexible cables",
    edition: "custom of the trade",
    section: "common practice, no source",
    confidence: Confidence::CommonPractice,
};
pub(crate) const FUSE_BLADE_SHEET: Source = Source {
    id: "fuse-blade-sheet",
    title: "Blade fuse-links",
    edition: "makers' data sheets citing ISO 8820-3",
    section: "32 V, 1000 A; 1.35 times rating at most 600 s (type C) or 1800 s (type E)",
    confidence: Confidence::Published,
};
pub(crate) const FUSE_BLOCK_PAGE: Source = Source {
    id: "fuse-block-page",
    title: "Fuse blocks and terminal fuses: tightening torque",
    edition: "component pages (27 lbf in, 75 lbf in)",
    section: "installation",
    confidence: Confidence::Published,
};
pub(crate) const FUSE_CONTINUOUS_MEMORY: Source = Source {
    id: "fuse-continuous-memory",
    title: "Strip fuse-links, continuous loading",
    edition: "ISO 8820-5",
    section: "0.75 of the rating for 100 h",
    confidence: Confidence::Memory,
};
pub(crate) const FUSE_DROP_CHART: Source = Source {
    id: "fuse-drop-chart",
    title: "Blade fuse-links: current from the drop across them",
    edition: "fuse drop chart of a service report",
    section: "15 A miniature blade",
    confidence: Confidence::Published,
};
pub(crate) const FUSE_DROP_MEMORY: Source = Source {
    id: "fuse-drop-memory",
    title: "Blade fuse-links: cold resistance and drop at rated current",
    edition: "makers' data sheets",
    section: "electrical characteristics",
    confidence: Confidence::Memory,
};
pub(crate) const FUSE_DROP_SHEET: Source = Source {
    id: "fuse-drop-sheet",
    title: "Blade fuse-links: cold resistance and drop at rated current",
    edition: "maker's data sheet as quoted in public design notes",
    section: "electrical characteristics",
    confidence: Confidence::Published,
};
pub(crate) const FUSE_HOLDER_COMMON_PRACTICE: Source = Source {
    id: "fuse-holder-common-practice",
    title: "Usual fuse holders: current and largest conductor",
    edition: "common practice, no source",
    section: "holders",
    confidence: Confidence::CommonPractice,
};
pub(crate) const FUSE_HOLDER_MEMORY: Source = Source {
    id: "fuse-holder-memory",
    title: "Bolted fuse-links and breakers: tightening torque, the lower end",
    edition: "makers' recommendations",
    section: "installation",
    confidence: Confidence::Memory,
};
pub(crate) const FUSE_PULSE_MEMORY: Source = Source {
    id: "fuse-pulse-memory",
    title: "Fuse-links under repeated pulses: share of the melting I2t that they bear so often",
    edition: "fuse makers' application notes",
    section: "pulse-cycle withstand",
    confidence: Confidence::Memory,
};
pub(crate) const FUSE_RATINGS_BLADE: Source = Source {
    id: "fuse-ratings-blade",
    title: "Blade fuse-link ratings",
    edition: "ISO 8820-3 as listed on public pages",
    section: "preferred ratings",
    confidence: Confidence::Published,
};
pub(crate) const FUSE_RATINGS_MEMORY: Source = Source {
    id: "fuse-ratings-memory",
    title: "Fuse-link ratings",
    edition: "makers' lists",
    section: "preferred ratings",
    confidence: Confidence::Memory,
};
pub(crate) const FUSE_RERATING_GG: Source = Source {
    id: "fuse-rerating-gg",
    title: "Fuse-links gG, ambient re-rating",
    edition: "maker's application guide",
    section: "−0.5 % per kelvin above 40 °C",
    confidence: Confidence::Published,
};
pub(crate) const FUSE_RERATING_MEMORY: Source = Source {
    id: "fuse-rerating-memory",
    title: "Fuse-links, ambient re-rating",
    edition: "makers' data sheets",
    section: "0.3 to 0.35 % per kelvin above 25 °C",
    confidence: Confidence::Memory,
};
pub(crate) const FUSE_RERATING_SHEET: Source = Source {
    id: "fuse-rerating-sheet",
    title: "Blade fuse-link type E, ambient re-rating",
    edition: "maker's data sheet",
    section: "40 A part, −40 to 125 °C",
    confidence: Confidence::Published,
};
pub(crate) const FUSE_TIMES_MEMORY: Source = Source {
    id: "fuse-times-memory",
    title: "Fuse-link time limits and ratings",
    edition: "makers' data sheets",
    section: "operating limits",
    confidence: Confidence::Memory,
};
pub(crate) const FUSE_TRADE_PAGES: Source = Source {
    id: "fuse-trade-pages",
    title: "Fuse-link interrupt ratings",
    edition: "trade pages quoting makers",
    section: "interrupt rating",
    confidence: Confidence::Published,
};
pub(crate) const GLAND_MEMORY: Source = Source {
    id: "gland-memory",
    title: "Cable glands with metric threads: clamping ranges",
    edition: "makers' lists",
    section: "from memory",
    confidence: Confidence::Memory,
};
pub(crate) const IACS_GUIDE: Source = Source {
    id: "iacs-guide",
    title: "Copper design guide, electrical properties",
    edition: "industry design guide",
    section: "density of annealed copper",
    confidence: Confidence::Published,
};
pub(crate) const IEC_60028: Source = Source {
    id: "iec-60028",
    title: "International standard of resistance for copper",
    edition: "IEC 60028",
    section: "58 MS/m at 20 °C",
    confidence: Confidence::Published,
};
pub(crate) const IEC_60051_MEMORY: Source = Source {
    id: "iec-60051-memory",
    title: "Direct acting indicating analogue electrical measuring instruments",
    edition: "IEC 60051",
    section: "class index: largest error in per cent of full scale",
    confidence: Confidence::Memory,
};
pub(crate) const IEC_60228: Source = Source {
    id: "iec-60228",
    title: "Conductors of insulated cables",
    edition: "IEC 60228:2004",
    section: "tables 1 to 4, as reprinted by cable makers",
    confidence: Confidence::Published,
};
pub(crate) const IEC_60269_1: Source = Source {
    id: "iec-60269-1",
    title: "Low-voltage fuses",
    edition: "IEC 60269-1",
    section: "conventional fusing current 1.6 In",
    confidence: Confidence::Published,
};
pub(crate) const IEC_60287_1_1: Source = Source {
    id: "iec-60287-1-1",
    title: "Current rating of cables",
    edition: "IEC 60287-1-1",
    section: "table 1",
    confidence: Confidence::Published,
};
pub(crate) const IEC_60287_2_1: Source = Source {
    id: "iec-60287-2-1",
    title: "Current rating of cables: thermal resistance",
    edition: "IEC 60287-2-1",
    section: "tables 1, 2 and 4: PVC 5 K·m/W, single cables in air, plastic ducts",
    confidence: Confidence::Published,
};
pub(crate) const IEC_60287_2_1_MEMORY: Source = Source {
    id: "iec-60287-2-1-memory",
    title: "Electric cables: current rating, thermal resistance",
    edition: "IEC 60287-2-1",
    section: "tables 2 and 4",
    confidence: Confidence::Memory,
};
pub(crate) const IEC_60364_4_43_SHORT_TIME: Source = Source {
    id: "iec-60364-4-43-short-time",
    title: "Low-voltage installations: protection against overcurrent",
    edition: "IEC 60364-4-43:2008",
    section: "434.5.2 and table 43A",
    confidence: Confidence::Published,
};
pub(crate) const IEC_60364_5_52_ABC: Source = Source {
    id: "iec-60364-5-52-abc",
    title: "Low-voltage installations: wiring systems",
    edition: "IEC 60364-5-52:2009",
    section: "methods A, B and C, values as reprinted in BS 7671:2008 table 4D1A",
    confidence: Confidence::Published,
};
pub(crate) const IEC_60364_5_52_GROUPING_MEMORY: Source = Source {
    id: "iec-60364-5-52-grouping-memory",
    title: "Low-voltage installations: wiring systems",
    edition: "IEC 60364-5-52:2009",
    section: "table B.52.17 item 1",
    confidence: Confidence::Memory,
};
pub(crate) const IEC_60364_7_721_BONDING_MEMORY: Source = Source {
    id: "iec-60364-7-721-bonding-memory",
    title: "Low-voltage installations in caravans and motor caravans: protective bonding",
    edition: "IEC 60364-7-721, BS 7671 section 721",
    section: "721.411, 721.544",
    confidence: Confidence::Memory,
};
pub(crate) const IEC_60364_7_721_MEMORY: Source = Source {
    id: "iec-60364-7-721-memory",
    title: "Low-voltage installations in caravans and motor caravans",
    edition: "IEC 60364-7-721",
    section: "721.524",
    confidence: Confidence::Memory,
};
pub(crate) const IEC_60364_7_721_SUPPORTS_MEMORY: Source = Source {
    id: "iec-60364-7-721-supports-memory",
    title: "Low-voltage installations in caravans and motor caravans",
    edition: "IEC 60364-7-721",
    section: "721.522.8.1.3, from memory",
    confidence: Confidence::Memory,
};
pub(crate) const IEC_60364_K: Source = Source {
    id: "iec-60364-k",
    title: "Low-voltage installations: protection against overcurrent",
    edition: "IEC 60364-4-43:2008",
    section: "table 43A",
    confidence: Confidence::Published,
};
pub(crate) const IEC_60364_K_MEMORY: Source = Source {
    id: "iec-60364-k-memory",
    title: "Low-voltage installations: protection against overcurrent",
    edition: "IEC 60364-4-43:2008 and IEC 60364-5-54:2011",
    section: "table 43A, annex A",
    confidence: Confidence::Memory,
};
pub(crate) const IEC_60584_MEMORY: Source = Source {
    id: "iec-60584-memory",
    title: "Thermocouples: electromotive force and tolerances",
    edition: "IEC 60584-1:2013",
    section: "type K, class 1: the larger of 1.5 K and 0.4 % of the temperature in degrees Celsius",
    confidence: Confidence::Memory,
};
pub(crate) const IEC_60853_2: Source = Source {
    id: "iec-60853-2",
    title: "Cyclic and emergency current rating of cables",
    edition: "IEC 60853-2",
    section: "heat capacities, as quoted by rating reference pages",
    confidence: Confidence::Published,
};
pub(crate) const IEC_60889: Source = Source {
    id: "iec-60889",
    title: "Hard-drawn aluminium wire",
    edition: "IEC 60889",
    section: "61 % IACS",
    confidence: Confidence::Published,
};
pub(crate) const IEC_60898_1_PAGE: Source = Source {
    id: "iec-60898-1-page",
    title: "Circuit breakers for overcurrent protection: trips within the conventional time at 1.45 times its rating",
    edition: "IEC 60898-1 as summarised on a public page",
    section: "conventional tripping current",
    confidence: Confidence::Published,
};
pub(crate) const IEC_60909_4_QUOTED: Source = Source {
    id: "iec-60909-4-quoted",
    title: "Short-circuit currents, examples",
    edition: "IEC TR 60909-4 as quoted in a public verification note",
    section: "current-limited converter: 1.5 times rated current",
    confidence: Confidence::Published,
};
pub(crate) const IEC_60947_7_1_AGEING_PAGE: Source = Source {
    id: "iec-60947-7-1-ageing-page",
    title: "Terminal blocks for copper conductors: ageing",
    edition: "IEC 60947-7-1, as quoted by a terminal maker",
    section: "1.5 times the initial drop after the test",
    confidence: Confidence::Published,
};
pub(crate) const IEC_60947_7_1_PAGE: Source = Source {
    id: "iec-60947-7-1-page",
    title: "Terminal blocks for copper conductors",
    edition: "IEC 60947-7-1:2009, as quoted by a terminal maker",
    section: "rated cross-sections, test currents and 3.2 mV",
    confidence: Confidence::Published,
};
pub(crate) const IEC_60947_7_1_RISE_PAGE: Source = Source {
    id: "iec-60947-7-1-rise-page",
    title: "Terminal blocks: temperature rise",
    edition: "IEC 60947-7-1 and IEC 60998-1, as quoted by a test laboratory",
    section: "temperature rise, 45 K",
    confidence: Confidence::Published,
};
pub(crate) const IEC_60949: Source = Source {
    id: "iec-60949",
    title: "Thermally permissible short-circuit currents",
    edition: "IEC 60949",
    section: "constants by metal",
    confidence: Confidence::Published,
};
pub(crate) const IEC_61660_1: Source = Source {
    id: "iec-61660-1",
    title: "Short-circuit currents in d.c. auxiliary installations",
    edition: "IEC 61660-1 as quoted in public verification notes",
    section: "battery: peak and quasi-steady-state current",
    confidence: Confidence::Published,
};
pub(crate) const IEC_62485_2_MEMORY: Source = Source {
    id: "iec-62485-2-memory",
    title: "Safety requirements for secondary batteries and battery installations",
    edition: "IEC 62485-2",
    section: "ventilation of stationary batteries, clause 7",
    confidence: Confidence::Memory,
};
pub(crate) const IEEE_450_MEMORY: Source = Source {
    id: "ieee-450-memory",
    title: "Maintenance of stationary batteries",
    edition: "IEEE 450 and IEEE 1188",
    section: "connection resistance 20 % above the baseline",
    confidence: Confidence::Memory,
};
pub(crate) const IEEE_485_MEMORY: Source = Source {
    id: "ieee-485-memory",
    title: "Sizing lead-acid batteries for stationary applications",
    edition: "IEEE 485",
    section: "table 1, from memory",
    confidence: Confidence::Memory,
};
pub(crate) const INSPECTION_COMMON_PRACTICE: Source = Source {
    id: "inspection-common-practice",
    title: "From one inspection to the next: intervals and what shortens them",
    edition: "common practice",
    section: "no source",
    confidence: Confidence::CommonPractice,
};
pub(crate) const INSULATION_DENSITY_MEMORY: Source = Source {
    id: "insulation-density-memory",
    title: "Density of PVC insulation",
    edition: "handbooks",
    section: "1.3 to 1.4 kg/dm³, from memory",
    confidence: Confidence::Memory,
};
pub(crate) const ISO_10133_2012: Source = Source {
    id: "iso-10133-2012",
    title: "Small craft: extra-low-voltage d.c. installations",
    edition: "ISO 10133:2012",
    section: "clause 7.7",
    confidence: Confidence::Published,
};
pub(crate) const ISO_10133_A1_MEMORY: Source = Source {
    id: "iso-10133-a1-memory",
    title: "Small craft: extra-low-voltage d.c. installations",
    edition: "ISO 10133:2000/2012",
    section: "table A.1",
    confidence: Confidence::Memory,
};
pub(crate) const ISO_10133_BUNDLES_MEMORY: Source = Source {
    id: "iso-10133-bundles-memory",
    title: "Small craft: extra-low-voltage d.c. installations",
    edition: "ISO 10133:2012",
    section: "annex A, bundled conductors",
    confidence: Confidence::Memory,
};
pub(crate) const ISO_10133_COLOURS_MEMORY: Source = Source {
    id: "iso-10133-colours-memory",
    title: "Small craft: extra-low-voltage DC installations",
    edition: "ISO 10133:2012",
    section: "annex, colours, from memory",
    confidence: Confidence::Memory,
};
pub(crate) const ISO_10133_DROP: Source = Source {
    id: "iso-10133-drop",
    title: "Small craft: extra-low-voltage d.c. installations",
    edition: "ISO 10133:2012",
    section: "4.8",
    confidence: Confidence::Published,
};
pub(crate) const ISO_10133_LOCATION_MEMORY: Source = Source {
    id: "iso-10133-location-memory",
    title: "Small craft: extra-low-voltage d.c. installations, place of overcurrent protection",
    edition: "ISO 10133:2012, replaced by ISO 13297:2020",
    section: "clause 8",
    confidence: Confidence::Memory,
};
pub(crate) const ISO_10133_MEMORY: Source = Source {
    id: "iso-10133-memory",
    title: "Small craft: extra-low-voltage d.c. installations",
    edition: "ISO 10133:2012",
    section: "clause 7",
    confidence: Confidence::Memory,
};
pub(crate) const ISO_10133_SUPPORTS: Source = Source {
    id: "iso-10133-supports",
    title: "Small craft: extra-low-voltage DC installations",
    edition: "ISO 10133:2012",
    section: "7.3 and 7.4, as previewed",
    confidence: Confidence::Published,
};
pub(crate) const ISO_16750_2_MEMORY: Source = Source {
    id: "iso-16750-2-memory",
    title: "Road vehicles: electrical loads, load dump",
    edition: "ISO 16750-2:2012",
    section: "4.6.4, tests A and B",
    confidence: Confidence::Memory,
};
pub(crate) const ISO_6722_MEMORY: Source = Source {
    id: "iso-6722-memory",
    title: "Road vehicles: 60 V single-core cables",
    edition: "ISO 6722-1:2011",
    section: "resistance and thin-wall tables",
    confidence: Confidence::Memory,
};
pub(crate) const ISO_6722_OVERLOAD_MEMORY: Source = Source {
    id: "iso-6722-overload-memory",
    title: "Road vehicles: 60 V single-core cables",
    edition: "ISO 6722-1:2011",
    section: "thermal overload classes",
    confidence: Confidence::Memory,
};
pub(crate) const ISO_8820_13_SCOPE: Source = Source {
    id: "iso-8820-13-scope",
    title: "Sub-miniature blade fuse-links type P",
    edition: "ISO 8820-13:2020, scope",
    section: "up to 30 A, 32 V, 1000 A",
    confidence: Confidence::Published,
};
pub(crate) const ISO_8820_5_SCOPE: Source = Source {
    id: "iso-8820-5-scope",
    title: "Strip fuse-links SF30 and SF51",
    edition: "ISO 8820-5:2015",
    section: "scope: 32 V, 2000 A",
    confidence: Confidence::Published,
};
pub(crate) const JOINT_COMMON_PRACTICE: Source = Source {
    id: "joint-common-practice",
    title: "Heat of joints: what is no longer followed",
    edition: "common practice",
    section: "no source",
    confidence: Confidence::CommonPractice,
};
pub(crate) const LEAD_ACID_CHART: Source = Source {
    id: "lead-acid-chart",
    title: "State of charge of 12 V flooded and gel batteries against rested voltage and temperature",
    edition: "undated chart",
    section: "26.7 °C",
    confidence: Confidence::Published,
};
pub(crate) const LEAD_ACID_LAB: Source = Source {
    id: "lead-acid-lab",
    title: "Valve-regulated lead-acid modules, open-circuit voltage and resistance against state of charge",
    edition: "data 1998 to 2001 of a national laboratory's vehicle simulator",
    section: "91 Ah module",
    confidence: Confidence::Published,
};
pub(crate) const LFP_OCV_MODEL: Source = Source {
    id: "lfp-ocv-model",
    title: "Equilibrium voltage of a modelled lithium iron phosphate cell, 25 °C, without hysteresis",
    edition: "Prada 2013 parameters, PyBaMM 26.10",
    section: "stoichiometry window 2.0 V to 3.6 V",
    confidence: Confidence::Published,
};
pub(crate) const LITHIUM_CELL_SHEET: Source = Source {
    id: "lithium-cell-sheet",
    title: "Data sheet of a lithium iron phosphate cell, and handling guide",
    edition: "data sheets of lithium iron phosphate cells",
    section: "no charge below 0 °C; 0.2 C to 15 °C, 0.5 C to 45 °C",
    confidence: Confidence::Published,
};
pub(crate) const LITHIUM_SUPPLIER_TEXT: Source = Source {
    id: "lithium-supplier-text",
    title: "Supplier text on lithium iron phosphate against lead-acid in the cold",
    edition: "supplier text on batteries in the cold",
    section: "at −18 °C 0.70 of capacity, lead-acid 0.45",
    confidence: Confidence::Published,
};
pub(crate) const LITHIUM_SYSTEM_MANUAL: Source = Source {
    id: "lithium-system-manual",
    title: "Manual of a 48 V 50 Ah lithium iron phosphate module",
    edition: "manual of a 48 V 50 Ah lithium module",
    section: "standard charge: 0.1 C from 0 to 10 °C and from 50 to 60 °C, none above",
    confidence: Confidence::Published,
};
pub(crate) const LOAD_AUDITS: Source = Source {
    id: "load-audits",
    title: "Measured energy audit of one motorhome, and trade, sailing and maker's pages",
    edition: "audit of one motorhome, trade and maker pages",
    section: "at 12 V",
    confidence: Confidence::Published,
};
pub(crate) const LOAD_LISTS: Source = Source {
    id: "load-lists",
    title: "Appliance list of the US Department of Energy, as carried by a state university's course page",
    edition: "US Department of Energy appliance list",
    section: "as carried by a university",
    confidence: Confidence::Published,
};
pub(crate) const LOAD_MEMORY: Source = Source {
    id: "load-memory",
    title: "Usual loads of vehicles and boats",
    edition: "usual loads",
    section: "from memory",
    confidence: Confidence::Memory,
};
pub(crate) const LUG_DRIVE_MANUAL: Source = Source {
    id: "lug-drive-manual",
    title: "Drive maker's installation manual: round crimp lugs by conductor and stud",
    edition: "public manual",
    section: "terminal table",
    confidence: Confidence::Published,
};
pub(crate) const LUG_MEMORY: Source = Source {
    id: "lug-memory",
    title: "Tubular compression lugs (DIN 46235) and pre-insulated rings: studs commonly made",
    edition: "makers' lists",
    section: "from memory",
    confidence: Confidence::Memory,
};
pub(crate) const MEASURING_COMMON_PRACTICE: Source = Source {
    id: "measuring-common-practice",
    title: "Measuring in a live low-voltage system: what usual instruments are off by, and what is worth measuring",
    edition: "common practice, no source",
    section: "instruments, surfaces, limits of what can be",
    confidence: Confidence::CommonPractice,
};
pub(crate) const METAL_CONDUCTIVITY_MEMORY: Source = Source {
    id: "metal-conductivity-memory",
    title: "Thermal conductivity of metals",
    edition: "handbooks of heat transfer",
    section: "metals near 20 °C and at 200 °C",
    confidence: Confidence::Memory,
};
pub(crate) const NBSIR_76_1011: Source = Source {
    id: "nbsir-76-1011",
    title: "Exploratory study of glowing electrical connections",
    edition: "NBSIR 76-1011",
    section: "abstract",
    confidence: Confidence::Published,
};
pub(crate) const NEC_110_14_MEMORY: Source = Source {
    id: "nec-110-14-memory",
    title: "National Electrical Code, terminal temperature limits",
    edition: "NFPA 70",
    section: "110.14(C)",
    confidence: Confidence::Memory,
};
pub(crate) const NEC_240_4_D: Source = Source {
    id: "nec-240-4-d",
    title: "Largest overcurrent device for small conductors",
    edition: "NEC, as printed on public pages",
    section: "240.4(D)",
    confidence: Confidence::Published,
};
pub(crate) const NEC_310_10_MEMORY: Source = Source {
    id: "nec-310-10-memory",
    title: "National Electrical Code, conductors in parallel",
    edition: "NFPA 70",
    section: "310.10",
    confidence: Confidence::Memory,
};
pub(crate) const NEC_310_15_B_3_A: Source = Source {
    id: "nec-310-15-b-3-a",
    title: "National Electrical Code, more than three current-carrying conductors",
    edition: "NFPA 70:2014",
    section: "table 310.15(B)(3)(a)",
    confidence: Confidence::Published,
};
pub(crate) const NEC_310_16: Source = Source {
    id: "nec-310-16",
    title: "National Electrical Code, ampacities in raceway or cable",
    edition: "NFPA 70, editions 2011 to 2023",
    section: "table 310.16",
    confidence: Confidence::Published,
};
pub(crate) const NEC_310_17: Source = Source {
    id: "nec-310-17",
    title: "National Electrical Code, ampacities in free air",
    edition: "NFPA 70, editions 2011 to 2023",
    section: "table 310.17",
    confidence: Confidence::Published,
};
pub(crate) const NEC_310_17_MEMORY: Source = Source {
    id: "nec-310-17-memory",
    title: "National Electrical Code, ampacities in free air",
    edition: "NFPA 70, editions 2011 to 2023",
    section: "table 310.17, row 3 AWG",
    confidence: Confidence::Memory,
};
pub(crate) const NEC_551_20: Source = Source {
    id: "nec-551-20",
    title: "National Electrical Code, recreational vehicles: bonding of converter enclosures",
    edition: "NFPA 70:2008",
    section: "551.20(C), summary seen",
    confidence: Confidence::Published,
};
pub(crate) const NEC_552_10: Source = Source {
    id: "nec-552-10",
    title: "National Electrical Code, park trailers",
    edition: "NFPA 70:2008",
    section: "552.10(B)",
    confidence: Confidence::Published,
};
pub(crate) const NEC_552_10_C: Source = Source {
    id: "nec-552-10-c",
    title: "National Electrical Code, park trailers: bonding of the battery to the chassis",
    edition: "NFPA 70:2008",
    section: "552.10(C)",
    confidence: Confidence::Published,
};
pub(crate) const NEC_552_LOCATION_MEMORY: Source = Source {
    id: "nec-552-location-memory",
    title: "Park trailers: low-voltage overcurrent protection within 18 in of the source",
    edition: "NEC 552 (2008)",
    section: "552.10(E)",
    confidence: Confidence::Memory,
};
pub(crate) const NEC_552_OVERCURRENT_MEMORY: Source = Source {
    id: "nec-552-overcurrent-memory",
    title: "Park trailers: largest low-voltage overcurrent device for 18 and 16 AWG",
    edition: "NEC 552 (2008)",
    section: "552.10(E)",
    confidence: Confidence::Memory,
};
pub(crate) const NEC_690_8_MEMORY: Source = Source {
    id: "nec-690-8-memory",
    title: "National Electrical Code, solar circuits",
    edition: "NFPA 70",
    section: "690.8",
    confidence: Confidence::Memory,
};
pub(crate) const NEC_ANNEX_I: Source = Source {
    id: "nec-annex-i",
    title: "National Electrical Code, recommended tightening torques (from UL 486A-B)",
    edition: "NFPA 70, informative annex I",
    section: "table I.1, columns reconstructed from a scan",
    confidence: Confidence::Published,
};
pub(crate) const NEC_CHAPTER9_TABLE1_MEMORY: Source = Source {
    id: "nec-chapter9-table1-memory",
    title: "National Electrical Code, conduit fill",
    edition: "NFPA 70:2014",
    section: "chapter 9 table 1",
    confidence: Confidence::Memory,
};
pub(crate) const NEC_CHAPTER9_TABLE8: Source = Source {
    id: "nec-chapter9-table8",
    title: "National Electrical Code, conductor properties",
    edition: "NFPA 70, editions 2008 to 2023",
    section: "chapter 9 table 8",
    confidence: Confidence::Published,
};
pub(crate) const PRACTICE_SCOPE: Source = Source {
    id: "practice-scope",
    title: "What each rule set covers",
    edition: "standards' own scopes on public pages",
    section: "scope",
    confidence: Confidence::Published,
};
pub(crate) const RAITHBY_HOLLANDS_1975: Source = Source {
    id: "raithby-hollands-1975",
    title: "A general method of obtaining approximate solutions to laminar and turbulent free convection problems",
    edition: "Raithby and Hollands, Advances in Heat Transfer 11 (1975) 265",
    section: "concentric cylinders",
    confidence: Confidence::Memory,
};
pub(crate) const READING_COMMON_PRACTICE: Source = Source {
    id: "reading-common-practice",
    title: "Reading an installation: how far loads, voltages and air lie off a plan, and when a reading is no use",
    edition: "common practice",
    section: "no source",
    confidence: Confidence::CommonPractice,
};
pub(crate) const SAE_AREA_12: Source = Source {
    id: "sae-area-12",
    title: "Battery and primary cable, smallest areas",
    edition: "marine supplier catalogue quoting SAE",
    section: "12 gauge is 5833 circular mils",
    confidence: Confidence::Published,
};
pub(crate) const SAE_AREA_MEMORY: Source = Source {
    id: "sae-area-memory",
    title: "Battery and primary cable, smallest areas",
    edition: "SAE J1127 / J1128 / J378",
    section: "conductor area by gauge",
    confidence: Confidence::Memory,
};
pub(crate) const SAE_J553_PAGES: Source = Source {
    id: "sae-j553-pages",
    title: "Circuit breakers: types I to III by their reset, 12, 24 and 48 V",
    edition: "SAE J553:2022 as summarised on public pages",
    section: "scope and types",
    confidence: Confidence::Published,
};
pub(crate) const SEALED_BATTERY_SHEET: Source = Source {
    id: "sealed-battery-sheet",
    title: "Data sheet of a sealed 40 Ah lead-acid battery",
    edition: "data sheet of a sealed 40 Ah battery",
    section: "largest charge current 16 A",
    confidence: Confidence::Published,
};
pub(crate) const SELLING_COMMON_PRACTICE: Source = Source {
    id: "selling-common-practice",
    title: "How cables and fittings are sold",
    edition: "custom of the trade",
    section: "common practice, no source",
    confidence: Confidence::CommonPractice,
};
pub(crate) const SIMILAR_JOINTS_ARTICLE: Source = Source {
    id: "similar-joints-article",
    title: "Bolted joints measured: article of a test equipment maker",
    edition: "public article citing maintenance testing practice, low authority",
    section: "50 % above the lowest similar joint",
    confidence: Confidence::Published,
};
pub(crate) const SOLAR_COMMON_PRACTICE: Source = Source {
    id: "solar-common-practice",
    title: "Soiling, ground, haze, and wind of small solar arrays",
    edition: "common practice",
    section: "no source",
    confidence: Confidence::CommonPractice,
};
pub(crate) const SOLAR_DEFINITIONS: Source = Source {
    id: "solar-definitions",
    title: "Solar constant, refraction and the reach of published solar models",
    edition: "ASTM E490, Grena 2012, Erbs 1982, ASHRAE 93",
    section: "constants",
    confidence: Confidence::Published,
};
pub(crate) const STEEL_DENSITY_MEMORY: Source = Source {
    id: "steel-density-memory",
    title: "Density of carbon steel",
    edition: "handbook value",
    section: "7850 kg/m³",
    confidence: Confidence::Memory,
};
pub(crate) const STRAND_FILL: Source = Source {
    id: "strand-fill",
    title: "Diameter of a stranded conductor from its metal area",
    edition: "geometry of concentric and bunched strands",
    section: "fill 0.72 to 0.78",
    confidence: Confidence::CommonPractice,
};
pub(crate) const STRING_FUSE_IEC_MEMORY: Source = Source {
    id: "string-fuse-iec-memory",
    title: "Photovoltaic arrays: design requirements",
    edition: "IEC 62548",
    section: "string fuses from three parallel strings on, from memory; 1.4 Isc of PRACTICE",
    confidence: Confidence::Memory,
};
pub(crate) const STUD_LOAD_PAGE: Source = Source {
    id: "stud-load-page",
    title: "Marine consultant's article: ring terminals on one stud",
    edition: "public page, quoting the American boat standard",
    section: "four at most",
    confidence: Confidence::Published,
};
pub(crate) const TERMINAL_BOARD_BOLTS: Source = Source {
    id: "terminal-board-bolts",
    title: "Terminal-board maker's table of connection bolts",
    edition: "public page",
    section: "clamping only",
    confidence: Confidence::Published,
};
pub(crate) const THERMAL_COMMON_PRACTICE: Source = Source {
    id: "thermal-common-practice",
    title: "Heat of bundles, conduits and linings",
    edition: "none",
    section: "estimates of this project",
    confidence: Confidence::CommonPractice,
};
pub(crate) const THERMOGRAPHY_COMMON_PRACTICE: Source = Source {
    id: "thermography-common-practice",
    title: "Infrared readings of joints: emissivities, least load",
    edition: "common practice",
    section: "no source",
    confidence: Confidence::CommonPractice,
};
pub(crate) const TOLERANCE_COMMON_PRACTICE: Source = Source {
    id: "tolerance-common-practice",
    title: "Spread of resistances, joints, air, voltages and losses",
    edition: "custom of the trade",
    section: "common practice, no source; IEC 60228 gives largest resistances",
    confidence: Confidence::CommonPractice,
};
pub(crate) const TORQUE_BATTERY_A: Source = Source {
    id: "torque-battery-a",
    title: "Battery maker A, manual of AGM batteries",
    edition: "public manual",
    section: "torque table, bolt into insert",
    confidence: Confidence::Published,
};
pub(crate) const TORQUE_BATTERY_A_STUDS: Source = Source {
    id: "torque-battery-a-studs",
    title: "Battery maker A, manual of AGM batteries",
    edition: "public manual",
    section: "torque table, studs",
    confidence: Confidence::Published,
};
pub(crate) const TORQUE_BATTERY_B: Source = Source {
    id: "torque-battery-b",
    title: "Battery maker B, user guide",
    edition: "public guide",
    section: "table 2, dry threads",
    confidence: Confidence::Published,
};
pub(crate) const TORQUE_BATTERY_C: Source = Source {
    id: "torque-battery-c",
    title: "Battery maker C, maintenance page",
    edition: "public page",
    section: "button terminals",
    confidence: Confidence::Published,
};
pub(crate) const TORQUE_DRIVE_MANUAL: Source = Source {
    id: "torque-drive-manual",
    title: "Drive maker's installation manual: ring lugs on equipment terminals",
    edition: "public manual",
    section: "tightening torques",
    confidence: Confidence::Published,
};
pub(crate) const TORQUE_TERMINAL_BOARD: Source = Source {
    id: "torque-terminal-board",
    title: "Terminal-board maker's table of brass connection bolts (CuZn37)",
    edition: "public page",
    section: "tightening torques",
    confidence: Confidence::Published,
};
pub(crate) const TYPICAL_YEARS: Source = Source {
    id: "typical-years",
    title: "Open typical-year weather files (IWEC, TMY2, TMY3, TMYx, German test reference year, PVGIS) in public repositories",
    edition: "open typical-year weather files",
    section: "hourly values summed by month: no mean of many years",
    confidence: Confidence::Published,
};
pub(crate) const US_SMALL_CRAFT_SUPPORTS_MEMORY: Source = Source {
    id: "us-small-craft-supports-memory",
    title: "US small craft: support of conductors",
    edition: "custom of the American boat trade",
    section: "18 in, from memory",
    confidence: Confidence::Memory,
};
pub(crate) const WALL_GAUGE_MEMORY: Source = Source {
    id: "wall-gauge-memory",
    title: "Boat and battery cable, insulation wall",
    edition: "UL 1426 class walls",
    section: "nominal wall by gauge",
    confidence: Confidence::Memory,
};
pub(crate) const WALL_IEC_MEMORY: Source = Source {
    id: "wall-iec-memory",
    title: "Flexible single-core PVC cable, insulation wall",
    edition: "EN 50525-2-31",
    section: "nominal wall by cross-section",
    confidence: Confidence::Memory,
};
pub(crate) const ZONE_COMMON_PRACTICE: Source = Source {
    id: "zone-common-practice",
    title: "Hottest air by kind of zone",
    edition: "common practice, no source",
    section: "zones",
    confidence: Confidence::CommonPractice,
};

/// Every source, in order of id.
pub(crate) const ALL: &[&Source] = &[
    &ALTERNATOR_SERVICE_DATA,
    &ALTERNATOR_SPEEDS,
    &ALUMINIUM_DENSITY_MEMORY,
    &APPLIANCE_GUARDS,
    &ASTM_B33_MEMORY,
    &ASTM_B566,
    &BATTERY_CHARGE_PAGES,
    &BATTERY_COLD_COMMON_PRACTICE,
    &BATTERY_FAULT_MEMORY,
    &BATTERY_MEMORY,
    &BATTERY_STORAGE_LEAD,
    &BATTERY_STORAGE_LITHIUM,
    &BATTERY_STORAGE_MEMORY,
    &BATTERY_WORKSHEETS,
    &BEND_MEMORY,
    &BONDING_COMMON_PRACTICE,
    &BREAKER_MEMORY,
    &BREAKER_RERATING_MEMORY,
    &BREAKER_THERMAL_PAGE,
    &CARBON_STEEL_TABLE,
    &CCA_TEMPERATURE_MEMORY,
    &CEC_WEIGHTED_EFFICIENCY,
    &CFR33_183_425,
    &CFR33_183_425_BUNDLES,
    &CFR33_183_425_ENGINE_MEMORY,
    &CFR33_183_455,
    &CFR33_183_455_B,
    &CHURCHILL_CHU_1975,
    &COLOUR_COMMON_PRACTICE,
    &COMMON_PRACTICE_BOAT_RETURN,
    &COMMON_PRACTICE_DEFAULT,
    &CONTACT_COMMON_PRACTICE,
    &CONTACT_RELATION_NOTES,
    &CONTACT_VOLTAGE_MEMORY,
    &CONTACT_VOLTAGE_REPORT,
    &CONTINUOUS_80,
    &CONVERTER_COMMON_PRACTICE,
    &CONVERTER_LOSS_LIBRARY,
    &DIARY_COMMON_PRACTICE,
    &EN_50530_WEIGHTS,
    &ENERGISING_COMMON_PRACTICE,
    &FERRULE_LENGTHS_MEMORY,
    &FITTING_COMMON_PRACTICE,
    &FUSE_BLADE_SHEET,
    &FUSE_BLOCK_PAGE,
    &FUSE_CONTINUOUS_MEMORY,
    &FUSE_DROP_CHART,
    &FUSE_DROP_MEMORY,
    &FUSE_DROP_SHEET,
    &FUSE_HOLDER_COMMON_PRACTICE,
    &FUSE_HOLDER_MEMORY,
    &FUSE_PULSE_MEMORY,
    &FUSE_RATINGS_BLADE,
    &FUSE_RATINGS_MEMORY,
    &FUSE_RERATING_GG,
    &FUSE_RERATING_MEMORY,
    &FUSE_RERATING_SHEET,
    &FUSE_TIMES_MEMORY,
    &FUSE_TRADE_PAGES,
    &GLAND_MEMORY,
    &IACS_GUIDE,
    &IEC_60028,
    &IEC_60051_MEMORY,
    &IEC_60228,
    &IEC_60269_1,
    &IEC_60287_1_1,
    &IEC_60287_2_1,
    &IEC_60287_2_1_MEMORY,
    &IEC_60364_4_43_SHORT_TIME,
    &IEC_60364_5_52_ABC,
    &IEC_60364_5_52_GROUPING_MEMORY,
    &IEC_60364_7_721_BONDING_MEMORY,
    &IEC_60364_7_721_MEMORY,
    &IEC_60364_7_721_SUPPORTS_MEMORY,
    &IEC_60364_K,
    &IEC_60364_K_MEMORY,
    &IEC_60584_MEMORY,
    &IEC_60853_2,
    &IEC_60889,
    &IEC_60898_1_PAGE,
    &IEC_60909_4_QUOTED,
    &IEC_60947_7_1_AGEING_PAGE,
    &IEC_60947_7_1_PAGE,
    &IEC_60947_7_1_RISE_PAGE,
    &IEC_60949,
    &IEC_61660_1,
    &IEC_62485_2_MEMORY,
    &IEEE_450_MEMORY,
    &IEEE_485_MEMORY,
    &INSPECTION_COMMON_PRACTICE,
    &INSULATION_DENSITY_MEMORY,
    &ISO_10133_2012,
    &ISO_10133_A1_MEMORY,
    &ISO_10133_BUNDLES_MEMORY,
    &ISO_10133_COLOURS_MEMORY,
    &ISO_10133_DROP,
    &ISO_10133_LOCATION_MEMORY,
    &ISO_10133_MEMORY,
    &ISO_10133_SUPPORTS,
    &ISO_16750_2_MEMORY,
    &ISO_6722_MEMORY,
    &ISO_6722_OVERLOAD_MEMORY,
    &ISO_8820_13_SCOPE,
    &ISO_8820_5_SCOPE,
    &JOINT_COMMON_PRACTICE,
    &LEAD_ACID_CHART,
    &LEAD_ACID_LAB,
    &LFP_OCV_MODEL,
    &LITHIUM_CELL_SHEET,
    &LITHIUM_SUPPLIER_TEXT,
    &LITHIUM_SYSTEM_MANUAL,
    &LOAD_AUDITS,
    &LOAD_LISTS,
    &LOAD_MEMORY,
    &LUG_DRIVE_MANUAL,
    &LUG_MEMORY,
    &MEASURING_COMMON_PRACTICE,
    &METAL_CONDUCTIVITY_MEMORY,
    &NBSIR_76_1011,
    &NEC_110_14_MEMORY,
    &NEC_240_4_D,
    &NEC_310_10_MEMORY,
    &NEC_310_15_B_3_A,
    &NEC_310_16,
    &NEC_310_17,
    &NEC_310_17_MEMORY,
    &NEC_551_20,
    &NEC_552_10,
    &NEC_552_10_C,
    &NEC_552_LOCATION_MEMORY,
    &NEC_552_OVERCURRENT_MEMORY,
    &NEC_690_8_MEMORY,
    &NEC_ANNEX_I,
    &NEC_CHAPTER9_TABLE1_MEMORY,
    &NEC_CHAPTER9_TABLE8,
    &PRACTICE_SCOPE,
    &RAITHBY_HOLLANDS_1975,
    &READING_COMMON_PRACTICE,
    &SAE_AREA_12,
    &SAE_AREA_MEMORY,
    &SAE_J553_PAGES,
    &SEALED_BATTERY_SHEET,
    &SELLING_COMMON_PRACTICE,
    &SIMILAR_JOINTS_ARTICLE,
    &SOLAR_COMMON_PRACTICE,
    &SOLAR_DEFINITIONS,
    &STEEL_DENSITY_MEMORY,
    &STRAND_FILL,
    &STRING_FUSE_IEC_MEMORY,
    &STUD_LOAD_PAGE,
    &TERMINAL_BOARD_BOLTS,
    &THERMAL_COMMON_PRACTICE,
    &THERMOGRAPHY_COMMON_PRACTICE,
    &TOLERANCE_COMMON_PRACTICE,
    &TORQUE_BATTERY_A,
    &TORQUE_BATTERY_A_STUDS,
    &TORQUE_BATTERY_B,
    &TORQUE_BATTERY_C,
    &TORQUE_DRIVE_MANUAL,
    &TORQUE_TERMINAL_BOARD,
    &TYPICAL_YEARS,
    &US_SMALL_CRAFT_SUPPORTS_MEMORY,
    &WALL_GAUGE_MEMORY,
    &WALL_IEC_MEMORY,
    &ZONE_COMMON_PRACTICE,
];
