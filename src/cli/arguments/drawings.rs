//! The options of drawings.

use clap::{Args, ValueEnum};

use super::{Beside, Books, ONE, Page, PaperName};
use crate::app::drawings;
use crate::design::model::place::Side;
use crate::drawing::Which;

#[derive(Clone, Copy, ValueEnum, Debug)]
enum SheetName {
    Plan,
    Elevation,
    Riser,
}

#[derive(Clone, Copy, ValueEnum, Debug)]
enum SideName {
    North,
    South,
    East,
    West,
}

#[derive(Clone, Copy, ValueEnum, Debug)]
enum DrawingForm {
    Svg,
    Pdf,
    Text,
}

#[derive(Args, Debug)]
#[command(help_template = ONE)]
pub(in crate::cli) struct DrawingsArguments {
    /// The design file
    #[arg(value_name = "FILE")]
    file: String,
    /// Which sheet: plan, elevation or riser
    #[arg(
        long,
        value_name = "SHEET",
        default_value = "plan",
        hide_possible_values = true,
        hide_default_value = true
    )]
    sheet: SheetName,
    /// For an elevation, from which side it is seen: north, south, east or west; without it from the side that shows most
    #[arg(long, value_name = "SIDE", hide_possible_values = true)]
    seen_from: Option<SideName>,
    /// On which paper: letter or a4, lying on its long side
    #[arg(
        long,
        value_name = "SIZE",
        default_value = "letter",
        hide_possible_values = true,
        hide_default_value = true
    )]
    paper: PaperName,
    /// What comes out: svg, a picture to print; pdf, the same with what it shows in words, into the file that --out names; or text, the words alone
    #[arg(
        long = "as",
        value_name = "FORM",
        default_value = "svg",
        hide_possible_values = true,
        hide_default_value = true
    )]
    form: DrawingForm,
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
    #[command(flatten)]
    pub(in crate::cli) page: Page,
}

impl DrawingsArguments {
    pub(in crate::cli) fn request(&self) -> drawings::Request {
        drawings::Request {
            file: self.file.clone(),
            which: match self.sheet {
                SheetName::Plan => Which::Plan,
                SheetName::Elevation => Which::Elevation(self.seen_from.map(|side| match side {
                    SideName::North => Side::North,
                    SideName::South => Side::South,
                    SideName::East => Side::East,
                    SideName::West => Side::West,
                })),
                SheetName::Riser => Which::Riser,
            },
            paper: self.paper.size(),
            form: match self.form {
                DrawingForm::Svg => drawings::Form::Svg,
                DrawingForm::Pdf => drawings::Form::Pdf,
                DrawingForm::Text => drawings::Form::Text,
            },
            out: self.out.clone(),
            on: self.on.clone(),
            shop: self.beside.shop.clone(),
            field_notes: self.beside.field_notes.clone(),
            rulebooks: self.books.rulebooks.clone(),
        }
    }
}
