//! From the text of an expression to its words, quantities and signs.

use crate::base::number::{Comparison, Quantity};

use super::typed::Arithmetic;

/// Words that belong to the grammar. Nothing at the root, no limit and no variable may be called by one;
/// after a dot, and right of `is`, they are words like any other.
pub const RESERVED: &[&str] = &[
    "and",
    "are",
    "between",
    "count",
    "every",
    "greatest",
    "has",
    "if",
    "in",
    "is",
    "least",
    "met",
    "none",
    "not",
    "of",
    "one",
    "or",
    "over",
    "some",
    "sum",
    "there",
    "undetermined",
    "unmet",
    "where",
];

/// A piece of an expression.
#[derive(Clone, PartialEq, Debug)]
pub(super) enum Lexeme {
    /// A name, a word of a list, or a word of the grammar.
    Word(String),
    /// The longest quantity that starts here.
    Quantity(Box<Quantity>),
    /// `= < <= > >=`
    Compare(Comparison),
    /// `+ - * /`
    Arithmetic(Arithmetic),
    /// `(`
    Open,
    /// `)`
    Close,
    /// `.`
    Dot,
    /// `,`
    Comma,
    /// What the language has no use for, with what is written instead.
    Stray(&'static str),
    /// Nothing more.
    End,
}

/// A piece with its bytes in the text.
#[derive(Clone, PartialEq, Debug)]
pub(super) struct Token {
    pub(super) lexeme: Lexeme,
    pub(super) start: usize,
    pub(super) end: usize,
}

impl Token {
    /// The word, if it is one.
    pub(super) fn word(&self) -> Option<&str> {
        match &self.lexeme {
            Lexeme::Word(word) => Some(word),
            _ => None,
        }
    }
}

/// Signs that other notations use, each with what is written here.
const FOREIGN: &[(&str, &str)] = &[
    ("==", "`=`"),
    ("!=", "`is not` for words, `not (… = …)` for numbers"),
    ("<>", "`is not` for words, `not (… = …)` for numbers"),
    ("=>", "`>=`"),
    ("=<", "`<=`"),
    ("&&", "`and`"),
    ("||", "`or`"),
    ("&", "`and`"),
    ("|", "`or`"),
    ("!", "`not`"),
    ("≥", "`>=`"),
    ("≤", "`<=`"),
    ("≠", "`is not` for words, `not (… = …)` for numbers"),
    ("×", "`*` between numbers"),
    ("·", "`*` between numbers"),
    ("÷", "`/` with a space on both sides"),
    ("−", "`-` with a space on both sides"),
    ("–", "`-` with a space on both sides"),
    ("\"", "a word without quotes, its spaces written `_`"),
    ("'", "a word without quotes, its spaces written `_`"),
    ("[", "`(`"),
    ("]", "`)`"),
    ("{", "a name without braces; braces stand only in messages"),
    ("}", "a name without braces; braces stand only in messages"),
    ("%", "a share with its sign right behind the number, as in `40 %`"),
];

/// Signs of the language, the longer first.
const SIGNS: &[(&str, Lexeme)] = &[
    ("<=", Lexeme::Compare(Comparison::AtMost)),
    (">=", Lexeme::Compare(Comparison::AtLeast)),
    ("<", Lexeme::Compare(Comparison::Less)),
    (">", Lexeme::Compare(Comparison::More)),
    ("=", Lexeme::Compare(Comparison::Equal)),
    ("+", Lexeme::Arithmetic(Arithmetic::Add)),
    ("-", Lexeme::Arithmetic(Arithmetic::Subtract)),
    ("*", Lexeme::Arithmetic(Arithmetic::Multiply)),
    ("/", Lexeme::Arithmetic(Arithmetic::Divide)),
];

/// The pieces of a text, an end after the last; reading stops after `most` of them.
pub(super) fn tokens(text: &str, most: usize) -> Vec<Token> {
    let mut found = Vec::new();
    let mut at = 0;
    while found.len() < most {
        let rest = text.get(at..).unwrap_or("");
        let skipped = rest.trim_start();
        at += rest.len() - skipped.len();
        let Some(first) = skipped.chars().next() else { break };
        let signed = if first == '-' && operand_wanted(&found) { negative(skipped) } else { None };
        let (lexeme, length) = match signed {
            Some((quantity, length)) => (Lexeme::Quantity(Box::new(quantity)), length),
            None => next(skipped, first),
        };
        found.push(Token { lexeme, start: at, end: at + length });
        at += length;
    }
    found.push(Token { lexeme: Lexeme::End, start: text.trim_end().len(), end: text.trim_end().len() });
    found
}

/// The quantity a text starts with, its minus sign right before the digits included.
fn negative(text: &str) -> Option<(Quantity, usize)> {
    let (_, length) = Quantity::longest_prefix(text.get(1..)?)?;
    let quantity = Quantity::parse_any(text.get(..=length)?).ok()?;
    Some((quantity, length + 1))
}

/// Whether a sign right before a digit belongs to the number: nothing stands before it that it could be
/// taken from.
fn operand_wanted(before: &[Token]) -> bool {
    let mut backwards = before.iter().rev();
    match backwards.next().map(|token| &token.lexeme) {
        None | Some(Lexeme::Compare(_) | Lexeme::Arithmetic(_) | Lexeme::Open | Lexeme::Comma) => true,
        Some(Lexeme::Word(word)) => {
            RESERVED.contains(&word.as_str())
                && backwards.next().map(|token| &token.lexeme) != Some(&Lexeme::Dot)
        }
        _ => false,
    }
}

/// The first piece of a text that does not begin with white space, and how many bytes it takes.
fn next(text: &str, first: char) -> (Lexeme, usize) {
    let length = word_length(text);
    let word = text.get(..length).unwrap_or("");
    if first.is_numeric()
        && !word.contains('_')
        && let Some((quantity, length)) = Quantity::longest_prefix(text).filter(|(_, length)| *length > 0)
    {
        return (Lexeme::Quantity(Box::new(quantity)), length);
    }
    if length > 0 {
        return (Lexeme::Word(word.to_owned()), length);
    }
    // What comes most often, and begins no sign of other notations.
    match first {
        '.' => return (Lexeme::Dot, 1),
        '(' => return (Lexeme::Open, 1),
        ')' => return (Lexeme::Close, 1),
        ',' => return (Lexeme::Comma, 1),
        _ => {}
    }
    if let Some((sign, instead)) = FOREIGN.iter().find(|(sign, _)| text.starts_with(sign)) {
        return (Lexeme::Stray(instead), sign.len());
    }
    if let Some((sign, lexeme)) = SIGNS.iter().find(|(sign, _)| text.starts_with(sign)) {
        return (lexeme.clone(), sign.len());
    }
    (Lexeme::Stray("a name, a quantity or a sign of the rule language"), first.len_utf8())
}

/// How many bytes the word at the start takes: letters, digits and `_`; `-`, and after a digit `/`, only
/// between two of them.
fn word_length(text: &str) -> usize {
    let plain = text.bytes().take_while(|byte| byte.is_ascii_alphanumeric() || *byte == b'_').count();
    match text.as_bytes().get(plain) {
        Some(b'-' | b'/') => {}
        Some(byte) if !byte.is_ascii() => {}
        _ => return plain,
    }
    let inner = |c: char| c.is_alphanumeric() || c == '_';
    let mut length = 0;
    let mut last = None;
    let mut rest = text.char_indices().peekable();
    while let Some((at, c)) = rest.next() {
        let next = rest.peek().map(|(_, next)| *next);
        let joins = match c {
            '-' => last.is_some() && next.is_some_and(inner),
            '/' => last.is_some_and(|c: char| c.is_ascii_digit()) && next.is_some_and(|c| c.is_ascii_digit()),
            _ => false,
        };
        if !inner(c) && !joins {
            break;
        }
        last = Some(c);
        length = at + c.len_utf8();
    }
    length
}
