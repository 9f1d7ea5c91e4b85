//! Sizes against outlines, and counts against what is listed.

use crate::base::number::quantity::Size as Sides;
use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::Answer;
use crate::design::model::building::SpaceKind;
use crate::yaml::entry::{Entry, Here, ListOf};
use crate::yaml::shape::{PlanPoint, Size};

use super::super::ask::Ask;
use super::super::kinds::Kind;
use super::super::lies;
use super::super::outlines;
use super::super::statements::{half_of, settle};
use super::impossible::Impossible;

/// Settles the sides of every rectangle with the outline that is stated beside it, and the floor area of every space
/// with its size, and the width and height of every opening with its corners.
pub(super) fn sizes(ask: &mut Ask<'_>) {
    for kind in [Kind::Opening, Kind::NeighbourOpening, Kind::Intake] {
        for it in ask.things().all(kind) {
            lies::settle_sizes(ask, it);
        }
    }
    let design = ask.design();
    for (name, area) in design.foundation.areas.things() {
        sides(ask, name, &area.here, &area.size, &area.outline);
        for (name, clear) in area.keep_clear.things() {
            sides(ask, name, &clear.here, &clear.size, &clear.outline);
        }
    }
    for (name, space) in design.building.spaces.things() {
        sides(ask, name, &space.here, &space.size, &space.outline);
        let Some(Size::Rectangle(size)) = space.size.known() else { continue };
        let Some(stated) = space.floor_area.known() else { continue };
        let floor_area = ask
            .statement(space.floor_area.want(&space.here), |ask| ask.quantity(&space.here, &space.floor_area))
            .off_by(half_of(stated.quantity.step()));
        let product = ask
            .statement(space.size.want(&space.here), |ask| {
                let _ = ask.read(&space.here, &space.size);
                ask.is_number(None, Ratio::ZERO);
                Answer::known(&size.first.number * &size.second.number)
            })
            .off_by(off(size));
        let what = |_: &Ask<'_>| format!("the floor area of {name}");
        let none = || space.size.want(&space.here);
        let _ = settle(ask, what, Dimension::AREA, vec![floor_area, product], none);
    }
}

/// By how much the product of two sides can be off, for how closely they are written.
fn off(size: &Sides) -> Ratio {
    let half = half_of(size.first.step()).max(half_of(size.second.step()));
    &half * &(&size.first.number.high() + &size.second.number.high())
}

/// Settles the two sides of a rectangle with how far its outline reaches.
fn sides<'d>(
    ask: &mut Ask<'d>,
    name: &str,
    here: &'d Here,
    size: &'d Entry<Size>,
    outline: &'d Entry<ListOf<PlanPoint>>,
) {
    let Some(Size::Rectangle(rectangle)) = size.known() else { return };
    if outline.is_missing() {
        return;
    }
    for (from_east_to_west, way) in [(true, "from east to west"), (false, "from north to south")] {
        let side = if from_east_to_west { &rectangle.first } else { &rectangle.second };
        let by_size = ask.statement(size.want(here), |ask| {
            let _ = ask.read(here, size);
            ask.is_number(Some(&side.style), half_of(side.step()));
            Answer::known(side.number.clone())
        });
        let by_outline = ask.statement(outline.want(here), |ask| {
            let found = outlines::outline(ask, here, outline);
            ask.is_number(None, &outlines::slack_in_plan(outline) * &Ratio::from(2));
            found.then(|found| {
                let along = |corner: &crate::calc::geometry::PlanPoint| {
                    if from_east_to_west { corner.x.clone() } else { corner.y.clone() }
                };
                let ends = (found.corners().iter().map(along).min(), found.corners().iter().map(along).max());
                match ends {
                    (Some(low), Some(high)) => Answer::known(Number::exact(&high - &low)),
                    _ => Answer::missing(outline.want(here)),
                }
            })
        });
        let what = |_: &Ask<'d>| format!("how far {name} reaches {way}");
        let _ = settle(ask, what, Dimension::LENGTH, vec![by_size, by_outline], || size.want(here));
    }
}

/// Counts that are fewer than what is listed.
pub(super) fn counts(ask: &Ask<'_>) -> Vec<Impossible> {
    let building = &ask.design().building;
    let mut found = Vec::new();
    if let Some(stories) = building.stories.known() {
        let highest = building
            .spaces
            .things()
            .filter(|(_, space)| space.kind.known().is_some_and(|kind| *kind != SpaceKind::Attic))
            .filter_map(|(name, space)| Some((name, space, space.story.known()?)))
            .max_by_key(|(_, _, story)| story.0);
        if let Some((name, space, story)) = highest
            && story.0 > stories.0
        {
            let what =
                format!("{name} is said to be on story {}, and the building to have {}", story.0, stories.0);
            let todo =
                "Correct one of the two. Stories are counted from the ground floor, which is the first";
            found.push(
                Impossible::new(what, todo)
                    .at(building.stories.want(&building.here), "so many stories")
                    .at(space.story.want(&space.here), "on this one"),
            );
        }
    }
    if let Some(dwellings) = building.dwellings.known() {
        let mut named: Vec<&str> = building
            .spaces
            .things()
            .filter_map(|(_, space)| space.dwelling.known().map(|dwelling| dwelling.0.as_str()))
            .collect();
        named.sort_unstable();
        named.dedup();
        let last = building.spaces.things().filter(|(_, space)| space.dwelling.known().is_some()).last();
        if let Some((_, space)) = last
            && named.len() > usize::try_from(dwellings.0).unwrap_or(usize::MAX)
        {
            let what = format!(
                "The building is said to hold {} dwellings, and its spaces belong to {}",
                dwellings.0,
                named.join(", ")
            );
            found.push(
                Impossible::new(what, "Correct the number of dwellings, or the dwelling of a space")
                    .at(building.dwellings.want(&building.here), "so many dwellings")
                    .at(space.dwelling.want(&space.here), "one of more than that"),
            );
        }
    }
    found
}
