//! The constants of diffusion as a list to read.

use super::diffusivity::{INTRINSIC_CM3, INTRINSIC_EV};
use super::mask::{BORON_OXIDE_1997, LEAST_NM, REACH, glass_front, oxide_diffusivity};
use super::phosphorus_tail::{MOST, PAIRS_CM6};
use super::point_defects::{SHARE_SOURCE, VANISHES_ABOVE_C, interstitial_share};
use super::request::MASK_MARGIN;
use super::segregation::segregation;
use super::solubility::{active_law, solubility_points};
use super::solver::{INTERSTITIAL_DECAY_CM, INTERSTITIAL_REACH_CM};
use crate::sourced::List;
use crate::vocabulary::{BoronSegregation, DiffusivitySet, Dopant, Orientation};

pub(crate) fn list(list: &mut List) {
    diffusivities(list);
    limits(list);
    interfaces(list);
    list.source(
        "F. J. Morin, J. P. Maita, Phys. Rev. 96, 28 (1954)",
        "memory",
        "900 to 1200 C, 10 %",
    )
    .add("intrinsic density, prefactor", INTRINSIC_CM3, "cm-3 K^-1.5")
    .add("intrinsic density, energy", INTRINSIC_EV, "eV");
    list.source(
        "R. B. Fair, J. C. C. Tsai, J. Electrochem. Soc. 124, 1107 (1977)",
        "memory",
        "900 to 1050 C, 40 %",
    )
    .add("inactive phosphorus pairs, factor of n^3", PAIRS_CM6, "cm6");
    list.source("limit of the tail of phosphorus", "model choice", "all temperatures")
        .add("fastest tail over intrinsic diffusion", MOST, "");
    for &dopant in Dopant::ALL {
        list.source(
            SHARE_SOURCE,
            "memory; acceptors beyond indium: model choice",
            "all temperatures",
        )
        .add(
            format!("share of {} that moves with interstitials", dopant.word()),
            interstitial_share(dopant),
            "",
        );
    }
    list.source("oxidation-enhanced diffusion", "memory", "order of magnitude")
        .add(
            "temperature above which oxidation injects hardly any",
            VANISHES_ABOVE_C,
            "C",
        )
        .add("depth of even supersaturation", INTERSTITIAL_REACH_CM, "cm")
        .add("depth over which it fades below", INTERSTITIAL_DECAY_CM, "cm");
}

fn diffusivities(list: &mut List) {
    for &set in DiffusivitySet::ALL {
        let known_by = match set {
            DiffusivitySet::Plummer2000 => {
                "memory (arsenic checked against the book's example)"
            }
            DiffusivitySet::Fair1981 => "memory",
            DiffusivitySet::FullerDitzenberger1956 => "read: abstract page",
        };
        for &dopant in Dopant::ALL {
            let Some(found) = set.diffusivity(dopant) else { continue };
            for (charge, law) in [
                ("neutral", Some(found.neutral)),
                ("single", found.single),
                ("double", found.double),
            ] {
                let Some(law) = law else { continue };
                let name = if set.is_constant() {
                    format!("diffusivity of {} ({})", dopant.word(), set.word())
                } else {
                    format!(
                        "diffusivity of {}, {charge} defects ({})",
                        dopant.word(),
                        set.word()
                    )
                };
                list.source(set.source(), known_by, "800 to 1200 C").arrhenius(
                    &name,
                    law.prefactor_cm2_s,
                    "cm2/s",
                    law.energy_ev,
                );
            }
        }
    }
}

fn limits(list: &mut List) {
    for &dopant in Dopant::ALL {
        if let Some((prefactor, energy_ev, source)) = active_law(dopant) {
            list.source(source, "memory", "800 to 1150 C, 25 to 40 %").arrhenius(
                &format!("active limit of {}", dopant.word()),
                prefactor,
                "cm-3",
                energy_ev,
            );
        }
        let Some((points, maximum)) = solubility_points(dopant) else { continue };
        for &(celsius, concentration_cm3) in points {
            list.source(
                "solubility figure in R. C. Jaeger, Introduction to Microelectronic Fabrication, \
                 fig. 4.6",
                "memory",
                "30 %",
            )
            .add(
                format!("solubility of {} at {celsius} C", dopant.word()),
                concentration_cm3,
                "cm-3",
            );
        }
        list.source(
            "F. A. Trumbore, Bell Syst. Tech. J. 39, 205 (1960)",
            "memory",
            "30 %",
        )
        .add(format!("largest solubility of {}", dopant.word()), maximum, "cm-3");
    }
}

fn interfaces(list: &mut List) {
    let face = Orientation::Face100;
    for &set in BoronSegregation::ALL {
        let boron = segregation(Dopant::Boron, face, set, 1.0);
        list.source(boron.source, "memory", "(100) silicon").arrhenius(
            &format!("segregation of boron ({})", set.word()),
            boron.prefactor,
            "",
            boron.energy_ev,
        );
    }
    let gallium =
        segregation(Dopant::Gallium, face, BoronSegregation::Antoniadis1979, 1.0);
    list.source(gallium.source, "memory", "within a factor of 3").add(
        "segregation of gallium",
        gallium.prefactor,
        "",
    );
    for &dopant in Dopant::ALL {
        if let Some(law) = glass_front(dopant) {
            list.source(
                "C. T. Sah, H. Sello, D. A. Tremere (1959); S. K. Ghandhi, VLSI Fabrication \
                 Principles",
                "memory",
                "within a factor of 2",
            )
            .arrhenius(
                &format!("glass front of {} in oxide, Kg", dopant.word()),
                law.prefactor_cm2_s,
                "cm2/s",
                law.energy_ev,
            );
        }
        if let Some(law) = oxide_diffusivity(dopant) {
            list.source(
                "M. Ghezzo, D. M. Brown, J. Electrochem. Soc. 120, 146 (1973) and textbooks",
                "memory",
                "within a factor of 3",
            )
            .arrhenius(
                &format!("diffusivity of {} in oxide", dopant.word()),
                law.prefactor_cm2_s,
                "cm2/s",
                law.energy_ev,
            );
        }
    }
    list.source(
        "Kawagishi et al., J. Electrochem. Soc. 144, 3270 (1997)",
        "read: abstract page",
        "900 to 1100 C",
    )
    .arrhenius(
        "another diffusivity of boron in oxide",
        BORON_OXIDE_1997.prefactor_cm2_s,
        "cm2/s",
        BORON_OXIDE_1997.energy_ev,
    );
    list.source("thinner films have pinholes", "common practice", "masks").add(
        "least sound oxide of a mask",
        LEAST_NM,
        "nm",
    );
    list.source("a ten thousandth of the surface concentration", "model choice", "masks")
        .add("depth over the root of Dt in oxide", REACH, "")
        .add("margin of the least mask", MASK_MARGIN, "");
}
