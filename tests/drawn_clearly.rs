//! Drawings that are read without doubt: signs that hide none, labels that are read for what they name, nothing lost
//! beside, and lines that are told apart in grey.

use undercroft::drawing::scene::{Form, Frame, Layer, Pen, Spot};
use undercroft::drawing::{Sheet, Which};

use super::commands::{example, example_names};
use super::drawings::{sheets, words};

/// A box with more room at its sides, and above and below.
fn wider(of: &Frame, aside: f64, above: f64) -> Frame {
    let mut frame = *of;
    frame.low.x -= aside;
    frame.high.x += aside;
    frame.low.y -= above;
    frame.high.y += above;
    frame
}

/// How far a box is from a stroke, found by walking along the stroke in steps of half a point.
fn away(of: &Frame, (from, to): (Spot, Spot)) -> f64 {
    let long = (to.x - from.x).hypot(to.y - from.y);
    let steps = (long * 2.0).ceil().max(1.0) as u32;
    let at = |step: u32| {
        let share = f64::from(step) / f64::from(steps);
        let (x, y) = (from.x + (to.x - from.x) * share, from.y + (to.y - from.y) * share);
        (x - x.clamp(of.low.x, of.high.x)).hypot(y - y.clamp(of.low.y, of.high.y))
    };
    (0..=steps).map(at).fold(f64::INFINITY, f64::min)
}

/// No sign lies over another, and every sign that the legend tells stands on the sheet.
pub(crate) fn signs_are_whole(name: &str, sheet: &Sheet) {
    for (at, (one, what)) in sheet.signs.iter().enumerate() {
        for (other, beside) in sheet.signs.iter().skip(at + 1) {
            assert!(
                !one.meets(other),
                "{name}: the sign of a {what} and that of a {beside} lie over one another"
            );
        }
    }
    // The words of the legend stand to the right of its samples; a line of the notes may be the same word.
    let on_sheet = sheet.marks.iter().filter(|mark| mark.layer == Layer::Sheet);
    let on_sheet = on_sheet.filter_map(|mark| match &mark.form {
        Form::Words { at, words, .. } => Some((at.x, words.as_str())),
        _ => None,
    });
    let on_sheet: Vec<(f64, &str)> = on_sheet.collect();
    let title = on_sheet.iter().find(|(_, line)| *line == "Legend").map(|(x, _)| x + 30.0).unwrap();
    let legend = on_sheet.iter().filter(|(x, _)| (x - title).abs() < 0.01).map(|(_, line)| *line);
    let legend: Vec<&str> = legend.collect();
    for what in
        ["fan", "discharge", "suction point", "sump", "drain", "test hole", "valve", "pipe rises here"]
    {
        let told = legend.contains(&what);
        let drawn = sheet.signs.iter().any(|(_, sign)| *sign == what);
        assert_eq!(told, drawn, "{name}: {what}: in the legend {told}, on the sheet {drawn}");
    }
}

/// No two labels lie over one another or read as one, none covers a sign, an opening or pipe, and where something else is
/// nearer to a label than what it names a stroke leads to that.
pub(crate) fn labels_are_read_for_what_they_name(name: &str, sheet: &Sheet) {
    let pipes: Vec<(Spot, Spot)> = sheet
        .marks
        .iter()
        .filter(|mark| mark.layer == Layer::Pipe && matches!(mark.pen, Pen::Suction | Pen::Pressure))
        .flat_map(|mark| match &mark.form {
            Form::Path { points, .. } => points.windows(2).map(|ends| (ends[0], ends[1])).collect(),
            _ => Vec::new(),
        })
        .collect();
    let nearest = |of: &Frame, strokes: &[(Spot, Spot)]| {
        strokes.iter().map(|stroke| away(of, *stroke)).fold(f64::INFINITY, f64::min)
    };
    for (at, one) in sheet.labels.iter().enumerate() {
        // Four points to the side are two spaces: closer words would read as one line.
        let room = wider(&one.frame, 4.0, 1.0);
        for other in sheet.labels.iter().skip(at + 1) {
            assert!(!room.meets(&other.frame), "{name}: two labels run together: {one:?} {other:?}");
        }
        for free in &sheet.kept_free {
            assert!(!free.meets(&one.frame), "{name}: a label covers a sign or an opening: {one:?}");
        }
        assert!(nearest(&one.frame, &pipes) > 0.0, "{name}: a label covers pipe: {one:?}");
        let (own, other) = (nearest(&one.frame, &one.own), nearest(&one.frame, &one.others));
        assert!(
            one.leader.is_some() || one.own.is_empty() || own <= other,
            "{name}: a label is {own} from what it names, {other} from another: {one:?}"
        );
    }
}

#[test]
fn every_sheet_of_every_example_holds_all_that_is_to_be_told() {
    for number in example_names() {
        for (which, paper, sheet) in sheets(&example(&number)) {
            let beside = words(&sheet, Layer::Sheet).join(" ");
            // Every flag has its row beside.
            for row in
                sheet.marks.iter().filter(|mark| mark.layer == Layer::Labels).flat_map(|mark| &mark.flags)
            {
                let told = beside.contains(&format!("- {row} "));
                assert!(told, "{number}, {which:?} on {paper:?}: finding {row} is not told");
            }
            for lost in ["For which there was no room", "they stand in the words of this sheet", "\u{2026}"] {
                assert!(!beside.contains(lost), "{number}, {which:?} on {paper:?}: {lost}");
            }
        }
    }
}

#[test]
fn things_on_one_spot_are_each_drawn_with_a_sign_of_their_own() {
    // In the first example the fan, the discharge straight over it, the pipe up to that and the pipe down from it stand on
    // one spot of the plan; each of the two suction points lies under a pipe that drops to it.
    let sheets = sheets(&example("01"));
    let (.., plan) = sheets.iter().find(|(which, ..)| *which == Which::Plan).unwrap();
    let count = |what: &str| plan.signs.iter().filter(|(_, sign)| *sign == what).count();
    let found = ["fan", "discharge", "suction point", "pipe rises here", "pipe drops here"].map(count);
    assert_eq!(found, [1, 1, 2, 1, 3]);
}

/// How a pen draws a line, as it is told from others in grey: how wide it is, and its strokes and gaps.
fn in_grey(pen: Pen) -> (f64, Vec<f64>) {
    let look = pen.look();
    (look.width, look.dashes.to_vec())
}

#[test]
fn lines_that_stand_on_one_sheet_are_told_apart_without_colour() {
    let elevation = [
        Pen::Zone,
        Pen::Height,
        Pen::Floor,
        Pen::Unsure,
        Pen::Far,
        Pen::Property,
        Pen::Above,
        Pen::Plumb,
        Pen::Wall,
        Pen::Edge,
        Pen::Suction,
        Pen::Pressure,
    ];
    let plan = [
        Pen::Wall,
        Pen::Unsure,
        Pen::Footing,
        Pen::Loop,
        Pen::Property,
        Pen::Above,
        Pen::Suction,
        Pen::Pressure,
    ];
    for sheet in [elevation.as_slice(), plan.as_slice()] {
        for (at, one) in sheet.iter().enumerate() {
            for other in sheet.iter().skip(at + 1) {
                let ((wide, strokes), (broad, others)) = (in_grey(*one), in_grey(*other));
                // Wider by a third, another number of strokes in turn, or strokes of half as much again.
                let by_width = wide.max(broad) / wide.min(broad) > 1.33;
                let by_turn = strokes.len() != others.len();
                let longest = |of: &[f64]| of.iter().copied().fold(0.0, f64::max);
                let by_length =
                    longest(&strokes).max(longest(&others)) > 1.5 * longest(&strokes).min(longest(&others));
                assert!(by_width || by_turn || by_length, "{one:?} and {other:?} look alike in grey");
            }
        }
    }
}
