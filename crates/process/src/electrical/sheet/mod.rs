//! The Four-point bench: what each doped layer conducts, and what four probes read on it.

mod cautions;
mod request;
mod working;

use serde::Serialize;
use serde_json::{Map, Value};

use super::depletion::Depletion;
use super::junction::junctions_um;
use super::probing::{
    VanDerPauw, four_point_ohm_sq, squares, thickness_factor, van_der_pauw, wafer_factor,
};
use super::resistivity::f723_ohm_cm;
use super::sheet_resistance::{ActiveDoping, SheetLayer, layers};
use crate::diffusion::silicon;
use crate::error::RequestError;
use crate::profile::Profile;
use crate::report::{Accuracy, Report};
use crate::request::read_fields;
use crate::vocabulary::{DopingType, Substrate};

use request::{LAYER, Measurement, SheetFields};

pub use request::schema;

/// Results of a sheet resistance measurement.
#[derive(Clone, Debug, Serialize)]
pub struct SheetResults {
    /// The layers between junctions, from the surface down; the last one is the wafer.
    pub layers: Vec<SheetLayer>,
    /// The layer under the probes, counted from 1 at the surface.
    pub layer: usize,
    /// Its sheet resistance in ohm per square; null = nothing conducts.
    pub sheet_resistance_ohm_sq: Option<f64>,
    /// The deepest junction in um; null = none.
    pub junction_depth_um: Option<f64>,
    /// All junctions in um, from the surface down.
    pub junctions_um: Vec<f64>,
    /// The junctions with their depleted edges.
    pub depletion: Vec<Depletion>,
    /// The wafer below the profile.
    pub substrate: Wafer,
    /// What four probes read.
    pub probes: Probes,
    /// Voltage between the inner probes in mV; null = nothing conducts.
    pub voltage_mv: Option<f64>,
    /// Voltage over current in ohm; null = nothing conducts.
    pub voltage_over_current_ohm: Option<f64>,
    /// Sheet resistance from the two resistances given, in ohm per square; null = none given.
    pub van_der_pauw_ohm_sq: Option<f64>,
    /// Squares of the line given; null = none given.
    pub squares: Option<f64>,
    /// Its resistance in ohm; null = none given.
    pub line_resistance_ohm: Option<f64>,
    /// Chemical, net and active net concentrations against depth.
    pub profile: Profile,
}

/// The wafer below the profile.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Wafer {
    /// Conduction type.
    #[serde(rename = "type")]
    pub doping_type: DopingType,
    /// Concentration per cm3.
    pub concentration_cm3: f64,
    /// Resistivity in ohm cm.
    pub resistivity_ohm_cm: f64,
    /// Thickness in um.
    pub thickness_um: f64,
}

/// Four probes in line.
#[derive(Clone, Copy, Debug, Serialize)]
pub struct Probes {
    /// Distance between neighbors in mm.
    pub spacing_mm: f64,
    /// Current through the outer ones in mA.
    pub current_ma: f64,
    /// Sheet resistance over `V/I`: `pi/ln 2` times both factors below.
    pub geometry_factor: f64,
    /// Factor of the finite wafer.
    pub wafer_factor: f64,
    /// Factor of the finite thickness.
    pub thickness_factor: f64,
}

/// How far sheet resistances from profiles agree with each other.
const ACCURACY: Accuracy = Accuracy {
    relative: 0.1,
    meaning: "sheet resistance between published mobilities",
    source: "Masetti 1983 against ASTM F723: up to 11 % between 1e17 and 1e20 per cm3 (computed); the curves of Irvin 1962 lie within 15 %",
};

/// What has been computed.
struct Measured {
    measurement: Measurement,
    results: SheetResults,
    van_der_pauw: Option<VanDerPauw>,
    /// The profile ends above the substrate's doping.
    cut_off: bool,
    /// Part of the chemical dose that is active.
    active_share: f64,
}

/// Runs a sheet resistance measurement.
///
/// # Model
/// `1/Rs = q Int mu(NA + ND) |ND - NA| dx` of each layer between two junctions at 300 K; below
/// the profile the wafer conducts with its resistivity (ASTM F723) down to its back. Four
/// probes in line read `V/I = Rs ln 2/(pi F)`.
///
/// # Errors
/// [`RequestError`] for bad fields.
pub fn run(request: Map<String, Value>) -> Result<Report<SheetResults>, RequestError> {
    let measured = measure(read_fields::<SheetFields>(request)?.check()?)?;
    Ok(Report {
        operation: "sheet",
        working: working::lines(&measured),
        warnings: cautions::of(&measured),
        published: Vec::new(),
        accuracy: Some(ACCURACY),
        hazards: measured.measurement.silicon.hazards.clone(),
        results: measured.results,
        kernel_version: "",
    })
}

fn measure(measurement: Measurement) -> Result<Measured, RequestError> {
    let substrate = measurement.substrate;
    let background = substrate.net_donors_cm3();
    let mut dense = measurement.silicon.dense();
    let cut_off = dense
        .dopants
        .iter()
        .any(|(_, c)| c.last().is_some_and(|&c| 0.1 * substrate.concentration_cm3 < c));
    let uniform_from = end_in_the_wafer(&mut dense, measurement.thickness_um);
    let field = "active_limit_c";
    let active = silicon::active(&dense, measurement.limited_at, field)?;
    let doping = ActiveDoping::new(dense.depth_um.clone(), &active, substrate);
    let active_profile = Profile { dopants: active, ..dense.clone() };
    let junctions = junctions_um(&active_profile, background);
    let resistivity_ohm_cm = f723_ohm_cm(
        substrate.doping_type,
        // Below 1e13 the formula of boron is a straight line, that of phosphorus is no more.
        substrate.concentration_cm3.max(1e13),
    ) * (substrate.concentration_cm3.max(1e13)
        / substrate.concentration_cm3);
    let mut conductivity = doping.conductivity_s_cm(measurement.mobility);
    for value in conductivity.iter_mut().skip(uniform_from) {
        *value = 1.0 / resistivity_ohm_cm;
    }
    let (layers, depletion) = layers(&doping, &conductivity, &junctions);
    let count = layers.len();
    let Some(probed) = layers.get(measurement.layer) else {
        let allowed = format!("1 to {count}");
        let layer = measurement.layer + 1;
        return Err(RequestError::new(
            "out_of_range",
            LAYER.field,
            &layer.to_string(),
            &allowed,
            &format!("layer: there is no layer {layer} (allowed: {allowed})"),
            "count the layers from the surface, which is 1",
        ));
    };
    let sheet_resistance_ohm_sq = probed.sheet_resistance_ohm_sq;
    let probes = probes(&measurement, probed);
    let over_current =
        sheet_resistance_ohm_sq.map(|ohm_sq| ohm_sq / probes.geometry_factor);
    let pauw = measurement.van_der_pauw_ohm.and_then(|[a, b]| van_der_pauw(a, b));
    let count_squares =
        measurement.line.map(|l| squares(l.length_um, l.width_um, l.corners));
    let active_share = share(&active_profile, &dense);
    let profile = shown(dense, &doping, substrate, &junctions, uniform_from);
    let results = SheetResults {
        layer: measurement.layer + 1,
        sheet_resistance_ohm_sq,
        junction_depth_um: junctions.last().copied(),
        junctions_um: junctions,
        depletion,
        substrate: Wafer {
            doping_type: substrate.doping_type,
            concentration_cm3: substrate.concentration_cm3,
            resistivity_ohm_cm,
            thickness_um: measurement.thickness_um,
        },
        probes,
        voltage_mv: over_current.map(|ohm| ohm * measurement.current_ma),
        voltage_over_current_ohm: over_current,
        van_der_pauw_ohm_sq: pauw.as_ref().map(VanDerPauw::sheet_resistance_ohm_sq),
        squares: count_squares,
        line_resistance_ohm: count_squares
            .zip(sheet_resistance_ohm_sq)
            .map(|(squares, ohm_sq)| squares * ohm_sq),
        profile,
        layers,
    };
    Ok(Measured { measurement, results, van_der_pauw: pauw, cut_off, active_share })
}

/// Lets the dopants end below the last point and the wafer go on to its back; gives the index
/// of the first point without dopants.
fn end_in_the_wafer(profile: &mut Profile, thickness_um: f64) -> usize {
    let mut last = profile.depth_um.last().copied();
    if last.is_none() {
        profile.depth_um.push(0.0);
        last = Some(0.0);
    }
    let last = last.unwrap_or(0.0);
    let uniform_from = if profile.dopants.is_empty() {
        0
    } else {
        profile.depth_um.push(last + 1e-6);
        profile.depth_um.len() - 1
    };
    profile.depth_um.push(thickness_um.max(last + 2e-6));
    for (_, c) in &mut profile.dopants {
        c.resize(profile.depth_um.len(), 0.0);
    }
    uniform_from
}

/// The factors of four probes in the middle of the wafer on a layer.
fn probes(measurement: &Measurement, layer: &SheetLayer) -> Probes {
    let spacing = measurement.spacing_mm;
    let thickness_mm = (layer.bottom_um - layer.top_um) * 1e-3;
    let wafer = wafer_factor(measurement.diameter_mm / spacing);
    let thickness = thickness_factor(thickness_mm / spacing);
    Probes {
        spacing_mm: spacing,
        current_ma: measurement.current_ma,
        geometry_factor: four_point_ohm_sq(1.0) * wafer * thickness,
        wafer_factor: wafer,
        thickness_factor: thickness,
    }
}

/// Part of the chemical dose of all dopants that is active.
fn share(active: &Profile, chemical: &Profile) -> f64 {
    let dose = |profile: &Profile| {
        let x = &profile.depth_um;
        let mut sum = 0.0;
        for (_, c) in &profile.dopants {
            for i in 1..x.len() {
                sum += 0.5 * (c[i - 1] + c[i]) * (x[i] - x[i - 1]);
            }
        }
        sum
    };
    let whole = dose(chemical);
    if 0.0 < whole { dose(active) / whole } else { 1.0 }
}

/// The profile of the report: down to a bit below the deepest junction.
fn shown(
    mut profile: Profile,
    doping: &ActiveDoping,
    substrate: Substrate,
    junctions_um: &[f64],
    uniform_from: usize,
) -> Profile {
    let mut net = vec![substrate.net_donors_cm3(); profile.depth_um.len()];
    for (dopant, c) in &profile.dopants {
        for (net, c) in net.iter_mut().zip(c) {
            *net += dopant.charge() * c;
        }
    }
    profile.net_cm3 = net;
    profile.active_net_cm3 = doping.net_cm3.clone();
    let end = profile.depth_um.get(uniform_from).copied().unwrap_or(0.0);
    let deep = profile
        .dopants
        .iter()
        .filter_map(|(_, c)| {
            c.iter().rposition(|&c| 0.01 * substrate.concentration_cm3 < c)
        })
        .max()
        .and_then(|i| profile.depth_um.get(i + 1))
        .map_or(end, |&x| x.min(end));
    let junction = junctions_um.last().copied().unwrap_or(0.0);
    let deepest = if profile.dopants.is_empty() {
        f64::INFINITY
    } else {
        deep.max((1.5 * junction).min(end)).max(1e-3)
    };
    silicon::thinned(profile, deepest, junctions_um)
}
