//! How fast a pad takes material away, and how it levels a step.

/// Preston's law: the removal rate in nm/min, `K P V`.
///
/// # Source
/// F. W. Preston, J. Soc. Glass Technol. 11, 214 (1927) (memory).
///
/// # Example
/// ```
/// use barewafer_process::polishing::preston_nm_min;
///
/// // 1e-13 /Pa x 28 kPa x 0.7 m/s = 1.96 nm/s.
/// assert!((preston_nm_min(1e-13, 28.0, 0.7) - 117.6).abs() < 1e-9);
/// ```
#[must_use]
pub fn preston_nm_min(preston_per_pa: f64, pressure_kpa: f64, speed_m_s: f64) -> f64 {
    preston_per_pa * pressure_kpa * 1e3 * speed_m_s * 1e9 * 60.0
}

/// A film over high places of a share of the area, polished by a stiff pad.
///
/// # Model
/// Only what is high touches the pad: it bears the whole load on the share `rho` of the area
/// and goes at `R / rho`, while the low places are not touched, until the step is gone; then
/// all goes at `R`. Where the film over the high places is gone the stop layer under it goes
/// `S` times slower.
///
/// # Source
/// B. E. Stine, D. O. Ouma, R. R. Divecha, D. S. Boning, J. E. Chung et al., "A closed-form
/// analytic model for ILD thickness variation in CMP processes", Proc. CMP-MIC, 1997 (memory).
///
/// Left out: the pad bends into wide low places and touches them before the step is gone;
/// areas of different density within the planarization length of 3-10 mm share the load;
/// dishing and erosion after the stop layer is bare.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leveling {
    /// Film at the start, the same on high and low places, in nm.
    pub thickness_nm: f64,
    /// Height of the high places in nm.
    pub step_nm: f64,
    /// Share of the area that is high.
    pub dense_fraction: f64,
    /// Rate on a flat wafer in nm/min.
    pub rate_nm_min: f64,
    /// Film over stop layer; none without a stop layer: the film just ends.
    pub selectivity: Option<f64>,
}

/// The wafer after some time of polishing; all in nm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leveled {
    /// Film taken from the high places.
    pub removed_nm: f64,
    /// Film left on the high places.
    pub remaining_nm: f64,
    /// Film left on the low places.
    pub low_remaining_nm: f64,
    /// Step that is left between high and low places.
    pub step_nm: f64,
    /// Stop layer taken from the high places.
    pub stop_loss_nm: f64,
}

impl Leveled {
    /// Mean film thickness over the area in nm.
    #[must_use]
    pub fn mean_nm(&self, dense_fraction: f64) -> f64 {
        dense_fraction * self.remaining_nm
            + (1.0 - dense_fraction) * self.low_remaining_nm
    }
}

impl Leveling {
    /// Time in s to take a depth from the high places, within the film.
    #[must_use]
    pub fn time_to_remove_s(&self, depth_nm: f64) -> f64 {
        let high_nm = depth_nm.min(self.step_nm);
        60.0 * (high_nm * self.dense_fraction + (depth_nm - high_nm)) / self.rate_nm_min
    }

    /// Time in s until the film over the high places is gone.
    #[must_use]
    pub fn time_to_clear_s(&self) -> f64 {
        self.time_to_remove_s(self.thickness_nm)
    }

    /// Time in s until the step is gone; none if the film over the high places goes first.
    #[must_use]
    pub fn time_to_level_s(&self) -> Option<f64> {
        (self.step_nm <= self.thickness_nm).then(|| self.time_to_remove_s(self.step_nm))
    }

    /// The wafer after a time.
    #[must_use]
    pub fn after(&self, time_s: f64) -> Leveled {
        let (d_nm, h_nm) = (self.thickness_nm, self.step_nm);
        let flat_nm = |time_s: f64| self.rate_nm_min * time_s / 60.0;
        let clear_s = self.time_to_clear_s();
        // What a flat wafer would have lost, spent on the step first.
        let worn_nm = flat_nm(time_s.min(clear_s));
        let on_step_nm = h_nm.min(d_nm) * self.dense_fraction;
        let removed_nm = if worn_nm < on_step_nm {
            worn_nm / self.dense_fraction
        } else {
            h_nm.min(d_nm) + (worn_nm - on_step_nm)
        };
        // The last bits of d/R R must not leave a film one atom thick.
        let removed_nm = if d_nm - removed_nm < 1e-9 * d_nm { d_nm } else { removed_nm };
        let beyond_s = (time_s - clear_s).max(0.0);
        let stop_loss_nm = self.selectivity.map_or(0.0, |selectivity| {
            let slow_nm = flat_nm(beyond_s) / selectivity;
            let standing_nm = (h_nm - d_nm).max(0.0);
            let leveling_nm = standing_nm * self.dense_fraction;
            if slow_nm < leveling_nm {
                slow_nm / self.dense_fraction
            } else {
                standing_nm + (slow_nm - leveling_nm)
            }
        });
        let taken_nm = removed_nm + stop_loss_nm;
        Leveled {
            removed_nm,
            remaining_nm: d_nm - removed_nm,
            low_remaining_nm: (d_nm - (taken_nm - h_nm).max(0.0)).max(0.0),
            step_nm: (h_nm - taken_nm).max(0.0),
            stop_loss_nm,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const WAFER: Leveling = Leveling {
        thickness_nm: 1000.0,
        step_nm: 400.0,
        dense_fraction: 0.5,
        rate_nm_min: 120.0,
        selectivity: Some(4.0),
    };

    #[test]
    fn a_step_goes_by_its_density_and_then_all_goes_alike() {
        // Half the area is high: 240 nm/min there, 400 nm gone in 100 s.
        assert!((WAFER.time_to_level_s().unwrap() - 100.0).abs() < 1e-9);
        let half = WAFER.after(50.0);
        assert!((half.step_nm - 200.0).abs() < 1e-9);
        assert!((half.removed_nm - 200.0).abs() < 1e-9);
        assert!((half.low_remaining_nm - 1000.0).abs() < 1e-9);
        let level = WAFER.after(160.0);
        assert!(level.step_nm.abs() < 1e-9);
        // 400 + 120 nm from the high places, 120 nm from the low ones.
        assert!((level.remaining_nm - 480.0).abs() < 1e-9);
        assert!((level.low_remaining_nm - 880.0).abs() < 1e-9);
    }

    #[test]
    fn the_mean_film_goes_at_the_rate_of_a_flat_wafer() {
        for time_s in [10.0, 100.0, 250.0] {
            let mean = WAFER.after(time_s).mean_nm(0.5);
            assert!((mean - (1000.0 - 2.0 * time_s)).abs() < 1e-9, "{time_s}: {mean}");
        }
    }

    #[test]
    fn the_stop_layer_goes_slower() {
        // 100 s for the step, 300 s for the other 600 nm, then 30 nm/min.
        assert!((WAFER.time_to_clear_s() - 400.0).abs() < 1e-9);
        let late = WAFER.after(460.0);
        assert!((late.stop_loss_nm - 30.0).abs() < 1e-9);
        assert!(late.remaining_nm.abs() < 1e-12);
        assert!((late.low_remaining_nm - 370.0).abs() < 1e-9);
    }

    #[test]
    fn a_high_step_outlives_a_thin_film() {
        let tall = Leveling { step_nm: 1500.0, ..WAFER };
        assert!(tall.time_to_level_s().is_none());
        // 1000 nm at 240 nm/min: 250 s; the stop layer bears the load on half the area.
        assert!((tall.time_to_clear_s() - 250.0).abs() < 1e-9);
        let late = tall.after(310.0);
        assert!((late.stop_loss_nm - 60.0).abs() < 1e-9);
        assert!((late.step_nm - 440.0).abs() < 1e-9);
        assert!((late.low_remaining_nm - 1000.0).abs() < 1e-9);
    }
}
