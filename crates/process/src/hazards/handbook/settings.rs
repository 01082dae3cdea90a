//! Every chemistry that a step can be run with, from the vocabulary itself, so that a new word
//! appears here by being declared.

use crate::vocabulary::step_name;
use serde::Serialize;
use serde_json::{Map, Value, json};

use crate::cleaning::Recipe;
use crate::deposition::RECIPES;
use crate::etching::dry::Chemistry;
use crate::etching::{Etchant, StripMethod};
use crate::hazards::of_request;
use crate::vocabulary::{Ambient, AnnealAmbient, Dopant, DopantSource, Ion, Material};

/// A step by its chemistry, with its hazards.
#[derive(Clone, Debug, Serialize)]
pub struct Setting {
    /// What is done, for a person.
    pub label: String,
    /// The fields of the request that choose the chemicals.
    pub request: Map<String, Value>,
    /// Ids of its hazards, worst first.
    pub hazards: Vec<&'static str>,
}

/// All chemistries in the order of the trade.
#[must_use]
pub fn settings() -> Vec<Setting> {
    let mut list = List(Vec::new());
    for recipe in Recipe::ALL {
        list.add("clean", recipe.label(), json!({"recipe": recipe.word()}));
    }
    for ambient in Ambient::ALL {
        // An oxidation in an inert gas is none.
        if *ambient != Ambient::Inert {
            list.add("oxidation", ambient.label(), json!({"ambient": ambient.word()}));
        }
    }
    list.add(
        "oxidation",
        "dry oxygen with hydrogen chloride",
        json!({"ambient": "dry", "hcl_percent": 2}),
    );
    for dopant in Dopant::ALL {
        for source in DopantSource::ALL {
            // The same table as the bench's: what the bench refuses is no setting.
            if crate::diffusion::carries(*source, *dopant) {
                let mut request =
                    json!({"dopant": dopant.word(), "source": source.word()});
                // The bench asks for it where no limit of the surface is published.
                if *source == DopantSource::DiluteVapor || is_unpublished(*dopant) {
                    request["surface_concentration_cm3"] = json!(1e19);
                }
                let label = format!("{} from {}", dopant.label(), source.label());
                list.add("predeposition", &label, request);
            }
        }
    }
    for ambient in Ambient::ALL {
        list.add("drive_in", ambient.label(), json!({"ambient": ambient.word()}));
    }
    for ambient in AnnealAmbient::ALL {
        list.add("anneal", ambient.label(), json!({"ambient": ambient.word()}));
    }
    for ion in Ion::ALL {
        list.add("implantation", ion.label(), json!({"dopant": ion.word()}));
    }
    list.add("spin_coating", "resist", json!({"resist": "demo-p12"}));
    list.add(
        "spin_coating",
        "resist on primer",
        json!({"resist": "demo-p12", "primed": true}),
    );
    for (kind, label) in [
        ("soft", "before the exposure"),
        ("post_exposure", "after the exposure"),
        ("hard", "before the etch"),
    ] {
        list.add("bake", label, json!({"kind": kind}));
    }
    for (tool, label) in [
        ("contact", "contact printing"),
        ("proximity", "proximity printing"),
        ("projection", "projection"),
    ] {
        list.add("exposure", label, json!({"tool": tool}));
    }
    list.add("development", "TMAH 2.38 %", json!({"developer": "tmah_2_38"}));
    list.add("development", "dilute KOH", json!({"developer": "koh_dilute"}));
    for method in StripMethod::ALL {
        list.add("resist_strip", method.label(), json!({"method": method.word()}));
    }
    for etchant in Etchant::ALL {
        let material = film_for(*etchant);
        list.add(
            "wet_etch",
            &format!("{} on {}", etchant.label(), material.label()),
            json!({"etchant": etchant.word(), "material": material.word()}),
        );
    }
    for chemistry in Chemistry::ALL {
        let eats = |material: &&Material| chemistry.row(**material).is_some();
        if let Some(material) = Material::ALL.iter().find(eats) {
            list.add(
                "dry_etch",
                &format!("{} on {}", chemistry.label(), material.label()),
                json!({"chemistry": chemistry.word(), "material": material.word()}),
            );
        }
    }
    for (idx, recipe) in RECIPES.iter().enumerate() {
        let mut request =
            json!({"film": recipe.film.word(), "method": recipe.method.word()});
        let mut label = format!("{} by {}", recipe.film.label(), recipe.method.label());
        // The first recipe of film and method needs no more words.
        let is_first = !RECIPES
            .iter()
            .take(idx)
            .any(|other| other.film == recipe.film && other.method == recipe.method);
        if let Some(variant) = recipe.variants.first().filter(|_| !is_first) {
            request["variant"] = json!(variant.word());
            label = format!("{label}, {}", variant.label());
        }
        list.add("deposition", &label, request);
    }
    list.add(
        "planarization",
        "oxide with slurry",
        json!({"material": "deposited_oxide"}),
    );
    list.0
}

/// The film that a bath is for.
const fn film_for(etchant: Etchant) -> Material {
    match etchant {
        Etchant::Hf49
        | Etchant::Hf25
        | Etchant::Hf10
        | Etchant::HfDilute
        | Etchant::Bhf5
        | Etchant::Bhf6
        | Etchant::Bhf10 => Material::ThermalOxide,
        Etchant::Phosphoric => Material::Nitride,
        Etchant::AluminumEtch => Material::Aluminum,
        Etchant::PolyEtch => Material::Polysilicon,
        Etchant::Koh30 | Etchant::Koh33 | Etchant::Tmah => Material::Silicon,
        Etchant::Piranha | Etchant::Acetone => Material::Resist,
    }
}

/// Whether no solubility of a dopant is published that the bench could take.
const fn is_unpublished(dopant: Dopant) -> bool {
    matches!(dopant, Dopant::Indium | Dopant::Gallium | Dopant::Aluminum)
}

struct List(Vec<Setting>);

impl List {
    fn add(&mut self, operation: &str, what: &str, fields: Value) {
        let mut request = Map::new();
        request.insert("operation".to_owned(), json!(operation));
        if let Value::Object(fields) = fields {
            request.extend(fields);
        }
        let hazards = of_request(&request);
        let label = format!("{}: {what}", step_name(operation));
        self.0.push(Setting { label, request, hazards });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::hazards::{UNKNOWN, rows};

    #[test]
    fn every_setting_is_known_and_hazardous() {
        let settings = settings();
        assert!(settings.len() > 70, "{}", settings.len());
        for setting in &settings {
            assert!(!setting.hazards.is_empty(), "{}", setting.label);
            assert!(!setting.hazards.contains(&UNKNOWN), "{}", setting.label);
        }
    }

    #[test]
    fn every_row_has_a_step_that_uses_it() {
        let settings = settings();
        for row in rows().iter().filter(|row| row.id != UNKNOWN) {
            let used = settings.iter().any(|one| one.hazards.contains(&row.id.as_str()));
            assert!(used, "{}", row.id);
        }
    }
}
