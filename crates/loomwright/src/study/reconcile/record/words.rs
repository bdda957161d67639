//! Slips in words.

use super::NumbersRecord;
use crate::quantity::significant;
use crate::study::reconcile::Slip;

/// A number with its unit, small voltages in millivolts.
fn shown(value: f64, unit: &str) -> String {
    if unit == "V" && value.abs() < 1.0 {
        format!("{} mV", significant(value * 1e3, 3))
    } else {
        format!("{} {unit}", significant(value, 4))
    }
}

/// Why a reading was left out, with what would fit.
pub(super) fn slip(slip: Slip, numbers: &NumbersRecord) -> String {
    let ([read, _, _, _, expected, within], unit) = numbers.all();
    let show = |value: f64| shown(value, unit);
    match slip {
        Slip::Sign => {
            let what = if unit == "A" { "clamp" } else { "probes" };
            format!("{what} the wrong way round: {} would fit; read it again", show(-read))
        }
        Slip::Decimal(power) => {
            let meant = read * 10.0_f64.powi(power);
            format!("decimal point or prefix: {} read, {} would fit; read it again", show(read), show(meant))
        }
        Slip::Point(line) => format!("looks like the reading of line {line}: {} would fit here", show(expected)),
        Slip::Contradiction => {
            format!(
                "contradicts the others: {} to {} would fit; read it again",
                show(expected - within),
                show(expected + within)
            )
        }
        Slip::Impossible => {
            format!("impossible: less resistance than the metal has; about {} would fit, read it again", show(expected))
        }
    }
}

/// A clamp that is off everywhere, with what to do.
pub(super) fn clamp_zero(off: f64, within: f64) -> String {
    let way = if off < 0.0 { "too little" } else { "too much" };
    format!(
        "the clamp shows {} ± {} A {way} everywhere: zero it and read again",
        significant(off.abs(), 2),
        significant(within, 2)
    )
}
