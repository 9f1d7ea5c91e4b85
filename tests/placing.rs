//! Where a discharge and a suction point may stand so that every requirement on their place is met at once. Expected
//! places are worked out by hand from the corners of the house and the limits of the rules.

use undercroft::base::number::{Number, Ratio};
use undercroft::base::value::Value;
use undercroft::correct::{corrections, places};
use undercroft::facts::Facts;
use undercroft::facts::catalogue::number_of;
use undercroft::facts::handles::{Change, Shift, Stuck, discharge, moves, suction_point};
use undercroft::facts::kinds::Kind;
use undercroft::judge::verdict::Verdict;
use undercroft::review::placing::{Asked, Placing, Way, Why, layouts, placings};
use undercroft::review::{BookFile, DESIGN, Input, Library, Review, read_text, review};
use undercroft::yaml::scan;
use undercroft::yaml::splice::lay_over;

/// A house 40 ft long whose north wall is the line y = 0. The pipe stands 1 ft before that wall, under a window of
/// which the corners are stated. The yard lies at the height of the origin.
pub(crate) const HOUSE: &str = "\
undercroft: 1
job: {title: A stack before a window, work: new system, stage: design, date: 2026-05-12, by: A. Mason, rulebooks: {pennsylvania-2019: adopted}}
site: {zone: America/New_York, ground: {main: 0 ft}, altitude: 800 ft}
looked_for:
  openings: {within: whole building, by: A. Mason, on: 2026-05-12}
  intakes: {within: whole building, by: A. Mason, on: 2026-05-12}
  neighbours: {within: 100 ft of building, by: A. Mason, on: 2026-05-12}
  chimneys: {within: whole building, by: A. Mason, on: 2026-05-12}
  walls_above: {within: whole building, by: A. Mason, on: 2026-05-12}
  obstacles: {within: 100 ft of building, by: A. Mason, on: 2026-05-12}
  walking_surfaces: {within: 100 ft of building, by: A. Mason, on: 2026-05-12}
building:
  stories: 2
  spaces:
    bedroom: {kind: bedroom, conditioned: yes, occupied: yes, below_grade: no, story: 2}
  roof: {edge: 10 ft}
  openings:
    window: {kind: window, opens: yes, into: bedroom, corners: [[-2 ft, 0 ft, 9 ft], [2 ft, 0 ft, 13 ft]]}
  intakes: none
  neighbours: none
systems:
  main:
    kind: active
    fan: {at: [0 ft, 1 ft, 3 ft], in: outdoors, axis: vertical}
    discharge: {at: [0 ft, 1 ft, 11 ft], side: north, direction: up, cap: none, outside_diameter: 4 1/2 in}
    pipe: {material: PVC, schedule: 40, size: 4 in}
    runs:
      # The pipe begins and ends outdoors, so that it goes through no roof.
      stack: {from: fan, up: 8 ft, to: discharge, through: outdoors, pierces: none}
";

pub(super) fn reviewed<'l>(library: &'l Library, text: &str) -> Review<'l> {
    review(&Input { name: "design.yaml", bytes: text.as_bytes(), ..Input::default() }, library)
}

fn with(changes: &[(&str, &str)]) -> String {
    lay_over(HOUSE, changes, &[]).unwrap()
}

/// So many eighths of an inch.
fn eighths(count: i64) -> Ratio {
    &Ratio::new(254, 80_000).unwrap() * &Ratio::from(count)
}

fn feet(count: i64) -> Ratio {
    eighths(count * 96)
}

fn only(library: &Library, text: &str) -> Placing {
    let review = reviewed(library, text);
    assert_eq!(review.problems, [], "the house is written down in order");
    let [one] = <[Placing; 1]>::try_from(placings(&review)).unwrap();
    one
}

fn name_of(review: &Review<'_>, asked: &Asked) -> String {
    let book = review.used[asked.book].book;
    format!("{}/{}", book.name, book.rules[asked.rule].name)
}

fn names(review: &Review<'_>, all: &[Asked]) -> Vec<String> {
    all.iter().map(|asked| name_of(review, asked)).collect()
}

/// What a set of changes makes of a text, written as a person would.
pub(super) fn written(text: &str, changes: &[Change]) -> String {
    let mut new = text.to_owned();
    for change in changes {
        new = match change {
            Change::Set { entry, to } => lay_over(&new, &[(&entry.to_string(), to)], &[]).unwrap(),
            Change::Remove { entry } => lay_over(&new, &[], &[&entry.to_string()]).unwrap(),
        };
    }
    new
}

/// What every clause on a discharge comes to that is not met, in a review of the whole.
pub(super) fn not_met(library: &Library, text: &str) -> Vec<String> {
    let review = reviewed(library, text);
    let all = review.findings.iter().filter(|finding| finding.subject.starts_with("discharge/"));
    all.flat_map(|finding| &finding.clauses)
        .filter(|clause| matches!(clause.verdict, Verdict::Unmet | Verdict::Undetermined))
        .map(|clause| review.used[clause.book].book.rules[clause.rule].name.clone())
        .collect()
}

fn sets(changes: &[Change]) -> Vec<(String, String)> {
    changes
        .iter()
        .map(|change| match change {
            Change::Set { entry, to } => (entry.to_string(), to.clone()),
            Change::Remove { entry } => (entry.to_string(), "-".to_owned()),
        })
        .collect()
}

fn moved(text: &str, by: &Shift) -> Result<Vec<(String, String)>, Stuck> {
    let (tree, _) = scan::read(DESIGN, text);
    discharge(&tree, "main", by).map(|changes| sets(&changes))
}

fn pairs(list: &[(&str, &str)]) -> Vec<(String, String)> {
    list.iter().map(|(entry, to)| ((*entry).to_owned(), (*to).to_owned())).collect()
}

#[test]
fn the_lowest_height_before_a_window_is_its_head_and_the_limit() {
    // The head of the window is at 13 ft; the rule asks for 10 ft of distance or an end 2 ft above the head. The pipe
    // stands 1 ft off, so it has to end at 15 ft: 4 ft above where it ends now.
    let library = Library::with(&[]);
    let placing = only(&library, HOUSE);
    let review = reviewed(&library, HOUSE);
    let (lowest, stops) = placing.lowest().unwrap();
    assert_eq!(lowest, feet(4));
    assert_eq!(names(&review, &stops), ["pennsylvania-2019/discharge-clear-of-openings"]);
    let offer = &placing.offers[0];
    assert_eq!((offer.way, &offer.by), (Way::Height, &Shift::up(feet(4))));
    // Whoever looked 100 ft about the building as drawn looked 96 ft about one that is 4 ft higher.
    assert_eq!(
        sets(&offer.changes),
        pairs(&[
            ("systems.main.discharge.at[2]", "15 ft"),
            ("systems.main.runs.stack.up", "12 ft"),
            ("looked_for.neighbours.within", "96 ft of building"),
            ("looked_for.obstacles.within", "96 ft of building"),
            ("looked_for.walking_surfaces.within", "96 ft of building"),
        ])
    );
}

#[test]
fn an_offered_place_is_met_by_the_rules_and_one_step_less_is_not() {
    let library = Library::with(&[]);
    for text in [HOUSE.to_owned(), with(&[("building.roof.edge", "16 ft")]), aside()] {
        let (tree, _) = scan::read(DESIGN, &text);
        assert!(!not_met(&library, &text).is_empty());
        let placing = only(&library, &text);
        assert!(!placing.offers.is_empty(), "{placing:?}");
        for offer in &placing.offers {
            assert_eq!(not_met(&library, &written(&text, &offer.changes)), [""; 0], "{:?}", offer.by);
            let nearer = |whole: &Ratio| match whole.signum() {
                0 => Ratio::zero(),
                1 => whole - &eighths(1),
                _ => whole + &eighths(1),
            };
            let Shift { east, north, up } = &offer.by;
            let less = Shift { east: nearer(east), north: nearer(north), up: nearer(up) };
            let changes = discharge(&tree, "main", &less).unwrap();
            assert!(!not_met(&library, &written(&text, &changes)).is_empty(), "{less:?}");
        }
    }
}

#[test]
fn of_two_requirements_the_higher_one_bounds_the_place() {
    // Above the edge at 16 ft means more than nothing above it: an eighth of an inch is the least that is built. The
    // window asks for 15 ft alone. From 11 ft it is 5 ft and an eighth.
    let library = Library::with(&[]);
    let text = with(&[
        ("building.roof.edge", "16 ft"),
        ("job.rulebooks", "{pennsylvania-2019: adopted, epa-1994: by contract}"),
    ]);
    let placing = only(&library, &text);
    let review = reviewed(&library, &text);
    let (lowest, stops) = placing.lowest().unwrap();
    assert_eq!(lowest, &feet(5) + &eighths(1));
    let mut stops = names(&review, &stops);
    stops.sort();
    assert_eq!(
        stops,
        [
            "epa-1994/discharge-above-eave",
            "epa-1994/discharge-above-highest-eave",
            "pennsylvania-2019/discharge-above-roof-edge"
        ]
    );
}

/// The same house with a level run along the wall before the stack.
pub(crate) fn aside() -> String {
    with(&[
        ("systems.main.fan.at", "[-14 ft, 1 ft, 3 ft]"),
        (
            "systems.main.runs",
            "{along: {from: fan, east: 14 ft, slope: 0 in per ft, through: outdoors, pierces: none}, stack: {from: along, up: 8 ft, to: discharge, through: outdoors, pierces: none}}",
        ),
    ])
}

#[test]
fn along_the_wall_the_distance_is_that_from_the_rim_to_the_jamb() {
    // The rim is 2 1/4 in. round the middle, the wall 12 in. behind it, and the outlet lies between sill and head. The
    // middle has to be sqrt((120 + 2.25)^2 - 12^2) = sqrt(14801.06) = 121.66 in. from the jamb, which is 24 in. from
    // where it stands: 145.66 in., so 145 3/4 in., to the east and to the west. The run along the wall comes from the
    // west and is 168 in. long: 313 3/4 in. to the east, 22 1/4 in. to the west.
    let library = Library::with(&[]);
    let placing = only(&library, &aside());
    let level: Vec<_> = placing.offers.iter().filter(|offer| offer.way == Way::EastWest).collect();
    let shifts: Vec<&Ratio> = level.iter().map(|offer| &offer.by.east).collect();
    assert_eq!(shifts, [&eighths(145 * 8 + 6), &eighths(-(145 * 8 + 6))]);
    assert_eq!(
        sets(&level[0].changes),
        pairs(&[
            ("systems.main.discharge.at[0]", "12 ft 1 3/4 in"),
            ("systems.main.runs.along.east", "26 ft 1 3/4 in")
        ])
    );
    assert_eq!(level[1].changes.len(), 2);
    assert_eq!(sets(&level[1].changes)[1].1, "1 ft 10 1/4 in");
    // The nearest of all is to raise it, which comes first.
    assert_eq!(placing.offers[0].by, Shift::up(feet(4)));
}

/// A book of a town that wants outlets low.
pub(crate) fn low_town() -> Vec<BookFile> {
    let file = |path: &str, text: String| BookFile {
        path: path.to_owned(),
        shown: path.to_owned(),
        bytes: text.into_bytes(),
    };
    let book = "book: low-town\ntitle: Rules of a low town\npublisher: The town\nedition: first\nlegal_nature: A by-law.\ncovers: Houses.\nsources:\n  by-law: {title: By-law, publisher: The town, year: 2025, read_at: the town hall, basis: read}\n";
    let rule = "rule: discharge-not-too-high\ntitle: No discharge above the street\nobligation: shall\ndue: design\nsubject: discharge/height\nsource: {document: by-law, section: 1, basis: read}\nbecause: The street is to look low.\neach: discharge in discharges\nlimits:\n  most: {value: 14 ft, words: at most}\nrequires: discharge.above_nearest_ground <= most\nunmet: \"{discharge} ends {discharge.above_nearest_ground} above the ground; {most} is the most.\"\ncases:\n  - {claim: low enough, from: house, at: discharge, verdict: met}\n  - claim: too high\n    from: house\n    with:\n      systems.main.discharge.at: \"[0 ft, 1 ft, 15 ft]\"\n      systems.main.runs.stack.up: 12 ft\n    at: discharge\n    verdict: unmet\n  - {claim: not stated, from: house, missing: site.ground, at: discharge, verdict: undetermined}\n";
    vec![
        file("low-town/book.yaml", book.to_owned()),
        file("low-town/discharge/discharge-not-too-high.yaml", rule.to_owned()),
        file("low-town/cases/house.yaml", HOUSE.to_owned()),
    ]
}

#[test]
fn requirements_that_exclude_one_another_are_named_and_nothing_is_offered() {
    // The window asks for an end at 15 ft, the town for one at 14 ft or lower. The pipe goes straight up from its fan,
    // so it cannot go aside.
    let library = Library::with(&low_town());
    let text = with(&[("job.rulebooks", "{pennsylvania-2019: adopted, low-town: adopted}")]);
    let placing = only(&library, &text);
    let review = reviewed(&library, &text);
    assert_eq!(placing.offers, []);
    let Some(Why::Excluded(pair)) = &placing.why else { panic!("{:?}", placing.why) };
    let mut pair = names(&review, pair);
    pair.sort();
    assert_eq!(pair, ["low-town/discharge-not-too-high", "pennsylvania-2019/discharge-clear-of-openings"]);
}

#[test]
fn without_a_roof_no_place_is_offered_and_the_roof_is_asked_for() {
    let library = Library::with(&[]);
    let text = lay_over(HOUSE, &[], &["building.roof"]).unwrap();
    let placing = only(&library, &text);
    assert_eq!(placing.offers, []);
    let Some(Why::NotKnown(missing)) = &placing.why else { panic!("{:?}", placing.why) };
    assert!(missing.iter().any(|one| one.entry.as_str() == "building.roof.edge"), "{missing:?}");
}

#[test]
fn heights_tapes_and_the_last_run_move_together() {
    // Up by 1 ft 6 in.: what stands above something gains it, what stands below something loses it. The straight tape of
    // 13 ft with a drop of 5 ft lies 12 ft aside (5, 12, 13); aside it stays there.
    let text = lay_over(
        HOUSE,
        &[
            (
                "systems.main.discharge",
                "{height: {above_ground: 11 ft, below_ridge: 6 ft}, above_roof_edge: 1 ft, direction: up}",
            ),
            (
                "building.openings.window",
                "{kind: window, from_discharge: {straight: 13 ft, top_below: 5 ft, around: 14 ft}}",
            ),
            (
                "building.openings.door",
                "{kind: door, from_discharge: {left: 3 ft, out: 1 ft, bottom_below: 10 ft}}",
            ),
            ("building.roof.walls_above", "{dormer: {top: 20 ft, from_discharge: 8 ft}}"),
            ("looked_for.openings.within", "20 ft of discharge"),
        ],
        &[],
    )
    .unwrap();
    let up = Shift::up(&feet(1) + &eighths(48));
    let found = moved(&text, &up).unwrap();
    assert_eq!(
        found,
        pairs(&[
            ("systems.main.discharge.above_roof_edge", "2 ft 6 in"),
            ("systems.main.discharge.height.above_ground", "12 ft 6 in"),
            ("systems.main.discharge.height.below_ridge", "4 ft 6 in"),
            ("systems.main.runs.stack.up", "9 ft 6 in"),
            ("building.openings.window.from_discharge.top_below", "6 ft 6 in"),
            ("building.openings.window.from_discharge.straight", "-"),
            ("building.openings.window.from_discharge.around", "-"),
            ("building.openings.window.from_discharge.away", "12 ft"),
            ("building.openings.door.from_discharge.bottom_below", "11 ft 6 in"),
            ("looked_for.openings.within", "18 ft 6 in of discharge"),
            ("looked_for.neighbours.within", "98 ft 6 in of building"),
            ("looked_for.obstacles.within", "98 ft 6 in of building"),
            ("looked_for.walking_surfaces.within", "98 ft 6 in of building"),
        ])
    );
}

#[test]
fn before_the_north_wall_left_is_east() {
    // Moved 2 ft east, that is to the left of whoever faces the north wall: what lies left comes nearer, what lies
    // right goes farther. A distance of which the direction is not told may be 2 ft more or less.
    let text = lay_over(
        HOUSE,
        &[
            ("systems.main.runs", "{}"),
            (
                "building.openings.window",
                "{kind: window, from_discharge: {left: 3 ft, out: 1 ft, top_below: 1 ft}}",
            ),
            (
                "building.openings.door",
                "{kind: door, from_discharge: {right: 3 ft, out: 1 ft, top_below: 1 ft}}",
            ),
            ("building.openings.hatch", "{kind: hatch, from_discharge: {away: 9 ft, top_below: 1 ft}}"),
            ("looked_for.openings.within", "20 ft of discharge"),
        ],
        &[],
    )
    .unwrap();
    let found = moved(&text, &Shift::level(feet(2), Ratio::zero())).unwrap();
    assert_eq!(
        found,
        pairs(&[
            ("systems.main.discharge.at[0]", "2 ft"),
            ("building.openings.window.from_discharge.left", "1 ft"),
            ("building.openings.door.from_discharge.right", "5 ft"),
            ("building.openings.hatch.from_discharge.away", "{value: 9 ft, within: 2 ft}"),
            ("looked_for.openings.within", "18 ft of discharge"),
        ])
    );
    // Past the window nobody knows on which side it lies, or how far off.
    assert!(matches!(moved(&text, &Shift::level(feet(4), Ratio::zero())), Err(Stuck::Past(_))));
}

#[test]
fn a_height_above_a_roof_that_is_not_described_does_not_go_along() {
    // Aside, the roof below may be higher or lower. The edge is stated to be the same all round.
    let text = lay_over(
        HOUSE,
        &[
            ("systems.main.runs", "{}"),
            ("systems.main.discharge", "{above_roof: 22 in, above_roof_edge: 1 ft, direction: up}"),
        ],
        &[],
    )
    .unwrap();
    let found = moved(&text, &Shift::level(feet(2), Ratio::zero())).unwrap();
    assert_eq!(found, pairs(&[("systems.main.discharge.above_roof", "-")]));
}

#[test]
fn what_was_measured_is_not_written_otherwise() {
    let taken = "{kind: window, from_discharge: {top_below: {value: 1 ft, by: A. Mason, on: 2026-05-12}}}";
    let text = with(&[("building.openings.window", taken)]);
    let entry = "building.openings.window.from_discharge.top_below";
    let stuck = moved(&text, &Shift::up(feet(1))).unwrap_err();
    assert!(matches!(&stuck, Stuck::Measured(at) if at.as_str() == entry), "{stuck:?}");
    let text = with(&[("systems.main.runs.stack.up", "to roof")]);
    assert!(matches!(moved(&text, &Shift::up(feet(1))), Err(Stuck::Pipe(_))));
    assert!(matches!(moved(HOUSE, &Shift::level(feet(1), Ratio::zero())), Err(Stuck::Pipe(_))));
}

#[test]
fn a_place_is_offered_among_the_corrections_once_it_is_proven() {
    let library = Library::with(&[]);
    let input = Input { name: "design.yaml", bytes: HOUSE.as_bytes(), ..Input::default() };
    let mut all = corrections(&input, &library);
    places::add(&mut all, &input, &library);
    let offered: Vec<_> = all
        .offered()
        .filter(|(_, choice, _)| choice.title.contains("everything asked of its place"))
        .map(|(_, choice, proven)| (choice.title.as_str(), proven.text.as_str()))
        .collect();
    let [(title, text)] = offered.as_slice() else { panic!("{offered:?}") };
    assert_eq!(*title, "raise the discharge by 4 ft, where everything asked of its place is met");
    assert_eq!(not_met(&library, text), [""; 0]);
    // Written, there is nothing left to offer.
    let input = Input { bytes: text.as_bytes(), ..input };
    let mut again = corrections(&input, &library);
    places::add(&mut again, &input, &library);
    assert!(!again.offered().any(|(_, choice, _)| choice.title.contains("of its place")));
}

#[test]
fn a_height_is_reached_by_everything_that_tells_of_it() {
    // The outlet ends 1 ft above the edge. To end 18 in. above it takes 6 in. more; where 18 in. are not enough, an
    // eighth of an inch besides.
    let (design, _) = read_text(HOUSE);
    let (tree, _) = scan::read(DESIGN, HOUSE);
    let mut facts = Facts::new(&design);
    let outlet = facts.things().all(Kind::Discharge)[0];
    let fact = number_of(Kind::Discharge.id(), "above_roof_edge").unwrap();
    let wanted = Value::Number(Number::exact(eighths(18 * 8)));
    let moves = moves(&mut facts, &tree, fact, outlet, &wanted);
    let heights: Vec<_> = moves.iter().map(|one| sets(&one.written)[0].clone()).collect();
    let place = "systems.main.discharge.at[2]";
    assert_eq!(heights, pairs(&[(place, "11 ft 6 in"), (place, "11 ft 6 1/8 in")]));
}

/// A slab on sand, 40 ft by 30 ft, with one suction point 3 ft off the north wall. Its pipe comes down from a level
/// run.
pub(crate) const SLAB: &str = "\
undercroft: 1
job: {title: A slab on sand, work: new system, stage: design, date: 2026-05-12, by: A. Mason, rulebooks: {florida-existing: adopted}}
building:
  spaces:
    hall: {kind: room, conditioned: yes, occupied: yes}
foundation:
  areas:
    floor: {kind: slab, in: hall, size: 40 ft x 30 ft, corner: [0 ft, 0 ft], top: 0 ft, under_slab: {kind: sand, depth: 4 in}}
systems:
  main:
    kind: active
    runs:
      along: {from: fan, south: 8 ft, through: hall}
      drop: {from: along, down: to slab, to: s1, through: hall}
    suction_points:
      s1: {kind: slab, in: floor, from_walls: {north: 3 ft, east: 12 ft}}
";

#[test]
fn a_suction_point_too_near_the_wall_goes_inward_to_the_limit() {
    // The rule asks for 6 ft to 18 ft from the nearest edge: 3 ft farther from the north wall. The level run before it
    // is 3 ft longer.
    let library = Library::with(&[]);
    let review = reviewed(&library, SLAB);
    let (places, _) = layouts(&review);
    let [place] = places.as_slice() else { panic!("{places:?}") };
    assert_eq!(place.point, "s1");
    let offer = place.offer.as_ref().unwrap();
    assert_eq!(offer.by, Shift::level(Ratio::zero(), feet(-3)));
    assert_eq!(names(&review, &offer.stops), ["florida-existing/points-off-the-perimeter"]);
    assert_eq!(
        sets(&offer.changes),
        pairs(&[
            ("systems.main.suction_points.s1.from_walls.north", "6 ft"),
            ("systems.main.runs.along.south", "11 ft")
        ])
    );
}

#[test]
fn so_many_suction_points_are_asked_for_as_the_area_takes() {
    // 60 ft x 50 ft are 3000 sq ft; at 1300 sq ft to each point that takes three, two more than there are.
    let library = Library::with(&[]);
    let text = lay_over(SLAB, &[("foundation.areas.floor.size", "60 ft x 50 ft")], &[]).unwrap();
    let review = reviewed(&library, &text);
    let (_, needed) = layouts(&review);
    let more: Vec<_> =
        needed.iter().map(|one| (name_of(&review, &one.asked), one.area.clone(), one.more)).collect();
    assert_eq!(more, [("florida-existing/area-per-suction-point".to_owned(), Some("floor".to_owned()), 2)]);
}

#[test]
fn a_suction_point_that_draws_through_a_lid_stays_at_its_sump() {
    let text = lay_over(SLAB, &[("systems.main.suction_points.s1.sump", "pit")], &[]).unwrap();
    let (tree, _) = scan::read(DESIGN, &text);
    let stuck = suction_point(&tree, "main", "s1", &Shift::level(feet(1), Ratio::zero()));
    assert!(matches!(stuck, Err(Stuck::Pipe(_))));
}
