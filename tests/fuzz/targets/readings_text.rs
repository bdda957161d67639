//! Readings text over a plan that is shipped: bad lines are told at their places, good ones are explained, and every number is
//! finite.
#![no_main]

use std::sync::LazyLock;

use libfuzzer_sys::{fuzz_mutator, fuzz_target};
use loomwright::study::judge::Judgement;
use loomwright::study::reconcile::reconcile;
use loomwright::text::{TemplateForm, read_readings, readings_template};
use loomwright_fuzz::{all_finite, change_pieces, mistakes_stand_in, van};

static VAN: LazyLock<Judgement> = LazyLock::new(van);

static LINES: LazyLock<Vec<String>> = LazyLock::new(|| {
    // What is expected as what was measured.
    let csv = readings_template(&VAN, TemplateForm::Csv).replace(",value,expected", ",expected,value");
    let toml = readings_template(&VAN, TemplateForm::Toml).replace("expected = ", "value = ");
    let shipped = include_str!("../../../examples/readings/veterinary-van.csv");
    let all = [csv.as_str(), &toml, shipped].into_iter().flat_map(str::lines);
    let mut lines: Vec<String> =
        all.filter(|line| !line.starts_with('#') && !line.is_empty()).map(str::to_owned).collect();
    lines.sort();
    lines.dedup();
    lines
});

fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    change_pieces(data, size, max_size, seed, if seed.is_multiple_of(3) { ',' } else { '\n' }, &LINES)
});

fuzz_target!(|data: &[u8]| {
    let Ok(text) = std::str::from_utf8(data) else { return };
    let read = read_readings(text, &VAN.installation);
    mistakes_stand_in(text, &read.refused);
    match reconcile(&VAN, &read.readings) {
        Err(error) => assert!(error.to_string().len() > 10),
        Ok(found) => all_finite(&found.record(&VAN)),
    }
});
