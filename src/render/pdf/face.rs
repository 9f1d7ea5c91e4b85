//! The typeface of papers: Source Sans 3, whose files lie beside this one with their licence. It is embedded in what is
//! written, cut down to the letters that are used.

use std::cell::RefCell;
use std::collections::BTreeSet;

use krilla::text::{Font, GlyphId, KrillaGlyph};
use skrifa::charmap::Charmap;
use skrifa::instance::{LocationRef, Size};
use skrifa::metrics::GlyphMetrics;
use skrifa::{FontRef, MetadataProvider};

use crate::render::visible::{acts, one_line};

const PLAIN: &[u8] = include_bytes!("fonts/SourceSans3-Regular.ttf");
const STRONG: &[u8] = include_bytes!("fonts/SourceSans3-SemiBold.ttf");

/// What stands on a drawing for a letter that the typeface does not have; there is no room for its number there.
const BOX: char = '\u{25a1}';

/// How strong letters are.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub(super) enum Weight {
    #[default]
    Plain,
    Strong,
}

/// One weight of the typeface.
struct Cut {
    font: Font,
    letters: Charmap<'static>,
    widths: GlyphMetrics<'static>,
}

impl Cut {
    fn of(file: &'static [u8]) -> Option<Self> {
        let face = FontRef::new(file).ok()?;
        Some(Cut {
            font: Font::new(file.into(), 0)?,
            letters: face.charmap(),
            widths: face.glyph_metrics(Size::unscaled(), LocationRef::default()),
        })
    }

    /// The glyph of a letter, and how wide it is in thousandths of its size.
    fn glyph(&self, letter: char) -> Option<(u32, f64)> {
        let glyph = self.letters.map(letter)?;
        Some((glyph.to_u32(), f64::from(self.widths.advance_width(glyph)?)))
    }
}

/// The typeface, and which letters were asked of it that it does not have.
pub(super) struct Faces {
    plain: Cut,
    strong: Cut,
    lacking: RefCell<BTreeSet<char>>,
}

impl Faces {
    /// Reads the typeface.
    pub(super) fn read() -> Option<Self> {
        Some(Faces { plain: Cut::of(PLAIN)?, strong: Cut::of(STRONG)?, lacking: RefCell::default() })
    }

    fn cut(&self, weight: Weight) -> &Cut {
        match weight {
            Weight::Plain => &self.plain,
            Weight::Strong => &self.strong,
        }
    }

    fn has(&self, letter: char) -> bool {
        self.plain.letters.map(letter).is_some() && self.strong.letters.map(letter).is_some()
    }

    /// Text as it can be shown: what would act on a screen, and what the typeface does not have, is shown by its number.
    pub(super) fn shown(&self, text: &str) -> String {
        let mut out = String::with_capacity(text.len());
        for letter in one_line(text).chars() {
            if self.has(letter) {
                out.push(letter);
            } else {
                self.lacking.borrow_mut().insert(letter);
                out.push_str(&format!("<U+{:04X}>", u32::from(letter)));
            }
        }
        out
    }

    /// The same on a drawing, letter for letter.
    pub(super) fn drawn(&self, text: &str) -> String {
        let letter = |letter: char| {
            if acts(letter) {
                return BOX;
            }
            if self.has(letter) {
                return letter;
            }
            self.lacking.borrow_mut().insert(letter);
            BOX
        };
        text.chars().map(letter).collect()
    }

    /// The letters that were asked for and are not there.
    pub(super) fn lacking(&self) -> Vec<char> {
        self.lacking.borrow().iter().copied().collect()
    }

    /// How wide a letter is at a size of one.
    pub(super) fn wide(&self, letter: char, weight: Weight) -> f64 {
        self.cut(weight).glyph(letter).map_or(0.0, |(_, wide)| wide / 1000.0)
    }

    /// How wide text is at a size.
    pub(super) fn width_of(&self, text: &str, weight: Weight, size: f64) -> f64 {
        text.chars().map(|letter| self.wide(letter, weight)).sum::<f64>() * size
    }

    /// Text cut to a width, with a mark that it was cut.
    pub(super) fn cut_to(&self, text: &str, weight: Weight, size: f64, wide: f64) -> String {
        if self.width_of(text, weight, size) <= wide {
            return text.to_owned();
        }
        let mut room = wide - self.width_of("\u{2026}", weight, size);
        let mut kept = String::new();
        for letter in text.chars() {
            room -= self.wide(letter, weight) * size;
            if room < 0.0 {
                break;
            }
            kept.push(letter);
        }
        format!("{}\u{2026}", kept.trim_end())
    }

    /// The font of a weight.
    pub(super) fn font(&self, weight: Weight) -> Font {
        self.cut(weight).font.clone()
    }

    /// The glyphs of text, each so much wider than it is.
    pub(super) fn glyphs(&self, text: &str, weight: Weight, wider: f64) -> Vec<KrillaGlyph> {
        let cut = self.cut(weight);
        let glyph = |(at, letter): (usize, char)| {
            let (id, wide) = cut.glyph(letter)?;
            let range = at..at + letter.len_utf8();
            let advance = (wide / 1000.0 * wider) as f32;
            Some(KrillaGlyph::new(GlyphId::new(id), advance, 0.0, 0.0, 0.0, range, None))
        };
        text.char_indices().filter_map(glyph).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::scene::{Form, Layer, Mark, Pen, Spot};

    #[test]
    fn the_typeface_has_the_signs_of_the_trade_in_both_weights() {
        let faces = Faces::read().unwrap();
        for sign in "½⅛¼⅜⅝¾⅞⅓⅔°µμ×≤≥²³–—−→…′″‘’“”≈±Ω·÷√‾₂☐□".chars()
        {
            assert!(faces.has(sign), "{sign}");
            assert!(faces.wide(sign, Weight::Strong) > 0.0, "{sign}");
        }
    }

    #[test]
    fn the_widths_that_drawings_are_laid_out_with_are_those_of_the_file() {
        let faces = Faces::read().unwrap();
        for letter in (' '..='~').chain('\u{a0}'..='\u{17f}').chain("–—‘’“”…•′″≤≥−→←↑↓⅛⅜⅝⅞".chars())
        {
            let here = faces.wide(letter, Weight::Plain) * 13.0 / 12.0;
            let mark = Mark::words(Layer::Sheet, Pen::Words, Spot::default(), 1.0, &letter.to_string());
            let Form::Words { wide: there, .. } = mark.form else { panic!("no words") };
            assert!((here - there).abs() < 1e-9, "{letter:?}: {here} and {there}");
        }
    }

    #[test]
    fn a_letter_that_is_not_there_is_shown_by_its_number_and_told() {
        let faces = Faces::read().unwrap();
        assert_eq!(faces.shown("a 屋 ½"), "a <U+5C4B> ½");
        assert_eq!(faces.drawn("a 根"), "a □");
        assert_eq!(faces.lacking(), ['屋', '根']);
    }
}
