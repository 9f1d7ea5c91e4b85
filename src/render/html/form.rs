//! Lines of a form, and signs to cut out at their true size.

use maud::{Markup, html};

use super::safe;
use crate::base::number::Quantity;
use crate::render::papers::true_size::millimetres;
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
        div class="wide" tabindex="0" role="group" aria-label="A line to hold a rule against" {
            p class="measure" style={ "width: " (long) "mm" } {
                "This line is " (safe(&length.to_string())) " (" (long) " mm) long."
            }
        }
    }
}
