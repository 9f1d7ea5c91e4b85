//! Drawings: labels that do not lie over one another, all of it on the paper, signs that the legend tells, text that
//! stays text; the drawings of the examples as committed.

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::LazyLock;

use undercroft::app::host::memory::Memory;
use undercroft::drawing::scene::{Form, Frame, Layer, Mark, Pen};
use undercroft::drawing::{Paper, Sheet, Which, drawn, numbers};
use undercroft::findings::Comes;
use undercroft::render::svg;
use undercroft::review::as_drawn::as_drawn;
use undercroft::review::books::BookFile;
use undercroft::review::{Explained, Input, Library, review};
use undercroft::yaml::splice::lay_over;

use super::commands::{call, example, example_names, examples};
use super::drawn_clearly::{labels_are_read_for_what_they_name, signs_are_whole};
use super::laws::random::Lots;
use super::pdf::reader::Read;

const SHEETS: [Which; 3] = [Which::Plan, Which::Elevation(None), Which::Riser];
const PAPERS: [Paper; 2] = [Paper::Letter, Paper::A4];

/// The books that come with the program and those that examples bring along.
pub(crate) static LIBRARY: LazyLock<Library> = LazyLock::new(|| {
    let world = examples();
    let brought = world.files.iter().filter_map(|(path, bytes)| {
        let (_, path) = path.split_once("/rulebooks/")?;
        Some(BookFile { path: path.to_owned(), shown: path.to_owned(), bytes: bytes.clone() })
    });
    Library::with(&brought.collect::<Vec<_>>())
});

/// The sheets of a design, each on each paper.
pub(crate) fn sheets(text: &str) -> Vec<(Which, Paper, Sheet)> {
    let input =
        Input { name: "a.yaml", bytes: text.as_bytes(), explained: Explained::OnThePage, ..Input::default() };
    let review = review(&input, &LIBRARY);
    let taken = as_drawn(&review, &input);
    let each = |which| {
        let drawing = drawn(&review, &taken, which);
        PAPERS.map(|paper| (which, paper, drawing.on(paper)))
    };
    SHEETS.into_iter().flat_map(each).collect()
}

/// What holds of every sheet.
pub(crate) fn is_sound(name: &str, (which, paper, sheet): &(Which, Paper, Sheet)) {
    let name = format!("{name}, {which:?} on {paper:?}");
    signs_are_whole(&name, sheet);
    labels_are_read_for_what_they_name(&name, sheet);
    // A quarter of an inch at every edge that a printer may not reach.
    let edge = 18.0;
    for mark in &sheet.marks {
        let Some(Frame { low, high }) = mark.extent() else { continue };
        let within =
            low.x >= edge && low.y >= edge && high.x <= sheet.width - edge && high.y <= sheet.height - edge;
        assert!(within, "{name}: off the paper: {mark:?}");
        if let Form::Words { size, words, .. } = &mark.form {
            assert!(*size >= 7.0, "{name}: too small to read: {words}");
        }
    }
    let picture = svg::document(sheet);
    let read =
        roxmltree::Document::parse(&picture).unwrap_or_else(|fault| panic!("{name}: {fault}\n{picture}"));
    let known = ["svg", "title", "desc", "style", "rect", "g", "path", "circle", "text"];
    for node in read.descendants().filter(roxmltree::Node::is_element) {
        assert!(known.contains(&node.tag_name().name()), "{name}: {node:?}");
        let asks = |name: &str| name.starts_with("on") || name.contains("href");
        assert!(!node.attributes().any(|attribute| asks(attribute.name())), "{name}: {node:?}");
    }
    assert_eq!(picture, svg::document(sheet), "{name}");
    the_legend_tells(&name, sheet);
}

/// What is drawn with a pen that means something stands in the legend.
fn the_legend_tells(name: &str, sheet: &Sheet) {
    let legend = words(sheet, Layer::Sheet);
    let told = |words: &[&str]| words.iter().any(|words| legend.iter().any(|line| line.starts_with(words)));
    for mark in sheet.marks.iter().filter(|mark| mark.layer != Layer::Sheet) {
        let wanted: &[&str] = match mark.pen {
            Pen::Wall => &["inner face of a wall", "finished ground"],
            Pen::Unsure => &[
                "not measured, or taken for granted",
                "turned into this plane, by its tape",
                "place where people walk",
            ],
            Pen::Footing => &["footing or beam under the floor"],
            Pen::Floor => &["floor of the foundation"],
            Pen::Far => &["opening on the far side"],
            Pen::Loop => &["drain loop or collector"],
            Pen::Suction => &["pipe under suction"],
            Pen::Pressure => &["pipe under pressure"],
            Pen::Property => &["line of the property"],
            Pen::Above => &["wall or parapet above the roof"],
            Pen::Plumb => &["the discharge may stand on this line"],
            Pen::Allowed => {
                &["a discharge may stand here: all that is", "a discharge may stand here: every duty"]
            }
            Pen::Untold => &["it cannot be told whether a discharge"],
            Pen::Zone => &["clearance that a book asks for"],
            Pen::Height => &["height that a book asks for"],
            Pen::Flag => &["number of a finding, see the list", "permitted by a variance, see the list"],
            _ => continue,
        };
        assert!(told(wanted), "{name}: {:?} is not told in the legend: {legend:?}", mark.pen);
    }
}

/// The lines of words of a sheet on one layer.
pub(crate) fn words(sheet: &Sheet, layer: Layer) -> Vec<String> {
    let marks = sheet.marks.iter().filter(|mark| mark.layer == layer);
    marks
        .filter_map(|mark| match &mark.form {
            Form::Words { words, .. } => Some(words.clone()),
            _ => None,
        })
        .collect()
}

#[test]
fn drawings_of_every_example_are_sound() {
    for number in example_names() {
        for one in sheets(&example(&number)) {
            is_sound(&number, &one);
        }
    }
}

#[test]
fn the_same_design_gives_the_same_bytes() {
    let text = example("04");
    let pictures = || sheets(&text).iter().map(|(.., sheet)| svg::document(sheet)).collect::<Vec<_>>();
    assert_eq!(pictures(), pictures());
}

/// A design drawn by lot: one to three areas, runs every way, points off walls and by place, things without a place.
fn by_lot(seed: u64) -> String {
    let mut lots = Lots::new(seed);
    let mut text = String::from(
        "undercroft: 1\njob: {title: Drawn by lot}\nsite: {ground: {main: 6 ft}}\nfoundation:\n  areas:\n",
    );
    let areas = 1 + lots.below(3);
    let mut east = 0;
    for area in 0..areas {
        let (wide, deep) = (10 + lots.below(50), 8 + lots.below(40));
        let corner = if lots.one_in(4) { String::new() } else { format!(", corner: [{east} ft, 0 ft]") };
        text.push_str(&format!(
            "    area_{area}: {{kind: slab, size: {wide} ft x {deep} ft{corner}, top: 0 ft}}\n"
        ));
        east += wide;
    }
    text.push_str("systems:\n  main:\n    pipe: {material: PVC, schedule: 40, size: 4 in}\n");
    let place = |lots: &mut Lots| (lots.below(60), lots.below(40));
    let (x, y) = place(&mut lots);
    text.push_str(&format!(
        "    fan: {{at: [{x} ft, {y} ft, {} ft], in: attic}}\n    discharge: {{}}\n    runs:\n",
        8 + lots.below(12)
    ));
    text.push_str(
        "      stack: {from: fan, up: 6 ft, to: discharge}\n      riser: {from: fan, down: 9 ft}\n",
    );
    let mut points = String::new();
    for number in 0..lots.below(6) {
        let way = lots.pick(&["north", "south", "east", "west"]);
        let from =
            if number == 0 || lots.one_in(2) { "riser".to_owned() } else { format!("run_{}", number - 1) };
        text.push_str(&format!(
            "      run_{number}: {{from: {from}, {way}: {} ft {} in, slope: 1/4 in per ft, size: 3 in, valve: {{open: 40 %}}}}\n",
            1 + lots.below(30),
            lots.below(12)
        ));
        let (x, y) = place(&mut lots);
        points.push_str(&match lots.below(3) {
            0 => format!("      point_{number}: {{kind: slab, in: area_0, at: [{x} ft, {y} ft, 0 ft]}}\n"),
            1 => format!("      point_{number}: {{kind: slab, in: area_0, from_walls: {{north: {} ft, west: {} ft}}}}\n", 1 + x % 8, 1 + y % 8),
            _ => format!("      point_{number}: {{kind: sump}}\n"),
        });
    }
    if !points.is_empty() {
        text.push_str(&format!("    suction_points:\n{points}"));
    }
    text
}

#[test]
fn drawings_of_designs_by_lot_are_sound() {
    for seed in 1..=24 {
        let text = by_lot(seed);
        for one in sheets(&text) {
            is_sound(&format!("seed {seed}\n{text}"), &one);
        }
    }
}

#[test]
fn a_design_that_says_nothing_gets_a_sheet_that_says_so() {
    for one in sheets("undercroft: 1\n") {
        is_sound("an empty design", &one);
        assert!(words(&one.2, Layer::Labels).iter().any(|line| line.contains("Nothing")), "{:?}", one.0);
    }
}

#[test]
fn hostile_words_stay_words() {
    let markup = "</text><script>alert(1)</script><image href='x'/>&amp;]]>";
    for (hostile, shown) in [(markup, true), ("\u{202e}abc\u{7}<script>", false)] {
        let quoted = serde_json::to_string(hostile).unwrap();
        let values = [("job.title", quoted.as_str()), ("job.by", &quoted), ("site.origin", &quoted)];
        let text = lay_over(&example("03"), &values, &[]).unwrap();
        for one in sheets(&text) {
            is_sound("hostile words", &one);
            let picture = svg::document(&one.2);
            assert!(!picture.contains("<script") && !picture.contains("<image"), "{picture}");
            assert!(!picture.contains(['\u{202e}', '\u{7}']));
            assert!(!shown || picture.contains("&lt;script&gt;"), "{picture}");
        }
    }
    let name = "x-\\\"]}<b>";
    let named = example("03").replace("    lower: {kind: slab", &format!("    \"{name}\": {{kind: slab"));
    assert!(named.contains("x-"), "the example has an area to rename");
    for one in sheets(&named) {
        is_sound("a hostile name", &one);
    }
}

#[test]
fn a_drawing_never_takes_the_place_of_a_file() {
    let mut world = Memory::with([("a.yaml", example("04"))]);
    let wanted = ["drawings", "a.yaml", "--out", "plan.svg"];
    let came = call(&mut world, &wanted);
    assert_eq!(came.status, 0, "{}", came.told);
    let first = world.files["plan.svg"].clone();
    assert!(first.starts_with(b"<?xml"));
    world.files.insert("plan.svg".into(), b"mine".to_vec());
    let came = call(&mut world, &wanted);
    assert_eq!(came.status, 2);
    assert!(came.told.contains("already there"), "{}", came.told);
    assert_eq!(world.files["plan.svg"], b"mine");
    let printed = call(&mut world, &["drawings", "a.yaml"]).printed;
    assert_eq!(printed.as_bytes(), first);
}

#[test]
fn what_was_taken_for_granted_or_left_out_stands_on_the_sheet_and_in_its_words() {
    // No corner is stated for the lower slab, and nobody said where the fan stands.
    let text = example("03");
    for (which, _, sheet) in sheets(&text) {
        let beside = words(&sheet, Layer::Sheet).join(" ");
        assert!(beside.contains("Not drawn, because it is not known"), "{which:?}: {beside}");
        let told: BTreeSet<&str> = sheet.twin.iter().map(|part| part.title.as_str()).collect();
        assert!(told.contains("Not drawn, because it is not known"), "{which:?}: {told:?}");
        if which == Which::Plan {
            assert!(
                beside.contains("south-west corner is drawn at the origin")
                    && beside.contains("where it lies is not stated"),
                "{beside}"
            );
        }
    }
}

/// The marks of a sheet that are drawn with a pen on a layer.
pub(crate) fn with(sheet: &Sheet, layer: Layer, pen: Pen) -> Vec<&Mark> {
    sheet.marks.iter().filter(|mark| mark.layer == layer && mark.pen == pen).collect()
}

#[test]
fn lengths_on_paper_are_lengths_of_the_house() {
    // An eighth of an inch for a foot: 40 ft are 5 in of paper, or 360 points; the run north of 8 ft is 72 points. On A4 at one
    // to a hundred 40 ft are 12.192 m and so 121.92 mm of paper, or 345.6 points.
    let sheets = sheets(&example("04"));
    for (which, paper, sheet) in &sheets {
        if *which != Which::Plan {
            continue;
        }
        let walls = with(sheet, Layer::Building, Pen::Wall);
        let [wall] = walls.as_slice() else { panic!("{}", walls.len()) };
        let frame = wall.extent().unwrap();
        // 36 ft by 24 ft.
        let (wide, high) = (frame.high.x - frame.low.x, frame.high.y - frame.low.y);
        assert!((wide / high - 1.5).abs() < 1e-6, "{wide} {high}");
        let scale = words(sheet, Layer::Sheet).into_iter().find(|line| line.starts_with("Scale")).unwrap();
        let to: f64 = match paper {
            Paper::Letter => scale.split("(1:").nth(1).unwrap().trim_end_matches(')').parse().unwrap(),
            Paper::A4 => scale.split("1:").nth(1).unwrap().parse().unwrap(),
        };
        let wanted = 36.0 * 12.0 * 72.0 / to;
        assert!((wide - wanted).abs() < 0.01, "{scale}: {wide} and not {wanted}");
    }
}

#[test]
fn shading_says_whether_a_test_stands_behind_it() {
    // The fourth example has a communication test; without it nobody has tested the ground.
    let tested = example("04");
    let untested = lay_over(&tested, &[], &["diagnostics.communication"]).unwrap();
    for (text, pen, says) in [(&tested, Pen::Hatch, false), (&untested, Pen::Assumed, true)] {
        for (.., sheet) in sheets(text).into_iter().filter(|(which, ..)| *which == Which::Plan) {
            let shading: BTreeSet<Pen> =
                sheet.marks.iter().filter(|mark| mark.layer == Layer::Shading).map(|mark| mark.pen).collect();
            assert_eq!(shading, BTreeSet::from([pen]));
            let legend = words(&sheet, Layer::Sheet).join(" ");
            assert_eq!(legend.contains("assumed"), says, "{legend}");
        }
    }
}

#[test]
fn what_a_book_asks_is_drawn_as_the_book_in_force_asks_it() {
    // Ten feet from openings by the state's rule, from the nearest edge of a pipe of four inches, 4.5 in wide outside
    // (ASTM D1785): a ring of 122.25 in. A book amended to twelve feet draws one of 146.25 in.
    let of = |text: &str| {
        let found = sheets(text);
        let (.., sheet) = found
            .into_iter()
            .find(|(which, paper, _)| *which == Which::Elevation(None) && *paper == Paper::A4)
            .unwrap();
        let scale = words(&sheet, Layer::Sheet).into_iter().find(|line| line.starts_with("Scale")).unwrap();
        let to: f64 = scale.split("1:").nth(1).unwrap().parse().unwrap();
        let rings = with(&sheet, Layer::Zones, Pen::Zone).into_iter().filter_map(|mark| match &mark.form {
            Form::Ring { radius, .. } => Some(radius / 72.0 * to),
            _ => None,
        });
        rings.collect::<Vec<f64>>()
    };
    let rings = of(&example("01"));
    assert!(rings.iter().any(|inches| (inches - 122.25).abs() < 0.01), "{rings:?}");
}

/// An elevation on letter paper, the text of the labels on it, and what it says in words.
fn elevation(text: &str) -> (Sheet, String, String) {
    let found = sheets(text).into_iter();
    let (.., sheet) = found
        .into_iter()
        .find(|(which, paper, _)| *which == Which::Elevation(None) && *paper == Paper::Letter)
        .unwrap();
    let on_paper = words(&sheet, Layer::Labels).join(" ");
    let told = sheet.twin.iter().flat_map(|part| part.lines.clone()).collect::<Vec<_>>().join("\n");
    (sheet, on_paper, told)
}

#[test]
fn a_height_that_falls_short_is_dimensioned_beside_one_that_does_not() {
    // The discharge is at 13 ft, the terrace at 4 ft and the lower yard at 6 in: 9 ft and 12 ft 6 in. The state's rule asks for
    // 10 ft above the nearest ground, the federal guidance for 10 ft above all ground within 10 ft, which the terrace is.
    let (sheet, on_paper, told) = elevation(&example("04"));
    for wanted in [
        "9 ft above the ground terrace unmet (2): 10 ft asked for by epa-1994",
        "12 ft 6 in above the ground lower yard",
        "10 ft above the ground terrace: epa-1994",
        "10 ft above the ground lower yard: pennsylvania-2019, epa-1994",
        // 1 ft 8 in above the top of a window 6 ft off.
        "6 ft unmet (1): 10 ft, or an end 2 ft above its top (it is 1 ft 8 in) asked for by epa-1994",
    ] {
        assert!(on_paper.contains(wanted), "{wanted}: {on_paper}");
    }
    assert!(told.contains("9 ft above the ground terrace\nunmet (2): 10 ft asked for by epa-1994"), "{told}");
    // At an eighth of an inch to the foot a foot is 9 points. The lines lie at 4 ft and 10 ft, and at 6 in and 10 ft.
    let level: Vec<f64> = with(&sheet, Layer::Zones, Pen::Height)
        .into_iter()
        // The ticks at their ends stand upright.
        .filter(|mark| mark.extent().is_some_and(|all| all.high.x - all.low.x > 10.0))
        .map(|mark| mark.extent().unwrap().low.y)
        .collect();
    let [upper, lower] = level.as_slice() else { panic!("{level:?}") };
    assert!((lower - upper - 3.5 * 9.0).abs() < 0.01, "{level:?}");
}

#[test]
fn a_height_above_the_roof_that_falls_short_of_an_amended_rule_is_dimensioned() {
    // The file says 22 in above the roof; the town asks for 24 in.
    let (_, on_paper, told) = elevation(&example("08"));
    let wanted = "22 in above the roof surface unmet (1): 24 in asked for by lanternmoor";
    assert!(on_paper.contains(wanted), "{on_paper}");
    assert!(on_paper.contains("24 in above the roof surface: lanternmoor"), "{on_paper}");
    assert!(told.contains(&wanted.replace(" unmet", "\nunmet")), "{told}");
}

#[test]
fn an_end_below_what_it_has_to_be_above_is_dimensioned() {
    // The discharge is at 28 ft, the roof edge at 30 ft. From the window it lies 4 ft west and 1 ft 6 in north: the root of 18.25 is
    // 4.272 ft or 51.26 in, less 2.25 in to the edge of a pipe of four inches 4 ft 1 in.
    let (_, on_paper, _) = elevation(&example("09"));
    assert!(
        on_paper.contains("2 ft below the roof edge unmet (2): an end above it asked for by"),
        "{on_paper}"
    );
    assert!(
        on_paper.contains("unmet (1): 10 ft on the level (it is 4 ft 1 in), or an end 4 ft above"),
        "{on_paper}"
    );
}

#[test]
fn what_is_unmet_stands_with_its_number_and_words_on_every_sheet() {
    for name in example_names() {
        let text = example(&name);
        let input = Input {
            name: "a.yaml",
            bytes: text.as_bytes(),
            explained: Explained::OnThePage,
            ..Input::default()
        };
        let review = review(&input, &LIBRARY);
        let numbers = numbers(&review);
        let unmet = review.findings.iter().filter(|one| one.counts() && one.comes() == Comes::Unmet);
        let unmet: Vec<_> = unmet.collect();
        let sheets = sheets(&text);
        for finding in unmet {
            let clause = finding.headline().unwrap();
            let title = &review.used[clause.book].book.rules[clause.rule].title;
            let wanted = format!("- {} unmet: {title}", numbers[&finding.identity]);
            for (which, paper, sheet) in &sheets {
                let beside = words(sheet, Layer::Sheet).join(" ");
                assert!(beside.contains(&wanted), "{name}, {which:?} on {paper:?}: {wanted}: {beside}");
            }
        }
    }
}

#[test]
fn what_a_variance_permits_has_a_mark_of_its_own() {
    // The paper 26-017 excuses 8 ft 3 in from the bath window until the end of May 2028.
    let (sheet, on_paper, _) = elevation(&example("07"));
    let beside = words(&sheet, Layer::Sheet).join(" ");
    for wanted in [
        "permitted by a variance, see the list",
        "V1 permitted by a variance until 2028-05-31 (26-017, Town of Alder, building office)",
    ] {
        assert!(beside.contains(wanted), "{wanted}: {beside}");
    }
    assert!(on_paper.contains("8 ft 3 in unmet, permitted by a variance (V1): 10 ft"), "{on_paper}");
    let flags = with(&sheet, Layer::Labels, Pen::Flag);
    assert_eq!(flags.len(), 1, "the window alone is marked");
    // A plan on which the window has a place marks it there.
    let placed = example("07").replace(
        "bath_window: {kind: window,",
        "bath_window: {kind: window, corners: [[0 ft, 4 ft, 20 ft], [0 ft, 6 ft, 23 ft]],",
    );
    assert_ne!(placed, example("07"));
    let found = sheets(&placed);
    let (.., plan) = found.iter().find(|(which, ..)| *which == Which::Plan).unwrap();
    assert!(plan.twin.iter().flat_map(|part| &part.lines).any(|line| line.contains("bath window")));
}

#[test]
fn a_sheet_with_nothing_on_it_says_what_is_not_known() {
    let (_, on_paper, _) = elevation(&example("03"));
    for wanted in [
        "Nothing of this can be drawn yet.",
        "the height of the finished ground above the origin",
        "roof: the height of its edge",
    ] {
        assert!(on_paper.contains(wanted), "{wanted}: {on_paper}");
    }
}

#[test]
fn suction_that_waits_for_another_area_says_why() {
    // One fan draws on both floors of the first example, and nobody said what lies under the crawlspace.
    let found = sheets(&example("01"));
    let (.., plan) = found.iter().find(|(which, ..)| *which == Which::Plan).unwrap();
    let lines: Vec<&String> = plan.twin.iter().flat_map(|part| &part.lines).collect();
    let of = |words: &str| lines.iter().any(|line| line.starts_with(words));
    assert!(of("suction under basement, where the same fan draws on crawl: not known: crawl under slab:"));
    assert!(of("suction under crawl: not known: crawl under slab:"));
}

#[test]
fn designed_air_that_lies_far_from_what_is_worked_out_is_told() {
    // Designed for 50 cfm. By the communication test the ground gives 40 cfm at 10 in of water; at the 3.8 in that the fan makes
    // at most, between 40 times 0.38 and 40 times its root: 15.2 to 24.7 cfm, less than three quarters of 50.
    let found = sheets(&example("04"));
    let (.., riser) = found.iter().find(|(which, ..)| *which == Which::Riser).unwrap();
    let beside = words(riser, Layer::Sheet).join(" ");
    assert!(beside.contains("Stated and worked out lie far apart"), "{beside}");
    assert!(beside.contains("designed for 50 cfm at 1.6 in WC"), "{beside}");
    // Within a quarter of what is worked out there is nothing to tell.
    let near = lay_over(&example("04"), &[("systems.main.design_point.flow", "20 cfm")], &[]).unwrap();
    let found = sheets(&near);
    let (.., riser) = found.iter().find(|(which, ..)| *which == Which::Riser).unwrap();
    assert!(!words(riser, Layer::Sheet).join(" ").contains("lie far apart"));
}

#[test]
fn a_sheet_with_heights_says_where_they_are_measured_from() {
    let text = example("04");
    let said = words(&elevation(&text).0, Layer::Sheet).join(" ");
    assert!(
        said.contains("above the origin: south-west corner of the basement on the plan, level of the walk")
    );
    // Without words for the origin, what lies at its level says which it is, where anything does.
    let silent = lay_over(&text, &[], &["site.origin"]).unwrap();
    let said = words(&elevation(&silent).0, Layer::Sheet).join(" ");
    assert!(said.contains("above level 0 of the file; what that is, is not stated."), "{said}");
    let floor = lay_over(&silent, &[("foundation.areas.basement.top", "0 ft")], &[]).unwrap();
    let said = words(&elevation(&floor).0, Layer::Sheet).join(" ");
    assert!(said.contains("above level 0 of the file: the floor of basement."), "{said}");
}

#[test]
fn without_a_sheet_named_all_go_on_paper_and_one_on_the_screen_names_the_others() {
    let mut world = Memory::with([("a.yaml", example("04"))]);
    let came = call(&mut world, &["drawings", "a.yaml"]);
    assert!(came.told.contains("--sheet elevation and --sheet riser"), "{}", came.told);
    let came = call(&mut world, &["drawings", "a.yaml", "--sheet", "plan"]);
    assert_eq!(came.told, "");
    for (more, wanted) in [(&[][..], 3), (&["--sheet", "riser"], 1)] {
        let asked = [&["drawings", "a.yaml", "--as", "pdf", "--out", "a.pdf"], more].concat();
        assert_eq!(call(&mut world, &asked).status, 0);
        let read = Read::of(&world.files.remove("a.pdf").unwrap());
        let lying = read.pages.iter().filter(|page| page.wide > page.high).count();
        assert_eq!(lying, wanted, "{more:?}");
    }
}

#[test]
fn the_drawings_beside_the_examples_are_as_the_program_draws_them() {
    let mut changed = Vec::new();
    for name in example_names() {
        for (which, paper, sheet) in sheets(&example(&name)) {
            let file = match which {
                Which::Plan => "plan.svg",
                Which::Elevation(_) => "elevation.svg",
                Which::Riser => "riser.svg",
            };
            if paper != Paper::Letter {
                continue;
            }
            let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(&name).join(file);
            let picture = svg::document(&sheet);
            assert!(picture.len() < 90_000, "{name} {file} has grown to {} bytes", picture.len());
            if std::fs::read_to_string(&path).ok().as_deref() != Some(&picture) {
                std::fs::write(&path, &picture).unwrap();
                changed.push(format!("{name}/{file}"));
            }
        }
    }
    assert!(changed.is_empty(), "written anew, look at them: {changed:?}");
}
