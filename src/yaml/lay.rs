//! One file laid over another of the same form: what the later says holds, and what both say is kept.
//!
//! A record is laid over entry by entry, named things name by name; a single value and a list without names are
//! replaced whole. What the later file does not say stays as it was.

use std::collections::BTreeMap;

use super::entry::{Entry, Here, Item, ListOf, Meaning, Named, OneOrList, Stands, State};
use super::measure::{Measure, Wanted};
use super::name::{NameOf, Text};
use super::record::Reads;
use super::shape::{PlanPoint, Point, Size};
use super::time::{Date, Moment, Zone};
use super::words::Count;
use crate::base::near::nearest;
use crate::base::number::{Comparison, Number, show};
use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::{SourceId, Span};
use crate::base::truth::Truth;
use crate::base::value::EntryPath;

/// Values that may say the same in different words and places.
pub trait Same {
    /// Whether both say the same.
    fn same(&self, other: &Self) -> bool;
}

/// What one file says at one entry.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Said {
    /// Which of the five things stands there.
    pub stands: Stands,
    /// Where it stands.
    pub at: Span,
    /// The value in a few words, where the place holds more than that.
    pub words: Option<String>,
    /// The value, where it is a single number.
    pub number: Option<Number>,
    /// Who measured it, if the value says so.
    pub by: Option<String>,
    /// When, if the value says so.
    pub on: Option<Date>,
}

/// What several files say of one entry, the earliest first.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Difference {
    /// The entry.
    pub entry: EntryPath,
    /// What was said of it, one after the other; the last holds. A single one where something was come across of
    /// which no earlier file speaks, or where what was said gives way to another way of saying it.
    pub said: Vec<Said>,
}

impl Difference {
    /// Whether what holds was put in place of something that cannot be true beside it. A number that is measured so
    /// closely that what was said before can be right has borne it out.
    #[must_use]
    pub fn overrules(&self) -> bool {
        let (Some(first), Some(last)) = (self.said.first(), self.said.last()) else { return false };
        if self.said.len() < 2 || last.stands != Stands::Known {
            return false;
        }
        match (&first.number, &last.number) {
            (Some(before), Some(after)) => {
                let apart = |one: &Number, other: &Number| {
                    Number::exact(one.high()).compare(Comparison::Less, &Number::exact(other.low()))
                        == Truth::True
                };
                apart(before, after) || apart(after, before)
            }
            _ => true,
        }
    }
}

/// What comes to light while files are laid over each other.
#[derive(Debug, Default)]
pub struct Onto {
    days: BTreeMap<SourceId, Option<Date>>,
    differences: BTreeMap<EntryPath, Vec<Said>>,
    /// What is wrong with the later files.
    pub problems: Vec<Problem>,
    /// The key with which a thing at a path says what it is, where it has one; without one no thing is taken for a slip.
    says_what: Option<SaysWhat>,
}

/// The key with which a thing at a path says what it is.
pub type SaysWhat = fn(&EntryPath) -> Option<&'static str>;

impl Onto {
    /// Says that the file of this number is of that day. Two files of one day, or of which one has no day, do not lie
    /// over each other: what they say differently is not known.
    pub fn of_day(&mut self, source: SourceId, day: Option<Date>) {
        self.days.insert(source, day);
    }

    /// Asks of a thing that only a later file has to be told apart from those that are there, and to say what it is.
    pub fn ask_what_is_new(&mut self, says_what: SaysWhat) {
        self.says_what = Some(says_what);
    }

    /// What is wrong with a thing that is new among others: its name is a slip for one of theirs, or nobody says what it is.
    fn stranger<T: Reads>(&self, item: &Item<T>, others: &[Item<T>]) -> Option<Problem> {
        let key = (self.says_what?)(&item.path)?;
        let names = || others.iter().map(|own| own.name.as_str());
        let near = names().find(|own| is_slip(&item.name, own)).map(str::to_owned);
        let mut says = false;
        let what = item.path.key(key);
        if let Some(value) = item.state.known() {
            value.walk(&mut |met| says |= met.path == what && met.stands == Stands::Known);
        }
        // What is part of a part is often told of in few words.
        let is_part = item.path.as_str().split('.').count() > 3;
        let is_one = near.is_some() || (!says && !is_part && !others.is_empty());
        is_one.then(|| {
            Problem::new(ProblemKind::NotInDesign, item.name_at)
                .found(item.name.clone())
                .accepts(names().collect::<Vec<_>>().join(", "))
                .nearest(near)
        })
    }

    /// The differences, in the order of their entries.
    #[must_use]
    pub fn differences(self) -> Vec<Difference> {
        self.differences.into_iter().map(|(entry, said)| Difference { entry, said }).collect()
    }

    fn note(&mut self, entry: EntryPath, under: Option<Said>, over: Option<Said>) {
        let said = self.differences.entry(entry).or_default();
        if said.is_empty() {
            said.extend(under);
        }
        said.extend(over);
    }

    /// Whether neither of two files is later than the other.
    fn side_by_side(&self, under: Span, over: Span) -> bool {
        match (self.days.get(&under.source), self.days.get(&over.source)) {
            (Some(a), Some(b)) => under.source != over.source && (a.is_none() || b.is_none() || a == b),
            _ => false,
        }
    }

    /// Tells that two files of one day differ.
    fn contradict(&mut self, entry: &EntryPath, under: Span, over: Span) {
        let problem = Problem::new(ProblemKind::Contradiction, over)
            .found(format!("{entry} says one thing, and field notes of the same day another"))
            .accepts("one value, or notes with the days on which they were taken")
            .also(under, "says otherwise");
        self.problems.push(problem);
    }
}

impl<T: Reads> Entry<T> {
    /// What is said there.
    fn said(&self) -> Said {
        said(&self.state, self.at)
    }
}

fn said<T: Reads>(state: &State<T>, at: Span) -> Said {
    let nothing = Said { stands: state.stands(), at, words: None, number: None, by: None, on: None };
    state.known().map_or(nothing.clone(), |value| value.in_words(nothing))
}

/// Lays an entry over another.
pub fn lay_entry<T: Reads>(under: &mut Entry<T>, over: Entry<T>, of: &Here, onto: &mut Onto) {
    // A blank that nobody has filled in tells no more than that nothing stands there.
    let nobody_knows = matches!(under.state, State::Missing | State::Unknown);
    if over.is_missing() || nobody_knows && is_blank(&over.state) {
        return;
    }
    under.whole &= over.whole;
    let path = of.path.key(under.key);
    let at = lay_state(&mut under.state, under.at, over.state, over.at, &path, onto);
    under.at = at;
}

/// Whether a name is another one with a letter or two wrong. Another number makes another name.
fn is_slip(written: &str, name: &str) -> bool {
    let words = |text: &str| -> Vec<String> {
        text.split(['_', '-', ' ']).filter(|word| !word.is_empty()).map(str::to_lowercase).collect()
    };
    let plain = |text: &str| text.chars().filter(|c| !c.is_numeric()).collect::<String>();
    let (own, other) = (words(written), words(name));
    let close = |(a, b): (&String, &String)| a == b || nearest(a, [b.as_str()]).is_some();
    let by_words = own.len() == other.len() && own.iter().zip(&other).all(close);
    (by_words || own.concat() == other.concat()) && plain(written) != plain(name)
}

/// Whether nothing is said anywhere in it: nothing is written, or only that it is not known.
fn is_blank<T: Reads>(state: &State<T>) -> bool {
    match state {
        State::Missing | State::Unknown => true,
        State::None | State::Unreadable => false,
        State::Known(value) => {
            if value.means() != Meaning::Parts {
                return false;
            }
            let (mut says, mut holds) = (false, false);
            value.walk(&mut |met| {
                holds = true;
                says |= match met.stands {
                    Stands::Known => met.means != Meaning::Parts,
                    Stands::None | Stands::Unreadable => true,
                    Stands::Missing | Stands::Unknown => false,
                };
            });
            holds && !says
        }
    }
}

/// Lays what stands at a place over what stood there, and says where what holds now stands.
fn lay_state<T: Reads>(
    under: &mut State<T>,
    under_at: Span,
    over: State<T>,
    over_at: Span,
    path: &EntryPath,
    onto: &mut Onto,
) -> Span {
    let before = said(under, under_at);
    let over = match (&mut *under, over) {
        (State::Known(value), State::Known(over)) => match value.lay(over, onto) {
            None => return under_at,
            Some(over) if value.same(&over) => {
                *under = State::Known(over);
                return over_at;
            }
            Some(over) => State::Known(over),
        },
        (_, over) => over,
    };
    let after = said(&over, over_at);
    let told = |stands| matches!(stands, Stands::Known | Stands::None);
    let known = before.stands == Stands::Known;
    if known || (told(before.stands) && told(after.stands) && before.stands != after.stands) {
        onto.note(path.clone(), Some(before.clone()), Some(after.clone()));
    }
    if before.stands != after.stands || known {
        let both = told(before.stands) && told(after.stands);
        if both && onto.side_by_side(under_at, over_at) {
            onto.contradict(path, under_at, over_at);
            *under = State::Unknown;
            return over_at;
        }
    }
    *under = over;
    over_at
}

/// Whether the later entry says something that the earlier does not say already.
pub fn is_news<T: Reads>(under: &Entry<T>, over: &Entry<T>) -> bool {
    !over.is_missing() && !under.same(over)
}

/// Takes an entry away that says in another way what the later file says anew.
pub fn give_way<T: Reads>(under: &mut Entry<T>, over: &Entry<T>, of: &Here, onto: &mut Onto) {
    if over.is_missing() && !under.is_missing() {
        onto.note(of.path.key(under.key), Some(under.said()), None);
        under.state = State::Missing;
    }
}

/// Lays named things over others: name by name; those that are new come behind.
pub fn lay_named<T: Reads>(under: &mut Named<T>, over: Named<T>, onto: &mut Onto) {
    for item in over.items {
        match under.items.iter_mut().find(|own| own.name == item.name) {
            Some(own) if matches!(own.state, State::Unknown) && is_blank(&item.state) => {}
            Some(own) if !matches!(item.state, State::Missing) => {
                let at = lay_state(&mut own.state, own.at, item.state, item.at, &own.path, onto);
                own.at = at;
            }
            Some(_) => {}
            None if is_blank(&item.state) => {}
            None => {
                if let Some(problem) = onto.stranger(&item, &under.items) {
                    onto.problems.push(problem);
                    continue;
                }
                if !matches!(item.state, State::None) {
                    let fresh = Said { at: item.name_at, ..said(&item.state, item.at) };
                    onto.note(item.path.clone(), None, Some(fresh));
                }
                under.items.push(item);
            }
        }
    }
}

impl<W: Wanted> Same for Measure<W> {
    fn same(&self, other: &Self) -> bool {
        self.number() == other.number()
    }
}

/// What a measured value says of itself.
#[must_use]
pub fn measure_in_words<W: Wanted>(measure: &Measure<W>, place: Said) -> Said {
    let number = &measure.quantity.number;
    let words = show(number, measure.quantity.dimension, &measure.quantity.style);
    Said {
        words: Some(words),
        number: Some(measure.number()),
        by: measure.by.clone(),
        on: measure.on,
        ..place
    }
}

macro_rules! equal {
    ($($T:ty),+) => {$(
        impl Same for $T {
            fn same(&self, other: &Self) -> bool {
                self == other
            }
        }
    )+};
}
equal!(bool, Text, Count, Date, Zone);

impl Same for Moment {
    fn same(&self, other: &Self) -> bool {
        self.clock == other.clock
    }
}

impl<K> Same for NameOf<K> {
    fn same(&self, other: &Self) -> bool {
        self.name == other.name
    }
}

impl Same for Size {
    fn same(&self, other: &Self) -> bool {
        let alike = |a: &crate::base::number::Size, b: &crate::base::number::Size| {
            a.first.number == b.first.number && a.second.number == b.second.number
        };
        match (self, other) {
            (Size::Rectangle(a), Size::Rectangle(b)) => alike(a, b),
            (Size::L(a, c), Size::L(b, d)) => alike(a, b) && alike(c, d),
            _ => false,
        }
    }
}

impl Same for Point {
    fn same(&self, other: &Self) -> bool {
        self.x.same(&other.x) && self.y.same(&other.y) && self.z.same(&other.z)
    }
}

impl Same for PlanPoint {
    fn same(&self, other: &Self) -> bool {
        self.x.same(&other.x) && self.y.same(&other.y)
    }
}

impl<T: Same> Same for State<T> {
    fn same(&self, other: &Self) -> bool {
        match (self, other) {
            (State::Known(a), State::Known(b)) => a.same(b),
            _ => self.stands() == other.stands(),
        }
    }
}

impl<T: Same> Same for Entry<T> {
    fn same(&self, other: &Self) -> bool {
        self.state.same(&other.state)
    }
}

impl<T: Same> Same for Item<T> {
    fn same(&self, other: &Self) -> bool {
        self.state.same(&other.state)
    }
}

impl<T: Same> Same for Named<T> {
    fn same(&self, other: &Self) -> bool {
        let found = |item: &Item<T>| other.item(&item.name).is_some_and(|own| own.same(item));
        self.items.len() == other.items.len() && self.items.iter().all(found)
    }
}

impl<T: Same> Same for ListOf<T> {
    fn same(&self, other: &Self) -> bool {
        let mut pairs = self.items.iter().zip(&other.items);
        self.items.len() == other.items.len() && pairs.all(|(a, b)| a.same(b))
    }
}

impl<T: Same> Same for OneOrList<T> {
    fn same(&self, other: &Self) -> bool {
        self.0.same(&other.0)
    }
}

impl<T: Same> Same for Box<T> {
    fn same(&self, other: &Self) -> bool {
        (**self).same(other)
    }
}
