//! Thermal oxidation of silicon: time and temperature in, oxide and consumed silicon out.
//!
//! Start at [`Conditions`] (what oxidizes, in which models), whose [`law`](Conditions::law)
//! gives a [`GrowthLaw`] at one temperature; [`through_segment`] takes oxide through a
//! [`Segment`] of a furnace recipe. [`run`] answers a request. It knows one place of the wafer,
//! never a cross-section: corners, stress and masks are not its matter.

mod cautions;
mod data;
mod enhancement;
mod growth;
mod in_flow;
mod law;
mod listed;
mod published;
mod request;
mod working;

use serde::Serialize;
use serde_json::{Map, Value};

pub use data::{Arrhenius, DRY_EFFECTIVE_START_UM, NATIVE_OXIDE_UM};
pub use enhancement::{
    DOPING_LIMIT_CM3, DopingEnhancement, SurfaceDoping, doping_enhancement, hcl_factors,
    linear_pressure_exponent,
};
pub use growth::{Segment, through_segment};
pub(crate) use in_flow::FlowOxidation;
pub use law::{Conditions, Factors, GrowthLaw, Surface, ThinLaw};
pub(crate) use listed::list;
pub use request::{
    DOPING, END_TEMPERATURE, HCL, INERT_TEMPERATURE, INITIAL_OXIDE, MAX_SEGMENTS,
    PRESSURE, TARGET, TEMPERATURE, TIME, schema, segment_fields,
};

use crate::color::{Appearance, Film, FilmColor, OpticalMaterial, oxide_on_silicon};
use crate::constants::SILICON_PER_OXIDE;
use crate::error::RequestError;
use crate::num::{linspace, to_count};
use crate::report::{PublishedPoint, Report};
use crate::units::{Length, Temperature, Time};
use crate::vocabulary::{Ambient, OxidationModel};
use request::{Checked, OxidationRequest, Question};
use working::{Step, Working};

/// Results of an oxidation.
#[derive(Clone, Debug, Serialize)]
pub struct OxidationResults {
    /// Oxide at the end in nm.
    pub oxide_nm: f64,
    /// Oxide at the start in nm (the native nanometer included where the model starts from it).
    pub initial_oxide_nm: f64,
    /// Oxide grown in nm.
    pub grown_nm: f64,
    /// Silicon consumed in nm.
    pub silicon_consumed_nm: f64,
    /// Time needed or given in min.
    pub time_min: f64,
    /// Growth rate at the end in nm/min.
    pub rate_nm_min: f64,
    /// Parabolic constant B of the last segment in um2/h.
    pub parabolic_um2_h: f64,
    /// Linear constant B/A of the last segment in um/h.
    pub linear_um_h: f64,
    /// Color of the oxide on silicon.
    pub color: FilmColor,
    /// Its spectrum, and the colors of thinner and thicker oxides.
    pub appearance: Appearance,
    /// Oxide against time.
    pub curve: OxideCurve,
    /// The same up to one and a half times the time; none for a recipe of segments.
    pub extended_curve: Option<OxideCurve>,
}

/// Oxide against time; both lists have the same length.
#[derive(Clone, Debug, Default, Serialize)]
pub struct OxideCurve {
    /// Times in min, from 0.
    pub time_min: Vec<f64>,
    /// Oxide in nm at each time.
    pub oxide_nm: Vec<f64>,
}

impl OxideCurve {
    fn push(&mut self, t_h: f64, x_um: f64) {
        self.time_min.push(Time::h(t_h).to_min());
        self.oxide_nm.push(Length::um(x_um).to_nm());
    }

    fn first(&self, count: usize) -> Self {
        Self {
            time_min: self.time_min.iter().take(count).copied().collect(),
            oxide_nm: self.oxide_nm.iter().take(count).copied().collect(),
        }
    }
}

/// Intervals of the curve up to the present time.
const CURVE_INTERVALS: usize = 80;

/// Intervals of the curve beyond it: half as many make one and a half times the time.
const FURTHER_INTERVALS: usize = 40;

/// Runs an oxidation.
///
/// # Errors
/// [`RequestError`] for bad fields, for fields that exclude each other, and for a target that
/// lies below the oxide at the start or beyond the longest time.
pub fn run(
    request: Map<String, Value>,
) -> Result<Report<OxidationResults>, RequestError> {
    let checked = crate::request::read_fields::<OxidationRequest>(request)?.check()?;
    match &checked.question {
        Question::Thickness(segment) => Ok(one_step(&checked, *segment, false)),
        &Question::Time { ambient, temperature, target } => {
            let duration = time_to(&checked, ambient, temperature, target)?;
            let segment = Segment::hold(ambient, temperature, duration);
            Ok(one_step(&checked, segment, true))
        }
        Question::Recipe(segments) => Ok(recipe(&checked, segments)),
    }
}

/// The time that the target needs.
fn time_to(
    checked: &Checked,
    ambient: Ambient,
    temperature: Temperature,
    target: Length,
) -> Result<Time, RequestError> {
    let conditions = &checked.conditions;
    let start = conditions.effective_start(ambient, checked.initial);
    let target_nm = target.to_nm();
    if target <= start {
        let is_fitted = checked.initial < start;
        let (start_nm, what, hint) = match (is_fitted, conditions.model) {
            (true, OxidationModel::DealGrove) => (
                start.to_nm(),
                "from which the closed law starts in dry oxygen",
                "use the model auto for thin dry oxide",
            ),
            (true, _) => (
                start.to_nm(),
                "of native oxide that a bare wafer carries",
                "give a thicker target",
            ),
            (false, _) => (
                start.to_nm(),
                "that are there at the start",
                "give a target above initial_oxide_nm, or etch instead of growing",
            ),
        };
        return Err(RequestError::conflict(
            "target_oxide_nm",
            &target_nm.to_string(),
            &format!("above {start_nm} nm"),
            &format!(
                "target_oxide_nm: a target of {target_nm} nm is not above the {start_nm} nm {what}"
            ),
            hint,
        ));
    }
    let law = conditions.law(ambient, temperature);
    let needed_min = law.time_between(start, target).map_or(f64::INFINITY, Time::to_min);
    if needed_min <= TIME.max {
        return Ok(Time::min(needed_min));
    }
    Err(RequestError::new(
        "unreachable",
        "target_oxide_nm",
        &target_nm.to_string(),
        &format!("what grows within {} min", TIME.max),
        &format!(
            "target_oxide_nm: {target_nm} nm would take {needed_min:.0} min at {} °C, longer than {} min",
            law::asked_celsius(temperature),
            TIME.max
        ),
        "raise the temperature, choose a wetter gas, or lower the target",
    ))
}

/// One step at constant temperature.
fn one_step(
    checked: &Checked,
    segment: Segment,
    asks_time: bool,
) -> Report<OxidationResults> {
    let conditions = &checked.conditions;

    let longest = segment.duration * 1.5;
    let times_h = linspace(0.0, longest.to_h(), CURVE_INTERVALS + FURTHER_INTERVALS + 1);
    let long_segment = Segment { duration: longest, ..segment };
    let grown_um = through_segment(conditions, &long_segment, checked.initial, &times_h);
    let mut extended = OxideCurve::default();
    for (&t_h, &x_um) in times_h.iter().zip(&grown_um) {
        extended.push(t_h, x_um);
    }
    let oxide = Length::um(grown_um.get(CURVE_INTERVALS).copied().unwrap_or_default());
    let published = published::published_points(
        conditions,
        segment.ambient,
        segment.start,
        checked.initial,
        longest.to_min(),
    );
    let initial = real_start(checked, segment.ambient);
    let mut working = Working::new();
    working.step(&Step {
        conditions: *conditions,
        ambient: segment.ambient,
        temperature: segment.start,
        initial,
        oxide,
        duration: segment.duration,
        asks_time,
    });
    let curve = extended.first(CURVE_INTERVALS + 1);
    let ending = Ending { initial, oxide, curve, extended_curve: Some(extended) };
    report(checked, &[segment], ending, working, published)
}

/// A recipe of several segments.
fn recipe(checked: &Checked, segments: &[Segment]) -> Report<OxidationResults> {
    let conditions = &checked.conditions;
    let total_h: f64 = segments.iter().map(|segment| segment.duration.to_h()).sum();
    let first_gas = segments
        .iter()
        .map(|segment| segment.ambient)
        .find(|&ambient| ambient != Ambient::Inert)
        .unwrap_or(Ambient::Inert);
    let initial = real_start(checked, first_gas);
    let mut working = Working::new();
    let mut curve = OxideCurve::default();
    let (mut now_h, mut oxide) = (0.0, initial);
    for (i, segment) in segments.iter().enumerate() {
        let length_h = segment.duration.to_h();
        let share = length_h / total_h * to_float(CURVE_INTERVALS);
        let times_h = linspace(0.0, length_h, to_count(share.ceil()).max(2) + 1);
        let grown_um = through_segment(conditions, segment, oxide, &times_h);
        // Later segments begin where the curve stands already.
        for (&t_h, &x_um) in times_h.iter().zip(&grown_um).skip(usize::from(0 < i)) {
            curve.push(now_h + t_h, x_um);
        }
        let after = Length::um(grown_um.last().copied().unwrap_or_default());
        working.begin_segment(i + 1);
        working.constants(conditions, segment.ambient, segment.start);
        if !segment.is_hold() {
            working.constants(conditions, segment.ambient, segment.end);
        }
        let from = conditions.effective_start(segment.ambient, oxide);
        working.segment_result(from, after, segment.duration);
        now_h += length_h;
        oxide = after;
    }
    working.end_segments();
    working.ending(initial, oxide, &last_law(conditions, segments));
    let ending = Ending { initial, oxide, curve, extended_curve: None };
    report(checked, segments, ending, working, Vec::new())
}

#[expect(clippy::cast_precision_loss, reason = "a small count")]
fn to_float(count: usize) -> f64 {
    count as f64
}

/// What the growth came to.
struct Ending {
    initial: Length,
    oxide: Length,
    curve: OxideCurve,
    extended_curve: Option<OxideCurve>,
}

/// The oxide that is on the wafer when growth starts: for the thin-oxide laws at least the
/// native nanometer, but never the fitted start of the closed dry law.
fn real_start(checked: &Checked, ambient: Ambient) -> Length {
    if checked.conditions.model == OxidationModel::DealGrove {
        checked.initial
    } else {
        checked.conditions.effective_start(ambient, checked.initial)
    }
}

fn last_law(conditions: &Conditions, segments: &[Segment]) -> GrowthLaw {
    segments.last().map_or(
        GrowthLaw { parabolic_um2_h: 0.0, linear_um_h: 0.0, thin: None },
        |segment| conditions.law(segment.ambient, segment.end),
    )
}

fn report(
    checked: &Checked,
    segments: &[Segment],
    ending: Ending,
    working: Working,
    published: Vec<PublishedPoint>,
) -> Report<OxidationResults> {
    let conditions = &checked.conditions;
    let law = last_law(conditions, segments);
    let Ending { initial, oxide, curve, extended_curve } = ending;
    let grown = oxide - initial;
    let total_min: f64 = segments.iter().map(|segment| segment.duration.to_min()).sum();
    let results = OxidationResults {
        oxide_nm: oxide.to_nm(),
        initial_oxide_nm: initial.to_nm(),
        grown_nm: grown.to_nm(),
        silicon_consumed_nm: SILICON_PER_OXIDE * grown.to_nm(),
        time_min: total_min,
        rate_nm_min: law.rate_um_h(oxide.to_um()) * 1000.0 / 60.0,
        parabolic_um2_h: law.parabolic_um2_h,
        linear_um_h: law.linear_um_h,
        color: oxide_on_silicon(oxide, checked.view),
        appearance: Appearance::of_film(
            Film { material: OpticalMaterial::ThermalOxide, thickness: oxide },
            &[],
            OpticalMaterial::Silicon,
            checked.view,
        ),
        curve,
        extended_curve,
    };
    let uncertain_part = enhanced_part(checked, segments, oxide);
    Report {
        operation: "oxidation",
        results,
        working: working.into_lines(),
        warnings: cautions::warnings(checked, segments, oxide),
        published,
        accuracy: Some(cautions::accuracy(segments, uncertain_part)),
        hazards: cautions::hazards(segments, conditions.hcl_percent),
        kernel_version: "",
    }
}

/// The share of the oxide that doping and chloride add, 0 to 1.
fn enhanced_part(checked: &Checked, segments: &[Segment], oxide: Length) -> f64 {
    let conditions = &checked.conditions;
    if conditions.doping.is_none() && conditions.hcl_percent <= 0.0 {
        return 0.0;
    }
    let plain = Conditions { doping: None, hcl_percent: 0.0, ..*conditions };
    let mut without = checked.initial;
    for segment in segments {
        let end_h = [segment.duration.to_h()];
        let after = through_segment(&plain, segment, without, &end_h);
        without = Length::um(after.last().copied().unwrap_or_default());
    }
    let (with_nm, without_nm) = (oxide.to_nm(), without.to_nm());
    if 0.0 < with_nm { ((with_nm - without_nm) / with_nm).abs() } else { 0.0 }
}

#[cfg(test)]
mod tests;
