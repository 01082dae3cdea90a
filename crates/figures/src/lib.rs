//! Draws charts and pictures of reports on any plotters back end, and as plain scenes.
//!
//! **Invariant:** no physics here; every number comes from a report. No JS type here either.

pub mod chart;
pub mod scene;
