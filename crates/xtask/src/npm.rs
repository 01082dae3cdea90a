//! The development tools that come from npm, pinned by `tests/browser/package-lock.json`.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, bail};

use crate::run::{command, find, root, run};
use crate::system;

/// The folder of the pinned npm packages.
pub(crate) fn folder() -> PathBuf {
    root().join("tests/browser")
}

/// Node running a program of an installed package.
pub(crate) fn tool(program: &str) -> Result<Command> {
    let node = ready()?;
    let file = folder().join("node_modules").join(program);
    if !file.is_file() {
        bail!(
            "{} is missing: remove tests/browser/node_modules and try again",
            file.display()
        );
    }
    let mut command = command(node);
    command.arg(file);
    Ok(command)
}

/// Gives Node, after the packages have been installed as locked.
pub(crate) fn ready() -> Result<PathBuf> {
    let node = system::node()?;
    let folder = folder();
    let lock = fs::read(folder.join("package-lock.json"))
        .context("tests/browser/package-lock.json")?;
    // A copy of the lock file tells which one the installed packages came from.
    let installed = folder.join("node_modules/.installed-lock.json");
    if fs::read(&installed).is_ok_and(|known| known == lock) {
        return Ok(node);
    }
    println!("installing the npm packages of tests/browser");
    run(npm(&node)?.args(["ci", "--no-audit", "--no-fund"]).current_dir(&folder))?;
    fs::write(&installed, lock).with_context(|| installed.display().to_string())?;
    Ok(node)
}

/// npm as it was installed with this Node, else the one on the search path.
fn npm(node: &Path) -> Result<Command> {
    let beside = node.with_file_name(if cfg!(windows) { "npm.cmd" } else { "npm" });
    let Some(npm) = Some(beside).filter(|file| file.is_file()).or_else(|| find("npm"))
    else {
        bail!("npm is needed beside {}: install it and run this again", node.display());
    };
    Ok(command(npm))
}
