//! Drawings of a design: plan, elevation and riser, as marks on paper, and each in words.
//!
//! A drawing is made in two steps. A view (`plan`) puts together shapes in metres, signs and the labels they want, and
//! says what it had to take for granted and what it left out. The sheet (`sheet`) lays the view on paper at a scale
//! that fits, finds places for the labels, and adds title, legend and notes. What comes out is plain marks
//! ([`scene`]) that any back-end can draw. No number of a code stands here: what a book asks is read off its rules.

mod allowed;
mod around;
mod asked;
mod beside;
mod desk;
mod elevation;
mod floors;
mod font;
mod hatch;
mod labels;
mod numbered;
mod openings;
mod outlet;
mod paper;
mod plan;
mod riser;
pub mod scene;
mod shade;
mod sheet;
mod signs;
mod spots;
mod stand;
mod view;

use std::collections::BTreeMap;

use crate::base::number::{Number, Ratio};
use crate::design::model::place::Side;
use crate::facts::kinds::Kind;
use crate::facts::{Facts, drawn as places};
use crate::review::Review;
use crate::review::as_drawn::AsDrawn;
use crate::yaml::words::Words;

pub use paper::Paper;
pub use scene::Sheet;

use desk::{Desk, spoken};
use plan::Shown;
use scene::Part;
use sheet::{Content, sheet};

/// Which sheet is drawn.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub enum Which {
    /// The house from above.
    Plan,
    /// The house from this side; from the one that shows most, where none is said.
    Elevation(Option<Side>),
    /// The pipe with its air and pressures, not to scale.
    Riser,
}

/// A drawing that can be laid on any paper.
#[derive(Clone, Debug)]
pub struct Drawing(Content);

impl Drawing {
    /// Lays it on paper.
    #[must_use]
    pub fn on(&self, paper: Paper) -> Sheet {
        sheet(&self.0, paper)
    }
}

/// Draws a sheet of a reviewed design.
#[must_use]
pub fn drawn(review: &Review<'_>, taken: &AsDrawn, which: Which) -> Drawing {
    let numbered = numbered::numbered(review);
    let mut ask = Facts::new(&taken.design);
    let mut desk = Desk::new(&mut ask, &numbered);
    if which != Which::Riser {
        at_the_origin(&mut desk, taken);
    }
    let from = (which != Which::Plan).then(|| heights_from(&mut desk));
    let (name, Shown { mut view, mut twin }) = match which {
        Which::Plan => ("Plan".to_owned(), plan::plan(&mut desk)),
        Which::Elevation(side) => {
            let from = side.unwrap_or_else(|| elevation::best_side(&mut desk));
            let shown = elevation::elevation(
                &mut desk,
                elevation::Seen { from },
                &asked::asked(review, &numbered),
                review,
            );
            (format!("Elevation, seen from the {}", elevation::side_name(from)), shown)
        }
        Which::Riser => ("Riser".to_owned(), riser::riser(&mut desk)),
    };
    let (flags, findings) = desk.flagged();
    for flag in &flags {
        view.keys.insert(if flag.words.starts_with('V') { signs::Key::Permitted } else { signs::Key::Flag });
    }
    view.flags = flags;
    let mut notes = desk.notes();
    notes.insert(0, findings);
    twin.extend(notes.iter().filter(|part| !part.lines.is_empty()).cloned());
    // A riser says where a height is measured from, unless nothing but the origin is known.
    let up = |part: &Part| part.lines.iter().any(|line| line.ends_with(" up"));
    let levels = from.filter(|_| which != Which::Riser || twin.iter().any(up));
    twin.extend(levels.iter().map(|said| Part { title: "Heights".to_owned(), lines: vec![said.clone()] }));
    let job = review.job.title.clone().unwrap_or_else(|| "No title".to_owned());
    let content = Content {
        name,
        job,
        particulars: particulars(review),
        view,
        to_scale: which != Which::Riser,
        north: which == Which::Plan,
        levels,
        notes,
        twin,
    };
    Drawing(content)
}

/// The numbers by which all sheets of a design call its findings, by what each finding is known by.
#[must_use]
pub fn numbers(review: &Review<'_>) -> BTreeMap<String, usize> {
    let all = numbered::numbered(review).into_iter().filter(|one| !one.is_permitted());
    all.map(|one| (one.identity, one.number)).collect()
}

/// Says which floor is drawn at the origin because nobody said where it lies.
fn at_the_origin(desk: &mut Desk<'_, '_>, taken: &AsDrawn) {
    let origin =
        taken.design.site.origin.known().map(|origin| format!(" ({})", origin.0)).unwrap_or_default();
    for area in &taken.at_origin {
        let name = spoken(area);
        desk.assume(format!(
            "{name}: its south-west corner is drawn at the origin{origin}; where it lies is not stated"
        ));
    }
}

/// From where heights are measured.
fn heights_from(desk: &mut Desk<'_, '_>) -> String {
    let site = &desk.ask.design().site;
    if let Some(origin) = site.origin.known() {
        return format!("Heights said to be up are above the origin: {}.", origin.0);
    }
    let at_nought = |level: &Number| level.as_exact().is_some_and(Ratio::is_zero);
    let ground = site
        .ground
        .things()
        .find(|(_, one)| one.height.known().is_some_and(|height| at_nought(&height.number())));
    let ground = ground.map(|(name, _)| format!("the ground {}", spoken(name)));
    let floor = desk.all(Kind::Area).into_iter().find_map(|it| {
        let level = places::area_level(desk.ask, it).value()?;
        at_nought(&level).then(|| format!("the floor of {}", desk.name(it)))
    });
    match floor.or(ground) {
        Some(what) => format!("Heights said to be up are above level 0 of the file: {what}."),
        None => {
            "Heights said to be up are above level 0 of the file; what that is, is not stated.".to_owned()
        }
    }
}

/// What stands in the title block under the name of the job.
fn particulars(review: &Review<'_>) -> Vec<String> {
    let job = &review.design.job;
    let text =
        |entry: &crate::yaml::entry::Entry<crate::yaml::name::Text>| entry.known().map(|text| text.0.clone());
    let mut lines = Vec::new();
    lines.extend(text(&job.address));
    let stage = review.job.stage.as_ref().map(|stage| format!("stage: {stage}"));
    let work = job.work.known().map(|work| work.spelling().to_owned());
    let said: Vec<String> = work.into_iter().chain(stage).collect();
    if !said.is_empty() {
        lines.push(said.join(", "));
    }
    let by = text(&job.by).map(|by| format!("drawn up by {by}"));
    let on = job.date.known().map(|date| date.to_string());
    let said: Vec<String> = by.into_iter().chain(on).collect();
    if !said.is_empty() {
        lines.push(said.join(", "));
    }
    lines
}
