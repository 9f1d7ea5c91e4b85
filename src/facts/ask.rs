//! Asking: every fact of every thing is worked out once, on demand, and remembers what it rests on.

mod reading;

use std::any::Any;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;
use std::sync::Arc;

use rustc_hash::{FxHashMap, FxHashSet};

use crate::base::number::quantity::Style;
use crate::base::number::{Number, Ratio};
use crate::base::text::Span;
use crate::base::value::{Answer, EntryPath, Listed, Missing, Origin, Reason, Stated, Value};
use crate::base::vocabulary::{Answers, FactId, Thing, Vocabulary, WordId};
use crate::design::Design;
use crate::yaml::entry::Here;
use crate::yaml::words::Words;

use super::catalogue::{self, Get};
use super::statements::Disagreement;
use super::things::Things;

/// What is being worked out: a fact, or something in between that no rule can speak of.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
enum Key {
    Fact(FactId, Thing),
    Between(&'static str, Thing),
}

/// An entry that was looked at.
#[derive(Debug)]
struct Look<'d> {
    of: &'d Here,
    key: &'static str,
    /// The key inside it, when it is not there to be looked into.
    inside: Option<&'static str>,
    at: Span,
    stated: bool,
    /// Where it is a number: the way it is written, and by how much it may be off for that.
    number: Option<Box<(Option<&'d Style>, Ratio)>>,
}

impl Look<'_> {
    fn path(&self) -> EntryPath {
        match self.inside {
            Some(key) => self.of.path.key(self.key).key(key),
            None => self.of.path.key(self.key),
        }
    }

    /// Where it stands and what names it there. Two that agree in this have the same path.
    fn id(&self) -> (Span, *const Here, &'static str, Option<&'static str>) {
        (self.at, self.of, self.key, self.inside)
    }
}

/// One step on the way to what was worked out.
#[derive(Debug)]
enum Step<'d> {
    Looked(Look<'d>),
    Asked(FactId, Thing),
    Assumed(&'static str),
    /// Something in between, with all that it rests on, which is kept once for all who ask for it.
    Between {
        ground: Rc<Ground<'d>>,
        /// Whether the numbers in it count as numbers that a statement is made of.
        numbers: bool,
    },
}

/// What something rests on.
#[derive(Debug, Default)]
struct Ground<'d> {
    /// In the order in which it was come upon.
    steps: Vec<Step<'d>>,
    /// Things still being worked out that it asked for, itself or by way of others.
    ring: Vec<Key>,
}

impl<'d> Ground<'d> {
    /// Shows every step, those of what lies in between in the place where it was asked for, once.
    fn walk<'g>(&'g self, see: &mut impl FnMut(&'g Step<'d>)) {
        walk(&self.steps, &mut FxHashSet::default(), true, &mut |step, _| see(step));
    }
}

/// Shows steps, and whether their numbers count.
fn walk<'g, 'd>(
    steps: &'g [Step<'d>],
    seen: &mut FxHashSet<(*const Ground<'d>, bool)>,
    counts: bool,
    see: &mut impl FnMut(&'g Step<'d>, bool),
) {
    for step in steps {
        match step {
            Step::Between { ground, numbers } => {
                let counts = counts && *numbers;
                if seen.insert((Rc::as_ptr(ground), counts)) {
                    walk(&ground.steps, seen, counts, see);
                }
            }
            step => see(step, counts),
        }
    }
}

/// One thing that is being worked out.
struct Frame<'d> {
    what: Key,
    on_ring: bool,
    ground: Ground<'d>,
}

/// What was worked out.
#[derive(Debug)]
struct Done<'d, T> {
    answer: Answer<T>,
    ground: Rc<Ground<'d>>,
}

/// Something in between, of whichever type.
type Kept<'d> = Done<'d, Box<dyn Any>>;

/// Where the answer for one fact of one thing is kept.
#[derive(Debug, Default)]
enum Slot<'d> {
    #[default]
    Empty,
    Busy,
    Done(Box<Done<'d, Value>>),
}

/// A number as an answer; when it is a range, what would have to be measured closer, or stated at all, is in doubt.
pub(super) fn in_doubt(number: Number, of: impl FnOnce() -> Missing) -> Answer<Number> {
    if number.is_point() {
        return Answer::known(number);
    }
    let mut of = of();
    if matches!(of.reason, Reason::NotStated | Reason::StatedUnknown) {
        of.reason = Reason::TakenForGranted;
    }
    Answer::Known { value: number, doubts: vec![of] }
}

/// A number as stated; a range when it says how closely it is known.
pub(super) fn as_stated(number: Number, of: impl FnOnce() -> Missing) -> Answer<Number> {
    in_doubt(number, || Missing { reason: Reason::Imprecise, ..of() })
}

/// The place of a word in its list.
pub(super) fn word_id<W: Words>(word: W) -> WordId {
    WordId(u16::try_from(word.number()).unwrap_or(u16::MAX))
}

/// A design that can be asked, and what it has answered so far.
pub struct Ask<'d> {
    design: &'d Design,
    things: Things<'d>,
    slots: Vec<Vec<Slot<'d>>>,
    between: BTreeMap<(&'static str, Thing), Option<Kept<'d>>>,
    stack: Vec<Frame<'d>>,
    disagreements: Vec<Disagreement<'d>>,
    origins: BTreeMap<(FactId, Thing), Arc<Origin>>,
    /// The paths of entries that were looked for and do not tell, by what they stand in and their key.
    paths: FxHashMap<(*const Here, *const u8), EntryPath>,
    worked_out: usize,
}

impl<'d> Ask<'d> {
    /// Begins to ask a design.
    #[must_use]
    pub fn new(design: &'d Design) -> Self {
        let things = Things::of(design);
        let slots = catalogue::all().map(|_| Vec::new()).collect();
        Ask {
            design,
            things,
            slots,
            between: BTreeMap::new(),
            stack: Vec::new(),
            disagreements: Vec::new(),
            origins: BTreeMap::new(),
            paths: FxHashMap::default(),
            worked_out: 0,
        }
    }

    /// The design.
    #[must_use]
    pub fn design(&self) -> &'d Design {
        self.design
    }

    /// The things of the design.
    #[must_use]
    pub fn things(&self) -> &Things<'d> {
        &self.things
    }

    /// How many facts were worked out so far; asking again works nothing out.
    #[must_use]
    pub fn worked_out(&self) -> usize {
        self.worked_out
    }

    /// Keeps statements that cannot all be true, to be told.
    pub(super) fn disagree(&mut self, disagreement: Disagreement<'d>) {
        let entries = disagreement.entries();
        if self.disagreements.iter().all(|known| known.entries() != entries) {
            self.disagreements.push(disagreement);
        }
    }

    /// The statements that were found not to agree so far.
    pub(super) fn disagreements(&self) -> &[Disagreement<'d>] {
        &self.disagreements
    }

    // ---- asking facts ----------------------------------------------------------------------------

    /// The value of a fact.
    pub fn fact(&mut self, id: FactId, thing: Thing) -> Answer<Value> {
        if let Some(frame) = self.stack.last_mut() {
            frame.ground.steps.push(Step::Asked(id, thing));
        }
        let key = Key::Fact(id, thing);
        match self.slot(id, thing) {
            None => return self.not_catalogued(thing),
            Some(Slot::Busy) => return self.hit_ring(key, thing),
            Some(Slot::Done(done)) => {
                let answer = done.answer.clone();
                if !done.ground.ring.is_empty() {
                    let ground = Rc::clone(&done.ground);
                    self.mark_rings(&ground.ring);
                }
                return answer;
            }
            Some(empty) => *empty = Slot::Busy,
        }
        let Some(fact) = catalogue::numbered(id) else { return self.not_catalogued(thing) };
        self.worked_out += 1;
        self.begin(key);
        let answer = match fact.get {
            Get::Number(_, get) => {
                let number = get(self, thing);
                self.doubtful(thing, number, Reason::Imprecise).map(Value::Number)
            }
            Get::Estimate(_, get) => {
                let number = get(self, thing);
                self.doubtful(thing, number, Reason::Reckoned).map(Value::Number)
            }
            Get::Truth(get) | Get::TruthReckoned(get) => get(self, thing).map(Value::Truth),
            Get::Word(_, get) => get(self, thing).map(Value::Word),
            Get::One(_, get) => get(self, thing).map(Value::Thing),
            Get::Things(_, get) => get(self, thing).map(Value::Things),
            Get::Text(get) => get(self, thing).map(Value::Text),
        };
        let (answer, ground) = self.end(thing, answer);
        if let Some(slot) = self.slot(id, thing) {
            *slot = Slot::Done(Box::new(Done { answer: answer.clone(), ground: Rc::new(ground) }));
        }
        answer
    }

    /// A range is always in doubt for want of something: where nothing nearer is known, of the thing itself.
    fn doubtful(&self, thing: Thing, answer: Answer<Number>, reason: Reason) -> Answer<Number> {
        match answer {
            Answer::Known { value, doubts } if doubts.is_empty() && !value.is_point() => {
                Answer::Known { value, doubts: vec![self.of_thing(thing, reason)] }
            }
            answer => answer,
        }
    }

    fn slot(&mut self, id: FactId, thing: Thing) -> Option<&mut Slot<'d>> {
        let fact = catalogue::numbered(id)?;
        let count = self.things.count(fact.of);
        let slots = self.slots.get_mut(usize::from(id.0))?;
        if slots.len() < count {
            slots.resize_with(count, Slot::default);
        }
        if thing.kind == fact.of.id() { slots.get_mut(thing.number as usize) } else { None }
    }

    /// Something in between that several facts rest on: worked out once, and what it rests on counts as
    /// looked at by whoever asks for it.
    pub(super) fn between<T: Clone + 'static>(
        &mut self,
        name: &'static str,
        thing: Thing,
        work: impl FnOnce(&mut Ask<'d>) -> Answer<T>,
    ) -> Answer<T> {
        let key = Key::Between(name, thing);
        match self.between.get(&(name, thing)) {
            Some(None) => return self.hit_ring(key, thing),
            Some(Some(done)) => {
                let answer = match &done.answer {
                    Answer::Known { value, doubts } => value
                        .downcast_ref::<T>()
                        .map(|value| Answer::Known { value: value.clone(), doubts: doubts.clone() }),
                    Answer::Unknown(missing) => Some(Answer::Unknown(missing.clone())),
                };
                let ground = Rc::clone(&done.ground);
                self.rest_on(ground);
                return answer.unwrap_or_else(|| self.not_catalogued(thing));
            }
            None => {}
        }
        self.between.insert((name, thing), None);
        self.begin(key);
        let answer = work(self);
        let (answer, ground) = self.end(thing, answer);
        let kept = answer.clone().map(|value| Box::new(value) as Box<dyn Any>);
        let ground = Rc::new(ground);
        self.between.insert((name, thing), Some(Done { answer: kept, ground: Rc::clone(&ground) }));
        self.rest_on(ground);
        answer
    }

    fn begin(&mut self, what: Key) {
        self.stack.push(Frame { what, on_ring: false, ground: Ground::default() });
    }

    /// Ends the innermost piece of work. On a ring, whatever came out is set aside: it would depend on
    /// who asked first.
    fn end<T>(&mut self, thing: Thing, answer: Answer<T>) -> (Answer<T>, Ground<'d>) {
        let Some(mut frame) = self.stack.pop() else { return (answer, Ground::default()) };
        frame.ground.ring.retain(|key| *key != frame.what);
        // It is kept as long as the design is asked.
        frame.ground.steps.shrink_to_fit();
        let ring = frame.ground.ring.clone();
        self.mark_rings(&ring);
        if frame.on_ring { (self.circular(thing), frame.ground) } else { (answer, frame.ground) }
    }

    fn hit_ring<T>(&mut self, key: Key, thing: Thing) -> Answer<T> {
        self.mark_rings(&[key]);
        self.circular(thing)
    }

    /// Whoever asks for one that is still being worked out stands on a ring with it, and so does all that
    /// was begun since.
    fn mark_rings(&mut self, ring: &[Key]) {
        for key in ring {
            let Some(start) = self.stack.iter().position(|frame| frame.what == *key) else { continue };
            for frame in self.stack.iter_mut().skip(start) {
                frame.on_ring = true;
                if !frame.ground.ring.contains(key) {
                    frame.ground.ring.push(*key);
                }
            }
        }
    }

    fn rest_on(&mut self, ground: Rc<Ground<'d>>) {
        self.mark_rings(&ground.ring);
        if let Some(frame) = self.stack.last_mut() {
            frame.ground.steps.push(Step::Between { ground, numbers: true });
        }
    }

    fn circular<T>(&self, thing: Thing) -> Answer<T> {
        Answer::missing(self.of_thing(thing, Reason::Circular))
    }

    fn not_catalogued<T>(&self, thing: Thing) -> Answer<T> {
        let reason = Reason::NotComputable("the catalogue does not hold it".to_owned());
        Answer::missing(self.of_thing(thing, reason))
    }

    /// Something missing that is said of the thing as a whole.
    pub(super) fn of_thing(&self, thing: Thing, reason: Reason) -> Missing {
        let here = self.things.here(thing);
        let entry = here.map_or_else(|| EntryPath::new(""), |here| here.path.clone());
        Missing { entry, reason, at: here.map(|here| here.at) }
    }

    /// That something cannot be worked out for a thing, and why.
    pub(super) fn cannot<T>(&self, thing: Thing, why: &str) -> Answer<T> {
        Answer::missing(self.of_thing(thing, Reason::NotComputable(why.to_owned())))
    }

    fn named(&mut self, thing: Thing, name: &str) -> Answer<Value> {
        match catalogue::number_of(thing.kind, name) {
            Some(id) => self.fact(id, thing),
            None => {
                debug_assert!(false, "no fact is called {name}");
                self.not_catalogued(thing)
            }
        }
    }

    /// A number among the facts.
    pub fn number(&mut self, thing: Thing, name: &str) -> Answer<Number> {
        self.named(thing, name).then(|value| match value {
            Value::Number(number) => Answer::known(number),
            _ => self.not_catalogued(thing),
        })
    }

    /// A yes or no among the facts.
    pub fn truth(&mut self, thing: Thing, name: &str) -> Answer<bool> {
        self.named(thing, name).then(|value| match value {
            Value::Truth(truth) => Answer::known(truth),
            _ => self.not_catalogued(thing),
        })
    }

    /// A word among the facts.
    pub fn word(&mut self, thing: Thing, name: &str) -> Answer<WordId> {
        self.named(thing, name).then(|value| match value {
            Value::Word(word) => Answer::known(word),
            _ => self.not_catalogued(thing),
        })
    }

    /// A thing among the facts.
    pub fn one(&mut self, thing: Thing, name: &str) -> Answer<Thing> {
        self.named(thing, name).then(|value| match value {
            Value::Thing(one) => Answer::known(one),
            _ => self.not_catalogued(thing),
        })
    }

    /// Things among the facts.
    pub fn several(&mut self, thing: Thing, name: &str) -> Answer<Listed<Thing>> {
        self.named(thing, name).then(|value| match value {
            Value::Things(things) => Answer::known(things),
            _ => self.not_catalogued(thing),
        })
    }

    // ---- what it rests on ------------------------------------------------------------------------

    fn ground(&mut self, id: FactId, thing: Thing) -> Option<&Rc<Ground<'d>>> {
        match self.slot(id, thing) {
            Some(Slot::Done(done)) => Some(&done.ground),
            _ => None,
        }
    }

    /// A fact and every fact that it was worked out from, the nearest first, each with what it rests on.
    fn all_asked(&mut self, id: FactId, thing: Thing) -> Vec<(FactId, Thing, Rc<Ground<'d>>)> {
        let mut seen = FxHashSet::from_iter([(id, thing)]);
        let mut found = vec![(id, thing)];
        let mut grounds = Vec::new();
        let mut next = 0;
        while let Some((id, thing)) = found.get(next).copied() {
            next += 1;
            let ground = self.ground(id, thing).map(Rc::clone).unwrap_or_default();
            ground.walk(&mut |step| {
                if let Step::Asked(id, thing) = step
                    && seen.insert((*id, *thing))
                {
                    found.push((*id, *thing));
                }
            });
            grounds.push((id, thing, ground));
        }
        grounds
    }

    /// What a fact was worked out from itself, each once: the facts it asked for, and the entries it read in which
    /// something stood.
    pub fn directly(&mut self, id: FactId, thing: Thing) -> (Vec<(FactId, Thing)>, Vec<Stated>) {
        let _ = self.fact(id, thing);
        let (mut asked, mut entries) = (Vec::new(), BTreeSet::new());
        let ground = self.ground(id, thing).map(Rc::clone).unwrap_or_default();
        ground.walk(&mut |step| match step {
            Step::Asked(id, thing) if !asked.contains(&(*id, *thing)) => asked.push((*id, *thing)),
            Step::Looked(look) if look.stated => {
                entries.insert(Stated { at: look.at, entry: look.path() });
            }
            _ => {}
        });
        (asked, entries.into_iter().collect())
    }

    /// Keeps that an entry was looked at.
    fn look(&mut self, look: Look<'d>) {
        if let Some(frame) = self.stack.last_mut() {
            frame.ground.steps.push(Step::Looked(look));
        }
    }

    /// Every entry that was looked at to work a fact out, whether something stood there or not.
    pub fn looked_at(&mut self, id: FactId, thing: Thing) -> Vec<EntryPath> {
        let _ = self.fact(id, thing);
        let mut paths = BTreeSet::new();
        for (_, _, ground) in self.all_asked(id, thing) {
            ground.walk(&mut |step| {
                if let Step::Looked(look) = step {
                    paths.insert(look.path());
                }
            });
        }
        paths.into_iter().collect()
    }

    fn work_out_origin(&mut self, fact: FactId, thing: Thing) -> Origin {
        let _ = self.fact(fact, thing);
        let grounds = self.all_asked(fact, thing);
        let mut seen = FxHashSet::default();
        let mut stated = BTreeSet::new();
        let mut assumed: BTreeSet<&str> = BTreeSet::new();
        for (_, _, ground) in &grounds {
            ground.walk(&mut |step| match step {
                Step::Looked(look) if look.stated && seen.insert(look.id()) => {
                    stated.insert(Stated { at: look.at, entry: look.path() });
                }
                Step::Assumed(what) => {
                    assumed.insert(what);
                }
                _ => {}
            });
        }
        Origin {
            stated: stated.into_iter().collect(),
            computed_from: grounds.iter().skip(1).map(|(id, thing, _)| (*id, *thing)).collect(),
            assumed: assumed.into_iter().map(str::to_owned).collect(),
        }
    }
}

impl Answers for Ask<'_> {
    fn vocabulary(&self) -> &Vocabulary {
        catalogue::vocabulary()
    }

    fn ask(&mut self, fact: FactId, thing: Thing) -> Answer<Value> {
        self.fact(fact, thing)
    }

    fn origin(&mut self, fact: FactId, thing: Thing) -> Arc<Origin> {
        if let Some(origin) = self.origins.get(&(fact, thing)) {
            return Arc::clone(origin);
        }
        let origin = Arc::new(self.work_out_origin(fact, thing));
        self.origins.insert((fact, thing), Arc::clone(&origin));
        origin
    }

    fn name_of(&self, thing: Thing) -> String {
        self.things.name(thing)
    }

    fn place_of(&self, thing: Thing) -> Option<Span> {
        self.things.here(thing).map(|here| here.at)
    }

    fn entry_of(&self, thing: Thing) -> Option<EntryPath> {
        self.things.here(thing).map(|here| here.path.clone())
    }
}
