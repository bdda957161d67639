//! Writes the version of the interface into the shared library's name for the loader.

fn main() {
    println!("cargo:rerun-if-changed=build.rs");
    // Where the loader knows sonames. The number is that of `lw_abi_version`; `xtask install` lays the links.
    if std::env::var("CARGO_CFG_TARGET_OS").is_ok_and(|os| os == "linux") {
        println!("cargo:rustc-cdylib-link-arg=-Wl,-soname,libloomwright.so.1");
    }
}
