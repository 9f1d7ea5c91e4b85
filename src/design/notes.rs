//! Field notes: files of the design's form that say what was found and built. They lie over the design; what
//! counts is what the latest of them says, and what the design said is kept beside it.

use super::keys::Key;
use super::model::DesignFile;
use super::model::job::{Job, JobStage};
use super::read::Design;
use crate::base::problem::{Problem, ProblemKind};
use crate::base::text::SourceId;
use crate::base::time::Date;
use crate::base::value::EntryPath;
use crate::yaml::entry::{Entry, Meaning, Stands, State};
use crate::yaml::lay::{Difference, Onto};
use crate::yaml::record::Reads;
use crate::yaml::words::Words;

/// The parts of a file that say what stands there on a day; the others hold days of their own.
const OF_A_DAY: [&str; 7] =
    ["site", "before_drilling", "building", "foundation", "systems", "start_up", "checked"];

/// The key with which a thing of the house or of a system says what it is, where it has one. Readings, tests and looks are new
/// in field notes as a matter of course.
pub(super) fn says_what(thing: &EntryPath) -> Option<&'static str> {
    let steps = || thing.as_str().split('.');
    let of_the_house = ["building", "foundation", "systems"].contains(&steps().next()?);
    (of_the_house && Key::at(steps())?.order().contains(&KIND)).then_some(KIND)
}

/// The key with which a thing says what it is.
const KIND: &str = "kind";

/// What one file says of itself under `job`.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Head {
    /// The file.
    pub source: SourceId,
    /// Its day.
    pub on: Option<Date>,
    /// Who wrote it.
    pub by: Option<String>,
    /// How far the work had come.
    pub stage: Option<JobStage>,
}

impl Head {
    pub(super) fn of(file: &DesignFile, source: SourceId) -> Self {
        let job = file.job.known();
        Head {
            source,
            on: job.and_then(|job| job.date.known().copied()),
            by: job.and_then(|job| job.by.known()).map(|by| by.0.clone()),
            stage: job.and_then(|job| job.stage.known().copied()),
        }
    }
}

/// A design with field notes laid over it.
#[derive(Clone, PartialEq, Debug)]
pub struct Built {
    /// What holds.
    pub design: Design,
    /// What is wrong with the files.
    pub problems: Vec<Problem>,
    /// Where the files do not say the same, in the order of their entries.
    pub differences: Vec<Difference>,
    /// What the design says of itself.
    pub designed: Head,
    /// The field notes in the order in which they were laid.
    pub heads: Vec<Head>,
}

/// One file of field notes.
#[derive(Debug)]
pub(super) struct Notes {
    pub(super) name: String,
    pub(super) head: Head,
    file: Option<DesignFile>,
}

impl Notes {
    pub(super) fn of(name: &str, source: SourceId, file: DesignFile) -> Self {
        Notes { name: name.to_owned(), head: Head::of(&file, source), file: Some(file) }
    }

    /// Whether they say more than what they say of themselves. Blanks that nobody has filled in say nothing.
    fn tells_something(&self) -> bool {
        let Some(file) = &self.file else { return false };
        let mut tells = false;
        file.walk(&mut |met| {
            let section = met.path.as_str().split('.').next().unwrap_or("");
            let says = match met.stands {
                Stands::Known => met.means != Meaning::Parts,
                Stands::None | Stands::Unreadable => true,
                Stands::Missing | Stands::Unknown => false,
            };
            tells |= says && OF_A_DAY.contains(&section);
        });
        tells
    }

    /// Whether they are a form in which the day is still a blank.
    fn leaves_the_day_open(&self) -> bool {
        self.job().is_some_and(|job| matches!(job.date.state, State::Unknown))
    }

    fn job(&self) -> Option<&Job> {
        self.file.as_ref()?.job.known()
    }

    /// Lays the notes over what is known so far. Day and stage of the job move on; who drew up the design stays.
    pub(super) fn lay_over(&mut self, under: &mut DesignFile, onto: &mut Onto) {
        let Some(mut over) = self.file.take() else { return };
        onto.of_day(self.head.source, self.head.on);
        over.version.state = State::Missing;
        if let State::Known(job) = &mut over.job.state {
            let now = under.job.known();
            let moves_on =
                stage_number(job.stage.known()) > stage_number(now.and_then(|job| job.stage.known()));
            let later = job.date.known() > now.and_then(|job| job.date.known());
            let (stage, date) = (take(&mut job.stage), take(&mut job.date));
            job.by.state = State::Missing;
            job.licence.state = State::Missing;
            if let State::Known(job) = &mut under.job.state {
                if moves_on {
                    job.stage = stage;
                }
                if later {
                    job.date = date;
                }
            } else {
                (job.stage, job.date) = (stage, date);
            }
        }
        under.lay(over, onto);
    }
}

fn take<T: Clone>(entry: &mut Entry<T>) -> Entry<T> {
    let taken = entry.clone();
    entry.state = State::Missing;
    taken
}

fn stage_number(stage: Option<&JobStage>) -> Option<usize> {
    stage.map(|stage| stage.number())
}

/// What is wrong with the turn of field notes: they say something and not of which day, or their day or stage comes before
/// that of the design.
pub(super) fn out_of_turn(design: &DesignFile, notes: &Notes, number: usize) -> Vec<Problem> {
    let told = |found: String, accepts: &str, entry: Option<crate::base::text::Span>| {
        let at = entry.or_else(|| notes.file.as_ref().map(|file| file.here.at));
        at.map(|at| Problem::new(ProblemKind::NotesOutOfTurn, at).found(found).accepts(accepts))
    };
    let designed = design.job.known();
    let mut problems = Vec::new();
    match (notes.head.on, designed.and_then(|job| job.date.known())) {
        (None, _) if (number > 1 && !notes.leaves_the_day_open()) || notes.tells_something() => problems
            .extend(told(
                "field notes that do not say of which day they are".to_owned(),
                "the day of the notes, as job: {date: 2026-06-03}",
                notes.job().map(|job| job.date.at),
            )),
        (Some(on), Some(drawn)) if on < *drawn => problems.extend(told(
            format!("field notes of {on}, before the day of the design, {drawn}"),
            "notes taken after the design, or a design with the day on which it was drawn",
            notes.job().map(|job| job.date.at),
        )),
        _ => {}
    }
    let (own, under) = (notes.head.stage, designed.and_then(|job| job.stage.known()));
    if let (Some(own), Some(under)) = (own, under)
        && own.number() < under.number()
    {
        problems.extend(told(
            format!(
                "field notes of the stage {}, over a design at the stage {}",
                own.spelling(),
                under.spelling()
            ),
            "notes of the stage of the design or a later one",
            notes.job().map(|job| job.stage.at),
        ));
    }
    problems
}

/// The differences, each statement with who made it and when: those of its file where it does not say so itself.
pub(super) fn differences(onto: Onto, design: &Head, notes: &[Head]) -> Vec<Difference> {
    let mut differences = onto.differences();
    for said in differences.iter_mut().flat_map(|one| &mut one.said) {
        let of_file = std::iter::once(design).chain(notes).find(|head| head.source == said.at.source);
        said.by = said.by.take().or_else(|| of_file?.by.clone());
        said.on = said.on.or_else(|| of_file?.on);
    }
    differences.retain(|one| !is_remark(one.entry.as_str()) && !is_look(one.entry.as_str()));
    differences
}

/// Whether an entry tells of a look at a requirement: that is no part of the design from which anything could depart.
fn is_look(entry: &str) -> bool {
    entry.split('.').next() == Some("checked")
}

/// Whether an entry is a remark in free words, which nothing measures.
fn is_remark(entry: &str) -> bool {
    entry.rsplit('.').next() == Some("notes")
}
