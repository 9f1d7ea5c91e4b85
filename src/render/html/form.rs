//! Lines of a form, and signs to cut out at their true size.

use maud::{Markup, html};

use super::safe;
use crate::base::number::{Number, Quantity, Ratio};
use crate::render::papers::{Blank, Sign};

/// Lines of a form: what is not known is a line to write on.
pub(super) fn blanks(blanks: &[Blank]) -> Markup {
    html! {
        dl class="blanks" {
            @for blank in blanks {
                dt { (safe(&blank.label)) }
                dd {
                    @if blank.words.is_empty() {
                        span class="blank" role="img" aria-label="to be filled in by hand" {}
                    } @else {
                        span { (safe(&blank.words)) }
                    }
                    @if !blank.note.is_empty() { span class="note" { (safe(&blank.note)) } }
                }
            }
        }
    }
}

/// A sign, as often as it is printed.
pub(super) fn sign(sign: &Sign) -> Markup {
    let style = format!("--letters: {}mm", millimetres(&sign.letters.number));
    html! {
        div class="signs" style=(style) {
            @for _ in 0..sign.copies {
                figure class="sign" {
                    @for (words, room) in &sign.lines {
                        p { (safe(words)) @if *room { span class="room" {} } }
                    }
                }
            }
        }
    }
}

/// A line of this length.
pub(super) fn measure(length: &Quantity) -> Markup {
    let long = millimetres(&length.number);
    html! {
        p class="measure" style={ "width: " (long) "mm" } {
            "This line is " (safe(&length.to_string())) " (" (long) " mm) long."
        }
    }
}

/// A length in millimetres, to the next hundredth upward, so that no letter comes out too small.
fn millimetres(length: &Number) -> String {
    let hundredths = (&length.high() * &Ratio::from(100_000)).ceil().to_int().unwrap_or(0).max(0);
    format!("{}.{:02}", hundredths / 100, hundredths % 100)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::number::Dimension;

    #[test]
    fn letters_of_a_quarter_of_an_inch_are_six_and_35_hundredths_of_a_millimetre_high() {
        // An inch is 25.4 mm exactly.
        for (written, wanted) in [("1/4 in", "6.35"), ("1/8 in", "3.18"), ("12 mm", "12.00")] {
            let height = Quantity::parse(written, Dimension::LENGTH).unwrap_or_else(|_| panic!("{written}"));
            assert_eq!(millimetres(&height.number), wanted, "{written}");
        }
    }
}
