//! The second opinion of IEC 60287: the current of a single cable in air by the standard's own recursion (IEC 60287-1-1
//! and -2-1, constants Z = 0.21, E = 3.94, g = 0.60 as published), for cables whose figures were worked out beside the
//! reference data, outside the engine: computed there, not published. And the parts that a published example (CIGRE
//! TB 880) gives: the coefficient of three touching cables, the layer sum T1 and the duct wall T4''.

use loomwright::conductor::{Conductor, Kind, Material};
use loomwright::heat::{HeatPath, Installation, Lay, Model};
use loomwright::quantity::uom::si::length::{meter, millimeter};
use loomwright::quantity::{Length, celsius, in_celsius};
use loomwright_tests::{apart, conductor, within};

fn made(size: &str, strands_mm: f64, outside_mm: f64) -> Conductor {
    Conductor {
        diameter: Length::new::<millimeter>(strands_mm),
        outer_diameter: Length::new::<millimeter>(outside_mm),
        ..conductor(Kind::Iec5, Material::Copper, size)
    }
}

fn by_formula(made: &Conductor) -> f64 {
    let path = HeatPath::new(made, &Lay::alone(Installation::FreeAir), celsius(30.0)).unwrap();
    let mut candidates = path.candidates(celsius(70.0)).unwrap();
    candidates.find(|(model, _)| *model == Model::Iec60287).unwrap().1.value
}

/// mm², mm over strands, mm outside, A; class 5, PVC 5 K·m/W, 70 °C in 30 °C air. Printed to 0.1 A.
const FIGURES: [(&str, f64, f64, f64); 7] = [
    ("1.5 mm2", 1.6, 3.0, 23.6),
    ("2.5 mm2", 2.05, 3.6, 32.3),
    ("6 mm2", 3.2, 4.8, 55.5),
    ("16 mm2", 5.3, 7.3, 105.3),
    ("25 mm2", 6.6, 9.0, 140.1),
    ("50 mm2", 9.4, 12.2, 221.8),
    ("95 mm2", 13.0, 16.2, 336.9),
];

#[test]
fn single_cable_in_air_is_the_standards_recursion() {
    for (size, strands, outside, expected) in FIGURES {
        let cable = made(size, strands, outside);
        let ours = by_formula(&cable);
        assert!(apart(ours, expected) <= 0.1, "{size}: {ours} A against {expected} A");
        // And the recursion itself, written out here: x ← [Δ / (1 + K_A x)]^(1/4) from x = 2.
        let outer = outside * 1e-3;
        let t1 = 5.0 / std::f64::consts::TAU * (outside / strands).ln();
        let h = 0.21 / outer.powf(0.60) + 3.94;
        let ka = std::f64::consts::PI * outer * h * t1;
        let mut x = 2.0_f64;
        for _ in 0..100 {
            x = (40.0 / (1.0 + ka * x)).powf(0.25);
        }
        let t4 = 1.0 / (std::f64::consts::PI * outer * h * x);
        let current = (40.0 / (cable.resistance_at(celsius(70.0)).value * (t1 + t4))).sqrt();
        assert!(within(ours, current, 1e-6), "{size}: {ours} A against {current} A");
    }
}

/// CIGRE TB 880 (2022), case 0-5: De = 75.5 mm, three touching level, h = 3.13278 W/(m²·K^1.25).
#[test]
fn three_touching_cables_shed_no_more_than_the_published_coefficient() {
    let cable = made("400 mm2", 30.3, 75.5);
    let lay = Lay { together: 3, ..Lay::alone(Installation::Bundle) };
    let path = HeatPath::new(&cable, &lay, celsius(30.0)).unwrap();
    let ours = path.candidates(celsius(70.0)).unwrap().find(|(model, _)| *model == Model::Iec60287).unwrap().1.value;
    let outer = Length::new::<millimeter>(75.5).get::<meter>();
    let t1 = 5.0 / std::f64::consts::TAU * (75.5_f64 / 30.3).ln();
    let by = |h: f64| {
        let (mut low, mut high) = (0.0, 40.0);
        for _ in 0..100 {
            let rise: f64 = 0.5 * (low + high);
            let heat = std::f64::consts::PI * outer * h * rise.powf(1.25);
            if rise + t1 * heat < 40.0 { low = rise } else { high = rise }
        }
        (std::f64::consts::PI * outer * h * f64::powf(low, 1.25) / cable.resistance_at(celsius(70.0)).value).sqrt()
    };
    // The engine takes the least of level and trefoil (0.96/De^0.2 + 1.25, from memory), so never more than this.
    assert!(ours <= by(3.13278) * (1.0 + 1e-6), "{ours} A");
    assert!(within(ours, by(f64::min(3.13278, 0.96 / outer.powf(0.2) + 1.25)), 1e-5), "{ours} A");
}

/// CIGRE TB 880, cases 0-5 and 0-2: T1 = Σ ρ/2π · ln(1 + 2t/d), T4'' = ρ/2π · ln(Do/Di), the same law with the
/// engine's one layer of 5 and wall of 6 K·m/W.
#[test]
fn layers_and_walls_follow_the_published_law() {
    let published = 2.5 * (33.3_f64 / 30.3).ln() + 3.5 * (64.3_f64 / 33.3).ln() + 2.5 * (66.9_f64 / 64.3).ln();
    assert!(apart(published / std::f64::consts::TAU, 0.419871) < 1e-6);
    assert!(apart(3.5 / std::f64::consts::TAU * (140.0_f64 / 119.4).ln(), 0.0886606) < 1e-7);
    let cable = made("25 mm2", 6.6, 9.0);
    let path = HeatPath::new(&cable, &Lay::pair(Installation::ConduitPlastic), celsius(30.0)).unwrap();
    let balance = path.balance(path.ampacity(celsius(70.0)).unwrap()).unwrap();
    let [bore, outside] = balance.conduit.unwrap().map(in_celsius);
    let heat = (balance.joule + balance.neighbours).value;
    assert!(within((bore - outside) / heat, 6.0 / std::f64::consts::TAU * 1.14_f64.ln(), 1e-9));
    let t1 = (in_celsius(balance.conductor) - in_celsius(balance.surface.unwrap())) / balance.joule.value;
    assert!(within(t1, 5.0 / std::f64::consts::TAU * (9.0_f64 / 6.6).ln(), 1e-9));
}
