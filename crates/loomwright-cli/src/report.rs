//! `loomwright report`: everything about a plan on one page.

use std::io::Write;

use loomwright::study::dossier::Dossier;
use loomwright::study::forecast::Options;

use crate::args::{Format, ReportArguments};
use crate::{Answer, Exit, Refusal, draw, plans, readings};

/// The page as printed or written; a plan that does not hold, a stay that is not lasted and what must be remade are findings.
pub(crate) fn answer(arguments: &ReportArguments, errors: &mut dyn Write) -> Answer {
    readings::one_input(&arguments.plan, &arguments.readings)?;
    let weather = arguments.weather.as_deref().map(|path| plans::weather(path, Format::Text)).transpose()?;
    let judgement = plans::judged(&arguments.plan, Format::Text)?;
    let told = match arguments.readings.as_slice() {
        [] => None,
        paths => Some(readings::told(&judgement, paths, Format::Text, errors)?),
    };
    let options = Options {
        weather: weather.as_ref(),
        samples: arguments.samples,
        threads: std::thread::available_parallelism().map_or(1, usize::from),
        series: true,
        ..Options::default()
    };
    let dossier = Dossier::new(judgement, told.map(|told| (told.found, told.record)), &options)
        .map_err(|error| Refusal::Message(error.to_string()))?;
    let exit = if dossier.holds() { Exit::Holds } else { Exit::Findings };
    draw::written(arguments.output.as_deref(), loomwright_draw::report(&dossier), exit)
}
