//! Writes what is generated, or with `--check` says what has drifted.

mod api;
mod data;
mod install;
mod vba;

use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode, Stdio};

use clap::{Parser, ValueEnum};

/// A file that this tool owns.
pub(crate) struct Generated {
    path: PathBuf,
    content: String,
}

#[derive(Clone, Copy, PartialEq, ValueEnum)]
enum What {
    /// The engine's data tables, from crates/loomwright/data
    Data,
    /// The C header, from crates/loomwright-capi, and the VBA module
    Header,
    /// Data, header and module: all that is committed but the listing of the interface
    All,
    /// The listing of the public interface of the libraries, from rustdoc
    Api,
    /// The command with its manual and completions, and the C library for other programs, below --prefix
    Install,
}

#[derive(Parser)]
#[command(
    about = "Writes what is generated, with --check fails when a committed file has drifted; installs command and C library"
)]
struct Arguments {
    what: What,
    /// Compare with the committed files, write nothing
    #[arg(long)]
    check: bool,
    /// Where to install: headers, libraries, pkg-config and CMake files go below it
    #[arg(long, required_if_eq("what", "install"))]
    prefix: Option<PathBuf>,
}

pub(crate) type Failure = Box<dyn std::error::Error>;

fn formatted(source: &str) -> Result<String, Failure> {
    use std::io::Write as _;
    let mut child =
        Command::new("rustfmt").args(["--edition", "2024"]).stdin(Stdio::piped()).stdout(Stdio::piped()).spawn()?;
    if let Some(mut input) = child.stdin.take() {
        input.write_all(source.as_bytes())?;
    }
    let output = child.wait_with_output()?;
    if !output.status.success() {
        return Err("rustfmt refused generated code".into());
    }
    Ok(String::from_utf8(output.stdout)?)
}

fn generate(what: What, root: &Path) -> Result<Vec<Generated>, Failure> {
    let mut files = Vec::new();
    if matches!(what, What::Data | What::All) {
        let engine = root.join("crates/loomwright");
        for mut file in data::generate(&engine.join("data"), &engine.join("src/data/tables"))? {
            // A module list would make rustfmt look for files that are not written yet.
            if !file.path.ends_with("mod.rs") {
                file.content = formatted(&file.content)?;
            }
            files.push(file);
        }
    }
    if matches!(what, What::Header | What::All) {
        let folder = root.join("crates/loomwright-capi");
        let mut header = Vec::new();
        cbindgen::Builder::new()
            .with_crate(&folder)
            .with_config(cbindgen::Config::from_file(folder.join("cbindgen.toml"))?)
            .generate()?
            .write(&mut header);
        let header = String::from_utf8(header)?;
        let module = root.join("examples/spreadsheet/loomwright.bas");
        files.push(Generated { path: module, content: vba::module(&header) });
        files.push(Generated { path: root.join("include/loomwright.h"), content: header });
    }
    if what == What::Api {
        files.extend(api::listings(root)?);
    }
    Ok(files)
}

fn run() -> Result<bool, Failure> {
    let arguments = Arguments::parse();
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..").canonicalize()?;
    if let (What::Install, Some(prefix)) = (arguments.what, &arguments.prefix) {
        install::install(&root, prefix)?;
        return Ok(true);
    }
    let mut drifted = false;
    for file in generate(arguments.what, &root)? {
        let shown = file.path.strip_prefix(&root).unwrap_or(&file.path).display();
        if std::fs::read_to_string(&file.path).is_ok_and(|present| present == file.content) {
            continue;
        }
        if arguments.check {
            let what = if arguments.what == What::Api { "api" } else { "all" };
            eprintln!("{shown} has drifted: run `cargo xtask {what}`");
            drifted = true;
        } else {
            if let Some(folder) = file.path.parent() {
                std::fs::create_dir_all(folder)?;
            }
            std::fs::write(&file.path, &file.content)?;
            println!("wrote {shown}");
        }
    }
    Ok(!drifted)
}

fn main() -> ExitCode {
    match run() {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("xtask: {error}");
            ExitCode::FAILURE
        }
    }
}
