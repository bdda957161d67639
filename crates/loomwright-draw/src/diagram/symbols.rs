//! Symbols in the manner of IEC 60617, each about its own middle.

use loomwright::installation::{ConverterKind, Installation, LinkKind};
use maud::{Markup, html};

use super::graph::Part;

/// A symbol.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sign {
    /// None: the line alone.
    Wire,
    /// A fuse.
    Fuse,
    /// A circuit-breaker.
    Breaker,
    /// A battery; its first terminal is the negative.
    Battery,
    /// An alternator with its rectifier.
    Alternator,
    /// A solar array.
    Array,
    /// A charger on the shore supply.
    Shore,
    /// From direct current to direct current.
    DcDc,
    /// The same, to a lower voltage.
    Buck,
    /// The same, from an array.
    Solar,
    /// From direct current to alternating.
    Inverter,
    /// A load.
    Load,
    /// An isolator, drawn closed.
    Isolator,
    /// A relay's contact and coil.
    Relay,
    /// A shunt.
    Shunt,
    /// A diode.
    Diode,
    /// A joint.
    Joint,
    /// A terminal.
    Pole,
    /// The chassis.
    Chassis,
    /// A short bar.
    Bar,
    /// The head of an arrow, its first end the tail.
    Arrow,
}

impl Sign {
    /// The symbol of a part.
    pub(super) fn of(part: Part, plan: &Installation) -> Self {
        match part {
            Part::Run(index) => match plan.device(index) {
                Some(device) if device.fuse.family.breaker().is_some() => Self::Breaker,
                Some(_) => Self::Fuse,
                None => Self::Wire,
            },
            Part::Link(index) => plan.links.get(index).map_or(Self::Joint, |link| match link.kind {
                LinkKind::Isolator => Self::Isolator,
                LinkKind::Shunt => Self::Shunt,
                LinkKind::Relay => Self::Relay,
                LinkKind::Diode => Self::Diode,
                LinkKind::Joint => Self::Joint,
            }),
            Part::Converter(index) => plan.converters.get(index).map_or(Self::DcDc, |one| match one.kind {
                ConverterKind::DcDcCharger => Self::DcDc,
                ConverterKind::Inverter => Self::Inverter,
                ConverterKind::SolarController => Self::Solar,
                ConverterKind::Buck => Self::Buck,
                ConverterKind::ShoreCharger => Self::Shore,
            }),
            Part::Battery(_) => Self::Battery,
            Part::Alternator(_) => Self::Alternator,
            Part::Array(_) | Part::Panels(_) => Self::Array,
            Part::Load(_) => Self::Load,
            Part::Chassis => Self::Chassis,
            Part::Pole(_) | Part::AlternatorPole(_) | Part::OutputPole(_) | Part::Node(_) => Self::Pole,
            Part::Returns(_) | Part::Mains(_) => Self::Wire,
        }
    }

    /// From its middle to where a line meets it.
    pub(super) fn reach(self) -> f64 {
        match self {
            Self::Wire | Self::Bar => 0.0,
            Self::Fuse | Self::Breaker => 10.0,
            Self::Battery | Self::Shunt => 12.0,
            Self::Alternator => 15.0,
            Self::Array => 10.0,
            Self::Shore | Self::DcDc | Self::Buck | Self::Solar | Self::Inverter => 13.0,
            Self::Load => 8.0,
            Self::Isolator | Self::Relay => 13.0,
            Self::Diode => 6.0,
            Self::Joint => 3.0,
            Self::Pole => 3.5,
            Self::Chassis => 9.0,
            Self::Arrow => 5.0,
        }
    }

    /// Its lines; `upright` where its first terminal is at the top.
    pub(super) fn draw(self, upright: bool) -> Markup {
        let form = |class: &str, path: &str| html! { path class=(class) d=(path) {} };
        match self {
            Self::Wire | Self::Bar => html! {},
            Self::Fuse => form("body", "M-4-10H4V10H-4ZM0-10V10"),
            Self::Breaker => form("wire", "M0-10V-6.5M-3-9.5 3-3.5M-3-3.5 3-9.5M0 10V7L6-6"),
            Self::Battery => {
                form("wire", "M0-12V-6M-12-6H12M-5.5-2H5.5M-12 2H12M-5.5 6H5.5M0 6V12M5.5-10.5H10.5M8-13V-8")
            }
            Self::Alternator => html! {
                circle class="body" cy="-4" r="11" {}
                (form("wire", "M3.6-9.2A4.6 4.6 0 1 0 4-5.2H.8"))
                (form("wire", "M-5 2.4q2.5-3.6 5 0t5 0"))
                (form("solid", "M-4 7H4L0 13Z"))
                (form("wire", "M-4 13.5H4M0 13V15"))
            },
            Self::Array => html! {
                (form("body", "M-13-10H13V10H-13Z"))
                (form("wire", "M-13-10-4 0-13 10M9.5-7 4-1.5M10.5 0 5 5.5"))
                (form("solid", "M2.2.3 3.2-3.9 6.4-.7ZM3.2 7.3 4.2 3.1 7.4 6.3Z"))
            },
            Self::Shore => square(upright, WAVE, DIRECT),
            Self::DcDc => square(upright, DIRECT, DIRECT),
            Self::Buck => square(upright, DIRECT, LOWER),
            Self::Solar => square(upright, SUN, DIRECT),
            Self::Inverter => square(upright, DIRECT, WAVE),
            Self::Load => form("body", "M-11-8H11V8H-11Z"),
            Self::Isolator => html! {
                (form("wire", "M0-13V-7M-5-7H5M0 8.6 4.5-7M0 11.4V13"))
                circle class="body" cy="10" r="1.6" {}
            },
            Self::Relay => html! {
                (form("wire", "M0-13V-7H4.5M0 13V8L4.5-7.5"))
                (form("body", "M-13-4H-6V5H-13Z"))
                (form("wire thin dash", "M-6 .5H2"))
            },
            Self::Shunt => html! {
                (form("body", "M-5-12H5V12H-5Z"))
                (form("wire thin", "M-5-7H-10M-5 7H-10"))
                circle class="body thin" cx="-11" cy="-7" r="1.5" {}
                circle class="body thin" cx="-11" cy="7" r="1.5" {}
            },
            Self::Diode => html! {
                (form("body", "M-6-6H6L0 5.5Z"))
                (form("wire", "M-6 6H6M0-6V6"))
            },
            Self::Joint => html! { circle class="solid" r="3" {} },
            Self::Pole => html! { circle class="body" r="3.5" {} },
            Self::Chassis => form("wire", "M0-9V0M-11 0H11M-9 0-13 8M0 0-4 8M9 0 5 8"),
            Self::Arrow => form("solid", "M-4.5-4H4.5L0 5Z"),
        }
    }

    /// Whether it is drawn upside down where its first terminal is below; converters turn by themselves.
    pub(super) fn turns(self, upright: bool) -> bool {
        match self {
            // Its positive is drawn at the top; a rectifier is drawn below its alternator.
            Self::Battery | Self::Alternator => upright,
            Self::Breaker | Self::Isolator | Self::Diode | Self::Arrow => !upright,
            _ => false,
        }
    }
}

/// Direct current.
const DIRECT: &str = "M-4-1.5H4M-4 1.5H-1.5M1.5 1.5H4";
/// The same at a lower voltage.
const LOWER: &str = "M-4.5-1.5H.5M-4.5 1.5H.5M4-3.5V3M2.2.8 4 3 5.8.8";
/// Alternating current.
const WAVE: &str = "M-4.5 0q2.25-4.5 4.5 0t4.5 0";
/// Light.
const SUN: &str = "M-1.6 0A1.6 1.6 0 1 0 1.6 0A1.6 1.6 0 1 0-1.6 0M0-4.5V-3M0 3V4.5M-4.5 0H-3M3 0H4.5M-3.2-3.2-2.2-2.2M2.2 2.2 3.2 3.2M-3.2 3.2-2.2 2.2M2.2-2.2 3.2-3.2";

/// A converter: what it takes at its first terminal, what it gives at its second.
fn square(upright: bool, takes: &str, gives: &str) -> Markup {
    let (slash, top, bottom) = if upright { ("M-13 13 13-13", takes, gives) } else { ("M-13-13 13 13", gives, takes) };
    let (above, below) = if upright { (-6, 6) } else { (6, -6) };
    let at = |x: i32, y: i32| format!("translate({x} {y})");
    html! {
        path class="body" d="M-13-13H13V13H-13Z" {}
        path class="wire" d=(slash) {}
        path class="wire" transform=(at(above, -7)) d=(top) {}
        path class="wire" transform=(at(below, 7)) d=(bottom) {}
    }
}
