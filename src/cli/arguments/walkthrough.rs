//! The options of the form for the walk round the house.

use clap::{Args, ValueEnum};

use super::{ONE, Page, Printed, Reviewed};
use crate::app::walkthrough;

#[derive(Clone, Copy, ValueEnum, Debug)]
enum WalkForm {
    Text,
    Html,
    Pdf,
    Notes,
}

#[derive(Args, Debug)]
#[command(help_template = ONE, after_help = "\
Everything that is not known yet, not yet due, left to the eye, or met by a number that was drawn stands in it once. \
The field notes are a file to type into; laid over the design with review --field-notes \
they move the review on, with the name and the day of whoever looked.

Leaves with 0, or with 2 when the file or an entry of it could not be read.")]
pub(in crate::cli) struct WalkthroughArguments {
    /// The design file
    #[arg(value_name = "FILE")]
    file: String,
    /// What comes out: text; html, a form for a browser or a printer; pdf, the form for paper, into the file that --out names; or notes, field notes to type into
    #[arg(
        long = "as",
        value_name = "FORM",
        default_value = "text",
        hide_possible_values = true,
        hide_default_value = true
    )]
    form: WalkForm,
    #[command(flatten)]
    printed: Printed,
    #[command(flatten)]
    reviewed: Reviewed,
    #[command(flatten)]
    pub(in crate::cli) page: Page,
}

impl WalkthroughArguments {
    pub(in crate::cli) fn request(&self) -> walkthrough::Request {
        walkthrough::Request {
            design: self.reviewed.design(&self.file),
            form: match self.form {
                WalkForm::Text => walkthrough::Form::Text,
                WalkForm::Html => walkthrough::Form::Html,
                WalkForm::Pdf => walkthrough::Form::Pdf,
                WalkForm::Notes => walkthrough::Form::Notes,
            },
            size: self.printed.paper.size(),
            out: self.printed.out.clone(),
        }
    }
}
