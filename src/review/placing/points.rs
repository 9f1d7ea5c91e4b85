//! Where the suction points of an area may be, and how many it takes.

use super::bench::{Asked, Bench, Doing, Speaks, Tried};
use super::discharge::{Offer, Steps, Way, steps};
use super::line::Line;
use crate::base::number::Ratio;
use crate::base::text::Source;
use crate::base::vocabulary::Thing;
use crate::facts::ask::Ask;
use crate::facts::handles::{self, Change, Shift, Stuck};
use crate::facts::kinds::Kind;
use crate::findings::Used;
use crate::judge::verdict::About;
use crate::review::{DESIGN, Review};
use crate::yaml::path::Path;
use crate::yaml::scan;
use crate::yaml::tree::Tree;

/// A suction point whose place is not as asked.
#[derive(Clone, PartialEq, Debug)]
pub struct Layout {
    /// Its system.
    pub system: String,
    /// Its name.
    pub point: String,
    /// What is not as asked where it is.
    pub unmet: Vec<Asked>,
    /// The nearest place at which all of that is met and nothing else is lost, if there is one.
    pub offer: Option<Offer>,
    /// What stands in the way of writing it elsewhere.
    pub stuck: Option<Stuck>,
    /// How many places were tried.
    pub tried: usize,
}

/// A requirement that asks for more suction points.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Needed {
    /// The requirement.
    pub asked: Asked,
    /// The area, where it is asked of one.
    pub area: Option<String>,
    /// How many more it takes.
    pub more: usize,
}

/// More points than this are not tried.
const MOST: usize = 24;

const PLACE: Speaks =
    Speaks { of: "suction/", on_place: |entry| entry == "systems.*.suction_points.*.from_walls" };
const NUMBER: Speaks = Speaks { of: "suction/", on_place: |entry| entry.contains("suction_points") };

/// The suction points of a reviewed design that should be elsewhere, and how many more are asked for.
#[must_use]
pub fn layouts(review: &Review<'_>) -> (Vec<Layout>, Vec<Needed>) {
    let Some(source) = review.sources.get(DESIGN) else { return Default::default() };
    if review.refusal().is_some() || !review.digests.field_notes.is_empty() {
        return Default::default();
    }
    let (tree, _) = scan::read(DESIGN, source.text());
    let steps = steps(&tree);
    (places(review, source, &tree, &steps), needed(review, source, &tree))
}

fn places(review: &Review<'_>, source: &Source, tree: &Tree, steps: &Steps) -> Vec<Layout> {
    let used: Vec<Used<'_>> = review.used.clone();
    let speaks = (PLACE, Doing::Everything);
    let mut bench = Bench::new(source, tree, review.stage, &used, speaks, |_, _| true);
    if bench.asks_nothing() {
        return Vec::new();
    }
    let Tried::Not { unmet, open, .. } = bench.with(Ok(Vec::new())) else { return Vec::new() };
    let ask = Ask::new(&review.design);
    let mut found = Vec::new();
    for point in ask.things().all(Kind::SuctionPoint) {
        let own: Vec<Asked> =
            unmet.iter().copied().filter(|asked| asked.about == About::Thing(point)).collect();
        let Some(system) = ask.things().system_of(point).filter(|_| !own.is_empty()) else { continue };
        let names = (ask.things().name(system), ask.things().name(point));
        let before: Vec<Asked> = unmet.iter().chain(&open).copied().collect();
        found.push(place(&mut bench, tree, names, steps, &own, &before));
    }
    found
}

/// The nearest place of one point at which its own requirements are met and no other is lost.
fn place(
    bench: &mut Bench<'_>,
    tree: &Tree,
    (system, point): (String, String),
    steps: &Steps,
    own: &[Asked],
    before: &[Asked],
) -> Layout {
    let count = bench.tried;
    let mut stuck = None;
    let mut at = |shift: &Shift| {
        let changes = handles::suction_point(tree, &system, &point, shift);
        if let Err(why) = &changes {
            stuck.get_or_insert_with(|| why.clone());
        }
        match bench.with(changes) {
            Tried::Not { unmet, open, missing } => {
                let bad = |asked: &Asked| own.contains(asked) || !before.contains(asked);
                let unmet: Vec<Asked> = unmet.into_iter().filter(bad).collect();
                let open: Vec<Asked> = open.into_iter().filter(bad).collect();
                if unmet.is_empty() && open.is_empty() {
                    Tried::Met
                } else {
                    Tried::Not { unmet, open, missing }
                }
            }
            other => other,
        }
    };
    let mut offers: Vec<Offer> = Vec::new();
    for way in [Way::EastWest, Way::NorthSouth] {
        let line =
            Line::walk(steps.step.clone(), steps.coarse, (steps.wide, steps.wide), |by| at(&way.shift(by)));
        for growing in [true, false] {
            let Some(edge) = line.nearest(growing) else { continue };
            let by = way.shift(&(&line.step * &Ratio::from(edge.steps)));
            if let Ok(changes) = handles::suction_point(tree, &system, &point, &by) {
                offers.push(Offer { by, way, changes, stops: edge.stops });
            }
        }
    }
    if offers.is_empty() {
        offers.extend(askew(&mut at, tree, (&system, &point), steps));
    }
    let offer = offers.into_iter().min_by_key(|offer| offer.by.squared());
    let stuck = stuck.filter(|_| offer.is_none());
    Layout { system, point, unmet: own.to_vec(), offer, stuck, tried: bench.tried - count }
}

/// The nearest place both to the side and along, where neither alone will do.
fn askew(
    at: &mut impl FnMut(&Shift) -> Tried,
    tree: &Tree,
    (system, point): (&str, &str),
    steps: &Steps,
) -> Option<Offer> {
    let stride = &steps.step * &Ratio::from(steps.coarse);
    let far = steps.wide / 2;
    let mut places: Vec<(i64, i64)> =
        (-far..=far).flat_map(|east| (-far..=far).map(move |north| (east, north))).collect();
    places.retain(|(east, north)| *east != 0 && *north != 0);
    places.sort_by_key(|(east, north)| (east * east + north * north, *east, *north));
    places.into_iter().find_map(|(east, north)| {
        let by = Shift::level(&stride * &Ratio::from(east), &stride * &Ratio::from(north));
        if !at(&by).is_met() {
            return None;
        }
        let changes = handles::suction_point(tree, system, point, &by).ok()?;
        Some(Offer { by, way: Way::EastWest, changes, stops: Vec::new() })
    })
}

/// How many more suction points it takes for each requirement that asks for more.
fn needed(review: &Review<'_>, source: &Source, tree: &Tree) -> Vec<Needed> {
    let used: Vec<Used<'_>> = review.used.clone();
    let ask = Ask::new(&review.design);
    let of_floor =
        |ask: &Ask<'_>, thing: Thing| Kind::Area.id() == thing.kind && ask.things().here(thing).is_some();
    let speaks = (NUMBER, Doing::Everything);
    let mut bench = Bench::new(source, tree, review.stage, &used, speaks, of_floor);
    if bench.asks_nothing() {
        return Vec::new();
    }
    let Tried::Not { unmet, .. } = bench.with(Ok(Vec::new())) else { return Vec::new() };
    let Some((system, _)) = review.design.systems.things().next() else { return Vec::new() };
    let mut found = Vec::new();
    for asked in unmet {
        let area = match asked.about {
            About::Thing(thing) => Some(ask.things().name(thing)),
            _ => review.design.foundation.areas.things().next().map(|(name, _)| name.to_owned()),
        };
        let Some(area) = area else { continue };
        let more = (1..=MOST).find(|more| {
            let tried = bench.with(Ok(added(tree, system, &area, *more)));
            !tried.against().contains(&asked) && !matches!(tried, Tried::Stuck(_))
        });
        if let Some(more) = more {
            let area = matches!(asked.about, About::Thing(_)).then_some(area);
            found.push(Needed { asked, area, more });
        }
    }
    found
}

/// So many more points in an area, of which no more is said than that.
fn added(tree: &Tree, system: &str, area: &str, more: usize) -> Vec<Change> {
    let all = Path::root().key("systems").key(system).key("suction_points");
    let there = |name: &str| all.key(name).resolve(tree).is_some();
    let names = (1..).map(|number| format!("more_{number}")).filter(|name| !there(name));
    let quoted = area.replace('\\', "\\\\").replace('"', "\\\"");
    names
        .take(more)
        .map(|name| Change::Set { entry: all.key(name), to: format!("{{kind: slab, in: \"{quoted}\"}}") })
        .collect()
}
