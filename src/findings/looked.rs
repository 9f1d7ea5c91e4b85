//! What was seen on site, requirement by requirement: it stands beside the verdicts and decides none.

use std::collections::BTreeMap;

use crate::base::text::Span;
use crate::design::Design;
use crate::design::notes::Head;
use crate::yaml::entry::{Entry, State};
use crate::yaml::name::Text;

use super::finding::Finding;
use super::gather::Used;

/// How a requirement was found.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Saw {
    /// It is not as it should be.
    Otherwise,
    /// It could not be seen.
    CouldNotSee,
    /// It is as it should be.
    AsItShouldBe,
}

/// What a look was at.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum LookedAt {
    /// A requirement of a thing: the identity of its finding.
    Finding(String),
    /// A clause that books leave to the eye: what to look for.
    Eye(String),
    /// Nothing that a book of this review asks.
    NotAsked,
}

/// A look at a requirement.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Looked {
    /// The name under which it stands in the file.
    pub name: String,
    /// Where it stands.
    pub at: Span,
    /// What it was at.
    pub of: LookedAt,
    /// How it was found.
    pub saw: Saw,
    /// What was seen, in the words of whoever looked.
    pub note: Option<String>,
    /// Who looked, as far as it is stated.
    pub by: Option<String>,
    /// On which day, as far as it is stated.
    pub on: Option<String>,
}

/// A clause that books leave to the eye.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Eye {
    /// What to look for.
    pub look_for: String,
    /// The books that ask for it, by their places among those that were used, each with the section.
    pub clauses: Vec<(usize, String)>,
}

/// The clauses that these books leave to the eye, what several of them ask in the same words once.
#[must_use]
pub fn to_the_eye(used: &[Used<'_>]) -> Vec<Eye> {
    let mut list: Vec<Eye> = Vec::new();
    let mut known: BTreeMap<&str, usize> = BTreeMap::new();
    for (book, one) in used.iter().enumerate() {
        for (section, look_for) in &one.book.left_to_the_eye {
            let clause = (book, section.clone());
            let at = *known.entry(look_for.as_str()).or_insert_with(|| {
                list.push(Eye { look_for: look_for.clone(), clauses: Vec::new() });
                list.len() - 1
            });
            if let Some(eye) = list.get_mut(at)
                && !eye.clauses.contains(&clause)
            {
                eye.clauses.push(clause);
            }
        }
    }
    list
}

/// The name under which a look at a requirement is written down: the identity of its finding, without the signs that no
/// name of a file may have.
#[must_use]
pub fn name_of_finding(identity: &str) -> String {
    written(identity)
}

/// The same for a clause that books leave to the eye.
#[must_use]
pub fn name_of_eye(look_for: &str) -> String {
    written(&format!("by eye, {look_for}"))
}

fn written(name: &str) -> String {
    let plain = |c: char| {
        let fits = !c.is_control() && !".:[]{}\"\\*#".contains(c);
        if fits { c } else { ' ' }
    };
    let plain: String = name.chars().map(plain).collect();
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// What was seen on site, what is not as it should be first. What nobody has filled in is no look.
#[must_use]
pub fn looked(design: &Design, heads: &[Head], findings: &[Finding], used: &[Used<'_>]) -> Vec<Looked> {
    if design.checked.is_missing() {
        return Vec::new();
    }
    let mut asked: BTreeMap<String, LookedAt> = BTreeMap::new();
    for eye in to_the_eye(used) {
        asked.insert(name_of_eye(&eye.look_for), LookedAt::Eye(eye.look_for));
    }
    for finding in findings {
        asked.insert(name_of_finding(&finding.identity), LookedAt::Finding(finding.identity.clone()));
    }
    let items = design.checked.known().map(|named| named.items.as_slice()).unwrap_or_default();
    let mut list: Vec<Looked> = items
        .iter()
        .filter_map(|item| {
            let checked = item.state.known()?;
            let saw = match checked.found.state {
                State::Known(true) => Saw::AsItShouldBe,
                State::Known(false) => Saw::Otherwise,
                State::Unknown => Saw::CouldNotSee,
                State::Missing | State::None | State::Unreadable => return None,
            };
            let head = heads.iter().find(|head| head.source == checked.found.at.source);
            let words = |entry: &Entry<Text>| entry.known().map(|text| text.0.clone());
            let own_day = checked.on.known().copied();
            Some(Looked {
                name: item.name.clone(),
                at: item.name_at,
                of: asked.get(&item.name).cloned().unwrap_or(LookedAt::NotAsked),
                saw,
                note: words(&checked.note),
                by: words(&checked.by).or_else(|| head?.by.clone()),
                on: own_day.or_else(|| head?.on).map(|day| day.to_string()),
            })
        })
        .collect();
    list.sort_by_key(|one| one.saw);
    list
}
