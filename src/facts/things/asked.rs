//! Reading what is written of things, and finding those that an entry names.

use crate::base::value::{Answer, EntryPath, Missing, Reason};
use crate::base::vocabulary::Thing;
use crate::design::model::names::AreaOrSpace;
use crate::yaml::entry::{Entry, Here, Item};
use crate::yaml::name::NameOf;

use super::super::ask::Ask;
use super::super::kinds::Kind;
use super::{Member, Things};

/// Reads a fact off what is written of a thing.
pub(in crate::facts) fn of<'d, T: 'd, R>(
    ask: &mut Ask<'d>,
    it: Thing,
    list: for<'t> fn(&'t Things<'d>) -> &'t Vec<Member<'d, T>>,
    get: impl FnOnce(&mut Ask<'d>, &'d T) -> Answer<R>,
) -> Answer<R> {
    match list(ask.things()).get(it.number as usize).map(|member| member.it) {
        Some(record) => get(ask, record),
        None => ask.cannot(it, "it is not in the file"),
    }
}

/// The space that an entry names, or the space of the area that it names.
pub(in crate::facts) fn space_or_area<'d>(
    ask: &mut Ask<'d>,
    of: &'d Here,
    entry: &'d Entry<NameOf<AreaOrSpace>>,
) -> Answer<Thing> {
    let want = entry.want(of);
    ask.value(of, entry).then(|name| {
        let area = ask.things().named(Kind::Area, None, name.as_str());
        match ask.things().space_named(name.as_str()) {
            Some(space) => Answer::known(space),
            None => match area {
                Some(area) => ask.one(area, "in"),
                None => Answer::missing(Missing { reason: Reason::Unreadable, ..want }),
            },
        }
    })
}

impl<'d> Ask<'d> {
    /// The space with a name that an entry gives; an unknown name makes the entry unreadable.
    pub(in crate::facts) fn space_called(&self, want: Missing, name: &str) -> Answer<Thing> {
        match self.things().space_named(name) {
            Some(space) => Answer::known(space),
            None => Answer::missing(Missing { reason: Reason::Unreadable, ..want }),
        }
    }

    /// The spaces that a list of names gives. A member that cannot be read is missing.
    pub(in crate::facts) fn spaces_called<K>(&self, items: &[Item<NameOf<K>>]) -> Answer<Vec<Thing>> {
        let found = items.iter().map(|item| {
            item.answer().then(|name| match name {
                Some(name) => self.space_called(item.want(), name.as_str()),
                None => Answer::missing(item.want()),
            })
        });
        Answer::all(found)
    }

    /// What a person would have to write for a thing of a kind to be known.
    pub(in crate::facts) fn want_at(&self, path: &str) -> Missing {
        Missing { entry: EntryPath::new(path), reason: Reason::NotStated, at: None }
    }
}
