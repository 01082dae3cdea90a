//! Damage of the crystal: the energy given to nuclei over depth, and where the crystal turns
//! amorphous.

use super::calculation::{BORON_SHARE_OF_BF2, Calculation};
use super::damage_curves;
use super::ranges::{RangeTable, TargetKind, look_up, silicon_extras};
use super::request::Settings;
use super::results::{DamageProfile, Fluorine};
use crate::num::{bisect, cos, erfc, exp, linspace};
use crate::vocabulary::{Ion, Material};

/// Energy given to nuclei per volume that turns silicon amorphous at room temperature, in
/// eV/cm3: 12 eV per atom (F. F. Morehead, B. L. Crowder, Radiat. Eff. 6, 27, 1970, type of
/// criterion; memory; within a factor 2).
pub(super) const AMORPHIZING_EV_CM3: f64 = 6e23;

/// Share of the energy of BF2 that each of its two fluorine atoms has: 18.998/49.006.
pub(super) const FLUORINE_SHARE_OF_BF2: f64 = 0.5 * (1.0 - BORON_SHARE_OF_BF2);

/// `1/sqrt(2 pi)`.
const BELL: f64 = 0.398_942_280_401_432_7;

/// A dose per cm2 that no implanter gives: below a thick mask there is no damage to speak of.
const BEYOND_ALL_DOSES_CM2: f64 = 1e20;

/// Points of the damage's curve.
const POINTS: usize = 121;

/// Dose from which on silicon turns amorphous at room temperature, per cm2 (F. F. Morehead,
/// B. L. Crowder, Radiat. Eff. 6, 27, 1970, type of criterion; memory; within a factor 3).
/// Indium counts as antimony, its neighbor in mass (model choice).
pub(super) const fn amorphizing_dose_cm2(ion: Ion) -> f64 {
    match ion {
        Ion::Boron => 8e16,
        Ion::Phosphorus => 6e14,
        Ion::Arsenic => 2e14,
        Ion::Antimony | Ion::Indium => 1e14,
        Ion::Bf2 => 1e15,
    }
}

/// The energy that one kind of atom gives to nuclei: a bell over depth, cut off at the surface.
#[derive(Clone, Copy, Debug)]
struct Part {
    /// Energy per ion of the beam in eV.
    energy_ev: f64,
    center_nm: f64,
    width_nm: f64,
}

impl Part {
    /// Energy per ion and nm at a depth below the entry into silicon.
    fn per_nm(&self, depth_nm: f64) -> f64 {
        let Self { energy_ev, center_nm, width_nm } = *self;
        let u = (depth_nm - center_nm) / width_nm;
        let kept = 0.5 * erfc(-center_nm / (core::f64::consts::SQRT_2 * width_nm));
        energy_ev * BELL * exp(-0.5 * u * u) / (width_nm * kept)
    }
}

/// The damage of one implantation.
#[derive(Debug)]
struct Damage {
    parts: Vec<Part>,
    /// Silicon that stops as much as the layers above, in nm.
    above_nm: f64,
    dose_cm2: f64,
}

impl Damage {
    /// Energy density in eV/cm3 at a depth below the silicon surface.
    fn density_ev_cm3(&self, depth_nm: f64) -> f64 {
        let at_nm = self.above_nm + depth_nm;
        // One per nm is 1e7 per cm.
        1e7 * self.dose_cm2
            * self.parts.iter().map(|part| part.per_nm(at_nm)).sum::<f64>()
    }

    /// Depth in nm below which nearly nothing is left.
    fn reach_nm(&self) -> f64 {
        self.parts
            .iter()
            .map(|part| part.center_nm + 4.0 * part.width_nm - self.above_nm)
            .fold(1.0, f64::max)
    }

    /// Depth of the largest density in nm.
    fn peak_nm(&self) -> f64 {
        let depths_nm = linspace(0.0, self.reach_nm(), 4 * POINTS);
        let densest = depths_nm
            .into_iter()
            .map(|depth_nm| (depth_nm, self.density_ev_cm3(depth_nm)))
            .fold((0.0, 0.0), |best, here| if best.1 < here.1 { here } else { best });
        densest.0
    }

    /// First and last depth in nm with more than a density; `None` if there is none.
    fn beyond(&self, level_ev_cm3: f64) -> Option<[f64; 2]> {
        let peak_nm = self.peak_nm();
        let excess = |depth_nm: f64| self.density_ev_cm3(depth_nm) - level_ev_cm3;
        if excess(peak_nm) <= 0.0 {
            return None;
        }
        let from_nm =
            if 0.0 < excess(0.0) { 0.0 } else { bisect(excess, 0.0, peak_nm).ok()? };
        // 10 widths out nothing of any dose is left.
        let far_nm = 3.0 * self.reach_nm();
        Some([from_nm, bisect(excess, peak_nm, far_nm).ok()?])
    }
}

/// The damage over depth; `None` for a target that is no crystal.
///
/// # Model
/// A binary-collision calculation counts the energy where it is given to a nucleus; its mean and
/// standard deviation over depth are kept by a bell that is cut off at the surface. The crystal
/// is amorphous where the energy density is above 6e23 eV/cm3, provided that the dose in the
/// silicon is above the amorphizing dose: light ions heal their own damage. BF2 is one boron
/// and two fluorine atoms. The tilt shortens depths by its cosine. Layers above count as the
/// silicon of equal stopping, `t Rp_Si/Rp_layer`. With given moments the bell is stretched as
/// the range is (model choices).
pub(super) fn profile(calculation: &Calculation) -> Option<DamageProfile> {
    let settings = &calculation.settings;
    if settings.target != Material::Silicon {
        return None;
    }
    let damage = of(calculation);
    let peak_depth_nm = damage.peak_nm();
    let peak_ev_cm3 = damage.density_ev_cm3(peak_depth_nm);
    let retained_cm2 = settings.dose_cm2 * calculation.target().stopped;
    let amorphizing_dose_cm2 = amorphizing_dose_cm2(settings.ion);
    let amorphous = if amorphizing_dose_cm2 <= retained_cm2 {
        damage.beyond(AMORPHIZING_EV_CM3)
    } else {
        None
    };
    let depths_nm = linspace(0.0, damage.reach_nm(), POINTS);
    Some(DamageProfile {
        nuclear_energy_ev: damage.parts.iter().map(|part| part.energy_ev).sum(),
        peak_ev_cm3,
        peak_depth_nm,
        critical_ev_cm3: AMORPHIZING_EV_CM3,
        amorphizing_dose_cm2,
        critical_energy_dose_cm2: Some(
            settings.dose_cm2 * AMORPHIZING_EV_CM3 / peak_ev_cm3,
        )
        .filter(|dose_cm2| *dose_cm2 < BEYOND_ALL_DOSES_CM2),
        amorphous_from_nm: amorphous.map(|[from_nm, _]| from_nm),
        amorphous_to_nm: amorphous.map(|[_, to_nm]| to_nm),
        energy_ev_cm3: depths_nm.iter().map(|&nm| damage.density_ev_cm3(nm)).collect(),
        depth_um: depths_nm.into_iter().map(|nm| 1e-3 * nm).collect(),
    })
}

fn of(calculation: &Calculation) -> Damage {
    let settings = &calculation.settings;
    let (species, energy_kev) = (settings.species, calculation.atom_energy_kev);
    let table = look_up(species, TargetKind::Silicon, energy_kev, RangeTable::Computed);
    let stretch = settings.moments.map_or(1.0, |given| given.range_nm / table.range_nm);
    let shorter = cos(settings.tilt_deg.to_radians());
    let scaled = |energy_ev: f64, [center_nm, width_nm]: [f64; 2]| Part {
        energy_ev,
        center_nm: center_nm * stretch * shorter,
        width_nm: width_nm * stretch * shorter,
    };
    let nuclear_share = silicon_extras(species, energy_kev).nuclear_share;
    let bell = damage_curves::bell(species, energy_kev);
    let mut parts = vec![scaled(1e3 * energy_kev * nuclear_share, bell)];
    if settings.ion == Ion::Bf2 {
        let each_kev = settings.energy_kev * FLUORINE_SHARE_OF_BF2;
        let found = damage_curves::fluorine(each_kev);
        parts.push(scaled(2e3 * each_kev * found.nuclear_share, found.bell));
    }
    let above_nm = settings
        .layers
        .iter()
        .zip(&calculation.layers)
        .map(|(given, layer)| {
            let (kind, table) = (TargetKind::Silicon, layer.statistics.table);
            let silicon = look_up(species, kind, energy_kev, table);
            given.thickness_nm * silicon.range_nm / layer.statistics.range_nm
        })
        .sum();
    Damage { parts, above_nm, dose_cm2: settings.dose_cm2 }
}

/// The fluorine of BF2 in silicon.
pub(super) fn fluorine(settings: &Settings) -> Option<Fluorine> {
    if settings.ion != Ion::Bf2 {
        return None;
    }
    let energy_kev = settings.energy_kev * FLUORINE_SHARE_OF_BF2;
    let found = damage_curves::fluorine(energy_kev);
    Some(Fluorine {
        dose_cm2: 2.0 * settings.dose_cm2,
        energy_kev,
        projected_range_nm: found.range_nm,
        straggle_nm: found.straggle_nm,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bell_cut_off_at_the_surface_keeps_its_energy() {
        for (center_nm, width_nm) in [(1.4, 5.4), (40.0, 25.0), (-3.0, 9.0)] {
            let part = Part { energy_ev: 8.6e4, center_nm, width_nm };
            let n = 20_000;
            let h = (center_nm.max(0.0) + 10.0 * width_nm) / f64::from(n);
            let sum: f64 =
                (0..n).map(|i| h * part.per_nm(h * (f64::from(i) + 0.5))).sum();
            assert!((sum / 8.6e4 - 1.0).abs() < 1e-6, "{sum}");
        }
    }

    #[test]
    fn a_buried_layer_has_two_faces() {
        let part = Part { energy_ev: 1e5, center_nm: 100.0, width_nm: 20.0 };
        let damage = Damage { parts: vec![part], above_nm: 0.0, dose_cm2: 1e15 };
        let peak_ev_cm3 = damage.density_ev_cm3(100.0);
        // exp(-1/2) of the peak lies one width out.
        let [from_nm, to_nm] = damage.beyond(peak_ev_cm3 * exp(-0.5)).unwrap();
        assert!((from_nm - 80.0).abs() < 1e-6 && (to_nm - 120.0).abs() < 1e-6);
        assert!(damage.beyond(1.01 * peak_ev_cm3).is_none());
        let [from_nm, _] = damage.beyond(1e-6 * peak_ev_cm3).unwrap();
        assert!(from_nm.abs() < 1e-12);
    }
}
