//! The constants of lithography as a list to read.

use super::resist::Resist;
use super::spin_coating::{
    AIR_VISCOSITY_M2_S, BAKED_SOLVENT_FRACTION, DENSITY_KG_M3, EVAPORATION_UM_S,
    LAMINAR_EXPONENT, REFERENCE_SPEED_RPM, SKIN_SOLIDS_FRACTION, SOLVENT_VISCOSITY_MPA_S,
    SPIRAL_REYNOLDS, TURBULENT_REYNOLDS,
};
use crate::sourced::List;

pub(crate) fn list(list: &mut List) {
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
