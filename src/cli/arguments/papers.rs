//! The options of the commands that put papers together.

use clap::{Args, ValueEnum};

use super::{ONE, Page, Printed, Reviewed};
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
    #[command(flatten)]
    printed: Printed,
    #[command(flatten)]
    reviewed: Reviewed,
}

impl Made {
    fn request(&self, file: &str, which: Which) -> Request {
        Request {
            design: self.reviewed.design(file),
            which,
            form: match self.form {
                PageForm::Html => Form::Html,
                PageForm::Pdf => Form::Pdf,
            },
            size: self.printed.paper.size(),
            out: self.printed.out.clone(),
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
