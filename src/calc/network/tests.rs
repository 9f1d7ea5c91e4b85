//! What holds for every network, and the cases at the edge.

use proptest::prelude::*;

use super::*;
use crate::calc::amounts::{Density, Made, Speed, Viscosity};
use crate::calc::fan_curve::{FanPoint, OffCurve};

fn air() -> Air {
    Air { density: Density::new(1.2), viscosity: Viscosity::new(1.8e-5) }
}

fn empty() -> Network {
    Network::new(air()).unwrap()
}

fn run(wide: f64, length: f64, fittings: f64) -> Run {
    Run {
        section: Section::round(Length::new(wide)).unwrap(),
        length: Length::new(length),
        roughness: Length::new(1e-5),
        fittings: Plain::new(fittings),
        draught: Pressure::new(0.0),
    }
}

fn law(coefficient: f64, exponent: f64) -> SuctionLaw {
    SuctionLaw::through(Flow::new(coefficient), Pressure::new(1.0), Plain::new(exponent)).unwrap()
}

fn fan() -> FanCurve {
    let point =
        |(q, p): &(f64, f64)| FanPoint { flow: Flow::new(*q), pressure: Pressure::new(*p), power: None };
    let sheet = [(0.0, 420.0), (0.02, 380.0), (0.04, 285.0), (0.06, 115.0), (0.07, 0.0)];
    FanCurve::new(&sheet.iter().map(point).collect::<Vec<_>>(), Density::new(1.2)).unwrap()
}

/// A system of branches that join one after the other, perhaps with a second way between the first and the last joint.
fn system(branches: &[(f64, f64, f64, f64)], ring: bool) -> (Network, Vec<LinkId>) {
    let mut network = empty();
    let soil = network.held(Pressure::new(0.0)).unwrap();
    let open = network.held(Pressure::new(0.0)).unwrap();
    let mut points = Vec::new();
    let joints: Vec<NodeId> = branches.iter().map(|_| network.junction()).collect();
    for ((coefficient, exponent, length, fittings), joint) in branches.iter().zip(&joints) {
        let pit = network.junction();
        points.push(network.suction_point(soil, pit, law(*coefficient, *exponent)).unwrap());
        network.run(pit, *joint, run(0.0779, *length, *fittings)).unwrap();
    }
    for pair in joints.windows(2) {
        network.run(pair[0], pair[1], run(0.0779, 3.0, 0.5)).unwrap();
    }
    if ring && joints.len() > 2 {
        network.run(joints[0], joints[joints.len() - 1], run(0.0525, 9.0, 2.0)).unwrap();
    }
    let (inlet, outlet) = (network.junction(), network.junction());
    network.run(joints[joints.len() - 1], inlet, run(0.1023, 6.0, 1.5)).unwrap();
    network.fan(inlet, outlet, fan()).unwrap();
    network.run(outlet, open, run(0.1023, 3.0, 1.0)).unwrap();
    (network, points)
}

fn branches() -> impl Strategy<Value = Vec<(f64, f64, f64, f64)>> {
    let one = (1e-6..4e-3_f64, 0.5..1.0_f64, 0.5..25.0_f64, 0.5..40.0_f64);
    proptest::collection::vec(one, 1..7)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn as_much_flows_in_as_out_and_every_link_keeps_its_law(branches in branches(), ring: bool) {
        let (network, points) = system(&branches, ring);
        let solution = super::solve::found(&network).unwrap();
        // every junction by hand
        for node in 0..network.nodes.len() {
            if network.nodes[node].is_some() {
                continue;
            }
            let into: f64 = network.links.iter().zip(0..).map(|(link, at)| {
                let flow = solution.flow(LinkId(at)).unwrap().to_si();
                if link.to == node { flow } else if link.from == node { -flow } else { 0.0 }
            }).sum();
            prop_assert!(into.abs() < 1e-11, "{into}");
        }
        // every link by hand: the fall of pressure along it is what its law takes
        for (link, at) in network.links.iter().zip(0..) {
            let flow = solution.flow(LinkId(at)).unwrap().to_si();
            let of = |node| solution.pressure(NodeId(node)).unwrap().to_si();
            let (taken, _) = super::law::taken_si(&link.law, &network.air, flow).unwrap();
            prop_assert!((of(link.from) - of(link.to) - taken).abs() < 1e-7);
        }
        // what all points give leaves by the stack
        let given: f64 = points.iter().map(|point| solution.flow(*point).unwrap().to_si()).sum();
        let leaves = solution.flow(LinkId(network.links.len() - 1)).unwrap().to_si();
        prop_assert!((given - leaves).abs() < 1e-11);
    }

    #[test]
    fn throttling_one_point_gives_its_suction_to_the_others(branches in branches(), more in 1.0..50.0_f64) {
        prop_assume!(branches.len() > 1);
        let (before, points) = system(&branches, false);
        let mut tighter = branches.clone();
        tighter[0].3 += more;
        let (after, _) = system(&tighter, false);
        let (before, after) =
            (super::solve::found(&before).unwrap(), super::solve::found(&after).unwrap());
        let flow = |solution: &Solution, at: usize| solution.flow(points[at]).unwrap().to_si();
        prop_assert!(flow(&after, 0) <= flow(&before, 0) + 1e-12);
        for other in 1..branches.len() {
            prop_assert!(flow(&after, other) >= flow(&before, other) - 1e-12);
        }
    }

    #[test]
    fn a_faster_fan_keeps_to_the_fan_laws_where_all_losses_are_square(ratio in 0.5..1.4_f64) {
        // fittings only: every loss goes with the square of the flow, so all flows go with the speed
        let at = |fan: FanCurve| {
            let mut network = empty();
            let (soil, open) =
                (network.held(Pressure::new(0.0)).unwrap(), network.held(Pressure::new(0.0)).unwrap());
            let (inlet, outlet) = (network.junction(), network.junction());
            network.run(soil, inlet, run(0.0779, 0.0, 6.0)).unwrap();
            let fan = network.fan(inlet, outlet, fan).unwrap();
            network.run(outlet, open, run(0.0779, 0.0, 1.0)).unwrap();
            let solution = solve(&network).unwrap();
            (solution.flow(fan).unwrap().to_si(), solution.fans()[0].1.pressure.to_si())
        };
        let (flow, pressure) = at(fan());
        let (fast, strong) = at(fan().at_speed(Plain::new(ratio)).unwrap());
        prop_assert!((fast / flow - ratio).abs() < 1e-6);
        prop_assert!((strong / pressure - ratio * ratio).abs() < 1e-6);
    }
}

#[test]
fn a_closed_valve_cuts_its_branch_off_and_leaves_the_rest() {
    let mut network = empty();
    let (soil, drawn) =
        (network.held(Pressure::new(0.0)).unwrap(), network.held(Pressure::new(-200.0)).unwrap());
    let (pit, joint, end) = (network.junction(), network.junction(), network.junction());
    network.suction_point(soil, pit, law(0.002, 0.6)).unwrap();
    let section = Section::round(Length::new(0.0779)).unwrap();
    let valve = network.valve(pit, joint, section, Setting::Closed).unwrap();
    network.run(joint, drawn, run(0.0779, 5.0, 1.0)).unwrap();
    // a stub behind a second closed valve hangs on nothing
    network.valve(joint, end, section, Setting::Closed).unwrap();
    let solution = solve(&network).unwrap();
    assert_eq!(solution.flow(valve), Some(Flow::new(0.0)));
    assert!(solution.suction(pit).unwrap().to_si().abs() < 1e-6);
    assert!((solution.suction(joint).unwrap().to_si() - 200.0).abs() < 1e-6);
    assert_eq!(solution.pressure(end), None);
}

#[test]
fn a_fan_against_closed_valves_stands_at_its_shut_off_pressure() {
    let mut network = empty();
    let (soil, open) = (network.held(Pressure::new(0.0)).unwrap(), network.held(Pressure::new(0.0)).unwrap());
    let (pit, inlet) = (network.junction(), network.junction());
    network.suction_point(soil, pit, law(0.002, 0.6)).unwrap();
    let section = Section::round(Length::new(0.0779)).unwrap();
    network.valve(pit, inlet, section, Setting::Closed).unwrap();
    network.fan(inlet, open, fan()).unwrap();
    let solution = solve(&network).unwrap();
    assert!((solution.suction(inlet).unwrap().to_si() - 420.0).abs() < 1e-6);
    assert!((solution.fans()[0].1.flow_left.to_si() - 1.0).abs() < 1e-9);
}

#[test]
fn soil_that_lets_hardly_anything_through_takes_nearly_all_of_the_pull() {
    let (network, points) = system(&[(1e-8, 1.0, 10.0, 3.0)], false);
    let solution = solve(&network).unwrap();
    let flow = solution.flow(points[0]).unwrap().to_si();
    // 1e-8 m3/s per Pa at close to 420 Pa
    assert!((flow - 4.2e-6).abs() < 1e-8, "{flow}");
}

#[test]
fn a_fan_past_its_curve_is_no_solution() {
    let mut network = empty();
    let (soil, open) =
        (network.held(Pressure::new(0.0)).unwrap(), network.held(Pressure::new(50.0)).unwrap());
    let inlet = network.junction();
    network.run(soil, inlet, run(0.154, 0.1, 0.5)).unwrap();
    // blown through by 50 Pa from outside
    let fan = network.fan(open, inlet, fan()).unwrap();
    match solve(&network) {
        Err(NotSolved::OffCurve { fan: at, flow, how: OffCurve::PastItsEnd(end) }) => {
            assert_eq!(at, fan);
            assert!(flow > end);
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_fan_that_is_overpowered_is_told_as_blown_backward() {
    let mut network = empty();
    let (low, high) =
        (network.held(Pressure::new(0.0)).unwrap(), network.held(Pressure::new(900.0)).unwrap());
    let joint = network.junction();
    network.run(low, joint, run(0.0779, 5.0, 2.0)).unwrap();
    network.fan(joint, high, fan()).unwrap();
    assert!(matches!(solve(&network), Err(NotSolved::OffCurve { how: OffCurve::ShortOfItsStart(_), .. })));
}

#[test]
fn set_flows_that_cannot_balance_name_the_place() {
    let mut network = empty();
    network.held(Pressure::new(0.0)).unwrap();
    let (a, b) = (network.junction(), network.junction());
    let section = Section::round(Length::new(0.0779)).unwrap();
    network.valve(a, b, section, Setting::Lets(Flow::new(0.01))).unwrap();
    assert!(matches!(solve(&network), Err(NotSolved::CutOff(node)) if node == a || node == b));
    let mut nothing = empty();
    let (a, b) = (nothing.junction(), nothing.junction());
    nothing.run(a, b, run(0.0779, 1.0, 1.0)).unwrap();
    assert_eq!(solve(&nothing), Err(NotSolved::NothingHeld));
}

#[test]
fn what_does_not_come_to_an_end_names_the_worst_place_and_tells_how_it_went() {
    let (network, _) = system(&[(0.002, 0.6, 9.0, 2.3), (0.001, 0.5, 20.0, 4.0)], true);
    match super::solve::found_within(&network, 4) {
        Err(NotSolved::NotConverged { worst, history }) => {
            assert_eq!(history.len(), 2);
            assert_eq!(history.last(), Some(&worst.1));
            assert!(worst.0.0 < network.links.len());
        }
        other => panic!("{other:?}"),
    }
    assert!(super::solve::found(&network).unwrap().steps > 4);
}

#[test]
fn draught_alone_moves_a_passive_stack() {
    let mut network = empty();
    let (soil, open) = (network.held(Pressure::new(0.0)).unwrap(), network.held(Pressure::new(0.0)).unwrap());
    let pit = network.junction();
    network.suction_point(soil, pit, law(0.002, 0.6)).unwrap();
    let stack = Run { draught: Pressure::new(6.7), ..run(0.1023, 9.0, 2.0) };
    network.run(pit, open, stack).unwrap();
    let solution = solve(&network).unwrap();
    let suction = solution.suction(pit).unwrap().to_si();
    assert!(suction > 3.0 && suction < 6.7, "{suction}");
}

#[test]
fn two_systems_on_one_area_take_from_each_other() {
    let build = |joined: bool| {
        let mut network = empty();
        let soil = network.held(Pressure::new(0.0)).unwrap();
        let mut pits = Vec::new();
        for pull in [-200.0, -20.0] {
            let (pit, drawn) = (network.junction(), network.held(Pressure::new(pull)).unwrap());
            network.suction_point(soil, pit, law(2e-5, 1.0)).unwrap();
            network.run(pit, drawn, run(0.0779, 5.0, 1.0)).unwrap();
            pits.push(pit);
        }
        if joined {
            network.seep(pits[0], pits[1], Conductance::new(5e-5)).unwrap();
        }
        let solution = solve(&network).unwrap();
        (network.links.len(), solution.flow(LinkId(3)).unwrap().to_si())
    };
    let (_, alone) = build(false);
    let (_, shared) = build(true);
    assert!(alone > 0.0);
    // the strong system draws air back through the weak one
    assert!(shared < 0.0, "{shared}");
}

#[test]
fn wanted_suctions_are_set_and_stay() {
    let mut network = empty();
    let (soil, open) = (network.held(Pressure::new(0.0)).unwrap(), network.held(Pressure::new(0.0)).unwrap());
    let (joint, inlet, outlet) = (network.junction(), network.junction(), network.junction());
    let section = Section::round(Length::new(0.0779)).unwrap();
    let mut wants = Vec::new();
    for (coefficient, suction) in [(0.0011, 40.0), (0.003, 15.0), (0.0016, 60.0)] {
        let (pit, behind) = (network.junction(), network.junction());
        network.suction_point(soil, pit, law(coefficient, 0.55)).unwrap();
        network.run(pit, behind, run(0.0779, 8.0, 1.4)).unwrap();
        let valve = network.valve(behind, joint, section, Setting::Takes(Plain::new(0.14))).unwrap();
        wants.push(Want { valve, wanted: Wanted::Suction(pit, Pressure::new(suction)) });
    }
    network.run(joint, inlet, run(0.1023, 6.0, 1.9)).unwrap();
    network.fan(inlet, outlet, fan()).unwrap();
    network.run(outlet, open, run(0.1023, 3.0, 1.0)).unwrap();
    let set = settings(&network, &wants).unwrap();
    let again = solve(&set.network).unwrap();
    for want in &wants {
        let Wanted::Suction(pit, suction) = want.wanted else { panic!() };
        assert!((again.suction(pit).unwrap().to_si() - suction.to_si()).abs() < 1e-4);
    }
    // more than the fan can pull
    let mut greedy = wants.clone();
    if let Wanted::Suction(pit, _) = greedy[0].wanted {
        greedy[0].wanted = Wanted::Suction(pit, Pressure::new(390.0));
    }
    assert!(settings(&network, &greedy).is_err());
    // a wanted flow is met to the last digits
    let flow = Want { valve: wants[1].valve, wanted: Wanted::Flow(Flow::new(0.01)) };
    let set = settings(&network, &[flow]).unwrap();
    assert!((set.solution.flow(flow.valve).unwrap().to_si() - 0.01).abs() < 1e-8);
}

#[test]
fn the_smallest_size_that_keeps_limits_is_found_and_why_none_does() {
    let (network, _) = system(&[(0.0016, 0.55, 12.0, 2.3)], false);
    let riser = LinkId(network.links.len() - 3);
    let round = |wide: f64| Section::round(Length::new(wide)).unwrap();
    let sizes = [round(0.154), round(0.0525), round(0.1023), round(0.0779)];
    let slow = Limits { greatest_speed: Speed::from_si(4.0), ..Limits::default() };
    let at = smallest_size(&network, &[riser], &sizes, &slow).unwrap();
    assert_eq!(at, 2);
    let never = Limits { greatest_speed: Speed::from_si(0.1), ..Limits::default() };
    assert!(matches!(
        smallest_size(&network, &[riser], &sizes, &never),
        Err(NoSize::NoneKeeps(Shortfall::Speed(link, _))) if link == riser
    ));
    assert_eq!(smallest_size(&network, &[LinkId(0)], &sizes, &slow), Err(NoSize::NoRun(LinkId(0))));
}
