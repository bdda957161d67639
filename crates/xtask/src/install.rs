//! `xtask install --prefix DIR`: the command, and the C library where programs in C expect it.
//!
//! The command tells its own manual and completions. Static and shared library with the links that a soname needs, headers, a
//! pkg-config file and a CMake package. The soname carries the version of the interface, not of the engine.

use std::path::Path;
use std::process::Command;

use crate::Failure;

/// Version of the interface, as `lw_abi_version` tells it and `build.rs` of the C library writes it into the soname.
const INTERFACE: &str = "1";

pub(crate) fn install(root: &Path, prefix: &Path) -> Result<(), Failure> {
    let cargo = std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into());
    let built = Command::new(cargo)
        .current_dir(root)
        .args(["build", "--quiet", "--release", "-p", "loomwright-capi", "-p", "loomwright-cli"])
        .status()?;
    if !built.success() {
        return Err("the command and the C library could not be built".into());
    }
    let target = std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| root.join("target"), Into::into).join("release");
    std::fs::create_dir_all(prefix)?;
    let prefix = prefix.canonicalize()?;
    let (libraries, headers) = (prefix.join("lib"), prefix.join("include"));
    let (pkgconfig, cmake) = (libraries.join("pkgconfig"), libraries.join("cmake/loomwright"));
    for folder in [&headers, &pkgconfig, &cmake] {
        std::fs::create_dir_all(folder)?;
    }
    for header in ["loomwright.h", "loomwright.hpp"] {
        copy(&root.join("include").join(header), &headers.join(header))?;
    }
    copy(&target.join("libloomwright.a"), &libraries.join("libloomwright.a"))?;
    let version = env!("CARGO_PKG_VERSION");
    let real = format!("libloomwright.so.{INTERFACE}.{version}");
    copy(&target.join("libloomwright.so"), &libraries.join(&real))?;
    let soname = format!("libloomwright.so.{INTERFACE}");
    link(&real, &libraries.join(&soname))?;
    link(&soname, &libraries.join("libloomwright.so"))?;
    let filled = |text: &str| text.replace("@VERSION@", version).replace("@INTERFACE@", INTERFACE);
    let place = prefix.display().to_string();
    write(&pkgconfig.join("loomwright.pc"), &filled(PKG_CONFIG).replace("@PREFIX@", &place))?;
    write(&cmake.join("loomwright-config.cmake"), &filled(CMAKE))?;
    write(&cmake.join("loomwright-config-version.cmake"), &filled(CMAKE_VERSION))?;
    command(&target.join("loomwright"), &prefix)
}

/// The command, its pages of the manual and its completions.
fn command(built: &Path, prefix: &Path) -> Result<(), Failure> {
    let manual = prefix.join("share/man/man1");
    let completions = [
        ("bash", prefix.join("share/bash-completion/completions"), "loomwright"),
        ("zsh", prefix.join("share/zsh/site-functions"), "_loomwright"),
        ("fish", prefix.join("share/fish/vendor_completions.d"), "loomwright.fish"),
    ];
    for folder in [&prefix.join("bin"), &manual].into_iter().chain(completions.iter().map(|(_, folder, _)| folder)) {
        std::fs::create_dir_all(folder)?;
    }
    copy(built, &prefix.join("bin/loomwright"))?;
    let told = |arguments: &[&str]| -> Result<String, Failure> {
        let output = Command::new(built).args(arguments).output()?;
        if !output.status.success() {
            return Err(format!("{arguments:?}: {}", String::from_utf8_lossy(&output.stderr)).into());
        }
        Ok(String::from_utf8(output.stdout)?)
    };
    let whole = told(&["manual"])?;
    write(&manual.join("loomwright.1"), &whole)?;
    // The page of the whole command names those of its verbs, as loomwright-VERB(1).
    let pages = whole.lines().filter_map(|line| line.strip_prefix("loomwright\\-")?.strip_suffix("(1)"));
    for verb in pages.filter(|verb| *verb != "help") {
        write(&manual.join(format!("loomwright-{verb}.1")), &told(&["manual", verb])?)?;
    }
    for (shell, folder, file) in completions {
        write(&folder.join(file), &told(&["completions", shell])?)?;
    }
    Ok(())
}

fn copy(from: &Path, to: &Path) -> Result<(), Failure> {
    std::fs::copy(from, to).map_err(|error| format!("{}: {error}", from.display()))?;
    println!("{}", to.display());
    Ok(())
}

fn write(to: &Path, text: &str) -> Result<(), Failure> {
    std::fs::write(to, text)?;
    println!("{}", to.display());
    Ok(())
}

/// A link beside its target, in place of an earlier one.
fn link(target: &str, at: &Path) -> Result<(), Failure> {
    if at.symlink_metadata().is_ok() {
        std::fs::remove_file(at)?;
    }
    std::os::unix::fs::symlink(target, at)?;
    println!("{} -> {target}", at.display());
    Ok(())
}

const PKG_CONFIG: &str = "\
prefix=@PREFIX@
libdir=${prefix}/lib
includedir=${prefix}/include

Name: loomwright
Description: Extra-low-voltage DC wiring, computed
Version: @VERSION@
Libs: -L${libdir} -lloomwright
Libs.private: -lpthread -ldl -lm
Cflags: -I${includedir}
";

const CMAKE: &str = "\
get_filename_component(_loomwright \"${CMAKE_CURRENT_LIST_DIR}/../../..\" ABSOLUTE)
if(NOT TARGET loomwright::loomwright)
  add_library(loomwright::loomwright SHARED IMPORTED)
  set_target_properties(loomwright::loomwright PROPERTIES
    IMPORTED_LOCATION \"${_loomwright}/lib/libloomwright.so.@INTERFACE@\"
    INTERFACE_INCLUDE_DIRECTORIES \"${_loomwright}/include\")
  add_library(loomwright::static STATIC IMPORTED)
  set_target_properties(loomwright::static PROPERTIES
    IMPORTED_LOCATION \"${_loomwright}/lib/libloomwright.a\"
    INTERFACE_LINK_LIBRARIES \"pthread;dl;m\"
    INTERFACE_INCLUDE_DIRECTORIES \"${_loomwright}/include\")
endif()
unset(_loomwright)
";

/// Any release that is not older will do: what the interface promises is told by the soname.
const CMAKE_VERSION: &str = "\
set(PACKAGE_VERSION \"@VERSION@\")
if(PACKAGE_FIND_VERSION VERSION_GREATER PACKAGE_VERSION)
  set(PACKAGE_VERSION_COMPATIBLE FALSE)
else()
  set(PACKAGE_VERSION_COMPATIBLE TRUE)
  if(PACKAGE_FIND_VERSION VERSION_EQUAL PACKAGE_VERSION)
    set(PACKAGE_VERSION_EXACT TRUE)
  endif()
endif()
";
