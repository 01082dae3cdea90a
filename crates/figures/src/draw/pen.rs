//! The strokes a chart is made of, in CSS pixels, on any plotters back end.

use plotters::coord::Shift;
use plotters::element::{Drawable, PointCollection};
use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};

use super::DrawError;
use super::path::{Point, Rect};
use crate::palette::Rgb;
use crate::style::Style;

/// Where a text hangs on its anchor point; it is always centered in height.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Anchor {
    Start,
    Middle,
    End,
}

pub(crate) struct Pen<'a, DB: DrawingBackend> {
    area: &'a DrawingArea<DB, Shift>,
    ratio: f64,
    font_factor: f64,
    font: &'a str,
}

impl<'a, DB: DrawingBackend> Pen<'a, DB> {
    pub(crate) fn new(area: &'a DrawingArea<DB, Shift>, style: &'a Style) -> Self {
        Self {
            area,
            ratio: style.pixel_ratio,
            font_factor: style.font_factor,
            font: &style.font,
        }
    }

    pub(crate) fn line(
        &self,
        points: &[Point],
        width: f64,
        color: Rgb,
        alpha: f64,
    ) -> Result<(), DrawError> {
        if points.len() < 2 {
            return Ok(());
        }
        let style = paint(color, alpha).stroke_width(self.whole(width));
        self.put(&PathElement::new(self.pixels(points), style))
    }

    pub(crate) fn fill(
        &self,
        points: &[Point],
        color: Rgb,
        alpha: f64,
    ) -> Result<(), DrawError> {
        if points.len() < 3 {
            return Ok(());
        }
        self.put(&Polygon::new(self.pixels(points), paint(color, alpha).filled()))
    }

    pub(crate) fn fill_rect(
        &self,
        rect: &Rect,
        color: Rgb,
        alpha: f64,
    ) -> Result<(), DrawError> {
        self.fill(
            &[
                [rect.left, rect.top],
                [rect.right, rect.top],
                [rect.right, rect.bottom],
                [rect.left, rect.bottom],
            ],
            color,
            alpha,
        )
    }

    pub(crate) fn disc(
        &self,
        center: Point,
        radius: f64,
        color: Rgb,
    ) -> Result<(), DrawError> {
        let style = paint(color, 1.0).filled();
        self.put(&Circle::new(self.pixel(center), self.whole(radius), style))
    }

    /// Writes a text whose middle line goes through the point.
    pub(crate) fn text(
        &self,
        text: &str,
        at: Point,
        size: f64,
        color: Rgb,
        anchor: Anchor,
        bold: bool,
    ) -> Result<(), DrawError> {
        let h_pos = match anchor {
            Anchor::Start => HPos::Left,
            Anchor::Middle => HPos::Center,
            Anchor::End => HPos::Right,
        };
        let weight = if bold { FontStyle::Bold } else { FontStyle::Normal };
        let style = FontDesc::new(
            FontFamily::Name(self.font),
            size * self.ratio * self.font_factor,
            weight,
        )
        .color(&paint(color, 1.0))
        .pos(Pos::new(h_pos, VPos::Center));
        self.put(&Text::new(text.to_owned(), self.pixel(at), style))
    }

    fn put<E>(&self, element: &E) -> Result<(), DrawError>
    where
        for<'b> &'b E: PointCollection<'b, (i32, i32)>,
        E: Drawable<DB>,
    {
        self.area.draw(element).map_err(|error| DrawError(error.to_string()))
    }

    fn pixels(&self, points: &[Point]) -> Vec<(i32, i32)> {
        points.iter().map(|&p| self.pixel(p)).collect()
    }

    fn pixel(&self, [x, y]: Point) -> (i32, i32) {
        let whole = |v: f64| crate::numbers::floor_to_i32(v * self.ratio + 0.5);
        (whole(x), whole(y))
    }

    fn whole(&self, css: f64) -> u32 {
        u32::try_from(crate::numbers::floor_to_i32(css * self.ratio + 0.5))
            .unwrap_or(1)
            .max(1)
    }
}

fn paint([r, g, b]: Rgb, alpha: f64) -> RGBAColor {
    RGBAColor(r, g, b, alpha)
}
