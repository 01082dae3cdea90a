//! Etches and strips: every material goes at its own rate, wherever it is reached.

use super::super::Flow;
use super::super::layout::distance_um;
use super::lithography::thickness_nm;
use super::{Done, Wafer};
use crate::error::RequestError;
use crate::etching::{Film, FlowDryEtch, FlowStrip, FlowWetEtch, StripMethod};
use crate::num::show;
use crate::vocabulary::{Dopant, Material};
use crate::wafer::topography::{Rates, Removed, etch_directional, etch_isotropic, strip};
use crate::wafer::{DOPANTS, Matter, Section};

/// Films thinner than this are not spoken of, in nm.
pub(in crate::flow) const NOTICED_NM: f64 = 0.5;

/// Undercuts from beside the section that are narrower are not spoken of, in um.
pub(in crate::flow) const SEEN_UM: f64 = 1.0;

/// Silicon that stays at the bottom of what is computed, in nm.
pub(in crate::flow) const BOTTOM_NM: f64 = 100.0;

/// Resist that is thicker than this is no residue, in nm.
pub(in crate::flow) const BULK_NM: f64 = 50.0;

/// The section before an etch, as far as it is compared with what is left.
struct Before {
    /// Middle of the columns in nm.
    x_nm: Vec<f64>,
    /// What each column showed on top.
    top: Vec<Material>,
    /// Thickness of each material in each column in nm, `[column][material]`.
    thickness_nm: Vec<[f64; Material::ALL.len()]>,
}

impl Before {
    fn of(section: &Section) -> Self {
        let columns = 0..section.columns();
        Self {
            x_nm: columns.clone().map(|i| section.center_nm(i)).collect(),
            top: columns.clone().map(|i| top_material(section, i)).collect(),
            thickness_nm: columns
                .map(|i| {
                    let mut all = Material::ALL.map_to(|m| thickness_nm(section, i, m));
                    all[Material::Silicon as usize] = section.silicon_top_nm(i);
                    all
                })
                .collect(),
        }
    }

    /// The most of a material that went from a place that showed bare of it before or after, and
    /// where: thickness in nm and x in um.
    fn most_gone(&self, section: &Section, material: Material) -> Option<(f64, f64)> {
        let mut most: Option<(f64, f64)> = None;
        for (i, x_nm) in self.x_nm.iter().enumerate() {
            let column = section.column_at(*x_nm);
            let now_nm = if material == Material::Silicon {
                section.silicon_top_nm(column)
            } else {
                thickness_nm(section, column, material)
            };
            let gone_nm = self.thickness_nm[i][material as usize] - now_nm;
            if most.is_none_or(|(nm, _)| nm < gone_nm) {
                most = Some((gone_nm, 1e-3 * x_nm));
            }
        }
        most.filter(|(nm, _)| NOTICED_NM < *nm)
    }
}

/// Builds an array over all materials.
trait MapTo {
    fn map_to(&self, f: impl FnMut(Material) -> f64) -> [f64; Material::ALL.len()];
}

impl MapTo for [Material] {
    fn map_to(&self, mut f: impl FnMut(Material) -> f64) -> [f64; Material::ALL.len()] {
        let mut all = [0.0; Material::ALL.len()];
        for (&material, value) in self.iter().zip(&mut all) {
            *value = f(material);
        }
        all
    }
}

/// What a column shows on top.
pub(super) fn top_material(section: &Section, column: usize) -> Material {
    let top = section.layers(column).last();
    top.and_then(|layer| layer.matter.material()).unwrap_or(Material::Silicon)
}

/// Rates of what the section has, and the films whose rate is not known.
fn rates(
    section: &Section,
    mut rate_of: impl FnMut(Film) -> Option<f64>,
) -> (Rates, Vec<Film>) {
    let mut unknown: Vec<Film> = Vec::new();
    let rates = Rates::new(section, |matter| match matter {
        Matter::Open => 0.0,
        Matter::Film(film) => rate_of(film).unwrap_or_else(|| {
            unknown.push(film);
            0.0
        }),
    });
    (rates, unknown)
}

impl Wafer {
    pub(super) fn etch_wet(
        &mut self,
        flow: &Flow,
        etch: &FlowWetEtch,
    ) -> Result<Done, RequestError> {
        let mut done = Done { hazards: etch.hazards(), ..Done::default() };
        // One rate for all of the silicon: that of the lightest doping that lies bare.
        let boron_cm3 = self.bare_boron_cm3();
        let (rates, unknown) = rates(&self.section, |film| etch.rate_of(film, boron_cm3));
        self.note_unknown(&unknown, etch.bath.etchant.label(), &mut done);
        // The films of the target differ in how they were made: the slowest counts.
        let target = etch.target.material;
        let (film_nm, rate_nm_min) =
            self.thickest_exposed(target, &rates).unwrap_or((0.0, etch.rate_nm_min));
        let time_s = etch.time.of_film_s(film_nm, rate_nm_min);
        self.check_depth(rates.nm_min(Matter::of(Material::Silicon)), time_s)?;
        let before = Before::of(&self.section);
        let removed = etch_isotropic(&mut self.section, &rates, time_s / 60.0);
        self.undercut_from_beside(flow, target, rate_nm_min * time_s / 60.0, &mut done);
        done.give("rate_nm_min", rate_nm_min);
        done.give("undercut_nm", rate_nm_min * time_s / 60.0);
        self.tell_etch(
            target,
            film_nm,
            rate_nm_min,
            time_s,
            &before,
            &removed,
            &mut done,
        );
        Ok(done)
    }

    pub(super) fn etch_dry(&mut self, etch: &FlowDryEtch) -> Result<Done, RequestError> {
        let mut done = Done { hazards: etch.hazards(), ..Done::default() };
        let (rates, unknown) = rates(&self.section, |film| etch.rate_of(film.material));
        self.note_unknown(&unknown, etch.chemistry.label(), &mut done);
        let film_nm =
            self.thickest_exposed(etch.target, &rates).map_or(0.0, |(nm, _)| nm);
        let rate_nm_min = etch.rate_nm_min();
        let time_s = etch.time.of_film_s(film_nm, rate_nm_min);
        self.check_depth(rates.nm_min(Matter::of(Material::Silicon)), time_s)?;
        let before = Before::of(&self.section);
        let removed = etch_directional(
            &mut self.section,
            &rates,
            time_s / 60.0,
            etch.lateral_share(),
        );
        if let Some(coat) = &mut self.coat {
            coat.hardened = true;
        }
        done.give("rate_nm_min", rate_nm_min);
        done.give("anisotropy", 1.0 - etch.lateral_share());
        self.tell_etch(
            etch.target,
            film_nm,
            rate_nm_min,
            time_s,
            &before,
            &removed,
            &mut done,
        );
        Ok(done)
    }

    /// Refuses an etch that would go through the silicon that is computed.
    fn check_depth(&self, silicon_nm_min: f64, time_s: f64) -> Result<(), RequestError> {
        let section = &self.section;
        let lowest_nm =
            (0..section.columns()).map(|i| section.silicon_top_nm(i)).fold(0.0, f64::min);
        let room_nm = section.depths_nm()[section.cells()] + lowest_nm - BOTTOM_NM;
        let front_nm = silicon_nm_min * time_s / 60.0;
        if front_nm <= room_nm {
            return Ok(());
        }
        let most_s = 60.0 * room_nm / silicon_nm_min;
        let allowed = format!("at most {} s", show(most_s));
        Err(RequestError::conflict(
            "time_s",
            &time_s.to_string(),
            &allowed,
            &format!(
                "time_s: {} s take {} µm of silicon, more than the {} µm that are there (allowed: {allowed})",
                show(time_s),
                show(1e-3 * front_nm),
                show(1e-3 * room_nm)
            ),
            "etch for a shorter time, or start from a thicker wafer",
        ))
    }

    pub(super) fn strip_resist(&mut self, method: &FlowStrip) -> Done {
        let mut done = Done { hazards: method.hazards(), ..Done::default() };
        let (_, thickest_nm) = self.thickness_range_nm(Material::Resist);
        if thickest_nm <= 0.0 {
            done.notes.all(
                "resist_missing",
                "",
                "there is no resist on the wafer to strip".to_owned(),
                "leave the step out",
            );
        }
        if self.coat.as_ref().is_some_and(|coat| coat.hardened)
            && method.method == StripMethod::Solvent
        {
            done.notes.all(
                "hardened_resist",
                "method",
                "the resist went through a hard bake, a plasma or an implant: solvent may not dissolve it".to_owned(),
                "use an oxygen plasma",
            );
        }
        if method.method == StripMethod::Piranha && BULK_NM < thickest_nm {
            done.notes.all(
                "bulk_resist_in_piranha",
                "method",
                "piranha is for residues: a whole film of resist can make it boil over or explode".to_owned(),
                "take the bulk off with solvent or plasma first, rinse with water and dry",
            );
        }
        let (rates, _) = rates(&self.section, |film| Some(method.rate_of(film)));
        let rate_nm_min = method.rate_of(Film::usual(Material::Resist));
        let clears = thickest_nm <= rate_nm_min * method.time_min;
        let eats_more = Material::ALL
            .iter()
            .any(|&m| m != Material::Resist && 0.0 < rates.nm_min(Matter::of(m)));
        let before = Before::of(&self.section);
        if clears {
            strip(&mut self.section, Material::Resist);
        }
        if eats_more || !clears {
            etch_isotropic(&mut self.section, &rates, method.time_min);
        }
        let (_, left_nm) = self.thickness_range_nm(Material::Resist);
        done.give("removed_nm", thickest_nm - left_nm);
        done.give("remaining_nm", left_nm);
        done.give("time_min", method.time_min);
        let mut attacked = Vec::new();
        for &material in Material::ALL.iter().filter(|&&m| m != Material::Resist) {
            if let Some((nm, x_um)) = before.most_gone(&self.section, material) {
                attacked.push(material.word());
                done.notes.at(
                    "attacks_material",
                    "method",
                    format!(
                        "{} takes {} nm of {}",
                        method.method.label(),
                        show(nm),
                        material.label()
                    ),
                    "strip with solvent or plasma once there is metal on the wafer",
                    x_um,
                );
            }
        }
        done.give("attacked", attacked);
        if 0.0 < left_nm
            && let Some(x_um) = self.where_is(Material::Resist)
        {
            done.notes.at(
                "not_cleared",
                "time_min",
                format!("{} nm of resist are left", show(left_nm)),
                "strip longer, and look at the wafer in a microscope",
                x_um,
            );
        }
        done
    }

    /// Removes what a bath reaches under the resist from edges beside the section line.
    ///
    /// # Model
    /// The section is cut through a layout: the film under a place of the resist is gone if the
    /// nearest edge of the pattern, in the plane of the wafer, lies within the circle that the
    /// front draws about it down to the film's foot.
    fn undercut_from_beside(
        &mut self,
        flow: &Flow,
        target: Material,
        front_nm: f64,
        done: &mut Done,
    ) {
        let Some(coat) = &self.coat else { return };
        if coat.outline_um.is_empty() || target == Material::Silicon {
            return;
        }
        let outline_um = coat.outline_um.clone();
        let mut reached: Option<(f64, f64)> = None;
        for i in 0..self.section.columns() {
            let mut layers = self.section.layers(i).to_vec();
            let Some(k) = layers.len().checked_sub(2) else { continue };
            let film_nm = layers[k].top_nm - self.section.floor_nm(i, k);
            let masked = layers[k].matter.material() == Some(target)
                && layers[k + 1].matter.material() == Some(Material::Resist);
            if !masked || front_nm <= film_nm {
                continue;
            }
            let x_um = 1e-3 * self.section.center_nm(i);
            let away_um = distance_um(flow.section.place_um(x_um), &outline_um);
            let foot_um = 1e-3 * ((front_nm - film_nm) * (front_nm + film_nm)).sqrt();
            if away_um < foot_um {
                layers[k].matter = Matter::Open;
                layers[k].dopants_cm3 = [0.0; DOPANTS];
                self.section.set_layers(i, &layers);
                let [from, to] =
                    [self.section.edges_nm()[i], self.section.edges_nm()[i + 1]];
                let first = reached.map_or(1e-3 * from, |(first, _)| first);
                reached = Some((first, 1e-3 * to));
            }
        }
        if let Some((from_um, to_um)) = reached {
            // The last bits at the foot of a wall on the section are no news.
            if SEEN_UM < to_um - from_um {
                done.notes.at(
                    "undercut_from_beside",
                    "time_s",
                    format!(
                        "the etch comes in under the resist from edges beside the section line and takes the {} there",
                        target.label()
                    ),
                    "etch for a shorter time: the undercut is the rate times the time",
                    0.5 * (from_um + to_um),
                );
            }
        }
    }

    /// Least boron per cm3 in the first cell of columns that show bare silicon.
    fn bare_boron_cm3(&self) -> f64 {
        let section = &self.section;
        let boron = section.silicon_cm3(Dopant::Boron);
        if boron.is_empty() {
            return 0.0;
        }
        (0..section.columns())
            .filter(|&i| section.layers(i).is_empty())
            .map(|i| boron[i * section.cells() + section.first_cell(i).0])
            .fold(f64::INFINITY, f64::min)
            .min(1e22)
    }

    fn note_unknown(&self, films: &[Film], what: &str, done: &mut Done) {
        for film in films {
            if let Some(x_um) = self.where_is(film.material) {
                done.notes.at(
                    "unknown_rate",
                    "",
                    format!(
                        "how fast {what} takes {} is not known here: it is left as it is",
                        film.label()
                    ),
                    "test it on a test piece",
                    x_um,
                );
            }
        }
    }

    /// Thickest film of a material that lies on top somewhere, in nm, and its rate in nm/min.
    fn thickest_exposed(&self, target: Material, rates: &Rates) -> Option<(f64, f64)> {
        let section = &self.section;
        let mut found: Option<(f64, f64)> = None;
        for i in 0..section.columns() {
            if top_material(section, i) != target {
                continue;
            }
            let Some(top) = section.layers(i).last() else {
                // Bare silicon has no end.
                return Some((0.0, rates.nm_min(Matter::of(target))));
            };
            let nm = thickness_nm(section, i, target);
            if found.is_none_or(|(most, _)| most < nm) {
                found = Some((nm, rates.nm_min(top.matter)));
            }
        }
        found
    }

    /// Results and warnings that all etches share.
    #[expect(clippy::too_many_arguments, reason = "one report of one etch")]
    fn tell_etch(
        &self,
        target: Material,
        film_nm: f64,
        rate_nm_min: f64,
        time_s: f64,
        before: &Before,
        removed: &Removed,
        done: &mut Done,
    ) {
        let section = &self.section;
        done.give("material", target.word());
        done.give("time_s", time_s);
        done.give("film_nm", film_nm);
        let etched = before.most_gone(section, target);
        done.give("etched_nm", etched.map_or(0.0, |(nm, _)| nm));
        let was_there = before
            .thickness_nm
            .iter()
            .any(|all| target == Material::Silicon || NOTICED_NM < all[target as usize]);
        if !was_there {
            done.notes.all(
                "nothing_to_etch",
                "material",
                format!("there is no {} on the section", target.label()),
                "name the material that is there, or leave the step out",
            );
        } else if etched.is_none() && 0.0 < rate_nm_min {
            done.notes.all(
                "not_reached",
                "",
                format!("nothing of the {} is reached: it is covered everywhere", target.label()),
                "look at the section before this step: is the resist open, is another film on top?",
            );
        }
        let mut losses = serde_json::Map::new();
        for &material in Material::ALL.iter().filter(|&&m| m != target) {
            if let Some((nm, x_um)) = before.most_gone(section, material) {
                losses.insert(
                    material.word().to_owned(),
                    serde_json::json!({"loss_nm": nm, "x_um": x_um}),
                );
            }
        }
        done.give("losses", losses);
        if target != Material::Silicon {
            self.note_left(target, before, done);
        }
        for &(material, area_nm2) in &removed.lifted_nm2 {
            if 1.0 < area_nm2 {
                done.notes.all(
                    "lifted_off",
                    "time_s",
                    format!("{} lost its hold and floated off", material.label()),
                    "etch for a shorter time: what lay below it is gone",
                );
            }
        }
        let gone = |m: Material| {
            before.thickness_nm.iter().any(|all| NOTICED_NM < all[m as usize])
                && section.area_nm2(m) <= 0.0
        };
        if gone(Material::Resist) && target != Material::Resist {
            done.notes.all(
                "mask_gone",
                "time_s",
                "the resist is gone before the etch ends".to_owned(),
                "use thicker resist or a shorter etch",
            );
        }
    }

    /// Says where the film was bare before the etch and some of it is left, once for each
    /// opening.
    fn note_left(&self, target: Material, before: &Before, done: &mut Done) {
        let section = &self.section;
        let mut worst: Option<(f64, f64)> = None;
        let mut places = 0;
        let mut cleared = false;
        let mut thickest_nm = 0.0_f64;
        let mut inside = false;
        for (i, &x_nm) in before.x_nm.iter().enumerate() {
            let column = section.column_at(x_nm);
            let left_nm = thickness_nm(section, column, target);
            let left = before.top[i] == target
                && NOTICED_NM < before.thickness_nm[i][target as usize]
                && NOTICED_NM < left_nm
                && top_material(section, column) == target;
            if left && !inside {
                places += 1;
            }
            inside = left;
            if left && worst.is_none_or(|(nm, _)| nm < left_nm) {
                worst = Some((left_nm, 1e-3 * x_nm));
            }
            let bare = before.top[i] == target && left_nm <= NOTICED_NM;
            cleared |= bare && NOTICED_NM < before.thickness_nm[i][target as usize];
            thickest_nm = thickest_nm.max(before.thickness_nm[i][target as usize]);
        }
        done.give("remaining_nm", worst.map_or(0.0, |(nm, _)| nm));
        // Without resist an etch may be meant to thin a film, or to clear the thin film and leave
        // the thick one.
        let is_masked = self.coat.is_some();
        let falls_short = !cleared && worst.is_some_and(|(nm, _)| nm < 0.5 * thickest_nm);
        if let Some((nm, x_um)) = worst.filter(|_| is_masked || falls_short) {
            let more = if 1 < places {
                format!(" (and in {} more places)", places - 1)
            } else {
                String::new()
            };
            done.notes.at(
                "not_cleared",
                "time_s",
                format!("{} nm of {} are left{more}, most", show(nm), target.label()),
                "etch longer",
                x_um,
            );
        }
    }
}
