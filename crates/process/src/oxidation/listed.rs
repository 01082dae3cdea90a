//! The constants of oxidation as a list to read.

use super::data::{
    ANY_FACE_DECAY_UM, ANY_FACE_EXTRA_UM_H, DEAL_GROVE_SOURCE, DRY_EFFECTIVE_START_UM,
    FACE_110_OVER_100, MASSOUD_SOURCE, NATIVE_OXIDE_UM, POLYSILICON_OVER_100,
    STEAM_LINEAR_BREAK_C, STEAM_PARABOLIC_BREAK_C, linear_100, linear_111, parabolic,
    thin_oxide,
};
use super::enhancement::{
    DOPING_LIMIT_CM3, DOPING_SOURCE, HCL_SATURATION_PERCENT, HCL_SOURCE, PRESSURE_SOURCE,
    THIN_PRESSURE_EXPONENT,
};
use crate::sourced::List;
use crate::vocabulary::{Ambient, Orientation, WetParameterSet};

/// The rate constants by ambient, set, a temperature at which they hold, and where that is.
const AMBIENTS: [(&str, Ambient, WetParameterSet, f64, &str); 5] = [
    ("dry oxygen", Ambient::Dry, WetParameterSet::Deal1988Steam, 1000.0, "700 to 1200 C"),
    ("wet oxygen", Ambient::Wet, WetParameterSet::Deal1988Steam, 1000.0, "700 to 1200 C"),
    (
        "wet oxygen (set wet_1988)",
        Ambient::Wet,
        WetParameterSet::Wet1988,
        1000.0,
        "700 to 1200 C",
    ),
    (
        "steam, hot",
        Ambient::Steam,
        WetParameterSet::Deal1988Steam,
        1000.0,
        "from 950 C (B), 900 C (B/A)",
    ),
    (
        "steam, cool",
        Ambient::Steam,
        WetParameterSet::Deal1988Steam,
        800.0,
        "below 950 C (B), 900 C (B/A)",
    ),
];

/// How the rate constants of an ambient are known.
const fn known_by(ambient: Ambient) -> &'static str {
    match ambient {
        Ambient::Steam => "memory",
        _ => "read: a course question that quotes the table; memory for the book",
    }
}

pub(crate) fn list(list: &mut List) {
    for (name, ambient, set, at_c, validity) in AMBIENTS {
        if let Some(found) = parabolic(ambient, set, at_c) {
            let rate = found.rate;
            list.source(found.source, known_by(ambient), validity).arrhenius(
                &format!("B in {name}"),
                rate.prefactor,
                "um2/h",
                rate.energy_ev,
            );
        }
        for (face, found) in [
            ("<100>", linear_100(ambient, set, at_c)),
            ("<111>", linear_111(ambient, set, at_c)),
        ] {
            let Some(found) = found else { continue };
            let rate = found.rate;
            list.source(found.source, known_by(ambient), validity).arrhenius(
                &format!("B/A in {name} on {face}"),
                rate.prefactor,
                "um/h",
                rate.energy_ev,
            );
        }
    }
    list.source("B. E. Deal, J. Electrochem. Soc. 125, 576 (1978)", "memory", "steam")
        .add("B of steam changes its law at", STEAM_PARABOLIC_BREAK_C, "C")
        .add("B/A of steam changes its law at", STEAM_LINEAR_BREAK_C, "C");
    list.source(
        DEAL_GROVE_SOURCE,
        "memory; 25 nm read in a course solution",
        "dry oxygen",
    )
    .add(
        "effective start of dry oxide on bare silicon",
        DRY_EFFECTIVE_START_UM,
        "um",
    );
    list.source("0.5 to 1.5 nm grow in air", "common practice", "bare wafers").add(
        "native oxide",
        NATIVE_OXIDE_UM,
        "um",
    );
    list.source(
        "J. D. Plummer, M. D. Deal, P. B. Griffin, Silicon VLSI Technology (2000)",
        "memory",
        "measured values run from 1.2 to 1.6",
    )
    .add("B/A of <110> over that of <100>", FACE_110_OVER_100, "");
    list.source(
        "T. I. Kamins, Polycrystalline Silicon for Integrated Circuits (1988)",
        "memory",
        "undoped thick wet oxide within 10 to 15 %",
    )
    .add("B/A of polysilicon over that of <100>", POLYSILICON_OVER_100, "");
    for (face, orientation) in [
        ("<100>", Orientation::Face100),
        ("<111>", Orientation::Face111),
        ("<110>", Orientation::Face110),
    ] {
        let thin = thin_oxide(orientation);
        let (b, l) = (thin.parabolic_below, thin.linear_below);
        let named = |what: &str| format!("thin dry oxide on {face}: {what}");
        let mut from = list
            .source(MASSOUD_SOURCE, "memory", "800 to 1000 C, dry oxygen, lightly doped")
            .arrhenius(
                &named("extra rate"),
                thin.extra_um_h.prefactor,
                "um/h",
                thin.extra_um_h.energy_ev,
            )
            .add(named("length over which it fades"), thin.decay_um, "um")
            .arrhenius(&named("B"), b.prefactor, "um2/h", b.energy_ev)
            .arrhenius(&named("B/A"), l.prefactor, "um/h", l.energy_ev);
        if let Some((b, l)) = thin.above {
            from = from
                .arrhenius(&named("B from 1000 C"), b.prefactor, "um2/h", b.energy_ev)
                .arrhenius(&named("B/A from 1000 C"), l.prefactor, "um/h", l.energy_ev);
        }
        drop(from);
    }
    list.source(
        "J. D. Plummer, M. D. Deal, P. B. Griffin, Silicon VLSI Technology (2000), eq. 6.37",
        "memory",
        "thin dry oxide on any face",
    )
    .arrhenius(
        "thin dry oxide, any face: extra rate",
        ANY_FACE_EXTRA_UM_H.prefactor,
        "um/h",
        ANY_FACE_EXTRA_UM_H.energy_ev,
    )
    .add("thin dry oxide, any face: length over which it fades", ANY_FACE_DECAY_UM, "um");
    list.source(DOPING_SOURCE, "model choice", "heavily doped silicon").add(
        "doping up to which it speeds oxidation",
        DOPING_LIMIT_CM3,
        "cm-3",
    );
    list.source(HCL_SOURCE, "memory, trend only", "dry oxygen, 900 to 1100 C").add(
        "hydrogen chloride up to which it counts",
        HCL_SATURATION_PERCENT,
        "%",
    );
    list.source(PRESSURE_SOURCE, "model choice", "dry oxygen below 1100 C").add(
        "exponent of pressure in the extra rate",
        THIN_PRESSURE_EXPONENT,
        "",
    );
}
