//! Raw arguments: what may be written on the command line.

use std::path::PathBuf;

use clap::builder::{PossibleValuesParser, TypedValueParser};
use clap::{Args, Parser, Subcommand, ValueEnum};
use loomwright::conductor::{Kind, Material};
use loomwright::heat::{Duty, Installation};
use loomwright::practice::Practice;
use loomwright::protection::Fuse;
use loomwright::quantity::{
    CrossSection, ElectricCurrent, ElectricPotential, ElectricalResistance, FromText, Length, Power, Ratio,
    ThermodynamicTemperature, Time,
};
use loomwright::study::cable::DropLimit;
use loomwright::study::forecast::Size;
use loomwright::study::schedule::SheetName;
use loomwright::text::TemplateForm;
use loomwright_draw::Kind as Picture;

#[derive(Parser)]
#[command(name = "loomwright", version, max_term_width = 80, arg_required_else_help = true)]
#[command(about = "Sizes and verifies the 12, 24 and 48 V wiring of vehicles, boats and cabins")]
#[command(after_help = "Exit status: 0 holds, 1 findings of warning or danger, 2 the input could not be used.")]
pub(crate) struct Arguments {
    #[command(subcommand)]
    pub(crate) verb: Verb,
}

#[derive(Subcommand)]
pub(crate) enum Verb {
    /// The right cable and fuse for one circuit
    Cable(Box<CableArguments>),
    /// A whole plan, judged over its operating cases
    Check(CheckArguments),
    /// What to buy, cut, crimp, tighten, label and set, sheet by sheet
    Schedule(ScheduleArguments),
    /// An old plan against a new one: what changes, and what that takes
    Compare(CompareArguments),
    /// How surely a plan holds: thousands of variants within the spread of its parts
    Tolerance(ToleranceArguments),
    /// Does it last the stay, and does it fill on the drive?
    Forecast(ForecastArguments),
    /// Measured against planned: which joint explains it, and what to do
    Reconcile(ReconcileArguments),
    /// What to look at, tighten and measure, and how soon again
    Inspect(InspectArguments),
    /// Opening times of fuses, and how long a conductor bears each current
    Curve(Box<CurveArguments>),
    /// A picture of a plan, as SVG
    Draw(DrawArguments),
    /// Everything about a plan on one page, as HTML to read or print
    Report(ReportArguments),
    /// An annotated plan to start from
    New {
        /// The file to write; it must not exist. Standard output when not given
        file: Option<PathBuf>,
    },
    /// The JSON Schema of a plan, or of a result
    Schema {
        /// Of what
        #[arg(value_name = "WHAT", default_value = "plan")]
        what: SchemaOf,
    },
    /// A completion script for a shell, on standard output
    Completions {
        /// The shell
        shell: clap_complete::Shell,
    },
}

#[derive(Args)]
pub(crate) struct CheckArguments {
    /// The plan, or - for standard input
    pub(crate) plan: PathBuf,

    /// Form of the result
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    pub(crate) format: Format,
}

#[derive(Args)]
#[command(
    after_help = "Examples:\n  loomwright schedule plan.toml --sheet cables --format csv\n  loomwright schedule plan.toml --workbook plan.xlsx"
)]
pub(crate) struct ScheduleArguments {
    /// The plan, or - for standard input
    pub(crate) plan: PathBuf,

    /// One sheet only: cables, fuses, terminals, materials, labels, settings or loads
    #[arg(long, value_name = "SHEET", value_parser = name::<SheetName>)]
    pub(crate) sheet: Option<SheetName>,

    /// Form of the result
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    pub(crate) format: SheetFormat,

    /// A spreadsheet workbook (.xlsx) of all sheets to write; the file must not exist
    #[arg(long, value_name = "FILE", conflicts_with_all = ["sheet", "format"])]
    pub(crate) workbook: Option<PathBuf>,
}

#[derive(Args)]
pub(crate) struct CompareArguments {
    /// The old plan
    pub(crate) old: PathBuf,

    /// The new plan
    pub(crate) new: PathBuf,

    /// Form of the result
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    pub(crate) format: Format,
}

#[derive(Args)]
pub(crate) struct ToleranceArguments {
    /// The plan, or - for standard input
    pub(crate) plan: PathBuf,

    /// How many variants are drawn, 1 to 1000000
    #[arg(long, value_name = "NUMBER", default_value_t = 10_000, allow_hyphen_values = true)]
    pub(crate) samples: usize,

    /// Which variants: the same seed gives the same ones
    #[arg(long, value_name = "NUMBER", default_value_t = 1, allow_hyphen_values = true)]
    pub(crate) seed: u64,

    /// On how many threads, 1 to 256; the result is the same [default: one for each processor]
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true)]
    pub(crate) threads: Option<usize>,

    /// Form of the result
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    pub(crate) format: Format,
}

#[derive(Args)]
#[command(
    after_help = "Examples:\n  loomwright forecast plan.toml --samples 1000\n  loomwright forecast plan.toml --stay winter --size battery"
)]
pub(crate) struct ForecastArguments {
    /// The plan, or - for standard input
    pub(crate) plan: PathBuf,

    /// One stay only [default: all of them]
    #[arg(long, value_name = "NAME")]
    pub(crate) stay: Option<String>,

    /// Length of a step: 1, 2, 5, 10, 15, 30 or 60 min [default: 15min]
    #[arg(long, value_name = "TIME", value_parser = quantity::<Time>, allow_hyphen_values = true)]
    pub(crate) step: Option<Time>,

    /// Measured hours instead of the place's climate: a CSV with time,
    /// global_w_per_m2, air_c and, where known, diffuse_w_per_m2,
    /// beam_w_per_m2, wind_m_per_s
    #[arg(long, value_name = "FILE")]
    pub(crate) weather: Option<PathBuf>,

    /// How many samples of weather and loads are drawn, 0 to 100000
    #[arg(long, value_name = "NUMBER", default_value_t = 0, allow_hyphen_values = true)]
    pub(crate) samples: usize,

    /// Which samples: the same seed gives the same ones
    #[arg(long, value_name = "NUMBER", default_value_t = 1, allow_hyphen_values = true)]
    pub(crate) seed: u64,

    /// On how many threads, 1 to 256; the result is the same [default: one for each processor]
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true)]
    pub(crate) threads: Option<usize>,

    /// The level to which the hours of driving are told, besides full [default: 80%]
    #[arg(long, value_name = "SHARE", value_parser = quantity::<Ratio>, allow_hyphen_values = true)]
    pub(crate) level: Option<Ratio>,

    /// The least that lasts the stay: of battery, charger or panels; or the best split of panels
    #[arg(long, value_name = "WHAT", value_parser = name::<Size>)]
    pub(crate) size: Option<Size>,

    /// Keep every step in the JSON, not only every day
    #[arg(long)]
    pub(crate) series: bool,

    /// Form of the result; csv is every step
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    pub(crate) format: SheetFormat,
}

#[derive(Args)]
#[command(
    after_help = "Examples:\n  loomwright reconcile plan.toml --template > readings.csv\n  loomwright reconcile plan.toml readings.csv\n\nExit status: 0 nothing is to be remade and every line was used, 1 otherwise,\n2 the plan or all of the readings could not be used."
)]
pub(crate) struct ReconcileArguments {
    /// The plan, or - for standard input
    pub(crate) plan: PathBuf,

    /// Readings, comma-separated or TOML, or - for standard input; several are joined
    #[arg(value_name = "READINGS", required_unless_present = "template")]
    pub(crate) readings: Vec<PathBuf>,

    /// What to measure, in walking order, as a readings file to fill in, on standard output
    #[arg(long, value_name = "FORM", num_args = 0..=1, default_missing_value = "csv", value_parser = name::<TemplateForm>, conflicts_with_all = ["readings", "format", "record", "all"])]
    pub(crate) template: Option<TemplateForm>,

    /// The commissioning record: plan, readings, verdicts, settings, torques, in one document to sign
    #[arg(long, conflicts_with = "all")]
    pub(crate) record: bool,

    /// List what is as planned too
    #[arg(long)]
    pub(crate) all: bool,

    /// Form of the result
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    pub(crate) format: Format,
}

#[derive(Args)]
#[command(
    after_help = "Examples:\n  loomwright inspect plan.toml --readings 2026.csv --readings 2027.csv\n  loomwright inspect plan.toml --before-energising"
)]
pub(crate) struct InspectArguments {
    /// The plan, or - for standard input
    pub(crate) plan: PathBuf,

    /// Readings of any days, comma-separated or TOML, or - for standard input; again for more
    #[arg(long, value_name = "FILE", conflicts_with = "before_energising")]
    pub(crate) readings: Vec<PathBuf>,

    /// In what order a new system, or a new part, is made live; only that
    #[arg(long)]
    pub(crate) before_energising: bool,

    /// Form of the result
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    pub(crate) format: SheetFormat,
}

fn picture() -> impl TypedValueParser<Value = Picture> {
    let known = Picture::ALL.map(Picture::name);
    let of = |name: String| Picture::ALL.into_iter().find(|kind| kind.name() == name).unwrap_or(Picture::Diagram);
    PossibleValuesParser::new(known).map(of)
}

#[derive(Args)]
#[command(
    after_help = "Exit status: 1 where the plan does not hold, also when its picture was drawn.\n\nExamples:\n  loomwright draw plan.toml diagram > diagram.svg\n  loomwright draw plan.toml voltage --of refrigerator --output voltage.svg"
)]
pub(crate) struct DrawArguments {
    /// The plan, or - for standard input
    pub(crate) plan: PathBuf,

    /// What to draw
    #[arg(value_name = "PICTURE", value_parser = picture())]
    pub(crate) picture: Picture,

    /// Of which consumer (voltage), run (fuses) or battery (charge) [default: the one with least margin]
    #[arg(long, value_name = "NAME")]
    pub(crate) of: Option<String>,

    /// Of which stay (charge) [default: the first]
    #[arg(long, value_name = "NAME")]
    pub(crate) stay: Option<String>,

    /// How many samples of weather and loads the band of charge is made of, 0 to 100000
    #[arg(long, value_name = "NUMBER", default_value_t = 100, allow_hyphen_values = true)]
    pub(crate) samples: usize,

    /// Readings, for joints and readings: comma-separated or TOML; again for more
    #[arg(long, value_name = "FILE")]
    pub(crate) readings: Vec<PathBuf>,

    /// The file to write; it must not exist. Standard output when not given
    #[arg(long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
}

#[derive(Args)]
#[command(
    after_help = "Examples:\n  loomwright report plan.toml --output plan.html\n  loomwright report plan.toml --readings 2026.csv > plan.html\n\nThe page needs no network. For a PDF, print it from a browser."
)]
pub(crate) struct ReportArguments {
    /// The plan, or - for standard input
    pub(crate) plan: PathBuf,

    /// Readings, comma-separated or TOML; again for more
    #[arg(long, value_name = "FILE")]
    pub(crate) readings: Vec<PathBuf>,

    /// Measured hours instead of the climate of the places, as for forecast
    #[arg(long, value_name = "FILE")]
    pub(crate) weather: Option<PathBuf>,

    /// How many samples of weather and loads are drawn for each stay, 0 to 100000
    #[arg(long, value_name = "NUMBER", default_value_t = 100, allow_hyphen_values = true)]
    pub(crate) samples: usize,

    /// The file to write; it must not exist. Standard output when not given
    #[arg(long, value_name = "FILE")]
    pub(crate) output: Option<PathBuf>,
}

#[derive(Clone, Copy, PartialEq, ValueEnum)]
pub(crate) enum SheetFormat {
    /// For people
    Text,
    /// Comma-separated values; of a schedule with --sheet
    Csv,
    /// For programs; keys carry their unit
    Json,
}

#[derive(Clone, Copy, PartialEq, ValueEnum)]
pub(crate) enum SchemaOf {
    /// A plan file
    Plan,
    /// What `check --format json` prints
    Check,
}

#[derive(Clone, Copy, PartialEq, ValueEnum)]
pub(crate) enum Format {
    /// For people
    Text,
    /// For programs; keys carry their unit
    Json,
}

/// The form of what has a picture too.
#[derive(Clone, Copy, PartialEq, ValueEnum)]
pub(crate) enum PictureFormat {
    /// For people
    Text,
    /// For programs; keys carry their unit
    Json,
    /// A picture
    Svg,
}

#[derive(Clone, Copy, PartialEq, ValueEnum)]
pub(crate) enum Return {
    /// A second conductor
    Conductor,
    /// The vehicle's chassis
    Chassis,
}

fn quantity<T: FromText>(text: &str) -> Result<T, String> {
    T::from_text(text).map_err(|error| error.to_string())
}

fn name<T: std::str::FromStr>(text: &str) -> Result<T, String>
where
    T::Err: std::fmt::Display,
{
    text.parse().map_err(|error: T::Err| error.to_string())
}

#[derive(Args)]
#[command(
    after_help = "Example:\n  loomwright curve --fuse '200A class-t' --fuse '60A blade-e' --conductor 16mm2 --load 45A"
)]
pub(crate) struct CurveArguments {
    /// A fuse, such as '60A blade-e'; again for the next one towards the load
    #[arg(long = "fuse", value_name = "FUSE", required = true, value_parser = name::<Fuse>)]
    pub(crate) fuses: Vec<Fuse>,

    /// The conductor behind them, such as 16mm2 or 6AWG
    #[arg(long, value_name = "SIZE", value_parser = quantity::<CrossSection>, allow_hyphen_values = true)]
    pub(crate) conductor: Option<CrossSection>,

    /// Conductor kind: iec-2, iec-5, iec-6, iso-6722, awg or sae
    #[arg(long, value_name = "KIND", value_parser = name::<Kind>, requires = "conductor")]
    pub(crate) kind: Option<Kind>,

    /// Conductor material: copper, tinned-copper, aluminium or copper-clad-aluminium
    #[arg(long, value_name = "MATERIAL", value_parser = name::<Material>, requires = "conductor")]
    pub(crate) material: Option<Material>,

    /// Insulation class, such as 105C
    #[arg(long, value_name = "TEMPERATURE", value_parser = quantity::<ThermodynamicTemperature>, requires = "conductor", allow_hyphen_values = true)]
    pub(crate) insulation: Option<ThermodynamicTemperature>,

    /// How hot the terminals may get, such as 75C
    #[arg(long, value_name = "TEMPERATURE", value_parser = quantity::<ThermodynamicTemperature>, requires = "conductor", allow_hyphen_values = true)]
    pub(crate) terminal_temperature: Option<ThermodynamicTemperature>,

    /// How the conductor lies, as for cable
    #[arg(long, value_name = "INSTALLATION", value_parser = name::<Installation>, requires = "conductor")]
    pub(crate) install: Option<Installation>,

    /// What the conductor carries before the overcurrent, such as 45A
    #[arg(long, value_name = "CURRENT", value_parser = quantity::<ElectricCurrent>, requires = "conductor", allow_hyphen_values = true)]
    pub(crate) load: Option<ElectricCurrent>,

    /// Air around fuses and conductor, such as 40C
    #[arg(long, value_name = "TEMPERATURE", value_parser = quantity::<ThermodynamicTemperature>, allow_hyphen_values = true)]
    pub(crate) ambient: Option<ThermodynamicTemperature>,

    /// The highest fault current, such as 3kA
    #[arg(long, value_name = "CURRENT", value_parser = quantity::<ElectricCurrent>, allow_hyphen_values = true)]
    pub(crate) fault: Option<ElectricCurrent>,

    /// Form of the result; svg is a picture
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    pub(crate) format: PictureFormat,
}

#[derive(Args)]
#[group(skip)]
#[command(group = clap::ArgGroup::new("load").required(true))]
#[command(after_help = "Every quantity carries its unit: 40A, 5.5m, 18ft, 12V, 3%, 40C, 104F, 16mm2, 6AWG, 2.1mohm.\n\
The length is one way; both legs are computed. What is not stated takes a\ncautious default, and the result lists it.\n\n\
Example:\n  loomwright cable --current 40A --length 5.5m --voltage 12V")]
pub(crate) struct CableArguments {
    /// Continuous current of the circuit, such as 40A
    #[arg(long, value_name = "CURRENT", value_parser = quantity::<ElectricCurrent>, allow_hyphen_values = true)]
    #[arg(group = "load", conflicts_with = "lowest_voltage")]
    pub(crate) current: Option<ElectricCurrent>,

    /// Constant power of the load instead, such as 1.2kW; goes with --lowest-voltage
    #[arg(long, value_name = "POWER", value_parser = quantity::<Power>, requires = "lowest_voltage", group = "load", allow_hyphen_values = true)]
    pub(crate) power: Option<Power>,

    /// Lowest voltage at which the load still takes that power, such as 10.5V
    #[arg(long, value_name = "VOLTAGE", value_parser = quantity::<ElectricPotential>, requires = "power", allow_hyphen_values = true)]
    pub(crate) lowest_voltage: Option<ElectricPotential>,

    /// One-way conductor length as installed, such as 5.5m or 18ft
    #[arg(long, value_name = "LENGTH", value_parser = quantity::<Length>, allow_hyphen_values = true)]
    pub(crate) length: Length,

    /// System voltage, such as 12V
    #[arg(long, value_name = "VOLTAGE", value_parser = quantity::<ElectricPotential>, allow_hyphen_values = true)]
    pub(crate) voltage: ElectricPotential,

    /// Permitted drop, such as 3% or 0.15V
    #[arg(long, value_name = "DROP", value_parser = quantity::<DropLimit>, allow_hyphen_values = true)]
    pub(crate) drop: Option<DropLimit>,

    /// Hottest air around the cable, such as 40C
    #[arg(long, value_name = "TEMPERATURE", value_parser = quantity::<ThermodynamicTemperature>, allow_hyphen_values = true)]
    pub(crate) ambient: Option<ThermodynamicTemperature>,

    /// Insulation class, such as 105C
    #[arg(long, value_name = "TEMPERATURE", value_parser = quantity::<ThermodynamicTemperature>, allow_hyphen_values = true)]
    pub(crate) insulation: Option<ThermodynamicTemperature>,

    /// Conductor kind: iec-2, iec-5, iec-6, iso-6722, awg or sae
    #[arg(long, value_name = "KIND", value_parser = name::<Kind>)]
    pub(crate) kind: Option<Kind>,

    /// Conductor material: copper, tinned-copper, aluminium or copper-clad-aluminium
    #[arg(long, value_name = "MATERIAL", value_parser = name::<Material>)]
    pub(crate) material: Option<Material>,

    /// How the conductor lies: free-air, surface, bundle, conduit-plastic,
    /// conduit-metal, conduit-split, insulated or enclosed
    #[arg(long, value_name = "INSTALLATION", value_parser = name::<Installation>)]
    pub(crate) install: Option<Installation>,

    /// Loaded conductors laid together, both legs counted [default: the legs]
    #[arg(long, value_name = "NUMBER", allow_hyphen_values = true)]
    pub(crate) together: Option<u16>,

    /// Bore of the conduit, such as 25mm [default: filled to 40 %]
    #[arg(long, value_name = "LENGTH", value_parser = quantity::<Length>, allow_hyphen_values = true)]
    pub(crate) bore: Option<Length>,

    /// The part of the time that the current flows, such as "30 s in 10 min"
    #[arg(long, value_name = "DUTY", value_parser = name::<Duty>, allow_hyphen_values = true)]
    pub(crate) duty: Option<Duty>,

    /// How the current comes back
    #[arg(long = "return", value_name = "PATH")]
    pub(crate) return_path: Option<Return>,

    /// Measured resistance of the whole chassis return, such as 3mohm
    #[arg(long, value_name = "RESISTANCE", value_parser = quantity::<ElectricalResistance>, allow_hyphen_values = true)]
    pub(crate) chassis_resistance: Option<ElectricalResistance>,

    /// Lugs on studs in the whole circuit [default: 4]
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u16).range(..=100), allow_hyphen_values = true)]
    pub(crate) lugs: Option<u16>,

    /// Screw cage terminals in the whole circuit [default: 0]
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u16).range(..=100), allow_hyphen_values = true)]
    pub(crate) screw_cages: Option<u16>,

    /// Isolators in the whole circuit [default: 0]
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u16).range(..=100), allow_hyphen_values = true)]
    pub(crate) isolators: Option<u16>,

    /// Largest conductor that the terminals accept, such as 16mm2 or 6AWG
    #[arg(long, value_name = "SIZE", value_parser = quantity::<CrossSection>, allow_hyphen_values = true)]
    pub(crate) terminal: Option<CrossSection>,

    /// How hot the terminals may get, such as 75C
    #[arg(long, value_name = "TEMPERATURE", value_parser = quantity::<ThermodynamicTemperature>, allow_hyphen_values = true)]
    pub(crate) terminal_temperature: Option<ThermodynamicTemperature>,

    /// Rule set: general, iec-caravan, iso-small-craft, us-small-craft or na-recreational-vehicle
    #[arg(long, value_name = "PRACTICE", value_parser = name::<Practice>)]
    pub(crate) practice: Option<Practice>,

    /// Form of the result; svg is a picture
    #[arg(long, value_name = "FORMAT", default_value = "text")]
    pub(crate) format: PictureFormat,

    /// Print the calculation: formula, numbers put in, result, source
    #[arg(long)]
    pub(crate) working: bool,
}
