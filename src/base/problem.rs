//! A thing wrong with an input: which kind, where, and the evidence. Collected, never thrown.
//!
//! A problem holds facts, not sentences. What each kind says to a person stands in one place,
//! `render::words`, so that every kind can be checked to say what, where, why and what to do.

use super::text::Span;

/// One thing wrong with something that was read.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Problem {
    /// What sort of thing is wrong.
    pub kind: ProblemKind,
    /// Where it stands.
    pub at: Span,
    /// What was read there, in the writer's own characters, or what stands there in words.
    pub found: String,
    /// What would be accepted instead, as a phrase that completes "accepted here: …".
    pub accepts: String,
    /// The nearest thing the writer may have meant.
    pub nearest: Option<String>,
    /// Other places that belong to it, each with what it is ("first written here").
    pub also: Vec<(Span, String)>,
    /// What could not be read because of it, if it is more than the place itself.
    pub lost: Option<Box<Lost>>,
}

/// Lines of a file that were not read.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Lost {
    /// The keys that lead to the section they stand in, from the outside in. None for the file as a whole.
    pub section: Vec<String>,
    /// The number of the first line, counted from one.
    pub first: usize,
    /// The number of the last line.
    pub last: usize,
}

impl Problem {
    /// A problem with nothing but its kind and place.
    #[must_use]
    pub fn new(kind: ProblemKind, at: Span) -> Self {
        Problem {
            kind,
            at,
            found: String::new(),
            accepts: String::new(),
            nearest: None,
            also: Vec::new(),
            lost: None,
        }
    }

    /// Says what was read.
    #[must_use]
    pub fn found(mut self, found: impl Into<String>) -> Self {
        self.found = found.into();
        self
    }

    /// Says what would be accepted.
    #[must_use]
    pub fn accepts(mut self, accepts: impl Into<String>) -> Self {
        self.accepts = accepts.into();
        self
    }

    /// Offers the likely intent.
    #[must_use]
    pub fn nearest(mut self, nearest: Option<String>) -> Self {
        self.nearest = nearest;
        self
    }

    /// Says which lines were not read because of it.
    #[must_use]
    pub fn lost(mut self, lost: Lost) -> Self {
        self.lost = Some(Box::new(lost));
        self
    }

    /// Points to another place that belongs to it.
    #[must_use]
    pub fn also(mut self, span: Span, what: impl Into<String>) -> Self {
        self.also.push((span, what.into()));
        self
    }
}

/// How much a problem costs.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Weight {
    /// Something was read, but perhaps not as it was meant.
    Doubt,
    /// An entry could not be read; the rest of the file stands.
    Entry,
    /// Nothing of the file, or nothing of the rulebook, can be used.
    Whole,
}

macro_rules! kinds {
    ($($(#[doc = $meaning:literal])+ $variant:ident = $name:literal, $weight:ident;)+) => {
        /// Every sort of problem there is. The census in the tests lists them.
        #[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
        pub enum ProblemKind { $($(#[doc = $meaning])+ $variant,)+ }

        impl ProblemKind {
            /// All of them, in the order they are declared.
            pub const ALL: &'static [ProblemKind] = &[$(ProblemKind::$variant,)+];

            /// The phrase it is known by in machine-readable reports.
            #[must_use]
            pub fn name(self) -> &'static str {
                match self { $(ProblemKind::$variant => $name,)+ }
            }

            /// Whether nothing at all can be said of a file in which this is wrong.
            #[must_use]
            pub fn refuses_the_file(self) -> bool {
                use ProblemKind as K;
                matches!(self, K::NotText | K::Empty | K::SeveralDocuments | K::UnknownVersion)
            }

            /// How much it costs.
            #[must_use]
            pub fn weight(self) -> Weight {
                match self { $(ProblemKind::$variant => Weight::$weight,)+ }
            }
        }
    };
}

kinds! {
    // Reading the text.
    /// The file is not text in UTF-8.
    NotText = "not-text", Whole;
    /// The file is larger than the reader takes.
    TooLarge = "too-large", Whole;
    /// Signs of a file that are not in UTF-8; the rest of it is.
    StrayBytes = "stray-bytes", Entry;
    /// Lines that make no sense.
    NotYaml = "not-yaml", Entry;
    /// A tab in front of a line.
    Tab = "tab-in-front", Entry;
    /// A key and its value without a colon and a space between.
    NoColon = "no-colon", Entry;
    /// Two entries in brackets without a comma between.
    NoComma = "no-comma", Entry;
    /// A bracket or a quote that is opened and not closed.
    NotClosed = "not-closed", Entry;
    /// A line that stands too far in or too far out.
    NotInLine = "not-in-line", Entry;
    /// Lists and keys are nested deeper than the reader takes.
    TooDeep = "too-deep", Whole;
    /// Aliases would blow the file up beyond what the reader takes.
    TooManyAliases = "too-many-aliases", Whole;
    /// An alias points to the entry that holds it.
    AliasToItself = "alias-to-itself", Whole;
    /// The file holds more than one document.
    SeveralDocuments = "several-documents", Whole;
    /// The file holds nothing.
    Empty = "empty-file", Whole;
    /// The same key stands twice in one place.
    DuplicateKey = "duplicate-key", Entry;
    /// A key is a list or a map, not a word.
    KeyNotAWord = "key-not-a-word", Entry;
    /// A `#` inside a value made the rest of the line a comment.
    SwallowedByComment = "swallowed-by-comment", Doubt;

    // Shape of an entry.
    /// A key that the format does not know.
    UnknownKey = "unknown-key", Entry;
    /// A key that has to be there is not.
    KeyMissing = "key-missing", Entry;
    /// A list, a map or a single value where another shape is wanted.
    WrongShape = "wrong-shape", Entry;
    /// A word that is not one of those wanted.
    UnknownWord = "unknown-word", Entry;
    /// A name that nothing in the file has.
    UnknownName = "unknown-name", Entry;
    /// Names of things that stand in a part of the file that was not read.
    NamesUnread = "names-unread", Entry;
    /// A thing of which a later file tells and which the file that it lies over does not have.
    NotInDesign = "not-in-the-design", Entry;
    /// The line with the version of the format is not there.
    NoVersion = "no-version", Entry;
    /// The word `none` where it says nothing.
    NoneSaysNothing = "none-says-nothing", Entry;
    /// The version of the format is not one this program reads.
    UnknownVersion = "unknown-version", Whole;
    /// Text that is not fit for its place.
    BadText = "bad-text", Entry;
    /// A date, time or zone that cannot be read.
    BadTime = "bad-time", Entry;
    /// A time that the clocks there show twice, or never.
    ClockChange = "clock-change", Entry;

    // Quantities.
    /// A number without a unit.
    NoUnit = "number-without-unit", Entry;
    /// A unit that is not known.
    UnknownUnit = "unknown-unit", Entry;
    /// A quantity of another kind than the entry wants.
    WrongDimension = "wrong-kind-of-quantity", Entry;
    /// Text where a whole number is wanted.
    NotAWholeNumber = "not-a-whole-number", Entry;
    /// Text that is not a quantity.
    NotAQuantity = "not-a-quantity", Entry;
    /// A quantity outside what makes sense for its entry.
    OutOfRange = "out-of-range", Entry;
    /// A range or an estimate where one number is wanted.
    NotOneNumber = "not-one-number", Entry;
    /// Units in one value that do not go together.
    UnitsMixed = "units-mixed", Entry;
    /// Printer's quotes round a value.
    PrintersQuotes = "printers-quotes", Entry;
    /// More digits than the reader keeps exactly.
    TooManyDigits = "too-many-digits", Entry;

    // What the design says of itself.
    /// Two statements about one thing that cannot both be true.
    Contradiction = "contradiction", Doubt;
    /// Field notes without a day among several, or of a day or stage before the design that they lie over.
    NotesOutOfTurn = "field-notes-out-of-turn", Doubt;
    /// Something that cannot be as it is written.
    CannotBe = "cannot-be", Doubt;
    /// An entry that cannot be combined with another.
    NotTogether = "not-together", Entry;

    // Rulebooks.
    /// A rulebook that the design names is not known.
    UnknownBook = "unknown-rulebook", Whole;
    /// The file's name and the name in it differ.
    NameDiffers = "name-differs-from-file", Whole;
    /// An expression that does not follow the grammar.
    BadExpression = "bad-expression", Whole;
    /// A word in an expression that nothing has.
    UnknownInExpression = "unknown-in-expression", Whole;
    /// A comparison or sum of things that do not go together.
    KindsDiffer = "kinds-differ", Whole;
    /// One name for two things.
    NameClash = "name-clash", Whole;
    /// "every" without a word on what holds when there are none.
    EmptyNotSaid = "nothing-said-of-none", Whole;
    /// A message that asks for something it may not.
    BadMessage = "bad-message", Whole;
    /// A limit that is compared, without the word that says whether the limit itself is enough.
    LimitWithoutWords = "limit-without-words", Whole;
    /// A limit that no expression uses.
    UnusedLimit = "unused-limit", Whole;
    /// A rule that cannot be used as it stands, for a reason given.
    BadRule = "bad-rule", Whole;
    /// A case that does not come out as its author says.
    CaseFails = "case-fails", Whole;
    /// A rulebook whose time is over, or has not come, on the day of the review.
    BookOutOfDate = "rulebook-out-of-date", Doubt;
    /// A rulebook brought along whose own cases do not bear it out.
    BookUnproven = "rulebook-not-proven", Doubt;

    // Books on books, and amendments.
    /// A book that another builds on is not there, or has a fault.
    BookBelow = "rulebook-below-cannot-be-used", Whole;
    /// A book that builds on itself, perhaps through others.
    BookRing = "rulebooks-in-a-ring", Whole;
    /// A book of the name of one that comes with the program, and nothing says that it is meant in its place.
    BookShadows = "rulebook-of-a-taken-name", Whole;
    /// Two requirements of one name that do not agree come together in one book.
    RulesCollide = "two-rules-of-one-name", Whole;
    /// An amendment of something that is not there.
    AmendsNothing = "amendment-of-nothing", Whole;
    /// An amendment of a rule that has changed since.
    BaseMoved = "amended-rule-has-changed", Whole;
    /// An amendment that says a field was something else than it is.
    WasDiffers = "amendment-misremembers", Whole;
    /// Two amendments of one book that disagree.
    AmendmentsDisagree = "amendments-disagree", Whole;
    /// A rule that one amendment withdraws and the same or another one changes.
    WithdrawnAndChanged = "withdrawn-and-changed", Whole;
    /// An amendment that leaves everything as it is.
    ChangesNothing = "amendment-changes-nothing", Doubt;
}
