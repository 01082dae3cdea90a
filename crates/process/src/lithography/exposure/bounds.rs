//! The ranges of an exposure.

use crate::bound::{Bound, Scale};

/// Wavelength: a line of a mercury lamp.
pub const WAVELENGTH_NM: Bound = Bound {
    field: "wavelength_nm",
    label: "Wavelength",
    unit: "nm",
    min: 364.0,
    max: 437.0,
    published: None,
    default: Some(365.0),
    step: 1.0,
    scale: Scale::Linear,
};

/// Numerical aperture of the lens; scalar images hold below about 0.6.
pub const NUMERICAL_APERTURE: Bound = Bound {
    field: "numerical_aperture",
    label: "Numerical aperture",
    unit: "",
    min: 0.1,
    max: 0.85,
    published: Some((0.1, 0.6)),
    default: Some(0.5),
    step: 0.01,
    scale: Scale::Linear,
};

/// Aperture of the condenser over that of the lens; 0 is coherent light.
pub const PARTIAL_COHERENCE: Bound = Bound {
    field: "partial_coherence",
    label: "Partial coherence σ",
    unit: "",
    min: 0.0,
    max: 1.0,
    published: None,
    default: Some(0.5),
    step: 0.05,
    scale: Scale::Linear,
};

/// Distance of the wafer from the focus.
pub const DEFOCUS_UM: Bound = Bound {
    field: "defocus_um",
    label: "Defocus",
    unit: "µm",
    min: -10.0,
    max: 10.0,
    published: None,
    default: Some(0.0),
    step: 0.1,
    scale: Scale::Linear,
};

/// Gap between mask and resist.
pub const GAP_UM: Bound = Bound {
    field: "gap_um",
    label: "Gap between mask and resist",
    unit: "µm",
    min: 0.0,
    max: 100.0,
    published: None,
    default: Some(0.0),
    step: 1.0,
    scale: Scale::Linear,
};

/// Half angle of the lamp's light behind a contact or proximity mask (2 to 4 degrees is common practice).
pub const COLLIMATION_DEG: Bound = Bound {
    field: "collimation_deg",
    label: "Half angle of the lamp",
    unit: "°",
    min: 0.0,
    max: 10.0,
    published: None,
    default: Some(3.0),
    step: 0.5,
    scale: Scale::Linear,
};

/// Dose in an open frame.
pub const DOSE_MJ_CM2: Bound = Bound {
    field: "dose_mj_cm2",
    label: "Dose",
    unit: "mJ/cm²",
    min: 1.0,
    max: 2000.0,
    published: None,
    default: Some(140.0),
    step: 1.0,
    scale: Scale::Log,
};

/// Distance from one opening to the next.
pub const PITCH_UM: Bound = Bound {
    field: "pitch_um",
    label: "Pitch",
    unit: "µm",
    min: 0.2,
    max: 20.0,
    published: None,
    default: Some(1.0),
    step: 0.05,
    scale: Scale::Linear,
};

/// Width of a clear opening.
pub const OPENING_UM: Bound = Bound {
    field: "opening_um",
    label: "Clear opening",
    unit: "µm",
    min: 0.1,
    max: 20.0,
    published: None,
    default: Some(0.5),
    step: 0.05,
    scale: Scale::Linear,
};

/// An end of a listed opening.
pub const END_UM: Bound = Bound {
    field: "openings_um",
    label: "End of an opening",
    unit: "µm",
    min: -50.0,
    max: 50.0,
    published: None,
    default: None,
    step: 0.05,
    scale: Scale::Linear,
};

/// Thickness of the resist.
pub const THICKNESS_NM: Bound = Bound {
    field: "thickness_nm",
    label: "Resist thickness",
    unit: "nm",
    min: 50.0,
    max: 5000.0,
    published: None,
    default: Some(1150.0),
    step: 10.0,
    scale: Scale::Linear,
};

/// Thickness of a film below the resist.
pub const FILM_NM: Bound = Bound {
    field: "thickness_nm",
    label: "Film thickness",
    unit: "nm",
    min: 0.0,
    max: 5000.0,
    published: None,
    default: None,
    step: 10.0,
    scale: Scale::Linear,
};

/// Absorption that bleaches, `A`.
pub const BLEACHABLE_PER_UM: Bound = Bound {
    field: "bleachable_per_um",
    label: "Bleachable absorption A",
    unit: "1/µm",
    min: 0.0,
    max: 5.0,
    published: None,
    default: None,
    step: 0.01,
    scale: Scale::Linear,
};

/// Absorption that stays, `B`.
pub const RESIDUAL_PER_UM: Bound = Bound {
    field: "residual_per_um",
    label: "Residual absorption B",
    unit: "1/µm",
    min: 0.0,
    max: 5.0,
    published: None,
    default: None,
    step: 0.01,
    scale: Scale::Linear,
};

/// Rate of bleaching, `C`.
pub const BLEACH_RATE_CM2_MJ: Bound = Bound {
    field: "bleach_rate_cm2_mj",
    label: "Bleach rate C",
    unit: "cm²/mJ",
    min: 1e-4,
    max: 1.0,
    published: None,
    default: None,
    step: 0.001,
    scale: Scale::Log,
};

/// Refractive index of the resist.
pub const INDEX: Bound = Bound {
    field: "index",
    label: "Resist index",
    unit: "",
    min: 1.3,
    max: 2.2,
    published: None,
    default: None,
    step: 0.01,
    scale: Scale::Linear,
};

/// Temperature of the bake after exposure.
pub const BAKE_TEMPERATURE_C: Bound = Bound {
    field: "temperature_c",
    label: "Bake temperature",
    unit: "°C",
    min: 60.0,
    max: 150.0,
    published: Some((90.0, 120.0)),
    default: Some(110.0),
    step: 1.0,
    scale: Scale::Linear,
};

/// Time of the bake after exposure.
pub const BAKE_TIME_S: Bound = Bound {
    field: "time_s",
    label: "Bake time",
    unit: "s",
    min: 0.0,
    max: 600.0,
    published: None,
    default: Some(60.0),
    step: 1.0,
    scale: Scale::Linear,
};

/// Factor of the resolution rule.
pub const K1: Bound = Bound {
    field: "k1",
    label: "Resolution factor k₁",
    unit: "",
    min: 0.25,
    max: 2.0,
    published: None,
    default: Some(0.8),
    step: 0.05,
    scale: Scale::Linear,
};

/// Factor of the depth-of-focus rule.
pub const K2: Bound = Bound {
    field: "k2",
    label: "Focus factor k₂",
    unit: "",
    min: 0.1,
    max: 2.0,
    published: None,
    default: Some(0.5),
    step: 0.05,
    scale: Scale::Linear,
};

/// Rings of source points: fewer are faster.
pub const SOURCE_RINGS: Bound = Bound {
    field: "source_rings",
    label: "Rings of source points",
    unit: "",
    min: 4.0,
    max: 96.0,
    published: None,
    default: Some(24.0),
    step: 1.0,
    scale: Scale::Linear,
};

/// Cell of the section through the resist.
pub const GRID_NM: Bound = Bound {
    field: "grid_nm",
    label: "Cell of the section",
    unit: "nm",
    min: 2.0,
    max: 20.0,
    published: None,
    default: Some(5.0),
    step: 0.5,
    scale: Scale::Linear,
};

/// Largest oxide of the swing curve against oxide; 0 leaves it out.
pub const OXIDE_SWING_NM: Bound = Bound {
    field: "oxide_swing_nm",
    label: "Range of oxide of the swing curve",
    unit: "nm",
    min: 0.0,
    max: 1000.0,
    published: None,
    default: Some(0.0),
    step: 20.0,
    scale: Scale::Linear,
};

/// Range of thickness of the swing curve about the present one; 0 leaves it out.
pub const SWING_SPAN_NM: Bound = Bound {
    field: "swing_span_nm",
    label: "Range of the swing curve",
    unit: "nm",
    min: 0.0,
    max: 600.0,
    published: None,
    default: Some(0.0),
    step: 20.0,
    scale: Scale::Linear,
};
