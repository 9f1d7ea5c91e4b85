//! What a design takes, counted: the file read, with its shop file and field notes, and nothing judged.

use super::run::{read_design, read_shop};
use super::{DESIGN, Input};
use crate::base::digest::sha256_hex;
use crate::base::problem::Problem;
use crate::base::text::Sources;
use crate::design::model::job::Work;
use crate::facts::Facts;
use crate::takeoff::{Takeoff, takeoff};
use crate::yaml::words::Words;

/// What one design takes.
#[derive(Clone, Debug)]
pub struct Counted {
    /// Every text it speaks of: the design first, then the shop file, then the field notes.
    pub sources: Sources,
    /// What the job is called.
    pub title: Option<String>,
    /// What kind of work the job is, if the file says.
    pub work: Option<Work>,
    /// What is wrong with the files.
    pub problems: Vec<Problem>,
    /// What else has to be said.
    pub notes: Vec<String>,
    /// The list.
    pub takeoff: Takeoff,
    /// The digest of the design.
    pub digest: String,
}

impl Counted {
    /// The name of the design file, as the person gave it.
    #[must_use]
    pub fn name(&self) -> &str {
        self.sources.get(DESIGN).map_or("", |source| source.name())
    }

    /// What kept the file from being read as a whole, if anything did.
    #[must_use]
    pub fn refusal(&self) -> Option<&Problem> {
        self.problems.iter().find(|problem| problem.kind.refuses_the_file())
    }
}

/// Counts what one design takes.
#[must_use]
pub fn counted(input: &Input<'_>) -> Counted {
    let mut sources = Sources::new();
    sources.add("", "");
    sources.add("", "");
    let read = read_design(&mut sources, input);
    let mut counted = Counted {
        sources,
        title: read.design.job.title.known().map(|title| title.0.clone()),
        work: read.design.job.work.known().copied(),
        problems: read.problems,
        notes: input.notes.clone(),
        takeoff: Takeoff::default(),
        digest: sha256_hex(input.bytes),
    };
    if counted.refusal().is_some() {
        return counted;
    }
    let shop = input.shop.and_then(|(name, bytes)| {
        let (shop, problems) = read_shop(&mut counted.sources, name, bytes);
        counted.problems.extend(problems);
        shop
    });
    if let Some(work) = read.design.job.work.known()
        && !matches!(work, Work::NewSystem | Work::NewHouse)
    {
        counted.notes.push(format!(
            "The job is \"{}\", and all that the file holds is counted, also what is there already.",
            work.spelling()
        ));
    }
    counted.takeoff = takeoff(&mut Facts::new(&read.design), shop.as_ref());
    counted
}
