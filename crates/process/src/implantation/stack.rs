//! Ions through a stack of layers: how much stops in each, and where.

use super::distribution::DepthDistribution;

/// Less of the dose than this counts as nothing: one ion of the largest dose on a wafer.
const NOTHING: f64 = 1e-30;

/// A material in the beam's way: the layers from the top, then the target.
#[derive(Clone, Debug)]
pub(super) struct Slab {
    /// Where ions stop in this material if it fills all space.
    pub(super) distribution: DepthDistribution,
    /// Thickness in nm; infinite for the target.
    pub(super) thickness_nm: f64,
}

/// What a slab of the stack gets.
#[derive(Clone, Copy, Debug)]
pub(super) struct Share {
    /// Depth in the slab's own distribution at which the slab begins, in nm.
    pub(super) entry_nm: f64,
    /// Factor on the slab's own distribution.
    pub(super) factor: f64,
    /// Share of the dose that arrives at the top of the slab.
    pub(super) arriving: f64,
    /// Share of the dose that stops in the slab.
    pub(super) stopped: f64,
}

/// The dose on its way through the stack.
#[derive(Clone, Debug)]
pub(super) struct Passage {
    /// Share of the dose that leaves through the surface.
    pub(super) lost: f64,
    /// One share per slab, the target last.
    pub(super) shares: Vec<Share>,
}

impl Passage {
    /// The share of the target.
    pub(super) fn target(&self) -> Share {
        self.shares.last().copied().unwrap_or(Share {
            entry_nm: 0.0,
            factor: 0.0,
            arriving: 0.0,
            stopped: 0.0,
        })
    }

    /// Share of the dose per nm at a depth inside slab `i`.
    pub(super) fn density_per_nm(&self, slabs: &[Slab], i: usize, depth_nm: f64) -> f64 {
        let (Some(share), Some(slab)) = (self.shares.get(i), slabs.get(i)) else {
            return 0.0;
        };
        share.factor * slab.distribution.density_per_nm(share.entry_nm + depth_nm)
    }
}

/// Follows the dose from the surface down.
///
/// # Model
/// Numerical dose matching (H. Ryssel and co-workers, 1983; memory): each slab draws its own
/// profile from the depth at which that profile, counted from its surface, holds the dose that
/// already stopped above: `Int_0^x* f_i / Int_0^inf f_i = Q_used / Q`. The dose is conserved
/// exactly. Counting from the surface rather than from minus infinity lets a layer of vanishing
/// thickness vanish. What the first slab's profile has above the surface is lost. Atoms knocked
/// on from one layer into the next are neglected.
pub(super) fn pass(slabs: &[Slab]) -> Passage {
    let lost = slabs.first().map_or(0.0, |slab| slab.distribution.below(0.0));
    let entering = slabs.first().map_or(0.0, |slab| slab.distribution.beyond(0.0));
    // Shares of what entered: stopped so far, and still flying. Both are kept, so that neither
    // a thin screen nor a thick mask loses its digits.
    let (mut used, mut flying) = (0.0, 1.0);
    let mut shares = Vec::with_capacity(slabs.len());
    for (i, slab) in slabs.iter().enumerate() {
        if flying * entering < NOTHING {
            shares.push(Share {
                entry_nm: 0.0,
                factor: 0.0,
                arriving: flying * entering,
                stopped: flying * entering,
            });
            flying = 0.0;
            continue;
        }
        let own = &slab.distribution;
        let (above, kept) = (own.below(0.0), own.beyond(0.0));
        let entry_nm = if i == 0 {
            0.0
        } else {
            own.depth_of_share_nm(above + used * kept, flying * kept).max(0.0)
        };
        let (used_after, flying_after) = if slab.thickness_nm.is_finite() {
            let exit_nm = entry_nm + slab.thickness_nm;
            let after = own.beyond(exit_nm) / kept;
            (((own.below(exit_nm) - above) / kept).max(used), after.min(flying))
        } else {
            (1.0, 0.0)
        };
        shares.push(Share {
            entry_nm,
            factor: entering / kept,
            arriving: flying * entering,
            stopped: (flying - flying_after) * entering,
        });
        (used, flying) = (used_after, flying_after);
    }
    Passage { lost, shares }
}

/// Thickness in nm that layer `chosen` needs so that not more than `leak` of the dose passes
/// all layers; the last slab is the target.
pub(super) fn thickness_for_leak_nm(slabs: &[Slab], chosen: usize, leak: f64) -> f64 {
    let layers = &slabs[..slabs.len().saturating_sub(1)];
    let Some(layer) = layers.get(chosen) else { return 0.0 };
    let entering = slabs.first().map_or(1.0, |slab| slab.distribution.beyond(0.0));
    // From the bottom up: the share that may still fly at the bottom of the chosen layer.
    let mut flying = leak / entering;
    for below in layers[chosen + 1..].iter().rev() {
        let own = &below.distribution;
        let kept = own.beyond(0.0);
        let exit_nm = own.depth_of_share_nm(1.0 - flying * kept, flying * kept);
        let entry_nm = exit_nm - below.thickness_nm;
        if entry_nm <= 0.0 {
            return 0.0;
        }
        flying = own.beyond(entry_nm) / kept;
    }
    let own = &layer.distribution;
    let kept = own.beyond(0.0);
    let exit_nm = own.depth_of_share_nm(1.0 - flying * kept, flying * kept);
    let entry_nm = pass(slabs).shares.get(chosen).map_or(0.0, |share| share.entry_nm);
    (exit_nm - entry_nm).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::super::distribution::Moments;
    use super::*;

    fn slab(mean_nm: f64, sigma_nm: f64, thickness_nm: f64) -> Slab {
        let moments = Moments {
            mean_nm,
            sigma_nm,
            lateral_nm: sigma_nm,
            skewness: 0.0,
            kurtosis: 3.0,
        };
        Slab { distribution: DepthDistribution::gaussian(moments), thickness_nm }
    }

    #[test]
    fn the_dose_is_conserved() {
        let slabs = [
            slab(310.4, 71.0, 100.0),
            slab(223.0, 48.0, 120.0),
            slab(299.4, 71.0, f64::INFINITY),
        ];
        let passage = pass(&slabs);
        let sum: f64 = passage.shares.iter().map(|share| share.stopped).sum();
        assert!((sum + passage.lost - 1.0).abs() < 1e-13);
        assert!(passage.shares.iter().all(|share| 0.0 < share.stopped));
    }

    #[test]
    fn two_halves_of_a_layer_are_one_layer() {
        let target = slab(299.4, 71.0, f64::INFINITY);
        let one = pass(&[slab(310.4, 71.0, 300.0), target.clone()]);
        let two = pass(&[slab(310.4, 71.0, 120.0), slab(310.4, 71.0, 180.0), target]);
        let (one, two) = (one.target(), two.target());
        assert!((one.stopped / two.stopped - 1.0).abs() < 1e-9);
        assert!((one.entry_nm - two.entry_nm).abs() < 1e-6);
    }

    #[test]
    fn a_vanishing_layer_vanishes() {
        let passage = pass(&[slab(874.0, 99.0, 1e-3), slab(852.0, 108.0, f64::INFINITY)]);
        assert!(passage.target().entry_nm < 0.01, "{passage:?}");
        assert!((passage.target().stopped - 1.0).abs() < 1e-9);
    }

    #[test]
    fn the_thickness_for_a_leak_leaks_that_much() {
        for chosen in [0, 1] {
            let mut slabs = vec![
                slab(310.4, 71.0, 60.0),
                slab(223.0, 48.0, 50.0),
                slab(299.4, 71.0, f64::INFINITY),
            ];
            slabs[chosen].thickness_nm = thickness_for_leak_nm(&slabs, chosen, 1e-4);
            let leak = pass(&slabs).target().arriving;
            assert!((leak / 1e-4 - 1.0).abs() < 1e-6, "layer {chosen}: {leak}");
        }
    }
}
