//! The charge of a bank over a stay.

use super::{CABIN, says};
use crate::support::{judged, text_of};
use crate::svg::{NEAR, all, level_at, places, planes};
use loomwright::study::forecast::{Options, forecast};
use loomwright_draw::charge;
use roxmltree::Document;

#[test]
fn the_line_of_charge_ends_where_the_stay_does() {
    let mut banded = 0;
    for (file, samples, series) in
        [(CABIN, 12, true), (CABIN, 0, false), ("examples/plans/mountain-hut.toml", 4, false)]
    {
        let judgement = judged(&text_of(file));
        let options = Options { samples, series, ..Options::default() };
        let record = forecast(&judgement, &options).expect("it has stays").record(&options);
        for stay in &record.stays {
            for bank in &stay.banks {
                let drawn = charge(stay, bank).expect("it has days").svg();
                let document = Document::parse(&drawn).expect("it is XML");
                let planes = planes(&document);
                let upper = &planes[0];
                let what = format!("{file}: {} in {}", bank.name, stay.name);
                let lines = all(&document, "path", "s1").into_iter().map(places);
                let line = lines.filter(|line| upper.holds(line[0])).max_by_key(Vec::len).expect("a line");
                let (first, last) = (line[0], line[line.len() - 1]);
                says(upper.y(), first.1, 100.0 * bank.start_charge, &what);
                says(upper.y(), last.1, 100.0 * bank.end_charge, &what);
                assert!((first.0 - upper.left).abs() <= NEAR && (last.0 - upper.right).abs() <= NEAR, "{what}");
                // Days lie where their dates say: each ends where the next one begins.
                let days: Vec<(f64, &str)> = upper.x_says.iter().map(|(at, says)| (*at, says.as_str())).collect();
                for day in 1..bank.days.len() {
                    let date = &bank.days[day].date;
                    let months = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"];
                    let month = months[date[5..7].parse::<usize>().expect("a month") - 1];
                    let short = format!("{} {month}", date[8..10].trim_start_matches('0'));
                    let named: Vec<f64> = days.iter().filter(|(_, says)| *says == short).map(|(at, _)| *at).collect();
                    if let [at] = named.as_slice() {
                        let y = level_at(&line, *at).expect("a day within");
                        // The tick stands on the tenth of a pixel below, and the line may be steep there.
                        let slack = 1.5 * NEAR;
                        let belongs = upper.y().place(100.0 * bank.days[day - 1].end_charge);
                        assert!((y - belongs).abs() <= slack, "{what}: {short} {y} {belongs}");
                    }
                }
                let limits: Vec<_> = all(&document, "path", "limit").into_iter().map(places).collect();
                says(upper.y(), limits[0][0].1, 100.0 * bank.floor, &what);
                // The band: upper edge from left to right, lower edge back again.
                let bands: Vec<_> = all(&document, "path", "veil f1").into_iter().map(places).collect();
                assert_eq!(bands.len(), usize::from(samples > 0), "{what}");
                if let Some(band) = bands.first() {
                    let (high, low) = band.split_at(band.len() / 2);
                    assert_eq!(high.len(), bank.days.len() + 1, "{what}");
                    for (day, place) in bank.days.iter().zip(&high[1..]) {
                        let told = day.end_charge_band.expect("a band");
                        says(upper.y(), place.1, 100.0 * told[2], &what);
                    }
                    for (day, place) in bank.days.iter().rev().zip(low) {
                        let told = day.end_charge_band.expect("a band");
                        says(upper.y(), place.1, 100.0 * told[0], &what);
                        banded += 1;
                    }
                }
            }
        }
    }
    assert!(banded > 10, "{banded}");
}
