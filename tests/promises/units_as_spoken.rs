//! Promise 3: units as spoken. The spellings themselves are tried in `quantities`; here a whole design loses the
//! unit of each of its quantities in turn, and each time the review asks which was meant.

use undercroft::base::problem::ProblemKind;
use undercroft::review::problems_of;

use crate::commands::example;

#[test]
fn a_bare_number_is_refused_with_both_likely_readings() {
    let mut tried = 0;
    for number in ["01", "02", "05"] {
        let text = example(number);
        let sound = problems_of(&text).len();
        for (at, _) in text.match_indices(" ft") {
            let end = at + 3;
            let before = &text[..at];
            let start = before.rfind(|c: char| !c.is_ascii_digit()).map_or(0, |at| at + 1);
            let after = text[end..].chars().next().unwrap_or('\n');
            let line = &text[before.rfind('\n').map_or(0, |at| at + 1)..];
            let in_comment = line.lines().next().is_some_and(|line| {
                line.find('#').is_some_and(|hash| hash < at - (text.len() - line.len()).min(at))
            });
            // Only whole quantities that stand alone: "10 ft", not "10 ft 6 in" nor "1/4 in per ft".
            let lone = start < at
                && matches!(after, ',' | '}' | ']' | '\n')
                && matches!(text[..start].chars().next_back(), Some(' ' | '['));
            let joined = text[..start].ends_with(" x ")
                || text[..start].ends_with("ft ")
                || text[..start].ends_with("per ");
            if !lone || joined || line.starts_with('#') || in_comment {
                continue;
            }
            let bare = format!("{}{}", &text[..at], &text[end..]);
            let problems = problems_of(&bare);
            let asked = problems.iter().find(|problem| problem.kind == ProblemKind::NoUnit);
            if problems.len() == sound && asked.is_none() {
                panic!(
                    "{number}: a number without a unit was taken at {:?}",
                    &text[start.saturating_sub(30)..end]
                );
            }
            let Some(asked) = asked else { continue };
            tried += 1;
            // Nobody tells a height above the sea in inches.
            let other = asked.accepts.contains(" in") || asked.accepts.contains(" m");
            assert!(asked.accepts.contains(" ft") && other, "{asked:?}");
        }
    }
    assert!(tried > 60, "{tried}");
}
