//! The thing itself, to scale: one picture a bench.

mod aligner;
mod deposition;
mod developer;
mod diffusion;
mod doped;
mod dry_etcher;
mod four_point;
mod furnace;
mod hot_plate;
mod implanter;
mod latent;
mod polisher;
mod process_window;
pub(crate) mod sketch;
mod spinner;
pub(crate) mod tracks;
mod wet_bench;

use barewafer_process::Report;
use barewafer_process::report::Results;
use barewafer_process::vocabulary::Material;

use crate::scene::Scene;
pub(crate) use developer::is_line;
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
        #[cfg(feature = "lithography")]
        Results::SpinCoating(results) => Some(spinner::picture(results, sketch)),
        #[cfg(feature = "lithography")]
        Results::Bake(results) => Some(hot_plate::picture(results, sketch)),
        #[cfg(feature = "lithography")]
        Results::Exposure(results) => Some(aligner::picture(results, sketch)),
        #[cfg(feature = "lithography")]
        Results::ProcessWindow(results) => Some(process_window::picture(results, sketch)),
        #[cfg(feature = "lithography")]
        Results::Development(results) => Some(developer::picture(results, sketch)),
        #[cfg(feature = "etching")]
        Results::Clean(_) => None,
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
