//! The order of sections as people read them: numbers as numbers, so that 9.2 comes before 10.1.

use std::cmp::Ordering;

/// A piece of a section's number. Numbers come before words.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
enum Piece {
    /// A number, by how many digits it has and then digit by digit, so that none is too long to be told.
    Number(usize, String),
    /// Letters.
    Word(String),
}

fn pieces(text: &str) -> Vec<Piece> {
    let mut pieces = Vec::new();
    let mut rest = text;
    while let Some(first) = rest.chars().next() {
        let digits = first.is_ascii_digit();
        let same = |c: char| if digits { c.is_ascii_digit() } else { c.is_alphabetic() };
        let end = rest.find(|c: char| !same(c)).unwrap_or(rest.len());
        let (own, after) = rest.split_at(end.max(if same(first) { 0 } else { first.len_utf8() }));
        if digits {
            let number = own.trim_start_matches('0');
            pieces.push(Piece::Number(number.len(), number.to_owned()));
        } else if same(first) {
            pieces.push(Piece::Word(own.to_lowercase()));
        }
        rest = after;
    }
    pieces
}

/// Which of two sections comes first. Of several sections in one text the first counts; one without a number is last.
pub(super) fn by_section(a: &str, b: &str) -> Ordering {
    let cut = |text: &str| text.find([',', ';', ' ']).unwrap_or(text.len());
    let key = |text: &str| {
        let (head, tail) = text.split_at(cut(text));
        (text.is_empty(), pieces(head), pieces(tail))
    };
    key(a).cmp(&key(b))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sections_come_as_they_stand_in_a_code() {
        let wanted = [
            "8.4.2",
            "8.4.2, 8.4.2.1",
            "8.4.2.2",
            "8.4.4",
            "9.2",
            "10 (item number not seen)",
            "10.1",
            "240.308(b)(1)",
            "240.308(b)(2)",
            "240.308(b)(10)",
            "240.308(c)(1)",
            "1303.2402 subp. 4",
            "1303.2402 subp. 5.E",
            "(a)(1)",
            "(a)(1)(iv)",
            "(a)(11)",
            "AF103.4.4",
            "AF103.4.10",
            "AF103.12",
            "",
        ];
        let mut given = wanted.to_vec();
        given.reverse();
        given.sort_by(|a, b| by_section(a, b));
        assert_eq!(given, wanted);
    }
}
