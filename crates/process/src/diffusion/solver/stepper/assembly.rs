//! The linear system of a Newton step: one row for each node, from the surface down.

use super::super::block::Row;
use super::super::boundary::Surface;
use super::super::flux::{Flux, NodeState, flux};
use super::Stepper;

impl<const K: usize> Stepper<'_, K> {
    pub(super) fn state(&self, i: usize) -> NodeState<K> {
        NodeState::new(&self.species, self.crystal, &self.next[i])
    }

    /// The flux between node `i` and the next.
    pub(super) fn face_flux(
        &self,
        i: usize,
        above: &NodeState<K>,
        below: &NodeState<K>,
    ) -> Flux<K> {
        let mut flux = flux(&self.species, above, below, self.grid.spacing_cm()[i]);
        if let Some(motion) = &self.motion {
            motion.change(&mut flux, i, &self.next[i], &self.next[i + 1]);
        }
        flux
    }

    /// Lays out the linear system of a Newton step and eliminates it from the surface down;
    /// gives the flux below the surface node.
    pub(super) fn assemble(
        &mut self,
        dt: f64,
        new: f64,
    ) -> Option<Flux<K>> {
        let n = self.grid.len();
        let mut here = self.state(0);
        let mut above: Option<Flux<K>> = None;
        let mut first_face: Option<Flux<K>> = None;
        for i in 0..n {
            self.sensitivity[i] = here.sensitivity;
            let per_time = self.grid.volume_cm()[i] / dt;
            let mut row = Row::default();
            for k in 0..K {
                row.right[k] = per_time * (self.known[i][k] - new * self.next[i][k]);
                row.diagonal[k][k] = new * per_time;
            }
            if let Some(flux) = &above {
                for k in 0..K {
                    row.right[k] += flux.value[k];
                    for l in 0..K {
                        row.lower[k][l] = -flux.by_above[k][l];
                        row.diagonal[k][l] -= flux.by_below[k][l];
                    }
                }
            }
            if i + 1 < n {
                let below = self.state(i + 1);
                let flux = self.face_flux(i, &here, &below);
                for k in 0..K {
                    row.right[k] -= flux.value[k];
                    for l in 0..K {
                        row.upper[k][l] = flux.by_below[k][l];
                        row.diagonal[k][l] += flux.by_above[k][l];
                    }
                }
                if i == 0 {
                    first_face = Some(flux);
                    self.bound(&mut row);
                }
                above = Some(flux);
                here = below;
            } else if let Some(motion) = &self.motion {
                for k in 0..K {
                    row.right[k] += motion.inflow(k);
                }
            }
            self.system.eliminate(i, row);
        }
        first_face
    }

    /// Puts the condition at the surface into the row of the surface node.
    fn bound(&self, row: &mut Row<K>) {
        for k in 0..K {
            let speed = match self.surface[k] {
                Surface::Closed => continue,
                Surface::Loss(speed) => speed,
                Surface::Oxide => self.uptake_cm_s(k),
                Surface::Held(c) => {
                    row.diagonal[k] = [0.0; K];
                    row.upper[k] = [0.0; K];
                    row.diagonal[k][k] = 1.0;
                    row.right[k] = c - self.next[0][k];
                    continue;
                }
            };
            row.diagonal[k][k] += speed;
            row.right[k] -= speed * self.next[0][k];
        }
    }
}
