//! The shop file under the design. What the design says holds; what it does not say the shop says; both are kept.

use super::model::fan::Fan;
use super::model::pipe::{Hangers, Pipe};
use super::model::shop::ShopFile;
use super::model::systems::System;
use super::read::Design;
use crate::base::near::nearest;
use crate::base::problem::{Problem, ProblemKind};
use crate::yaml::entry::Entry;
use crate::yaml::lay::Same;
use crate::yaml::name::Text;

/// A record of the design over one of the shop.
#[derive(Debug)]
pub struct Layers<'a, R> {
    /// What the design says.
    pub over: Option<&'a R>,
    /// What the shop says.
    pub under: Option<&'a R>,
}

impl<'a, R> Layers<'a, R> {
    /// One key of both.
    pub fn entry<T>(&self, key: impl Fn(&'a R) -> &'a Entry<T>) -> Layered<'a, T> {
        Layered { over: self.over.map(&key), under: self.under.map(&key) }
    }
}

/// One entry of the design over one of the shop.
#[derive(Debug)]
pub struct Layered<'a, T> {
    /// What the design says.
    pub over: Option<&'a Entry<T>>,
    /// What the shop says.
    pub under: Option<&'a Entry<T>>,
}

impl<'a, T> Layered<'a, T> {
    /// The entry that holds: the design's if anything is written there, else the shop's if anything is written there.
    #[must_use]
    pub fn holds(&self) -> Option<&'a Entry<T>> {
        let written = |entry: &&'a Entry<T>| !entry.is_missing();
        self.over.filter(written).or(self.under.filter(written)).or(self.over)
    }

    /// The value that holds, if it is known.
    #[must_use]
    pub fn known(&self) -> Option<&'a T> {
        self.holds().and_then(Entry::known)
    }

    /// Whether the value that holds is the shop's.
    #[must_use]
    pub fn is_from_shop(&self) -> bool {
        self.over.is_none_or(Entry::is_missing) && self.under.is_some_and(|entry| !entry.is_missing())
    }
}

impl<T: Same> Layered<'_, T> {
    /// Whether both say something and do not say the same.
    #[must_use]
    pub fn differ(&self) -> bool {
        match (self.over.and_then(Entry::known), self.under.and_then(Entry::known)) {
            (Some(a), Some(b)) => !a.same(b),
            _ => false,
        }
    }
}

/// The fan of a system over the shop's fan of that name.
#[must_use]
pub fn fan<'a>(system: &'a System, shop: Option<&'a ShopFile>) -> Layers<'a, Fan> {
    let over = system.fan.known();
    let model = over.and_then(|fan| fan.model.known());
    let under = model.zip(shop).and_then(|(model, shop)| shop.fans.thing(model.as_str()));
    Layers { over, under }
}

/// What all pipe of a system is, over what the shop takes.
#[must_use]
pub fn pipe<'a>(system: &'a System, shop: Option<&'a ShopFile>) -> Layers<'a, Pipe> {
    let under = shop.and_then(|shop| shop.defaults.known()).and_then(|defaults| defaults.pipe.known());
    Layers { over: system.pipe.known(), under }
}

/// What holds a run up, over what the shop takes.
#[must_use]
pub fn hangers<'a>(own: &'a Entry<Hangers>, shop: Option<&'a ShopFile>) -> Layers<'a, Hangers> {
    // `none` and `unknown` are said of the whole: nothing of the shop shows through them.
    let open = own.known().is_some() || own.is_missing();
    let defaults = shop.filter(|_| open).and_then(|shop| shop.defaults.known());
    Layers { over: own.known(), under: defaults.and_then(|defaults| defaults.hangers.known()) }
}

/// Fans that a design takes from the shop and that the shop does not have. Without a shop file nothing is asked of it.
#[must_use]
pub fn check(design: &Design, shop: Option<&ShopFile>) -> Vec<Problem> {
    let Some(shop) = shop else { return Vec::new() };
    let names: Vec<&str> = shop.fans.things().map(|(name, _)| name).collect();
    let mut problems = Vec::new();
    for (_, system) in design.systems.things() {
        let Some(entry) = system.fan.known().map(|fan| &fan.model) else { continue };
        let Some(model) = entry.known().map(Text::as_str).filter(|model| !names.contains(model)) else {
            continue;
        };
        let accepts = match names.as_slice() {
            [] => "the name of a fan of the shop file; it has none".to_owned(),
            names => format!("the name of a fan of the shop file: {}", names.join(", ")),
        };
        let problem = Problem::new(ProblemKind::UnknownName, entry.at)
            .found(model)
            .accepts(accepts)
            .nearest(nearest(model, names.iter().copied()));
        problems.push(problem);
    }
    problems
}
