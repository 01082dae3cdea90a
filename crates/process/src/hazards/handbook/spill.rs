//! What to do when it is spilled or leaks, in short lines.
//!
//! Common practice of teaching cleanrooms. Every line ends with the same rule: who is not trained
//! for it leaves, warns and calls.

const HF: &str = "Warn, leave the aisle, call; nobody touches a puddle they cannot name. Trained people with HF gear take it up with a calcium or soda-ash neutralizer, never with sand or glass-fiber pads, into plastic.";
const ACID: &str = "Warn and keep people off. Small, on the bench: trained people neutralize with soda ash or bicarbonate, pads for acids, then water. Larger or hot: leave and call.";
const OXIDIZER: &str = "No paper, cloth or organic pads: they catch fire. Small: much water within the bench. Larger or hot: leave and call.";
const BASE: &str = "Warn and keep people off: slippery. Trained people take it up with pads for bases or a weak acid neutralizer, then water. Larger: leave and call.";
const TMAH: &str = "Treat as poison through the skin: warn, leave, call. Trained people in full gear only, also for the weak developer on more than a hand's area.";
const SOLVENT: &str = "No switch, no spark, hot plates off if it takes no step toward them. Small: pads under the exhaust, into the closed solvent can. Larger than a cup: leave and call.";
const TOXIC_GAS: &str = "Alarm or smell: leave at once, pull the gas shutoff on the way if it is on the way, upwind, call. Nobody returns before the responders say so.";
const FLAMMABLE_GAS: &str =
    "Shut the flow from outside. Never put the flame out while gas flows. Leave, call.";
const INERT_GAS: &str = "Leave: there may be too little oxygen, and nothing warns of it. Ventilate; go back in only with an oxygen reading above 19.5 %.";
const DUST: &str = "No broom, no blower. Trained people with dust protection wipe wet or use a HEPA vacuum kept for it; the wipes are hazardous waste.";

/// What to do when a row's substance is spilled; empty for dangers that cannot be spilled.
#[must_use]
pub fn spill(id: &str) -> &'static str {
    match id {
        "HF49" | "HF_DIL" | "BHF" | "NH4F" | super::super::UNKNOWN => HF,
        "H2SO4" | "HCL" | "SC2" | "H3PO4_HOT" | "AL_ETCH" | "ACETIC" => ACID,
        "PIRANHA" | "H2O2" | "HNO3" => OXIDIZER,
        "SC1" | "NH4OH" | "KOH" | "SLURRY" => BASE,
        "TMAH25" | "TMAH238" => TMAH,
        "ACETONE" | "IPA" | "PGMEA" | "RESIST" | "HMDS" | "TEOS" => SOLVENT,
        "POCL3" => {
            "No water. Leave and call: it fumes poison with moist air. Trained responders with breathing apparatus only."
        }
        "ASH3" | "PH3" | "SBH3" | "B2H6" | "SIH2CL2" | "NH3" | "BF3" | "CL2" | "HBR"
        | "BCL3" | "PLASMA_BY" | "OZONE" => TOXIC_GAS,
        "SIH4" | "H2" => FLAMMABLE_GAS,
        "O2" => {
            "Shut the flow, no flame or spark, leave; clothes soaked in oxygen burn for half an hour: stay in fresh air."
        }
        "N2" | "CF4" | "SF6" | "CRYO" => INERT_GAS,
        "AS2O3" | "SB2O3" | "INDIUM" => DUST,
        "SHARPS" => "Collect with tools, never by hand, into the sharps box.",
        "UV" => "A lamp that burst spills mercury vapor: leave, ventilate, call.",
        _ => "",
    }
}
