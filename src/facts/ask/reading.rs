//! Reading entries: what is looked at counts as a ground of whatever is being worked out.

use rustc_hash::FxHashSet;
use std::rc::Rc;

use crate::base::number::quantity::Style;
use crate::base::number::{Dimension, Number, Ratio};
use crate::base::value::{Answer, Missing, Reason};
use crate::base::vocabulary::{ROOT, Thing, WordId};
use crate::yaml::entry::{Entry, Here, State};
use crate::yaml::measure::{Measure, Wanted};
use crate::yaml::words::Words;

use super::super::statements::{Said, Statement, half_of, half_step};
use super::{Ask, Key, Look, Step, as_stated, walk, word_id};

impl<'d> Ask<'d> {
    /// Looks at an entry. `None` inside the answer means that `none` is written there.
    pub fn read<T>(&mut self, of: &'d Here, entry: &'d Entry<T>) -> Answer<Option<&'d T>> {
        let stated = matches!(entry.state, State::Known(_) | State::None);
        self.look(Look { of, key: entry.key, inside: None, at: entry.at, stated, number: None });
        if stated {
            return entry.answer(of);
        }
        let path = self.paths.entry((std::ptr::from_ref(of), entry.key.as_ptr()));
        let path = path.or_insert_with(|| of.path.key(entry.key)).clone();
        Answer::missing(Missing { entry: path, reason: entry.reason(), at: Some(entry.at) })
    }

    /// The value that stands under an entry, if one does. It counts as looked at, and nothing of it is asked for.
    pub(in crate::facts) fn peek<T>(&mut self, of: &'d Here, entry: &'d Entry<T>) -> Option<&'d T> {
        let stated = matches!(entry.state, State::Known(_) | State::None);
        self.look(Look { of, key: entry.key, inside: None, at: entry.at, stated, number: None });
        entry.known()
    }

    /// Looks at an entry of a record that is itself an entry. When the record is not there, it is the
    /// entry inside it that is missing. `None` inside the answer means that `none` is written for either.
    pub fn read_inside<P, T>(
        &mut self,
        of: &'d Here,
        parent: &'d Entry<P>,
        key: &'static str,
        get: impl FnOnce(&'d P) -> (&'d Here, &'d Entry<T>),
    ) -> Answer<Option<&'d T>> {
        match &parent.state {
            State::Known(record) => {
                let (here, entry) = get(record);
                self.read(here, entry)
            }
            state => {
                let stated = matches!(state, State::None);
                let look =
                    Look { of, key: parent.key, inside: Some(key), at: parent.at, stated, number: None };
                let missing = Missing { entry: look.path(), reason: parent.reason(), at: Some(parent.at) };
                self.look(look);
                if stated { Answer::known(None) } else { Answer::missing(missing) }
            }
        }
    }

    /// The same, where `none` says no more than nothing.
    pub fn value_inside<P, T>(
        &mut self,
        of: &'d Here,
        parent: &'d Entry<P>,
        key: &'static str,
        get: impl FnOnce(&'d P) -> (&'d Here, &'d Entry<T>),
    ) -> Answer<&'d T> {
        let answer = self.read_inside(of, parent, key, get);
        answer.then(|value| match value {
            Some(value) => Answer::known(value),
            None => Answer::missing(Missing {
                entry: of.path.key(parent.key).key(key),
                reason: Reason::NotStated,
                at: Some(parent.at),
            }),
        })
    }

    /// The value of an entry for which `none` says no more than nothing.
    pub fn value<T>(&mut self, of: &'d Here, entry: &'d Entry<T>) -> Answer<&'d T> {
        self.read(of, entry).then(|value| match value {
            Some(value) => Answer::known(value),
            None => Answer::missing(entry.want(of)),
        })
    }

    /// A number as stated; a range when it says how closely it is known, with itself as what is in doubt.
    pub fn quantity<W: Wanted>(&mut self, of: &'d Here, entry: &'d Entry<Measure<W>>) -> Answer<Number> {
        let measure = self.value(of, entry);
        self.is_measured(entry);
        measure.then(|measure| as_stated(measure.number(), || entry.want(of)))
    }

    /// Notes that what was looked at last is a number, and how it is written.
    pub(in crate::facts) fn is_number(&mut self, style: Option<&'d Style>, slack: Ratio) {
        let steps = self.stack.last_mut().into_iter().flat_map(|frame| frame.ground.steps.iter_mut().rev());
        let last =
            steps.filter_map(|step| if let Step::Looked(look) = step { Some(look) } else { None }).next();
        if let Some(look) = last.filter(|look| look.stated) {
            look.number = Some(Box::new((style, slack)));
        }
    }

    /// Notes that what was looked at last is a quantity. Only lengths are made up from others as they are written.
    fn is_measured<W: Wanted>(&mut self, entry: &'d Entry<Measure<W>>) {
        if let Some(measure) = entry.known() {
            let slack = if W::DIMENSION == Dimension::LENGTH { half_step(entry) } else { Ratio::ZERO };
            self.is_number(Some(&measure.quantity.style), slack);
        }
    }

    /// One statement of a number, with the numbers of the file that it is made of.
    pub(in crate::facts) fn statement(
        &mut self,
        want: Missing,
        work: impl FnOnce(&mut Ask<'d>) -> Answer<Number>,
    ) -> Statement<'d> {
        let before = self.stack.last().map_or(0, |frame| frame.ground.steps.len());
        let value = work(self);
        let steps = self.stack.last().and_then(|frame| frame.ground.steps.get(before..)).unwrap_or_default();
        let mut by: Vec<Said<'d>> = Vec::new();
        walk(steps, &mut FxHashSet::default(), true, &mut |step, counts| {
            let Step::Looked(look) = step else { return };
            let Some(number) = look.number.as_ref().filter(|_| counts) else { return };
            let (style, slack) = number.as_ref();
            let entry = look.path();
            match by.iter_mut().find(|said| said.entry == entry) {
                Some(said) => said.slack = said.slack.clone().max(slack.clone()),
                None => by.push(Said { at: look.at, entry, style: *style, slack: slack.clone() }),
            }
        });
        by.sort_by_key(|said| said.at);
        Statement { value, want, by, own_slack: None }
    }

    /// One statement of a number, where it tells. Where it does not, nothing was looked at: whoever might have told it
    /// in another way is asked for that instead.
    pub(in crate::facts) fn told(
        &mut self,
        want: Missing,
        work: impl FnOnce(&mut Ask<'d>) -> Answer<Number>,
    ) -> Option<Statement<'d>> {
        self.begin(Key::Between("told", ROOT));
        let statement = self.statement(want, work);
        let (value, ground) = self.end(ROOT, statement.value.clone());
        let Answer::Known { .. } = value else { return None };
        self.rest_on(Rc::new(ground));
        Some(statement)
    }

    /// Something that is looked at only to choose: the numbers in it are none that a statement is made of.
    pub(in crate::facts) fn choosing<T>(&mut self, work: impl FnOnce(&mut Ask<'d>) -> T) -> T {
        let before = self.stack.last().map_or(0, |frame| frame.ground.steps.len());
        let found = work(self);
        if let Some(frame) = self.stack.last_mut() {
            for step in frame.ground.steps.iter_mut().skip(before) {
                match step {
                    Step::Looked(look) => look.number = None,
                    Step::Between { numbers, .. } => *numbers = false,
                    Step::Asked(..) | Step::Assumed(_) => {}
                }
            }
        }
        found
    }

    /// Something that is looked at only to see whether what is stated can be. What it looks at counts as looked at
    /// only where it comes upon something, which then names its own entries.
    pub(in crate::facts) fn aside<T>(
        &mut self,
        name: &'static str,
        thing: Thing,
        work: impl FnOnce(&mut Ask<'d>) -> Option<T>,
    ) -> Option<T> {
        self.begin(Key::Between(name, thing));
        let found = work(self);
        let _ = self.end(thing, Answer::known(()));
        found
    }

    /// A number of a record that is itself an entry.
    pub fn quantity_inside<P, W: Wanted>(
        &mut self,
        of: &'d Here,
        parent: &'d Entry<P>,
        key: &'static str,
        get: impl FnOnce(&'d P) -> (&'d Here, &'d Entry<Measure<W>>),
    ) -> Answer<Number> {
        let missing = || Missing {
            entry: of.path.key(parent.key).key(key),
            reason: Reason::NotStated,
            at: Some(parent.at),
        };
        let measure = self.value_inside(of, parent, key, get);
        if let Answer::Known { value, .. } = &measure {
            let slack = if W::DIMENSION == Dimension::LENGTH {
                half_of(value.quantity.step().filter(|_| value.within.is_none()))
            } else {
                Ratio::ZERO
            };
            self.is_number(Some(&value.quantity.style), slack);
        }
        measure.then(|measure| as_stated(measure.number(), missing))
    }

    /// A yes or no as stated.
    pub fn yes_or_no(&mut self, of: &'d Here, entry: &'d Entry<bool>) -> Answer<bool> {
        self.value(of, entry).map(|value| *value)
    }

    /// A yes or no of a record that is itself an entry. `none` for the whole record means no.
    pub fn yes_or_no_inside<P>(
        &mut self,
        of: &'d Here,
        parent: &'d Entry<P>,
        key: &'static str,
        get: impl FnOnce(&'d P) -> (&'d Here, &'d Entry<bool>),
    ) -> Answer<bool> {
        let without = parent.is_none();
        let answer = self.read_inside(of, parent, key, get);
        answer.then(|value| match value {
            Some(value) => Answer::known(*value),
            None if without => Answer::known(false),
            None => Answer::missing(Missing {
                entry: of.path.key(parent.key).key(key),
                reason: Reason::NotStated,
                at: Some(parent.at),
            }),
        })
    }

    /// A word as stated.
    pub fn stated_word<W: Words>(&mut self, of: &'d Here, entry: &'d Entry<W>) -> Answer<WordId> {
        self.value(of, entry).map(|word| word_id(*word))
    }

    /// Whether something is said to be there: a record or a word means yes, `none` means no.
    pub fn is_there<T>(&mut self, of: &'d Here, entry: &'d Entry<T>) -> Answer<bool> {
        self.read(of, entry).map(|value| value.is_some())
    }

    /// Notes that something was taken for granted.
    pub fn assume(&mut self, what: &'static str) {
        if let Some(frame) = self.stack.last_mut() {
            frame.ground.steps.push(Step::Assumed(what));
        }
    }
}
