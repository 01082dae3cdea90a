//! The constants of deposition as a list to read.

use super::polysilicon::mobility_cm2_v_s;
use super::recipe::RECIPES;
use super::reflow::{RIPPLE_MIN, VISCOSITY_EV};
use super::results::CURE_SHRINK;
use crate::sourced::List;
use crate::vocabulary::Dopant;

pub(crate) fn list(list: &mut List) {
    for recipe in RECIPES {
        let made = recipe
            .variants
            .first()
            .map_or_else(String::new, |variant| format!(", {}", variant.label()));
        let of = format!("{}{made}, {}", recipe.film.label(), recipe.method.label());
        let mut from = list.source(
            recipe.source,
            known_by(recipe.source),
            "at the reference temperature",
        );
        if 0.0 < recipe.rate_nm_min {
            from = from.add(format!("rate of {of}"), recipe.rate_nm_min, "nm/min").add(
                format!("reference temperature of {of}"),
                recipe.reference_c,
                "C",
            );
        }
        if let Some(energy_ev) = recipe.activation_ev.filter(|energy| 0.0 < *energy) {
            from = from.add(format!("activation energy of {of}"), energy_ev, "eV");
        }
        drop(from);
        let mut common = list.source(
            "films of furnaces and plasma reactors",
            "common practice",
            "usual range",
        );
        if let Some((low, high)) = recipe.index {
            common =
                common.add(format!("refractive index of {of}"), 0.5 * (low + high), "");
        }
        let (low, high) = recipe.density_g_cm3;
        drop(common.add(format!("density of {of}"), 0.5 * (low + high), "g/cm3"));
    }
    list.source(
        "J. Y. W. Seto, J. Appl. Phys. 46, 5247 (1975); T. I. Kamins, Polycrystalline Silicon",
        "memory",
        "above 1e20 per cm3: 30 to 40 n-type, 10 to 25 p-type",
    )
    .add("mobility in n-type polysilicon", mobility_cm2_v_s(Dopant::Phosphorus), "cm2/(V s)")
    .add("mobility in p-type polysilicon", mobility_cm2_v_s(Dopant::Boron), "cm2/(V s)");
    list.source(
        "between undoped silica and flow tests of glass",
        "model choice",
        "phosphorus glass",
    )
    .add("activation energy of the viscosity of glass", VISCOSITY_EV, "eV")
    .add("time in which a ripple of 1 um falls to 1/e", RIPPLE_MIN, "min");
    list.source("spin-on glass", "common practice", "cure at 350 to 450 C").add(
        "shrinkage of spin-on glass in its cure",
        CURE_SHRINK,
        "",
    );
}

/// The sources of recipes say themselves how they are known; the first word of theirs counts.
fn known_by(source: &'static str) -> &'static str {
    ["(memory", "(read", "common practice"]
        .into_iter()
        .filter_map(|mark| source.find(mark).map(|at| (at, mark)))
        .min()
        .map_or("common practice", |(_, mark)| mark.trim_start_matches('('))
}
