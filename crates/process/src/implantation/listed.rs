//! The constants of implantation as a list to read. The computed range tables are not among
//! them: they are results of our own program, held by checks.

use super::calculation::BORON_SHARE_OF_BF2;
use super::damage::{AMORPHIZING_EV_CM3, amorphizing_dose_cm2};
use super::monte_carlo;
use super::published_ranges::rows;
use super::ranges::{Species, TargetKind};
use super::transient::{LONGEST_NM, SATURATING_CM2, USUAL_NM};
use super::warnings::{SILICON_ATOMS_CM3, SPUTTERING_CM2};
use crate::sourced::List;
use crate::vocabulary::Ion;

pub(crate) fn list(list: &mut List) {
    for (target, in_words, validity) in [
        (
            TargetKind::Silicon,
            "silicon",
            "copy within 1.5 %, antimony 5 %; measured 5 to 20 %",
        ),
        (
            TargetKind::Oxide,
            "silicon dioxide",
            "copy within 3 %, straggle of arsenic 7 %",
        ),
    ] {
        for species in
            [Species::Boron, Species::Phosphorus, Species::Arsenic, Species::Antimony]
        {
            for &[kev, range_um, straggle_um] in rows(species, target).unwrap_or(&[]) {
                let of =
                    format!("{} at {kev} keV in {in_words}", species.dopant().word());
                list.source(
                    "J. F. Gibbons, W. S. Johnson, S. W. Mylroie, Projected Range Statistics, 2nd \
                     ed. (1975), as reprinted in textbooks",
                    "memory",
                    validity,
                )
                .add(format!("projected range of {of}"), range_um, "um")
                .add(format!("straggle of {of}"), straggle_um, "um");
            }
        }
    }
    let morehead =
        "type of criterion of F. F. Morehead, B. L. Crowder, Radiat. Eff. 6, 27 (1970)";
    list.source(morehead, "memory", "room temperature, within a factor of 2").add(
        "energy to nuclei that turns silicon amorphous",
        AMORPHIZING_EV_CM3,
        "eV/cm3",
    );
    for &ion in Ion::ALL {
        list.source(
            morehead,
            "memory; indium as antimony: model choice",
            "within a factor of 3",
        )
        .add(
            format!("dose of {} that turns silicon amorphous", ion.word()),
            amorphizing_dose_cm2(ion),
            "cm-2",
        );
    }
    list.source("masses of the atoms", "derived", "BF2").add(
        "share of the energy of BF2 that boron has",
        BORON_SHARE_OF_BF2,
        "",
    );
    list.source(
        "A. E. Michel et al., Appl. Phys. Lett. 50, 416 (1987)",
        "memory",
        "800 to 900 C",
    )
    .add("transient diffusion of boron at 1e14 per cm2, usual", USUAL_NM, "nm")
    .add("transient diffusion of boron at 1e14 per cm2, longest", LONGEST_NM, "nm");
    list.source("dose beyond which it no longer grows", "model choice", "boron").add(
        "dose at which transient diffusion saturates",
        SATURATING_CM2,
        "cm-2",
    );
    list.source("lattice of silicon", "memory", "room temperature").add(
        "atoms of silicon",
        SILICON_ATOMS_CM3,
        "cm-3",
    );
    list.source(
        "doses at which the surface wears away",
        "common practice",
        "order of magnitude",
    )
    .add("dose from which sputtering counts", SPUTTERING_CM2, "cm-2");
    monte_carlo::list(list);
}
