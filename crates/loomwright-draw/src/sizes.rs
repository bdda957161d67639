//! The map of sizes: which standard size is chosen for a length and a current.

use loomwright::study::cable::SizeMapRecord;
use maud::{Markup, html};

use crate::chart::{Axis, Chart, Scale, line};
use crate::picture::Picture;
use crate::style::{SMALL, TEXT};
use crate::text::{plain, px, width};

const SIZE: (i32, i32) = (760, 520);

/// Where each standard size takes over, over length and current, with the circuit that was asked for.
///
/// ```
/// use loomwright::quantity::{ElectricCurrent, ElectricPotential, FromText, Length};
/// use loomwright::study::cable::{CableQuery, Load, size_map};
/// let load = Load::Current(ElectricCurrent::from_text("10 A")?);
/// let query = CableQuery::new(load, Length::from_text("3 m")?, ElectricPotential::from_text("12 V")?);
/// assert!(loomwright_draw::sizes(&size_map(&query)?).svg().contains("<svg"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn sizes(map: &SizeMapRecord) -> Picture {
    let [shortest, longest] = [map.lengths_m.first(), map.lengths_m.last()].map(|one| one.copied().unwrap_or(1.0));
    let (least, most) = ((map.current_a / 8.0).max(0.5), (map.current_a * 8.0).min(2000.0));
    let says = |value: f64| plain(value, 3);
    let x = Axis { title: "length, one way, m", scale: Scale::Decades(shortest, longest), ticks: 24, says: &says };
    let y = Axis { title: "current, A", scale: Scale::Decades(least, most), ticks: 24, says: &says };
    let chart = Chart::new(SIZE, 0.0, 62, &x, &y);
    let asked = chart.at(map.length_m, map.current_a);
    let [left, top, right, bottom] = chart.plane;
    let chosen = map.size.clone().unwrap_or_else(|| "no single size".to_owned());
    let told = format!("{} A over {} m: {chosen}", says(map.current_a), says(map.length_m));
    let wide = width(&told, TEXT);
    let beside = if asked.0 + 12.0 + wide < right { (asked.0 + 10.0, None) } else { (asked.0 - 10.0, Some("end")) };
    let told_left = if beside.1.is_some() { beside.0 - wide } else { beside.0 };
    let told_at = [told_left - 12.0, asked.1 - 20.0, told_left + wide, asked.1 + 6.0];
    let mut taken: Vec<[f64; 4]> = Vec::new();
    let lines: Vec<Markup> = map
        .sizes
        .iter()
        .map(|one| {
            // Only what is within the plane, or it would run along its edge.
            let values = map.lengths_m.iter().copied().zip(one.largest_a.iter().copied());
            let shown: Vec<(f64, f64)> = values.filter(|(_, current)| *current > least && *current < most).collect();
            // The name on its line, where it lies over no other name and not beside what was asked.
            let half = width(&one.size, SMALL) / 2.0 + 3.0;
            let free = |(x, y): &(f64, f64)| {
                let inside = x - half > left && x + half < right && y - 8.0 > top && y + 8.0 < bottom;
                let box_here = [x - half, y - 7.0, x + half, y + 7.0];
                let apart = |other: &[f64; 4]| {
                    box_here[2] < other[0] || box_here[0] > other[2] || box_here[3] < other[1] || box_here[1] > other[3]
                };
                inside && taken.iter().all(apart) && apart(&told_at)
            };
            let place = shown.iter().map(|(length, current)| chart.at(*length, *current)).find(free);
            taken.extend(place.map(|(x, y)| [x - half, y - 7.0, x + half, y + 7.0]));
            let chosen = map.size.as_ref() == Some(&one.size);
            html! {
                @if chosen { g class="whole" { (line(&chart, shown.iter().copied(), 1)) } }
                @else { path class="wire thin" d=(chart.path(shown.iter().copied())) {} }
                @if let Some((x, y)) = place {
                    text class=(if chosen { "small strong halo" } else { "small halo" }) text-anchor="middle"
                        x=(px(x)) y=(px(y + 3.5)) { (one.size) }
                }
            }
        })
        .collect();
    let body = html! {
        (chart.ground)
        @for line in &lines { (line) }
        path class="limit thin" d=(format!("M{} {}V{}M{} {}H{}", px(asked.0), px(bottom), px(asked.1), px(left), px(asked.1), px(asked.0))) {}
        circle class="f2" cx=(px(asked.0)) cy=(px(asked.1)) r="4.5" {}
        text class="strong halo" x=(px(beside.0)) y=(px(asked.1 - 8.0)) text-anchor=[beside.1] { (told) }
        text class="small quiet" x=(px(left)) y=(px(bottom + 52.0)) {
            "Left of and below a line that size, or a smaller one, is chosen: everything else as asked."
        }
    };
    let named: Vec<&str> = map.sizes.iter().map(|one| one.size.as_str()).collect();
    let description = format!(
        "Lines of the largest current for which each size is chosen, against the one-way length, both on logarithmic \
         axes, at {} V. Sizes: {}. Asked: {told}.",
        says(map.voltage_v),
        named.join(", ")
    );
    Picture::new(
        "Size against length and current".to_owned(),
        description,
        (f64::from(SIZE.0), f64::from(SIZE.1) + 20.0),
        body,
    )
}
