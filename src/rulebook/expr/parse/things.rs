//! The forms that speak of several things: `every`, `some`, `count`, `sum`, `least`, `greatest`, and what a
//! rule is asked of.

use super::super::ast::{Ast, Form, Gather, Word};
use super::super::lexer::{Lexeme, RESERVED};
use super::super::typed::IfNone;
use super::{Parser, binding};

impl Parser<'_> {
    fn variable(&mut self) -> Option<Word> {
        let token = self.token(0);
        match &token.lexeme {
            Lexeme::Word(text) if !RESERVED.contains(&text.as_str()) => {
                let word = Word { text: text.clone(), at: self.span(&token) };
                self.advance();
                Some(word)
            }
            _ => self.fail("a name of your own for the thing that is meant, as in `every bed in beds`"),
        }
    }

    /// `x in xs`, and nothing behind it.
    pub(super) fn each(&mut self) -> Option<(Word, Ast)> {
        let variable = self.variable()?;
        self.need_word("in", "`in`, as in `each: bed in beds`")?;
        let things = self.things();
        if self.peek() != &Lexeme::End {
            return self.fail("nothing more; conditions stand under `applies`");
        }
        Some((variable, things))
    }

    fn things(&mut self) -> Ast {
        self.expression(binding::DOT)
    }

    /// What stands behind `every` or `some`.
    pub(super) fn quantified(&mut self, every: bool) -> Option<Form> {
        let form = if every { "`every x in xs has (…)`" } else { "`some x in xs has (…)`" };
        let variable = self.variable()?;
        self.need_word("in", &format!("`in`, as in {form}"))?;
        let things = Box::new(self.things());
        self.need_word("has", &format!("`has`, as in {form}"))?;
        let holds = Box::new(self.bracketed()?);
        if !every {
            return Some(Form::Some(variable, things, holds));
        }
        let mut if_none = None;
        if self.peek() == &Lexeme::Comma {
            self.advance();
            if_none = Some(self.none()?);
        }
        Some(Form::Every(variable, things, holds, if_none))
    }

    /// `or met if there are none`; the comma is taken already.
    fn none(&mut self) -> Option<IfNone> {
        let whole = "`or met if there are none`, `or unmet if …` or `or undetermined if …`";
        self.need_word("or", whole)?;
        let what = match self.token(0).word() {
            Some("met") => IfNone::Met,
            Some("unmet") => IfNone::Unmet,
            Some("undetermined") => IfNone::Undetermined,
            _ => return self.fail("`met`, `unmet` or `undetermined`, then `if there are none`"),
        };
        self.advance();
        for word in ["if", "there", "are", "none"] {
            self.need_word(word, "`if there are none`")?;
        }
        Some(what)
    }

    /// What stands behind `count`.
    pub(super) fn counted(&mut self) -> Option<Form> {
        self.need_word("of", "`of`, as in `count of xs`")?;
        if self.is_word(1, "in") && self.token(0).word().is_some() {
            let variable = self.variable()?;
            self.advance();
            let things = Box::new(self.things());
            self.need_word("where", "`where (…)`; to count them all, `count of xs`")?;
            let holds = Box::new(self.bracketed()?);
            return Some(Form::Count(things, Some((variable, holds))));
        }
        let things = Box::new(self.things());
        if self.is_word(0, "where") {
            return self.fail("a name for what is counted: `count of x in xs where (…)`");
        }
        Some(Form::Count(things, None))
    }

    /// What stands behind `sum`, `least` or `greatest`.
    pub(super) fn gathered(&mut self, gather: Gather) -> Option<Form> {
        let form = match gather {
            Gather::Sum => "`sum of … over x in xs`",
            Gather::Least => "`least of … over x in xs`",
            Gather::Greatest => "`greatest of … over x in xs`",
        };
        self.need_word("of", &format!("`of`, as in {form}"))?;
        let value = Box::new(self.expression(binding::ADD));
        self.need_word("over", &format!("`over`, as in {form}"))?;
        let variable = self.variable()?;
        self.need_word("in", &format!("`in`, as in {form}"))?;
        let things = Box::new(self.things());
        Some(Form::Gather(gather, value, variable, things))
    }
}
