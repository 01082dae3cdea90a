//! What the ions fly through: atoms, how dense they lie, and layers of them.

use super::electronic::cross_section_ev_nm2;
use super::potential::{COULOMB_EV_NM, screening_length_nm};
use crate::constants::AVOGADRO;
use crate::implantation::ranges::TargetKind;
use crate::num::cbrt;
use crate::vocabulary::{Dopant, Material};

/// An atom.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Element {
    /// Atomic number.
    pub(super) number: f64,
    /// Mass in atomic mass units.
    pub(super) mass_u: f64,
}

/// Standard atomic weights (IUPAC; memory).
pub(super) const HYDROGEN: Element = Element { number: 1.0, mass_u: 1.008 };
pub(super) const CARBON: Element = Element { number: 6.0, mass_u: 12.011 };
pub(super) const NITROGEN: Element = Element { number: 7.0, mass_u: 14.007 };
pub(super) const OXYGEN: Element = Element { number: 8.0, mass_u: 15.999 };
pub(super) const ALUMINUM: Element = Element { number: 13.0, mass_u: 26.982 };
pub(super) const SILICON: Element = Element { number: 14.0, mass_u: 28.086 };

/// The atom in the beam: the isotope that a mass analyzer lets through (atomic mass tables;
/// memory).
pub(super) const fn projectile(dopant: Dopant) -> Element {
    match dopant {
        Dopant::Boron => Element { number: 5.0, mass_u: 11.009 },
        Dopant::Phosphorus => Element { number: 15.0, mass_u: 30.974 },
        Dopant::Arsenic => Element { number: 33.0, mass_u: 74.922 },
        Dopant::Antimony => Element { number: 51.0, mass_u: 120.904 },
        Dopant::Indium => Element { number: 49.0, mass_u: 114.904 },
        Dopant::Gallium => Element { number: 31.0, mass_u: 68.926 },
        Dopant::Aluminum => ALUMINUM,
    }
}

/// Density in g/cm3 and the atoms of a formula unit.
///
/// The densities are those of the computed range tables: amorphous silicon as the crystal, grown
/// oxide, nitride from a hot furnace, baked resist (C8H8O), evaporated aluminum (textbook values;
/// memory).
pub(super) fn composition(material: Material) -> (f64, &'static [(Element, f64)]) {
    match TargetKind::of(material) {
        TargetKind::Silicon => (2.329, &[(SILICON, 1.0)]),
        TargetKind::Oxide => (2.27, &[(SILICON, 1.0), (OXYGEN, 2.0)]),
        TargetKind::Nitride => (3.10, &[(SILICON, 3.0), (NITROGEN, 4.0)]),
        TargetKind::Resist => (1.20, &[(CARBON, 8.0), (HYDROGEN, 8.0), (OXYGEN, 1.0)]),
        TargetKind::Aluminum => (2.70, &[(ALUMINUM, 1.0)]),
    }
}

/// What a collision with one kind of atom needs to know.
#[derive(Clone, Copy, Debug)]
pub(super) struct Partner {
    /// Share of the atoms that are of this kind or of one before it: the last has 1.
    pub(super) up_to: f64,
    /// Reduced energy per eV.
    pub(super) reduced_energy_per_ev: f64,
    /// One over the screening length in nm.
    pub(super) per_screening_length: f64,
    /// Largest share of the energy that is handed over: `4 M1 M2/(M1 + M2)^2`.
    pub(super) handed_over: f64,
    /// Mass of the ion over that of the partner.
    pub(super) mass_ratio: f64,
}

/// A material as an ion of one kind sees it.
#[derive(Clone, Debug)]
pub(super) struct Stopping {
    pub(super) partners: Vec<Partner>,
    /// Atoms per nm3.
    pub(super) atoms_nm3: f64,
    /// Way from collision to collision in nm: the cube root of the volume of an atom.
    pub(super) free_path_nm: f64,
    /// Largest impact parameter in nm: each way sweeps the volume of one atom.
    pub(super) widest_impact_nm: f64,
    /// Loss to electrons in eV/nm at an energy of 1 eV.
    pub(super) electronic_ev_nm: f64,
}

impl Stopping {
    /// # Model
    /// J. P. Biersack, L. G. Haggmark, Nucl. Instrum. Methods 174, 257 (1980) (memory): one
    /// collision per atomic volume. In a compound the partner is drawn by its share of the atoms
    /// and the losses to electrons add up (W. H. Bragg, R. Kleeman 1905; memory).
    pub(super) fn new(ion: Dopant, material: Material) -> Self {
        let own = projectile(ion);
        let (density_g_cm3, formula) = composition(material);
        let atoms: f64 = formula.iter().map(|(_, n)| n).sum();
        let mass_u: f64 = formula.iter().map(|(element, n)| n * element.mass_u).sum();
        let atoms_nm3 = 1e-21 * density_g_cm3 * AVOGADRO * atoms / mass_u;
        let free_path_nm = 1.0 / cbrt(atoms_nm3);
        let mut up_to = 0.0;
        let mut electronic = 0.0;
        let partners = formula
            .iter()
            .map(|&(other, n)| {
                up_to += n / atoms;
                electronic += n / atoms * cross_section_ev_nm2(ion, own, other);
                partner(own, other, up_to)
            })
            .collect();
        Self {
            partners,
            atoms_nm3,
            free_path_nm,
            widest_impact_nm: 1.0
                / (core::f64::consts::PI * atoms_nm3 * free_path_nm).sqrt(),
            electronic_ev_nm: atoms_nm3 * electronic,
        }
    }
}

fn partner(own: Element, other: Element, up_to: f64) -> Partner {
    let length_nm = screening_length_nm(own.number, other.number);
    let masses = own.mass_u + other.mass_u;
    Partner {
        up_to,
        reduced_energy_per_ev: length_nm * other.mass_u
            / (own.number * other.number * COULOMB_EV_NM * masses),
        per_screening_length: 1.0 / length_nm,
        handed_over: 4.0 * own.mass_u * other.mass_u / (masses * masses),
        mass_ratio: own.mass_u / other.mass_u,
    }
}

/// A material between two depths.
#[derive(Clone, Debug)]
pub(super) struct Slab {
    pub(super) stopping: Stopping,
    /// Depth of its top below the top of the stack in nm.
    pub(super) top_nm: f64,
    /// Depth of its bottom in nm; infinite for the target.
    pub(super) bottom_nm: f64,
}

/// Layers from the top, then the target without end.
pub(super) fn stack(
    ion: Dopant,
    layers: impl Iterator<Item = (Material, f64)>,
    target: Material,
) -> Vec<Slab> {
    let mut top_nm = 0.0;
    layers
        .chain(core::iter::once((target, f64::INFINITY)))
        .map(|(material, thickness_nm)| {
            let slab = Slab {
                stopping: Stopping::new(ion, material),
                top_nm,
                bottom_nm: top_nm + thickness_nm,
            };
            top_nm = slab.bottom_nm;
            slab
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn silicon_has_the_atoms_of_its_crystal() {
        let stopping = Stopping::new(Dopant::Boron, Material::Silicon);
        // 8 atoms in a cube of 0.5431 nm; the density is given with four digits.
        let crystal = 8.0 / (0.5431 * 0.5431 * 0.5431);
        assert!((stopping.atoms_nm3 / crystal - 1.0).abs() < 1e-3);
    }

    #[test]
    fn each_way_sweeps_the_volume_of_an_atom() {
        for &material in Material::ALL {
            let s = Stopping::new(Dopant::Arsenic, material);
            let swept = core::f64::consts::PI
                * s.widest_impact_nm
                * s.widest_impact_nm
                * s.free_path_nm;
            assert!((swept * s.atoms_nm3 - 1.0).abs() < 1e-12);
            assert!(
                s.partners.last().is_some_and(|p| (p.up_to - 1.0).abs() < 1e-12),
                "{material:?}"
            );
        }
    }

    #[test]
    fn the_table_holds_the_farthest_collision() {
        for &dopant in Dopant::ALL {
            for &material in Material::ALL {
                let s = Stopping::new(dopant, material);
                for partner in &s.partners {
                    assert!(s.widest_impact_nm * partner.per_screening_length < 16.0);
                }
            }
        }
    }
}
