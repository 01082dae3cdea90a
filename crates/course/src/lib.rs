//! The exercises of the lab: individual numbers, marking, and what is told about slips.
//!
//! An exercise is a row of `data/exercises.json`: a question with `{name}` for numbers that
//! are drawn for each student, the request whose result is the answer, and the wrong models
//! that people fall into, each as a formula with the same numbers. A wrong answer that equals
//! a wrong model gets the question that leads out of it.
//!
//! The crate sees the kernel only through its public door, as a student does. It knows no
//! page, no file and no clock; who has tried how often is told to it.
//!
//! ```
//! use barewafer_course::{Outcome, Owner, check, exercise_view};
//!
//! let owner = Owner { code: "TV-HW1", student: "tv-0001", set: 0 };
//! let view = exercise_view("spin-speed", owner)?;
//! assert!(view.prompt.ends_with("Which speed do you set, in rpm?"));
//! assert_eq!(check("spin-speed", owner, "fast", 1, false)?.verdict, Outcome::Unreadable);
//! # Ok::<(), barewafer_course::CourseError>(())
//! ```

pub mod answer;
pub mod catalog;
pub mod error;
pub mod exercise;
pub mod expected;
pub mod expression;
pub mod identity;
pub mod marking;
pub mod numbers;
pub mod print;
pub mod questions;
pub mod unit;
pub mod view;

#[cfg(test)]
mod variants;

pub use error::CourseError;
pub use marking::{Outcome, Verdict, check};
pub use numbers::Owner;
pub use view::{
    ExerciseSummary, ExerciseView, WorkedTwin, exercise_view, exercises, worked_twin,
};
