//! The ways of a few ions, thinned to what a picture can show.

use serde::Serialize;

/// The way of one ion in the plane of the section.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Track {
    /// Points `[across, depth]` in nm; the ion enters at `[0, 0]`, depth counts from the top of
    /// the stack.
    pub points_nm: Vec<[f64; 2]>,
    /// Whether the ion came to rest; otherwise it left through the surface.
    pub at_rest: bool,
    #[serde(skip)]
    spacing_nm: f64,
}

impl Track {
    /// A track whose points lie at least `spacing_nm` apart.
    pub(super) fn new(spacing_nm: f64) -> Self {
        Self { points_nm: vec![[0.0, 0.0]], at_rest: true, spacing_nm }
    }

    /// Notes a place if it is far enough from the last.
    pub(super) fn pass(&mut self, position_nm: [f64; 3]) {
        let [x, _, z] = position_nm;
        let far = self.points_nm.last().is_none_or(|last| {
            let (dx, dz) = (x - last[0], z - last[1]);
            self.spacing_nm * self.spacing_nm <= dx * dx + dz * dz
        });
        if far {
            self.note(position_nm);
        }
    }

    /// Notes the last place.
    pub(super) fn end(&mut self, position_nm: [f64; 3]) {
        self.note(position_nm);
    }

    /// A hundredth of a nanometer is less than an atom: more digits only make answers longer.
    fn note(&mut self, [x, _, z]: [f64; 3]) {
        self.points_nm.push([(100.0 * x).round() / 100.0, (100.0 * z).round() / 100.0]);
    }
}
