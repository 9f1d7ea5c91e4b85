//! The options of the other commands about a design.

use clap::{Args, ValueEnum};

use super::{Beside, Books, ONE, Output, Page, Reviewed};
use crate::app::{compare, correct, site_visit, takeoff, worksheet};

#[derive(Args, Debug)]
#[command(help_template = ONE, after_help = "\
Each side is a design, which is reviewed now, or a review made before with review --as \
json. A shift of lines, another order or another spelling is no difference.

Leaves with 0 when nothing that has to be met turned for the worse, 1 when something \
that has to be is newly unmet, 2 when a file, an entry or a rulebook could not be read, \
3 when something that has to be met can newly not be told. What was open before and \
still is has no part in it: for that, review the newer version.")]
pub(in crate::cli) struct CompareArguments {
    /// The older version: a design, or a review as JSON
    #[arg(value_name = "OLD")]
    old: String,
    /// The newer version: a design, or a review as JSON
    #[arg(value_name = "NEW")]
    new: String,
    #[command(flatten)]
    output: Output,
    /// The day of both reviews, as 2026-05-12; without it the date of each job
    #[arg(long, value_name = "DATE")]
    on: Option<String>,
    /// The day of the review of OLD, where it is another
    #[arg(long, value_name = "DATE")]
    old_on: Option<String>,
    /// A file of what was found and built; it lies over NEW. May be given several times
    #[arg(long, value_name = "FILE")]
    field_notes: Vec<String>,
    /// The same over OLD
    #[arg(long, value_name = "FILE")]
    old_field_notes: Vec<String>,
    /// A folder with more rulebooks for OLD alone; may be given several times
    #[arg(long, value_name = "FOLDER")]
    old_rulebooks: Vec<String>,
    /// A folder with more rulebooks for NEW alone; may be given several times
    #[arg(long, value_name = "FOLDER")]
    new_rulebooks: Vec<String>,
    #[command(flatten)]
    books: Books,
    #[command(flatten)]
    pub(in crate::cli) page: Page,
}

impl CompareArguments {
    pub(in crate::cli) fn request(&self) -> compare::Request {
        let folders = |own: &[String]| self.books.rulebooks.iter().chain(own).cloned().collect();
        compare::Request {
            old: compare::Wanted {
                file: self.old.clone(),
                field_notes: self.old_field_notes.clone(),
                on: self.old_on.clone().or_else(|| self.on.clone()),
                rulebooks: folders(&self.old_rulebooks),
            },
            new: compare::Wanted {
                file: self.new.clone(),
                field_notes: self.field_notes.clone(),
                on: self.on.clone(),
                rulebooks: folders(&self.new_rulebooks),
            },
            form: self.output.form(),
        }
    }
}

#[derive(Args, Debug)]
#[command(help_template = ONE, after_help = "\
A number that cannot be worked out says what would have to be stated for it. A range \
is told where what it rests on is known only within bounds.

Leaves with 0 when the file was read, and with 2 when it or an entry of it could not be.")]
pub(in crate::cli) struct WorksheetArguments {
    /// The design file
    #[arg(value_name = "FILE")]
    file: String,
    #[command(flatten)]
    output: Output,
    /// The day for which it is worked out, as 2026-05-12; without it the date of the job
    #[arg(long, value_name = "DATE")]
    on: Option<String>,
    #[command(flatten)]
    beside: Beside,
    #[command(flatten)]
    pub(in crate::cli) page: Page,
}

impl WorksheetArguments {
    pub(in crate::cli) fn request(&self) -> worksheet::Request {
        worksheet::Request {
            design: self.beside.design(&self.file, self.on.as_ref()),
            form: self.output.form(),
        }
    }
}

#[derive(Args, Debug)]
#[command(help_template = ONE, after_help = "\
Every change that is offered was tried: with it made the file reads, what it is for is \
as asked under every rulebook, and nothing else comes out worse. What is built is \
mended by work and not by another number, and what was measured stands as it is.

Leaves as review does for the file as it is now; with 0 when the file was written, and \
with 2 when it could not be read or written.")]
pub(in crate::cli) struct CorrectArguments {
    /// The design file
    #[arg(value_name = "FILE")]
    file: String,
    /// Take this change: its number, the requirement it is for (discharge-clear-of-openings of bath_window), or all for the first of each; may be given several times
    #[arg(long, value_name = "CHANGE")]
    choose: Vec<String>,
    /// Write what was chosen into the file: wholly or not at all, and only if the file is still what was read
    #[arg(long)]
    write: bool,
    /// Put in, instead, a blank for everything that is still to be measured, to be filled in on site; no verdict changes
    #[arg(long, conflicts_with = "choose")]
    blanks: bool,
    /// Write also where the file is a link to one in another folder
    #[arg(long, requires = "write")]
    through_link: bool,
    #[command(flatten)]
    output: Output,
    #[command(flatten)]
    reviewed: Reviewed,
    #[command(flatten)]
    pub(in crate::cli) page: Page,
}

impl CorrectArguments {
    pub(in crate::cli) fn request(&self) -> correct::Request {
        correct::Request {
            design: self.reviewed.design(&self.file),
            form: self.output.form(),
            choose: self.choose.clone(),
            write: self.write,
            blanks: self.blanks,
            through_link: self.through_link,
        }
    }
}

#[derive(Clone, Copy, ValueEnum, Debug)]
enum ListForm {
    Text,
    Json,
    Csv,
}

#[derive(Args, Debug)]
#[command(help_template = ONE, after_help = "\
Each line says what it was counted from and what was taken for granted, such as the \
length in which pipe comes; the stock of a shop file says it otherwise. What cannot be \
counted for want of an entry stands at the end, and is never guessed.

Leaves with 0 when all was counted, with 2 when the file or an entry of it could not be \
read, and with 3 when something could not be counted. What can be counted is printed.")]
pub(in crate::cli) struct TakeoffArguments {
    /// The design file
    #[arg(value_name = "FILE")]
    file: String,
    /// What comes out: text, json or csv
    #[arg(
        long = "as",
        value_name = "FORM",
        default_value = "text",
        hide_possible_values = true,
        hide_default_value = true
    )]
    form: ListForm,
    #[command(flatten)]
    beside: Beside,
    #[command(flatten)]
    pub(in crate::cli) page: Page,
}

impl TakeoffArguments {
    pub(in crate::cli) fn request(&self) -> takeoff::Request {
        takeoff::Request {
            design: self.beside.design(&self.file, None),
            form: match self.form {
                ListForm::Text => takeoff::Form::Text,
                ListForm::Json => takeoff::Form::Json,
                ListForm::Csv => takeoff::Form::Csv,
            },
        }
    }
}

#[derive(Args, Debug)]
#[command(help_template = ONE)]
pub(in crate::cli) struct ClauseArguments {
    /// The name of the requirement, or a part of it
    #[arg(value_name = "NAME")]
    pub(in crate::cli) name: String,
    #[command(flatten)]
    pub(in crate::cli) books: Books,
    #[command(flatten)]
    pub(in crate::cli) page: Page,
}

#[derive(Args, Debug)]
#[command(help_template = ONE, after_help = "\
Each question can be left blank. Nothing that is there already is written over.")]
pub(in crate::cli) struct SiteVisitArguments {
    /// The design file to start
    #[arg(value_name = "FILE", required_unless_present_any = ["questions", "keys"])]
    file: Option<String>,
    /// Answer a question beforehand, as --answer QUESTION=WORDS; may be given several times
    #[arg(long = "answer", value_name = "QUESTION=WORDS")]
    answers: Vec<String>,
    /// Ask nothing: what is not answered with --answer is left to be measured
    #[arg(long)]
    without_asking: bool,
    /// Only list the questions, with what each takes; needs no file
    #[arg(long)]
    pub(in crate::cli) questions: bool,
    /// Only show what can be written in a part of a file, such as discharge or building.spaces; needs no file
    #[arg(long, value_name = "PART", num_args = 0..=1)]
    pub(in crate::cli) keys: Option<Option<String>>,
    #[command(flatten)]
    pub(in crate::cli) page: Page,
}

impl SiteVisitArguments {
    pub(in crate::cli) fn request(&self) -> site_visit::Request {
        site_visit::Request {
            file: self.file.clone().unwrap_or_default(),
            answers: self.answers.clone(),
            ask: !self.without_asking,
        }
    }
}
