//! The fields of an implantation, their check, and the form that offers them.

use serde::Deserialize;

use super::bounds::{
    BEAM_CURRENT, CHARGE_STATE, DOSE, ENERGY, GIVEN_KURTOSIS, GIVEN_LATERAL, GIVEN_RANGE,
    GIVEN_SKEWNESS, GIVEN_STRAGGLE, IONS, LAYER_THICKNESS, MASK_LEAK, ROTATION, SEED,
    SUBSTRATE, TILT, WAFER_DIAMETER,
};
use super::ranges::{RangeTable, Species};
use crate::bench::OperationSchema;
use crate::bound::Bound;
use crate::electrical::wafer::GivenWafer;
use crate::error::RequestError;
use crate::num::show;
use crate::vocabulary::{DopingType, Ion, Material, Substrate, words};

words! {
    /// How the depth profile is drawn.
    ImplantationModel {
        /// Pearson type IV, with skewness and kurtosis.
        Pearson = "pearson", "Pearson type IV";
        /// Range and straggle only.
        Gaussian = "gaussian", "Gaussian";
        /// Two Pearson curves, the second for channeled ions.
        DualPearson = "dual_pearson", "two Pearson curves (illustrative)";
        /// Single ions followed from collision to collision.
        MonteCarlo = "monte_carlo", "single ions (Monte Carlo)";
    }
}

/// More layers than any mask has.
const MAX_LAYERS: usize = 8;

/// The fields as they come in.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct ImplantationRequest {
    dopant: Ion,
    energy_kev: f64,
    dose_cm2: Option<f64>,
    model: Option<ImplantationModel>,
    range_table: Option<RangeTable>,
    tilt_deg: Option<f64>,
    rotation_deg: Option<f64>,
    through: Option<Vec<LayerRequest>>,
    target: Option<Material>,
    moments: Option<MomentsRequest>,
    substrate: Option<GivenWafer>,
    beam_current_ua: Option<f64>,
    wafer_diameter_mm: Option<f64>,
    charge_state: Option<f64>,
    mask_leak: Option<f64>,
    ions: Option<f64>,
    seed: Option<f64>,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct LayerRequest {
    material: Material,
    thickness_nm: f64,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct MomentsRequest {
    projected_range_nm: f64,
    straggle_nm: f64,
    lateral_straggle_nm: Option<f64>,
    skewness: Option<f64>,
    kurtosis: Option<f64>,
}

/// A layer above the target, checked.
#[derive(Clone, Copy, Debug)]
pub(super) struct GivenLayer {
    pub(super) material: Material,
    pub(super) thickness_nm: f64,
}

/// Moments that replace the table, checked.
#[derive(Clone, Copy, Debug)]
pub(super) struct GivenMoments {
    pub(super) range_nm: f64,
    pub(super) straggle_nm: f64,
    pub(super) lateral_nm: f64,
    pub(super) skewness: f64,
    pub(super) kurtosis: f64,
}

/// A beam that takes time.
#[derive(Clone, Copy, Debug)]
pub(super) struct Beam {
    pub(super) current_ua: f64,
    pub(super) wafer_diameter_mm: f64,
    pub(super) charge_state: f64,
}

/// An implantation whose every number is within its range.
#[derive(Clone, Debug)]
pub(super) struct Settings {
    pub(super) ion: Ion,
    pub(super) species: Species,
    pub(super) energy_kev: f64,
    pub(super) dose_cm2: f64,
    pub(super) model: ImplantationModel,
    pub(super) range_table: RangeTable,
    pub(super) tilt_deg: f64,
    pub(super) rotation_deg: f64,
    pub(super) layers: Vec<GivenLayer>,
    pub(super) target: Material,
    pub(super) moments: Option<GivenMoments>,
    pub(super) substrate: Substrate,
    pub(super) beam: Option<Beam>,
    /// Single ions to follow.
    pub(super) ions: u32,
    /// Where their random numbers begin.
    pub(super) seed: u32,
    /// Share of the dose that may pass a mask.
    pub(super) mask_leak: f64,
    /// Fields that were given and change nothing with these settings.
    pub(super) idle_fields: Vec<&'static str>,
}

impl Settings {
    /// Whether the target is a crystal with a junction and a conduction type.
    pub(super) const fn in_silicon(&self) -> bool {
        matches!(self.target, Material::Silicon | Material::Polysilicon)
    }
}

impl ImplantationRequest {
    /// Checks every field.
    pub(super) fn check(self) -> Result<Settings, RequestError> {
        let model = self.model.unwrap_or(ImplantationModel::Pearson);
        let mut idle_fields = Vec::new();
        if model != ImplantationModel::MonteCarlo {
            for (bound, value) in [(IONS, self.ions), (SEED, self.seed)] {
                if value.is_some() {
                    idle_fields.push(bound.field);
                }
            }
        }
        let ions = whole_number(&IONS, self.ions)?;
        let seed = whole_number(&SEED, self.seed)?;
        let species = Species::of(self.dopant);
        let layers = self.through.unwrap_or_default();
        if layers.len() > MAX_LAYERS {
            return Err(RequestError::new(
                "too_many_layers",
                "through",
                &layers.len().to_string(),
                &format!("at most {MAX_LAYERS} layers"),
                &format!(
                    "through: {} layers are too many (allowed: at most {MAX_LAYERS})",
                    layers.len()
                ),
                "join layers of the same material",
            ));
        }
        let layers = layers
            .into_iter()
            .enumerate()
            .map(|(i, layer)| {
                let thickness_nm = LAYER_THICKNESS
                    .check(layer.thickness_nm)
                    .map_err(|error| error.inside(&format!("through[{i}]")))?;
                Ok(GivenLayer { material: layer.material, thickness_nm })
            })
            .collect::<Result<Vec<_>, RequestError>>()?
            .into_iter()
            .filter(|layer| 0.0 < layer.thickness_nm)
            .collect();
        let substrate = match self.substrate {
            None => Substrate::opposite_to(species.dopant()),
            Some(given) => Substrate {
                doping_type: given.doping_type,
                concentration_cm3: SUBSTRATE.check_or_default(
                    given.concentration_cm3().map_err(|allowed| {
                        RequestError::conflict(
                            "substrate",
                            "",
                            &allowed,
                            &format!("substrate cannot be read (allowed: {allowed})"),
                            &format!("give {allowed}"),
                        )
                    })?,
                )?,
            },
        };
        let wafer_diameter_mm =
            WAFER_DIAMETER.check_or_default(self.wafer_diameter_mm)?;
        let charge_state =
            whole(&CHARGE_STATE, CHARGE_STATE.check_or_default(self.charge_state)?)?;
        let beam = match self.beam_current_ua {
            None => None,
            Some(current_ua) => Some(Beam {
                current_ua: BEAM_CURRENT.check(current_ua)?,
                wafer_diameter_mm,
                charge_state,
            }),
        };
        let settings = Settings {
            ion: self.dopant,
            species,
            energy_kev: ENERGY.check(self.energy_kev)?,
            dose_cm2: DOSE.check_or_default(self.dose_cm2)?,
            model,
            range_table: self.range_table.unwrap_or(RangeTable::Gibbons1975),
            tilt_deg: TILT.check_or_default(self.tilt_deg)?,
            rotation_deg: ROTATION.check_or_default(self.rotation_deg)?,
            layers,
            target: self.target.unwrap_or(Material::Silicon),
            moments: self.moments.map(MomentsRequest::check).transpose()?,
            substrate,
            beam,
            ions,
            seed,
            mask_leak: MASK_LEAK.check_or_default(self.mask_leak)?,
            idle_fields,
        };
        Ok(with_idle_substrate(settings, self.substrate.is_some()))
    }
}

fn with_idle_substrate(mut settings: Settings, given: bool) -> Settings {
    if given && !settings.in_silicon() {
        settings.idle_fields.push("substrate");
    }
    settings
}

impl MomentsRequest {
    fn check(self) -> Result<GivenMoments, RequestError> {
        let straggle_nm = GIVEN_STRAGGLE.check(self.straggle_nm)?;
        let skewness = GIVEN_SKEWNESS.check_or_default(self.skewness)?;
        let kurtosis = match self.kurtosis {
            Some(value) => GIVEN_KURTOSIS.check(value)?,
            None => usual_kurtosis(skewness),
        };
        let least = 1.0 + skewness * skewness;
        if kurtosis < least {
            return Err(RequestError::new(
                "out_of_range",
                GIVEN_KURTOSIS.field,
                &kurtosis.to_string(),
                &format!("{} to {}", show(least), show(GIVEN_KURTOSIS.max)),
                &format!(
                    "moments.kurtosis: no distribution of skewness {skewness} has a kurtosis of {kurtosis} (allowed: {} to {})",
                    show(least),
                    show(GIVEN_KURTOSIS.max)
                ),
                "the kurtosis is at least 1 plus the skewness squared; leave it out for the usual value",
            ));
        }
        Ok(GivenMoments {
            range_nm: GIVEN_RANGE.check(self.projected_range_nm)?,
            straggle_nm,
            lateral_nm: match self.lateral_straggle_nm {
                Some(value) => GIVEN_LATERAL.check(value)?,
                None => straggle_nm,
            },
            skewness,
            kurtosis,
        })
    }
}

/// The usual substitute for an unknown kurtosis, `2.8 + 2.4 g^2` (textbook usage; memory).
pub(super) fn usual_kurtosis(skewness: f64) -> f64 {
    2.8 + 2.4 * skewness * skewness
}

/// A whole number from 0 to `u32::MAX`; the bounds lie inside.
fn whole_number(bound: &Bound, value: Option<f64>) -> Result<u32, RequestError> {
    let value = whole(bound, bound.check_or_default(value)?)?;
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a whole number within a bound of 32 bits"
    )]
    let number = value as u32;
    Ok(number)
}

fn whole(bound: &Bound, value: f64) -> Result<f64, RequestError> {
    if (value - value.floor()).abs() < f64::EPSILON {
        return Ok(value);
    }
    Err(RequestError::new(
        "not_whole",
        bound.field,
        &value.to_string(),
        &format!("a whole number, {}", bound.allowed()),
        &format!(
            "{}: {value} is not a whole number (allowed: {})",
            bound.field,
            bound.allowed()
        ),
        "give a whole number",
    ))
}

/// The form of this operation. Fields inside an object carry its name, fields of a list `[]`.
#[must_use]
pub(super) fn schema() -> OperationSchema {
    let model = ImplantationModel::choice(
        "model",
        "Profile model",
        Some(ImplantationModel::Pearson),
    );
    OperationSchema {
        operation: "implantation",
        numbers: vec![
            ENERGY,
            DOSE,
            TILT,
            ROTATION,
            Bound { field: "through[].thickness_nm", ..LAYER_THICKNESS },
            SUBSTRATE,
            BEAM_CURRENT,
            WAFER_DIAMETER,
            CHARGE_STATE,
            MASK_LEAK,
            GIVEN_RANGE,
            GIVEN_STRAGGLE,
            GIVEN_LATERAL,
            GIVEN_SKEWNESS,
            GIVEN_KURTOSIS,
            IONS,
            SEED,
        ],
        choices: vec![
            Ion::choice("dopant", "Ion", None),
            model,
            RangeTable::choice(
                "range_table",
                "Range table",
                Some(RangeTable::Gibbons1975),
            ),
            Material::choice("target", "Target", Some(Material::Silicon)),
            Material::choice("through[].material", "Layer material", None),
            DopingType::choice("substrate.type", "Substrate type", None),
        ],
    }
}
