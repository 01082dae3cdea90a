//! What a doping step, a formula or a list of points leaves in the silicon, for whoever asks
//! about it: the same forms as the start of a drive-in.

use serde_json::{Map, Value};

use super::answer;
use super::layer::Layer;
use super::request::TEMPERATURE;
use super::solubility::active_limit;
use super::solver::active_part;
use super::start;
use crate::error::RequestError;
use crate::profile::Profile;
use crate::units::Temperature;
use crate::vocabulary::{Dopant, Substrate};

/// Doped silicon, ready to be measured.
#[derive(Clone, Debug, Default)]
pub(crate) struct DopedSilicon {
    layers: Vec<(Dopant, Layer)>,
    /// Substrate that the step names, if there was one.
    pub(crate) substrate: Option<Substrate>,
    /// Temperature at which the last step limits the active part; `None` = all is active.
    pub(crate) limited_at: Option<Temperature>,
    /// Rows of the hazard table of the steps that were run for it.
    pub(crate) hazards: Vec<&'static str>,
}

/// Reads what lies in the silicon from the field `field` of a request.
///
/// # Errors
/// [`RequestError`] of the start of a drive-in, with `field` in place of `start`.
pub(crate) fn read(value: Value, field: &str) -> Result<DopedSilicon, RequestError> {
    let bare_lists = value.get("depth_um").is_some();
    let limited_at = last_limit(&value);
    let value = if bare_lists {
        Value::Object(Map::from_iter([("profile".to_owned(), value)]))
    } else {
        value
    };
    let from = if bare_lists { "start.profile" } else { "start" };
    let start = start::read(value, 0).map_err(|error| renamed(error, from, field))?;
    Ok(DopedSilicon {
        layers: start.layers,
        substrate: start.substrate,
        limited_at,
        hazards: start.hazards,
    })
}

/// The furnace temperature of the last step, if that step limits the active part.
fn last_limit(value: &Value) -> Option<Temperature> {
    let limited = value.get("active_limit").and_then(Value::as_bool) == Some(true);
    let celsius = value.get("temperature_c").and_then(Value::as_f64)?;
    let celsius = TEMPERATURE.check(celsius).ok()?;
    limited.then(|| Temperature::celsius(celsius))
}

/// The same error about a field of another name.
fn renamed(mut error: RequestError, from: &str, to: &str) -> RequestError {
    for text in [&mut error.field, &mut error.message] {
        if let Some(rest) = text.strip_prefix(from) {
            *text = format!("{to}{rest}");
        } else if let Some(rest) = text.strip_prefix("start") {
            *text = format!("{to}{rest}");
        }
    }
    error
}

impl DopedSilicon {
    /// From a profile that is known to be good.
    pub(crate) fn from_profile(profile: &Profile) -> Self {
        let depth_cm: Vec<f64> = profile.depth_um.iter().map(|x| x * 1e-4).collect();
        let layers = profile
            .dopants
            .iter()
            .map(|(dopant, c)| (*dopant, Layer::from_points(&depth_cm, c)))
            .filter(|(_, layer)| 0.0 < layer.dose_cm2())
            .collect();
        Self { layers, ..Self::default() }
    }

    /// The dopant that decides which substrate is the usual one.
    pub(crate) fn first_dopant(&self) -> Option<Dopant> {
        self.layers.first().map(|(dopant, _)| *dopant)
    }

    /// Depth in um and chemical concentration of every dopant, dense enough that straight
    /// lines between the points hold the same dose as lines in the logarithm.
    ///
    /// # Model
    /// A straight line over a step of `d` in the logarithm holds `d^2/12` too much: steps of
    /// 0.1 keep it below 0.1 %.
    pub(crate) fn dense(&self) -> Profile {
        let mut given: Vec<f64> = self
            .layers
            .iter()
            .flat_map(|(_, layer)| layer.points().0.iter().map(|x| x * 1e4))
            .collect();
        crate::num::sort_increasing(&mut given);
        given.dedup_by(|a, b| *a - *b < 1e-9);
        let mut depth_um = Vec::with_capacity(2 * given.len());
        for pair in given.windows(2) {
            let step = self
                .layers
                .iter()
                .map(|(_, layer)| {
                    let c = |x: f64| layer.concentration_cm3(x * 1e-4);
                    log_step(c(pair[0]), c(pair[1]))
                })
                .fold(0.0, f64::max);
            let parts = crate::num::to_count((10.0 * step).ceil()).clamp(1, 100);
            for k in 0..parts {
                depth_um.push(pair[0] + (pair[1] - pair[0]) * k as f64 / parts as f64);
            }
        }
        depth_um.extend(given.last());
        let dopants = self
            .layers
            .iter()
            .map(|(dopant, layer)| {
                let c =
                    depth_um.iter().map(|x| layer.concentration_cm3(x * 1e-4)).collect();
                (*dopant, c)
            })
            .collect();
        Profile { depth_um, dopants, ..Profile::default() }
    }
}

/// The size of a step in the logarithm; from or to nothing counts as a straight line of 20.
fn log_step(from: f64, to: f64) -> f64 {
    if 0.0 < from && 0.0 < to {
        (crate::num::ln(from) - crate::num::ln(to)).abs()
    } else if from + to <= 0.0 {
        0.0
    } else {
        2.0
    }
}

/// The active part of every dopant of a profile.
///
/// # Errors
/// `conflict` for a dopant whose limit is not published.
pub(crate) fn active(
    profile: &Profile,
    limited_at: Option<Temperature>,
    field: &str,
) -> Result<Vec<(Dopant, Vec<f64>)>, RequestError> {
    let Some(temperature) = limited_at else { return Ok(profile.dopants.clone()) };
    profile
        .dopants
        .iter()
        .map(|(dopant, c)| {
            let Some(limit) = active_limit(*dopant, temperature) else {
                let word = dopant.word();
                return Err(RequestError::conflict(
                    field,
                    word,
                    "no active limit",
                    &format!("{field}: no published active limit for {word} is at hand (allowed: no active limit)"),
                    &format!("leave {field} out"),
                ));
            };
            let limit = Some(limit.concentration_cm3);
            Ok((*dopant, c.iter().map(|&c| active_part(c, limit).0).collect()))
        })
        .collect()
}

/// A profile thinned to what a chart needs, the points around junctions kept.
pub(crate) fn thinned(
    mut profile: Profile,
    deepest_um: f64,
    junctions_um: &[f64],
) -> Profile {
    answer::thin(&mut profile, deepest_um, junctions_um, 150);
    profile
}
