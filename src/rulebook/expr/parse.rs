//! From the pieces of an expression to its form.
//!
//! Several faults of one expression are reported at once: after each, reading goes on at the next `and`,
//! `or` or closing bracket. Depth and size are bounded, so that no input overflows the stack.

use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::Span;

use super::ast::{Ast, Form, Gather, Word};
use super::lexer::{Lexeme, RESERVED, Token, tokens};
use super::source_map::SourceMap;
use super::typed::Arithmetic;

mod things;

/// How many words and signs one expression may have.
pub const MOST_PIECES: usize = 1000;

/// How deep its forms may lie inside each other.
pub const DEEPEST: u16 = 64;

/// How tightly each form binds; the higher, the tighter.
mod binding {
    pub(super) const OR: u8 = 1;
    pub(super) const AND: u8 = 2;
    pub(super) const NOT: u8 = 3;
    pub(super) const COMPARE: u8 = 4;
    pub(super) const ADD: u8 = 5;
    pub(super) const MULTIPLY: u8 = 6;
    pub(super) const NEGATE: u8 = 7;
    pub(super) const DOT: u8 = 8;
}

const OPERAND: &str = "a name, a quantity such as `2 ft`, `not`, `every`, `some`, `count of`, `sum of`, `least of`, \
                       `greatest of` or `(`";
const FOLLOWING: &str = "`and`, `or`, a comparison, one of `+ - * /`, or the end";
const FOLLOWING_INSIDE: &str = "`and`, `or`, a comparison, one of `+ - * /`, or `)`";

/// Reads an expression. Every fault is reported on its own place; what could be read is returned.
#[must_use]
pub fn parse(text: &str, map: &SourceMap) -> (Ast, Vec<Problem>) {
    let tokens = tokens(text, MOST_PIECES + 1);
    if tokens.len() > MOST_PIECES + 1 {
        let problem = Problem::new(ProblemKind::BadExpression, map.whole())
            .found(format!("an expression of more than {MOST_PIECES} words and signs"))
            .accepts("a shorter one; split the rule in two");
        return (Form::Unreadable(Vec::new()).at(map.whole()), vec![problem]);
    }
    let mut parser = Parser {
        text,
        map,
        tokens,
        at: 0,
        nested: 0,
        brackets: 0,
        problems: Vec::new(),
        quiet: false,
        given_up: false,
    };
    let first = parser.expression(0);
    let ast = parser.finish(first, &Lexeme::End);
    (ast, parser.problems)
}

/// Reads what a rule is asked of: `bed in beds`. Nothing is returned if it does not begin that way.
#[must_use]
pub fn parse_each(text: &str, map: &SourceMap) -> (Option<(Word, Ast)>, Vec<Problem>) {
    let tokens = tokens(text, MOST_PIECES + 1);
    let mut parser = Parser {
        text,
        map,
        tokens,
        at: 0,
        nested: 0,
        brackets: 0,
        problems: Vec::new(),
        quiet: false,
        given_up: false,
    };
    let each = parser.each();
    (each, parser.problems)
}

/// A joint between two forms: the sign or word that stands between them.
#[derive(Clone, Copy, PartialEq)]
enum Joint {
    Or,
    And,
    Is,
    Between,
    Compare(crate::base::number::Comparison),
    Calculate(Arithmetic),
    Dot,
}

struct Parser<'a> {
    text: &'a str,
    map: &'a SourceMap,
    tokens: Vec<Token>,
    at: usize,
    nested: u16,
    brackets: u16,
    problems: Vec<Problem>,
    /// Set after a fault, until reading has found its feet again.
    quiet: bool,
    given_up: bool,
}

impl Parser<'_> {
    // Looking and taking.

    fn token(&self, ahead: usize) -> Token {
        let end = || Token { lexeme: Lexeme::End, start: self.text.len(), end: self.text.len() };
        self.tokens.get(self.at + ahead).cloned().unwrap_or_else(end)
    }

    fn peek(&self) -> &Lexeme {
        self.tokens.get(self.at).map_or(&Lexeme::End, |token| &token.lexeme)
    }

    fn is_word(&self, ahead: usize, word: &str) -> bool {
        self.tokens.get(self.at + ahead).and_then(Token::word) == Some(word)
    }

    fn advance(&mut self) {
        if self.peek() != &Lexeme::End {
            self.at += 1;
        }
    }

    fn take_word(&mut self, word: &str) -> bool {
        let there = self.is_word(0, word);
        if there {
            self.advance();
        }
        there
    }

    fn span(&self, token: &Token) -> Span {
        self.map.span(token.start, token.end)
    }

    /// The place of everything from the piece at `first` to the last one taken.
    fn since(&self, first: usize) -> Span {
        let start = self.tokens.get(first).map_or(self.text.len(), |token| token.start);
        let last = self.at.checked_sub(1).and_then(|last| self.tokens.get(last));
        let end = last.map_or(start, |token| token.end);
        self.map.span(start, end.max(start))
    }

    fn make(&mut self, form: Form, first: usize) -> Ast {
        let ast = form.at(self.since(first));
        if ast.depth > DEEPEST {
            self.too_deep();
            return Form::Unreadable(Vec::new()).at(ast.at);
        }
        ast
    }

    // Reporting, and going on after it.

    fn report(&mut self, problem: Problem) {
        if !self.quiet && !self.given_up {
            self.problems.push(problem);
        }
        self.quiet = true;
    }

    fn too_deep(&mut self) {
        let problem = Problem::new(ProblemKind::BadExpression, self.map.whole())
            .found(format!("an expression with more than {DEEPEST} forms inside each other"))
            .accepts("fewer brackets; split the rule in two");
        self.report(problem);
        self.given_up = true;
        self.at = self.tokens.len();
    }

    /// What stands at a piece, for a message.
    fn found(&self, token: &Token) -> String {
        match token.lexeme {
            Lexeme::End => "the end of the expression".to_owned(),
            _ => format!("`{}`", self.text.get(token.start..token.end).unwrap_or("")),
        }
    }

    /// Reports what stands here as not wanted, with what would be.
    fn wanted(&mut self, accepts: &str) {
        let token = self.token(0);
        let problem = Problem::new(ProblemKind::BadExpression, self.span(&token)).found(self.found(&token));
        let problem = match &token.lexeme {
            Lexeme::Stray(instead) => problem.accepts(*instead),
            Lexeme::Word(word) => {
                let lower = word.to_lowercase();
                let meant = RESERVED.iter().find(|reserved| **reserved == lower && *word != lower);
                problem.accepts(accepts).nearest(meant.map(|word| (*word).to_owned()))
            }
            _ => problem.accepts(accepts),
        };
        self.report(problem);
    }

    /// Reports what stands here, and goes on behind it.
    fn fail<T>(&mut self, accepts: &str) -> Option<T> {
        self.wanted(accepts);
        self.skip();
        None
    }

    /// Goes on to the next place where a new part can begin, brackets opened on the way closed again.
    fn skip(&mut self) {
        let mut open = 0_usize;
        loop {
            match self.peek() {
                Lexeme::End => return,
                Lexeme::Open => open += 1,
                Lexeme::Close if open == 0 => return,
                Lexeme::Close => open -= 1,
                Lexeme::Word(word) if open == 0 && (word == "and" || word == "or") => return,
                _ => {}
            }
            self.advance();
        }
    }

    fn need_word(&mut self, word: &str, accepts: &str) -> Option<()> {
        if self.take_word(word) { Some(()) } else { self.fail(accepts) }
    }

    /// Reads on until `closing`, reporting what does not belong to the form before it.
    fn finish(&mut self, mut ast: Ast, closing: &Lexeme) -> Ast {
        let first = self.at;
        while !self.given_up && self.peek() != closing && self.peek() != &Lexeme::End {
            self.leftover();
            self.skip();
            if self.peek() == closing {
                break;
            }
            if matches!(self.peek(), Lexeme::Word(_)) {
                self.advance();
                self.quiet = false;
                let more = self.expression(0);
                ast = self.make(Form::And(vec![ast, more]), first);
            } else {
                self.advance();
            }
        }
        ast
    }

    /// Reports what stands behind a whole form and does not belong to it.
    fn leftover(&mut self) {
        let token = self.token(0);
        let before = self.at.checked_sub(1).and_then(|at| self.tokens.get(at)).cloned();
        if let Some(Token { lexeme: Lexeme::Quantity(_), start, .. }) = before
            && let Some(word) = token.word()
            && !RESERVED.contains(&word.to_lowercase().as_str())
        {
            let written = self.text.get(start..token.end).unwrap_or("");
            let problem = Problem::new(ProblemKind::BadExpression, self.map.span(start, token.end))
                .found(format!("`{written}`, which has no unit that is known"))
                .accepts("a number with its unit, such as `10 ft`");
            self.report(problem);
            return;
        }
        match token.lexeme {
            Lexeme::Close => self.wanted("no `)` here, for no `(` stands before it"),
            _ => self.wanted(if self.brackets > 0 { FOLLOWING_INSIDE } else { FOLLOWING }),
        }
    }

    /// Whether something stands here that no form goes on with.
    fn misfit(&self) -> bool {
        match self.peek() {
            Lexeme::Stray(_) | Lexeme::Quantity(_) | Lexeme::Open => true,
            Lexeme::Word(word) => !RESERVED.contains(&word.as_str()),
            _ => false,
        }
    }

    // The grammar.

    fn expression(&mut self, least: u8) -> Ast {
        self.nested += 1;
        if self.nested > DEEPEST {
            self.too_deep();
        }
        let first = self.at;
        let form = if self.given_up { None } else { self.operand() };
        let mut left = match form {
            // A bracket was read: the form inside it, with its own place and depth.
            Some(Operand::Inside(ast)) => ast,
            Some(Operand::Form(form)) => self.make(form, first),
            None => Form::Unreadable(Vec::new()).at(self.since(first)),
        };
        let mut compared = None;
        while !self.given_up {
            if self.misfit() {
                self.leftover();
                self.skip();
                let at = left.at;
                left = Form::Unreadable(vec![left]).at(at);
            }
            let Some((tightness, joint)) = self.joint().filter(|(tightness, _)| *tightness >= least) else {
                break;
            };
            if tightness == binding::COMPARE {
                if let Some(before) = compared {
                    let at = left.at;
                    self.compared_twice(before);
                    left = Form::Unreadable(vec![left]).at(at);
                    continue;
                }
                compared = Some(self.at);
            }
            let form = self.joined(left, tightness, joint).unwrap_or(Form::Unreadable(Vec::new()));
            left = self.make(form, first);
        }
        self.nested = self.nested.saturating_sub(1);
        left
    }

    fn compared_twice(&mut self, before: usize) {
        let token = self.token(0);
        let mut problem = Problem::new(ProblemKind::BadExpression, self.span(&token))
            .found(format!("a second comparison, {}", self.found(&token)))
            .accepts("two comparisons joined by `and`, or `… between … and …`");
        if let Some(earlier) = self.tokens.get(before) {
            problem = problem.also(self.span(earlier), "the first comparison");
        }
        self.report(problem);
        self.skip();
    }

    /// What joins the form before with something behind it, and how tightly.
    fn joint(&self) -> Option<(u8, Joint)> {
        Some(match self.peek() {
            Lexeme::Dot => (binding::DOT, Joint::Dot),
            Lexeme::Compare(comparison) => (binding::COMPARE, Joint::Compare(*comparison)),
            Lexeme::Arithmetic(sign @ (Arithmetic::Add | Arithmetic::Subtract)) => {
                (binding::ADD, Joint::Calculate(*sign))
            }
            Lexeme::Arithmetic(sign) => (binding::MULTIPLY, Joint::Calculate(*sign)),
            Lexeme::Word(word) => match word.as_str() {
                "or" => (binding::OR, Joint::Or),
                "and" => (binding::AND, Joint::And),
                "is" => (binding::COMPARE, Joint::Is),
                "between" => (binding::COMPARE, Joint::Between),
                _ => return None,
            },
            _ => return None,
        })
    }

    fn joined(&mut self, left: Ast, tightness: u8, joint: Joint) -> Option<Form> {
        let sign = self.token(0);
        self.advance();
        Some(match joint {
            Joint::Dot => match self.token(0) {
                Token { lexeme: Lexeme::Word(text), start, end } => {
                    self.advance();
                    Form::Dot(Box::new(left), Word { text, at: self.map.span(start, end) })
                }
                _ => return self.fail("the name of a fact behind the dot"),
            },
            Joint::Or | Joint::And => {
                self.quiet = false;
                let right = self.expression(tightness + 1);
                let mut all = match (left, joint) {
                    (Ast { form: Form::Or(all), .. }, Joint::Or) => all,
                    (Ast { form: Form::And(all), .. }, Joint::And) => all,
                    (other, _) => vec![other],
                };
                all.push(right);
                if joint == Joint::Or { Form::Or(all) } else { Form::And(all) }
            }
            Joint::Compare(comparison) => {
                let right = self.expression(tightness + 1);
                Form::Compare(comparison, Box::new(left), Box::new(right))
            }
            Joint::Calculate(arithmetic) => {
                self.spaces_around(&sign, arithmetic);
                let right = self.expression(tightness + 1);
                Form::Calculate(arithmetic, Box::new(left), Box::new(right))
            }
            Joint::Is => self.is(left)?,
            Joint::Between => {
                let low = self.expression(binding::ADD);
                self.need_word("and", "`and` and the upper end, as in `between 2 in and 4 in`")?;
                let high = self.expression(binding::ADD);
                Form::Between(Box::new(left), Box::new(low), Box::new(high))
            }
        })
    }

    fn spaces_around(&mut self, sign: &Token, arithmetic: Arithmetic) {
        let space = |text: Option<char>| text.is_some_and(char::is_whitespace);
        let before = self.text.get(..sign.start).and_then(|text| text.chars().next_back());
        let behind = self.text.get(sign.end..).and_then(|text| text.chars().next());
        if arithmetic == Arithmetic::Divide && !(space(before) && space(behind)) {
            let problem = Problem::new(ProblemKind::BadExpression, self.span(sign))
                .found("`/` without a space on both sides")
                .accepts("`a / b`, with spaces, to divide");
            self.report(problem);
            self.quiet = false;
        }
    }

    /// What stands behind `is`.
    fn is(&mut self, left: Ast) -> Option<Form> {
        let not = self.take_word("not");
        if self.is_word(0, "one") && self.is_word(1, "of") {
            self.advance();
            self.advance();
            let mut words = vec![self.word_of_list()?];
            while self.peek() == &Lexeme::Comma && !self.is_word(1, "or") {
                self.advance();
                words.push(self.word_of_list()?);
            }
            return Some(Form::IsOneOf(Box::new(left), words, not));
        }
        let first = self.at;
        let word = self.word_of_list()?;
        let mut right = self.make(Form::Name(word.text), first);
        while self.peek() == &Lexeme::Dot {
            let form = self.joined(right, binding::DOT, Joint::Dot)?;
            right = self.make(form, first);
        }
        Some(Form::Is(Box::new(left), Box::new(right), not))
    }

    fn word_of_list(&mut self) -> Option<Word> {
        let token = self.token(0);
        match &token.lexeme {
            Lexeme::Word(text) => {
                let word = Word { text: text.clone(), at: self.span(&token) };
                self.advance();
                if self.misfit() && self.token(0).word().is_some() {
                    return self.words_apart(&token);
                }
                Some(word)
            }
            Lexeme::Quantity(_) => self.fail("a word, its spaces written `_`; numbers are compared with `=`"),
            _ => self.fail("a word, its spaces written `_`, or the name of a thing"),
        }
    }

    /// Reports a word of a list that was written with spaces, from its first piece on.
    fn words_apart<T>(&mut self, first: &Token) -> Option<T> {
        let mut end = first.end;
        while self.token(0).word().is_some_and(|word| !RESERVED.contains(&word)) {
            end = self.token(0).end;
            self.advance();
        }
        let written = self.text.get(first.start..end).unwrap_or("");
        let joined = written.split_whitespace().collect::<Vec<_>>().join("_");
        let problem = Problem::new(ProblemKind::BadExpression, self.map.span(first.start, end))
            .found(format!("`{written}`"))
            .accepts("one word; spaces inside a word of a list are written `_`")
            .nearest(Some(joined));
        self.report(problem);
        self.skip();
        None
    }

    /// A form that begins an expression.
    fn operand(&mut self) -> Option<Operand> {
        let token = self.token(0);
        let word = match token.lexeme {
            Lexeme::Quantity(quantity) => {
                self.advance();
                return Some(Operand::Form(Form::Quantity(quantity)));
            }
            Lexeme::Open => return self.bracketed().map(Operand::Inside),
            Lexeme::Arithmetic(Arithmetic::Subtract) => {
                self.advance();
                let negated = self.expression(binding::NEGATE);
                return Some(Operand::Form(Form::Negate(Box::new(negated))));
            }
            Lexeme::Word(word) => word,
            _ => return self.fail(OPERAND),
        };
        let form = match word.as_str() {
            "not" => {
                self.advance();
                Form::Not(Box::new(self.expression(binding::NOT)))
            }
            "every" | "some" => {
                self.advance();
                self.quantified(word == "every")?
            }
            "count" => {
                self.advance();
                self.counted()?
            }
            "sum" | "least" | "greatest" => {
                self.advance();
                let gather = match word.as_str() {
                    "sum" => Gather::Sum,
                    "least" => Gather::Least,
                    _ => Gather::Greatest,
                };
                self.gathered(gather)?
            }
            reserved if RESERVED.contains(&reserved) => return self.fail(OPERAND),
            _ if self.token(1).lexeme == Lexeme::Open => return self.function(&word),
            _ => {
                self.advance();
                Form::Name(word)
            }
        };
        Some(Operand::Form(form))
    }

    /// Refuses what looks like the use of a function.
    fn function(&mut self, word: &str) -> Option<Operand> {
        let instead = match word {
            "known" => "no such question: what is not known comes out as undetermined by itself",
            "min" | "least" => "`least of … over x in xs`",
            "max" | "greatest" => "`greatest of … over x in xs`",
            "all" => "`every x in xs has (…), or met if there are none`",
            "any" => "`some x in xs has (…)`",
            _ => "a name, a comparison or one of the forms of the language; it has no functions",
        };
        let token = self.token(0);
        let problem = Problem::new(ProblemKind::BadExpression, self.span(&token))
            .found(format!("`{word}(…)`"))
            .accepts(instead);
        self.report(problem);
        self.advance();
        self.skip();
        None
    }

    /// A form in brackets; the opening one is next.
    fn bracketed(&mut self) -> Option<Ast> {
        let opened = self.token(0);
        if opened.lexeme != Lexeme::Open {
            return self.fail("`(`");
        }
        self.advance();
        self.brackets += 1;
        let inside = self.expression(0);
        let inside = self.finish(inside, &Lexeme::Close);
        self.brackets -= 1;
        if self.peek() == &Lexeme::Close {
            self.advance();
            self.quiet = false;
        } else {
            let token = self.token(0);
            let problem = Problem::new(ProblemKind::BadExpression, self.span(&token))
                .found(self.found(&token))
                .accepts("`)`")
                .also(self.span(&opened), "the bracket that is still open");
            self.report(problem);
        }
        Some(inside)
    }
}

/// What an expression begins with.
enum Operand {
    /// A form of its own.
    Form(Form),
    /// What stood in brackets.
    Inside(Ast),
}
