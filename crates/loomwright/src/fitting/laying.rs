//! What a conductor lies in and passes through.

use crate::conductor::Conductor;
use crate::data::{Source, tables::bend_radii, tables::conduit_fill as fills, tables::glands};
use crate::quantity::{Length, Ratio};
use uom::si::length::millimeter;
use uom::si::ratio::ratio;

/// The share of a conduit's bore that so many cables may fill, by their real outer diameters (NEC chapter 9, table 1).
///
/// ```
/// use loomwright::{fitting::conduit_fill, quantity::uom::si::ratio::percent};
/// let fills = [1, 2, 3, 12].map(|cables| conduit_fill(cables).0.get::<percent>().round());
/// assert_eq!(fills, [53.0, 31.0, 40.0, 40.0]);
/// ```
pub fn conduit_fill(cables: u16) -> (Ratio, &'static Source) {
    let row = fills::ROWS.iter().find(|row| f64::from(cables) <= row.conductors).or(fills::ROWS.last());
    let none = (0.31, &crate::data::tables::sources::NEC_CHAPTER9_TABLE1_MEMORY);
    let (fill, source) = row.map_or(none, |row| (row.fill_ratio, row.source));
    (Ratio::new::<ratio>(fill), source)
}

/// The least inner bend radius of a conductor that is fixed in place, and where that comes from.
///
/// ```
/// use loomwright::conductor::{Kind, Material, find};
/// use loomwright::{fitting::bend_radius, quantity::{CrossSection, FromText}};
/// let cable = find(Kind::Iec5, Material::Copper, CrossSection::from_text("2.5 mm2")?)?;
/// let (radius, _) = bend_radius(&cable);
/// assert!(((radius / cable.outer_diameter).value - 3.0).abs() < 1e-9); // flexible and below 8 mm: three diameters
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn bend_radius(conductor: &Conductor) -> (Length, &'static Source) {
    let build = if conductor.kind.is_stiff() { "stiff" } else { "flexible" };
    let outer_mm = conductor.outer_diameter.get::<millimeter>();
    let mut rows = bend_radii::ROWS.iter().filter(|row| row.build == build);
    let fits = rows.clone().find(|row| outer_mm <= row.outer_mm);
    let (factor, source) = fits
        .or_else(|| rows.next_back())
        .map_or((6.0, &crate::data::tables::sources::BEND_MEMORY), |row| (row.factor, row.source));
    (conductor.outer_diameter * factor, source)
}

/// A cable gland by its thread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gland {
    /// Its thread, such as `M20`.
    pub name: &'static str,
    /// The thinnest cable that it grips.
    pub least: Length,
    /// The thickest that passes.
    pub most: Length,
    /// Where that comes from.
    pub source: &'static Source,
}

impl Gland {
    /// The threads that are known.
    pub const NAMES: &'static [&'static str] = &["M12", "M16", "M20", "M25", "M32", "M40", "M50"];

    /// Every gland, smallest first.
    pub fn all() -> impl Iterator<Item = Self> {
        glands::ROWS.iter().map(|row| Self {
            name: row.gland,
            least: Length::new::<millimeter>(row.least_mm),
            most: Length::new::<millimeter>(row.most_mm),
            source: row.source,
        })
    }

    /// The gland of a thread.
    ///
    /// ```
    /// use loomwright::fitting::Gland;
    /// assert!(Gland::named("m20").is_some() && Gland::named("M21").is_none());
    /// ```
    pub fn named(name: &str) -> Option<Self> {
        Self::all().find(|gland| gland.name.eq_ignore_ascii_case(name))
    }

    /// Whether it grips a cable of an outer diameter.
    pub fn grips(&self, outer: Length) -> bool {
        outer >= self.least && outer <= self.most
    }

    /// The smallest that grips a cable of an outer diameter.
    ///
    /// ```
    /// use loomwright::{fitting::Gland, quantity::{FromText, Length}};
    /// let outer = Length::from_text("10 mm")?;
    /// let gland = Gland::of(outer).ok_or("none")?;
    /// assert!(gland.grips(outer));
    /// assert!(Gland::all().take_while(|smaller| *smaller != gland).all(|smaller| smaller.most < outer)); // the smallest
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn of(outer: Length) -> Option<Self> {
        Self::all().find(|gland| gland.grips(outer))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::conductor::{Kind, Material, find};
    use crate::quantity::{CrossSection, mm2};

    #[test]
    fn every_name_has_a_gland_and_no_diameter_between_falls_through() {
        assert!(Gland::NAMES.iter().all(|name| Gland::named(name).is_some()));
        assert_eq!(Gland::all().count(), Gland::NAMES.len());
        for tenth in 30..350 {
            let outer = Length::new::<millimeter>(f64::from(tenth) / 10.0);
            assert!(Gland::of(outer).is_some_and(|gland| gland.grips(outer)), "{tenth}");
        }
    }

    #[test]
    fn thicker_and_stiffer_cables_bend_wider() {
        let radius = |kind, csa| {
            bend_radius(&find(kind, Material::Copper, CrossSection::Area(mm2(csa))).unwrap()).0.get::<millimeter>()
        };
        assert!(radius(Kind::Iec5, 95.0) > radius(Kind::Iec5, 16.0));
        // 2.5 mm² class 5: 3 times its outer diameter of some 3.7 mm.
        assert!((9.0..14.0).contains(&radius(Kind::Iec5, 2.5)), "{}", radius(Kind::Iec5, 2.5));
    }
}
