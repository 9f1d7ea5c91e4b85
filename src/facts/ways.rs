//! Facts of foundation walls, of ways between spaces, and of ducts under the floor.

use crate::base::number::{Dimension, Number};
use crate::base::value::{Answer, Missing, Reason, unite};
use crate::base::vocabulary::{Thing, WordId};
use crate::design::model::building::{Passage, PassageKind, SpaceKind};
use crate::design::model::foundation::{Duct, DuctKind, FoundationWall, TopCourse, WallKind};
use crate::yaml::shape::Size;

use super::ask::{Ask, word_id};
use super::catalogue::{Entries, Fact, Get, words};
use super::foundation::AREA_SPACE;
use super::kinds::Kind;
use super::things::{of, space_or_area};

fn wall<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d FoundationWall) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.walls, get)
}

fn passage<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Passage) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.passages, get)
}

fn duct<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Duct) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.ducts, get)
}

/// Whether air passes what a wall is made of.
fn lets_air_through(kind: WallKind) -> bool {
    matches!(kind, WallKind::Block | WallKind::Stone | WallKind::Brick)
}

/// Whether a course keeps soil gas in the cores below it.
fn closes(course: TopCourse) -> bool {
    !matches!(course, TopCourse::Open | TopCourse::SillPlate)
}

/// Whether a course is solid right through: block, grout or concrete, and not a seal laid over open cores.
fn is_solid(course: TopCourse) -> bool {
    matches!(course, TopCourse::Solid | TopCourse::Grouted | TopCourse::Beam)
}

/// The course under a ledge, or none where there is no ledge.
fn ledge(ask: &mut Ask<'_>, it: Thing, holds: fn(TopCourse) -> bool) -> Answer<bool> {
    wall(ask, it, |ask, wall| {
        ask.read(&wall.here, &wall.under_ledge).map(|course| course.is_none_or(|course| holds(*course)))
    })
}

/// The two spaces that a passage joins.
fn joined(ask: &mut Ask<'_>, it: Thing) -> Answer<Vec<Thing>> {
    passage(ask, it, |ask, passage| {
        let want = passage.between.want(&passage.here);
        ask.value(&passage.here, &passage.between).then(|list| {
            ask.spaces_called(&list.items).then(|spaces| match spaces.len() {
                2 => Answer::known(spaces),
                _ => Answer::missing(Missing { reason: Reason::Unreadable, ..want }),
            })
        })
    })
}

/// Whether exactly one of the two spaces is a crawlspace.
fn leaves_crawlspace(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    joined(ask, it).then(|spaces| {
        let crawl = word_id(SpaceKind::Crawlspace);
        let kinds: Vec<Answer<WordId>> = spaces.into_iter().map(|space| ask.word(space, "kind")).collect();
        Answer::all(kinds).map(|kinds| kinds.iter().filter(|kind| **kind == crawl).count() == 1)
    })
}

/// Whether each of the two spaces is drawn on.
fn both_drawn_on(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    joined(ask, it).then(|spaces| {
        let mut open = Vec::new();
        for space in spaces {
            match ask.truth(space, "drawn_on") {
                Answer::Known { value: false, .. } => return Answer::known(false),
                Answer::Known { .. } => {}
                Answer::Unknown(missing) => open = unite(open, missing),
            }
        }
        if open.is_empty() { Answer::known(true) } else { Answer::Unknown(open) }
    })
}

/// One side of the clear size of a passage: the shorter or the longer.
fn side_of(ask: &mut Ask<'_>, it: Thing, longer: bool) -> Answer<Number> {
    passage(ask, it, |ask, passage| {
        let want = passage.size.want(&passage.here);
        ask.value(&passage.here, &passage.size).then(|size| {
            let Size::Rectangle(sides) = size else {
                return Answer::missing(Missing { reason: Reason::Unreadable, ..want });
            };
            let both = [&sides.first.number, &sides.second.number];
            let side = if longer { Number::greatest(both) } else { Number::least(both) };
            side.map_or_else(|| Answer::missing(want.clone()), Answer::known)
        })
    })
}

/// Facts of foundation walls.
pub(super) const WALLS: &[Fact] = &[
    Fact::stated(
        Kind::Wall,
        "kind",
        "What the wall is made of.",
        &[&["foundation.walls.*.kind"]],
        Get::Word(words::<WallKind>, |ask, it| wall(ask, it, |ask, w| ask.stated_word(&w.here, &w.kind))),
    ),
    Fact::stated(
        Kind::Wall,
        "in",
        "The space that the wall bounds.",
        &[&["foundation.walls.*.of"], AREA_SPACE],
        Get::One(Kind::Space, |ask, it| wall(ask, it, |ask, w| space_or_area(ask, &w.here, &w.of))),
    ),
    Fact {
        of: Kind::Wall,
        name: "lets_air_through",
        meaning: "Whether air passes through what the wall is made of.",
        formula: "hollow block, stone and brick let it through",
        source: "the meaning of the words",
        needs: &[&["foundation.walls.*.kind"]],
        get: Get::Truth(|ask, it| {
            wall(ask, it, |ask, w| ask.value(&w.here, &w.kind).map(|kind| lets_air_through(*kind)))
        }),
    },
    Fact::stated(
        Kind::Wall,
        "top",
        "How the top of the wall is closed.",
        &[&["foundation.walls.*.top"]],
        Get::Word(words::<TopCourse>, |ask, it| wall(ask, it, |ask, w| ask.stated_word(&w.here, &w.top))),
    ),
    Fact {
        of: Kind::Wall,
        name: "top_closed",
        meaning: "Whether something at the top of the wall keeps soil gas in its cores.",
        formula: "anything but an open top or a sill plate that lies over open cores",
        source: "the meaning of the words",
        needs: &[&["foundation.walls.*.top"]],
        get: Get::Truth(|ask, it| {
            wall(ask, it, |ask, w| ask.value(&w.here, &w.top).map(|course| closes(*course)))
        }),
    },
    Fact {
        of: Kind::Wall,
        name: "top_solid",
        meaning: "Whether the top course of the wall is solid: block, grout or a beam of concrete.",
        formula: "the word for the top",
        source: "the meaning of the words",
        needs: &[&["foundation.walls.*.top"]],
        get: Get::Truth(|ask, it| {
            wall(ask, it, |ask, w| ask.value(&w.here, &w.top).map(|course| is_solid(*course)))
        }),
    },
    Fact {
        of: Kind::Wall,
        name: "ledge_closed",
        meaning: "Whether the course under a ledge for brick is closed; a wall without a ledge has none open.",
        formula: "anything but open cores, or no ledge",
        source: "the meaning of the words",
        needs: &[&["foundation.walls.*.under_ledge"]],
        get: Get::Truth(|ask, it| ledge(ask, it, closes)),
    },
    Fact {
        of: Kind::Wall,
        name: "ledge_solid",
        meaning: "Whether the course under a ledge for brick is solid; a wall without a ledge has none that is not.",
        formula: "block, grout or a beam of concrete, or no ledge",
        source: "the meaning of the words",
        needs: &[&["foundation.walls.*.under_ledge"]],
        get: Get::Truth(|ask, it| ledge(ask, it, is_solid)),
    },
    Fact::stated(
        Kind::Wall,
        "top_reachable",
        "Whether the top of the wall can be reached.",
        &[&["foundation.walls.*.top_reachable"]],
        Get::Truth(|ask, it| wall(ask, it, |ask, w| ask.yes_or_no(&w.here, &w.top_reachable))),
    ),
    Fact::stated(
        Kind::Wall,
        "holes_closed",
        "Whether the holes and cracks of the wall are closed.",
        &[&["foundation.walls.*.holes_closed"]],
        Get::Truth(|ask, it| wall(ask, it, |ask, w| ask.yes_or_no(&w.here, &w.holes_closed))),
    ),
    Fact::stated(
        Kind::Wall,
        "coated_outside",
        "Whether the outer face of the wall is coated against damp.",
        &[&["foundation.walls.*.coated_outside"]],
        Get::Truth(|ask, it| wall(ask, it, |ask, w| ask.yes_or_no(&w.here, &w.coated_outside))),
    ),
    Fact {
        of: Kind::Wall,
        name: "drawn_on",
        meaning: "Whether a system draws on the wall: a suction point names it.",
        formula: "some suction point names the wall; no, where all suction points are written and none does",
        source: "the entries",
        needs: &[DRAWS],
        get: Get::Truth(super::suction::draws_on_wall),
    },
];

/// What tells what the systems draw on.
const DRAWS: Entries = &[
    "systems",
    "systems.*.suction_points",
    "systems.*.suction_points.*.kind",
    "systems.*.suction_points.*.wall",
];

const BETWEEN: Entries = &["building.passages.*.between", "building.spaces.*.kind"];

/// Facts of ways between spaces.
pub(super) const PASSAGES: &[Fact] = &[
    Fact::stated(
        Kind::Passage,
        "kind",
        "What the passage is.",
        &[&["building.passages.*.kind"]],
        Get::Word(words::<PassageKind>, |ask, it| {
            passage(ask, it, |ask, p| ask.stated_word(&p.here, &p.kind))
        }),
    ),
    Fact {
        of: Kind::Passage,
        name: "leaves_crawlspace",
        meaning: "Whether the passage joins a crawlspace with a space that is none.",
        formula: "one of the two spaces it joins is a crawlspace",
        source: "the entries",
        needs: &[BETWEEN],
        get: Get::Truth(leaves_crawlspace),
    },
    Fact {
        of: Kind::Passage,
        name: "both_drawn_on",
        meaning: "Whether a system draws on both of the spaces that the passage joins.",
        formula: "each of the two has a suction point in it",
        source: "the entries",
        needs: &[&["building.passages.*.between"], super::air::DRAWN_ON],
        get: Get::Truth(both_drawn_on),
    },
    Fact::stated(
        Kind::Passage,
        "in_floor",
        "Whether the passage is in the floor of the space above.",
        &[&["building.passages.*.in_floor"]],
        Get::Truth(|ask, it| passage(ask, it, |ask, p| ask.yes_or_no(&p.here, &p.in_floor))),
    ),
    Fact::stated(
        Kind::Passage,
        "short_side",
        "The shorter side of the clear size of the passage.",
        &[&["building.passages.*.size"]],
        Get::Number(Dimension::LENGTH, |ask, it| side_of(ask, it, false)),
    ),
    Fact::stated(
        Kind::Passage,
        "long_side",
        "The longer side of the clear size of the passage.",
        &[&["building.passages.*.size"]],
        Get::Number(Dimension::LENGTH, |ask, it| side_of(ask, it, true)),
    ),
    Fact::stated(
        Kind::Passage,
        "gasket",
        "Whether the passage closes against a gasket.",
        &[&["building.passages.*.gasket"]],
        Get::Truth(|ask, it| passage(ask, it, |ask, p| ask.yes_or_no(&p.here, &p.gasket))),
    ),
    Fact::stated(
        Kind::Passage,
        "latches",
        "Whether the passage latches or locks.",
        &[&["building.passages.*.latches"]],
        Get::Truth(|ask, it| passage(ask, it, |ask, p| ask.yes_or_no(&p.here, &p.latches))),
    ),
    Fact::stated(
        Kind::Passage,
        "kept_shut",
        "Whether the passage is kept shut.",
        &[&["building.passages.*.kept_shut"]],
        Get::Truth(|ask, it| passage(ask, it, |ask, p| ask.yes_or_no(&p.here, &p.kept_shut))),
    ),
];

/// Facts of ducts.
pub(super) const DUCTS: &[Fact] = &[
    Fact::stated(
        Kind::Duct,
        "kind",
        "What the duct carries.",
        &[&["foundation.ducts.*.kind"]],
        Get::Word(words::<DuctKind>, |ask, it| duct(ask, it, |ask, d| ask.stated_word(&d.here, &d.kind))),
    ),
    Fact::stated(
        Kind::Duct,
        "in",
        "The space in which the duct runs, or under whose floor.",
        &[&["foundation.ducts.*.in"], AREA_SPACE],
        Get::One(Kind::Space, |ask, it| duct(ask, it, |ask, d| space_or_area(ask, &d.here, &d.space))),
    ),
    Fact::stated(
        Kind::Duct,
        "in_soil",
        "Whether the duct lies in soil or concrete.",
        &[&["foundation.ducts.*.in_soil"]],
        Get::Truth(|ask, it| duct(ask, it, |ask, d| ask.yes_or_no(&d.here, &d.in_soil))),
    ),
    Fact::stated(
        Kind::Duct,
        "sealed",
        "Whether the duct has no joints, or sealed ones.",
        &[&["foundation.ducts.*.sealed"]],
        Get::Truth(|ask, it| duct(ask, it, |ask, d| ask.yes_or_no(&d.here, &d.sealed))),
    ),
    Fact::stated(
        Kind::Duct,
        "under_pressure",
        "Whether the air in the duct is always at a higher pressure than that of the soil.",
        &[&["foundation.ducts.*.under_pressure"]],
        Get::Truth(|ask, it| duct(ask, it, |ask, d| ask.yes_or_no(&d.here, &d.under_pressure))),
    ),
];
