//! Bakes of resist: the solvent leaves, standing waves blur, the resist hardens.

mod drying;
mod request;

use serde::Serialize;
use serde_json::{Map, Value};

pub use drying::{
    DECAY_EV, DECAY_PER_S, DRYING_EV, DRYING_S, LEAST_SOLVENT, START_SOLVENT,
    drying_constant_s, drying_time_s, sensitizer_left, shrunk, solvent_left,
};
pub use request::{
    BakeKind, START_SOLVENT_PERCENT, TARGET_SOLVENT_PERCENT, TEMPERATURE_C, THICKNESS_NM,
    TIME_S,
};

use crate::bench::OperationSchema;
use crate::bound::Bound;
use crate::error::RequestError;
use crate::hazards;
use crate::lithography::Resist;
use crate::lithography::exposure::spread_nm;
use crate::num::{linspace, show};
use crate::report::{Report, Warning, WorkingLine};
use crate::request::read_fields;
pub(super) use request::{Bake, BakeRequest};

/// Points of the curve.
const CURVE_POINTS: usize = 61;

/// Solvent above which a film is soft and sticks to a mask (common practice: 3-5 % is wanted).
const SOFT_SOLVENT: f64 = 0.06;

/// Temperature in C above which resist walls begin to flow (common practice).
const FLOW_C: f64 = 130.0;

/// Results of a bake.
#[derive(Clone, Debug, Serialize)]
pub struct BakeResults {
    /// Which bake.
    pub kind: BakeKind,
    /// The resist.
    pub resist: Resist,
    /// Temperature of the hot plate in C.
    pub temperature_c: f64,
    /// Thickness after the bake in nm.
    pub thickness_nm: f64,
    /// Thickness before it in nm.
    pub initial_thickness_nm: f64,
    /// How much thinner the film got, in percent.
    pub shrinkage_percent: f64,
    /// Solvent before, in percent of the volume.
    pub start_solvent_percent: f64,
    /// Solvent left, in percent of the volume.
    pub solvent_percent: f64,
    /// Time constant of drying in s.
    pub drying_constant_s: f64,
    /// Time given or needed in s.
    pub time_s: f64,
    /// How far the photoactive compound spreads in nm.
    pub diffusion_length_nm: f64,
    /// Share of the sensitizer that is left.
    pub sensitizer_fraction: f64,
    /// The film against time.
    pub curve: BakeCurve,
}

/// A film on the hot plate; all lists have the same length.
#[derive(Clone, Debug, Serialize)]
pub struct BakeCurve {
    /// Times in s.
    pub time_s: Vec<f64>,
    /// Thickness in nm.
    pub thickness_nm: Vec<f64>,
    /// Solvent left, in percent of the volume.
    pub solvent_percent: Vec<f64>,
    /// Share of the sensitizer that is left, in percent.
    pub sensitizer_percent: Vec<f64>,
    /// How far the photoactive compound has spread, in nm.
    pub spread_nm: Vec<f64>,
}

/// Runs a bake.
///
/// # Errors
/// [`RequestError`] for bad fields.
pub fn run(fields: Map<String, Value>) -> Result<Report<BakeResults>, RequestError> {
    let request: BakeRequest = read_fields(fields)?;
    let bake = request.check()?;
    let results = bake.results();
    Ok(Report {
        operation: "bake",
        working: bake.working(&results),
        warnings: bake.warnings(&results),
        published: Vec::new(),
        accuracy: None,
        hazards: hazards::for_step("bake", &[bake.kind.word(), bake.resist.word()]),
        results,
        kernel_version: "",
    })
}

/// The form of a bake.
#[must_use]
pub fn schema() -> OperationSchema {
    OperationSchema {
        operation: "bake",
        numbers: vec![
            TEMPERATURE_C,
            Bound { default: Some(60.0), ..TIME_S },
            TARGET_SOLVENT_PERCENT,
            START_SOLVENT_PERCENT,
            THICKNESS_NM,
        ],
        choices: vec![
            BakeKind::choice("kind", "Bake", Some(BakeKind::Soft)),
            Resist::choice("resist", "Resist", Some(Resist::P12)),
        ],
    }
}

impl Bake {
    fn solvent(&self, time_s: f64) -> f64 {
        solvent_left(self.start, self.temperature, time_s)
    }

    fn thickness_at(&self, time_s: f64) -> f64 {
        shrunk(self.thickness_nm, self.start, self.solvent(time_s))
    }

    fn results(&self) -> BakeResults {
        let end_s = (1.5 * self.time_s).max(4.0 * drying_constant_s(self.temperature));
        let time_s = linspace(0.0, end_s, CURVE_POINTS);
        let thickness_nm = self.thickness_at(self.time_s);
        BakeResults {
            kind: self.kind,
            resist: self.resist,
            temperature_c: self.temperature.to_celsius(),
            thickness_nm,
            shrinkage_percent: 100.0 * (1.0 - thickness_nm / self.thickness_nm),
            start_solvent_percent: 100.0 * self.start,
            drying_constant_s: drying_constant_s(self.temperature),
            initial_thickness_nm: self.thickness_nm,
            solvent_percent: 100.0 * self.solvent(self.time_s),
            time_s: self.time_s,
            diffusion_length_nm: spread_nm(self.temperature, self.time_s),
            sensitizer_fraction: sensitizer_left(self.temperature, self.time_s),
            curve: BakeCurve {
                thickness_nm: time_s.iter().map(|&t| self.thickness_at(t)).collect(),
                solvent_percent: time_s
                    .iter()
                    .map(|&t| 100.0 * self.solvent(t))
                    .collect(),
                sensitizer_percent: time_s
                    .iter()
                    .map(|&t| 100.0 * sensitizer_left(self.temperature, t))
                    .collect(),
                spread_nm: time_s
                    .iter()
                    .map(|&t| spread_nm(self.temperature, t))
                    .collect(),
                time_s,
            },
        }
    }

    fn working(&self, results: &BakeResults) -> Vec<WorkingLine> {
        let celsius = self.temperature.to_celsius();
        let tau_s = drying_constant_s(self.temperature);
        let mut lines = vec![WorkingLine::new(
            "τ = 15 s · exp[(Eₐ/k)(1/T − 1/373 K)]",
            format!("τ at {} °C, Eₐ = {} eV", show(celsius), show(DRYING_EV)),
            tau_s,
            "s",
            "model choice",
        )];
        if let Some(target) = self.target {
            lines.push(WorkingLine::new(
                "t = τ ln[(φ₀ − φ∞)/(φ − φ∞)]",
                format!(
                    "t = {} · ln[({} − {}) / ({} − {})]",
                    show(tau_s),
                    show(self.start),
                    show(LEAST_SOLVENT),
                    show(target),
                    show(LEAST_SOLVENT)
                ),
                self.time_s,
                "s",
                "drying of first order (model choice)",
            ));
        }
        lines.push(WorkingLine::new(
            "φ = φ∞ + (φ₀ − φ∞) e^(−t/τ)",
            format!(
                "φ = {} + ({} − {}) e^(−{}/{})",
                show(LEAST_SOLVENT),
                show(self.start),
                show(LEAST_SOLVENT),
                show(self.time_s),
                show(tau_s)
            ),
            results.solvent_percent,
            "%",
            "drying of first order (model choice)",
        ));
        lines.push(WorkingLine::new(
            "h = h₀ (1 − φ₀)/(1 − φ)",
            format!(
                "h = {} · (1 − {}) / (1 − {})",
                show(self.thickness_nm),
                show(self.start),
                show(0.01 * results.solvent_percent)
            ),
            results.thickness_nm,
            "nm",
            "volume balance (derived)",
        ));
        lines.push(WorkingLine::new(
            "σ = 50 nm √(t / 60 s) exp[−(Eₐ/2k)(1/T − 1/383 K)]",
            format!(
                "σ = 50 · √({} / 60) at {} °C, Eₐ = 1.4 eV",
                show(self.time_s),
                show(celsius)
            ),
            results.diffusion_length_nm,
            "nm",
            "model choice (30 to 60 nm in 60 s at 110 °C is common practice)",
        ));
        lines.push(WorkingLine::new(
            "M₀ = exp(−k t), k = 10⁻³ /s · exp[−(Eₐ/k_B)(1/T − 1/393 K)]",
            format!(
                "M₀ = exp(−k · {}) at {} °C, Eₐ = {} eV",
                show(self.time_s),
                show(celsius),
                show(DECAY_EV)
            ),
            results.sensitizer_fraction,
            "",
            "decay of the sensitizer (model choice)",
        ));
        lines
    }

    fn warnings(&self, results: &BakeResults) -> Vec<Warning> {
        let mut list = Vec::new();
        let celsius = self.temperature.to_celsius();
        TEMPERATURE_C.warn_outside(celsius, "common practice", &mut list);
        if self.kind == BakeKind::Soft && 100.0 * SOFT_SOLVENT < results.solvent_percent {
            list.push(Warning::new(
                "under_baked",
                "time_s",
                &format!(
                    "{} % of solvent is left: the resist sticks to a mask and dissolves where it is dark",
                    show(results.solvent_percent)
                ),
                "bake longer or hotter until 4 to 6 % are left",
            ));
        }
        if self.kind != BakeKind::Hard && results.sensitizer_fraction < 0.95 {
            list.push(Warning::new(
                "sensitizer_lost",
                "temperature_c",
                &format!(
                    "heat destroys {} % of the sensitizer: the resist gets slower and keeps less contrast",
                    show(100.0 * (1.0 - results.sensitizer_fraction))
                ),
                "bake at a lower temperature or more briefly",
            ));
        }
        if self.kind == BakeKind::Hard && FLOW_C < celsius {
            list.push(Warning::new(
                "resist_flows",
                "temperature_c",
                &format!("above about {FLOW_C} °C the walls of novolac resist round off and flow"),
                "bake at 110 to 125 °C",
            ));
        }
        list
    }
}
