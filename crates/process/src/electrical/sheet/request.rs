//! The fields of a sheet resistance measurement, and the range of each.

use serde::Deserialize;
use serde_json::Value;

use crate::bench::OperationSchema;
use crate::bound::{Bound, Choice, Scale};
use crate::diffusion::request::{
    GAUSSIAN_DOSE, GAUSSIAN_RANGE, GAUSSIAN_STRAGGLE, START_DOSE, SUBSTRATE, TEMPERATURE,
};
use crate::diffusion::silicon::{self, DopedSilicon};
use crate::electrical::wafer::GivenWafer;
use crate::error::RequestError;
use crate::profile_csv::profile_from_csv;
use crate::units::Temperature;
use crate::vocabulary::{Dopant, DopingType, MobilityModel, Substrate};

/// The request as it comes.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SheetFields {
    profile: Option<Value>,
    start: Option<Value>,
    substrate: Option<GivenWafer>,
    mobility: Option<MobilityModel>,
    active_limit_c: Option<f64>,
    layer: Option<f64>,
    current_ma: Option<f64>,
    probe_spacing_mm: Option<f64>,
    wafer_diameter_mm: Option<f64>,
    wafer_thickness_um: Option<f64>,
    resistance_a_ohm: Option<f64>,
    resistance_b_ohm: Option<f64>,
    length_um: Option<f64>,
    width_um: Option<f64>,
    corners: Option<f64>,
}

const fn bound(
    field: &'static str,
    label: &'static str,
    unit: &'static str,
    (min, max): (f64, f64),
    step: f64,
    default: Option<f64>,
) -> Bound {
    Bound {
        field,
        label,
        unit,
        min,
        max,
        published: None,
        default,
        step,
        scale: Scale::Linear,
    }
}

const fn decades(bound: Bound) -> Bound {
    Bound { scale: Scale::Log, ..bound }
}

/// Resistivity of the wafer: from 1e20 to 1e13 per cm3 of phosphorus; boron reaches further.
pub(super) const RESISTIVITY: Bound = decades(bound(
    "substrate.resistivity_ohm_cm",
    "Substrate resistivity",
    "Ω cm",
    (0.001, 400.0),
    1.0,
    None,
));
/// Dose at the surface of a drive-in that is measured.
pub(super) const DRIVEN_DOSE: Bound =
    Bound { field: "start.start.dose_cm2", ..START_DOSE };
/// Temperature of the last anneal, which limits how much is active.
pub(super) const ACTIVE_LIMIT: Bound = Bound {
    published: Some((800.0, 1150.0)),
    field: "active_limit_c",
    label: "Last anneal at",
    ..TEMPERATURE
};
/// Which layer the probes stand on, the surface being 1.
pub(super) const LAYER: Bound =
    bound("layer", "Layer probed, from the surface", "", (1.0, 20.0), 1.0, Some(1.0));
/// Current through the outer probes.
pub(super) const CURRENT: Bound =
    decades(bound("current_ma", "Probe current", "mA", (1e-4, 100.0), 0.1, Some(1.0)));
/// Distance between neighbor probes; 1 mm is usual (common practice).
pub(super) const SPACING: Bound =
    bound("probe_spacing_mm", "Probe spacing", "mm", (0.2, 3.0), 0.1, Some(1.0));
/// Diameter of the wafer.
pub(super) const DIAMETER: Bound =
    bound("wafer_diameter_mm", "Wafer diameter", "mm", (25.0, 450.0), 25.0, Some(100.0));
/// Thickness of the wafer; 525 um is the standard one of a 100 mm wafer (common practice).
pub(super) const THICKNESS: Bound = bound(
    "wafer_thickness_um",
    "Wafer thickness",
    "µm",
    (50.0, 2000.0),
    5.0,
    Some(525.0),
);
/// First resistance of a van der Pauw measurement.
pub(super) const RESISTANCE_A: Bound = decades(bound(
    "resistance_a_ohm",
    "Resistance along one side",
    "Ω",
    (1e-4, 1e8),
    0.1,
    None,
));
/// Second resistance of a van der Pauw measurement.
pub(super) const RESISTANCE_B: Bound = Bound {
    field: "resistance_b_ohm",
    label: "Resistance along the other side",
    ..RESISTANCE_A
};
/// Length of a line.
pub(super) const LENGTH: Bound =
    decades(bound("length_um", "Length of the line", "µm", (0.1, 1e6), 1.0, None));
/// Width of a line.
pub(super) const WIDTH: Bound =
    decades(bound("width_um", "Width of the line", "µm", (0.1, 1e4), 0.5, None));
/// Right-angled corners of a line.
pub(super) const CORNERS: Bound =
    bound("corners", "Corners of the line", "", (0.0, 1000.0), 1.0, Some(0.0));

/// A measurement, checked.
#[derive(Clone, Debug)]
pub(super) struct Measurement {
    pub(super) silicon: DopedSilicon,
    pub(super) substrate: Substrate,
    /// Field that gave a temperature for the active part, and that temperature.
    pub(super) limited_at: Option<Temperature>,
    pub(super) mobility: MobilityModel,
    /// The layer probed, from 0.
    pub(super) layer: usize,
    pub(super) current_ma: f64,
    pub(super) spacing_mm: f64,
    pub(super) diameter_mm: f64,
    pub(super) thickness_um: f64,
    pub(super) van_der_pauw_ohm: Option<[f64; 2]>,
    pub(super) line: Option<Line>,
}

/// A line of a layer.
#[derive(Clone, Copy, Debug)]
pub(super) struct Line {
    pub(super) length_um: f64,
    pub(super) width_um: f64,
    pub(super) corners: f64,
}

impl SheetFields {
    /// Checks every field and reads or runs what lies in the silicon.
    pub(super) fn check(self) -> Result<Measurement, RequestError> {
        let given = self.substrate.map(substrate).transpose()?;
        let silicon = match (self.profile, self.start) {
            (Some(value), None) => read(value, "profile", given)?,
            (None, Some(value)) => read(value, "start", given)?,
            (None, None) => DopedSilicon::default(),
            (Some(_), Some(_)) => {
                return Err(RequestError::conflict(
                    "start",
                    "",
                    "profile or start",
                    "start cannot stand beside profile (allowed: profile or start)",
                    "give one of them",
                ));
            }
        };
        let usual = silicon.first_dopant().map(Substrate::opposite_to);
        let substrate = given.or(silicon.substrate).or(usual).ok_or_else(|| {
            RequestError::missing(
                "substrate",
                "a type with concentration_cm3 or resistivity_ohm_cm",
                "add the substrate, or a profile in it",
            )
        })?;
        let limited_at = match self.active_limit_c {
            Some(celsius) => Some(Temperature::celsius(ACTIVE_LIMIT.check(celsius)?)),
            None => silicon.limited_at,
        };
        let thickness_um = THICKNESS.check_or_default(self.wafer_thickness_um)?;
        let layer = LAYER.check_or_default(self.layer)?;
        if layer.fract() != 0.0 {
            return Err(RequestError::conflict(
                "layer",
                &layer.to_string(),
                "a whole number",
                &format!(
                    "layer: {layer} is not a whole number (allowed: a whole number)"
                ),
                "count the layers from the surface, which is 1",
            ));
        }
        Ok(Measurement {
            silicon,
            substrate,
            limited_at,
            mobility: self.mobility.unwrap_or(MobilityModel::Masetti1983),
            layer: crate::num::to_count(layer) - 1,
            current_ma: CURRENT.check_or_default(self.current_ma)?,
            spacing_mm: SPACING.check_or_default(self.probe_spacing_mm)?,
            diameter_mm: DIAMETER.check_or_default(self.wafer_diameter_mm)?,
            thickness_um,
            van_der_pauw_ohm: pair(
                (&RESISTANCE_A, self.resistance_a_ohm),
                (&RESISTANCE_B, self.resistance_b_ohm),
            )?,
            line: line(self.length_um, self.width_um, self.corners)?,
        })
    }
}

fn read(
    value: Value,
    field: &str,
    substrate: Option<Substrate>,
) -> Result<DopedSilicon, RequestError> {
    let Value::Object(map) = &value else { return silicon::read(value, field) };
    let Some(text) = map.get("csv") else { return silicon::read(value, field) };
    let (Some(text), 1) = (text.as_str(), map.len()) else {
        return Err(RequestError::conflict(
            &format!("{field}.csv"),
            &text.to_string(),
            "csv alone, as a text",
            &format!(
                "{field}.csv must be a text that stands alone (allowed: csv alone, as a text)"
            ),
            "give the lines of the table as one text",
        ));
    };
    let profile =
        profile_from_csv(text, substrate).map_err(|error| error.inside(field))?;
    Ok(DopedSilicon::from_profile(&profile))
}

fn substrate(given: GivenWafer) -> Result<Substrate, RequestError> {
    let found = given.concentration_cm3().map_err(|allowed| {
        RequestError::conflict(
            "substrate.resistivity_ohm_cm",
            "",
            &allowed,
            &format!("substrate.resistivity_ohm_cm cannot be used (allowed: {allowed})"),
            &format!("give {allowed}"),
        )
    })?;
    Ok(Substrate {
        doping_type: given.doping_type,
        concentration_cm3: SUBSTRATE.check_or_default(found)?,
    })
}

/// Two fields that stand together or not at all.
fn pair(
    (first_bound, first): (&Bound, Option<f64>),
    (second_bound, second): (&Bound, Option<f64>),
) -> Result<Option<[f64; 2]>, RequestError> {
    if first.is_none() && second.is_none() {
        return Ok(None);
    }
    Ok(Some([
        first_bound.check_or_default(first)?,
        second_bound.check_or_default(second)?,
    ]))
}

fn line(
    length: Option<f64>,
    width: Option<f64>,
    corners: Option<f64>,
) -> Result<Option<Line>, RequestError> {
    let sizes = pair((&LENGTH, length), (&WIDTH, width))?;
    let corners_given = CORNERS.check_or_default(corners)?;
    match sizes {
        Some([length_um, width_um]) => {
            Ok(Some(Line { length_um, width_um, corners: corners_given }))
        }
        None if corners.is_some() => Err(RequestError::missing(
            LENGTH.field,
            &LENGTH.allowed(),
            "corners belong to a line: add length_um and width_um",
        )),
        None => Ok(None),
    }
}

/// The form of a sheet resistance measurement.
#[must_use]
pub fn schema() -> OperationSchema {
    OperationSchema {
        operation: "sheet",
        numbers: vec![
            SUBSTRATE,
            RESISTIVITY,
            DRIVEN_DOSE,
            GAUSSIAN_DOSE,
            GAUSSIAN_RANGE,
            GAUSSIAN_STRAGGLE,
            ACTIVE_LIMIT,
            LAYER,
            CURRENT,
            SPACING,
            DIAMETER,
            THICKNESS,
            RESISTANCE_A,
            RESISTANCE_B,
            LENGTH,
            WIDTH,
            CORNERS,
        ],
        choices: choices(),
    }
}

fn choices() -> Vec<Choice> {
    vec![
        DopingType::choice("substrate.type", "Substrate type", None),
        Dopant::choice("start.gaussian.dopant", "Dopant", None),
        MobilityModel::choice("mobility", "Mobility", Some(MobilityModel::Masetti1983)),
    ]
}
