//! How fast each matter of a section goes.

use super::super::{Matter, Section};
use crate::vocabulary::Material;

/// Etch rates in nm/min of the matters of a section.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rates {
    pairs: Vec<(Matter, f64)>,
}

impl Rates {
    /// Asks `rate_nm_min` once for every film of the section, and for silicon. A rate that is
    /// not above 0 is none.
    #[must_use]
    pub fn new(section: &Section, mut rate_nm_min: impl FnMut(Matter) -> f64) -> Self {
        let mut pairs: Vec<(Matter, f64)> = Vec::new();
        let mut ask = |matter: Matter| {
            if !matter.is_open() && pairs.iter().all(|(known, _)| *known != matter) {
                let rate = rate_nm_min(matter);
                let is_rate = rate.is_finite() && 0.0 < rate;
                pairs.push((matter, if is_rate { rate } else { 0.0 }));
            }
        };
        ask(Matter::of(Material::Silicon));
        for i in 0..section.columns() {
            for layer in section.layers(i) {
                ask(layer.matter);
            }
        }
        Self { pairs }
    }

    /// Rate of a matter in nm/min; 0 for one that was not asked.
    #[must_use]
    pub fn nm_min(&self, matter: Matter) -> f64 {
        self.pairs.iter().find(|(known, _)| *known == matter).map_or(0.0, |(_, r)| *r)
    }

    /// The fastest one in nm/min.
    #[must_use]
    pub fn fastest_nm_min(&self) -> f64 {
        self.pairs.iter().fold(0.0, |fastest, (_, rate)| rate.max(fastest))
    }

    /// All of them multiplied.
    #[must_use]
    pub(super) fn times(&self, factor: f64) -> Self {
        Self { pairs: self.pairs.iter().map(|&(m, rate)| (m, factor * rate)).collect() }
    }
}
