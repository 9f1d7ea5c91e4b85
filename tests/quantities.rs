//! Units as spoken: what people write is read to the last digit, or refused with what they may have meant.

use num_bigint::BigInt;
use num_rational::BigRational;
use num_traits::Zero;
use proptest::prelude::*;
use undercroft::base::number::{Dimension as D, Number, Quantity, Ratio, Size, Style, show, show_pair};
use undercroft::base::problem::ProblemKind;

mod accepted;
mod refused;

/// A decimal number in the table's own notation.
fn decimal(text: &str) -> BigRational {
    let (whole, fraction) = text.split_once('.').unwrap_or((text, ""));
    let digits: BigInt = format!("{whole}{fraction}").parse().expect("digits");
    BigRational::new(digits, BigInt::from(10).pow(u32::try_from(fraction.len()).unwrap()))
}

/// The value of a row: numbers joined by `*` and `/`, from left to right.
fn worked_out(formula: &str) -> BigRational {
    let mut pieces = formula.split(' ');
    let mut value = decimal(pieces.next().unwrap());
    while let (Some(sign), Some(number)) = (pieces.next(), pieces.next()) {
        value = if sign == "*" { value * decimal(number) } else { value / decimal(number) };
    }
    value
}

fn as_ratio(value: &BigRational) -> (String, String) {
    (value.numer().to_string(), value.denom().to_string())
}

fn exact(quantity: &Quantity) -> (String, String) {
    let value = quantity.number.as_exact().expect("what is written is exact");
    (value.numerator(), value.denominator())
}

#[test]
fn what_people_write_is_read_to_the_last_digit() {
    let mut count = 0;
    for (dimension, formula, spellings) in accepted::ACCEPTED {
        for text in *spellings {
            count += 1;
            match Quantity::parse(text, *dimension) {
                Ok(quantity) => assert_eq!(exact(&quantity), as_ratio(&worked_out(formula)), "{text}"),
                Err(fault) => panic!("{text} is refused: {fault:?}"),
            }
        }
    }
    assert!(count >= 200, "only {count} spellings");
}

#[test]
fn what_is_shown_reads_back_as_the_same_number() {
    for (dimension, _, spellings) in accepted::ACCEPTED {
        for text in *spellings {
            let first = Quantity::parse(text, *dimension).unwrap();
            let shown = first.to_string();
            let second =
                Quantity::parse(&shown, *dimension).unwrap_or_else(|fault| panic!("{text}: {fault:?}"));
            assert_eq!(exact(&first), exact(&second), "{text} is shown as {shown}");
            assert_eq!(shown, second.to_string(), "{text} settles at once");
        }
    }
}

#[test]
fn most_spellings_are_shown_as_they_were_written() {
    for text in [
        "3 1/2 in",
        "3 1/2\"",
        "5' 6\"",
        "5'-6 1/2\"",
        "10 ft 6 in",
        "10ft6in",
        "5 feet 6 inches",
        "10 ft",
        "1 foot",
        "-1 ft 3 in",
        "6 mil",
        "0.15 mm",
        "1300 sq ft",
        "12 gal",
        "1.25 in. w.c.",
        "0.5\"wc",
        "40 CFM",
        "250 Pa",
        "90 min",
        "1 h 30 min",
        "1 day",
        "30 days",
        "38 kBtu/h",
        "5 degF",
        "-15 °C",
        "10 F deg",
        "R-4",
        "R 4",
        "RSI 0.7",
        "0.1 perm",
        "1 lb 3 oz",
        "1/4 in per ft",
        "1/4\"/ft",
        "20 mm/m",
        "2 %",
        "2%",
        "1 in 48",
        "1:48",
        "6 in 12",
        "6/12",
        "4 pCi/L",
        "$0.16/kWh",
        "16 ¢/kWh",
        "$120",
        "45°",
        "0.4",
        "12",
    ] {
        let quantity = Quantity::parse_any(text).unwrap_or_else(|fault| {
            // Ounces need to be told which kind they are.
            Quantity::parse(text, D::MASS).unwrap_or_else(|_| panic!("{text}: {fault:?}"))
        });
        assert_eq!(quantity.to_string(), text);
    }
}

#[test]
fn what_is_refused_says_what_was_likely_meant() {
    assert!(refused::REFUSED.len() >= 60);
    let mut wrong = Vec::new();
    for (text, wanted, kind, accepts, nearest) in refused::REFUSED {
        let read = match wanted {
            Some(wanted) => Quantity::parse(text, *wanted),
            None => Quantity::parse_any(text),
        };
        let Err(fault) = read else {
            wrong.push(format!("{text} is accepted"));
            continue;
        };
        let told = fault.accepts.contains(accepts) && text.get(fault.at.clone()).is_some();
        if fault.kind != *kind || !told || fault.nearest.as_deref() != *nearest {
            wrong.push(format!("{text}: {fault:?}"));
        }
        if let (Some(nearest), Some(wanted)) = (nearest, wanted)
            && Quantity::parse(nearest, *wanted).is_err()
        {
            wrong.push(format!("{text}: what is offered is refused: {nearest}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn a_number_without_a_unit_is_of_no_kind_but_a_plain_one() {
    for dimension in [D::LENGTH, D::AREA, D::PRESSURE, D::FLOW, D::TIME, D::TEMPERATURE, D::MASS, D::ANGLE] {
        let fault = Quantity::parse("30", dimension).unwrap_err();
        assert_eq!(fault.kind, ProblemKind::NoUnit);
        let (first, second) = fault.accepts.split_once(" or ").unwrap();
        for offered in [first, second] {
            assert!(Quantity::parse(offered, dimension).is_ok(), "{offered}");
        }
    }
    assert_eq!(Quantity::parse_any("30").unwrap().dimension, D::ONE);
}

#[test]
fn a_literal_in_an_expression_ends_where_the_quantity_ends() {
    let cases: &[(&str, Option<(&str, D)>)] = &[
        ("10 ft and opening", Some(("10 ft", D::LENGTH))),
        ("10 ft + 2 in", Some(("10 ft", D::LENGTH))),
        ("10 ft - 6 in", Some(("10 ft", D::LENGTH))),
        ("10 ft -6 in", Some(("10 ft", D::LENGTH))),
        ("10 ft 6 in or x", Some(("10 ft 6 in", D::LENGTH))),
        ("10 ft\n  6 in", Some(("10 ft\n  6 in", D::LENGTH))),
        ("1/4 in per ft)", Some(("1/4 in per ft", D::ONE))),
        ("3-1/2 in", Some(("3-1/2 in", D::LENGTH))),
        ("3 - 1", Some(("3", D::ONE))),
        ("3-1", Some(("3", D::ONE))),
        ("2)", Some(("2", D::ONE))),
        ("2 or met", Some(("2", D::ONE))),
        ("2 has (", Some(("2", D::ONE))),
        ("2 in openings", Some(("2 in", D::LENGTH))),
        ("5 m2 * x", Some(("5 m2", D::AREA))),
        ("0.5 * area", Some(("0.5", D::ONE))),
        ("40 % of", Some(("40 %", D::ONE))),
        ("1.25 in WC, or", Some(("1.25 in WC", D::PRESSURE))),
        ("4 pCi/L", Some(("4 pCi/L", D::CONCENTRATION))),
        ("10 F deg", Some(("10 F deg", D::TEMPERATURE_DIFFERENCE))),
        ("35 °F", Some(("35 °F", D::TEMPERATURE))),
        ("1,300 sq ft", Some(("1,300 sq ft", D::AREA))),
        ("½ in", Some(("½ in", D::LENGTH))),
        ("2, 3", Some(("2", D::ONE))),
        ("24 h", Some(("24 h", D::TIME))),
        ("10 ft / 2", Some(("10 ft", D::LENGTH))),
        ("clearance", None),
        ("-1 ft", None),
        ("", None),
        ("(1 ft)", None),
        ("12345678901234567890 ft", None),
    ];
    for (text, expected) in cases {
        let found = Quantity::longest_prefix(text);
        let found = found.map(|(quantity, length)| (text.get(..length).unwrap(), quantity.dimension));
        assert_eq!(found, *expected, "{text}");
    }
}

#[test]
fn a_size_is_two_lengths() {
    let feet = |number: i64| Number::exact(Ratio::new(i128::from(number) * 3048, 10_000).unwrap());
    for text in [
        "40 ft x 24 ft",
        "40' × 24'",
        "40 ft by 24 ft",
        "40 x 24 ft",
        "40x24 ft",
        "40' X 24'",
        "480 in x 24 ft",
    ] {
        let size = Size::parse(text).unwrap_or_else(|fault| panic!("{text}: {fault:?}"));
        assert_eq!((size.first.number, size.second.number), (feet(40), feet(24)), "{text}");
    }
    let kind = |text| Size::parse(text).unwrap_err().kind;
    assert_eq!(kind("40 ft"), ProblemKind::NotAQuantity);
    assert_eq!(kind("40 x 24"), ProblemKind::NoUnit);
    assert_eq!(kind("40 ft x 24"), ProblemKind::NoUnit);
    assert_eq!(kind("40 ft x 24 gal"), ProblemKind::WrongDimension);
    let fault = Size::parse("40 ft x 24 fot").unwrap_err();
    assert_eq!(fault.at, 11..14);
}

#[test]
fn the_step_of_a_writing_is_its_last_fraction() {
    let step = |text| Quantity::parse(text, D::LENGTH).unwrap().step().cloned();
    assert_eq!(step("3 1/2 in"), Ratio::new(127, 10_000));
    assert_eq!(step("10 ft 6 in"), Ratio::new(254, 10_000));
    assert_eq!(step("10.25 ft"), Ratio::new(3048, 1_000_000));
    assert_eq!(step("90 mm"), Ratio::new(1, 1000));
}

#[test]
fn currencies_are_not_mixed() {
    let money = |text| Quantity::parse_any(text).unwrap();
    assert!(money("$120").same_currency(&money("16 ¢/kWh")));
    assert!(!money("$120").same_currency(&money("€120")));
    assert!(!money("£0.16/kWh").same_currency(&money("€0.16/kWh")));
}

/// A style, by something written in it.
fn style(text: &str) -> (Style, D) {
    let quantity = Quantity::parse_any(text).unwrap();
    (quantity.style, quantity.dimension)
}

#[test]
fn numbers_are_shown_in_the_units_of_whoever_wrote_them() {
    let inches = |num: i128, den: i128| Number::exact(Ratio::new(num * 254, den * 10_000).unwrap());
    let in_style = |number: &Number, text| {
        let (style, dimension) = style(text);
        show(number, dimension, &style)
    };
    assert_eq!(in_style(&inches(114, 1), "10 ft"), "9 ft 6 in");
    assert_eq!(in_style(&inches(229, 2), "10'"), "9' 6 1/2\"");
    assert_eq!(in_style(&inches(114, 1), "10.0 ft"), "9.5 ft");
    assert_eq!(in_style(&inches(114, 1), "12 in"), "114 in");
    assert_eq!(in_style(&inches(6, 1), "10 ft 6 in"), "6 in");
    assert_eq!(in_style(&inches(120, 1), "10 ft 6 in"), "10 ft");
    assert_eq!(in_style(&inches(-126, 1), "5' 6\""), "-10' 6\"");
    assert_eq!(in_style(&inches(5, 16), "1 in"), "5/16 in");
    assert_eq!(in_style(&inches(31, 10), "1 in"), "3.1 in");
    assert_eq!(in_style(&inches(12, 1), "90 mm"), "304.8 mm");
    assert_eq!(in_style(&Number::whole(1), "10 ft 6 in"), "3 ft 3.37 in");
    assert_eq!(in_style(&Number::whole(100), "1.25 in WC"), "0.4015 in WC");
    assert_eq!(in_style(&Number::exact(Ratio::new(1, 96).unwrap()), "1 in 48"), "1 in 96");
    assert_eq!(in_style(&Number::exact(Ratio::new(11, 24).unwrap()), "6 in 12"), "5 1/2 in 12");
    assert_eq!(in_style(&Number::exact(Ratio::new(1, 96).unwrap()), "1/4 in per ft"), "1/8 in per ft");
    assert_eq!(in_style(&Number::exact(Ratio::new(5463, 20).unwrap()), "5 °F"), "32 °F");
    assert_eq!(
        in_style(&Number::whole(3), "10 cfm"),
        "6357 cfm",
        "a length is no flow, but a bare 3 m3/s is"
    );
}

#[test]
fn ranges_are_shown_by_both_ends_moved_apart() {
    let (style, dimension) = style("10 ft 6 in");
    let eleven = Number::exact(Ratio::new(11 * 3048, 10_000).unwrap());
    let sharp = eleven.within(&Ratio::new(254, 10_000).unwrap());
    assert_eq!(show(&sharp, dimension, &style), "between 10 ft 11 in and 11 ft 1 in");
    let metres = Style::metric_for(D::LENGTH);
    let range = Number::between(Ratio::new(1, 3).unwrap(), Ratio::new(2, 3).unwrap());
    assert_eq!(show(&range, D::LENGTH, &metres), "between 333.3 mm and 666.7 mm");
    let tight = Number::between(Ratio::new(100_001, 300_000).unwrap(), Ratio::new(100_002, 300_000).unwrap());
    assert_eq!(show(&tight, D::LENGTH, &metres), "between 333.3366 mm and 333.34 mm");
}

#[test]
fn two_numbers_that_differ_never_look_alike() {
    let (feet, dimension) = style("10 ft");
    let limit = Number::exact(Ratio::new(3048, 1000).unwrap());
    let square = Ratio::new(3048 * 3048, 1_000_000).unwrap();
    let short = Number::root(square - Ratio::new(1, 1_000_000_000_000).unwrap());
    let (found, needed) = show_pair(&short, &limit, dimension, &feet);
    assert_eq!(needed, "10 ft");
    assert!(found.starts_with("9 ft 11.99999"), "{found}");
    let same = show_pair(&limit, &limit, dimension, &feet);
    assert_eq!(same.0, same.1);
}

#[test]
fn usual_styles_are_there_for_every_dimension_with_a_name() {
    for dimension in [
        D::ONE,
        D::LENGTH,
        D::AREA,
        D::VOLUME,
        D::MASS,
        D::TIME,
        D::TEMPERATURE,
        D::TEMPERATURE_DIFFERENCE,
        D::CURRENT,
        D::SPEED,
        D::FLOW,
        D::PRESSURE,
        D::POWER,
        D::ENERGY,
        D::VOLTAGE,
        D::RESISTANCE,
        D::INSULATION,
        D::PERMEANCE,
        D::DENSITY,
        D::CONCENTRATION,
        D::DECAY_ENERGY,
        D::EXPOSURE,
        D::LOUDNESS,
        D::MONEY,
        D::PRICE_OF_ENERGY,
        D::ANGLE,
        D::RATE,
        D::PRESSURE_GRADIENT,
        D::RESISTANCE_PER_LENGTH,
        D::DEGREE_TIME,
    ] {
        let (name, examples) = dimension.words().unwrap();
        for example in examples.split(", ").flat_map(|part| part.split(" or ")) {
            let read = Quantity::parse(example, dimension);
            assert!(read.is_ok(), "{name}: the example {example} is refused");
        }
        for style in [Style::default_for(dimension), Style::metric_for(dimension)] {
            let text = show(&Number::whole(300), dimension, &style);
            let back = Quantity::parse(&text, dimension);
            assert!(back.is_ok(), "{name}: {text} cannot be read back");
        }
    }
}

/// The units of the trade by their definitions, written down apart from the program's table.
#[rustfmt::skip]
const UNITS: &[(D, &str, &str)] = &[
    (D::LENGTH, "in", "0.0254"), (D::LENGTH, "ft", "0.3048"), (D::LENGTH, "yd", "0.9144"),
    (D::LENGTH, "mil", "0.0000254"), (D::LENGTH, "mm", "0.001"), (D::LENGTH, "cm", "0.01"), (D::LENGTH, "m", "1"),
    (D::LENGTH, "µm", "0.000001"), (D::LENGTH, "km", "1000"),
    (D::AREA, "sq ft", "0.09290304"), (D::AREA, "in2", "0.00064516"), (D::AREA, "m2", "1"), (D::AREA, "cm2", "0.0001"),
    (D::AREA, "sq yd", "0.83612736"), (D::AREA, "mm2", "0.000001"),
    (D::VOLUME, "gal", "0.003785411784"), (D::VOLUME, "qt", "0.000946352946"), (D::VOLUME, "pt", "0.000473176473"),
    (D::VOLUME, "fl oz", "0.0000295735295625"), (D::VOLUME, "ft3", "0.028316846592"),
    (D::VOLUME, "in3", "0.000016387064"), (D::VOLUME, "cu yd", "0.764554857984"), (D::VOLUME, "L", "0.001"),
    (D::VOLUME, "mL", "0.000001"), (D::VOLUME, "m3", "1"), (D::VOLUME, "dm3", "0.001"), (D::VOLUME, "cm3", "0.000001"),
    (D::MASS, "lb", "0.45359237"), (D::MASS, "oz wt", "0.028349523125"), (D::MASS, "kg", "1"), (D::MASS, "g", "0.001"),
    (D::TIME, "s", "1"), (D::TIME, "min", "60"), (D::TIME, "h", "3600"), (D::TIME, "days", "86400"),
    (D::TIME, "weeks", "604800"),
    (D::PRESSURE, "in WC", "249.08891"), (D::PRESSURE, "Pa", "1"), (D::PRESSURE, "hPa", "100"),
    (D::PRESSURE, "kPa", "1000"), (D::PRESSURE, "mbar", "100"), (D::PRESSURE, "bar", "100000"),
    (D::PRESSURE, "psi", "0.45359237 * 9.80665 / 0.00064516"), (D::PRESSURE, "in Hg", "3386.388640341"),
    (D::PRESSURE, "mm Hg", "133.322387415"), (D::PRESSURE, "mm WC", "9.80665"), (D::PRESSURE, "ft WC", "2989.06692"),
    (D::PRESSURE, "atm", "101325"),
    (D::FLOW, "cfm", "0.028316846592 / 60"), (D::FLOW, "L/s", "0.001"), (D::FLOW, "m3/h", "1 / 3600"),
    (D::FLOW, "m3/s", "1"), (D::FLOW, "m3/min", "1 / 60"), (D::FLOW, "gpm", "0.003785411784 / 60"),
    (D::FLOW, "gal/h", "0.003785411784 / 3600"), (D::FLOW, "gal/day", "0.003785411784 / 86400"),
    (D::FLOW, "qt/day", "0.000946352946 / 86400"), (D::FLOW, "pt/day", "0.000473176473 / 86400"),
    (D::FLOW, "L/min", "0.001 / 60"), (D::FLOW, "L/h", "0.001 / 3600"), (D::FLOW, "L/day", "0.001 / 86400"),
    (D::SPEED, "fpm", "0.00508"), (D::SPEED, "ft/s", "0.3048"), (D::SPEED, "m/s", "1"), (D::SPEED, "mph", "0.44704"),
    (D::SPEED, "km/h", "1 / 3.6"),
    (D::POWER, "W", "1"), (D::POWER, "kW", "1000"), (D::POWER, "hp", "745.69987158227022"),
    (D::POWER, "Btu/h", "1055.05585262 / 3600"), (D::POWER, "kBtu/h", "1055055.85262 / 3600"),
    (D::POWER, "MMBtu/h", "1055055852.62 / 3600"),
    (D::ENERGY, "kWh", "3600000"), (D::ENERGY, "Wh", "3600"), (D::ENERGY, "J", "1"), (D::ENERGY, "kJ", "1000"),
    (D::ENERGY, "MJ", "1000000"), (D::ENERGY, "Btu", "1055.05585262"), (D::ENERGY, "kBtu", "1055055.85262"),
    (D::ENERGY, "therms", "105505585.262"),
    (D::CURRENT, "A", "1"), (D::CURRENT, "mA", "0.001"), (D::VOLTAGE, "V", "1"), (D::VOLTAGE, "kV", "1000"),
    (D::RESISTANCE, "ohm", "1"), (D::RESISTANCE, "kohm", "1000"),
    (D::TEMPERATURE_DIFFERENCE, "F deg", "5 / 9"), (D::TEMPERATURE_DIFFERENCE, "C deg", "1"),
    (D::INSULATION, "h·ft2·°F/Btu", "0.09290304 * 5 / 9 * 3600 / 1055.05585262"), (D::INSULATION, "m2·K/W", "1"),
    (D::PERMEANCE, "perm", "0.00006479891 / 3600 / 0.09290304 / 3386.388640341"),
    (D::PERMEANCE, "ng/(s m2 Pa)", "0.000000000001"),
    (D::DENSITY, "lb/ft3", "0.45359237 / 0.028316846592"), (D::DENSITY, "kg/m3", "1"),
    (D::CONCENTRATION, "pCi/L", "37"), (D::CONCENTRATION, "Bq/m3", "1"), (D::CONCENTRATION, "kBq/m3", "1000"),
    (D::DECAY_ENERGY, "WL", "0.000020828296242"), (D::DECAY_ENERGY, "mWL", "0.000000020828296242"),
    (D::EXPOSURE, "WL h", "0.0749818664712"), (D::LOUDNESS, "dBA", "1"), (D::ANGLE, "deg", "1"), (D::RATE, "per hour", "1 / 3600"), (D::RATE, "Hz", "1"),
    (D::PRICE_OF_ENERGY, "$/kWh", "1 / 3600000"), (D::PRICE_OF_ENERGY, "cents/kWh", "0.01 / 3600000"),
    (D::ONE, "%", "0.01"), (D::ONE, "in per ft", "1 / 12"), (D::ONE, "mm/m", "0.001"),
];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1000))]

    #[test]
    fn every_unit_agrees_with_plain_rational_arithmetic(
        whole in 0_u32..100_000, fraction in 0_u32..10_000, negative in any::<bool>(),
    ) {
        let sign = if negative { "-" } else { "" };
        let number = format!("{sign}{whole}.{fraction:04}");
        let value = decimal(&number);
        for (dimension, unit, definition) in UNITS {
            let read = Quantity::parse(&format!("{number} {unit}"), *dimension);
            let read = read.map_err(|fault| TestCaseError::fail(format!("{number} {unit}: {fault:?}")))?;
            prop_assert_eq!(exact(&read), as_ratio(&(&value * worked_out(definition))), "{} {}", number, unit);
        }
    }

    #[test]
    fn fractions_and_pairs_agree_with_plain_rational_arithmetic(
        feet in 0_u32..500, inches in 0_u32..12, part in 1_u32..16,
    ) {
        let inch = worked_out("0.0254");
        let sixteenths = BigRational::new((u64::from(feet * 12 + inches) * 16 + u64::from(part)).into(), 16.into());
        let expected = as_ratio(&(sixteenths * inch));
        for text in [
            format!("{feet} ft {inches} {part}/16 in"),
            format!("{feet}'-{inches} {part}/16\""),
            format!("{} {part}/16 in", feet * 12 + inches),
        ] {
            let read = Quantity::parse(&text, D::LENGTH).map_err(|_| TestCaseError::fail(text.clone()))?;
            prop_assert_eq!(exact(&read), expected.clone(), "{}", text);
            let back = Quantity::parse(&read.to_string(), D::LENGTH);
            prop_assert_eq!(back.map(|back| back.number), Ok(read.number));
        }
    }

    #[test]
    fn shown_ranges_hold_the_range_they_show(low in -5000_i64..5000, width in 1_i64..900, den in 1_i64..700) {
        let low = Ratio::new(low.into(), den.into()).unwrap();
        let high = &low + Ratio::new(width.into(), i128::from(den) * 37).unwrap();
        let range = Number::between(low.clone(), high.clone());
        for written in ["10 ft 6 in", "10 ft", "90 mm", "1 in"] {
            let (style, dimension) = style(written);
            let text = show(&range, dimension, &style);
            let ends = text.strip_prefix("between ").and_then(|text| text.split_once(" and "));
            let Some((below, above)) = ends else { return Err(TestCaseError::fail(text)) };
            let below = Quantity::parse(below, D::LENGTH).unwrap().number.low();
            let above = Quantity::parse(above, D::LENGTH).unwrap().number.high();
            prop_assert!(below <= low && high <= above, "{}", text);
            prop_assert!((&low - &below) + (&above - &high) <= &high - &low, "{}", text);
        }
    }

    #[test]
    fn no_text_is_a_surprise(text in "[-0-9 /.,'\"½a-zA-Z°%µ²·]{0,24}") {
        for dimension in [D::LENGTH, D::PRESSURE, D::TEMPERATURE, D::ONE] {
            if let Err(fault) = Quantity::parse(&text, dimension) {
                prop_assert!(text.get(fault.at).is_some());
                prop_assert!(!fault.accepts.is_empty());
            }
        }
        let _ = Size::parse(&text);
        if let Some((_, length)) = Quantity::longest_prefix(&text) {
            prop_assert!(length > 0 && text.get(..length).is_some());
        }
    }
}

#[test]
fn the_table_of_definitions_holds_no_empty_unit() {
    assert!(UNITS.iter().all(|(_, _, definition)| !worked_out(definition).is_zero()));
}
