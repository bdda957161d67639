//! Quantities from and to text.

use super::units::{self, Kind};
use super::{
    Angle, Area, Capacitance, ElectricCharge, ElectricCurrent, ElectricPotential, ElectricalResistance, Energy,
    Frequency, JouleIntegral, Length, LineResistance, Mass, Power, QuantityError, RadiantExposure, Ratio,
    ThermodynamicTemperature, Time, Torque, parse,
};

/// Reads a quantity from text that carries its unit.
pub trait FromText: Sized {
    /// Reads the quantity; spaces around and before the unit do not matter.
    ///
    /// # Errors
    /// [`QuantityError`] when the unit is missing, unknown or of another quantity, or the number is no
    /// finite number. The sign is not judged here: what is allowed depends on the use.
    fn from_text(text: &str) -> Result<Self, QuantityError>;
}

/// Writes a quantity as text that [`FromText`] reads back.
pub trait ToText {
    /// The quantity with its unit, to twelve significant digits at most.
    fn to_text(&self) -> String;
}

/// A number to so many significant digits, without trailing zeros or an exponent.
pub(crate) fn significant(value: f64, digits: usize) -> String {
    let rounded = round_significant(value, digits);
    if rounded == 0.0 {
        "0".to_owned()
    } else if (1e-9..1e15).contains(&rounded.abs()) {
        rounded.to_string()
    } else {
        format!("{rounded:e}")
    }
}

/// Rounds to so many significant digits.
pub(crate) fn round_significant(value: f64, digits: usize) -> f64 {
    format!("{value:.*e}", digits.saturating_sub(1)).parse().unwrap_or(value)
}

fn write(value: f64, kind: &Kind) -> String {
    // In the usual unit; where a number is too large for that, in the first one that can tell it.
    let told = |unit: &units::Unit| (value - unit.offset) / unit.factor;
    match kind.units.iter().find(|unit| told(unit).is_finite()).or(kind.units.first()) {
        Some(shown) => {
            let number = significant(told(shown), 12);
            format!("{number} {}", shown.spellings.first().copied().unwrap_or_default())
        }
        None => significant(value, 12),
    }
}

macro_rules! textual {
    ($($quantity:ty => $kind:ident;)+) => {$(
        impl FromText for $quantity {
            fn from_text(text: &str) -> Result<Self, QuantityError> {
                static KIND: Kind = units::$kind;
                let value = parse::parse(text, &KIND)?;
                Ok(Self { dimension: std::marker::PhantomData, units: std::marker::PhantomData, value })
            }
        }
        impl ToText for $quantity {
            fn to_text(&self) -> String {
                write(self.value, &units::$kind)
            }
        }
    )+};
}

textual! {
    ElectricCurrent => CURRENT;
    ElectricPotential => POTENTIAL;
    ElectricalResistance => RESISTANCE;
    LineResistance => LINE_RESISTANCE;
    Length => LENGTH;
    Area => AREA;
    Power => POWER;
    Energy => ENERGY;
    ElectricCharge => CHARGE;
    ThermodynamicTemperature => TEMPERATURE;
    Time => TIME;
    Frequency => SPEED;
    Ratio => RATIO;
    JouleIntegral => JOULE_INTEGRAL;
    Capacitance => CAPACITANCE;
    Mass => MASS;
    Torque => TORQUE;
    Angle => ANGLE;
    RadiantExposure => IRRADIATION;
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{celsius, in_mm2};
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn same<T: FromText + std::fmt::Debug>(texts: &[&str], value: impl Fn(&T) -> f64, expected: f64) {
        for text in texts {
            let read = T::from_text(text).unwrap_or_else(|error| panic!("{text}: {error}"));
            assert_relative_eq!(value(&read), expected, max_relative = 1e-12);
        }
    }

    #[test]
    fn accepts_every_spelling() {
        same::<Length>(&["4.2 m", "4.2m", " 4.2  m ", "420 cm", "4200mm", "+4.2e0 m"], |length| length.value, 4.2);
        same::<Length>(&["14 ft", "14ft", "14 feet"], |length| length.value, 4.2672);
        same::<Area>(&["16 mm2", "16mm²", "16 mm^2", "16 sqmm"], |area| in_mm2(*area), 16.0);
        same::<ElectricalResistance>(
            &["2.1 mΩ", "2.1 mohm", "2.1mohm", "2100 µΩ", "2100 μΩ", "2100 uohm", "0.0021 Ω", "0.0021 ohm"],
            |resistance| resistance.value,
            2.1e-3,
        );
        same::<ThermodynamicTemperature>(
            &["40 °C", "40C", "40 degC", "104 °F", "104F", "104 degF", "313.15 K"],
            |temperature| temperature.value,
            313.15,
        );
        same::<Time>(&["90 min", "1.5 h", "5400 s", "0.0625 d"], |time| time.value, 5400.0);
        same::<Ratio>(&["3 %", "3%", "3 percent"], |ratio| ratio.value, 0.03);
        same::<Power>(&["1.2 kW", "1200 W", "1200w"], |power| power.value, 1200.0);
        same::<ElectricCurrent>(&["40 A", "40a", "40000 mA"], |current| current.value, 40.0);
        same::<LineResistance>(&["1.21 Ω/km", "1.21 ohm/km", "1.21 mohm/m"], |value| value.value, 1.21e-3);
    }

    /// Found by fuzzing: 1e311 mF is no number.
    #[test]
    fn what_is_too_large_for_its_usual_unit_is_told_in_another() {
        let large = Capacitance::from_text("1e308 F").unwrap();
        assert_eq!(Capacitance::from_text(&large.to_text()).unwrap(), large);
    }

    #[test]
    fn refuses_each_mistake_in_its_own_words() {
        let message =
            |text: &str| ElectricCurrent::from_text(text).err().map(|error| error.to_string()).unwrap_or_default();
        assert!(message("").contains("nothing was given"));
        assert!(message("40").contains("has no unit") && message("40").contains("40 A"));
        assert!(message("5 m").contains("is a length; a current is needed"));
        assert!(message("6 AWG").contains("a conductor gauge"));
        assert!(message("40 Amx").contains("did you mean \"A") || message("40 Amx").contains("did you mean \"amp\""));
        assert!(message("4,2 A").contains("comma"));
        assert!(message("nan A").contains("not a finite number"));
        assert!(message("-inf A").contains("not a finite number"));
        assert!(message("1e999 A").contains("not a finite number"));
        assert!(message("forty A").contains("does not start with a number"));
        assert!(message("1.2.3 A").contains("does not start with a number"));
        // A capital M is never taken for milli.
        assert!(ElectricalResistance::from_text("5 Mohm").is_err());
        assert!(ElectricCurrent::from_text("5 MA").is_err());
        assert!(ThermodynamicTemperature::from_text("40 V").is_err());
    }

    proptest! {
        /// Twelve digits are written, so the value comes back within half a unit of the twelfth, and
        /// the text itself comes back unchanged.
        #[test]
        fn text_round_trips(mantissa in -9.999_f64..9.999, exponent in -6_i32..7) {
            let value = mantissa * 10_f64.powi(exponent);
            fn check<T: FromText + ToText>(quantity: T, value: impl Fn(&T) -> f64) -> Result<(), TestCaseError> {
                let text = quantity.to_text();
                let back = T::from_text(&text).map_err(|error| TestCaseError::fail(error.to_string()))?;
                prop_assert!((value(&back) - value(&quantity)).abs() <= 1e-11 * value(&quantity).abs(), "{}", text);
                prop_assert_eq!(back.to_text(), text);
                Ok(())
            }
            macro_rules! each { ($($quantity:ident),+) => {$(
                let quantity = $quantity { dimension: std::marker::PhantomData, units: std::marker::PhantomData, value };
                check(quantity, |quantity| quantity.value)?;
            )+}; }
            each!(ElectricCurrent, ElectricPotential, ElectricalResistance, Length, Area, Power, Energy, Time, Ratio, Mass);
            check(celsius(mantissa.abs() * 100.0 - 60.0), |temperature| temperature.value)?;
        }

        /// Every quantity in every spelling of every unit: what is read is the number times the unit's factor, and written in the
        /// first unit it reads back within half a unit of the twelfth digit; of a temperature within that of its offset.
        #[test]
        fn every_unit_round_trips(mantissa in -9.999_f64..9.999, exponent in -3_i32..4) {
            let number = mantissa * 10_f64.powi(exponent);
            for kind in units::ALL {
                for unit in kind.units {
                    let value = number * unit.factor + unit.offset;
                    for spelling in unit.spellings {
                        let read = parse::parse(&format!("{number} {spelling}"), kind);
                        let read = read.map_err(|error| TestCaseError::fail(error.to_string()))?;
                        let size = value.abs() + unit.offset;
                        prop_assert!((read - value).abs() <= 1e-14 * size, "{} {}: {} {}", number, spelling, read, value);
                        let back = parse::parse(&write(read, kind), kind);
                        let back = back.map_err(|error| TestCaseError::fail(error.to_string()))?;
                        // Twelve digits of what is shown, and a temperature is shown from another zero.
                        let shown = size + kind.units.first().map_or(0.0, |unit| unit.offset);
                        prop_assert!((back - read).abs() <= 1e-11 * shown, "{} {}: {} {}", number, spelling, read, back);
                    }
                }
            }
        }

        #[test]
        fn no_text_panics(text in "\\PC{0,40}") {
            let _ = ElectricCurrent::from_text(&text);
            let _ = ThermodynamicTemperature::from_text(&text);
            let _ = crate::quantity::CrossSection::from_text(&text);
        }
    }
}
