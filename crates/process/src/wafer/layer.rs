//! What lies on the silicon of one column.

use crate::etching::Film;
use crate::vocabulary::{Dopant, Material};

/// Number of dopants that a layer can hold: those of the vocabulary, in its order.
pub const DOPANTS: usize = Dopant::ALL.len();

/// Layers thinner than this do not exist, in nm.
pub(super) const THINNEST_NM: f64 = 1e-6;

/// What fills a piece of space above the silicon.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Matter {
    /// Nothing: gas or vacuum.
    Open,
    /// A film, and how it was made.
    Film(Film),
}

impl Matter {
    /// A material made in the usual way.
    #[must_use]
    pub fn of(material: Material) -> Self {
        Self::Film(Film::usual(material))
    }

    /// The material; none for open space.
    #[must_use]
    pub const fn material(self) -> Option<Material> {
        match self {
            Self::Open => None,
            Self::Film(film) => Some(film.material),
        }
    }

    /// True for open space.
    #[must_use]
    pub const fn is_open(self) -> bool {
        matches!(self, Self::Open)
    }

    /// True for any oxide of silicon, glass included.
    #[must_use]
    pub const fn is_oxide(self) -> bool {
        matches!(
            self.material(),
            Some(
                Material::ThermalOxide
                    | Material::DepositedOxide
                    | Material::PhosphorusGlass
            )
        )
    }
}

/// One layer of a column.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layer {
    /// What it is made of.
    pub matter: Matter,
    /// Height of its upper face above the original surface in nm.
    pub top_nm: f64,
    /// Dopants in it per cm3, uniform in this layer of this column, in the vocabulary's order.
    pub dopants_cm3: [f64; DOPANTS],
}

impl Layer {
    /// A layer without dopants.
    #[must_use]
    pub const fn new(matter: Matter, top_nm: f64) -> Self {
        Self { matter, top_nm, dopants_cm3: [0.0; DOPANTS] }
    }
}

/// The layers of a column from the silicon up.
pub type Stack = Vec<Layer>;

/// Puts a stack in order: removes layers that have no thickness, open space on top, and the
/// border between equal neighbors, whose dopants are averaged by thickness.
pub(super) fn tidied(bottom_nm: f64, layers: &[Layer]) -> Stack {
    let mut stack: Stack = Vec::with_capacity(layers.len());
    // Lower faces of the last kept layer and of the layer at hand.
    let mut last_floor_nm = bottom_nm;
    let mut floor_nm = bottom_nm;
    for layer in layers {
        if layer.top_nm - floor_nm < THINNEST_NM {
            continue;
        }
        match stack.last_mut() {
            Some(below) if below.matter == layer.matter => {
                let whole_nm = layer.top_nm - last_floor_nm;
                let share = (layer.top_nm - floor_nm) / whole_nm;
                for (kept, added) in below.dopants_cm3.iter_mut().zip(layer.dopants_cm3) {
                    *kept += share * (added - *kept);
                }
                below.top_nm = layer.top_nm;
            }
            _ => {
                last_floor_nm = floor_nm;
                stack.push(*layer);
            }
        }
        floor_nm = layer.top_nm;
    }
    while stack.last().is_some_and(|layer| layer.matter.is_open()) {
        stack.pop();
    }
    stack
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(material: Material, top_nm: f64, boron_cm3: f64) -> Layer {
        let mut layer = Layer::new(Matter::of(material), top_nm);
        layer.dopants_cm3[0] = boron_cm3;
        layer
    }

    #[test]
    fn equal_neighbors_become_one_and_keep_their_dopants() {
        let stack = tidied(
            -100.0,
            &[
                of(Material::ThermalOxide, 0.0, 1e18),
                of(Material::ThermalOxide, 300.0, 5e17),
                of(Material::Nitride, 300.0, 0.0),
                of(Material::Resist, 900.0, 0.0),
                Layer::new(Matter::Open, 1200.0),
            ],
        );
        assert_eq!(stack.len(), 2);
        assert!((stack[0].top_nm - 300.0).abs() < 1e-12);
        // 100 nm at 1e18 and 300 nm at 5e17.
        assert!((stack[0].dopants_cm3[0] / 6.25e17 - 1.0).abs() < 1e-12);
        assert_eq!(stack[1].matter.material(), Some(Material::Resist));
    }
}
