//! The mask of an exposure as it is asked for.

use serde::Deserialize;

use super::bounds::{OPENING_UM, PITCH_UM};
use super::request::too_many;
use crate::error::RequestError;
use crate::lithography::imaging::{Mask, Pattern, Polarity};

/// Openings that a mask may list.
const MOST_OPENINGS: usize = 40;

#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct MaskRequest {
    pattern: Option<Pattern>,
    polarity: Option<Polarity>,
    pitch_um: Option<f64>,
    opening_um: Option<f64>,
    openings_um: Option<Vec<[f64; 2]>>,
}

impl MaskRequest {
    pub(super) fn check(self) -> Result<Mask, RequestError> {
        let pattern = self.pattern.unwrap_or(Pattern::LineSpace);
        let mask = Mask {
            pattern,
            polarity: self.polarity.unwrap_or(Polarity::DarkField),
            pitch_um: PITCH_UM.check_or_default(self.pitch_um)?,
            opening_um: OPENING_UM.check_or_default(self.opening_um)?,
            openings_um: self.openings_um.unwrap_or_default(),
        };
        if mask.polarity == Polarity::ClearField && pattern != Pattern::Openings {
            return Err(RequestError::conflict(
                "polarity",
                mask.polarity.word(),
                "dark_field, or pattern openings",
                &format!(
                    "polarity: the pattern {} says itself what is clear",
                    pattern.word()
                ),
                "set pattern to openings, or take isolated_line for a dark line in a clear field",
            ));
        }
        match pattern {
            Pattern::Openings => check_openings(&mask.openings_um)?,
            _ if !mask.openings_um.is_empty() => {
                return Err(RequestError::conflict(
                    "openings_um",
                    pattern.word(),
                    "pattern openings",
                    "openings_um: only the pattern openings has a list of openings",
                    "set pattern to openings, or leave openings_um out",
                ));
            }
            Pattern::LineSpace | Pattern::IsolatedLine | Pattern::ContactArray
                if mask.line_um() < 0.05 =>
            {
                return Err(RequestError::conflict(
                    "opening_um",
                    &mask.opening_um.to_string(),
                    &format!("at most {} um", mask.pitch_um - 0.05),
                    &format!(
                        "opening_um: an opening of {} µm leaves no line in a pitch of {} µm",
                        mask.opening_um, mask.pitch_um
                    ),
                    "widen pitch_um or narrow opening_um; the line is the pitch less the opening",
                ));
            }
            _ => {}
        }
        Ok(mask)
    }
}

fn check_openings(openings_um: &[[f64; 2]]) -> Result<(), RequestError> {
    if MOST_OPENINGS < openings_um.len() {
        return Err(too_many("openings_um", openings_um.len(), MOST_OPENINGS));
    }
    let mut last = f64::NEG_INFINITY;
    for &[a, b] in openings_um {
        let good = a.abs() <= 50.0 && b.abs() <= 50.0 && a + 0.05 <= b && last < a;
        if !good {
            return Err(RequestError::conflict(
                "openings_um",
                &format!("[{a}, {b}]"),
                "pairs from left to right, each at least 0.05 um wide, within -50 to 50 um",
                "openings_um: openings go from left to right, do not touch, are at least 0.05 µm wide and lie within -50 to 50 µm",
                "sort the openings and give each its left and its right end",
            ));
        }
        last = b;
    }
    if openings_um.is_empty() {
        return Err(RequestError::missing(
            "openings_um",
            "pairs of ends in um",
            "add openings_um, such as [[-1, -0.5], [0.5, 1]]",
        ));
    }
    Ok(())
}
