//! Which rows of the hazard table belong to a step.

use super::{UNKNOWN, sort_worst_first};

/// Ids of the rows that belong to a step, worst first.
///
/// `operation` is the step's name, `chemistry` the words of its request that choose chemicals
/// (ambient, source, etchant, recipe, film and method, material, ...), in any order. A word
/// that is not known adds [`UNKNOWN`]; so does a step that needs a chemical and names none. Questions about a finished wafer
/// (`sheet`, `device`, `inverter`) have no hazards.
///
/// # Example
/// ```
/// use barewafer_process::hazards::for_step;
///
/// assert_eq!(for_step("wet_etch", &["bhf_5_1", "thermal_oxide"]), ["HF_DIL", "BHF", "NH4F"]);
/// assert_eq!(for_step("wet_etch", &["mystery"]), ["UNKNOWN"]);
/// ```
#[must_use]
pub fn for_step(operation: &str, chemistry: &[&str]) -> Vec<&'static str> {
    if matches!(operation, "sheet" | "device" | "inverter") {
        return Vec::new();
    }
    let mut ids: Vec<&'static str> = Vec::new();
    let mut named = false;
    for &word in chemistry {
        match one_word(operation, word, chemistry) {
            Some(found) => {
                named |= !found.is_empty();
                ids.extend_from_slice(found);
            }
            None => match any_step(word) {
                Some(found) => ids.extend_from_slice(found),
                None => ids.push(UNKNOWN),
            },
        }
    }
    match always(operation) {
        Some(found) => ids.extend_from_slice(found),
        None if named => {}
        None => ids.push(UNKNOWN),
    }
    sort_worst_first(&mut ids);
    ids
}

/// Rows of a step whatever its chemistry; none if the chemistry must be named.
fn always(operation: &str) -> Option<&'static [&'static str]> {
    Some(match operation {
        "oxidation" => &["HEAT"],
        // Heated and cooled in nitrogen, whatever flows between.
        "drive_in" | "anneal" => &["N2", "HEAT"],
        "implantation" => &["HV_XRAY", "VACUUM"],
        "spin_coating" => &["RESIST", "PGMEA"],
        "bake" => &["HEAT", "PGMEA"],
        "exposure" => &["UV", "OZONE"],
        "planarization" => &["SLURRY", "SHARPS"],
        _ => return None,
    })
}

/// Events that can happen at any step.
fn any_step(word: &str) -> Option<&'static [&'static str]> {
    Some(match word {
        "gas_cylinder" => &["CYL", "N2"],
        "liquid_nitrogen" => &["N2", "CRYO"],
        "wafer_breakage" => &["SHARPS"],
        _ => return None,
    })
}

/// Words that name no chemical: materials, targets, dopants of a chosen gas, tools.
const NEUTRAL: &[&str] = &[];

/// Rows that one word adds to a step; none if the word is not known there.
fn one_word(
    operation: &str,
    word: &str,
    all: &[&str],
) -> Option<&'static [&'static str]> {
    match operation {
        "clean" => clean(word),
        "oxidation" | "drive_in" | "anneal" => ambient(operation, word),
        "predeposition" => source(word, all),
        "implantation" => ion(word),
        "spin_coating" => coating(word),
        "bake" => (resist(word) || matches!(word, "soft" | "post_exposure" | "hard"))
            .then_some(NEUTRAL),
        "exposure" => (resist(word) || tool(word)).then_some(NEUTRAL),
        "development" => developer(word),
        "resist_strip" => strip(word),
        "wet_etch" => wet_etch(word, all),
        "dry_etch" => dry_etch(word),
        "deposition" => deposition(word, all),
        "planarization" => material(word).then_some(NEUTRAL),
        _ => None,
    }
}

fn material(word: &str) -> bool {
    matches!(
        word,
        "silicon"
            | "polysilicon"
            | "thermal_oxide"
            | "deposited_oxide"
            | "phosphorus_glass"
            | "nitride"
            | "aluminum"
            | "resist"
    )
}

fn resist(word: &str) -> bool {
    word.starts_with("demo-")
}

fn tool(word: &str) -> bool {
    matches!(word, "contact" | "proximity" | "projection" | "aerial" | "ideal")
}

fn dopant(word: &str) -> bool {
    matches!(
        word,
        "boron"
            | "phosphorus"
            | "arsenic"
            | "antimony"
            | "indium"
            | "gallium"
            | "aluminum"
    )
}

fn clean(word: &str) -> Option<&'static [&'static str]> {
    Some(match word {
        "piranha_sc1_hf_sc2" => {
            &["PIRANHA", "H2SO4", "H2O2", "SC1", "NH4OH", "HF_DIL", "SC2", "HCL"]
        }
        "piranha" => &["PIRANHA", "H2SO4", "H2O2"],
        "sc1" => &["SC1", "NH4OH", "H2O2"],
        "sc2" => &["SC2", "HCL", "H2O2"],
        "hf_dip" => &["HF_DIL"],
        "solvent" => &["ACETONE", "IPA"],
        "uv_ozone" => &["UV", "OZONE"],
        _ => return None,
    })
}

/// Gases of a furnace. Wet oxygen counts as a hydrogen torch: the tubes of a teaching lab
/// make their steam that way, and a bubbler's steam is no safer.
fn ambient(operation: &str, word: &str) -> Option<&'static [&'static str]> {
    Some(match word {
        "dry" => &["O2"],
        "wet" | "steam" => &["H2", "O2"],
        "inert" => &["N2"],
        "forming_gas" if operation == "anneal" => &["N2", "H2"],
        "hcl" => &["HCL"],
        _ if dopant(word) => NEUTRAL,
        _ => return None,
    })
}

fn source(word: &str, all: &[&str]) -> Option<&'static [&'static str]> {
    Some(match word {
        "pocl3" => &["POCL3", "HEAT", "O2"],
        "phosphine" => &["PH3", "HEAT", "O2"],
        "diborane" => &["B2H6", "HEAT", "O2"],
        // The gas of a dilute vapor goes by the dopant.
        "dilute_vapor" if all.contains(&"boron") => &["B2H6", "HEAT", "O2"],
        "dilute_vapor" if all.contains(&"phosphorus") => &["PH3", "HEAT", "O2"],
        "dilute_vapor" if all.contains(&"arsenic") => &["ASH3", "HEAT", "O2"],
        "dilute_vapor" if all.contains(&"antimony") => &["SBH3", "HEAT", "O2"],
        // Gallium oxide set free by hydrogen; aluminum metal in a closed, evacuated tube.
        "dilute_vapor" if all.contains(&"gallium") => &["H2", "HEAT", "N2"],
        "dilute_vapor" if all.contains(&"aluminum") => &["HEAT", "VACUUM"],
        "dilute_vapor" => &[UNKNOWN, "HEAT", "O2"],
        "solid_disc" | "doped_glass" if all.contains(&"arsenic") => {
            &["AS2O3", "HEAT", "N2"]
        }
        "doped_glass" if all.contains(&"antimony") => &["SB2O3", "HEAT", "N2"],
        "doped_glass" if all.contains(&"indium") => &["INDIUM", "HEAT", "N2"],
        "solid_disc" | "doped_glass" => &["HEAT", "N2"],
        "polysilicon" | "silicon" => NEUTRAL,
        _ if dopant(word) => NEUTRAL,
        _ => return None,
    })
}

fn ion(word: &str) -> Option<&'static [&'static str]> {
    Some(match word {
        "boron" | "bf2" => &["BF3", "CRYO"],
        "arsenic" => &["ASH3"],
        "phosphorus" => &["PH3"],
        "antimony" | "indium" => &["HEAT"],
        _ if material(word) => NEUTRAL,
        _ => return None,
    })
}

fn coating(word: &str) -> Option<&'static [&'static str]> {
    Some(match word {
        "primed" => &["HMDS", "HEAT"],
        "edge_bead_removal" => &["ACETONE", "PGMEA"],
        _ if resist(word) => NEUTRAL,
        _ => return None,
    })
}

fn developer(word: &str) -> Option<&'static [&'static str]> {
    Some(match word {
        "tmah_2_38" => &["TMAH238"],
        "koh_dilute" => &["KOH"],
        _ if resist(word) || tool(word) => NEUTRAL,
        _ => return None,
    })
}

fn strip(word: &str) -> Option<&'static [&'static str]> {
    Some(match word {
        "oxygen_plasma" => &["O2", "OZONE", "RF_PLASMA", "VACUUM"],
        "solvent" => &["ACETONE", "IPA"],
        "piranha" => &["PIRANHA", "H2SO4", "H2O2"],
        _ => return None,
    })
}

fn wet_etch(word: &str, all: &[&str]) -> Option<&'static [&'static str]> {
    let silicon = all.contains(&"silicon") || all.contains(&"polysilicon");
    // A bath whose film is not named may etch silicon too.
    let hydrogen = silicon || !all.iter().any(|&word| material(word));
    Some(match word {
        "hf_49" => &["HF49"],
        "hf_25_1" | "hf_10_1" | "hf_dilute" => &["HF_DIL"],
        "bhf_5_1" | "bhf_6_1" | "bhf_10_1" => &["HF_DIL", "BHF", "NH4F"],
        "phosphoric_85" => &["H3PO4_HOT", "HEAT"],
        "aluminum_etch" => &["AL_ETCH", "ACETIC", "HNO3"],
        // Nitric acid sets HF free from the fluoride.
        "poly_etch" => &["HNO3", "HF_DIL", "NH4F"],
        "hydrofluoric_nitric_acetic" => &["HNO3", "HF49", "ACETIC"],
        "koh_30" | "koh_33" if hydrogen => &["KOH", "H2"],
        "koh_30" | "koh_33" => &["KOH"],
        "tmah_25" if hydrogen => &["TMAH25", "H2"],
        "tmah_25" => &["TMAH25"],
        "piranha" => &["PIRANHA", "H2SO4", "H2O2"],
        "acetone" => &["ACETONE", "IPA"],
        // Said of a bath that is run hot enough to scald although its recipe is not.
        "hot" if all.contains(&"aluminum_etch") => &["H3PO4_HOT", "HEAT"],
        "hot" => &["HEAT"],
        _ if material(word) => NEUTRAL,
        _ => return None,
    })
}

fn dry_etch(word: &str) -> Option<&'static [&'static str]> {
    Some(match word {
        "chf3_o2" | "chf3_ar" | "c4f8" | "cf4_o2" => {
            &["CF4", "PLASMA_BY", "RF_PLASMA", "VACUUM"]
        }
        "cf4_h2" => &["H2", "CF4", "PLASMA_BY", "RF_PLASMA", "VACUUM"],
        "sf6" => &["SF6", "PLASMA_BY", "RF_PLASMA", "VACUUM"],
        "hbr_cl2" => &["HBR", "CL2", "PLASMA_BY", "RF_PLASMA", "VACUUM"],
        "bcl3_cl2" => &["CL2", "BCL3", "PLASMA_BY", "RF_PLASMA", "VACUUM"],
        "oxygen" => &["O2", "OZONE", "RF_PLASMA", "VACUUM"],
        _ if material(word) => NEUTRAL,
        _ => return None,
    })
}

fn deposition(word: &str, all: &[&str]) -> Option<&'static [&'static str]> {
    // Oxide comes from silane unless the liquid source is named.
    let liquid_source = all.contains(&"teos");
    let spun = all.contains(&"spin_on");
    Some(match word {
        "lpcvd" => &["HEAT", "VACUUM"],
        "pecvd" => &["HEAT", "RF_PLASMA", "VACUUM"],
        "sputter" => &["VACUUM", "RF_PLASMA", "CYL"],
        "evaporation" => &["EVAPORATOR", "VACUUM", "CYL"],
        "spin_on" => &["IPA", "PGMEA", "HEAT"],
        "polysilicon" => &["SIH4", "HEAT", "VACUUM"],
        "nitride" if all.contains(&"pecvd") => &["SIH4", "NH3"],
        "nitride" => &["SIH2CL2", "NH3", "HEAT", "VACUUM"],
        "deposited_oxide" | "phosphorus_glass" if spun => NEUTRAL,
        "deposited_oxide" if liquid_source => NEUTRAL,
        "deposited_oxide" => &["SIH4", "O2", "HEAT", "VACUUM"],
        "phosphorus_glass" if liquid_source => &["PH3", "HEAT", "VACUUM"],
        "phosphorus_glass" => &["SIH4", "O2", "PH3", "HEAT", "VACUUM"],
        "teos" => &["TEOS", "HEAT", "VACUUM"],
        "aluminum" => &["VACUUM"],
        // Dopant gas of a film doped while it grows.
        "phosphorus" => &["PH3"],
        "boron" => &["B2H6"],
        "arsenic" => &["ASH3"],
        "lto" | "stoichiometric" | "low_stress" | "n_type" | "undoped"
        | "silicon_alloy" | "pure" | "as_deposited" | "annealed" => NEUTRAL,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn check(operation: &str, chemistry: &[&str], ids: &[&str]) {
        assert_eq!(for_step(operation, chemistry), ids, "{operation} {chemistry:?}");
    }

    #[test]
    fn baths_show_what_is_in_them() {
        check("wet_etch", &["koh_33", "silicon"], &["KOH", "H2"]);
        check("wet_etch", &["koh_33", "thermal_oxide"], &["KOH"]);
        check("wet_etch", &["poly_etch", "polysilicon"], &["HF_DIL", "NH4F", "HNO3"]);
        check("wet_etch", &["aluminum_etch", "aluminum"], &["AL_ETCH", "ACETIC", "HNO3"]);
        check("wet_etch", &["phosphoric_85", "nitride"], &["H3PO4_HOT", "HEAT"]);
    }

    #[test]
    fn what_is_not_known_is_treated_as_hf() {
        check("wet_etch", &[], &["UNKNOWN"]);
        check("wet_etch", &["thermal_oxide"], &["UNKNOWN"]);
        check("oxidation", &["dry", "mystery"], &["UNKNOWN", "O2", "HEAT"]);
        check("no_such_step", &["dry"], &["UNKNOWN"]);
    }

    #[test]
    fn questions_have_no_hazards() {
        for operation in ["sheet", "device", "inverter"] {
            check(operation, &["anything"], &[]);
        }
    }

    #[test]
    fn plasmas_show_their_gases_and_what_they_leave() {
        check(
            "dry_etch",
            &["hbr_cl2", "polysilicon"],
            &["CL2", "PLASMA_BY", "HBR", "RF_PLASMA", "VACUUM"],
        );
        check(
            "dry_etch",
            &["bcl3_cl2", "aluminum"],
            &["CL2", "BCL3", "PLASMA_BY", "RF_PLASMA", "VACUUM"],
        );
        check("planarization", &["deposited_oxide"], &["SLURRY", "SHARPS"]);
    }

    #[test]
    fn films_and_methods_add_up() {
        check("deposition", &["polysilicon", "lpcvd"], &["SIH4", "HEAT", "VACUUM"]);
        check(
            "deposition",
            &["phosphorus_glass", "lpcvd"],
            &["PH3", "SIH4", "O2", "HEAT", "VACUUM"],
        );
        check(
            "deposition",
            &["deposited_oxide", "teos", "lpcvd"],
            &["TEOS", "HEAT", "VACUUM"],
        );
        check("deposition", &["aluminum", "sputter"], &["RF_PLASMA", "VACUUM", "CYL"]);
        check(
            "deposition",
            &["aluminum", "evaporation"],
            &["EVAPORATOR", "VACUUM", "CYL"],
        );
    }
}
