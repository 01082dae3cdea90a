//! Hot steps: oxidation, predeposition, drive-in, anneal.

use super::super::Flow;
use super::etch::top_material;
use super::lithography::thickness_nm;
use super::{Done, Wafer};
use crate::deposition::reflow_length_nm;
use crate::diffusion::{FlowDoping, FlowHeat, FlowPredeposition};
use crate::error::RequestError;
use crate::etching::{Film, Variant};
use crate::num::show;
use crate::oxidation::{Conditions, FlowOxidation};
use crate::units::Length;
use crate::vocabulary::{
    Ambient, AnnealAmbient, Dopant, Material, OxidationModel, WetParameterSet,
};
use crate::wafer::heat::{
    DopingModel, GrowthModel, HeatSegment, HeatStep, Heated, PredepositStep,
    PredepositTarget, WaferFacts, heat, predeposit,
};
use crate::wafer::topography::reflow;
use crate::wafer::{Layer, Matter};

/// Above this temperature in C what is active follows its limit; below it stays as it was.
pub(in crate::flow) const ACTIVATES_C: f64 = 700.0;

/// Above this temperature in C glass counts as annealed for its etch rate (common practice).
pub(in crate::flow) const DENSIFIES_C: f64 = 900.0;

/// Glass that a phosphorus source leaves: some tens of nm after 20 min at 950 C (common practice).
pub(in crate::flow) const GLASS_NM: f64 = 40.0;

const GLASS: Matter = Matter::Film(Film {
    material: Material::PhosphorusGlass,
    variant: Some(Variant::AsDeposited),
});

fn doping_model(doping: &FlowDoping) -> DopingModel {
    DopingModel {
        diffusivity: doping.set,
        active_limit: doping.active_limit,
        oxidation_enhanced: doping.enhanced,
        boron_segregation: doping.boron,
        donor_segregation: doping.donors,
    }
}

impl Wafer {
    pub(super) fn oxidize(
        &mut self,
        flow: &Flow,
        oxidation: &FlowOxidation,
    ) -> Result<Done, RequestError> {
        let start_nm = self.thinnest_oxide_nm();
        let segments = oxidation.segments(Length::nm(start_nm))?;
        let mut done = Done { hazards: oxidation.hazards(&segments), ..Done::default() };
        let hottest_c = segments
            .iter()
            .map(|s| s.start.to_celsius().max(s.end.to_celsius()))
            .fold(20.0, f64::max);
        self.note_heat(hottest_c, &mut done);
        let conditions: &Conditions = oxidation.conditions();
        let settings = &flow.settings;
        let step = HeatStep {
            segments: segments
                .iter()
                .map(|s| HeatSegment {
                    ambient: s.ambient,
                    temperature_c: s.start.to_celsius(),
                    end_temperature_c: s.end.to_celsius(),
                    time_min: s.duration.to_min(),
                })
                .collect(),
            wafer: WaferFacts { orientation: flow.substrate.orientation },
            doping: DopingModel {
                diffusivity: settings
                    .diffusivity
                    .unwrap_or(DopingModel::default().diffusivity),
                active_limit: settings.active_limit(),
                oxidation_enhanced: settings
                    .oxidation_enhanced_diffusion
                    .unwrap_or(false),
                boron_segregation: settings
                    .boron_segregation
                    .unwrap_or(DopingModel::default().boron_segregation),
                donor_segregation: settings.donor_segregation.unwrap_or(10.0),
            },
            growth: GrowthModel {
                model: conditions.model,
                parameter_set: conditions.parameter_set,
                pressure_atm: conditions.pressure_atm,
                hcl_percent: conditions.hcl_percent,
                ..GrowthModel::default()
            },
        };
        let minutes: f64 = segments.iter().map(|s| s.duration.to_min()).sum();
        let heated = self.bake_in(&step, hottest_c, minutes, &mut done);
        done.give("time_min", minutes);
        let (_, thickest_nm) = self.thickness_range_nm(Material::ThermalOxide);
        done.notes.add(oxidation.warnings(&segments, Length::nm(thickest_nm)));
        if heated.grown_nm <= 0.0 {
            done.notes.all(
                "nothing_grew",
                "",
                "no oxide grew anywhere: no silicon is reached by the gas".to_owned(),
                "look at the section before this step",
            );
        }
        Ok(done)
    }

    /// Thinnest oxide over silicon that the gas can reach, in nm.
    fn thinnest_oxide_nm(&self) -> f64 {
        let section = &self.section;
        let mut thinnest = f64::INFINITY;
        for i in 0..section.columns() {
            let covered = section
                .layers(i)
                .iter()
                .any(|layer| !layer.matter.is_oxide() && !layer.matter.is_open());
            if !covered {
                let height_nm = section.top_nm(i) - section.silicon_top_nm(i);
                thinnest = thinnest.min(height_nm);
            }
        }
        if thinnest.is_finite() { thinnest } else { 0.0 }
    }

    pub(super) fn heat(&mut self, flow: &Flow, step: &FlowHeat, is_anneal: bool) -> Done {
        let mut done = Done { hazards: step.hazards(is_anneal), ..Done::default() };
        self.note_heat(step.temperature_c, &mut done);
        let ambient = match step.ambient {
            AnnealAmbient::FormingGas | AnnealAmbient::Inert => Ambient::Inert,
            other => other.oxidation(),
        };
        let mut segments = Vec::new();
        // Ramps go in nitrogen (common practice).
        let ramp = |from_c: f64, to_c: f64, c_s: f64| HeatSegment {
            ambient: Ambient::Inert,
            temperature_c: from_c,
            end_temperature_c: to_c,
            time_min: (to_c - from_c).abs() / c_s / 60.0,
        };
        if let Some((start_c, up_c_s, _)) = step.ramp {
            segments.push(ramp(start_c, step.temperature_c, up_c_s));
        }
        segments.push(HeatSegment {
            ambient,
            temperature_c: step.temperature_c,
            end_temperature_c: step.temperature_c,
            time_min: step.time_min,
        });
        if let Some((start_c, _, down_c_s)) = step.ramp {
            segments.push(ramp(step.temperature_c, start_c, down_c_s));
        }
        let settings = &flow.settings;
        let heat_step = HeatStep {
            segments,
            wafer: WaferFacts { orientation: flow.substrate.orientation },
            doping: doping_model(&step.doping),
            growth: GrowthModel {
                model: settings.oxidation_model.unwrap_or(OxidationModel::Auto),
                parameter_set: settings
                    .wet_parameter_set
                    .unwrap_or(WetParameterSet::Deal1988Steam),
                ..GrowthModel::default()
            },
        };
        if 0.0 < step.evaporation_cm_s {
            done.notes.all(
                "evaporation_left_out",
                "evaporation_cm_s",
                "on a whole wafer dopant does not evaporate here: the surface is closed"
                    .to_owned(),
                "leave evaporation_cm_s out",
            );
        }
        self.bake_in(&heat_step, step.temperature_c, step.time_min, &mut done);
        done.give("time_min", step.time_min);
        done
    }

    /// Heats the section and tells what all hot steps share.
    fn bake_in(
        &mut self,
        step: &HeatStep,
        hottest_c: f64,
        minutes: f64,
        done: &mut Done,
    ) -> Heated {
        let heated = heat(&mut self.section, step);
        if ACTIVATES_C <= hottest_c {
            self.active_at_c = Some(hottest_c);
        }
        self.flow_glass(hottest_c, minutes, done);
        done.give("temperature_c", hottest_c);
        done.give("grown_nm", heated.grown_nm);
        done.give("silicon_consumed_nm", heated.consumed_nm);
        if 0.0 < heated.grown_nm {
            done.give("grown_at_x_um", 1e-3 * heated.grown_at_x_nm);
        }
        if 0.0 < heated.grown_on_polysilicon_nm {
            done.give("grown_on_polysilicon_nm", heated.grown_on_polysilicon_nm);
        }
        if 0.0 < heated.beak_nm {
            done.give("beak_nm", heated.beak_nm);
        }
        let (_, oxide_nm) = self.thickness_range_nm(Material::ThermalOxide);
        done.give("oxide_nm", oxide_nm);
        for dopant in &heated.unmoved {
            done.notes.all(
                "dopant_does_not_move",
                "diffusivity",
                format!(
                    "the set {} has no diffusivity of {}: it stays where it is",
                    step.doping.diffusivity.word(),
                    dopant.label()
                ),
                "choose another set of diffusivities",
            );
        }
        if let Some(x_nm) = heated.steep_at_x_nm {
            done.notes.at(
                "steep_surface",
                "",
                "the surface is steeper than 45 degrees: oxide under the mask comes out too thick there".to_owned(),
                "take the shape of the oxide there as a guess",
                1e-3 * x_nm,
            );
        }
        heated
    }

    /// Hot glass becomes dense, and flows if it is hot enough.
    fn flow_glass(&mut self, temperature_c: f64, minutes: f64, done: &mut Done) {
        let mut phosphorus_cm3 = 0.0_f64;
        for i in 0..self.section.columns() {
            let mut changed: Option<Vec<Layer>> = None;
            for (k, layer) in self.section.layers(i).iter().enumerate() {
                let Matter::Film(mut film) = layer.matter else { continue };
                if film.material != Material::PhosphorusGlass {
                    continue;
                }
                phosphorus_cm3 =
                    phosphorus_cm3.max(layer.dopants_cm3[Dopant::Phosphorus as usize]);
                if film.variant == Some(Variant::AsDeposited)
                    && DENSIFIES_C < temperature_c
                {
                    film.variant = Some(Variant::Annealed);
                    let layers =
                        changed.get_or_insert_with(|| self.section.layers(i).to_vec());
                    layers[k].matter = Matter::Film(film);
                }
            }
            if let Some(layers) = changed {
                self.section.set_layers(i, &layers);
            }
        }
        if let Some(length_nm) = reflow_length_nm(phosphorus_cm3, temperature_c, minutes)
        {
            reflow(&mut self.section, Material::PhosphorusGlass, length_nm);
            done.give("reflow_length_nm", length_nm);
        }
    }

    pub(super) fn predeposit(&mut self, flow: &Flow, source: &FlowPredeposition) -> Done {
        let mut done = Done { hazards: source.hazards(), ..Done::default() };
        self.note_heat(source.temperature_c, &mut done);
        let bare = self.bare_um(source.target);
        done.give("bare_um", serde_json::json!(bare));
        done.give("surface_concentration_cm3", source.surface_cm3);
        done.give("surface_concentration_from", source.source_of_surface());
        done.give("time_min", source.time_min);
        done.give("temperature_c", source.temperature_c);
        let before_cm = self.section.inventory(source.dopant).supplied_cm;
        let step = PredepositStep {
            dopant: source.dopant,
            surface_cm3: source.surface_cm3,
            temperature_c: source.temperature_c,
            time_min: source.time_min,
            target: match source.target {
                Material::Polysilicon => PredepositTarget::Polysilicon,
                _ => PredepositTarget::Silicon,
            },
            wafer: WaferFacts { orientation: flow.substrate.orientation },
            doping: doping_model(&source.doping),
            glass: source.leaves_glass().then_some((GLASS, GLASS_NM)),
        };
        let _ = predeposit(&mut self.section, &step);
        self.active_at_c = Some(source.temperature_c);
        let supplied_cm = self.section.inventory(source.dopant).supplied_cm - before_cm;
        let width_cm: f64 = bare.iter().map(|[a, b]| 1e-4 * (b - a)).sum();
        if 0.0 < width_cm {
            done.give("dose_cm2", supplied_cm / width_cm);
        } else {
            done.give("dose_cm2", 0.0);
            let (cover_nm, x_um) = self.thinnest_cover();
            done.notes.at(
                "nothing_bare",
                "target",
                format!(
                    "no {} lies bare: nothing takes up {}; the thinnest cover is {} nm",
                    source.target.label(),
                    source.dopant.label(),
                    show(cover_nm)
                ),
                "open a window down to it before this step",
                x_um,
            );
        }
        done
    }

    /// Where a material lies bare: intervals in um.
    fn bare_um(&self, material: Material) -> Vec<[f64; 2]> {
        let section = &self.section;
        let mut bare: Vec<[f64; 2]> = Vec::new();
        for i in 0..section.columns() {
            if top_material(section, i) != material {
                continue;
            }
            let ends =
                [section.edges_nm()[i], section.edges_nm()[i + 1]].map(|x| 1e-3 * x);
            match bare.last_mut() {
                Some(last) if (last[1] - ends[0]).abs() < 1e-9 => last[1] = ends[1],
                _ => bare.push(ends),
            }
        }
        bare
    }

    /// The thinnest stack over silicon in nm, and where in um.
    fn thinnest_cover(&self) -> (f64, f64) {
        let section = &self.section;
        let mut thinnest = (f64::INFINITY, 0.0);
        for i in 0..section.columns() {
            let nm: f64 = Material::ALL
                .iter()
                .filter(|&&m| m != Material::Silicon)
                .map(|&m| thickness_nm(section, i, m))
                .sum();
            if nm < thinnest.0 {
                thinnest = (nm, 1e-3 * section.center_nm(i));
            }
        }
        thinnest
    }
}
