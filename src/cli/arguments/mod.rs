//! The commands and their options, each a word of the trade.

mod designs;
mod drawings;
mod papers;
mod review;
mod rulebook;
mod walkthrough;

use clap::builder::Styles;
use clap::{Args, Parser, Subcommand, ValueEnum};

use crate::app::Form;
use crate::app::designs::Named;
use crate::drawing::Paper;

use designs::{
    ClauseArguments, CompareArguments, CorrectArguments, SiteVisitArguments, TakeoffArguments,
    WorksheetArguments,
};
use drawings::DrawingsArguments;
use papers::{LabelsArguments, SubmittalArguments};
use review::ReviewArguments;
use rulebook::{
    AmendArguments, ExportArguments, ListArguments, PageArguments, ProveArguments, RulebookCompareArguments,
    WordsArguments,
};
use walkthrough::WalkthroughArguments;

const ABOUT: &str = "Reads a plain design of a soil-gas mitigation system, checks it against rulebooks, and says for \
every requirement what it found and why.";

const TOP: &str = "\
{about}

How to call it:  {usage}

What it does:
{subcommands}

Options:
{options}

A first try:     undercroft site-visit my-house.yaml
                 undercroft review my-house.yaml
";

const ONE: &str = "\
{about}

How to call it:  {usage}

{all-args}{after-help}
";

/// The command line.
#[derive(Parser, Debug)]
#[command(
    name = "undercroft",
    version,
    about = ABOUT,
    styles = Styles::plain(),
    term_width = 80,
    help_template = TOP,
    disable_help_subcommand = true,
    subcommand_required = true,
    arg_required_else_help = true,
    infer_long_args = false
)]
pub(in crate::cli) struct Arguments {
    #[command(subcommand)]
    pub(in crate::cli) command: Command,
}

#[derive(Subcommand, Debug)]
pub(in crate::cli) enum Command {
    /// The verdicts on one or more designs
    Review(ReviewArguments),
    /// What would mend a design, before and after; written only when it is asked for
    Correct(CorrectArguments),
    /// What changed from one version of a design to the next, and because of what
    Compare(CompareArguments),
    /// One requirement: what it asks, why, where it comes from, how sure that is
    Clause(ClauseArguments),
    /// Every number that is worked out: what it rests on, its formula, what was taken for granted
    Worksheet(WorksheetArguments),
    /// What to put on the truck: pipe with the way it is cut, fittings, sheets, sealant, labels
    Takeoff(TakeoffArguments),
    /// A sheet to print: plan, elevation or riser, with what it shows in words
    Drawings(DrawingsArguments),
    /// The form for the person on site, in the order one walks; and field notes to type it back in
    Walkthrough(WalkthroughArguments),
    /// The papers to hand in for a permit, or to leave with the owner
    Submittal(SubmittalArguments),
    /// The labels to print at their true size and put up, and where each goes
    Labels(LabelsArguments),
    /// The rulebooks: what is in force and why, what a rule can ask, the proofs
    #[command(subcommand, disable_help_subcommand = true, help_template = ONE)]
    Rulebook(RulebookCommand),
    /// Starts a new design file from some thirty questions
    SiteVisit(SiteVisitArguments),
}

#[derive(Subcommand, Debug)]
pub(in crate::cli) enum RulebookCommand {
    /// The books there are, and the standing each has in a design
    List(ListArguments),
    /// A whole book on one page, to print
    Page(PageArguments),
    /// What a rule can ask of each kind of thing
    Words(WordsArguments),
    /// Two books or editions beside each other, and what would turn on your own designs
    Compare(RulebookCompareArguments),
    /// Runs the cases of every rule, and moves every limit
    Prove(ProveArguments),
    /// A copy of a book to edit
    Export(ExportArguments),
    /// Starts an amendment of a requirement, with its fingerprint filled in
    Amend(AmendArguments),
}

/// How a page looks.
#[derive(Args, Debug)]
pub(in crate::cli) struct Page {
    /// How many columns wide, from 40 to 200
    #[arg(long, value_name = "COLUMNS", default_value = "80", value_parser = clap::value_parser!(u16).range(40..=200))]
    pub(in crate::cli) width: u16,
    /// Without drawing and columns: for a screen reader or a plain printer
    #[arg(long)]
    pub(in crate::cli) plain: bool,
    /// Colours: auto, always or never; no word depends on them
    #[arg(
        long,
        value_name = "WHEN",
        default_value = "auto",
        hide_possible_values = true,
        hide_default_value = true
    )]
    pub(in crate::cli) colour: Colour,
}

#[derive(Clone, Copy, ValueEnum, Debug)]
pub(in crate::cli) enum Colour {
    Auto,
    Always,
    Never,
}

/// What lies beside a design.
#[derive(Args, Debug)]
pub(in crate::cli) struct Beside {
    /// The file with what your shop uses again and again; without it shop.yaml beside the design, if it is there
    #[arg(long, value_name = "FILE")]
    pub(in crate::cli) shop: Option<String>,
    /// A file of what was found and built; it lies over the design. May be given several times
    #[arg(long, value_name = "FILE")]
    pub(in crate::cli) field_notes: Vec<String>,
}

impl Beside {
    /// The design with what lies beside it.
    fn design(&self, file: &str, on: Option<&String>) -> Named {
        Named {
            file: file.to_owned(),
            on: on.cloned(),
            shop: self.shop.clone(),
            field_notes: self.field_notes.clone(),
            rulebooks: Vec::new(),
        }
    }
}

/// The day of a review, what lies beside its design, and its books.
#[derive(Args, Debug)]
struct Reviewed {
    /// The day of the review, as 2026-05-12; without it the date of the job
    #[arg(long, value_name = "DATE")]
    on: Option<String>,
    #[command(flatten)]
    beside: Beside,
    #[command(flatten)]
    books: Books,
}

impl Reviewed {
    /// The design in this file.
    fn design(&self, file: &str) -> Named {
        Named { rulebooks: self.books.rulebooks.clone(), ..self.beside.design(file, self.on.as_ref()) }
    }
}

/// On what papers are put.
#[derive(Args, Debug)]
struct Printed {
    /// On which paper: letter or a4
    #[arg(
        long,
        value_name = "SIZE",
        default_value = "letter",
        hide_possible_values = true,
        hide_default_value = true
    )]
    paper: PaperName,
    /// The new file it goes into, never one that is there; without it, it is printed
    #[arg(long, value_name = "NEW FILE")]
    out: Option<String>,
}

/// What comes out of a command that has words and a report.
#[derive(Args, Debug)]
pub(in crate::cli) struct Output {
    /// What comes out: text or json
    #[arg(
        long = "as",
        value_name = "FORM",
        default_value = "text",
        hide_possible_values = true,
        hide_default_value = true
    )]
    form: AsForm,
}

impl Output {
    fn form(&self) -> Form {
        self.form.form()
    }
}

/// A size of paper.
#[derive(Clone, Copy, ValueEnum, Debug)]
enum PaperName {
    Letter,
    A4,
}

impl PaperName {
    fn size(self) -> Paper {
        match self {
            PaperName::Letter => Paper::Letter,
            PaperName::A4 => Paper::A4,
        }
    }
}

/// Where more books come from.
#[derive(Args, Debug)]
pub(in crate::cli) struct Books {
    /// A folder with more rulebooks; may be given several times
    #[arg(long, value_name = "FOLDER")]
    pub(in crate::cli) rulebooks: Vec<String>,
}

#[derive(Clone, Copy, ValueEnum, Debug)]
enum AsForm {
    Text,
    Json,
}

impl AsForm {
    fn form(self) -> Form {
        match self {
            AsForm::Text => Form::Text,
            AsForm::Json => Form::Json,
        }
    }
}
