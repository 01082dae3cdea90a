//! Oxide on polysilicon: on top and on side walls, in one shot a step.
//!
//! An oxidized corner is round, and small steps in time would round it again and again: so the
//! whole growth of a step is applied at once, to the shape at its end. Polysilicon near the gas
//! becomes oxide, and so does gas near polysilicon, by discs whose radius is the oxide that was
//! there and its share of what grew.

use super::super::HeatStep;
use super::super::moment::Moment;
use super::super::schedule::HeatSegment;
use super::column::{after_nm, conditions};
use super::local::reached_by_gas;
use crate::constants::SILICON_PER_OXIDE;
use crate::etching::{Film, Variant};
use crate::oxidation::{Conditions, Surface, SurfaceDoping};
use crate::vocabulary::{Ambient, Dopant, DopingType, Material};
use crate::wafer::layer::{DOPANTS, Layer, Matter};
use crate::wafer::section::Section;

/// Oxide thinner than this in nm on polysilicon is not worth a new shape.
const NOTHING_NM: f64 = 1e-6;

/// Doping from which on the growth is looked at, as on the crystal, per cm3.
const LIGHT_CM3: f64 = 1e18;

/// Oxide on a face of polysilicon.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Face {
    doping: Option<SurfaceDoping>,
    start_nm: f64,
    now_nm: f64,
}

impl Face {
    fn grown_nm(&self) -> f64 {
        self.now_nm - self.start_nm
    }

    /// From the gas so far into what was oxide and polysilicon,
    fn inward_nm(&self) -> f64 {
        self.start_nm + SILICON_PER_OXIDE * self.grown_nm()
    }

    /// and from the polysilicon so far out.
    fn outward_nm(&self) -> f64 {
        self.start_nm + (1.0 - SILICON_PER_OXIDE) * self.grown_nm()
    }
}

/// A side wall.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Wall {
    x_nm: f64,
    /// The gas is on the right.
    right: bool,
    face: Face,
}

/// Oxide on polysilicon through all segments of a step.
#[derive(Clone, Debug)]
pub(in crate::wafer::heat) struct Polysilicon {
    conditions: Conditions,
    /// The upper faces, by place in x.
    tops: Vec<(f64, Face)>,
    walls: Vec<Wall>,
    variant: Variant,
    /// Segregation of each dopant, at the last oxidizing temperature.
    segregation: [f64; DOPANTS],
    step: HeatStep,
}

impl Polysilicon {
    /// Looks for faces that the gas reaches.
    pub(in crate::wafer::heat) fn new(section: &Section, step: &HeatStep) -> Self {
        let conditions = conditions(&step.growth, Surface::Polysilicon);
        let mut found = Self {
            conditions,
            tops: Vec::new(),
            walls: Vec::new(),
            variant: Variant::Wet,
            segregation: [1.0; DOPANTS],
            step: step.clone(),
        };
        let gas = reached_by_gas(section);
        for i in 0..section.columns() {
            for (k, layer) in section.layers(i).iter().enumerate() {
                if layer.matter.material() == Some(Material::Polysilicon) {
                    found.look_at(section, &gas, i, k);
                }
            }
        }
        found
    }

    fn look_at(&mut self, section: &Section, gas: &[Vec<bool>], i: usize, k: usize) {
        let doping = if self.step.growth.doping_enhanced {
            doping_of(section, i, k)
        } else {
            None
        };
        let face = |start_nm: f64| Face { doping, start_nm, now_nm: start_nm };
        let layers = section.layers(i);
        let above =
            layers[k + 1..].iter().take_while(|layer| layer.matter.is_oxide()).count();
        if gas[i][k + 1 + above] {
            let start_nm = layers[k + above].top_nm - layers[k].top_nm;
            self.tops.push((section.center_nm(i), face(start_nm)));
        }
        let middle_nm = 0.5 * (section.floor_nm(i, k) + layers[k].top_nm);
        for right in [false, true] {
            let edge_nm = section.edges_nm()[i + usize::from(right)];
            let mut j = i;
            let mut outside_nm = edge_nm;
            while let Some(next) = beside(section, j, right) {
                let place = place_at(section, next, middle_nm);
                if gas[next].get(place) == Some(&true) {
                    let start_nm = (outside_nm - edge_nm).abs();
                    self.walls.push(Wall { x_nm: edge_nm, right, face: face(start_nm) });
                    break;
                }
                let is_oxide = section.layers(next).get(place).is_some_and(|layer| {
                    layer.matter.is_oxide() && section.silicon_top_nm(next) < middle_nm
                });
                if !is_oxide {
                    break;
                }
                outside_nm = section.edges_nm()[next + usize::from(right)];
                j = next;
            }
        }
    }

    /// Lets oxide grow on all faces through a segment.
    pub(in crate::wafer::heat) fn oxidize(&mut self, segment: &HeatSegment) {
        self.variant =
            if segment.ambient == Ambient::Dry { Variant::Dry } else { Variant::Wet };
        let celsius = segment.temperature_c.max(segment.end_temperature_c);
        let doping = &self.step.doping;
        let orientation = self.step.wafer.orientation;
        let moment = Moment::at(doping, orientation, Dopant::ALL, celsius);
        for mobile in &moment.mobiles {
            self.segregation[mobile.dopant as usize] = mobile.segregation;
        }
        // Few faces differ: what was computed last is kept.
        let mut known: Option<(Face, f64)> = None;
        let faces = self.tops.iter_mut().map(|(_, face)| face);
        for face in faces.chain(self.walls.iter_mut().map(|wall| &mut wall.face)) {
            let before = *face;
            face.now_nm = match known {
                Some((same, now_nm)) if same == before => now_nm,
                _ => through(self.conditions, segment, before),
            };
            known = Some((before, face.now_nm));
        }
    }

    /// Applies the growth to the section; gives the thickest.
    pub(in crate::wafer::heat) fn finish(self, section: &mut Section) -> f64 {
        let faces = self
            .tops
            .iter()
            .map(|top| top.1)
            .chain(self.walls.iter().map(|wall| wall.face));
        let most_nm = faces.clone().map(|face| face.grown_nm()).fold(0.0, f64::max);
        if most_nm < NOTHING_NM {
            return 0.0;
        }
        for wall in &self.walls {
            let out = if wall.right { 1.0 } else { -1.0 };
            let face = wall.face;
            section.split_at(wall.x_nm - out * (face.inward_nm() - face.start_nm));
            section.split_at(wall.x_nm + out * face.outward_nm());
        }
        let reach_nm =
            faces.map(|face| face.inward_nm().max(face.outward_nm())).fold(0.0, f64::max);
        let spaces = Spaces::of(section);
        let stacks: Vec<_> = (0..section.columns())
            .map(|i| self.reshaped(section, &spaces, i, reach_nm))
            .collect();
        for (i, layers) in stacks.into_iter().enumerate() {
            if let Some(layers) = layers {
                // Slivers too thin to be layers go with their dopants, which are booked.
                section.set_layers(i, &layers);
            }
        }
        most_nm
    }

    /// The layers of a column after the growth; none if nothing changes.
    fn reshaped(
        &self,
        section: &Section,
        spaces: &Spaces,
        i: usize,
        reach_nm: f64,
    ) -> Option<Vec<Layer>> {
        let center_nm = section.center_nm(i);
        let low = section.column_at(section.edges_nm()[i] - reach_nm);
        let high = section.column_at(section.edges_nm()[i + 1] + reach_nm);
        let (mut consumed, mut filled) = (Vec::new(), Vec::new());
        for j in low..=high {
            let away_nm = if j == i {
                0.0
            } else {
                (section.edges_nm()[j] - center_nm)
                    .max(center_nm - section.edges_nm()[j + 1])
            };
            let widened = |span: [f64; 2], radius_nm: f64| {
                let square = radius_nm * radius_nm - away_nm * away_nm;
                (0.0 < square).then(|| [span[0] - square.sqrt(), span[1] + square.sqrt()])
            };
            if !spaces.polysilicon[i].is_empty() {
                for &space in &spaces.gas[j] {
                    if let Some(face) = self.face_between(section, i, j) {
                        consumed.extend(widened(space, face.inward_nm()));
                    }
                }
            }
            for &film in &spaces.polysilicon[j] {
                if let Some(face) = self.face_between(section, j, i) {
                    filled.extend(widened(film, face.outward_nm()));
                }
            }
        }
        if consumed.is_empty() && filled.is_empty() {
            return None;
        }
        let mut layers = Vec::with_capacity(section.layers(i).len() + 2);
        for k in 0..=section.layers(i).len() {
            let layer = section.layers(i).get(k);
            let floor_nm = section.floor_nm(i, k);
            let top_nm = layer.map_or(f64::INFINITY, |layer| layer.top_nm);
            let is_gas = spaces.reached[i][k];
            if is_gas {
                let open = Layer::new(Matter::Open, top_nm);
                self.cut(&mut layers, floor_nm, open, &filled);
            } else if let Some(layer) = layer {
                if layer.matter.material() == Some(Material::Polysilicon) {
                    self.cut(&mut layers, floor_nm, *layer, &consumed);
                } else {
                    layers.push(*layer);
                }
            }
        }
        if layers.last().is_some_and(|layer| layer.top_nm.is_infinite()) {
            layers.pop();
        }
        Some(layers)
    }

    /// The face through which polysilicon of one column and gas of another see each other.
    fn face_between(&self, section: &Section, film: usize, gas: usize) -> Option<Face> {
        let (film_nm, gas_nm) = (section.center_nm(film), section.center_nm(gas));
        let wall = self.walls.iter().filter(|wall| {
            if wall.right {
                film_nm < wall.x_nm && wall.x_nm < gas_nm
            } else {
                gas_nm < wall.x_nm && wall.x_nm < film_nm
            }
        });
        let nearest = wall.min_by(|a, b| {
            f64::total_cmp(&(a.x_nm - gas_nm).abs(), &(b.x_nm - gas_nm).abs())
        });
        if let Some(wall) = nearest {
            return Some(wall.face);
        }
        let top = self.tops.iter().min_by(|a, b| {
            f64::total_cmp(&(a.0 - film_nm).abs(), &(b.0 - film_nm).abs())
        })?;
        let here = [section.edges_nm()[film], section.edges_nm()[film + 1]];
        // A top's face belongs to its own column, or to the one that was split off it.
        let near_nm = (here[0] - top.0).max(top.0 - here[1]);
        (near_nm <= here[1] - here[0] + SPLIT_NM).then_some(top.1)
    }

    /// Adds a layer with the parts that lie in `spans` turned into oxide.
    fn cut(
        &self,
        layers: &mut Vec<Layer>,
        floor_nm: f64,
        layer: Layer,
        spans: &[[f64; 2]],
    ) {
        let parts = cut(floor_nm, layer.top_nm, spans);
        let sum = |oxide: bool| -> f64 {
            let heights = parts.iter().filter(|part| part.1 == oxide);
            heights.map(|part| part.0[1] - part.0[0]).sum()
        };
        let film = Film { material: Material::ThermalOxide, variant: Some(self.variant) };
        let mut oxide = Layer::new(Matter::Film(film), 0.0);
        let mut rest = layer;
        if !layer.matter.is_open() {
            let (left_nm, oxide_nm) = (sum(false), sum(true));
            for (d, m) in self.segregation.iter().enumerate() {
                let amount = layer.dopants_cm3[d] * (left_nm + oxide_nm);
                // Equilibrium between both where some is left.
                let in_rest = amount / (left_nm + oxide_nm / m);
                rest.dopants_cm3[d] = in_rest;
                oxide.dopants_cm3[d] =
                    if 0.0 < left_nm { in_rest / m } else { amount / oxide_nm };
            }
        }
        for (span, is_oxide) in parts {
            let part = if is_oxide { oxide } else { rest };
            layers.push(Layer { top_nm: span[1], ..part });
        }
    }
}

/// A split column's new center is at most so far from its old one, in nm.
const SPLIT_NM: f64 = 200.0;

/// Where gas and exposed polysilicon are, column by column.
struct Spaces {
    gas: Vec<Vec<[f64; 2]>>,
    polysilicon: Vec<Vec<[f64; 2]>>,
    reached: Vec<Vec<bool>>,
}

impl Spaces {
    fn of(section: &Section) -> Self {
        let reached = reached_by_gas(section);
        let spans = |i: usize, wanted: &dyn Fn(usize) -> bool| {
            let layers = section.layers(i);
            (0..=layers.len())
                .filter(|&k| wanted(k))
                .map(|k| {
                    let top_nm =
                        layers.get(k).map_or(f64::INFINITY, |layer| layer.top_nm);
                    [section.floor_nm(i, k), top_nm]
                })
                .collect()
        };
        let columns = 0..section.columns();
        let gas = columns.clone().map(|i| spans(i, &|k| reached[i][k])).collect();
        let polysilicon = columns
            .map(|i| {
                spans(i, &|k| {
                    let layer = section.layers(i).get(k);
                    layer.and_then(|l| l.matter.material()) == Some(Material::Polysilicon)
                })
            })
            .collect();
        Self { gas, polysilicon, reached }
    }
}

/// Cuts an interval into parts inside and outside the union of spans.
fn cut(low: f64, high: f64, spans: &[[f64; 2]]) -> Vec<([f64; 2], bool)> {
    let mut inside: Vec<[f64; 2]> = spans
        .iter()
        .map(|span| [span[0].max(low), span[1].min(high)])
        .filter(|span| span[0] < span[1])
        .collect();
    inside.sort_by(|a, b| f64::total_cmp(&a[0], &b[0]));
    let mut parts = Vec::new();
    let mut at = low;
    for span in inside {
        if at < span[0] {
            parts.push(([at, span[0]], false));
            at = span[0];
        }
        if at < span[1] {
            parts.push(([at, span[1]], true));
            at = span[1];
        }
    }
    if at < high {
        parts.push(([at, high], false));
    }
    parts
}

/// The neighbor on a side.
fn beside(section: &Section, column: usize, right: bool) -> Option<usize> {
    if right {
        (column + 1 < section.columns()).then_some(column + 1)
    } else {
        column.checked_sub(1)
    }
}

/// The layer of a column at a height; one beyond the last above all.
fn place_at(section: &Section, column: usize, z_nm: f64) -> usize {
    section.layers(column).partition_point(|layer| layer.top_nm < z_nm)
}

/// Oxide on a face after a segment.
fn through(conditions: Conditions, segment: &HeatSegment, face: Face) -> f64 {
    let conditions = Conditions { doping: face.doping, ..conditions };
    let time_s = segment.time_s();
    if segment.is_hold() {
        let celsius = segment.temperature_c;
        return after_nm(&conditions, segment.ambient, celsius, face.now_nm, time_s);
    }
    let mut now_nm = face.now_nm;
    let parts = 100;
    for part in 0..parts {
        let middle_s = time_s * (f64::from(part) + 0.5) / f64::from(parts);
        let celsius = segment.celsius_at(middle_s);
        let dt_s = time_s / f64::from(parts);
        now_nm = after_nm(&conditions, segment.ambient, celsius, now_nm, dt_s);
    }
    now_nm
}

/// The heavy doping of a layer of polysilicon, if it counts.
fn doping_of(section: &Section, column: usize, layer: usize) -> Option<SurfaceDoping> {
    let held = section.layers(column)[layer].dopants_cm3;
    let of = |dopant: &Dopant| held[*dopant as usize];
    let sum = |kind: DopingType| -> f64 {
        Dopant::ALL.iter().filter(|d| d.doping_type() == kind).map(of).sum()
    };
    let net_cm3 = sum(DopingType::N) - sum(DopingType::P);
    let kind = if 0.0 < net_cm3 { DopingType::N } else { DopingType::P };
    let dopant = Dopant::ALL
        .iter()
        .filter(|d| d.doping_type() == kind)
        .max_by(|a, b| f64::total_cmp(&of(a), &of(b)))?;
    (LIGHT_CM3 < net_cm3.abs())
        .then_some(SurfaceDoping { dopant: *dopant, concentration_cm3: net_cm3.abs() })
}
