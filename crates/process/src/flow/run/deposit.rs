//! Films that are deposited.

use super::{Done, Wafer};
use crate::deposition::coverage::Arrival;
use crate::deposition::{FlowDeposition, Method};
use crate::num::show;
use crate::wafer::topography::{Addition, Coverage, coat, deposit};
use crate::wafer::{DOPANTS, Matter};

/// Length over which spun glass levels, in nm (model choice: thin liquid levels less far than
/// resist).
pub(in crate::flow) const LEVELS_NM: f64 = 3000.0;

/// Area of a void that is spoken of, in nm2.
pub(in crate::flow) const NOTICED_NM2: f64 = 100.0;

impl Wafer {
    pub(super) fn deposit(&mut self, deposition: &FlowDeposition) -> Done {
        let mut done = Done { hazards: deposition.hazards(), ..Done::default() };
        let recipe = deposition.recipe();
        if matches!(recipe.method, Method::Lpcvd | Method::Pecvd) {
            self.note_heat(deposition.temperature_c(), &mut done);
        }
        let film = deposition.film();
        let thickness_nm = deposition.thickness_nm();
        let mut dopants_cm3 = [0.0; DOPANTS];
        if let Some((dopant, cm3)) = deposition.doping() {
            dopants_cm3[dopant as usize] = cm3;
        }
        let matter = Matter::Film(film);
        let coverage = match recipe.arrival {
            Arrival::Everywhere => Some(Coverage::Conformal),
            Arrival::Diffuse { everywhere } => {
                Some(Coverage::Directional { wall_share: everywhere })
            }
            Arrival::Beam => Some(Coverage::Beam),
            Arrival::Liquid => None,
        };
        let added = match coverage {
            Some(coverage) => deposit(
                &mut self.section,
                &Addition { matter, dopants_cm3, thickness_nm, coverage },
            ),
            None => coat(&mut self.section, matter, thickness_nm, LEVELS_NM),
        };
        done.give("thickness_nm", thickness_nm);
        if let Some(rate) = deposition.rate_nm_min() {
            done.give("rate_nm_min", rate);
        }
        if let Some(time_min) = deposition.time_min() {
            done.give("time_min", time_min);
        }
        done.give("temperature_c", deposition.temperature_c());
        done.give("method", recipe.method.word());
        done.give("closed_voids_nm2", added.closed_voids_nm2);
        if NOTICED_NM2 < added.closed_voids_nm2 {
            done.notes.all(
                "closed_void",
                "",
                format!("the film shuts {} nm² of gas in", show(added.closed_voids_nm2)),
                "cover the steps with a thinner or more conformal film",
            );
        }
        let (thin, thick) = self.thickness_range_nm(film.material);
        done.give("thinnest_nm", thin);
        done.give("thickest_nm", thick);
        done
    }
}
