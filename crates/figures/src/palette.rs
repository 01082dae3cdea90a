//! Colors of the figures: curves, ink and paper per theme, and the one set of materials.

use crate::chart::Role;
use crate::style::Theme;

/// A color as red, green, blue.
pub type Rgb = [u8; 3];

/// Ink and paper of a theme.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Palette {
    /// The ground of the figure.
    pub sheet: Rgb,
    /// Axes, main text.
    pub ink: Rgb,
    /// Secondary text.
    pub soft: Rgb,
    /// Grid.
    pub hairline: Rgb,
    /// Axis frame and ticks.
    pub rule: Rgb,
    /// The active mark.
    pub amber: Rgb,
}

const LIGHT: Palette = Palette {
    sheet: [0xFF, 0xFF, 0xFF],
    ink: [0x20, 0x24, 0x2A],
    soft: [0x56, 0x5C, 0x66],
    hairline: [0xE3, 0xDC, 0xCD],
    rule: [0x82, 0x7A, 0x6B],
    amber: [0x8F, 0x4E, 0x00],
};

const DARK: Palette = Palette {
    sheet: [0x21, 0x1B, 0x13],
    ink: [0xF4, 0xEC, 0xDD],
    soft: [0xBD, 0xB2, 0x9E],
    hairline: [0x3A, 0x32, 0x26],
    rule: [0x8C, 0x81, 0x70],
    amber: [0xFF, 0xBE, 0x5C],
};

impl Palette {
    /// The palette of a theme.
    #[must_use]
    pub const fn of(theme: Theme) -> Self {
        match theme {
            Theme::Light | Theme::Print => LIGHT,
            Theme::Dark => DARK,
        }
    }
}

/// How a curve of a role is drawn: color of the stroke, color of its label, dashes, width.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CurveStyle {
    /// Color of the stroke, at least 3:1 on the sheet.
    pub stroke: Rgb,
    /// Color of the label, at least 4.5:1 on the sheet.
    pub text: Rgb,
    /// Lengths of dash, gap, dash, gap... in CSS pixels; empty = solid.
    pub dashes: &'static [f64],
    /// Width in CSS pixels.
    pub width: f64,
}

/// The style of a curve: the colorblind-safe set of M. Okabe and K. Ito, Color Universal Design
/// (2008; RGB read in a published copy of its table), darkened where a text needs it.
#[must_use]
pub const fn curve(role: Role, theme: Theme) -> CurveStyle {
    let dark = matches!(theme, Theme::Dark);
    let (stroke, text): (Rgb, Rgb) = match (role, dark) {
        (Role::Main, false) => ([0x00, 0x72, 0xB2], [0x00, 0x72, 0xB2]),
        (Role::Second, false) => ([0xD5, 0x5E, 0x00], [0xB8, 0x50, 0x00]),
        (Role::Third, false) => ([0x00, 0x9E, 0x73], [0x00, 0x7D, 0x5A]),
        (Role::Level, false) => (LIGHT.ink, LIGHT.ink),
        (Role::Ghost | Role::Past, false) => (LIGHT.rule, LIGHT.soft),
        (Role::Main, true) => ([0xE6, 0x9F, 0x00], [0xE6, 0x9F, 0x00]),
        (Role::Second, true) => ([0x56, 0xB4, 0xE9], [0x56, 0xB4, 0xE9]),
        (Role::Third, true) => ([0x00, 0x9E, 0x73], [0x1F, 0xB5, 0x8A]),
        (Role::Level, true) => ([0xF0, 0xE4, 0x42], [0xF0, 0xE4, 0x42]),
        (Role::Ghost | Role::Past, true) => (DARK.rule, DARK.soft),
    };
    let (dashes, width): (&[f64], f64) = match role {
        Role::Main => (&[], 2.5),
        Role::Second => (&[6.0, 3.0], 2.0),
        Role::Third => (&[2.0, 2.0], 2.0),
        Role::Level => (&[8.0, 3.0, 2.0, 3.0], 2.0),
        Role::Ghost => (&[5.0, 4.0], 2.0),
        Role::Past => (&[], 1.0),
    };
    CurveStyle { stroke, text, dashes, width }
}

/// The hatch of a material; every material can be told without its color.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hatch {
    /// None.
    Plain,
    /// Short level dashes.
    LevelDashes,
    /// Short upright ticks.
    UprightTicks,
    /// Wide lines at 45 degrees.
    Wide45,
    /// The same, dotted.
    Dotted45,
    /// Level lines.
    Level,
    /// Dense lines at 135 degrees.
    Dense135,
    /// Crossed lines.
    Crossed,
    /// Dots.
    Dots,
}

/// A material's look, the same in plots, sections and print.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct MaterialLook {
    /// Word used in scenes.
    pub word: &'static str,
    /// Fill.
    pub fill: Rgb,
    /// Outline and hatch.
    pub outline: Rgb,
    /// Hatch.
    pub hatch: Hatch,
}

/// All materials.
pub const MATERIALS: [MaterialLook; 10] = [
    look("silicon", 0xCF_CA_C0, 0x68_60_53, Hatch::Plain),
    look("n_silicon", 0xB2_E2_FB, 0x2A_67_8F, Hatch::LevelDashes),
    look("p_silicon", 0xF5_D3_8C, 0x7F_54_00, Hatch::UprightTicks),
    look("thermal_oxide", 0xE9_F6_B6, 0x65_70_0F, Hatch::Wide45),
    look("deposited_oxide", 0xF6_EC_D6, 0x76_6A_4C, Hatch::Dotted45),
    look("glass", 0xF6_EC_D6, 0x76_6A_4C, Hatch::Dotted45),
    look("nitride", 0xBF_EF_E8, 0x00_62_5C, Hatch::Level),
    look("polysilicon", 0xE3_A9_83, 0x7E_34_13, Hatch::Dense135),
    look("metal", 0xA4_9C_A6, 0x3E_3A_45, Hatch::Crossed),
    look("resist", 0xF5_A9_D4, 0x86_32_6A, Hatch::Dots),
];

const fn look(word: &'static str, fill: u32, outline: u32, hatch: Hatch) -> MaterialLook {
    MaterialLook { word, fill: rgb(fill), outline: rgb(outline), hatch }
}

const fn rgb(value: u32) -> Rgb {
    let [_, r, g, b] = value.to_be_bytes();
    [r, g, b]
}

/// The look of a material by its word; silicon for a word that is none.
#[must_use]
pub fn material(word: &str) -> MaterialLook {
    let [silicon, ..] = MATERIALS;
    MATERIALS.into_iter().find(|look| look.word == word).unwrap_or(silicon)
}

/// `#rrggbb`.
#[must_use]
pub fn hex([r, g, b]: Rgb) -> String {
    format!("#{r:02x}{g:02x}{b:02x}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use barewafer_process::num::pow;

    /// Contrast of two colors by the WCAG 2 formula.
    fn contrast(a: Rgb, b: Rgb) -> f64 {
        let luminance = |color: Rgb| {
            let [r, g, b] = color.map(|c| {
                let c = f64::from(c) / 255.0;
                if c <= 0.040_45 { c / 12.92 } else { pow((c + 0.055) / 1.055, 2.4) }
            });
            0.2126 * r + 0.7152 * g + 0.0722 * b
        };
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn every_text_and_stroke_stands_out_on_its_sheet() {
        for theme in [Theme::Light, Theme::Dark, Theme::Print] {
            let palette = Palette::of(theme);
            for text in [palette.ink, palette.soft, palette.amber] {
                assert!(4.5 <= contrast(text, palette.sheet), "{theme:?} {text:?}");
            }
            assert!(3.0 <= contrast(palette.rule, palette.sheet));
            for role in [Role::Main, Role::Second, Role::Third, Role::Level, Role::Ghost]
            {
                let style = curve(role, theme);
                let (text, stroke) = (
                    contrast(style.text, palette.sheet),
                    contrast(style.stroke, palette.sheet),
                );
                assert!(4.5 <= text, "{role:?} on {theme:?}: text {text}");
                assert!(3.0 <= stroke, "{role:?} on {theme:?}: stroke {stroke}");
                assert!(2.0 <= style.width);
            }
        }
    }

    #[test]
    fn outlines_stand_out_on_their_fill_and_on_white() {
        for look in MATERIALS {
            assert!(3.0 <= contrast(look.outline, look.fill), "{}", look.word);
            assert!(3.0 <= contrast(look.outline, [255, 255, 255]), "{}", look.word);
        }
    }
}
