//! Two statements about one thing: what they come to together.

use crate::base::number::{Comparison, Number, Ratio};
use crate::base::truth::Truth;
use crate::base::value::{Answer, Missing, Reason, unite};

/// Two ways to the same answer: whichever can be told. What is missing is what the first way lacks.
pub(super) fn either<T>(first: Answer<T>, second: Answer<T>) -> Answer<T> {
    match (first, second) {
        (Answer::Unknown(missing), Answer::Unknown(_)) => Answer::Unknown(missing),
        (Answer::Unknown(_), known) | (known, _) => known,
    }
}

/// What contradicts what, as something missing.
fn contradiction(between: &[Missing]) -> Vec<Missing> {
    let all = between.iter().map(|one| Missing { reason: Reason::Contradiction, ..one.clone() });
    unite(all.collect(), Vec::new())
}

/// Two statements of one fact that is no number: unknown when they contradict each other.
pub(super) fn agree<T: PartialEq>(first: Answer<T>, second: Answer<T>, between: &[Missing]) -> Answer<T> {
    if let (Answer::Known { value: a, .. }, Answer::Known { value: b, .. }) = (&first, &second)
        && a != b
    {
        return Answer::Unknown(contradiction(between));
    }
    either(first, second)
}

/// Two statements of one number: the range between them when they differ, so that leaving one of them away
/// never turns what was told. They contradict each other when they differ by more than `slack`.
pub(super) fn agree_numbers(
    first: Answer<Number>,
    second: Answer<Number>,
    between: &[Missing],
    slack: &Ratio,
) -> Answer<Number> {
    let (Answer::Known { value: a, doubts }, Answer::Known { value: b, doubts: more }) = (&first, &second)
    else {
        return either(first, second);
    };
    if a == b {
        return first;
    }
    let apart = (a - b).abs();
    let contradict = apart.compare(Comparison::More, &Number::exact(slack.clone())) == Truth::True;
    let differ = if contradict {
        contradiction(between)
    } else {
        between.iter().map(|one| Missing { reason: Reason::Imprecise, ..one.clone() }).collect()
    };
    let value = a.hull(b);
    Answer::Known { value, doubts: unite(unite(doubts.clone(), more.clone()), differ) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::value::EntryPath;

    fn missing(entry: &str) -> Missing {
        Missing { entry: EntryPath::new(entry), reason: Reason::NotStated, at: None }
    }

    #[test]
    fn one_statement_is_enough_and_two_that_agree_are_no_more() {
        let known = || Answer::known(Number::whole(3));
        let unknown = || Answer::missing(missing("b"));
        let of = [missing("a"), missing("b")];
        assert_eq!(agree_numbers(known(), unknown(), &of, &Ratio::ZERO), known());
        assert_eq!(agree_numbers(unknown(), known(), &of, &Ratio::ZERO), known());
        assert_eq!(agree_numbers(known(), known(), &of, &Ratio::ZERO), known());
        assert_eq!(agree_numbers(unknown(), unknown(), &of, &Ratio::ZERO), unknown());
    }

    #[test]
    fn two_that_differ_leave_the_range_between_them() {
        let of = [missing("a"), missing("b")];
        let both = |slack| {
            agree_numbers(Answer::known(Number::whole(3)), Answer::known(Number::whole(5)), &of, &slack)
        };
        let Answer::Known { value, doubts } = both(Ratio::ONE) else { panic!("a range") };
        assert_eq!(value, Number::between(Ratio::from(3), Ratio::from(5)));
        assert!(doubts.iter().all(|doubt| doubt.reason == Reason::Contradiction) && doubts.len() == 2);
        let Answer::Known { doubts, .. } = both(Ratio::from(2)) else { panic!("a range") };
        assert!(doubts.iter().all(|doubt| doubt.reason == Reason::Imprecise));
    }

    #[test]
    fn words_that_contradict_each_other_tell_nothing() {
        let of = [missing("a"), missing("b")];
        let Answer::Unknown(why) = agree(Answer::known(true), Answer::known(false), &of) else {
            panic!("unknown")
        };
        assert_eq!(why.len(), 2);
        assert_eq!(agree(Answer::known(true), Answer::missing(missing("b")), &of), Answer::known(true));
    }
}
