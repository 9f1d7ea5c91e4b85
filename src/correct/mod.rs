//! Corrections: what would mend what is unmet, as edits of the design's own text, each proven before it is offered.
//!
//! `plan` turns the corrections of the rules into steps with values, `make` does the steps to a text, `prove` judges the
//! design anew with them made. What cannot be proven stays advice in words, with the reason. Nothing that is built, and
//! nothing that was found on site, is ever mended by writing another number.

pub mod blanks;
pub mod choose;
pub mod cost;
pub mod form;
mod make;
pub mod places;
mod plan;
mod prove;
mod spell;

use crate::base::value::{EntryPath, Missing};
use crate::facts::handles::Stuck;
use crate::findings::{Comes, Finding};
use crate::review::judged::Judged;
use crate::review::{DESIGN, Explained, Input, Library, Review, review};
use crate::rulebook::checked::Stage;
use crate::yaml::edits::Edits;
use crate::yaml::path::Path;

pub use make::made;
pub use places::Places;
pub use prove::{proven, written};

/// One step: an entry and what becomes of it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum Step {
    /// It gets this value.
    Set(Path, String),
    /// It is written with this value, behind this key of its section.
    Add(Path, String),
    /// It is taken away.
    Remove(Path),
}

impl Step {
    /// The entry.
    #[must_use]
    pub fn path(&self) -> &Path {
        match self {
            Step::Set(path, _) | Step::Add(path, _) | Step::Remove(path) => path,
        }
    }
}

/// Why a correction is told in words alone.
#[derive(Clone, PartialEq, Eq, Debug)]
pub enum WhyNot {
    /// Its rule says no change for it.
    NoChange,
    /// A value it needs is not known, or known only within bounds; the entries that would tell it.
    NotKnown(Vec<Missing>),
    /// The entry says what was found, and not what is to be built.
    Found(EntryPath),
    /// The entry belongs to a system that is said to be installed.
    Built(EntryPath),
    /// The entry holds a measured value.
    Measured(EntryPath),
    /// The entry is not there.
    NotThere(EntryPath),
    /// The entry is there already.
    AlreadyThere(EntryPath),
    /// Several entries fit, and which is meant is for a person to say.
    Several(String),
    /// It is not known by which entries the fact can be moved.
    NoHandle,
    /// No place that was tried will do; or it can be put nowhere else, for this.
    NoPlace(Option<Stuck>),
    /// The text cannot be changed so.
    CannotBeWritten(EntryPath),
    /// With it made, what it is for is still not as asked by these requirements.
    StillUnmet(Vec<String>),
    /// With it made, these requirements, each of a finding, come out worse.
    Worse(Vec<(String, String)>),
    /// With it made, something is wrong with the file that was not before; said as found.
    NewProblem(String),
    /// It would hold if somebody looked again from where things then stand: these looks went about where they stand now.
    LookAnew(Vec<EntryPath>),
}

/// A correction that was proven.
#[derive(Clone, PartialEq, Debug)]
pub struct Proven {
    /// Its number among all that are offered, from one.
    pub number: usize,
    /// The steps.
    pub steps: Vec<Step>,
    /// How far each look that somebody signed goes about the new place, which is not written.
    pub looks: Vec<Step>,
    /// The same as edits of the text.
    pub edits: Edits,
    /// The text with the edits made.
    pub text: String,
    /// What has to be measured or said afterwards, because the correction leaves it blank.
    pub measure: Vec<Missing>,
    /// The identities of other findings that it mends besides.
    pub besides: Vec<String>,
}

/// What is offered for a correction.
#[derive(Clone, PartialEq, Debug)]
pub enum Offer {
    /// Edits of the design.
    Edits(Box<Proven>),
    /// Work on what is built, and the entries to be measured anew afterwards.
    WorkOrder(Vec<EntryPath>),
    /// Words alone, and why.
    Words(WhyNot),
}

/// One way to mend a finding.
#[derive(Clone, PartialEq, Debug)]
pub struct Choice {
    /// What one would do, as its rule says.
    pub title: String,
    /// The clause whose rule says so, by its place in the finding.
    pub clause: usize,
    /// What is offered.
    pub offer: Offer,
}

impl Choice {
    /// What was proven of it, if it was.
    #[must_use]
    pub fn proven(&self) -> Option<&Proven> {
        match &self.offer {
            Offer::Edits(proven) => Some(proven),
            _ => None,
        }
    }
}

/// A finding that is not as asked, with the ways to mend it.
#[derive(Clone, PartialEq, Debug)]
pub struct Mend {
    /// The finding, by its place in the review.
    pub finding: usize,
    /// The ways.
    pub choices: Vec<Choice>,
}

/// The corrections of one design.
#[derive(Clone, Debug)]
pub struct Corrections<'l> {
    /// The review that they mend.
    pub review: Review<'l>,
    /// What every clause came to before.
    pub before: Judged,
    /// The text of the design.
    pub text: String,
    /// The findings that are not as asked, in the order of the review.
    pub mends: Vec<Mend>,
    /// Where discharges and suction points may stand, once that was asked for.
    pub places: Places,
}

impl Corrections<'_> {
    /// Whether what the design describes is built.
    #[must_use]
    pub fn is_built(&self) -> bool {
        self.review.stage > Stage::Design
    }

    /// Every correction that is offered as edits, with the finding it is for, in the order of their numbers.
    pub fn offered(&self) -> impl Iterator<Item = (&Mend, &Choice, &Proven)> {
        self.mends
            .iter()
            .flat_map(|mend| mend.choices.iter().map(move |choice| (mend, choice)))
            .filter_map(|(mend, choice)| Some((mend, choice, choice.proven()?)))
    }
}

/// Works out the corrections of a design, and proves those that can be offered.
#[must_use]
pub fn corrections<'l>(input: &Input<'_>, library: &'l Library) -> Corrections<'l> {
    corrections_of(input, library, |_, _| true)
}

/// The same for some of its findings.
#[must_use]
pub fn corrections_of<'l>(
    input: &Input<'_>,
    library: &'l Library,
    wanted: impl Fn(&Review<'_>, &Finding) -> bool,
) -> Corrections<'l> {
    let input = Input { explained: Explained::Open, ..input.clone() };
    let review = review(&input, library);
    let text = review.sources.get(DESIGN).map_or("", |source| source.text()).to_owned();
    let before = Judged::of(&review);
    let mut all = Corrections { review, before, text, mends: Vec::new(), places: Places::default() };
    if all.review.refusal().is_some() || std::str::from_utf8(input.bytes).is_err() {
        return all;
    }
    let mut number = 0;
    for at in 0..all.review.findings.len() {
        let Some(finding) = all.review.findings.get(at) else { continue };
        let unmet = |comes| matches!(comes, Comes::Unmet | Comes::Disputed | Comes::NotFollowed);
        if !finding.clauses.iter().any(|clause| unmet(clause.comes())) || !wanted(&all.review, finding) {
            continue;
        }
        let choices = plan::choices(&all, &input, library, at, &mut number);
        all.mends.push(Mend { finding: at, choices });
    }
    all
}
