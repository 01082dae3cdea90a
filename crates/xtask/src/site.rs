//! Builds the static site: the page, and the lab compiled for the browser.

use std::hash::{DefaultHasher, Hash, Hasher};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::{env, fs};

use anyhow::{Context, Result, bail};

use crate::families::{FAMILIES, Family};
use crate::run::{cargo, command, output, root, run, target_dir};
use crate::scripts;
use crate::size::files_below;
use crate::system;
use crate::tools::{self, WASM};

/// Whether the site must be made as small and fast as it can be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Optimize {
    /// Install what is needed for it.
    Always,
    /// Go on without what is not installed: the lab works the same, a little slower.
    IfPossible,
}

/// Builds the site and returns its folder.
pub(crate) fn build(optimize: Optimize) -> Result<PathBuf> {
    tools::wasm_target()?;
    let mut modules = Vec::new();
    for family in &FAMILIES {
        let module = compile(family)?;
        modules.push((family, write_glue(family, &module, optimize)?));
    }

    let page = root().join("www");
    if !page.join("index.html").is_file() {
        bail!("there is no page at {}", page.display());
    }
    let site = target_dir().join("site");
    if site.exists() {
        fs::remove_dir_all(&site).with_context(|| site.display().to_string())?;
    }
    for file in files_below(&page)? {
        let name = file.strip_prefix(&page).unwrap_or(&file);
        if is_published(name) {
            copy(&file, &site.join(name))?;
        }
    }
    write_data(&site)?;
    for (family, glue) in modules {
        for name in [family.glue(), family.wasm()] {
            copy(&glue.join(&name), &site.join("pkg").join(&name))?;
        }
    }
    let compiler = match optimize {
        Optimize::Always => Some(scripts::compiler()?),
        Optimize::IfPossible => {
            system::installed_node().and_then(|_| scripts::compiler().ok())
        }
    };
    if let Some(compiler) = compiler {
        scripts::strip_comments(&site, compiler)?;
    }
    Ok(site)
}

/// Writes what the Sources place and the Safety place list: the tables of published values as
/// requests, the constants of the kernel, and its hazards, all told by the command.
fn write_data(site: &Path) -> Result<()> {
    let folder = site.join("data");
    fs::create_dir_all(&folder).with_context(|| folder.display().to_string())?;
    for (file, words) in [
        ("checks.json", ["checks", "--rows"]),
        ("constants.json", ["constants", "--json"]),
        ("safety.json", ["hazards", "--json"]),
    ] {
        println!("{file}: asking the command");
        let asked = ["run", "--quiet", "--package", "barewafer-cli", "--"];
        let text = output(cargo(&asked).args(words))?;
        let path = folder.join(file);
        fs::write(&path, text).with_context(|| path.display().to_string())?;
    }
    Ok(())
}

/// Compiles the lab with one family of operations and returns the module.
fn compile(family: &Family) -> Result<PathBuf> {
    // Cargo gives the modules of all families one name and would link them in turn, again and
    // again: each is built in its own folder.
    let folder = target_dir().join("families").join(family.name);
    // The module alone, without the Rust library beside it: only then the compiler optimizes
    // over all crates at once.
    let mut build =
        cargo(&["rustc", "--profile", "page", "--lib", "--crate-type", "cdylib"]);
    if family.fast {
        for package in ["barewafer-process", "barewafer-figures", "serde_json"] {
            let level = format!("profile.page.package.{package}.opt-level=3");
            build.arg("--config").arg(level);
        }
    }
    build.args(["--package", "barewafer-lab", "--target", WASM]);
    build.args(["--no-default-features", "--features", family.name]);
    build.arg("--target-dir").arg(&folder);
    let mut flags = anonymous_paths()?;
    if family.fast {
        // Two numbers at a time, with the same bits: every browser since 2023 has it.
        flags.push_str("\u{1f}-Ctarget-feature=+simd128");
    }
    run(build.env("CARGO_ENCODED_RUSTFLAGS", flags))?;
    Ok(folder.join(WASM).join("page/barewafer_lab.wasm"))
}

/// Compiler flags that shorten the source paths in panic messages: where a machine keeps its
/// files is nobody's business, and the same sources give the same file everywhere.
fn anonymous_paths() -> Result<String> {
    let mut flags = vec![format!("--remap-path-prefix={}=", root().display())];
    let cargo_home = env::var_os("CARGO_HOME")
        .map(PathBuf::from)
        .or_else(|| env::home_dir().map(|home| home.join(".cargo")));
    let sources = cargo_home.map(|home| home.join("registry/src"));
    if let Some(registries) = sources.and_then(|folder| fs::read_dir(folder).ok()) {
        for registry in registries {
            flags.push(format!("--remap-path-prefix={}=", registry?.path().display()));
        }
    }
    flags.sort();
    // The separator that cargo wants, so that a folder may have a space in its name.
    Ok(flags.join("\u{1f}"))
}

/// Writes glue and the final wasm file of a family, unless they are there already.
fn write_glue(family: &Family, module: &Path, optimize: Optimize) -> Result<PathBuf> {
    let tools = tools::wasm_tools()?;
    let folder = target_dir().join("glue").join(family.name);
    let optimizer = match optimize {
        Optimize::Always => Some(tools::wasm_opt()?),
        Optimize::IfPossible => tools::wasm_opt_if_possible(),
    };
    let key = key(module, &tools.glue, optimizer.as_ref())?;
    let key_file = folder.join("built-from");
    if fs::read_to_string(&key_file).is_ok_and(|known| known == key) {
        return Ok(folder);
    }
    if folder.exists() {
        fs::remove_dir_all(&folder).with_context(|| folder.display().to_string())?;
    }
    println!("{}: writing the JavaScript glue", family.name);
    output(
        command(&tools.glue)
            .args(["--target", "web", "--no-typescript"])
            .args(["--out-name", family.name, "--out-dir"])
            .arg(&folder)
            .arg(module),
    )?;
    let wasm = folder.join(family.wasm());
    match optimizer {
        Some(mut optimizer) => {
            println!("{}: optimizing the wasm file", family.name);
            // By name, functions made from one generic stand together and compress better.
            let level = if family.fast { "-O3" } else { "-Oz" };
            // A function with one caller is not put into it however large it is: engines compile
            // what is used often in the background, and take long over a huge function.
            let whole = ["--one-caller-inline-max-function-size", "200"];
            let passes = [level, "--converge", "--reorder-functions-by-name"];
            output(optimizer.args(whole).args(passes).arg(&wasm).arg("-o").arg(&wasm))?;
        }
        None => println!(
            "note: neither Node nor wasm-opt is here, so the wasm file stays as the compiler \
             made it: larger, a little slower, with the same results"
        ),
    }
    fs::write(&key_file, key).with_context(|| key_file.display().to_string())?;
    Ok(folder)
}

/// A text that changes when the input or a tool does.
fn key(module: &Path, glue: &Path, optimizer: Option<&Command>) -> Result<String> {
    let mut hasher = DefaultHasher::new();
    for file in [module, glue] {
        fs::read(file).with_context(|| file.display().to_string())?.hash(&mut hasher);
    }
    let lock = root().join("tests/browser/package-lock.json");
    fs::read(&lock).with_context(|| lock.display().to_string())?.hash(&mut hasher);
    Ok(format!("{:016x} {optimizer:?}", hasher.finish()))
}

/// Whether a file of `www` belongs on the site: settings of development tools do not.
fn is_published(name: &Path) -> bool {
    let hidden = name.iter().any(|part| {
        part.to_string_lossy().starts_with('.')
            || part == "node_modules"
            || part == "types"
    });
    let file = name.file_name().map(|name| name.to_string_lossy().into_owned());
    let file = file.unwrap_or_default();
    let for_tools = ["tsconfig.json", "package.json", "package-lock.json"];
    !hidden
        && !for_tools.contains(&file.as_str())
        && !file.ends_with(".md")
        && !file.ends_with(".d.ts")
}

/// Copies a file and makes the folder it goes to.
pub(crate) fn copy(from: &Path, to: &Path) -> Result<()> {
    if let Some(folder) = to.parent() {
        fs::create_dir_all(folder).with_context(|| folder.display().to_string())?;
    }
    fs::copy(from, to).with_context(|| {
        format!("could not copy {} to {}", from.display(), to.display())
    })?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_page_is_published() {
        for name in ["index.html", "js/lab.js", "css/page.css", "exercises/furnace.json"]
        {
            assert!(is_published(Path::new(name)), "{name}");
        }
        for name in
            ["tsconfig.json", ".prettierrc", "types/lab.d.ts", "js/lab.d.ts", "README.md"]
        {
            assert!(!is_published(Path::new(name)), "{name}");
        }
    }
}
