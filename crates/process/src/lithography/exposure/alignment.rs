//! How well a mask lies on what is on the wafer already.

use serde::{Deserialize, Serialize};

use crate::bound::{Bound, Scale};
use crate::error::RequestError;

/// Shift of the whole mask.
pub const SHIFT_UM: Bound = Bound {
    field: "x",
    label: "Mask shifted to the right",
    unit: "µm",
    min: -5.0,
    max: 5.0,
    published: None,
    default: Some(0.0),
    step: 0.05,
    scale: Scale::Linear,
};

/// Wrong size of the image or the wafer.
pub const SCALE_PPM: Bound = Bound {
    field: "scale_ppm",
    label: "Scale error",
    unit: "ppm",
    min: -100.0,
    max: 100.0,
    step: 0.5,
    ..SHIFT_UM
};

/// Wrong angle of the mask.
pub const ROTATION_URAD: Bound = Bound {
    field: "rotation_urad",
    label: "Rotation error",
    unit: "µrad",
    min: -1000.0,
    max: 1000.0,
    step: 1.0,
    ..SHIFT_UM
};

/// Axes that are not square.
pub const SKEW_URAD: Bound =
    Bound { field: "skew_urad", label: "Axes out of square", ..ROTATION_URAD };

/// Place on the wafer, from its middle.
pub const PLACE_MM: Bound = Bound {
    field: "x",
    label: "Place on the wafer, to the right",
    unit: "mm",
    min: -150.0,
    max: 150.0,
    step: 1.0,
    ..SHIFT_UM
};

/// An error that differs from wafer to wafer.
pub const RANDOM_UM: Bound = Bound {
    field: "random_um",
    label: "Random error",
    unit: "µm",
    min: 0.0,
    max: 5.0,
    step: 0.01,
    ..SHIFT_UM
};

/// Random errors that a request may list.
const MOST_RANDOM: usize = 8;

/// A pair as it is asked for.
#[derive(Clone, Copy, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Pair {
    x: Option<f64>,
    y: Option<f64>,
}

/// An alignment as it is asked for.
#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct AlignmentRequest {
    scale_ppm: Option<f64>,
    rotation_urad: Option<f64>,
    skew_urad: Option<f64>,
    place_mm: Option<Pair>,
    random_um: Option<Vec<f64>>,
}

/// Where the mask lies at a place of the wafer, against where it should.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct Overlay {
    /// To the right in um: what moves the section.
    pub x_um: f64,
    /// To the back in um.
    pub y_um: f64,
    /// Independent random errors together, in um.
    pub random_um: f64,
}

/// An alignment whose numbers lie in their ranges.
#[derive(Clone, Debug, Default)]
pub(in crate::lithography) struct Alignment {
    pub(super) shift_um: [f64; 2],
    pub(super) scale_ppm: f64,
    pub(super) rotation_urad: f64,
    pub(super) skew_urad: f64,
    pub(super) place_mm: [f64; 2],
    pub(super) random_um: Vec<f64>,
}

impl Pair {
    fn check(self, bound: &Bound) -> Result<[f64; 2], RequestError> {
        let y = Bound { field: "y", ..*bound };
        Ok([bound.check_or_default(self.x)?, y.check_or_default(self.y)?])
    }
}

impl AlignmentRequest {
    pub(super) fn check(self, shift: Pair) -> Result<Alignment, RequestError> {
        let inside = |error: RequestError| error.inside("alignment");
        let given = self.random_um.unwrap_or_default();
        if MOST_RANDOM < given.len() {
            return Err(super::request::too_many("random_um", given.len(), MOST_RANDOM)
                .inside("alignment"));
        }
        let mut random_um = Vec::new();
        for (i, error_um) in given.into_iter().enumerate() {
            let checked = RANDOM_UM.check(error_um);
            random_um.push(
                checked.map_err(|e| e.inside(&format!("alignment.random_um[{i}]")))?,
            );
        }
        Ok(Alignment {
            shift_um: shift.check(&SHIFT_UM).map_err(|e| e.inside("overlay_um"))?,
            scale_ppm: SCALE_PPM.check_or_default(self.scale_ppm).map_err(inside)?,
            rotation_urad: ROTATION_URAD
                .check_or_default(self.rotation_urad)
                .map_err(inside)?,
            skew_urad: SKEW_URAD.check_or_default(self.skew_urad).map_err(inside)?,
            place_mm: self
                .place_mm
                .unwrap_or_default()
                .check(&PLACE_MM)
                .map_err(|e| e.inside("alignment.place_mm"))?,
            random_um,
        })
    }
}

impl Alignment {
    /// The error at the place.
    ///
    /// # Model
    /// `dx = Tx + M X - (R + N/2) Y`, `dy = Ty + M Y + (R - N/2) X`, with `M` in um/mm (1 ppm is
    /// 1e-3) and `R`, `N` in mrad; independent errors add as the root of the sum of squares.
    ///
    /// # Source
    /// The linear model of every overlay measurement (common practice).
    #[must_use]
    pub(in crate::lithography) fn overlay(&self) -> Overlay {
        let [x_mm, y_mm] = self.place_mm;
        let scale = 1e-3 * self.scale_ppm;
        let (rotation, skew) = (1e-3 * self.rotation_urad, 1e-3 * self.skew_urad);
        let squares: f64 = self.random_um.iter().map(|e| e * e).sum();
        Overlay {
            x_um: self.shift_um[0] + scale * x_mm - (rotation + 0.5 * skew) * y_mm,
            y_um: self.shift_um[1] + scale * y_mm + (rotation - 0.5 * skew) * x_mm,
            random_um: squares.sqrt(),
        }
    }
}
