//! No text is covered, nothing is missing, nothing is drawn twice; for shipped plans and large ones.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use loomwright::installation::{Installation, Leg, Load, Node, NodeId, Run};
use loomwright::study::judge::{Judgement, judge};
use loomwright::text::read_plan;

use super::graph::{Part, chassis_path, return_of, sides};
use super::labels::Book;
use super::place::Scene;
use super::symbols::Sign;

type Frame = [f64; 4];

fn judged(text: &str) -> Judgement {
    judge(&read_plan(text).expect("the plan is sound")).expect("it can be judged")
}

/// The plan that fails, which has findings of every kind and devices of nearly every kind.
pub(super) fn failing() -> &'static Judgement {
    static JUDGED: OnceLock<Judgement> = OnceLock::new();
    JUDGED.get_or_init(|| judged(include_str!("../../../../examples/plans/failing.toml")))
}

fn overlap(one: Frame, other: Frame) -> bool {
    let slack = 0.05;
    one[0] + slack < other[2] && other[0] + slack < one[2] && one[1] + slack < other[3] && other[1] + slack < one[3]
}

/// Frames of all texts and tags, of all lines, and of all symbols.
fn frames(scene: &Scene) -> [Vec<(Frame, String)>; 3] {
    let texts = scene.texts.iter().map(|text| (text.frame(), text.line.text.clone()));
    let tags = scene.tags.iter().map(|placed| {
        let [x, y] = placed.at;
        ([x, y, x + placed.tag.width(), y + 12.5], placed.tag.text.clone())
    });
    let wires = scene.wires.iter().map(|wire| (*wire, "wire".to_owned()));
    let thick = |bar: &Frame| [bar[0] - 2.0, bar[1] - 2.0, bar[2] + 2.0, bar[3] + 2.0];
    let bars = scene.bars.iter().map(|bar| (thick(bar), "bar".to_owned()));
    let symbols = scene.symbols.iter().map(|symbol| {
        let ([x, y], reach) = (symbol.at, symbol.sign.reach());
        let half =
            if matches!(symbol.sign, Sign::Fuse | Sign::Breaker | Sign::Arrow | Sign::Pole) { 5.0 } else { 13.0 };
        ([x - half, y - reach, x + half, y + reach], format!("{:?}", symbol.sign))
    });
    [texts.chain(tags).collect(), wires.chain(bars).collect(), symbols.collect()]
}

/// Every pair of one list with another that overlaps; sorted by height, so that large pictures take no time.
fn clashes(one: &[(Frame, String)], other: &[(Frame, String)]) -> Vec<String> {
    let mut sorted: Vec<&(Frame, String)> = other.iter().collect();
    sorted.sort_by(|one, other| one.0[1].total_cmp(&other.0[1]));
    let mut found = Vec::new();
    for (frame, text) in one {
        for (with, what) in sorted.iter().take_while(|(with, _)| with[1] < frame[3]) {
            if !std::ptr::eq(frame, with) && overlap(*frame, *with) {
                found.push(format!("{text:?} {frame:?} over {what:?} {with:?}"));
            }
        }
    }
    found
}

/// Nothing lies over a text, no symbol over another, no line crosses another, and all of it is on the page.
fn sound(scene: &Scene) -> Result<(), String> {
    let [texts, lines, symbols] = frames(scene);
    let mut found = clashes(&texts, &texts);
    found.extend(clashes(&texts, &lines));
    found.extend(clashes(&texts, &symbols));
    found.extend(clashes(&symbols, &symbols));
    let mut level: Vec<&Frame> = scene.bars.iter().filter(|bar| bar[1] == bar[3]).collect();
    level.sort_by(|one, other| one[1].total_cmp(&other[1]));
    let upright = scene.wires.iter().chain(scene.bars.iter().filter(|bar| bar[0] == bar[2]));
    for wire in upright.clone() {
        let from = level.partition_point(|bar| bar[1] <= wire[1] + 0.1);
        let crossed = level.iter().skip(from).take_while(|bar| bar[1] < wire[3] - 0.1);
        // The trunk of a bar touches its own stretches at their left end.
        found.extend(
            crossed
                .filter(|bar| bar[0] + 0.1 < wire[0] && wire[0] < bar[2] - 0.1)
                .map(|bar| format!("{wire:?} crosses {bar:?}")),
        );
    }
    let mut columns: BTreeMap<i64, Vec<&Frame>> = BTreeMap::new();
    for wire in &scene.wires {
        columns.entry(format!("{:.0}", wire[0] * 10.0).parse().expect("a number")).or_default().push(wire);
    }
    for wires in columns.values_mut() {
        wires.sort_by(|one, other| one[1].total_cmp(&other[1]));
        let pairs = wires.windows(2).filter(|pair| pair[1][1] + 0.05 < pair[0][3]);
        found.extend(pairs.map(|pair| format!("{:?} lies on {:?}", pair[0], pair[1])));
    }
    let outside = |frame: &Frame| {
        frame[0] < 0.0 || frame[1] < 0.0 || frame[2] > scene.width + 0.05 || frame[3] > scene.height + 0.05
    };
    for (frame, text) in texts.iter().chain(&lines).chain(&symbols) {
        if outside(frame) {
            found.push(format!("{text:?} {frame:?} is off the page"));
        }
    }
    if scene.width > 900.0 {
        found.push(format!("{} wide", scene.width));
    }
    found.truncate(5);
    if found.is_empty() { Ok(()) } else { Err(found.join("\n")) }
}

/// Everything in the plan is named once; what closes a loop twice.
fn whole(plan: &Installation, scenes: &[&Scene]) -> Result<(), String> {
    let mut counts: BTreeMap<Part, usize> = BTreeMap::new();
    let texts = || scenes.iter().flat_map(|scene| &scene.texts);
    for part in texts().filter_map(|text| text.names) {
        *counts.entry(part).or_default() += 1;
    }
    let own = |run: &usize| {
        let twin = plan.runs[*run].twin;
        plan.runs[*run].leg == Leg::Positive || twin.is_none_or(|twin| return_of(plan, twin).is_none())
    };
    let mut expected: Vec<Part> = (0..plan.runs.len()).filter(own).map(Part::Run).collect();
    expected.extend((0..plan.links.len()).filter(|link| chassis_path(plan, *link).is_none()).map(Part::Link));
    expected.extend((0..plan.converters.len()).map(Part::Converter));
    expected.extend((0..plan.batteries.len()).map(Part::Battery));
    expected.extend((0..plan.alternators.len()).map(Part::Alternator));
    expected.extend((0..plan.loads.len()).map(Part::Load));
    expected.extend((0..plan.arrays.len()).map(Part::Array));
    let bars = (0..plan.nodes.len()).map(NodeId).filter(|node| plan.is_bar(*node) || plan.chassis == Some(*node));
    expected.extend(bars.map(|node| Part::Node(node.0)));
    // Edges beyond those of a tree.
    let mut loops = 0;
    for graph in sides(plan) {
        let tree = super::Tree::of(&graph, plan, &mut 0);
        loops += graph.edges.len() + tree.roots.len() - tree.order.len();
    }
    let mut more = 0;
    for part in &expected {
        match (counts.get(part), part) {
            (Some(1), _) => {}
            (Some(2), Part::Run(_) | Part::Link(_) | Part::Converter(_) | Part::Battery(_)) => more += 1,
            (count, part) => return Err(format!("{part:?} is named {count:?} times")),
        }
    }
    // Every node that circuits return to lists them.
    let lists = texts().filter(|text| text.names.is_none() && text.line.text.starts_with("returns:")).count();
    let hung = sides(plan)[1].hangs.iter().flatten().filter(|part| matches!(part, Part::Returns(_))).count();
    if lists != hung {
        return Err(format!("{lists} lists of returns for {hung} bars"));
    }
    if more == loops { Ok(()) } else { Err(format!("{more} pairs of marks for {loops} loops")) }
}

/// Sheets that are as sound as one picture, each thing once over all of them, and marks that name the sheet of their partner;
/// how many there are.
fn sheets(judgement: &Judgement) -> Result<usize, String> {
    let pages = super::sheets::pages(&Book::of(judgement));
    let scenes: Vec<&Scene> = pages.iter().map(|(scene, _)| scene).collect();
    whole(&judgement.installation, &scenes)?;
    let mut marks: BTreeMap<usize, Vec<(usize, &str)>> = BTreeMap::new();
    for (index, (scene, description)) in pages.iter().enumerate() {
        let sheet = index + 1;
        sound(scene).map_err(|fault| format!("sheet {sheet}: {fault}"))?;
        if scene.width > 844.0 || scene.height > super::sheets::HIGH {
            return Err(format!("sheet {sheet} is {} x {}", scene.width, scene.height));
        }
        if description.is_empty() || description.len() > 2000 {
            return Err(format!("sheet {sheet} says {description:?}"));
        }
        for text in &scene.texts {
            if let Some((number, _)) = text.line.mark {
                marks.entry(number).or_default().push((sheet, &text.line.text));
            }
        }
    }
    for (number, ends) in marks {
        let [(one, says), (other, answers)] = ends[..] else { return Err(format!("mark {number}: {ends:?}")) };
        let ends = |text: &str, at: usize| {
            text.ends_with(&if one == other { format!("▸ {number}") } else { format!("▸ {number}, sheet {at}") })
        };
        if !ends(says, other) || !ends(answers, one) {
            return Err(format!("{says} on {one}, {answers} on {other}"));
        }
    }
    let pictures = super::diagram_sheets(judgement);
    for picture in &pictures {
        roxmltree::Document::parse(&picture.svg()).map_err(|error| error.to_string())?;
    }
    if pictures.len() == pages.len() { Ok(pages.len()) } else { Err("pages are missing".to_owned()) }
}

pub(super) fn check(judgement: &Judgement) -> Result<(Scene, usize), String> {
    let (scene, description) = super::scene(&Book::of(judgement));
    sound(&scene)?;
    whole(&judgement.installation, &[&scene])?;
    let sheets = sheets(judgement)?;
    let picture = super::diagram(judgement);
    if picture.svg() != super::diagram(judgement).svg() {
        return Err("two pictures of one plan differ".to_owned());
    }
    roxmltree::Document::parse(&picture.svg()).map_err(|error| error.to_string())?;
    if description.len() > 2000 { Err(description) } else { Ok((scene, sheets)) }
}

fn held(name: &str, judgement: &Judgement) -> (Scene, usize) {
    check(judgement).unwrap_or_else(|fault| panic!("{name}: {fault}"))
}

#[test]
fn shipped_plans_are_drawn_whole_and_clear() {
    for (name, text, sheets) in [
        ("van", include_str!("../../../../examples/plans/veterinary-van.toml"), 2),
        ("launch", include_str!("../../../../examples/plans/river-launch.toml"), 2),
        ("hut", include_str!("../../../../examples/plans/mountain-hut.toml"), 1),
        ("hut before", include_str!("../../../../examples/plans/mountain-hut-before.toml"), 1),
        ("cabin", include_str!("../../../loomwright/examples/cabin.toml"), 1),
        ("lamp", include_str!("../../../loomwright/examples/lamp.toml"), 1),
    ] {
        assert_eq!(held(name, &judged(text)).1, sheets, "sheets of the {name}");
    }
    let (scene, _) = held("failing", failing());
    let tags: Vec<&str> = scene.tags.iter().map(|placed| placed.tag.text.as_str()).collect();
    // Every danger of that plan names something that is drawn.
    for number in 1..=12 {
        assert!(tags.contains(&format!("D{number}").as_str()), "D{number} of {tags:?}");
    }
}

/// Text of a plan: a battery, boards in a row, `each` loads on every board.
fn generated(boards: usize, each: usize) -> String {
    use std::fmt::Write;
    let mut text = "format = 1\n[plan]\nname = \"generated\"\nplace = \"cabin\"\nsystem_voltage = \"12 V\"\n[zones.room]\nkind = \"hut\"\n\
         [batteries.house]\nchemistry = \"agm\"\ncapacity = \"900 Ah\"\n[busbars.back]\n\
         [runs.back]\nfrom = \"house.-\"\nto = \"back\"\nroute = [\"0.4 m in room\"]\nconductor = \"120 mm2\"\n"
        .to_owned();
    for board in 0..boards {
        let from = if board % 3 == 0 { "house.+".to_owned() } else { format!("board-{}", board - 1) };
        let _ = write!(
            text,
            "[busbars.board-{board}]\n[runs.feed-{board}]\nfrom = \"{from}\"\nto = \"board-{board}\"\nroute = [\"0.5 m in room\"]\n\
             conductor = \"120 mm2\"\nfuse = \"100 A class-t\"\n"
        );
        for load in 0..each {
            let name = format!("load-{board}-{load}");
            let _ = write!(
                text,
                "[loads.{name}]\ncurrent = \"1 A\"\n[circuits.{name}]\nfrom = \"board-{board}\"\nreturn = \"back\"\nto = \"{name}\"\n\
                 route = [\"2 m in room\"]\nconductor = \"2.5 mm2\"\nfuse = \"5 A blade-c\"\n"
            );
        }
    }
    text
}

/// The same plan with more boards, beyond what a file may hold.
fn grown(judgement: &Judgement, runs: usize, deep: bool) -> Judgement {
    let mut grown = judgement.clone();
    let plan = &mut grown.installation;
    let feed = plan.runs.iter().find(|run| run.circuit.is_none() && run.leg == Leg::Positive).cloned().expect("a feed");
    let mut at = feed.to;
    for index in plan.runs.len()..runs {
        let node = NodeId(plan.nodes.len());
        let name = format!("more-{index}");
        plan.nodes.push(Node { name: name.clone(), ..plan.nodes[at.0].clone() });
        plan.runs.push(Run { name, from: at, to: node, ..feed.clone() });
        if deep || index % 7 == 0 {
            at = node;
        } else {
            let nodes = Some([node, plan.loads[0].nodes.expect("it hangs on the plan")[1]]);
            plan.loads.push(Load { name: format!("load-{index}"), nodes, ..plan.loads[0].clone() });
        }
    }
    grown
}

#[test]
fn large_and_deep_plans_are_drawn_whole_and_clear() {
    let sixty = judged(&generated(9, 3));
    assert!((55..=65).contains(&sixty.installation.runs.len()), "{}", sixty.installation.runs.len());
    assert_eq!(held("60 runs", &sixty).1, 3);
    assert!(held("1000 runs", &grown(&sixty, 1000, false)).1 <= 50);
    // Boards that no sheet holds go on where they end: five sheets, or six where a tag stands in the last row of one.
    assert!((5..=6).contains(&held("large boards", &judged(&generated(2, 60))).1));
    // So deep that recursion along it would end the stack.
    held("a chain of 5000", &grown(&sixty, 5000, true));
}

#[test]
fn names_are_escaped() {
    let mut judgement = failing().clone();
    let evil = "a <b> & \"c\" \u{1}\u{0}]]>";
    judgement.installation.name = evil.to_owned();
    judgement.installation.runs[0].name = evil.to_owned();
    judgement.installation.loads[0].name = evil.repeat(20);
    judgement.findings[0].message = evil.to_owned();
    held("hostile names", &judgement);
    let svg = super::diagram(&judgement).svg();
    assert!(!svg.contains("<b>") && !svg.contains('\u{1}') && svg.contains("a &lt;b&gt; &amp;"), "{svg}");
}

#[test]
fn tags_lead_to_findings_in_a_page_only() {
    let picture = &super::diagram_sheets(failing())[0];
    let (page, file) = (picture.inline("one").into_string(), picture.svg());
    assert!(page.contains("<a href=\"#finding-W3\"><title>W3: "), "{page}");
    assert!(page.contains("role=\"group\"") && page.find("</g><a ").is_some(), "{page}");
    assert!(!file.contains("<a ") && file.contains("role=\"img\""), "{file}");
    // The file shows its own title.
    assert!(file.contains("sheet 1 of 2</text>") && !page.contains("sheet 1 of 2</text>"), "{file}");
}
