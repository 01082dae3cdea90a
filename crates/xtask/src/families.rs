//! The families of operations: each is built as a module of its own, which the page loads when
//! it first needs it.

use std::path::Path;

/// A family: a feature of the lab and its crates, and the module that is built with it alone.
pub(crate) struct Family {
    /// Name of the feature, and of the module's files.
    pub(crate) name: &'static str,
    /// Bytes that the module and its glue may have after gzip -9.
    pub(crate) budget: usize,
    /// Whether it is compiled for speed rather than for size: a single request takes a moment
    /// either way, a whole flow does not.
    pub(crate) fast: bool,
}

/// All families. The first one comes with the page, the others when a bench of theirs is
/// opened: the budgets are what a phone on a slow line can wait for (model choice).
pub(crate) const FAMILIES: [Family; 5] = [
    Family { name: "films", budget: 380_000, fast: false },
    Family { name: "etching", budget: 400_000, fast: false },
    // 3 kB above the round number: the hazard table's flash points, boiling points and first aid
    // of corrosive gases come with every bench.
    Family { name: "lithography", budget: 423_000, fast: false },
    // 6 kB above the round number: the known mistakes of a furnace's settings (hydrogen below its
    // ignition, hydrogen after oxygen) stand on the Diffusion tube.
    Family { name: "doping", budget: 486_000, fast: false },
    // Of the Run sheet place: the engine of whole flows.
    Family { name: "wafer", budget: 640_000, fast: true },
];

impl Family {
    /// Name of its JavaScript glue.
    pub(crate) fn glue(&self) -> String {
        format!("{}.js", self.name)
    }

    /// Name of its compiled module.
    pub(crate) fn wasm(&self) -> String {
        format!("{}_bg.wasm", self.name)
    }

    /// Whether a file of the site is a part of it.
    pub(crate) fn owns(&self, file: &Path) -> bool {
        let name = file.file_name().map(|name| name.to_string_lossy().into_owned());
        let folder = file.parent().and_then(Path::file_name);
        folder.is_some_and(|folder| folder == "pkg")
            && name.is_some_and(|name| name == self.glue() || name == self.wasm())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::run::root;
    use std::fs;

    #[test]
    fn the_crates_have_these_families_and_no_others() {
        let mut expected: Vec<&str> = FAMILIES.iter().map(|family| family.name).collect();
        expected.sort_unstable();
        for name in ["process", "figures", "course", "lab", "checks"] {
            let manifest = root().join(format!("crates/{name}/Cargo.toml"));
            let text = fs::read_to_string(&manifest).unwrap();
            let line = text.lines().find_map(|line| line.strip_prefix("default = ["));
            let mut found: Vec<&str> = line
                .unwrap()
                .trim_end_matches(']')
                .split(", ")
                .map(|word| word.trim_matches('"'))
                .collect();
            found.sort_unstable();
            assert_eq!(found, expected, "{name}");
        }
    }

    #[test]
    fn every_bench_of_the_page_has_a_family() {
        let benches = fs::read_to_string(root().join("www/js/benches.js")).unwrap();
        let named = |family: &Family| format!("family: \"{}\"", family.name);
        let count: usize =
            FAMILIES.iter().map(|family| benches.matches(&named(family)).count()).sum();
        assert!(0 < count);
        assert_eq!(count, benches.matches("family: \"").count());
        let [first, ..] = &FAMILIES;
        let first_bench = benches.find("family: \"").unwrap();
        assert!(benches[first_bench..].starts_with(&named(first)), "the page's first");
    }

    #[test]
    fn a_family_owns_its_two_files() {
        let [films, _, doping, ..] = &FAMILIES;
        assert!(films.owns(Path::new("site/pkg/films.js")));
        assert!(films.owns(Path::new("site/pkg/films_bg.wasm")));
        assert!(!doping.owns(Path::new("site/pkg/films_bg.wasm")));
        assert!(!films.owns(Path::new("site/js/films.js")));
    }
}
