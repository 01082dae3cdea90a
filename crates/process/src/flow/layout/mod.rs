//! The layout: what is drawn on each mask, and the line along which the wafer is cut.

mod polygon;
mod rules;

pub use polygon::{Line, Polygon, complement, distance_um, outline, union};
pub(super) use rules::RuleFields;
pub use rules::{Rule, RuleBreak, RuleKind, breaks, built_in_rules, check};

use serde::Deserialize;

use super::bounds::{
    BIAS_UM, COORDINATE_UM, MOST_CORNERS, MOST_FIGURES, MOST_MASKS, OVERLAY_UM,
};
use super::fault::{duplicate, too_many};
use crate::error::RequestError;
use crate::lithography::Tone;
use crate::vocabulary::words;
use crate::wafer::EdgeKind;

words!(
    /// What the drawn figures of a mask are.
    Polarity {
        /// Openings in chrome.
        DarkField = "dark_field", "dark field: the figures are openings";
        /// Chrome on clear glass.
        ClearField = "clear_field", "clear field: the figures are chrome";
    }
);

/// The drawing of the chip.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    /// The corners of the drawing in um: `[x0, y0, x1, y1]`.
    pub extent_um: [f64; 4],
    /// Its masks, in the file's order.
    pub masks: Vec<Mask>,
    /// Names of places.
    pub labels: Vec<Label>,
}

/// One mask.
#[derive(Clone, Debug, PartialEq)]
pub struct Mask {
    /// Its level, as steps name it.
    pub level: String,
    /// What a person calls it.
    pub name: String,
    /// Whether the figures are openings or chrome.
    pub polarity: Polarity,
    /// The figures as they are drawn.
    pub figures: Vec<Polygon>,
    /// Every side of every figure on the plate lies this much farther out than it is drawn.
    pub bias_um: f64,
    /// How far the plate is printed off its place, in um to the right and up, unless an
    /// exposure says so itself.
    pub overlay_um: [f64; 2],
}

/// A name at a place of the layout.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// The name.
    pub name: String,
    /// The place in um.
    pub at_um: [f64; 2],
}

impl Layout {
    /// The mask of a level.
    #[must_use]
    pub fn mask(&self, level: &str) -> Option<&Mask> {
        self.masks.iter().find(|mask| mask.level == level)
    }
}

impl Mask {
    /// Where the section runs through the figures of the plate, printed with an overlay error:
    /// distances from the beginning of the line in um.
    #[must_use]
    pub fn figures_cut_um(&self, line: &Line, overlay_um: [f64; 2]) -> Vec<[f64; 2]> {
        // A plate that is off to the right is cut by a line that is off to the left.
        let moved = |[x, y]: [f64; 2]| [x - overlay_um[0], y - overlay_um[1]];
        let line = Line { from_um: moved(line.from_um), to_um: moved(line.to_um) };
        let cuts = self
            .figures
            .iter()
            .filter_map(|figure| figure.biased(self.bias_um))
            .flat_map(|figure| figure.cut_um(&line))
            .collect();
        union(cuts)
    }

    /// Where light comes through the plate, out to infinity.
    #[must_use]
    pub fn clear_um(&self, line: &Line, overlay_um: [f64; 2]) -> Vec<[f64; 2]> {
        let figures = self.figures_cut_um(line, overlay_um);
        match self.polarity {
            Polarity::DarkField => figures,
            Polarity::ClearField => complement(&figures),
        }
    }

    /// Where resist of a tone is dissolved, out to infinity.
    #[must_use]
    pub fn openings_um(
        &self,
        line: &Line,
        overlay_um: [f64; 2],
        tone: Tone,
    ) -> Vec<[f64; 2]> {
        let clear = self.clear_um(line, overlay_um);
        match tone {
            Tone::Positive => clear,
            Tone::Negative => complement(&clear),
        }
    }

    /// The sides of the figures on the plate, printed with an overlay error, in um.
    #[must_use]
    pub fn outline_um(&self, overlay_um: [f64; 2]) -> Vec<[[f64; 2]; 2]> {
        let figures: Vec<Polygon> = self
            .figures
            .iter()
            .filter_map(|figure| figure.biased(self.bias_um))
            .collect();
        let moved = |[x, y]: [f64; 2]| [x + overlay_um[0], y + overlay_um[1]];
        outline(&figures).into_iter().map(|side| side.map(moved)).collect()
    }

    /// Whether its figures are the active areas, by its name.
    #[must_use]
    pub fn is_active(&self) -> bool {
        self.level.to_ascii_uppercase().contains("ACTIVE")
    }

    /// What happens at the edges of this level, by its name: how fine the columns must be.
    #[must_use]
    pub fn edge_kind(&self) -> EdgeKind {
        let level = self.level.to_ascii_uppercase();
        let has = |words: &[&str]| words.iter().any(|word| level.contains(word));
        if has(&["POLY", "GATE"]) {
            EdgeKind::Gate
        } else if has(&["WELL", "TUB"]) {
            EdgeKind::Well
        } else if has(&["CONT", "METAL", "VIA", "PAD"]) {
            EdgeKind::Contact
        } else {
            EdgeKind::Active
        }
    }
}

/// The layout as it stands in JSON.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct LayoutFields {
    unit: Option<LengthUnit>,
    extent: [f64; 4],
    masks: Vec<MaskFields>,
    labels: Option<Vec<LabelFields>>,
}

words!(
    /// The unit of a drawing.
    LengthUnit {
        /// Micrometers.
        Um = "um", "micrometers";
    }
);

#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct MaskFields {
    level: String,
    name: Option<String>,
    polarity: Polarity,
    rectangles: Option<Vec<[f64; 4]>>,
    polygons: Option<Vec<Vec<[f64; 2]>>>,
    bias_um: Option<f64>,
    overlay_um: Option<Offset>,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct LabelFields {
    name: String,
    at: [f64; 2],
}

/// A distance to the right and up.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Offset {
    x: Option<f64>,
    y: Option<f64>,
}

impl Offset {
    /// Both parts in um, checked.
    pub(super) fn check(self) -> Result<[f64; 2], RequestError> {
        let inside = |error: RequestError, part: &str| {
            let mut error = error;
            error.field = format!("overlay_um.{part}");
            error.message =
                format!("overlay_um.{part}{}", &error.message["overlay_um".len()..]);
            error.hint = error.hint.replace("overlay_um", &error.field);
            error
        };
        Ok([
            OVERLAY_UM.check_or_default(self.x).map_err(|e| inside(e, "x"))?,
            OVERLAY_UM.check_or_default(self.y).map_err(|e| inside(e, "y"))?,
        ])
    }
}

impl LayoutFields {
    /// Checks every coordinate and name.
    pub(super) fn check(self) -> Result<Layout, RequestError> {
        let _: Option<LengthUnit> = self.unit;
        for (i, &value) in self.extent.iter().enumerate() {
            COORDINATE_UM.check(value).map_err(|e| at(e, &format!("extent[{i}]")))?;
        }
        let [x0, y0, x1, y1] = self.extent;
        if x1 <= x0 || y1 <= y0 {
            return Err(RequestError::conflict(
                "extent",
                &format!("[{x0}, {y0}, {x1}, {y1}]"),
                "[x0, y0, x1, y1] with x0 < x1 and y0 < y1",
                "extent: the drawing has no area",
                "give the lower left and then the upper right corner",
            ));
        }
        too_many("masks", self.masks.len(), 1, MOST_MASKS)?;
        let mut masks: Vec<Mask> = Vec::with_capacity(self.masks.len());
        for (i, mask) in self.masks.into_iter().enumerate() {
            let path = format!("masks[{i}]");
            let mask = mask.check().map_err(|error| error.inside(&path))?;
            if masks.iter().any(|other| other.level == mask.level) {
                return Err(duplicate(&format!("{path}.level"), &mask.level));
            }
            masks.push(mask);
        }
        let labels = self.labels.unwrap_or_default();
        too_many("labels", labels.len(), 0, MOST_FIGURES)?;
        let mut named = Vec::with_capacity(labels.len());
        for (i, label) in labels.into_iter().enumerate() {
            for &value in &label.at {
                COORDINATE_UM
                    .check(value)
                    .map_err(|e| at(e, &format!("labels[{i}].at")))?;
            }
            named.push(Label { name: label.name, at_um: label.at });
        }
        Ok(Layout { extent_um: self.extent, masks, labels: named })
    }
}

/// The same error at another place.
pub(super) fn at(mut error: RequestError, field: &str) -> RequestError {
    if let Some(rest) = error.message.strip_prefix(error.field.as_str()) {
        error.message = format!("{field}{rest}");
    }
    error.hint = format!("set {field} within {}", error.allowed);
    field.clone_into(&mut error.field);
    error
}

impl MaskFields {
    fn check(self) -> Result<Mask, RequestError> {
        super::fault::name("level", &self.level)?;
        let rectangles = self.rectangles.unwrap_or_default();
        let polygons = self.polygons.unwrap_or_default();
        too_many("rectangles", rectangles.len() + polygons.len(), 0, MOST_FIGURES)?;
        let mut figures = Vec::with_capacity(rectangles.len() + polygons.len());
        for (i, &[x0, y0, x1, y1]) in rectangles.iter().enumerate() {
            let path = format!("rectangles[{i}]");
            for value in [x0, y0, x1, y1] {
                COORDINATE_UM.check(value).map_err(|e| at(e, &path))?;
            }
            if x1 <= x0 || y1 <= y0 {
                return Err(RequestError::conflict(
                    &path,
                    &format!("[{x0}, {y0}, {x1}, {y1}]"),
                    "[x0, y0, x1, y1] with x0 < x1 and y0 < y1",
                    &format!("{path}: the rectangle has no area"),
                    "give the lower left and then the upper right corner",
                ));
            }
            figures.push(Polygon::rectangle([x0, y0, x1, y1]));
        }
        for (i, corners) in polygons.into_iter().enumerate() {
            let path = format!("polygons[{i}]");
            too_many(&path, corners.len(), 3, MOST_CORNERS)?;
            for &value in corners.iter().flatten() {
                COORDINATE_UM.check(value).map_err(|e| at(e, &path))?;
            }
            let polygon = Polygon::new(corners);
            if polygon.signed_area_um2().abs() < 1e-9 {
                return Err(RequestError::conflict(
                    &path,
                    "",
                    "three or more corners that do not lie on one line",
                    &format!("{path}: the polygon has no area"),
                    "give its corners one after the other round its edge",
                ));
            }
            figures.push(polygon);
        }
        Ok(Mask {
            name: self.name.unwrap_or_else(|| self.level.clone()),
            level: self.level,
            polarity: self.polarity,
            figures,
            bias_um: BIAS_UM.check_or_default(self.bias_um)?,
            overlay_um: match self.overlay_um {
                Some(offset) => offset.check()?,
                None => [0.0; 2],
            },
        })
    }
}
