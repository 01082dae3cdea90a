//! The range of every number that only a flow has. The numbers of a step are those of its
//! operation.

use crate::bound::{Bound, Scale};

const PLAIN: Bound = Bound {
    field: "",
    label: "",
    unit: "",
    min: 0.0,
    max: 0.0,
    published: None,
    default: None,
    step: 0.1,
    scale: Scale::Linear,
};

/// A coordinate of the layout.
pub const COORDINATE_UM: Bound = Bound {
    field: "coordinate",
    label: "Coordinate",
    unit: "µm",
    min: -100_000.0,
    max: 100_000.0,
    ..PLAIN
};

/// Length of the section line.
pub const SECTION_UM: Bound = Bound {
    field: "section",
    label: "Length of the section",
    unit: "µm",
    min: 0.1,
    max: 2000.0,
    ..PLAIN
};

/// How far the sides of a mask's figures lie outside what is drawn.
pub const BIAS_UM: Bound = Bound {
    field: "bias_um",
    label: "Mask bias",
    unit: "µm",
    min: -20.0,
    max: 20.0,
    default: Some(0.0),
    ..PLAIN
};

/// How far a mask is printed off its place.
pub const OVERLAY_UM: Bound = Bound {
    field: "overlay_um",
    label: "Overlay error",
    unit: "µm",
    min: -100.0,
    max: 100.0,
    default: Some(0.0),
    ..PLAIN
};

/// What a slider for an overlay error offers to either side, in um (model choice: a line of
/// teaching aligners prints within a micrometer; twice that shows every consequence).
pub const USUAL_OVERLAY_UM: f64 = 2.0;

/// Distance or width that a design rule asks for.
pub const RULE_UM: Bound = Bound {
    field: "least_um",
    label: "Least distance",
    unit: "µm",
    min: 0.0,
    max: 10_000.0,
    ..PLAIN
};

/// Diameter of the wafer.
pub const DIAMETER_MM: Bound = Bound {
    field: "diameter_mm",
    label: "Wafer diameter",
    unit: "mm",
    min: 25.0,
    max: 450.0,
    default: Some(100.0),
    step: 25.0,
    ..PLAIN
};

/// Thickness of the wafer.
pub const THICKNESS_UM: Bound = Bound {
    field: "thickness_um",
    label: "Wafer thickness",
    unit: "µm",
    min: 100.0,
    max: 2000.0,
    default: Some(525.0),
    step: 25.0,
    ..PLAIN
};

/// Intrinsic density for thresholds.
pub const INTRINSIC_CM3: Bound = Bound {
    field: "intrinsic_cm3",
    label: "Intrinsic density",
    unit: "cm⁻³",
    min: 1e9,
    max: 1e11,
    default: Some(1e10),
    scale: Scale::Log,
    ..PLAIN
};

/// Fixed charge under the gate.
pub const FIXED_CHARGE_GATE_CM2: Bound = Bound {
    field: "fixed_charge_gate_cm2",
    label: "Fixed charge, gate oxide",
    unit: "cm⁻²",
    min: -1e13,
    max: 1e13,
    default: Some(5e10),
    step: 1e10,
    ..PLAIN
};

/// Fixed charge under the field oxide.
pub const FIXED_CHARGE_FIELD_CM2: Bound = Bound {
    field: "fixed_charge_field_cm2",
    label: "Fixed charge, field oxide",
    default: Some(1e11),
    ..FIXED_CHARGE_GATE_CM2
};

/// Supply voltage.
pub const SUPPLY_V: Bound = Bound {
    field: "supply_v",
    label: "Supply",
    unit: "V",
    min: 0.1,
    max: 100.0,
    default: Some(5.0),
    ..PLAIN
};

/// Mobility of electrons in a channel.
pub const MOBILITY_N_CM2_VS: Bound = Bound {
    field: "mobility_n_cm2_vs",
    label: "Electron mobility in the channel",
    unit: "cm²/Vs",
    min: 10.0,
    max: 1500.0,
    default: Some(550.0),
    step: 10.0,
    ..PLAIN
};

/// Mobility of holes in a channel.
pub const MOBILITY_P_CM2_VS: Bound = Bound {
    field: "mobility_p_cm2_vs",
    label: "Hole mobility in the channel",
    max: 600.0,
    default: Some(170.0),
    ..MOBILITY_N_CM2_VS
};

/// Time of a clean.
pub const CLEAN_TIME_MIN: Bound = Bound {
    field: "time_min",
    label: "Time",
    unit: "min",
    min: 0.1,
    max: 240.0,
    default: Some(10.0),
    scale: Scale::Log,
    ..PLAIN
};

/// Most masks of a layout,
pub const MOST_MASKS: usize = 30;
/// figures of a mask,
pub const MOST_FIGURES: usize = 1000;
/// corners of a polygon,
pub const MOST_CORNERS: usize = 500;
/// rules of a layout,
pub const MOST_RULES: usize = 100;
/// steps of a flow.
pub const MOST_STEPS: usize = 300;
/// Most columns of a section: what a page can hold.
pub const MOST_COLUMNS: usize = 6000;
