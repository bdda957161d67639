//! The closed list of units by quantity: the only place that knows their spellings and factors.

/// One unit: its spellings, the shown one first, and `SI value = number × factor + offset`.
pub(super) struct Unit {
    pub(super) spellings: &'static [&'static str],
    pub(super) factor: f64,
    pub(super) offset: f64,
}

/// A quantity as text knows it. The first unit is the one it is written in.
pub(super) struct Kind {
    pub(super) name: &'static str,
    pub(super) article: &'static str,
    pub(super) example: &'static str,
    pub(super) units: &'static [Unit],
}

const fn unit(spellings: &'static [&'static str], factor: f64) -> Unit {
    Unit { spellings, factor, offset: 0.0 }
}

macro_rules! kinds {
    ($($constant:ident, $name:literal, $article:literal, $example:literal, [$($unit:expr),+ $(,)?];)+) => {
        $(pub(super) const $constant: Kind =
            Kind { name: $name, article: $article, example: $example, units: &[$($unit),+] };)+
        /// Every quantity, so that a unit of the wrong kind can be named.
        pub(super) const ALL: &[&Kind] = &[$(&$constant),+];
    };
}

// Spellings are compared after `parse::plain` has folded Ω to ohm, µ to u and ² to 2.
kinds! {
    CURRENT, "current", "a current", "40 A", [
        unit(&["A", "amp", "amps", "ampere", "amperes"], 1.0), unit(&["mA"], 1e-3), unit(&["kA"], 1e3),
    ];
    POTENTIAL, "voltage", "a voltage", "12 V", [
        unit(&["V", "volt", "volts"], 1.0), unit(&["mV"], 1e-3), unit(&["kV"], 1e3),
    ];
    RESISTANCE, "resistance", "a resistance", "2.1 mΩ", [
        unit(&["mΩ", "mohm", "mohms"], 1e-3), unit(&["Ω", "ohm", "ohms"], 1.0), unit(&["µΩ", "uohm"], 1e-6),
    ];
    LINE_RESISTANCE, "resistance per length", "a resistance per length", "1.21 Ω/km", [
        unit(&["Ω/km", "ohm/km", "mohm/m"], 1e-3), unit(&["Ω/m", "ohm/m"], 1.0),
        unit(&["Ω/kft", "ohm/kft"], 1.0 / 304.8),
    ];
    LENGTH, "length", "a length", "4.2 m", [
        unit(&["m", "metre", "metres", "meter", "meters"], 1.0), unit(&["mm"], 1e-3), unit(&["cm"], 1e-2),
        unit(&["km"], 1e3), unit(&["ft", "foot", "feet"], super::FOOT_M), unit(&["in", "inch", "inches"], 0.0254),
    ];
    AREA, "cross-sectional area", "a cross-sectional area", "16 mm²", [
        unit(&["mm²", "mm2", "mm^2", "sqmm"], 1e-6), unit(&["kcmil"], 1e3 * super::CIRCULAR_MIL_M2),
        unit(&["cmil"], super::CIRCULAR_MIL_M2), unit(&["cm²", "cm2"], 1e-4), unit(&["m²", "m2"], 1.0),
    ];
    POWER, "power", "a power", "1.2 kW", [
        unit(&["W", "watt", "watts"], 1.0), unit(&["kW"], 1e3), unit(&["mW"], 1e-3),
    ];
    ENERGY, "energy", "an energy", "1.2 kWh", [
        unit(&["Wh"], 3600.0), unit(&["kWh"], 3.6e6), unit(&["J", "joule", "joules"], 1.0), unit(&["kJ"], 1e3),
    ];
    CHARGE, "charge", "a charge", "100 Ah", [
        unit(&["Ah"], 3600.0), unit(&["mAh"], 3.6), unit(&["As", "coulomb"], 1.0),
    ];
    TEMPERATURE, "temperature", "a temperature", "40 °C", [
        Unit { spellings: &["°C", "C", "degC", "deg C", "celsius"], factor: 1.0, offset: 273.15 },
        Unit { spellings: &["°F", "F", "degF", "deg F", "fahrenheit"], factor: 5.0 / 9.0, offset: 459.67 * 5.0 / 9.0 },
        unit(&["K", "kelvin"], 1.0),
    ];
    TIME, "duration", "a duration", "90 min", [
        unit(&["s", "sec", "second", "seconds"], 1.0), unit(&["min", "minute", "minutes"], 60.0),
        unit(&["h", "hr", "hour", "hours"], 3600.0), unit(&["d", "day", "days"], 86_400.0), unit(&["ms"], 1e-3),
    ];
    SPEED, "rotational speed", "a rotational speed", "2600 r/min", [
        unit(&["r/min", "rpm", "/min"], 1.0 / 60.0),
    ];
    RATIO, "share", "a percentage", "3 %", [unit(&["%", "percent", "per cent"], 1e-2)];
    JOULE_INTEGRAL, "Joule integral", "a Joule integral", "4100 A²s", [
        unit(&["A²s", "A2s", "A^2s"], 1.0), unit(&["kA²s", "kA2s"], 1e3),
    ];
    CAPACITANCE, "capacitance", "a capacitance", "10 mF", [
        unit(&["mF"], 1e-3), unit(&["µF", "uF"], 1e-6), unit(&["F", "farad"], 1.0),
    ];
    TORQUE, "torque", "a torque", "1.2 N m", [
        unit(&["N m", "Nm", "N·m"], 1.0), unit(&["lbf in", "lbf-in", "in-lbf"], 4.448_221_615_260_5 * 0.0254),
        unit(&["lbf ft", "lbf-ft", "ft-lbf"], 4.448_221_615_260_5 * super::FOOT_M),
    ];
    ANGLE, "angle", "an angle", "30°", [
        unit(&["°", "deg", "degree", "degrees"], std::f64::consts::PI / 180.0), unit(&["rad"], 1.0),
    ];
    IRRADIATION, "irradiation", "an irradiation", "2.4 kWh/m²", [
        unit(&["kWh/m²", "kWh/m2", "kWh/m^2"], 3.6e6), unit(&["Wh/m²", "Wh/m2"], 3.6e3),
        unit(&["MJ/m²", "MJ/m2"], 1e6),
    ];
    MASS, "mass", "a mass", "1.5 kg", [
        unit(&["kg"], 1.0), unit(&["g"], 1e-3), unit(&["lb", "lbs"], 0.453_592_37),
    ];
}
