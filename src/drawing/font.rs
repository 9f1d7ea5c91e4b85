//! How wide words are on paper.
//!
//! Widths are those of Source Sans 3 Regular (version 3.052 of the family, SIL Open Font License 1.1), read off the
//! table of advances of its font file, in thousandths of the size. A sheet that is shown in another plain face is a
//! little wider, so a twelfth is added, and a back-end that can holds each line to the width it was given.

/// The advance of every printable character of ASCII, from the space on.
const PLAIN: [u16; 95] = [
    200, 289, 426, 497, 497, 824, 609, 249, 303, 303, 418, 497, 249, 311, 249, 350, 497, 497, 497, 497, 497,
    497, 497, 497, 497, 497, 249, 249, 497, 497, 497, 425, 847, 543, 588, 571, 615, 527, 494, 617, 652, 263,
    479, 579, 486, 727, 647, 664, 566, 664, 569, 534, 536, 645, 515, 786, 513, 476, 539, 303, 350, 303, 497,
    500, 542, 504, 553, 456, 555, 496, 292, 504, 544, 246, 247, 495, 255, 829, 547, 542, 555, 555, 347, 419,
    338, 544, 467, 719, 446, 467, 425, 303, 241, 303, 497,
];

/// The advance of every character from U+00A0 to U+017F.
const ACCENTED: [u16; 224] = [
    200, 289, 497, 497, 497, 497, 241, 497, 542, 744, 345, 429, 497, 311, 423, 542, 331, 497, 367, 367, 542,
    562, 560, 249, 542, 367, 365, 429, 781, 808, 796, 425, 544, 544, 544, 544, 544, 544, 822, 571, 527, 527,
    527, 527, 263, 263, 263, 263, 639, 647, 664, 664, 664, 664, 664, 497, 664, 645, 645, 645, 645, 476, 583,
    576, 504, 504, 504, 504, 504, 504, 778, 456, 496, 496, 496, 496, 246, 246, 246, 246, 544, 547, 542, 542,
    542, 542, 542, 497, 542, 544, 544, 544, 544, 467, 555, 467, 544, 504, 544, 504, 544, 504, 571, 456, 571,
    456, 571, 456, 571, 456, 615, 573, 635, 562, 527, 496, 527, 496, 527, 496, 527, 496, 527, 496, 617, 504,
    617, 504, 617, 504, 617, 504, 652, 544, 692, 557, 263, 246, 263, 246, 263, 246, 263, 246, 263, 247, 526,
    493, 480, 247, 579, 495, 495, 486, 255, 486, 255, 486, 265, 486, 362, 500, 298, 647, 547, 647, 547, 647,
    547, 769, 635, 547, 664, 542, 664, 542, 664, 542, 847, 839, 569, 347, 569, 347, 569, 347, 534, 419, 534,
    419, 534, 419, 534, 419, 536, 338, 536, 338, 536, 338, 645, 544, 645, 544, 645, 544, 645, 544, 645, 544,
    645, 544, 786, 718, 476, 467, 476, 539, 425, 539, 425, 539, 425, 271,
];

/// The advance of some others.
const OTHERS: [(char, u16); 21] = [
    ('\u{2013}', 480),
    ('\u{2014}', 800),
    ('\u{2018}', 249),
    ('\u{2019}', 249),
    ('\u{201c}', 426),
    ('\u{201d}', 426),
    ('\u{2026}', 948),
    ('\u{2022}', 304),
    ('\u{2032}', 249),
    ('\u{2033}', 426),
    ('\u{2264}', 497),
    ('\u{2265}', 497),
    ('\u{2212}', 497),
    ('\u{2192}', 619),
    ('\u{2190}', 619),
    ('\u{2191}', 619),
    ('\u{2193}', 619),
    ('\u{215b}', 804),
    ('\u{215c}', 821),
    ('\u{215d}', 821),
    ('\u{215e}', 801),
];

/// Whatever is in none of the tables is taken to be as wide as it is high.
const WIDEST: u16 = 1000;

fn advance(of: char) -> u16 {
    let number = of as usize;
    let found = match number {
        0x20..=0x7e => PLAIN.get(number - 0x20).copied(),
        0xa0..=0x17f => ACCENTED.get(number - 0xa0).copied(),
        _ => OTHERS.iter().find(|(other, _)| *other == of).map(|(_, wide)| *wide),
    };
    found.unwrap_or(WIDEST)
}

/// How wide a line of words is at a size.
pub(crate) fn width_of(words: &str, size: f64) -> f64 {
    let thousandths: u32 = words.chars().map(|one| u32::from(advance(one))).sum();
    f64::from(thousandths) * size / 1000.0 * 13.0 / 12.0
}

/// Words on lines no wider than this. A word that is wider by itself is cut.
pub(crate) fn wrapped(words: &str, size: f64, wide: f64) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in words.split_whitespace() {
        let longer = if line.is_empty() { word.to_owned() } else { format!("{line} {word}") };
        if width_of(&longer, size) <= wide {
            line = longer;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        for one in word.chars() {
            line.push(one);
            if width_of(&line, size) > wide && line.chars().count() > 1 {
                line.pop();
                lines.push(std::mem::take(&mut line));
                line.push(one);
            }
        }
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// Words cut to a width, with a mark that they were cut.
pub(crate) fn cut(words: &str, size: f64, wide: f64) -> String {
    if width_of(words, size) <= wide {
        return words.to_owned();
    }
    let mut kept = String::new();
    for one in words.chars() {
        let longer = format!("{kept}{one}");
        if width_of(&format!("{longer}\u{2026}"), size) > wide {
            break;
        }
        kept = longer;
    }
    format!("{}\u{2026}", kept.trim_end())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_as_wide_as_the_tables_of_the_font_say() {
        // Advances read by hand off the font file: A 543, space 200, 1 497; a twelfth more for other faces.
        let wide = width_of("A 1", 10.0);
        assert!((wide - 12.4 * 13.0 / 12.0).abs() < 1e-9, "{wide}");
    }

    #[test]
    fn no_line_is_wider_than_asked_and_no_word_is_lost() {
        let words = "a pipe run that is longerthananythingthatfits in a line of this width";
        let lines = wrapped(words, 8.0, 60.0);
        assert!(lines.iter().all(|line| width_of(line, 8.0) <= 60.0), "{lines:?}");
        let bare = |text: &str| text.split_whitespace().collect::<String>();
        assert_eq!(bare(&lines.concat()), bare(words));
        assert!(width_of(&cut(words, 8.0, 60.0), 8.0) <= 60.0);
    }
}
