//! The thing itself, to scale: one picture a bench.

mod deposition;
mod diffusion;
mod doped;
mod dry_etcher;
mod four_point;
mod furnace;
mod implanter;
mod polisher;
pub(crate) mod sketch;
mod spinner;
pub(crate) mod tracks;
mod wet_bench;

use barewafer_process::Report;
use barewafer_process::report::Results;
use barewafer_process::vocabulary::Material;

use crate::scene::Scene;
pub(crate) use doped::doped_word;
use sketch::Sketch;

/// How much room a picture has.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Frame {
    /// 640 wide, labels beside the section.
    #[default]
    Wide,
    /// 312 wide, as on a phone: the labels are numbers, with a key below.
    Narrow,
}

impl Frame {
    /// What belongs to this frame.
    fn pick<T>(self, wide: T, narrow: T) -> T {
        match self {
            Self::Wide => wide,
            Self::Narrow => narrow,
        }
    }
}

/// The picture of a report; none if the report has nothing to show.
#[must_use]
pub fn of(report: &Report, frame: Frame) -> Option<Scene> {
    let sketch = Sketch::new(frame);
    match &report.results {
        #[cfg(feature = "films")]
        Results::Oxidation(results) => Some(furnace::picture(results, sketch)),
        #[cfg(feature = "films")]
        Results::SpinCoating(results) => Some(spinner::picture(results, sketch)),
        // No pictures yet.
        #[cfg(feature = "lithography")]
        Results::Bake(_) | Results::Exposure(_) | Results::Development(_) => None,
        #[cfg(feature = "etching")]
        Results::WetEtch(results) => Some(wet_bench::picture(results, sketch)),
        #[cfg(feature = "films")]
        Results::Deposition(results) => Some(deposition::picture(results, sketch)),
        #[cfg(feature = "etching")]
        Results::DryEtch(results) => Some(dry_etcher::picture(results, sketch)),
        #[cfg(feature = "etching")]
        Results::ResistStrip(results) => Some(dry_etcher::strip(results, sketch)),
        #[cfg(feature = "etching")]
        Results::Planarization(results) => Some(polisher::picture(results, sketch)),
        #[cfg(feature = "doping")]
        Results::Diffusion(results) => {
            diffusion::picture(report.operation, results, sketch)
        }
        #[cfg(feature = "doping")]
        Results::Implantation(results) => implanter::picture(results, sketch),
        #[cfg(feature = "doping")]
        Results::Sheet(results) => four_point::picture(results, sketch),
        // The module of whole flows answers no requests.
        #[cfg(not(any(
            feature = "films",
            feature = "etching",
            feature = "lithography",
            feature = "doping"
        )))]
        _ => None,
    }
}

/// The material word of scenes.
#[must_use]
pub const fn material_word(material: Material) -> &'static str {
    match material {
        Material::Silicon => "silicon",
        Material::Polysilicon => "polysilicon",
        Material::ThermalOxide => "thermal_oxide",
        Material::DepositedOxide => "deposited_oxide",
        Material::PhosphorusGlass => "glass",
        Material::Nitride => "nitride",
        Material::Aluminum => "metal",
        Material::Resist => "resist",
    }
}
