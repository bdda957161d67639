//! Converter losses against the quadratic loss model as evaluated by an independent script, with coefficients of an
//! open parameter library (derived from a published performance-test parameter set; see the heads of the files).

use loomwright::converter::{LossError, Losses};
use loomwright::quantity::{FromText, Power, Ratio};
use loomwright_tests::{Row, read, within};

fn share(value: f64) -> Ratio {
    Ratio::from(value)
}

fn watts(value: f64) -> Power {
    Power::from_text("1 W").expect("a power") * value
}

/// Points at 10, 50 and 100 % fix the model: every other output of the table follows. The printed efficiencies have
/// nine digits; near 2 % of output that leaves some 1e-7 of the loss.
#[test]
fn three_points_give_the_whole_curve() {
    let points = read("converter_loss_points.csv");
    let mut compared = 0;
    for unit in read("converter_loss_coefficients.csv").iter().filter(|unit| unit.text("p_is") == "out") {
        let rows: Vec<&Row> = points.iter().filter(|row| row.text("id") == unit.text("id")).collect();
        let at = |fraction: f64| {
            let row = rows.iter().find(|row| within(row.number("fraction"), fraction, 1e-9)).expect("the table has it");
            (share(fraction), share(row.number("eff")))
        };
        let rated = watts(unit.number("P_ref_W"));
        let losses = Losses::through([at(0.1), at(1.0), at(0.5)], rated, watts(0.0)).expect("it is a converter");
        for row in &rows {
            let output = watts(row.number("P_W"));
            let lost = (losses.input(output) - output).value;
            assert!(within(lost, row.number("loss_W"), 1e-6), "{} at {} W: {lost}", row.text("id"), output.value);
            assert!(within(losses.efficiency(output).value, row.number("eff"), 1e-6));
            compared += 1;
        }
        // With nothing on its output it takes p0.
        assert!(within(losses.input(watts(0.0)).value, unit.number("p0_W"), 1e-5), "{}", unit.text("id"));
    }
    assert!(compared >= 20, "only {compared} points");
}

/// The closed solution for points at 10, 50 and 100 %, as the file gives it to nine digits.
#[test]
fn three_points_as_solved_in_closed_form() {
    for row in read("converter_three_point_fit.csv") {
        let points = [(0.1, "eta_10pct"), (0.5, "eta_50pct"), (1.0, "eta_100pct")];
        let losses =
            Losses::through(points.map(|(at, key)| (share(at), share(row.number(key)))), watts(500.0), watts(0.0))
                .expect("it is a converter");
        for p in [0.0, 0.03, 0.25, 0.8] {
            let printed = row.number("p_self") + row.number("v_loss") * p + row.number("r_loss") * p * p;
            let ours = losses.input(watts(500.0 * p)).value / 500.0 - p;
            assert!(within(ours, printed.max(0.0), 1e-6), "{} at {p}: {ours}, {printed} printed", row.text("id"));
        }
    }
}

#[test]
fn points_that_are_no_converter_are_refused() {
    let through = |points: [(f64, f64); 3], rated: f64| {
        Losses::through(points.map(|(at, efficiency)| (share(at), share(efficiency))), watts(rated), watts(0.0))
    };
    assert_eq!(through([(0.1, 0.9), (0.5, 0.93), (1.0, 1.2)], 500.0), Err(LossError::Efficiency));
    assert_eq!(through([(0.0, 0.9), (0.5, 0.93), (1.0, 0.9)], 500.0), Err(LossError::Share));
    assert_eq!(through([(0.5, 0.9), (0.5, 0.93), (1.0, 0.9)], 500.0), Err(LossError::Same));
    assert_eq!(through([(0.1, 0.9), (0.5, 0.93), (1.0, 0.9)], 0.0), Err(LossError::Rated));
    // 250 W out takes 833 W, 500 W out only 500 W.
    assert_eq!(through([(0.1, 0.9), (0.5, 0.3), (1.0, 1.0)], 500.0), Err(LossError::Falling));
    assert!(through([(f64::NAN, 0.9), (0.5, 0.93), (1.0, 0.9)], 500.0).is_err(), "NaN is no share");
}
