//! A list of steps as the rules see it: the bath of each, and what is on the wafer before it.

use serde_json::{Map, Value};

use super::super::chemistry::{number, own, word};

/// A wet bath by what matters for its neighbors.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Bath {
    Piranha,
    Sc1,
    Sc2,
    /// HF in water.
    Hf,
    /// HF and ammonium fluoride.
    Buffered,
    HotPhosphoric,
    /// Phosphoric, nitric and acetic acid.
    AluminumEtch,
    /// Nitric acid and ammonium fluoride.
    PolyEtch,
    Koh,
    Tmah,
    Developer,
    Solvent,
}

impl Bath {
    /// Whether a burn is an HF burn.
    pub(super) const fn is_fluoride(self) -> bool {
        matches!(self, Self::Hf | Self::Buffered | Self::PolyEtch)
    }

    pub(super) const fn has_nitric_acid(self) -> bool {
        matches!(self, Self::AluminumEtch | Self::PolyEtch)
    }

    /// Whether it frees HF from fluoride carried into it.
    pub(super) const fn is_strong_acid(self) -> bool {
        matches!(
            self,
            Self::Piranha | Self::Sc2 | Self::HotPhosphoric | Self::AluminumEtch
        )
    }

    pub(super) const fn has_peroxide(self) -> bool {
        matches!(self, Self::Piranha | Self::Sc1 | Self::Sc2)
    }

    /// Whether it gives off gas after use.
    pub(super) const fn builds_pressure(self) -> bool {
        self.has_peroxide() || self.has_nitric_acid()
    }
}

/// The baths of a step, in their order; a clean has several, with rinses between.
fn baths(operation: &str, request: &Map<String, Value>) -> &'static [Bath] {
    use Bath as B;
    match operation {
        "clean" => match word(request, "recipe") {
            Some("piranha_sc1_hf_sc2") => &[B::Piranha, B::Sc1, B::Hf, B::Sc2],
            Some("piranha") => &[B::Piranha],
            Some("sc1") => &[B::Sc1],
            Some("sc2") => &[B::Sc2],
            Some("hf_dip") => &[B::Hf],
            Some("solvent") => &[B::Solvent],
            _ => &[],
        },
        "resist_strip" => match word(request, "method") {
            Some("solvent") => &[B::Solvent],
            Some("piranha") => &[B::Piranha],
            _ => &[],
        },
        "wet_etch" => match word(request, "etchant") {
            Some("hf_49" | "hf_25_1" | "hf_10_1" | "hf_dilute") => &[B::Hf],
            Some("bhf_5_1" | "bhf_6_1" | "bhf_10_1") => &[B::Buffered],
            Some("phosphoric_85") => &[B::HotPhosphoric],
            Some("aluminum_etch") => &[B::AluminumEtch],
            Some("poly_etch") => &[B::PolyEtch],
            Some("koh_30" | "koh_33") => &[B::Koh],
            Some("tmah_25") => &[B::Tmah],
            Some("piranha") => &[B::Piranha],
            Some("acetone") => &[B::Solvent],
            _ => &[],
        },
        "development" => &[B::Developer],
        _ => &[],
    }
}

/// A step of the list.
pub(super) struct Step<'a> {
    id: String,
    pub(super) operation: &'a str,
    request: &'a Map<String, Value>,
    handling: Option<&'a Map<String, Value>>,
    pub(super) baths: &'static [Bath],
    /// Ids of its own hazards, without those of the steps inside its start.
    pub(super) hazards: Vec<&'static str>,
}

impl Step<'_> {
    pub(super) fn word(&self, field: &str) -> Option<&str> {
        word(self.request, field)
    }

    pub(super) fn number(&self, field: &str) -> Option<f64> {
        number(self.request, field)
    }

    pub(super) fn handled(&self, field: &str) -> Option<&str> {
        word(self.handling?, field)
    }

    pub(super) fn handled_number(&self, field: &str) -> Option<f64> {
        number(self.handling?, field)
    }

    pub(super) fn handled_flag(&self, field: &str) -> Option<bool> {
        self.handling?.get(field)?.as_bool()
    }

    /// The words of a list of the handling; one word counts as a list of one.
    pub(super) fn handled_list(&self, field: &str) -> Vec<&str> {
        match self.handling.and_then(|handling| handling.get(field)) {
            Some(Value::String(one)) => vec![one],
            Some(Value::Array(list)) => list.iter().filter_map(Value::as_str).collect(),
            _ => Vec::new(),
        }
    }

    pub(super) fn has(&self, bath: Bath) -> bool {
        self.baths.contains(&bath)
    }

    /// The ambients of a furnace with their lowest temperature in C, if it is known.
    pub(super) fn furnace(&self) -> Vec<(&str, Option<f64>)> {
        let lowest = |of: &Map<String, Value>| {
            let ends = [number(of, "temperature_c"), number(of, "end_temperature_c")];
            ends.into_iter().flatten().reduce(f64::min)
        };
        let segments = self.request.get("segments").and_then(Value::as_array);
        let mut list: Vec<(&str, Option<f64>)> = segments
            .into_iter()
            .flatten()
            .filter_map(Value::as_object)
            .map(|segment| (word(segment, "ambient").unwrap_or(""), lowest(segment)))
            .collect();
        if let Some(ambient) = self.word("ambient") {
            list.push((ambient, lowest(self.request)));
        }
        list
    }

    pub(super) fn is_furnace(&self) -> bool {
        matches!(self.operation, "oxidation" | "predeposition" | "drive_in" | "anneal")
    }

    /// Whether oxygen or steam flows in its furnace.
    pub(super) fn feeds_oxygen(&self) -> bool {
        self.is_furnace() && self.hazards.contains(&"O2")
    }

    /// Whether it puts a solvent film on the wafer's whole surface, or is done in one.
    pub(super) fn is_solvent(&self) -> bool {
        self.has(Bath::Solvent)
    }
}

/// The steps of a list, each a request with `id` or `{"id", "step": request}`.
pub(super) fn steps_of(values: &[Value]) -> Vec<Step<'_>> {
    values
        .iter()
        .enumerate()
        .filter_map(|(idx, value)| Some(step_of(value.as_object()?, idx)))
        .collect()
}

/// A request as a list: what its `start` did comes before it.
pub(super) fn chain_of(request: &Map<String, Value>) -> Vec<Step<'_>> {
    let mut chain = vec![request];
    let mut outer = request;
    while let Some(inner) =
        ["start", "profile"].iter().find_map(|field| outer.get(*field)?.as_object())
    {
        if inner.contains_key("operation") {
            chain.push(inner);
        }
        outer = inner;
    }
    chain.into_iter().rev().enumerate().map(|(idx, one)| step_of(one, idx)).collect()
}

fn step_of(outer: &Map<String, Value>, idx: usize) -> Step<'_> {
    let request = outer.get("step").and_then(Value::as_object).unwrap_or(outer);
    let id = match outer.get("id") {
        Some(Value::String(id)) => id.clone(),
        Some(Value::Number(id)) => id.to_string(),
        _ => (idx + 1).to_string(),
    };
    let handling = request.get("handling").or_else(|| outer.get("handling"));
    let handling = handling.and_then(Value::as_object);
    let operation = word(request, "operation").unwrap_or("");
    let baths = baths(operation, request);
    let hazards = own(request);
    Step { id, operation, request, handling, baths, hazards }
}

/// What is on the wafer before a step: the step that brought it.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Wafer {
    /// The coat of resist.
    pub(super) resist: Option<usize>,
    /// The metal film.
    pub(super) metal: Option<usize>,
    /// Whether a coat was seen at all, so that its absence is known.
    pub(super) resist_known: bool,
}

/// The steps with what is on the wafer before each.
pub(super) struct Trace<'a> {
    pub(super) steps: Vec<Step<'a>>,
    pub(super) before: Vec<Wafer>,
}

impl<'a> Trace<'a> {
    pub(super) fn of(steps: Vec<Step<'a>>) -> Self {
        let mut wafer = Wafer::default();
        let mut before = Vec::with_capacity(steps.len());
        for (idx, step) in steps.iter().enumerate() {
            before.push(wafer);
            match step.operation {
                "spin_coating" => {
                    wafer.resist = Some(idx);
                    wafer.resist_known = true;
                }
                "deposition" if step.word("film") == Some("aluminum") => {
                    wafer.metal = Some(idx);
                }
                "resist_strip" => {
                    wafer.resist = None;
                    wafer.resist_known = true;
                }
                "dry_etch" if step.word("chemistry") == Some("oxygen") => {
                    wafer.resist = None;
                }
                _ if step.has(Bath::Piranha) || step.has(Bath::Solvent) => {
                    wafer.resist = None;
                }
                _ => {}
            }
        }
        Self { steps, before }
    }

    pub(super) fn id(&self, idx: usize) -> Option<String> {
        self.steps.get(idx).map(|step| step.id.clone())
    }

    /// The single steps of a kind.
    pub(super) fn each(&self, wanted: impl Fn(&Step<'_>) -> bool) -> Vec<Vec<usize>> {
        let numbered = self.steps.iter().enumerate();
        numbered.filter(|(_, step)| wanted(step)).map(|(idx, _)| vec![idx]).collect()
    }

    /// Pairs of neighbors of a kind.
    pub(super) fn neighbors(
        &self,
        wanted: impl Fn(&Step<'_>, &Step<'_>) -> bool,
    ) -> Vec<Vec<usize>> {
        let pairs = self.steps.windows(2).enumerate();
        pairs
            .filter(|(_, pair)| matches!(pair, [one, next] if wanted(one, next)))
            .map(|(idx, _)| vec![idx, idx + 1])
            .collect()
    }

    /// Steps of a kind that meet something on the wafer, with the step that brought it.
    pub(super) fn meeting(
        &self,
        brought: impl Fn(&Wafer) -> Option<usize>,
        wanted: impl Fn(&Step<'_>) -> bool,
    ) -> Vec<Vec<usize>> {
        let numbered = self.steps.iter().zip(&self.before).enumerate();
        numbered
            .filter(|(_, (step, _))| wanted(step))
            .filter_map(|(idx, (_, wafer))| Some(vec![brought(wafer)?, idx]))
            .collect()
    }
}
