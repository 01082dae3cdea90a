//! The whole gate, stage by stage: the same here, on a developer's machine and in CI.

use std::path::PathBuf;
use std::process::Command;

use anyhow::{Context, Result, bail};

use crate::families::{FAMILIES, Family};
use crate::run::{Stopwatch, cargo, command, run, target_dir};
use crate::tools::{self, WASM, WASM_TOOLS};
use crate::{npm, site, size, system, tidy};

/// One part of the gate.
struct Stage {
    name: &'static str,
    what: &'static str,
    run: fn() -> Result<()>,
}

/// All stages: the quick ones first, so that a slip shows early.
const STAGES: &[Stage] = &[
    Stage {
        name: "tidy",
        what: "files, dependencies and licenses are as agreed",
        run: tidy::tidy,
    },
    Stage { name: "format", what: "Rust is formatted", run: format },
    Stage { name: "clippy", what: "no lint, natively and for the browser", run: clippy },
    Stage {
        name: "native",
        what: "unit, property, reference and doc tests",
        run: native,
    },
    Stage { name: "docs", what: "the documentation builds without a warning", run: docs },
    Stage { name: "release", what: "the kernel's tests as it ships", run: release },
    Stage { name: "wasm", what: "the lab's tests in a browser, bit for bit", run: wasm },
    Stage {
        name: "site",
        what: "the site builds within its size budget",
        run: build_site,
    },
    Stage { name: "page", what: "the page's scripts: types and format", run: page },
    Stage {
        name: "browser",
        what: "the built lab, used in a real browser",
        run: browser,
    },
];

/// The stages as lines of the help text.
pub(crate) fn stage_list() -> String {
    let lines: Vec<String> = STAGES
        .iter()
        .map(|stage| format!("  {:<9} {}\n", stage.name, stage.what))
        .collect();
    format!("Stages of `test`:\n\n{}", lines.concat())
}

/// Runs the named stages, or all.
pub(crate) fn test(names: &[String]) -> Result<()> {
    if let Some(unknown) =
        names.iter().find(|name| STAGES.iter().all(|stage| stage.name != **name))
    {
        bail!("there is no stage `{unknown}`\n\n{}", stage_list());
    }
    let mut lines = Vec::new();
    let mut failed = Vec::new();
    for stage in STAGES {
        if !names.is_empty() && !names.iter().any(|name| name == stage.name) {
            continue;
        }
        println!("\n=== {}: {}", stage.name, stage.what);
        let watch = Stopwatch::start();
        let outcome = (stage.run)();
        let seconds = watch.elapsed().as_secs_f64();
        let word = if outcome.is_ok() { "ok" } else { "FAILED" };
        if let Err(error) = outcome {
            println!("\n{}: {error:#}", stage.name);
            failed.push(stage.name);
        }
        let line = format!("{:<9} {word:<6} {seconds:>7.1} s", stage.name);
        println!("--- {line}");
        lines.push(line);
    }
    println!("\n{}\n", lines.join("\n"));
    println!("stages: {} passed, {} failed", lines.len() - failed.len(), failed.len());
    if failed.is_empty() { Ok(()) } else { bail!("failed: {}", failed.join(", ")) }
}

fn format() -> Result<()> {
    run(&mut cargo(&["fmt", "--all", "--check"]))?;
    run(&mut cargo(&["fmt", "--check", "--manifest-path", WASM_TOOLS]))
}

fn clippy() -> Result<()> {
    run(&mut cargo(&[
        "clippy",
        "--workspace",
        "--all-targets",
        "--",
        "--deny",
        "warnings",
    ]))?;
    tools::wasm_target()?;
    let for_page = ["clippy", "--package", "barewafer-lab", "--target", WASM];
    let deny = ["--", "--deny", "warnings"];
    run(cargo(&for_page).arg("--all-targets").args(deny))?;
    // Each family alone, as the page gets it.
    for family in &FAMILIES {
        let alone = ["--no-default-features", "--features", family.name];
        run(cargo(&for_page).args(alone).args(deny))?;
    }
    Ok(())
}

fn native() -> Result<()> {
    // Every test of the workspace, the examples in the documentation among them.
    run(&mut cargo(&["test", "--workspace", "--no-fail-fast"]))
}

fn docs() -> Result<()> {
    let mut doc = cargo(&["doc", "--workspace", "--no-deps"]);
    run(doc.env("RUSTDOCFLAGS", "--deny warnings"))
}

fn release() -> Result<()> {
    // Optimized and without debug assertions: what people use is tested too.
    run(&mut cargo(&[
        "test",
        "--profile",
        "testrelease",
        "--package",
        "barewafer-process",
        "--package",
        "barewafer-tests",
        "--lib",
        "--tests",
        "--no-fail-fast",
    ]))
}

fn wasm() -> Result<()> {
    tools::wasm_target()?;
    let runner = tools::wasm_tools()?.test_runner;
    let settings = target_dir().join("webdriver.json");
    std::fs::create_dir_all(target_dir())?;
    std::fs::write(&settings, system::webdriver_settings(&system::chromium()?))
        .with_context(|| settings.display().to_string())?;
    let mut tests = cargo(&[
        "test",
        "--package",
        "barewafer-lab",
        "--target",
        WASM,
        "--lib",
        "--tests",
        "--no-fail-fast",
    ]);
    run(tests
        .env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUNNER", runner)
        .env("CHROMEDRIVER", system::chromedriver()?)
        .env("WASM_BINDGEN_USE_BROWSER", "1")
        .env("WASM_BINDGEN_TEST_WEBDRIVER_JSON", settings))
}

fn build_site() -> Result<()> {
    let folder = site::build(site::Optimize::Always)?;
    size::check_budgets(&folder)
}

fn page() -> Result<()> {
    for project in ["www/tsconfig.json", "tests/browser/tsconfig.json"] {
        run(npm::tool("typescript/bin/tsc")?.args(["--project", project]))?;
    }
    run(npm::tool("prettier/bin/prettier.cjs")?.args([
        "--check",
        "--log-level=warn",
        "--config=tests/browser/.prettierrc.json",
        "www/**/*.{js,css,html}",
        "tests/browser/*.mjs",
    ]))
}

fn browser() -> Result<()> {
    let site = target_dir().join("site");
    let is_built = |family: &Family| site.join("pkg").join(family.wasm()).is_file();
    if !FAMILIES.iter().all(is_built) {
        site::build(site::Optimize::Always)?;
    }
    let mut files: Vec<PathBuf> = std::fs::read_dir(npm::folder())?
        .filter_map(|entry| entry.ok().map(|entry| entry.path()))
        .filter(|file| file.to_string_lossy().ends_with(".test.mjs"))
        .collect();
    files.sort();
    if files.is_empty() {
        bail!("there is no browser test in tests/browser");
    }
    let mut node = browser_script()?;
    // One at a time: on a small machine, browsers side by side would time each other out.
    run(node.args(["--test", "--test-concurrency=1", "--test-reporter=spec"]).args(files))
}

/// Node, told where the built site and the browser are.
pub(crate) fn browser_script() -> Result<Command> {
    let mut node = command(npm::ready()?);
    node.env("BAREWAFER_CHROMIUM", system::chromium()?)
        .env("BAREWAFER_CHROMIUM_FLAGS", system::CHROMIUM_FLAGS.join(" "))
        .env("BAREWAFER_SITE", target_dir().join("site"))
        .env("BAREWAFER_OUT", target_dir().join("browser"));
    Ok(node)
}

/// Writes the golden files anew: the test that compares with them writes them instead.
pub(crate) fn bless() -> Result<()> {
    let mut tests = cargo(&["test", "--package", "barewafer-lab", "--test", "parity"]);
    run(tests.env("BLESS", "1"))?;
    println!("\nthe golden files are written; review what changed:");
    run(command("git").args(["status", "--short", "--", "tests/golden"]))
}
