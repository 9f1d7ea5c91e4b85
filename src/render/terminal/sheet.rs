//! The sheet that a page is written on: headings, paragraphs, and rows of a form with their label on the
//! left. In the plain form a row is a sentence that begins with its label.

use unicode_width::UnicodeWidthStr;

use super::Look;
use crate::render::visible;

/// What a piece of text is, so that it can be coloured where colours are wanted.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Tone {
    /// Ordinary words.
    Ink,
    /// A heading.
    Heading,
    /// Work that must wait.
    Stop,
    /// Not as asked.
    Unmet,
    /// Not known yet.
    Open,
    /// As asked.
    Met,
    /// Of less weight.
    Quiet,
}

impl Tone {
    fn codes(self) -> Option<&'static str> {
        match self {
            Tone::Ink => None,
            Tone::Heading => Some("1"),
            Tone::Stop => Some("1;31"),
            Tone::Unmet => Some("31"),
            Tone::Open => Some("33"),
            Tone::Met => Some("32"),
            Tone::Quiet => Some("2"),
        }
    }
}

/// How wide the labels of a form are, with the space behind them.
const LABEL: usize = 10;

/// Behind cells that leave less room than this, the last cell of a row begins a line of its own.
const LEAST_ROOM: usize = 12;

/// A page being written.
#[derive(Debug)]
pub struct Sheet<'a> {
    look: &'a Look,
    out: String,
}

impl<'a> Sheet<'a> {
    /// An empty page.
    #[must_use]
    pub fn new(look: &'a Look) -> Self {
        Sheet { look, out: String::new() }
    }

    /// The page as it stands.
    #[must_use]
    pub fn finish(self) -> String {
        self.out
    }

    /// How the page looks.
    #[must_use]
    pub fn look(&self) -> &'a Look {
        self.look
    }

    /// An empty line; never two together, none at the top.
    pub fn blank(&mut self) {
        if !self.out.is_empty() && !self.out.ends_with("\n\n") {
            self.out.push('\n');
        }
    }

    /// A heading with an empty line before it.
    pub fn heading(&mut self, text: &str, tone: Tone) {
        self.blank();
        self.paragraph(0, text, tone);
    }

    /// A heading that parts one half of the page from the next.
    pub fn rule(&mut self, text: &str) {
        self.blank();
        if self.look.plain {
            self.paragraph(0, text, Tone::Heading);
        } else {
            let left = format!("{} ", visible::one_line(text));
            let rest = self.look.width.saturating_sub(left.width());
            if rest == 0 {
                self.paragraph(0, text, Tone::Heading);
                return;
            }
            let painted = self.paint(&left, Tone::Heading);
            self.out.push_str(&painted);
            self.out.push_str(&"─".repeat(rest));
            self.out.push('\n');
        }
    }

    /// Words that run on, set in by so many columns.
    pub fn paragraph(&mut self, indent: usize, text: &str, tone: Tone) {
        self.hanging(indent, indent, text, tone);
    }

    /// Words whose first line is set in otherwise than the rest.
    pub fn hanging(&mut self, first: usize, rest: usize, text: &str, tone: Tone) {
        let (first, rest) = if self.look.plain { (0, 0) } else { (first, rest) };
        let text = visible::one_line(text);
        let lines = wrap(&text, self.look.width.saturating_sub(first), self.look.width.saturating_sub(rest));
        for (at, line) in lines.iter().enumerate() {
            let indent = if at == 0 { first } else { rest };
            self.out.push_str(&" ".repeat(indent));
            let painted = self.paint(line, tone);
            self.out.push_str(&painted);
            self.out.push('\n');
        }
    }

    /// One item of a list.
    pub fn item(&mut self, text: &str, tone: Tone) {
        if self.look.plain {
            self.paragraph(0, text, tone);
        } else {
            self.hanging(2, 4, text, tone);
        }
    }

    /// One row of a form: a label and what belongs to it.
    pub fn row(&mut self, label: &str, text: &str) {
        self.toned_row(label, text, Tone::Ink);
    }

    /// One row of a form in a tone.
    pub fn toned_row(&mut self, label: &str, text: &str, tone: Tone) {
        if text.is_empty() {
            return;
        }
        if self.look.plain {
            let label = capital(label);
            self.paragraph(0, &format!("{label}: {}", sentence(text)), tone);
            return;
        }
        let text = visible::one_line(text);
        let room = self.look.width.saturating_sub(LABEL + 2);
        for (at, line) in wrap(&text, room, room).iter().enumerate() {
            let label = if at == 0 { format!("  {label:<LABEL$}") } else { " ".repeat(LABEL + 2) };
            let label = self.paint(&label, Tone::Quiet);
            let line = self.paint(line, tone);
            self.out.push_str(label.trim_end_matches('\n'));
            self.out.push_str(&line);
            self.out.push('\n');
        }
    }

    /// Columns: each row's cells set under each other, the last one running on. In the plain form the cells
    /// of a row follow each other with commas.
    pub fn table(&mut self, rows: &[Vec<String>], tone: Tone) {
        let columns = rows.iter().map(Vec::len).max().unwrap_or(0);
        let width_of = |column: usize| {
            rows.iter()
                .filter(|row| row.len() > column + 1)
                .filter_map(|row| row.get(column))
                .map(|cell| visible::one_line(cell).width())
                .max()
                .unwrap_or(0)
                .min(self.look.width / 2)
        };
        let widths: Vec<usize> = (0..columns).map(width_of).collect();
        for row in rows {
            if self.look.plain {
                let cells: Vec<&str> =
                    row.iter().map(String::as_str).filter(|cell| !cell.is_empty()).collect();
                self.paragraph(0, &cells.join(", "), tone);
                continue;
            }
            let mut lead = String::from("  ");
            let last = row.len().saturating_sub(1);
            for (cell, width) in row.iter().take(last).zip(&widths) {
                let cell = visible::one_line(cell);
                let gap = width.saturating_sub(cell.width());
                lead.push_str(&cell);
                lead.push_str(&" ".repeat(gap + 2));
            }
            let hang = lead.width().min(self.look.width / 2);
            let text = row.last().map_or("", String::as_str);
            let text = visible::one_line(text);
            let whole = format!("{lead}{text}");
            if whole.width() <= self.look.width {
                let painted = self.paint(whole.trim_end(), tone);
                self.out.push_str(&painted);
                self.out.push('\n');
                continue;
            }
            if lead.width() > self.look.width.saturating_sub(LEAST_ROOM) {
                self.hanging(2, 4, &lead, tone);
                self.hanging(4, 4, &text, tone);
                continue;
            }
            let lines = wrap(
                &text,
                self.look.width.saturating_sub(lead.width()),
                self.look.width.saturating_sub(hang),
            );
            for (at, line) in lines.iter().enumerate() {
                let front = if at == 0 { lead.clone() } else { " ".repeat(hang) };
                let painted = self.paint(&format!("{front}{line}"), tone);
                self.out.push_str(&painted);
                self.out.push('\n');
            }
        }
    }

    /// Text that is laid out already.
    pub fn raw(&mut self, text: &str) {
        self.out.push_str(text);
    }

    fn paint(&self, text: &str, tone: Tone) -> String {
        match tone.codes() {
            Some(codes) if self.look.colour && !text.is_empty() => format!("\u{1b}[{codes}m{text}\u{1b}[0m"),
            _ => text.to_owned(),
        }
    }
}

/// The text with a capital in front.
#[must_use]
pub fn capital(text: &str) -> String {
    let mut chars = text.chars();
    match chars.next() {
        Some(first) => first.to_uppercase().collect::<String>() + chars.as_str(),
        None => String::new(),
    }
}

/// The text with a full stop behind it, if it ends in none.
#[must_use]
pub fn sentence(text: &str) -> String {
    let text = text.trim_end();
    if text.is_empty() || text.ends_with(['.', '?', '!', ':']) { text.to_owned() } else { format!("{text}.") }
}

/// Breaks words into lines no wider than asked; a word that is wider than a line is broken.
#[must_use]
pub fn wrap(text: &str, first: usize, rest: usize) -> Vec<String> {
    let plain = visible::is_plain(text);
    let columns = |word: &str| if plain { word.len() } else { word.width() };
    let space = |c: char| if plain { c == ' ' } else { c.is_whitespace() };
    let blank = || String::with_capacity(text.len().min(rest.max(8)));
    let mut lines: Vec<String> = Vec::new();
    let mut line = blank();
    let mut used = 0;
    let mut room = first.max(8);
    for word in text.split(space).filter(|word| !word.is_empty()) {
        let mut word = word;
        let mut wide = columns(word);
        if used > 0 && used + 1 + wide > room {
            lines.push(std::mem::replace(&mut line, blank()));
            used = 0;
            room = rest.max(8);
        }
        while wide > room {
            let (head, tail) = split_at_width(word, room);
            if head.is_empty() {
                break;
            }
            lines.push(head.to_owned());
            room = rest.max(8);
            word = tail;
            wide = columns(word);
        }
        if used > 0 {
            line.push(' ');
            used += 1;
        }
        line.push_str(word);
        used += wide;
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}

fn split_at_width(word: &str, room: usize) -> (&str, &str) {
    let mut used = 0;
    for (at, c) in word.char_indices() {
        used += unicode_width::UnicodeWidthChar::width(c).unwrap_or(0);
        if used > room {
            return word.split_at(at);
        }
    }
    (word, "")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_wider_than_the_page() {
        for width in [40, 80, 120] {
            let look = Look::standard().wide(width);
            let mut sheet = Sheet::new(&look);
            let long = "a fairly long sentence with a verylongwordthatcannotbebrokenanywhereatallbecauseithasnospaces_in_it 屋根の端 and more";
            sheet.rule("Findings");
            sheet.paragraph(3, long, Tone::Ink);
            sheet.row("found", long);
            sheet.item(long, Tone::Open);
            sheet.table(
                &[vec!["a".into(), "bb".into(), long.into()], vec!["aaa".into(), "b".into(), "c".into()]],
                Tone::Ink,
            );
            for line in sheet.finish().lines() {
                assert!(line.width() <= width, "{width}: {line:?}");
                assert_eq!(line.trim_end(), line);
            }
        }
    }

    #[test]
    fn colours_are_beside_the_words_and_can_be_left_out() {
        let coloured = Look { colour: true, ..Look::standard() };
        let bare = Look::standard();
        let write = |look| {
            let mut sheet = Sheet::new(look);
            sheet.heading("Unmet", Tone::Unmet);
            sheet.row("found", "9 ft");
            sheet.finish()
        };
        let with = write(&coloured);
        assert!(with.contains("\u{1b}[31mUnmet\u{1b}[0m"));
        let stripped = with.replace("\u{1b}[31m", "").replace("\u{1b}[2m", "").replace("\u{1b}[0m", "");
        assert_eq!(stripped, write(&bare));
    }

    #[test]
    fn the_plain_form_has_no_columns() {
        let look = Look { plain: true, ..Look::standard() };
        let mut sheet = Sheet::new(&look);
        sheet.row("found", "9 ft");
        sheet.table(&[vec!["settles 6".into(), "roof edge".into()]], Tone::Ink);
        assert_eq!(sheet.finish(), "Found: 9 ft.\nsettles 6, roof edge\n");
    }
}
