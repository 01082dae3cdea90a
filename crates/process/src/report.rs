//! What a step answers: results, the working behind them, warnings, and points to compare with.

use serde::Serialize;

#[cfg(feature = "etching")]
use crate::cleaning::CleanResults;
#[cfg(feature = "films")]
use crate::deposition::DepositionResults;
#[cfg(feature = "doping")]
use crate::diffusion::DiffusionResults;
#[cfg(feature = "doping")]
use crate::electrical::SheetResults;
#[cfg(feature = "etching")]
use crate::etching::{DryEtchResults, StripResults, WetEtchResults};
#[cfg(feature = "doping")]
use crate::implantation::ImplantationResults;
#[cfg(feature = "lithography")]
use crate::lithography::{
    BakeResults, DevelopmentResults, ExposureResults, ProcessWindowResults,
    SpinCoatingResults,
};
#[cfg(feature = "films")]
use crate::oxidation::OxidationResults;
#[cfg(feature = "etching")]
use crate::polishing::PlanarizationResults;

/// The answer to one request. An operation reports its own kind of results; the door
/// ([`run`](crate::run)) makes them one of [`Results`].
#[derive(Clone, Debug, Serialize)]
pub struct Report<R = Results> {
    /// The operation that was run.
    pub operation: &'static str,
    /// The results; the unit of each stands in its name.
    pub results: R,
    /// The derivation with the numbers put in, line by line.
    pub working: Vec<WorkingLine>,
    /// What the reader should know before trusting the numbers.
    pub warnings: Vec<Warning>,
    /// Published points that lie on the present curve (same settings), to be drawn on it.
    pub published: Vec<PublishedPoint>,
    /// How far the model itself can be trusted, if the source says so.
    pub accuracy: Option<Accuracy>,
    /// Ids of the rows of the hazard table that belong to this step, worst first.
    pub hazards: Vec<&'static str>,
    /// Version of the kernel that computed it.
    pub kernel_version: &'static str,
}

impl<R> Report<R> {
    /// The same report with its results made into something else.
    pub(crate) fn map<T>(self, make: impl FnOnce(R) -> T) -> Report<T> {
        Report {
            operation: self.operation,
            results: make(self.results),
            working: self.working,
            warnings: self.warnings,
            published: self.published,
            accuracy: self.accuracy,
            hazards: self.hazards,
            kernel_version: self.kernel_version,
        }
    }
}

/// The results of one operation, of those whose family is built.
#[derive(Clone, Debug, Serialize)]
#[serde(untagged)]
pub enum Results {
    /// Of `clean`.
    #[cfg(feature = "etching")]
    Clean(CleanResults),
    /// Of `oxidation`.
    #[cfg(feature = "films")]
    Oxidation(OxidationResults),
    /// Of `spin_coating`.
    #[cfg(feature = "lithography")]
    SpinCoating(Box<SpinCoatingResults>),
    /// Of `bake`.
    #[cfg(feature = "lithography")]
    Bake(BakeResults),
    /// Of `exposure`.
    #[cfg(feature = "lithography")]
    Exposure(Box<ExposureResults>),
    /// Of `development`.
    #[cfg(feature = "lithography")]
    Development(Box<DevelopmentResults>),
    /// Of `process_window`.
    #[cfg(feature = "lithography")]
    ProcessWindow(Box<ProcessWindowResults>),
    /// Of `wet_etch`.
    #[cfg(feature = "etching")]
    WetEtch(WetEtchResults),
    /// Of `deposition`.
    #[cfg(feature = "films")]
    Deposition(Box<DepositionResults>),
    /// Of `dry_etch`.
    #[cfg(feature = "etching")]
    DryEtch(DryEtchResults),
    /// Of `resist_strip`.
    #[cfg(feature = "etching")]
    ResistStrip(StripResults),
    /// Of `planarization`.
    #[cfg(feature = "etching")]
    Planarization(PlanarizationResults),
    /// Of `predeposition`, `drive_in` and `anneal`.
    #[cfg(feature = "doping")]
    Diffusion(DiffusionResults),
    /// Of `implantation`.
    #[cfg(feature = "doping")]
    Implantation(ImplantationResults),
    /// Of `sheet`.
    #[cfg(feature = "doping")]
    Sheet(SheetResults),
}

impl Results {
    /// The results as a JSON value, to look one up by its name.
    #[must_use]
    pub fn to_value(&self) -> serde_json::Value {
        serde_json::to_value(self).unwrap_or(serde_json::Value::Null)
    }
}

/// One numbered line of a derivation.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WorkingLine {
    /// The equation in symbols: `B = B0 exp(-E/kT)`.
    pub equation: String,
    /// The same with the reader's numbers put in.
    pub substituted: String,
    /// The value it gives.
    pub result: f64,
    /// The unit of the value.
    pub unit: &'static str,
    /// Where equation and constants come from.
    pub source: String,
}

impl WorkingLine {
    /// Builds one line.
    #[must_use]
    pub fn new(
        equation: &str,
        substituted: String,
        result: f64,
        unit: &'static str,
        source: &str,
    ) -> Self {
        Self {
            equation: equation.to_owned(),
            substituted,
            result,
            unit,
            source: source.to_owned(),
        }
    }
}

/// Something the reader should know before trusting a number.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Warning {
    /// What is wrong, as a name in snake case.
    pub code: &'static str,
    /// The field that causes it, or empty.
    pub field: String,
    /// What is wrong, in words.
    pub message: String,
    /// What to do about it.
    pub hint: String,
}

impl Warning {
    /// Builds a warning.
    #[must_use]
    pub fn new(code: &'static str, field: &str, message: &str, hint: &str) -> Self {
        Self {
            code,
            field: field.to_owned(),
            message: message.to_owned(),
            hint: hint.to_owned(),
        }
    }
}

/// A published value that can be drawn on a curve of the report.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PublishedPoint {
    /// Id of the row in the reference table.
    pub id: String,
    /// Name of the curve it belongs to (`curve`, `profile`).
    pub curve: &'static str,
    /// Abscissa, in the unit of that curve.
    pub x: f64,
    /// Ordinate, in the unit of that curve.
    pub y: f64,
    /// Relative tolerance stated for it.
    pub tolerance: f64,
    /// Where it was published.
    pub source: String,
}

/// How far a model can be trusted.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Accuracy {
    /// Half width of the band, relative to the result (0.1 = ±10 %).
    pub relative: f64,
    /// What the band means, in words.
    pub meaning: &'static str,
    /// Who says so.
    pub source: &'static str,
}
