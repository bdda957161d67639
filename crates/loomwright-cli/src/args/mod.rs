//! Raw arguments: what may be written on the command line.

mod circuits;
mod pictures;

pub(crate) use circuits::{CableArguments, CurveArguments, PictureFormat, Return};
pub(crate) use pictures::{DrawArguments, ReportArguments};

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use loomwright::quantity::{FromText, Ratio, Time};
use loomwright::study::forecast::Size;
use loomwright::study::schedule::SheetName;
use loomwright::text::TemplateForm;

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
    /// A page of the manual for man(1), on standard output
    Manual {
        /// The verb it is about; the command as a whole when not given
        verb: Option<String>,
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

fn quantity<T: FromText>(text: &str) -> Result<T, String> {
    T::from_text(text).map_err(|error| error.to_string())
}

fn name<T: std::str::FromStr>(text: &str) -> Result<T, String>
where
    T::Err: std::fmt::Display,
{
    text.parse().map_err(|error: T::Err| error.to_string())
}
