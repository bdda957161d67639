//! Fits and weighted efficiencies against inverters of a public library (CEC inverter library by way of pvlib 0.16.1,
//! makes replaced by generic names), and the weights of the California Energy Commission and of EN 50530.

use std::collections::BTreeMap;

use loomwright::converter::{Weighting, fit, weighted_efficiency};
use loomwright::quantity::{FromText, Power, Ratio};
use loomwright_tests::{read, within};

fn watts(value: f64) -> Power {
    Power::from_text("1 W").expect("a power") * value
}

/// The Sandia model is a parabola of output over input, ours one of loss over output: they agree to 0.1 % of
/// efficiency from 5 % of rated output on, for inverters fed at 24 V and more.
#[test]
fn fits_follow_the_sandia_model() {
    let mut curves: BTreeMap<(String, String), Vec<(f64, f64)>> = BTreeMap::new();
    for row in read("sandia_inverter_points.csv") {
        let (output, efficiency) = (row.number("p_ac"), row.number("eff"));
        // Clipped points and those that hardly give anything are no points of a data sheet.
        if efficiency >= 0.3 && row.number("frac_of_Pdco") < 1.0 {
            let curve = (row.text("inverter").to_owned(), row.text("v_dc").to_owned());
            curves.entry(curve).or_default().push((output, efficiency));
        }
    }
    assert!(curves.len() >= 12, "{} curves", curves.len());
    let mut worst = 0.0_f64;
    for ((inverter, volts), points) in &curves {
        let rated = points.iter().map(|(output, _)| *output).fold(0.0, f64::max);
        let shares: Vec<(Ratio, Ratio)> =
            points.iter().map(|(output, efficiency)| (Ratio::from(output / rated), Ratio::from(*efficiency))).collect();
        let fitted = fit(&shares, watts(rated), watts(0.0)).expect("it is a converter");
        for residual in fitted.residuals.iter().filter(|residual| residual.share.value >= 0.05) {
            let miss = residual.efficiency.value.abs();
            worst = worst.max(miss);
            assert!(miss < 0.001, "{inverter} at {volts} V: {miss} off at {}", residual.share.value);
        }
    }
    println!("{} curves, at most {:.2} % of efficiency off", curves.len(), 100.0 * worst);
}

/// As printed to six digits, from the efficiencies that stand beside them.
#[test]
fn weighted_efficiencies_are_as_computed_with_the_published_weights() {
    let mut compared = 0;
    for row in read("weighted_efficiency_computed.csv") {
        let at = |share: Ratio| Ratio::from(row.number(&format!("eff_{:.0}pct", 100.0 * share.value)));
        for (weighting, column) in [(Weighting::Cec, "cec_weighted"), (Weighting::European, "euro_weighted")] {
            let ours = weighted_efficiency(weighting, at).value;
            assert!(within(ours, row.number(column), 2e-6), "{row:?}: {ours}");
            compared += 1;
        }
    }
    assert!(compared >= 24);
}
