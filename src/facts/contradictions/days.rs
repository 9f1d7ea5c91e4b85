//! What is said to have been done on a day that has not come yet on the day of the file.

use crate::base::time::Date;
use crate::base::value::Missing;
use crate::design::model::tests::TestWhen;
use crate::yaml::entry::{Entry, Here};

use super::super::ask::Ask;
use super::impossible::Impossible;

/// The walk through the house, dated later than the file that tells of it.
pub(in crate::facts) fn walk_to_come(ask: &Ask<'_>) -> Option<Impossible> {
    let job = &ask.design().job;
    still_to_come(ask, "The house is said to have been looked over", &job.here, &job.investigated)
}

/// Everything that is told as done, with a day after that of the file.
pub(super) fn days(ask: &Ask<'_>) -> Vec<Impossible> {
    let design = ask.design();
    let mut found: Vec<Impossible> = walk_to_come(ask).into_iter().collect();
    let drilling = &design.before_drilling;
    let what = "What has to be known before drilling is said to have been looked into";
    found.extend(still_to_come(ask, what, &drilling.here, &drilling.on));
    for (name, test) in design.diagnostics.communication.things() {
        let what = format!("The communication test {name} is said to have been made");
        found.extend(still_to_come(ask, &what, &test.here, &test.on));
    }
    for (name, test) in design.radon_tests.things() {
        // One without a result may be planned.
        let done = test.when.known() == Some(&TestWhen::Before) || test.result.known().is_some();
        let Some(start) = test.start.known().filter(|_| done) else { continue };
        let what = format!("The radon test {name} is said to have begun");
        found.extend(later(ask, &what, start.clock.day(), test.start.want(&test.here)));
    }
    found
}

fn still_to_come(ask: &Ask<'_>, what: &str, here: &Here, entry: &Entry<Date>) -> Option<Impossible> {
    later(ask, what, *entry.known()?, entry.want(here))
}

fn later(ask: &Ask<'_>, what: &str, day: Date, want: Missing) -> Option<Impossible> {
    let job = &ask.design().job;
    let today = job.date.known()?;
    if day <= *today {
        return None;
    }
    let what = format!("{what} on {day}, and the file is of {today}");
    let todo = "Correct one of the days. The day of the file is the day it was last written; what is yet to be done \
                is left out until it is";
    Some(
        Impossible::new(what, todo)
            .at(want, "a day to come")
            .at(job.date.want(&job.here), "the day of the file"),
    )
}
