//! The standard sizes of each kind, with their design resistance.

use super::geometry::{conductor_diameter_m, wall_m};
use super::{ConductorError, Kind, Material};
use crate::data::{Source, tables::constants, tables::iec60228, tables::iso6722, tables::nec_table8, tables::sae};
use crate::quantity::{
    Area, CIRCULAR_MIL_M2, CrossSection, FOOT_M, Gauge, Length, LineResistance, MassDensity, ThermodynamicTemperature,
    ToText, in_mm2, mm2, ohm_per_km,
};
use std::f64::consts::FRAC_PI_4;
use uom::si::area::square_meter;
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;

/// One conductor of a standard size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Conductor {
    /// The standard it follows.
    pub kind: Kind,
    /// What it is made of.
    pub material: Material,
    /// Its size as people say it.
    pub size: CrossSection,
    /// Its cross-sectional area: nominal for metric kinds, exact for gauges.
    pub area: Area,
    /// Design resistance per length at 20 °C: the standard's maximum.
    pub resistance_20: LineResistance,
    /// Diameter over the strands.
    pub diameter: Length,
    /// Diameter over the insulation.
    pub outer_diameter: Length,
    /// Where the resistance comes from.
    pub source: &'static Source,
    /// Where the insulation wall comes from.
    pub wall_source: &'static Source,
    /// Whether the resistance was scaled from copper by resistivity because the standard has no row
    /// for this material.
    pub scaled_from_copper: bool,
}

impl Conductor {
    /// Resistance per length at a conductor temperature.
    ///
    /// ```
    /// use loomwright::conductor::{Kind, Material, find};
    /// use loomwright::quantity::{CrossSection, FromText, celsius, in_ohm_per_km};
    /// let cable = find(Kind::Iec2, Material::Copper, CrossSection::from_text("16 mm2")?)?;
    /// let hot = in_ohm_per_km(cable.resistance_at(celsius(70.0)));
    /// assert!((hot - 1.15 * 304.5 / 254.5).abs() < 1e-9); // IEC 60228, by the law of copper
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn resistance_at(&self, temperature: ThermodynamicTemperature) -> LineResistance {
        self.resistance_20 * self.material.resistance_factor(temperature)
    }

    /// The size as the trade writes it: `16 mm²`, `2/0 AWG`, `250 kcmil`.
    ///
    /// ```
    /// use loomwright::conductor::{Kind, Material, find};
    /// use loomwright::quantity::{CrossSection, FromText};
    /// assert_eq!(find(Kind::Iec5, Material::Copper, CrossSection::from_text("16mm2")?)?.label(), "16 mm²");
    /// assert_eq!(find(Kind::Awg, Material::Copper, CrossSection::from_text("00 AWG")?)?.label(), "2/0 AWG");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn label(&self) -> String {
        match self.size {
            CrossSection::Area(area) if self.kind.is_gauge() => {
                format!("{} kcmil", crate::quantity::significant(area.value / CIRCULAR_MIL_M2 / 1e3, 6))
            }
            size => size.to_text(),
        }
    }

    /// Metal mass of `length` of this conductor, from its area and the density of its material.
    ///
    /// ```
    /// use loomwright::conductor::{Kind, Material, find};
    /// use loomwright::quantity::{CrossSection, FromText, Length};
    /// let cable = find(Kind::Iec5, Material::Copper, CrossSection::from_text("50 mm2")?)?;
    /// assert!((cable.mass(Length::from_text("10 m")?).value - 4.45).abs() < 0.04); // 0.5 dm³ of 8.89 kg/dm³
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn mass(&self, length: Length) -> crate::quantity::Mass {
        self.area * length * self.material.data().density
    }

    /// Mass of `length` of the insulated conductor: its metal, and what lies between strands and outer diameter as PVC of
    /// 1.4 kg/dm³ (from memory; other insulations are lighter).
    ///
    /// ```
    /// use loomwright::conductor::{Kind, Material, find};
    /// use loomwright::quantity::{CrossSection, FromText, Length};
    /// let cable = find(Kind::Iec5, Material::Copper, CrossSection::from_text("16 mm2")?)?;
    /// let metre = Length::from_text("1 m")?;
    /// let (metal, whole) = (cable.mass(metre).value, cable.insulated_mass(metre).value);
    /// assert!((metal - 0.142).abs() < 0.001 && whole > metal && whole < 0.22);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn insulated_mass(&self, length: Length) -> crate::quantity::Mass {
        let ring = (self.outer_diameter * self.outer_diameter - self.diameter * self.diameter) * FRAC_PI_4;
        let insulation = MassDensity::new::<kilogram_per_cubic_meter>(constants::INSULATION_DENSITY);
        self.mass(length) + ring * length * insulation
    }
}

/// Design resistance in Ω/km at 20 °C, and whether it was scaled from the copper row.
type Design = Option<(f64, bool)>;

/// Materials that are worked from the plain copper row because the standard gives none.
fn scaled(material: Material, plain_ohm_per_km: f64) -> Design {
    match material {
        Material::Copper => Some((plain_ohm_per_km, false)),
        Material::TinnedCopper | Material::CopperCladAluminium => {
            Some((plain_ohm_per_km * material.resistivity_over_copper(), true))
        }
        Material::Aluminium | Material::MildSteel => None,
    }
}

fn of_iec(row: &iec60228::Iec60228, material: Material) -> Design {
    match material {
        Material::TinnedCopper => row.tinned_ohm_per_km.map(|value| (value, false)),
        Material::Aluminium => row.aluminium_ohm_per_km.map(|value| (value, false)),
        other => scaled(other, row.plain_ohm_per_km),
    }
}

/// Ohms per kilometre at 20 °C from ohms per thousand feet at 75 °C.
fn of_table8(row: &nec_table8::NecTable8, material: Material) -> Design {
    let (printed, is_scaled) = match material {
        Material::TinnedCopper => (row.coated_ohm_per_kft, false),
        Material::Aluminium => (row.aluminium_ohm_per_kft, false),
        other => scaled(other, row.uncoated_ohm_per_kft)?,
    };
    let at_75: f64 = {
        let (constant, slope) = material.law_per_celsius();
        constant + slope * 75.0
    };
    Some((printed / FOOT_M / at_75, is_scaled))
}

fn of_sae(row: &sae::Sae, material: Material) -> Design {
    let area_mm2 = row.area_cmil * CIRCULAR_MIL_M2 * 1e6;
    let copper = 1e3 * Material::Copper.data().resistivity.value * 1e6 / area_mm2 * constants::STRAND_LAY;
    scaled(material, copper)
}

fn build(
    kind: Kind,
    material: Material,
    size: CrossSection,
    area: Area,
    design: Design,
    source: &'static Source,
) -> Option<Conductor> {
    let (resistance, scaled_from_copper) = design?;
    let diameter = conductor_diameter_m(kind, area.value);
    let (wall, wall_source) = wall_m(kind, in_mm2(area));
    Some(Conductor {
        kind,
        material,
        size,
        area,
        resistance_20: ohm_per_km(resistance),
        diameter: Length::new::<meter>(diameter),
        outer_diameter: Length::new::<meter>(diameter + 2.0 * wall),
        source,
        wall_source,
        scaled_from_copper,
    })
}

fn metric(kind: Kind, material: Material, csa_mm2: f64, design: Design, source: &'static Source) -> Option<Conductor> {
    build(kind, material, CrossSection::Area(mm2(csa_mm2)), mm2(csa_mm2), design, source)
}

/// The sizes of a kind in a material, smallest first.
///
/// Empty when no table gives that material in that kind; [`find`] turns this into an error.
///
/// ```
/// use loomwright::conductor::{Kind, Material, series};
/// assert_eq!(series(Kind::Iec5, Material::Copper).count(), 20);
/// assert_eq!(series(Kind::Iec5, Material::Aluminium).count(), 0); // no flexible aluminium in IEC 60228
/// ```
pub fn series(kind: Kind, material: Material) -> impl Iterator<Item = Conductor> {
    let class = match kind {
        Kind::Iec1 => 1.0,
        Kind::Iec2 => 2.0,
        Kind::Iec5 => 5.0,
        Kind::Iec6 => 6.0,
        Kind::Iso6722 | Kind::Awg | Kind::Sae => f64::NAN,
    };
    let iec = iec60228::ROWS
        .iter()
        .filter(move |row| row.class == class)
        .filter_map(move |row| metric(kind, material, row.csa_mm2, of_iec(row, material), row.source));
    let iso: &[iso6722::Iso6722] = if kind == Kind::Iso6722 { iso6722::ROWS } else { &[] };
    let iso = iso.iter().filter_map(move |row| {
        let mut made = metric(kind, material, row.csa_mm2, scaled(material, row.resistance_mohm_per_m), row.source)?;
        made.outer_diameter = Length::new::<meter>(row.outer_diameter_mm * 1e-3);
        made.wall_source = row.source;
        Some(made)
    });
    let awg: &[nec_table8::NecTable8] = if kind == Kind::Awg { nec_table8::ROWS } else { &[] };
    let awg = awg.iter().filter(|row| row.strands > 1.0).filter_map(move |row| {
        let kcmil = Area::new::<square_meter>(row.area_cmil * CIRCULAR_MIL_M2);
        let (size, area) = match Gauge::read(row.gauge) {
            Some(gauge) => (CrossSection::Awg(gauge), gauge.awg_area()),
            None => (CrossSection::Area(kcmil), kcmil),
        };
        build(kind, material, size, area, of_table8(row, material), row.source)
    });
    let sae: &[sae::Sae] = if kind == Kind::Sae { sae::ROWS } else { &[] };
    let sae = sae.iter().filter_map(move |row| {
        let area = Area::new::<square_meter>(row.area_cmil * CIRCULAR_MIL_M2);
        let size = CrossSection::Sae(Gauge::read(row.gauge)?);
        build(kind, material, size, area, of_sae(row, material), row.source)
    });
    iec.chain(iso).chain(awg).chain(sae)
}

/// The conductor of a kind, material and size.
///
/// # Errors
/// [`ConductorError`] when the material does not come in that kind or the size is not standard; both
/// name what exists.
///
/// ```
/// use loomwright::conductor::{Kind, Material, find};
/// use loomwright::quantity::{CrossSection, FromText, celsius, in_ohm_per_km};
/// let cable = find(Kind::Iec5, Material::Copper, CrossSection::from_text("16 mm2")?)?;
/// assert!((in_ohm_per_km(cable.resistance_20) - 1.21).abs() < 1e-12); // IEC 60228 class 5
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn find(kind: Kind, material: Material, size: CrossSection) -> Result<Conductor, ConductorError> {
    if series(kind, material).next().is_none() {
        return Err(material_not_in_kind(kind, material));
    }
    let same = |made: &Conductor| match (made.size, size) {
        (CrossSection::Area(made), CrossSection::Area(wanted)) => ((made / wanted).value - 1.0).abs() < 1e-6,
        (made, wanted) => made == wanted,
    };
    series(kind, material).find(same).ok_or_else(|| no_such_size(kind, material, size))
}

/// The error that a kind does not come in a material.
pub(crate) fn material_not_in_kind(kind: Kind, material: Material) -> ConductorError {
    let possible: Vec<&str> =
        Material::ALL.iter().filter(|other| series(kind, **other).next().is_some()).map(|other| other.name()).collect();
    ConductorError::MaterialNotInKind { kind: kind.name(), material: material.name(), possible: possible.join(", ") }
}

fn no_such_size(kind: Kind, material: Material, size: CrossSection) -> ConductorError {
    let area = match size {
        CrossSection::Area(area) => area,
        CrossSection::Awg(gauge) | CrossSection::Sae(gauge) => gauge.awg_area(),
    };
    let below = series(kind, material).take_while(|made| made.area < area).last();
    let above = series(kind, material).find(|made| made.area >= area);
    let nearest: Vec<String> = below.iter().chain(&above).map(Conductor::label).collect();
    ConductorError::NoSuchSize {
        size: size.to_text(),
        kind: kind.name(),
        material: material.name(),
        nearest: nearest.join(" and "),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{FromText, in_mm2, in_ohm_per_km};

    #[test]
    fn every_series_grows_in_area_and_falls_in_resistance() {
        for kind in Kind::ALL {
            for material in Material::ALL {
                let sizes: Vec<Conductor> = series(*kind, *material).collect();
                for pair in sizes.windows(2) {
                    assert!(pair[0].area < pair[1].area, "{kind} {material}");
                    assert!(pair[0].resistance_20 > pair[1].resistance_20, "{kind} {material} {:?}", pair[1].size);
                    assert!(pair[0].outer_diameter < pair[1].outer_diameter, "{kind} {material}");
                }
                for made in &sizes {
                    // Walls of insulation are tenths of a millimetre to a few (common practice, no source).
                    let wall = 0.5 * (made.outer_diameter - made.diameter).value;
                    assert!(wall > 1e-4 && wall < 4e-3, "{kind} {material} {:?}: {wall} m", made.size);
                    assert_eq!(find(*kind, *material, made.size).map(|found| found.area), Ok(made.area));
                }
            }
        }
    }

    #[test]
    fn sizes_are_told_and_measured_as_the_trade_writes_them() {
        let of = |kind, material, text: &str| find(kind, material, CrossSection::from_text(text).unwrap()).unwrap();
        let of_gauge = |text| of(Kind::Awg, Material::Copper, text);
        assert_eq!(of_gauge("250 kcmil").label(), "250 kcmil");
        assert_eq!(of(Kind::Iec5, Material::Copper, "16 mm2").label(), "16 mm²");
        // A circular mil is π/4 of a thousandth of an inch squared: 250 000 are 126.7 mm², and 9 343 (SAE 10) 4.734 mm².
        assert!((in_mm2(of_gauge("250 kcmil").area) - 126.677).abs() < 1e-3);
        let sae = of(Kind::Sae, Material::Copper, "10 SAE");
        assert!((in_mm2(sae.area) - 4.734).abs() < 1e-2, "{}", in_mm2(sae.area));
        // Copper of 17.241 Ω·mm²/km and 0 to 5 % that the lay of strands adds.
        let solid = 17.241 / in_mm2(sae.area);
        assert!((1.0..1.05).contains(&(in_ohm_per_km(sae.resistance_20) / solid)));
        // Aluminium with a coat of copper (10 %) has 1.59 times the resistivity of copper, ASTM B566 from memory.
        let plain = of(Kind::Iso6722, Material::Copper, "10 mm2");
        let clad = of(Kind::Iso6722, Material::CopperCladAluminium, "10 mm2");
        let more = (clad.resistance_20 / plain.resistance_20).value;
        assert!((1.5..1.7).contains(&more), "{more}");
    }

    #[test]
    fn insulation_weighs_what_its_ring_does() {
        let cable = find(Kind::Iec5, Material::Copper, CrossSection::from_text("16 mm2").unwrap()).unwrap();
        let length = Length::new::<meter>(10.0);
        let ring = FRAC_PI_4 * (cable.outer_diameter.value.powi(2) - cable.diameter.value.powi(2));
        let plastic = (cable.insulated_mass(length) - cable.mass(length)).value;
        assert!((plastic / (ring * 10.0 * constants::INSULATION_DENSITY) - 1.0).abs() < 1e-9, "{plastic}");
    }

    #[test]
    fn unknown_conductors_name_what_exists() {
        let size = CrossSection::from_text("17 mm2").unwrap();
        let error = find(Kind::Iec5, Material::Copper, size).unwrap_err().to_string();
        assert!(error.contains("16 mm² and 25 mm²"), "{error}");
        let error = find(Kind::Iec5, Material::Aluminium, size).unwrap_err().to_string();
        assert!(error.contains("possible: copper, tinned-copper, copper-clad-aluminium"), "{error}");
        assert!("copprr".parse::<Material>().unwrap_err().to_string().contains("did you mean \"copper\""));
    }
}
