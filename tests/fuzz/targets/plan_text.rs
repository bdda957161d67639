//! Plan text: what is refused is told at its place; what is accepted is judged with remedies, and every number is finite.
#![no_main]

use std::sync::LazyLock;

use libfuzzer_sys::{fuzz_mutator, fuzz_target};
use loomwright::study::judge::judge;
use loomwright::study::remedy::propose;
use loomwright::text::read_plan;
use loomwright_fuzz::{all_finite, change_pieces, mistakes_stand_in, plan_lines};

static LINES: LazyLock<Vec<String>> = LazyLock::new(plan_lines);

fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
    change_pieces(data, size, max_size, seed, '\n', &LINES)
});

fuzz_target!(|data: &[u8]| {
    let Ok(text) = std::str::from_utf8(data) else { return };
    match read_plan(text) {
        Err(mistakes) => {
            assert!(!mistakes.is_empty());
            mistakes_stand_in(text, &mistakes);
        }
        Ok(plan) => match judge(&plan) {
            Err(error) => assert!(error.to_string().len() > 10),
            Ok(mut judgement) => {
                propose(&mut judgement);
                all_finite(&judgement.record());
            }
        },
    }
});
