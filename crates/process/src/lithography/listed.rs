//! The constants of lithography as a list to read.

use super::bake::{
    DECAY_EV, DECAY_PER_S, DRYING_EV, DRYING_S, LEAST_SOLVENT, START_SOLVENT,
};
use super::development::{RATE_EV, RateLaw, STRENGTH_POWER, USUAL_NORMALITY};
use super::resist::Resist;
use super::spin_coating::{
    AIR_VISCOSITY_M2_S, BAKED_SOLVENT_FRACTION, BEAD_LENGTH_MM, BEAD_PER_UM,
    DENSITY_KG_M3, EVAPORATION_UM_S, LAMINAR_EXPONENT, PUDDLE_ANGLE_DEG,
    REFERENCE_SPEED_RPM, SKIN_SOLIDS_FRACTION, SOLVENT_VISCOSITY_MPA_S, SPIRAL_REYNOLDS,
    STOPPED_SOLIDS_FRACTION, SURFACE_TENSION_N_M, TURBULENT_DRYING, TURBULENT_REYNOLDS,
};
use crate::sourced::List;

pub(crate) fn list(list: &mut List) {
    spinning(list);
    across(list);
    baking(list);
    developing(list);
}

fn spinning(list: &mut List) {
    for &resist in Resist::ALL {
        let liquid = resist.formulation();
        list.source(
            "invented liquids in the range of novolac resists: 15 to 35 % of solids, 5 to \
             100 mPa s",
            "model choice",
            "25 C",
        )
        .add(format!("{}, solids by volume", resist.word()), liquid.solids_fraction, "")
        .add(format!("{}, viscosity", resist.word()), liquid.viscosity_mpa_s, "mPa s");
    }
    list.source(
        "resists are 950 to 1050 kg/m3",
        "model choice",
        "all demonstration resists",
    )
    .add("density of the liquid", DENSITY_KG_M3, "kg/m3");
    list.source("as for PGMEA at 25 C", "model choice", "25 C").add(
        "viscosity of the solvent",
        SOLVENT_VISCOSITY_MPA_S,
        "mPa s",
    );
    list.source("10 to 20 % of solvent is usual before the bake", "model choice", "25 C")
        .add("solids at which the skin stops flow", SKIN_SOLIDS_FRACTION, "");
    list.source(
        "3 to 5 % is usual after 60 s at 100 C on a hot plate",
        "model choice",
        "soft bake",
    )
    .add("solvent left after the soft bake", BAKED_SOLVENT_FRACTION, "");
    list.source(
        "checked against E. M. Sparrow, J. L. Gregg, J. Heat Transfer 81, 249 (1959): 0.54 um/s",
        "model choice",
        "within a factor of 1.3",
    )
    .add("evaporation of the solvent", EVAPORATION_UM_S, "um/s")
    .add("speed at which it holds", REFERENCE_SPEED_RPM, "rpm");
    list.source("D. Meyerhofer, J. Appl. Phys. 49, 3993 (1978)", "memory", "laminar air")
        .add("exponent of the speed in evaporation", LAMINAR_EXPONENT, "");
    list.source("every table of air", "memory", "20 C").add(
        "kinematic viscosity of air",
        AIR_VISCOSITY_M2_S,
        "m2/s",
    );
    list.source(
        "N. Gregory, J. T. Stuart, W. S. Walker, Phil. Trans. R. Soc. A 248, 155 (1955)",
        "memory",
        "10 %",
    )
    .add("Reynolds number of spiral vortices", SPIRAL_REYNOLDS, "");
    list.source("R. J. Lingwood, J. Fluid Mech. 299, 17 (1995)", "memory", "10 %").add(
        "Reynolds number of turbulence",
        TURBULENT_REYNOLDS,
        "",
    );
    super::exposure::list(list);
}

fn across(list: &mut List) {
    list.source(
        "organic solvents have 0.025 to 0.035 N/m",
        "common practice",
        "all demonstration resists",
    )
    .add("surface tension of the liquid", SURFACE_TENSION_N_M, "N/m");
    list.source("resist wets a wafer well", "model choice", "puddle at rest").add(
        "angle at the rim of a puddle",
        PUDDLE_ANGLE_DEG,
        "°",
    );
    list.source("rings of 1 to 5 mm are common practice", "model choice", "edge bead")
        .add("length over which the bead falls off", BEAD_LENGTH_MM, "mm")
        .add("bead above the film, in films a micrometer of film", BEAD_PER_UM, "1/µm");
    list.source("so that the film is some 10 % thicker", "model choice", "turbulent air")
        .add("share by which drying gains far out", TURBULENT_DRYING, "");
    list.source(
        "a film over a narrow step is then half level",
        "model choice",
        "coating over steps",
    )
    .add("solids at which the film stops to flow", STOPPED_SOLIDS_FRACTION, "");
}

fn baking(list: &mut List) {
    list.source("10 to 20 % of solvent is usual before the bake", "model choice", "")
        .add("solvent in a spun film", START_SOLVENT, "")
        .add("solvent that no bake drives out", LEAST_SOLVENT, "");
    list.source("60 s on a plate of 100 °C leave 4 %", "model choice", "hot plate")
        .add("time constant of drying at 100 °C", DRYING_S, "s")
        .add("activation energy of drying", DRYING_EV, "eV");
    list.source(
        "above some 120 °C the sensitizer decays",
        "model choice",
        "novolac resist",
    )
    .add("decay of the sensitizer at 120 °C", DECAY_PER_S, "1/s")
    .add("activation energy of the decay", DECAY_EV, "eV");
}

fn developing(list: &mut List) {
    list.source("2.38 % of TMAH in water", "common practice", "developer").add(
        "usual strength of the developer",
        USUAL_NORMALITY,
        "N",
    );
    let law = RateLaw::DEMO;
    list.source(
        "within what C. A. Mack, J. Electrochem. Soc. 134, 148 (1987) gives for such resists",
        "model choice",
        "demonstration resists, 21 °C, 0.26 N",
    )
    .add("fastest rate", law.fastest_nm_s, "nm/s")
    .add("slowest rate", law.slowest_nm_s, "nm/s")
    .add("compound left at which the rate bends", law.threshold_pac, "")
    .add("order of the rate law", law.order, "");
    list.source(
        "sign and size differ between resists",
        "model choice",
        "rate of development",
    )
    .add("activation energy of the fastest rate", RATE_EV, "eV")
    .add("power of the strength", STRENGTH_POWER, "");
}
