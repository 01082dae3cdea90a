//! Running other programs: where, how loudly, and what to say when they fail.

use std::env;
use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, Instant};

use anyhow::{Context, Result, bail};

/// The root folder of the workspace.
pub(crate) fn root() -> PathBuf {
    // Asked at run time: clones that share a target folder share this program too.
    let manifest = env::var_os("CARGO_MANIFEST_DIR");
    let here = manifest.unwrap_or_else(|| env!("CARGO_MANIFEST_DIR").into());
    let here = Path::new(&here);
    here.ancestors().nth(2).unwrap_or(here).to_path_buf()
}

/// The folder of everything that is built.
pub(crate) fn target_dir() -> PathBuf {
    env::var_os("CARGO_TARGET_DIR")
        .map_or_else(|| root().join("target"), |folder| root().join(folder))
}

/// A program to be run in the root folder.
pub(crate) fn command(program: impl AsRef<OsStr>) -> Command {
    let mut command = Command::new(program);
    command.current_dir(root());
    command
}

/// The cargo that runs this very program, with its arguments.
pub(crate) fn cargo(arguments: &[&str]) -> Command {
    let mut command = command(env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command.args(arguments);
    command
}

/// Runs a program and lets it talk.
pub(crate) fn run(command: &mut Command) -> Result<()> {
    println!("$ {}", shown(command));
    let status = command
        .status()
        .with_context(|| format!("could not start `{}`", shown(command)))?;
    if status.success() {
        Ok(())
    } else {
        bail!("`{}` failed ({status})", shown(command))
    }
}

/// Runs a program that only talks if it fails, and returns what it printed.
pub(crate) fn output(command: &mut Command) -> Result<String> {
    let output = command
        .output()
        .with_context(|| format!("could not start `{}`", shown(command)))?;
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    if output.status.success() {
        return Ok(text);
    }
    bail!(
        "`{}` failed ({})\n{}{}",
        shown(command),
        output.status,
        text,
        String::from_utf8_lossy(&output.stderr)
    )
}

/// Finds a program on the search path.
pub(crate) fn find(program: &str) -> Option<PathBuf> {
    let suffix = env::consts::EXE_SUFFIX;
    env::split_paths(&env::var_os("PATH")?)
        .map(|folder| folder.join(format!("{program}{suffix}")))
        .find(|file| file.is_file())
}

/// A command as a person would type it: the program's name without its folder.
fn shown(command: &Command) -> String {
    let program = Path::new(command.get_program());
    let name = program.file_name().unwrap_or(program.as_os_str());
    let mut words = vec![name.to_string_lossy().into_owned()];
    words.extend(command.get_args().map(|word| word.to_string_lossy().into_owned()));
    words.join(" ")
}

/// Measures how long something takes.
pub(crate) struct Stopwatch(Instant);

impl Stopwatch {
    /// Starts now.
    #[expect(
        clippy::disallowed_methods,
        reason = "only the kernel must not read the clock; this tells a person how long it took"
    )]
    pub(crate) fn start() -> Self {
        Self(Instant::now())
    }

    /// The time since the start.
    pub(crate) fn elapsed(&self) -> Duration {
        self.0.elapsed()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_root_holds_the_workspace() {
        assert!(root().join("Cargo.lock").is_file());
    }

    #[test]
    fn a_failing_program_is_named_with_its_output() {
        let error = output(&mut cargo(&["no-such-command"])).unwrap_err().to_string();
        assert!(error.contains("cargo no-such-command"), "{error}");
    }

    #[test]
    fn a_program_that_does_not_exist_is_not_found() {
        assert_eq!(find("surely-no-such-program"), None);
    }
}
