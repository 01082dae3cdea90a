//! Oxide on the silicon of every column.

use super::super::lines::DIAGONAL;
use super::super::schedule::HeatSegment;
use super::super::{GrowthModel, HeatStep, Heated};
use super::local::{Cover, Network, Supply};
use crate::constants::SILICON_PER_OXIDE;
use crate::diffusion::point_defects::supersaturation;
use crate::diffusion::solver::active_part;
use crate::etching::{Film, Variant};
use crate::oxidation::{Conditions, Segment, Surface, SurfaceDoping, through_segment};
use crate::units::{Length, Temperature, Time};
use crate::vocabulary::{Ambient, Dopant, Material, Orientation};
use crate::wafer::layer::{Layer, Matter, Stack, THINNEST_NM, tidied};
use crate::wafer::section::{CM2_PER_NM2, Section};

/// Thinner additions join the oxide that is there, in nm: no film of their own.
pub(in crate::wafer::heat) const OWN_FILM_NM: f64 = 0.1;

/// Net doping below this per cm3 does not change the growth: less than 1 % at 900 C (derived
/// from the law of the enhancement).
pub(in crate::wafer::heat) const LIGHT_CM3: f64 = 1e18;

/// Less oxidant than this share of an open surface's grows nothing.
pub(in crate::wafer::heat) const NO_SUPPLY: f64 = 1e-9;

/// What grew in a step in time, by column in nm.
#[derive(Clone, Debug, Default)]
pub(in crate::wafer::heat) struct Grown {
    /// Until the first stage of the diffusion's method,
    pub(in crate::wafer::heat) first_nm: Vec<f64>,
    /// and in the whole step.
    pub(in crate::wafer::heat) last_nm: Vec<f64>,
    /// The parts of the whole that count for the two stages: by the rate at each.
    pub(in crate::wafer::heat) taking_nm: [Vec<f64>; 2],
}

/// Growth of one column in a step: at the first stage, at the end, and the share of the whole
/// that counts for the first stage.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Passed {
    first_nm: f64,
    last_nm: f64,
    first_share: f64,
}

/// Oxide on the silicon through one segment.
#[derive(Clone, Debug)]
pub(in crate::wafer::heat) struct Growth {
    conditions: Conditions,
    ambient: Ambient,
    under_nitride: f64,
    /// Oxide between silicon and what covers it, by column, in nm.
    oxide_nm: Vec<f64>,
    cover: Vec<Cover>,
    doping: Vec<Option<SurfaceDoping>>,
    /// The layers as they were; the section stands without them meanwhile.
    layers: Vec<Stack>,
    tops_nm: Vec<f64>,
    /// Grown in the last step, and in all.
    last: Grown,
    grown_nm: Vec<f64>,
    /// Grown on the lower face of polysilicon, in the last step and in all.
    last_below_nm: Vec<f64>,
    below_nm: Vec<f64>,
    open_growth_nm: f64,
    network: Option<Network>,
}

/// The law's conditions on the crystal or on polysilicon.
pub(super) fn conditions(growth: &GrowthModel, surface: Surface) -> Conditions {
    Conditions {
        surface,
        pressure_atm: growth.pressure_atm,
        model: growth.model,
        parameter_set: growth.parameter_set,
        doping: None,
        hcl_percent: growth.hcl_percent,
    }
}

/// Thickness of the oxide in nm that grows in `time_s` on what is there.
pub(super) fn after_nm(
    conditions: &Conditions,
    ambient: Ambient,
    celsius: f64,
    oxide_nm: f64,
    time_s: f64,
) -> f64 {
    let time = Time::s(time_s);
    let segment = Segment::hold(ambient, Temperature::celsius(celsius), time);
    let grown_um =
        through_segment(conditions, &segment, Length::nm(oxide_nm), &[time.to_h()]);
    grown_um.last().map_or(oxide_nm, |&um| Length::um(um).to_nm())
}

impl Growth {
    /// Looks at what lies on the silicon and takes the layers off it.
    pub(in crate::wafer::heat) fn new(
        section: &mut Section,
        step: &HeatStep,
        segment: &HeatSegment,
    ) -> Self {
        let surface = Surface::Crystal(step.wafer.orientation);
        let conditions = conditions(&step.growth, surface);
        let columns = section.columns();
        let gas = super::local::reached_by_gas(section);
        let mut oxide_nm = Vec::with_capacity(columns);
        let mut cover = Vec::with_capacity(columns);
        for (i, gas) in gas.iter().enumerate() {
            let layers = section.layers(i);
            let oxides =
                layers.iter().take_while(|layer| layer.matter.is_oxide()).count();
            let top_nm = oxides
                .checked_sub(1)
                .map_or(section.silicon_top_nm(i), |last| layers[last].top_nm);
            oxide_nm.push(top_nm - section.silicon_top_nm(i));
            cover.push(Cover::of(
                layers.get(oxides),
                gas.get(oxides).copied() == Some(true),
            ));
        }
        let doping = (0..columns)
            .map(|i| surface_doping(section, i, step, segment.temperature_c))
            .collect();
        let thinnest_nm = oxide_nm
            .iter()
            .zip(&cover)
            .filter(|(_, cover)| **cover == Cover::Gas)
            .map(|(&oxide, _)| oxide)
            .fold(f64::INFINITY, f64::min);
        let hottest_c = segment.temperature_c.max(segment.end_temperature_c);
        let open_growth_nm = if thinnest_nm.is_finite() {
            after_nm(
                &conditions,
                segment.ambient,
                hottest_c,
                thinnest_nm,
                segment.time_s(),
            ) - thinnest_nm
        } else {
            0.0
        };
        let tops_nm = (0..columns).map(|i| section.silicon_top_nm(i)).collect();
        let layers =
            section.columns.iter_mut().map(|c| core::mem::take(&mut c.layers)).collect();
        Self {
            conditions,
            ambient: segment.ambient,
            under_nitride: step.growth.under_nitride,
            network: Network::new(section, &cover),
            oxide_nm,
            cover,
            doping,
            layers,
            tops_nm,
            last: Grown {
                first_nm: vec![0.0; columns],
                last_nm: vec![0.0; columns],
                taking_nm: [vec![0.0; columns], vec![0.0; columns]],
            },
            grown_nm: vec![0.0; columns],
            last_below_nm: vec![0.0; columns],
            below_nm: vec![0.0; columns],
            open_growth_nm,
        }
    }

    /// What grows in the whole segment where the gas has the shortest way.
    pub(in crate::wafer::heat) const fn open_growth_nm(&self) -> f64 {
        self.open_growth_nm
    }

    /// Grown in the last step.
    pub(in crate::wafer::heat) const fn last(&self) -> &Grown {
        &self.last
    }

    /// Lets the oxide grow for a time at one temperature.
    pub(in crate::wafer::heat) fn advance(
        &mut self,
        section: &Section,
        celsius: f64,
        time_s: f64,
    ) {
        let before_nm = self.oxide_nm.clone();
        let supply = self.supply(section, celsius);
        self.grow(&before_nm, &supply, celsius, time_s);
        if self.network.is_some() {
            // Once more with the mean of the supplies at start and end (Heun).
            let after = self.supply(section, celsius);
            let mean = |a: &[f64], b: &[f64]| {
                a.iter().zip(b).map(|(a, b)| 0.5 * (a + b)).collect()
            };
            let mean = Supply {
                silicon: mean(&supply.silicon, &after.silicon),
                polysilicon: mean(&supply.polysilicon, &after.polysilicon),
            };
            self.grow(&before_nm, &mean, celsius, time_s);
        }
        for (sum, last) in self.grown_nm.iter_mut().zip(&self.last.last_nm) {
            *sum += last;
        }
        for (sum, last) in self.below_nm.iter_mut().zip(&self.last_below_nm) {
            *sum += last;
        }
    }

    /// Oxidant at the faces of the oxide.
    fn supply(&mut self, section: &Section, celsius: f64) -> Supply {
        let open = |cover: &Cover| if *cover == Cover::Gas { 1.0 } else { 0.0 };
        let temperature = Temperature::celsius(celsius);
        let law = self.conditions.law(self.ambient, temperature);
        let a_polysilicon_nm =
            self.on_polysilicon().law(self.ambient, temperature).a_um();
        let Some(network) = &mut self.network else {
            let silicon = self.cover.iter().map(open).collect();
            return Supply { silicon, polysilicon: Vec::new() };
        };
        let nm = |um: f64| Length::um(um).to_nm();
        let mut supply =
            network.supply(section, &self.oxide_nm, nm(law.a_um()), nm(a_polysilicon_nm));
        for (supply, cover) in supply.silicon.iter_mut().zip(&self.cover) {
            if *cover == Cover::Nitride {
                *supply *= self.under_nitride;
            }
        }
        supply
    }

    const fn on_polysilicon(&self) -> Conditions {
        Conditions { surface: Surface::Polysilicon, ..self.conditions }
    }

    /// Sets thickness and growth after a time from the thicknesses before it.
    fn grow(&mut self, before_nm: &[f64], supply: &Supply, celsius: f64, time_s: f64) {
        // Neighbors are often alike: what was computed last is kept.
        let mut known: Option<(f64, f64, Option<SurfaceDoping>, Passed)> = None;
        let floor_nm =
            self.conditions.effective_start(self.ambient, Length::nm(0.0)).to_nm();
        for (i, &before) in before_nm.iter().enumerate() {
            let (supplied, doping) = (supply.silicon[i], self.doping[i]);
            // Only where the gas is does the law start from the native film.
            let is_open = self.cover[i] == Cover::Gas;
            let start = if is_open { before } else { before.max(floor_nm) };
            let passed = match known {
                _ if supplied <= NO_SUPPLY => Passed::default(),
                Some((x, s, d, passed))
                    if same(x, start) && same(s, supplied) && d == doping =>
                {
                    passed
                }
                _ => {
                    let conditions = Conditions { doping, ..self.conditions };
                    let passed =
                        self.pass(&conditions, celsius, start, supplied * time_s);
                    known = Some((start, supplied, doping, passed));
                    passed
                }
            };
            let grown = passed.last_nm;
            self.last.first_nm[i] = passed.first_nm;
            self.last.last_nm[i] = grown;
            self.last.taking_nm[0][i] = passed.first_share * grown;
            self.last.taking_nm[1][i] = (1.0 - passed.first_share) * grown;
            let below = match supply.polysilicon.get(i) {
                Some(&share) if NO_SUPPLY < share => {
                    let on_poly = self.on_polysilicon();
                    after_nm(&on_poly, self.ambient, celsius, start, share * time_s)
                        - start
                }
                _ => 0.0,
            };
            self.last_below_nm[i] = below;
            self.oxide_nm[i] = before + grown + below;
        }
    }

    /// Growth on one column.
    fn pass(
        &self,
        conditions: &Conditions,
        celsius: f64,
        start_nm: f64,
        time_s: f64,
    ) -> Passed {
        let (time, temperature) = (Time::s(time_s), Temperature::celsius(celsius));
        let segment = Segment::hold(self.ambient, temperature, time);
        let times_h = [DIAGONAL * time.to_h(), time.to_h()];
        let grown_um =
            through_segment(conditions, &segment, Length::nm(start_nm), &times_h);
        let law = conditions.law(self.ambient, temperature);
        let rates = [
            (1.0 - DIAGONAL) * law.rate_um_h(grown_um[0]),
            DIAGONAL * law.rate_um_h(grown_um[1]),
        ];
        let nm = |um: f64| (Length::um(um).to_nm() - start_nm).max(0.0);
        Passed {
            first_nm: nm(grown_um[0]),
            last_nm: nm(grown_um[1]),
            first_share: rates[0] / (rates[0] + rates[1]),
        }
    }

    /// Excess of self-interstitials that each column's growth in the last step injects.
    pub(in crate::wafer::heat) fn injected(
        &self,
        celsius: f64,
        time_s: f64,
        orientation: Orientation,
    ) -> Vec<f64> {
        let temperature = Temperature::celsius(celsius);
        let mut known = (0.0, 0.0);
        self.last
            .last_nm
            .iter()
            .map(|&grown_nm| {
                if !same(grown_nm, known.0) {
                    let rate_um_h = Length::nm(grown_nm).to_um() / Time::s(time_s).to_h();
                    known = (
                        grown_nm,
                        supersaturation(rate_um_h, temperature, orientation) - 1.0,
                    );
                }
                known.1
            })
            .collect()
    }

    /// Puts the layers back, lifted, with the new oxide and its dopants below them.
    pub(in crate::wafer::heat) fn finish(
        mut self,
        section: &mut Section,
        dopants: &[Dopant],
        crossed: &[Vec<f64>],
        heated: &mut Heated,
    ) {
        let film =
            Film { material: Material::ThermalOxide, variant: Some(self.variant()) };
        self.report(section, heated);
        for (i, crossed) in crossed.iter().enumerate() {
            let mut layers = core::mem::take(&mut self.layers[i]);
            oxidize_below(&mut layers, self.tops_nm[i], self.below_nm[i]);
            let grown_nm = self.grown_nm[i];
            let lift_nm = grown_nm - (self.tops_nm[i] - section.silicon_top_nm(i));
            let top_nm = self.tops_nm[i] + lift_nm;
            // As thick as its faces make it: they are known to the last digits of their heights.
            let thickness_nm = top_nm - section.silicon_top_nm(i);
            let lowest_nm =
                layers.first().map_or(0.0, |lowest| lowest.top_nm - self.tops_nm[i]);
            lift(&mut layers, self.tops_nm[i], lift_nm);
            if thickness_nm < THINNEST_NM {
                let took = dopants.iter().copied().zip(crossed.iter().map(|c| -c));
                join_thin(section, i, &mut layers, lowest_nm, took);
            } else {
                let matter = match layers.first() {
                    Some(lowest)
                        if grown_nm < OWN_FILM_NM && lowest.matter.is_oxide() =>
                    {
                        lowest.matter
                    }
                    _ => Matter::Film(film),
                };
                let mut new = Layer::new(matter, top_nm);
                for (dopant, crossed) in dopants.iter().zip(crossed) {
                    new.dopants_cm3[*dopant as usize] = -crossed / thickness_nm;
                }
                layers.insert(0, new);
                layers = tidied(section.silicon_top_nm(i), &layers);
            }
            section.columns[i].layers = layers;
        }
    }

    const fn variant(&self) -> Variant {
        if matches!(self.ambient, Ambient::Dry) { Variant::Dry } else { Variant::Wet }
    }

    fn report(&self, section: &Section, heated: &mut Heated) {
        for (i, &grown_nm) in self.grown_nm.iter().enumerate() {
            if heated.grown_nm < grown_nm {
                heated.grown_nm = grown_nm;
                heated.grown_at_x_nm = section.center_nm(i);
            }
            heated.consumed_nm = heated.consumed_nm.max(SILICON_PER_OXIDE * grown_nm);
        }
        if let Some(network) = &self.network {
            network.report(section, &self.grown_nm, heated);
        }
    }
}

/// The same number: what was computed for one column holds for the other.
fn same(a: f64, b: f64) -> bool {
    a.to_bits() == b.to_bits()
}

/// Lifts what lies above growing oxide, from `floor_nm` up; a gap in the stack closes before
/// what is above it moves.
fn lift(layers: &mut [Layer], floor_nm: f64, by_nm: f64) {
    let (mut floor_nm, mut by_nm) = (floor_nm, by_nm);
    for layer in layers {
        let top_nm = layer.top_nm;
        if layer.matter.is_open() {
            by_nm = (by_nm - (top_nm - floor_nm)).max(0.0);
        }
        floor_nm = top_nm;
        layer.top_nm = top_nm + by_nm;
    }
}

/// Oxide that is too thin to be a layer of its own: the lowest layer, `lowest_nm` thick before,
/// reaches down to the silicon and holds what the oxide took per nm of width, or that is booked
/// as gone where no layer lies.
fn join_thin(
    section: &mut Section,
    column: usize,
    layers: &mut [Layer],
    lowest_nm: f64,
    took: impl Iterator<Item = (Dopant, f64)>,
) {
    let lowest = layers.first_mut().filter(|lowest| !lowest.matter.is_open());
    let Some(lowest) = lowest else {
        for (dopant, took) in took {
            section.book(dopant, -took * section.width_nm(column) * CM2_PER_NM2);
        }
        return;
    };
    let now_nm = lowest.top_nm - section.silicon_top_nm(column);
    for c in &mut lowest.dopants_cm3 {
        *c *= lowest_nm / now_nm;
    }
    for (dopant, took) in took {
        lowest.dopants_cm3[dopant as usize] += took / now_nm;
    }
}

/// Turns the lower face of polysilicon into oxide: the film grows by `grown_nm`, of which the
/// polysilicon gives its part; its dopants stay in it.
fn oxidize_below(layers: &mut [Layer], floor_nm: f64, grown_nm: f64) {
    let Some(at) = layers.iter().position(|layer| !layer.matter.is_oxide()) else {
        return;
    };
    if grown_nm <= 0.0 || at == 0 {
        return;
    }
    let under_nm = if at == 1 { floor_nm } else { layers[at - 2].top_nm };
    let oxide = &mut layers[at - 1];
    let oxide_nm = oxide.top_nm - under_nm;
    for c in &mut oxide.dopants_cm3 {
        *c *= oxide_nm / (oxide_nm + grown_nm);
    }
    let bottom_nm = oxide.top_nm;
    oxide.top_nm += grown_nm;
    let poly_nm = layers[at].top_nm - bottom_nm;
    let left_nm = poly_nm - SILICON_PER_OXIDE * grown_nm;
    for c in &mut layers[at].dopants_cm3 {
        *c *= poly_nm / left_nm;
    }
    let lift_nm = (1.0 - SILICON_PER_OXIDE) * grown_nm;
    for layer in &mut layers[at..] {
        layer.top_nm += lift_nm;
    }
}

/// The heavy doping at a column's surface, if it counts.
fn surface_doping(
    section: &Section,
    column: usize,
    step: &HeatStep,
    celsius: f64,
) -> Option<SurfaceDoping> {
    if !step.growth.doping_enhanced {
        return None;
    }
    let (first, _) = section.first_cell(column);
    let temperature = Temperature::celsius(celsius);
    let mut net_cm3 = 0.0;
    let mut heaviest: [Option<(Dopant, f64)>; 2] = [None; 2];
    for dopant in section.dopants() {
        let c = section.silicon_cm3(dopant)[column * section.cells() + first];
        let limit = crate::diffusion::solubility::active_limit(dopant, temperature)
            .map(|limit| limit.concentration_cm3);
        let active = active_part(c, limit).0;
        net_cm3 += dopant.charge() * active;
        let side = &mut heaviest[usize::from(0.0 < dopant.charge())];
        if side.is_none_or(|(_, most)| most < active) {
            *side = Some((dopant, active));
        }
    }
    let (dopant, _) = heaviest[usize::from(0.0 < net_cm3)]?;
    (LIGHT_CM3 < net_cm3.abs())
        .then_some(SurfaceDoping { dopant, concentration_cm3: net_cm3.abs() })
}
