//! Ranges hold the true value, and comparisons never guess.

use super::*;
use proptest::prelude::*;

fn small() -> impl Strategy<Value = Ratio> {
    (-5000_i128..5000, 1_i128..300).prop_map(|(num, den)| Ratio::new(num, den).unwrap())
}

fn any_ratio() -> impl Strategy<Value = Ratio> {
    prop_oneof![
        3 => small(),
        1 => (any::<i128>(), 1..=i128::MAX).prop_map(|(num, den)| Ratio::new(num, den).unwrap()),
    ]
}

/// A number together with a ratio it may stand for.
fn number() -> impl Strategy<Value = (Number, Ratio)> {
    prop_oneof![
        any_ratio().prop_map(|value| (Number::exact(value.clone()), value)),
        (any_ratio(), any_ratio(), 0_i128..=16).prop_map(|(a, b, part)| {
            let inside = &a + (&b - &a) * Ratio::new(part, 16).unwrap();
            (Number::between(a, b), inside)
        }),
    ]
}

fn holds(number: &Number, value: &Ratio) -> bool {
    let (low, high) = number.bounds();
    low <= *value && *value <= high
}

const ALL: [Comparison; 5] =
    [Comparison::Equal, Comparison::Less, Comparison::AtMost, Comparison::More, Comparison::AtLeast];

fn plain(how: Comparison, order: Ordering) -> bool {
    match how {
        Comparison::Equal => order.is_eq(),
        Comparison::Less => order.is_lt(),
        Comparison::AtMost => order.is_le(),
        Comparison::More => order.is_gt(),
        Comparison::AtLeast => order.is_ge(),
    }
}

proptest! {
    #[test]
    fn a_range_holds_whatever_its_parts_may_be((a, x) in number(), (b, y) in number()) {
        prop_assert!(holds(&(&a + &b), &(&x + &y)));
        prop_assert!(holds(&(&a - &b), &(&x - &y)));
        prop_assert!(holds(&(&a * &b), &(&x * &y)));
        prop_assert!(holds(&a.abs(), &x.abs()));
        prop_assert!(holds(&a.negate(), &-&x));
        prop_assert!(holds(&a.squared(), &x.squared()));
        prop_assert!(holds(&a.hull(&b), &x) && holds(&a.hull(&b), &y));
        prop_assert!(holds(&a.within(&y), &x));
        prop_assert!(holds(&Number::least([&a, &b]).unwrap(), &x.clone().min(y.clone())));
        prop_assert!(holds(&Number::greatest([&a, &b]).unwrap(), &x.clone().max(y.clone())));
        match a.divide(&b) {
            Some(quotient) => prop_assert!(holds(&quotient, &x.checked_div(&y).unwrap())),
            None => prop_assert!(b.may_be_zero()),
        }
        let (low, high) = a.to_f64_bounds();
        prop_assert!(low.is_finite() && high.is_finite() && low <= high);
        if x.abs() < Ratio::new(i128::MAX, 1).unwrap() {
            prop_assert!(Ratio::from_f64(low).unwrap() <= x && x <= Ratio::from_f64(high).unwrap());
        }
    }

    #[test]
    fn a_range_is_never_empty_nor_a_single_point((a, _) in number(), (b, _) in number(), (c, _) in number()) {
        for made in [&a + &b, &(&a - &b) * &c, &(&a * &b) - &c] {
            if let Number::Range(low, high) = made {
                prop_assert!(low < high);
            }
        }
    }

    #[test]
    fn exact_numbers_compare_as_ratios_do(a in any_ratio(), b in any_ratio()) {
        for how in ALL {
            let truth = Number::exact(a.clone()).compare(how, &Number::exact(b.clone()));
            prop_assert_eq!(truth, Truth::from(plain(how, a.cmp(&b))));
        }
    }

    #[test]
    fn a_decided_comparison_holds_for_every_value((a, x) in number(), (b, y) in number()) {
        for how in ALL {
            let truth = a.compare(how, &b);
            if truth.is_known() {
                prop_assert_eq!(truth, Truth::from(plain(how, x.cmp(&y))));
            }
            prop_assert_eq!(truth, b.compare(how.mirrored(), &a));
        }
    }

    #[test]
    fn an_undecided_comparison_has_values_on_either_side((a, _) in number(), (b, _) in number()) {
        for how in ALL {
            if a.compare(how, &b) == Truth::Unknown {
                let (low, high) = a.bounds();
                let (other_low, other_high) = b.bounds();
                let corners = [
                    plain(how, low.cmp(&other_low)), plain(how, low.cmp(&other_high)),
                    plain(how, high.cmp(&other_low)), plain(how, high.cmp(&other_high)),
                ];
                let meet = low <= other_high && other_low <= high;
                prop_assert!(corners.contains(&false));
                let possible = if how == Comparison::Equal { meet } else { corners.contains(&true) };
                prop_assert!(possible);
            }
        }
    }

    #[test]
    fn a_root_lies_within_its_bounds_and_compares_by_its_square(square in small(), plain_value in small()) {
        let square = square.abs();
        let root = Number::root(square.clone());
        let (low, high) = root.bounds();
        prop_assert!(low.squared() <= square && square <= high.squared());
        let expected = if plain_value.is_negative() {
            Ordering::Greater
        } else {
            square.cmp(&plain_value.squared())
        };
        for how in ALL {
            let truth = root.compare(how, &Number::exact(plain_value.clone()));
            prop_assert_eq!(truth, Truth::from(plain(how, expected)));
        }
    }

    #[test]
    fn arithmetic_on_roots_stays_within_a_nanometre(square in small(), other in small()) {
        let (square, other) = (square.abs(), other.abs());
        let (a, b) = (Number::root(square), Number::root(other));
        let nanometre = Ratio::new(1, 1_000_000_000).unwrap();
        for made in [&a + &b, &a - &b, &a * &b] {
            let (low, high) = made.bounds();
            prop_assert!(high - low <= nanometre);
        }
    }
}

#[test]
fn the_root_of_two_times_itself_is_two() {
    let root = Number::root(Ratio::from_int(2));
    assert!(matches!(root, Number::Root(_)));
    assert_eq!(&root * &root, Number::whole(2));
    assert_eq!(&root * &Number::whole(3), Number::root(Ratio::from_int(18)));
    assert_eq!(Number::whole(2).divide(&root), Some(root.clone()));
    assert_eq!(&root - &root, Number::whole(0));
    assert_eq!(Number::root(Ratio::from_int(100)), Number::whole(10));
    assert_eq!(Number::root(Ratio::new(9, 16).unwrap()).as_exact(), Ratio::new(3, 4).as_ref());
}

#[test]
fn a_distance_one_part_in_many_short_of_the_limit_is_told_from_the_limit() {
    let limit = Number::whole(10);
    let tiny = Ratio::new(1, 10_i128.pow(30)).unwrap();
    let short = Number::root(Ratio::from_int(100) - &tiny);
    let long = Number::root(Ratio::from_int(100) + &tiny);
    assert_eq!(short.compare(Comparison::AtLeast, &limit), Truth::False);
    assert_eq!(long.compare(Comparison::AtLeast, &limit), Truth::True);
    assert_eq!(Number::root(Ratio::from_int(100)).compare(Comparison::AtLeast, &limit), Truth::True);
    assert_eq!(short.compare(Comparison::Less, &long), Truth::True);
}

#[test]
fn pi_lies_between_its_bounds() {
    // 3.14159 26535 89793 23846 26433: from memory, to more places than the range is wide.
    let digits = Ratio::parse_decimal("3.1415926535897932384626433").unwrap();
    let (low, high) = Number::pi().bounds();
    assert!(low < digits && digits < high);
    assert_eq!(high - low, Ratio::new(1, 10_i128.pow(20)).unwrap());
}

#[test]
fn only_a_range_that_is_not_all_negative_has_a_root() {
    assert_eq!(Number::whole(-1).sqrt(), None);
    assert_eq!(Number::between(Ratio::from_int(-4), Ratio::from_int(-1)).sqrt(), None);
    let part = Number::between(Ratio::from_int(-4), Ratio::from_int(9)).sqrt();
    assert_eq!(part, Some(Number::between(Ratio::ZERO, Ratio::from_int(3))));
}

#[test]
fn floats_that_are_no_numbers_make_no_range() {
    assert_eq!(Number::from_f64_range(f64::NAN, 1.0), None);
    assert_eq!(Number::from_f64_range(0.0, f64::INFINITY), None);
    assert_eq!(Number::from_f64_range(2.0, 1.0), None);
    assert_eq!(Number::from_f64_range(0.5, 0.5), Some(Number::exact(Ratio::new(1, 2).unwrap())));
}
