//! Inverters of an open component library, by the Sandia grid-inverter model as pvlib evaluates it: the weighted
//! efficiencies, and how close quadratic losses and a table come to it.

use loomwright::converter::{EfficiencyTable, Losses, Weighting};
use loomwright::quantity::{Power, Ratio};
use loomwright_tests::{Row, apart, read, watts, within};

const LEVELS: [(f64, &str); 7] = [
    (0.05, "eff_5pct"),
    (0.10, "eff_10pct"),
    (0.20, "eff_20pct"),
    (0.30, "eff_30pct"),
    (0.50, "eff_50pct"),
    (0.75, "eff_75pct"),
    (1.00, "eff_100pct"),
];

fn share(value: f64) -> Ratio {
    Ratio::from(value)
}

fn sheet(row: &Row) -> Vec<(Ratio, Ratio)> {
    LEVELS.map(|(level, column)| (share(level), share(row.number(column)))).to_vec()
}

const SCHEMES: [(Weighting, &str, &str); 2] =
    [(Weighting::Cec, "CEC", "cec_weighted"), (Weighting::European, "EURO", "euro_weighted")];

#[test]
fn weights_are_those_printed() {
    for (weighting, scheme, _) in SCHEMES {
        let printed: Vec<(f64, f64)> = read("weighted_efficiency_weights.csv")
            .iter()
            .filter(|row| row.text("scheme") == scheme)
            .map(|row| (row.number("load_pct") / 100.0, row.number("weight")))
            .collect();
        let ours: Vec<(f64, f64)> = weighting.weights().map(|(load, weight)| (load.value, weight.value)).collect();
        assert_eq!(ours.len(), printed.len());
        for (one, other) in ours.into_iter().zip(printed) {
            assert!(apart(one.0, other.0) < 1e-12 && one.1 == other.1, "{scheme}: {one:?}, {other:?} printed");
        }
    }
}

/// Of the printed efficiencies, which have six digits, and of a table through them.
#[test]
fn weighted_efficiencies_are_those_computed_elsewhere() {
    let mut compared = 0;
    for row in read("weighted_efficiency_computed.csv") {
        let sheet = sheet(&row);
        let points: Vec<(Power, Ratio)> = sheet.iter().map(|(level, e)| (watts(1000.0) * *level, *e)).collect();
        let table = EfficiencyTable::new(&points).expect("a table");
        for (weighting, _, column) in SCHEMES {
            let found = weighting
                .efficiency(|level| {
                    let near = |(known, _): &&(Ratio, Ratio)| (known.value - level.value).abs() < 1e-9;
                    Ok(sheet.iter().find(near).expect("the level is printed").1)
                })
                .expect("efficiencies");
            assert!(apart(found.value, row.number(column)) < 1.5e-6, "{row:?}: {}", found.value);
            let of_table = weighting.efficiency(|level| table.efficiency(level * watts(1000.0))).expect("in the table");
            assert!((of_table - found).value.abs() < 1e-9);
            compared += 1;
        }
    }
    assert_eq!(compared, 24);
}

/// Quadratic losses through the seven levels: within 0.08 % of efficiency and 0.09 % of rated output of each, and
/// 0.05 % of both weighted efficiencies.
#[test]
fn fitted_losses_come_close_to_the_sandia_model() {
    let (mut worst, mut worst_loss, mut worst_weighted) = (0.0_f64, 0.0_f64, 0.0_f64);
    for row in read("weighted_efficiency_computed.csv") {
        let rated = watts(1000.0);
        let fit = Losses::fit(&sheet(&row), rated, watts(0.0)).expect("fits");
        for residual in &fit.residuals {
            worst = worst.max(residual.efficiency.value.abs());
            worst_loss = worst_loss.max(residual.loss.value.abs() / rated.value);
        }
        for (weighting, _, column) in SCHEMES {
            let found = weighting.efficiency(|level| Ok(fit.losses.efficiency(level * rated))).expect("a curve");
            worst_weighted = worst_weighted.max((found.value - row.number(column)).abs());
        }
    }
    println!("{worst:.5} of efficiency, {worst_loss:.5} of rated output, {worst_weighted:.6} weighted");
    assert!(worst < 0.0008 && worst_loss < 0.0009 && worst_weighted < 0.0005);
}

/// Fitted through the model's own points from 3 % to 100 % of direct-current input, every inverter and voltage: within 0.08 % of
/// efficiency and of rated output.
#[test]
fn fitted_losses_follow_the_sandia_points() {
    let points = read("sandia_inverter_points.csv");
    let (mut worst, mut worst_loss, mut curves) = (0.0_f64, 0.0_f64, 0);
    for unit in read("sandia_inverter_parameters.csv") {
        let rated = unit.number("Paco");
        let own = points.iter().filter(|row| row.text("inverter") == unit.text("inverter"));
        let mut voltages: Vec<&str> = own.clone().map(|row| row.text("v_dc")).collect();
        voltages.dedup();
        for voltage in voltages {
            // Clipped points tell of the limit and not of losses.
            let usable =
                |row: &&Row| row.text("v_dc") == voltage && (0.01..0.9999).contains(&(row.number("p_ac") / rated));
            let sheet: Vec<(Ratio, Ratio)> = own
                .clone()
                .filter(usable)
                .map(|row| (share(row.number("p_ac") / rated), share(row.number("p_ac") / row.number("p_dc"))))
                .collect();
            assert!(sheet.len() >= 7, "{} points", sheet.len());
            for residual in Losses::fit(&sheet, watts(rated), watts(0.0)).expect("fits").residuals {
                worst = worst.max(residual.efficiency.value.abs());
                worst_loss = worst_loss.max(residual.loss.value.abs() / rated);
            }
            curves += 1;
        }
    }
    println!("{curves} curves: {worst:.5} of efficiency, {worst_loss:.5} of rated output");
    assert_eq!(curves, 12);
    assert!(worst < 0.0008 && worst_loss < 0.0008);
}

/// The PVWatts curve is a quadratic of the input, and nearly one of the output.
#[test]
fn fitted_losses_follow_the_pvwatts_curve() {
    let rows = read("pvwatts_inverter_points.csv");
    for rated_input in [1000.0, 2000.0] {
        let usable: Vec<&Row> = rows
            .iter()
            .filter(|row| {
                row.number("pdc0") == rated_input && row.number("pac") > 0.0 && row.number("pdc") <= rated_input
            })
            .collect();
        let rated = usable.last().expect("rows").number("pac");
        let sheet: Vec<(Ratio, Ratio)> = usable
            .iter()
            .map(|row| (share(row.number("pac") / rated), share(row.number("pac") / row.number("pdc"))))
            .collect();
        let fit = Losses::fit(&sheet, watts(rated), watts(0.0)).expect("fits");
        for (row, residual) in usable.iter().zip(&fit.residuals) {
            assert!(residual.efficiency.value.abs() < 0.0005, "{residual:?}");
            // The other way round: what comes out for what goes in.
            let output = fit.losses.output(watts(row.number("pdc"))).value;
            assert!(
                within(output, row.number("pac"), 0.001) || row.number("pac") < 0.05 * rated,
                "{row:?}: {output} W"
            );
        }
    }
}
