//! What is counted while ions fly: where they rest, and where they hand energy to atoms.

/// Bars of one slab.
#[derive(Clone, Debug)]
struct Bars {
    top_nm: f64,
    width_nm: f64,
    /// No more bars than fit in the slab.
    most: usize,
    ions: Vec<u32>,
    nuclear_ev: Vec<f64>,
}

impl Bars {
    #[inline]
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a depth in the slab; a float turned to a whole number saturates"
    )]
    fn of(&self, depth_nm: f64) -> usize {
        (((depth_nm - self.top_nm) / self.width_nm) as usize).min(self.most - 1)
    }
}

/// An ion at rest.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stop {
    /// Way along the beam in nm, from where the ion entered.
    pub(super) along_nm: f64,
    /// Mean square of the two ways across the beam in nm2.
    pub(super) across_nm2: f64,
    /// Depth below the top of the stack in nm.
    pub(super) depth_nm: f64,
}

/// One bar of the histogram.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Bar {
    pub(super) from_nm: f64,
    pub(super) to_nm: f64,
    pub(super) ions: u32,
    pub(super) nuclear_ev: f64,
}

/// The counts of a run.
#[derive(Clone, Debug)]
pub(super) struct Tally {
    slabs: Vec<Bars>,
    pub(super) stops: Vec<Stop>,
    pub(super) backscattered: u32,
    pub(super) nuclear_ev: f64,
}

/// More bars than a picture or a table can use: layers are not cut finer.
const MOST_BARS: f64 = 100_000.0;

impl Tally {
    /// Empty counts, in bars of about one width; whole bars fill each layer.
    pub(super) fn new(
        slabs: impl Iterator<Item = (f64, f64)>,
        width_nm: f64,
        ions: u32,
    ) -> Self {
        let slabs = slabs
            .map(|(top_nm, thickness_nm)| {
                let finite = thickness_nm.is_finite();
                let most = if finite {
                    (thickness_nm / width_nm).ceil().clamp(1.0, MOST_BARS)
                } else {
                    MOST_BARS
                };
                Bars {
                    top_nm,
                    width_nm: if finite { thickness_nm / most } else { width_nm },
                    most: crate::num::to_count(most),
                    ions: Vec::new(),
                    nuclear_ev: Vec::new(),
                }
            })
            .collect();
        Self {
            slabs,
            stops: Vec::with_capacity(ions as usize),
            backscattered: 0,
            nuclear_ev: 0.0,
        }
    }

    /// Counts energy handed over in a collision.
    #[inline]
    pub(super) fn hand_over(&mut self, slab: usize, depth_nm: f64, energy_ev: f64) {
        self.nuclear_ev += energy_ev;
        let bars = &mut self.slabs[slab];
        let bar = bars.of(depth_nm);
        if bars.nuclear_ev.len() <= bar {
            bars.nuclear_ev.resize(bar + 1, 0.0);
        }
        bars.nuclear_ev[bar] += energy_ev;
    }

    /// Counts an ion at rest.
    pub(super) fn rest(&mut self, slab: usize, stop: Stop) {
        let bars = &mut self.slabs[slab];
        let bar = bars.of(stop.depth_nm);
        if bars.ions.len() <= bar {
            bars.ions.resize(bar + 1, 0);
        }
        bars.ions[bar] += 1;
        self.stops.push(stop);
    }

    /// Ions at rest in a slab.
    pub(super) fn ions_in(&self, slab: usize) -> u32 {
        self.slabs.get(slab).map_or(0, |bars| bars.ions.iter().sum())
    }

    /// The bars of a slab, down to the deepest that holds anything.
    pub(super) fn bars(&self, slab: usize) -> Vec<Bar> {
        let Some(bars) = self.slabs.get(slab) else { return Vec::new() };
        let filled = bars.ions.len().max(bars.nuclear_ev.len());
        let mut from_nm = bars.top_nm;
        (0..filled)
            .map(|i| {
                let to_nm = bars.top_nm + count(i + 1) * bars.width_nm;
                let bar = Bar {
                    from_nm,
                    to_nm,
                    ions: bars.ions.get(i).copied().unwrap_or(0),
                    nuclear_ev: bars.nuclear_ev.get(i).copied().unwrap_or(0.0),
                };
                from_nm = to_nm;
                bar
            })
            .collect()
    }

    /// Width of the bars of a slab in nm.
    pub(super) fn width_nm(&self, slab: usize) -> f64 {
        self.slabs.get(slab).map_or(1.0, |bars| bars.width_nm)
    }
}

#[expect(clippy::cast_precision_loss, reason = "a count below 2^53")]
fn count(n: usize) -> f64 {
    n as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bars_fill_each_layer_and_miss_nothing() {
        let slabs = [(0.0, 25.0), (25.0, f64::INFINITY)];
        let mut tally = Tally::new(slabs.into_iter(), 10.0, 3);
        for (slab, depth_nm) in [(0, 0.0), (0, 25.0), (1, 25.0), (1, 70.0)] {
            tally.rest(slab, Stop { along_nm: 0.0, across_nm2: 0.0, depth_nm });
            tally.hand_over(slab, depth_nm, 2.0);
        }
        let upper = tally.bars(0);
        assert_eq!(upper.len(), 3);
        assert!((upper[2].to_nm - 25.0).abs() < 1e-12);
        assert_eq!((upper[0].ions, upper[2].ions), (1, 1));
        let lower = tally.bars(1);
        assert!((lower[0].from_nm - 25.0).abs() < 1e-12);
        assert_eq!(lower.iter().map(|bar| bar.ions).sum::<u32>(), 2);
        let energy: f64 = upper.iter().chain(&lower).map(|bar| bar.nuclear_ev).sum();
        assert!((energy - 8.0).abs() < 1e-12);
    }
}
