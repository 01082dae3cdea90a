//! The furnace's temperature against time, and the steps that follow it.

use super::moment::{DopingModel, Moment};
use crate::num::{exp, linspace, pow};
use crate::units::Temperature;
use crate::vocabulary::{Ambient, Dopant, Orientation};

/// A part of a furnace recipe: one gas, constant temperature or a straight ramp.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeatSegment {
    /// The gas.
    pub ambient: Ambient,
    /// Temperature at the start in C.
    pub temperature_c: f64,
    /// Temperature at the end in C.
    pub end_temperature_c: f64,
    /// How long it lasts in min.
    pub time_min: f64,
}

impl HeatSegment {
    /// A segment at constant temperature.
    #[must_use]
    pub const fn hold(ambient: Ambient, temperature_c: f64, time_min: f64) -> Self {
        Self { ambient, temperature_c, end_temperature_c: temperature_c, time_min }
    }

    pub(super) fn time_s(&self) -> f64 {
        60.0 * self.time_min
    }

    pub(super) fn is_hold(&self) -> bool {
        (self.end_temperature_c - self.temperature_c).abs() < 1e-9
    }

    /// Temperature in C at a time from the segment's start.
    pub(super) fn celsius_at(&self, time_s: f64) -> f64 {
        let share = (time_s / self.time_s()).clamp(0.0, 1.0);
        self.temperature_c + share * (self.end_temperature_c - self.temperature_c)
    }
}

/// How steps share the time of a segment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Spacing {
    /// They end at this power of their number: short at first, where a source or a growing film
    /// is fastest.
    Power(f64),
    /// They are even but for this part, which is short at both ends: at the start for what an
    /// implant has heaped up, at the end for the feet of fronts, which a long step smears.
    BothEnds(f64),
}

impl Spacing {
    /// The share of the whole that is over after a share of the steps.
    fn at(self, share: f64) -> f64 {
        match self {
            Self::Power(power) => pow(share, power),
            Self::BothEnds(part) => {
                let short = share * share * (3.0 - 2.0 * share);
                share + part * (short - share)
            }
        }
    }
}

/// One step in time.
#[derive(Clone, Debug)]
pub(super) struct Step {
    pub(super) start_s: f64,
    pub(super) end_s: f64,
    /// Dopants and crystal, averaged over the step.
    pub(super) moment: Moment,
}

impl Step {
    pub(super) fn length_s(&self) -> f64 {
        self.end_s - self.start_s
    }
}

/// Parts of a ramp on which its heat is summed.
pub(super) const RAMP_PARTS: usize = 256;

/// Activation energy in eV of thick dry oxide, the lowest of all that goes on in a furnace; as
/// in the one-dimensional furnace.
pub(super) const LOWEST_EV: f64 = 1.23;

/// The steps of a segment: they share its time or, in a ramp, its heat.
pub(super) fn steps(
    segment: &HeatSegment,
    count: usize,
    spacing: Spacing,
    model: &DopingModel,
    orientation: Orientation,
    dopants: &[Dopant],
) -> Vec<Step> {
    let at = |celsius: f64| Moment::at(model, orientation, dopants, celsius);
    let ends_s = ends_s(segment, count, spacing, &at);
    let hold = segment.is_hold().then(|| at(segment.temperature_c));
    ends_s
        .windows(2)
        .map(|pair| {
            let (start_s, end_s) = (pair[0], pair[1]);
            let moment = hold.clone().unwrap_or_else(|| {
                let here = |time_s: f64| at(segment.celsius_at(time_s));
                Moment::mean(&here(start_s), &here(0.5 * (start_s + end_s)), &here(end_s))
            });
            Step { start_s, end_s, moment }
        })
        .collect()
}

#[expect(clippy::cast_precision_loss, reason = "a small count")]
fn ends_s(
    segment: &HeatSegment,
    count: usize,
    spacing: Spacing,
    at: &impl Fn(f64) -> Moment,
) -> Vec<f64> {
    let shares = (0..=count).map(|k| spacing.at(k as f64 / count as f64));
    if segment.is_hold() {
        return shares.map(|share| share * segment.time_s()).collect();
    }
    let times_s = linspace(0.0, segment.time_s(), RAMP_PARTS + 1);
    let hottest_c = segment.temperature_c.max(segment.end_temperature_c);
    let hottest = at(hottest_c);
    let per_kt = |celsius: f64| 1.0 / Temperature::celsius(celsius).to_kt_ev();
    let pace = |celsius: f64| {
        let here = at(celsius);
        let slowest = if segment.ambient == Ambient::Inert {
            0.0
        } else {
            exp(-LOWEST_EV * (per_kt(celsius) - per_kt(hottest_c)))
        };
        here.mobiles
            .iter()
            .zip(&hottest.mobiles)
            .filter(|(_, hot)| 0.0 < hot.at(1.0))
            .map(|(here, hot)| here.at(1.0) / hot.at(1.0))
            .fold(slowest.max(1e-9), f64::max)
    };
    let paces: Vec<f64> = times_s.iter().map(|&t| pace(segment.celsius_at(t))).collect();
    let mut heat = vec![0.0];
    for (t, p) in times_s.windows(2).zip(paces.windows(2)) {
        heat.push(heat[heat.len() - 1] + 0.5 * (p[0] + p[1]) * (t[1] - t[0]));
    }
    let whole = heat[RAMP_PARTS];
    shares
        .map(|share| {
            let wanted = share * whole;
            let above = heat.partition_point(|&h| h < wanted).clamp(1, RAMP_PARTS);
            let part = (wanted - heat[above - 1]) / (heat[above] - heat[above - 1]);
            times_s[above - 1]
                + part.clamp(0.0, 1.0) * (times_s[above] - times_s[above - 1])
        })
        .collect()
}
