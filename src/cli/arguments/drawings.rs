//! The options of drawings.

use clap::{Args, ValueEnum};

use super::{ONE, Page, Printed, Reviewed};
use crate::app::drawings;
use crate::design::model::place::Side;

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
    /// Which sheet: plan, elevation or riser; without it the plan, and as pdf all of them
    #[arg(long, value_name = "SHEET", hide_possible_values = true)]
    sheet: Option<SheetName>,
    /// For an elevation, from which side it is seen: north, south, east or west; without it from the side that shows most
    #[arg(long, value_name = "SIDE", hide_possible_values = true)]
    seen_from: Option<SideName>,
    #[command(flatten)]
    printed: Printed,
    /// What comes out: svg, a picture to print; pdf, the same with what it shows in words, into the file that --out names; or text, the words alone
    #[arg(
        long = "as",
        value_name = "FORM",
        default_value = "svg",
        hide_possible_values = true,
        hide_default_value = true
    )]
    form: DrawingForm,
    #[command(flatten)]
    reviewed: Reviewed,
    #[command(flatten)]
    pub(in crate::cli) page: Page,
}

impl DrawingsArguments {
    pub(in crate::cli) fn request(&self) -> drawings::Request {
        drawings::Request {
            design: self.reviewed.design(&self.file),
            sheet: self.sheet.map(|sheet| match sheet {
                SheetName::Plan => drawings::SheetName::Plan,
                SheetName::Elevation => drawings::SheetName::Elevation,
                SheetName::Riser => drawings::SheetName::Riser,
            }),
            seen_from: self.seen_from.map(|side| match side {
                SideName::North => Side::North,
                SideName::South => Side::South,
                SideName::East => Side::East,
                SideName::West => Side::West,
            }),
            paper: self.printed.paper.size(),
            form: match self.form {
                DrawingForm::Svg => drawings::Form::Svg,
                DrawingForm::Pdf => drawings::Form::Pdf,
                DrawingForm::Text => drawings::Form::Text,
            },
            out: self.printed.out.clone(),
        }
    }
}
