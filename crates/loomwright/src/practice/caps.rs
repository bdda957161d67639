//! Ampacity tables that a practice sets above the physics: they cap, they never raise.

use super::Practice;
use crate::conductor::Conductor;
use crate::data::{
    Source, tables::cfr33_engine, tables::cfr33_table5, tables::iso10133, tables::nec_310_16, tables::nec_310_17,
    tables::practice_grouping,
};
use crate::heat::{Installation, Lay};
use crate::quantity::{CrossSection, ElectricCurrent, Gauge, ThermodynamicTemperature, in_celsius, in_mm2};
use uom::si::electric_current::ampere;

/// What a practice's table says of one conductor.
#[derive(Clone, Copy, Debug)]
pub struct Cap {
    /// The permitted current in this ambient and company.
    pub ampacity: ElectricCurrent,
    /// The practice's factor for the number of loaded conductors together.
    pub grouping: f64,
    /// The permitted current as the table prints it, at 30 °C.
    pub at_30_c: ElectricCurrent,
    /// Where it comes from.
    pub source: &'static Source,
}

/// Whether a practice's table bears on a conductor.
#[derive(Clone, Copy, Debug)]
pub enum TableCap {
    /// The practice has no table for this installation.
    NoTable,
    /// The table's value.
    Capped(Cap),
}

/// One table, reduced to size in mm², ampacity by column temperature, and source.
struct Row<const N: usize> {
    csa_mm2: f64,
    columns: [(f64, Option<f64>); N],
    source: &'static Source,
}

/// The table's ambient, °C.
const BASE: f64 = 30.0;
/// Air in an engine space, °C, for which the law prints its factors.
const ENGINE_SPACE: f64 = 50.0;

/// The practice's factor for so many loaded conductors together; 1 where it prints none.
fn grouping(practice: Practice, loaded: u16) -> f64 {
    let of = practice_grouping::ROWS.iter().filter(|row| row.practice == practice.name());
    of.filter(|row| row.conductors_from <= f64::from(loaded)).map(|row| row.factor).fold(1.0, f64::min)
}

/// The permitted current of `conductor` in the practice's table: the row of the largest size that is
/// not larger than the conductor, the column of the highest temperature that its insulation reaches,
/// carried to other ambients by the square-root law, and never above the printed value. Where the table
/// has no such row or column, the nearest is carried down: a table that ends never lifts its cap. Loaded
/// conductors laid together cost the factor that the practice prints for their number. No size is permitted more than a
/// larger one: where small sizes have hot columns only, carrying those down would give them more.
///
/// Aluminium and copper-clad aluminium take the copper value times the root of the resistivity ratio.
///
/// ```
/// use loomwright::conductor::{Kind, Material, find};
/// use loomwright::{heat::{Installation, Lay}, practice::{Practice, TableCap, table_cap}};
/// use loomwright::quantity::{CrossSection, FromText, celsius};
/// let cable = find(Kind::Awg, Material::Copper, CrossSection::from_text("8 AWG")?)?;
/// let lay = Lay::alone(Installation::FreeAir);
/// let cap = table_cap(Practice::UsSmallCraft, &cable, &lay, celsius(105.0), celsius(30.0));
/// let TableCap::Capped(cap) = cap else { panic!("the law has a table") };
/// assert!((cap.ampacity.value - 80.0).abs() < 1e-9); // 33 CFR 183 table 5
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn table_cap(
    practice: Practice,
    conductor: &Conductor,
    lay: &Lay,
    insulation: ThermodynamicTemperature,
    ambient: ThermodynamicTemperature,
) -> TableCap {
    let question = Question {
        practice,
        conductor,
        loaded: lay.loaded(),
        insulation_c: in_celsius(insulation),
        ambient_c: in_celsius(ambient),
    };
    match (practice, lay.installation) {
        (Practice::General | Practice::IecCaravan, _) => TableCap::NoTable,
        (Practice::IsoSmallCraft, _) => question.ask(iso10133::ROWS.iter().map(|row| Row {
            csa_mm2: row.csa_mm2,
            columns: [
                (60.0, Some(row.t60_a)),
                (70.0, Some(row.t70_a)),
                (85.0, Some(row.t85_a)),
                (105.0, Some(row.t105_a)),
                (125.0, Some(row.t125_a)),
                (200.0, Some(row.t200_a)),
            ],
            source: row.source,
        })),
        (Practice::UsSmallCraft, _) => question.ask(cfr33_table5::ROWS.iter().map(|row| Row {
            csa_mm2: question.gauge_mm2(row.gauge),
            columns: [
                (60.0, Some(row.t60_a)),
                (75.0, Some(row.t75_a)),
                (80.0, Some(row.t80_a)),
                (90.0, Some(row.t90_a)),
                (105.0, Some(row.t105_a)),
                (125.0, Some(row.t125_a)),
                (200.0, Some(row.t200_a)),
            ],
            source: row.source,
        })),
        (Practice::NaRecreationalVehicle, Installation::FreeAir) => {
            question.ask(nec_310_17::ROWS.iter().map(|row| Row {
                csa_mm2: question.gauge_mm2(row.gauge),
                columns: [(60.0, row.t60_a), (75.0, row.t75_a), (90.0, Some(row.t90_a))],
                source: row.source,
            }))
        }
        (Practice::NaRecreationalVehicle, _) => question.ask(nec_310_16::ROWS.iter().map(|row| Row {
            csa_mm2: question.gauge_mm2(row.gauge),
            columns: [(60.0, row.t60_a), (75.0, row.t75_a), (90.0, Some(row.t90_a))],
            source: row.source,
        })),
    }
}

#[derive(Clone, Copy)]
struct Question<'a> {
    practice: Practice,
    loaded: u16,
    conductor: &'a Conductor,
    insulation_c: f64,
    ambient_c: f64,
}

impl Question<'_> {
    /// A gauge row counts for the same gauge of the conductor's own system: the tables are entered by
    /// gauge number, whether AWG or SAE.
    fn gauge_mm2(&self, gauge: &str) -> f64 {
        let Some(gauge) = Gauge::read(gauge) else { return f64::INFINITY };
        match self.conductor.size {
            CrossSection::Sae(own) if own == gauge => in_mm2(self.conductor.area),
            _ => in_mm2(gauge.awg_area()),
        }
    }

    /// The law's own factor for engine spaces, which is printed for 50 °C and holds from there on.
    fn engine_space(&self, column: f64) -> f64 {
        if self.practice != Practice::UsSmallCraft || self.ambient_c < ENGINE_SPACE {
            return 1.0;
        }
        let reached = cfr33_engine::ROWS.iter().rfind(|row| row.insulation_c <= column + 1e-6);
        reached.or(cfr33_engine::ROWS.first()).map_or(1.0, |row| row.factor)
    }

    fn ask<const N: usize>(&self, rows: impl Iterator<Item = Row<N>> + Clone) -> TableCap {
        let csa_mm2 = in_mm2(self.conductor.area);
        let fits = |row: &Row<N>| row.csa_mm2 <= csa_mm2 * (1.0 + 1e-9);
        let smaller = |one: &Row<N>, other: &Row<N>| one.csa_mm2.total_cmp(&other.csa_mm2);
        let known = rows.filter(|row| row.columns.iter().any(|(_, value)| value.is_some()));
        let own = known.clone().filter(fits).max_by(smaller).or_else(|| known.clone().min_by(smaller));
        let Some(own) = own else { return TableCap::NoTable };
        // Below the smallest row the current falls with the area, faster than it does in the tables.
        let share = if fits(&own) { 1.0 } else { csa_mm2 / own.csa_mm2 };
        let mut least = Permitted { here: f64::INFINITY, at_30_c: f64::INFINITY };
        for row in known.filter(|row| row.csa_mm2 >= own.csa_mm2) {
            let share = if row.csa_mm2 > own.csa_mm2 { 1.0 } else { share };
            let Some(permitted) = self.permitted(&row) else { continue };
            least.here = least.here.min(permitted.here * share);
            least.at_30_c = least.at_30_c.min(permitted.at_30_c * share);
        }
        let metal = (1.0 / self.conductor.material.resistivity_over_copper()).sqrt().min(1.0);
        let grouping = grouping(self.practice, self.loaded);
        TableCap::Capped(Cap {
            ampacity: ElectricCurrent::new::<ampere>(least.here * metal * grouping),
            grouping,
            at_30_c: ElectricCurrent::new::<ampere>(least.at_30_c * metal),
            source: own.source,
        })
    }

    /// What a row permits copper, alone; nothing where it is blank.
    fn permitted<const N: usize>(&self, row: &Row<N>) -> Option<Permitted> {
        let values = || row.columns.iter().filter_map(|(column, value)| value.map(|value| (*column, value)));
        let reached = values().rfind(|(column, _)| *column <= self.insulation_c + 1e-6);
        // No column that cool: the coolest there is, carried down to the insulation by the square root.
        let (at_30_c, column) = match reached.or_else(|| values().next())? {
            (column, printed) if column > self.insulation_c => {
                let carried = ((self.insulation_c - BASE).max(0.0) / (column - BASE)).sqrt();
                (printed * carried, self.insulation_c)
            }
            (column, printed) => (printed, column),
        };
        let ambient = ((column - self.ambient_c).max(0.0) / (column - BASE).max(1e-9)).sqrt().min(1.0);
        Some(Permitted { here: at_30_c * ambient.min(self.engine_space(column)), at_30_c })
    }
}

/// What a row of a table permits, A: in this air, and as printed.
struct Permitted {
    here: f64,
    at_30_c: f64,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::conductor::{Kind, Material, find};
    use crate::quantity::{FromText, celsius};

    fn cap(kind: Kind, size: &str, practice: Practice, insulation: f64, ambient: f64) -> Option<f64> {
        let conductor = find(kind, Material::Copper, CrossSection::from_text(size).unwrap()).unwrap();
        let lay = Lay::alone(Installation::FreeAir);
        match table_cap(practice, &conductor, &lay, celsius(insulation), celsius(ambient)) {
            TableCap::Capped(cap) => Some(cap.ampacity.value),
            TableCap::NoTable => None,
        }
    }

    #[test]
    fn enters_the_law_table_by_gauge() {
        assert_eq!(cap(Kind::Awg, "8 AWG", Practice::UsSmallCraft, 105.0, 30.0), Some(80.0));
        assert_eq!(cap(Kind::Sae, "8 SAE", Practice::UsSmallCraft, 105.0, 30.0), Some(80.0));
        // 70 mm² is larger than 2/0 and smaller than 3/0: the row of 2/0.
        assert_eq!(cap(Kind::Iec5, "70 mm2", Practice::UsSmallCraft, 75.0, 30.0), Some(265.0));
        // Engine space, 50 °C: the law prints a factor of 0.85 (the square-root law gives 0.856).
        let hot = cap(Kind::Awg, "8 AWG", Practice::UsSmallCraft, 105.0, 50.0).unwrap();
        assert!((hot - 80.0 * 0.85).abs() < 1e-9, "{hot}");
        // No column at 55 °C: the 60 °C one carried down, 55 A · √(25/30).
        let carried = cap(Kind::Awg, "8 AWG", Practice::UsSmallCraft, 55.0, 30.0).unwrap();
        assert!((carried - 55.0 * (25.0_f64 / 30.0).sqrt()).abs() < 1e-9, "{carried}");
        assert_eq!(cap(Kind::Awg, "8 AWG", Practice::UsSmallCraft, 60.0, 60.0), Some(0.0));
        assert_eq!(cap(Kind::Awg, "8 AWG", Practice::General, 105.0, 30.0), None);
    }
}
