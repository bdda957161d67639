//! A picture read back as a person reads it: axes from what their ticks say and where they stand, values from places.

use roxmltree::{Document, Node};

/// How far, in pixels, a place may lie from where its value belongs: marks stand on tenths of a pixel, ticks on the tenth
/// below, which is a fifth between two of them. That is 0.05 % of an axis of 700 pixels, 0.3 % of a value on a decade of 230.
pub const NEAR: f64 = 0.3;

/// An axis between ticks.
#[derive(Debug)]
pub struct Axis {
    /// Where ticks stand and what they say, along the axis.
    pub ticks: Vec<(f64, f64)>,
    logarithmic: bool,
}

impl Axis {
    /// An axis on which all ticks lie, evenly or with decades alike.
    fn through(mut ticks: Vec<(f64, f64)>) -> Option<Self> {
        ticks.sort_by(|one, other| one.0.total_cmp(&other.0));
        if ticks.len() < 3 {
            return None;
        }
        [false, true].into_iter().map(|logarithmic| Self { ticks: ticks.clone(), logarithmic }).find(|axis| {
            let positive = !axis.logarithmic || axis.ticks.iter().all(|tick| tick.1 > 0.0);
            positive && axis.ticks.iter().all(|tick| (axis.place(tick.1) - tick.0).abs() < NEAR)
        })
    }

    fn bend(&self, value: f64) -> f64 {
        if self.logarithmic { value.ln() } else { value }
    }

    fn ends(&self) -> [(f64, f64); 2] {
        [self.ticks[0], self.ticks[self.ticks.len() - 1]]
    }

    /// Where a value belongs.
    pub fn place(&self, value: f64) -> f64 {
        let [one, other] = self.ends();
        let share = (self.bend(value) - self.bend(one.1)) / (self.bend(other.1) - self.bend(one.1));
        one.0 + share * (other.0 - one.0)
    }

    /// What a place says.
    pub fn value(&self, place: f64) -> f64 {
        let [one, other] = self.ends();
        let share = (place - one.0) / (other.0 - one.0);
        let bent = self.bend(one.1) + share * (self.bend(other.1) - self.bend(one.1));
        if self.logarithmic { bent.exp() } else { bent }
    }
}

/// A plane with its axes, as far as their ticks are numbers.
#[derive(Debug)]
pub struct Plane {
    pub x: Option<Axis>,
    pub y: Option<Axis>,
    /// What the level axis' ticks say, and where they stand.
    pub x_says: Vec<(f64, String)>,
    pub left: f64,
    pub right: f64,
    pub top: f64,
    pub bottom: f64,
}

impl Plane {
    /// Whether a place lies within it, its border included.
    pub fn holds(&self, (x, y): (f64, f64)) -> bool {
        (self.left - NEAR..=self.right + NEAR).contains(&x) && (self.top - NEAR..=self.bottom + NEAR).contains(&y)
    }

    pub fn x(&self) -> &Axis {
        self.x.as_ref().unwrap_or_else(|| panic!("the level axis has no numbers: {:?}", self.x_says))
    }

    pub fn y(&self) -> &Axis {
        self.y.as_ref().expect("the upright axis has numbers")
    }
}

/// What a tick says as a number: with its unit taken in, where it has one.
fn said(text: &str) -> Option<f64> {
    let text = text.replace('−', "-");
    let (number, unit) = match text.split_once(' ') {
        Some((number, "ms")) => (number, 1e-3),
        Some((number, "s")) => (number, 1.0),
        Some((number, "h")) => (number, 3600.0),
        Some(_) => return None,
        None => (text.as_str(), 1.0),
    };
    Some(number.parse::<f64>().ok()? * unit)
}

/// How far down an element has been moved.
fn moved(node: Node<'_, '_>) -> f64 {
    node.ancestors()
        .filter_map(|one| one.attribute("transform"))
        .map(|text| {
            let numbers = text.strip_prefix("translate(0 ").and_then(|rest| rest.strip_suffix(')'));
            numbers.and_then(|number| number.parse::<f64>().ok()).unwrap_or_else(|| panic!("{text}"))
        })
        .sum()
}

fn has(node: Node<'_, '_>, class: &str) -> bool {
    class.is_empty()
        || class
            .split(' ')
            .all(|wanted| node.attribute("class").unwrap_or_default().split(' ').any(|one| one == wanted))
}

pub fn number(node: Node<'_, '_>, name: &str) -> f64 {
    let text = node.attribute(name).unwrap_or_else(|| panic!("no {name} in {node:?}"));
    text.parse().unwrap_or_else(|_| panic!("{name}={text}"))
}

/// All that an element says, what is only told on pointing at it left out.
pub fn text(node: Node<'_, '_>) -> String {
    node.children().filter(|child| child.is_text()).filter_map(|child| child.text()).collect()
}

/// The places that a path goes through; of relative steps too.
pub fn places(node: Node<'_, '_>) -> Vec<(f64, f64)> {
    let mut places: Vec<(f64, f64)> = Vec::new();
    let path = node.attribute("d").expect("a path");
    let mut letter = ' ';
    let mut pieces: Vec<(char, Vec<f64>)> = Vec::new();
    let mut numbers = String::new();
    let read = |text: &str| -> Vec<f64> {
        text.split_whitespace().map(|one| one.parse().unwrap_or_else(|_| panic!("{one:?} in {path}"))).collect()
    };
    for next in path.chars().chain(['Z']) {
        if next.is_ascii_alphabetic() {
            if letter != ' ' {
                pieces.push((letter, read(&numbers)));
            }
            numbers.clear();
            letter = next;
        } else {
            numbers.push(next);
        }
    }
    for (letter, numbers) in pieces {
        if letter == 'Z' {
            continue;
        }
        let (x, y) = places.last().copied().unwrap_or((0.0, 0.0));
        match (letter, numbers.as_slice()) {
            ('M' | 'L', pairs) => places.extend(pairs.chunks(2).map(|pair| (pair[0], pair[1]))),
            ('H', [to]) => places.push((*to, y)),
            ('V', [to]) => places.push((x, *to)),
            ('h', [by]) => places.push((x + by, y)),
            ('v', [by]) => places.push((x, y + by)),
            ('m' | 'l', pairs) => {
                for pair in pairs.chunks(2) {
                    let (x, y) = places.last().copied().unwrap_or((0.0, 0.0));
                    places.push((x + pair[0], y + pair[1]));
                }
            }
            other => panic!("{other:?} in {path}"),
        }
    }
    let down = moved(node);
    places.into_iter().map(|(x, y)| (x, y + down)).collect()
}

/// A line at a level place, straight between the places that it goes through.
pub fn level_at(line: &[(f64, f64)], x: f64) -> Option<f64> {
    line.windows(2).find(|pair| pair[0].0 <= x && x <= pair[1].0 && pair[0].0 < pair[1].0).map(|pair| {
        let share = (x - pair[0].0) / (pair[1].0 - pair[0].0);
        pair[0].1 + share * (pair[1].1 - pair[0].1)
    })
}

/// The elements of a tag and classes.
pub fn all<'a, 'i>(document: &'a Document<'i>, tag: &str, class: &str) -> Vec<Node<'a, 'i>> {
    let found = document.descendants().filter(|node| node.has_tag_name(("http://www.w3.org/2000/svg", tag)));
    found.filter(|node| has(*node, class)).collect()
}

/// The planes of a picture, from the top.
pub fn planes(document: &Document<'_>) -> Vec<Plane> {
    let grounds = document.descendants().filter(|node| {
        let mut children = node.children();
        node.tag_name().name() == "g" && children.any(|child| has(child, "grid"))
    });
    grounds.map(plane).collect()
}

fn plane(ground: Node<'_, '_>) -> Plane {
    let within = |class: &'static str| ground.children().filter(move |child| has(*child, class));
    let lines: Vec<Vec<(f64, f64)>> = within("grid").chain(within("rule")).map(places).collect();
    let length = |line: &[(f64, f64)]| (line[0].0 - line[1].0).abs() + (line[0].1 - line[1].1).abs();
    let (marks, long): (Vec<_>, Vec<_>) = lines.into_iter().partition(|line| length(line) < 10.0);
    let span = |pick: fn(&(f64, f64)) -> f64| {
        let all = long.iter().flatten().map(pick);
        all.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), one| (least.min(one), most.max(one)))
    };
    let ((left, right), (top, bottom)) = (span(|place| place.0), span(|place| place.1));
    let ticks =
        |anchor: &'static str| within("quiet").filter(move |node| node.attribute("text-anchor") == Some(anchor));
    let down = moved(ground.first_child().expect("it is not empty"));
    // Each text at the mark that it stands nearest to.
    let nearest = |at: f64, marks: &mut dyn Iterator<Item = f64>| {
        let mark = marks.min_by(|one, other| (one - at).abs().total_cmp(&(other - at).abs())).expect("a mark");
        assert!((mark - at).abs() < 7.0, "no mark near {at}");
        mark
    };
    let x_says: Vec<(f64, String)> = ticks("middle")
        .map(|node| {
            let mut level = marks.iter().filter(|mark| mark[0].0 == mark[1].0).map(|mark| mark[0].0);
            (nearest(number(node, "x"), &mut level), text(node))
        })
        .collect();
    let y_says: Vec<(f64, String)> = ticks("end")
        .map(|node| {
            let mut upright = marks.iter().filter(|mark| mark[0].1 == mark[1].1).map(|mark| mark[0].1);
            // Letters stand on the line that y gives; their middle is some four pixels above.
            (nearest(number(node, "y") + down - 4.0, &mut upright), text(node))
        })
        .collect();
    let axis = |says: &[(f64, String)]| {
        let ticks: Option<Vec<(f64, f64)>> = says.iter().map(|(at, says)| Some((*at, said(says)?))).collect();
        ticks.and_then(Axis::through)
    };
    Plane { x: axis(&x_says), y: axis(&y_says), x_says, left, right, top, bottom }
}

/// Rows of a picture: their names, and how high they stand.
pub fn rows(document: &Document<'_>) -> Vec<(String, f64)> {
    let named = document.descendants().filter(|node| {
        node.tag_name().name() == "text"
            && node.attribute("class").is_none()
            && node.attribute("text-anchor") == Some("end")
    });
    named
        .map(|node| {
            let name = node.children().find(|child| child.tag_name().name() == "title").and_then(|title| title.text());
            // As above: the middle of the letters.
            (name.unwrap_or_default().to_owned(), number(node, "y") - 4.0)
        })
        .collect()
}
