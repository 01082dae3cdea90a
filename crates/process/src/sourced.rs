//! The constants of the kernel as a list to read: name, value, unit, source, validity, and how
//! each is known. Every module lists its own from the values that it computes with.

use serde::Serialize;

use crate::{cleaning, color, deposition, diffusion, electrical, etching, implantation};
use crate::{constants, flow, lithography, oxidation, polishing, wafer};

/// A constant that the kernel computes with.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Constant {
    /// The module of the kernel that uses it.
    pub module: &'static str,
    /// The bench of the page that it belongs to; empty if to all.
    pub bench: &'static str,
    /// What it is.
    pub name: String,
    /// Its value.
    pub value: f64,
    /// Its unit, empty for a plain number.
    pub unit: &'static str,
    /// Where it holds, and how well.
    pub validity: &'static str,
    /// Where it was published.
    pub source: String,
    /// How it is known: `read`, `memory`, `common practice`, `derived`, `computed`,
    /// `model choice`, with what there is to say about it.
    pub known_by: &'static str,
    /// The first of these words.
    pub kind: &'static str,
}

/// Every listed constant, module by module.
#[must_use]
pub fn all() -> Vec<Constant> {
    let mut list = List { constants: Vec::new(), module: "", bench: "" };
    constants::list(list.of("constants", ""));
    oxidation::list(list.of("oxidation", "furnace"));
    color::list(list.of("color", "furnace"));
    lithography::list(list.of("lithography", "spinner"));
    etching::list(list.of("etching", "wet-bench"));
    cleaning::list(list.of("cleaning", "wet-bench"));
    polishing::list(list.of("polishing", "polisher"));
    deposition::list(list.of("deposition", "deposition"));
    diffusion::list(list.of("diffusion", "diffusion-tube"));
    electrical::list(list.of("electrical", "four-point"));
    implantation::list(list.of("implantation", "implanter"));
    wafer::list(list.of("wafer", ""));
    flow::list(list.of("flow", ""));
    list.constants
}

/// The list while it is being written.
pub(crate) struct List {
    constants: Vec<Constant>,
    module: &'static str,
    bench: &'static str,
}

impl List {
    /// What follows belongs to this module and bench.
    pub(crate) fn of(&mut self, module: &'static str, bench: &'static str) -> &mut Self {
        self.module = module;
        self.bench = bench;
        self
    }

    /// What follows belongs to another bench of the same module.
    pub(crate) fn bench(&mut self, bench: &'static str) {
        self.bench = bench;
    }

    /// Constants of one source.
    pub(crate) fn source(
        &mut self,
        source: impl Into<String>,
        known_by: &'static str,
        validity: &'static str,
    ) -> FromSource<'_> {
        FromSource { list: self, source: source.into(), known_by, validity }
    }
}

/// Where the constants that follow come from.
pub(crate) struct FromSource<'a> {
    list: &'a mut List,
    source: String,
    known_by: &'static str,
    validity: &'static str,
}

impl FromSource<'_> {
    /// Adds one.
    pub(crate) fn add(
        self,
        name: impl Into<String>,
        value: f64,
        unit: &'static str,
    ) -> Self {
        self.list.constants.push(Constant {
            module: self.list.module,
            bench: self.list.bench,
            name: name.into(),
            value,
            unit,
            validity: self.validity,
            source: self.source.clone(),
            known_by: self.known_by,
            kind: kind_of(self.known_by),
        });
        self
    }

    /// Adds prefactor and energy of an Arrhenius law.
    pub(crate) fn arrhenius(
        self,
        name: &str,
        prefactor: f64,
        unit: &'static str,
        energy_ev: f64,
    ) -> Self {
        self.add(format!("{name}, prefactor"), prefactor, unit).add(
            format!("{name}, activation energy"),
            energy_ev,
            "eV",
        )
    }
}

/// The first of the words for how something is known.
fn kind_of(known_by: &str) -> &'static str {
    ["read", "memory", "common practice", "derived", "computed", "model choice"]
        .into_iter()
        .filter_map(|kind| known_by.find(kind).map(|at| (at, kind)))
        .min()
        .map_or("", |(_, kind)| kind)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_constant_has_a_source_and_a_kind_and_a_name_of_its_own() {
        let all = all();
        assert!(150 < all.len(), "{}", all.len());
        for constant in &all {
            assert!(
                !constant.kind.is_empty() && !constant.source.is_empty(),
                "{constant:?}"
            );
            assert!(constant.value.is_finite(), "{constant:?}");
        }
        let mut names: Vec<_> =
            all.iter().map(|one| (one.module, one.bench, &one.name)).collect();
        names.sort_unstable();
        for pair in names.windows(2) {
            assert_ne!(pair[0], pair[1], "listed twice");
        }
    }
}
