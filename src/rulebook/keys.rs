//! The keys of a book and of a rule, in one table: it drives the reader, the schemas and the page on the
//! language.

use super::cases::Outcome;
use super::checked::{Basis, LimitWords, Obligation, Stage, Stops};

/// A key of a record.
#[derive(Clone, Copy, Debug)]
pub struct Key {
    /// Its name.
    pub name: &'static str,
    /// Whether it has to be there.
    pub needed: bool,
    /// What stands under it.
    pub shape: Shape,
    /// What it says, in one sentence.
    pub meaning: &'static str,
}

/// What stands under a key.
#[derive(Clone, Copy, Debug)]
pub enum Shape {
    /// Words for a person.
    Text,
    /// A name in small letters, digits and hyphens.
    Name,
    /// Names with `/` between them.
    Topic,
    /// An expression of the rule language.
    Expression,
    /// `x in xs`
    Each,
    /// Words for a person with values in braces.
    Message,
    /// One of some words.
    Word(fn() -> Vec<&'static str>),
    /// A truth value.
    YesNo,
    /// A date: `2026-05-12`.
    Day,
    /// A quantity with its unit.
    Quantity,
    /// Several pieces of text, or one.
    Texts,
    /// A record with these keys.
    Record(&'static [Key]),
    /// A list of records with these keys.
    Records(&'static [Key]),
    /// Records with these keys, each under a name of its own.
    Named(&'static [Key]),
    /// Names with a quantity each, or with a record of these keys.
    Limits(&'static [Key]),
    /// A list of advice: words, or words with a change under them, or several. A change is a record of one of these
    /// lists of keys, told by the first.
    Advice(&'static [&'static [Key]]),
    /// Entry paths, each with the text that is to stand there.
    Changes,
}

const fn needed(name: &'static str, shape: Shape, meaning: &'static str) -> Key {
    Key { name, needed: true, shape, meaning }
}

const fn may(name: &'static str, shape: Shape, meaning: &'static str) -> Key {
    Key { name, needed: false, shape, meaning }
}

fn words<T>(table: &'static [(&'static str, T)]) -> Vec<&'static str> {
    table.iter().map(|(word, _)| *word).collect()
}

const BASES: Shape = Shape::Word(|| words(Basis::WORDS));
const STAGES: Shape = Shape::Word(|| words(Stage::WORDS));

/// The keys of a rule's file.
pub const RULE: &[Key] = &[
    needed(
        "rule",
        Shape::Name,
        "The name of the rule: a phrase of what is asked for, equal to the name of its file.",
    ),
    needed("title", Shape::Text, "What is asked for, in a few words."),
    needed("obligation", Shape::Word(|| words(Obligation::WORDS)), "The verb of the source."),
    may(
        "disputed",
        Shape::YesNo,
        "Whether sources disagree about the verb and the source's own text is not held.",
    ),
    needed("due", STAGES, "The stage at which it can first be asked for."),
    needed(
        "subject",
        Shape::Topic,
        "What it is about. Rules of several books with one subject make one finding.",
    ),
    may(
        "stops",
        Shape::Word(|| words(Stops::WORDS)),
        "Work that it stops until it is met. Such a rule is never accepted away.",
    ),
    needed("source", Shape::Record(CITATION), "Where the requirement comes from."),
    may("interpretation", Shape::Text, "The choice the author had to make where the source leaves one open."),
    needed("because", Shape::Text, "Why it is asked for."),
    may("note", Shape::Text, "A remark for whoever looks closer."),
    may(
        "each",
        Shape::Each,
        "What it is asked of, one after the other: `x in xs`. Without it the rule is asked once.",
    ),
    may("applies", Shape::Expression, "When it applies. Without it the rule always does."),
    may("limits", Shape::Limits(LIMIT), "The numbers of the source, by names of your own."),
    needed("requires", Shape::Expression, "What has to hold."),
    needed("unmet", Shape::Message, "What is said when it does not hold, with values in braces."),
    may("corrections", Shape::Advice(CHANGES), "What would mend it, the smallest change first."),
    may("cautions", Shape::Texts, "What to beware of when mending it."),
    may("cases", Shape::Records(CASE), "Examples with the verdict that must come out. Always the last key."),
];

/// The keys of a citation.
pub const CITATION: &[Key] = &[
    needed("document", Shape::Name, "The document, by its name among the book's sources."),
    may("section", Shape::Text, "The section, as the document numbers it."),
    needed("basis", BASES, "How sure the author is of what the document says there."),
];

/// The keys of a limit that says more than its value.
pub const LIMIT: &[Key] = &[
    needed("value", Shape::Quantity, "The number, with its unit."),
    may(
        "words",
        Shape::Word(|| words(LimitWords::WORDS)),
        "How the source places it: whether the limit itself is enough. Needed where it is compared.",
    ),
];

const ENTRY: &str = "The entry to change; `{x}` stands for the name of the thing the rule is asked of, `*` for the names before it.";

const AS: &str = "What is to stand there, as it would be typed behind the key in a design; `{x}` stands for the name of the thing, `unknown` for what has to be measured.";

/// The changes that can stand under a correction.
pub const CHANGES: &[&[Key]] = &[
    &[
        needed("set", Shape::Text, ENTRY),
        needed(
            "to",
            Shape::Expression,
            "The value it should have: an expression, or a word of its list, or `yes` or `no`.",
        ),
    ],
    &[needed("set", Shape::Text, ENTRY), needed("as", Shape::Text, AS)],
    &[
        needed(
            "add",
            Shape::Text,
            "The entry to write, which is not there: a key, a name in a section, or with `[]` behind it one more of a list.",
        ),
        needed("as", Shape::Text, AS),
    ],
    &[needed("remove", Shape::Text, "The entry to take away.")],
    &[
        needed("reach", Shape::Expression, "The fact to bring to a value by the entries that move it."),
        needed(
            "to",
            Shape::Expression,
            "The value it should have; or `met`, for the nearest at which the rule is met.",
        ),
    ],
];

/// The keys of a case.
pub const CASE: &[Key] = &[
    needed("claim", Shape::Text, "What the case shows, as a sentence."),
    needed("from", Shape::Name, "The design it starts from, by its name in the book's `cases` folder."),
    may(
        "with",
        Shape::Changes,
        "Entries that are laid over that design, each with the text that is to stand there.",
    ),
    may("missing", Shape::Texts, "Entries that are taken away."),
    may("at", Shape::Text, "The thing it is asked of, by its name in the design."),
    may("stage", STAGES, "The stage the design is at, if another than it says."),
    needed("verdict", Shape::Word(|| words(Outcome::WORDS)), "What must come out."),
];

/// The keys of an amendment's file.
pub const AMENDMENT: &[Key] = &[
    needed(
        "amend",
        Shape::Topic,
        "The rule that is changed: the book this one builds on, `/`, and the rule's name.",
    ),
    needed(
        "written_against",
        Shape::Text,
        "The fingerprint of the rule as its author read it; `rulebook amend` fills it in.",
    ),
    may(
        "change",
        Shape::Named(CHANGE),
        "What is changed, by field: `obligation`, `applies`, `limits.clearance`, `limits.clearance.words`.",
    ),
    may("withdraw", Shape::YesNo, "Whether the rule is no longer in force."),
    needed("because", Shape::Text, "Why."),
    needed("decided", Shape::Record(DECISION), "Whose decision it is."),
    may(
        "cases",
        Shape::Records(AMENDED_CASE),
        "Examples of the rule as amended. One with the claim of an older case takes its place. Always the last key.",
    ),
];

/// The keys under a field that is changed.
pub const CHANGE: &[Key] = &[
    needed("was", Shape::Text, "What stands there now; `none` when there is no such field."),
    needed("to", Shape::Text, "What is to stand there; `none` when the field is to go."),
];

/// The keys of a decision.
pub const DECISION: &[Key] = &[
    needed("by", Shape::Text, "Who decided."),
    needed("document", Shape::Text, "The document that says so."),
    needed("on", Shape::Day, "The day of the decision."),
];

/// The keys of a case of an amendment.
pub const AMENDED_CASE: &[Key] = &[
    needed(
        "claim",
        Shape::Text,
        "What the case shows; the claim of an older case, to say anew what comes of it.",
    ),
    may(
        "from",
        Shape::Name,
        "The design it starts from. Without it everything but the verdict is taken from the older case of this claim.",
    ),
    may(
        "with",
        Shape::Changes,
        "Entries that are laid over that design, each with the text that is to stand there.",
    ),
    may("missing", Shape::Texts, "Entries that are taken away."),
    may("at", Shape::Text, "The thing it is asked of, by its name in the design."),
    may("stage", STAGES, "The stage the design is at, if another than it says."),
    needed("verdict", Shape::Word(|| words(Outcome::WORDS)), "What must come out."),
];

/// The keys of a book's file.
pub const BOOK: &[Key] = &[
    may("book", Shape::Name, "The name of the book, equal to the name of its folder."),
    needed("title", Shape::Text, "What the book is called."),
    needed("publisher", Shape::Text, "Who published what it carries."),
    needed("edition", Shape::Text, "Which edition it carries."),
    may("in_force", Shape::Record(IN_FORCE), "From when until when it is in force."),
    needed("legal_nature", Shape::Text, "What it is in law."),
    needed("covers", Shape::Text, "Which buildings and which work it covers."),
    may(
        "covers_when",
        Shape::Expression,
        "The same for the program: what has to hold of a design for the book to be asked at all. Without it, that of the book it builds on.",
    ),
    may(
        "builds_on",
        Shape::Texts,
        "A book, or several, whose requirements it takes over, with the amendments in its folder `amendments`.",
    ),
    may(
        "cases_from",
        Shape::Texts,
        "A book, or several, from whose designs its cases may start too. Nothing else of them is taken.",
    ),
    may(
        "in_place_of",
        Shape::Name,
        "Its own name, when it is meant to stand in the place of the book of that name that comes with the program.",
    ),
    may(
        "always",
        Shape::YesNo,
        "Whether every review uses it without being asked: a book of common practice.",
    ),
    needed("sources", Shape::Named(SOURCE), "The documents it draws on, by names of your own."),
    may("left_to_the_eye", Shape::Records(LEFT_TO_THE_EYE), "Clauses that no program can judge."),
    may("not_held", Shape::Records(NOT_HELD), "Clauses whose text is not held."),
];

/// The keys of the time a book is in force.
pub const IN_FORCE: &[Key] =
    &[may("from", Shape::Day, "The first day."), may("until", Shape::Day, "The last day.")];

/// The keys of a document a book draws on.
pub const SOURCE: &[Key] = &[
    needed("title", Shape::Text, "Its title."),
    needed("publisher", Shape::Text, "Who published it."),
    needed("year", Shape::Text, "When it was published."),
    needed("read_at", Shape::Text, "Where it can be read, or how it was come by."),
    needed("basis", BASES, "How sure the book's authors are of what it says."),
];

/// The keys of a clause left to the eye.
pub const LEFT_TO_THE_EYE: &[Key] = &[
    needed("section", Shape::Text, "The section, as the document numbers it."),
    needed("look_for", Shape::Text, "What to look at."),
];

/// The keys of a clause that is not held.
pub const NOT_HELD: &[Key] = &[
    needed("section", Shape::Text, "The section, as the document numbers it."),
    needed("subject", Shape::Text, "What it is about."),
];
