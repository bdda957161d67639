//! Arguments of pictures and of the page.

use std::path::PathBuf;

use clap::Args;
use clap::builder::{PossibleValuesParser, TypedValueParser};
use loomwright_draw::Kind as Picture;

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
