//! Programs that only the system's package manager can bring: browser and Node.

use std::env;
use std::path::{Path, PathBuf};

use anyhow::{Result, bail};

use crate::run::{command, find, output, run};

/// The browser that the tests drive.
pub(crate) fn chromium() -> Result<PathBuf> {
    let names = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable"];
    program("BAREWAFER_CHROMIUM", &names, BROWSER_PACKAGES)
}

/// The program through which the wasm tests talk to the browser.
pub(crate) fn chromedriver() -> Result<PathBuf> {
    program("CHROMEDRIVER", &["chromedriver"], BROWSER_PACKAGES)
}

/// Node, for the page's checks and the browser tests.
pub(crate) fn node() -> Result<PathBuf> {
    let node = program("BAREWAFER_NODE", &["node", "nodejs"], NODE_PACKAGES)?;
    let version = output(command(&node).arg("--version"))?;
    match major(&version) {
        Some(major) if NODE_AT_LEAST <= major => Ok(node),
        _ => bail!(
            "Node {NODE_AT_LEAST} or later is needed, {} is version {}: install a newer one, \
             or name it in BAREWAFER_NODE",
            node.display(),
            version.trim()
        ),
    }
}

/// Node, if a good one is here already.
pub(crate) fn installed_node() -> Option<PathBuf> {
    find("node").and_then(|_| node().ok())
}

const NODE_AT_LEAST: u32 = 20;
const NODE_PACKAGES: &[&str] = &["nodejs", "npm"];
/// Without a font the browser draws no text at all.
const BROWSER_PACKAGES: &[&str] = &["chromium", "chromium-driver", "fonts-liberation"];

fn major(version: &str) -> Option<u32> {
    version.trim().trim_start_matches('v').split('.').next()?.parse().ok()
}

/// Finds a program: named by the variable, on the search path, or installed now.
fn program(variable: &str, names: &[&str], packages: &[&str]) -> Result<PathBuf> {
    if let Some(file) = env::var_os(variable) {
        let file = PathBuf::from(file);
        if file.is_file() {
            return Ok(file);
        }
        bail!("{variable} names {}, which is no file", file.display());
    }
    if let Some(file) = names.iter().find_map(|name| find(name)) {
        return Ok(file);
    }
    println!("{} is missing; installing {}", names.join(" or "), packages.join(", "));
    if let Err(error) = install(packages) {
        bail!(
            "{} is needed and could not be installed: {error:#}\n\
             Install it and run this again, or name the program in {variable}",
            names.join(" or ")
        );
    }
    match names.iter().find_map(|name| find(name)) {
        Some(file) => Ok(file),
        None => {
            bail!("{} was installed but is not on the search path", names.join(" or "))
        }
    }
}

fn install(packages: &[&str]) -> Result<()> {
    if find("apt-get").is_none() {
        bail!(
            "this system has no apt-get, and other package managers are not known here"
        );
    }
    // Inside a container there is no `sudo`, and none is needed.
    let administrator = output(command("id").arg("-u"))?.trim() == "0";
    let apt = |arguments: &[&str]| {
        let mut command =
            if administrator { command("apt-get") } else { command("sudo") };
        if !administrator {
            command.args([
                "--non-interactive",
                "DEBIAN_FRONTEND=noninteractive",
                "apt-get",
            ]);
        }
        command.env("DEBIAN_FRONTEND", "noninteractive").args(arguments);
        run(&mut command)
    };
    apt(&["update", "--quiet"])?;
    let mut arguments = vec!["install", "--quiet", "--yes", "--no-install-recommends"];
    arguments.extend(packages);
    apt(&arguments)
}

/// Flags for a browser that talks to nobody, shows no window and runs as any user.
pub(crate) const CHROMIUM_FLAGS: &[&str] = &[
    "--headless=new",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
];

/// The settings file of the wasm test runner: which browser, started how.
pub(crate) fn webdriver_settings(chromium: &Path) -> String {
    serde_json::json!({
        "goog:chromeOptions": { "binary": chromium, "args": CHROMIUM_FLAGS }
    })
    .to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn node_versions_are_read() {
        assert_eq!(major("v20.20.2\n"), Some(20));
        assert_eq!(major("nonsense"), None);
    }
}
