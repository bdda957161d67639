//! Where and when: places, stays, arrays.

use super::Form::{
    Angle, Choice, Count, Current, Date, Irradiations, Length, Power, Ratio, Reference, References, Spells,
    Temperature, Temperatures, Time, Voltage,
};
use super::{Section, may, must};

pub(super) const ARRAYS: Section = Section {
    name: "arrays",
    named: true,
    about: "Solar arrays by the plates of their modules, each on a solar controller.",
    keys: &[
        must("controller", Reference, "\"roof-controller\"", "the solar controller that it feeds"),
        must("power", Power, "\"175 W\"", "rated power of one module"),
        must("open_voltage", Voltage, "\"24.3 V\"", "open-circuit voltage of one module"),
        must("short_circuit", Current, "\"9.1 A\"", "short-circuit current of one module"),
        may("operating_voltage", Voltage, "\"20.1 V\"", "voltage at rated power; 0.82 of open_voltage when not said"),
        may("series", Count, "2", "modules in series; 1 when not said"),
        may("strings", Count, "3", "such strings in parallel; 1 when not said"),
        may("string_fuse", Current, "\"15 A\"", "fuse in each string; none when not said"),
        may(
            "largest_fuse",
            Current,
            "\"15 A\"",
            "largest fuse in series that the maker permits; unknown when not said",
        ),
        may("power_per_kelvin", Ratio, "\"-0.35 %\"", "change of its power per kelvin; -0.4 % when not said"),
        may(
            "voltage_per_kelvin",
            Ratio,
            "\"-0.28 %\"",
            "change of its open-circuit voltage per kelvin; -0.33 % when not said",
        ),
        may("tilt", Angle, "\"30°\"", "from flat (0°) to upright (90°); flat when not said"),
        may("azimuth", Angle, "\"180°\"", "the bearing that it faces, from north over east; needed when it is tilted"),
        may(
            "mount",
            Choice(crate::source::solar::Mount::NAMES),
            "\"roof\"",
            "on a rack with air behind it, or on the roof without, which is hotter; roof when not said",
        ),
        may("shading", Ratio, "\"10 %\"", "share of its light that masts, trees and boxes take; none when not said"),
        may("soiling", Ratio, "\"3 %\"", "share of its light that dirt takes; 5 % when not said"),
    ],
};

pub(super) const PLACES: Section = Section {
    name: "places",
    named: true,
    about: "Places to stay at.",
    keys: &[
        must("latitude", Angle, "\"47.4°\"", "latitude; south is negative"),
        must("longitude", Angle, "\"8.5°\"", "longitude; west is negative"),
        may("altitude", Length, "\"450 m\"", "height above the sea; 0 m when not said"),
        may("clock", Time, "\"1 h\"", "how far clocks are ahead of universal time; by longitude when not said"),
        may(
            "climate",
            Reference,
            "\"zurich\"",
            "a place of like months from our table, instead of irradiation and air",
        ),
        may(
            "irradiation",
            Irradiations,
            "[\"0.9 kWh/m2\", \"1.6 kWh/m2\", \"2.7 kWh/m2\", \"3.9 kWh/m2\", \"4.7 kWh/m2\", \"5.2 kWh/m2\", \"5.3 kWh/m2\", \"4.5 kWh/m2\", \"3.3 kWh/m2\", \"1.9 kWh/m2\", \"1.0 kWh/m2\", \"0.7 kWh/m2\"]",
            "mean irradiation of a day on the level, January first",
        ),
        may(
            "air",
            Temperatures,
            "[\"0 °C\", \"1 °C\", \"5 °C\", \"9 °C\", \"13 °C\", \"17 °C\", \"19 °C\", \"18 °C\", \"14 °C\", \"10 °C\", \"4 °C\", \"1 °C\"]",
            "mean air, January first; needed with irradiation",
        ),
    ],
};

pub(super) const STAYS: Section = Section {
    name: "stays",
    named: true,
    about: "Stays at those places: what is driven and when shore power is there. What loads run stands with the loads.",
    keys: &[
        must("place", Reference, "\"harbour\"", "where"),
        must("from", Date, "\"2026-11-02\"", "its first day"),
        must("to", Date, "\"2026-11-15\"", "its last day"),
        may(
            "driving",
            Spells,
            "[\"08:00 to 09:30 on monday, friday\", \"15:00 to 16:00 on 2026-11-05\"]",
            "when the engine runs; never when not said",
        ),
        may("shore", Spells, "[\"18:00 to 07:00 on saturday\"]", "when shore power is connected; never when not said"),
        may(
            "loads",
            References,
            "[\"refrigerator\"]",
            "the loads that run in it, each in its hours; all of them when not said",
        ),
        may("idle_share", Ratio, "\"20 %\"", "share of a drive at idle; 20 % when not said"),
        may(
            "start_charge",
            Ratio,
            "\"100 %\"",
            "state of charge at its beginning; where an adjoining stay ended, else full, when not said",
        ),
        may(
            "battery_temperature",
            Temperature,
            "\"12 °C\"",
            "temperature of the batteries; the air of the month when not said",
        ),
    ],
};
