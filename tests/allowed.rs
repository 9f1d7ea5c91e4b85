//! The region in which a discharge may stand, worked out by hand from the corners of a window and the limits of a book,
//! and judged anew at places in it.

use undercroft::base::number::Ratio;
use undercroft::base::vocabulary::Thing;
use undercroft::facts::Facts;
use undercroft::facts::handles::{Shift, discharge};
use undercroft::facts::kinds::Kind;
use undercroft::review::placing::{NoRegion, Patch, Plane, Region, region};
use undercroft::review::{DESIGN, Library, Review};
use undercroft::yaml::scan;
use undercroft::yaml::splice::lay_over;

use super::placing::{HOUSE, aside, not_met, reviewed, written};

fn inches(count: i64) -> Ratio {
    &Ratio::new(254, 10_000).unwrap() * &Ratio::from(count)
}

/// A length in inches.
fn as_inches(metres: &Ratio) -> f64 {
    metres.to_f64() / 0.0254
}

/// From 20 ft west to 20 ft east of the origin, up to 20 ft.
fn window() -> Patch {
    Patch { along: (inches(-240), inches(240)), up: (inches(0), inches(240)) }
}

fn outlet(review: &Review<'_>) -> Thing {
    Facts::new(&review.design).things().all(Kind::Discharge)[0]
}

fn of(library: &Library, text: &str) -> Result<Region, NoRegion> {
    let review = reviewed(library, text);
    assert_eq!(review.problems, [], "the house is written down in order");
    region(&review, outlet(&review), Plane::EastWest, &window(), &[])
}

#[test]
fn before_a_window_the_region_ends_where_hand_arithmetic_ends_it() {
    // The window reaches from 24 in. west to 24 in. east and from 108 in. to 156 in. up, 12 in. behind the plane of the
    // pipe, whose rim is 2 1/4 in. round its middle. The rule asks for 120 in. from it or an end 24 in. above its head, and for an end
    // 120 in. above the ground; the edge of the roof is as high, and the end has to be above it. So from 180 in. upward every place will
    // do. Below that the middle stands at least sqrt(122.25^2 - 12^2 - d^2) in. beside the jamb, d above the head: 121.66 in. as long as
    // it is no higher than the head, 119.27 in. just below 180 in.
    let library = Library::with(&[]);
    let found = of(&library, HOUSE).unwrap();
    assert_eq!(found.open, []);
    let step = as_inches(&found.step);
    assert!((step - 6.0).abs() < 1e-9);
    let rows = found.rows(usize::MAX);
    let lowest = as_inches(&rows[0].up.0);
    assert!((lowest - 126.0).abs() < 1e-9, "one square above the edge: {lowest}");
    let (mut beside, mut above) = (0, 0);
    for row in &rows {
        let (from, to) = (as_inches(&row.up.0), as_inches(&row.up.1));
        let ends: Vec<(f64, f64)> = row.along.iter().map(|(a, b)| (as_inches(a), as_inches(b))).collect();
        if from >= 180.0 - 1e-6 {
            assert!(
                matches!(ends[..], [(a, b)] if (a + 240.0).abs() < 1e-6 && (b - 240.0).abs() < 1e-6),
                "{ends:?}"
            );
            above += 1;
            continue;
        }
        assert!(to <= 180.0 + 1e-6, "{from} {to}");
        let over = (from - 156.0_f64).max(0.0);
        let least = 24.0 + (122.25_f64.powi(2) - 12.0_f64.powi(2) - over.powi(2)).sqrt();
        let [(_, west), (east, _)] = ends[..] else { panic!("{ends:?}") };
        for end in [-west, east] {
            assert!(end >= least && end <= least + step, "at {from} in.: {end} and not {least}");
        }
        beside += 1;
    }
    // Both ends of the stretch beside the window come to the same square.
    assert_eq!((beside, above), (1, 1), "{rows:?}");
    // The pipe as drawn ends before the window, at 132 in.
    assert!(!found.holds(&found.now.0, &found.now.1));
    let review = reviewed(&library, HOUSE);
    let named = |bound: &undercroft::review::placing::Bound| {
        let rule = &review.used[bound.asked.book].book.rules[bound.asked.rule].name;
        (rule.clone(), as_inches(&bound.up.0).round() as i64, as_inches(&bound.up.1).round() as i64)
    };
    let bounds: Vec<_> = found.bounds.iter().map(named).collect();
    let window = bounds.iter().find(|(rule, ..)| rule == "discharge-clear-of-openings").unwrap();
    assert_eq!((window.1, window.2), (126, 180), "{bounds:?}");
    assert!(
        bounds.iter().any(|(rule, low, _)| rule == "discharge-above-roof-edge" && *low == 126),
        "{bounds:?}"
    );
}

/// The design with its discharge put elsewhere, as a person would write it.
fn moved(text: &str, by: &Shift) -> Option<String> {
    let (tree, _) = scan::read(DESIGN, text);
    Some(written(text, &discharge(&tree, "main", by).ok()?))
}

#[test]
fn whatever_place_in_the_region_is_judged_anew_everything_asked_is_met() {
    // By corners alone, by two books, and with a window of which only the tape is known.
    let library = Library::with(&[]);
    let books = "{pennsylvania-2019: adopted, epa-1994: by contract}";
    let taped = "{kind: window, opens: yes, into: bedroom, from_discharge: {away: 15 ft, top_below: -2 ft}}";
    let designs = [
        aside(),
        lay_over(&aside(), &[("job.rulebooks", books), ("building.roof.edge", "12 ft")], &[]).unwrap(),
        lay_over(&aside(), &[("building.openings.other", taped)], &[]).unwrap(),
    ];
    for text in designs {
        let found = of(&library, &text).unwrap();
        assert!(!found.met.is_empty(), "{text}");
        let mut judged = 0;
        for one in found.met.iter().step_by(found.met.len() / 9 + 1) {
            // Each corner and the middle.
            let middle = |(low, high): &(Ratio, Ratio)| (low + high).half();
            let places = [
                (one.along.0.clone(), one.up.0.clone()),
                (one.along.1.clone(), one.up.1.clone()),
                (middle(&one.along), middle(&one.up)),
            ];
            for (along, up) in places {
                let by = Shift { east: &along - &found.now.0, up: &up - &found.now.1, north: Ratio::zero() };
                // The run along the wall cannot be shorter than nothing.
                let Some(new) = moved(&text, &by) else { continue };
                assert_eq!(not_met(&library, &new), [""; 0], "{along:?} {up:?}\n{new}");
                judged += 1;
            }
        }
        assert!(judged > 6, "{judged}");
    }
}

#[test]
fn a_place_of_which_it_cannot_be_told_is_not_allowed_and_what_is_missing_is_named() {
    let library = Library::with(&[]);
    let text = lay_over(HOUSE, &[], &["building.roof"]).unwrap();
    let found = of(&library, &text).unwrap();
    assert_eq!(found.met, []);
    assert!(!found.open.is_empty());
    assert!(
        found.missing.iter().any(|one| one.entry.as_str() == "building.roof.edge"),
        "{:?}",
        found.missing
    );
    // Without its place there is nothing to begin from.
    let text = lay_over(
        HOUSE,
        &[("systems.main.discharge", "{side: north, direction: up, cap: none}")],
        &["systems.main.runs"],
    )
    .unwrap();
    assert!(matches!(of(&library, &text), Err(NoRegion::NotStated(_))));
}

#[test]
fn the_house_itself_is_no_place_for_an_outlet() {
    let library = Library::with(&[]);
    let review = reviewed(&library, HOUSE);
    let solid = Patch { along: (inches(100), inches(400)), up: (inches(0), inches(200)) };
    let found =
        region(&review, outlet(&review), Plane::EastWest, &window(), std::slice::from_ref(&solid)).unwrap();
    let inside = |one: &Patch| one.along.1 > solid.along.0 && one.up.0 < solid.up.1;
    assert!(!found.met.is_empty());
    assert!(!found.met.iter().any(inside));
}
