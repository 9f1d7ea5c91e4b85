//! Books of rules: read, checked against a vocabulary, and kept. Knows no radon; the vocabulary is data.
//!
//! `load` takes the files of a book and gives a `checked` book or its faults. `keys` is the table of all
//! keys; `read` holds a file against it, `rule` and `message` make the parts of a rule, `expr` is the
//! language they are written in. `meaning` gives rules and books their digests. `cases` are read apart.

pub mod checked;
pub mod authors;
pub mod editions;
pub mod expr;
pub mod keys;
mod read;
mod fields;
mod meaning;
mod message;
pub mod corrections;
mod rule;
pub mod rules;
pub mod scope;
mod limit_words;
mod amend;
mod below;
mod load;
pub mod bookcase;
pub mod cases;
pub mod schema;

pub use bookcase::naming;
pub use cases::cases;
pub use load::{Below, BookFile};
pub use read::is_name as is_book_name;
