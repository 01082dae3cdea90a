//! What part of the section is shown, and how large.

use barewafer_process::wafer::Section;

/// What part of a section is shown and how.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct View {
    /// From where to where along the section line, in nm.
    pub x_nm: [f64; 2],
    /// From which height to which, in nm above the original surface.
    pub z_nm: [f64; 2],
    /// Doping as a tint of the silicon.
    pub doping: bool,
    /// A plumb line at this place in nm.
    pub plumb_nm: Option<f64>,
    /// Width of the whole picture in px.
    pub width: f64,
    /// Height of the section itself in px.
    pub height: f64,
}

impl View {
    /// The whole width of a section, from its highest film down to below its deepest junction
    /// (at least 1 um of silicon).
    #[must_use]
    pub fn whole(section: &Section, deepest_junction_um: Option<f64>) -> Self {
        let edges_nm = section.edges_nm();
        let x_nm = [0.0, edges_nm.last().copied().unwrap_or(1.0)];
        let top_nm =
            (0..section.columns()).map(|i| section.top_nm(i)).fold(0.0, f64::max);
        let mesh_nm = section.depths_nm().last().copied().unwrap_or(1000.0);
        let deep_nm =
            (1250.0 * deepest_junction_um.unwrap_or(0.0)).max(1000.0).min(mesh_nm);
        let air_nm = 0.08 * (top_nm + deep_nm);
        Self {
            x_nm,
            z_nm: [-deep_nm, top_nm + air_nm],
            doping: true,
            plumb_nm: None,
            width: 900.0,
            height: 380.0,
        }
    }
}

/// From nm to px.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Scale {
    pub(super) left: f64,
    pub(super) top: f64,
    pub(super) px_per_nm: [f64; 2],
    pub(super) x0_nm: f64,
    pub(super) z1_nm: f64,
}

impl Scale {
    /// A view in the rectangle from (`left`, `top`) of `width` by `height` px.
    pub(super) fn new(
        view: &View,
        [left, top]: [f64; 2],
        [width, height]: [f64; 2],
    ) -> Self {
        let wide_nm = (view.x_nm[1] - view.x_nm[0]).max(1e-3);
        let high_nm = (view.z_nm[1] - view.z_nm[0]).max(1e-3);
        Self {
            left,
            top,
            px_per_nm: [width / wide_nm, height / high_nm],
            x0_nm: view.x_nm[0],
            z1_nm: view.z_nm[1],
        }
    }

    /// How many times heights are drawn larger than widths.
    pub(super) fn exaggeration(&self) -> f64 {
        self.px_per_nm[1] / self.px_per_nm[0]
    }

    /// A point in px.
    pub(super) fn at(&self, [x_nm, z_nm]: [f64; 2]) -> [f64; 2] {
        [
            self.left + (x_nm - self.x0_nm) * self.px_per_nm[0],
            self.top + (self.z1_nm - z_nm) * self.px_per_nm[1],
        ]
    }
}
