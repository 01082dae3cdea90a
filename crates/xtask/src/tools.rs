//! What turns Rust into a page: wasm target, wasm-bindgen, its test runner, wasm-opt.

use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Result, bail};

use crate::manifest::pinned_version;
use crate::npm;
use crate::run::{cargo, command, find, output, run, target_dir};
use crate::system;

/// The compiler target of the page.
pub(crate) const WASM: &str = "wasm32-unknown-unknown";

/// The folder of our own build of the wasm-bindgen tools, a workspace of its own.
pub(crate) const WASM_TOOLS: &str = "crates/xtask/wasm-tools/Cargo.toml";

/// Makes sure that the compiler can build for the browser.
pub(crate) fn wasm_target() -> Result<()> {
    let library =
        output(command("rustc").args(["--print", "target-libdir", "--target", WASM]))?;
    if Path::new(library.trim()).is_dir() {
        return Ok(());
    }
    println!("the compiler's target {WASM} is missing; installing it");
    if let Err(error) = run(command("rustup").args(["target", "add", WASM])) {
        bail!(
            "the compiler's target {WASM} is needed and could not be installed: {error:#}\n\
             Install it with your Rust installation's own means and run this again"
        );
    }
    Ok(())
}

/// The wasm-bindgen programs, built from source in the version the lab is compiled against.
pub(crate) struct WasmTools {
    /// Writes the JavaScript glue.
    pub(crate) glue: PathBuf,
    /// Runs wasm tests in a browser.
    pub(crate) test_runner: PathBuf,
}

/// Builds the wasm-bindgen programs if they are not there yet.
pub(crate) fn wasm_tools() -> Result<WasmTools> {
    let folder = target_dir().join("tools");
    let file = |name: &str| {
        folder.join("debug").join(format!("{name}{}", std::env::consts::EXE_SUFFIX))
    };
    let tools =
        WasmTools { glue: file("wasm-glue"), test_runner: file("wasm-test-runner") };
    if !tools.glue.is_file() || !tools.test_runner.is_file() {
        let version = pinned_version(WASM_TOOLS, "wasm-bindgen-cli")?;
        println!("building wasm-bindgen {version} from source (once, a minute or two)");
    }
    let mut build =
        cargo(&["build", "--quiet", "--locked", "--manifest-path", WASM_TOOLS]);
    // Two of its dependencies draw a report about future compilers that helps nobody here.
    build.args(["--config", "future-incompat-report.frequency=\"never\""]);
    build.arg("--target-dir").arg(&folder);
    // Flags meant for the lab's wasm must not reach programs that run on this machine.
    build.env_remove("RUSTFLAGS").env_remove("CARGO_BUILD_TARGET");
    output(&mut build)?;
    Ok(tools)
}

/// The optimizer of wasm files: the pinned one, else one that is installed.
pub(crate) fn wasm_opt() -> Result<Command> {
    match npm::tool("binaryen/bin/wasm-opt") {
        Ok(tool) => Ok(tool),
        Err(error) => installed_wasm_opt().ok_or(error),
    }
}

/// As [`wasm_opt`], without installing Node for it.
pub(crate) fn wasm_opt_if_possible() -> Option<Command> {
    match system::installed_node() {
        Some(_) => wasm_opt().ok(),
        None => installed_wasm_opt(),
    }
}

fn installed_wasm_opt() -> Option<Command> {
    find("wasm-opt").map(command)
}
