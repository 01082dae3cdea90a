//! Pictures of a flow as SVG or PNG files.

use std::fs;
use std::path::Path;

use barewafer_figures::scene::Scene;
use barewafer_figures::scene_svg::scene_svg;
use barewafer_figures::style::{Style, Theme};
use barewafer_figures::svg::chart_svg;
use barewafer_figures::wafer::{
    FRAME_WIDTH, Frame, LayoutView, PICTURE_HEIGHT, View, layout, profile, section,
    storyboard, thumbnail,
};
use barewafer_process::flow::questions::{describe, junctions_at_um, profile_down};
use barewafer_process::flow::{
    Flow, Runner, Snapshot, Stopped, printed_levels, step_name, step_parameters,
};
use barewafer_process::hazards;
use barewafer_process::num::show;

use crate::Failure;
use crate::flow::{read, wrong};

/// What is to be drawn.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Drawing {
    /// The flow's file; `-` is standard input.
    pub(crate) file: String,
    /// After which step; the last one if none is given.
    pub(crate) step: Option<String>,
    /// Which picture.
    pub(crate) kind: Option<Kind>,
    /// The file to be written; it ends in `.svg` or `.png`.
    pub(crate) out: Option<String>,
    /// A place of the section in um.
    pub(crate) at_um: Option<f64>,
    /// On dark paper.
    pub(crate) dark: bool,
}

/// The pictures of a flow.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Kind {
    /// The wafer in cross-section.
    #[default]
    Section,
    /// The masks from above.
    Layout,
    /// Doping over depth at a place.
    Profile,
    /// A small section of every step.
    Storyboard,
}

impl Kind {
    /// The picture of a word.
    pub(crate) fn of(word: &str) -> Option<Self> {
        match word {
            "section" => Some(Self::Section),
            "layout" => Some(Self::Layout),
            "profile" => Some(Self::Profile),
            "storyboard" => Some(Self::Storyboard),
            _ => None,
        }
    }
}

/// Pixels of a PNG file per pixel of the drawing.
const SHARPNESS: f32 = 2.0;

/// Draws a picture into a file; gives a line that says so.
pub(crate) fn draw(drawing: &Drawing) -> Result<String, Failure> {
    let out = drawing.out.as_deref().ok_or_else(|| {
        wrong("--out is missing (allowed: a file that ends in .svg or .png); see barewafer --help")
    })?;
    let is_png = match Path::new(out).extension().and_then(|e| e.to_str()) {
        Some("svg") => false,
        Some("png") => true,
        _ => {
            return Err(wrong(format!(
                "--out {out}: unknown kind of file (allowed: .svg, .png); name the file so"
            )));
        }
    };
    let flow = Flow::from_text(&read(&drawing.file)?).map_err(wrong)?;
    let until = match &drawing.step {
        Some(step) => Some(flow.find_step(step).map_err(wrong)?),
        None => None,
    };
    let mut runner = Runner::new();
    match runner.run(&flow, until, &mut |_| true) {
        Ok(_) | Err(Stopped::Cancelled) => {}
        Err(Stopped::Wrong(error)) => return Err(wrong(error)),
    }
    let Some(last) = runner.snapshots().last() else {
        return Err(wrong("the flow has no step; add one"));
    };
    let theme = if drawing.dark { Theme::Dark } else { Theme::Light };
    let svg = picture(drawing, &flow, runner.snapshots(), last, theme)?;
    if is_png {
        fs::write(out, png(&svg)?)?;
    } else {
        fs::write(out, svg)?;
    }
    Ok(format!("{out} written: after step {}, {}\n", last.report.number, last.report.id))
}

fn picture(
    drawing: &Drawing,
    flow: &Flow,
    snapshots: &[Snapshot],
    last: &Snapshot,
    theme: Theme,
) -> Result<String, Failure> {
    let x_um = drawing.at_um.unwrap_or(0.5 * flow.width_um());
    if !(0.0..=flow.width_um()).contains(&x_um) {
        return Err(wrong(format!(
            "--at {x_um}: outside the section (allowed: 0 to {} µm); give a distance from the beginning of the section line",
            show(flow.width_um())
        )));
    }
    let scene = match drawing.kind.unwrap_or_default() {
        Kind::Section => {
            let view = View {
                plumb_nm: drawing.at_um.map(|x_um| 1000.0 * x_um),
                ..whole(flow, last)
            };
            section(&last.section, &view, describe(flow, last).join(" "))
        }
        Kind::Layout => {
            let view = LayoutView {
                width: 900.0,
                printed: printed_levels(flow, snapshots.len()),
                plumb_um: drawing.at_um,
                ..LayoutView::default()
            };
            layout(&flow.layout, &flow.section, &view)
        }
        Kind::Profile => {
            let chart = profile(
                &profile_down(flow, last, x_um),
                &junctions_at_um(flow, last, x_um),
                x_um,
            );
            let mut style = Style::new(theme, 720.0, 480.0, 1.0);
            style.title = true;
            return chart_svg(&chart, None, &style).map_err(wrong);
        }
        Kind::Storyboard => board(flow, snapshots),
    };
    Ok(scene_svg(&scene, theme))
}

/// The whole section, down to below its deepest junction.
fn whole(flow: &Flow, snapshot: &Snapshot) -> View {
    let columns = snapshot.section.columns();
    let deepest_um = (0..columns)
        .step_by(8)
        .filter_map(|i| {
            let x_um = 1e-3 * snapshot.section.center_nm(i);
            junctions_at_um(flow, snapshot, x_um).last().copied()
        })
        .reduce(f64::max);
    View::whole(&snapshot.section, deepest_um)
}

fn board(flow: &Flow, snapshots: &[Snapshot]) -> Scene {
    let frames: Vec<Frame> = flow
        .steps
        .iter()
        .zip(snapshots)
        .map(|(step, snapshot)| {
            let view = View {
                width: FRAME_WIDTH,
                height: PICTURE_HEIGHT,
                ..whole(flow, snapshot)
            };
            let number = snapshot.report.number;
            Frame {
                title: format!("{number} {} ({})", step_name(step.operation), step.id),
                parameters: step_parameters(step),
                caution: caution(&snapshot.report.hazards),
                thumbnail: thumbnail(&snapshot.section, &view, String::new()),
            }
        })
        .collect();
    storyboard(&format!("{}: {}", flow.name, flow.title), &frames)
}

/// The hazards of a step, the worst first, with its signal word.
fn caution(ids: &[String]) -> String {
    let rows: Vec<_> = ids.iter().filter_map(|id| hazards::row(id)).collect();
    let Some(worst) = rows.first() else { return String::new() };
    let names: Vec<&str> = rows.iter().map(|row| row.name.as_str()).collect();
    format!("{}: {}", worst.callout().signal_word, names.join("; "))
}

/// Fonts that labels are set in, the first one that is installed: those with raised digits and
/// signs come first, since a text with a letter that its font lacks is set in any other one.
const SANS: [&str; 5] =
    ["DejaVu Sans", "Noto Sans", "Arial", "Helvetica", "Liberation Sans"];

/// A drawing as pixels.
fn png(svg: &str) -> Result<Vec<u8>, Failure> {
    use resvg::{tiny_skia, usvg};
    let mut options = usvg::Options::default();
    let fonts = options.fontdb_mut();
    fonts.load_system_fonts();
    // "sans-serif" means Arial to the library; not every machine has it.
    let sans = SANS.iter().find(|name| {
        fonts.faces().any(|face| face.families.iter().any(|(family, _)| family == *name))
    });
    let Some(sans) = sans else {
        return Err(wrong(
            "no font for the labels is installed (tried: DejaVu Sans, Noto Sans, Arial, Helvetica, Liberation Sans); install one or write the picture as .svg",
        ));
    };
    fonts.set_sans_serif_family(*sans);
    options.font_family = (*sans).to_owned();
    let tree = usvg::Tree::from_str(svg, &options).map_err(wrong)?;
    let size = tree.size().to_int_size().scale_by(SHARPNESS);
    let mut pixels = size
        .and_then(|size| tiny_skia::Pixmap::new(size.width(), size.height()))
        .ok_or_else(|| {
            wrong("the picture is too large for a PNG file; write it as .svg")
        })?;
    let scale = tiny_skia::Transform::from_scale(SHARPNESS, SHARPNESS);
    resvg::render(&tree, scale, &mut pixels.as_mut());
    pixels.encode_png().map_err(wrong)
}
