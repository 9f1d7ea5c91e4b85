//! A design with something put elsewhere, held against the requirements that speak of its place.

use crate::base::problem::Problem;
use crate::base::text::Source;
use crate::base::value::{EntryPath, Missing, unite};
use crate::base::vocabulary::Thing;
use crate::design;
use crate::facts::ask::Ask;
use crate::facts::catalogue;
use crate::facts::handles::{Change, Stuck, laid_over};
use crate::findings::Used;
use crate::judge::verdict::{About, Verdict};
use crate::judge::{Judged, judge_rule};
use crate::rulebook::checked::{CheckedRule, Obligation, Stage};
use crate::rulebook::expr::typed::{Expr, Node};
use crate::yaml::tree::Tree;

/// One requirement on a place, for one thing.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Asked {
    /// The book, by its place among those that were used.
    pub book: usize,
    /// The rule, by its place in the book.
    pub rule: usize,
    /// What of the rule it is about.
    pub about: About,
}

/// Which requirements have to be met.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Doing {
    /// Duties and advice of every book that the design names.
    Everything,
    /// The duties of the books that count.
    Duties,
}

/// What came of putting something elsewhere.
#[derive(Clone, PartialEq, Debug)]
pub enum Tried {
    /// Everything asked is met.
    Met,
    /// These are not, or it cannot be told of them.
    Not {
        /// Known not to be as asked.
        unmet: Vec<Asked>,
        /// Cannot be told.
        open: Vec<Asked>,
        /// What would have to be stated to tell.
        missing: Vec<Missing>,
    },
    /// It cannot be put there by other numbers alone.
    Stuck(Stuck),
}

impl Tried {
    /// Whether everything asked is met.
    #[must_use]
    pub fn is_met(&self) -> bool {
        *self == Tried::Met
    }

    /// What is known not to be met, and what cannot be told.
    #[must_use]
    pub fn against(&self) -> Vec<Asked> {
        match self {
            Tried::Not { unmet, open, .. } => unmet.iter().chain(open).copied().collect(),
            Tried::Met | Tried::Stuck(_) => Vec::new(),
        }
    }
}

/// What is asked for the place of something.
#[derive(Clone, Copy)]
pub(super) struct Speaks {
    /// The first part of the subjects.
    pub(super) of: &'static str,
    /// Whether a fact that rests on this entry rests on the place.
    pub(super) on_place: fn(&str) -> bool,
}

/// Whether what a rule was judged of counts here.
type Counts<'a> = Box<dyn Fn(&Ask<'_>, About) -> bool + 'a>;

/// A design that is tried with something put elsewhere.
pub(super) struct Bench<'a> {
    pub(super) source: &'a Source,
    pub(super) tree: &'a Tree,
    pub(super) stage: Stage,
    pub(super) used: &'a [Used<'a>],
    rules: Vec<(usize, usize)>,
    counts: Counts<'a>,
    /// How many entries cannot be read as it stands.
    lost: usize,
    pub(super) tried: usize,
}

fn lost(problems: &[Problem]) -> usize {
    problems.iter().filter(|problem| problem.lost.is_some()).count()
}

fn changed(changes: &[Change]) -> EntryPath {
    changes.first().map_or_else(|| EntryPath::new(""), |change| change.entry().into())
}

impl<'a> Bench<'a> {
    pub(super) fn new(
        source: &'a Source,
        tree: &'a Tree,
        stage: Stage,
        used: &'a [Used<'a>],
        (speaks, doing): (Speaks, Doing),
        is_own: impl Fn(&Ask<'_>, Thing) -> bool + 'a,
    ) -> Self {
        let counts = |used: &Used<'_>, rule: &CheckedRule| match doing {
            Doing::Everything => rule.obligation != Obligation::May,
            Doing::Duties => used.standing.counts() && rule.obligation == Obligation::Shall,
        };
        let in_force = used.iter().enumerate().filter(|(_, used)| used.in_force && used.proven);
        let rules = in_force.flat_map(|(book, used)| {
            let wanted = used.book.rules.iter().enumerate().filter(move |(_, rule)| {
                rule.subject.starts_with(speaks.of) && counts(used, rule) && rests_on(rule, speaks.on_place)
            });
            wanted.map(move |(rule, _)| (book, rule))
        });
        let rules = rules.collect();
        let of_it = move |ask: &Ask<'_>, about| !matches!(about, About::Thing(thing) if !is_own(ask, thing));
        Bench::of_rules(source, tree, stage, used, rules, Box::new(of_it))
    }

    /// The same for one requirement alone, and what it is about: whether a list is complete is of no matter to a thing in it.
    pub(super) fn of_one(
        source: &'a Source,
        tree: &'a Tree,
        stage: Stage,
        used: &'a [Used<'a>],
        asked: Asked,
    ) -> Self {
        let of_it = move |_: &Ask<'_>, about| about == asked.about;
        Bench::of_rules(source, tree, stage, used, vec![(asked.book, asked.rule)], Box::new(of_it))
    }

    fn of_rules(
        source: &'a Source,
        tree: &'a Tree,
        stage: Stage,
        used: &'a [Used<'a>],
        rules: Vec<(usize, usize)>,
        counts: Counts<'a>,
    ) -> Self {
        let lost = lost(&design::read(source, tree).1);
        Bench { source, tree, stage, used, rules, counts, lost, tried: 0 }
    }

    /// Whether anything is asked at all.
    pub(super) fn asks_nothing(&self) -> bool {
        self.rules.is_empty()
    }

    /// What the requirements come to with these changes.
    pub(super) fn with(&mut self, changes: Result<Vec<Change>, Stuck>) -> Tried {
        let rules = self.rules.clone();
        match changes.and_then(|changes| self.outcomes(&changes, &rules)) {
            Err(stuck) => Tried::Stuck(stuck),
            Ok(Outcomes { unmet, open }) if unmet.is_empty() && open.is_empty() => Tried::Met,
            Ok(Outcomes { unmet, open }) => {
                let (open, lacks): (Vec<Asked>, Vec<Vec<Missing>>) = open.into_iter().unzip();
                Tried::Not { unmet, open, missing: lacks.into_iter().fold(Vec::new(), unite) }
            }
        }
    }

    /// The rules that are asked, each by its book and its place in it.
    pub(super) fn rules(&self) -> &[(usize, usize)] {
        &self.rules
    }

    /// What some of the requirements come to with these changes.
    pub(super) fn outcomes(
        &mut self,
        changes: &[Change],
        rules: &[(usize, usize)],
    ) -> Result<Outcomes, Stuck> {
        let Some(tree) = laid_over(self.tree, changes) else {
            return Err(Stuck::Unreadable(changed(changes)));
        };
        self.tried += 1;
        let (design, problems) = design::read(self.source, &tree);
        // A number that cannot stand there is no place.
        if lost(&problems) > self.lost {
            return Err(Stuck::Unreadable(changed(changes)));
        }
        let mut ask = Ask::new(&design);
        let mut came = Outcomes::default();
        for (book, rule) in rules {
            let Some(checked) = self.used.get(*book).and_then(|used| used.book.rules.get(*rule)) else {
                continue;
            };
            for Judged { about, verdict, missing } in judge_rule(checked, self.stage, &mut ask) {
                if !(self.counts)(&ask, about) {
                    continue;
                }
                let asked = Asked { book: *book, rule: *rule, about };
                match verdict {
                    Verdict::Unmet => came.unmet.push(asked),
                    Verdict::Undetermined => came.open.push((asked, missing)),
                    _ => {}
                }
            }
        }
        Ok(came)
    }
}

/// What requirements come to that are not known to be met.
#[derive(Clone, PartialEq, Default, Debug)]
pub(super) struct Outcomes {
    /// Known not to be as asked.
    pub(super) unmet: Vec<Asked>,
    /// Cannot be told, each with what would have to be stated.
    pub(super) open: Vec<(Asked, Vec<Missing>)>,
}

/// Whether a rule asks anything that rests on the place.
fn rests_on(rule: &CheckedRule, on_place: fn(&str) -> bool) -> bool {
    let asks = |expr: &Expr| {
        let mut found = false;
        expr.walk(&mut |part| {
            if let Node::Fact(_, fact) = part.node
                && let Some(fact) = catalogue::numbered(fact)
            {
                found |= fact.entries().into_iter().any(on_place);
            }
        });
        found
    };
    asks(&rule.requires) || rule.applies.as_ref().is_some_and(asks)
}
