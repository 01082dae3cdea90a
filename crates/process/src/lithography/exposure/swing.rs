//! Swing: the dose to clear goes up and down with the thickness of the films.

use serde::Serialize;

use super::film::BleachTable;
use super::request::Exposure;
use crate::error::RequestError;
use crate::num::linspace;
use crate::vocabulary::Material;

/// Points of a swing curve.
const POINTS: usize = 41;

/// Least cell in nm: a tenth of a standing wave moves the dose to clear by less than 0.5 %.
const CELL_NM: f64 = 10.0;

/// Dose to clear against the thickness of a film; both lists have the same length.
#[derive(Clone, Debug, Default, Serialize)]
pub struct SwingCurve {
    /// Thickness in nm.
    pub thickness_nm: Vec<f64>,
    /// Dose to clear in mJ/cm2; null where none does.
    pub dose_to_clear_mj_cm2: Vec<Option<f64>>,
    /// Distance from one maximum to the next in nm: half a wavelength in the film.
    pub period_nm: f64,
}

impl Exposure {
    /// The swing with the resist, about the present thickness; none unless asked for.
    pub(super) fn swing(&self) -> Result<Option<SwingCurve>, RequestError> {
        if self.swing_span_nm == 0.0 {
            return Ok(None);
        }
        let half = 0.5 * self.swing_span_nm;
        let first = (self.thickness_nm - half).max(50.0);
        let mut swing =
            SwingCurve { period_nm: self.standing_wave_nm(), ..SwingCurve::default() };
        let coarse = self.coarse();
        for thickness_nm in linspace(first, self.thickness_nm + half, POINTS) {
            let mut table = BleachTable::new(coarse.film(1e-3 * thickness_nm)?);
            swing.thickness_nm.push(thickness_nm);
            swing.dose_to_clear_mj_cm2.push(self.dose_to_clear(&mut table));
        }
        Ok(Some(swing))
    }

    /// The swing with the thermal oxide right below the resist, from none to the thickness asked
    /// for; on a stack without one it is put on top.
    pub(super) fn oxide_swing(&self) -> Result<Option<SwingCurve>, RequestError> {
        if self.oxide_swing_nm == 0.0 {
            return Ok(None);
        }
        let index = self.line.index(Material::ThermalOxide)?.re;
        let mut swing = SwingCurve {
            period_nm: self.line.wavelength_nm() / (2.0 * index),
            ..SwingCurve::default()
        };
        let mut changed = self.coarse();
        if changed.stack.first().is_none_or(|(film, _)| *film != Material::ThermalOxide) {
            changed.stack.insert(0, (Material::ThermalOxide, 0.0));
        }
        for thickness_nm in linspace(0.0, self.oxide_swing_nm, POINTS) {
            if let Some(film) = changed.stack.first_mut() {
                film.1 = thickness_nm;
            }
            let mut table = BleachTable::new(changed.film(1e-3 * self.thickness_nm)?);
            swing.thickness_nm.push(thickness_nm);
            swing.dose_to_clear_mj_cm2.push(changed.dose_to_clear(&mut table));
        }
        Ok(Some(swing))
    }

    /// The same in cells that are enough for the dose to clear.
    fn coarse(&self) -> Self {
        Self { grid_nm: self.grid_nm.max(CELL_NM), ..self.clone() }
    }

    /// Distance between two maxima of the standing wave in the resist in nm.
    pub(super) fn standing_wave_nm(&self) -> f64 {
        self.line.wavelength_nm() / (2.0 * self.bleaching.index)
    }
}
