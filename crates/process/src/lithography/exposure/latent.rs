//! The latent image: how much photoactive compound is left where.

use super::blur::Kernel;
use super::film::BleachTable;
use super::request::{Exposure, ResistFocus, Tool};
use crate::error::RequestError;
use crate::lithography::Tone;
use crate::lithography::development::{RateLaw, Section};
use crate::lithography::imaging::{Optics, Window};
use crate::num;

/// Columns of a section in cells of 5 nm; wider sections have wider cells.
const MOST_COLUMNS: f64 = 300.0;

/// Depths at which a shadow is computed; between them it is interpolated.
const SHADOW_DEPTHS: u32 = 9;

/// Depths at which the image of a lens is computed where its focus goes with depth.
const FOCUS_DEPTHS: u32 = 5;

/// Largest dose at which a clear film is looked for, in mJ/cm2.
const LARGEST_DOSE_MJ_CM2: f64 = 5000.0;

/// Time of the developer that the dose to clear is stated for, in s.
pub(super) const CLEAR_TIME_S: f64 = 60.0;

/// An exposed and baked resist.
#[derive(Clone, Debug)]
pub(in crate::lithography) struct Latent {
    /// Middles of the columns in um.
    pub(in crate::lithography) x_um: Vec<f64>,
    /// The cells; of a symmetric mask only those right of 0.
    pub(in crate::lithography) section: Section,
    /// Photoactive compound left in each cell.
    pub(in crate::lithography) pac: Vec<f64>,
    /// What is computed of the mask.
    pub(in crate::lithography) window: Window,
    /// Intensity at the top of each column.
    pub(in crate::lithography) intensity: Vec<f64>,
    /// One column in any dose.
    pub(in crate::lithography) table: BleachTable,
}

/// Light in the columns of a section.
#[derive(Clone, Debug)]
pub(in crate::lithography) struct Exposing {
    window: Window,
    /// Middles of the columns.
    x_um: Vec<f64>,
    dx_um: f64,
    /// Intensity at the columns in one or several depths, from the top to the bottom.
    planes: Vec<Vec<f64>>,
}

impl Exposure {
    /// Prints the mask into the resist and bakes it.
    pub(in crate::lithography) fn latent(&self) -> Result<Latent, RequestError> {
        Ok(self.expose(&self.light(), self.fresh()?))
    }

    /// The resist before the exposure.
    pub(in crate::lithography) fn fresh(&self) -> Result<BleachTable, RequestError> {
        Ok(BleachTable::new(self.film(1e-3 * self.thickness_nm)?))
    }

    /// The light of an open frame's unit at every place of the resist, whatever the dose.
    pub(in crate::lithography) fn light(&self) -> Exposing {
        let window = self.mask.window(self.spread_um());
        self.light_in(window, MOST_COLUMNS)
    }

    /// Prints a window of a mask, in cells that are wider if there would be more than
    /// `most_columns` of 5 nm.
    pub(in crate::lithography) fn latent_in(
        &self,
        window: Window,
        most_columns: f64,
    ) -> Result<Latent, RequestError> {
        Ok(self.expose(&self.light_in(window, most_columns), self.fresh()?))
    }

    /// The light in a window of a mask.
    fn light_in(&self, window: Window, most_columns: f64) -> Exposing {
        let [left, right] = window.section_um;
        let left = if window.symmetric { 0.0 } else { left };
        let most = most_columns * 5.0 / self.grid_nm;
        let wanted = (1e3 * (right - left) / self.grid_nm + 0.5).min(most);
        let columns = num::to_count(wanted).max(8);
        let dx_um = (right - left) / float(columns);
        let x_um: Vec<f64> =
            (0..columns).map(|i| left + dx_um * (float(i) + 0.5)).collect();
        let planes = self.planes(&window, &x_um);
        Exposing { window, x_um, dx_um, planes }
    }

    /// Exposes resist to light at the dose and bakes it.
    pub(in crate::lithography) fn expose(
        &self,
        light: &Exposing,
        mut table: BleachTable,
    ) -> Latent {
        let (columns, rows) = (light.x_um.len(), table.film().cells);
        let brightest = light.planes.iter().flatten().copied().fold(0.0, f64::max);
        table.reach(self.dose_mj_cm2 * brightest);
        let mut pac = vec![1.0; columns * rows];
        for (i, column) in pac.chunks_exact_mut(rows).enumerate() {
            self.expose_column(&table, &light.planes, i, column);
        }
        let section = Section {
            columns,
            rows,
            dx_nm: 1e3 * light.dx_um,
            dz_nm: 1e3 * table.film().cell_um(),
        };
        self.bake(&section, &mut pac);
        let intensity = light.planes.first().cloned().unwrap_or_default();
        let (x_um, window) = (light.x_um.clone(), light.window.clone());
        Latent { x_um, section, pac, window, intensity, table }
    }

    /// Intensity at the columns in one or several depths, from the top to the bottom.
    fn planes(&self, window: &Window, x_um: &[f64]) -> Vec<Vec<f64>> {
        if self.tool == Tool::Projection {
            return self
                .focus_planes_um()
                .map(|defocus_um| {
                    Optics { defocus_um, ..self.optics }.image(window, x_um)
                })
                .collect();
        }
        let last = f64::from(SHADOW_DEPTHS - 1);
        (0..SHADOW_DEPTHS)
            .map(|plane| {
                let share = f64::from(plane) / last;
                // Closer than a wavelength the shadow is as sharp as the light allows.
                let distance = self
                    .distance_um(1e-3 * self.thickness_nm * share)
                    .max(self.optics.wavelength_um / self.bleaching.index);
                self.shadow.image(window, x_um, distance)
            })
            .collect()
    }

    /// Defocus at the depths for which an image is computed, from the top to the bottom.
    ///
    /// # Model
    /// `dz(z) = dz0 + z/n`: in resist light runs together as over a way shorter by its index
    /// (geometric optics near the axis; derived).
    fn focus_planes_um(&self) -> impl Iterator<Item = f64> {
        let planes = match self.focus_in_resist {
            ResistFocus::Same => 1,
            ResistFocus::ByDepth => FOCUS_DEPTHS,
        };
        let way_um = 1e-3 * self.thickness_nm / self.bleaching.index;
        let steps = f64::from((planes - 1).max(1));
        let top_um = self.optics.defocus_um;
        (0..planes).map(move |plane| top_um + way_um * f64::from(plane) / steps)
    }

    fn expose_column(
        &self,
        table: &BleachTable,
        planes: &[Vec<f64>],
        i: usize,
        column: &mut [f64],
    ) {
        let dose = |plane: &Vec<f64>| self.dose_mj_cm2 * plane[i];
        let (Some(first), Some(last)) = (planes.first(), planes.last()) else { return };
        table.pac(dose(first), column);
        if planes.len() == 1 {
            return;
        }
        let mut upper = column.to_vec();
        let mut lower = upper.clone();
        let rows = float(column.len());
        let steps = float(planes.len() - 1);
        let mut present = usize::MAX;
        for (row, value) in column.iter_mut().enumerate() {
            let place = (float(row) + 0.5) / rows * steps;
            let plane = num::to_count(place).min(planes.len() - 2);
            if plane != present {
                present = plane;
                table.pac(dose(&planes[plane]), &mut upper);
                table.pac(dose(planes.get(plane + 1).unwrap_or(last)), &mut lower);
            }
            let part = place - float(plane);
            *value = upper[row] + (lower[row] - upper[row]) * part;
        }
    }

    fn bake(&self, section: &Section, pac: &mut [f64]) {
        let spread = self.spread_nm();
        if spread <= 0.0 {
            return;
        }
        let mut scratch = Vec::new();
        let down = Kernel::new(spread, section.dz_nm);
        for column in pac.chunks_exact_mut(section.rows) {
            down.spread(column, &mut scratch);
        }
        Kernel::new(spread, section.dx_nm).spread_across(pac, section.rows);
    }

    /// Photoactive compound left in each cell of a column under an open frame, exposed and
    /// baked.
    pub(in crate::lithography) fn open_frame(&self, latent: &mut Latent) -> Vec<f64> {
        let mut column = vec![1.0; latent.section.rows];
        latent.table.reach(self.dose_mj_cm2);
        latent.table.pac(self.dose_mj_cm2, &mut column);
        Kernel::new(self.spread_nm(), latent.section.dz_nm)
            .spread(&mut column, &mut Vec::new());
        column
    }

    /// The dose to clear of this film.
    pub(in crate::lithography) fn open_frame_dose(
        &self,
    ) -> Result<Option<f64>, RequestError> {
        let mut table = BleachTable::new(self.film(1e-3 * self.thickness_nm)?);
        Ok(self.dose_to_clear(&mut table))
    }

    /// Dose in mJ/cm2 that clears an open frame in [`CLEAR_TIME_S`] with the usual developer;
    /// none for a negative resist or beyond the largest dose.
    pub(super) fn dose_to_clear(&self, table: &mut BleachTable) -> Option<f64> {
        if self.tone() == Tone::Negative {
            return None;
        }
        let cell_nm = 1e3 * table.film().cell_um();
        let kernel = Kernel::new(self.spread_nm(), cell_nm);
        let mut column = vec![1.0; table.film().cells];
        let mut scratch = Vec::new();
        // Logarithm of the time needed over the time there is: falls nearly straight with dose.
        let mut excess = |table: &BleachTable, dose: f64| {
            table.pac(dose, &mut column);
            kernel.spread(&mut column, &mut scratch);
            num::ln(RateLaw::DEMO.time_through_s(&column, cell_nm) / CLEAR_TIME_S)
        };
        let (mut low, mut high) = (0.0, 0.5 / self.bleaching.bleach_rate_cm2_mj);
        table.reach(high);
        let (mut above, mut below) = (excess(table, low), excess(table, high));
        if above <= 0.0 {
            return Some(0.0);
        }
        while 0.0 < below {
            if LARGEST_DOSE_MJ_CM2 < high {
                return None;
            }
            (low, above) = (high, below);
            high *= 1.5;
            table.reach(high);
            below = excess(table, high);
        }
        // Straight lines between the ends; an end that stays is moved closer (Illinois rule;
        // M. Dowell, P. Jarratt, BIT 11, 168, 1971; memory).
        let mut last = 0.0;
        for _ in 0..60 {
            let middle = low + (high - low) * above / (above - below);
            let there = excess(table, middle);
            if there.abs() < 1e-9 || high - low < 1e-9 * high {
                return Some(middle);
            }
            let stays = 0.0 < there * last;
            last = there;
            if 0.0 < there {
                (low, above) = (middle, there);
                below *= if stays { 0.5 } else { 1.0 };
            } else {
                (high, below) = (middle, there);
                above *= if stays { 0.5 } else { 1.0 };
            }
        }
        Some(0.5 * (low + high))
    }
}

#[expect(clippy::cast_precision_loss, reason = "some thousand cells")]
pub(in crate::lithography) fn float(count: usize) -> f64 {
    count as f64
}
