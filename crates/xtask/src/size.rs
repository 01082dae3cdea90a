//! How much a visitor has to load, and how much that may be.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail};
use flate2::{Compression, write::GzEncoder};

use crate::families::{FAMILIES, Family};

/// What a file of the site counts as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Kind {
    Script,
    Page,
    Other,
}

impl Kind {
    fn of(file: &Path) -> Self {
        match file.extension().and_then(|extension| extension.to_str()) {
            Some("js" | "mjs") => Self::Script,
            Some("html" | "css") => Self::Page,
            _ => Self::Other,
        }
    }
}

/// The budgets of the first load beside its kernel and that one's glue, in bytes after gzip -9: a phone on a slow
/// line in a lecture hall should show the first bench within a few seconds (model choice).
const SCRIPT_BUDGET: usize = 78_000;
const PAGE_BUDGET: usize = 40_000;
const FIRST_LOAD_BUDGET: usize = 500_000;
/// The Sources place with its lists, loaded when it is opened; the kernel's parts come on top.
const SOURCES_BUDGET: usize = 60_000;

/// The Safety place with the hazard table, loaded when it is opened.
const SAFETY_BUDGET: usize = 60_000;

/// The Run sheet place; its part of the kernel comes on top, and one flow.
const RUN_SHEET_BUDGET: usize = 90_000;

/// All flows that come with the lab, of which a visitor loads one at a time.
const FLOWS_BUDGET: usize = 60_000;

/// What a lecture takes from the Run sheet, loaded piece by piece when it is asked for.
const LECTURE_BUDGET: usize = 18_000;

/// The places with a page of their own, and what only they need: files and folders by name. Where
/// two own a file it is the first one's.
const PLACES: [(&str, usize, &[&str]); 5] = [
    ("lecture", LECTURE_BUDGET, &["handout.js", "ruling.js", "slides.js", "export.js"]),
    (
        "sources",
        SOURCES_BUDGET,
        &["sources.html", "sources.css", "sources", "checks.json", "constants.json"],
    ),
    (
        "run sheet",
        RUN_SHEET_BUDGET,
        &[
            "run-sheet.html",
            "run-sheet.css",
            "run-sheet-compare.css",
            "run-sheet-layout.css",
            "run-sheet-print.css",
            "run-sheet",
        ],
    ),
    ("flows", FLOWS_BUDGET, &["flows"]),
    ("safety", SAFETY_BUDGET, &["safety.html", "safety.css", "safety", "safety.json"]),
];

/// The place with a page of its own that a file belongs to.
fn place_of(file: &Path) -> Option<&'static str> {
    let names: Vec<_> = file.iter().rev().take(3).collect();
    let owns =
        |parts: &[&str]| names.iter().any(|name| parts.iter().any(|p| *name == *p));
    PLACES.iter().find(|(_, _, parts)| owns(parts)).map(|(place, _, _)| *place)
}

/// Bytes of the first load after gzip -9.
pub(crate) fn first_load(site: &Path) -> Result<usize> {
    Ok(sum(&weigh(site)?, |file| file.comes_with_the_page()))
}

/// The budget of the whole first load, in bytes.
pub(crate) const fn first_load_budget() -> usize {
    FIRST_LOAD_BUDGET
}

/// Prints the sizes of a built site and fails if one is above its budget.
pub(crate) fn check_budgets(site: &Path) -> Result<()> {
    let files = weigh(site)?;
    let [first, later @ ..] = &FAMILIES;
    let of_family =
        |family: &Family| sum(&files, |file| file.family == Some(family.name));
    let of_page = |kind: Kind| {
        sum(&files, |file| {
            file.family.is_none() && file.place.is_none() && file.kind == kind
        })
    };
    let mut lines = vec![
        (format!("kernel: {}", first.name), of_family(first), first.budget),
        ("JavaScript".to_owned(), of_page(Kind::Script), SCRIPT_BUDGET),
        ("HTML and CSS".to_owned(), of_page(Kind::Page), PAGE_BUDGET),
        (
            "first load".to_owned(),
            sum(&files, Weighed::comes_with_the_page),
            FIRST_LOAD_BUDGET,
        ),
    ];
    lines.extend(later.iter().map(|family| {
        (format!("later: {}", family.name), of_family(family), family.budget)
    }));
    lines.extend(PLACES.iter().map(|(place, budget, _)| {
        let bytes = sum(&files, |file| file.place == Some(place));
        (format!("later: {place}"), bytes, *budget)
    }));
    println!("size of the site     gzip -9     budget");
    let mut above = Vec::new();
    for (name, bytes, budget) in lines {
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

/// A file of the site and what it weighs.
struct Weighed {
    kind: Kind,
    /// The family whose module it belongs to.
    family: Option<&'static str>,
    /// The place with a page of its own that it belongs to.
    place: Option<&'static str>,
    bytes: usize,
}

impl Weighed {
    fn comes_with_the_page(&self) -> bool {
        let [first, ..] = &FAMILIES;
        self.place.is_none() && self.family.is_none_or(|family| family == first.name)
    }
}

fn sum(files: &[Weighed], counts: impl Fn(&Weighed) -> bool) -> usize {
    files.iter().filter(|file| counts(file)).map(|file| file.bytes).sum()
}

fn weigh(site: &Path) -> Result<Vec<Weighed>> {
    let weigh_one = |file: &PathBuf| {
        let family = FAMILIES.iter().find(|family| family.owns(file));
        Ok(Weighed {
            kind: Kind::of(file),
            family: family.map(|family| family.name),
            place: place_of(file),
            bytes: gzip(file)?,
        })
    };
    files_below(site)?.iter().map(weigh_one).collect()
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
        assert_eq!(Kind::of(Path::new("js/a.js")), Kind::Script);
        assert_eq!(Kind::of(Path::new("css/a.css")), Kind::Page);
        assert_eq!(Kind::of(Path::new("a.json")), Kind::Other);
        for (file, place) in [
            ("sources.html", Some("sources")),
            ("css/sources.css", Some("sources")),
            ("js/sources/main.js", Some("sources")),
            ("data/checks.json", Some("sources")),
            ("js/safety/main.js", Some("safety")),
            ("data/safety.json", Some("safety")),
            ("js/run-sheet/elements/sheet-editor.js", Some("run sheet")),
            ("flows/full-cmos.json", Some("flows")),
            ("js/main.js", None),
        ] {
            assert_eq!(place_of(Path::new(file)), place, "{file}");
        }
    }

    #[test]
    fn a_site_above_a_budget_is_refused_by_name() {
        let folder =
            std::env::temp_dir().join(format!("barewafer-{}", std::process::id()));
        let folder_of_modules = folder.join("pkg");
        fs::create_dir_all(&folder_of_modules).unwrap();
        // Bytes of a multiplicative generator: gzip cannot make them smaller.
        let mut state: u32 = 1;
        let noise: Vec<u8> = (0..500_000)
            .map(|_| {
                state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                state.to_be_bytes()[0]
            })
            .collect();
        fs::write(folder.join("big.js"), &noise[..80_000]).unwrap();
        fs::write(folder_of_modules.join("films_bg.wasm"), &noise[..70_000]).unwrap();
        fs::write(folder_of_modules.join("doping_bg.wasm"), &noise).unwrap();
        let error = check_budgets(&folder).unwrap_err().to_string();
        let first = first_load(&folder).unwrap();
        fs::remove_dir_all(&folder).unwrap();
        assert!(error.contains("JavaScript: 80."), "{error}");
        assert!(error.contains("later: doping: 500."), "{error}");
        assert!(!error.contains("films") && !error.contains("first load"), "{error}");
        assert!((150_000..151_000).contains(&first), "{first}");
    }
}
