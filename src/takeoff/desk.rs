//! Where lines are gathered: what is the same is put together, with all that it is for.

use crate::base::number::{Dimension, Number, Quantity, Ratio};
use crate::base::value::{Answer, Missing, Reason, unite};
use crate::base::vocabulary::Thing;
use crate::design::Design;
use crate::design::model::shop::ShopFile;
use crate::facts::Facts;
use crate::facts::kinds::Kind;
use crate::yaml::entry::{Entry, Here};
use crate::yaml::words::Words;

use super::sealing::Seals;
use super::{Amount, Cutting, Group, Line, Takeoff, Uncounted, Unit, Use};

/// A takeoff in the making.
pub(super) struct Desk<'a, 'd> {
    pub(super) facts: &'a mut Facts<'d>,
    pub(super) design: &'d Design,
    pub(super) shop: Option<&'a ShopFile>,
    pub(super) cuttings: Vec<Cutting>,
    pub(super) seals: Seals,
    lines: Vec<Line>,
    uncounted: Vec<Uncounted>,
}

impl<'a, 'd> Desk<'a, 'd> {
    pub(super) fn new(facts: &'a mut Facts<'d>, shop: Option<&'a ShopFile>) -> Self {
        let design = facts.design();
        Desk {
            facts,
            design,
            shop,
            cuttings: Vec::new(),
            seals: Seals::default(),
            lines: Vec::new(),
            uncounted: Vec::new(),
        }
    }

    /// A thing of a system by its name.
    pub(super) fn thing(&self, kind: Kind, owner: usize, name: &str) -> Option<Thing> {
        self.facts.things().named(kind, u32::try_from(owner).ok(), name)
    }

    /// What a thing of a system is called where there may be several systems.
    pub(super) fn called(&self, name: &str, system: &str) -> String {
        let name = spoken(name);
        if self.design.systems.things().nth(1).is_some() {
            format!("{name} of {}", spoken(system))
        } else {
            name
        }
    }

    /// A word among the facts of a thing.
    pub(super) fn word<W: Words>(&mut self, it: Thing, name: &str) -> Answer<W> {
        let found = self.facts.word(it, name);
        let missing = self.facts.things().here(it).map(|here| Missing {
            entry: here.path.key(name),
            reason: Reason::NotStated,
            at: Some(here.at),
        });
        found.then(|word| match W::ALL.get(usize::from(word.0)) {
            Some((word, ..)) => Answer::known(*word),
            None => Answer::Unknown(missing.into_iter().collect()),
        })
    }

    /// Puts a line on the list, or to the line that is the same.
    pub(super) fn add(&mut self, line: Line) {
        if line.quantity == Number::whole(0) {
            return;
        }
        let same = |one: &&mut Line| {
            one.group == line.group && one.part == line.part && one.size == line.size && one.unit == line.unit
        };
        match self.lines.iter_mut().find(same) {
            Some(known) => {
                known.quantity = &known.quantity + &line.quantity;
                known.uses.extend(line.uses);
                add_new(&mut known.notes, line.notes);
                add_new(&mut known.assumed, line.assumed);
            }
            None => self.lines.push(line),
        }
    }

    /// Keeps that something cannot be counted.
    pub(super) fn lacks(&mut self, group: Group, what: impl Into<String>, missing: Vec<Missing>) {
        let what = what.into();
        match self.uncounted.iter_mut().find(|one| one.group == group && one.what == what) {
            Some(known) => known.missing = unite(std::mem::take(&mut known.missing), missing),
            None => self.uncounted.push(Uncounted { group, what, missing }),
        }
    }

    /// The value, or nothing, when it is kept that something cannot be counted.
    pub(super) fn or_lacks<T>(
        &mut self,
        group: Group,
        what: impl Into<String>,
        answer: Answer<T>,
    ) -> Option<T> {
        match answer {
            Answer::Known { value, .. } => Some(value),
            Answer::Unknown(missing) => {
                self.lacks(group, what, missing);
                None
            }
        }
    }

    /// The lines of one part of the list so far.
    pub(super) fn lines_of(&self, group: Group) -> impl Iterator<Item = &Line> {
        self.lines.iter().filter(move |line| line.group == group)
    }

    pub(super) fn finish(mut self) -> Takeoff {
        super::sealing::sealant(&mut self);
        self.lines.sort_by_key(|line| line.group);
        self.uncounted.sort_by_key(|one| one.group);
        Takeoff { lines: self.lines, cuttings: self.cuttings, uncounted: self.uncounted }
    }
}

fn add_new(list: &mut Vec<String>, more: Vec<String>) {
    for one in more {
        if !list.contains(&one) {
            list.push(one);
        }
    }
}

impl Line {
    /// A line that counts pieces, none yet.
    pub(super) fn of(group: Group, part: impl Into<String>, size: impl Into<String>) -> Self {
        Line {
            group,
            part: part.into(),
            size: size.into(),
            quantity: Number::whole(0),
            unit: Unit::Each,
            uses: Vec::new(),
            notes: Vec::new(),
            assumed: Vec::new(),
        }
    }

    /// So many pieces for something.
    pub(super) fn count(mut self, count: u32, what: impl Into<String>, here: &Here) -> Self {
        self.quantity = &self.quantity + &Number::whole(count.into());
        self.uses.push(used(what, Some(Amount::Count(count)), here));
        self
    }

    /// So much length for something.
    pub(super) fn length(mut self, length: &Ratio, what: impl Into<String>, here: &Here) -> Self {
        let length = Number::exact(length.clone());
        self.unit = Unit::Length;
        self.quantity = &self.quantity + &length;
        self.uses.push(used(what, Some(Amount::Length(length)), here));
        self
    }

    /// So much area for something.
    pub(super) fn area(mut self, area: &Ratio, what: impl Into<String>, here: &Here) -> Self {
        let area = Number::exact(area.clone());
        self.unit = Unit::Area;
        self.quantity = &self.quantity + &area;
        self.uses.push(used(what, Some(Amount::Area(area)), here));
        self
    }

    /// So much volume for something.
    pub(super) fn volume(mut self, volume: &Ratio, what: impl Into<String>, here: &Here) -> Self {
        let volume = Number::exact(volume.clone());
        self.unit = Unit::Volume;
        self.quantity = &self.quantity + &volume;
        self.uses.push(used(what, Some(Amount::Volume(volume)), here));
        self
    }

    /// So many packs, lengths or rolls.
    pub(super) fn packs(mut self, count: usize, one: String, many: String) -> Self {
        self.quantity = Number::whole(i64::try_from(count).unwrap_or(i64::MAX));
        self.unit = Unit::Of(one, many);
        self
    }

    /// What it is for, where how much of it that takes is of no matter.
    pub(super) fn used(mut self, what: impl Into<String>, here: &Here) -> Self {
        self.uses.push(used(what, None, here));
        self
    }

    /// What else has to be known of it.
    pub(super) fn note(mut self, note: impl Into<String>) -> Self {
        self.notes.push(note.into());
        self
    }

    /// What was taken for granted.
    pub(super) fn assumes(mut self, what: impl Into<String>) -> Self {
        self.assumed.push(what.into());
        self
    }
}

/// What something is for.
pub(super) fn used(what: impl Into<String>, amount: Option<Amount>, here: &Here) -> Use {
    Use { what: what.into(), amount, entry: here.path.clone(), at: here.at }
}

/// A name as one says it.
pub(super) fn spoken(name: &str) -> String {
    name.replace('_', " ")
}

/// The most that a number can be, so that it is enough.
pub(super) fn most(number: &Number) -> Ratio {
    number.high()
}

/// What is missing of an entry, with the key inside it where it is a record that is not there.
pub(super) fn want<T>(entry: &Entry<T>, here: &Here, inside: Option<&str>) -> Vec<Missing> {
    let mut missing = entry.want(here);
    if let Some(key) = inside {
        missing.entry = missing.entry.key(key);
    }
    vec![missing]
}

/// A length as one says it, up to the next eighth of an inch.
pub(super) fn shown_length(length: &Ratio) -> String {
    let cut = super::usual::to_the_eighth(&Number::exact(length.clone()));
    Quantity::of(Number::exact(cut), Dimension::LENGTH).to_string()
}
