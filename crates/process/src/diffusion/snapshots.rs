//! The profile climbing in time: states on the way of a diffusion.

use serde::Serialize;

use super::layer::Layer;
use super::simulated::Simulated;
use super::solver::Snapshot;
use crate::profile::Profile;

/// States kept on the way.
pub(super) const COUNT: u32 = 5;

/// The first dopant at one time, at the depths of the result.
#[derive(Clone, Debug)]
pub(super) struct InTime {
    pub(super) time_s: f64,
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

impl From<Snapshot> for InTime {
    fn from(mut snapshot: Snapshot) -> Self {
        let first = snapshot.concentration_cm3.first_mut();
        Self {
            time_s: snapshot.time_s,
            concentration_cm3: first.map(core::mem::take).unwrap_or_default(),
        }
    }
}

impl InTime {
    /// States at equal steps of the root of time, from the concentrations at each share of it.
    pub(super) fn between(time_s: f64, at_share: impl Fn(f64) -> Vec<f64>) -> Vec<Self> {
        (1..=COUNT)
            .map(|i| {
                let share = f64::from(i) / f64::from(COUNT + 1);
                Self {
                    time_s: share * share * time_s,
                    concentration_cm3: at_share(share),
                }
            })
            .collect()
    }

    /// As a profile at the depths of the result.
    pub(super) fn drawn(
        &self,
        simulated: &Simulated,
        result: &Profile,
    ) -> Option<ProfileInTime> {
        let (dopant, _) = simulated.dopants.first()?;
        if self.concentration_cm3.len() != simulated.depth_um.len() {
            return None;
        }
        let between = Layer::from_points(&simulated.depth_um, &self.concentration_cm3);
        let c = result.depth_um.iter().map(|&x| between.concentration_cm3(x)).collect();
        let profile = Profile {
            depth_um: result.depth_um.clone(),
            dopants: vec![(*dopant, c)],
            ..Profile::default()
        };
        Some(ProfileInTime { time_min: self.time_s / 60.0, profile })
    }
}
