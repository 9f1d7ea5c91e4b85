//! Text of a file made safe to show: nothing in it can move the cursor, change a colour or turn the
//! direction of writing.

use std::borrow::Cow;

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

/// Whether a character would act on the screen, or on the text around it, in place of being seen.
pub(crate) fn acts(c: char) -> bool {
    matches!(c,
        '\u{0}'..='\u{1f}' | '\u{7f}'..='\u{9f}' | '\u{ad}' | '\u{61c}' | '\u{115f}' | '\u{1160}'
        | '\u{180b}'..='\u{180e}' | '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}'
        | '\u{fe00}'..='\u{fe0f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e0fff}')
}

/// Whether a text is nothing but plain letters, signs and spaces, one column each, as nearly all that is told.
pub(crate) fn is_plain(text: &str) -> bool {
    text.bytes().all(|byte| byte.is_ascii_graphic() || byte == b' ')
}

/// How many columns a text takes.
pub(crate) fn columns(text: &str) -> usize {
    if is_plain(text) { text.len() } else { text.width() }
}

/// The text with every character that would act on the screen replaced by its number in angle brackets.
/// Tabs and line ends become spaces: what is shown in a sentence is one line.
#[must_use]
pub fn one_line(text: &str) -> Cow<'_, str> {
    if is_plain(text) || !text.chars().any(acts) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len() + 8);
    push_all(&mut out, text);
    Cow::Owned(out)
}

/// Puts one character, or its number if it would act on the screen.
pub(crate) fn push(out: &mut String, c: char) {
    match c {
        '\t' | '\n' | '\r' => out.push(' '),
        c if acts(c) => out.push_str(&format!("<U+{:04X}>", u32::from(c))),
        c => out.push(c),
    }
}

/// Puts every character, or its number.
pub(crate) fn push_all(out: &mut String, text: &str) {
    if is_plain(text) {
        out.push_str(text);
    } else {
        text.chars().for_each(|c| push(out, c));
    }
}

/// At most this many columns of the text, with what was cut told by three dots.
#[must_use]
pub fn cut(text: &str, columns: usize) -> String {
    let mut out = String::new();
    let mut width = 0;
    let whole: usize = text.chars().map(|c| c.width().unwrap_or(0)).sum();
    let room = if whole <= columns { columns } else { columns.saturating_sub(3) };
    for c in text.chars() {
        width += c.width().unwrap_or(0);
        if width > room {
            out.push_str("...");
            break;
        }
        out.push(c);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_that_acts_on_a_screen_comes_through() {
        let hostile = "a\u{1b}[31mred\u{7}\u{9b}2J\u{202e}txt\u{0}\r\nb\u{200b}\u{feff}";
        let shown = one_line(hostile);
        assert!(!shown.chars().any(acts));
        assert!(shown.starts_with("a<U+001B>[31mred<U+0007>"));
        for n in 0..=0x10_ffff {
            if let Some(c) = char::from_u32(n)
                && (c.is_control() || acts(c))
            {
                let text = c.to_string();
                assert!(!one_line(&text).contains(c), "{n:x}");
            }
        }
    }

    #[test]
    fn ordinary_words_stay_as_they_are() {
        assert_eq!(one_line("5½ in, 45°, Übergang, 屋根"), "5½ in, 45°, Übergang, 屋根");
        assert_eq!(cut("kitchen window", 10), "kitchen...");
        assert_eq!(cut("kitchen", 7), "kitchen");
    }
}
