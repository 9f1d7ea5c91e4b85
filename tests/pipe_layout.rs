//! What runs and suction points come to, held against figures that others print or that were worked out by hand.

use undercroft::base::number::{Dimension, Quantity};
use undercroft::base::value::Value;
use undercroft::facts::Facts;

use super::facts::{ask, known, length, number, ranch, wanting};

const RUNS: &str = "systems.main.runs";
const POINTS: &str = "systems.main.suction_points";
const WHOLE: &str = "systems.main.design_point";

#[test]
fn air_goes_as_fast_as_the_standard_for_existing_homes_prints_it() {
    // ANSI/AARST SGM-SF 2017, revised December 2020, 6.3.8: 1,600 fpm is 35 cfm in 2 in, 80 cfm in 3 in, 140 cfm in
    // 4 in and 315 cfm in 6 in. The figures are rounded: 80 cfm in 3 in is 1,630 fpm.
    for (flow, bore) in [("35 cfm", "2 in"), ("80 cfm", "3 in"), ("140 cfm", "4 in"), ("315 cfm", "6 in")] {
        let design = ranch(
            &[
                (&format!("{RUNS}.crawl_drop.material"), "copper"),
                (&format!("{RUNS}.crawl_drop.inside_diameter"), bore),
                (&format!("{POINTS}.s2.flow"), flow),
            ],
            &[],
        );
        let mut facts = Facts::new(&design);
        let (low, high) = number(ask(&mut facts, "runs", "crawl_drop", "air_speed")).to_f64_bounds();
        let printed = Quantity::parse("1600 fpm", Dimension::SPEED).unwrap().number.to_f64_mid();
        assert!(
            (low / printed - 1.0).abs() < 0.02 && (high / printed - 1.0).abs() < 0.02,
            "{flow} in {bore}"
        );
    }
}

#[test]
fn the_width_inside_is_that_of_the_table_or_lies_between_two_of_its_figures() {
    let of = |schedule: &str| {
        let design = ranch(&[(&format!("{RUNS}.drop.schedule"), schedule)], &[]);
        let mut facts = Facts::new(&design);
        number(ask(&mut facts, "runs", "drop", "bore"))
    };
    // Handbooks print 3.068 in for 3 in of schedule 40 and 2.900 in for schedule 80.
    assert_eq!(of("40"), length("3.068 in"));
    assert_eq!(of("\"80\""), length("2.900 in"));
    // Thinner than schedule 40, and within the 3.500 in of its outside.
    let thin = of("\"20\"");
    assert_eq!((thin.low(), thin.high()), (length("3.068 in").low(), length("3.500 in").high()));
    // A downspout of 3 by 4 in has 12 sq in; a round pipe of 3.909 in has as much: 3.909^2 x 3.1416 / 4 = 12.00.
    let spout = ranch(
        &[
            (&format!("{RUNS}.stack.material"), "downspout"),
            (&format!("{RUNS}.stack.inside_width"), "4 in"),
            (&format!("{RUNS}.stack.inside_depth"), "3 in"),
        ],
        &[],
    );
    let mut facts = Facts::new(&spout);
    let (low, high) = number(ask(&mut facts, "runs", "stack", "bore")).to_f64_bounds();
    assert!((low / 0.0254 - 3.909).abs() < 0.001 && (high / 0.0254 - 3.909).abs() < 0.001);
    let area = Quantity::parse("12 sq in", Dimension::AREA).unwrap().number;
    assert_eq!(number(ask(&mut facts, "runs", "stack", "open_area")), area);
}

#[test]
fn a_run_carries_the_air_of_what_lies_behind_it() {
    let flows = [(&*format!("{POINTS}.s1.flow"), "25 cfm"), (&*format!("{POINTS}.s2.flow"), "15 cfm")];
    let design = ranch(&flows, &[WHOLE]);
    let mut facts = Facts::new(&design);
    let cfm = |text: &str| Quantity::parse(text, Dimension::FLOW).unwrap().number;
    for (run, carries) in [
        ("stack", "40 cfm"),
        ("riser", "40 cfm"),
        ("ceiling", "25 cfm"),
        ("drop", "25 cfm"),
        ("crawl_side", "15 cfm"),
        ("crawl_drop", "15 cfm"),
    ] {
        assert_eq!(number(ask(&mut facts, "runs", run, "flow")), cfm(carries), "{run}");
    }
    // With the flow of one point missing, only its own branch is known no more, and what carries both.
    let design = ranch(&flows[..1], &[WHOLE]);
    let mut facts = Facts::new(&design);
    assert_eq!(number(ask(&mut facts, "runs", "drop", "flow")), cfm("25 cfm"));
    assert_eq!(
        wanting(ask(&mut facts, "runs", "crawl_drop", "flow")),
        ["systems.main.suction_points.s2.flow"]
    );
    assert_eq!(wanting(ask(&mut facts, "runs", "riser", "flow")), ["systems.main.design_point.flow"]);
}

#[test]
fn water_drops_to_the_soil_on_both_sides_of_the_fan() {
    let design = ranch(&[], &[]);
    let mut facts = Facts::new(&design);
    for run in ["stack", "riser", "drop", "crawl_drop"] {
        assert_eq!(known(ask(&mut facts, "runs", run, "drops_to_soil")), Value::Truth(true), "{run}");
    }
}

#[test]
fn suction_points_lie_as_far_from_edge_and_from_each_other_as_by_hand() {
    let design = ranch(
        &[
            ("foundation.areas.basement.corner", "[0 ft, 0 ft]"),
            (&format!("{RUNS}.drop.to"), "s9"),
            (&format!("{POINTS}.s9"), "{kind: slab, in: crawl}"),
            (&format!("{POINTS}.s1"), "{kind: slab, in: basement, at: [4 ft, 10 ft, 0 ft]}"),
            (&format!("{POINTS}.s3"), "{kind: slab, in: basement, at: [34 ft, 10 ft, 0 ft]}"),
            (&format!("{POINTS}.s4"), "{kind: slab, in: basement, at: [19 ft, 18 ft, 0 ft]}"),
        ],
        &[],
    );
    let mut facts = Facts::new(&design);
    // The basement reaches from (0, 0) to (40, 24) ft.
    for (point, from_edge) in [("s1", "4 ft"), ("s3", "6 ft"), ("s4", "6 ft")] {
        assert_eq!(
            number(ask(&mut facts, "suction_points", point, "from_edge")),
            length(from_edge),
            "{point}"
        );
    }
    // From either of the two below, 15 ft along and 8 ft up lead to the third: 17 ft, and 30 ft from one to the other.
    assert_eq!(number(ask(&mut facts, "areas", "basement", "longest_link")), length("17 ft"));
}

#[test]
fn what_joins_areas_is_followed_from_one_to_the_next() {
    let shop = "{kind: slab, in: den, size: 10 ft x 10 ft, joined_with: porch}";
    let porch = "{kind: slab, in: den, size: 10 ft x 10 ft, joined_with: basement}";
    let joined = ranch(
        &[
            ("foundation.areas.shop", shop),
            ("foundation.areas.porch", porch),
            ("foundation.areas.basement.joined_with", "none"),
            ("foundation.areas.crawl.joined_with", "none"),
        ],
        &[],
    );
    let mut facts = Facts::new(&joined);
    assert_eq!(known(ask(&mut facts, "areas", "shop", "drawn_on")), Value::Truth(true));
    let apart = ranch(
        &[
            ("foundation.areas.shop", shop),
            ("foundation.areas.porch", &porch.replace("basement", "none")),
            ("foundation.areas.basement.joined_with", "none"),
            ("foundation.areas.crawl.joined_with", "none"),
        ],
        &[],
    );
    let mut facts = Facts::new(&apart);
    assert_eq!(known(ask(&mut facts, "areas", "shop", "drawn_on")), Value::Truth(false));
}

#[test]
fn what_the_system_moves_and_what_its_points_draw_are_held_against_each_other() {
    let flows = |whole: &str| {
        let design = ranch(
            &[
                (&format!("{POINTS}.s1.flow"), "25 cfm"),
                (&format!("{POINTS}.s2.flow"), "15 cfm"),
                (WHOLE, &format!("{{flow: {whole}}}")),
            ],
            &[],
        );
        let mut facts = Facts::new(&design);
        number(ask(&mut facts, "runs", "riser", "flow"))
    };
    let cfm = |text: &str| Quantity::parse(text, Dimension::FLOW).unwrap().number;
    assert_eq!(flows("40 cfm"), cfm("40 cfm"));
    // 25 and 15 are 40; that the fan moves 46 leaves the stretch between the two.
    let between = flows("46 cfm");
    assert_eq!((between.low(), between.high()), (cfm("40 cfm").low(), cfm("46 cfm").high()));
}
