//! The field of a ground made by hand.

use super::*;
use crate::base::number::Ratio;
use crate::base::text::{Source, SourceId};
use crate::calc::amounts::{Leakage, Transmissivity};
use crate::facts::kinds::Kind;
use crate::facts::things::thing;

const BARE: Beside = Beside { footings: false, slits: false, walls: true };

fn at(x: f64, y: f64) -> PlanPoint {
    PlanPoint::new(Ratio::from_f64(x).unwrap(), Ratio::from_f64(y).unwrap())
}

fn layer(reach: f64) -> Layer {
    let along = 1e-5;
    Layer {
        transmissivity: Transmissivity::from_si(along).unwrap(),
        leakage: Leakage::from_si(along / (reach * reach)).unwrap(),
    }
}

/// A floor with a side of these lengths and pits of 0.2 m at these places.
fn ground(sides: (i64, i64), pits: &[(f64, f64)]) -> Ground {
    let nought = Ratio::from(0);
    let corner = PlanPoint::new(nought.clone(), nought);
    let outline = Outline::rectangle(&corner, &Ratio::from(sides.0), &Ratio::from(sides.1)).unwrap();
    let radius = Length::from_si(0.2).unwrap();
    let draws = pits.iter().zip(0..).map(|((x, y), number)| Draw {
        point: thing(Kind::SuctionPoint, number),
        pit: Some((at(*x, *y), radius)),
        drains: Vec::new(),
        cores: None,
    });
    let any = layer(3.0);
    Ground {
        outline,
        holes: Vec::new(),
        barriers: Vec::new(),
        doubtful: Vec::new(),
        draws: draws.collect(),
        slits: Vec::new(),
        layers: Ends { near: any, far: any, least: any, most: any },
        tested: false,
    }
}

fn field(ground: &Ground, reach: f64, suctions: &[f64]) -> Field {
    let held: Vec<Pressure> = suctions.iter().map(|it| Pressure::from_si(*it).unwrap()).collect();
    let step = step_of(&ground.outline, &ground.holes).unwrap();
    work_out(&ground.fill(layer(reach), BARE, &held), step).unwrap()
}

fn there(field: &Field, x: f64, y: f64) -> f64 {
    field.suction(&at(x, y)).unwrap().to_si()
}

#[test]
fn a_square_with_its_pit_in_the_middle_has_four_corners_alike() {
    let square = ground((8, 8), &[(4.0, 4.0)]);
    let field = field(&square, 4.0, &[100.0]);
    let corners = [(0.01, 0.01), (7.99, 0.01), (0.01, 7.99), (7.99, 7.99)];
    let read: Vec<f64> = corners.iter().map(|(x, y)| there(&field, *x, *y)).collect();
    assert!(read.iter().all(|it| (it / read[0] - 1.0).abs() < 1e-6), "{read:?}");
    let weakest = field.weakest().unwrap().suction.to_si();
    assert!(
        (weakest / read[0] - 1.0).abs() < 0.01,
        "the corners are the weakest places: {weakest}, {read:?}"
    );
    // all that is drawn has leaked in: c x 64 m2 x the mean
    let drawn = field.flows()[0].to_si();
    let leaked = 1e-5 / 16.0 * 64.0 * field.mean().to_si();
    assert!((drawn / leaked - 1.0).abs() < 0.01, "{drawn} drawn, {leaked} leaked in");
}

#[test]
fn fields_add_up() {
    let two = ground((10, 6), &[(2.0, 2.0), (8.0, 4.0)]);
    let (one, other) = (field(&two, 5.0, &[100.0, 0.0]), field(&two, 5.0, &[0.0, 60.0]));
    let both = field(&two, 5.0, &[100.0, 60.0]);
    for (x, y) in [(5.0, 3.0), (0.5, 5.5), (9.0, 1.0), (3.0, 2.0)] {
        let sum = there(&one, x, y) + there(&other, x, y);
        assert!((there(&both, x, y) / sum - 1.0).abs() < 1e-6, "at {x}, {y}");
    }
}

#[test]
fn more_reach_and_more_suction_never_mean_less_anywhere() {
    let two = ground((10, 6), &[(2.0, 2.0), (8.0, 4.0)]);
    let few = field(&two, 2.0, &[100.0, 50.0]);
    for more in [field(&two, 3.0, &[100.0, 50.0]), field(&two, 2.0, &[100.0, 60.0])] {
        for (x, y) in [(5.0, 3.0), (0.5, 5.5), (9.0, 1.0), (3.0, 2.0), (9.5, 0.5)] {
            assert!(there(&more, x, y) > there(&few, x, y), "at {x}, {y}");
        }
    }
}

#[test]
fn a_finer_grid_changes_little() {
    for (pit, reach) in [((5.0, 3.0), 1.0), ((5.0, 3.0), 100.0), ((1.0, 1.0), 3.0), ((9.3, 3.1), 10.0)] {
        let floor = ground((10, 6), &[pit]);
        let coarse = field(&floor, reach, &[100.0]);
        let held = [Pressure::from_si(100.0).unwrap()];
        let fine = Length::from_si(step_of(&floor.outline, &[]).unwrap().to_si() / 4.0).unwrap();
        let fine = work_out(&floor.fill(layer(reach), BARE, &held), fine).unwrap();
        for (x, y) in [(0.3, 0.3), (5.0, 1.0), (2.5, 2.5), (8.0, 5.0), (9.7, 5.7)] {
            let off = there(&coarse, x, y) - there(&fine, x, y);
            assert!(off.abs() < 1.0, "pit at {pit:?}, reach {reach}: off by {off} % at {x}, {y}");
        }
        let flow = coarse.flows()[0].to_si() / fine.flows()[0].to_si();
        assert!((flow - 1.0).abs() < 0.02, "pit at {pit:?}, reach {reach}: the air is {flow} times");
    }
}

#[test]
fn a_drain_all_round_holds_a_floor_better_than_a_pit_and_gives_all_its_air() {
    let mut floor = ground((8, 8), &[(4.0, 4.0)]);
    let pit = field(&floor, 2.0, &[100.0]).weakest().unwrap().suction.to_si();
    let drains = floor.outline.sides().map(|(from, to)| (from.clone(), to.clone())).collect();
    floor.draws = vec![Draw { point: thing(Kind::SuctionPoint, 0), pit: None, drains, cores: None }];
    let field = field(&floor, 2.0, &[100.0]);
    assert!(field.weakest().unwrap().suction.to_si() > 2.0 * pit);
    let drawn = floor.drawn(&field, BARE)[0];
    let leaked = 1e-5 / 4.0 * 64.0 * field.mean().to_si();
    assert!((drawn / leaked - 1.0).abs() < 0.01, "{drawn} drawn, {leaked} leaked in");
}

#[test]
fn points_by_unit_pulls_hang_together_as_the_field_says() {
    let two = ground((10, 6), &[(2.0, 2.0), (8.0, 4.0)]);
    let source = Source::new("design.yaml", "undercroft: 1\n");
    let (tree, _) = crate::yaml::scan::read(SourceId(0), source.text());
    let design = crate::design::read(&source, &tree).0;
    let ask = Ask::new(&design);
    let Answer::Known { value: by, .. } = two.by(&ask, thing(Kind::Area, 0), layer(5.0), BARE) else {
        panic!("conductances")
    };
    let of_field = field(&two, 5.0, &[1.0, 1.0]).conductances().unwrap();
    for (row, other) in by.iter().flatten().zip(of_field.iter().flatten()) {
        assert!((row.to_si() / other.to_si() - 1.0).abs() < 1e-6, "{by:?} {of_field:?}");
    }
}

#[test]
fn a_wall_under_suction_draws_through_its_faces_and_along_the_fill_and_takes_nothing_from_the_rest() {
    let mut floor = ground((8, 8), &[(4.0, 4.0)]);
    let alone = floor.clone();
    let [least, most] = [1e-4, 1e-2].map(|by| Conductance::from_si(by).unwrap());
    floor.draws.push(Draw {
        point: thing(Kind::SuctionPoint, 1),
        pit: None,
        drains: vec![(at(8.0, 8.0), at(0.0, 8.0))],
        cores: Some(Cores { least, most }),
    });
    let source = Source::new("design.yaml", "undercroft: 1\n");
    let (tree, _) = crate::yaml::scan::read(SourceId(0), source.text());
    let design = crate::design::read(&source, &tree).0;
    let ask = Ask::new(&design);
    let by = |of: &Ground, walls: bool| {
        let beside = Beside { walls, ..BARE };
        of.by(&ask, thing(Kind::Area, 0), layer(5.0), beside).value().unwrap()
    };
    // Where nothing passes between wall and fill, the pit draws what it draws without the wall, and the wall through its faces alone.
    let (apart, without) = (floor.with_cores(by(&floor, false), |cores| cores.least), by(&alone, true));
    assert!((apart[0][0].to_si() / without[0][0].to_si() - 1.0).abs() < 1e-9);
    assert!((apart[1][1].to_si() - 1e-4).abs() < 1e-12 && apart[0][1].to_si() < 1e-15);
    // Where gas passes, each takes some from the other, and the wall some from the room by way of the fill.
    let joined = floor.with_cores(by(&floor, true), |cores| cores.most);
    assert!(joined[1][1].to_si() > 1e-2 && joined[0][1].to_si() > 1e-7);
    assert!(joined[0][0].to_si() < without[0][0].to_si());
    // Suction under the floor: more with the wall pulling too, less with the wall open to the room.
    let there = |suctions: &[f64], walls: bool| {
        let held: Vec<Pressure> = suctions.iter().map(|it| Pressure::from_si(*it).unwrap()).collect();
        let fill = floor.fill(layer(5.0), Beside { walls, ..BARE }, &held);
        work_out(&fill, step_of(&floor.outline, &[]).unwrap())
            .unwrap()
            .suction(&at(1.0, 7.0))
            .unwrap()
            .to_si()
    };
    let plain = there(&[100.0, 0.0], false);
    assert!(there(&[100.0, 100.0], true) > 1.2 * plain && there(&[100.0, 0.0], true) < 0.8 * plain);
}
