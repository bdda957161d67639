//! Gauges as cross-sectional areas.

use super::parse::{is_gauge, plain};
use super::units::AREA;
use super::{Area, FromText, QuantityError, ToText, in_mm2};

/// A gauge number from 4/0 (−3) over 1/0 (0) and 1 to 40.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Gauge(i8);

impl Gauge {
    /// The gauge with this number; 0 is 1/0, −1 is 2/0, −2 is 3/0 and −3 is 4/0.
    ///
    /// ```
    /// # use loomwright::quantity::Gauge;
    /// assert_eq!(Gauge::new(-1).map(|gauge| gauge.to_string()), Some("2/0".to_owned()));
    /// assert_eq!(Gauge::new(41), None);
    /// ```
    pub fn new(number: i8) -> Option<Self> {
        (-3..=40).contains(&number).then_some(Self(number))
    }

    /// The gauge number; 1/0 to 4/0 count 0 to −3.
    pub fn number(self) -> i8 {
        self.0
    }

    /// Area of the solid conductor by the AWG law d = 0.127 mm × 92^((36 − n)/39).
    ///
    /// Source: ASTM B258; 4/0 is 107.2 mm², 40 is 0.005 mm².
    ///
    /// ```
    /// use loomwright::quantity::{Gauge, in_mm2};
    /// let areas = [10, 7].map(|number| Gauge::new(number).map_or(0.0, |gauge| in_mm2(gauge.awg_area())));
    /// assert!((areas[0] - 5.26).abs() < 0.005); // 10 AWG by ASTM B258
    /// assert!((areas[1] / areas[0] - 2.0).abs() < 0.01); // three numbers double it
    /// ```
    pub fn awg_area(self) -> Area {
        let exponent = (36.0 - f64::from(self.0)) / 39.0;
        let diameter_m = 0.127e-3 * 92_f64.powf(exponent);
        Area::new::<uom::si::area::square_meter>(std::f64::consts::FRAC_PI_4 * diameter_m * diameter_m)
    }

    /// Reads `6`, `1/0`, `2/0`, `0`, `00`, `000` or `0000`.
    pub(crate) fn read(text: &str) -> Option<Self> {
        match text {
            "0" | "1/0" => Self::new(0),
            "00" | "2/0" => Self::new(-1),
            "000" | "3/0" => Self::new(-2),
            "0000" | "4/0" => Self::new(-3),
            plain if plain.starts_with(['+', '-', '0']) => None,
            plain => plain.parse().ok().and_then(Self::new),
        }
    }
}

impl std::fmt::Display for Gauge {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self.0 {
            zeros @ ..=0 => write!(formatter, "{}/0", 1 - zeros),
            number => write!(formatter, "{number}"),
        }
    }
}

/// A conductor's size as people say it: an area, or a gauge of one of the two systems.
///
/// ```
/// use loomwright::quantity::{CrossSection, FromText, ToText};
/// assert_eq!(CrossSection::from_text("2/0AWG")?.to_text(), "2/0 AWG");
/// assert_eq!(CrossSection::from_text("16mm2")?.to_text(), "16 mm²");
/// # Ok::<(), loomwright::quantity::QuantityError>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CrossSection {
    /// A metric area, or circular mils.
    Area(Area),
    /// American wire gauge.
    Awg(Gauge),
    /// SAE gauge: 3 to 11 % smaller than the AWG size of the same number.
    Sae(Gauge),
}

impl FromText for CrossSection {
    fn from_text(text: &str) -> Result<Self, QuantityError> {
        let folded = plain(text);
        let lower = folded.to_ascii_lowercase();
        type OfGauge = fn(Gauge) -> CrossSection;
        for (system, gauge) in [("awg", OfGauge::from(Self::Awg)), ("sae", Self::Sae)] {
            if let Some(number) = lower.strip_suffix(system).or_else(|| lower.strip_prefix(system)) {
                return Gauge::read(number.trim())
                    .map(gauge)
                    .ok_or_else(|| QuantityError::NoSuchGauge { given: folded.chars().take(60).collect() });
            }
        }
        Area::from_text(text).map(Self::Area).map_err(|error| match error {
            QuantityError::UnknownUnit { given, unit, quantity, nearest, known } if !is_gauge(&unit) => {
                QuantityError::UnknownUnit { given, unit, quantity, nearest, known: format!("{known}, AWG, SAE") }
            }
            QuantityError::BareNumber { given, article, .. } => {
                QuantityError::BareNumber { given, article, example: "16 mm²" }
            }
            other => other,
        })
    }
}

impl ToText for CrossSection {
    fn to_text(&self) -> String {
        match self {
            Self::Area(area) => {
                let shown = AREA.units.first().and_then(|unit| unit.spellings.first()).copied().unwrap_or_default();
                format!("{} {shown}", super::significant(in_mm2(*area), 12))
            }
            Self::Awg(gauge) => format!("{gauge} AWG"),
            Self::Sae(gauge) => format!("{gauge} SAE"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_gauges_in_every_spelling() {
        for (text, number) in [("6 AWG", 6), ("6awg", 6), ("AWG 6", 6), ("2/0 AWG", -1), ("00 AWG", -1), ("0AWG", 0)] {
            assert_eq!(CrossSection::from_text(text), Ok(CrossSection::Awg(Gauge(number))), "{text}");
        }
        assert_eq!(CrossSection::from_text("12 SAE"), Ok(CrossSection::Sae(Gauge(12))));
        for text in ["41 AWG", "5/0 AWG", "-1 AWG", "1.5 AWG", "AWG", "06 AWG"] {
            assert!(matches!(CrossSection::from_text(text), Err(QuantityError::NoSuchGauge { .. })), "{text}");
        }
    }
}
