//! Words for people: the notice of the lab, first aid in a line, and what never to do.
//!
//! All of it is common practice of teaching cleanrooms unless a line says more; the site's own
//! rules, the supplier's safety data sheet and trained staff come first.

/// The notice that stands with every hazard callout.
pub const NOTICE: &str = "This is a simulation, not training, and it gives no certificate. \
In a real lab follow the rules of your site, the supplier's current safety data sheet, local \
codes and law, and work only with trained and, where required, licensed staff. In an emergency \
call your site's emergency number first.";

const HF: &str = "Call for help, rinse 5 minutes, rub in calcium gluconate gel, emergency care now, even if nothing hurts; without gel keep rinsing.";
const CORROSIVE: &str = "Rinse skin and eyes at least 15 minutes, clothes off, medical help; never force vomiting.";
const TMAH: &str =
    "Rinse 15 minutes, clothes off, emergency call at once: do not wait for symptoms.";
const TOXIC_GAS: &str = "Leave, fresh air, emergency call; no rescue without breathing apparatus; hospital watch even if well.";
const CORROSIVE_GAS: &str = "Leave, fresh air, emergency call; on skin or in eyes rinse 15 minutes, clothes off; no rescue without breathing apparatus; hospital watch even if well.";
const GAS: &str = "Leave for fresh air; nobody goes in to rescue without an air supply; emergency call.";
const SOLVENT: &str = "Fresh air; rinse eyes 15 minutes. Fire: leave, or trained use of an extinguisher; burning clothes: shower or blanket.";
const SHOCK: &str = "Power off first, then help and emergency call.";

/// First aid of a row in one line.
pub(super) fn first_aid_headline(id: &str) -> &'static str {
    match id {
        "HF49" | "HF_DIL" | "BHF" | "NH4F" | "BF3" => HF,
        "TMAH25" | "TMAH238" => TMAH,
        "H2SO4" | "PIRANHA" | "H2O2" | "SC1" | "NH4OH" | "HCL" | "SC2" | "KOH"
        | "H3PO4_HOT" | "AL_ETCH" | "ACETIC" | "HNO3" | "SLURRY" => CORROSIVE,
        "POCL3" | "SIH2CL2" | "NH3" | "CL2" | "HBR" | "BCL3" => CORROSIVE_GAS,
        "PLASMA_BY" => {
            "Leave, fresh air, emergency call; on skin it burns as HF: rinse, calcium gluconate gel, emergency care even if nothing hurts."
        }
        "ASH3" | "PH3" | "SBH3" | "B2H6" | "OZONE" => TOXIC_GAS,
        "SIH4" | "H2" | "O2" | "N2" | "CF4" | "SF6" => GAS,
        "ACETONE" | "IPA" | "PGMEA" | "RESIST" | "HMDS" | "TEOS" => SOLVENT,
        "AS2O3" => {
            "Wash skin with soap and water, rinse mouth and eyes, emergency call at once."
        }
        "SB2O3" | "INDIUM" => {
            "Wash skin with soap and water; dust breathed: fresh air and medical help."
        }
        "HEAT" => "Cool the burn under running water for 20 minutes, then medical help.",
        "UV" => {
            "Close the eyes and rest them, medical help; burst lamp: leave and ventilate."
        }
        "HV_XRAY" | "RF_PLASMA" => SHOCK,
        "EVAPORATOR" => {
            "Power off first, then help and emergency call; burns: running water for 20 minutes; glare in the eyes: medical help."
        }
        "CRYO" => "Warm with lukewarm water, do not rub; short of air: leave.",
        "SHARPS" => {
            "Rinse the cut and treat it as a chemical exposure too; medical help."
        }
        "VACUUM" | "CYL" => "Stop the tool, get trained staff, emergency call if hurt.",
        _ => HF,
    }
}

/// What never to do with a row's substance, in short lines.
pub(super) fn never(id: &str) -> &'static [&'static str] {
    match id {
        "HF49" | "HF_DIL" => &[
            "Never work with HF alone or outside working hours.",
            "Never put HF in glass: plastic only.",
            "Never wait for pain: it can come a day late.",
            "Never heat it: the vapor burns eyes and lungs.",
            "Never start without calcium gluconate gel in date and at hand.",
            "Never wipe up a colorless puddle as if it were water: treat it as HF.",
        ],
        "BHF" | "NH4F" => &[
            "Never put it in glass: plastic only.",
            "Never add acid to it: that sets HF free.",
            "Never take a burn for a small one: treat every burn as an HF burn.",
            "Never work with it alone.",
        ],
        "BF3" => &[
            "Never let moist air in: it makes HF.",
            "Never return while the gas alarm sounds.",
        ],
        "H2SO4" => &[
            "Never pour water into acid: acid into water, slowly.",
            "Never mix it with organics.",
        ],
        "PIRANHA" => &[
            "Never pour acid into peroxide: peroxide slowly into acid.",
            "Never use peroxide of 50 % or more.",
            "Never let acetone, alcohol or bulk resist near it: it explodes.",
            "Never store it: make it fresh, and let what is left react out in the open.",
            "Never close the bottle until it has fully reacted and cooled.",
            "Never put it in ordinary plastic.",
            "Never put aluminum in it.",
        ],
        "H2O2" => &[
            "Never close it tight: it gives off gas.",
            "Never mix it with acetone or other organics.",
        ],
        "SC1" | "NH4OH" => &[
            "Never pour it into the waste of SC-2 or of acids: heat and chloramines.",
            "Never bring bleach near it.",
        ],
        "SC2" | "HCL" => &[
            "Never pour it into the waste of SC-1 or of bases.",
            "Never bring bleach near it: chlorine.",
        ],
        "TMAH25" | "TMAH238" => &[
            "Never leave a splash on the skin, not even of the weak developer: it goes through the skin.",
            "Never take HF gel for it.",
            "Never work with it alone.",
        ],
        "KOH" => &[
            "Never pour hot water on pellets: pellets slowly into cold water.",
            "Never a flame nearby: etching silicon gives hydrogen.",
            "Never put aluminum in it.",
        ],
        "H3PO4_HOT" => &[
            "Never add water quickly to the hot acid: steam throws it out.",
            "Never drain it above 60 °C.",
        ],
        "AL_ETCH" => &[
            "Never store the used bath tightly closed: it gives off gas.",
            "Never a flame nearby: etching aluminum gives hydrogen.",
            "Never mix it with solvents.",
        ],
        "ACETIC" => &["Never store it beside nitric acid."],
        "HNO3" => &[
            "Never let solvents near it: fire or explosion.",
            "Never breathe the brown gas: the lungs may fail hours later.",
            "Never close its waste bottle without a vented cap.",
        ],
        "ACETONE" | "IPA" => &[
            "Never near piranha, nitric acid or peroxide.",
            "Never near a hot plate or sparks.",
            "Never into acid waste.",
        ],
        "PGMEA" | "RESIST" | "HMDS" | "TEOS" => &[
            "Never into acid waste: solvent waste only.",
            "Never near a flame or bare heater.",
        ],
        "POCL3" => &["Never let water or moist air reach it: violent, poisonous fumes."],
        "SIH4" | "SIH2CL2" => &[
            "Never open the line to air before purging and a leak test.",
            "Never fight the fire before the flow is off.",
        ],
        "AS2O3" => &[
            "Never scrape or blow out a tube, ring or boat dry: arsenic dust.",
            "Never let acid and a metal meet its residues: arsine.",
            "Never eat, drink or touch the face before washing.",
        ],
        "SB2O3" => &[
            "Never scrape or blow out a tube or boat dry: dust.",
            "Never let acid and a metal meet its residues: stibine.",
        ],
        "INDIUM" => &["Never breathe its dust: lung disease can follow years later."],
        "ASH3" | "PH3" | "SBH3" | "B2H6" | "NH3" | "CL2" | "HBR" | "BCL3" => &[
            "Never go back while the gas alarm sounds.",
            "Never trust the nose as a warning.",
        ],
        "H2" => &["Never let hydrogen flow below the torch's ignition temperature."],
        "O2" => &["Never oil or grease on oxygen valves."],
        "N2" | "CF4" | "SF6" => &["Never go in to rescue without an air supply."],
        "CRYO" => &[
            "Never go in to rescue without an air supply.",
            "Never close its vessel tightly: it bursts.",
            "Never ride in an elevator with it.",
        ],
        "OZONE" => &["Never open lamp or chamber before the ozone is drawn off."],
        "VACUUM" => &["Never open a chamber or pump before it is purged."],
        "RF_PLASMA" => &["Never open generator, match or cable with the power on."],
        "PLASMA_BY" => &["Never open the chamber before purge and pump-down."],
        "SLURRY" => &[
            "Never let it dry and sweep up the dust: wipe it wet.",
            "Never pour acid into it: the silica gels and blocks the drain.",
        ],
        "HEAT" => &["Never touch quartz or wafers because they look cold."],
        "HV_XRAY" => &["Never inside the cage with the voltage on; ground hook first."],
        "EVAPORATOR" => &[
            "Never reach in before the power is off and locked out and the grounding hook is on: charge stays.",
            "Never bridge an interlock of door, vacuum or cooling water.",
            "Never look at the melt past the filtered, leaded window.",
            "Never vent before crucible and metal are cool.",
            "Never brush or blow flakes off dry: the dust harms the lungs and can burn.",
        ],
        "UV" => &["Never look into the beam or bypass the interlock."],
        "SHARPS" => &["Never pick up broken wafers by hand."],
        "CYL" => {
            &["Never move a cylinder without its cap, nor leave it without its chain."]
        }
        super::UNKNOWN => {
            &["Never touch what you cannot name.", "Never wait for pain or symptoms."]
        }
        _ => &[],
    }
}

/// Signs for dangers without pictogram: numbers of ISO 7010 (memory).
pub(super) fn warning_signs(id: &str) -> &'static [&'static str] {
    match id {
        "HEAT" => &["W017"],
        "UV" => &["W027"],
        "HV_XRAY" => &["W012", "W003"],
        "EVAPORATOR" => &["W012", "W003", "W027", "W017"],
        "RF_PLASMA" => &["W012"],
        "CRYO" => &["W010"],
        _ => &[],
    }
}
