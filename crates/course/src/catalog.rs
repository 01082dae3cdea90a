//! The exercise file, read and checked once.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;

use serde::Deserialize;

use crate::error::CourseError;
use crate::exercise::{Exercise, Origin};
use crate::numbers::GENERATOR_VERSION;
use crate::{expected, print, unit};

/// The exercise file.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Catalog {
    /// Name of the format.
    pub format: String,
    /// Version of the format.
    pub version: u32,
    /// Version of the drawing of numbers.
    pub generator_version: u32,
    /// Constants of the formulas.
    pub constants: BTreeMap<String, f64>,
    /// Texts shown with exercises that need them.
    pub notices: BTreeMap<String, String>,
    /// Whose numbers the worked twin of an exercise has.
    pub twin: Twin,
    /// The exercises, in order of difficulty within a module.
    pub exercises: Vec<Exercise>,
}

/// Whose numbers the worked twin of an exercise has.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Twin {
    /// Its code.
    pub assignment_code: String,
    /// Its identifier.
    pub student: String,
    /// When to take other numbers.
    pub note: String,
}

/// The exercises of the lab.
///
/// # Errors
/// [`CourseError::Data`] if the built-in file contradicts itself; a test holds that it does
/// not.
pub fn catalog() -> Result<&'static Catalog, CourseError> {
    static CATALOG: OnceLock<Result<Catalog, CourseError>> = OnceLock::new();
    CATALOG
        .get_or_init(|| Catalog::read(include_str!("../data/exercises.json")))
        .as_ref()
        .map_err(Clone::clone)
}

impl Catalog {
    /// Reads and checks a file.
    ///
    /// # Errors
    /// [`CourseError::Data`], naming the exercise and what is wrong with it.
    pub fn read(text: &str) -> Result<Self, CourseError> {
        let value: serde_json::Value = serde_json::from_slice(text.as_bytes())
            .map_err(|error| CourseError::Data(error.to_string()))?;
        let catalog = Self::deserialize(&value)
            .map_err(|error| CourseError::Data(error.to_string()))?;
        catalog.check()?;
        Ok(catalog)
    }

    /// The exercise of this name.
    ///
    /// # Errors
    /// [`CourseError::UnknownExercise`].
    pub fn exercise(&self, id: &str) -> Result<&Exercise, CourseError> {
        self.exercises.iter().find(|exercise| exercise.id == id).ok_or_else(|| {
            let ids: Vec<&str> = self.exercises.iter().map(|e| e.id.as_str()).collect();
            CourseError::UnknownExercise {
                id: id.chars().take(60).collect(),
                allowed: ids.join(", "),
            }
        })
    }

    fn check(&self) -> Result<(), CourseError> {
        if self.format != "barewafer-course" || self.version != 1 {
            return Err(CourseError::Data("not of this format and version".to_owned()));
        }
        if self.generator_version != GENERATOR_VERSION {
            return Err(CourseError::Data(format!(
                "generator_version must be {GENERATOR_VERSION}: the numbers of students depend on it"
            )));
        }
        let mut ids = BTreeSet::new();
        for exercise in &self.exercises {
            let id = &exercise.id;
            if id.is_empty() || id.contains('|') || !ids.insert(id.as_str()) {
                return Err(CourseError::Data(format!(
                    "{id}: id is not usable or doubled"
                )));
            }
            self.check_exercise(exercise)
                .map_err(|problem| CourseError::Data(format!("{id}: {problem}")))?;
        }
        for exercise in &self.exercises {
            for earlier in &exercise.prerequisites {
                if !ids.contains(earlier.as_str()) {
                    return Err(CourseError::Data(format!(
                        "{}: prerequisite {earlier} does not exist",
                        exercise.id
                    )));
                }
            }
        }
        Ok(())
    }

    fn check_exercise(&self, exercise: &Exercise) -> Result<(), String> {
        let names = self.check_formulas(exercise)?;
        check_texts(exercise, &names)?;
        let answer = &exercise.answer;
        if unit::accepted(&answer.unit).is_empty() {
            return Err(format!("no conversions for the unit {}", answer.unit));
        }
        let widths = [answer.tolerance.relative, answer.tolerance.absolute];
        if widths.iter().any(|width| *width < 0.0) || widths.iter().all(|w| *w <= 0.0) {
            return Err("a tolerance must be above zero".to_owned());
        }
        let (low, high) = answer.sensible_range;
        if !(0.0 <= low && low < high) {
            return Err("sensible_range must rise from zero or above".to_owned());
        }
        if !(2..=6).contains(&answer.digits) || !(1..=10).contains(&exercise.tries) {
            return Err("digits are 2 to 6 and tries 1 to 10".to_owned());
        }
        match answer.origin {
            Origin::Formula => Ok(()),
            Origin::Kernel if answer.request.as_ref().is_none_or(Vec::is_empty) => {
                Err("an answer from the kernel needs a request".to_owned())
            }
            Origin::Kernel => expected::check_read(answer, &names),
        }
    }

    /// Checks that every formula needs only names that are known where it stands.
    fn check_formulas<'a>(
        &'a self,
        exercise: &'a Exercise,
    ) -> Result<BTreeSet<&'a str>, String> {
        let mut names: BTreeSet<&str> =
            self.constants.keys().map(String::as_str).collect();
        let add = |name: &'a str, names: &mut BTreeSet<&'a str>| {
            if names.insert(name) { Ok(()) } else { Err(format!("{name} stands twice")) }
        };
        for (name, parameter) in &exercise.parameters {
            if parameter.values.is_empty() {
                return Err(format!("{name} has no values"));
            }
            add(name, &mut names)?;
        }
        if let Some(first) = exercise.records.first() {
            for name in first.keys() {
                add(name, &mut names)?;
            }
            if !exercise.records.iter().all(|row| row.keys().eq(first.keys())) {
                return Err("records must have the same columns".to_owned());
            }
        }
        let known =
            |names: &BTreeSet<&str>, formula: &crate::exercise::Formula| match formula
                .0
                .names()
                .iter()
                .find(|name| !names.contains(*name))
            {
                Some(name) => Err(format!("{:?} needs {name}", formula.0.text())),
                None => Ok(()),
            };
        for (name, formula) in &exercise.shown {
            known(&names, formula)?;
            add(name, &mut names)?;
        }
        for (name, formula) in &exercise.lets {
            known(&names, formula)?;
            add(name, &mut names)?;
        }
        let slips = exercise.slips.iter().map(|slip| &slip.value);
        for formula in
            exercise.requires.iter().chain([&exercise.answer.formula]).chain(slips)
        {
            known(&names, formula)?;
        }
        Ok(names)
    }
}

fn check_texts(exercise: &Exercise, names: &BTreeSet<&str>) -> Result<(), String> {
    let stub =
        |name: &str| (names.contains(name) || name == "answer").then(|| name.to_owned());
    for template in exercise.worked_solution.iter().chain(&exercise.note) {
        print::fill(template, &stub).map_err(|name| format!("text needs {name}"))?;
    }
    let drawn = |name: &str| {
        let is_let = exercise.lets.iter().any(|(known, _)| known == name);
        (names.contains(name) && !is_let).then(|| name.to_owned())
    };
    print::fill(&exercise.prompt, &drawn)
        .map_err(|name| format!("the prompt must not need {name}"))?;
    if exercise.hints.len() != 3 || exercise.worked_solution.is_empty() {
        return Err("three hints and a worked solution are needed".to_owned());
    }
    let mut ids = BTreeSet::new();
    if !exercise.slips.iter().all(|slip| ids.insert(&slip.id)) {
        return Err("two slips have one id".to_owned());
    }
    if exercise.sources.is_empty() || exercise.explain.key_points.is_empty() {
        return Err("sources and key points are needed".to_owned());
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    const FILE: &str = include_str!("../data/exercises.json");

    #[test]
    fn the_built_in_file_is_sound() {
        let catalog = catalog().unwrap();
        assert_eq!(catalog.exercises.len(), 12);
        assert!(catalog.notices.contains_key("simulation-notice"));
    }

    #[test]
    fn constants_are_those_of_the_kernel() {
        use barewafer_process::constants::{BOLTZMANN_EV_K, ELEMENTARY_CHARGE_C};
        let constants = &catalog().unwrap().constants;
        // Seven printed digits in the file.
        assert!((constants["k_ev"] / BOLTZMANN_EV_K - 1.0).abs() < 1e-7);
        assert!((constants["q_c"] / ELEMENTARY_CHARGE_C - 1.0).abs() < 1e-6);
        assert!((constants["pi"] - core::f64::consts::PI).abs() < 1e-15);
    }

    #[test]
    fn texts_cite_the_literature_only() {
        for exercise in &catalog().unwrap().exercises {
            for source in &exercise.sources {
                assert!(!source.contains(".md") && source.ends_with('.'), "{source}");
            }
        }
    }

    #[track_caller]
    fn check(from: &str, to: &str, problem: &str) {
        assert!(FILE.contains(from), "{from:?} must stand in the file");
        let error = Catalog::read(&FILE.replacen(from, to, 1)).unwrap_err().to_string();
        assert!(error.contains(problem), "{error}");
    }

    #[test]
    fn each_contradiction_is_named() {
        check(
            "\"generator_version\": 1",
            "\"generator_version\": 2",
            "generator_version",
        );
        check("barewafer-course", "other", "format");
        check("\"id\": \"spin-speed\"", "\"id\": \"ox-wet-field\"", "doubled");
        check("time_min/60\"", "time_max/60\"", "time_max");
        check("{time_min} min. How", "{t_h} h. How", "t_h");
        check("{T_k} K", "{T_x} K", "T_x");
        check("\"unit\": \"nm\"", "\"unit\": \"ell\"", "conversions");
        check("\"relative\": 0.02", "\"relative\": 0", "tolerance");
        check("[100, 1000]", "[1000, 100]", "sensible_range");
        check("\"digits\": 3", "\"digits\": 9", "digits");
        check("\"prerequisites\": []", "\"prerequisites\": [\"x\"]", "prerequisite");
        check("\"id\": \"parabolic-only\"", "\"id\": \"linear-only\"", "one id");
        check("\"read\": \"oxide_nm\"", "\"read\": \"=nothing\"", "nothing");
        check("r0.undercut_nm", "r1.undercut_nm", "r1.undercut_nm");
        check("\"t_h\", \"time_min/60\"", "\"T_k\", \"time_min/60\"", "twice");
        check("\"minutes\": 10", "\"hours\": 10", "hours");
        check("1000*sqrt(B*t_h)", "1000*sqrt(B*t_h", "1000*sqrt(B*t_h");
    }
}
