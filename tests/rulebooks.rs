//! The rule language and the reading of books, in a toy world of gardens.

mod dice;
mod garden;
mod expressions;
mod broken_rules;
mod books;
mod pages;
mod asked;
mod towns;
mod amendments;
mod books_on_books;
mod corrections;
