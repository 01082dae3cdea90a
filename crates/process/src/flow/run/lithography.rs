//! Resist on the wafer: coated, baked, exposed, developed.

use super::super::Flow;
use super::super::bounds::MOST_COLUMNS;
use super::super::settings::ImageKind;
use super::super::task::Printing;
use super::columns::shifted_edges_nm;
use super::{Done, Wafer};
use crate::error::RequestError;
use crate::lithography::bake::{BakeKind, LEAST_SOLVENT, START_SOLVENT};
use crate::lithography::{
    FlowBake, FlowDevelopment, FlowExposure, FlowSpin, PrintedResist, Resist, Tone,
};
use crate::num::show;
use crate::vocabulary::Material;
use crate::wafer::topography::{ResistSurface, carve_resist, coat, pattern_resist};
use crate::wafer::{Layer, Matter, Section};

/// Length over which spun resist levels, in nm (model choice: 10 um; resist of a micrometer runs
/// over steps of some micrometers and follows wider ones).
pub(in crate::flow) const LEVELS_NM: f64 = 10_000.0;

/// Solvent above which a film is soft (common practice: 3-5 % is wanted).
pub(in crate::flow) const SOFT_SOLVENT: f64 = 0.06;

/// Most films that optics are told of.
pub(in crate::flow) const MOST_FILMS: usize = 12;

/// The resist on the wafer.
#[derive(Clone, Debug)]
pub(super) struct Coat {
    resist: Resist,
    /// Film on flat ground in nm.
    flat_nm: f64,
    /// Volume fraction of solvent in it.
    solvent: f64,
    /// What was printed into it and not developed yet.
    latent: Option<Printed>,
    developed: bool,
    /// The sides of the pattern in it, in um of the layout.
    pub(super) outline_um: Vec<[[f64; 2]; 2]>,
    /// Whether heat, ions or plasma hardened it.
    pub(super) hardened: bool,
}

/// A mask in the resist.
#[derive(Clone, Debug)]
struct Printed {
    exposure: FlowExposure,
    image: ImageKind,
    /// Where light came through, in um.
    clear_um: Vec<[f64; 2]>,
    level: String,
    overlay_um: [f64; 2],
    /// Whether the dose opens a clear field.
    clears: bool,
}

impl Wafer {
    pub(super) fn spin(
        &mut self,
        spin: &FlowSpin,
        primed: bool,
    ) -> Result<Done, RequestError> {
        let mut done = Done { hazards: spin.hazards(primed), ..Done::default() };
        let (solids_nm, baked_nm) = spin.film_nm()?;
        if let Some(x_um) = self.where_is(Material::Resist) {
            done.notes.at(
                "resist_on_wafer",
                "resist",
                "there is resist on the wafer already".to_owned(),
                "strip the old resist before the new one is spun on",
                x_um,
            );
        }
        if !primed && self.top_is_oxide() {
            done.notes.all(
                "not_primed",
                "primed",
                "the wafer was not primed: resist comes off oxide in the developer and in wet etches".to_owned(),
                "set primed to true",
            );
        }
        let flat_nm = solids_nm / (1.0 - START_SOLVENT);
        coat(&mut self.section, Matter::of(Material::Resist), flat_nm, LEVELS_NM);
        self.coat = Some(Coat {
            resist: spin.resist(),
            flat_nm,
            solvent: START_SOLVENT,
            latent: None,
            developed: false,
            outline_um: Vec::new(),
            hardened: false,
        });
        done.give("thickness_nm", flat_nm);
        done.give("baked_thickness_nm", baked_nm);
        let (thin, thick) = self.thickness_range_nm(Material::Resist);
        done.give("thinnest_nm", thin);
        done.give("thickest_nm", thick);
        Ok(done)
    }

    fn top_is_oxide(&self) -> bool {
        let section = &self.section;
        (0..section.columns()).any(|i| {
            section.layers(i).last().is_some_and(|layer| layer.matter.is_oxide())
        })
    }

    /// Least and most of a material over the columns that have it, in nm.
    pub(super) fn thickness_range_nm(&self, material: Material) -> (f64, f64) {
        let section = &self.section;
        let (mut thin, mut thick) = (f64::INFINITY, 0.0_f64);
        for i in 0..section.columns() {
            let nm = thickness_nm(section, i, material);
            if 0.0 < nm {
                thin = thin.min(nm);
                thick = thick.max(nm);
            }
        }
        if thin.is_finite() { (thin, thick) } else { (0.0, 0.0) }
    }

    pub(super) fn bake(&mut self, bake: &FlowBake) -> Done {
        let mut done = Done { hazards: bake.hazards(), ..Done::default() };
        done.give("time_s", bake.time_s());
        let Some(coat) = &mut self.coat else {
            done.notes.all(
                "resist_missing",
                "",
                "there is no resist on the wafer to bake".to_owned(),
                "spin resist on first, or leave the step out",
            );
            return done;
        };
        if let Some(named) = bake.resist
            && named != coat.resist
        {
            done.notes.all(
                "other_resist",
                "resist",
                format!(
                    "the step names {}, but {} is on the wafer",
                    named.word(),
                    coat.resist.word()
                ),
                "name the resist that was spun on",
            );
        }
        let before = coat.solvent;
        let after = bake.solvent_after(before).max(LEAST_SOLVENT).min(before);
        let factor = (1.0 - before) / (1.0 - after);
        coat.solvent = after;
        coat.flat_nm *= factor;
        match bake.kind() {
            BakeKind::PostExposure => {
                if let Some(latent) = &mut coat.latent {
                    latent.exposure.set_bake(bake.temperature_c(), bake.time_s());
                }
            }
            BakeKind::Hard => coat.hardened = true,
            BakeKind::Soft => {}
        }
        if bake.kind() == BakeKind::Soft && SOFT_SOLVENT < after {
            done.notes.all(
                "under_baked",
                "time_s",
                format!("{} % of solvent is left: the resist sticks to a mask and dissolves where it is dark", show(100.0 * after)),
                "bake longer or hotter until 4 to 6 % are left",
            );
        }
        let left = bake.sensitizer_left();
        if bake.kind() != BakeKind::Hard && left < 0.95 {
            done.notes.all(
                "sensitizer_lost",
                "temperature_c",
                format!(
                    "heat destroys {} % of the sensitizer",
                    show(100.0 * (1.0 - left))
                ),
                "bake at a lower temperature or more briefly",
            );
        }
        done.give("thickness_nm", coat.flat_nm);
        done.give("solvent_percent", 100.0 * after);
        if factor < 1.0 {
            shrink(&mut self.section, factor);
        }
        done
    }

    /// Plans for the edges that the section has and did not have before.
    fn plan(&mut self, before_nm: &[f64]) {
        let edges_nm = self.section.edges_nm();
        if edges_nm.len() == before_nm.len() {
            return;
        }
        let mut planned_nm = self.planned_nm.to_vec();
        planned_nm.extend(edges_nm.iter().filter(|edge| {
            before_nm.binary_search_by(|old| old.total_cmp(edge)).is_err()
        }));
        crate::num::sort_increasing(&mut planned_nm);
        self.planned_nm = planned_nm.into();
    }

    pub(super) fn expose(&mut self, flow: &Flow, printing: &Printing) -> Done {
        let resist = self.coat.as_ref().map(|coat| coat.resist);
        let mut done =
            Done { hazards: printing.exposure.hazards(resist), ..Done::default() };
        let Some(mask) = flow.layout.mask(&printing.level) else { return done };
        let shifted = shifted_edges_nm(mask, &flow.section, printing.overlay_um);
        let edges_nm = self.section.edges_nm().to_vec();
        if self.section.refine_at(&shifted, self.coarseness, MOST_COLUMNS) {
            self.plan(&edges_nm);
        } else {
            done.notes.all(
                "coarse_columns",
                "overlay_um",
                format!(
                    "the shifted edges of {} would need more than {MOST_COLUMNS} columns: what lies beside them is less exact",
                    printing.level
                ),
                "cut a shorter piece of the layout, or set mesh to quick",
            );
        }
        let clear_um = mask.clear_um(&flow.section, printing.overlay_um);
        let width_um = flow.width_um();
        let inside: Vec<[f64; 2]> = clear_um
            .iter()
            .map(|[a, b]| [a.max(0.0), b.min(width_um)])
            .filter(|[a, b]| a < b)
            .collect();
        done.give("clear_um", serde_json::json!(inside));
        done.give("mask_level", printing.level.clone());
        done.give("dose_mj_cm2", printing.exposure.dose_mj_cm2());
        let place = self.coat.as_ref().map(|coat| self.printed(coat, 0.5 * width_um));
        let mut clears = true;
        if let Some(place) = place
            && let Ok(clear) = printing.exposure.dose_to_clear_mj_cm2(&place)
            && place.resist.tone() == Tone::Positive
        {
            match clear {
                Some(clear) => {
                    done.give("dose_to_clear_mj_cm2", clear);
                    clears = clear <= printing.exposure.dose_mj_cm2();
                    if !clears {
                        done.notes.all(
                            "under_exposed",
                            "dose_mj_cm2",
                            format!("{} mJ/cm² do not clear this resist, which needs {} mJ/cm² here", show(printing.exposure.dose_mj_cm2()), show(clear)),
                            "expose with 1.5 to 2 times the dose to clear",
                        );
                    }
                }
                None => {
                    clears = false;
                    done.notes.all(
                        "under_exposed",
                        "dose_mj_cm2",
                        "no dose clears this film".to_owned(),
                        "spin a thinner film",
                    );
                }
            }
        }
        let Some(coat) = &mut self.coat else {
            done.notes.all(
                "resist_missing",
                "",
                "there is no resist on the wafer to expose".to_owned(),
                "spin resist on first",
            );
            return done;
        };
        if coat.developed {
            done.notes.all(
                "already_developed",
                "",
                "the resist was developed before: a second exposure opens it further"
                    .to_owned(),
                "strip the resist and coat again, unless this is meant",
            );
        }
        if coat.solvent == START_SOLVENT {
            done.notes.all(
                "not_baked",
                "",
                "the resist was not baked after the spin: it sticks to the mask"
                    .to_owned(),
                "bake it softly before the exposure",
            );
        }
        coat.latent = Some(Printed {
            exposure: printing.exposure.clone(),
            image: printing.image,
            clear_um,
            level: printing.level.clone(),
            overlay_um: printing.overlay_um,
            clears,
        });
        done
    }

    /// The resist and what lies below it at a place in um, as optics see it.
    fn printed(&self, coat: &Coat, x_um: f64) -> PrintedResist {
        let column = self.section.column_at(1e3 * x_um);
        let mut below = Vec::new();
        let mut thickness_nm = 0.0;
        for k in (0..self.section.layers(column).len()).rev() {
            let layer = &self.section.layers(column)[k];
            let nm = layer.top_nm - self.section.floor_nm(column, k);
            match layer.matter.material() {
                Some(Material::Resist) if below.is_empty() => thickness_nm += nm,
                Some(material) if below.len() < MOST_FILMS => below.push((material, nm)),
                _ => {}
            }
        }
        if thickness_nm < 50.0 {
            thickness_nm = coat.flat_nm;
        }
        PrintedResist { resist: coat.resist, thickness_nm, below }
    }

    pub(super) fn develop(
        &mut self,
        flow: &Flow,
        development: &FlowDevelopment,
    ) -> Result<Done, RequestError> {
        let mut done = Done { hazards: development.hazards(), ..Done::default() };
        let Some(mut coat) = self.coat.take() else {
            done.notes.all(
                "resist_missing",
                "",
                "there is no resist on the wafer to develop".to_owned(),
                "spin resist on and expose it first",
            );
            return Ok(done);
        };
        let tone = coat.resist.tone();
        let Some(printed) = coat.latent.take() else {
            let (message, hint) = match tone {
                Tone::Positive => (
                    "nothing was exposed: the developer opens nothing",
                    "expose the resist before this step",
                ),
                Tone::Negative => (
                    "nothing was exposed: the developer takes all of the negative resist",
                    "expose the resist before this step",
                ),
            };
            done.notes.all("not_exposed", "", message.to_owned(), hint);
            if tone == Tone::Negative && !coat.developed {
                pattern_resist(&mut self.section, &[(f64::NEG_INFINITY, f64::INFINITY)]);
            }
            coat.developed = true;
            self.coat = Some(coat);
            return Ok(done);
        };
        let openings = match tone {
            Tone::Positive => printed.clear_um.clone(),
            Tone::Negative => super::super::layout::complement(&printed.clear_um),
        };
        if let Some(mask) = flow.layout.mask(&printed.level) {
            coat.outline_um = mask.outline_um(printed.overlay_um);
        }
        // What the dose does not open is developed as it really would be.
        if printed.image == ImageKind::Ideal && printed.clears {
            let openings_nm: Vec<(f64, f64)> =
                openings.iter().map(|[a, b]| (1e3 * a, 1e3 * b)).collect();
            pattern_resist(&mut self.section, &openings_nm);
        } else {
            let width_um = flow.width_um();
            let place = |x_um: f64| self.printed(&coat, x_um);
            let carved = development.carve(
                &printed.exposure,
                &printed.clear_um,
                width_um,
                &place,
            )?;
            let surface = ResistSurface {
                film_nm: coat.flat_nm,
                points: carved
                    .x_um
                    .iter()
                    .zip(&carved.left)
                    .map(|(x_um, left)| (1e3 * x_um, left * coat.flat_nm))
                    .collect(),
            };
            carve_resist(&mut self.section, &surface);
        }
        self.judge_openings(flow, &openings, &printed.level, &mut done);
        coat.developed = true;
        self.coat = Some(coat);
        done.give("time_s", development.time_s);
        done.give("open_um", serde_json::json!(self.open_um()));
        Ok(done)
    }

    /// Says where an opening is not clear down to what lies below.
    fn judge_openings(
        &self,
        flow: &Flow,
        openings: &[[f64; 2]],
        level: &str,
        done: &mut Done,
    ) {
        let width_um = flow.width_um();
        for &[a, b] in openings {
            let (a, b) = (a.max(0.0), b.min(width_um));
            if b <= a {
                continue;
            }
            let x_um = 0.5 * (a + b);
            let column = self.section.column_at(1e3 * x_um);
            let left_nm = thickness_nm(&self.section, column, Material::Resist);
            if 0.0 < left_nm {
                done.notes.at(
                    "not_cleared",
                    "time_s",
                    format!(
                        "{} nm of resist are left in an opening of {level}",
                        show(left_nm)
                    ),
                    "expose with a larger dose or develop longer",
                    x_um,
                );
            }
        }
    }

    /// Where there is no resist: intervals in um.
    fn open_um(&self) -> Vec<[f64; 2]> {
        let section = &self.section;
        let mut open: Vec<[f64; 2]> = Vec::new();
        for i in 0..section.columns() {
            if 0.0 < thickness_nm(section, i, Material::Resist) {
                continue;
            }
            let ends =
                [section.edges_nm()[i], section.edges_nm()[i + 1]].map(|x| 1e-3 * x);
            match open.last_mut() {
                Some(last) if (last[1] - ends[0]).abs() < 1e-9 => last[1] = ends[1],
                _ => open.push(ends),
            }
        }
        open
    }
}

/// Thickness of a material in a column in nm.
pub(super) fn thickness_nm(section: &Section, column: usize, material: Material) -> f64 {
    section
        .layers(column)
        .iter()
        .enumerate()
        .filter(|(_, layer)| layer.matter.material() == Some(material))
        .map(|(k, layer)| layer.top_nm - section.floor_nm(column, k))
        .sum()
}

/// Makes every layer of resist thinner by a factor; what lies on it comes down.
fn shrink(section: &mut Section, factor: f64) {
    for i in 0..section.columns() {
        let mut layers: Vec<Layer> = section.layers(i).to_vec();
        let mut sunk_nm = 0.0;
        let mut changed = false;
        for (k, layer) in layers.iter_mut().enumerate() {
            if layer.matter.material() == Some(Material::Resist) {
                sunk_nm += (1.0 - factor) * (layer.top_nm - section.floor_nm(i, k));
                changed = true;
            }
            layer.top_nm -= sunk_nm;
        }
        if changed {
            section.set_layers(i, &layers);
        }
    }
}
