//! A stay through time: state of charge with its band, and what came in and went out.

use loomwright::study::forecast::{BankRecord, StayRecord};
use maud::{Markup, html};

use crate::chart::{Axis, Chart, Key, Sample, Scale, area, line, steps};
use crate::picture::Picture;
use crate::text::{plain, px};

const WIDTH: i32 = 760;
/// Up to so many days every step is drawn, beyond the days.
const MOST_DAYS: usize = 16;

/// Days since the beginning, each with its value.
type Series = Vec<(f64, f64)>;

fn count(number: usize) -> f64 {
    f64::from(u32::try_from(number).unwrap_or(u32::MAX))
}

/// What is drawn of a bank, in days since the beginning.
struct Through {
    days: f64,
    charge: Series,
    /// Names and mean powers.
    powers: [(&'static str, Series); 5],
    by_step: bool,
}

fn through(bank: &BankRecord, step_min: f64) -> Through {
    let days = count(bank.days.len()).max(1.0);
    let step = step_min / 1440.0;
    let by_step = !bank.steps.is_empty() && bank.days.len() <= MOST_DAYS;
    let percent = |share: f64| 100.0 * share;
    if by_step {
        let at = |index: usize| count(index) * step;
        let of = |pick: fn(&loomwright::study::forecast::StepRecord) -> f64| -> Series {
            bank.steps.iter().enumerate().map(|(index, one)| (at(index), pick(one))).collect()
        };
        let mut charge = vec![(0.0, percent(bank.start_charge))];
        charge.extend(bank.steps.iter().enumerate().map(|(index, one)| (at(index + 1), percent(one.charge))));
        let powers = [
            ("from the sun", of(|one| one.sun_w)),
            ("from the engine", of(|one| one.engine_w)),
            ("from shore power", of(|one| one.shore_w)),
            ("to loads", of(|one| one.used_w)),
            ("not served", of(|one| one.unserved_w)),
        ];
        return Through { days, charge, powers, by_step };
    }
    let of = |pick: fn(&loomwright::study::forecast::EnergyRecord) -> f64| -> Series {
        let mut series: Series =
            bank.days.iter().enumerate().map(|(index, day)| (count(index), pick(&day.energies) / 24.0)).collect();
        series.extend(series.last().map(|last| (days, last.1)));
        series
    };
    let mut charge = vec![(0.0, percent(bank.start_charge))];
    charge.extend(bank.days.iter().enumerate().map(|(index, day)| (count(index + 1), percent(day.end_charge))));
    let powers = [
        ("from the sun", of(|of| of.sun_wh)),
        ("from the engine", of(|of| of.engine_wh + of.charger_wh)),
        ("from shore power", of(|of| of.shore_wh)),
        ("to loads", of(|of| of.used_wh)),
        ("not served", of(|of| of.unserved_wh)),
    ];
    Through { days, charge, powers, by_step }
}

/// A date without its year, as people say it.
fn short(date: &str) -> String {
    const MONTHS: [&str; 12] = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
    let month = date
        .get(5..7)
        .and_then(|month| month.parse::<usize>().ok())
        .and_then(|month| MONTHS.get(month.wrapping_sub(1)));
    match (month, date.get(8..10)) {
        (Some(month), Some(day)) => format!("{} {month}", day.trim_start_matches('0')),
        _ => date.to_owned(),
    }
}

/// A bank over its stay: charge above, powers below. `None` for one that nothing is known of.
pub fn charge(stay: &StayRecord, bank: &BankRecord) -> Option<Picture> {
    if bank.days.is_empty() {
        return None;
    }
    let Through { days, charge, powers, by_step } = through(bank, stay.step_min);
    let dates: Vec<&str> = bank.days.iter().map(|day| day.date.as_str()).collect();
    let date = |day: f64| {
        // Only whole days have a name.
        let whole = day.round();
        let named = dates.iter().enumerate().find(|(index, _)| (count(*index) - whole).abs() < 0.25);
        named.filter(|_| (day - whole).abs() < 1e-6).map_or_else(String::new, |(_, date)| short(date))
    };
    let x = |title| Axis { title, scale: Scale::Even(0.0, days), ticks: if days > 40.0 { 8 } else { 10 }, says: &date };
    let percent = |value: f64| plain(value, 3);
    let y = Axis { title: "state of charge, %", scale: Scale::Even(0.0, 100.0), ticks: 6, says: &percent };
    let upper = Chart::new((WIDTH, 230), 0.0, 62, &x(""), &y);
    let banded: Vec<(f64, [f64; 3])> = bank
        .days
        .iter()
        .enumerate()
        .filter_map(|(index, day)| Some((count(index + 1), day.end_charge_band?)))
        .collect();
    let edge = |of: fn(&[f64; 3]) -> f64| -> Series {
        let first = (!banded.is_empty()).then_some((0.0, 100.0 * bank.start_charge));
        first.into_iter().chain(banded.iter().map(|(day, band)| (*day, 100.0 * of(band)))).collect()
    };
    let floor = 100.0 * bank.floor;
    let mut key = Key::default();
    key.add(Sample::Line, 1, "state of charge");
    if !banded.is_empty() {
        let samples = stay.samples.unwrap_or_default();
        key.add(Sample::Area, 1, format!("at the end of each day, 10 to 90 % of {samples} samples"));
    }
    key.add(Sample::Limit, 0, format!("floor, {floor:.0} %"));
    let [left, _, right, _] = upper.plane;
    let (upper_key, below) = key.draw(left, right, 218.0);

    let shown: Vec<(usize, &(&str, Series))> =
        powers.iter().enumerate().filter(|(_, (_, series))| series.iter().any(|(_, watts)| *watts > 0.05)).collect();
    let most = shown.iter().flat_map(|(_, (_, series))| series.iter().map(|(_, watts)| *watts)).fold(10.0, f64::max);
    let title = if by_step { "power, W" } else { "power, mean of each day, W" };
    let y = Axis { title, scale: Scale::Even(0.0, most * 1.05), ticks: 6, says: &percent };
    let lower = Chart::new((WIDTH, 210), below + 6.0, 62, &x("date"), &y);
    let mut key = Key::default();
    for (index, (name, _)) in &shown {
        key.add(Sample::Line, index + 1, *name);
    }
    let (lower_key, end) = key.draw(left, right, below + 212.0);
    let drawn = |(index, (_, series)): &(usize, &(&str, Series))| -> Markup { steps(&lower, series, index + 1) };
    let body = html! {
        (upper.ground)
        @if !banded.is_empty() { (area(&upper, &edge(|band| band[2]), &edge(|band| band[0]), 1)) }
        path class="limit" d=(upper.path([(0.0, floor), (days, floor)])) {}
        (line(&upper, charge.iter().copied(), 1))
        (upper_key)
        (lower.ground)
        @for one in &shown { (drawn(one)) }
        (lower_key)
        text class="small quiet" x=(px(right)) y="14" text-anchor="end" { (bank.chemistry) ", " (plain(bank.capacity_ah, 3)) " Ah" }
    };
    let description = format!(
        "{} at {}, {} to {}: from {:.0} to {:.0} %, lowest {:.0} % on {}, floor {floor:.0} %. {}. Sources: {}.",
        bank.name,
        stay.place,
        stay.from,
        stay.to,
        100.0 * bank.start_charge,
        100.0 * bank.end_charge,
        100.0 * bank.lowest_charge,
        bank.lowest_at.get(..10).unwrap_or(&bank.lowest_at),
        if bank.lasts { "It lasts" } else { "It does not last" },
        shown.iter().map(|(_, (name, _))| *name).collect::<Vec<_>>().join(", "),
    );
    Some(Picture::new(format!("{}, {}", stay.name, bank.name), description, (f64::from(WIDTH), end + 4.0), body))
}
