//! The laws of arithmetic, held against integers of any size.

use super::*;
use num_traits::Zero;
use proptest::prelude::*;

/// Terms of every size, the ends of the machine's integers among them.
fn term() -> impl Strategy<Value = i128> {
    prop_oneof![
        4 => -1000_i128..1000,
        2 => any::<i64>().prop_map(i128::from),
        2 => any::<i128>(),
        1 => prop_oneof![Just(i128::MAX), Just(i128::MIN), Just(i128::MIN + 1), Just(i128::MAX - 1)],
    ]
}

fn ratio() -> impl Strategy<Value = (Ratio, BigRational)> {
    (term(), term().prop_filter("not nought", |den| *den != 0))
        .prop_map(|(num, den)| (Ratio::new(num, den).unwrap(), BigRational::new(num.into(), den.into())))
}

fn same(ours: &Ratio, theirs: &BigRational) -> bool {
    ours.numerator() == theirs.numer().to_string()
        && ours.denominator() == theirs.denom().to_string()
        && *ours == Ratio::from_big(theirs.clone())
}

proptest! {
    #[test]
    fn arithmetic_agrees_with_integers_of_any_size(a in ratio(), b in ratio()) {
        prop_assert!(same(&(&a.0 + &b.0), &(&a.1 + &b.1)));
        prop_assert!(same(&(&a.0 - &b.0), &(&a.1 - &b.1)));
        prop_assert!(same(&(&a.0 * &b.0), &(&a.1 * &b.1)));
        prop_assert_eq!(a.0.cmp(&b.0), a.1.cmp(&b.1));
        prop_assert_eq!(a.0.floor(), Ratio::from_big(a.1.floor()));
        prop_assert_eq!(a.0.ceil(), Ratio::from_big(a.1.ceil()));
        match a.0.checked_div(&b.0) {
            Some(quotient) => prop_assert!(same(&quotient, &(&a.1 / &b.1))),
            None => prop_assert!(b.1.is_zero()),
        }
    }

    #[test]
    fn the_ring_laws_hold(a in ratio(), b in ratio(), c in ratio()) {
        let (a, b, c) = (a.0, b.0, c.0);
        prop_assert_eq!((&a + &b) + &c, &a + (&b + &c));
        prop_assert_eq!((&a * &b) * &c, &a * (&b * &c));
        prop_assert_eq!(&a + &b, &b + &a);
        prop_assert_eq!(&a * &b, &b * &a);
        prop_assert_eq!(&a * (&b + &c), &a * &b + &a * &c);
        prop_assert_eq!(&a - &a, Ratio::ZERO);
        prop_assert_eq!(-(-&a), a);
    }

    #[test]
    fn floats_are_taken_to_the_last_bit(bits in any::<u64>()) {
        let float = f64::from_bits(bits);
        match Ratio::from_f64(float) {
            Some(exact) => prop_assert_eq!(exact.to_f64().to_bits(), if float.abs() > 0.0 { bits } else { 0 }),
            None => prop_assert!(!float.is_finite()),
        }
    }

    #[test]
    fn root_bounds_hold_the_root_tightly(a in ratio()) {
        let square = a.0.abs();
        let (low, high) = square.root_bounds().unwrap();
        prop_assert!(low.squared() <= square && square <= high.squared());
        let width = &high - &low;
        prop_assert!(width * Ratio::from_int(10_000_000_000_000) <= high);
        prop_assert_eq!(square.squared().exact_root(), Some(square));
    }

    #[test]
    fn shortening_stays_near_and_on_its_side(a in ratio(), b in ratio()) {
        let long = &a.0 * &b.0;
        let (low, high) = (long.shortened(Rounding::Down), long.shortened(Rounding::Up));
        prop_assert!(low <= long && long <= high);
        let scale = Ratio::new(1_000_000_000_000_000_000_000_000, 1).unwrap();
        prop_assert!((high - low) * scale <= long.abs());
    }

    #[test]
    fn rounding_leads_to_a_neighbouring_step(a in ratio(), steps in 1_i128..500, parts in 1_i128..500) {
        let step = Ratio::new(steps, parts).unwrap();
        let down = a.0.round_to(&step, Rounding::Down).unwrap();
        let up = a.0.round_to(&step, Rounding::Up).unwrap();
        let near = a.0.round_to(&step, Rounding::Nearest).unwrap();
        prop_assert!(down <= a.0 && a.0 <= up && &up - &down <= step);
        prop_assert!((&near - &a.0).abs() * Ratio::from_int(2) <= step);
        prop_assert!(down.checked_div(&step).unwrap().is_whole());
    }
}

#[test]
fn decimals_are_read_digit_by_digit() {
    let of = |num, den| Ratio::new(num, den);
    assert_eq!(Ratio::parse_decimal("12.5"), of(25, 2));
    assert_eq!(Ratio::parse_decimal("-.25"), of(-1, 4));
    assert_eq!(Ratio::parse_decimal("007."), of(7, 1));
    assert_eq!(Ratio::parse_decimal("+0.10"), of(1, 10));
    for refused in ["", ".", "-", "1.2.3", "1e5", "0x10", "1_000", " 1", "½", "--1", "inf", "NaN"] {
        assert_eq!(Ratio::parse_decimal(refused), None, "{refused}");
    }
    let long = format!("{}.5", "9".repeat(60));
    assert_eq!(Ratio::parse_decimal(&long).map(|r| r.numerator()), Some(format!("1{}", "9".repeat(60))));
}

#[test]
fn ties_round_away_from_nought() {
    let tenth = Ratio::new(1, 10).unwrap();
    let of = |num, den| Ratio::new(num, den).unwrap();
    assert_eq!(of(25, 100).round_to(&tenth, Rounding::Nearest), Some(of(3, 10)));
    assert_eq!(of(-25, 100).round_to(&tenth, Rounding::Nearest), Some(of(-3, 10)));
    assert_eq!(of(-21, 100).round_to(&tenth, Rounding::Down), Some(of(-3, 10)));
    assert_eq!(of(1, 2).round_to(&Ratio::ZERO, Rounding::Up), None);
}

#[test]
fn powers_are_refused_only_where_there_is_none() {
    assert_eq!(Ratio::from_int(2).pow(-3), Ratio::new(1, 8));
    assert_eq!(Ratio::ZERO.pow(0), Some(Ratio::ONE));
    assert_eq!(Ratio::ZERO.pow(-1), None);
    assert!(Ratio::new(i128::MIN, 3).unwrap().pow(i8::MIN).is_some());
}
