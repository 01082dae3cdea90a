//! The fields of predeposition and drive-in, and the range of each.

use serde::Deserialize;
use serde_json::Value;

use super::furnace::{Ramp, Recipe};
use super::unmodeled::Unmodeled;
use crate::bench::OperationSchema;
use crate::bound::{Bound, Choice, Scale};
use crate::error::RequestError;
use crate::units::Length;
use crate::vocabulary::{
    Ambient, AnnealAmbient, BoronSegregation, Comparison, DiffusionSolution,
    DiffusivitySet, Dopant, DopantSource, Material, Orientation, SolutionAccuracy,
    Substrate,
};

/// Fields of a predeposition.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct PredepositionFields {
    pub(super) dopant: Dopant,
    pub(super) temperature_c: f64,
    pub(super) time_min: f64,
    pub(super) substrate: Option<Substrate>,
    pub(super) source: Option<DopantSource>,
    pub(super) surface_concentration_cm3: Option<f64>,
    pub(super) diffusivity: Option<DiffusivitySet>,
    pub(super) solution: Option<DiffusionSolution>,
    pub(super) active_limit: Option<bool>,
    pub(super) oxidation_enhanced_diffusion: Option<bool>,
    pub(super) boron_segregation: Option<BoronSegregation>,
    pub(super) donor_segregation: Option<f64>,
    pub(super) target: Option<Material>,
    pub(super) glass: Option<GlassFields>,
    pub(super) phosphorus_tail: Option<bool>,
    pub(super) compare: Option<Comparison>,
}

/// The doped glass film of a source.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct GlassFields {
    pub(super) concentration_cm3: f64,
    pub(super) thickness_nm: f64,
}

/// Fields of a drive-in or an anneal.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct DriveInFields {
    pub(super) start: Value,
    pub(super) temperature_c: f64,
    pub(super) time_min: f64,
    pub(super) ambient: Option<AnnealAmbient>,
    pub(super) orientation: Option<Orientation>,
    pub(super) substrate: Option<Substrate>,
    pub(super) diffusivity: Option<DiffusivitySet>,
    pub(super) solution: Option<DiffusionSolution>,
    pub(super) evaporation_cm_s: Option<f64>,
    pub(super) initial_oxide_nm: Option<f64>,
    pub(super) active_limit: Option<bool>,
    pub(super) oxidation_enhanced_diffusion: Option<bool>,
    pub(super) boron_segregation: Option<BoronSegregation>,
    pub(super) donor_segregation: Option<f64>,
    pub(super) compare: Option<Comparison>,
    pub(super) ramp: Option<RampFields>,
    pub(super) accuracy: Option<SolutionAccuracy>,
}

/// Heating and cooling before and after the time at temperature.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct RampFields {
    pub(super) start_c: f64,
    pub(super) up_c_s: f64,
    pub(super) down_c_s: f64,
}

impl PredepositionFields {
    /// What the step asks beyond the model.
    pub(super) fn unmodeled(&self) -> Unmodeled {
        Unmodeled {
            oxidation_enhanced_diffusion: self.oxidation_enhanced_diffusion,
            target: self.target,
        }
    }

    /// The source holds the surface, so that no oxide takes up dopant: the segregation is only
    /// checked.
    ///
    /// # Errors
    /// If it lies outside its range.
    pub(super) fn check_segregation(&self) -> Result<(), RequestError> {
        let _: Option<BoronSegregation> = self.boron_segregation;
        DONOR_SEGREGATION.check_or_default(self.donor_segregation).map(|_| ())
    }
}

impl DriveInFields {
    /// The furnace that is asked for, on `oxide` unless another one is given.
    ///
    /// # Errors
    /// If a value lies outside its range or the ramp starts hotter than it ends.
    pub(super) fn recipe(&self, oxide: Length) -> Result<Recipe, RequestError> {
        let given =
            self.initial_oxide_nm.map(|nm| INITIAL_OXIDE.check(nm)).transpose()?;
        Ok(Recipe {
            ambient: self.ambient.unwrap_or(AnnealAmbient::Inert).oxidation(),
            ramp: self.ramp.map(|ramp| ramp.check(self.temperature_c)).transpose()?,
            orientation: self.orientation.unwrap_or(Orientation::Face100),
            enhanced: self.oxidation_enhanced_diffusion.unwrap_or(false),
            boron: self.boron_segregation.unwrap_or(BoronSegregation::Antoniadis1979),
            donors: DONOR_SEGREGATION.check_or_default(self.donor_segregation)?,
            oxide: given.map_or(oxide, Length::nm),
        })
    }
}

impl RampFields {
    fn check(self, temperature_c: f64) -> Result<Ramp, RequestError> {
        let start_c = RAMP_START.check(self.start_c)?;
        if temperature_c < start_c {
            let allowed = format!("at most {temperature_c} °C");
            return Err(RequestError::conflict(
                RAMP_START.field,
                &start_c.to_string(),
                &allowed,
                &format!(
                    "ramp.start_c: {start_c} °C is above the temperature of the step (allowed: {allowed})"
                ),
                "start the ramp colder than the step",
            ));
        }
        Ok(Ramp {
            start_c,
            up_c_s: RAMP_UP.check(self.up_c_s)?,
            down_c_s: RAMP_DOWN.check(self.down_c_s)?,
        })
    }
}

/// A Gaussian start, as an implant leaves it.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct GaussianFields {
    pub(super) dopant: Dopant,
    pub(super) dose_cm2: f64,
    pub(super) projected_range_nm: f64,
    pub(super) straggle_nm: f64,
}

/// A dose at the surface.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct SurfaceDoseFields {
    pub(super) dopant: Dopant,
    pub(super) dose_cm2: f64,
}

const fn bound(
    field: &'static str,
    label: &'static str,
    unit: &'static str,
    (min, max): (f64, f64),
    step: f64,
    scale: Scale,
) -> Bound {
    Bound { field, label, unit, min, max, published: None, default: None, step, scale }
}

/// Furnace temperature; the diffusivity sets were fitted to 800 to 1200 C.
pub const TEMPERATURE: Bound = Bound {
    published: Some((800.0, 1200.0)),
    ..bound(
        "temperature_c",
        "Furnace temperature",
        "°C",
        (600.0, 1250.0),
        5.0,
        Scale::Linear,
    )
};
/// Time in the furnace.
pub const TIME: Bound = bound("time_min", "Time", "min", (0.01, 6000.0), 1.0, Scale::Log);
/// Concentration that the source holds at the surface.
pub const SURFACE_CONCENTRATION: Bound = bound(
    "surface_concentration_cm3",
    "Surface concentration",
    "cm⁻³",
    (1e14, 2e21),
    1.0,
    Scale::Log,
);
/// Dopant in a glass film: up to a silicate of pure dopant oxide.
pub const GLASS_CONCENTRATION: Bound = Bound {
    default: Some(2e21),
    ..bound(
        "glass.concentration_cm3",
        "Dopant in the glass",
        "cm⁻³",
        (1e18, 2e22),
        1.0,
        Scale::Log,
    )
};
/// Thickness of a glass film.
pub const GLASS_THICKNESS: Bound = Bound {
    default: Some(300.0),
    ..bound(
        "glass.thickness_nm",
        "Thickness of the glass",
        "nm",
        (50.0, 3000.0),
        1.0,
        Scale::Log,
    )
};
/// A mask is made this much thicker than the least that holds (common practice).
pub const MASK_MARGIN: f64 = 1.5;
/// Doping of the wafer.
pub const SUBSTRATE: Bound = Bound {
    default: Some(1e15),
    ..bound(
        "substrate.concentration_cm3",
        "Substrate doping",
        "cm⁻³",
        (1e12, 1e20),
        1.0,
        Scale::Log,
    )
};
/// Speed at which dopant leaves a bare surface: bare arsenic surfaces lose 1e-9 to 1e-8 cm/s at
/// 1000 to 1100 C (order of magnitude only; memory).
pub const EVAPORATION: Bound = Bound {
    default: Some(0.0),
    ..bound(
        "evaporation_cm_s",
        "Evaporation speed",
        "cm/s",
        (0.0, 1e-4),
        1e-9,
        Scale::Linear,
    )
};
/// Oxide on the silicon at the start.
pub const INITIAL_OXIDE: Bound = Bound {
    default: Some(0.0),
    ..bound(
        "initial_oxide_nm",
        "Oxide at the start",
        "nm",
        (0.0, 5000.0),
        1.0,
        Scale::Linear,
    )
};
/// Donors in silicon over donors in the oxide beside it: 10, known to a factor of 3 (A. S.
/// Grove, O. Leistiko, C. T. Sah, J. Appl. Phys. 35, 2695, 1964; memory).
pub const DONOR_SEGREGATION: Bound = Bound {
    default: Some(10.0),
    ..bound(
        "donor_segregation",
        "Donors, silicon over oxide",
        "",
        (0.1, 1000.0),
        1.0,
        Scale::Log,
    )
};
/// Temperature at which the wafer enters and leaves the furnace.
pub const RAMP_START: Bound =
    bound("ramp.start_c", "Ramp from", "°C", (20.0, 1250.0), 10.0, Scale::Linear);
/// Heating rate: furnaces take 0.05 to 0.2 °C/s, lamps up to 250 (common practice).
pub const RAMP_UP: Bound =
    bound("ramp.up_c_s", "Heating rate", "°C/s", (0.01, 1000.0), 0.1, Scale::Log);
/// Cooling rate.
pub const RAMP_DOWN: Bound =
    bound("ramp.down_c_s", "Cooling rate", "°C/s", (0.01, 1000.0), 0.1, Scale::Log);
/// Dose of a start at the surface.
pub const START_DOSE: Bound =
    bound("start.dose_cm2", "Dose", "cm⁻²", (1e9, 3e16), 1.0, Scale::Log);
/// Dose of a Gaussian start.
pub const GAUSSIAN_DOSE: Bound =
    bound("start.gaussian.dose_cm2", "Dose", "cm⁻²", (1e9, 1e17), 1.0, Scale::Log);
/// Depth of the peak of a Gaussian start.
pub const GAUSSIAN_RANGE: Bound = bound(
    "start.gaussian.projected_range_nm",
    "Projected range",
    "nm",
    (0.0, 10_000.0),
    1.0,
    Scale::Linear,
);
/// Half width of a Gaussian start.
pub const GAUSSIAN_STRAGGLE: Bound = bound(
    "start.gaussian.straggle_nm",
    "Straggle",
    "nm",
    (1.0, 3000.0),
    1.0,
    Scale::Linear,
);

/// A yes-or-no field of a form.
fn switch(field: &'static str, label: &'static str) -> Choice {
    Choice {
        field,
        label,
        values: vec![("false", "no"), ("true", "yes")],
        default: Some("false"),
    }
}

fn shared_choices() -> Vec<Choice> {
    vec![
        crate::vocabulary::DopingType::choice("substrate.type", "Substrate type", None),
        DiffusivitySet::choice(
            "diffusivity",
            "Diffusivity",
            Some(DiffusivitySet::Plummer2000),
        ),
        DiffusionSolution::choice(
            "solution",
            "Solution",
            Some(DiffusionSolution::Numerical),
        ),
        switch("active_limit", "Limit the active part"),
    ]
}

/// The form of a predeposition.
#[must_use]
pub fn predeposition_schema() -> OperationSchema {
    let mut dopant = Dopant::choice("dopant", "Dopant", None);
    for (word, label) in &mut dopant.values {
        match *word {
            "gallium" => *label = "gallium (optional)",
            "aluminum" => *label = "aluminum (optional)",
            _ => {}
        }
    }
    let mut choices = vec![dopant, DopantSource::choice("source", "Source", None)];
    choices.extend(shared_choices());
    choices.push(switch("phosphorus_tail", "Kink and tail of phosphorus"));
    choices.push(compare());
    OperationSchema {
        operation: "predeposition",
        numbers: vec![
            TEMPERATURE,
            TIME,
            SURFACE_CONCENTRATION,
            SUBSTRATE,
            GLASS_CONCENTRATION,
            GLASS_THICKNESS,
        ],
        choices,
    }
}

fn compare() -> Choice {
    Comparison::choice("compare", "Compare", Some(Comparison::Nothing))
}

/// The form of a drive-in.
#[must_use]
pub fn drive_in_schema() -> OperationSchema {
    let ambient = Ambient::choice("ambient", "Ambient", Some(Ambient::Inert));
    heating_schema("drive_in", ambient, "false")
}

/// The form of an anneal.
#[must_use]
pub fn anneal_schema() -> OperationSchema {
    let inert = Some(AnnealAmbient::Inert);
    let ambient = AnnealAmbient::choice("ambient", "Ambient", inert);
    heating_schema("anneal", ambient, "true")
}

fn heating_schema(
    operation: &'static str,
    ambient: Choice,
    limited: &'static str,
) -> OperationSchema {
    let mut choices = vec![ambient];
    choices.extend(shared_choices());
    if let Some(limit) = choices.last_mut() {
        limit.default = Some(limited);
    }
    choices.extend([
        switch("oxidation_enhanced_diffusion", "Diffusion enhanced by oxidation"),
        BoronSegregation::choice(
            "boron_segregation",
            "Boron between silicon and oxide",
            Some(BoronSegregation::Antoniadis1979),
        ),
        Orientation::choice("orientation", "Wafer face", Some(Orientation::Face100)),
        SolutionAccuracy::choice(
            "accuracy",
            "Numerical accuracy",
            Some(SolutionAccuracy::Interactive),
        ),
    ]);
    choices.push(compare());
    OperationSchema {
        operation,
        numbers: vec![
            TEMPERATURE,
            TIME,
            SUBSTRATE,
            EVAPORATION,
            INITIAL_OXIDE,
            DONOR_SEGREGATION,
            RAMP_START,
            RAMP_UP,
            RAMP_DOWN,
            START_DOSE,
            GAUSSIAN_DOSE,
            GAUSSIAN_RANGE,
            GAUSSIAN_STRAGGLE,
        ],
        choices,
    }
}

/// The substrate of a request, checked.
pub(super) fn checked_substrate(
    given: Option<Substrate>,
) -> Result<Option<Substrate>, RequestError> {
    if let Some(substrate) = given {
        SUBSTRATE.check(substrate.concentration_cm3)?;
    }
    Ok(given)
}
