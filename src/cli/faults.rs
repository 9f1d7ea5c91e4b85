//! What is said when the command line itself cannot be understood.

use clap::error::{ContextKind, ContextValue, ErrorKind};

use crate::render::visible::one_line;

/// The fault in plain words; for help and version the page that was asked for.
pub(super) fn words(fault: &clap::Error) -> String {
    if !fault.use_stderr() || fault.kind() == ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand {
        return fault.to_string();
    }
    let text = |kind: ContextKind| match fault.get(kind) {
        Some(ContextValue::String(one)) => one_line(one).into_owned(),
        Some(ContextValue::Strings(many)) => one_line(&many.join(", ")).into_owned(),
        _ => String::new(),
    };
    let given = text(ContextKind::InvalidArg);
    let value = text(ContextKind::InvalidValue);
    let mut said = match fault.kind() {
        ErrorKind::UnknownArgument => format!("\"{given}\" is not an option of this command."),
        ErrorKind::InvalidSubcommand => {
            format!("\"{}\" is not a command of undercroft.", text(ContextKind::InvalidSubcommand))
        }
        ErrorKind::MissingRequiredArgument => format!("Something is missing on the command line: {given}."),
        ErrorKind::InvalidValue if value.is_empty() => format!("{given} needs a value behind it."),
        ErrorKind::InvalidValue | ErrorKind::ValueValidation => {
            format!("\"{value}\" is not something that {given} takes.")
        }
        ErrorKind::NoEquals | ErrorKind::WrongNumberOfValues | ErrorKind::TooFewValues => {
            format!("{given} needs a value behind it.")
        }
        ErrorKind::TooManyValues => format!("There is one word too many behind {given}: \"{value}\"."),
        ErrorKind::ArgumentConflict => {
            format!("{given} cannot be given here; it was given twice or goes against another option.")
        }
        ErrorKind::InvalidUtf8 => "A word on the command line is not readable text.".to_owned(),
        _ => "The command line could not be understood.".to_owned(),
    };
    let suggested =
        [ContextKind::SuggestedArg, ContextKind::SuggestedSubcommand, ContextKind::SuggestedValue]
            .into_iter()
            .map(text)
            .find(|one| !one.is_empty());
    if let Some(suggested) = suggested {
        said.push_str(&format!(" Perhaps {suggested} was meant."));
    }
    let takes = text(ContextKind::ValidValue);
    if !takes.is_empty() {
        said.push_str(&format!(" It takes: {takes}."));
    } else if given.starts_with("--width") {
        said.push_str(" It takes a whole number of columns from 40 to 200.");
    }
    said.push_str("\nWhat there is: undercroft --help, or undercroft COMMAND --help\n");
    said
}
