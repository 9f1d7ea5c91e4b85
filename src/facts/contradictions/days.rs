//! What is said to have been done on a day that has not come yet on the day of the file.

use crate::base::time::Date;
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
    found
}

fn still_to_come(ask: &Ask<'_>, what: &str, here: &Here, entry: &Entry<Date>) -> Option<Impossible> {
    let job = &ask.design().job;
    let (day, today) = (entry.known()?, job.date.known()?);
    if day <= today {
        return None;
    }
    let what = format!("{what} on {day}, and the file is of {today}");
    let todo = "Correct one of the days. The day of the file is the day it was last written; what is yet to be done \
                is left out until it is";
    Some(
        Impossible::new(what, todo)
            .at(entry.want(here), "a day to come")
            .at(job.date.want(&job.here), "the day of the file"),
    )
}
