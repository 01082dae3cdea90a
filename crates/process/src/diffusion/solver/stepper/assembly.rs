//! The linear system of a Newton step: one row for each node, from the surface down.

use super::super::block::{Reduced, Row};
use super::super::boundary::Surface;
use super::super::flux::Mixture;
use super::super::unrolled::each;
use super::Stepper;

impl<const K: usize> Stepper<'_, K> {
    /// The dopants as the equations need them now.
    pub(super) fn mixture(&self) -> Mixture<K> {
        Mixture::new(&self.species, self.crystal)
    }

    /// The state of every node of `next`.
    pub(super) fn find_nodes(&mut self, mixture: &Mixture<K>) {
        for (node, c) in self.nodes.iter_mut().zip(&self.next) {
            *node = mixture.node(c);
        }
    }

    /// The flux through every face of `next`, from its nodes.
    pub(super) fn find_faces(&mut self, mixture: &Mixture<K>) {
        let pairs = self.nodes.iter().zip(&self.nodes[1..]);
        for ((face, (above, below)), &per_spacing) in
            self.faces.iter_mut().zip(pairs).zip(&self.per_spacing)
        {
            *face = mixture.flux(above, below, per_spacing);
        }
        if let Some(motion) = &self.motion {
            for (i, face) in self.faces.iter_mut().enumerate() {
                motion.change(face, i, &self.next[i], &self.next[i + 1]);
            }
        }
    }

    /// Lays out the linear system of a Newton step and eliminates it from the surface down.
    ///
    /// In three rounds, nodes, faces and rows: a processor works on several nodes or faces at
    /// once, but each row has to wait for the one above.
    pub(super) fn assemble(&mut self, dt: f64, new: f64) {
        let mixture = self.mixture();
        self.find_nodes(&mixture);
        self.find_faces(&mixture);
        let mut rows = core::mem::take(&mut self.rows);
        self.eliminate(1.0 / dt, new, &mut rows);
        self.rows = rows;
    }

    #[inline(never)]
    fn eliminate(&self, per_dt: f64, new: f64, rows: &mut [Reduced<K>]) {
        let n = rows.len();
        let (next, known) = (&self.next[..n], &self.known[..n]);
        let volume = &self.grid.volume_cm()[..n];
        let faces = &self.faces[..n - 1];
        let begin = |i: usize| {
            let per_time = volume[i] * per_dt;
            let mut row = Row::default();
            each!(k in K {
                row.right[k] = per_time * (known[i][k] - new * next[i][k]);
                row.diagonal[k][k] = new * per_time;
            });
            row
        };
        let mut row = begin(0);
        row.leave(&faces[0]);
        let mut above = self.bound(row).eliminate(&Reduced::default());
        rows[0] = above;
        for i in 1..n - 1 {
            let mut row = begin(i);
            row.enter(&faces[i - 1]);
            row.leave(&faces[i]);
            above = row.eliminate(&above);
            rows[i] = above;
        }
        let mut row = begin(n - 1);
        row.enter(&faces[n - 2]);
        if let Some(motion) = &self.motion {
            each!(k in K {
                row.right[k] += motion.inflow(k);
            });
        }
        rows[n - 1] = row.eliminate(&above);
    }

    /// Puts the condition at the surface into the row of the surface node.
    fn bound(&self, mut row: Row<K>) -> Row<K> {
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
        row
    }
}
