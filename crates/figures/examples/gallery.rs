//! Writes charts and pictures from corner to corner of the benches as SVG files:
//! `cargo run -p barewafer-figures --example gallery -- FOLDER`.

#[path = "../tests/benches/requests.rs"]
mod requests;

use std::fs::{create_dir_all, write};
use std::path::Path;

use barewafer_figures::pictures::Frame;
use barewafer_figures::style::{Style, Theme};
use barewafer_figures::{charts, pictures, scene_svg::scene_svg, svg::chart_svg};
use barewafer_process::run_text;

fn main() -> std::io::Result<()> {
    let folder = std::env::args().nth(1).unwrap_or_else(|| "target/gallery".to_owned());
    let folder = Path::new(&folder);
    create_dir_all(folder)?;
    for (name, request) in requests::REQUESTS {
        let report = run_text(request.as_bytes()).map_err(std::io::Error::other)?;
        for (theme, word) in [(Theme::Light, "light"), (Theme::Dark, "dark")] {
            for (width, height) in [(1000.0, 560.0), (340.0, 300.0)] {
                let mut style = Style::new(theme, width, height, 1.0);
                style.title = 500.0 < width;
                for chart in charts::of(&report) {
                    let text =
                        chart_svg(&chart, None, &style).map_err(std::io::Error::other)?;
                    write(
                        folder.join(format!("{name}-{}-{word}-{width}.svg", chart.id)),
                        text,
                    )?;
                }
            }
            for (frame, room) in [(Frame::Wide, "wide"), (Frame::Narrow, "narrow")] {
                if let Some(scene) = pictures::of(&report, frame) {
                    let text = scene_svg(&scene, theme);
                    write(
                        folder.join(format!("{name}-picture-{word}-{room}.svg")),
                        text,
                    )?;
                }
            }
        }
    }
    Ok(())
}
