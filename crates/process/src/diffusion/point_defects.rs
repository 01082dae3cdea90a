//! Oxidation injects silicon atoms between those of the crystal, which speed the diffusion of
//! boron and phosphorus and slow that of antimony.

use crate::num::{exp, pow};
use crate::units::Temperature;
use crate::vocabulary::{Dopant, Orientation};

/// Where the law of the supersaturation was published.
pub(super) const SUPERSATURATION_SOURCE: &str =
    "Taniguchi, Kurosawa, Kashiwagi, J. Electrochem. Soc. 127, 2243, 1980 (±50 %)";

/// Where the shares of the interstitials stand.
pub(super) const SHARE_SOURCE: &str =
    "Plummer, Deal, Griffin, Silicon VLSI Technology, 2000, table 7-6 (±0.1)";

/// Above this temperature (C) oxidation hardly supersaturates the crystal (memory).
pub(super) const VANISHES_ABOVE_C: f64 = 1150.0;

/// Share of a dopant's diffusion that goes by self-interstitials.
///
/// # Source
/// J. D. Plummer, M. D. Deal, P. B. Griffin, Silicon VLSI Technology, 2000, table 7-6 (memory,
/// 0.1). Acceptors beyond indium: like boron (model choice).
#[must_use]
pub const fn interstitial_share(dopant: Dopant) -> f64 {
    match dopant {
        Dopant::Indium | Dopant::Arsenic => 0.4,
        Dopant::Antimony => 0.02,
        _ => 1.0,
    }
}

/// Self-interstitials under an oxide that grows at `rate_um_h`, over their equilibrium.
///
/// # Model
/// `S = 1 + dD/D*`, `dD = 1.7e-5 R^0.3 exp(-2.08/kT)` with R in um/h, `D* = exp(-3.5/kT)` of
/// boron, in cm2/s; on (111) silicon 0.4 of the excess.
///
/// # Source
/// K. Taniguchi, K. Kurosawa, M. Kashiwagi, J. Electrochem. Soc. 127, 2243, 1980, for boron and
/// phosphorus in (100) (memory, 50 %); `D*`: Plummer, Deal and Griffin 2000, table 7-3 (memory);
/// the factor of (111): memory, 50 %.
#[must_use]
pub fn supersaturation(
    rate_um_h: f64,
    temperature: Temperature,
    orientation: Orientation,
) -> f64 {
    if rate_um_h <= 0.0 {
        return 1.0;
    }
    let kt_ev = temperature.to_kt_ev();
    let face = if orientation == Orientation::Face111 { 0.4 } else { 1.0 };
    1.0 + face * 1.7e-5 * pow(rate_um_h, 0.3) * exp((3.5 - 2.08) / kt_ev)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn supersaturation_follows_the_table_and_falls_with_heat() {
        for (celsius, rate_um_h, expected) in
            [(900.0, 0.02, 7.6), (1000.0, 0.05, 3.9), (1100.0, 0.10, 2.4)]
        {
            let t = Temperature::celsius(celsius);
            let s = supersaturation(rate_um_h, t, Orientation::Face100);
            assert!((s / expected - 1.0).abs() < 0.02, "{celsius} C: {s}");
            let on_111 = supersaturation(rate_um_h, t, Orientation::Face111);
            assert!(((on_111 - 1.0) / (s - 1.0) - 0.4).abs() < 1e-12);
        }
        let t = Temperature::celsius(1000.0);
        assert!((supersaturation(0.0, t, Orientation::Face100) - 1.0).abs() < 1e-15);
    }
}
