//! Circuits, runs and their protective devices.

use super::Form::{
    Choice, Count, Current, Device, Flag, Fuse, Gates, Joule, Length, Node, Ratio, Resistance, Route, Size, SizeOrAuto,
    Text, Torque, Voltage,
};
use super::{EXISTING, INSTALL, INSULATION, KIND, Key, MATERIAL, Section, may, must};

const CONDUCTOR: Key = may("conductor", SizeOrAuto, "\"auto\"", "size, or auto to have it chosen; auto when not said");
const ROUTE: Key = must(
    "route",
    Route,
    "[\"2 m in engine-bay\", \"1.5 m in cabin, surface\"]",
    "routed length zone by zone, one way; after a comma how it lies there, or after with its loom",
);
const FUSE_DISTANCE: Key = may(
    "fuse_distance",
    Length,
    "\"150 mm\"",
    "how far along the conductor from its start the fuse sits; at its start when not said",
);

const THREADS: &[&str] = crate::fitting::Thread::NAMES;
const PIN_FROM: Key = may("pin_from", Size, "\"16 mm2\"", "reducing pin of this size at its start; none when not said");
const PIN_TO: Key = may("pin_to", Size, "\"16 mm2\"", "reducing pin of this size at its end; none when not said");
const BEND_RADIUS: Key =
    may("bend_radius", Length, "\"40 mm\"", "tightest bend on its way, inside; not judged when not said");
const SUPPORT_SPACING: Key = may(
    "support_spacing",
    Length,
    "\"300 mm\"",
    "farthest from one support to the next; as practice asks when not said",
);
const GLAND: Key = may(
    "gland",
    Choice(crate::fitting::Gland::NAMES),
    "\"M20\"",
    "thread of the gland that each of its conductors passes; none when not said",
);

pub(super) const CIRCUITS: Section = Section {
    name: "circuits",
    named: true,
    about: "Two-wire runs from a busbar to a device and back: the usual short form.",
    keys: &[
        must("from", Node, "\"board\"", "positive node it starts from; its fuse sits there"),
        must("return", Node, "\"negative bar\"", "negative node it comes back to, or chassis"),
        must("to", Device, "\"refrigerator\"", "load or converter it feeds; converter NAME.out for an output"),
        ROUTE,
        may(
            "fuse",
            Fuse,
            "\"auto\"",
            "auto, none, rating and family such as 15 A blade-c, or the name of one of [fuses]; auto when not said",
        ),
        FUSE_DISTANCE,
        may(
            "return_resistance",
            Resistance,
            "\"3 mohm\"",
            "resistance of the chassis path, with return = \"chassis\"; 3 mohm when not said",
        ),
        CONDUCTOR,
        KIND,
        MATERIAL,
        INSULATION,
        INSTALL,
        PIN_FROM,
        PIN_TO,
        BEND_RADIUS,
        SUPPORT_SPACING,
        GLAND,
        EXISTING,
    ],
};

pub(super) const RUNS: Section = Section {
    name: "runs",
    named: true,
    about: "Single conductors from node to node.",
    keys: &[
        must("from", Node, "\"service.+\"", "where it starts; its fuse sits there"),
        must("to", Node, "\"isolator.in\"", "where it ends"),
        ROUTE,
        may(
            "fuse",
            Fuse,
            "\"none\"",
            "auto, none, rating and family, or the name of one of [fuses]; none when not said",
        ),
        FUSE_DISTANCE,
        may("cranking", Flag, "true", "feeds a starter motor, exempt from protection; false when not said"),
        CONDUCTOR,
        KIND,
        MATERIAL,
        INSULATION,
        INSTALL,
        PIN_FROM,
        PIN_TO,
        BEND_RADIUS,
        SUPPORT_SPACING,
        GLAND,
        EXISTING,
    ],
};

pub(super) const TERMINALS: Section = Section {
    name: "terminals",
    named: true,
    about: "Kinds of terminals by their makers' manuals, for devices whose terminal = NAME.",
    keys: &[
        must("form", Choice(crate::fitting::Form::NAMES), "\"screw\"", "how it holds the conductor"),
        may("thread", Choice(THREADS), "\"M8\"", "thread of a stud"),
        may("largest", Size, "\"16 mm2\"", "largest conductor that enters it; needed for screw and spring"),
        may("largest_stiff", Size, "\"25 mm2\"", "largest solid or stranded one; as largest when not said"),
        may("smallest", Size, "\"1.5 mm2\"", "smallest conductor that it grips; any when not said"),
        may("strip", Length, "\"15 mm\"", "length to strip; by ferrule when not said"),
        may("torque", Torque, "\"1.2 N m\"", "tightening torque; by thread when not said"),
        may("takes", Count, "2", "conductors or lugs that one takes together; by form when not said"),
        may("source", Text, "\"maker's manual, page 7\"", "where its values are from"),
    ],
};

pub(super) const FUSES: Section = Section {
    name: "fuses",
    named: true,
    about: "Fuse-links and breakers by their makers' sheets, which come before what is known of their family.",
    keys: &[
        must("like", Text, "\"strip-sf51\"", "the family that it belongs to, or is otherwise like"),
        must("rating", Current, "\"225 A\"", "rated current"),
        must("source", Text, "\"maker's data sheet, page 3\"", "the sheet that the values are taken from"),
        may("rated_voltage", Voltage, "\"58 V\"", "rated direct voltage; its family's when not said"),
        may(
            "breaks",
            Current,
            "\"5 kA\"",
            "largest current that it breaks at its rated voltage; its family's when not said",
        ),
        may(
            "continuous",
            Ratio,
            "\"80 %\"",
            "share of its rating that it carries without pause; its family's when not said",
        ),
        may("slowest", Gates, "[\"30 min at 135 %\", \"15 s at 200 %\"]", "latest opening; its family's when not said"),
        may(
            "fastest",
            Gates,
            "[\"4 h at 110 %\", \"1 s at 200 %\"]",
            "earliest opening, beside slowest; unknown when not said",
        ),
        may("melting", Joule, "\"40 kA2s\"", "I²t that melts it; its family's when not said"),
        may("drop", Voltage, "\"90 mV\"", "drop at its rating; 100 mV when that is more or nothing is said"),
        may("polarised", Flag, "true", "current may pass it one way only; as its family when not said"),
        may(
            "reset",
            Choice(crate::protection::Reset::NAMES),
            "\"manual\"",
            "how a breaker closes again; as its family when not said",
        ),
    ],
};
