//! Writes every chart and picture of the sample reports as SVG files into a folder:
//! `cargo run -p barewafer-figures --example gallery -- FOLDER`.

#[path = "../tests/sample/mod.rs"]
mod sample;

use std::path::Path;

use barewafer_figures::style::{Style, Theme};
use barewafer_figures::{charts, pictures, scene_svg::scene_svg, svg::chart_svg};

fn main() -> std::io::Result<()> {
    let folder = std::env::args().nth(1).unwrap_or_else(|| "target/gallery".to_owned());
    let folder = Path::new(&folder);
    std::fs::create_dir_all(folder)?;
    for (name, report) in sample::all() {
        for (theme, word) in [(Theme::Light, "light"), (Theme::Dark, "dark")] {
            for (width, height) in [(1000.0, 560.0), (340.0, 300.0)] {
                let mut style = Style::new(theme, width, height, 1.0);
                style.title = 500.0 < width;
                for chart in charts::of(&report) {
                    let ghost = charts::of(&sample::oxidation(300.0, 0.0))
                        .into_iter()
                        .find(|ghost| ghost.id == chart.id);
                    let text = chart_svg(&chart, ghost.as_ref(), &style)
                        .map_err(|error| std::io::Error::other(error.to_string()))?;
                    let file = format!("{name}-{}-{word}-{width}.svg", chart.id);
                    std::fs::write(folder.join(file), text)?;
                }
            }
            if let Some(scene) = pictures::of(&report) {
                let file = format!("{name}-picture-{word}.svg");
                std::fs::write(folder.join(file), scene_svg(&scene, theme))?;
            }
        }
    }
    Ok(())
}
