//! Gives the shared library its soname: plain cargo sets none.

fn main() {
    if std::env::var("CARGO_CFG_TARGET_OS").is_ok_and(|system| system == "linux") {
        println!("cargo:rustc-cdylib-link-arg=-Wl,-soname,libloomwright.so.0");
    }
}
