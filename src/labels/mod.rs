//! The labels of a job: those that the design has and those that the books which count ask for, each with what it has to
//! tell, how high its letters are, and where it goes. No requirement stands here: what a book asks is read off its rules.

mod asked;

use crate::base::number::Quantity;
use crate::base::vocabulary::{Answers, Thing};
use crate::design::model::controls::{Label, LabelOn, LabelSays};
use crate::facts::Facts;
use crate::facts::kinds::Kind;
use crate::facts::labelling::labels_on;
use crate::findings::finding::{Clause, Finding, Subject};
use crate::judge::verdict::{About, Verdict};
use crate::review::Review;
use crate::rulebook::checked::{Citation, Obligation};

use asked::{Asked, add, asked, larger};

/// A label to put up.
#[derive(Clone, PartialEq, Default, Debug)]
pub struct Wanted {
    /// What it is on; several where any of them will do, none where nobody says.
    pub on: Vec<LabelOn>,
    /// The number of its system among those of the design, if it belongs to one.
    pub system: Option<usize>,
    /// The space it is in, or the thing it is for, as the file names it; empty where nobody says.
    pub place: String,
    /// What it has to tell, in the order of the list of words.
    pub says: Vec<LabelSays>,
    /// What it tells beyond what the design lists for it.
    pub lacks: Vec<LabelSays>,
    /// The words that the design puts on it.
    pub text: Option<String>,
    /// How high its letters are, as designed or as asked, whichever is more.
    pub letters: Option<Quantity>,
    /// From how far off it can be read, as asked.
    pub readable_from: Option<Quantity>,
    /// What else is asked of it.
    pub more: Vec<String>,
    /// The clauses that ask for it.
    pub asked_by: Vec<AskedBy>,
    /// Whether the design has it.
    pub designed: bool,
    /// How many there are of it, as designed.
    pub count: u32,
    /// The path of the design's label.
    path: String,
}

/// A clause that asks for a label.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct AskedBy {
    /// The book, by its place among those that were used.
    pub book: usize,
    /// The clause as its source numbers it.
    pub source: Citation,
    /// The verb of its source.
    pub obligation: Obligation,
    /// Whether sources disagree about the verb.
    pub disputed: bool,
}

/// The labels of a reviewed design: its own in the order of the file, then those that are asked for beside them.
#[must_use]
pub fn labels(review: &Review<'_>) -> Vec<Wanted> {
    let mut ask = Facts::new(&review.design);
    let mut all: Vec<Wanted> = Vec::new();
    for (owner, (_, system)) in review.design.systems.things().enumerate() {
        all.extend(system.labels.things().map(|(_, label)| designed(owner, label)));
    }
    for finding in &review.findings {
        for clause in &finding.clauses {
            let asks = clause.standing.is_to_decide() && clause.verdict != Verdict::NotApplicable;
            let used = review.used.get(clause.book).filter(|_| asks);
            let Some(rule) = used.and_then(|used| used.book.rules.get(clause.rule)) else { continue };
            let by = AskedBy {
                book: clause.book,
                source: rule.source.clone(),
                obligation: clause.obligation,
                disputed: clause.disputed,
            };
            for one in asked(rule) {
                let place = Place::of(&mut ask, finding, clause);
                let fits = all.iter().position(|label| place.takes(label, &one));
                let at = fits.unwrap_or(all.len());
                if fits.is_none() {
                    // What is asked of each label makes none.
                    if place.only_designed {
                        continue;
                    }
                    all.push(place.wanted(&one));
                }
                if let Some(label) = all.get_mut(at) {
                    label.takes_on(one, by.clone());
                }
            }
        }
    }
    for label in &mut all {
        label.says.sort();
        label.lacks.sort();
    }
    all
}

fn designed(owner: usize, label: &Label) -> Wanted {
    Wanted {
        on: label.on.known().copied().into_iter().collect(),
        system: Some(owner),
        place: label.space.known().map(|space| space.as_str().to_owned()).unwrap_or_default(),
        says: label.says.members().copied().collect(),
        text: label.text.known().map(|text| text.0.clone()),
        letters: label.letters.known().map(|letters| letters.quantity.clone()),
        designed: true,
        count: label.count.known().map_or(1, |count| count.0),
        path: label.here.path.to_string(),
        ..Wanted::default()
    }
}

impl Wanted {
    fn takes_on(&mut self, one: Asked, by: AskedBy) {
        for says in one.says {
            if !self.says.contains(&says) {
                self.says.push(says);
                if self.designed {
                    add(&mut self.lacks, says);
                }
            }
        }
        if let Some(letters) = &one.letters {
            self.letters = larger(self.letters.take(), letters);
        }
        if let Some(far) = &one.readable_from {
            self.readable_from = larger(self.readable_from.take(), far);
        }
        for more in one.more {
            add(&mut self.more, more);
        }
        add(&mut self.asked_by, by);
    }
}

/// Where a clause asks for a label.
struct Place {
    system: Option<usize>,
    /// The space, where the clause is about one or about something in one.
    space: String,
    /// What it is called where the design has none.
    called: String,
    /// The labels of the design that are meant, by their paths, where no others will do.
    only: Option<Vec<String>>,
    only_designed: bool,
}

impl Place {
    fn of(ask: &mut Facts<'_>, finding: &Finding, clause: &Clause) -> Self {
        let called = match &finding.of {
            Subject::Thing { name, .. } => name.clone(),
            Subject::Whole | Subject::List { .. } => String::new(),
        };
        let mut place =
            Place { system: None, space: String::new(), called, only: None, only_designed: false };
        let About::Thing(thing) = clause.about else {
            place.only_designed = true;
            return place;
        };
        let paths = |ask: &Facts<'_>, things: Vec<Thing>| -> Vec<String> {
            things.into_iter().filter_map(|label| ask.entry_of(label)).map(|path| path.to_string()).collect()
        };
        let kind = thing.kind;
        place.system = match kind {
            _ if kind == Kind::System.id() => Some(thing.number as usize),
            _ if [Kind::Fan, Kind::Circuit, Kind::Label, Kind::Level].iter().any(|one| one.id() == kind) => {
                ask.things().owner(thing).map(|owner| owner as usize)
            }
            _ => None,
        };
        if kind == Kind::Label.id() {
            place.only = Some(paths(ask, vec![thing]));
            place.only_designed = true;
        } else if kind == Kind::Level.id() {
            let (system, labels) = labels_on(ask, thing);
            place.system = system;
            place.only = Some(paths(ask, labels));
        } else if kind == Kind::Space.id() {
            place.space.clone_from(&place.called);
        } else if kind == Kind::Sump.id() || kind == Kind::Membrane.id() {
            let space = ask.one(thing, "in").value();
            place.space = space.map(|space| ask.name_of(space)).unwrap_or_default();
        }
        place
    }

    /// Whether a label is one that is meant.
    fn takes(&self, label: &Wanted, one: &Asked) -> bool {
        if let Some(only) = &self.only {
            let made = !label.designed && label.place == self.called && label.on == one.on;
            return made && label.system == self.system || only.contains(&label.path) && label.designed;
        }
        let on = one.on.is_empty() || label.on.iter().any(|on| one.on.contains(on));
        let tells = !one.on.is_empty() || one.says.iter().any(|says| label.says.contains(says));
        let system = self.system.is_none() || self.system == label.system;
        let here = self.space.is_empty()
            || label.place.is_empty()
            || label.place == self.space
            || label.place == self.called;
        on && tells && system && here
    }

    fn wanted(&self, one: &Asked) -> Wanted {
        let place = if self.space.is_empty() { &self.called } else { &self.space };
        let whole = self.system.is_some() && self.only.is_none();
        Wanted {
            on: one.on.clone(),
            system: self.system,
            place: if whole { String::new() } else { place.clone() },
            count: 1,
            ..Wanted::default()
        }
    }
}
