//! What sources, converters and diodes can and cannot do, on a battery with two bars.

use crate::support::{buck, case, judged, two_bars};
use loomwright::study::judge::{Judgement, judge};
use loomwright::text::read_plan;

/// A battery with a positive and a negative bar, and what `more` says, judged.
fn bars(system_voltage: &str, more: &str) -> Judgement {
    judged(&two_bars(system_voltage, "150 A class-t", more))
}

/// Plus and minus exchanged: the load sees −12 V.
#[test]
fn a_reversed_load_does_not_hold() {
    let circuit = |from: &str, back: &str| {
        let load = "[loads.lamp]\ncurrent = \"5 A\"\n[circuits.lamp]\nto = \"lamp\"\nroute = [\"1 m in here\"]";
        // Refused when read, or read and found to fail: either tells.
        read_plan(&two_bars("12 V", "150 A class-t", &format!("{load}\nfrom = \"{from}\"\nreturn = \"{back}\"\n")))
            .is_ok_and(|plan| judge(&plan).is_ok_and(|judgement| judgement.holds()))
    };
    assert!(circuit("plus", "minus"));
    assert!(!circuit("minus", "plus"), "a load connected the wrong way round passes");
}

/// A 24 V to 12 V converter with one load behind it.
fn behind_converter(output_current: &str, load: &str, conductor: &str) -> Judgement {
    let more = format!(
        r#"{}[loads.lamp]
current = "{load}"
nominal_voltage = "12 V"
[circuits.lamp]
from = "buck.out+"
return = "buck.out-"
to = "lamp"
route = ["1 m in here"]
fuse = "none"
conductor = "{conductor}"
"#,
        buck(output_current)
    );
    bars("24 V", &more)
}

/// A converter set to 10 A cannot give 30 A.
#[test]
fn a_converter_gives_no_more_than_its_setting() {
    assert!(behind_converter("10 A", "8 A", "16 mm2").holds());
    assert!(!behind_converter("10 A", "30 A", "16 mm2").holds(), "30 A behind a converter of 10 A pass");
}

/// Without a fuse a converter's output needs a conductor of 1.25 times what the converter can give: 25 A for 20 A.
/// 1 mm² in 40 °C air bears 12 A.
#[test]
fn a_self_limiting_source_still_asks_for_its_conductor() {
    assert!(behind_converter("20 A", "3 A", "6 mm2").holds());
    assert!(!behind_converter("20 A", "3 A", "1 mm2").holds(), "1 mm² passes behind 20 A");
}

/// A diode passes nothing backwards. Both batteries stand at 12.5 V and the load hangs before the diode: the battery
/// behind it gives nothing, and the 0.8 V of the diode are no source.
#[test]
fn a_diode_passes_nothing_backwards() {
    let judgement = bars(
        "12 V",
        r#"[batteries.second]
chemistry = "agm"
capacity = "100 Ah"
[links.splitter]
kind = "diode"
[runs.to-splitter]
from = "plus"
to = "splitter.in"
route = ["1 m in here"]
conductor = "16 mm2"
fuse = "60 A blade-e"
[runs.from-splitter]
from = "second.+"
to = "splitter.out"
route = ["1 m in here"]
conductor = "16 mm2"
fuse = "60 A blade-e"
[runs.second-back]
from = "second.-"
to = "minus"
route = ["1 m in here"]
conductor = "16 mm2"
[loads.lamp]
current = "20 A"
[circuits.lamp]
from = "plus"
return = "minus"
to = "lamp"
route = ["1 m in here"]
"#,
    );
    let run = judgement.installation.runs.iter().position(|run| run.name == "to-splitter").expect("it is there");
    let current = case(&judgement, "parked-night").run_currents[run].value;
    assert!(current > -0.01, "{current} A from plus to the splitter: it flows backwards");
}
