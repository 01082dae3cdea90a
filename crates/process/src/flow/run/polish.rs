//! Planarization: a plane comes down, as fast as the load on what stands out lets it.

use super::lithography::thickness_nm;
use super::{Done, Wafer};
use crate::error::RequestError;
use crate::num::sort_increasing;
use crate::polishing::{FlowPolish, PolishEnd};
use crate::vocabulary::Material;
use crate::wafer::Section;
use crate::wafer::topography::polish_to;

impl Wafer {
    pub(super) fn polish(&mut self, polish: &FlowPolish) -> Result<Done, RequestError> {
        let mut done = Done { hazards: polish.hazards(), ..Done::default() };
        let highest = highest_nm(&self.section);
        let plane_nm = match polish.end {
            PolishEnd::Time(time_s) => {
                done.give("time_s", time_s);
                plane_after(&self.section, polish, time_s)
            }
            PolishEnd::Left(left_nm) => {
                let plane_nm = plane_leaving(&self.section, polish.material, left_nm)?;
                done.give("time_s", time_to_s(&self.section, polish, plane_nm));
                plane_nm
            }
        };
        let lowest_nm = -self.section.depths_nm()[self.section.cells()] + BOTTOM_NM;
        if plane_nm < lowest_nm {
            return Err(RequestError::conflict(
                "time_s",
                "",
                "a time that leaves silicon",
                "time_s: the pad would go through all the silicon that is computed",
                "polish for a shorter time",
            ));
        }
        let (before_nm, _) = steps_nm(&self.section);
        polish_to(&mut self.section, plane_nm);
        let (step_nm, _) = steps_nm(&self.section);
        done.give("removed_nm", highest - plane_nm);
        done.give("rate_nm_min", polish.rate_nm_min);
        done.give("initial_step_height_nm", before_nm);
        done.give("step_height_nm", step_nm);
        let (thin, thick) = self.thickness_range_nm(polish.material);
        done.give("remaining_nm", thin);
        done.give("thickest_nm", thick);
        if thick <= 0.0 {
            done.notes.all(
                "film_gone",
                "time_s",
                format!("the {} is gone everywhere", polish.material.label()),
                "polish for a shorter time, or add a stop layer",
            );
        }
        Ok(done)
    }
}

/// Silicon that stays at the bottom of what is computed, in nm.
const BOTTOM_NM: f64 = 100.0;

fn highest_nm(section: &Section) -> f64 {
    (0..section.columns()).fold(f64::NEG_INFINITY, |high, i| high.max(section.top_nm(i)))
}

/// Highest less lowest top in nm, and the highest.
fn steps_nm(section: &Section) -> (f64, f64) {
    let high = highest_nm(section);
    let low =
        (0..section.columns()).fold(f64::INFINITY, |low, i| low.min(section.top_nm(i)));
    (high - low, high)
}

/// Every height at which the load or a material changes, from the top down.
fn levels_nm(section: &Section) -> Vec<f64> {
    let mut levels: Vec<f64> = Vec::new();
    for i in 0..section.columns() {
        levels.push(section.silicon_top_nm(i));
        levels.extend(section.layers(i).iter().map(|layer| layer.top_nm));
    }
    levels.push(-section.depths_nm()[section.cells()]);
    sort_increasing(&mut levels);
    levels.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    levels.reverse();
    levels
}

/// Time in min per nm of a stiff pad's way down through a height: what stands out bears the whole
/// load, each material at its rate (`sum of width / rate` over the width of the wafer).
fn slowness_min_nm(section: &Section, polish: &FlowPolish, z_nm: f64) -> f64 {
    let mut sum = 0.0;
    let mut whole = 0.0;
    for i in 0..section.columns() {
        let width_nm = section.width_nm(i);
        whole += width_nm;
        if let Some(material) = section.matter_at(i, z_nm).material() {
            sum += width_nm / polish.rate_of(material);
        }
    }
    sum / whole
}

/// The plane in nm after a time in s.
fn plane_after(section: &Section, polish: &FlowPolish, time_s: f64) -> f64 {
    let mut left_min = time_s / 60.0;
    let levels = levels_nm(section);
    let mut plane = levels.first().copied().unwrap_or(0.0);
    for pair in levels.windows(2) {
        let slowness = slowness_min_nm(section, polish, 0.5 * (pair[0] + pair[1]));
        let needed_min = slowness * (pair[0] - pair[1]);
        if left_min <= needed_min && 0.0 < slowness {
            return pair[0] - left_min / slowness;
        }
        left_min -= needed_min;
        plane = pair[1];
    }
    plane
}

/// Time in s until the plane is at a height in nm.
fn time_to_s(section: &Section, polish: &FlowPolish, plane_nm: f64) -> f64 {
    let mut time_min = 0.0;
    for pair in levels_nm(section).windows(2) {
        let low = pair[1].max(plane_nm);
        if low < pair[0] {
            let slowness = slowness_min_nm(section, polish, 0.5 * (pair[0] + low));
            time_min += slowness * (pair[0] - low);
        }
    }
    60.0 * time_min
}

/// The plane in nm that leaves a thickness of film on the highest place that has it.
fn plane_leaving(
    section: &Section,
    material: Material,
    left_nm: f64,
) -> Result<f64, RequestError> {
    let mut best: Option<(f64, f64)> = None;
    for i in 0..section.columns() {
        let film_nm = thickness_nm(section, i, material);
        if film_nm <= 0.0 {
            continue;
        }
        let top_nm = section.top_nm(i);
        let floor_nm = top_nm - film_nm;
        if best.is_none_or(|(floor, _)| floor < floor_nm) {
            best = Some((floor_nm, film_nm));
        }
    }
    let Some((floor_nm, film_nm)) = best else {
        return Err(RequestError::conflict(
            "material",
            material.word(),
            "a film that is on the wafer",
            &format!("material: there is no {} to polish", material.label()),
            "name the film that is on top",
        ));
    };
    if film_nm < left_nm {
        return Err(RequestError::conflict(
            "target_nm",
            &left_nm.to_string(),
            &format!("at most {film_nm} nm"),
            &format!(
                "target_nm: polishing leaves no more than the {film_nm} nm that are there"
            ),
            "ask for less than the film that is there",
        ));
    }
    Ok(floor_nm + left_nm)
}
