//! A started amendment of a rule: the fingerprint filled in, what stands in the rule beside what could change.

use std::fmt::Write as _;

use super::host::Host;
use super::{Status, library};
use crate::base::near::nearest;
use crate::facts::catalogue::vocabulary;
use crate::render::terminal::Look;
use crate::render::visible::one_line;
use crate::rulebook::checked::{CheckedBook, CheckedRule};

/// Writes the start of an amendment of this rule into a file that is not there yet.
pub fn run(host: &mut dyn Host, rule: &str, file: Option<&str>, folders: &[String], look: Look) -> Status {
    let library = match library::or_tell(host, folders, look) {
        Ok(library) => library,
        Err(status) => return status,
    };
    let (books, _) = library.all();
    let all: Vec<(&CheckedBook, &CheckedRule)> =
        books.iter().flat_map(|book| book.rules.iter().map(move |rule| (*book, rule))).collect();
    let wanted = rule.trim();
    let full = |(book, rule): &(&CheckedBook, &CheckedRule)| format!("{}/{}", book.name, rule.name);
    let found: Vec<_> = all.iter().filter(|one| one.1.name == wanted || full(one) == wanted).collect();
    let (book, rule) = match found.as_slice() {
        [one] => **one,
        [] => {
            let names: Vec<String> = all.iter().flat_map(|one| [one.1.name.clone(), full(one)]).collect();
            let near = nearest(wanted, names.iter().map(String::as_str));
            let hint = near.map(|near| format!(" Perhaps {near} was meant.")).unwrap_or_default();
            host.tell(&format!("No requirement is called \"{}\".{hint}\n", one_line(wanted)));
            return Status::CouldNotRead;
        }
        several => {
            let names: Vec<String> = several.iter().map(|one| full(one)).collect();
            host.tell(&format!(
                "Several books have a requirement called \"{}\". Name the one you mean: {}\n",
                one_line(wanted),
                names.join(", ")
            ));
            return Status::CouldNotRead;
        }
    };
    let text = started(book, rule);
    let own = format!("{}.yaml", rule.name);
    let file = file.unwrap_or(&own);
    if let Err(refusal) = host.create(file, text.as_bytes()) {
        host.tell(&format!("{} {}. {}\n", one_line(file), refusal.words(), refusal.advice()));
        return Status::CouldNotRead;
    }
    host.print(&format!(
        "{} is a started amendment of {}/{}. Take the # off what you change, and fill in what is left open.\n\
         It belongs into the folder amendments of a rulebook that says: builds_on: {}\n",
        one_line(file),
        book.name,
        rule.name,
        book.name
    ));
    Status::Fine
}

/// Fields that are offered when the rule has them, limits aside.
const OFFERED: &[&str] = &["obligation", "applies", "because"];

/// The start of an amendment: nothing is changed yet.
fn started(book: &CheckedBook, rule: &CheckedRule) -> String {
    let mut text = format!(
        "# An amendment of {0}/{1}: {2}\n\
         # Take the # off the lines under change that you want, and write what is to stand there behind \"to\".\n\
         # Where nothing stood, write none behind \"was\". To take the rule out of force, write: withdraw: yes\n\
         amend: {0}/{1}\n\
         written_against: {3}\n\
         change:\n",
        book.name,
        rule.name,
        one_line(&rule.title),
        rule.fingerprint(vocabulary())
    );
    for (field, author) in rule.authors.fields.iter() {
        let offered = OFFERED.contains(&field.as_str()) || field.starts_with("limits.");
        if offered && !author.text.is_empty() {
            let was = one_line(&author.text.split_whitespace().collect::<Vec<_>>().join(" ")).into_owned();
            let was = was.replace('\\', "\\\\").replace('"', "\\\"");
            let _ = writeln!(text, "  # {field}: {{was: \"{was}\", to: \"\"}}");
        }
    }
    text.push_str(
        "because: \"\"                 # why, in a sentence\n\
         decided: {by: \"\", document: \"\", on: \"\"}   # who decided, in which document, on which day (2025-03-01)\n\
         # Cases of the requirement that come out otherwise under the amendment are said anew:\n\
         # cases:\n\
         #   - {claim: \"the words of the case\", verdict: unmet}\n",
    );
    text
}
