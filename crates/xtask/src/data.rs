//! `xtask data`: validates the engine's CSV tables and writes them as constants.
//!
//! A table names its unit in every numeric column, its range of validity in `# range:` lines, the
//! columns that make a row unique in a `# key:` line, and a source id in every row.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use crate::Generated;

/// Endings that make a column numeric; every other column is text.
const UNITS: &[&str] = &[
    "_mm2",
    "_mm",
    "_cmil",
    "_ohm_per_km",
    "_ohm_per_kft",
    "_mohm_per_m",
    "_mohm",
    "_ohm_mm2_per_m",
    "_k_below_0c",
    "_kg_per_m3",
    "_j_per_m3_k",
    "_a",
    "_v",
    "_c",
    "_ratio",
    "_s",
    "_a2s",
    "_kwh_per_m2",
    "_v_per_k",
    "_w_per_m_k",
    "_per_h",
    "_w",
    "_h",
    "_nm",
    "_m",
    "_k",
];
/// Numeric columns whose meaning leaves no unit to name.
const UNITLESS: &[&str] = &[
    "factor",
    "month",
    "ratio",
    "class",
    "circuits",
    "conductors",
    "conductors_from",
    "digits",
    "strands",
    "z",
    "e",
    "g",
    "u",
    "v",
    "y",
    "k",
];

#[derive(Debug, serde::Deserialize)]
#[serde(deny_unknown_fields)]
struct Source {
    title: String,
    edition: String,
    section: String,
    confidence: String,
}

#[derive(Debug, thiserror::Error)]
pub(crate) enum DataError {
    #[error("{0}: {1}")]
    Io(PathBuf, std::io::Error),
    #[error("sources.toml: {0}")]
    Sources(#[from] toml::de::Error),
    #[error("{0}: {1}")]
    Csv(String, csv::Error),
    #[error("{table} line {line}: {what}")]
    Row { table: String, line: usize, what: String },
}

#[derive(Clone, Copy, PartialEq)]
enum Kind {
    Number {
        optional: bool,
    },
    /// Numbers in one cell, ascending, with a space between.
    List,
    Text,
    Source {
        optional: bool,
    },
}

fn is_numeric(column: &str) -> bool {
    UNITLESS.contains(&column) || UNITS.iter().any(|unit| column.ends_with(unit))
}

fn constant_name(id: &str) -> String {
    id.replace(['-', '.'], "_").to_uppercase()
}

fn type_name(table: &str) -> String {
    table
        .split('_')
        .map(|part| {
            let mut letters = part.chars();
            letters.next().map(|first| first.to_uppercase().collect::<String>() + letters.as_str()).unwrap_or_default()
        })
        .collect()
}

struct Header {
    about: Vec<String>,
    key: Vec<String>,
    ranges: BTreeMap<String, (f64, f64)>,
}

fn header(table: &str, text: &str) -> Result<Header, DataError> {
    let mut found = Header { about: Vec::new(), key: Vec::new(), ranges: BTreeMap::new() };
    for (index, line) in text.lines().enumerate().take_while(|(_, line)| line.starts_with('#')) {
        let bad = |what: &str| DataError::Row { table: table.into(), line: index + 1, what: what.into() };
        let line = line.trim_start_matches('#').trim();
        if let Some(about) = line.strip_prefix("about:") {
            found.about.push(about.trim().to_owned());
        } else if let Some(key) = line.strip_prefix("key:") {
            found.key = key.split_whitespace().map(str::to_owned).collect();
        } else if let Some(range) = line.strip_prefix("range:") {
            let parts: Vec<&str> = range.split_whitespace().collect();
            let [column, low, high] = parts[..] else { return Err(bad("a range is: column lowest highest")) };
            let (Ok(low), Ok(high)) = (low.parse(), high.parse()) else { return Err(bad("a range needs two numbers")) };
            found.ranges.insert(column.to_owned(), (low, high));
        } else {
            return Err(bad("a header line starts with about:, key: or range:"));
        }
    }
    Ok(found)
}

/// Reads every table of `folder` and returns the Rust files to write.
pub(crate) fn generate(folder: &Path, target: &Path) -> Result<Vec<Generated>, DataError> {
    let read = |path: PathBuf| std::fs::read_to_string(&path).map_err(|error| DataError::Io(path, error));
    let sources: BTreeMap<String, Source> = toml::from_str(&read(folder.join("sources.toml"))?)?;
    let mut files = vec![sources_file(&sources, target)?];
    let mut tables: Vec<String> = std::fs::read_dir(folder)
        .map_err(|error| DataError::Io(folder.into(), error))?
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter_map(|name| name.strip_suffix(".csv").map(str::to_owned))
        .collect();
    tables.sort();
    let mut names = vec!["sources".to_owned()];
    for table in &tables {
        let text = read(folder.join(format!("{table}.csv")))?;
        let content =
            if table == "constants" { constants_file(&text, &sources)? } else { table_file(table, &text, &sources)? };
        files.push(Generated { path: target.join(format!("{table}.rs")), content });
        names.push(table.clone());
    }
    names.sort();
    let mut modules = String::from("// Written by `cargo run -p xtask -- data`; do not edit.\n\n");
    for name in names {
        let _ = writeln!(modules, "pub(crate) mod {name};");
    }
    files.push(Generated { path: target.join("mod.rs"), content: modules });
    Ok(files)
}

fn sources_file(sources: &BTreeMap<String, Source>, target: &Path) -> Result<Generated, DataError> {
    let mut out = String::from(
        "// Written by `cargo run -p xtask -- data` from sources.toml; do not edit.\n\nuse crate::data::{Confidence, Source};\n\n",
    );
    let mut list = String::new();
    for (id, source) in sources {
        let confidence = match source.confidence.as_str() {
            "published" => "Published",
            "memory" => "Memory",
            "common-practice" => "CommonPractice",
            other => {
                return Err(DataError::Row {
                    table: "sources.toml".into(),
                    line: 0,
                    what: format!("{id}: confidence {other:?} is not published, memory or common-practice"),
                });
            }
        };
        let _ = writeln!(
            out,
            "pub(crate) const {}: Source = Source {{ id: {id:?}, title: {:?}, edition: {:?}, section: {:?}, confidence: Confidence::{confidence} }};",
            constant_name(id),
            source.title,
            source.edition,
            source.section
        );
        let _ = writeln!(list, "    &{},", constant_name(id));
    }
    let _ = write!(out, "\n/// Every source, in order of id.\npub(crate) const ALL: &[&Source] = &[\n{list}];\n");
    Ok(Generated { path: target.join("sources.rs"), content: out })
}

/// Single values become one documented constant each.
fn constants_file(text: &str, sources: &BTreeMap<String, Source>) -> Result<String, DataError> {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    let mut out = String::from("// Written by `cargo run -p xtask -- data` from constants.csv; do not edit.\n\n");
    for row in reader.records() {
        let row = row.map_err(|error| DataError::Csv("constants".to_owned(), error))?;
        let line = row.position().map_or(0, |position| usize::try_from(position.line()).unwrap_or(0));
        let bad = |what: &str| DataError::Row { table: "constants".to_owned(), line, what: what.to_owned() };
        let fields: Vec<&str> = row.iter().collect();
        let [name, value, unit, about, source] = fields[..] else {
            return Err(bad("a row is: name, value, unit, about, source"));
        };
        let value: f64 = value.parse().map_err(|_| bad("the value is not a number"))?;
        let source = sources.get(source).ok_or_else(|| bad("the source is not in sources.toml"))?;
        let _ = write!(
            out,
            "/// {about}; {unit}. Source: {}, {} ({}).\npub(crate) const {name}: f64 = {value:?};\n",
            source.edition, source.section, source.confidence
        );
    }
    Ok(out)
}

fn table_file(table: &str, text: &str, sources: &BTreeMap<String, Source>) -> Result<String, DataError> {
    let header = header(table, text)?;
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(text.as_bytes());
    let in_table = |error| DataError::Csv(table.to_owned(), error);
    let columns: Vec<String> = reader.headers().map_err(in_table)?.iter().map(str::to_owned).collect();
    let rows: Vec<csv::StringRecord> = reader.records().collect::<Result<_, _>>().map_err(in_table)?;
    let empty_somewhere = |index: usize| rows.iter().any(|row| row.get(index).is_some_and(str::is_empty));
    let kinds: Vec<Kind> = columns
        .iter()
        .enumerate()
        .map(|(index, column)| match column.as_str() {
            name if name.ends_with("source") => Kind::Source { optional: empty_somewhere(index) },
            name if name.ends_with("_list") => Kind::List,
            name if is_numeric(name) => Kind::Number { optional: empty_somewhere(index) },
            _ => Kind::Text,
        })
        .collect();

    let row_type = type_name(table);
    let mut out = format!("// Written by `cargo run -p xtask -- data` from {table}.csv; do not edit.\n\n");
    if kinds.iter().any(|kind| matches!(kind, Kind::Source { .. })) {
        out.push_str("use crate::data::{Source, tables::sources};\n\n");
    }
    for about in &header.about {
        let _ = writeln!(out, "/// {about}.");
    }
    let _ = writeln!(out, "#[derive(Debug)]\npub(crate) struct {row_type} {{");
    for (column, kind) in columns.iter().zip(&kinds) {
        let field = match kind {
            Kind::Number { optional: false } => "f64",
            Kind::Number { optional: true } => "Option<f64>",
            Kind::List => "&'static [f64]",
            Kind::Text => "&'static str",
            Kind::Source { optional: false } => "&'static Source",
            Kind::Source { optional: true } => "Option<&'static Source>",
        };
        let _ = writeln!(out, "    pub(crate) {column}: {field},");
    }
    let _ = write!(out, "}}\n\n#[rustfmt::skip]\npub(crate) const ROWS: &[{row_type}] = &[\n");
    let mut seen = BTreeSet::new();
    for row in &rows {
        let line = row.position().map_or(0, |position| usize::try_from(position.line()).unwrap_or(0));
        let bad = |what: String| DataError::Row { table: table.to_owned(), line, what };
        let key: Vec<&str> =
            columns.iter().zip(row).filter(|(column, _)| header.key.contains(column)).map(|(_, value)| value).collect();
        if key.len() != header.key.len() || !seen.insert(key.join("|")) {
            return Err(bad(format!("the key {key:?} is missing or stands twice")));
        }
        let _ = write!(out, "    {row_type} {{ ");
        for ((column, kind), value) in columns.iter().zip(&kinds).zip(row) {
            let literal = match kind {
                Kind::List => {
                    let numbers: Result<Vec<String>, String> =
                        value.split_whitespace().map(|each| number(each, false, column, &header)).collect();
                    let numbers = numbers.map_err(bad)?;
                    let ascending = value.split_whitespace().filter_map(|each| each.parse::<f64>().ok());
                    if !ascending.is_sorted_by(|one, next| one < next) {
                        return Err(bad(format!("{column} does not ascend")));
                    }
                    format!("&[{}]", numbers.join(", "))
                }
                Kind::Text => format!("{value:?}"),
                Kind::Source { optional } => {
                    if value.is_empty() {
                        "None".to_owned()
                    } else if sources.contains_key(value) {
                        let path = format!("&sources::{}", constant_name(value));
                        if *optional { format!("Some({path})") } else { path }
                    } else {
                        return Err(bad(format!("{value:?} is not in sources.toml")));
                    }
                }
                Kind::Number { optional } => number(value, *optional, column, &header).map_err(bad)?,
            };
            let _ = write!(out, "{column}: {literal}, ");
        }
        out.push_str("},\n");
    }
    out.push_str("];\n");
    Ok(out)
}

fn number(value: &str, optional: bool, column: &str, header: &Header) -> Result<String, String> {
    if value.is_empty() {
        return Ok("None".to_owned());
    }
    let parsed: f64 = value.parse().map_err(|_| format!("{column}: {value:?} is not a number"))?;
    if !parsed.is_finite() {
        return Err(format!("{column}: {value:?} is not finite"));
    }
    if let Some((low, high)) = header.ranges.get(column)
        && !(*low..=*high).contains(&parsed)
    {
        return Err(format!("{column}: {value} lies outside {low} to {high}"));
    }
    Ok(if optional { format!("Some({parsed:?})") } else { format!("{parsed:?}") })
}
