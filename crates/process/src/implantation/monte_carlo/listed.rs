//! The constants of the single-ion calculation as a list to read.

use super::electronic::{FASTEST_KEV_U, LINDHARD, correction};
use super::flight::REST_EV;
use super::potential::{BOHR_NM, COULOMB_EV_NM, SCREENING, SCREENING_POWER, UNIVERSAL};
use super::target::{
    ALUMINUM, CARBON, HYDROGEN, NITROGEN, OXYGEN, SILICON, composition, projectile,
};
use crate::sourced::List;
use crate::vocabulary::{Dopant, Material};

pub(crate) fn list(list: &mut List) {
    let ziegler = "J. F. Ziegler, J. P. Biersack, U. Littmark, The Stopping and Range of Ions in \
                   Solids (1985)";
    for ([height, slope], k) in UNIVERSAL.into_iter().zip(1..) {
        list.source(ziegler, "memory", "universal potential")
            .add(format!("universal screening, height {k}"), height, "")
            .add(format!("universal screening, slope {k}"), slope, "");
    }
    list.source(ziegler, "memory", "universal potential")
        .add("screening length, factor", SCREENING, "")
        .add("screening length, power of Z", SCREENING_POWER, "")
        .add(
            "energy per mass up to which electrons brake as the speed",
            FASTEST_KEV_U,
            "keV/u",
        );
    list.source("CODATA 2018", "memory", "everywhere")
        .add("e2/(4 pi eps0)", COULOMB_EV_NM, "eV nm")
        .add("radius of the hydrogen atom", BOHR_NM, "nm");
    list.source(
        "J. Lindhard, M. Scharff, Phys. Rev. 124, 128 (1961)",
        "memory",
        "slow ions",
    )
    .add("stopping by electrons, factor", LINDHARD, "eV^1/2 A^2");
    list.source(
        "chosen to meet the published range at 100 keV; values near 1.6 in W. Eckstein, Computer \
         Simulation of Ion-Solid Interactions (1991)",
        "model choice; memory",
        "boron",
    )
    .add("factor on the stopping of boron on silicon", correction(Dopant::Boron, SILICON), "")
    .add("factor on the stopping of boron on lighter atoms", correction(Dopant::Boron, OXYGEN), "");
    list.source(
        "an ion cannot leave its place; displacing an atom takes 15 eV",
        "model choice",
        "all ions",
    )
    .add("energy at which an ion rests", REST_EV, "eV");
    for (name, element) in [
        ("hydrogen", HYDROGEN),
        ("carbon", CARBON),
        ("nitrogen", NITROGEN),
        ("oxygen", OXYGEN),
        ("aluminum", ALUMINUM),
        ("silicon", SILICON),
    ] {
        list.source("standard atomic weights, IUPAC", "memory", "targets").add(
            format!("mass of {name} in a target"),
            element.mass_u,
            "u",
        );
    }
    for &dopant in Dopant::ALL {
        list.source("atomic mass tables", "memory", "the isotope in the beam").add(
            format!("mass of {} in a beam", dopant.word()),
            projectile(dopant).mass_u,
            "u",
        );
    }
    for material in [
        Material::Silicon,
        Material::ThermalOxide,
        Material::Nitride,
        Material::Resist,
        Material::Aluminum,
    ] {
        list.source("textbook values", "memory", "targets").add(
            format!("density of {} as a target", material.label()),
            composition(material).0,
            "g/cm3",
        );
    }
}
