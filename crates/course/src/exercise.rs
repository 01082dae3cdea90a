//! One exercise as the file describes it, checked and ready to be asked.

use std::collections::BTreeMap;

use serde::Deserialize;
use serde_json::{Map, Value};

use crate::expression::Expression;

/// What the learner is asked to do; more kinds have a marker of their own.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// Compute a result from a setting.
    Numeric,
    /// Find the setting that gives a result.
    Inverse,
}

/// The bench of the page that an exercise belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum BenchName {
    /// Oxidation.
    Furnace,
    /// Spin coating.
    Spinner,
    /// Exposure.
    Aligner,
    /// Development.
    Developer,
    /// Wet etching.
    WetBench,
    /// Deposition.
    Deposition,
    /// Dry etching and resist strip.
    DryEtcher,
    /// Planarization.
    Polisher,
    /// Predeposition and drive-in.
    DiffusionTube,
    /// Implantation.
    Implanter,
    /// Sheet resistance.
    FourPoint,
}

/// An exercise.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Exercise {
    /// Name in links, in the drawing of numbers and in results.
    pub id: String,
    /// Module of the course.
    pub module: String,
    /// Title.
    pub title: String,
    /// Kind.
    pub kind: Kind,
    /// Bench it belongs to.
    pub bench: BenchName,
    /// Estimated minutes.
    pub minutes: u32,
    /// What one can do afterwards.
    pub aim: String,
    /// Exercises that come before.
    #[serde(default)]
    pub prerequisites: Vec<String>,
    /// The question, with `{name}` for the numbers.
    pub prompt: String,
    /// Drawn one by one.
    #[serde(default)]
    pub parameters: BTreeMap<String, Parameter>,
    /// Of these one is drawn whole.
    #[serde(default)]
    pub records: Vec<BTreeMap<String, Drawn>>,
    /// Computed from the draw and shown; the answer is computed from the shown value.
    #[serde(default)]
    pub shown: BTreeMap<String, Formula>,
    /// Computed in this order for the formulas below.
    #[serde(default, rename = "let")]
    pub lets: Vec<(String, Formula)>,
    /// Conditions that the draw must meet; else all is drawn again.
    #[serde(default, rename = "require")]
    pub requires: Vec<Formula>,
    /// The expected answer.
    pub answer: Answer,
    /// Scored tries before new numbers are needed.
    pub tries: u32,
    /// Concept, equation, first move.
    pub hints: Vec<String>,
    /// The wrong models that are recognized.
    pub slips: Vec<Slip>,
    /// The working, with `{name}` for numbers and `{answer}` for the key.
    pub worked_solution: Vec<String>,
    /// Rows of the hazard table to be shown with it.
    #[serde(default)]
    pub hazards: Vec<String>,
    /// Where constants and laws come from.
    pub sources: Vec<String>,
    /// What to do on the bench afterwards, and what to expect.
    #[serde(default)]
    pub note: Option<String>,
    /// The setting in which the bench opens, where it is not that of the answer.
    #[serde(default)]
    pub bench_request: Option<Map<String, Value>>,
    /// The question after the bench, with the points a good answer has.
    pub explain: Explain,
}

/// A number or word to be drawn.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Parameter {
    /// Unit, empty for none.
    pub unit: String,
    /// The values, of which one is drawn.
    pub values: Vec<Drawn>,
}

/// A drawn value.
#[derive(Clone, Debug, PartialEq, Deserialize, serde::Serialize)]
#[serde(untagged)]
pub enum Drawn {
    /// A number, in the unit of its parameter.
    Number(f64),
    /// A word.
    Text(String),
}

/// The expected answer of an exercise with a number.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Answer {
    /// What is asked.
    pub quantity: String,
    /// Its unit.
    pub unit: String,
    /// Requests to the kernel, with `"$name"` and `"=formula"` in the place of values.
    #[serde(default)]
    pub request: Option<Vec<Map<String, Value>>>,
    /// The result that is the answer: a path in the first report, or `=formula` in which
    /// `r0.path`, `r1.path`, ... are results.
    #[serde(default)]
    pub read: Option<String>,
    /// Closed form of the answer.
    pub formula: Formula,
    /// Half width of the band in which an answer is right.
    pub tolerance: Tolerance,
    /// Outside it the page asks back before it takes a try.
    pub sensible_range: (f64, f64),
    /// Significant digits of the printed key.
    pub digits: usize,
    /// Where the expected value comes from.
    #[serde(rename = "use")]
    pub origin: Origin,
}

/// Where the expected value comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub enum Origin {
    /// From the kernel; the formula is a cross-check.
    #[serde(rename = "direct")]
    Kernel,
    /// From the formula.
    #[serde(rename = "formula only")]
    Formula,
}

/// Half width of a band: the larger of a share of the value and a fixed amount.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tolerance {
    /// Share of the value.
    #[serde(default)]
    pub relative: f64,
    /// In the unit of the answer.
    #[serde(default)]
    pub absolute: f64,
}

impl Tolerance {
    /// Half width of the band around `value`, in the unit of the answer.
    #[must_use]
    pub fn band(&self, value: f64) -> f64 {
        (self.relative * value.abs()).max(self.absolute)
    }
}

/// A wrong model with the answer it gives.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Slip {
    /// Name in results.
    pub id: String,
    /// Name for people.
    pub name: String,
    /// The wrong model in words.
    pub wrong_model: String,
    /// The answer it gives.
    pub value: Formula,
    /// What is asked back; it holds no digit of the answer.
    pub feedback: String,
    /// Whether the physics was right.
    pub class: SlipClass,
}

/// What kind of slip it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum SlipClass {
    /// Units or arithmetic; the physics was right.
    Unit,
    /// The model was wrong.
    Model,
}

/// The question after the bench.
#[derive(Clone, Debug, Deserialize, serde::Serialize)]
#[serde(deny_unknown_fields)]
pub struct Explain {
    /// The question.
    pub ask: String,
    /// What a good answer says.
    pub key_points: Vec<String>,
}

/// A formula in the file, read when the file is read.
#[derive(Clone, Debug, Deserialize)]
#[serde(try_from = "String")]
pub struct Formula(pub Expression);

impl TryFrom<String> for Formula {
    type Error = String;

    fn try_from(text: String) -> Result<Self, String> {
        Expression::parse(&text).map(Self).map_err(|error| format!("{text:?}: {error}"))
    }
}
