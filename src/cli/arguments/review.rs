//! The options of a review.

use clap::{Args, ValueEnum};

use super::{Books, ONE, Page, Printed};
use crate::app::review::{self, Request};
use crate::findings::narrow::Narrow;
use crate::render::terminal::Show;
use crate::rulebook::checked::{Obligation, Stage};

/// What a review comes out as.
#[derive(Clone, Copy, ValueEnum, Debug)]
enum ReviewForm {
    Text,
    Json,
    Html,
    Pdf,
    Sarif,
}

impl ReviewForm {
    fn form(self) -> review::Form {
        match self {
            ReviewForm::Text => review::Form::Text,
            ReviewForm::Json => review::Form::Json,
            ReviewForm::Html => review::Form::Html,
            ReviewForm::Pdf => review::Form::Pdf,
            ReviewForm::Sarif => review::Form::Sarif,
        }
    }
}

#[derive(Clone, Copy, ValueEnum, Debug)]
enum ShowWhat {
    Summary,
    OpenItems,
    Everything,
}

#[derive(Args, Debug)]
#[command(help_template = ONE, after_help = "\
Leaves with 0 when all is well, 1 when something that has to be is unmet, 2 when an \
entry or a rulebook could not be read, 3 when something cannot be told yet, nothing \
was judged, or a record no longer stands.

A digest shows that something changed. It does not show who wrote a record.")]
pub(in crate::cli) struct ReviewArguments {
    /// The design files
    #[arg(required = true, value_name = "FILE")]
    files: Vec<String>,
    /// What comes out: text, html (one page for a browser), pdf (for paper, into the file that --out names), json, or sarif (the open standard that editors and other tools read)
    #[arg(
        long = "as",
        value_name = "FORM",
        default_value = "text",
        hide_possible_values = true,
        hide_default_value = true
    )]
    form: ReviewForm,
    /// How much of it: summary, open-items or everything
    #[arg(
        long,
        value_name = "WHAT",
        default_value = "open-items",
        hide_possible_values = true,
        hide_default_value = true
    )]
    show: ShowWhat,
    #[command(flatten)]
    printed: Printed,
    #[command(flatten)]
    part: PartArguments,
    /// The day of the review, as 2026-05-12; without it the date of the job
    #[arg(long, value_name = "DATE")]
    on: Option<String>,
    /// The file with what your shop uses again and again; without it shop.yaml beside the design, if it is there
    #[arg(long, value_name = "FILE")]
    shop: Option<String>,
    /// A file of what was found and built, in the form of a design; it lies over the design. May be given several times
    #[arg(long, value_name = "FILE")]
    field_notes: Vec<String>,
    /// Print, instead of the review, the entry of a variance for an unmet requirement, filled in as far as can be:
    /// discharge-clear-of-openings, or discharge-clear-of-openings of bath_window
    #[arg(long, value_name = "FINDING", conflicts_with = "out")]
    variance_for: Option<String>,
    /// Also write a record of this review into FILE, a name that ends in .json: what was reviewed, by whom, of which day, with the digest of every file, of every book and of the program. Never over a file that is there
    #[arg(long, value_name = "FILE", requires = "reviewed_by", conflicts_with_all = ["against", "variance_for"])]
    record: Option<String>,
    /// Who reviewed, for the record
    #[arg(long, value_name = "NAME")]
    reviewed_by: Option<String>,
    /// The day of the record; without it the day of the review
    #[arg(long, value_name = "DATE")]
    reviewed_on: Option<String>,
    /// Say, instead of the review, whether the record in FILE still stands, and if not, which file, book or program moved and which verdicts turned
    #[arg(long, value_name = "FILE", conflicts_with_all = ["variance_for", "out"])]
    against: Option<String>,
    /// Leave with 0 although something cannot be told yet; never for what must be known before drilling or start-up
    #[arg(long)]
    accept_undetermined: bool,
    #[command(flatten)]
    books: Books,
    #[command(flatten)]
    pub(in crate::cli) page: Page,
}

/// Which part of a review is told.
#[derive(Args, Debug)]
pub(in crate::cli) struct PartArguments {
    /// Tell only what is about this, such as discharge or discharge/openings; may be given several times, like the next four
    #[arg(long, value_name = "SUBJECT", conflicts_with_all = ["record", "against", "variance_for"])]
    about: Vec<String>,
    /// Tell only what is asked of this thing, or of what is in this space or area
    #[arg(long, value_name = "NAME", conflicts_with_all = ["record", "against", "variance_for"])]
    place: Vec<String>,
    /// Tell only what this book asks
    #[arg(long, value_name = "BOOK", conflicts_with_all = ["record", "against", "variance_for"])]
    book: Vec<String>,
    /// Tell only what can first be asked at this stage: design, installed or operating
    #[arg(long, value_name = "STAGE", hide_possible_values = true, conflicts_with_all = ["record", "against", "variance_for"])]
    due: Vec<Due>,
    /// Tell only what is asked with this verb: shall, should or may
    #[arg(long, value_name = "VERB", hide_possible_values = true, conflicts_with_all = ["record", "against", "variance_for"])]
    weight: Vec<Verb>,
}

#[derive(Clone, Copy, ValueEnum, Debug)]
enum Due {
    Design,
    Installed,
    Operating,
}

impl Due {
    fn stage(self) -> Stage {
        match self {
            Due::Design => Stage::Design,
            Due::Installed => Stage::Installed,
            Due::Operating => Stage::Operating,
        }
    }
}

#[derive(Clone, Copy, ValueEnum, Debug)]
enum Verb {
    Shall,
    Should,
    May,
}

impl Verb {
    fn obligation(self) -> Obligation {
        match self {
            Verb::Shall => Obligation::Shall,
            Verb::Should => Obligation::Should,
            Verb::May => Obligation::May,
        }
    }
}

impl ReviewArguments {
    pub(in crate::cli) fn request(&self) -> Request {
        Request {
            files: self.files.clone(),
            form: self.form.form(),
            show: match self.show {
                ShowWhat::Summary => Show::Summary,
                ShowWhat::OpenItems => Show::OpenItems,
                ShowWhat::Everything => Show::Everything,
            },
            out: self.printed.out.clone(),
            paper: self.printed.paper.size(),
            field_notes: self.field_notes.clone(),
            narrow: Narrow {
                about: self.part.about.clone(),
                places: self.part.place.clone(),
                books: self.part.book.clone(),
                due: self.part.due.iter().map(|due| due.stage()).collect(),
                weights: self.part.weight.iter().map(|verb| verb.obligation()).collect(),
            },
            record: self.record.clone(),
            reviewed_by: self.reviewed_by.clone(),
            reviewed_on: self.reviewed_on.clone(),
            against: self.against.clone(),
            variance_for: self.variance_for.clone(),
            on: self.on.clone(),
            shop: self.shop.clone(),
            accept_undetermined: self.accept_undetermined,
            rulebooks: self.books.rulebooks.clone(),
        }
    }
}
