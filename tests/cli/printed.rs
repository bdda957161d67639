//! What the command prints: the README's examples, and golden texts that a person has read.

#[test]
fn printed_text_is_as_shown() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    trycmd::TestCases::new().case(root.join("README.md")).case(root.join("tests/cli/*.md"));
}
