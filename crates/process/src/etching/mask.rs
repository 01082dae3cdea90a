//! The mask over a film that is etched.

use crate::error::RequestError;
use crate::vocabulary::Material;

use super::request::{MASK_LINE_UM, MASK_OPENING_UM};

/// The mask over the film.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Mask {
    /// None: the whole film is etched.
    None,
    /// An opening of a width in um.
    Opening(f64),
    /// A line of a width in um.
    Line(f64),
}

impl Mask {
    /// A mask with one width, over a film of a material.
    pub(super) fn new(
        material: Material,
        opening_um: Option<f64>,
        line_um: Option<f64>,
    ) -> Result<Self, RequestError> {
        if material == Material::Resist {
            return Err(RequestError::conflict(
                "mask",
                "",
                "no mask over resist",
                "mask: resist is the mask itself and has none over it",
                "leave mask out, or choose the film under the resist",
            ));
        }
        match (opening_um, line_um) {
            (Some(width_um), None) => Ok(Self::Opening(MASK_OPENING_UM.check(width_um)?)),
            (None, Some(width_um)) => Ok(Self::Line(MASK_LINE_UM.check(width_um)?)),
            (given, _) => Err(RequestError::conflict(
                "mask",
                if given.is_some() { "opening_um and line_um" } else { "" },
                "opening_um or line_um",
                "mask: needs one of opening_um and line_um",
                "give the width of the opening or of the line, not both",
            )),
        }
    }

    /// Width of the opening in um.
    pub(super) const fn opening_um(self) -> Option<f64> {
        if let Self::Opening(width_um) = self { Some(width_um) } else { None }
    }

    /// Width of the line in um.
    pub(super) const fn line_um(self) -> Option<f64> {
        if let Self::Line(width_um) = self { Some(width_um) } else { None }
    }
}
