//! The public interface of the published libraries as text, one item a line, so that a change of it is seen as one.
//!
//! rustdoc tells it as JSON, which only an unstable option writes: `RUSTC_BOOTSTRAP` permits that to the toolchain at hand.

use std::path::Path;
use std::process::Command;

use crate::{Failure, Generated};

/// The libraries that others build on.
const PUBLISHED: [&str; 2] = ["loomwright", "loomwright-draw"];

pub(crate) fn listings(root: &Path) -> Result<Vec<Generated>, Failure> {
    PUBLISHED.iter().map(|package| listing(root, package)).collect()
}

fn listing(root: &Path, package: &str) -> Result<Generated, Failure> {
    let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let told = Command::new(cargo)
        .current_dir(root)
        .env("RUSTC_BOOTSTRAP", "1")
        .args(["rustdoc", "--quiet", "--lib", "-p", package, "--", "-Zunstable-options", "--output-format", "json"])
        .status()?;
    if !told.success() {
        return Err(format!("rustdoc could not describe {package}").into());
    }
    let target = std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| root.join("target"), Into::into);
    let json = target.join("doc").join(format!("{}.json", package.replace('-', "_")));
    // What the compiler adds to every type says nothing.
    let items = public_api::Builder::from_rustdoc_json(json)
        .omit_blanket_impls(true)
        .omit_auto_trait_impls(true)
        .omit_auto_derived_impls(true)
        .build()?;
    Ok(Generated { path: root.join("tests/reference/api").join(format!("{package}.txt")), content: items.to_string() })
}
