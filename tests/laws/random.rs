//! Rules and gardens drawn by lot, the same on every machine.

use undercroft::base::number::{Comparison, Dimension, Number, Ratio};
use undercroft::base::value::{Listed, Value};
use undercroft::base::vocabulary::{FactId, FactType, KindId, ROOT, Thing, WordId};
use undercroft::rulebook::checked::{CheckedRule, LimitWords};
use undercroft::rulebook::expr::typed::{Arithmetic, Expr, ExprType, IfNone, Node};

use super::toy::{self, Cell, Garden};

/// Lots that are the same on every machine.
pub(crate) struct Lots(u64);

impl Lots {
    pub(crate) fn new(seed: u64) -> Self {
        Lots(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0x1234_5678_9ABC_DEF1)
    }

    pub(crate) fn below(&mut self, bound: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from((self.0 >> 11) % u64::try_from(bound.max(1)).unwrap()).unwrap()
    }

    pub(crate) fn one_in(&mut self, of: usize) -> bool {
        self.below(of) == 0
    }

    pub(crate) fn pick<T: Clone>(&mut self, list: &[T]) -> T {
        list[self.below(list.len())].clone()
    }
}

/// What numbers in the toy garden can be, in halves: on, between and beyond all that they are compared with.
const HALVES: [i128; 7] = [0, 2, 3, 4, 5, 6, 8];

pub(crate) fn all_beds() -> Vec<Thing> {
    (0..3).map(toy::bed).collect()
}

pub(crate) fn all_hedges() -> Vec<Thing> {
    (0..3).map(toy::hedge).collect()
}

/// The things of a kind that there can be.
pub(crate) fn all_of(kind: KindId) -> Vec<Thing> {
    match kind {
        toy::BED => all_beds(),
        toy::HEDGE => all_hedges(),
        _ => vec![ROOT],
    }
}

/// Every value an entry can have.
pub(crate) fn all_values(of_type: FactType) -> Vec<Value> {
    match of_type {
        FactType::Truth => vec![Value::Truth(false), Value::Truth(true)],
        FactType::Word(_) => (0..3).map(|word| Value::Word(WordId(word))).collect(),
        FactType::Number(_) => {
            HALVES.map(|halves| Value::Number(Number::exact(Ratio::new(halves, 2).unwrap()))).to_vec()
        }
        FactType::One(kind) => all_of(kind).into_iter().map(Value::Thing).collect(),
        FactType::Things(kind) => {
            let all = all_of(kind);
            (0..=all.len()).map(|count| Value::Things(Listed::closed(all[..count].to_vec()))).collect()
        }
        FactType::Text => vec![Value::Text("words".to_owned())],
    }
}

/// Every entry there can be.
pub(crate) fn all_keys(garden: &Garden) -> Vec<(FactId, Thing, FactType)> {
    let shapes = &garden.vocabulary.facts;
    let ids = (0u16..).map(FactId);
    ids.zip(shapes)
        .flat_map(|(id, shape)| all_of(shape.of).into_iter().map(move |thing| (id, thing, shape.of_type)))
        .collect()
}

/// A garden of which everything is known.
pub(crate) fn whole_garden(lots: &mut Lots) -> Garden {
    let mut garden = Garden::new();
    for (fact, thing, of_type) in all_keys(&garden) {
        let mut values = all_values(of_type);
        if matches!(of_type, FactType::Things(_)) {
            // There is always one more that can come to light.
            values.pop();
        }
        let value = lots.pick(&values);
        garden.set(fact, thing, Cell::Known(value));
    }
    garden
}

/// The same garden with less known about it.
pub(crate) fn know_less(garden: &Garden, lots: &mut Lots, one_in: usize) -> Garden {
    let mut less = garden.clone();
    for ((fact, thing), cell) in &mut less.cells {
        if !lots.one_in(one_in) {
            continue;
        }
        *cell = match cell {
            Cell::Known(Value::Number(Number::Exact(exact))) if lots.one_in(2) => {
                let (low, high) = (exact.floor().to_int().unwrap(), exact.ceil().to_int().unwrap());
                Cell::Within(low - below(lots), high + below(lots))
            }
            Cell::Within(low, high) if lots.one_in(2) => {
                Cell::Within(*low - below(lots), *high + below(lots))
            }
            Cell::Known(Value::Things(Listed { items, .. })) | Cell::Open(items) if lots.one_in(2) => {
                let kept = lots.below(items.len() + 1);
                let complete = !matches!(garden.cells.get(&(*fact, *thing)), Some(Cell::Open(_)));
                match least_depth(garden, &items[kept..]) {
                    Some(depth) if complete && *fact == toy::BEDS && lots.one_in(2) => {
                        Cell::OpenBelow(items[..kept].to_vec(), depth)
                    }
                    _ => Cell::Open(items[..kept].to_vec()),
                }
            }
            Cell::OpenBelow(items, depth) if lots.one_in(2) => {
                let kept = lots.below(items.len() + 1);
                match least_depth(garden, &items[kept..]) {
                    Some(least) => Cell::OpenBelow(items[..kept].to_vec(), least.min(*depth)),
                    None => Cell::Open(items[..kept].to_vec()),
                }
            }
            _ => Cell::Hidden,
        };
        if let (&mut Cell::Within(low, high), &toy::PATH) = (&mut *cell, fact) {
            *cell = Cell::Within(low.max(0), high);
        }
    }
    less
}

/// What the depth of none of these beds is below, if it is known of all of them; of none at all, any depth will do.
fn least_depth(garden: &Garden, beds: &[Thing]) -> Option<i64> {
    let mut depths = beds.iter().map(|bed| match garden.cells.get(&(toy::DEPTH, *bed)) {
        Some(Cell::Known(Value::Number(depth))) => depth.as_exact()?.floor().to_int(),
        Some(Cell::Within(low, _)) => Some(*low),
        _ => None,
    });
    depths.try_fold(9, |least: i64, depth| Some(least.min(depth?)))
}

fn below(lots: &mut Lots) -> i64 {
    i64::try_from(lots.below(3)).unwrap()
}

/// How rich the drawn rules are.
#[derive(Clone, Copy, PartialEq)]
pub(crate) enum Kind {
    /// Everything the language has.
    Rich,
    /// Only what makes the smallest list exact: single facts held against words and numbers, lists, counts.
    Plain,
}

pub(crate) struct Draw<'l> {
    pub(crate) lots: &'l mut Lots,
    pub(crate) kind: Kind,
    variables: Vec<String>,
}

type Known = Vec<(u16, KindId)>;

/// A rule drawn by lot.
pub(crate) fn a_rule(lots: &mut Lots, kind: Kind) -> CheckedRule {
    let mut draw = Draw { lots, kind, variables: Vec::new() };
    let mut known = Known::new();
    let mut each = None;
    if draw.lots.one_in(2) {
        let (list, of) = draw.list();
        let var = draw.variable();
        known.push((var, of));
        each = Some(toy::each(var, "one", list));
    }
    let depth = 1 + draw.lots.below(3);
    let requires = draw.truth(depth, &mut known);
    let applies = if draw.lots.one_in(2) { Some(draw.truth(1, &mut known)) } else { None };
    let variables = draw.variables;
    CheckedRule {
        each,
        applies,
        variables,
        limits: vec![toy::a_limit("reach", 2, LimitWords::AtLeast)],
        ..toy::rule("drawn", requires)
    }
}

impl Draw<'_> {
    fn variable(&mut self) -> u16 {
        let number = u16::try_from(self.variables.len()).unwrap();
        self.variables.push(format!("v{number}"));
        number
    }

    fn list(&mut self) -> (Expr, KindId) {
        self.lots.pick(&[(toy::root(toy::BEDS), toy::BED), (toy::root(toy::HEDGES), toy::HEDGE)])
    }

    fn how(&mut self) -> Comparison {
        self.lots.pick(&[
            Comparison::Less,
            Comparison::AtMost,
            Comparison::More,
            Comparison::AtLeast,
            Comparison::Equal,
        ])
    }

    /// A thing that can be named here.
    fn thing(&mut self, kind: KindId, known: &Known) -> Option<Expr> {
        let mut all: Vec<Expr> =
            known.iter().filter(|(_, of)| *of == kind).map(|(var, of)| toy::var(*var, *of)).collect();
        if self.kind == Kind::Rich {
            if kind == toy::BED {
                all.push(toy::root(toy::MAIN_BED));
            } else if let Some(bed) = known.iter().find(|(_, of)| *of == toy::BED) {
                all.push(toy::of(toy::var(bed.0, toy::BED), toy::NEXT_HEDGE));
            }
        }
        if all.is_empty() { None } else { Some(self.lots.pick(&all)) }
    }

    /// A fact of the root, or of a thing that can be named here.
    fn fact(&mut self, of_root: &[FactId], of_bed: &[FactId], of_hedge: &[FactId], known: &Known) -> Expr {
        let choice = self.lots.below(3);
        if choice == 1
            && let Some(bed) = self.thing(toy::BED, known)
        {
            return toy::of(bed, self.lots.pick(of_bed));
        }
        if choice == 2
            && let Some(hedge) = self.thing(toy::HEDGE, known)
        {
            return toy::of(hedge, self.lots.pick(of_hedge));
        }
        toy::root(self.lots.pick(of_root))
    }

    fn number(&mut self, depth: usize, known: &mut Known) -> Expr {
        let plain = self.kind == Kind::Plain;
        match self.lots.below(if depth == 0 || plain { 4 } else { 8 }) {
            0 if !plain => toy::literal(i64::try_from(self.lots.below(5)).unwrap()),
            1 if !plain => toy::limit(0),
            4 | 5 => {
                let how = self.lots.pick(&[
                    Arithmetic::Add,
                    Arithmetic::Subtract,
                    Arithmetic::Multiply,
                    Arithmetic::Divide,
                ]);
                let left = self.number(depth - 1, known);
                toy::calculate(how, left, self.number(depth - 1, known))
            }
            6 | 7 => {
                let (list, kind) = self.list();
                let var = self.variable();
                known.push((var, kind));
                let body = Box::new(self.number(depth - 1, known));
                known.pop();
                let binding = toy::binding(var, list);
                toy::length(match self.lots.below(3) {
                    0 => Node::Sum(binding, body),
                    1 => Node::Least(binding, body),
                    _ => Node::Greatest(binding, body),
                })
            }
            _ => self.fact(&[toy::WIDTH], &[toy::DEPTH, toy::PATH], &[toy::HEIGHT], known),
        }
    }

    fn truth(&mut self, depth: usize, known: &mut Known) -> Expr {
        if depth == 0 || self.lots.one_in(4) {
            return self.leaf(depth, known);
        }
        match self.lots.below(7) {
            0 => toy::not(self.truth(depth - 1, known)),
            1 | 2 => toy::and(self.several(depth, known)),
            3 | 4 => toy::or(self.several(depth, known)),
            5 => {
                let (list, var, body) = self.about_each(depth, known);
                let if_none = self.lots.pick(&[IfNone::Met, IfNone::Unmet]);
                toy::every(var, list, body, if_none)
            }
            _ => {
                let (list, var, body) = self.about_each(depth, known);
                toy::some(var, list, body)
            }
        }
    }

    fn several(&mut self, depth: usize, known: &mut Known) -> Vec<Expr> {
        (0..2 + self.lots.below(2)).map(|_| self.truth(depth - 1, known)).collect()
    }

    fn about_each(&mut self, depth: usize, known: &mut Known) -> (Expr, u16, Expr) {
        let (list, kind) = self.list();
        let var = self.variable();
        known.push((var, kind));
        let body = self.truth(depth.saturating_sub(1), known);
        known.pop();
        (list, var, body)
    }

    fn leaf(&mut self, depth: usize, known: &mut Known) -> Expr {
        match self.lots.below(6) {
            0 => self.fact(&[toy::WATERED, toy::FENCED], &[toy::SUNNY], &[toy::TRIMMED], known),
            1 => {
                let word = u16::try_from(self.lots.below(3)).unwrap();
                let fact = self.fact(&[toy::SEASON], &[toy::SOIL], &[toy::HEIGHT], known);
                match fact.of_type {
                    ExprType::Word(_) => toy::is_word(fact, &[word]),
                    _ => toy::compare(self.how(), fact, toy::limit(0)),
                }
            }
            2 => {
                let word = WordId(u16::try_from(self.lots.below(3)).unwrap());
                let right = toy::expr(Node::Word(word), ExprType::Word(toy::SEASONS));
                toy::compare(self.how(), toy::root(toy::SEASON), right)
            }
            3 if depth > 0 => {
                let (list, var, body) = self.about_each(depth, known);
                // One: there can be fewer and more of anything in the toy garden.
                let limit = if self.kind == Kind::Rich { self.lots.below(4) } else { 1 };
                let limit = Node::Literal(Number::whole(i64::try_from(limit).unwrap()));
                let limit = toy::expr(limit, ExprType::Number(Dimension::ONE));
                toy::compare(self.how(), toy::count(var, list, body), limit)
            }
            4 if self.kind == Kind::Rich => match (self.thing(toy::BED, known), self.lots.one_in(2)) {
                (Some(bed), not) => {
                    toy::truth(Node::IsThing(Box::new(bed), Box::new(toy::root(toy::MAIN_BED)), not))
                }
                (None, _) => toy::root(toy::WATERED),
            },
            _ if self.kind == Kind::Rich => {
                let left = self.number(depth, known);
                toy::compare(self.how(), left, self.number(depth, known))
            }
            _ => {
                // Never beyond what the toy garden's numbers can be, so that either answer is possible.
                let left = self.number(0, known);
                let right = toy::literal(1 + i64::try_from(self.lots.below(3)).unwrap());
                toy::compare(self.how(), left, right)
            }
        }
    }
}
