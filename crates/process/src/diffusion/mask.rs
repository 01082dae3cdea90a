//! How much oxide keeps a predeposition out of the silicon below it.
//!
//! A source that forms an oxide of its dopant turns the mask into dopant glass with a sharp
//! front; ahead of the front the dopant diffuses in the sound oxide, far more slowly than in
//! silicon (gallium and aluminum excepted).

use super::diffusivity::Arrhenius;
use super::request::MASK_MARGIN;
use crate::num::show;
use crate::report::{Warning, WorkingLine};
use crate::units::Temperature;
use crate::vocabulary::Dopant;

/// Sound oxide under which no mask should go, in nm: thinner films have pinholes, and for boron
/// the front is only the chemical limit (common practice).
pub(super) const LEAST_NM: f64 = 30.0;
/// Depth over `sqrt(D t)` at which a ten thousandth of the surface concentration arrives (model
/// choice): twice the inverse of erfc at 1e-4.
pub(super) const REACH: f64 = 5.502;

/// Rate `Kg` of the glass front `d = sqrt(Kg t)`; `None` where no value is at hand.
///
/// # Source
/// C. T. Sah, H. Sello, D. A. Tremere 1959 and S. K. Ghandhi, VLSI Fabrication Principles
/// (memory, factor 2): P2O5 and B2O3.
#[must_use]
pub const fn glass_front(dopant: Dopant) -> Option<Arrhenius> {
    match dopant {
        Dopant::Phosphorus => Some(Arrhenius::new(1.7e-7, 1.46)),
        Dopant::Boron => Some(Arrhenius::new(4.9e-5, 2.80)),
        _ => None,
    }
}

/// Diffusivity in sound silicon dioxide; `None` where no value is at hand.
///
/// # Source
/// M. Ghezzo, D. M. Brown, J. Electrochem. Soc. 120, 146, 1973 and textbook tables (memory,
/// factor 3).
#[must_use]
pub const fn oxide_diffusivity(dopant: Dopant) -> Option<Arrhenius> {
    match dopant {
        Dopant::Boron => Some(Arrhenius::new(3.16e-4, 3.53)),
        Dopant::Phosphorus => Some(Arrhenius::new(0.19, 4.03)),
        Dopant::Arsenic => Some(Arrhenius::new(250.0, 4.90)),
        Dopant::Antimony => Some(Arrhenius::new(1.31e16, 8.75)),
        Dopant::Gallium => Some(Arrhenius::new(1.04e5, 4.17)),
        Dopant::Indium | Dopant::Aluminum => None,
    }
}

/// Another published diffusivity of boron in silicon dioxide: 48.8 kcal/mol.
///
/// # Source
/// Kawagishi et al., J. Electrochem. Soc. 144, 3270, 1997 (read: abstract page).
///
/// # Validity
/// 900 to 1100 C.
pub const BORON_OXIDE_1997: Arrhenius = Arrhenius::new(1.88e-7, 2.116);

/// The oxide that a predeposition needs as a mask.
#[derive(Clone, Debug, Default)]
pub(super) struct Mask {
    /// The least thickness in nm; `None` if oxide does not mask or nothing is known.
    pub(super) least_nm: Option<f64>,
    pub(super) working: Vec<WorkingLine>,
    pub(super) warnings: Vec<Warning>,
}

/// Depth in nm at which the concentration in an oxide has fallen to a ten thousandth.
fn reach_nm(in_oxide: Arrhenius, temperature: Temperature, time_s: f64) -> f64 {
    REACH * (in_oxide.at(temperature) * time_s).sqrt() * 1e7
}

/// Depth in nm of a glass front.
#[must_use]
pub fn front_nm(rate: Arrhenius, temperature: Temperature, time_s: f64) -> f64 {
    (rate.at(temperature) * time_s).sqrt() * 1e7
}

/// The mask of a predeposition with its working.
pub(super) fn mask(dopant: Dopant, temperature: Temperature, time_s: f64) -> Mask {
    let mut mask = Mask::default();
    let kt = temperature.to_kt_ev();
    if dopant.is_diffusion_only() {
        mask.warnings.push(Warning::new(
            "oxide_does_not_mask",
            "dopant",
            &format!(
                "silicon dioxide does not hold {} back: oxide is no mask for it",
                dopant.word()
            ),
            "mask with about 100 nm of silicon nitride (common practice)",
        ));
        return mask;
    }
    let (equation, depth_nm, numbers, source) = if let Some(rate) = glass_front(dopant) {
        (
            "d = √(Kg t), Kg = K₀ exp(−E/kT): glass front in a mask oxide",
            front_nm(rate, temperature, time_s),
            format!(
                "√({} · exp(−{}/{}) · {}) cm",
                show(rate.prefactor_cm2_s),
                show(rate.energy_ev),
                show(kt),
                show(time_s)
            ),
            "Sah, Sello, Tremere 1959; Ghandhi, VLSI Fabrication Principles (factor 2 in Kg)",
        )
    } else if let Some(in_oxide) = oxide_diffusivity(dopant) {
        (
            "d = 5.5 √(D t) with D in oxide: 10⁻⁴ of the surface arrives",
            reach_nm(in_oxide, temperature, time_s),
            diffused(in_oxide, kt, time_s),
            "Ghezzo, Brown, J. Electrochem. Soc. 120, 146, 1973 (factor 3 in D)",
        )
    } else {
        return mask;
    };
    mask.working.push(WorkingLine::new(equation, numbers, depth_nm, "nm", source));
    if dopant == Dopant::Boron {
        mask.working.push(WorkingLine::new(
            "5.5 √(D t) with another published D of boron in oxide, to compare",
            diffused(BORON_OXIDE_1997, kt, time_s),
            reach_nm(BORON_OXIDE_1997, temperature, time_s),
            "nm",
            "Kawagishi et al., J. Electrochem. Soc. 144, 3270, 1997 (900 to 1100 °C)",
        ));
    }
    let least_nm = depth_nm.max(LEAST_NM);
    if depth_nm < LEAST_NM {
        mask.working.push(WorkingLine::new(
            "least oxide mask: never below 30 nm of sound oxide",
            format!("larger of {} and 30", show(depth_nm)),
            least_nm,
            "nm",
            "common practice",
        ));
    }
    mask.working.push(WorkingLine::new(
        "mask oxide with process margin (silicon nitride: 100 nm stops B, P, As, Ga)",
        format!("{MASK_MARGIN} · {}", show(least_nm)),
        MASK_MARGIN * least_nm,
        "nm",
        "common practice",
    ));
    mask.least_nm = Some(least_nm);
    mask
}

fn diffused(in_oxide: Arrhenius, kt: f64, time_s: f64) -> String {
    format!(
        "5.5 · √({} · exp(−{}/{}) · {}) cm",
        show(in_oxide.prefactor_cm2_s),
        show(in_oxide.energy_ev),
        show(kt),
        show(time_s)
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diffusion::closed_form::inverse_erfc;

    #[test]
    fn the_reach_is_that_of_a_ten_thousandth() {
        assert!((2.0 * inverse_erfc(1e-4).unwrap() - REACH).abs() < 1e-3);
    }

    #[test]
    fn oxide_masks_what_diffuses_slowly_in_it() {
        let t = Temperature::celsius(1000.0);
        for (dopant, expected) in [
            (Dopant::Boron, 3.4e-18),
            (Dopant::Phosphorus, 2.1e-17),
            (Dopant::Arsenic, 1e-17),
            (Dopant::Gallium, 3e-12),
        ] {
            let d = oxide_diffusivity(dopant).unwrap().at(t);
            assert!((d / expected - 1.0).abs() < 0.1, "{dopant:?} {d}");
        }
        // 48.8 kcal/mol in eV, and its value at 1000 C: 1.88e-7 exp(-19.29) = 7.9e-16.
        assert!((48.8e3 * 4.3364e-5 - BORON_OXIDE_1997.energy_ev).abs() < 1e-3);
        assert!((BORON_OXIDE_1997.at(t) / 7.9e-16 - 1.0).abs() < 0.02);
        assert!(mask(Dopant::Gallium, t, 3600.0).least_nm.is_none());
        assert_eq!(
            mask(Dopant::Gallium, t, 3600.0).warnings[0].code,
            "oxide_does_not_mask"
        );
        assert!(mask(Dopant::Indium, t, 3600.0).warnings.is_empty());
        // Arsenic, 1 h: 5.5 sqrt(1e-17 * 3600) = 10 nm, so the least sound oxide holds.
        assert!(
            (mask(Dopant::Arsenic, t, 3600.0).least_nm.unwrap() - 30.0).abs() < 1e-12
        );
    }
}
