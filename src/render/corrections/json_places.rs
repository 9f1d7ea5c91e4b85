//! Where discharges and suction points may stand, for machines: what `places` tells people.

use serde::Serialize;

use super::places::{why_none, why_stuck};
use crate::base::number::Ratio;
use crate::base::number::quantity::Style;
use crate::correct::Corrections;
use crate::correct::places::number_of;
use crate::facts::handles::{length_text, style};
use crate::review::DESIGN;
use crate::review::placing::{Asked, Doing, Edge, Layout, Line, Needed, Offer, Placing, Tried, Way, Why};
use crate::yaml::draft::Draft;

#[derive(Serialize)]
pub(super) struct Places {
    discharges: Vec<Discharge>,
    suction_points: Vec<Point>,
    more_suction_points: Vec<More>,
}

#[derive(Serialize)]
struct Discharge {
    system: String,
    asked: &'static str,
    tried: usize,
    not_as_asked: Vec<Requirement>,
    stretches: Vec<Stretch>,
    offers: Vec<Place>,
    no_offer: Option<NoOffer>,
}

/// A requirement on the place, and the finding of the review that it belongs to.
#[derive(Serialize)]
struct Requirement {
    requirement: String,
    finding: Option<String>,
}

#[derive(Serialize)]
struct Stretch {
    way: &'static str,
    from: End,
    to: End,
}

#[derive(Serialize)]
struct End {
    by: Length,
    bounded_by: Vec<Requirement>,
}

/// A length along a way: in metres, and as one would write it beside the lengths of the file.
#[derive(Serialize)]
struct Length {
    metres: f64,
    shown: String,
}

#[derive(Serialize)]
struct Place {
    number: Option<usize>,
    east: Length,
    north: Length,
    up: Length,
    bounded_by: Vec<Requirement>,
}

#[derive(Serialize)]
struct NoOffer {
    why: String,
    excluded: Vec<Requirement>,
    entries: Vec<String>,
}

#[derive(Serialize)]
struct Point {
    system: String,
    point: String,
    tried: usize,
    not_as_asked: Vec<Requirement>,
    offer: Option<Place>,
    no_offer: Option<NoOffer>,
}

#[derive(Serialize)]
struct More {
    area: Option<String>,
    more: usize,
    asked_by: Requirement,
}

/// What is known of where things may stand.
pub(super) fn places(all: &Corrections<'_>) -> Places {
    let draft = Draft::new(DESIGN, &all.text);
    let desk = Desk { all, style: style(draft.tree()) };
    Places {
        discharges: all.places.discharges.iter().map(|placing| desk.discharge(placing)).collect(),
        suction_points: all.places.points.iter().map(|layout| desk.point(layout)).collect(),
        more_suction_points: all.places.needed.iter().map(|needed| desk.more(needed)).collect(),
    }
}

struct Desk<'a, 'l> {
    all: &'a Corrections<'l>,
    style: Style,
}

impl Desk<'_, '_> {
    fn discharge(&self, placing: &Placing) -> Discharge {
        let not_as_asked: &[Asked] = match &placing.now {
            Tried::Not { unmet, .. } => unmet,
            _ => &[],
        };
        Discharge {
            system: placing.system.clone(),
            asked: match placing.doing {
                Doing::Everything => "everything",
                Doing::Duties => "duties",
            },
            tried: placing.tried,
            not_as_asked: self.requirements(not_as_asked),
            stretches: placing.lines.iter().flat_map(|(way, line)| self.stretches(*way, line)).collect(),
            offers: placing.offers.iter().map(|offer| self.place(offer)).collect(),
            no_offer: placing.why.as_ref().map(|why| NoOffer {
                why: why_none(self.all, why),
                excluded: match why {
                    Why::Excluded(asked) => self.requirements(asked),
                    _ => Vec::new(),
                },
                entries: match why {
                    Why::NotKnown(missing) => missing.iter().map(|one| one.entry.to_string()).collect(),
                    Why::Stuck(stuck) => vec![stuck.entry().to_string()],
                    Why::Excluded(_) => Vec::new(),
                },
            }),
        }
    }

    fn stretches(&self, way: Way, line: &Line) -> Vec<Stretch> {
        let end = |edge: &Edge| End {
            by: self.length(&(&line.step * &Ratio::from(edge.steps))),
            bounded_by: self.requirements(&edge.stops),
        };
        let way = match way {
            Way::Height => "up",
            Way::EastWest => "east",
            Way::NorthSouth => "north",
        };
        let stretches = line.stretches();
        stretches.iter().map(|one| Stretch { way, from: end(&one.from), to: end(&one.to) }).collect()
    }

    fn point(&self, layout: &Layout) -> Point {
        let stuck = layout.stuck.as_ref().filter(|_| layout.offer.is_none());
        let none = || NoOffer {
            why: stuck.map_or_else(|| "no place that was tried meets it".to_owned(), why_stuck),
            excluded: if stuck.is_none() { self.requirements(&layout.unmet) } else { Vec::new() },
            entries: stuck.map(|stuck| stuck.entry().to_string()).into_iter().collect(),
        };
        Point {
            system: layout.system.clone(),
            point: layout.point.clone(),
            tried: layout.tried,
            not_as_asked: self.requirements(&layout.unmet),
            offer: layout.offer.as_ref().map(|offer| self.place(offer)),
            no_offer: layout.offer.is_none().then(none),
        }
    }

    fn more(&self, needed: &Needed) -> More {
        More { area: needed.area.clone(), more: needed.more, asked_by: self.requirement(&needed.asked) }
    }

    fn place(&self, offer: &Offer) -> Place {
        Place {
            number: number_of(self.all, &offer.changes),
            east: self.length(&offer.by.east),
            north: self.length(&offer.by.north),
            up: self.length(&offer.by.up),
            bounded_by: self.requirements(&offer.stops),
        }
    }

    fn length(&self, number: &Ratio) -> Length {
        let shown = length_text(&number.abs(), &self.style).unwrap_or_default();
        let sign = if number.is_negative() { "-" } else { "" };
        Length { metres: number.to_f64(), shown: format!("{sign}{shown}") }
    }

    fn requirement(&self, asked: &Asked) -> Requirement {
        let used = self.all.review.used.get(asked.book);
        let rule = used.and_then(|used| Some((used.book, used.book.rules.get(asked.rule)?)));
        let finding = self.all.review.findings.iter().find(|finding| {
            let own = |one: (usize, usize, _)| one == (asked.book, asked.rule, asked.about);
            finding.clauses.iter().any(|clause| own((clause.book, clause.rule, clause.about)))
        });
        Requirement {
            requirement: rule.map(|(book, rule)| format!("{}/{}", book.name, rule.name)).unwrap_or_default(),
            finding: finding.map(|finding| finding.identity.clone()),
        }
    }

    fn requirements(&self, asked: &[Asked]) -> Vec<Requirement> {
        asked.iter().map(|one| self.requirement(one)).collect()
    }
}
