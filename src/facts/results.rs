//! Facts of what radon results come to: in both systems of units, against the tests before the work, with a test beside
//! them, and as decay products.

use crate::base::number::quantity::{Style, show};
use crate::base::number::{Dimension, Number};
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::calc::amounts::{Amount, Concentration, Plain};
use crate::calc::radon::{average, reported};
use crate::calc::radon_decay::{decay_products, pair, reduction, usual_equilibrium};
use crate::design::model::tests::{RadonTest, TestOf, TestWhen};

use super::ask::{Ask, as_stated};
use super::catalogue::{Entries, Fact, Get};
use super::kinds::Kind;
use super::radon_tests::test;
use super::test_rooms::same_place;
use super::worked::worked;

/// The result in both systems of units.
fn in_both(ask: &mut Ask<'_>, it: Thing) -> Answer<String> {
    ask.number(it, "result").map(|result| {
        let of = Dimension::CONCENTRATION;
        let (ours, metric) = (Style::default_for(of), Style::metric_for(of));
        format!("{}, {}", show(&result, of, &ours), show(&result, of, &metric))
    })
}

/// # Meaning
/// The radon that was found before the work where a test after it was made.
/// # Formula
/// The average of all tests of air before the work at the same spot, or in the same room where no spot is named.
/// # Valid for
/// Tests of air.
/// # Accuracy
/// Two short tests differ by a quarter on their own.
/// # Source
/// The record of the tests.
/// # Errors
/// Unknown when no test before the work is listed for the place, or one without its result, its room or its occasion.
/// # Example
/// 14 pCi/L and 16 pCi/L in the basement: 15 pCi/L.
fn level_before(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let design = ask.design();
    let want = design.radon_tests.want(&design.here);
    test(ask, it, |ask, own| {
        let mut found = Vec::new();
        for (_, other) in design.radon_tests.things() {
            match ask.read(&other.here, &other.when) {
                Answer::Known { value: Some(TestWhen::Before), .. } => {}
                Answer::Known { .. } => continue,
                Answer::Unknown(missing) => return Answer::Unknown(missing),
            }
            let of_air = ask.read(&other.here, &other.of).value().flatten();
            if of_air.is_some_and(|of| *of != TestOf::Air) {
                continue;
            }
            match same_place(ask, own, other) {
                Answer::Known { value: true, .. } => found.push(ask.quantity(&other.here, &other.result)),
                Answer::Known { .. } => {}
                Answer::Unknown(missing) => return Answer::Unknown(missing),
            }
        }
        Answer::all(found).then(|found| match average(&found) {
            Some(before) => as_stated(before, || want),
            None => ask.cannot(it, "no test before the work was made there"),
        })
    })
}

/// # Meaning
/// By how much the radon fell from before the work to after it, as a share of what it was; below nothing where it rose.
/// # Formula
/// (before - after) / before
/// # Valid for
/// Tests after the work where there was one before it.
/// # Accuracy
/// As the tests: two short ones differ by a quarter on their own.
/// # Source
/// The meaning of a share.
/// # Errors
/// As its inputs.
/// # Example
/// From 12 to 1.5 pCi/L: 87.5 %.
fn reduced_share(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let inputs = [ask.number(it, "level_before"), ask.number(it, "result")];
    worked(ask, it, inputs, |[before, after]| {
        Some(reduction(Concentration::from_number(before)?, Concentration::from_number(after)?))
    })
}

/// The result of a test and that of the one that stood beside it.
fn both_beside(ask: &mut Ask<'_>, it: Thing) -> Answer<(Number, Number)> {
    let own = ask.number(it, "result");
    let design = ask.design();
    let other = test(ask, it, |ask, test| {
        let want = test.beside.want(&test.here);
        ask.value(&test.here, &test.beside).then(|name| {
            let named = |(own, _): &(&str, &RadonTest)| *own == name.as_str();
            match design.radon_tests.things().find(named) {
                Some((_, other)) => ask.quantity(&other.here, &other.result),
                None => Answer::missing(Missing { reason: Reason::Unreadable, ..want }),
            }
        })
    });
    own.both(other)
}

fn mean_beside(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    both_beside(ask, it).then(|(own, other)| match average(&[own, other]) {
        Some(mean) => as_stated(reported(&mean), || ask.of_thing(it, Reason::Imprecise)),
        None => ask.cannot(it, "there is nothing to average"),
    })
}

fn apart_share(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let (own, other) = match both_beside(ask, it) {
        Answer::Known { value: (own, other), doubts } => {
            (Answer::Known { value: own, doubts: doubts.clone() }, Answer::Known { value: other, doubts })
        }
        Answer::Unknown(missing) => return Answer::Unknown(missing),
    };
    worked(ask, it, [own, other], |[own, other]| {
        let two = pair(Concentration::from_number(own)?, Concentration::from_number(other)?);
        Some(two.map(|two| two.apart))
    })
}

/// # Meaning
/// The level of decay products that goes with the result of a test.
/// # Formula
/// As measured; or a hundredth of a working level for each picocurie per litre, times the share of radon that is in
/// equilibrium with its products.
/// # Valid for
/// Tests of air.
/// # Accuracy
/// Where the share was not measured, anything from a tenth to nine tenths.
/// # Source
/// Definition of the working level.
/// # Errors
/// Unknown when the result is.
/// # Example
/// 4 pCi/L and half in equilibrium: 0.02 WL.
fn products(ask: &mut Ask<'_>, it: Thing) -> Answer<Number> {
    let result = ask.number(it, "result");
    test(ask, it, |ask, test| {
        let measured = ask.quantity(&test.here, &test.decay_products);
        if let Answer::Known { .. } = measured {
            return measured;
        }
        let want = test.equilibrium.want(&test.here);
        let share = match ask.quantity(&test.here, &test.equilibrium) {
            Answer::Unknown(_) => {
                ask.assume(
                    "from a tenth to nine tenths of the radon in a room is in equilibrium with its products",
                );
                let [least, greatest] = usual_equilibrium();
                as_stated(least.to_number().hull(&greatest.to_number()), || want)
            }
            stated => stated,
        };
        worked(ask, it, [result, share], |[result, share]| {
            Some(decay_products(Concentration::from_number(result)?, Plain::from_number(share)?))
        })
    })
}

const RESULT: Entries = &["radon_tests.*.result"];
const BEFORE: Entries = &[
    "radon_tests",
    "radon_tests.*.when",
    "radon_tests.*.of",
    "radon_tests.*.spot",
    "radon_tests.*.in",
    "radon_tests.*.result",
];
const BESIDE: Entries = &["radon_tests.*.beside", "radon_tests.*.result"];

/// Facts of what results come to.
pub(super) const RESULTS: &[Fact] = &[
    Fact {
        of: Kind::Test,
        name: "in_both",
        meaning: "The radon that was found, in both systems of units.",
        formula: "37 becquerels per cubic metre for each picocurie per litre",
        source: "definition of the curie",
        needs: &[RESULT],
        get: Get::Text(in_both),
    },
    Fact {
        of: Kind::Test,
        name: "level_before",
        meaning: "The radon that was found before the work where the test was made.",
        formula: "the average of the tests of air before the work at the same spot, or in the same room where no spot is named",
        source: "the record of the tests",
        needs: &[BEFORE],
        get: Get::Number(Dimension::CONCENTRATION, level_before),
    },
    Fact {
        of: Kind::Test,
        name: "reduced_share",
        meaning: "By how much the radon fell from before the work to after it, as a share of what it was; below nothing where it rose.",
        formula: "(before - after) / before",
        source: "the meaning of a share",
        needs: &[BEFORE],
        get: Get::Estimate(Dimension::ONE, reduced_share),
    },
    Fact {
        of: Kind::Test,
        name: "mean_beside",
        meaning: "The average of the test and the one that stood beside it, in the digits in which a report gives it.",
        formula: "half of their sum, to the nearest tenth of a picocurie per litre; a half goes up",
        source: "ANSI/AARST MAH-2019, 8.5.2",
        needs: &[BESIDE],
        get: Get::Number(Dimension::CONCENTRATION, mean_beside),
    },
    Fact {
        of: Kind::Test,
        name: "apart_share",
        meaning: "How far the test and the one that stood beside it are apart, as a share of their average.",
        formula: "|a - b| / ((a + b) / 2)",
        source: "the meaning of a share",
        needs: &[BESIDE],
        get: Get::Estimate(Dimension::ONE, apart_share),
    },
    Fact {
        of: Kind::Test,
        name: "decay_products",
        meaning: "The level of decay products that goes with the radon that was found.",
        formula: "as measured; or a hundredth of a working level for each picocurie per litre, times the share that is in equilibrium",
        source: "definition of the working level",
        needs: &[RESULT, &["radon_tests.*.decay_products", "radon_tests.*.equilibrium"]],
        get: Get::Estimate(Dimension::DECAY_ENERGY, products),
    },
];
