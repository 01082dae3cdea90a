//! The puddle that is dispensed: its height and how far it reaches before the wafer turns.

use core::f64::consts::PI;

use super::laws::DENSITY_KG_M3;
use crate::num;

/// Surface tension of the liquid in N/m (common practice: 0.025 to 0.035 for organic solvents).
pub const SURFACE_TENSION_N_M: f64 = 0.030;

/// Angle at the rim of a resting puddle in degrees (model choice: resist wets well).
pub const PUDDLE_ANGLE_DEG: f64 = 30.0;

/// Share of the wafer's radius that a puddle has to cover (model choice).
pub const LEAST_REACH: f64 = 0.5;

/// Gravity in m/s2 (standard value).
const GRAVITY_M_S2: f64 = 9.806_65;

/// Height in mm of a wide resting puddle: `2 sqrt(gamma / (rho g)) sin(theta / 2)`
/// (P.-G. de Gennes, Rev. Mod. Phys. 57, 827, 1985; memory).
#[must_use]
pub fn puddle_height_mm() -> f64 {
    let capillary_m = (SURFACE_TENSION_N_M / (DENSITY_KG_M3 * GRAVITY_M_S2)).sqrt();
    2e3 * capillary_m * num::sin(0.5 * PUDDLE_ANGLE_DEG.to_radians())
}

/// Radius in mm that a puddle reaches by itself.
#[must_use]
pub fn puddle_radius_mm(volume_ml: f64) -> f64 {
    (1e3 * volume_ml / (PI * puddle_height_mm())).sqrt()
}

/// Volume in ml of a liquid of even height on a wafer.
#[must_use]
pub fn volume_ml(height_um: f64, wafer_diameter_mm: f64) -> f64 {
    let radius_mm = 0.5 * wafer_diameter_mm;
    1e-6 * height_um * PI * radius_mm * radius_mm
}

/// Height in um of a volume spread over a wafer.
#[must_use]
pub(super) fn height_um(volume_ml: f64, wafer_diameter_mm: f64) -> f64 {
    let radius_mm = 0.5 * wafer_diameter_mm;
    1e6 * volume_ml / (PI * radius_mm * radius_mm)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_milliliters_cover_more_than_half_of_a_wafer() {
        // 2 * 1.749 mm * sin(15 degrees) = 0.905 mm; sqrt(3000 / (pi 0.905)) = 32.5 mm.
        assert!((puddle_height_mm() - 0.905).abs() < 2e-3, "{}", puddle_height_mm());
        assert!((puddle_radius_mm(3.0) - 32.5).abs() < 0.1, "{}", puddle_radius_mm(3.0));
        // 150 um on a wafer of 100 mm: 1.178 ml.
        assert!((volume_ml(150.0, 100.0) - 1.1781).abs() < 1e-4);
        assert!((height_um(volume_ml(77.0, 150.0), 150.0) - 77.0).abs() < 1e-9);
    }
}
