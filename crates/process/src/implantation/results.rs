//! What an implantation answers.

use serde::Serialize;

use super::calculation::Calculation;
use super::monte_carlo::SingleIons;
use super::ranges::RangeTable;
use super::request::{Beam, ImplantationModel};
use super::{activation, beam_time_s, damage, lateral, masks, spread, transient};
use crate::profile::Profile;
use crate::vocabulary::Material;

/// Results of an implantation.
#[derive(Clone, Debug, Serialize)]
pub struct ImplantationResults {
    /// Projected range in silicon in nm (without layers above), along the beam.
    pub projected_range_nm: f64,
    /// Straggle in silicon in nm, along the beam.
    pub straggle_nm: f64,
    /// Lateral straggle in silicon in nm, across the beam.
    pub lateral_straggle_nm: f64,
    /// Skewness of the range distribution.
    pub skewness: f64,
    /// Kurtosis of the range distribution (Gaussian 3).
    pub kurtosis: f64,
    /// Mean depth below the surface in nm with the tilt, without layers above.
    pub range_depth_nm: f64,
    /// Standard deviation of the depth in nm with the tilt.
    pub depth_straggle_nm: f64,
    /// Largest concentration in the silicon per cm3.
    pub peak_cm3: f64,
    /// Its depth below the silicon surface in nm.
    pub peak_depth_nm: f64,
    /// Share of the dose that passes the layers above the silicon (1 without layers).
    pub transmitted_fraction: f64,
    /// Dose that stays in the silicon per cm2.
    pub retained_dose_cm2: f64,
    /// Share of the dose that leaves through the surface.
    pub lost_fraction: f64,
    /// Thickness in nm with which the thickest layer would make the layers stop all but the
    /// allowed share of the dose; null without layers.
    pub mask_thickness_nm: Option<f64>,
    /// The same for a single mask of each usual material.
    pub masks: Vec<MaskThickness>,
    /// Share of the dose that these masks let pass.
    pub mask_leak: f64,
    /// Kurtosis that the Pearson curve is drawn with; null for another curve.
    pub drawn_kurtosis: Option<f64>,
    /// Whether the numbers show a shape only (the model with a channeling tail).
    pub illustrative: bool,
    /// What the other range table says; null if it says nothing else.
    pub spread: Option<Box<TableSpread>>,
    /// The deepest junction in um; null = none.
    pub junction_depth_um: Option<f64>,
    /// All junctions in um.
    pub junctions_um: Vec<f64>,
    /// Distance in um that the junction reaches under a vertical mask edge; null = not.
    pub lateral_junction_um: Option<f64>,
    /// Length of the shadow behind a step per height of the step, in the plane of a section.
    pub shadow_per_height: f64,
    /// Profile in the silicon, depth from the silicon surface.
    pub profile: Profile,
    /// The layers above with the part of the dose that stops in each, from the top.
    pub layers: Vec<LayerDose>,
    /// Concentration through layers and silicon, depth from the very top.
    pub stack_profile: StackProfile,
    /// Beam time in s; null without a beam current.
    pub beam_time_s: Option<f64>,
    /// Depth to which the crystal is amorphized in nm; null = not.
    pub amorphous_depth_nm: Option<f64>,
    /// Energy given to nuclei over depth; null in a target that is no crystal.
    pub damage: Option<Box<DamageProfile>>,
    /// What a furnace would make active; null where no rule is at hand.
    pub activation: Option<Activation>,
    /// Bound of the extra diffusion at the start of an anneal; null where it is not known.
    pub transient_diffusion: Option<TransientDiffusion>,
    /// The fluorine that comes with BF2; null for another ion.
    pub fluorine: Option<Fluorine>,
    /// What following single ions adds; its fields stand beside the others.
    #[serde(flatten)]
    pub single_ions: Option<Box<SingleIons>>,
}

/// A layer above the silicon.
#[derive(Clone, Debug, Serialize)]
pub struct LayerDose {
    /// The material.
    pub material: Material,
    /// Thickness in nm.
    pub thickness_nm: f64,
    /// Dose that stops in it per cm2.
    pub dose_cm2: f64,
}

/// Concentration from the very top of the stack; both lists have the same length. At each
/// interface the depth stands twice, with the concentration above and below it.
#[derive(Clone, Debug, Default, Serialize)]
pub struct StackProfile {
    /// Depth below the top of the stack in um.
    pub depth_um: Vec<f64>,
    /// Concentration per cm3.
    pub concentration_cm3: Vec<f64>,
}

/// A single mask that lets just the allowed share of the dose pass.
#[derive(Clone, Debug, Serialize)]
pub struct MaskThickness {
    /// The material.
    pub material: Material,
    /// Thickness in nm.
    pub thickness_nm: f64,
    /// Mean depth of the ions in it in nm.
    pub range_depth_nm: f64,
    /// Standard deviation of the depth in it in nm.
    pub depth_straggle_nm: f64,
}

/// The same implantation with the other range table.
#[derive(Clone, Debug, Serialize)]
pub struct TableSpread {
    /// The other table.
    pub range_table: RangeTable,
    /// Its projected range in silicon in nm, along the beam.
    pub projected_range_nm: f64,
    /// Its straggle in silicon in nm, along the beam.
    pub straggle_nm: f64,
    /// Its peak in the silicon per cm3.
    pub peak_cm3: f64,
    /// Depth of that peak below the silicon surface in nm.
    pub peak_depth_nm: f64,
    /// Its deepest junction in um; null = none.
    pub junction_depth_um: Option<f64>,
    /// Its share of the dose that passes the layers.
    pub transmitted_fraction: f64,
    /// Its concentration, depth from the very top.
    pub profile: StackProfile,
}

/// Energy that the ions give to nuclei, over depth.
#[derive(Clone, Debug, Serialize)]
pub struct DamageProfile {
    /// Energy given to nuclei per ion of the beam in eV.
    pub nuclear_energy_ev: f64,
    /// Largest density of that energy in the silicon in eV/cm3.
    pub peak_ev_cm3: f64,
    /// Its depth in the silicon in nm.
    pub peak_depth_nm: f64,
    /// Density from which on the crystal is amorphous in eV/cm3.
    pub critical_ev_cm3: f64,
    /// Dose from which on this ion amorphizes at room temperature per cm2.
    pub amorphizing_dose_cm2: f64,
    /// Dose at which the largest density reaches the critical one per cm2; null below a mask.
    pub critical_energy_dose_cm2: Option<f64>,
    /// Depth at which the amorphous layer begins in nm; null without one.
    pub amorphous_from_nm: Option<f64>,
    /// Depth at which it ends in nm; null without one.
    pub amorphous_to_nm: Option<f64>,
    /// Depths below the silicon surface in um.
    pub depth_um: Vec<f64>,
    /// Density of the energy in eV/cm3.
    pub energy_ev_cm3: Vec<f64>,
}

/// Electrically active share after a furnace anneal, over its temperature.
#[derive(Clone, Debug, Serialize)]
pub struct Activation {
    /// Time in the furnace in min.
    pub time_min: f64,
    /// Temperatures in C.
    pub temperature_c: Vec<f64>,
    /// Active share of the dose in the silicon.
    pub active_fraction: Vec<f64>,
    /// Time in min in which an amorphous layer has grown back at 600 C; null without one.
    pub regrowth_600c_min: Option<f64>,
}

/// Extra diffusion of boron at the start of an anneal, driven by the damage.
#[derive(Clone, Debug, Serialize)]
pub struct TransientDiffusion {
    /// Usual extra diffusion length sqrt(2 D t) in nm.
    pub length_nm: f64,
    /// The longest that was seen, in nm.
    pub bound_nm: f64,
    /// Junction with that longest length, before any usual diffusion, in um; null = none.
    pub junction_depth_um: Option<f64>,
}

/// The fluorine of a BF2 beam.
#[derive(Clone, Debug, Serialize)]
pub struct Fluorine {
    /// Dose per cm2: two atoms an ion.
    pub dose_cm2: f64,
    /// Energy of each atom in keV.
    pub energy_kev: f64,
    /// Its projected range in silicon in nm.
    pub projected_range_nm: f64,
    /// Its straggle in silicon in nm.
    pub straggle_nm: f64,
}

/// Reads every result from the calculation.
pub(super) fn of(calculation: &Calculation) -> ImplantationResults {
    let settings = &calculation.settings;
    let (peak_cm3, peak_depth_nm) = calculation.peak();
    let target = calculation.target();
    let junctions_um = calculation.junctions_um();
    let (depths_nm, values) = calculation.profile();
    let layers = settings
        .layers
        .iter()
        .zip(&calculation.passage.shares)
        .map(|(layer, share)| LayerDose {
            material: layer.material,
            thickness_nm: layer.thickness_nm,
            dose_cm2: settings.dose_cm2 * share.stopped,
        })
        .collect::<Vec<_>>();
    let damage = damage::profile(calculation);
    let level_share = settings.substrate.concentration_cm3 / peak_cm3;
    let reach_nm =
        lateral::reach_under_mask_nm(level_share, calculation.moments.lateral_nm);
    ImplantationResults {
        projected_range_nm: calculation.beam_moments.mean_nm,
        straggle_nm: calculation.beam_moments.sigma_nm,
        lateral_straggle_nm: calculation.beam_moments.lateral_nm,
        skewness: calculation.beam_moments.skewness,
        kurtosis: calculation.beam_moments.kurtosis,
        range_depth_nm: calculation.moments.mean_nm,
        depth_straggle_nm: calculation.moments.sigma_nm,
        peak_cm3,
        peak_depth_nm,
        transmitted_fraction: if layers.is_empty() { 1.0 } else { target.arriving },
        retained_dose_cm2: settings.dose_cm2 * target.stopped,
        lost_fraction: calculation.passage.lost,
        mask_thickness_nm: masks::of_thickest(calculation).map(|mask| mask.thickness_nm),
        masks: masks::of_each_material(calculation),
        mask_leak: settings.mask_leak,
        drawn_kurtosis: calculation.shape.map(|shape| shape.kurtosis),
        illustrative: settings.model == ImplantationModel::DualPearson,
        spread: spread::of(calculation).map(Box::new),
        junction_depth_um: junctions_um.last().copied(),
        lateral_junction_um: reach_nm
            .filter(|&nm| 0.0 < nm && !junctions_um.is_empty())
            .map(|nm| 1e-3 * nm),
        shadow_per_height: lateral::shadow_per_height(
            settings.tilt_deg,
            settings.rotation_deg,
        ),
        activation: activation::of(calculation, damage.as_ref()),
        transient_diffusion: transient::of(calculation, junctions_um.last().copied()),
        junctions_um,
        profile: Profile {
            depth_um: depths_nm.iter().map(|depth_nm| 1e-3 * depth_nm).collect(),
            dopants: vec![(settings.species.dopant(), values)],
            net_cm3: Vec::new(),
            active_net_cm3: Vec::new(),
        },
        layers,
        stack_profile: stack_profile(calculation),
        beam_time_s: settings.beam.map(|beam: Beam| beam_time_s(settings.dose_cm2, beam)),
        amorphous_depth_nm: damage.as_ref().and_then(|damage| damage.amorphous_to_nm),
        damage: damage.map(Box::new),
        fluorine: damage::fluorine(settings),
        single_ions: None,
    }
}

/// The concentration from the very top.
pub(super) fn stack_profile(calculation: &Calculation) -> StackProfile {
    let (depth_um, concentration_cm3) = calculation.stack_profile();
    StackProfile { depth_um, concentration_cm3 }
}
