//! Pictures and the page, against the drawing crate and against hostile callers.

use std::ptr::{null, null_mut};

use loomwright::study::dossier::Dossier;
use loomwright::study::forecast::Options;
use loomwright::study::judge::judge;
use loomwright::text::read_plan;
use serde_json::Value;

use super::measured::json;
use super::{IEC_5, message, query, read};
use crate::*;

const CABIN: &str = include_str!("../../../loomwright/examples/cabin.toml");

fn value(told: &str) -> Value {
    serde_json::from_str(told).unwrap()
}

fn drawn(plan: *const lw_plan, picture: i32, of: &str, stay: &str) -> (i32, String) {
    // SAFETY: a plan that lives, texts of the lengths said, a local pointer.
    json(|report| unsafe {
        lw_plan_draw(plan, picture, of.as_ptr().cast(), of.len(), stay.as_ptr().cast(), stay.len(), null(), 0, report)
    })
}

#[test]
fn pictures_are_those_of_the_drawing_crate() {
    let (_, plan) = read(CABIN);
    let judgement = judge(&read_plan(CABIN).unwrap()).unwrap();
    let (status, told) = drawn(plan, 0, "", "");
    assert_eq!(
        (status, value(&told)["svg"].as_str().unwrap()),
        (0, loomwright_draw::diagram(&judgement).svg().as_str())
    );
    let (status, told) = drawn(plan, 5, "", "spring");
    assert!(status == 0 && value(&told)["title"].as_str().unwrap().starts_with("spring, "), "{}", message());
    // Every picture of the whole plan, and those of one thing without its name.
    for picture in 0..6 {
        assert_eq!(drawn(plan, picture, "", "").0, 0, "{picture}: {}", message());
    }
    let options = Options { samples: 5, series: true, ..Options::default() };
    let dossier = Dossier::new(judgement, None, &options).unwrap();
    // SAFETY: a plan that lives, no readings, a local pointer.
    let (status, told) = json(|report| unsafe { lw_plan_page(plan, null(), 0, 5, 1, 2, report) });
    assert_eq!((status, value(&told)["html"].as_str().unwrap()), (0, loomwright_draw::report(&dossier).as_str()));
    // SAFETY: freed once.
    unsafe { lw_plan_free(plan) };
}

#[test]
fn what_cannot_be_drawn_is_told() {
    let (_, plan) = read(CABIN);
    for (picture, of, stay, status, says) in [
        (8, "", "", 3, "picture 8"),
        (-1, "", "", 3, "picture -1"),
        (0, "lamp", "", 3, "does not ask for the name"),
        (3, "", "spring", 3, "the stay"),
        (3, "no such lamp", "", 3, "known: "),
        (4, "no such run", "", 3, "known: "),
        (5, "", "sprng", 3, "spring"),
        (6, "", "", 7, "readings"),
    ] {
        let found = drawn(plan, picture, of, stay);
        assert!(found == (status, String::new()) && message().contains(says), "{picture} {of} {stay}: {}", message());
    }
    let nonsense = b"\xff\xfe";
    // SAFETY: null where it is told to be refused; otherwise what lives, with its length.
    unsafe {
        let mut report = null_mut();
        assert_eq!(lw_plan_draw(null(), 0, null(), 0, null(), 0, null(), 0, &raw mut report), 1);
        assert_eq!(lw_plan_draw(plan, 0, null(), 0, null(), 0, null(), 0, null_mut()), 1);
        assert_eq!(lw_plan_draw(plan, 3, null(), 4, null(), 0, null(), 0, &raw mut report), 1);
        let not_text = lw_plan_draw(plan, 3, nonsense.as_ptr().cast(), 2, null(), 0, null(), 0, &raw mut report);
        assert!(not_text != 0 && message().contains("UTF-8"), "{}", message());
        for (samples, threads) in [(-1, 1), (100_001, 1), (0, 0), (0, 257)] {
            assert_eq!(lw_plan_page(plan, null(), 0, samples, 1, threads, &raw mut report), 2, "{samples} {threads}");
        }
        assert_eq!(lw_plan_page(null(), null(), 0, 0, 1, 1, &raw mut report), 1);
        assert_eq!(lw_size_map(null(), &raw mut report), 1);
        assert!(report.is_null(), "nothing is made where something is refused");
        lw_plan_free(plan);
    }
}

#[test]
fn a_map_of_sizes_brings_its_picture() {
    let query = query();
    // SAFETY: a local query of the size that it says, a local pointer.
    let (status, told) = json(|report| unsafe { lw_size_map(&raw const query, report) });
    let told = value(&told);
    assert!(status == 0 && told["svg"].as_str().unwrap().contains("50 mm²"), "{}", message());
    // At the length asked for the chosen size bears the current asked for, and the one before it does not.
    let at = told["lengths_m"].as_array().unwrap().len() / 2;
    let bears = |size: &str| {
        let sizes = told["sizes"].as_array().unwrap();
        sizes.iter().find(|one| one["size"] == size).unwrap()["largest_a"][at].as_f64().unwrap()
    };
    assert!(told["size"] == "50 mm²" && bears("50 mm²") >= 40.0 && bears("35 mm²") < 40.0, "{told}");
    for (current, length, kind) in [(f64::NAN, 5.5, IEC_5), (-1.0, 5.5, IEC_5), (40.0, 1e9, IEC_5), (40.0, 5.5, 77)] {
        let bad = lw_circuit_query { current_a: current, length_m: length, kind, has: LW_HAS_KIND, ..query };
        // SAFETY: as above.
        let (status, _) = json(|report| unsafe { lw_size_map(&raw const bad, report) });
        assert_eq!(status, if kind == IEC_5 { 2 } else { 3 }, "{current} {length} {kind}: {}", message());
    }
}
