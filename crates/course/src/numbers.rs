//! Individual numbers: the same code, student, exercise and set give the same numbers for ever.
//!
//! # Model
//! Generator version 1. Text `CODE|id|exercise|1|set`, with the student's identifier trimmed,
//! in Unicode form NFC and lower case; seed = FNV-1a, 64 bit, over its UTF-8 bytes; stream =
//! `SplitMix64`; index in a list of n = high 64 bits of the 128-bit product of the next output
//! and n. Parameters are drawn in ascending byte order of their names, then the record; if a
//! condition fails, all is drawn again from the same stream.
//!
//! # Source
//! G. Fowler, L. C. Noll, K.-P. Vo: FNV-1a, public domain (memory). G. L. Steele, D. Lea,
//! C. H. Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014: `SplitMix64`
//! (memory).
//!
//! The generator is frozen: a student who opens last year's link gets last year's numbers. A
//! change needs a new version number beside this one.

use std::collections::BTreeMap;

use crate::catalog::Catalog;
use crate::error::CourseError;
use crate::exercise::{Drawn, Exercise};
use crate::{identity, print};

/// Version of the drawing of numbers.
pub const GENERATOR_VERSION: u32 = 1;

/// Draws before giving up; an exercise rejects at most a few in a row.
const MAX_DRAWS: u32 = 1000;

/// Whose numbers: the code of the assignment, the student, and which set of numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Owner<'a> {
    /// Code of the assignment, as the instructor gave it.
    pub code: &'a str,
    /// Identifier of the student.
    pub student: &'a str,
    /// 0, then one more after each last try.
    pub set: u32,
}

/// The numbers of one student in one exercise, with all that is computed from them.
#[derive(Clone, Debug, PartialEq)]
pub struct Numbers {
    /// What was drawn.
    pub drawn: BTreeMap<String, Drawn>,
    /// What is computed from it and shown.
    pub shown: BTreeMap<String, f64>,
    /// What the formulas of the exercise call by a name, in order.
    pub lets: Vec<(String, f64)>,
    constants: BTreeMap<String, f64>,
}

/// Draws the numbers of an exercise.
///
/// # Errors
/// [`CourseError::BadIdentifier`], or an error of the exercise itself.
pub fn draw(
    catalog: &Catalog,
    exercise: &Exercise,
    owner: Owner<'_>,
) -> Result<Numbers, CourseError> {
    let mut stream = Stream::new(&seed_text(&exercise.id, owner)?);
    for _ in 0..MAX_DRAWS {
        let mut drawn = BTreeMap::new();
        // A BTreeMap of strings goes in ascending byte order, which is the order prescribed.
        for (name, parameter) in &exercise.parameters {
            if let Some(value) = stream.choose(&parameter.values) {
                drawn.insert(name.clone(), value.clone());
            }
        }
        if let Some(record) = stream.choose(&exercise.records) {
            drawn.extend(record.clone());
        }
        let numbers = Numbers::compute(catalog, exercise, drawn)?;
        if numbers.admissible(exercise)? {
            return Ok(numbers);
        }
    }
    Err(CourseError::NoDraw { exercise: exercise.id.clone(), draws: MAX_DRAWS })
}

impl Numbers {
    /// Computes what follows from a draw.
    ///
    /// # Errors
    /// [`CourseError::Formula`].
    pub fn compute(
        catalog: &Catalog,
        exercise: &Exercise,
        drawn: BTreeMap<String, Drawn>,
    ) -> Result<Self, CourseError> {
        let mut numbers = Self {
            drawn,
            shown: BTreeMap::new(),
            lets: Vec::new(),
            constants: catalog.constants.clone(),
        };
        for (name, formula) in &exercise.shown {
            let value = numbers.value_of(exercise, formula)?;
            numbers.shown.insert(name.clone(), value);
        }
        for (name, formula) in &exercise.lets {
            let value = numbers.value_of(exercise, formula)?;
            numbers.lets.push((name.clone(), value));
        }
        Ok(numbers)
    }

    /// Whether all conditions of the exercise hold.
    ///
    /// # Errors
    /// [`CourseError::Formula`].
    pub fn admissible(&self, exercise: &Exercise) -> Result<bool, CourseError> {
        for condition in &exercise.requires {
            if self.value_of(exercise, condition)?.abs() <= 0.0 {
                return Ok(false);
            }
        }
        Ok(true)
    }

    /// The value of a formula of the exercise with these numbers.
    ///
    /// # Errors
    /// [`CourseError::Formula`].
    pub fn value_of(
        &self,
        exercise: &Exercise,
        formula: &crate::exercise::Formula,
    ) -> Result<f64, CourseError> {
        formula.0.evaluate(&|name| self.number(name)).map_err(|source| {
            CourseError::Formula { exercise: exercise.id.clone(), source }
        })
    }

    /// The number of this name, drawn, shown, computed or constant.
    #[must_use]
    pub fn number(&self, name: &str) -> Option<f64> {
        if let Some(Drawn::Number(value)) = self.drawn.get(name) {
            return Some(*value);
        }
        let computed = self.lets.iter().find(|(known, _)| known == name);
        self.shown
            .get(name)
            .copied()
            .or(computed.map(|(_, value)| *value))
            .or_else(|| self.constants.get(name).copied())
    }

    /// The value of this name as printed: drawn values as they stand in their list, computed
    /// ones with four digits.
    #[must_use]
    pub fn text(&self, name: &str) -> Option<String> {
        match self.drawn.get(name) {
            Some(Drawn::Text(word)) => return Some(word.clone()),
            Some(Drawn::Number(value)) => return Some(print::plain(*value)),
            None => {}
        }
        if let Some(value) = self.shown.get(name) {
            return Some(print::plain(*value));
        }
        self.number(name).map(|value| print::significant(value, 4))
    }
}

/// The learner's own order of `count` choices: a shuffle by the same stream as the numbers.
///
/// # Errors
/// [`CourseError::BadIdentifier`].
pub fn order(
    question: &str,
    owner: Owner<'_>,
    count: usize,
) -> Result<Vec<usize>, CourseError> {
    let mut stream = Stream::new(&seed_text(question, owner)?);
    let mut left: Vec<usize> = (0..count).collect();
    let mut order = Vec::with_capacity(count);
    while let Some(&next) = stream.choose(&left) {
        left.retain(|&idx| idx != next);
        order.push(next);
    }
    Ok(order)
}

/// The text from which the numbers follow.
fn seed_text(exercise: &str, owner: Owner<'_>) -> Result<String, CourseError> {
    let (code, student) =
        (identity::code(owner.code)?, identity::student(owner.student)?);
    Ok(format!("{code}|{student}|{exercise}|{GENERATOR_VERSION}|{}", owner.set))
}

/// `SplitMix64`.
struct Stream {
    state: u64,
}

impl Stream {
    fn new(text: &str) -> Self {
        Self { state: fnv_1a(text.as_bytes()) }
    }

    const fn next(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// One of the list; nothing is drawn for an empty list.
    fn choose<'a, T>(&mut self, list: &'a [T]) -> Option<&'a T> {
        if list.is_empty() {
            return None;
        }
        let length = u128::try_from(list.len()).unwrap_or(u128::from(u64::MAX));
        let index = (u128::from(self.next()) * length) >> 64;
        list.get(usize::try_from(index).unwrap_or(0))
    }
}

fn fnv_1a(bytes: &[u8]) -> u64 {
    bytes.iter().fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const fn owner<'a>(code: &'a str, student: &'a str) -> Owner<'a> {
        Owner { code, student, set: 0 }
    }

    #[test]
    fn the_generator_gives_its_test_vector() {
        let text = seed_text("ox-wet-field", owner("TV-HW1", "tv-0001")).unwrap();
        assert_eq!(text, "TV-HW1|tv-0001|ox-wet-field|1|0");
        let mut stream = Stream::new(&text);
        assert_eq!(stream.state, 0xae2a_b11f_b23f_61d0);
        assert_eq!(stream.next(), 0x006a_1941_0ff4_daef);
    }

    #[test]
    fn the_hash_and_the_stream_give_their_published_first_values() {
        // FNV-1a of the empty text and of "a" (memory: the authors' test list), and the
        // first output of SplitMix64 from state 0 (memory; widely printed).
        assert_eq!(fnv_1a(b""), 0xcbf2_9ce4_8422_2325);
        assert_eq!(fnv_1a(b"a"), 0xaf63_dc4c_8601_ec8c);
        assert_eq!(Stream { state: 0 }.next(), 0xe220_a839_7b1d_cdaf);
    }

    #[test]
    fn choices_are_even() {
        // Chi-square with 9 degrees of freedom stays below 27.9 in 99.9 % of streams; the
        // stream is fixed, so this either holds or does not.
        let list: Vec<usize> = (0..10).collect();
        let mut counts = [0.0_f64; 10];
        for student in 0..5000 {
            let text = seed_text("ox", owner("A", &format!("s{student}"))).unwrap();
            counts[*Stream::new(&text).choose(&list).unwrap()] += 1.0;
        }
        let chi_square: f64 =
            counts.iter().map(|count| (count - 500.0) * (count - 500.0) / 500.0).sum();
        assert!(chi_square < 27.9, "{chi_square}");
    }
}
