//! The options of the commands about rulebooks.

use clap::Args;

use super::{Books, ONE, Output, Page};
use crate::app::{rulebook_compare, rulebook_export};
use crate::judge::mutants::Tried;

#[derive(Args, Debug)]
#[command(help_template = ONE)]
pub(in crate::cli) struct ListArguments {
    /// A design, to see how the books stand there, and which file and line each requirement in force comes from
    #[arg(value_name = "FILE")]
    pub(in crate::cli) file: Option<String>,
    /// The day to ask about, as 2026-05-12; without it the date of the job
    #[arg(long, value_name = "DATE")]
    pub(in crate::cli) on: Option<String>,
    #[command(flatten)]
    pub(in crate::cli) books: Books,
    #[command(flatten)]
    pub(in crate::cli) page: Page,
}

#[derive(Args, Debug)]
#[command(help_template = ONE, after_help = "\
The page is plain text with marks for headings, lists and tables. To keep it in a file:
undercroft rulebook page epa-1994 > epa-1994.md")]
pub(in crate::cli) struct PageArguments {
    /// The book
    #[arg(value_name = "BOOK")]
    pub(in crate::cli) book: String,
    #[command(flatten)]
    pub(in crate::cli) books: Books,
    #[command(flatten)]
    pub(in crate::cli) page: Page,
}

#[derive(Args, Debug)]
#[command(help_template = ONE, after_help = "\
Leaves with 0 when the books were compared, whatever differs, and with 2 when a book or \
a design could not be read.")]
pub(in crate::cli) struct RulebookCompareArguments {
    /// The book as it is
    #[arg(value_name = "BOOK")]
    old: String,
    /// The book or edition beside it
    #[arg(value_name = "OTHER")]
    new: String,
    /// Designs on which to look for verdicts that would turn if the second took the place of the first
    #[arg(long, value_name = "FILE", num_args = 1..)]
    on_designs: Vec<String>,
    #[command(flatten)]
    output: Output,
    /// The day to ask about, as 2026-05-12; without it the date of each job
    #[arg(long, value_name = "DATE")]
    on: Option<String>,
    #[command(flatten)]
    books: Books,
    #[command(flatten)]
    pub(in crate::cli) page: Page,
}

impl RulebookCompareArguments {
    pub(in crate::cli) fn request(&self) -> rulebook_compare::Request {
        rulebook_compare::Request {
            old: self.old.clone(),
            new: self.new.clone(),
            form: self.output.form(),
            designs: self.on_designs.clone(),
            on: self.on.clone(),
            rulebooks: self.books.rulebooks.clone(),
        }
    }
}

#[derive(Args, Debug)]
#[command(help_template = ONE)]
pub(in crate::cli) struct WordsArguments {
    /// A kind of thing, such as opening or fan, or a word that one of them has; without it the kinds are listed
    #[arg(value_name = "KIND")]
    pub(in crate::cli) kind: Option<String>,
    #[command(flatten)]
    pub(in crate::cli) page: Page,
}

#[derive(Args, Debug)]
#[command(help_template = ONE)]
pub(in crate::cli) struct ProveArguments {
    /// One book; without it every book
    #[arg(value_name = "BOOK")]
    pub(in crate::cli) book: Option<String>,
    /// Also change every operator, word and number of each rule, and name the changes that no case notices
    #[arg(long)]
    mutate: bool,
    #[command(flatten)]
    pub(in crate::cli) books: Books,
    #[command(flatten)]
    pub(in crate::cli) page: Page,
}

impl ProveArguments {
    pub(in crate::cli) fn tried(&self) -> Tried {
        if self.mutate { Tried::Everything } else { Tried::Parts }
    }
}

#[derive(Args, Debug)]
#[command(help_template = ONE, after_help = "\
Give it a name of its own, or let it stand in the place of the book that comes with \
the program. Nothing that is there already is written over.")]
pub(in crate::cli) struct ExportArguments {
    /// The book
    #[arg(value_name = "BOOK")]
    book: String,
    /// The folder of rulebooks to put the copy into
    #[arg(value_name = "FOLDER")]
    folder: String,
    /// The name of the copy
    #[arg(long, value_name = "NAME")]
    named: Option<String>,
    /// Keep the name, and say in the copy that it stands in the place of the book that comes with the program
    #[arg(long, conflicts_with = "named")]
    in_place: bool,
    #[command(flatten)]
    books: Books,
    #[command(flatten)]
    pub(in crate::cli) page: Page,
}

impl ExportArguments {
    pub(in crate::cli) fn request(&self) -> rulebook_export::Request {
        rulebook_export::Request {
            book: self.book.clone(),
            folder: self.folder.clone(),
            named: self.named.clone(),
            in_place: self.in_place,
            rulebooks: self.books.rulebooks.clone(),
        }
    }
}

#[derive(Args, Debug)]
#[command(help_template = ONE, after_help = "\
Nothing that is there already is written over.")]
pub(in crate::cli) struct AmendArguments {
    /// The requirement, as BOOK/NAME or by its name where only one book has it
    #[arg(value_name = "RULE")]
    pub(in crate::cli) rule: String,
    /// The file to start; without it one of the requirement's name in the folder you are in
    #[arg(value_name = "FILE")]
    pub(in crate::cli) file: Option<String>,
    #[command(flatten)]
    pub(in crate::cli) books: Books,
    #[command(flatten)]
    pub(in crate::cli) page: Page,
}
