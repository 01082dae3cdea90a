//! A chart as plain data: what is drawn on canvas, as SVG, and read out as a table.

use serde::{Deserialize, Serialize};

/// One chart, ready to be drawn by any back end.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Chart {
    /// Short name, unique among the charts of one report (`oxide_time`).
    pub id: String,
    /// Title in words.
    pub title: String,
    /// Horizontal axis.
    pub x: Axis,
    /// Vertical axis.
    pub y: Axis,
    /// Curves, the main one first.
    pub series: Vec<Series>,
    /// Labeled points: the present point, a junction, a peak.
    pub markers: Vec<Marker>,
    /// Bands of uncertainty around a curve.
    pub bands: Vec<Band>,
    /// Hatched ranges of the horizontal axis.
    pub zones: Vec<Zone>,
    /// Published points to be drawn on the curve.
    pub published: Vec<CheckPoint>,
    /// What the chart shows, in one or two sentences with numbers and units.
    pub summary: String,
}

/// An axis.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Axis {
    /// Quantity ("Oxide thickness").
    pub label: String,
    /// Unit ("nm", "cm⁻³"); empty if dimensionless.
    pub unit: String,
    /// Whether decades are equally spaced.
    pub log: bool,
    /// Lower end.
    pub min: f64,
    /// Upper end.
    pub max: f64,
}

/// What a curve stands for; color and dash follow from it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Role {
    /// The present result: solid.
    #[default]
    Main,
    /// A second quantity or model: dashed 6-3.
    Second,
    /// A third: dotted 2-2.
    Third,
    /// A constant level such as the substrate: 8-3-2-3.
    Level,
    /// The pinned curve of before.
    Ghost,
    /// The same at an earlier time: thin and without a label.
    Past,
}

/// A curve; `x` and `y` have the same length.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Series {
    /// Name, drawn at the curve's end.
    pub label: String,
    /// Abscissas in the unit of the axis.
    pub x: Vec<f64>,
    /// Ordinates in the unit of the axis.
    pub y: Vec<f64>,
    /// What it stands for.
    pub role: Role,
}

/// A labeled point.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Marker {
    /// Abscissa.
    pub x: f64,
    /// Ordinate.
    pub y: f64,
    /// Text beside it.
    pub label: String,
    /// What it marks; its sign follows from it.
    #[serde(default)]
    pub kind: MarkerKind,
}

/// What a marker stands for: a filled disc, a ring, a square, a triangle.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum MarkerKind {
    /// The present result: a filled disc.
    #[default]
    Present,
    /// A junction or another crossing: a ring.
    Junction,
    /// A largest value: a triangle.
    Peak,
    /// An event in time: a square.
    Event,
}

/// A band; all lists have the same length.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Band {
    /// Abscissas.
    pub x: Vec<f64>,
    /// Lower edge.
    pub low: Vec<f64>,
    /// Upper edge.
    pub high: Vec<f64>,
    /// What it means, in words.
    pub meaning: String,
}

/// A hatched range of the horizontal axis: a layer, or a range outside a model.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Zone {
    /// From.
    pub from: f64,
    /// To.
    pub to: f64,
    /// What it means, in words.
    pub meaning: String,
    /// Material word of a layer that lies there (see [`crate::scene`]); empty for a range
    /// outside a model.
    #[serde(default)]
    pub material: String,
}

/// A published point.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct CheckPoint {
    /// Abscissa.
    pub x: f64,
    /// Ordinate.
    pub y: f64,
    /// Relative tolerance, drawn as an error bar.
    pub tolerance: f64,
    /// Where it was published.
    pub source: String,
}
