//! A picture as plain data: filled shapes with a material, lines, labels. The page turns it into
//! SVG elements; the same scene can be written as an SVG file.

use serde::{Deserialize, Serialize};

/// A picture in a coordinate frame of its own (x to the right, y down).
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Scene {
    /// Width of the frame.
    pub width: f64,
    /// Height of the frame.
    pub height: f64,
    /// Shapes, drawn in this order.
    pub shapes: Vec<Shape>,
    /// What the picture shows, in sentences with numbers, for those who cannot see it.
    pub description: String,
}

/// One shape. `material` and `style` are words that a style sheet maps to color and hatch.
///
/// Materials: `silicon n_silicon p_silicon thermal_oxide deposited_oxide nitride polysilicon
/// metal resist glass`. Styles on the paper, in the ink of the theme: `outline` (2 px),
/// `hairline` (1 px, soft), `grid` (1 px, faint), `dashed` (1.5 px), `amber` (2 px), `beam` (1.5 px), `halo` (wide,
/// amber, under an outline). Styles on a material, in dark ink whatever the theme, because
/// materials keep their color: `section` (2 px), `section_dashed` (1.5 px), `mark` (1 px).
/// Mask levels from above: `level_well level_active level_gate level_donors level_acceptors
/// level_contact level_metal level_other`, each a manner of line and the color of what it shapes.
/// Texts stand on the paper, never on a material.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Shape {
    /// A closed polygon filled with a material (color, outline, hatch).
    Area {
        /// Corners `[x, y]`.
        points: Vec<[f64; 2]>,
        /// Material word.
        material: String,
    },
    /// The same without an outline: a region of one doping in a crystal.
    Ground {
        /// Corners `[x, y]`.
        points: Vec<[f64; 2]>,
        /// Material word.
        material: String,
    },
    /// A closed polygon filled with a given color (the interference color of a wafer).
    Tint {
        /// Corners `[x, y]`.
        points: Vec<[f64; 2]>,
        /// `#rrggbb`.
        color: String,
        /// Opacity from 0 to 1.
        opacity: f64,
    },
    /// An open line.
    Line {
        /// Points `[x, y]`.
        points: Vec<[f64; 2]>,
        /// Style word.
        style: String,
    },
    /// Many open lines of one style: one thing to draw instead of a hundred.
    Strokes {
        /// The lines, each with its points `[x, y]`.
        lines: Vec<Vec<[f64; 2]>>,
        /// Style word.
        style: String,
    },
    /// An ellipse.
    Ellipse {
        /// Center.
        center: [f64; 2],
        /// Half axes.
        radii: [f64; 2],
        /// Fill as `#rrggbb`, or empty.
        color: String,
        /// Style word of the outline.
        style: String,
    },
    /// A text.
    Text {
        /// Anchor point.
        at: [f64; 2],
        /// The words.
        text: String,
        /// `start`, `middle` or `end`.
        anchor: String,
        /// Font size in the frame's units.
        size: f64,
        /// Style word (`label`, `soft`, `strong`).
        style: String,
    },
}
