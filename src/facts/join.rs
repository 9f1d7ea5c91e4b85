//! Two statements about one thing: what they come to together.

use crate::base::number::{Comparison, Number};
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

/// Whether a number surely lies within another.
fn lies_in(one: &Number, other: &Number) -> bool {
    let holds = |how, end| one.compare(how, &Number::exact(end)) == Truth::True;
    holds(Comparison::AtLeast, other.low()) && holds(Comparison::AtMost, other.high())
}

/// Two statements of one number that do not contradict each other. What lies within bounds and what is closer to it
/// go together: the closer holds. Where they differ by no more than people round, it lies between the ends at which they
/// come nearest to each other.
pub(super) fn agree_numbers(
    first: Answer<Number>,
    second: Answer<Number>,
    between: &[Missing],
) -> Answer<Number> {
    let (Answer::Known { value: a, doubts }, Answer::Known { value: b, doubts: more }) = (&first, &second)
    else {
        return either(first, second);
    };
    if a == b || lies_in(a, b) {
        return first;
    }
    if lies_in(b, a) {
        return second;
    }
    let (low, high) = (a.low().max(b.low()), a.high().min(b.high()));
    if low <= high {
        let value = Number::between(low, high);
        return Answer::Known { value, doubts: unite(doubts.clone(), more.clone()) };
    }
    let rounded = between.iter().map(|one| Missing { reason: Reason::Imprecise, ..one.clone() }).collect();
    let value = Number::between(high, low);
    Answer::Known { value, doubts: unite(unite(doubts.clone(), more.clone()), rounded) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::base::number::Ratio;
    use crate::base::value::EntryPath;

    fn missing(entry: &str) -> Missing {
        Missing { entry: EntryPath::new(entry), reason: Reason::NotStated, at: None }
    }

    #[test]
    fn one_statement_is_enough_and_two_that_agree_are_no_more() {
        let known = || Answer::known(Number::whole(3));
        let unknown = || Answer::missing(missing("b"));
        let of = [missing("a"), missing("b")];
        assert_eq!(agree_numbers(known(), unknown(), &of), known());
        assert_eq!(agree_numbers(unknown(), known(), &of), known());
        assert_eq!(agree_numbers(known(), known(), &of), known());
        assert_eq!(agree_numbers(unknown(), unknown(), &of), unknown());
    }

    #[test]
    fn two_that_were_rounded_differently_leave_the_range_between_them() {
        let of = [missing("a"), missing("b")];
        let both = agree_numbers(Answer::known(Number::whole(3)), Answer::known(Number::whole(5)), &of);
        let Answer::Known { value, doubts } = both else { panic!("a range") };
        assert_eq!(value, Number::between(Ratio::from(3), Ratio::from(5)));
        assert!(doubts.iter().all(|doubt| doubt.reason == Reason::Imprecise) && doubts.len() == 2);
    }

    #[test]
    fn bounds_give_way_to_what_is_known_more_closely() {
        let of = [missing("a"), missing("b")];
        let range = |low, high| Answer::known(Number::between(Ratio::from(low), Ratio::from(high)));
        let three = Answer::known(Number::whole(3));
        assert_eq!(agree_numbers(three.clone(), range(1, 5), &of), three);
        assert_eq!(agree_numbers(range(1, 5), three.clone(), &of), three);
        assert_eq!(agree_numbers(range(1, 5), range(4, 8), &of), range(4, 5));
        // A bound that is missed by a little gives way as far as it was missed, and no farther.
        let Answer::Known { value, .. } = agree_numbers(three, range(4, 80), &of) else { panic!("a range") };
        assert_eq!(value, Number::between(Ratio::from(3), Ratio::from(4)));
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
