//! The range of every number of an implantation.

use crate::bound::{Bound, Scale};

/// Ion energy. The tables begin at 10 keV; down to 5 keV their end slope goes on.
pub const ENERGY: Bound = Bound {
    field: "energy_kev",
    label: "Ion energy",
    unit: "keV",
    min: 5.0,
    max: 400.0,
    published: Some((10.0, 200.0)),
    default: None,
    step: 1.0,
    scale: Scale::Log,
};
/// Dose on the wafer.
pub const DOSE: Bound = Bound {
    field: "dose_cm2",
    label: "Dose",
    unit: "cm⁻²",
    min: 1e11,
    max: 1e16,
    published: None,
    default: Some(1e14),
    step: 1e11,
    scale: Scale::Log,
};
/// Angle between beam and wafer normal. 7 degrees is common practice.
pub const TILT: Bound = Bound {
    field: "tilt_deg",
    label: "Tilt",
    unit: "°",
    min: 0.0,
    max: 60.0,
    published: None,
    default: Some(7.0),
    step: 1.0,
    scale: Scale::Linear,
};
/// Angle about the wafer normal. 22 to 27 degrees is common practice.
pub const ROTATION: Bound = Bound {
    field: "rotation_deg",
    label: "Rotation",
    unit: "°",
    min: 0.0,
    max: 360.0,
    published: None,
    default: Some(22.0),
    step: 1.0,
    scale: Scale::Linear,
};
/// Thickness of a layer above the silicon; 0 is no layer.
pub const LAYER_THICKNESS: Bound = Bound {
    field: "thickness_nm",
    label: "Layer thickness",
    unit: "nm",
    min: 0.0,
    max: 20_000.0,
    published: None,
    default: None,
    step: 5.0,
    scale: Scale::Linear,
};
/// Concentration of the wafer.
pub const SUBSTRATE: Bound = Bound {
    field: "substrate.concentration_cm3",
    label: "Substrate concentration",
    unit: "cm⁻³",
    min: 1e12,
    max: 1e20,
    published: None,
    default: Some(1e15),
    step: 1e12,
    scale: Scale::Log,
};
/// Beam current on the wafer.
pub const BEAM_CURRENT: Bound = Bound {
    field: "beam_current_ua",
    label: "Beam current",
    unit: "µA",
    min: 0.01,
    max: 30_000.0,
    published: None,
    default: None,
    step: 1.0,
    scale: Scale::Log,
};
/// Wafer diameter.
pub const WAFER_DIAMETER: Bound = Bound {
    field: "wafer_diameter_mm",
    label: "Wafer diameter",
    unit: "mm",
    min: 10.0,
    max: 300.0,
    published: None,
    default: Some(100.0),
    step: 1.0,
    scale: Scale::Linear,
};
/// Elementary charges on an ion.
pub const CHARGE_STATE: Bound = Bound {
    field: "charge_state",
    label: "Charge state",
    unit: "",
    min: 1.0,
    max: 3.0,
    published: None,
    default: Some(1.0),
    step: 1.0,
    scale: Scale::Linear,
};
/// Share of the dose that a mask may let pass; 1e-4 stops 99.99 % (common practice).
pub const MASK_LEAK: Bound = Bound {
    field: "mask_leak",
    label: "Share that may pass a mask",
    unit: "",
    min: 1e-6,
    max: 0.1,
    published: None,
    default: Some(1e-4),
    step: 1e-6,
    scale: Scale::Log,
};
/// Given projected range.
pub const GIVEN_RANGE: Bound = Bound {
    field: "moments.projected_range_nm",
    label: "Projected range",
    unit: "nm",
    min: 1.0,
    max: 10_000.0,
    published: None,
    default: None,
    step: 1.0,
    scale: Scale::Log,
};
/// Given straggle.
pub const GIVEN_STRAGGLE: Bound = Bound {
    field: "moments.straggle_nm",
    label: "Straggle",
    unit: "nm",
    min: 0.5,
    max: 5_000.0,
    published: None,
    default: None,
    step: 0.5,
    scale: Scale::Log,
};
/// Given lateral straggle.
pub const GIVEN_LATERAL: Bound = Bound {
    field: "moments.lateral_straggle_nm",
    label: "Lateral straggle",
    ..GIVEN_STRAGGLE
};
/// Given skewness.
pub const GIVEN_SKEWNESS: Bound = Bound {
    field: "moments.skewness",
    label: "Skewness",
    unit: "",
    min: -4.0,
    max: 4.0,
    published: Some((-2.5, 2.5)),
    default: Some(0.0),
    step: 0.05,
    scale: Scale::Linear,
};
/// Given kurtosis.
pub const GIVEN_KURTOSIS: Bound = Bound {
    field: "moments.kurtosis",
    label: "Kurtosis",
    unit: "",
    min: 1.0,
    max: 30.0,
    published: None,
    default: None,
    step: 0.1,
    scale: Scale::Linear,
};
/// Ions of a Monte Carlo run.
pub const IONS: Bound = Bound {
    field: "ions",
    label: "Number of ions",
    unit: "",
    min: 1.0,
    max: 200_000.0,
    published: None,
    default: Some(5000.0),
    step: 100.0,
    scale: Scale::Log,
};
/// Seed of a Monte Carlo run.
pub const SEED: Bound = Bound {
    field: "seed",
    label: "Seed",
    unit: "",
    min: 0.0,
    max: 4_294_967_295.0,
    published: None,
    default: Some(1.0),
    step: 1.0,
    scale: Scale::Linear,
};
