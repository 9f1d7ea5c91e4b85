//! Facts of spaces, and of the appliances in them.

use std::collections::BTreeMap;
use std::rc::Rc;

use crate::base::number::{Comparison, Dimension, Number};
use crate::base::truth::Truth;
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::{ROOT, Thing, WordId, WordsShape};
use crate::design::model::appliances::{Appliance, ApplianceKind, Fuel, Venting};
use crate::design::model::building::{Airing, Space, SpaceKind};
use crate::yaml::words::Words;

use super::ask::{Ask, word_id};
use super::catalogue::{Entries, Fact, Get, words};
use super::heights;
use super::join::agree;
use super::kinds::Kind;
use super::roofs;
use super::things::{SpaceMember, of};

/// What a space is: a kind of the file, or the open air, which every building has about it.
fn space_kinds() -> WordsShape {
    let mut shape = words::<SpaceKind>();
    shape.words.push(("outdoors".to_owned(), "the open air".to_owned()));
    shape
}

/// The word for the open air: the one after all the kinds of the file.
fn outdoors_word() -> WordId {
    WordId(u16::try_from(SpaceKind::ALL.len()).unwrap_or(u16::MAX))
}

/// A fact of a space of the file; the open air has its own answer.
fn space<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    outdoors: R,
    get: impl FnOnce(&mut Ask<'d>, &'d Space) -> Answer<R>,
) -> Answer<R> {
    match ask.things().space(it) {
        Some(SpaceMember::Named(_, space)) => get(ask, space),
        Some(SpaceMember::Outdoors) => Answer::known(outdoors),
        None => ask.cannot(it, "it is not in the file"),
    }
}

fn is_attic(space: &Space) -> bool {
    space.kind.known() == Some(&SpaceKind::Attic)
}

/// What an attic is by the meaning of the word, as an answer; nothing for any other space.
fn as_an_attic(
    ask: &mut Ask<'_>,
    it: Thing,
    space_is_attic: bool,
    what: &'static str,
) -> Option<Answer<bool>> {
    if !space_is_attic {
        return None;
    }
    ask.assume(what);
    let _ = ask.word(it, "kind");
    Some(Answer::known(false))
}

/// # Meaning
/// Whether the floor of a space lies below the finished ground outside.
/// # Formula
/// As stated; an attic is not; otherwise the height of its floor is compared with the lowest and the highest
/// finished ground.
/// # Valid for
/// Every space. A floor between two heights of ground cannot be told.
/// # Accuracy
/// Exact for exact heights.
/// # Source
/// The meaning of the words.
/// # Errors
/// Unknown when neither is stated, or when a statement contradicts the kind.
/// # Example
/// A floor at 0 ft with all ground at 6 ft 6 in is below it.
fn below_grade(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    space(ask, it, false, |ask, space| {
        let stated = ask.yes_or_no(&space.here, &space.below_grade);
        let want = space.below_grade.want(&space.here);
        if let Some(by_kind) = as_an_attic(ask, it, is_attic(space), "an attic lies above ground") {
            return agree(stated, by_kind, &[want, space.kind.want(&space.here)]);
        }
        if space.floor.is_missing() {
            return stated;
        }
        let floor = heights::floor(ask, &space.here, &space.floor);
        let by_height = floor.both(heights::all_ground(ask)).then(|(floor, ground)| {
            let below = |ground: &Number| floor.compare(Comparison::Less, ground);
            match (below(&ground.lowest), below(&ground.highest)) {
                (Truth::True, Truth::True) => Answer::known(true),
                (Truth::False, Truth::False) => Answer::known(false),
                _ => Answer::missing(Missing { reason: Reason::Imprecise, ..want.clone() }),
            }
        });
        agree(stated, by_height, &[want.clone(), space.floor.want(&space.here)])
    })
}

/// Whether any of some spaces is conditioned: known as soon as one is.
fn any_conditioned(ask: &mut Ask<'_>, spaces: Vec<Answer<Thing>>) -> Answer<bool> {
    let mut missing = Vec::new();
    for one in spaces {
        match one.then(|space| ask.truth(space, "conditioned")) {
            Answer::Known { value: true, .. } => return Answer::known(true),
            Answer::Known { .. } => {}
            Answer::Unknown(more) => missing = crate::base::value::unite(missing, more),
        }
    }
    if missing.is_empty() { Answer::known(false) } else { Answer::Unknown(missing) }
}

/// # Meaning
/// Whether a heated or cooled space lies right above a space.
/// # Formula
/// Any of the spaces that it is stated to lie under, or that are stated to lie above it, is conditioned. An
/// attic has only the roof above it.
/// # Valid for
/// Every space; outdoors it is no.
/// # Accuracy
/// Yes or no.
/// # Source
/// The meaning of the words.
/// # Errors
/// Unknown when what lies above is not stated, and when a statement contradicts the kind of the space.
/// # Example
/// `basement: {under: [kitchen]}` with a conditioned kitchen: yes.
fn beneath_conditioned(ask: &mut Ask<'_>, it: Thing) -> Answer<bool> {
    let name = ask.things().name(it);
    space(ask, it, false, |ask, space| {
        let want = space.under.want(&space.here);
        let stated = ask.read(&space.here, &space.under).then(|list| {
            let Some(list) = list else { return Answer::known(false) };
            let named: Vec<Answer<Thing>> = list
                .0
                .items
                .iter()
                .map(|item| ask.spaces_called(std::slice::from_ref(item)))
                .map(first)
                .collect();
            any_conditioned(ask, named)
        });
        let lying_above = spaces_said_to_lie_above(ask, &name);
        let by_others = match any_conditioned(ask, lying_above.into_iter().map(Answer::known).collect()) {
            Answer::Known { value: true, .. } => Answer::known(true),
            _ => Answer::missing(want.clone()),
        };
        let stated = agree(stated, by_others, std::slice::from_ref(&want));
        match as_an_attic(ask, it, is_attic(space), "an attic has only the roof above it") {
            Some(by_kind) => agree(stated, by_kind, &[want, space.kind.want(&space.here)]),
            None => stated,
        }
    })
}

/// The one thing of a list of one.
fn first(list: Answer<Vec<Thing>>) -> Answer<Thing> {
    list.then(|list| match list.first() {
        Some(one) => Answer::known(*one),
        None => Answer::Unknown(Vec::new()),
    })
}

/// The spaces that name this one among those right below them.
pub(super) fn spaces_said_to_lie_above(ask: &mut Ask<'_>, name: &str) -> Vec<Thing> {
    let all = ask.between("what spaces lie above", ROOT, |ask| {
        let mut above: BTreeMap<String, Vec<Thing>> = BTreeMap::new();
        for one in ask.things().all(Kind::Space) {
            let Some(SpaceMember::Named(_, space)) = ask.things().space(one) else { continue };
            let below = ask.peek(&space.here, &space.above);
            for below in below.iter().flat_map(|list| list.0.members()) {
                let over = above.entry(below.as_str().to_owned()).or_default();
                if over.last() != Some(&one) {
                    over.push(one);
                }
            }
        }
        Answer::known(Rc::new(above))
    });
    all.value().and_then(|above| above.get(name).cloned()).unwrap_or_default()
}

/// Facts of spaces.
pub(super) const SPACES: &[Fact] = &[
    Fact::stated(
        Kind::Space,
        "kind",
        "What the space is.",
        &[&["building.spaces.*.kind"]],
        Get::Word(space_kinds, |ask, it| {
            space(ask, it, outdoors_word(), |ask, s| ask.value(&s.here, &s.kind).map(|kind| word_id(*kind)))
        }),
    ),
    Fact::stated(
        Kind::Space,
        "conditioned",
        "Whether the space is heated or cooled, or inside the heated shell.",
        &[&["building.spaces.*.conditioned"]],
        Get::Truth(|ask, it| space(ask, it, false, |ask, s| ask.yes_or_no(&s.here, &s.conditioned))),
    ),
    Fact::stated(
        Kind::Space,
        "occupied",
        "Whether people can stay in the space.",
        &[&["building.spaces.*.occupied"]],
        Get::Truth(|ask, it| space(ask, it, false, |ask, s| ask.yes_or_no(&s.here, &s.occupied))),
    ),
    Fact::stated(
        Kind::Space,
        "lived_in",
        "Whether people do spend their time in the space.",
        &[&["building.spaces.*.lived_in"]],
        Get::Truth(|ask, it| space(ask, it, false, |ask, s| ask.yes_or_no(&s.here, &s.lived_in))),
    ),
    Fact {
        of: Kind::Space,
        name: "below_grade",
        meaning: "Whether the floor of the space lies below the finished ground.",
        formula: "as stated, or the height of its floor against the finished ground; an attic is not",
        source: "the meaning of the words",
        needs: &[
            &[
                "building.spaces.*.below_grade",
                "building.spaces.*.kind",
                "building.spaces.*.floor",
                "building.spaces.*.floor.**",
            ],
            roofs::EDGES,
            heights::GROUND,
        ],
        get: Get::Truth(below_grade),
    },
    Fact {
        of: Kind::Space,
        name: "beneath_conditioned",
        meaning: "Whether a heated or cooled space lies right above the space.",
        formula: "any space right above it is conditioned; an attic has only the roof above it",
        source: "the meaning of the words",
        needs: &[&[
            "building.spaces.*.under",
            "building.spaces.*.above",
            "building.spaces.*.conditioned",
            "building.spaces.*.kind",
        ]],
        get: Get::Truth(beneath_conditioned),
    },
    Fact::stated(
        Kind::Space,
        "story",
        "The storey the space is on: one for the ground floor, nought for a basement or crawlspace.",
        &[&["building.spaces.*.story"]],
        Get::Number(Dimension::ONE, |ask, it| {
            space(ask, it, None, |ask, s| ask.value(&s.here, &s.story).map(Some)).then(
                |storey| match storey {
                    Some(storey) => Answer::known(Number::whole(i64::from(storey.0))),
                    None => ask.cannot(it, "the open air has no storey"),
                },
            )
        }),
    ),
    Fact::stated(
        Kind::Space,
        "airing",
        "How the space is aired.",
        &[&["building.spaces.*.airing"]],
        Get::Word(words::<Airing>, |ask, it| {
            space(ask, it, word_id(Airing::Vented), |ask, s| ask.stated_word(&s.here, &s.airing))
        }),
    ),
    Fact::stated(
        Kind::Space,
        "headroom",
        "The headroom at the lowest place one has to pass in the space.",
        &[&["building.spaces.*.headroom"]],
        Get::Number(Dimension::LENGTH, |ask, it| match ask.things().space(it) {
            Some(SpaceMember::Named(_, s)) => ask.quantity(&s.here, &s.headroom),
            _ => ask.cannot(it, "the open air has no ceiling"),
        }),
    ),
];

pub(super) fn appliance<'d, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    get: impl FnOnce(&mut Ask<'d>, &'d Appliance) -> Answer<R>,
) -> Answer<R> {
    of(ask, it, |things| &things.appliances, get)
}

/// Facts of appliances.
pub(super) const APPLIANCES: &[Fact] = &[
    Fact::stated(
        Kind::Appliance,
        "kind",
        "What the appliance is.",
        &[&["building.appliances.*.kind"]],
        Get::Word(words::<ApplianceKind>, |ask, it| {
            appliance(ask, it, |ask, a| ask.stated_word(&a.here, &a.kind))
        }),
    ),
    Fact::stated(
        Kind::Appliance,
        "fuel",
        "What the appliance burns.",
        &[&["building.appliances.*.fuel"]],
        Get::Word(words::<Fuel>, |ask, it| appliance(ask, it, |ask, a| ask.stated_word(&a.here, &a.fuel))),
    ),
    Fact::stated(
        Kind::Appliance,
        "venting",
        "How the gases of the appliance leave the house.",
        &[&["building.appliances.*.venting"]],
        Get::Word(words::<Venting>, |ask, it| {
            appliance(ask, it, |ask, a| ask.stated_word(&a.here, &a.venting))
        }),
    ),
    Fact::stated(
        Kind::Appliance,
        "in",
        "The space in which the appliance is.",
        &[SPACE_OF_APPLIANCE],
        Get::One(Kind::Space, |ask, it| {
            appliance(ask, it, |ask, a| {
                let want = a.space.want(&a.here);
                ask.value(&a.here, &a.space).then(|name| ask.space_called(want, name.as_str()))
            })
        }),
    ),
    Fact::stated(
        Kind::Appliance,
        "in_use",
        "Whether the appliance is in use.",
        &[&["building.appliances.*.in_use"]],
        Get::Truth(|ask, it| appliance(ask, it, |ask, a| ask.yes_or_no(&a.here, &a.in_use))),
    ),
    Fact::stated(
        Kind::Appliance,
        "input",
        "The heat that the fuel of the appliance brings in.",
        &[&["building.appliances.*.input"]],
        Get::Number(Dimension::POWER, |ask, it| appliance(ask, it, |ask, a| ask.quantity(&a.here, &a.input))),
    ),
    Fact {
        of: Kind::Appliance,
        name: "takes_room_air",
        meaning: "Whether the appliance takes the air it burns from the room.",
        formula: "its air comes from indoors; not where it is closed against the room",
        source: "the meaning of the words",
        needs: &[&["building.appliances.*.air_from", "building.appliances.*.venting"]],
        get: Get::Truth(super::air::takes_room_air),
    },
];

const SPACE_OF_APPLIANCE: Entries = &["building.appliances.*.in"];
