//! A picture as an SVG file, with the hatches of the materials as patterns.

use std::fmt::Write as _;

use crate::palette::{Hatch, MATERIALS, MaterialLook, Palette, hex, material};
use crate::scene::{Scene, Shape};
use crate::style::{FONT, Theme};
use crate::svg::escape;

/// The picture as one SVG element with a description.
#[must_use]
pub fn scene_svg(scene: &Scene, theme: Theme) -> String {
    let palette = Palette::of(theme);
    let (width, height) = (number(scene.width), number(scene.height));
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\" viewBox=\"0 0 {width} {height}\" role=\"img\" font-family=\"{}\" stroke-linejoin=\"round\" stroke-linecap=\"round\">\n<desc>{}</desc>\n<defs>\n",
        escape(FONT),
        escape(&scene.description),
    );
    let used = |look: &MaterialLook| {
        scene.shapes.iter().any(
            |shape| matches!(shape, Shape::Area { material, .. } | Shape::Ground { material, .. } if material == look.word),
        )
    };
    for look in MATERIALS.iter().filter(|look| used(look)) {
        out.push_str(&pattern(look));
    }
    out.push_str("</defs>\n");
    // Writing to a String cannot fail.
    let _ = writeln!(
        out,
        "<rect width=\"{width}\" height=\"{height}\" fill=\"{}\"/>",
        hex(palette.sheet)
    );
    for shape in &scene.shapes {
        write_shape(&mut out, shape, &palette);
    }
    out.push_str("</svg>\n");
    out
}

fn write_shape(out: &mut String, shape: &Shape, palette: &Palette) {
    let _ = match shape {
        Shape::Area { points, material: word } => {
            let look = material(word);
            let points = list(points);
            let outline = hex(look.outline);
            if look.hatch == Hatch::Plain {
                writeln!(
                    out,
                    "<polygon points=\"{points}\" fill=\"{}\" stroke=\"{outline}\" stroke-width=\"1.5\"/>",
                    hex(look.fill)
                )
            } else {
                writeln!(
                    out,
                    "<polygon points=\"{points}\" fill=\"url(#hatch-{})\" stroke=\"{outline}\" stroke-width=\"1.5\"/>",
                    look.word
                )
            }
        }
        Shape::Ground { points, material: word } => {
            let look = material(word);
            let fill = if look.hatch == Hatch::Plain {
                hex(look.fill)
            } else {
                format!("url(#hatch-{})", look.word)
            };
            writeln!(out, "<polygon points=\"{}\" fill=\"{fill}\"/>", list(points))
        }
        Shape::Tint { points, color, opacity } => writeln!(
            out,
            "<polygon points=\"{}\" fill=\"{}\" fill-opacity=\"{}\"/>",
            list(points),
            color_or(color, "none"),
            number(*opacity)
        ),
        Shape::Line { points, style } => writeln!(
            out,
            "<polyline points=\"{}\" fill=\"none\" {}/>",
            list(points),
            stroke(style, palette)
        ),
        Shape::Strokes { lines, style } => writeln!(
            out,
            "<path d=\"{}\" fill=\"none\" {}/>",
            lines.iter().map(|points| format!("M{}", list(points))).collect::<String>(),
            stroke(style, palette)
        ),
        Shape::Ellipse { center, radii, color, style } => writeln!(
            out,
            "<ellipse cx=\"{}\" cy=\"{}\" rx=\"{}\" ry=\"{}\" fill=\"{}\" {}/>",
            number(center[0]),
            number(center[1]),
            number(radii[0]),
            number(radii[1]),
            color_or(color, "none"),
            stroke(style, palette)
        ),
        Shape::Text { at, text, anchor, size, style } => {
            let (color, weight) = match style.as_str() {
                "soft" => (palette.soft, "normal"),
                "strong" => (palette.ink, "bold"),
                _ => (palette.ink, "normal"),
            };
            let anchor = match anchor.as_str() {
                "middle" => "middle",
                "end" => "end",
                _ => "start",
            };
            writeln!(
                out,
                "<text x=\"{}\" y=\"{}\" dy=\"0.35em\" text-anchor=\"{anchor}\" font-size=\"{}\" font-weight=\"{weight}\" fill=\"{}\">{}</text>",
                number(at[0]),
                number(at[1]),
                number(*size),
                hex(color),
                escape(text)
            )
        }
    };
}

/// The stroke of a style word.
fn stroke(style: &str, palette: &Palette) -> String {
    // Materials keep their color in the dark theme, so what lies on them keeps dark ink.
    let dark_ink = Palette::of(Theme::Light).ink;
    let dark = *palette == Palette::of(Theme::Dark);
    // A level of the layout wears the color of what it shapes, light on dark paper.
    let level = |word: &str| {
        let look = material(word);
        if dark { look.fill } else { look.outline }
    };
    let (color, width, dash) = match style {
        "level_well" => (level("n_silicon"), 1.5, "9 4"),
        "level_active" => (level("silicon"), 1.5, ""),
        "level_gate" => (level("polysilicon"), 2.5, ""),
        "level_donors" => (level("n_silicon"), 1.75, "1.5 3"),
        "level_acceptors" => (level("p_silicon"), 1.75, "1.5 3"),
        "level_contact" => (palette.ink, 1.25, ""),
        "level_metal" => (level("metal"), 1.0, ""),
        "level_other" => (palette.ink, 1.5, "8 3 2 3"),
        "hairline" => (palette.soft, 1.0, ""),
        "grid" => (palette.hairline, 1.0, ""),
        "dashed" => (palette.ink, 1.5, "6 3"),
        "amber" => (palette.amber, 2.0, ""),
        "beam" => (palette.ink, 1.5, ""),
        "halo" => ([0xFF, 0xB2, 0x24], 6.0, ""),
        "section" => (dark_ink, 2.0, ""),
        "section_dashed" => (dark_ink, 1.5, "6 3"),
        "mark" => (dark_ink, 1.0, ""),
        _ => (palette.ink, 2.0, ""),
    };
    let dash = if dash.is_empty() {
        String::new()
    } else {
        format!(" stroke-dasharray=\"{dash}\" stroke-linecap=\"butt\"")
    };
    format!("stroke=\"{}\" stroke-width=\"{width}\"{dash}", hex(color))
}

/// The pattern of a material: its fill and its hatch.
fn pattern(look: &MaterialLook) -> String {
    let line = |d: &str, more: &str| {
        format!(
            "<path d=\"{d}\" fill=\"none\" stroke=\"{}\" stroke-width=\"1\" stroke-opacity=\"0.6\"{more}/>",
            hex(look.outline)
        )
    };
    let (size, marks) = match look.hatch {
        Hatch::Plain => (10.0, String::new()),
        Hatch::LevelDashes => (14.0, line("M2 4H8M9 11H14M0 11H1", "")),
        Hatch::UprightTicks => (14.0, line("M4 1V7M11 8V14", "")),
        Hatch::Wide45 => (10.0, line("M-1 11L11 -1M-1 1L1 -1M9 11L11 9", "")),
        Hatch::Dotted45 => (10.0, line("M0 10L10 0", " stroke-dasharray=\"1.5 3.2\"")),
        Hatch::Level => (7.0, line("M0 3.5H7", "")),
        Hatch::Dense135 => (5.0, line("M-1 -1L6 6M-1 4L1 6M4 -1L6 1", "")),
        Hatch::Crossed => (9.0, line("M-1 -1L10 10M-1 10L10 -1", "")),
        Hatch::Dots => (
            10.0,
            format!(
                "<circle cx=\"2.5\" cy=\"2.5\" r=\"1\" fill=\"{0}\" fill-opacity=\"0.7\"/><circle cx=\"7.5\" cy=\"7.5\" r=\"1\" fill=\"{0}\" fill-opacity=\"0.7\"/>",
                hex(look.outline)
            ),
        ),
    };
    format!(
        "<pattern id=\"hatch-{}\" width=\"{size}\" height=\"{size}\" patternUnits=\"userSpaceOnUse\"><rect width=\"{size}\" height=\"{size}\" fill=\"{}\"/>{marks}</pattern>\n",
        look.word,
        hex(look.fill)
    )
}

/// A color of a scene if it is `#rrggbb`; anything else is not written into the file.
fn color_or<'a>(color: &'a str, other: &'a str) -> &'a str {
    let good = color.len() == 7
        && color.starts_with('#')
        && color.chars().skip(1).all(|c| c.is_ascii_hexdigit());
    if good { color } else { other }
}

fn list(points: &[[f64; 2]]) -> String {
    let pairs: Vec<String> =
        points.iter().map(|p| format!("{},{}", number(p[0]), number(p[1]))).collect();
    pairs.join(" ")
}

/// A coordinate to a hundredth; 0 for what is none.
fn number(value: f64) -> String {
    if !value.is_finite() {
        return "0".to_owned();
    }
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
