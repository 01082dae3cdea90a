//! What a development answers.

use std::borrow::Cow;

use serde::Serialize;

use super::open_frame::{Descent, times};
use super::outline::{Field, Outline};
use super::request::{Development, Stop};
use crate::error::RequestError;
use crate::lithography::Tone;
use crate::lithography::exposure::{FilmBelow, Latent, float};
use crate::lithography::imaging::Pattern;
use crate::num::{self, linspace, show};

/// Fronts on the way, as shares of the time to clear: after it the walls hardly move.
const FRONTS: [f64; 4] = [0.25, 0.5, 0.75, 1.0];

/// Longest time that is waited for the bottom, in developments.
const PATIENCE: f64 = 20.0;

/// The same in s where the time itself follows from clearing.
const PATIENCE_S: f64 = 1200.0;

/// How far beyond the time of the development the curves go.
const BEYOND: f64 = 1.5;

/// Points of the curves against time, and of the rate.
const POINTS: [usize; 2] = [81, 61];

/// Depths at which the sidewall is measured, as shares of the resist that is left.
const WALL_SHARES: [f64; 2] = [0.1, 0.9];

/// Results of a development.
#[derive(Clone, Debug, Serialize)]
pub struct DevelopmentResults {
    /// Time in the developer in s, given or needed.
    pub time_s: f64,
    /// Whether exposed resist goes (positive) or stays.
    pub tone: Tone,
    /// What is drawn on the mask.
    pub pattern: Pattern,
    /// Thickness of the resist before, in nm.
    pub thickness_nm: f64,
    /// Films below the resist on the silicon, the uppermost first.
    pub stack: Vec<FilmBelow>,
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
    /// Middle of the feature whose width is measured, in um; null for an edge.
    pub center_um: Option<f64>,
    /// Distance from one feature to the next in um; null if it stands alone.
    pub period_um: Option<f64>,
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
    /// How much longer than that the wafer is developed, in percent; null if it is not clear.
    pub over_develop_percent: Option<f64>,
    /// Resist left in the opening where least of it is left, in nm; 0 if it is clear there.
    pub residue_nm: f64,
    /// Time until a wide exposed field (of positive resist; an unexposed one of negative) is
    /// clear, in s.
    pub open_clear_s: f64,
    /// Resist lost where it should stay, in nm.
    pub loss_nm: f64,
    /// Resist left there in nm.
    pub remaining_nm: f64,
    /// Fastest rate at the developer's temperature in nm/s.
    pub fastest_nm_s: f64,
    /// Cells of the section: their width and height in nm.
    pub cell_nm: [f64; 2],
    /// Widths and thicknesses against time.
    pub curve: DevelopmentCurve,
    /// How fast resist dissolves, by the photoactive compound left in it.
    pub rate_curve: RateCurve,
}

/// A development against time; all lists have the same length.
#[derive(Clone, Debug, Default, Serialize)]
pub struct DevelopmentCurve {
    /// Times in s.
    pub time_s: Vec<f64>,
    /// Width at the bottom in um, as `cd_bottom_um`; null before there is one.
    pub bottom_um: Vec<Option<f64>>,
    /// Width at half the old thickness in um.
    pub middle_um: Vec<Option<f64>>,
    /// Resist left in a wide exposed field in nm.
    pub exposed_nm: Vec<f64>,
    /// Resist left in a wide dark field in nm.
    pub dark_nm: Vec<f64>,
}

/// Rate of dissolution below the top; both lists have the same length.
#[derive(Clone, Debug, Default, Serialize)]
pub struct RateCurve {
    /// Share of photoactive compound left.
    pub pac: Vec<f64>,
    /// Rate in nm/s.
    pub rate_nm_s: Vec<f64>,
    /// Mean share that is left in a wide exposed field.
    pub exposed_pac: f64,
    /// Rate for that share in nm/s.
    pub exposed_nm_s: f64,
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

/// What a development leaves, before it is measured.
struct Front {
    /// When the developer is where.
    field: Field,
    /// Time until the opening is clear in s, if that was seen.
    clear_s: Option<f64>,
    /// End of the development in s.
    time_s: f64,
}

impl Development {
    pub(super) fn results(&self) -> Result<DevelopmentResults, RequestError> {
        let mut latent = self.exposure.latent()?;
        let law = self.rate_law();
        let dz_nm = latent.section.dz_nm;
        let Front { field, clear_s, time_s } = self.front(&latent, PATIENCE, BEYOND)?;
        let descent =
            |pac: &[f64]| Descent::new(self.rates(pac, pac.len(), dz_nm), dz_nm);
        let dark = descent(&vec![1.0; latent.section.rows]);
        let open = self.exposure.open_frame(&mut latent);
        let exposed = descent(&open);
        let shift_um = self.exposure.alignment.overlay().x_um;
        let contours = front_times(clear_s.unwrap_or(f64::INFINITY), time_s)
            .into_iter()
            .map(|time_s| {
                let Outline { x_um, z_nm } = on_wafer(field.outline(time_s), shift_um);
                Contour { time_s, x_um, z_nm }
            })
            .collect();
        let thickness_nm = self.exposure.thickness_nm;
        let loss_nm = field.least_depth_nm(time_s);
        let depth_nm = |share: f64| loss_nm + share * (thickness_nm - loss_nm);
        let width =
            |share: f64| self.width_um(&field, &field.level(depth_nm(share)), time_s);
        let is_edge = self.exposure.mask.pattern == Pattern::Edge;
        let past = clear_s.filter(|&clear_s| clear_s <= time_s);
        Ok(DevelopmentResults {
            time_s,
            tone: self.exposure.tone(),
            pattern: self.exposure.mask.pattern,
            thickness_nm,
            stack: self
                .exposure
                .stack
                .iter()
                .map(|&(material, thickness_nm)| FilmBelow { material, thickness_nm })
                .collect(),
            wall: on_wafer(field.outline(time_s), shift_um).into(),
            contours,
            cd_top_um: width(WALL_SHARES[0]),
            cd_middle_um: width(0.5),
            cd_bottom_um: width(1.0),
            center_um: (!is_edge).then(|| self.center_um() + shift_um),
            period_um: latent.window.repeats.then_some(self.exposure.mask.pitch_um),
            nominal_um: (!is_edge).then(|| self.nominal_um()),
            edge_shift_um: if is_edge {
                let wall_um = field.wall_near(&field.level(thickness_nm), 0.0, time_s);
                wall_um.map(|wall_um| wall_um + shift_um)
            } else {
                None
            },
            sidewall_deg: self.sidewall_deg(&field, WALL_SHARES.map(depth_nm), time_s),
            cleared: past.is_some(),
            time_to_clear_s: clear_s,
            over_develop_percent: past.map(|clear_s| 100.0 * (time_s / clear_s - 1.0)),
            residue_nm: if past.is_some() {
                0.0
            } else {
                (thickness_nm - field.most_depth_nm(time_s)).max(0.0)
            },
            open_clear_s: match self.exposure.tone() {
                Tone::Positive => exposed.clear_s(),
                Tone::Negative => dark.clear_s(),
            },
            loss_nm,
            remaining_nm: (thickness_nm - loss_nm).max(0.0),
            fastest_nm_s: law.fastest_nm_s,
            cell_nm: [latent.section.dx_nm, dz_nm],
            curve: self.curve(&field, [&exposed, &dark], time_s),
            rate_curve: self.rate_curve(&open),
        })
    }

    /// Width at half the height that is left in um; none unless the opening is clear.
    pub(in crate::lithography) fn clear_middle_um(&self, latent: &Latent) -> Option<f64> {
        let Front { field, clear_s, time_s } = self.front(latent, 1.0, BEYOND).ok()?;
        if time_s < clear_s? {
            return None;
        }
        let loss_nm = field.least_depth_nm(time_s);
        let depth_nm = loss_nm + 0.5 * (self.exposure.thickness_nm - loss_nm);
        self.width_um(&field, &field.level(depth_nm), time_s)
    }

    /// Follows the front beyond the end of the development, and until the opening is clear if
    /// that is seen within so many developments.
    fn front(
        &self,
        latent: &Latent,
        patience: f64,
        beyond: f64,
    ) -> Result<Front, RequestError> {
        let section = &latent.section;
        let rates = self.rates(&latent.pac, section.rows, section.dz_nm);
        let foot = self.fastest_column(latent) * section.rows + section.rows - 1;
        let last_half_s = 0.5 * section.dz_nm / rates[foot];
        let mut foot_reached = false;
        let (mut end_s, patience_s) = match self.stop {
            Stop::At(time_s) => {
                (beyond * time_s, (patience * time_s).max(beyond * time_s))
            }
            Stop::Past(_) => (f64::INFINITY, PATIENCE_S),
        };
        let arrival_s = section.arrival_s(&rates, |time, cell| {
            if cell == foot {
                foot_reached = true;
                if let Stop::Past(percent) = self.stop {
                    end_s = beyond * (time + last_half_s) * (1.0 + 0.01 * percent);
                }
            }
            (if foot_reached { end_s } else { patience_s }) < time
        });
        let clear_s = Some(arrival_s[foot] + last_half_s)
            .filter(|clear_s| foot_reached && clear_s.is_finite());
        let time_s = match (self.stop, clear_s) {
            (Stop::At(time_s), _) => time_s,
            (Stop::Past(percent), Some(clear_s)) => clear_s * (1.0 + 0.01 * percent),
            (Stop::Past(percent), None) => return Err(never_clear(percent)),
        };
        let is_half = latent.window.symmetric;
        let field = Field::new(section, &latent.x_um, &arrival_s, &rates, is_half);
        Ok(Front { field, clear_s, time_s })
    }

    /// Rates in nm/s of cells, column by column, each from the top.
    pub(in crate::lithography) fn rates(
        &self,
        pac: &[f64],
        rows: usize,
        dz_nm: f64,
    ) -> Vec<f64> {
        let mut rates = self.rate_law().all_nm_s(&self.soluble(pac));
        if self.inhibition.surface_ratio < 1.0 {
            for (row, slowed) in (0..rows)
                .map(|row| self.inhibition.factor(dz_nm * (float(row) + 0.5)))
                .enumerate()
            {
                rates.iter_mut().skip(row).step_by(rows).for_each(|rate| *rate *= slowed);
            }
        }
        rates
    }

    /// The compound left, seen by the rate law: of a negative resist what is exposed stays.
    fn soluble<'a>(&self, pac: &'a [f64]) -> Cow<'a, [f64]> {
        match self.exposure.tone() {
            Tone::Positive => Cow::Borrowed(pac),
            Tone::Negative => Cow::Owned(pac.iter().map(|pac| 1.0 - pac).collect()),
        }
    }

    fn curve(
        &self,
        field: &Field,
        [exposed, dark]: [&Descent; 2],
        time_s: f64,
    ) -> DevelopmentCurve {
        let thickness_nm = self.exposure.thickness_nm;
        let bottom = field.level(thickness_nm);
        let middle = field.level(0.5 * thickness_nm);
        let times = times(BEYOND * time_s, POINTS[0]);
        let widths = |level: &[f64]| {
            times.iter().map(|&time| self.width_um(field, level, time)).collect()
        };
        let left =
            |field: &Descent| times.iter().map(|&time| field.left_nm(time)).collect();
        DevelopmentCurve {
            bottom_um: widths(&bottom),
            middle_um: widths(&middle),
            exposed_nm: left(exposed),
            dark_nm: left(dark),
            time_s: times,
        }
    }

    fn rate_curve(&self, exposed: &[f64]) -> RateCurve {
        let law = self.rate_law();
        let exposed_pac = exposed.iter().sum::<f64>() / float(exposed.len());
        let pac = linspace(0.0, 1.0, POINTS[1]);
        RateCurve {
            rate_nm_s: law.all_nm_s(&self.soluble(&pac)),
            exposed_nm_s: law.all_nm_s(&self.soluble(&[exposed_pac]))[0],
            exposed_pac,
            pac,
        }
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

    /// Whether the middle of the drawing should come out as a space: it is clear on the mask and
    /// the resist positive, or dark and the resist negative.
    fn wants_space(&self) -> bool {
        self.exposure.mask.is_dark() != (self.exposure.tone() == Tone::Positive)
    }

    /// Middle of what is measured in um: of lines and spaces, the line to the right of a space.
    fn center_um(&self) -> f64 {
        let mask = &self.exposure.mask;
        if mask.pattern == Pattern::LineSpace && self.wants_space() {
            0.5 * mask.pitch_um
        } else {
            self.exposure.place_um()
        }
    }

    /// Width that the drawing asks for in um: lines of negative resist are the clear ones.
    fn nominal_um(&self) -> f64 {
        let mask = &self.exposure.mask;
        if mask.pattern == Pattern::LineSpace && !self.wants_space() {
            mask.opening_um
        } else {
            mask.nominal_um()
        }
    }

    /// Width of the space or line about the middle of the feature, and whether it is a space, by
    /// the times along a depth.
    fn about_middle(
        &self,
        field: &Field,
        level: &[f64],
        time_s: f64,
    ) -> Option<(bool, f64)> {
        let (gone, walls) = field.walls(level, self.exposure.place_um(), time_s);
        let [Some(left), Some(right)] = walls else { return None };
        Some((gone, right - left))
    }

    /// The measured width at the depth of a level: of the line of lines, of what is drawn else. None without a
    /// wall, or if the resist there is of the wrong kind.
    fn width_um(&self, field: &Field, level: &[f64], time_s: f64) -> Option<f64> {
        let pattern = self.exposure.mask.pattern;
        if pattern == Pattern::Edge {
            return None;
        }
        let (gone, width) = self.about_middle(field, level, time_s)?;
        if gone != self.wants_space() {
            return None;
        }
        let is_pitch = pattern == Pattern::LineSpace && gone;
        Some(if is_pitch { self.exposure.mask.pitch_um - width } else { width })
    }

    fn sidewall_deg(&self, field: &Field, depths: [f64; 2], time_s: f64) -> Option<f64> {
        let levels = depths.map(|depth| field.level(depth));
        // How far the foot of the wall reaches out below its head.
        let foot_um = if self.exposure.mask.pattern == Pattern::Edge {
            let [top, low] = levels.map(|level| field.wall_near(&level, 0.0, time_s));
            let shift = low? - top?;
            if self.exposure.tone() == Tone::Positive { shift } else { -shift }
        } else {
            let [top, low] = levels.map(|level| self.about_middle(field, &level, time_s));
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

/// An outline where it lies on the wafer.
fn on_wafer(mut outline: Outline, shift_um: f64) -> Outline {
    outline.x_um.iter_mut().for_each(|x| *x += shift_um);
    outline
}

fn never_clear(percent: f64) -> RequestError {
    RequestError::conflict(
        "over_develop_percent",
        &percent.to_string(),
        "a dose that clears",
        &format!(
            "over_develop_percent: the opening does not clear within {} s, so there is no time past clearing",
            show(PATIENCE_S)
        ),
        "expose more, or give time_s instead",
    )
}

/// Times of the fronts that are shown before that of `time_s`: evenly until the opening is clear,
/// then one between.
fn front_times(clear_s: f64, time_s: f64) -> Vec<f64> {
    let way_s = clear_s.min(time_s);
    let mut times: Vec<f64> = FRONTS.iter().map(|share| share * way_s).collect();
    if clear_s < time_s {
        times.push((clear_s * time_s).sqrt());
    }
    times.retain(|&front| front < 0.999 * time_s);
    times
}
