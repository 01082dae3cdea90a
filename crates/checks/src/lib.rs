//! Published values as requests: what is asked, where in the answer to look, what is published,
//! and how far the kernel is from it at this moment.
//!
//! [`tables::all`] makes the checks from the tables in `tests/reference`, which the kernel's
//! tests read too, so that no number is typed twice; [`run`] asks the kernel and judges. The
//! command runs them natively, the page in the reader's own browser.

pub mod check;
pub mod reading;
mod run;
#[cfg(not(target_arch = "wasm32"))]
pub mod tables;

pub use check::{Allowed, Check, Expected};
pub use run::{Outcome, Verdict, run, run_text};
