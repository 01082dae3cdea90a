//! What lies in the silicon when a drive-in begins.

use serde::de::DeserializeOwned;
use serde_json::{Map, Value};

use super::closed_form::LimitedSource;
use super::drive_in::Kind;
use super::layer::Layer;
use super::request::{
    GAUSSIAN_DOSE, GAUSSIAN_RANGE, GAUSSIAN_STRAGGLE, GaussianFields, START_DOSE,
    SurfaceDoseFields, checked_substrate,
};
use super::{cautions, drive_in, predeposition};
use crate::error::RequestError;
use crate::num::linspace;
use crate::profile::{MAX_CONCENTRATION_CM3, Profile};
use crate::request::read_fields;
use crate::units::Length;
use crate::vocabulary::{Dopant, Material, Substrate};

/// How the start looks to the closed forms.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Shape {
    /// A Gaussian with this peak depth and half width in um (0 and 0: all at the surface).
    Gaussian { range_um: f64, width_um: f64 },
    /// A predeposition with this `sqrt(D t)` in um and this surface concentration per cm3: at
    /// the surface, seen from far.
    Predeposition { root_dt_um: f64, surface_cm3: f64 },
    /// Anything else.
    Free,
}

/// The start of a drive-in.
#[derive(Clone, Debug)]
pub(super) struct Start {
    pub(super) layers: Vec<(Dopant, Layer)>,
    pub(super) shape: Shape,
    /// Substrate of the step before, if there was one.
    pub(super) substrate: Option<Substrate>,
    /// Oxide that the step before left on the silicon.
    pub(super) film: Film,
    /// Hazards of the steps before.
    pub(super) hazards: Vec<&'static str>,
}

/// Oxide on the silicon and the dopant in it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Film {
    pub(super) thickness: Length,
    /// Dose of each dopant per cm2.
    pub(super) doses_cm2: Vec<(Dopant, f64)>,
    /// Concentrations against the distance from the outer surface.
    pub(super) profile: Profile,
}

impl Default for Film {
    /// Bare silicon.
    fn default() -> Self {
        Self {
            thickness: Length::um(0.0),
            doses_cm2: Vec::new(),
            profile: Profile::default(),
        }
    }
}

impl Film {
    /// Dose of a dopant in the oxide per cm2.
    pub(super) fn dose_cm2(&self, dopant: Dopant) -> f64 {
        let held = self.doses_cm2.iter().filter(|(found, _)| *found == dopant);
        held.map(|(_, dose)| dose).sum()
    }
}

impl Start {
    /// Dopants in bare silicon without a step before.
    fn bare(layers: Vec<(Dopant, Layer)>, shape: Shape) -> Self {
        Self {
            layers,
            shape,
            substrate: None,
            film: Film::default(),
            hazards: Vec::new(),
        }
    }
}

/// Steps may stand inside each other this deep: predeposition, drive-ins, ...
const MOST_NESTED: u32 = 6;

/// A dose "at the surface" is half a Gaussian of this width (model choice: thin against any
/// diffusion of interest, thick enough to hold the dose in a crystal).
const SURFACE_WIDTH_UM: f64 = 0.01;

const FORMS: &str = "a request with operation predeposition, drive_in, anneal or implantation; {\"profile\":{...}}; {\"gaussian\":{...}}; {\"dose_cm2\":..,\"dopant\":..}";

/// Reads the field `start`.
pub(super) fn read(value: Value, nested: u32) -> Result<Start, RequestError> {
    if MOST_NESTED <= nested {
        return Err(RequestError::new(
            "too_deep",
            "start",
            "",
            "at most 6 steps inside each other",
            "start: more than 6 steps stand inside each other (allowed: at most 6)",
            "give the profile after the first steps as {\"profile\":{...}}",
        ));
    }
    let Value::Object(mut map) = value else {
        return Err(no_form(&value.to_string()));
    };
    if map.contains_key("operation") {
        return operation(map, nested).map_err(|error| error.inside("start"));
    }
    for (name, read) in [
        ("profile", profile as fn(Map<String, Value>) -> Result<Start, RequestError>),
        ("gaussian", gaussian),
    ] {
        if let Some(inner) = map.remove(name) {
            if let Some(extra) = map.keys().next() {
                return Err(RequestError::new(
                    "unknown_field",
                    &format!("start.{extra}"),
                    "",
                    name,
                    &format!(
                        "start.{extra} cannot stand beside start.{name} (allowed: {name} alone)"
                    ),
                    "give one form of start",
                ));
            }
            let Value::Object(fields) = inner else {
                return Err(RequestError::new(
                    "wrong_type",
                    &format!("start.{name}"),
                    &inner.to_string(),
                    "an object",
                    &format!("start.{name} must be an object (allowed: an object)"),
                    "look at the examples of a drive-in",
                ));
            };
            return read(fields);
        }
    }
    if map.contains_key("dose_cm2") {
        return surface_dose(map);
    }
    Err(no_form(&Value::Object(map).to_string()))
}

fn no_form(given: &str) -> RequestError {
    RequestError::new(
        "wrong_start",
        "start",
        given,
        FORMS,
        &format!(
            "start: {} is not a start (allowed: {FORMS})",
            crate::error::one_line(given)
        ),
        "describe what lies in the silicon before the drive-in",
    )
}

fn fields<T: DeserializeOwned>(
    map: Map<String, Value>,
    parent: &str,
) -> Result<T, RequestError> {
    read_fields(map).map_err(|error| error.inside(parent))
}

fn operation(mut map: Map<String, Value>, nested: u32) -> Result<Start, RequestError> {
    let name = map.remove("operation");
    match name.as_ref().and_then(Value::as_str) {
        Some("predeposition") => {
            let done = predeposition::simulate(&read_fields(map)?)?;
            let surface_cm3 = done.supply.surface_cm3;
            let hazards = done.supply.hazards(done.dopant);
            let done = done.simulated;
            Ok(Start {
                shape: Shape::Predeposition { root_dt_um: done.root_dt_um, surface_cm3 },
                substrate: Some(done.substrate),
                layers: done.into_layers(),
                film: Film::default(),
                hazards,
            })
        }
        Some(word @ ("drive_in" | "anneal")) => {
            let kind = if word == "anneal" { Kind::Anneal } else { Kind::DriveIn };
            let done = drive_in::simulate(read_fields(map)?, kind, nested + 1)?;
            let shape = done.shape_after();
            Ok(Start {
                shape,
                substrate: Some(done.simulated.substrate),
                film: done.film.clone(),
                hazards: cautions::heating_hazards(&done),
                layers: done.simulated.into_layers(),
            })
        }
        Some("implantation") => implantation(map),
        _ => {
            let given = name.unwrap_or(Value::Null).to_string();
            Err(RequestError::new(
                "unknown_value",
                "operation",
                &given,
                "predeposition, drive_in, anneal, implantation",
                &format!(
                    "operation: {} cannot start a drive-in (allowed: predeposition, drive_in, anneal, implantation)",
                    crate::error::one_line(&given)
                ),
                "start from a doping step",
            ))
        }
    }
}

fn implantation(map: Map<String, Value>) -> Result<Start, RequestError> {
    let word = |name: &str| map.get(name).and_then(Value::as_str);
    if let Some(target) = word("target")
        && Material::ALL.iter().any(|material| material.word() == target)
        && target != Material::Silicon.word()
    {
        return Err(RequestError::conflict(
            "target",
            target,
            Material::Silicon.word(),
            &format!(
                "target: what lies in {target} cannot start a drive-in in silicon (allowed: silicon)"
            ),
            "implant into silicon, through the other layers if there are any",
        ));
    }
    let substrate = map.get("substrate").cloned();
    let report = crate::implantation::run(map)?;
    let done = report.results;
    let mut start = from_profile(&done.profile).ok_or_else(|| {
        RequestError::new(
            "no_dose",
            "through",
            "0",
            "layers that let a part of the dose pass",
            "through: no dopant reaches the silicon (allowed: layers that let a part of the dose pass)",
            "thin the layers or raise the energy",
        )
    })?;
    start.hazards = report.hazards;
    if let [(dopant, layer)] = start.layers.as_mut_slice()
        && 0.0 < layer.dose_cm2()
    {
        let factor = done.retained_dose_cm2 / layer.dose_cm2();
        *layer = core::mem::take(layer).scaled(factor);
        if done.layers.is_empty() {
            start.shape = Shape::Gaussian {
                range_um: done.range_depth_nm * 1e-3,
                width_um: done.depth_straggle_nm * 1e-3,
            };
        }
        start.substrate =
            substrate.as_ref().and_then(|given| substrate_of(given, *dopant));
    }
    start.substrate = checked_substrate(start.substrate)?;
    Ok(start)
}

/// The substrate of an implantation, whose concentration may be left out.
fn substrate_of(given: &Value, dopant: Dopant) -> Option<Substrate> {
    let mut filled = given.clone();
    if let Value::Object(fields) = &mut filled
        && fields.get("resistivity_ohm_cm").is_none_or(Value::is_null)
    {
        let usual = Substrate::opposite_to(dopant).concentration_cm3;
        let concentration = fields.entry("concentration_cm3").or_insert(Value::Null);
        if concentration.is_null() {
            *concentration = Value::from(usual);
        }
    }
    crate::request::decode(&filled).ok()
}

fn profile(fields: Map<String, Value>) -> Result<Start, RequestError> {
    let profile =
        Profile::from_fields(fields).map_err(|error| error.inside("start.profile"))?;
    from_profile(&profile).ok_or_else(|| {
        RequestError::new(
            "no_dose",
            "start.profile",
            "0",
            "a concentration above 0 somewhere",
            "start.profile: there is no dopant in it (allowed: a concentration above 0 somewhere)",
            "give a profile with a dopant in it",
        )
    })
}

/// The layers of a profile; `None` if there is no dopant in it.
fn from_profile(profile: &Profile) -> Option<Start> {
    let depth_cm: Vec<f64> = profile.depth_um.iter().map(|x| x * 1e-4).collect();
    let layers: Vec<(Dopant, Layer)> = profile
        .dopants
        .iter()
        .map(|(dopant, c)| (*dopant, Layer::from_points(&depth_cm, c)))
        .filter(|(_, layer)| 0.0 < layer.dose_cm2())
        .collect();
    (!layers.is_empty()).then(|| Start::bare(layers, Shape::Free))
}

fn gaussian(map: Map<String, Value>) -> Result<Start, RequestError> {
    let given: GaussianFields = fields(map, "start.gaussian")?;
    let dose_cm2 = GAUSSIAN_DOSE.check(given.dose_cm2)?;
    let range_um = GAUSSIAN_RANGE.check(given.projected_range_nm)? * 1e-3;
    let width_um = GAUSSIAN_STRAGGLE.check(given.straggle_nm)? * 1e-3;
    let layer = bell(dose_cm2, range_um, width_um);
    check_peak(&layer, "start.gaussian.dose_cm2", dose_cm2)?;
    let shape = Shape::Gaussian { range_um, width_um };
    Ok(Start::bare(vec![(given.dopant, layer)], shape))
}

fn surface_dose(map: Map<String, Value>) -> Result<Start, RequestError> {
    let given: SurfaceDoseFields = fields(map, "start")?;
    let dose_cm2 = START_DOSE.check(given.dose_cm2)?;
    let layer = bell(dose_cm2, 0.0, SURFACE_WIDTH_UM);
    check_peak(&layer, "start.dose_cm2", dose_cm2)?;
    let shape = Shape::Gaussian { range_um: 0.0, width_um: 0.0 };
    Ok(Start::bare(vec![(given.dopant, layer)], shape))
}

/// The part of a Gaussian inside the silicon, scaled so that it holds the whole dose.
fn bell(dose_cm2: f64, range_um: f64, width_um: f64) -> Layer {
    let shape = LimitedSource { dose_cm2, range_um: 0.0, width_um };
    let top = (range_um - 7.0 * width_um).max(0.0);
    let mut depth_um = linspace(top, range_um + 8.0 * width_um, 400);
    let mut c: Vec<f64> =
        depth_um.iter().map(|x| shape.concentration_cm3((x - range_um).abs())).collect();
    if 0.0 < top {
        depth_um.insert(0, 0.0);
        c.insert(0, 0.0);
    }
    let depth_cm: Vec<f64> = depth_um.iter().map(|x| x * 1e-4).collect();
    let layer = Layer::from_points(&depth_cm, &c);
    let factor = dose_cm2 / layer.dose_cm2();
    layer.scaled(factor)
}

fn check_peak(layer: &Layer, field: &str, dose_cm2: f64) -> Result<(), RequestError> {
    let peak = layer.largest_cm3();
    if peak <= MAX_CONCENTRATION_CM3 {
        return Ok(());
    }
    let most = dose_cm2 * MAX_CONCENTRATION_CM3 / peak;
    let allowed = format!("at most {} cm⁻² for this width", crate::num::show(most));
    Err(RequestError::conflict(
        field,
        &dose_cm2.to_string(),
        &allowed,
        &format!(
            "{field}: the peak would be {} per cm3, more atoms than silicon has (allowed: {allowed})",
            crate::num::show(peak)
        ),
        "lower the dose or widen the profile",
    ))
}
