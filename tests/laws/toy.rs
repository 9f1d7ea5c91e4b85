//! A toy world for the judge: a garden with beds and hedges, of which any entry can be known, known within
//! bounds, or not known, and any list complete or not.

use std::collections::BTreeMap;
use std::sync::Arc;

use undercroft::base::number::{Comparison, Dimension, Number, Quantity, Ratio};
use undercroft::base::text::{SourceId, Span};
use undercroft::base::value::{Answer, AtLeast, EntryPath, Listed, Missing, Origin, Reason, Stated, Value};
use undercroft::base::vocabulary::{
    Answers, FactId, FactShape, FactType, KindId, KindShape, ROOT, Saying, Thing, Vocabulary, WordId,
    WordsId, WordsShape,
};
use undercroft::rulebook::authors::Authorship;
use undercroft::rulebook::checked::{
    Basis, CheckedBook, CheckedRule, Citation, Each, Limit, LimitWords, Message, Obligation, Print, Stage,
};
use undercroft::rulebook::expr::typed::{Arithmetic, Binding, Expr, ExprType, IfNone, LimitId, Node, VarId};

pub(crate) const GARDEN: KindId = KindId(0);
pub(crate) const BED: KindId = KindId(1);
pub(crate) const HEDGE: KindId = KindId(2);

pub(crate) const SEASONS: WordsId = WordsId(0);
pub(crate) const SOILS: WordsId = WordsId(1);

pub(crate) const WATERED: FactId = FactId(0);
pub(crate) const FENCED: FactId = FactId(1);
pub(crate) const SEASON: FactId = FactId(2);
pub(crate) const WIDTH: FactId = FactId(3);
pub(crate) const BEDS: FactId = FactId(4);
pub(crate) const HEDGES: FactId = FactId(5);
pub(crate) const MAIN_BED: FactId = FactId(6);
pub(crate) const SUNNY: FactId = FactId(7);
pub(crate) const SOIL: FactId = FactId(8);
pub(crate) const DEPTH: FactId = FactId(9);
pub(crate) const NEXT_HEDGE: FactId = FactId(10);
pub(crate) const TRIMMED: FactId = FactId(11);
pub(crate) const HEIGHT: FactId = FactId(12);
pub(crate) const LABEL: FactId = FactId(13);
/// A length that is never below nought, and says so.
pub(crate) const PATH: FactId = FactId(14);

pub(crate) fn bed(number: u32) -> Thing {
    Thing { kind: BED, number }
}

pub(crate) fn hedge(number: u32) -> Thing {
    Thing { kind: HEDGE, number }
}

/// What is known of one entry.
#[derive(Clone, PartialEq, Debug)]
pub(crate) enum Cell {
    Hidden,
    Known(Value),
    /// A number within bounds.
    Within(i64, i64),
    /// Things, of which there may be more.
    Open(Vec<Thing>),
    /// Beds, of which there may be more, none of them less deep than this.
    OpenBelow(Vec<Thing>, i64),
}

pub(crate) type Key = (FactId, Thing);

#[derive(Clone)]
pub(crate) struct Garden {
    pub(crate) vocabulary: Vocabulary,
    pub(crate) cells: BTreeMap<Key, Cell>,
    pub(crate) places: BTreeMap<Thing, Span>,
    pub(crate) asked: Vec<Key>,
}

fn fact(of: KindId, name: &str, of_type: FactType) -> FactShape {
    FactShape {
        of,
        name: name.to_owned(),
        of_type,
        estimated: false,
        meaning: format!("What the {name} is."),
        formula: String::new(),
        source: String::new(),
        needs: Vec::new(),
        handle: true,
        by_place: false,
        said: Saying::default(),
    }
}

fn words(name: &str, list: &[&str], ordered: bool) -> WordsShape {
    let words = list.iter().map(|word| ((*word).to_owned(), String::new())).collect();
    WordsShape { name: name.to_owned(), words, ordered }
}

pub(crate) fn vocabulary() -> Vocabulary {
    let kind = |name: &str| KindShape {
        name: name.to_owned(),
        meaning: format!("A {name}."),
        ..KindShape::default()
    };
    let length = FactType::Number(Dimension::LENGTH);
    Vocabulary::of(
        vec![kind("garden"), kind("bed"), kind("hedge")],
        vec![
            fact(GARDEN, "watered", FactType::Truth),
            fact(GARDEN, "fenced", FactType::Truth),
            fact(GARDEN, "season", FactType::Word(SEASONS)),
            fact(GARDEN, "width", length),
            fact(GARDEN, "beds", FactType::Things(BED)),
            fact(GARDEN, "hedges", FactType::Things(HEDGE)),
            fact(GARDEN, "main_bed", FactType::One(BED)),
            fact(BED, "sunny", FactType::Truth),
            fact(BED, "soil", FactType::Word(SOILS)),
            fact(BED, "depth", length),
            fact(BED, "next_hedge", FactType::One(HEDGE)),
            fact(HEDGE, "trimmed", FactType::Truth),
            fact(HEDGE, "height", length),
            fact(BED, "label", FactType::Text),
            fact(BED, "path", length),
        ],
        vec![
            words("season", &["spring", "summer", "late autumn"], true),
            words("soil", &["clay", "loam", "sand"], false),
        ],
    )
}

impl Garden {
    pub(crate) fn new() -> Self {
        Garden {
            vocabulary: vocabulary(),
            cells: BTreeMap::new(),
            places: BTreeMap::new(),
            asked: Vec::new(),
        }
    }

    pub(crate) fn with(mut self, fact: FactId, thing: Thing, value: Value) -> Self {
        self.set(fact, thing, Cell::Known(value));
        self
    }

    pub(crate) fn set(&mut self, fact: FactId, thing: Thing, cell: Cell) {
        self.cells.insert((fact, thing), cell);
    }

    pub(crate) fn entry(&self, fact: FactId, thing: Thing) -> EntryPath {
        let name = self.vocabulary.fact(fact).unwrap().name.clone();
        if thing == ROOT { EntryPath::new(name) } else { EntryPath::new(self.name_of(thing)).key(&name) }
    }

    fn missing(&self, fact: FactId, thing: Thing, reason: Reason) -> Missing {
        Missing { entry: self.entry(fact, thing), reason, at: None }
    }
}

impl Answers for Garden {
    fn vocabulary(&self) -> &Vocabulary {
        &self.vocabulary
    }

    fn ask(&mut self, fact: FactId, thing: Thing) -> Answer<Value> {
        self.asked.push((fact, thing));
        match self.cells.get(&(fact, thing)) {
            None | Some(Cell::Hidden) => Answer::missing(self.missing(fact, thing, Reason::NotStated)),
            Some(Cell::Known(value)) => Answer::known(value.clone()),
            Some(Cell::Within(low, high)) => Answer::Known {
                value: Value::Number(Number::between(Ratio::from_int(*low), Ratio::from_int(*high))),
                doubts: vec![self.missing(fact, thing, Reason::Imprecise)],
            },
            Some(Cell::Open(items)) => Answer::known(Value::Things(Listed::open(
                items.clone(),
                vec![self.missing(fact, thing, Reason::NotSaidComplete)],
            ))),
            Some(Cell::OpenBelow(items, depth)) => Answer::known(Value::Things(Listed {
                items: items.clone(),
                open: vec![self.missing(fact, thing, Reason::LookedOnly(format!("{depth} m down")))],
                others: [AtLeast { fact: DEPTH, number: Number::whole(*depth), way: 0 }].into(),
            })),
        }
    }

    fn domain(&self, fact: FactId) -> (Option<Number>, Option<Number>) {
        (if fact == PATH { Some(Number::whole(0)) } else { None }, None)
    }

    fn origin(&mut self, fact: FactId, thing: Thing) -> Arc<Origin> {
        let stated = match self.cells.get(&(fact, thing)) {
            None | Some(Cell::Hidden) => Vec::new(),
            Some(_) => vec![Stated { at: nowhere(), entry: self.entry(fact, thing) }],
        };
        Arc::new(Origin { stated, ..Origin::default() })
    }

    fn name_of(&self, thing: Thing) -> String {
        let kind = self.vocabulary.kind(thing.kind).map_or("", |kind| kind.name.as_str());
        if thing == ROOT { kind.to_owned() } else { format!("{kind}_{}", thing.number) }
    }

    fn place_of(&self, thing: Thing) -> Option<Span> {
        self.places.get(&thing).copied()
    }
}

pub(crate) fn nowhere() -> Span {
    Span::new(SourceId(0), 0, 0)
}

pub(crate) fn number(value: i64) -> Value {
    Value::Number(Number::whole(value))
}

pub(crate) fn things(list: &[Thing]) -> Value {
    Value::Things(Listed::closed(list.to_vec()))
}

// Expressions, built by hand.

pub(crate) fn expr(node: Node, of_type: ExprType) -> Expr {
    Expr { node, of_type, at: nowhere() }
}

pub(crate) fn truth(node: Node) -> Expr {
    expr(node, ExprType::Truth)
}

pub(crate) fn length(node: Node) -> Expr {
    expr(node, ExprType::Number(Dimension::LENGTH))
}

/// A fact of the root.
pub(crate) fn root(fact: FactId) -> Expr {
    expr(Node::Fact(None, fact), vocabulary().fact(fact).unwrap().of_type.into())
}

/// A fact of a thing.
pub(crate) fn of(thing: Expr, fact: FactId) -> Expr {
    expr(Node::Fact(Some(Box::new(thing)), fact), vocabulary().fact(fact).unwrap().of_type.into())
}

pub(crate) fn var(var: u16, kind: KindId) -> Expr {
    expr(Node::Var(VarId(var)), ExprType::Thing(kind))
}

pub(crate) fn is_word(value: Expr, words: &[u16]) -> Expr {
    truth(Node::IsWord(Box::new(value), words.iter().map(|word| WordId(*word)).collect(), false))
}

pub(crate) fn compare(how: Comparison, left: Expr, right: Expr) -> Expr {
    truth(Node::Compare(how, Box::new(left), Box::new(right)))
}

pub(crate) fn literal(value: i64) -> Expr {
    length(Node::Literal(Number::whole(value)))
}

pub(crate) fn limit(id: u16) -> Expr {
    length(Node::Limit(LimitId(id)))
}

pub(crate) fn not(inner: Expr) -> Expr {
    truth(Node::Not(Box::new(inner)))
}

pub(crate) fn and(parts: Vec<Expr>) -> Expr {
    truth(Node::And(parts))
}

pub(crate) fn or(parts: Vec<Expr>) -> Expr {
    truth(Node::Or(parts))
}

pub(crate) fn binding(number: u16, list: Expr) -> Binding {
    Binding { var: VarId(number), things: Box::new(list) }
}

pub(crate) fn every(number: u16, list: Expr, body: Expr, if_none: IfNone) -> Expr {
    truth(Node::Every(binding(number, list), Box::new(body), if_none))
}

pub(crate) fn some(number: u16, list: Expr, body: Expr) -> Expr {
    truth(Node::Some(binding(number, list), Box::new(body)))
}

pub(crate) fn count(number: u16, list: Expr, body: Expr) -> Expr {
    expr(Node::Count(binding(number, list), Some(Box::new(body))), ExprType::Number(Dimension::ONE))
}

pub(crate) fn calculate(how: Arithmetic, left: Expr, right: Expr) -> Expr {
    length(Node::Calculate(how, Box::new(left), Box::new(right)))
}

// Rules, built by hand.

pub(crate) fn rule(name: &str, requires: Expr) -> CheckedRule {
    CheckedRule {
        name: name.to_owned(),
        title: name.replace('-', " "),
        obligation: Obligation::Shall,
        disputed: false,
        due: Stage::Design,
        subject: format!("garden/{name}"),
        stops: None,
        source: Citation { document: "garden-code".to_owned(), section: "1".to_owned(), basis: Basis::Read },
        interpretation: String::new(),
        because: String::new(),
        note: String::new(),
        each: None,
        applies: None,
        limits: Vec::new(),
        requires,
        unmet: Message::default(),
        corrections: Vec::new(),
        cautions: Vec::new(),
        variables: Vec::new(),
        at: nowhere(),
        cases_at: None,
        covered: None,
        authors: Authorship::default(),
        print: Print::default(),
    }
}

pub(crate) fn each(number: u16, name: &str, list: Expr) -> Each {
    Each { binding: binding(number, list), name: name.to_owned() }
}

pub(crate) fn a_limit(name: &str, value: i64, words: LimitWords) -> Limit {
    let value = Quantity::of(Number::whole(value), Dimension::LENGTH);
    Limit { name: name.to_owned(), value, words: Some(words), at: nowhere() }
}

pub(crate) fn book(name: &str, rules: Vec<CheckedRule>) -> CheckedBook {
    CheckedBook {
        name: name.to_owned(),
        title: name.to_owned(),
        publisher: String::new(),
        edition: String::new(),
        from: None,
        until: None,
        legal_nature: String::new(),
        covers: String::new(),
        covers_when: None,
        sources: Vec::new(),
        left_to_the_eye: Vec::new(),
        not_held: Vec::new(),
        always: false,
        in_place: false,
        base_designs: Vec::new(),
        builds_on: Vec::new(),
        rules: rules.into_iter().collect(),
        withdrawn: Vec::new(),
        doubts: Vec::new(),
        print: Print::default(),
        at: nowhere(),
    }
}

// Rules, said in a line.

/// An expression in one line, for messages of tests.
pub(crate) fn say(expr: &Expr) -> String {
    let shapes = vocabulary();
    let all = |parts: &[Expr], word: &str| parts.iter().map(say).collect::<Vec<_>>().join(word);
    let over = |word: &str, binding: &Binding, body: Option<&Expr>| {
        let body = body.map_or(String::new(), say);
        format!("{word} v{} in {} ({body})", binding.var.0, say(&binding.things))
    };
    match &expr.node {
        Node::Literal(Number::Exact(value)) => value.to_string(),
        Node::Literal(number) => format!("{number:?}"),
        Node::Limit(id) => format!("limit{}", id.0),
        Node::Var(var) => format!("v{}", var.0),
        Node::Thing(thing) => format!("{thing:?}"),
        Node::Fact(None, fact) => shapes.fact(*fact).unwrap().name.clone(),
        Node::Fact(Some(of), fact) => format!("{}.{}", say(of), shapes.fact(*fact).unwrap().name),
        Node::Not(inner) => format!("not ({})", say(inner)),
        Node::Negate(inner) => format!("-({})", say(inner)),
        Node::And(parts) => format!("({})", all(parts, " and ")),
        Node::Or(parts) => format!("({})", all(parts, " or ")),
        Node::Compare(how, a, b) => format!("{} {how:?} {}", say(a), say(b)),
        Node::Between(a, low, high) => format!("{} between {} and {}", say(a), say(low), say(high)),
        Node::IsWord(a, words, not) => format!("{} is {words:?} (not: {not})", say(a)),
        Node::Word(word) => format!("{word:?}"),
        Node::IsThing(a, b, not) => format!("{} is {} (not: {not})", say(a), say(b)),
        Node::Every(binding, body, if_none) => {
            format!("{} or {if_none:?}", over("every", binding, Some(body)))
        }
        Node::Some(binding, body) => over("some", binding, Some(body)),
        Node::Count(binding, body) => over("count", binding, body.as_deref()),
        Node::Sum(binding, body) => over("sum", binding, Some(body)),
        Node::Least(binding, body) => over("least", binding, Some(body)),
        Node::Greatest(binding, body) => over("greatest", binding, Some(body)),
        Node::Calculate(how, a, b) => format!("({} {how:?} {})", say(a), say(b)),
    }
}

/// A rule in three lines.
pub(crate) fn say_rule(rule: &CheckedRule) -> String {
    let each = rule.each.as_ref().map(|each| say(&each.binding.things)).unwrap_or_default();
    let applies = rule.applies.as_ref().map(say).unwrap_or_default();
    format!("each: {each}\napplies: {applies}\nrequires: {}", say(&rule.requires))
}

impl Garden {
    /// What is known of it, a line for each entry.
    pub(crate) fn say(&self) -> String {
        let line = |((fact, thing), cell): (&Key, &Cell)| format!("{}: {cell:?}", self.entry(*fact, *thing));
        self.cells.iter().map(line).collect::<Vec<_>>().join("\n")
    }
}
