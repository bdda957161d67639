//! `loomwright report`: everything about a plan on one page.

use std::io::Write;

use loomwright::study::commission::commission;
use loomwright::study::forecast::{ForecastError, Options, forecast};
use loomwright::study::reconcile::reconcile;
use loomwright::study::remedy::propose;
use loomwright_draw::{Report, Stays};

use crate::args::{Format, ReportArguments};
use crate::{Answer, Exit, Refusal, draw, plans, readings};

/// The page as printed or written; a plan that does not hold, a stay that is not lasted and what must be remade are findings.
pub(crate) fn answer(arguments: &ReportArguments, errors: &mut dyn Write) -> Answer {
    readings::one_input(&arguments.plan, &arguments.readings)?;
    let weather = arguments.weather.as_deref().map(|path| plans::weather(path, Format::Text)).transpose()?;
    let mut judgement = plans::judged(&arguments.plan, Format::Text)?;
    let (found, record) = match arguments.readings.as_slice() {
        [] => {
            let found = reconcile(&judgement, &[]).map_err(|error| Refusal::Message(error.to_string()))?;
            let record = found.record(&judgement);
            (found, record)
        }
        paths => {
            let told = readings::told(&judgement, paths, Format::Text, errors)?;
            (told.found, told.record)
        }
    };
    let options = Options {
        weather: weather.as_ref(),
        samples: arguments.samples,
        threads: std::thread::available_parallelism().map_or(1, usize::from),
        series: true,
        ..Options::default()
    };
    let stays = match forecast(&judgement, &options) {
        Ok(found) => Ok(Some(found.record(&options))),
        Err(ForecastError::NoStay) => Ok(None),
        // What was asked for wrongly is no doubt about the plan.
        Err(error @ (ForecastError::Samples(_) | ForecastError::Weather { .. })) => {
            return Err(Refusal::Message(error.to_string()));
        }
        Err(error) => Err(error.to_string()),
    };
    propose(&mut judgement);
    let mut commission = commission(&judgement, &found);
    // With the lines that could not be read, and with the files.
    commission.readings = record;
    let stays = match &stays {
        Ok(None) => Stays::None,
        Ok(Some(found)) => Stays::Forecast(found),
        Err(why) => Stays::Unknown(why),
    };
    let lasted = match stays {
        Stays::Forecast(found) => found.stays.iter().all(|stay| stay.lasts),
        Stays::None => true,
        Stays::Unknown(_) => false,
    };
    let good = judgement.holds() && lasted && commission.readings.verdict != "remake";
    let page = Report { judgement: &judgement, commission: &commission, stays }.html();
    draw::written(arguments.output.as_deref(), page, if good { Exit::Holds } else { Exit::Findings })
}
