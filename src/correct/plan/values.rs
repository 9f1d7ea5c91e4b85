//! What the values of a change come to for one clause.

use crate::base::number::Dimension;
use crate::base::truth::Truth;
use crate::base::value::{EntryPath, Value};
use crate::base::vocabulary::{Answers, FactId, Thing};
use crate::correct::{Step, WhyNot, places, spell};
use crate::facts::Facts;
use crate::facts::catalogue;
use crate::facts::handles::{along, moves};
use crate::findings::Clause;
use crate::judge::applies::bind_about;
use crate::judge::eval::{Named, Scope};
use crate::judge::message::word_of;
use crate::judge::missing::why;
use crate::judge::verdict::About;
use crate::review::Review;
use crate::review::placing::{Asked, nearest};
use crate::rulebook::checked::{CheckedRule, Message, Piece as Of};
use crate::rulebook::corrections::{Change, To};
use crate::rulebook::expr::typed::{Expr, ExprType, Node};
use crate::yaml::path::Path;
use crate::yaml::tree::Tree;

use super::Ways;
use super::paths::{self, Meant, Piece};

/// Texts that come to one value, the nearest to it first.
type Texts = Vec<String>;

/// One clause, for which changes are worked out.
pub(super) struct Desk<'a, 'd> {
    pub(super) facts: &'a mut Facts<'d>,
    pub(super) rule: &'a CheckedRule,
    pub(super) clause: &'a Clause,
    pub(super) tree: &'a Tree,
    /// The review that found the clause, where its design may still be drawn otherwise.
    pub(super) drawn: Option<&'a Review<'d>>,
}

impl Desk<'_, '_> {
    /// The ways to make one change.
    pub(super) fn change(&mut self, change: &Change) -> Result<Ways, WhyNot> {
        match change {
            Change::Set { path, to } => self.set(path, to),
            Change::Add { path, value } => {
                let meant = self.meant(path)?;
                let texts = self.written(value, meant.one()?)?;
                let step = |text: &String| Ok(vec![paths::add(self.tree, &meant, text)?]);
                texts.iter().map(step).collect()
            }
            Change::Remove { path } => {
                let meant = self.meant(path)?;
                let path = meant.one()?;
                if path.resolve(self.tree).is_none() {
                    return Err(WhyNot::NotThere(EntryPath::from(path)));
                }
                Ok(vec![vec![Step::Remove(path.clone())]])
            }
            Change::Reach { fact, to: Some(to) } => self.reach(fact, to),
            Change::Reach { fact, to: None } => self.reach_until_met(fact),
        }
    }

    /// The ways to give an entry a value, or each of several.
    fn set(&mut self, path: &Message, to: &To) -> Result<Ways, WhyNot> {
        let Meant { paths, .. } = self.meant(path)?;
        let mut ways = Ways::new();
        let first = paths.first().cloned().unwrap_or_default();
        let (texts, is_number) = match to {
            To::Value(expr) => (self.texts(expr, &first)?, matches!(expr.of_type, ExprType::Number(_))),
            To::Written(text) => (self.written(text, &first)?, false),
        };
        for text in &texts {
            for paths in paths::to_be_set(self.tree, &paths, text) {
                let step = |path: &Path| paths::set(self.tree, path, text, is_number);
                ways.push(paths.iter().map(step).collect::<Result<_, _>>()?);
            }
        }
        Ok(ways)
    }

    /// The nearest places at which the rule is met of what the clause is about.
    fn reach_until_met(&mut self, fact: &Expr) -> Result<Ways, WhyNot> {
        let (id, thing) = self.scoped(|scope| {
            let Node::Fact(of, id) = &fact.node else { return Err(WhyNot::NoHandle) };
            let thing = scope.asked_of(of.as_deref()).ok_or_else(|| not_known(scope, fact))?;
            Ok((*id, thing))
        })?;
        let along = catalogue::numbered(id).and_then(along).ok_or(WhyNot::NoHandle)?;
        let review = self.drawn.ok_or(WhyNot::NoHandle)?;
        let things = self.facts.things();
        let outlet = things.seen_from(thing).unwrap_or(thing);
        let system = things.system_of(outlet).map(|system| things.name(system)).ok_or(WhyNot::NoHandle)?;
        let Clause { book, rule, about, .. } = *self.clause;
        let found = nearest(review, self.tree, &system, along, Asked { book, rule, about });
        let found = found.map_err(WhyNot::NoPlace)?;
        Ok(found.iter().map(|changes| places::steps(changes, self.tree)).collect())
    }

    fn reach(&mut self, fact: &Expr, to: &Expr) -> Result<Ways, WhyNot> {
        let (id, thing, value) = self.scoped(|scope| {
            let Node::Fact(of, id) = &fact.node else { return Err(WhyNot::NoHandle) };
            let Some(thing) = scope.asked_of(of.as_deref()) else { return Err(not_known(scope, fact)) };
            Ok((*id, thing, value(scope, to)?))
        })?;
        let dimension = match to.of_type {
            ExprType::Number(dimension) => Some(dimension),
            _ => None,
        };
        self.moved(id, thing, &value, dimension)
    }

    /// The steps of every move of a handle, with every way to write its values.
    fn moved(
        &mut self,
        fact: FactId,
        thing: Thing,
        wanted: &Value,
        dimension: Option<Dimension>,
    ) -> Result<Ways, WhyNot> {
        let moves = moves(self.facts, self.tree, fact, thing, wanted);
        let mut ways = Ways::new();
        for one in moves {
            if !one.written.is_empty() {
                ways.push(places::steps(&one.written, self.tree));
                continue;
            }
            let mut each: Vec<(Path, Texts, bool)> = Vec::new();
            for (path, value) in one.entries {
                let is_number = matches!(value, Value::Number(_));
                let texts = self.value_texts(&value, &path, dimension)?;
                each.push((path, texts, is_number));
            }
            let most = each.iter().map(|(_, texts, _)| texts.len()).max().unwrap_or(0);
            for at in 0..most {
                let step = |(path, texts, is_number): &(Path, Texts, bool)| {
                    let text = texts.get(at).or(texts.last())?;
                    Some(paths::set(self.tree, path, text, *is_number))
                };
                let steps: Option<Result<Vec<Step>, WhyNot>> = each.iter().map(step).collect();
                ways.extend(steps.transpose()?);
            }
        }
        if ways.is_empty() { Err(WhyNot::NoHandle) } else { Ok(ways) }
    }

    /// Does something with the rule held against what the clause is about.
    fn scoped<R>(&mut self, act: impl FnOnce(&mut Scope<'_>) -> R) -> R {
        let mut scope = Scope::new(self.rule, self.facts);
        bind_about(&mut scope, self.clause.about);
        act(&mut scope)
    }

    /// The entry that a path means here.
    fn meant(&mut self, path: &Message) -> Result<Meant, WhyNot> {
        let about = match self.clause.about {
            About::Thing(thing) => self.facts.entry_of(thing),
            About::Whole | About::List => None,
        };
        let pieces = self.scoped(|scope| {
            let piece = |piece: &Of| match piece {
                Of::Words(words) => Ok(Piece::Words(words.clone())),
                Of::Value(expr) | Of::Sided(expr, _) => match scope.thing(expr) {
                    Named::Thing(thing) => {
                        let own = scope.answers.entry_of(thing);
                        let entry = own.unwrap_or_else(|| EntryPath::new(scope.answers.name_of(thing)));
                        Ok(Piece::Thing(entry))
                    }
                    Named::Unknown(missing) => Err(WhyNot::NotKnown(missing)),
                    Named::Unseen => Err(WhyNot::NotKnown(Vec::new())),
                },
            };
            path.0.iter().map(piece).collect::<Result<Vec<Piece>, WhyNot>>()
        })?;
        paths::meant(&pieces, about, self.tree)
    }

    /// What an expression comes to, as it can be written at a path.
    fn texts(&mut self, expr: &Expr, path: &Path) -> Result<Texts, WhyNot> {
        if let ExprType::Word(words) = expr.of_type {
            return self.scoped(|scope| {
                let word = scope.word(expr).and_then(|word| word_of(scope, words, word));
                word.map(|word| vec![word]).ok_or_else(|| not_known(scope, expr))
            });
        }
        let value = self.scoped(|scope| value(scope, expr))?;
        let dimension = match expr.of_type {
            ExprType::Number(dimension) => Some(dimension),
            _ => None,
        };
        let texts = self.value_texts(&value, path, dimension)?;
        if texts.is_empty() {
            return Err(self.scoped(|scope| not_known(scope, expr)));
        }
        Ok(texts)
    }

    fn value_texts(
        &mut self,
        value: &Value,
        path: &Path,
        dimension: Option<Dimension>,
    ) -> Result<Texts, WhyNot> {
        Ok(match (value, dimension) {
            (Value::Number(number), Some(dimension)) => spell::number(self.tree, path, number, dimension),
            (Value::Truth(holds), _) => vec![if *holds { "yes" } else { "no" }.to_owned()],
            (Value::Thing(thing), _) => vec![self.facts.name_of(*thing)],
            (Value::Text(text), _) => vec![text.clone()],
            _ => return Err(WhyNot::NoHandle),
        })
    }

    /// What is to be written at a path, with values in it.
    fn written(&mut self, text: &Message, path: &Path) -> Result<Texts, WhyNot> {
        let mut texts = vec![String::new()];
        for piece in &text.0 {
            let more = match piece {
                Of::Words(words) => vec![words.clone()],
                Of::Value(expr) | Of::Sided(expr, _) => self.texts(expr, path)?,
            };
            let most = texts.len().max(more.len());
            let joined = |at: usize| {
                let (before, behind) = (texts.get(at).or(texts.last()), more.get(at).or(more.last()));
                format!("{}{}", before.map_or("", String::as_str), behind.map_or("", String::as_str))
            };
            texts = (0..most).map(joined).collect();
        }
        Ok(texts)
    }
}

/// What an expression comes to: nothing that is known only within bounds.
fn value(scope: &mut Scope<'_>, expr: &Expr) -> Result<Value, WhyNot> {
    let known = match expr.of_type {
        ExprType::Number(_) => scope.amount(expr).number().cloned().map(Value::Number),
        ExprType::Truth => match scope.truth(expr) {
            Truth::Unknown => None,
            truth => Some(Value::Truth(truth == Truth::True)),
        },
        ExprType::Word(_) => scope.word(expr).map(Value::Word),
        ExprType::Thing(_) => match scope.thing(expr) {
            Named::Thing(thing) => Some(Value::Thing(thing)),
            _ => None,
        },
        ExprType::Things(_) | ExprType::Text => None,
    };
    known.ok_or_else(|| not_known(scope, expr))
}

fn not_known(scope: &mut Scope<'_>, expr: &Expr) -> WhyNot {
    WhyNot::NotKnown(why(scope, expr))
}
