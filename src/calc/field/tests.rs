//! The field held against what can be written down, and how fast it comes nearer as cells get smaller.

use super::*;
use crate::base::number::Ratio;
use crate::calc::amounts::{Amount, Leakage, Made, Transmissivity};
use crate::calc::soil::bessel::{i0_si, i1_si, k0_si, k1_si};

const ALONG: f64 = 5e-5;

fn layer(lambda: f64) -> Layer {
    Layer { transmissivity: Transmissivity::new(ALONG), leakage: Leakage::new(ALONG / (lambda * lambda)) }
}

fn at(x: f64, y: f64) -> PlanPoint {
    PlanPoint::new(Ratio::from_f64(x).unwrap(), Ratio::from_f64(y).unwrap())
}

fn bounded(corners: &[(f64, f64)], lambda: f64, pits: Vec<Pit>) -> Fill {
    let outline = Outline::new(corners.iter().map(|(x, y)| at(*x, *y)).collect()).unwrap();
    Fill { outline, holes: vec![], barriers: vec![], layer: layer(lambda), lines: vec![], pits }
}

fn rectangle(wide: f64, deep: f64, lambda: f64, pits: Vec<Pit>) -> Fill {
    bounded(&[(0.0, 0.0), (wide, 0.0), (wide, deep), (0.0, deep)], lambda, pits)
}

fn drawing(x: f64, y: f64, flow: f64) -> Pit {
    Pit { at: at(x, y), radius: Length::new(0.1), pull: Pull::Flow(Flow::new(flow)) }
}

fn held(x: f64, y: f64, suction: f64) -> Pit {
    Pit { at: at(x, y), radius: Length::new(0.1), pull: Pull::Suction(Pressure::new(suction)) }
}

/// The suction in a sealed rectangle: the pit and its images behind all four sides.
fn by_images(wide: f64, deep: f64, lambda: f64, pit: (f64, f64), flow: f64, spot: (f64, f64)) -> f64 {
    let mut sum = 0.0;
    for m in -12..=12 {
        for n in -12..=12 {
            for (sx, sy) in [(1.0, 1.0), (-1.0, 1.0), (1.0, -1.0), (-1.0, -1.0)] {
                let x = sx * pit.0 + 2.0 * f64::from(m) * wide;
                let y = sy * pit.1 + 2.0 * f64::from(n) * deep;
                sum += k0_si((x - spot.0).hypot(y - spot.1).max(0.1) / lambda);
            }
        }
    }
    flow * sum / (2.0 * std::f64::consts::PI * ALONG)
}

/// Tells how fast the worst error falls; shown with `cargo test --lib calc::field -- --nocapture`.
fn tell(what: &str, errors: &[(f64, f64)]) {
    let steps: Vec<String> = errors.iter().map(|(step, off)| format!("{off:.2e} Pa at {step} m")).collect();
    let shown: Vec<String> = orders(errors).iter().map(|order| format!("{order:.2}")).collect();
    println!("{what}: {}; order {}", steps.join(", "), shown.join(" and "));
}

/// The order by which errors fall from each step to the next.
fn orders(errors: &[(f64, f64)]) -> Vec<f64> {
    errors.windows(2).map(|pair| (pair[0].1 / pair[1].1).ln() / (pair[0].0 / pair[1].0).ln()).collect()
}

fn worst(area: &Fill, step: f64, spots: &[(f64, f64)], truth: impl Fn((f64, f64)) -> f64) -> f64 {
    let field = work_out(area, Length::new(step)).unwrap();
    let off = |spot: &(f64, f64)| (field.suction(&at(spot.0, spot.1)).unwrap().to_si() - truth(*spot)).abs();
    spots.iter().map(off).fold(0.0, f64::max)
}

const SPOTS: [(f64, f64); 6] = [(0.3, 0.2), (7.6, 0.5), (11.7, 7.8), (0.2, 7.7), (6.1, 4.3), (4.4, 2.6)];

#[test]
fn a_sealed_rectangle_is_met_with_second_order() {
    let (wide, deep, lambda, pit, flow) = (12.0, 8.0, 3.0, (4.1, 2.3), 1e-3);
    let area = rectangle(wide, deep, lambda, vec![drawing(pit.0, pit.1, flow)]);
    let truth = |spot| by_images(wide, deep, lambda, pit, flow, spot);
    let errors: Vec<(f64, f64)> =
        [1.0, 0.5, 0.25].iter().map(|step| (*step, worst(&area, *step, &SPOTS, truth))).collect();
    tell("a sealed rectangle, by its images", &errors);
    let orders = orders(&errors);
    assert!(orders.iter().all(|order| *order > 1.6), "{errors:?} {orders:?}");
    // at a quarter of a metre within a thousandth of the suction in the pit
    assert!(errors[2].1 < 1e-3 * truth(pit), "{errors:?}");
}

#[test]
fn a_rectangle_that_stands_aslant_is_met_nearly_as_well() {
    let (wide, deep, lambda, pit, flow) = (12.0, 8.0, 3.0, (4.1, 2.3), 1e-3);
    // turned by the angle of a 3-4-5 triangle
    let turned = |(x, y): (f64, f64)| (0.8 * x - 0.6 * y, 0.6 * x + 0.8 * y);
    let corners = [(0.0, 0.0), (wide, 0.0), (wide, deep), (0.0, deep)].map(turned);
    let (x, y) = turned(pit);
    let area = bounded(&corners, lambda, vec![drawing(x, y, flow)]);
    let error = |step: f64| {
        let field = work_out(&area, Length::new(step)).unwrap();
        let off = SPOTS.iter().map(|spot| {
            let (x, y) = turned(*spot);
            (field.suction(&at(x, y)).unwrap().to_si() - by_images(wide, deep, lambda, pit, flow, *spot))
                .abs()
        });
        off.fold(0.0, f64::max)
    };
    let errors: Vec<(f64, f64)> = [1.0, 0.5, 0.25].iter().map(|step| (*step, error(*step))).collect();
    tell("the same rectangle aslant", &errors);
    let overall = (errors[0].1 / errors[2].1).ln() / 4.0_f64.ln();
    assert!(overall > 1.3, "{errors:?} {overall}");
}

#[test]
fn a_round_slab_is_met_as_bessel_functions_say() {
    // 48 corners on a circle of just as much area as one of 6 m
    let (radius, lambda, flow, count) = (6.0, 4.0, 1e-3, 48);
    let turn = 2.0 * std::f64::consts::PI / f64::from(count);
    let corner = radius * (turn / turn.sin()).sqrt();
    let corners: Vec<(f64, f64)> = (0..count)
        .map(|n| (corner * (turn * f64::from(n)).cos(), corner * (turn * f64::from(n)).sin()))
        .collect();
    let area = bounded(&corners, lambda, vec![drawing(0.0, 0.0, flow)]);
    let edge = radius / lambda;
    let truth = |(x, y): (f64, f64)| {
        let r = f64::hypot(x, y) / lambda;
        let b = k1_si(edge) / i1_si(edge);
        flow * (k0_si(r) + b * i0_si(r)) / (2.0 * std::f64::consts::PI * ALONG)
    };
    let spots = [(1.0, 0.7), (3.0, 0.2), (-2.1, 2.6), (0.1, -5.0), (4.2, -3.0)];
    let errors: Vec<(f64, f64)> =
        [1.0, 0.5, 0.25].iter().map(|step| (*step, worst(&area, *step, &spots, truth))).collect();
    tell("a round slab, by Bessel functions", &errors);
    assert!(errors[2].1 < 2e-3 * truth((0.1, 0.0)), "{errors:?}");
    let overall = (errors[0].1 / errors[2].1).ln() / 4.0_f64.ln();
    assert!(overall > 1.3, "{errors:?} {overall}");
}

#[test]
fn two_pits_in_a_wide_slab_draw_what_superposition_says() {
    // 80 m wide with a reach of 4 m: the edges are nowhere near
    let pits = vec![held(36.0, 40.0, 100.0), held(44.0, 40.0, 60.0)];
    let area = rectangle(80.0, 80.0, 4.0, pits);
    let field = work_out(&area, Length::new(2.0)).unwrap();
    let pit = |suction| crate::calc::soil::radial::Pit {
        radius: Length::new(0.1),
        suction: Pressure::new(suction),
    };
    let place = |x| (Length::new(x), Length::new(0.0));
    let pits = crate::calc::soil::radial::Pits::new(
        &layer(4.0),
        &[(place(36.0), pit(100.0)), (place(44.0), pit(60.0))],
    );
    for (one, other) in field.flows().iter().zip(pits.unwrap().flows()) {
        assert!((one.to_si() / other.to_si() - 1.0).abs() < 1e-6, "{one:?} {other:?}");
    }
}

#[test]
fn a_drain_along_one_wall_is_met_with_second_order() {
    // one way only: from a drain along the west wall the suction falls as a cosh
    let (wide, lambda, by, pull) = (10.0, 4.0, 2e-5, 50.0);
    let mut area = rectangle(wide, 4.0, lambda, vec![]);
    let line = |x: f64, suction: f64| Line {
        from: at(x, 0.0),
        to: at(x, 4.0),
        by: LineLeakage::new(by),
        suction: Pressure::new(suction),
    };
    area.lines.push(line(0.0, pull));
    let end = pull * by / (by + ALONG / lambda * f64::tanh(wide / lambda));
    let truth = |(x, _): (f64, f64)| end * ((wide - x) / lambda).cosh() / (wide / lambda).cosh();
    let spots = [(0.4, 1.0), (3.3, 2.0), (9.6, 3.5)];
    let errors: Vec<(f64, f64)> =
        [1.0, 0.5, 0.25].iter().map(|step| (*step, worst(&area, *step, &spots, truth))).collect();
    tell("a drain along one wall, by its cosh", &errors);
    let overall = (errors[0].1 / errors[2].1).ln() / 4.0_f64.ln();
    assert!(overall > 1.8, "{errors:?} {overall}");
}

#[test]
fn all_that_is_drawn_leaks_in_somewhere() {
    let mut area = bounded(
        &[(0.0, 0.0), (12.0, 0.0), (12.0, 5.0), (7.5, 8.0), (0.0, 8.0)],
        5.0,
        vec![held(2.0, 2.0, 80.0), held(10.0, 3.0, 40.0)],
    );
    let hole = [(5.0, 3.0), (6.0, 3.0), (6.0, 4.0), (5.0, 4.0)];
    area.holes.push(Outline::new(hole.iter().map(|(x, y)| at(*x, *y)).collect()).unwrap());
    let field = work_out(&area, Length::new(0.25)).unwrap();
    let drawn: f64 = field.flows().iter().map(|flow| flow.to_si()).sum();
    let fill = 96.0 - 0.5 * 4.5 * 3.0 - 1.0;
    let leaks = field.mean().to_si() * area.layer.leakage.to_si() * fill;
    assert!((drawn / leaks - 1.0).abs() < 0.01, "{drawn} {leaks}");
    assert_eq!(field.suction(&at(5.5, 3.5)), None);
    assert_eq!(field.suction(&at(-1.0, 3.5)), None);
    assert!(field.left_over.to_si() < 1e-9);
}

#[test]
fn a_footing_right_across_makes_two_rooms() {
    let pit = (2.0, 3.0);
    let mut area = rectangle(12.0, 8.0, 3.0, vec![drawing(pit.0, pit.1, 1e-3)]);
    area.barriers.push((at(6.0, 0.0), at(6.0, 8.0)));
    let field = work_out(&area, Length::new(0.5)).unwrap();
    let truth = |spot| by_images(6.0, 8.0, 3.0, pit, 1e-3, spot);
    for spot in [(0.5, 0.5), (5.7, 7.5), (4.0, 4.0)] {
        let found = field.suction(&at(spot.0, spot.1)).unwrap().to_si();
        assert!((found / truth(spot) - 1.0).abs() < 0.02, "{spot:?} {found} {}", truth(spot));
    }
    let beyond = field.suction(&at(8.0, 4.0)).unwrap().to_si();
    assert!(beyond.abs() < 0.01 * truth((5.9, 4.0)), "{beyond}");
    // with a gap in the footing something gets through
    area.barriers = vec![(at(6.0, 0.0), at(6.0, 6.5))];
    let gap = work_out(&area, Length::new(0.5)).unwrap().suction(&at(8.0, 4.0)).unwrap().to_si();
    assert!(gap > 20.0 * beyond.abs(), "{gap} {beyond}");
}

#[test]
fn the_weakest_place_is_the_far_corner_and_less_area_is_held_further() {
    let area = rectangle(12.0, 8.0, 3.0, vec![held(2.0, 2.0, 50.0)]);
    let field = work_out(&area, Length::new(0.5)).unwrap();
    let weakest = field.weakest().unwrap();
    assert_eq!(weakest.at, at(12.0, 8.0));
    let share = |pa: f64| field.share_beyond(Pressure::new(pa)).to_si();
    assert!((share(weakest.suction.to_si() * 0.9) - 1.0).abs() < 1e-12);
    assert!(share(5.0) < share(2.0) && share(49.0) < 0.01);
}

#[test]
fn a_network_joins_pits_as_the_ground_does() {
    let area = rectangle(12.0, 8.0, 5.0, vec![held(3.0, 4.0, 80.0), held(9.0, 4.0, 40.0)]);
    let field = work_out(&area, Length::new(0.5)).unwrap();
    let by = field.conductances().unwrap();
    let pull = [80.0, 40.0];
    for i in 0..2 {
        let to_room = by[i][i].to_si() * pull[i];
        let to_other = by[i][1 - i].to_si() * (pull[i] - pull[1 - i]);
        let flow = field.flows()[i].to_si();
        assert!(((to_room + to_other) / flow - 1.0).abs() < 1e-3, "{i}");
        assert!(by[i][1 - i].to_si() > 0.0);
    }
}

#[test]
fn what_cannot_be_worked_out_says_why() {
    let outside = rectangle(12.0, 8.0, 3.0, vec![held(13.0, 2.0, 50.0)]);
    assert_eq!(work_out(&outside, Length::new(0.5)), Err(NoField::PitOutside(0)));
    let touching = rectangle(12.0, 8.0, 3.0, vec![held(3.0, 2.0, 50.0), held(3.1, 2.0, 50.0)]);
    assert_eq!(work_out(&touching, Length::new(0.5)), Err(NoField::PitsTouch(0, 1)));
    let fine = rectangle(200.0, 200.0, 3.0, vec![held(3.0, 2.0, 50.0)]);
    assert!(
        matches!(work_out(&fine, Length::new(0.05)), Err(NoField::OutOfRange(error)) if error.what.contains("cells"))
    );
}

#[test]
fn the_same_area_gives_the_same_bits() {
    let area = rectangle(12.0, 8.0, 3.0, vec![held(3.0, 2.0, 50.0), held(9.0, 5.0, 20.0)]);
    let once = work_out(&area, Length::new(0.5)).unwrap();
    assert_eq!(once, work_out(&area, Length::new(0.5)).unwrap());
}

#[test]
fn a_communication_test_gives_the_layer_back() {
    let mut fill = rectangle(12.0, 8.0, 4.0, vec![held(3.0, 3.0, 1_000.0)]);
    let field = work_out(&fill, Length::new(1.0)).unwrap();
    let read = |x: f64, y: f64| Reading { at: at(x, y), suction: field.suction(&at(x, y)).unwrap() };
    let readings = [read(5.0, 3.0), read(8.0, 5.0), read(11.0, 7.0)];
    let drawn = Flow::new(3.0 * field.flows()[0].to_si());
    // started from a layer that is quite another
    fill.layer = layer(20.0);
    let found = fitted(&fill, &readings, Some(drawn), Length::new(1.0)).unwrap();
    assert!((found.reach.to_si() - 4.0).abs() < 1e-3, "{:?}", found.reach);
    assert!((found.fill.layer.transmissivity.to_si() / (3.0 * ALONG) - 1.0).abs() < 1e-3);
    assert!(found.stray_share.to_si() < 1e-4);
    // a reading that does not fit is told
    let mut odd = readings.to_vec();
    odd[1].suction = Pressure::new(odd[1].suction.to_si() * 1.5);
    let strays = fitted(&fill, &odd, None, Length::new(1.0)).unwrap();
    assert!(strays.stray_share.to_si() > 0.05);
    let none = Reading { at: at(5.0, 3.0), suction: Pressure::new(0.0) };
    assert_eq!(fitted(&fill, &[none], None, Length::new(1.0)), Err(NoFit::NothingRead));
    let all = Reading { at: at(5.0, 3.0), suction: Pressure::new(999.9) };
    assert_eq!(fitted(&fill, &[all], None, Length::new(1.0)), Err(NoFit::BeyondRange));
    let off = Reading { at: at(13.0, 3.0), suction: Pressure::new(5.0) };
    assert_eq!(fitted(&fill, &[off], None, Length::new(1.0)), Err(NoFit::HoleOutside(0)));
}

#[test]
fn pipes_and_ground_agree_on_what_two_pits_draw() {
    use crate::calc::air::Air;
    use crate::calc::amounts::{Density, Plain, Viscosity};
    use crate::calc::network::{Network, Run, solve};
    use crate::calc::section::Section;

    let mut fill = rectangle(12.0, 8.0, 5.0, vec![held(3.0, 4.0, 1.0), held(9.0, 4.0, 1.0)]);
    let by = work_out(&fill, Length::new(0.5)).unwrap().conductances().unwrap();
    let air = Air { density: Density::new(1.2), viscosity: Viscosity::new(1.8e-5) };
    let mut network = Network::new(air).unwrap();
    let room = network.held(Pressure::new(0.0)).unwrap();
    let drawn = network.held(Pressure::new(-150.0)).unwrap();
    let pits = [network.junction(), network.junction()];
    network.ground(room, &pits, &by).unwrap();
    let runs: Vec<_> = pits
        .iter()
        .zip([2.0, 60.0])
        .map(|(pit, fittings)| {
            let run = Run {
                section: Section::round(Length::new(0.0779)).unwrap(),
                length: Length::new(6.0),
                roughness: Length::new(1e-5),
                fittings: Plain::new(fittings),
                draught: Pressure::new(0.0),
            };
            network.run(*pit, drawn, run).unwrap()
        })
        .collect();
    let solution = solve(&network).unwrap();
    for (pit, node) in fill.pits.iter_mut().zip(pits) {
        pit.pull = Pull::Suction(solution.suction(node).unwrap());
    }
    let field = work_out(&fill, Length::new(0.5)).unwrap();
    for (flow, run) in field.flows().iter().zip(runs) {
        assert!((flow.to_si() / solution.flow(run).unwrap().to_si() - 1.0).abs() < 1e-3);
    }
}
