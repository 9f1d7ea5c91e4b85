//! Sheets over soil and under slabs: strips by the width of the roll over the real outline, laps, turn-ups, seams and
//! edges.

use crate::base::number::{Number, Ratio};
use crate::base::value::{Answer, Missing, Reason};
use crate::calc::amounts::{Amount, Length};
use crate::calc::geometry::{Outline, PlanPoint};
use crate::calc::takeoff::{Cover, Lie, Strips, cut_plan, strips};
use crate::design::model::foundation::Area;
use crate::design::model::membrane::{ClosedBy, HeldBy, Seams};
use crate::yaml::entry::Here;
use crate::yaml::shape::{self, Size};
use crate::yaml::words::Words;

use super::desk::{Desk, most, shown_length, spoken, want};
use super::sealing::{Opening, along};
use super::usual;
use super::{Group, Line};

/// A sheet, over soil or under a slab.
struct Laying<'d> {
    name: String,
    here: &'d Here,
    what: String,
    outline: Answer<Outline>,
    lap: Answer<Ratio>,
    turn_up: Answer<Ratio>,
    seams: Answer<Option<ClosedBy>>,
    edges: Answer<Option<ClosedBy>>,
}

/// Counts the sheets of all areas.
pub(super) fn membranes(desk: &mut Desk<'_, '_>) {
    let areas: Vec<(&str, &Area)> = desk.design.foundation.areas.things().collect();
    for (key, area) in areas {
        if let Some(membrane) = area.membrane.known() {
            let lap = match membrane.lap.known() {
                Some(lap) => Answer::known(most(&lap.measure.number())),
                None => Answer::Unknown(want(&membrane.lap, &membrane.here, None)),
            };
            let edges = membrane.edges.known();
            let turn_up = match edges.and_then(|edges| edges.turn_up.known()) {
                Some(up) => Answer::known(most(&up.measure.number())),
                None => Answer::Unknown(match edges {
                    Some(edges) => want(&edges.turn_up, &edges.here, None),
                    None => want(&membrane.edges, &membrane.here, Some("turn_up")),
                }),
            };
            let seams = closing(
                membrane.seams.known().copied(),
                membrane.seams_with.known().copied(),
                want(&membrane.seams, &membrane.here, None),
                want(&membrane.seams_with, &membrane.here, None),
            );
            let sealed = edges.and_then(|edges| edges.sealed.known()).copied();
            let edges_with = match (edges, sealed) {
                (Some(edges), Some(true)) if !edges.sealed_with.is_none() => {
                    match edges.sealed_with.known() {
                        Some(with) => Answer::known(Some(*with)),
                        None => Answer::Unknown(want(&edges.sealed_with, &edges.here, None)),
                    }
                }
                (Some(_), _) => Answer::known(None),
                (None, _) => Answer::Unknown(want(&membrane.edges, &membrane.here, None)),
            };
            let outline = if membrane.outline.is_missing() {
                shape(area)
            } else {
                corners(membrane.outline.members(), want(&membrane.outline, &membrane.here, None))
            };
            let name = format!("{} membrane", spoken(key));
            let thickness = membrane.thickness.known().map(|thick| thick.quantity.to_string());
            let material = membrane.material.known().map(|material| material.as_str().to_owned());
            let what = thickness.into_iter().chain(material).collect::<Vec<_>>().join(" ");
            let laying = Laying {
                name: name.clone(),
                here: &membrane.here,
                what,
                outline,
                lap,
                turn_up,
                seams,
                edges: edges_with,
            };
            lay(desk, &laying, edges.and_then(|edges| edges.held_by.known()).copied());
            piers(desk, &name, area);
            through(desk, area);
        }
        under_slab(desk, key, area);
    }
}

/// What closes seams: nothing where they lie loose, tape or sealant as stated.
fn closing(
    seams: Option<Seams>,
    with: Option<ClosedBy>,
    no_seams: Vec<Missing>,
    no_with: Vec<Missing>,
) -> Answer<Option<ClosedBy>> {
    match (seams, with) {
        (Some(Seams::Loose), _) => Answer::known(None),
        (_, Some(with)) => Answer::known(Some(with)),
        (Some(Seams::Taped), None) => Answer::known(Some(ClosedBy::Tape)),
        (Some(Seams::Welded), None) => Answer::known(Some(ClosedBy::Weld)),
        (Some(Seams::Sealed), None) => Answer::Unknown(no_with),
        (None, None) => Answer::Unknown(no_seams),
    }
}

/// The sheet between fill and slab.
fn under_slab(desk: &mut Desk<'_, '_>, key: &str, area: &Area) {
    let Some(sheet) = area.under_slab.known().and_then(|under| under.sheet.known()) else { return };
    let lap = match sheet.lap.known() {
        Some(lap) => Answer::known(most(&lap.measure.number())),
        None => Answer::Unknown(want(&sheet.lap, &sheet.here, None)),
    };
    let turn_up = match sheet.turn_up.known() {
        Some(up) => Answer::known(most(&up.number())),
        None if sheet.turn_up.is_none() => Answer::known(Ratio::ZERO),
        None => Answer::Unknown(want(&sheet.turn_up, &sheet.here, None)),
    };
    let seams = closing(
        sheet.seams.known().copied(),
        sheet.seams_with.known().copied(),
        want(&sheet.seams, &sheet.here, None),
        want(&sheet.seams_with, &sheet.here, None),
    );
    let thickness = sheet.thickness.known().map(|thick| thick.quantity.to_string());
    let material = sheet.material.known().map(|material| material.as_str().to_owned());
    let laying = Laying {
        name: format!("sheet under {}", spoken(key)),
        here: &sheet.here,
        what: thickness.into_iter().chain(material).collect::<Vec<_>>().join(" "),
        outline: shape(area),
        lap,
        turn_up,
        seams,
        // What seals its edge is not an entry of its own.
        edges: Answer::known(None),
    };
    lay(desk, &laying, None);
}

/// The outline of an area, or its size laid anywhere: where it lies is of no matter here.
fn shape(area: &Area) -> Answer<Outline> {
    if !area.outline.is_missing() {
        return corners(area.outline.members(), want(&area.outline, &area.here, None));
    }
    let missing = || want(&area.size, &area.here, None);
    let origin = PlanPoint::new(Ratio::ZERO, Ratio::ZERO);
    let made = match area.size.known() {
        Some(Size::Rectangle(sides)) => {
            Outline::rectangle(&origin, &most(&sides.first.number), &most(&sides.second.number))
        }
        Some(Size::L(first, second)) => Outline::ell(
            &origin,
            (&most(&first.first.number), &most(&first.second.number)),
            (&most(&second.first.number), &most(&second.second.number)),
        ),
        None => return Answer::Unknown(missing()),
    };
    made.map_or_else(|_| Answer::Unknown(not_made(missing())), Answer::known)
}

fn corners<'d>(points: impl Iterator<Item = &'d shape::PlanPoint>, want: Vec<Missing>) -> Answer<Outline> {
    let all = Answer::all(points.map(shape::PlanPoint::coordinates));
    all.then(|points| {
        let corners = points.iter().map(|(x, y)| PlanPoint::new(x.low(), y.low())).collect();
        Outline::new(corners).map_or_else(|_| Answer::Unknown(not_made(want)), Answer::known)
    })
}

fn not_made(missing: Vec<Missing>) -> Vec<Missing> {
    let why = || Reason::NotComputable("its corners make no outline".to_owned());
    missing.into_iter().map(|one| Missing { reason: why(), ..one }).collect()
}

/// Lays a sheet: strips, rolls, seams, edge.
fn lay(desk: &mut Desk<'_, '_>, of: &Laying<'_>, held_by: Option<HeldBy>) {
    let Some(outline) = desk.or_lacks(Group::Membrane, format!("the {}", of.name), of.outline.clone()) else {
        return;
    };
    let measures = of.lap.clone().both(of.turn_up.clone());
    let roll = usual::membrane(desk.shop);
    let what = format!("the strips of the {}", of.name);
    let Some((lap, up)) = desk.or_lacks(Group::Membrane, what.clone(), measures) else {
        let line = Line::of(Group::Membrane, "sheet for the floor alone", of.what.clone());
        desk.add(
            line.area(&outline.area(), of.name.clone(), of.here)
                .note("Without laps and turn-ups, which are not stated: the rolls cannot be told."),
        );
        return;
    };
    let long = |ratio: &Ratio| Length::from_number(&Number::exact(ratio.clone()));
    let cover = long(&up).zip(long(&roll.width)).zip(long(&lap));
    let cover = cover.map(|((turn_up, roll), lap)| Cover { turn_up, roll, lap });
    let laid = cover.and_then(|cover| {
        let both = [Lie::Eastward, Lie::Northward].map(|lie| strips(&outline, &cover, lie).ok());
        let [east, north] = both;
        match (east, north) {
            (Some(east), Some(north)) => {
                let less = north.off_the_roll.to_si() < east.off_the_roll.to_si() - 1e-9;
                Some(if less { (north, "south to north") } else { (east, "west to east") })
            }
            (Some(only), None) => Some((only, "west to east")),
            (None, Some(only)) => Some((only, "south to north")),
            (None, None) => None,
        }
    });
    let Some((laid, lie)) = laid else {
        let missing = Missing {
            entry: of.here.path.clone(),
            reason: Reason::NotComputable("its sizes are out of any range that can be laid".to_owned()),
            at: Some(of.here.at),
        };
        desk.lacks(Group::Membrane, what, vec![missing]);
        return;
    };
    on_the_roll(desk, of, &laid, lie, &roll);
    let edge = laid.edge.to_number().high();
    let seams = laid.seams.to_number().high();
    closed(desk, of, of.seams.clone(), "seams", &seams);
    closed(desk, of, of.edges.clone(), "edge", &edge);
    if let Some(held) = held_by.filter(|held| *held == HeldBy::Batten) {
        let line = Line::of(Group::Membrane, held.spelling(), "with its screws and anchors");
        let waste = usual::waste(desk.shop);
        let length = &edge * (&Ratio::ONE + &waste.value);
        desk.add(line.length(&usual::to_the_inch(&length), of.name.clone(), of.here).assumes(waste.said));
    } else if let Some(held) = held_by {
        let line = Line::of(Group::Membrane, format!("to hold the edge: {}", held.spelling()), "");
        desk.add(line.length(&usual::to_the_inch(&edge), of.name.clone(), of.here));
    }
}

fn on_the_roll(desk: &mut Desk<'_, '_>, of: &Laying<'_>, laid: &Strips, lie: &str, roll: &usual::Roll) {
    let lengths: Vec<Ratio> =
        laid.strips.iter().map(|strip| usual::to_the_eighth(&strip.to_number())).collect();
    let rolls = cut_plan(&lengths, &roll.length, &Ratio::ZERO).map_or(0, |plan| plan.sticks.len());
    let mut parts: Vec<(usize, &Ratio)> = Vec::new();
    for length in &lengths {
        match parts.iter_mut().find(|(_, known)| *known == length) {
            Some((count, _)) => *count += 1,
            None => parts.push((1, length)),
        }
    }
    let said: Vec<String> =
        parts.iter().map(|(count, length)| format!("{count} of {}", shown_length(length))).collect();
    let strips = if lengths.len() == 1 { "strip" } else { "strips" };
    let line = Line::of(Group::Membrane, "sheet", of.what.clone())
        .packs(rolls, format!("roll of {}", roll.called), format!("rolls of {}", roll.called))
        .used(of.name.clone(), of.here)
        .note(format!("{}: {strips} from {lie}: {}, laps and turn-ups in it", of.name, said.join(", ")))
        .assumes(roll.said.clone())
        .assumes("nothing is taken off for piers: sheets are cut round them");
    desk.add(line);
}

fn closed(
    desk: &mut Desk<'_, '_>,
    of: &Laying<'_>,
    with: Answer<Option<ClosedBy>>,
    what: &str,
    length: &Ratio,
) {
    let called = format!("{what} of {}", of.name);
    let lacks = format!("what closes the {what} of {}", of.name);
    if let Some(Some(with)) = desk.or_lacks(Group::Sealing, lacks, with)
        && length.signum() > 0
    {
        along(desk, Opening { what: called, here: of.here, with }, length);
    }
}

/// What seals a membrane to the piers that stand in it.
fn piers(desk: &mut Desk<'_, '_>, name: &str, area: &Area) {
    let Some(membrane) = area.membrane.known() else { return };
    let Some(edges) = membrane.piers.known() else { return };
    let count = match area.piers.known() {
        Some(count) if count.0 == 0 => return,
        Some(count) => count.0,
        None if area.piers.is_none() => return,
        None => {
            let missing = want(&area.piers, &area.here, None);
            desk.lacks(Group::Membrane, format!("the collars round the piers in the {name}"), missing);
            return;
        }
    };
    let what = format!("the collars round the piers in the {name}");
    let Some(taken) = area.pier_area.known() else {
        desk.lacks(Group::Membrane, what, want(&area.pier_area, &area.here, None));
        return;
    };
    let each = most(&taken.number()).checked_div(&Ratio::from(i64::from(count))).unwrap_or_default();
    let side = Number::root(each).high();
    let round = side * Ratio::from(4) * Ratio::from(i64::from(count));
    let square = "piers are square and alike";
    let mut line = Line::of(Group::Membrane, "collars of membrane round piers", "")
        .length(&usual::to_the_inch(&round), name, &edges.here)
        .assumes(square);
    if let Some(up) = edges.turn_up.known() {
        line = line.note(format!("{}: turned up {}", name, up.measure.quantity));
    }
    desk.add(line);
    if edges.sealed.known() == Some(&true) {
        match membrane.seams_with.known() {
            Some(with) => along(
                desk,
                Opening { what: format!("piers in {name}"), here: &edges.here, with: *with },
                &round,
            ),
            None => {
                let missing = want(&membrane.seams_with, &membrane.here, None);
                desk.lacks(Group::Sealing, format!("what seals the {name} to the piers"), missing);
            }
        }
    }
}

/// What passes through a membrane.
fn through(desk: &mut Desk<'_, '_>, area: &Area) {
    let Some(membrane) = area.membrane.known() else { return };
    for (key, one) in membrane.penetrations.things() {
        let count = one.count.known().map_or(1, |count| count.0);
        let what = one.what.known().map_or_else(|| spoken(key), |what| what.as_str().to_owned());
        match one.sealed_with.known() {
            Some(with) => {
                let part = format!("patch or collar, closed with {}", with.spelling());
                desk.add(Line::of(Group::Membrane, part, "").count(count, what, &one.here));
            }
            None if one.sealed.known() == Some(&true) && !one.sealed_with.is_none() => {
                let missing = want(&one.sealed_with, &one.here, None);
                desk.lacks(Group::Sealing, format!("what closes the membrane round {what}"), missing);
            }
            None => {}
        }
    }
}
