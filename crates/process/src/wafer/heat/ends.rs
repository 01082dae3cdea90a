//! What passes the upper ends of depth lines: a source that holds the surface, an oxide that grows.

use super::lines::{LANES, Lanes};
use super::moment::Moment;
use crate::diffusion::solver::active_part;

/// What happens at the surface end of the lines for one dopant.
#[derive(Clone, Copy, Debug)]
pub(super) enum End {
    /// Nothing passes.
    Closed,
    /// A source holds `surface_cm3` half a cell above the first cell of the open lines.
    Held {
        /// Concentration at the surface per cm3.
        surface_cm3: f64,
        /// The first cell of each open line; beyond the end for the others.
        first: [usize; LANES],
    },
    /// An oxide grows and takes up its share of the concentration at the interface.
    Oxide {
        /// What grows in the time of the solve by line, in nm.
        grown_nm: Lanes,
        /// The first cell of each line.
        first: [usize; LANES],
    },
}

impl End {
    /// The concentration that a source brings to the surface.
    pub(super) const fn brings_cm3(&self) -> f64 {
        match self {
            Self::Held { surface_cm3, .. } => *surface_cm3,
            Self::Closed | Self::Oxide { .. } => 0.0,
        }
    }
}

/// Terms of the surface in the first cells' equations.
pub(super) struct Edge {
    /// Cells below this one have none.
    pub(super) nodes: usize,
    pub(super) first: [usize; LANES],
    pub(super) diagonal: Lanes,
    pub(super) known: Lanes,
}

#[expect(
    clippy::too_many_arguments,
    reason = "the parts of the lines that are borrowed apart"
)]
pub(super) fn held_edge(
    moment: &Moment,
    d: usize,
    tau_s: f64,
    values: &[Vec<Lanes>],
    volume: &[Lanes],
    own: &[Lanes],
    product: &[Lanes],
    end: &End,
) -> Edge {
    let mobiles = &moment.mobiles;
    let mut edge = Edge {
        nodes: 0,
        first: [usize::MAX; LANES],
        diagonal: [0.0; LANES],
        known: [0.0; LANES],
    };
    match *end {
        End::Closed => {}
        End::Oxide { grown_nm, first } => {
            edge.first = first;
            for l in 0..LANES {
                let Some(height) = volume.get(first[l]).map(|v| v[l]) else { continue };
                let dt_nm2 = tau_s * mobiles[d].at(own[first[l]][l]);
                let m = mobiles[d].segregation;
                edge.diagonal[l] = uptake_nm(m, dt_nm2, 0.5 * height, grown_nm[l]);
            }
        }
        End::Held { surface_cm3, first } => {
            edge.first = first;
            for l in 0..LANES {
                let i = first[l];
                let Some(height) = volume.get(i).map(|v| v[l]) else { continue };
                let at = |other: usize| {
                    if other == d { surface_cm3 } else { values[other][i][l] }
                };
                let net: f64 = mobiles
                    .iter()
                    .enumerate()
                    .map(|(k, mobile)| {
                        mobile.charge * active_part(at(k), mobile.limit()).0
                    })
                    .sum();
                let (ratio, _) =
                    crate::diffusion::solver::electrons(net, moment.intrinsic_cm3);
                let mobile = &mobiles[d];
                let a = mobile.own_carriers(ratio);
                let b = own[i][l];
                let [two_neutral, single, double] = mobile.weights(tau_s);
                let square = a * a + a * b + b * b;
                let coupling =
                    2.0 / height * ((two_neutral + double * square) / (a + b) + single);
                edge.diagonal[l] = coupling * product[i][l];
                edge.known[l] = coupling * a * active_part(surface_cm3, mobile.limit()).0;
            }
        }
    }
    edge.nodes =
        edge.first.iter().filter(|&&i| i < volume.len()).max().map_or(0, |&i| i + 1);
    edge
}

/// Height of silicon in nm whose atoms the oxide takes as it grows by `grown_nm`: `1/m` of the
/// concentration at the interface, which follows from that in the middle of the first cell,
/// half a cell deeper, by the flux between them.
///
/// # Model
/// The interface passes `C(0)/m - 0.44 C(0)` per grown oxide to the silicon's frame, so that
/// `C(0) = C / (1 + h (1/m - 0.44) v / D)` (derived); the factor is held between 0.5 and 2,
/// which it leaves only where the step in time is too long for the cell.
fn uptake_nm(segregation: f64, dt_nm2: f64, half_nm: f64, grown_nm: f64) -> f64 {
    if grown_nm <= 0.0 {
        return 0.0;
    }
    let per_m = 1.0 / segregation;
    let slope = half_nm * (per_m - crate::constants::SILICON_PER_OXIDE) * grown_nm;
    let factor = if 0.0 < dt_nm2 { 1.0 / (1.0 + slope / dt_nm2).max(0.5) } else { 1.0 };
    per_m * grown_nm * factor.clamp(0.5, 2.0)
}
