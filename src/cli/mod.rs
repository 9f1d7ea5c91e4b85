//! Arguments, exit status, and what the terminal can show.

mod arguments;
mod faults;

use std::ffi::OsString;
use std::io::IsTerminal;

use clap::Parser;

use crate::app::host::Host;
use crate::app::{self, Status};
use crate::render::terminal::Look;
use arguments::{Arguments, Colour, Command, Page, RulebookCommand};

/// What is known of the screen the program runs on.
#[derive(Clone, Copy, PartialEq, Eq, Debug, Default)]
pub struct Screen {
    /// Whether a person looks at it, and not a file or another program.
    pub is_terminal: bool,
    /// Whether the person has asked every program for no colours.
    pub no_colour: bool,
}

impl Screen {
    /// The screen of this process.
    #[must_use]
    pub fn of_this_process() -> Self {
        Screen {
            is_terminal: std::io::stdout().is_terminal(),
            no_colour: std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty())
                || std::env::var_os("TERM").is_some_and(|term| term == "dumb"),
        }
    }
}

/// Does what the arguments ask, and says with which status to leave.
pub fn run(arguments: impl IntoIterator<Item = OsString>, host: &mut dyn Host, screen: Screen) -> u8 {
    match Arguments::try_parse_from(arguments) {
        Ok(arguments) => perform(arguments.command, host, screen).code(),
        Err(fault) => {
            let said = faults::words(&fault);
            if fault.use_stderr() {
                host.tell(&said);
                Status::CouldNotRead.code()
            } else {
                host.print(&said);
                Status::Fine.code()
            }
        }
    }
}

fn look(page: &Page, screen: Screen) -> Look {
    let colour = match page.colour {
        Colour::Always => true,
        Colour::Never => false,
        Colour::Auto => screen.is_terminal && !screen.no_colour,
    };
    Look { width: usize::from(page.width), colour: colour && !page.plain, plain: page.plain }
}

fn perform(command: Command, host: &mut dyn Host, screen: Screen) -> Status {
    match command {
        Command::Review(wanted) => app::review::run(host, &wanted.request(), look(&wanted.page, screen)),
        Command::Compare(wanted) => app::compare::run(host, &wanted.request(), look(&wanted.page, screen)),
        Command::Clause(wanted) => {
            app::clause::run(host, &wanted.name, &wanted.books.rulebooks, look(&wanted.page, screen))
        }
        Command::Worksheet(wanted) => {
            app::worksheet::run(host, &wanted.request(), look(&wanted.page, screen))
        }
        Command::Correct(wanted) => app::correct::run(host, &wanted.request(), look(&wanted.page, screen)),
        Command::Takeoff(wanted) => app::takeoff::run(host, &wanted.request(), look(&wanted.page, screen)),
        Command::Drawings(wanted) => app::drawings::run(host, &wanted.request(), look(&wanted.page, screen)),
        Command::Walkthrough(wanted) => {
            app::walkthrough::run(host, &wanted.request(), look(&wanted.page, screen))
        }
        Command::Submittal(wanted) => {
            app::submittal::run(host, &wanted.request(), look(&wanted.page, screen))
        }
        Command::Labels(wanted) => app::submittal::run(host, &wanted.request(), look(&wanted.page, screen)),
        Command::Rulebook(RulebookCommand::List(wanted)) => app::rulebook_list::run(
            host,
            wanted.file.as_deref(),
            wanted.on.as_deref(),
            &wanted.books.rulebooks,
            look(&wanted.page, screen),
        ),
        Command::Rulebook(RulebookCommand::Words(wanted)) => {
            app::rulebook_words::run(host, wanted.kind.as_deref(), look(&wanted.page, screen))
        }
        Command::Rulebook(RulebookCommand::Page(wanted)) => {
            app::rulebook_page::run(host, &wanted.book, &wanted.books.rulebooks, look(&wanted.page, screen))
        }
        Command::Rulebook(RulebookCommand::Compare(wanted)) => {
            app::rulebook_compare::run(host, &wanted.request(), look(&wanted.page, screen))
        }
        Command::Rulebook(RulebookCommand::Prove(wanted)) => app::rulebook_prove::run(
            host,
            wanted.book.as_deref(),
            wanted.tried(),
            &wanted.books.rulebooks,
            look(&wanted.page, screen),
        ),
        Command::SiteVisit(wanted) if wanted.keys.is_some() => {
            let part = wanted.keys.as_ref().and_then(Option::as_deref);
            app::keys::run(host, part, look(&wanted.page, screen))
        }
        Command::SiteVisit(wanted) if wanted.questions => {
            app::site_visit::list(host, look(&wanted.page, screen))
        }
        Command::Rulebook(RulebookCommand::Export(wanted)) => {
            app::rulebook_export::run(host, &wanted.request(), look(&wanted.page, screen))
        }
        Command::Rulebook(RulebookCommand::Amend(wanted)) => app::rulebook_amend::run(
            host,
            &wanted.rule,
            wanted.file.as_deref(),
            &wanted.books.rulebooks,
            look(&wanted.page, screen),
        ),
        Command::SiteVisit(wanted) => {
            app::site_visit::run(host, &wanted.request(), look(&wanted.page, screen))
        }
    }
}
