//! The options of the commands that put papers together.

use clap::{Args, ValueEnum};

use super::{Beside, Books, ONE, Page, PaperName};
use crate::app::submittal::{Form, Request, Which};

#[derive(Clone, Copy, ValueEnum, Debug)]
enum ReaderName {
    Permit,
    Owner,
}

#[derive(Clone, Copy, ValueEnum, Debug)]
enum PageForm {
    Html,
    Pdf,
}

/// What papers of any sort are made of and put on.
#[derive(Args, Debug)]
struct Made {
    /// What comes out: html, one page for a browser or a printer; or pdf, pages for paper, into the file that --out names
    #[arg(
        long = "as",
        value_name = "FORM",
        default_value = "html",
        hide_possible_values = true,
        hide_default_value = true
    )]
    form: PageForm,
    /// On which paper: letter or a4
    #[arg(
        long,
        value_name = "SIZE",
        default_value = "letter",
        hide_possible_values = true,
        hide_default_value = true
    )]
    paper: PaperName,
    /// The new file it goes into; without it, it is printed
    #[arg(long, value_name = "NEW FILE")]
    out: Option<String>,
    /// The day of the review, as 2026-05-12; without it the date of the job
    #[arg(long, value_name = "DAY")]
    on: Option<String>,
    #[command(flatten)]
    beside: Beside,
    #[command(flatten)]
    books: Books,
}

impl Made {
    fn request(&self, file: &str, which: Which) -> Request {
        Request {
            file: file.to_owned(),
            which,
            form: match self.form {
                PageForm::Html => Form::Html,
                PageForm::Pdf => Form::Pdf,
            },
            size: self.paper.size(),
            out: self.out.clone(),
            on: self.on.clone(),
            shop: self.beside.shop.clone(),
            field_notes: self.beside.field_notes.clone(),
            rulebooks: self.books.rulebooks.clone(),
        }
    }
}

#[derive(Args, Debug)]
#[command(help_template = ONE, after_help = "\
Names, permits and editions stand on it as the design has them; what it does not have is a \
line to fill in by hand. The inspector's column and the signature are left blank.

Leaves with 0 when it was put together, and with 2 when a file, an entry or a rulebook \
could not be read. It says nothing of the verdicts: for that, review the design.")]
pub(in crate::cli) struct SubmittalArguments {
    /// The design file
    #[arg(value_name = "FILE")]
    file: String,
    /// For whom it is: permit, for the office; owner, to leave with the people of the house
    #[arg(long = "for", value_name = "WHOM", hide_possible_values = true)]
    reader: ReaderName,
    #[command(flatten)]
    made: Made,
    #[command(flatten)]
    pub(in crate::cli) page: Page,
}

impl SubmittalArguments {
    pub(in crate::cli) fn request(&self) -> Request {
        let which = match self.reader {
            ReaderName::Permit => Which::Permit,
            ReaderName::Owner => Which::Owner,
        };
        self.made.request(&self.file, which)
    }
}

#[derive(Args, Debug)]
#[command(help_template = ONE, after_help = "\
The labels of the design, and those that the rulebooks which count for the job ask for. Only \
what is asked for stands on a label; what the design does not have is filled in by hand.

Leaves with 0 when they were put together, and with 2 when a file, an entry or a rulebook \
could not be read.")]
pub(in crate::cli) struct LabelsArguments {
    /// The design file
    #[arg(value_name = "FILE")]
    file: String,
    #[command(flatten)]
    made: Made,
    #[command(flatten)]
    pub(in crate::cli) page: Page,
}

impl LabelsArguments {
    pub(in crate::cli) fn request(&self) -> Request {
        self.made.request(&self.file, Which::Labels)
    }
}
