//! What a page says to a printer: the size of the paper, and what stands at the foot of every sheet.

use std::fmt::Write;

use crate::drawing::Paper as Size;
use crate::render::visible::one_line;

/// The rules of style for sheets of this size with these lines at the foot of each.
pub(super) fn style(size: Size, running: &[String]) -> String {
    let name = match size {
        Size::Letter => "letter",
        Size::A4 => "a4",
    };
    let lines: Vec<String> = running.iter().map(|line| text(line)).collect();
    let foot = lines.join("\\a ");
    // A drawing has a sheet to itself, so that its scale holds on paper.
    format!(
        "\n@page {{ size: {name}; margin: 14mm 15mm 24mm 15mm;\n\
         @bottom-left {{ content: \"{foot}\"; width: 100%; vertical-align: top; padding-top: 3mm; white-space: pre-wrap; \
         font: 6.5pt/1.3 Arial, Helvetica, sans-serif; }}\n\
         @top-right {{ content: counter(page) \" of \" counter(pages); font: 8pt Arial, Helvetica, sans-serif; }} }}\n\
         @page drawing {{ size: {name} landscape; margin: 0; @bottom-left {{ content: none }} @top-right {{ content: none }} }}\n\
         @media print {{ .drawing {{ page: drawing; }} }}\n"
    )
}

/// A text as one that a style can hold: whatever is no letter, digit or space is written by its number, so that
/// nothing in it can end the text or the style.
fn text(words: &str) -> String {
    let mut out = String::new();
    for c in one_line(words).chars() {
        if c.is_ascii_alphanumeric() || c == ' ' {
            out.push(c);
        } else {
            // The space ends the number and is no part of the text.
            let _ = write!(out, "\\{:06x} ", u32::from(c));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_words_end_the_style_they_stand_in() {
        let style = style(Size::A4, &["</style><b>\"}\\ \n é".to_owned()]);
        assert!(!style.contains('<') && !style.contains("\"}\\"), "{style}");
        assert!(style.contains("\\0000e9"), "{style}");
        assert_eq!(style.matches('"').count(), 4, "{style}");
    }
}
