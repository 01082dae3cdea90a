//! Draws charts and pictures of reports on any plotters back end, and as plain scenes.
//!
//! **Invariant:** no physics here; every number comes from a report. No JS type here either.
//!
//! - [`charts::of`] turns a report into charts, [`pictures::of`] into a picture.
//! - [`draw::draw`] draws a chart on any plotters back end, [`svg::chart_svg`] writes it as SVG.
//! - [`scene_svg::scene_svg`] writes a picture as SVG.

// A build of one family leaves the others' drawings without a caller; a build of all does not.
#![cfg_attr(
    not(all(
        feature = "films",
        feature = "etching",
        feature = "lithography",
        feature = "doping"
    )),
    allow(dead_code, reason = "only the families that are built are drawn")
)]
// The module of whole flows has no door for single requests, so nothing goes through them.
#![cfg_attr(
    not(any(
        feature = "films",
        feature = "etching",
        feature = "lithography",
        feature = "doping"
    )),
    allow(
        unused_imports,
        unused_variables,
        unreachable_code,
        reason = "no operation answers, so what would report it has no use"
    )
)]

pub mod axis;
pub mod chart;
pub mod charts;
pub mod draw;
pub mod numbers;
pub mod palette;
pub mod pictures;
pub mod scene;
pub mod scene_svg;
pub mod style;
pub mod svg;
pub mod text_width;
pub mod wafer;
