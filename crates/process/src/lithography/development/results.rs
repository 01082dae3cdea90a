//! What a development answers.

use serde::Serialize;

use super::outline::{Field, Outline};
use super::request::Development;
use crate::error::RequestError;
use crate::lithography::Tone;
use crate::lithography::exposure::Latent;
use crate::lithography::imaging::Pattern;
use crate::num;

/// Fronts on the way, besides the last one.
const FRONTS: u32 = 5;

/// Longest time that is waited for the bottom, in developments.
const PATIENCE: f64 = 20.0;

/// Depths at which the sidewall is measured, as shares of the resist that is left.
const WALL_SHARES: [f64; 2] = [0.1, 0.9];

/// Results of a development.
#[derive(Clone, Debug, Serialize)]
pub struct DevelopmentResults {
    /// Outline of the resist that is left, from left to right, in depth from the old top.
    pub wall: Wall,
    /// The front on its way, the earliest first.
    pub contours: Vec<Contour>,
    /// Width 10 % below the top of the resist that is left, in um; null if there is no wall there.
    pub cd_top_um: Option<f64>,
    /// Width at half the height that is left in um.
    pub cd_middle_um: Option<f64>,
    /// Width at the bottom in um.
    pub cd_bottom_um: Option<f64>,
    /// What the drawing asks for in um; null for an edge.
    pub nominal_um: Option<f64>,
    /// How far the wall of an edge stands right of where it should at the bottom, in um; null for
    /// other patterns.
    pub edge_shift_um: Option<f64>,
    /// Angle of the wall, from 10 to 90 % of the height that is left, in degrees; above 90 it
    /// overhangs.
    pub sidewall_deg: Option<f64>,
    /// Whether the opening is clear down to what lies below.
    pub cleared: bool,
    /// Time until it is in s; null if that takes more than 20 times as long.
    pub time_to_clear_s: Option<f64>,
    /// Resist lost where it should stay, in nm.
    pub loss_nm: f64,
    /// Resist left there in nm.
    pub remaining_nm: f64,
    /// Fastest rate at the developer's temperature in nm/s.
    pub fastest_nm_s: f64,
    /// Cells of the section: their width and height in nm.
    pub cell_nm: [f64; 2],
}

/// A line in section; both lists have the same length.
#[derive(Clone, Debug, Serialize)]
pub struct Wall {
    /// Places in um.
    pub x_um: Vec<f64>,
    /// Depths from the old top in nm.
    pub z_nm: Vec<f64>,
}

/// The front at a time.
#[derive(Clone, Debug, Serialize)]
pub struct Contour {
    /// Time in the developer in s.
    pub time_s: f64,
    /// Places in um.
    pub x_um: Vec<f64>,
    /// Depths from the old top in nm.
    pub z_nm: Vec<f64>,
}

impl From<Outline> for Wall {
    fn from(outline: Outline) -> Self {
        Self { x_um: outline.x_um, z_nm: outline.z_nm }
    }
}

impl Development {
    pub(super) fn results(&self) -> Result<DevelopmentResults, RequestError> {
        let latent = self.exposure.latent()?;
        let law = self.rate_law();
        let (field, clear_s) = self.front(&latent, PATIENCE);
        let contours = (1..=FRONTS)
            .map(|i| {
                let time_s = self.time_s * f64::from(i) / f64::from(FRONTS + 1);
                let Outline { x_um, z_nm } = self.on_wafer(field.outline(time_s));
                Contour { time_s, x_um, z_nm }
            })
            .collect();
        let thickness_nm = self.exposure.thickness_nm;
        let loss_nm = field.least_depth_nm(self.time_s);
        let depth_nm = |share: f64| loss_nm + share * (thickness_nm - loss_nm);
        let width = |share: f64| self.width_um(&field, depth_nm(share));
        let is_edge = self.exposure.mask.pattern == Pattern::Edge;
        Ok(DevelopmentResults {
            wall: self.on_wafer(field.outline(self.time_s)).into(),
            contours,
            cd_top_um: width(WALL_SHARES[0]),
            cd_middle_um: width(0.5),
            cd_bottom_um: width(1.0),
            nominal_um: (!is_edge).then(|| self.exposure.mask.nominal_um()),
            edge_shift_um: if is_edge {
                let shift_um = self.exposure.alignment.overlay().x_um;
                self.edge_um(&field, thickness_nm).map(|edge| edge + shift_um)
            } else {
                None
            },
            sidewall_deg: self.sidewall_deg(&field, WALL_SHARES.map(depth_nm)),
            cleared: clear_s.is_some_and(|clear_s| clear_s <= self.time_s),
            time_to_clear_s: clear_s,
            loss_nm,
            remaining_nm: thickness_nm - loss_nm,
            fastest_nm_s: law.fastest_nm_s,
            cell_nm: [latent.section.dx_nm, latent.section.dz_nm],
        })
    }

    /// Width at half the height that is left in um; none unless the opening is clear.
    pub(in crate::lithography) fn clear_middle_um(&self, latent: &Latent) -> Option<f64> {
        let (field, clear_s) = self.front(latent, 1.0);
        if self.time_s < clear_s? {
            return None;
        }
        let loss_nm = field.least_depth_nm(self.time_s);
        let depth_nm = loss_nm + 0.5 * (self.exposure.thickness_nm - loss_nm);
        self.width_um(&field, depth_nm)
    }

    /// When the developer is where, and the time in s until the opening is clear, if that is seen
    /// within so many developments.
    fn front(&self, latent: &Latent, patience: f64) -> (Field, Option<f64>) {
        let law = self.rate_law();
        let rates = match self.exposure.tone() {
            Tone::Positive => law.all_nm_s(&latent.pac),
            Tone::Negative => {
                let linked: Vec<f64> = latent.pac.iter().map(|pac| 1.0 - pac).collect();
                law.all_nm_s(&linked)
            }
        };
        let rows = latent.section.rows;
        let fastest = self.fastest_column(latent);
        let foot = fastest * rows + rows - 1;
        let mut foot_reached = false;
        let end_s = 1.02 * self.time_s;
        let time_s = latent.section.arrival_s(&rates, |time, cell| {
            foot_reached |= cell == foot;
            end_s < time && (foot_reached || patience * self.time_s < time)
        });
        let clear_s = time_s[foot] + 0.5 * latent.section.dz_nm / rates[foot];
        let field = Field::new(
            &latent.section,
            &latent.x_um,
            &time_s,
            &rates,
            latent.window.symmetric,
        );
        (field, (foot_reached && clear_s.is_finite()).then_some(clear_s))
    }

    /// The column where the developer should get through first.
    fn fastest_column(&self, latent: &Latent) -> usize {
        let order = |(_, a): &(usize, &f64), (_, b): &(usize, &f64)| a.total_cmp(b);
        let places = latent.intensity.iter().enumerate();
        let found = match self.exposure.tone() {
            Tone::Positive => places.max_by(order),
            Tone::Negative => places.min_by(order),
        };
        found.map_or(0, |(i, _)| i)
    }

    /// Width of the space or line about the middle of the feature, and whether it is a space.
    fn about_middle(&self, field: &Field, depth_nm: f64) -> Option<(bool, f64)> {
        let level = field.level(depth_nm);
        let (gone, walls) = field.walls(&level, self.exposure.place_um(), self.time_s);
        let [Some(left), Some(right)] = walls else { return None };
        Some((gone, right - left))
    }

    /// The measured width at a depth: of the line of lines, of what is drawn else. None without a
    /// wall, or if the resist there is of the wrong kind.
    fn width_um(&self, field: &Field, depth_nm: f64) -> Option<f64> {
        let positive = self.exposure.tone() == Tone::Positive;
        let pattern = self.exposure.mask.pattern;
        if pattern == Pattern::Edge {
            return None;
        }
        // In the middle is a line only if it is dark in positive resist, or clear in negative.
        let wants_space = self.exposure.mask.is_dark() != positive;
        let (gone, width) = self.about_middle(field, depth_nm)?;
        if gone != wants_space {
            return None;
        }
        let is_pitch = pattern == Pattern::LineSpace && gone;
        Some(if is_pitch { self.exposure.mask.pitch_um - width } else { width })
    }

    /// An outline where it lies on the wafer.
    fn on_wafer(&self, mut outline: Outline) -> Outline {
        let shift_um = self.exposure.alignment.overlay().x_um;
        outline.x_um.iter_mut().for_each(|x| *x += shift_um);
        outline
    }

    fn edge_um(&self, field: &Field, depth_nm: f64) -> Option<f64> {
        field.wall_near(&field.level(depth_nm), 0.0, self.time_s)
    }

    fn sidewall_deg(&self, field: &Field, depths: [f64; 2]) -> Option<f64> {
        // How far the foot of the wall reaches out below its head.
        let foot_um = if self.exposure.mask.pattern == Pattern::Edge {
            let [top, low] = depths.map(|depth| self.edge_um(field, depth));
            let shift = low? - top?;
            if self.exposure.tone() == Tone::Positive { shift } else { -shift }
        } else {
            let [top, low] = depths.map(|depth| self.about_middle(field, depth));
            let ((gone, top), (gone_low, low)) = (top?, low?);
            if gone != gone_low {
                return None;
            }
            0.5 * if gone { top - low } else { low - top }
        };
        let height_um = 1e-3 * (depths[1] - depths[0]);
        Some(num::atan2(height_um, foot_um).to_degrees())
    }
}
