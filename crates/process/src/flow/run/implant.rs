//! Implantation into whatever the beam meets.

use super::etch::top_material;
use super::lithography::thickness_nm;
use super::{Done, Wafer};
use crate::error::RequestError;
use crate::implantation::FlowImplant;
use crate::num::show;
use crate::profile::MAX_CONCENTRATION_CM3;
use crate::vocabulary::{Dopant, Material};
use crate::wafer::implant::{Transmission, implant};

/// Share of the dose below which a mask holds (common practice: a thousandth).
pub(in crate::flow) const LEAK: f64 = 1e-3;

/// Dose per cm2 above which the beam hardens resist (common practice).
pub(in crate::flow) const HARDENS_CM2: f64 = 1e14;

impl Wafer {
    pub(super) fn implant(&mut self, beam: &FlowImplant) -> Result<Done, RequestError> {
        let mut done = Done { hazards: beam.hazards(), ..Done::default() };
        let step = beam.step();
        let tops: Vec<Material> =
            (0..self.section.columns()).map(|i| top_material(&self.section, i)).collect();
        let implanted = implant(&mut self.section, &step);
        self.check_peak(implanted.dopant, step.dose_cm2)?;
        let per_cm = step.dose_cm2 * 1e-7 * self.width_nm();
        done.give("dose_cm2", step.dose_cm2);
        done.give("energy_kev", step.energy_kev);
        done.give("in_silicon_fraction", implanted.silicon_cm / per_cm);
        done.give("in_layers_fraction", implanted.layers_cm / per_cm);
        done.give("lost_fraction", implanted.lost_cm / per_cm);
        done.give("lateral_straggle_nm", implanted.lateral_nm);
        let stacks: Vec<serde_json::Value> = implanted
            .stacks
            .iter()
            .map(|s| {
                serde_json::json!({
                    "from_um": 1e-3 * s.from_x_nm,
                    "to_um": 1e-3 * s.to_x_nm,
                    "transmitted_fraction": s.transmitted,
                })
            })
            .collect();
        done.give("stacks", stacks);
        let opened = implanted.stacks.iter().map(|s| s.transmitted).fold(0.0, f64::max);
        if opened < LEAK {
            done.notes.all(
                "nothing_implanted",
                "energy_kev",
                format!("no {} reaches the silicon anywhere: all of it stops in the layers above", implanted.dopant.label()),
                "open the mask, or remove the oxide that still covers the silicon",
            );
        }
        for mask in [Material::Resist, Material::Nitride, Material::Polysilicon] {
            self.note_leak(mask, &tops, &implanted.stacks, implanted.dopant, &mut done);
        }
        if HARDENS_CM2 < step.dose_cm2
            && let Some(coat) = &mut self.coat
        {
            coat.hardened = true;
        }
        Ok(done)
    }

    /// Says where a mask lets the beam through: the worst place of each kind of mask.
    fn note_leak(
        &self,
        mask: Material,
        tops: &[Material],
        stacks: &[Transmission],
        dopant: Dopant,
        done: &mut Done,
    ) {
        let section = &self.section;
        let worst = stacks
            .iter()
            .filter(|s| LEAK < s.transmitted)
            .filter(|s| {
                let column = section.column_at(0.5 * (s.from_x_nm + s.to_x_nm));
                // Walls are as thin as their slope makes them: they are no mask by themselves.
                tops.get(column) == Some(&mask) && WALL_NM < s.to_x_nm - s.from_x_nm
            })
            .max_by(|a, b| a.transmitted.total_cmp(&b.transmitted));
        if let Some(s) = worst {
            let x_nm = 0.5 * (s.from_x_nm + s.to_x_nm);
            let nm = thickness_nm(section, section.column_at(x_nm), mask);
            done.notes.at(
                "mask_too_thin",
                "energy_kev",
                format!(
                    "{} of {} µm lets {} % of the {} through",
                    mask.label(),
                    show(1e-3 * nm),
                    show(100.0 * s.transmitted),
                    dopant.label()
                ),
                "use a lower energy or a thicker mask",
                1e-3 * x_nm,
            );
        }
    }

    fn width_nm(&self) -> f64 {
        let edges = self.section.edges_nm();
        edges[edges.len() - 1] - edges[0]
    }

    /// More atoms than silicon has cannot be there.
    fn check_peak(&self, dopant: Dopant, dose_cm2: f64) -> Result<(), RequestError> {
        let peak_cm3 =
            self.section.silicon_cm3(dopant).iter().copied().fold(0.0, f64::max);
        if peak_cm3 <= MAX_CONCENTRATION_CM3 {
            return Ok(());
        }
        let allowed = format!("less than {} cm⁻²", show(dose_cm2));
        Err(RequestError::conflict(
            "dose_cm2",
            &dose_cm2.to_string(),
            &allowed,
            &format!(
                "dose_cm2: there would be {} {} atoms per cm3, more than silicon has (allowed: {allowed})",
                show(peak_cm3),
                dopant.label()
            ),
            "lower the dose, or implant in fewer steps",
        ))
    }
}

/// Stretches narrower than this are walls, in nm.
pub(in crate::flow) const WALL_NM: f64 = 30.0;
