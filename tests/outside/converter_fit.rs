//! The constrained fit of converter losses against scipy's non-negative least squares on the dual problem: stored, and
//! with feature `live` fresh.

use loomwright::converter::Losses;
use loomwright::quantity::{FromText, Power, Ratio};
use loomwright_tests::{Row, apart, read};

const AT: [(f64, &str); 6] = [
    (0.0, "loss_at_0"),
    (0.03, "loss_at_3"),
    (0.25, "loss_at_25"),
    (0.5, "loss_at_50"),
    (0.75, "loss_at_75"),
    (1.0, "loss_at_100"),
];

/// Within two parts in ten million of rated output, bound or free: scipy holds the loss at some thousand outputs, we
/// hold it everywhere.
fn hold(rows: &[Row]) {
    assert_eq!(rows.len(), 44);
    let rated = Power::from_text("1 kW").unwrap();
    let (mut worst, mut bound) = (0.0_f64, 0);
    for row in rows {
        let sheet: Vec<(Ratio, Ratio)> = row
            .text("points")
            .split(' ')
            .map(|point| {
                let (output, efficiency) = point.split_once(':').unwrap();
                (Ratio::from(output.parse::<f64>().unwrap()), Ratio::from(efficiency.parse::<f64>().unwrap()))
            })
            .collect();
        let losses = Losses::fit(&sheet, rated, rated * 0.0).unwrap().losses;
        for (share, column) in AT {
            let ours = losses.loss(rated * share) / rated;
            let miss = apart(ours.value, row.number(column));
            assert!(miss < 2e-7, "{row:?}: {} at {share}", ours.value);
            worst = worst.max(miss);
        }
        bound += usize::from(row.text("bound") == "1");
    }
    println!("largest difference {worst:.1e} of rated output; a condition decides in {bound} of {}", rows.len());
    assert!(bound >= 8);
}

#[test]
fn losses_are_those_of_scipy() {
    hold(&read("converter_fit.csv"));
}

#[cfg(feature = "live")]
#[test]
fn losses_are_those_of_scipy_now() {
    let columns = AT.map(|(_, column)| column);
    hold(&loomwright_tests::live::fresh_as_stored("converter_fit.py", "converter_fit.csv", &columns));
}
