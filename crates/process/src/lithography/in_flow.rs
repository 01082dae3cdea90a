//! What a flow needs to know of the lithography steps: their checked fields, and the resist that
//! an exposure and a development leave along a section.

use serde_json::{Map, Value};

use super::Resist;
use super::bake::{self, Bake, BakeKind, BakeRequest};
use super::development::{Development, DevelopmentRequest};
use super::exposure::{Exposure, ExposureRequest};
use super::imaging::Window;
use super::spin_coating::{Spin, SpinRequest, baked_um};
use crate::error::RequestError;
use crate::hazards;
use crate::request::read_fields;
use crate::vocabulary::Material;

/// Distance beyond an edge at which the image is that of an open frame or of the dark, in
/// units of the length over which light spreads.
const MARGIN: f64 = 2.1;

/// Mean distance of an edge from its image in the next period, in the same units.
const ALONE: f64 = 24.0;

/// Most columns of one printed piece; a piece wider than 10 um has wider cells than 5 nm.
const MOST_COLUMNS: f64 = 2000.0;

/// A spin coating as a step of a flow.
#[derive(Clone, Copy, Debug)]
pub(crate) struct FlowSpin {
    spin: Spin,
}

impl FlowSpin {
    /// Reads and checks the fields.
    ///
    /// # Errors
    /// As a request of this operation.
    pub(crate) fn read(fields: Map<String, Value>) -> Result<Self, RequestError> {
        Ok(Self { spin: read_fields::<SpinRequest>(fields)?.check()? })
    }

    /// The resist.
    pub(crate) const fn resist(&self) -> Resist {
        self.spin.resist
    }

    /// Solids on flat ground as a height in nm, and the film after the usual soft bake.
    ///
    /// # Errors
    /// If the film's equation does not converge.
    pub(crate) fn film_nm(&self) -> Result<(f64, f64), RequestError> {
        let solids_um = self.spin.thin(self.spin.speed_rpm)?.end().solids_um();
        Ok((1e3 * solids_um, 1e3 * baked_um(solids_um)))
    }

    /// What is dangerous about it.
    pub(crate) fn hazards(&self, primed: bool) -> Vec<&'static str> {
        let mut words = vec![self.spin.resist.word()];
        if primed {
            words.push("primed");
        }
        hazards::for_step("spin_coating", &words)
    }
}

/// A bake as a step of a flow.
#[derive(Clone, Copy, Debug)]
pub(crate) struct FlowBake {
    bake: Bake,
    /// The resist that the step names, if it does.
    pub(crate) resist: Option<Resist>,
}

impl FlowBake {
    /// Reads and checks the fields.
    ///
    /// # Errors
    /// As a request of this operation.
    pub(crate) fn read(fields: Map<String, Value>) -> Result<Self, RequestError> {
        let named = fields.contains_key("resist");
        let bake = read_fields::<BakeRequest>(fields)?.check()?;
        Ok(Self { bake, resist: named.then_some(bake.resist) })
    }

    /// Which bake.
    pub(crate) const fn kind(&self) -> BakeKind {
        self.bake.kind
    }

    /// Temperature in C.
    pub(crate) const fn temperature_c(&self) -> f64 {
        self.bake.temperature.to_celsius()
    }

    /// Time in s.
    pub(crate) const fn time_s(&self) -> f64 {
        self.bake.time_s
    }

    /// Solvent left as a volume fraction, from the fraction before.
    pub(crate) fn solvent_after(&self, before: f64) -> f64 {
        bake::solvent_left(before, self.bake.temperature, self.bake.time_s)
    }

    /// Share of the sensitizer that is left.
    pub(crate) fn sensitizer_left(&self) -> f64 {
        bake::sensitizer_left(self.bake.temperature, self.bake.time_s)
    }

    /// What is dangerous about it.
    pub(crate) fn hazards(&self) -> Vec<&'static str> {
        hazards::for_step("bake", &[self.bake.kind.word(), self.bake.resist.word()])
    }
}

/// An exposure as a step of a flow.
#[derive(Clone, Debug)]
pub(crate) struct FlowExposure {
    exposure: Exposure,
}

/// Where a mask is printed: the resist and what lies below it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct PrintedResist {
    /// The resist.
    pub(crate) resist: Resist,
    /// Its thickness in nm.
    pub(crate) thickness_nm: f64,
    /// The films below it, from the resist down, with their thickness in nm.
    pub(crate) below: Vec<(Material, f64)>,
}

impl FlowExposure {
    /// Reads and checks the fields.
    ///
    /// # Errors
    /// As a request of this operation.
    pub(crate) fn read(fields: Map<String, Value>) -> Result<Self, RequestError> {
        Ok(Self { exposure: read_fields::<ExposureRequest>(fields)?.check()? })
    }

    /// Dose in mJ/cm2.
    pub(crate) const fn dose_mj_cm2(&self) -> f64 {
        self.exposure.dose_mj_cm2
    }

    /// Replaces the bake that belongs to the exposure by one of the flow, in C and s.
    pub(crate) fn set_bake(&mut self, temperature_c: f64, time_s: f64) {
        self.exposure.bake = Some([temperature_c, time_s]);
    }

    /// The exposure of the wafer's own resist.
    fn of(&self, printed: &PrintedResist) -> Exposure {
        let mut exposure = self.exposure.clone();
        exposure.resist = printed.resist;
        exposure.thickness_nm = printed.thickness_nm;
        exposure.stack.clone_from(&printed.below);
        exposure
    }

    /// Dose in mJ/cm2 that clears an open frame of this resist; none if none does.
    ///
    /// # Errors
    /// If the optical constants of a film below are not known at this wavelength.
    pub(crate) fn dose_to_clear_mj_cm2(
        &self,
        printed: &PrintedResist,
    ) -> Result<Option<f64>, RequestError> {
        self.of(printed).open_frame_dose()
    }

    /// What is dangerous about it.
    pub(crate) fn hazards(&self, resist: Option<Resist>) -> Vec<&'static str> {
        let resist = resist.unwrap_or(self.exposure.resist);
        hazards::for_step("exposure", &[self.exposure.tool.word(), resist.word()])
    }
}

/// A development as a step of a flow.
#[derive(Clone, Debug)]
pub(crate) struct FlowDevelopment {
    development: Development,
    /// Time in s.
    pub(crate) time_s: f64,
}

/// Resist left along a section.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct CarvedResist {
    /// Places in um, ascending.
    pub(crate) x_um: Vec<f64>,
    /// Share of the resist's height that is left there.
    pub(crate) left: Vec<f64>,
}

impl FlowDevelopment {
    /// Reads and checks the fields.
    ///
    /// # Errors
    /// As a request of this operation.
    pub(crate) fn read(fields: Map<String, Value>) -> Result<Self, RequestError> {
        let development = read_fields::<DevelopmentRequest>(fields)?.check()?;
        let Some(time_s) = development.time_s() else {
            return Err(RequestError::conflict(
                "over_develop_percent",
                "",
                "time_s",
                "over_develop_percent: a step of a flow is developed for a time",
                "give time_s",
            ));
        };
        Ok(Self { development, time_s })
    }

    /// What is dangerous about it.
    pub(crate) fn hazards(&self) -> Vec<&'static str> {
        hazards::for_step("development", &[self.development.developer.word()])
    }

    /// Prints clear intervals of a mask (in um, ascending, the outer ones may be infinite) and
    /// develops the resist between `0` and `width_um`.
    ///
    /// # Model
    /// Each group of edges whose images touch is printed and developed by itself, with one
    /// thickness and one stack of films; between the groups the resist is that of their ends.
    ///
    /// # Errors
    /// If the optical constants of a film below are not known at this wavelength.
    pub(crate) fn carve(
        &self,
        exposure: &FlowExposure,
        clear_um: &[[f64; 2]],
        width_um: f64,
        place: &dyn Fn(f64) -> PrintedResist,
    ) -> Result<CarvedResist, RequestError> {
        let spread_um = exposure.of(&place(0.5 * width_um)).spread_um();
        let margin_um = MARGIN * spread_um;
        let mut edges: Vec<f64> = clear_um
            .iter()
            .flatten()
            .copied()
            .filter(|x| -margin_um < *x && *x < width_um + margin_um)
            .collect();
        crate::num::sort_increasing(&mut edges);
        if edges.is_empty() {
            // All clear or all dark: one small piece stands for all.
            edges.push(0.5 * width_um);
        }
        let mut carved = CarvedResist::default();
        let mut start = 0;
        for i in 0..edges.len() {
            let together =
                edges.get(i + 1).is_some_and(|next| *next - edges[i] < 2.0 * margin_um);
            if together {
                continue;
            }
            let ends = [edges[start], edges[i]];
            start = i + 1;
            let window = Window {
                clear_um: clear_um.to_vec(),
                period_um: ends[1] - ends[0] + ALONE * spread_um,
                repeats: false,
                squares: false,
                section_um: [ends[0] - margin_um, ends[1] + margin_um],
                symmetric: false,
            };
            let middle_um = (0.5 * (ends[0] + ends[1])).clamp(0.0, width_um);
            self.carve_piece(&exposure.of(&place(middle_um)), window, &mut carved)?;
        }
        Ok(carved)
    }

    fn carve_piece(
        &self,
        exposure: &Exposure,
        window: Window,
        carved: &mut CarvedResist,
    ) -> Result<(), RequestError> {
        let latent = exposure.latent_in(window, MOST_COLUMNS)?;
        let rows = latent.section.rows;
        let of_this = self.development.of(exposure.clone());
        let rates = of_this.rates(&latent.pac, rows, latent.section.dz_nm);
        let end_s = self.time_s;
        let arrival_s =
            latent.section.arrival_s(&rates, |time_s, _| 1.05 * end_s < time_s);
        for (i, &x_um) in latent.x_um.iter().enumerate() {
            let column = &arrival_s[i * rows..(i + 1) * rows];
            let gone = column.iter().take_while(|time_s| **time_s <= end_s).count();
            let share = if gone == rows {
                // Half a cell is left below the last middle.
                let half_s = 0.5 * latent.section.dz_nm / rates[i * rows + rows - 1];
                let cleared = column[rows - 1] + half_s <= end_s;
                if cleared { 1.0 } else { 1.0 - 0.5 / float(rows) }
            } else {
                let before_s = if gone == 0 { 0.0 } else { column[gone - 1] };
                let depth = if gone == 0 { 0.0 } else { float(gone) - 0.5 };
                let cell = if gone == 0 { 0.5 } else { 1.0 };
                let part = (end_s - before_s) / (column[gone] - before_s);
                let part = if part.is_finite() { part.clamp(0.0, 1.0) } else { 0.0 };
                (depth + cell * part) / float(rows)
            };
            carved.x_um.push(x_um);
            carved.left.push((1.0 - share).clamp(0.0, 1.0));
        }
        Ok(())
    }
}

#[expect(clippy::cast_precision_loss, reason = "some hundred cells")]
fn float(count: usize) -> f64 {
    count as f64
}
