//! The constants of a spinning film, and what of it has a closed form.

use crate::lithography::resist::Formulation;
use crate::num::cbrt;

/// Density of the liquid in kg/m3 (model choice; resists are 950-1050, common practice).
pub const DENSITY_KG_M3: f64 = 1000.0;

/// Viscosity of the pure solvent in mPa s (model choice, as for PGMEA at 25 C).
pub const SOLVENT_VISCOSITY_MPA_S: f64 = 1.1;

/// Solids fraction at which the skin stops flow and drying: 15 % solvent stays (model choice;
/// 10-20 % is common practice before the bake).
pub const SKIN_SOLIDS_FRACTION: f64 = 0.85;

/// Evaporation of PGMEA into air at [`REFERENCE_SPEED_RPM`] in um/s of liquid.
///
/// Model choice, checked against mass transfer from a rotating disc in laminar air
/// (E. M. Sparrow, J. L. Gregg, J. Heat Transfer 81, 249, 1959; memory), which gives
/// 0.54 um/s at 4000 rpm within a factor of 1.3.
pub const EVAPORATION_UM_S: f64 = 0.50;

/// Speed at which [`EVAPORATION_UM_S`] holds, in rpm.
pub const REFERENCE_SPEED_RPM: f64 = 4000.0;

/// Exponent of the speed in the evaporation law: a laminar boundary layer thins as
/// `omega^(-1/2)` (Meyerhofer 1978; memory).
pub const LAMINAR_EXPONENT: f64 = 0.5;

/// Solids fraction from which the film counts as dry: half a percent of the volume above the
/// solvent that stays for good (model choice).
pub const DRY_SOLIDS_FRACTION: f64 = SKIN_SOLIDS_FRACTION - 0.005;

/// Angular speed in rad/s.
#[must_use]
pub fn angular_rad_s(speed_rpm: f64) -> f64 {
    speed_rpm * core::f64::consts::PI / 30.0
}

/// Film height in um after a time without evaporation (Emslie, Bonner, Peck 1958).
#[must_use]
pub fn height_without_evaporation_um(
    start_um: f64,
    viscosity_mpa_s: f64,
    speed_rpm: f64,
    time_s: f64,
) -> f64 {
    start_um
        / (1.0 + time_s / forgetting_time_s(start_um, viscosity_mpa_s, speed_rpm)).sqrt()
}

/// Time in s after which the start height no longer matters: `3 eta / (4 rho omega^2 h0^2)`.
#[must_use]
pub fn forgetting_time_s(start_um: f64, viscosity_mpa_s: f64, speed_rpm: f64) -> f64 {
    0.5 / (drain_per_um2_s(speed_rpm, viscosity_mpa_s) * start_um * start_um)
}

/// Height in um at which drain and evaporation of the bottle's liquid take equal amounts of
/// solvent, `[3 nu E / (2 (1 - c) omega^2)]^(1/3)` (Meyerhofer 1978).
#[must_use]
pub fn transition_height_um(
    liquid: Formulation,
    evaporation_um_s: f64,
    speed_rpm: f64,
) -> f64 {
    let drain = drain_per_um2_s(speed_rpm, liquid.viscosity_mpa_s);
    cbrt(evaporation_um_s / ((1.0 - liquid.solids_fraction) * drain))
}

/// `2 rho omega^2 / (3 eta)` in 1/(um2 s): the drain is this times the height cubed.
pub(super) fn drain_per_um2_s(speed_rpm: f64, viscosity_mpa_s: f64) -> f64 {
    let omega = angular_rad_s(speed_rpm);
    // 1e-12 um2 per m2 upside down; 1e-3 Pa s per mPa s.
    2.0 * DENSITY_KG_M3 * omega * omega * 1e-12 / (3.0 * viscosity_mpa_s * 1e-3)
}
