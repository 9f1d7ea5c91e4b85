//! A sheet as SVG 1.1: one file that needs nothing else, runs nothing and asks for nothing.
//!
//! Lengths are in points with two decimals, so that the same sheet gives the same bytes. Text is only ever text: what
//! means something to XML is written as an entity, and what XML cannot hold is left out. Each line of words is held to
//! the width the sheet was laid out with, in whatever plain face a viewer has.

use std::collections::BTreeSet;
use std::fmt::Write;

use crate::drawing::scene::{Colour, Form, Mark, Pen, Sheet, Spot};
use crate::render::visible::acts;

/// The faces that are asked for, the one first that the sheet was measured with.
const FACES: &str = "'Source Sans 3',Arial,Helvetica,sans-serif";

/// A sheet as SVG.
#[must_use]
pub fn document(sheet: &Sheet) -> String {
    let mut out = String::with_capacity(32 * 1024);
    let (wide, high) = (decimals(sheet.width), decimals(sheet.height));
    let _ = writeln!(out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>");
    let _ = writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{wide}pt\" height=\"{high}pt\" viewBox=\"0 0 {wide} {high}\" role=\"img\" aria-labelledby=\"title words\">"
    );
    let _ = writeln!(out, "<title id=\"title\">{}</title>", escaped(&sheet.title));
    let _ = writeln!(out, "<desc id=\"words\">{}</desc>", escaped(&in_words(sheet)));
    style(&mut out, sheet);
    let _ = writeln!(out, "<rect width=\"{wide}\" height=\"{high}\" fill=\"#fff\"/>");
    marks(&mut out, sheet, "", &|_| None);
    out.push_str("</svg>\n");
    out
}

/// A sheet as a part of a page: its names begin with `name`, and the flags of findings lead to where `to` says.
#[must_use]
pub fn inline(sheet: &Sheet, name: &str, to: &dyn Fn(usize) -> Option<String>) -> String {
    let mut out = String::with_capacity(32 * 1024);
    let (wide, high) = (decimals(sheet.width), decimals(sheet.height));
    let _ = writeln!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {wide} {high}\" role=\"group\" aria-label=\"{}\">",
        escaped(&sheet.title)
    );
    style(&mut out, sheet);
    let _ = writeln!(out, "<rect width=\"{wide}\" height=\"{high}\" fill=\"#fff\"/>");
    marks(&mut out, sheet, &format!("{name}-"), to);
    out.push_str("</svg>\n");
    out
}

/// The marks of a sheet, layer by layer; the names of layers begin with `front`.
fn marks(out: &mut String, sheet: &Sheet, front: &str, to: &dyn Fn(usize) -> Option<String>) {
    let mut layer = None;
    for mark in &sheet.marks {
        if layer != Some(mark.layer) {
            if layer.is_some() {
                out.push_str("</g>\n");
            }
            let _ = writeln!(out, "<g id=\"{front}{}\">", mark.layer.name());
            layer = Some(mark.layer);
        }
        match mark.flags.first().and_then(|number| to(*number)) {
            Some(anchor) => {
                let _ = write!(
                    out,
                    "<a href=\"#{}\" aria-label=\"{}\">",
                    escaped(&anchor),
                    escaped(&flagged(mark))
                );
                write_mark(out, mark);
                out.push_str("</a>\n");
            }
            None => write_mark(out, mark),
        }
    }
    if layer.is_some() {
        out.push_str("</g>\n");
    }
}

/// What a flag says to those who do not see it: what stands on it, and what that is.
fn flagged(mark: &Mark) -> String {
    let words = if let Form::Words { words, .. } = &mark.form { words.as_str() } else { "" };
    if mark.flags.len() == 1 { format!("finding {words}") } else { format!("findings {words}") }
}

/// What a sheet shows in words, on one line for each thing.
fn in_words(sheet: &Sheet) -> String {
    let parts = sheet.twin.iter().filter(|part| !part.lines.is_empty());
    let said = parts.map(|part| format!("{}. {}.", part.title, part.lines.join(". ")));
    said.collect::<Vec<_>>().join("\n")
}

/// How the pens look that the sheet uses.
fn style(out: &mut String, sheet: &Sheet) {
    let used: BTreeSet<Pen> = sheet.marks.iter().map(|mark| mark.pen).collect();
    out.push_str("<style>\ntext{font-family:");
    out.push_str(FACES);
    out.push_str("}\npath,circle{fill:none;stroke-linejoin:round}\n");
    for pen in used {
        let look = pen.look();
        let _ = write!(out, ".{}{{", look.name);
        if let Some(stroke) = look.stroke {
            let _ = write!(out, "stroke:{};stroke-width:{}", colour(stroke), decimals(look.width));
        }
        if !look.dashes.is_empty() {
            let dashes: Vec<String> = look.dashes.iter().map(|dash| decimals(*dash)).collect();
            let _ = write!(out, ";stroke-dasharray:{}", dashes.join(" "));
        }
        if let Some(fill) = look.fill {
            let _ = write!(out, "{}fill:{}", if look.stroke.is_some() { ";" } else { "" }, colour(fill));
        }
        out.push_str("}\n");
    }
    out.push_str("</style>\n");
}

fn write_mark(out: &mut String, mark: &Mark) {
    let pen = mark.pen.look().name;
    match &mark.form {
        Form::Path { points, closed } => {
            let _ = writeln!(
                out,
                "<path class=\"{pen}\" d=\"{}{}\"/>",
                line(points),
                if *closed { "Z" } else { "" }
            );
        }
        Form::Strokes(strokes) => {
            let lines: String = strokes.iter().map(|(from, to)| line(&[*from, *to])).collect();
            if !lines.is_empty() {
                let _ = writeln!(out, "<path class=\"{pen}\" d=\"{lines}\"/>");
            }
        }
        Form::Ring { middle, radius } => {
            let _ = writeln!(
                out,
                "<circle class=\"{pen}\" cx=\"{}\" cy=\"{}\" r=\"{}\"/>",
                decimals(middle.x),
                decimals(middle.y),
                decimals(*radius)
            );
        }
        Form::Words { at, words, size, wide } => {
            let _ = writeln!(
                out,
                "<text class=\"{pen}\" x=\"{}\" y=\"{}\" font-size=\"{}\" textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\">{}</text>",
                decimals(at.x),
                decimals(at.y),
                decimals(*size),
                decimals(*wide),
                escaped(words)
            );
        }
    }
}

fn line(points: &[Spot]) -> String {
    let mut out = String::new();
    for (number, point) in points.iter().enumerate() {
        out.push(if number == 0 { 'M' } else { 'L' });
        out.push_str(&decimals(point.x));
        out.push(' ');
        out.push_str(&decimals(point.y));
    }
    out
}

fn colour([red, green, blue]: Colour) -> String {
    format!("#{red:02x}{green:02x}{blue:02x}")
}

/// A length with at most two decimals, written one way only.
fn decimals(length: f64) -> String {
    let text = format!("{length:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// Words as XML holds them.
fn escaped(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for one in words.chars() {
        match one {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\n' => out.push(one),
            // What would act on a screen, or turn the way of reading, is seen as one mark in place of it.
            one if acts(one) || matches!(one, '\u{fffe}' | '\u{ffff}') => out.push('\u{fffd}'),
            one => out.push(one),
        }
    }
    out
}
