//! A step's operation, checked: the contract's object, less what the wafer itself tells, plus
//! what only a flow can say.

use serde::Deserialize;
use serde_json::{Map, Value};

use super::bounds::CLEAN_TIME_MIN;
use super::layout::{Layout, Offset};
use super::settings::{ImageKind, Settings};
use crate::deposition::FlowDeposition;
use crate::diffusion::{FlowHeat, FlowPredeposition};
use crate::error::RequestError;
use crate::etching::{FlowDryEtch, FlowStrip, FlowWetEtch};
use crate::implantation::FlowImplant;
use crate::lithography::{FlowBake, FlowDevelopment, FlowExposure, FlowSpin};
use crate::oxidation::FlowOxidation;
use crate::polishing::FlowPolish;
use crate::request::{nearest, read_fields};
use crate::vocabulary::words;

words!(
    /// A clean.
    CleanRecipe {
        /// Piranha, ammonia and peroxide, dilute HF, hydrochloric acid and peroxide.
        Full = "piranha_sc1_hf_sc2", "piranha, SC-1, dilute HF, SC-2";
        /// Sulfuric acid and peroxide: organics.
        Piranha = "piranha", "piranha";
        /// Ammonia and peroxide: particles and organics.
        Sc1 = "sc1", "SC-1 (ammonia and peroxide)";
        /// Hydrochloric acid and peroxide: metals.
        Sc2 = "sc2", "SC-2 (hydrochloric acid and peroxide)";
        /// Dilute HF: native oxide.
        HfDip = "hf_dip", "dilute HF dip";
        /// Acetone and alcohol.
        Solvent = "solvent", "solvent";
        /// Ozone under ultraviolet light.
        UvOzone = "uv_ozone", "UV and ozone";
    }
);

/// The operations that a step of a flow can be.
pub const STEP_OPERATIONS: &[&str] = &[
    "clean",
    "oxidation",
    "predeposition",
    "drive_in",
    "anneal",
    "implantation",
    "spin_coating",
    "bake",
    "exposure",
    "development",
    "resist_strip",
    "wet_etch",
    "dry_etch",
    "deposition",
    "planarization",
];

/// Fields of single requests that a flow takes from the wafer instead.
pub(super) fn wafer_fields(operation: &str) -> &'static [&'static str] {
    match operation {
        "oxidation" => {
            &["initial_oxide_nm", "orientation", "doping", "lamp", "view_angle_deg"]
        }
        "predeposition" => &["substrate", "solution", "compare", "phosphorus_tail"],
        "drive_in" | "anneal" => &[
            "start",
            "substrate",
            "initial_oxide_nm",
            "orientation",
            "solution",
            "compare",
            "accuracy",
        ],
        "implantation" => {
            &["through", "target", "substrate", "moments", "ions", "seed", "mask_leak"]
        }
        "bake" | "resist_strip" => &["thickness_nm"],
        "exposure" => &["mask", "thickness_nm", "stack_below", "resist", "swing_span_nm"],
        "development" => &["exposure"],
        "wet_etch" => &[
            "thickness_nm",
            "mask",
            "boron_cm3",
            "film_spread_percent",
            "rate_spread_percent",
        ],
        "dry_etch" => &["thickness_nm", "mask", "step_height_nm"],
        "deposition" => &["trench", "oxide_below_nm", "reflow", "wafer_diameter_mm"],
        "planarization" => &["thickness_nm", "step_height_nm", "dense_fraction"],
        _ => &[],
    }
}

/// Fields that only a step of a flow has.
pub(super) fn flow_fields(operation: &str) -> &'static [&'static str] {
    match operation {
        "spin_coating" => &["primed"],
        "exposure" => &["mask_level", "image", "overlay_um"],
        _ => &[],
    }
}

/// A clean.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Clean {
    pub(super) recipe: CleanRecipe,
    pub(super) time_min: f64,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct CleanFields {
    recipe: CleanRecipe,
    time_min: Option<f64>,
}

/// An exposure of a mask of the layout.
#[derive(Clone, Debug)]
pub(super) struct Printing {
    pub(super) exposure: FlowExposure,
    pub(super) level: String,
    pub(super) image: ImageKind,
    pub(super) overlay_um: [f64; 2],
}

#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PrintingFields {
    pub(super) mask_level: Option<String>,
    image: Option<ImageKind>,
    pub(super) overlay_um: Option<Offset>,
}

#[derive(Clone, Copy, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct SpinFields {
    primed: Option<bool>,
}

/// What a step does.
#[derive(Clone, Debug)]
pub(super) enum Task {
    Clean(Clean),
    Oxidation(Box<FlowOxidation>),
    Predeposition(FlowPredeposition),
    DriveIn(FlowHeat),
    Anneal(FlowHeat),
    Implantation(Box<FlowImplant>),
    SpinCoating { spin: FlowSpin, primed: bool },
    Bake(FlowBake),
    Exposure(Box<Printing>),
    Development(Box<FlowDevelopment>),
    ResistStrip(FlowStrip),
    WetEtch(FlowWetEtch),
    DryEtch(FlowDryEtch),
    Deposition(FlowDeposition),
    Planarization(FlowPolish),
}

impl Task {
    /// Reads a step's object.
    pub(super) fn read(
        mut fields: Map<String, Value>,
        settings: &Settings,
        layout: &Layout,
    ) -> Result<(&'static str, Map<String, Value>, Self), RequestError> {
        let operation = operation(fields.remove("operation"))?;
        for field in wafer_fields(operation) {
            if let Some(value) = fields.get(*field) {
                return Err(RequestError::conflict(
                    field,
                    &value.to_string(),
                    "not in a flow",
                    &format!(
                        "{field}: in a flow the wafer itself has it (allowed: not given)"
                    ),
                    &format!("leave {field} out"),
                ));
            }
        }
        settings.fill(operation, &mut fields);
        let filled = fields.clone();
        let mut own = Map::new();
        for field in flow_fields(operation) {
            if let Some(value) = fields.remove(*field) {
                own.insert((*field).to_owned(), value);
            }
        }
        Ok((operation, filled, Self::of(operation, fields, own, layout)?))
    }

    fn of(
        operation: &str,
        fields: Map<String, Value>,
        own: Map<String, Value>,
        layout: &Layout,
    ) -> Result<Self, RequestError> {
        Ok(match operation {
            "clean" => {
                let clean: CleanFields = read_fields(fields)?;
                let time_min = CLEAN_TIME_MIN.check_or_default(clean.time_min)?;
                Self::Clean(Clean { recipe: clean.recipe, time_min })
            }
            "oxidation" => Self::Oxidation(Box::new(FlowOxidation::read(fields)?)),
            "predeposition" => Self::Predeposition(FlowPredeposition::read(fields)?),
            "drive_in" => Self::DriveIn(FlowHeat::read(fields, false)?),
            "anneal" => Self::Anneal(FlowHeat::read(fields, true)?),
            "implantation" => Self::Implantation(Box::new(FlowImplant::read(fields)?)),
            "spin_coating" => {
                let own: SpinFields = read_fields(own)?;
                Self::SpinCoating {
                    spin: FlowSpin::read(fields)?,
                    primed: own.primed.unwrap_or(false),
                }
            }
            "bake" => Self::Bake(FlowBake::read(fields)?),
            "exposure" => {
                let exposure = FlowExposure::read(fields)?;
                let own: PrintingFields = read_fields(own)?;
                let Some(level) = own.mask_level else {
                    return Err(RequestError::missing(
                        "mask_level",
                        "a level of the layout",
                        "name the mask that is printed",
                    ));
                };
                let Some(mask) = layout.mask(&level) else {
                    return Err(super::unknown_level("mask_level", &level, layout));
                };
                Self::Exposure(Box::new(Printing {
                    exposure,
                    image: own.image.unwrap_or(ImageKind::Aerial),
                    overlay_um: match own.overlay_um {
                        Some(offset) => offset.check()?,
                        None => mask.overlay_um,
                    },
                    level,
                }))
            }
            "development" => Self::Development(Box::new(FlowDevelopment::read(fields)?)),
            "resist_strip" => Self::ResistStrip(FlowStrip::read(fields)?),
            "wet_etch" => Self::WetEtch(FlowWetEtch::read(&fields)?),
            "dry_etch" => Self::DryEtch(FlowDryEtch::read(&fields)?),
            "deposition" => Self::Deposition(FlowDeposition::read(fields)?),
            _ => Self::Planarization(FlowPolish::read(fields)?),
        })
    }
}

/// The operation's name.
fn operation(given: Option<Value>) -> Result<&'static str, RequestError> {
    let allowed = || STEP_OPERATIONS.join(", ");
    let Some(given) = given else {
        return Err(RequestError::missing(
            "operation",
            &allowed(),
            "add \"operation\" with one of these names",
        ));
    };
    let shown = given.as_str().map_or_else(|| given.to_string(), str::to_owned);
    if let Some(name) = STEP_OPERATIONS.iter().find(|name| **name == shown) {
        return Ok(name);
    }
    let hint = nearest(&shown, STEP_OPERATIONS).map_or_else(
        || "use one of the allowed names".to_owned(),
        |near| format!("did you mean {near}"),
    );
    Err(RequestError::new(
        "unknown_operation",
        "operation",
        &shown,
        &allowed(),
        &format!(
            "operation: {} is no step of a flow (allowed: {})",
            crate::error::one_line(&shown),
            allowed()
        ),
        &hint,
    ))
}
