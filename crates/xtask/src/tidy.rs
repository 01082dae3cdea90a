//! What no compiler checks: where files are, who depends on whom, under which licenses.

use std::fs;

use anyhow::{Context, Result, bail};
use serde_json::Value;

use crate::manifest::pinned_version;
use crate::run::{cargo, command, output, root};
use crate::tools::{WASM, WASM_TOOLS};

/// Collects what is wrong, so that all of it is told at once.
type Complaints = Vec<String>;

/// Runs every check of this module.
pub(crate) fn tidy() -> Result<()> {
    let mut complaints = Complaints::new();
    let files = tracked_files()?;
    top_level(&files, &mut complaints);
    names(&files, &mut complaints);
    for file in &files {
        // Files that are deleted but not yet committed are still listed.
        if let Ok(text) = fs::read_to_string(root().join(file)) {
            contents(file, &text, &mut complaints);
        }
    }
    dependency_graph(&mut complaints)?;
    licenses(&mut complaints)?;
    same_wasm_bindgen(&mut complaints)?;
    if complaints.is_empty() {
        println!("{} files are in order", files.len());
        return Ok(());
    }
    bail!("not in order:\n  {}", complaints.join("\n  "))
}

/// The files under version control and those about to be.
fn tracked_files() -> Result<Vec<String>> {
    let list = output(command("git").args([
        "ls-files",
        "--cached",
        "--others",
        "--exclude-standard",
    ]))?;
    Ok(list.lines().map(str::to_owned).collect())
}

const TOP_LEVEL: &[&str] = &[
    ".cargo",
    ".ci",
    ".clippy.toml",
    ".editorconfig",
    ".gitattributes",
    ".github",
    ".gitignore",
    ".rustfmt.toml",
    ".typos.toml",
    "CHANGELOG.md",
    "Cargo.lock",
    "Cargo.toml",
    "DEVELOPERS.md",
    "LICENSE-APACHE",
    "LICENSE-MIT",
    "README.md",
    "crates",
    "rust-toolchain.toml",
    "tests",
    "www",
];

fn top_level(files: &[String], complaints: &mut Complaints) {
    let mut strangers: Vec<&str> = files
        .iter()
        .map(|file| file.split('/').next().unwrap_or(file))
        .filter(|name| !TOP_LEVEL.contains(name))
        .collect();
    strangers.sort_unstable();
    strangers.dedup();
    for name in strangers {
        complaints.push(format!("{name}: not a known entry of the root folder"));
    }
}

/// Names that say nothing about what is inside.
const EMPTY_NAMES: &[&str] = &["utils", "util", "helpers", "helper", "common", "misc"];

fn names(files: &[String], complaints: &mut Complaints) {
    for file in files {
        for part in file.split('/') {
            let stem = part.split('.').next().unwrap_or(part);
            if EMPTY_NAMES.contains(&stem) {
                complaints.push(format!("{file}: `{stem}` does not say what is inside"));
            }
        }
    }
}

/// A file is one idea; beyond this it is split.
const MOST_LINES: usize = 600;

fn contents(file: &str, text: &str, complaints: &mut Complaints) {
    let extension = file.rsplit('.').next().unwrap_or("");
    let written_by_hand = ["rs", "js", "mjs", "css", "html"].contains(&extension);
    if !written_by_hand {
        if file.ends_with("package-lock.json") && text.contains("\"resolved\"") {
            complaints.push(format!("{file}: holds download addresses"));
        }
        return;
    }
    let lines = text.lines().count();
    if MOST_LINES < lines {
        complaints
            .push(format!("{file}: {lines} lines, more than {MOST_LINES}: split it"));
    }
    let is_source = file.starts_with("crates/") && file.contains("/src/");
    if is_source && extension == "rs" && !text.trim_start().starts_with("//!") {
        complaints.push(format!("{file}: does not say at its top what it is about"));
    }
    for (index, line) in text.lines().enumerate() {
        // Written in two parts, so that this file does not complain about itself.
        let unfinished = [concat!("TO", "DO"), concat!("FIX", "ME"), concat!("XX", "X:")];
        if unfinished.iter().any(|word| line.contains(word)) {
            complaints.push(format!("{file}:{}: left unfinished", index + 1));
        }
        if line.starts_with("<<<<<<<") || line.starts_with(">>>>>>>") {
            complaints.push(format!("{file}:{}: a merge conflict", index + 1));
        }
    }
}

/// Who may depend on whom, development dependencies included.
const MAY_USE: &[(&str, &[&str])] = &[
    ("barewafer-process", &[]),
    ("barewafer-course", &["barewafer-process"]),
    ("barewafer-figures", &["barewafer-process"]),
    ("barewafer-checks", &["barewafer-process"]),
    (
        "barewafer-lab",
        &[
            "barewafer-process",
            "barewafer-course",
            "barewafer-figures",
            "barewafer-checks",
        ],
    ),
    (
        "barewafer-cli",
        &[
            "barewafer-process",
            "barewafer-course",
            "barewafer-figures",
            "barewafer-checks",
        ],
    ),
    (
        "barewafer-tests",
        &[
            "barewafer-process",
            "barewafer-course",
            "barewafer-figures",
            "barewafer-checks",
            "barewafer-lab",
            "barewafer-cli",
        ],
    ),
    ("xtask", &[]),
];

/// Packages that know JavaScript; only the lab does.
const JAVASCRIPT: &[&str] = &[
    "wasm-bindgen",
    "wasm-bindgen-test",
    "js-sys",
    "web-sys",
    "serde-wasm-bindgen",
    "plotters-canvas",
];

fn dependency_graph(complaints: &mut Complaints) -> Result<()> {
    let metadata = metadata(&["--no-deps"])?;
    for package in list(&metadata, "packages") {
        let name = text(package, "name");
        let Some((_, allowed)) = MAY_USE.iter().find(|(known, _)| *known == name) else {
            complaints.push(format!(
                "package {name}: its place in the dependency graph is not agreed"
            ));
            continue;
        };
        for dependency in
            list(package, "dependencies").iter().map(|entry| text(entry, "name"))
        {
            let ours = dependency.starts_with("barewafer-") || dependency == "xtask";
            if ours && !allowed.contains(&dependency) {
                complaints
                    .push(format!("package {name}: must not depend on {dependency}"));
            }
            if JAVASCRIPT.contains(&dependency) && name != "barewafer-lab" {
                complaints.push(format!(
                    "package {name}: only the lab may know JavaScript, not {dependency}"
                ));
            }
        }
    }
    Ok(())
}

/// Licenses under which a dependency may be shipped with a permissively licensed lab.
const LICENSES: &[&str] = &[
    "MIT",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "0BSD",
    "CC0-1.0",
    "ISC",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

fn licenses(complaints: &mut Complaints) -> Result<()> {
    let metadata = metadata(&["--filter-platform", WASM])?;
    for package in list(&metadata, "packages") {
        let license = text(package, "license");
        if !is_allowed(license) {
            let name = text(package, "name");
            complaints
                .push(format!("package {name}: its license `{license}` is not agreed"));
        }
    }
    Ok(())
}

/// Whether one of the alternatives of a license expression is agreed in all its parts.
fn is_allowed(expression: &str) -> bool {
    let flat = expression.replace(['(', ')'], "").replace('/', " OR ");
    flat.split(" OR ")
        .any(|choice| choice.split(" AND ").all(|part| LICENSES.contains(&part.trim())))
}

fn metadata(arguments: &[&str]) -> Result<Value> {
    let mut command = cargo(&["metadata", "--format-version", "1"]);
    serde_json::from_str(&output(command.args(arguments))?).context("cargo metadata")
}

fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    value.get(key).and_then(Value::as_array).map_or(&[], Vec::as_slice)
}

fn text<'a>(value: &'a Value, key: &str) -> &'a str {
    value.get(key).and_then(Value::as_str).unwrap_or("")
}

/// The glue is written by a program that must be of the very version of the library.
fn same_wasm_bindgen(complaints: &mut Complaints) -> Result<()> {
    let library = pinned_version("Cargo.toml", "wasm-bindgen")?;
    let program = pinned_version(WASM_TOOLS, "wasm-bindgen-cli")?;
    if library != program {
        complaints.push(format!(
            "{WASM_TOOLS}: wasm-bindgen-cli {program}, but Cargo.toml has wasm-bindgen {library}"
        ));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn complain(check: impl FnOnce(&mut Complaints)) -> Complaints {
        let mut complaints = Complaints::new();
        check(&mut complaints);
        complaints
    }

    #[test]
    fn strangers_in_the_root_folder_are_named_once() {
        let files =
            ["scratch/a".to_owned(), "scratch/b".to_owned(), "crates/x".to_owned()];
        let complaints = complain(|list| top_level(&files, list));
        assert_eq!(complaints.len(), 1);
        assert!(complaints[0].starts_with("scratch:"));
    }

    #[test]
    fn empty_names_are_found_in_folders_and_files() {
        let files =
            ["crates/a/src/utils.rs".to_owned(), "crates/misc/src/lib.rs".to_owned()];
        assert_eq!(complain(|list| names(&files, list)).len(), 2);
    }

    #[test]
    fn sources_need_a_first_line_and_an_end() {
        let long = format!("//! About it.\n{}", "\n".repeat(MOST_LINES));
        assert_eq!(complain(|list| contents("crates/a/src/b.rs", &long, list)).len(), 1);
        let mute = "fn main() {}\n";
        assert_eq!(complain(|list| contents("crates/a/src/b.rs", mute, list)).len(), 1);
        let unfinished = format!("//! About it.\n// {}: more\n", concat!("TO", "DO"));
        assert_eq!(
            complain(|list| contents("crates/a/src/b.rs", &unfinished, list)).len(),
            1
        );
        let good = "//! About it.\nfn main() {}\n";
        assert!(complain(|list| contents("crates/a/src/b.rs", good, list)).is_empty());
    }

    #[test]
    fn download_addresses_stay_out_of_the_lock_file() {
        let lock = "{\"resolved\": \"https://example.org/a.tgz\"}";
        let complaints =
            complain(|list| contents("tests/browser/package-lock.json", lock, list));
        assert_eq!(complaints.len(), 1);
    }

    #[test]
    fn license_expressions_are_understood() {
        assert!(is_allowed("MIT OR Apache-2.0"));
        assert!(is_allowed("MIT/Apache-2.0"));
        assert!(is_allowed("(MIT OR Apache-2.0) AND Unicode-3.0"));
        assert!(is_allowed("GPL-3.0 OR MIT"));
        assert!(!is_allowed("GPL-3.0"));
        assert!(!is_allowed("MIT AND GPL-3.0"));
        assert!(!is_allowed(""));
    }
}
