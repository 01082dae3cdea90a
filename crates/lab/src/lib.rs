//! The lab as a page sees it: requests in, reports, charts and pictures out, canvases drawn.
//!
//! **Invariant:** no panic crosses into the page. Whatever the page hands over, an export
//! returns a value or throws a plain object `{code, field, value, allowed, message, hint}`.
//! All state lives in the page: an instance can be thrown away at any time.

#![deny(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::unreachable,
    clippy::todo
)]

#[cfg(feature = "requests")]
mod answer;
mod canvas;
mod cautions;
#[cfg(feature = "requests")]
pub mod exercises;
pub mod exports;
#[cfg(feature = "wafer")]
mod flow_compare;
#[cfg(feature = "wafer")]
pub mod flow_layout;
#[cfg(feature = "wafer")]
pub mod flow_run;
mod incoming;
#[cfg(feature = "doping")]
pub mod ions;
mod outgoing;
pub mod panic;
#[cfg(feature = "requests")]
pub mod requests;
#[cfg(feature = "lithography")]
pub mod windows;

#[cfg(feature = "requests")]
pub use answer::{Answer, answer, answer_text};
