//! What the command prints: the README's examples, and golden texts that a person has read.

#[test]
fn printed_text_is_as_shown() -> std::io::Result<()> {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    // The examples are shown as run from the top of the repository.
    std::env::set_current_dir(&root)?;
    let root = std::path::Path::new(".");
    trycmd::TestCases::new().case(root.join("README.md")).case(root.join("tests/cli/*.md"));
    Ok(())
}
