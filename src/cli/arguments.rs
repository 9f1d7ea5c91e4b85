//! The commands and their options, each a word of the trade.

use clap::builder::Styles;
use clap::{Args, Parser, Subcommand, ValueEnum};

use crate::app::review::{self, Request};
use crate::app::{
    Form, compare, correct, drawings, rulebook_compare, rulebook_export, site_visit, takeoff, worksheet,
};
use crate::design::model::place::Side;
use crate::drawing::{Paper, Which};
use crate::findings::narrow::Narrow;
use crate::judge::mutants::Tried;
use crate::render::terminal::Show;
use crate::rulebook::checked::{Obligation, Stage};

const ABOUT: &str = "Reads a plain design of a soil-gas mitigation system, checks it against rulebooks, and says for \
every requirement what it found and why.";

const TOP: &str = "\
{about}

How to call it:  {usage}

What it does:
{subcommands}

Options:
{options}

A first try:     undercroft site-visit my-house.yaml
                 undercroft review my-house.yaml
";

const ONE: &str = "\
{about}

How to call it:  {usage}

{all-args}{after-help}
";

/// The command line.
#[derive(Parser, Debug)]
#[command(
    name = "undercroft",
    version,
    about = ABOUT,
    styles = Styles::plain(),
    term_width = 80,
    help_template = TOP,
    disable_help_subcommand = true,
    subcommand_required = true,
    arg_required_else_help = true,
    infer_long_args = false
)]
pub(super) struct Arguments {
    #[command(subcommand)]
    pub(super) command: Command,
}

#[derive(Subcommand, Debug)]
pub(super) enum Command {
    /// The verdicts on one or more designs
    Review(ReviewArguments),
    /// What would mend a design, before and after; written only when it is asked for
    Correct(CorrectArguments),
    /// What changed from one version of a design to the next, and because of what
    Compare(CompareArguments),
    /// One requirement: what it asks, why, where it comes from, how sure that is
    Clause(ClauseArguments),
    /// Every number that is worked out: what it rests on, its formula, what was taken for granted
    Worksheet(WorksheetArguments),
    /// What to put on the truck: pipe with the way it is cut, fittings, sheets, sealant, labels
    Takeoff(TakeoffArguments),
    /// A sheet to print: plan, elevation or riser, with what it shows in words
    Drawings(DrawingsArguments),
    /// The rulebooks: what is in force and why, what a rule can ask, the proofs
    #[command(subcommand, disable_help_subcommand = true, help_template = ONE)]
    Rulebook(RulebookCommand),
    /// Starts a new design file from some thirty questions
    SiteVisit(SiteVisitArguments),
}

#[derive(Subcommand, Debug)]
pub(super) enum RulebookCommand {
    /// The books there are, and the standing each has in a design
    List(ListArguments),
    /// A whole book on one page, to print
    Page(PageArguments),
    /// What a rule can ask of each kind of thing
    Words(WordsArguments),
    /// Two books or editions beside each other, and what would turn on your own designs
    Compare(RulebookCompareArguments),
    /// Runs the cases of every rule, and moves every limit
    Prove(ProveArguments),
    /// A copy of a book to edit
    Export(ExportArguments),
    /// Starts an amendment of a requirement, with its fingerprint filled in
    Amend(AmendArguments),
}

/// How a page looks.
#[derive(Args, Debug)]
pub(super) struct Page {
    /// How many columns wide, from 40 to 200
    #[arg(long, value_name = "COLUMNS", default_value = "80", value_parser = clap::value_parser!(u16).range(40..=200))]
    pub(super) width: u16,
    /// Without drawing and columns: for a screen reader or a plain printer
    #[arg(long)]
    pub(super) plain: bool,
    /// Colours: auto, always or never; no word depends on them
    #[arg(
        long,
        value_name = "WHEN",
        default_value = "auto",
        hide_possible_values = true,
        hide_default_value = true
    )]
    pub(super) colour: Colour,
}

#[derive(Clone, Copy, ValueEnum, Debug)]
pub(super) enum Colour {
    Auto,
    Always,
    Never,
}

/// Where more books come from.
#[derive(Args, Debug)]
pub(super) struct Books {
    /// A folder with more rulebooks; may be given several times
    #[arg(long, value_name = "FOLDER")]
    pub(super) rulebooks: Vec<String>,
}

#[derive(Clone, Copy, ValueEnum, Debug)]
enum AsForm {
    Text,
    Json,
}

impl AsForm {
    fn form(self) -> Form {
        match self {
            AsForm::Text => Form::Text,
            AsForm::Json => Form::Json,
        }
    }
}

/// What a review comes out as.
#[derive(Clone, Copy, ValueEnum, Debug)]
enum ReviewForm {
    Text,
    Json,
    Html,
    Sarif,
}

impl ReviewForm {
    fn form(self) -> review::Form {
        match self {
            ReviewForm::Text => review::Form::Text,
            ReviewForm::Json => review::Form::Json,
            ReviewForm::Html => review::Form::Html,
            ReviewForm::Sarif => review::Form::Sarif,
        }
    }
}

#[derive(Clone, Copy, ValueEnum, Debug)]
enum ShowWhat {
    Summary,
    OpenItems,
    Everything,
}

#[derive(Args, Debug)]
#[command(help_template = ONE, after_help = "\
Leaves with 0 when all is well, 1 when something that has to be is unmet, 2 when an \
entry or a rulebook could not be read, 3 when something cannot be told yet, nothing \
was judged, or a record no longer stands.

A digest shows that something changed. It does not show who wrote a record.")]
pub(super) struct ReviewArguments {
    /// The design files
    #[arg(required = true, value_name = "FILE")]
    files: Vec<String>,
    /// What comes out: text, html (one page for a browser or a printer), json, or sarif (the open standard that editors and other tools read)
    #[arg(
        long = "as",
        value_name = "FORM",
        default_value = "text",
        hide_possible_values = true,
        hide_default_value = true
    )]
    form: ReviewForm,
    /// How much of it: summary, open-items or everything
    #[arg(
        long,
        value_name = "WHAT",
        default_value = "open-items",
        hide_possible_values = true,
        hide_default_value = true
    )]
    show: ShowWhat,
    #[command(flatten)]
    part: PartArguments,
    /// The day of the review, as 2026-05-12; without it the date of the job
    #[arg(long, value_name = "DATE")]
    on: Option<String>,
    /// The file with what your shop uses again and again; without it shop.yaml beside the design, if it is there
    #[arg(long, value_name = "FILE")]
    shop: Option<String>,
    /// A file of what was found and built, in the form of a design; it lies over the design. May be given several times
    #[arg(long, value_name = "FILE")]
    field_notes: Vec<String>,
    /// Print, instead of the review, the entry of a variance for an unmet requirement, filled in as far as can be:
    /// discharge-clear-of-openings, or discharge-clear-of-openings of bath_window
    #[arg(long, value_name = "FINDING")]
    variance_for: Option<String>,
    /// Also write a record of this review into FILE, a name that ends in .json: what was reviewed, by whom, of which day, with the digest of every file, of every book and of the program. Never over a file that is there
    #[arg(long, value_name = "FILE", requires = "reviewed_by", conflicts_with_all = ["against", "variance_for"])]
    record: Option<String>,
    /// Who reviewed, for the record
    #[arg(long, value_name = "NAME")]
    reviewed_by: Option<String>,
    /// The day of the record; without it the day of the review
    #[arg(long, value_name = "DATE")]
    reviewed_on: Option<String>,
    /// Say, instead of the review, whether the record in FILE still stands, and if not, which file, book or program moved and which verdicts turned
    #[arg(long, value_name = "FILE", conflicts_with = "variance_for")]
    against: Option<String>,
    /// Leave with 0 although something cannot be told yet; never for what must be known before drilling or start-up
    #[arg(long)]
    accept_undetermined: bool,
    #[command(flatten)]
    books: Books,
    #[command(flatten)]
    pub(super) page: Page,
}

/// Which part of a review is told.
#[derive(Args, Debug)]
pub(super) struct PartArguments {
    /// Tell only what is about this, such as discharge or discharge/openings; may be given several times, like the next four
    #[arg(long, value_name = "SUBJECT", conflicts_with_all = ["record", "against", "variance_for"])]
    about: Vec<String>,
    /// Tell only what is asked of this thing, or of what is in this space or area
    #[arg(long, value_name = "NAME", conflicts_with_all = ["record", "against", "variance_for"])]
    place: Vec<String>,
    /// Tell only what this book asks
    #[arg(long, value_name = "BOOK", conflicts_with_all = ["record", "against", "variance_for"])]
    book: Vec<String>,
    /// Tell only what can first be asked at this stage: design, installed or operating
    #[arg(long, value_name = "STAGE", hide_possible_values = true, conflicts_with_all = ["record", "against", "variance_for"])]
    due: Vec<Due>,
    /// Tell only what is asked with this verb: shall, should or may
    #[arg(long, value_name = "VERB", hide_possible_values = true, conflicts_with_all = ["record", "against", "variance_for"])]
    weight: Vec<Verb>,
}

#[derive(Clone, Copy, ValueEnum, Debug)]
enum Due {
    Design,
    Installed,
    Operating,
}

impl Due {
    fn stage(self) -> Stage {
        match self {
            Due::Design => Stage::Design,
            Due::Installed => Stage::Installed,
            Due::Operating => Stage::Operating,
        }
    }
}

#[derive(Clone, Copy, ValueEnum, Debug)]
enum Verb {
    Shall,
    Should,
    May,
}

impl Verb {
    fn obligation(self) -> Obligation {
        match self {
            Verb::Shall => Obligation::Shall,
            Verb::Should => Obligation::Should,
            Verb::May => Obligation::May,
        }
    }
}

impl ReviewArguments {
    pub(super) fn request(&self) -> Request {
        Request {
            files: self.files.clone(),
            form: self.form.form(),
            show: match self.show {
                ShowWhat::Summary => Show::Summary,
                ShowWhat::OpenItems => Show::OpenItems,
                ShowWhat::Everything => Show::Everything,
            },
            field_notes: self.field_notes.clone(),
            narrow: Narrow {
                about: self.part.about.clone(),
                places: self.part.place.clone(),
                books: self.part.book.clone(),
                due: self.part.due.iter().map(|due| due.stage()).collect(),
                weights: self.part.weight.iter().map(|verb| verb.obligation()).collect(),
            },
            record: self.record.clone(),
            reviewed_by: self.reviewed_by.clone(),
            reviewed_on: self.reviewed_on.clone(),
            against: self.against.clone(),
            variance_for: self.variance_for.clone(),
            on: self.on.clone(),
            shop: self.shop.clone(),
            accept_undetermined: self.accept_undetermined,
            rulebooks: self.books.rulebooks.clone(),
        }
    }
}

#[derive(Args, Debug)]
#[command(help_template = ONE, after_help = "\
Each side is a design, which is reviewed now, or a review made before with review --as \
json. A shift of lines, another order or another spelling is no difference.

Leaves with 0 when nothing that has to be met turned for the worse, 1 when something \
that has to be is newly unmet, 2 when a file, an entry or a rulebook could not be read, \
3 when something that has to be met can newly not be told. What was open before and \
still is has no part in it: for that, review the newer version.")]
pub(super) struct CompareArguments {
    /// The older version: a design, or a review as JSON
    #[arg(value_name = "OLD")]
    old: String,
    /// The newer version: a design, or a review as JSON
    #[arg(value_name = "NEW")]
    new: String,
    /// What comes out: text or json
    #[arg(
        long = "as",
        value_name = "FORM",
        default_value = "text",
        hide_possible_values = true,
        hide_default_value = true
    )]
    form: AsForm,
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
    pub(super) page: Page,
}

impl CompareArguments {
    pub(super) fn request(&self) -> compare::Request {
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
            form: self.form.form(),
        }
    }
}

#[derive(Args, Debug)]
#[command(help_template = ONE, after_help = "\
A number that cannot be worked out says what would have to be stated for it. A range \
is told where what it rests on is known only within bounds.

Leaves with 0 when the file was read, and with 2 when it or an entry of it could not be.")]
pub(super) struct WorksheetArguments {
    /// The design file
    #[arg(value_name = "FILE")]
    file: String,
    /// What comes out: text or json
    #[arg(
        long = "as",
        value_name = "FORM",
        default_value = "text",
        hide_possible_values = true,
        hide_default_value = true
    )]
    form: AsForm,
    /// The day for which it is worked out, as 2026-05-12; without it the date of the job
    #[arg(long, value_name = "DATE")]
    on: Option<String>,
    /// The file with what your shop uses again and again; without it shop.yaml beside the design, if it is there
    #[arg(long, value_name = "FILE")]
    shop: Option<String>,
    /// A file of what was found and built; it lies over the design. May be given several times
    #[arg(long, value_name = "FILE")]
    field_notes: Vec<String>,
    #[command(flatten)]
    pub(super) page: Page,
}

impl WorksheetArguments {
    pub(super) fn request(&self) -> worksheet::Request {
        worksheet::Request {
            file: self.file.clone(),
            form: self.form.form(),
            field_notes: self.field_notes.clone(),
            shop: self.shop.clone(),
            on: self.on.clone(),
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
pub(super) struct CorrectArguments {
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
    /// What comes out: text or json
    #[arg(
        long = "as",
        value_name = "FORM",
        default_value = "text",
        hide_possible_values = true,
        hide_default_value = true
    )]
    form: AsForm,
    /// The day of the review, as 2026-05-12; without it the date of the job
    #[arg(long, value_name = "DATE")]
    on: Option<String>,
    /// The file with what your shop uses again and again; without it shop.yaml beside the design, if it is there
    #[arg(long, value_name = "FILE")]
    shop: Option<String>,
    /// A file of what was found and built; it lies over the design. May be given several times
    #[arg(long, value_name = "FILE")]
    field_notes: Vec<String>,
    #[command(flatten)]
    books: Books,
    #[command(flatten)]
    pub(super) page: Page,
}

impl CorrectArguments {
    pub(super) fn request(&self) -> correct::Request {
        correct::Request {
            file: self.file.clone(),
            form: self.form.form(),
            choose: self.choose.clone(),
            write: self.write,
            blanks: self.blanks,
            through_link: self.through_link,
            on: self.on.clone(),
            field_notes: self.field_notes.clone(),
            shop: self.shop.clone(),
            rulebooks: self.books.rulebooks.clone(),
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
pub(super) struct TakeoffArguments {
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
    /// The file with what your shop uses again and again; without it shop.yaml beside the design, if it is there
    #[arg(long, value_name = "FILE")]
    shop: Option<String>,
    /// A file of what was found and built; it lies over the design. May be given several times
    #[arg(long, value_name = "FILE")]
    field_notes: Vec<String>,
    #[command(flatten)]
    pub(super) page: Page,
}

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
enum PaperName {
    Letter,
    A4,
}

#[derive(Clone, Copy, ValueEnum, Debug)]
enum DrawingForm {
    Svg,
    Text,
}

#[derive(Args, Debug)]
#[command(help_template = ONE)]
pub(super) struct DrawingsArguments {
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
    /// What comes out: svg, a picture to print; or text, what the picture shows in words
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
    /// The file with what your shop uses again and again; without it shop.yaml beside the design, if it is there
    #[arg(long, value_name = "FILE")]
    shop: Option<String>,
    /// A file of what was found and built; it lies over the design. May be given several times
    #[arg(long, value_name = "FILE")]
    field_notes: Vec<String>,
    #[command(flatten)]
    books: Books,
    #[command(flatten)]
    pub(super) page: Page,
}

impl DrawingsArguments {
    pub(super) fn request(&self) -> drawings::Request {
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
            paper: match self.paper {
                PaperName::Letter => Paper::Letter,
                PaperName::A4 => Paper::A4,
            },
            form: match self.form {
                DrawingForm::Svg => drawings::Form::Svg,
                DrawingForm::Text => drawings::Form::Text,
            },
            out: self.out.clone(),
            on: self.on.clone(),
            shop: self.shop.clone(),
            field_notes: self.field_notes.clone(),
            rulebooks: self.books.rulebooks.clone(),
        }
    }
}

impl TakeoffArguments {
    pub(super) fn request(&self) -> takeoff::Request {
        takeoff::Request {
            file: self.file.clone(),
            form: match self.form {
                ListForm::Text => takeoff::Form::Text,
                ListForm::Json => takeoff::Form::Json,
                ListForm::Csv => takeoff::Form::Csv,
            },
            field_notes: self.field_notes.clone(),
            shop: self.shop.clone(),
        }
    }
}

#[derive(Args, Debug)]
#[command(help_template = ONE)]
pub(super) struct ClauseArguments {
    /// The name of the requirement, or a part of it
    #[arg(value_name = "NAME")]
    pub(super) name: String,
    #[command(flatten)]
    pub(super) books: Books,
    #[command(flatten)]
    pub(super) page: Page,
}

#[derive(Args, Debug)]
#[command(help_template = ONE)]
pub(super) struct ListArguments {
    /// A design, to see how the books stand there, and which file and line each requirement in force comes from
    #[arg(value_name = "FILE")]
    pub(super) file: Option<String>,
    /// The day to ask about, as 2026-05-12; without it the date of the job
    #[arg(long, value_name = "DATE")]
    pub(super) on: Option<String>,
    #[command(flatten)]
    pub(super) books: Books,
    #[command(flatten)]
    pub(super) page: Page,
}

#[derive(Args, Debug)]
#[command(help_template = ONE, after_help = "\
The page is plain text with marks for headings, lists and tables. To keep it in a file:
undercroft rulebook page epa-1994 > epa-1994.md")]
pub(super) struct PageArguments {
    /// The book
    #[arg(value_name = "BOOK")]
    pub(super) book: String,
    #[command(flatten)]
    pub(super) books: Books,
    #[command(flatten)]
    pub(super) page: Page,
}

#[derive(Args, Debug)]
#[command(help_template = ONE, after_help = "\
Leaves with 0 when the books were compared, whatever differs, and with 2 when a book or \
a design could not be read.")]
pub(super) struct RulebookCompareArguments {
    /// The book as it is
    #[arg(value_name = "BOOK")]
    old: String,
    /// The book or edition beside it
    #[arg(value_name = "OTHER")]
    new: String,
    /// Designs on which to look for verdicts that would turn if the second took the place of the first
    #[arg(long, value_name = "FILE", num_args = 1..)]
    on_designs: Vec<String>,
    /// What comes out: text or json
    #[arg(
        long = "as",
        value_name = "FORM",
        default_value = "text",
        hide_possible_values = true,
        hide_default_value = true
    )]
    form: AsForm,
    /// The day to ask about, as 2026-05-12; without it the date of each job
    #[arg(long, value_name = "DATE")]
    on: Option<String>,
    #[command(flatten)]
    books: Books,
    #[command(flatten)]
    pub(super) page: Page,
}

impl RulebookCompareArguments {
    pub(super) fn request(&self) -> rulebook_compare::Request {
        rulebook_compare::Request {
            old: self.old.clone(),
            new: self.new.clone(),
            form: match self.form {
                AsForm::Text => Form::Text,
                AsForm::Json => Form::Json,
            },
            designs: self.on_designs.clone(),
            on: self.on.clone(),
            rulebooks: self.books.rulebooks.clone(),
        }
    }
}

#[derive(Args, Debug)]
#[command(help_template = ONE)]
pub(super) struct WordsArguments {
    /// A kind of thing, such as opening or fan, or a word that one of them has; without it the kinds are listed
    #[arg(value_name = "KIND")]
    pub(super) kind: Option<String>,
    #[command(flatten)]
    pub(super) page: Page,
}

#[derive(Args, Debug)]
#[command(help_template = ONE)]
pub(super) struct ProveArguments {
    /// One book; without it every book
    #[arg(value_name = "BOOK")]
    pub(super) book: Option<String>,
    /// Also change every operator, word and number of each rule, and name the changes that no case notices
    #[arg(long)]
    mutate: bool,
    #[command(flatten)]
    pub(super) books: Books,
    #[command(flatten)]
    pub(super) page: Page,
}

impl ProveArguments {
    pub(super) fn tried(&self) -> Tried {
        if self.mutate { Tried::Everything } else { Tried::Parts }
    }
}

#[derive(Args, Debug)]
#[command(help_template = ONE, after_help = "\
Give it a name of its own, or let it stand in the place of the book that comes with \
the program. Nothing that is there already is written over.")]
pub(super) struct ExportArguments {
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
    pub(super) page: Page,
}

impl ExportArguments {
    pub(super) fn request(&self) -> rulebook_export::Request {
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
pub(super) struct AmendArguments {
    /// The requirement, as BOOK/NAME or by its name where only one book has it
    #[arg(value_name = "RULE")]
    pub(super) rule: String,
    /// The file to start; without it one of the requirement's name in the folder you are in
    #[arg(value_name = "FILE")]
    pub(super) file: Option<String>,
    #[command(flatten)]
    pub(super) books: Books,
    #[command(flatten)]
    pub(super) page: Page,
}

#[derive(Args, Debug)]
#[command(help_template = ONE, after_help = "\
Each question can be left blank. Nothing that is there already is written over.")]
pub(super) struct SiteVisitArguments {
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
    pub(super) questions: bool,
    /// Only show what can be written in a part of a file, such as discharge or building.spaces; needs no file
    #[arg(long, value_name = "PART", num_args = 0..=1)]
    pub(super) keys: Option<Option<String>>,
    #[command(flatten)]
    pub(super) page: Page,
}

impl SiteVisitArguments {
    pub(super) fn request(&self) -> site_visit::Request {
        site_visit::Request {
            file: self.file.clone().unwrap_or_default(),
            answers: self.answers.clone(),
            ask: !self.without_asking,
        }
    }
}
