//! How much a visitor has to load, and how much that may be.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail};
use flate2::{Compression, write::GzEncoder};

/// What a file of the site counts as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Wasm,
    Script,
    Page,
    Other,
}

impl Kind {
    fn of(file: &Path) -> Self {
        match file.extension().and_then(|extension| extension.to_str()) {
            Some("wasm") => Self::Wasm,
            Some("js" | "mjs") => Self::Script,
            Some("html" | "css") => Self::Page,
            _ => Self::Other,
        }
    }
}

/// The budgets of the first load, in bytes after gzip -9: a phone on a slow line in a
/// lecture hall should show the first bench within a few seconds (model choice).
const BUDGETS: [(&str, Option<Kind>, usize); 4] = [
    ("kernel (wasm)", Some(Kind::Wasm), 440_000),
    ("JavaScript", Some(Kind::Script), 60_000),
    ("HTML and CSS", Some(Kind::Page), 40_000),
    ("everything", None, 500_000),
];

/// Bytes of all files after gzip -9.
pub(crate) fn total_gzip(site: &Path) -> Result<usize> {
    Ok(weigh(site)?.iter().map(|(_, bytes)| bytes).sum())
}

/// The budget of the whole first load, in bytes.
pub(crate) const fn total_budget() -> usize {
    BUDGETS[3].2
}

/// Prints the sizes of a built site and fails if one is above its budget.
pub(crate) fn check_budgets(site: &Path) -> Result<()> {
    let files = weigh(site)?;
    println!("size of the site     gzip -9     budget");
    let mut above = Vec::new();
    for (name, kind, budget) in BUDGETS {
        let bytes: usize = files
            .iter()
            .filter(|(file, _)| kind.is_none_or(|kind| kind == *file))
            .map(|(_, bytes)| bytes)
            .sum();
        println!("  {name:<15} {:>9} kB {:>7} kB", kilobytes(bytes), budget / 1000);
        if budget < bytes {
            above.push(format!(
                "{name}: {} kB of {} kB",
                kilobytes(bytes),
                budget / 1000
            ));
        }
    }
    if above.is_empty() {
        Ok(())
    } else {
        bail!("above the size budget: {}", above.join("; "))
    }
}

/// Bytes as kilobytes with one decimal.
fn kilobytes(bytes: usize) -> String {
    format!("{}.{}", bytes / 1000, bytes % 1000 / 100)
}

fn weigh(site: &Path) -> Result<Vec<(Kind, usize)>> {
    files_below(site)?.iter().map(|file| Ok((Kind::of(file), gzip(file)?))).collect()
}

fn gzip(file: &Path) -> Result<usize> {
    let bytes = fs::read(file).with_context(|| file.display().to_string())?;
    let mut encoder = GzEncoder::new(Vec::new(), Compression::best());
    encoder.write_all(&bytes)?;
    Ok(encoder.finish()?.len())
}

/// All files in a folder and the folders below it, sorted.
pub(crate) fn files_below(folder: &Path) -> Result<Vec<PathBuf>> {
    let mut files = Vec::new();
    let mut folders = vec![folder.to_path_buf()];
    while let Some(folder) = folders.pop() {
        let entries =
            fs::read_dir(&folder).with_context(|| folder.display().to_string())?;
        for entry in entries {
            let path = entry?.path();
            if path.is_dir() {
                folders.push(path);
            } else {
                files.push(path);
            }
        }
    }
    files.sort();
    Ok(files)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_count_as_what_they_are() {
        assert_eq!(Kind::of(Path::new("pkg/a_bg.wasm")), Kind::Wasm);
        assert_eq!(Kind::of(Path::new("js/a.js")), Kind::Script);
        assert_eq!(Kind::of(Path::new("css/a.css")), Kind::Page);
        assert_eq!(Kind::of(Path::new("a.json")), Kind::Other);
    }

    #[test]
    fn a_site_above_a_budget_is_refused_by_name() {
        let folder =
            std::env::temp_dir().join(format!("barewafer-{}", std::process::id()));
        fs::create_dir_all(&folder).unwrap();
        // Bytes of a multiplicative generator: gzip cannot make them smaller.
        let mut state: u32 = 1;
        let noise: Vec<u8> = (0..70_000)
            .map(|_| {
                state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                state.to_be_bytes()[0]
            })
            .collect();
        fs::write(folder.join("big.js"), noise).unwrap();
        let error = check_budgets(&folder).unwrap_err().to_string();
        fs::remove_dir_all(&folder).unwrap();
        assert!(error.contains("JavaScript: 70."), "{error}");
        assert!(!error.contains("everything"), "{error}");
    }
}
