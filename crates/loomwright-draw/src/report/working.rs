//! The working of every run, folded.

use loomwright::study::cable::Step;
use maud::{Markup, html};

use super::Page;
use crate::text::plain;

impl Page<'_> {
    /// Every run with the steps of its calculation.
    pub(super) fn workings(&self) -> Vec<(usize, Vec<Step>)> {
        (0..self.plan.runs.len()).map(|run| (run, self.dossier.judgement.working(run))).collect()
    }

    pub(super) fn working(&self) -> Markup {
        let workings = self.workings();
        html! {
            p { "The calculation of each run: the formula, the numbers put in, the result, and where it comes from. \
                What is folded stays folded on paper: open it before you print." }
            @for (run, (at, steps)) in self.plan.runs.iter().zip(&workings) {
                details id=(format!("working-{at}")) {
                    summary {
                        (run.name) ": " (run.size) ", " (plain(run.current_a, 3)) " A"
                        @if let Some(ampacity) = run.ampacity_a { " of " (plain(ampacity, 3)) " A" }
                    }
                    dl class="steps" {
                        @for step in steps {
                            dt { (step.title) }
                            dd {
                                span class="formula" { (step.formula) } br;
                                (step.numbers) br;
                                span class="small quiet" { (step.source) }
                            }
                        }
                    }
                }
            }
        }
    }
}
