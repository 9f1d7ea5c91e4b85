//! What to measure or settle next, in words: one question once, with all that it is asked of.

use std::cmp::Reverse;
use std::collections::BTreeSet;

use super::spot::{self, Spot};
use super::told::Wanted;
use crate::design::said::{in_words, of};
use crate::findings;
use crate::render::phrases::spoken;
use crate::render::terminal::sheet::capital;
use crate::review::Review;
use crate::rulebook::checked::Stops;

/// One question, and everything that it is asked of; the first of it stands for all.
struct Question<'r> {
    /// The steps to the first.
    steps: Vec<&'r str>,
    members: Vec<(&'r findings::Wanted, Option<Spot>)>,
    /// Which step of their paths tells them apart.
    apart: Option<usize>,
}

/// Everything that is wanted, the most useful first.
#[must_use]
pub fn wanted(review: &Review<'_>) -> Vec<Wanted> {
    let mut questions: Vec<Question<'_>> = Vec::new();
    for one in review.wanted_here() {
        let spot = spot::spot(&one.missing, &review.sources);
        let steps = steps(one);
        let found =
            questions.iter_mut().find_map(|question| Some((question.takes(one, &steps, &spot)?, question)));
        match found {
            Some((apart, question)) => {
                question.apart = Some(apart);
                question.members.push((one, spot));
            }
            None => questions.push(Question { steps, members: vec![(one, spot)], apart: None }),
        }
    }
    let mut told: Vec<Wanted> = questions.iter().filter_map(|question| question.told(review)).collect();
    // What work waits for stays in front; of the rest comes first what the most requirements ask for.
    told.sort_by_key(|one| if one.told_above { None } else { Some(Reverse(one.asked_for_by)) });
    told
}

impl Question<'_> {
    /// Which step would tell this entry apart from the others, if it is the same question.
    fn takes(&self, one: &findings::Wanted, steps: &[&str], spot: &Option<Spot>) -> Option<usize> {
        if steps.len() != self.steps.len() {
            return None;
        }
        let mut differ = steps.iter().zip(&self.steps).enumerate().filter(|(_, (a, b))| a != b);
        let ((apart, _), None) = (differ.next()?, differ.next()) else { return None };
        let (first, first_spot) = self.members.first()?;
        let (here, there) = (spot.as_ref()?, first_spot.as_ref()?);
        let alike = here.keys == there.keys
            && here.long.is_none()
            && there.long.is_none()
            && here.under.is_some()
            && there.under.is_some()
            && one.stops == first.stops
            && one.missing.reason == first.missing.reason
            && one.way == first.way;
        let same_step = self.apart.is_none_or(|known| known == apart);
        (alike && same_step && apart + 1 < steps.len()).then_some(apart)
    }

    fn told(&self, review: &Review<'_>) -> Option<Wanted> {
        let (first, _) = self.members.first()?;
        let asked: BTreeSet<&String> = self.members.iter().flat_map(|(one, _)| &one.asked_for_by).collect();
        let work = first.stops.map(|stops| match stops {
            Stops::Drilling => "before drilling",
            Stops::StartUp => "before start-up",
        });
        let entry = first.missing.entry.as_str();
        let meaning = spot::meaning(&first.missing);
        let (mut what, mut says) = (said_of(&of(entry), &meaning), in_words(entry));
        let mut to_do = spot::to_settle(&first.missing, &review.sources);
        if let Some(apart) = self.apart {
            let named = |(one, _): &(&findings::Wanted, _)| steps(one).get(apart).map(|step| spoken(step));
            let names: Vec<String> = self.members.iter().filter_map(named).collect();
            let part: Vec<String> = self
                .steps
                .get(apart + 1..self.steps.len() - 1)
                .unwrap_or_default()
                .iter()
                .map(|step| spoken(step))
                .collect();
            let meaning = said_of(&part.join(" "), &meaning);
            what = format!("{meaning}, for each of these: {}", names.join(", "));
            says = format!("{meaning} ({})", names.join(", "));
            to_do = self.under_each();
        }
        Some(Wanted {
            asked_for_by: asked.len(),
            first: work.unwrap_or_default().to_owned(),
            what,
            says,
            write: first.write().unwrap_or_default(),
            to_do,
            told_above: first.stops.is_some(),
        })
    }

    /// Where the entry is to be added under each of them: the first section with its whole path.
    fn under_each(&self) -> String {
        let mut places = Vec::new();
        let mut keys = String::new();
        for spot in self.members.iter().filter_map(|(_, spot)| spot.as_ref()) {
            let Some((section, line)) = &spot.under else { continue };
            let short = section.rsplit('.').next().unwrap_or(section);
            let section = if places.is_empty() { section.as_str() } else { short };
            places.push(format!("{section} (line {line})"));
            keys = spot.keys.join(": ");
        }
        let places = places.join(", ");
        if keys.is_empty() { format!("fill in {places}") } else { format!("add under {places}: {keys}") }
    }
}

/// What an entry says, with what it is of in front: "Gauge: whether people of the house see it".
#[must_use]
pub fn said_of(of: &str, meaning: &str) -> String {
    let mut signs = meaning.chars();
    match signs.next() {
        Some(first) if !of.is_empty() => {
            let first: String = first.to_lowercase().collect();
            format!("{}: {first}{}", capital(of), signs.as_str())
        }
        _ => meaning.to_owned(),
    }
}

fn steps(one: &findings::Wanted) -> Vec<&str> {
    one.missing.entry.as_str().split('.').collect()
}
