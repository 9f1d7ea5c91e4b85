//! What the books ask of the place of a discharge: lengths that their rules weigh against distances and heights. They
//! are read off the rules that were judged, so that an amended rule is drawn as amended; each with what came of it.

use crate::base::number::{Comparison, Dimension, Number, Quantity};
use crate::base::truth::Truth;
use crate::base::vocabulary::Thing;

use crate::facts::kinds::Kind;
use crate::facts::vocabulary;
use crate::findings::{Clause, Comes};
use crate::judge::verdict::{About, Verdict};
use crate::review::Review;
use crate::rulebook::checked::{CheckedRule, Limit};
use crate::rulebook::expr::typed::{Expr, Node};

use super::desk::Desk;
use super::numbered::Numbered;

/// A length that one clause of a book asks for at least, of one thing.
#[derive(Clone, PartialEq, Debug)]
pub(crate) struct Asked {
    /// Of which kind of thing.
    pub(crate) kind: Kind,
    /// Which of its facts is weighed.
    pub(crate) fact: String,
    /// Whether it takes that much, or more.
    how: Comparison,
    /// How much it takes.
    pub(crate) least: Quantity,
    /// For ground: how near it has to lie to be asked of.
    near: Option<Number>,
    /// What the clause was asked of, where that is one thing.
    pub(crate) of: Option<Thing>,
    /// The book, with a word where it does not count.
    pub(crate) book: String,
    /// What the clause comes to.
    comes: Comes,
    /// The number of its finding.
    number: Option<String>,
}

/// The facts that can be drawn.
const DRAWN: [(Kind, &str); 17] = [
    (Kind::Opening, "clearance"),
    (Kind::Opening, "across"),
    (Kind::Opening, "top_below_discharge"),
    (Kind::NeighbourOpening, "clearance"),
    (Kind::NeighbourOpening, "across"),
    (Kind::NeighbourOpening, "top_below_discharge"),
    (Kind::Intake, "clearance"),
    (Kind::Intake, "across"),
    (Kind::Intake, "top_below_discharge"),
    (Kind::Chimney, "clearance"),
    (Kind::WallAboveRoof, "across"),
    (Kind::WallAboveRoof, "top_below_discharge"),
    (Kind::Ground, "below_discharge"),
    (Kind::Discharge, "above_nearest_ground"),
    (Kind::Discharge, "above_roof_edge"),
    (Kind::Discharge, "above_highest_eave"),
    (Kind::Discharge, "above_roof_surface"),
];

impl Asked {
    /// Whether there is anything to draw where it is as asked.
    pub(crate) fn is_some(&self) -> bool {
        self.least.number.compare(Comparison::More, &Number::whole(0)) == Truth::True
    }

    /// Whether its clause is not as asked.
    fn fails(&self) -> bool {
        matches!(self.comes, Comes::Unmet | Comes::Disputed | Comes::NotFollowed | Comes::Varied)
    }

    /// Whether it falls short by this length.
    pub(crate) fn falls_short(&self, now: &Number) -> bool {
        self.fails() && now.compare(self.how, &self.least.number) == Truth::False
    }

    /// Whether ground so far off is asked of.
    pub(crate) fn reaches(&self, across: Option<&Number>) -> bool {
        let Some(near) = &self.near else { return true };
        across.is_some_and(|across| across.compare(Comparison::More, near) == Truth::False)
    }

    /// The length as it is written.
    pub(crate) fn written(&self) -> String {
        crate::base::number::quantity::show(&self.least.number, Dimension::LENGTH, &self.least.style)
    }

    /// Another length in the same unit, where that is inches alone: 22 in, to be held against 24 in.
    pub(crate) fn likewise(&self, other: &Number) -> Option<String> {
        let own = self.written();
        let inches = own.ends_with(" in") && !own.contains("ft") && other.as_exact().is_some();
        inches.then(|| crate::base::number::quantity::show(other, Dimension::LENGTH, &self.least.style))
    }

    /// What it comes to, with the number of its finding.
    fn came(&self) -> String {
        let words = match self.comes {
            Comes::Disputed => "not as asked, disputed",
            Comes::NotFollowed => "advice not followed",
            Comes::Varied => "unmet, permitted by a variance",
            _ => "unmet",
        };
        self.number.as_ref().map_or(words.to_owned(), |number| format!("{words} ({number})"))
    }
}

/// What is lacking, line by line: what came of it, how much was asked for, and by which books. Each length comes with its
/// words, which say what of it is asked.
pub(crate) fn lacking(lacks: &[(&Asked, String)]) -> Vec<String> {
    let mut clauses: Vec<(&Asked, Vec<&str>)> = Vec::new();
    for (one, words) in lacks {
        let same = |(other, _): &&mut (&Asked, Vec<&str>)| {
            other.book == one.book && other.number == one.number && other.comes == one.comes
        };
        match clauses.iter_mut().find(same) {
            Some((_, said)) if said.contains(&words.as_str()) => {}
            Some((_, said)) => said.push(words),
            None => clauses.push((one, vec![words])),
        }
    }
    let mut lines: Vec<(String, Vec<&str>)> = Vec::new();
    for (one, said) in clauses {
        let words = format!("{}: {} asked for", one.came(), said.join(", or "));
        match lines.iter_mut().find(|(known, _)| *known == words) {
            Some((_, books)) => books.push(&one.book),
            None => lines.push((words, vec![&one.book])),
        }
    }
    lines.into_iter().map(|(words, books)| format!("{words} by {}", books.join(", "))).collect()
}

/// What is lacking of what was asked of the place of one thing as seen from a discharge, line by line.
pub(crate) fn lacking_of(desk: &mut Desk<'_, '_>, asked: &[Asked], it: Thing) -> Vec<String> {
    let mut lacks = Vec::new();
    for one in asked.iter().filter(|one| one.of == Some(it)) {
        let Some(now) = desk.ask.number(it, &one.fact).value() else { continue };
        if !one.falls_short(&now) {
            continue;
        }
        let least = one.written();
        let is = desk.length(&now);
        lacks.push((
            one,
            match (one.fact.as_str(), one.is_some()) {
                ("across", _) => format!("{least} on the level (it is {is})"),
                ("top_below_discharge", true) => match now.compare(Comparison::Less, &Number::whole(0)) {
                    Truth::True => format!("an end {least} above its top"),
                    _ => format!("an end {least} above its top (it is {is})"),
                },
                ("top_below_discharge", false) => "an end above its top".to_owned(),
                _ => least,
            },
        ));
    }
    lacking(&lacks)
}

/// The lengths that the judged rules ask for, the greatest first.
pub(crate) fn asked(review: &Review<'_>, numbered: &[Numbered]) -> Vec<Asked> {
    let mut found = Vec::new();
    for finding in &review.findings {
        let marks = || numbered.iter().filter(|one| one.identity == finding.identity);
        for clause in finding.clauses.iter().filter(|one| one.verdict != Verdict::NotApplicable) {
            let permitted = clause.comes() == Comes::Varied;
            let number = marks().find(|one| one.is_permitted() == permitted).map(Numbered::mark);
            of_clause(review, clause, number.as_ref(), &mut found);
        }
    }
    let high = |one: &Asked| one.least.number.high();
    found.sort_by(|a, b| high(b).cmp(&high(a)).then(a.kind.cmp(&b.kind)).then(a.fact.cmp(&b.fact)));
    found
}

/// The lengths that one clause asks for.
fn of_clause(review: &Review<'_>, clause: &Clause, number: Option<&String>, found: &mut Vec<Asked>) {
    let Some(used) = review.used.get(clause.book) else { return };
    let Some(rule) = used.book.rules.get(clause.rule) else { return };
    let book = match used.standing.counts() {
        true => used.book.name.clone(),
        false => format!("{} (for information)", used.book.name),
    };
    let near = near(rule);
    let of = match clause.about {
        About::Thing(it) => Some(it),
        About::Whole | About::List => None,
    };
    rule.requires.walk(&mut |expr| {
        let Some((kind, fact, how, least)) = length_in(expr, &rule.limits) else { return };
        found.push(Asked {
            kind,
            fact,
            how,
            least,
            near: near.clone().filter(|_| kind == Kind::Ground),
            of,
            book: book.clone(),
            comes: clause.comes(),
            number: number.cloned(),
        });
    });
}

/// How near ground has to lie for a rule to ask anything of it.
fn near(rule: &CheckedRule) -> Option<Number> {
    let mut near = None;
    rule.requires.walk(&mut |expr| {
        if let Some((kind, fact, _, limit)) = at_least(expr, &rule.limits)
            && kind == Kind::Ground.id()
            && fact == "across"
        {
            near = Some(limit.number);
        }
    });
    near
}

/// The length that an expression asks of something that can be drawn, if it does.
fn length_in(expr: &Expr, limits: &[Limit]) -> Option<(Kind, String, Comparison, Quantity)> {
    let (of, fact, how, limit) = at_least(expr, limits)?;
    let (kind, _) = DRAWN.iter().find(|(kind, name)| kind.id() == of && *name == fact)?;
    let nought = Number::whole(0);
    let drawn = limit.dimension == Dimension::LENGTH
        && limit.number.compare(Comparison::AtLeast, &nought) == Truth::True;
    drawn.then(|| (*kind, fact.to_owned(), how, limit))
}

/// The fact of which an expression asks that it come to a limit at least, with what it is a fact of and the limit.
fn at_least(
    expr: &Expr,
    limits: &[Limit],
) -> Option<(crate::base::vocabulary::KindId, &'static str, Comparison, Quantity)> {
    let Node::Compare(how, left, right) = &expr.node else { return None };
    let (fact, limit, how) = match (&left.node, &right.node) {
        (Node::Fact(_, fact), Node::Limit(limit)) => (fact, limit, *how),
        (Node::Limit(limit), Node::Fact(_, fact)) => (fact, limit, how.mirrored()),
        _ => return None,
    };
    if !matches!(how, Comparison::AtLeast | Comparison::More) {
        return None;
    }
    let shape = vocabulary().fact(*fact)?;
    let limit = limits.get(usize::from(limit.0))?;
    Some((shape.of, shape.name.as_str(), how, limit.value.clone()))
}
