//! The marks of a sheet of drawings, with the pens of [`scene`](crate::drawing::scene).

use krilla::color::rgb;
use krilla::geom::{Path, PathBuilder, Point};
use krilla::num::NormalizedF32;
use krilla::paint::{Fill, FillRule, LineJoin, Stroke, StrokeDash};
use krilla::surface::Surface;

use super::face::{Faces, Weight};
use crate::drawing::Sheet;
use crate::drawing::scene::{Colour, Form, Look, Mark, Spot};

/// How far the handles of a curve lie from the ends of a quarter of a ring, for a radius of one.
const QUARTER: f64 = 0.552_284_75;

/// How much wider than its letters a line of words on a sheet may be set.
const WIDEST: f64 = 13.0 / 12.0;

pub(super) fn fill([red, green, blue]: Colour) -> Fill {
    Fill {
        paint: rgb::Color::new(red, green, blue).into(),
        opacity: NormalizedF32::ONE,
        rule: FillRule::NonZero,
    }
}

pub(super) fn stroke([red, green, blue]: Colour, thick: f64, dashes: &[f64]) -> Stroke {
    let array: Vec<f32> = dashes.iter().map(|dash| *dash as f32).collect();
    Stroke {
        paint: rgb::Color::new(red, green, blue).into(),
        width: thick as f32,
        line_join: LineJoin::Round,
        dash: (!array.is_empty()).then_some(StrokeDash { array, offset: 0.0 }),
        ..Stroke::default()
    }
}

/// Straight strokes, each through its places.
pub(super) fn path<'a>(lines: impl IntoIterator<Item = (&'a [Spot], bool)>) -> Option<Path> {
    let mut path = PathBuilder::new();
    for (places, closed) in lines {
        for (at, place) in places.iter().enumerate() {
            let (x, y) = (place.x as f32, place.y as f32);
            if at == 0 { path.move_to(x, y) } else { path.line_to(x, y) }
        }
        if closed && !places.is_empty() {
            path.close();
        }
    }
    path.finish()
}

pub(super) fn ring(middle: Spot, radius: f64) -> Option<Path> {
    let mut path = PathBuilder::new();
    let at = |x: f64, y: f64| ((middle.x + x * radius) as f32, (middle.y + y * radius) as f32);
    let (x, y) = at(1.0, 0.0);
    path.move_to(x, y);
    for (dx, dy) in [(1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0)] {
        // From where we are a quarter further round, to the place at a right angle.
        let (x1, y1) = at(dx - dy * QUARTER, dy + dx * QUARTER);
        let (x2, y2) = at(dx * QUARTER - dy, dy * QUARTER + dx);
        let (x, y) = at(-dy, dx);
        path.cubic_to(x1, y1, x2, y2, x, y);
    }
    path.close();
    path.finish()
}

/// Draws a sheet.
pub(super) fn draw(surface: &mut Surface<'_>, faces: &Faces, sheet: &Sheet) {
    for mark in &sheet.marks {
        let look = mark.pen.look();
        if let Form::Words { at, words, size, wide } = &mark.form {
            let words = faces.drawn(words);
            let own = faces.width_of(&words, Weight::Plain, *size);
            let wider = if own > 0.0 { (wide / own).min(WIDEST) } else { 1.0 };
            surface.set_fill(Some(fill(look.fill.unwrap_or_default())));
            surface.set_stroke(None);
            let glyphs = faces.glyphs(&words, Weight::Plain, wider);
            let from = Point::from_xy(at.x as f32, at.y as f32);
            surface.draw_glyphs(from, &glyphs, faces.font(Weight::Plain), &words, *size as f32, false);
        } else {
            shape(surface, mark, look);
        }
    }
}

fn shape(surface: &mut Surface<'_>, mark: &Mark, look: Look) {
    let path = match &mark.form {
        Form::Path { points, closed } => path([(points.as_slice(), *closed)]),
        Form::Strokes(strokes) => {
            let ends: Vec<[Spot; 2]> = strokes.iter().map(|(from, to)| [*from, *to]).collect();
            path(ends.iter().map(|ends| (ends.as_slice(), false)))
        }
        Form::Ring { middle, radius } => ring(*middle, *radius),
        Form::Words { .. } => None,
    };
    let Some(path) = path else { return };
    surface.set_fill(look.fill.map(fill));
    surface.set_stroke(look.stroke.map(|colour| stroke(colour, look.width, look.dashes)));
    surface.draw_path(&path);
}
