//! The fields of a deposition and their ranges.

use serde::Deserialize;

use super::coverage::Trench;
use super::polysilicon;
use super::rate::{Conditions, Rate};
use super::recipe::{DepositedFilm, Method, RECIPES, Recipe};
use crate::bound::{Bound, Scale};
use crate::error::RequestError;
use crate::etching::Variant;
use crate::num::show;
use crate::vocabulary::Dopant;

const PLAIN: Bound = Bound {
    field: "",
    label: "",
    unit: "",
    min: 0.0,
    max: 0.0,
    published: None,
    default: None,
    step: 1.0,
    scale: Scale::Linear,
};

/// Temperature of a hot tube. Each recipe has a narrower range of its own; films made without
/// one have a lower one.
pub const TEMPERATURE_C: Bound = Bound {
    field: "temperature_c",
    label: "Temperature",
    unit: "°C",
    min: 300.0,
    max: 1000.0,
    step: 5.0,
    ..PLAIN
};

/// Time of growth.
pub const TIME_MIN: Bound = Bound {
    field: "time_min",
    label: "Deposition time",
    unit: "min",
    min: 0.1,
    max: 1440.0,
    step: 1.0,
    scale: Scale::Log,
    ..PLAIN
};

/// Thickness that is asked for instead of a time.
pub const TARGET_NM: Bound = Bound {
    field: "target_nm",
    label: "Wanted thickness",
    unit: "nm",
    min: 1.0,
    max: 10_000.0,
    step: 10.0,
    scale: Scale::Log,
    ..PLAIN
};

/// Pressure in the tube.
pub const PRESSURE_PA: Bound = Bound {
    field: "pressure_pa",
    label: "Pressure",
    unit: "Pa",
    min: 5.0,
    max: 200.0,
    published: Some((13.0, 67.0)),
    step: 1.0,
    scale: Scale::Log,
    ..PLAIN
};

/// Activation energy of the rate: sources disagree.
pub const ACTIVATION_ENERGY_EV: Bound = Bound {
    field: "activation_energy_ev",
    label: "Activation energy",
    unit: "eV",
    min: 0.0,
    max: 3.0,
    step: 0.05,
    ..PLAIN
};

/// Width of a trench.
pub const TRENCH_WIDTH_UM: Bound = Bound {
    field: "trench.width_um",
    label: "Trench width",
    unit: "µm",
    min: 0.05,
    max: 100.0,
    step: 0.1,
    scale: Scale::Log,
    ..PLAIN
};

/// Depth of a trench.
pub const TRENCH_DEPTH_UM: Bound = Bound {
    field: "trench.depth_um",
    label: "Trench depth",
    unit: "µm",
    min: 0.05,
    max: 20.0,
    step: 0.1,
    scale: Scale::Log,
    ..PLAIN
};

/// Dopant in polysilicon.
pub const CONCENTRATION_CM3: Bound = Bound {
    field: "concentration_cm3",
    label: "Dopant in the film",
    unit: "cm⁻³",
    min: 1e19,
    max: 1e21,
    default: Some(2e20),
    scale: Scale::Log,
    ..PLAIN
};

/// Height of the wafer above an evaporation source.
pub const SOURCE_HEIGHT_MM: Bound = Bound {
    field: "source_height_mm",
    label: "Height above the source",
    unit: "mm",
    min: 50.0,
    max: 2000.0,
    default: Some(300.0),
    step: 10.0,
    ..PLAIN
};

/// Diameter of the wafer above an evaporation source.
pub const WAFER_DIAMETER_MM: Bound = Bound {
    field: "wafer_diameter_mm",
    label: "Wafer diameter",
    unit: "mm",
    min: 25.0,
    max: 300.0,
    default: Some(100.0),
    step: 25.0,
    ..PLAIN
};

/// Thermal oxide under the film: it changes the color.
pub const OXIDE_BELOW_NM: Bound = Bound {
    field: "oxide_below_nm",
    label: "Thermal oxide below",
    unit: "nm",
    min: 0.0,
    max: 2000.0,
    default: Some(0.0),
    ..PLAIN
};

/// Phosphorus in glass.
pub const PHOSPHORUS_PERCENT: Bound = Bound {
    field: "phosphorus_percent",
    label: "Phosphorus in the glass",
    unit: "% by weight",
    min: 2.0,
    max: 12.0,
    published: Some((6.0, 8.0)),
    default: Some(7.0),
    step: 0.5,
    ..PLAIN
};

/// Temperature of a reflow.
pub const REFLOW_TEMPERATURE_C: Bound = Bound {
    field: "reflow.temperature_c",
    label: "Reflow temperature",
    unit: "°C",
    min: 800.0,
    max: 1150.0,
    step: 10.0,
    ..PLAIN
};

/// Time of a reflow.
pub const REFLOW_TIME_MIN: Bound = Bound {
    field: "reflow.time_min",
    label: "Reflow time",
    unit: "min",
    min: 1.0,
    max: 240.0,
    default: Some(30.0),
    scale: Scale::Log,
    ..PLAIN
};

/// Thickest film that is computed in nm.
const THICKEST_NM: f64 = 20_000.0;

/// How far beyond the published temperatures a rate is still extrapolated, in C.
const BEYOND_C: f64 = 260.0;

/// A deposition as it is asked for.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct DepositionRequest {
    film: DepositedFilm,
    method: Option<Method>,
    variant: Option<Variant>,
    temperature_c: Option<f64>,
    time_min: Option<f64>,
    target_nm: Option<f64>,
    pressure_pa: Option<f64>,
    activation_energy_ev: Option<f64>,
    trench: Option<TrenchRequest>,
    dopant: Option<Dopant>,
    concentration_cm3: Option<f64>,
    source_height_mm: Option<f64>,
    wafer_diameter_mm: Option<f64>,
    oxide_below_nm: Option<f64>,
    phosphorus_percent: Option<f64>,
    reflow: Option<ReflowRequest>,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct TrenchRequest {
    width_um: f64,
    depth_um: f64,
}

#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct ReflowRequest {
    temperature_c: f64,
    time_min: Option<f64>,
}

/// A deposition whose numbers lie in their ranges, with its rate.
#[derive(Clone, Copy, Debug)]
pub(super) struct Deposition {
    pub(super) recipe: &'static Recipe,
    pub(super) variant: Option<Variant>,
    pub(super) conditions: Conditions,
    /// None for a film that is not grown in time.
    pub(super) rate: Option<Rate>,
    pub(super) time_min: Option<f64>,
    pub(super) asks_time: bool,
    pub(super) thickness_nm: f64,
    pub(super) doping: Option<(Dopant, f64)>,
    pub(super) trench: Option<Trench>,
    /// Height and wafer diameter in mm.
    pub(super) source: Option<(f64, f64)>,
    pub(super) oxide_below_nm: f64,
    pub(super) phosphorus_percent: Option<f64>,
    /// Temperature in C and time in min.
    pub(super) reflow: Option<(f64, f64)>,
}

impl DepositionRequest {
    pub(super) fn check(self) -> Result<Deposition, RequestError> {
        let (recipe, variant) = self.recipe()?;
        let method = recipe.method.label();
        let bound = temperature_bound(recipe);
        let temperature_c = bound.check_or_default(self.temperature_c)?;
        let doping = self.doping(recipe, variant)?;
        let pressure_pa = match recipe.pressure {
            Some((reference_pa, _)) => Some(
                self.pressure_pa.map_or(Ok(reference_pa), |p| PRESSURE_PA.check(p))?,
            ),
            None => refuse(self.pressure_pa, &PRESSURE_PA, "lpcvd", method)?,
        };
        let activation_ev = match recipe.activation_ev {
            Some(usual) => self
                .activation_energy_ev
                .map_or(Ok(usual), |e| ACTIVATION_ENERGY_EV.check(e))?,
            None => refuse(
                self.activation_energy_ev,
                &ACTIVATION_ENERGY_EV,
                "lpcvd, pecvd",
                method,
            )?
            .unwrap_or(0.0),
        };
        let conditions = Conditions {
            temperature_c,
            activation_ev,
            pressure_pa,
            doping_factor: doping
                .map_or(1.0, |(dopant, _)| polysilicon::doping_factor(dopant)),
        };
        let rate = (0.0 < recipe.rate_nm_min).then(|| recipe.rate(&conditions));
        let (thickness_nm, time_min) = self.growth(rate)?;
        let source = if recipe.method == Method::Evaporation {
            Some((
                SOURCE_HEIGHT_MM.check_or_default(self.source_height_mm)?,
                WAFER_DIAMETER_MM.check_or_default(self.wafer_diameter_mm)?,
            ))
        } else {
            refuse(self.source_height_mm, &SOURCE_HEIGHT_MM, "evaporation", method)?;
            refuse(self.wafer_diameter_mm, &WAFER_DIAMETER_MM, "evaporation", method)?;
            None
        };
        let film = recipe.film.label();
        let is_glass = recipe.film == DepositedFilm::PhosphorusGlass;
        let phosphorus_percent = if is_glass {
            Some(PHOSPHORUS_PERCENT.check_or_default(self.phosphorus_percent)?)
        } else {
            refuse(
                self.phosphorus_percent,
                &PHOSPHORUS_PERCENT,
                "phosphorus_glass",
                film,
            )?
        };
        let reflow = match self.reflow {
            Some(reflow) if is_glass => Some((
                REFLOW_TEMPERATURE_C.check(reflow.temperature_c)?,
                REFLOW_TIME_MIN.check_or_default(reflow.time_min)?,
            )),
            Some(reflow) => {
                let bound = Bound { field: "reflow", ..REFLOW_TEMPERATURE_C };
                refuse(Some(reflow.temperature_c), &bound, "phosphorus_glass", film)?;
                None
            }
            None => None,
        };
        let trench = match self.trench {
            Some(trench) => Some(Trench {
                width_um: TRENCH_WIDTH_UM.check(trench.width_um)?,
                depth_um: TRENCH_DEPTH_UM.check(trench.depth_um)?,
            }),
            None => None,
        };
        Ok(Deposition {
            recipe,
            variant,
            conditions,
            rate,
            time_min,
            asks_time: self.target_nm.is_some(),
            thickness_nm,
            doping,
            trench,
            source,
            oxide_below_nm: OXIDE_BELOW_NM.check_or_default(self.oxide_below_nm)?,
            phosphorus_percent,
            reflow,
        })
    }

    /// The recipe of film, method and variant, and the variant it makes.
    fn recipe(&self) -> Result<(&'static Recipe, Option<Variant>), RequestError> {
        let fits_method = |recipe: &&Recipe| {
            recipe.film == self.film && self.method.is_none_or(|m| m == recipe.method)
        };
        let of_film = || RECIPES.iter().filter(|recipe| recipe.film == self.film);
        if !RECIPES.iter().any(|recipe| fits_method(&recipe)) {
            let mut methods: Vec<&str> = of_film().map(|r| r.method.word()).collect();
            methods.dedup();
            let allowed = methods.join(", ");
            let given = self.method.map_or("", Method::word);
            return Err(RequestError::conflict(
                "method",
                given,
                &allowed,
                &format!(
                    "method: no recipe for {} by {given} is known here (allowed: {allowed})",
                    self.film.label()
                ),
                "choose one of these methods, or another film",
            ));
        }
        let mut fitting = RECIPES.iter().filter(fits_method);
        let Some(variant) = self.variant else {
            let recipe = fitting.next().unwrap_or(&RECIPES[0]);
            return Ok((recipe, recipe.usual_variant()));
        };
        if let Some(recipe) = fitting.find(|recipe| recipe.variants.contains(&variant)) {
            return Ok((recipe, Some(variant)));
        }
        let words: Vec<&str> = RECIPES
            .iter()
            .filter(fits_method)
            .flat_map(|recipe| recipe.variants.iter().map(|v| v.word()))
            .collect();
        let allowed = if words.is_empty() { "none".to_owned() } else { words.join(", ") };
        Err(RequestError::conflict(
            "variant",
            variant.word(),
            &allowed,
            &format!(
                "variant: {} is not deposited as {} this way (allowed: {allowed})",
                self.film.label(),
                variant.word()
            ),
            "leave variant out, or use one of the allowed words",
        ))
    }

    /// Dopant and concentration of a film that is doped while it grows.
    fn doping(
        &self,
        recipe: &Recipe,
        variant: Option<Variant>,
    ) -> Result<Option<(Dopant, f64)>, RequestError> {
        let dopant = match (self.dopant, variant) {
            (None, Some(Variant::NType)) => Some(Dopant::Phosphorus),
            (dopant, _) => dopant,
        };
        let Some(dopant) = dopant else {
            refuse(
                self.concentration_cm3,
                &CONCENTRATION_CM3,
                "polysilicon with a dopant",
                "a film without one",
            )?;
            return Ok(None);
        };
        let conflict = |allowed: &str, message: &str, hint: &str| {
            RequestError::conflict("dopant", dopant.word(), allowed, message, hint)
        };
        if recipe.film != DepositedFilm::Polysilicon {
            return Err(conflict(
                "polysilicon",
                &format!(
                    "dopant: {} is not doped with it here (allowed: polysilicon)",
                    recipe.film.label()
                ),
                "leave dopant out; glass takes phosphorus_percent",
            ));
        }
        let n_type = dopant.charge() > 0.0;
        if !matches!(dopant, Dopant::Boron | Dopant::Phosphorus | Dopant::Arsenic) {
            return Err(conflict(
                "boron, phosphorus, arsenic",
                &format!(
                    "dopant: no gas of {} is used in a polysilicon tube (allowed: boron, phosphorus, arsenic)",
                    dopant.label()
                ),
                "use one of the allowed dopants",
            ));
        }
        // The variant was named by the reader and says otherwise.
        let against = match self.variant {
            Some(Variant::NType) => !n_type,
            Some(Variant::Undoped) => true,
            _ => false,
        };
        if against {
            return Err(conflict(
                "a dopant that fits variant",
                &format!("dopant: {} contradicts the variant", dopant.label()),
                "leave variant out",
            ));
        }
        let concentration = CONCENTRATION_CM3.check_or_default(self.concentration_cm3)?;
        Ok(Some((dopant, concentration)))
    }

    /// Thickness in nm and time in min.
    fn growth(&self, rate: Option<Rate>) -> Result<(f64, Option<f64>), RequestError> {
        let Some(rate) = rate else {
            refuse(
                self.time_min,
                &TIME_MIN,
                "grown films",
                "spin_on: its recipe sets the thickness",
            )?;
            let target = TARGET_NM.check_or_default(self.target_nm)?;
            return Ok((target, None));
        };
        match (self.time_min, self.target_nm) {
            (Some(_), Some(target_nm)) => Err(RequestError::conflict(
                "target_nm",
                &target_nm.to_string(),
                "time_min or target_nm",
                "target_nm: cannot stand beside time_min",
                "give the time or the thickness, not both",
            )),
            (_, Some(target_nm)) => {
                let target_nm = TARGET_NM.check(target_nm)?;
                let time_min = target_nm / rate.nm_min;
                if time_min <= TIME_MIN.max {
                    return Ok((target_nm, Some(time_min)));
                }
                Err(RequestError::new(
                    "unreachable",
                    "target_nm",
                    &target_nm.to_string(),
                    &format!("what grows within {} min", TIME_MIN.max),
                    &format!(
                        "target_nm: {target_nm} nm would take {} min at {} nm/min, longer than {} min",
                        show(time_min),
                        show(rate.nm_min),
                        TIME_MIN.max
                    ),
                    "raise the temperature, or lower the target",
                ))
            }
            (time_min, None) => {
                let time_min = TIME_MIN.check_or_default(time_min)?;
                let thickness_nm = time_min * rate.nm_min;
                if thickness_nm <= THICKEST_NM {
                    return Ok((thickness_nm, Some(time_min)));
                }
                Err(RequestError::new(
                    "too_thick",
                    "time_min",
                    &time_min.to_string(),
                    &format!("films up to {THICKEST_NM} nm"),
                    &format!(
                        "time_min: {time_min} min at {} nm/min would give {} nm, more than {THICKEST_NM} nm",
                        show(rate.nm_min),
                        show(thickness_nm)
                    ),
                    "deposit for a shorter time or at a lower temperature",
                ))
            }
        }
    }
}

/// The temperatures that are computed for a recipe.
fn temperature_bound(recipe: &Recipe) -> Bound {
    let (low_c, high_c) = recipe.published_c;
    let (min, max) = match recipe.method {
        Method::Lpcvd => (
            (low_c - BEYOND_C).max(TEMPERATURE_C.min),
            (high_c + BEYOND_C).min(TEMPERATURE_C.max),
        ),
        Method::Pecvd => (20.0, high_c + BEYOND_C),
        Method::SpinOn => (20.0, 1000.0),
        // Aluminum melts at 660 C and spoils what it touches long before.
        Method::Sputter | Method::Evaporation => (20.0, 450.0),
    };
    Bound { min, max, default: Some(recipe.usual_c), ..TEMPERATURE_C }
}

/// Nothing, or an error for a field that this film or method does not have.
fn refuse(
    given: Option<f64>,
    bound: &Bound,
    allowed: &str,
    here: &str,
) -> Result<Option<f64>, RequestError> {
    let Some(value) = given else { return Ok(None) };
    let field = bound.field;
    Err(RequestError::conflict(
        field,
        &value.to_string(),
        allowed,
        &format!("{field}: does not belong to {here} (allowed with: {allowed})"),
        &format!("leave {field} out"),
    ))
}
