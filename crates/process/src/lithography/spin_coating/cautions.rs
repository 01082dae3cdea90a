//! What a reader should know before trusting a film thickness.

use super::request::{SPEED_RPM, Spin};
use super::{LEAST_REACH, SKIN_SOLIDS_FRACTION, SpinCoatingResults, TURBULENT_REYNOLDS};
use crate::num::show;
use crate::report::Warning;

pub(super) fn warnings(spin: &Spin, results: &SpinCoatingResults) -> Vec<Warning> {
    let mut list = Vec::new();
    SPEED_RPM.warn_outside(spin.speed_rpm, "the table of the demo resists", &mut list);
    let reached_rpm = results.curve.speed_rpm.last().copied().unwrap_or_default();
    if reached_rpm < spin.speed_rpm - 1e-6 {
        list.push(Warning::new(
            "speed_not_reached",
            "acceleration_rpm_s",
            &format!(
                "the chuck reaches only {} rpm of {} rpm before the spin ends",
                show(reached_rpm),
                spin.speed_rpm
            ),
            "accelerate faster or spin longer",
        ));
    }
    if results.dry_s.is_none() {
        let solvent_percent = 100.0 * (1.0 - results.solids_fraction);
        let last_percent = 100.0 * (1.0 - SKIN_SOLIDS_FRACTION);
        list.push(Warning::new(
            "not_dry",
            "time_s",
            &format!(
                "the film still holds {} % of solvent at the end of the spin (dry: {} %); it would flow when the wafer stops",
                show(solvent_percent),
                show(last_percent)
            ),
            "spin longer or faster",
        ));
    }
    if TURBULENT_REYNOLDS < results.rim_reynolds {
        list.push(Warning::new(
            "turbulent_rim",
            "speed_rpm",
            &format!(
                "the air over the rim of a {} mm wafer is turbulent above {} rpm (Reynolds number {} against {}): the film is thicker and streaky there",
                spin.wafer_diameter_mm,
                show(results.turbulent_speed_rpm),
                show(results.rim_reynolds),
                show(TURBULENT_REYNOLDS)
            ),
            "spin slower and take a thinner resist",
        ));
    }
    let edge_mm = 0.5 * spin.wafer_diameter_mm;
    if let Some(radius_mm) = results.puddle_radius_mm
        && radius_mm < LEAST_REACH * edge_mm
    {
        list.push(Warning::new(
            "incomplete_coverage",
            "dispense_ml",
            &format!(
                "{} ml make a puddle of {} mm radius on a wafer of {} mm: dry streaks stay toward the edge",
                show(results.dispense_ml),
                show(radius_mm),
                spin.wafer_diameter_mm
            ),
            "dispense more, or let the wafer turn slowly while you do",
        ));
    }
    if let Some(step) = &results.step
        && !step.covered
    {
        list.push(Warning::new(
            "step_not_covered",
            "step.height_nm",
            &format!(
                "{} nm stand higher than the liquid when it stops to flow: the resist does not cover the step",
                show(step.height_nm)
            ),
            "take a thicker resist or spin slower",
        ));
    }
    list
}
