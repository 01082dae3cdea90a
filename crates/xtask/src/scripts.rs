//! Takes the comments out of the site's scripts: they are for developers, and a third of the size.

use std::ffi::OsStr;
use std::fs;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, bail};

use crate::npm;
use crate::run::{output, target_dir};
use crate::site::copy;
use crate::size::files_below;

/// Replaces every script of a built site by the same script without comments.
///
/// The compiler that checks the page's types does it, so that strings, templates and regular
/// expressions that look like comments are safe. Nothing is renamed, joined or reordered.
pub(crate) fn strip_comments(site: &Path, compiler: Command) -> Result<()> {
    let mut scripts = files_below(site)?;
    scripts.retain(|file| file.extension() == Some(OsStr::new("js")));
    let folder = target_dir().join("scripts");
    let key = key(&scripts, &compiler)?;
    let key_file = folder.join("built-from");
    if fs::read_to_string(&key_file).is_ok_and(|known| known == key) {
        return copy_back(&scripts, &folder, site);
    }
    if folder.exists() {
        fs::remove_dir_all(&folder).with_context(|| folder.display().to_string())?;
    }
    let mut compiler = compiler;
    compiler
        .args(["--allowJs", "--noCheck", "--noResolve", "--removeComments"])
        .args(["--target", "esnext", "--module", "esnext"])
        .args(["--moduleResolution", "bundler"])
        .arg("--rootDir")
        .arg(site)
        .arg("--outDir")
        .arg(&folder)
        .args(&scripts);
    output(&mut compiler)?;
    copy_back(&scripts, &folder, site)?;
    fs::write(&key_file, key).with_context(|| key_file.display().to_string())?;
    Ok(())
}

/// The compiler, pinned with the other npm packages.
pub(crate) fn compiler() -> Result<Command> {
    npm::tool("typescript/bin/tsc")
}

fn copy_back(scripts: &[PathBuf], folder: &Path, site: &Path) -> Result<()> {
    for script in scripts {
        let name = script.strip_prefix(site).unwrap_or(script);
        let stripped = folder.join(name);
        if !stripped.is_file() {
            bail!("{} was lost while its comments were taken out", name.display());
        }
        copy(&stripped, script)?;
    }
    Ok(())
}

/// A text that changes when a script or the compiler does.
fn key(scripts: &[PathBuf], compiler: &Command) -> Result<String> {
    let mut hasher = DefaultHasher::new();
    let lock = npm::folder().join("package-lock.json");
    for file in scripts.iter().chain([&lock]) {
        file.hash(&mut hasher);
        fs::read(file).with_context(|| file.display().to_string())?.hash(&mut hasher);
    }
    Ok(format!("{:016x} {compiler:?}", hasher.finish()))
}
