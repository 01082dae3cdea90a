//! The profile climbing in time: states on the way of a diffusion.

use serde::Serialize;

use super::answer;
use super::simulated::Simulated;
use super::solver::Snapshot;
use crate::profile::Profile;

/// States kept on the way.
pub(super) const COUNT: u32 = 5;

/// The first dopant at one time.
#[derive(Clone, Debug)]
pub(super) struct InTime {
    pub(super) time_s: f64,
    pub(super) depth_um: Vec<f64>,
    pub(super) concentration_cm3: Vec<f64>,
}

/// The first dopant of a diffusion at one time on the way.
#[derive(Clone, Debug, Serialize)]
pub struct ProfileInTime {
    /// Time since the beginning in min.
    pub time_min: f64,
    /// The profile then.
    pub profile: Profile,
}

/// Points of a profile on the way, about.
const POINTS: usize = 50;

impl InTime {
    /// A state that the solver has kept, on its nodes.
    pub(super) fn of(mut snapshot: Snapshot, depth_um: &[f64]) -> Self {
        let first = snapshot.concentration_cm3.first_mut();
        Self {
            time_s: snapshot.time_s,
            depth_um: depth_um.to_vec(),
            concentration_cm3: first.map(core::mem::take).unwrap_or_default(),
        }
    }

    /// States at equal steps of the root of time, from depths in um and concentrations at each
    /// share of it.
    pub(super) fn between(
        time_s: f64,
        at_share: impl Fn(f64) -> (Vec<f64>, Vec<f64>),
    ) -> Vec<Self> {
        (1..=COUNT)
            .map(|i| {
                let share = f64::from(i) / f64::from(COUNT + 1);
                let (depth_um, concentration_cm3) = at_share(share);
                Self { time_s: share * share * time_s, depth_um, concentration_cm3 }
            })
            .collect()
    }

    /// As a profile for a chart, no deeper than the result is drawn.
    pub(super) fn drawn(
        &self,
        simulated: &Simulated,
        result: &Profile,
    ) -> Option<ProfileInTime> {
        let (dopant, _) = simulated.dopants.first()?;
        let floor = 1e-3 * simulated.substrate.concentration_cm3;
        let last = self.concentration_cm3.iter().rposition(|&c| floor < c)?;
        let deepest = result.depth_um.last().copied()?;
        let here = self.depth_um.get(last + 1).copied().unwrap_or(deepest);
        let mut profile = Profile {
            depth_um: self.depth_um.clone(),
            dopants: vec![(*dopant, self.concentration_cm3.clone())],
            ..Profile::default()
        };
        answer::thin(&mut profile, here.min(deepest), &[], POINTS);
        Some(ProfileInTime { time_min: self.time_s / 60.0, profile })
    }
}
