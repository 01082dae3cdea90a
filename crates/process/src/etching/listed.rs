//! The constants of etching as a list to read.

use super::bath::Etchant;
use super::dry::{Chemistry, Spread};
use super::film::Film;
use super::rate::{BORON_STOP_CM3, OXIDE_IN_HF, OXIDE_IN_HF_EV, SEIDEL, SILICON_KOH_EV};
use super::rate_table::{HF_STRENGTH, table_rate};
use crate::sourced::List;
use crate::vocabulary::Material;

pub(crate) fn list(list: &mut List) {
    for &etchant in Etchant::ALL {
        for &material in Material::ALL {
            for film in films(material) {
                let Some(rate) = table_rate(etchant, film) else { continue };
                let made = film
                    .variant
                    .map_or_else(String::new, |variant| format!(", {}", variant.label()));
                list.source(rate.source, known_by(rate.source), validity(etchant)).add(
                    format!(
                        "etch rate of {}{made} in {}",
                        material.label(),
                        etchant.label()
                    ),
                    rate.rate_nm_min,
                    "nm/min",
                );
            }
        }
    }
    for (percent, rate_nm_min) in HF_STRENGTH {
        list.source(
            "K. R. Williams, R. S. Muller (1996) at 3.85, 9.1 and 100 %; W. R. Runyan, K. E. \
             Bean, Semiconductor Integrated Circuit Processing Technology, p. 265, at 30 %; \
             0.5 %: common practice",
            "memory; read; common practice",
            "the two books differ by 1.4 times at 4 to 10 %",
        )
        .add(
            format!("etch rate of thermal oxide in {percent} % by volume of 49 % HF"),
            rate_nm_min,
            "nm/min",
        );
    }
    list.source(OXIDE_IN_HF, "memory", "oxide and glass in HF").add(
        "activation energy of oxide in HF",
        OXIDE_IN_HF_EV,
        "eV",
    );
    list.source(SEIDEL, "read: a cleanroom's KOH page", "10 to 60 % by weight").add(
        "activation energy of silicon in KOH",
        SILICON_KOH_EV,
        "eV",
    );
    list.source(
        "K. E. Petersen, Proc. IEEE 70, 420 (1982): 20 times slower at 1e20 boron",
        "memory; derived",
        "KOH; borrowed for TMAH",
    )
    .add("boron at which an alkaline bath is half as fast", BORON_STOP_CM3, "cm-3");
    list.bench("dry-etcher");
    for &chemistry in Chemistry::ALL {
        for &material in Material::ALL {
            let Some(row) = chemistry.row(material) else { continue };
            let of = format!("{} in {}", material.label(), chemistry.label());
            let mut add = |what: &str, spread: Spread, unit: &'static str| {
                list.source(
                    "plasma etchers of teaching and research cleanrooms",
                    "common practice; default: model choice inside the range",
                    "rates within 50 % from tool to tool",
                )
                .add(format!("{what} of {of}"), spread.value, unit);
            };
            add("etch rate", row.rate_nm_min, "nm/min");
            add("anisotropy", row.anisotropy, "");
            for other in [Material::ThermalOxide, Material::Silicon, Material::Resist] {
                if let Some(spread) = row.selectivity_to(other) {
                    add(&format!("selectivity to {}", other.label()), spread, "");
                }
            }
        }
    }
}

/// Every column of the table that a material has.
fn films(material: Material) -> Vec<Film> {
    match Film::variants(material) {
        [] => vec![Film { material, variant: None }],
        variants => variants
            .iter()
            .map(|&variant| Film { material, variant: Some(variant) })
            .collect(),
    }
}

/// The sources of rates say themselves how they are known.
fn known_by(source: &'static str) -> &'static str {
    [
        ("(memory", "memory"),
        ("(read", "read"),
        ("common practice", "common practice"),
        ("estimate", "common practice: estimated from a related film or bath"),
    ]
    .into_iter()
    .find(|(mark, _)| source.contains(mark))
    .map_or("memory", |(_, known_by)| known_by)
}

/// The temperature of a bath's table.
const fn validity(etchant: Etchant) -> &'static str {
    match etchant {
        Etchant::Phosphoric => "160 C; one laboratory, within 30 %",
        Etchant::AluminumEtch => "50 C; one laboratory, within 30 %",
        Etchant::PolyEtch => "20 C; one laboratory, within 30 %",
        Etchant::Koh30 | Etchant::Koh33 | Etchant::Tmah => {
            "80 C; one laboratory, within 30 %"
        }
        Etchant::Piranha => "120 C; one laboratory, within 30 %",
        _ => "21 C; one laboratory, within 30 %",
    }
}
