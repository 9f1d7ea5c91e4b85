//! What is left with the people of the house: what was built, how it works, what the gauge shows, what to do when it
//! changes, when to test again, whom to ask. For somebody who has never heard of radon.

use super::cover::person;
use super::{Parts, text};
use crate::base::time::Date;
use crate::design::Design;
use crate::design::model::controls::{Gauge, GaugeKind};
use crate::design::model::drainage::{Drain, DrainKind};
use crate::design::model::suction::SuctionKind;
use crate::design::model::systems::{System, SystemKind};
use crate::design::model::wiring::{Connection, DisconnectKind, Wiring};
use crate::facts::Facts;
use crate::facts::kinds::Kind;
use crate::facts::papers::last_test as last_test_of;
use crate::findings::compare::account::Program;
use crate::findings::variance::Holds;
use crate::judge::verdict::Verdict;
use crate::render::papers::report::{made_of, running};
use crate::render::papers::{Blank, Paper, Part};
use crate::render::phrases::{count, day, spoken};
use crate::render::tell;
use crate::render::terminal::Show;
use crate::render::terminal::sheet::sentence;
use crate::render::visible::one_line;
use crate::review::Review;
use crate::rulebook::checked::Stage;
use crate::rulebook::expr::typed::Node;
use crate::yaml::entry::Entry;

/// No book that means it asks for a test so many months from now.
const MOST_MONTHS: i64 = 1_200;

/// The packet for the people of the house.
#[must_use]
pub fn owner(review: &Review<'_>, program: &Program) -> Paper {
    let design = &*review.design;
    let mut parts = Parts::default();
    parts.0.push(Part::Blanks(vec![
        Blank::of("House", text(&design.job.address)),
        Blank::of("Installed on", installed(design)),
        Blank::of("Installed by", person(&design.job.contractor)),
    ]));
    // What a design says before anything is built is what is meant to be.
    let planned = review.stage == Stage::Design;
    if planned {
        parts.words("This paper was made from the plan, before the work was done. What was built is told by the paper that is made after it.");
    }
    let waits = open(&mut parts, review);
    why(&mut parts);
    built(&mut parts, design, planned);
    works(&mut parts, design, waits);
    for (name, system) in design.systems.things() {
        let several = design.systems.things().count() > 1;
        let called = if several { spoken(name) } else { String::new() };
        let read = if planned { Vec::new() } else { readings(design, name, system) };
        gauge(&mut parts, system, called, read, planned);
    }
    changes(&mut parts, design);
    permitted(&mut parts, review);
    tests(&mut parts, review, planned);
    upkeep(&mut parts, design);
    parts.heading("Whom to ask");
    parts.0.push(Part::Blanks(vec![
        Blank::of("Answers for the system", person(&design.job.responsible)),
        Blank::of("Installer", person(&design.job.contractor)),
        Blank::of("Looks after it", upkeep_by(design)),
        Blank::of(
            "State or local radon office",
            design.job.jurisdiction.known().and_then(|place| text(&place.office)),
        ),
    ]));
    parts.heading("Warranty");
    parts.0.push(Part::Blanks(
        ["What is warranted", "Until", "By whom", "Signature"].map(|label| Blank::of(label, None)).to_vec(),
    ));
    parts.heading("What this paper is not");
    parts.words(
        "It is no permit, no approval and no radon measurement: only a radon test tells how much radon is in the air. \
         It is made from what the installer wrote down. Electrical work, work on roofs and work on furnaces and water \
         heaters is for people who are licensed for it.",
    );
    Paper {
        title: "Your radon system".to_owned(),
        about: Vec::new(),
        parts: parts.0,
        // The foot of every sheet tells in short what it was made of; in full that stands in the papers of the job.
        foot: made_of(review, program).into_iter().take(2).collect(),
        running: running(review, program),
        quoted: Vec::new(),
    }
}

/// The days on which the systems were installed, or on which the fan was started.
fn installed(design: &Design) -> Option<String> {
    let of_systems = design.systems.things().filter_map(|(_, system)| system.installed.known());
    let latest = of_systems.max().or_else(|| design.start_up.on.known());
    latest.map(|on| day(&on.to_string()))
}

/// What is still to be done, where something that has to be met is not, or work must wait; whether there is any.
fn open(parts: &mut Parts, review: &Review<'_>) -> bool {
    let told = tell::tell(review, Show::Summary);
    if told.stops.is_empty() && told.duties.is_empty() && told.before_running.is_empty() {
        return false;
    }
    parts.heading("What is still to be done");
    let unmet = (!told.duties.is_empty()).then(|| {
        format!(
            "{} Ask whoever gave you this paper for the list, with what would mend it.",
            sentence(&told.headline)
        )
    });
    parts.list(told.stops.iter().chain(&told.before_running).cloned().chain(unmet));
    true
}

fn why(parts: &mut Parts) {
    parts.heading("What it is for");
    parts.words(
        "Radon is a gas that comes out of the soil. It has no colour and no smell. Outdoors it is thin; in a house it can \
         gather. Breathed for many years it raises the risk of lung cancer, most of all for people who smoke. It does no \
         harm in an hour or a day, so radon is never a reason to hurry or to be afraid.",
    );
}

fn built(parts: &mut Parts, design: &Design, planned: bool) {
    parts.heading(if planned { "What is to be built" } else { "What was built" });
    let mut lines = Vec::new();
    for (_, system) in design.systems.things() {
        for (_, point) in system.suction_points.things() {
            let place = point.space.known().map(|space| format!(", in the {}", spoken(space.as_str())));
            let from = match point.kind.known() {
                Some(SuctionKind::Slab) => "from under the floor",
                Some(SuctionKind::Membrane) => "from under the sheet on the soil",
                Some(SuctionKind::Sump) => "from the pit of the sump",
                Some(SuctionKind::DrainLoop) => "on the drain pipes round the house",
                Some(SuctionKind::BlockWall) => "from the hollows of a wall",
                Some(SuctionKind::Crawlspace) => "the air of the crawlspace",
                Some(SuctionKind::Outdoors) => "from the soil beside the house",
                Some(SuctionKind::Collector) | None => "from under the house",
            };
            lines.push(format!("A pipe that draws {from}{}", place.unwrap_or_default()));
        }
        if let Some(fan) = system.fan.known() {
            let place = fan.space.known().map(|space| match space.as_str() {
                "outdoors" => " outdoors".to_owned(),
                space => format!(" in the {}", spoken(space)),
            });
            lines.push(format!("A fan{} that runs day and night", place.unwrap_or_default()));
        }
        if system.discharge.known().is_some() {
            lines.push("A pipe end outdoors, where the gas leaves and thins out".to_owned());
        }
        if let Some(gauge) = system.gauge.known() {
            lines.push(format!("A gauge{} that shows whether the fan pulls", place_of(gauge)));
        }
        if let Some(alarm) = system.alarm.known() {
            let place = alarm.space.known().map(|space| format!(" in the {}", spoken(space.as_str())));
            lines
                .push(format!("An alarm{} that warns when the fan stops pulling", place.unwrap_or_default()));
        }
        let circuit = system.wiring.known().and_then(|wiring| wiring.circuit.known());
        if let Some(number) = circuit.and_then(|circuit| text(&circuit.number)) {
            lines.push(format!("Power from circuit {number} of the electrical panel"));
        }
    }
    let covered =
        design.foundation.areas.things().filter(|(_, area)| area.membrane.known().is_some()).count();
    if covered > 0 {
        lines.push(format!("A sheet over the bare soil in {}", count(covered, "place", "places")));
    }
    if lines.is_empty() {
        return parts.words("The file says nothing of a system yet.");
    }
    parts.list(lines);
}

/// Whether it has no fan and is meant to have none.
fn is_passive(system: &System) -> bool {
    system.kind.known() == Some(&SystemKind::Passive) && system.fan.known().is_none()
}

fn works(parts: &mut Parts, design: &Design, waits: bool) {
    parts.heading("How it works");
    if design.systems.things().any(|(_, system)| is_passive(system))
        && design.systems.things().all(|(_, system)| system.fan.known().is_none())
    {
        return parts.words(
            "A pipe leads from under the house to above the roof. The warmth of the house makes the air in it rise, and the \
             soil gas goes along. There is no fan. A fan can be put on later if a test shows that it is needed.",
        );
    }
    let then = if waits { "once what is still to be done is done, leave it on" } else { "leave it on" };
    parts.words(format!(
        "The fan keeps the pressure under the floor a little lower than in the rooms. So air goes from the house into the \
         soil, and not the other way round, and the gas goes through the pipe and out. It works only while the fan runs: {then}, \
         also in summer and while you are away."
    ));
}

fn place_of(gauge: &Gauge) -> String {
    gauge.space.known().map(|space| format!(" in the {}", spoken(space.as_str()))).unwrap_or_default()
}

/// What the gauge shows, and its mark.
fn gauge(parts: &mut Parts, system: &System, called: String, read: Vec<(Date, String)>, planned: bool) {
    if is_passive(system) && system.gauge.known().is_none() {
        return;
    }
    let heading =
        if called.is_empty() { "The gauge".to_owned() } else { format!("The gauge of system {called}") };
    parts.heading(&heading);
    let Some(gauge) = system.gauge.known() else {
        let none = if system.gauge.is_none() {
            "The system has no gauge, so nothing shows whether the fan pulls: listen for the fan, and ask the installer for a gauge."
        } else {
            "The file does not say which gauge there is."
        };
        return parts.words(none);
    };
    let how = match gauge.kind.known() {
        Some(GaugeKind::UTube) => {
            "It is a bent tube with coloured fluid. While the fan pulls, the fluid stands higher on one side than on the other. When both sides are level, the fan does not pull."
        }
        Some(GaugeKind::Dial) => {
            "It is a dial with a needle. While the fan pulls, the needle stands away from zero."
        }
        Some(GaugeKind::Digital) => "It shows a number. While the fan pulls, the number is not zero.",
        Some(GaugeKind::Lamp) => "It is a lamp that a pressure switch lights.",
        Some(GaugeKind::FlowIndicator) => {
            "It is a ball or flap that the moving air lifts. When it lies down, no air moves."
        }
        None => "It shows whether the fan pulls.",
    };
    parts.words(format!("{how} Look at it whenever you come by."));
    let mark = gauge.mark.known().map(|mark| mark.quantity.to_string());
    // Before start-up nobody has read it.
    let reckoned = mark.as_ref().filter(|_| planned).map(|mark| format!(" The plan reckons with {mark}."));
    let mut marked = Blank::of("Marked reading", mark.filter(|_| !planned));
    marked.note = format!(
        "Read at start-up and marked on the gauge or beside it.{} Small ups and downs with wind and weather are usual.",
        reckoned.unwrap_or_default()
    );
    let mut lines =
        vec![Blank::of("Where", Some(place_of(gauge).trim_start_matches(" in the ").to_owned())), marked];
    if let Some((on, shown)) = read.last() {
        let mut last = Blank::of("Last reading", Some(format!("{shown}, on {}", day(&on.to_string()))));
        last.note =
            "This is what it showed when it was read last, and what to hold it against now.".to_owned();
        lines.push(last);
    }
    parts.0.push(Part::Blanks(lines));
}

/// What was read where the gauge is tapped, after start-up, by day.
fn readings(design: &Design, name: &str, system: &System) -> Vec<(Date, String)> {
    let started = design.start_up.on.known();
    let tap = system.gauge.known().and_then(|gauge| gauge.tap.known()).map(|tap| tap.as_str().to_owned());
    let only = design.systems.things().count() == 1;
    let mut read: Vec<(Date, String)> = Vec::new();
    for (_, round) in design.rounds.things() {
        let at_tap = round.readings.things().find(|(at, reading)| {
            let of = reading.of.known().map_or(*at, |of| of.as_str());
            tap.as_deref() == Some(of)
        });
        let shown = at_tap.and_then(|(_, reading)| reading.suction.known());
        if let (Some(on), Some(shown)) = (round.on.known(), shown) {
            read.push((*on, shown.quantity.to_string()));
        }
    }
    let looks = design.papers.upkeep.known().map(|upkeep| &upkeep.looks);
    for (_, look) in looks.into_iter().flat_map(Entry::things) {
        let of_this = look.system.known().map_or(only, |of| of.as_str() == name);
        if let (true, Some(on), Some(shown)) = (of_this, look.on.known(), look.gauge.known()) {
            read.push((*on, shown.quantity.to_string()));
        }
    }
    read.retain(|(on, _)| started.is_none_or(|started| on > started));
    read.sort_by_key(|(on, _)| *on);
    read
}

fn changes(parts: &mut Parts, design: &Design) {
    if design.systems.things().all(|(_, system)| system.fan.known().is_none()) {
        return;
    }
    let read = design.systems.things().any(|(_, system)| system.gauge.known().is_some());
    let alarm = design.systems.things().any(|(_, system)| system.alarm.known().is_some());
    parts.heading(match (alarm, read) {
        (true, _) => "If the alarm sounds, the reading changes or the fan falls silent",
        (false, true) => "If the reading changes or the fan falls silent",
        (false, false) => "If the fan falls silent",
    });
    if alarm {
        parts.words(
            "The alarm of this system says that the fan does not pull. It is not an alarm of smoke or of carbon monoxide, and \
             nobody has to leave the house for it. Silence it if it has a button for that, and go through this list.",
        );
    }
    let circuit = design
        .systems
        .things()
        .filter_map(|(_, system)| system.wiring.known()?.circuit.known())
        .find_map(|circuit| text(&circuit.number));
    let breaker = match circuit {
        Some(number) => format!("Look in the electrical panel whether the breaker of circuit {number} is on. If it goes off again by itself, leave it off."),
        None => "Look in the electrical panel whether its breaker is on. If it goes off again by itself, leave it off.".to_owned(),
    };
    parts.list([
        "If a smoke or carbon monoxide alarm sounds, or you smell the exhaust of something that burns: leave the house, call the fire department, and have it looked at before the fan is switched on again.".to_owned(),
        format!("See whether the fan has power: {}.", switched_by(design)),
        breaker,
        "If it still does not pull, call the number under \"Whom to ask\". It can wait until the next working day.".to_owned(),
        "Do not open the fan, the pipe or the gauge, and do not climb on the roof.".to_owned(),
    ]);
}

/// What cuts the fan off, and where that is.
fn switched_by(design: &Design) -> String {
    let wirings: Vec<&Wiring> =
        design.systems.things().filter_map(|(_, system)| system.wiring.known()).collect();
    let said = |wiring: &&Wiring| {
        let disconnect = wiring.disconnect.known();
        let what = match (disconnect.and_then(|one| one.kind.known()), wiring.connection.known()) {
            (Some(DisconnectKind::Switch), _) | (None, Some(Connection::HardWired)) => "its switch",
            (Some(DisconnectKind::Plug), _) | (None, Some(Connection::CordAndPlug)) => "its plug",
            _ => return None,
        };
        let place = disconnect.and_then(|one| one.space.known()).map(|space| match space.as_str() {
            "outdoors" => ", outdoors".to_owned(),
            space => format!(", in the {}", spoken(space)),
        });
        Some(format!("{what}{}", place.unwrap_or_default()))
    };
    match wirings.as_slice() {
        [one] => said(one).unwrap_or_else(|| "its plug or switch".to_owned()),
        _ => "its plug or switch".to_owned(),
    }
}

/// What an office permits although it is not as asked, until when, and what it asked for in return.
fn permitted(parts: &mut Parts, review: &Review<'_>) {
    let live: Vec<String> = review
        .variances
        .iter()
        .filter(|one| one.holds == Holds::Live)
        .map(|one| {
            let until =
                one.until.as_deref().map(|until| format!(", until {}", day(until))).unwrap_or_default();
            let asked = match one.conditions.as_slice() {
                [] => String::new(),
                asked => format!(" Asked for in return: {}.", asked.join("; ")),
            };
            let (by, document) = (one_line(&one.granted_by), one_line(&one.document));
            let of = match one.thing.as_str() {
                "" => String::new(),
                thing => format!(" for the {}", spoken(thing)),
            };
            format!("{by} permits what is not as the rules ask{of} (document {document}){until}.{asked}")
        })
        .collect();
    if live.is_empty() {
        return;
    }
    parts.heading("What was permitted, and until when");
    parts.list(live);
}

/// Tests that were made, and the day of the next one: from the records or from the rules in force, else left blank.
fn tests(parts: &mut Parts, review: &Review<'_>, planned: bool) {
    parts.heading("Radon tests");
    let made = review.job.radon.iter().map(|one| {
        let when = match one.when.as_deref() {
            Some("before") => "Before the work",
            Some("after") => "After the work",
            _ => "Test",
        };
        let ended = one.ended.as_deref().map(|ended| format!(", ended {}", day(ended))).unwrap_or_default();
        format!("{when}: {}{ended}", one.result)
    });
    let made: Vec<String> = made.collect();
    if made.is_empty() {
        parts.words("No result is written down yet.");
    }
    let after = review.job.radon.iter().any(|one| one.when.as_deref() == Some("after"));
    parts.list(made);
    if !planned && !after {
        parts.words("No test after the work is written down yet. Until one shows a low level, nobody knows whether the system does what it is for: have one made.");
    }
    let (next, note) = next_test(review);
    let mut line = Blank::of("Test again by", next);
    line.note = note;
    parts.0.push(Part::Blanks(vec![line]));
    parts.words("Test again as well after the house was altered, after rooms in the basement came into use, and whenever the system was altered.");
}

/// The day of the next test, and where it comes from or why it is not known.
fn next_test(review: &Review<'_>) -> (Option<String>, String) {
    let design = &*review.design;
    let planned = design.papers.upkeep.known().and_then(|upkeep| upkeep.next_test.known());
    if let Some(planned) = planned {
        return (Some(day(&planned.to_string())), "As planned in the records of the job.".to_owned());
    }
    let Some((months, book)) = shortest_wait(review) else {
        let why = "Left blank: the records name no day, and no rulebook that counts for this job gives a number of months for it. Ask the installer or the radon office.";
        return (None, why.to_owned());
    };
    match last_test(design).and_then(|last| later(last, months)) {
        Some(by) => (
            Some(day(&by.to_string())),
            format!("{book} asks for it within {months} months of the last test."),
        ),
        None => (
            None,
            format!(
                "{book} asks for it within {months} months of the last test, and no test after start-up is written down."
            ),
        ),
    }
}

/// The fewest months within which a rule that counts asks for the next test, with its book.
fn shortest_wait(review: &Review<'_>) -> Option<(i64, String)> {
    let clauses = review.findings.iter().flat_map(|finding| &finding.clauses);
    let counting =
        clauses.filter(|clause| clause.standing.is_to_decide() && clause.verdict != Verdict::NotApplicable);
    let mut least: Option<(i64, String)> = None;
    for clause in counting {
        let Some(used) = review.used.get(clause.book) else { continue };
        let Some(rule) = used.book.rules.get(clause.rule) else { continue };
        let speaks = |expr: &crate::rulebook::expr::typed::Expr| match &expr.node {
            Node::Compare(_, left, right) => match (&left.node, &right.node) {
                (Node::Fact(_, fact), Node::Limit(limit)) => {
                    let shape = crate::facts::vocabulary().fact(*fact)?;
                    (shape.of == Kind::Papers.id() && shape.name == "months_to_next_test").then_some(*limit)
                }
                _ => None,
            },
            _ => None,
        };
        let mut limits = Vec::new();
        rule.requires.walk(&mut |expr| limits.extend(speaks(expr)));
        // Of a rule that asks for several stretches, which counts is for a person to say.
        let [only] = limits.as_slice() else { continue };
        let months = rule.limit(*only).and_then(|limit| limit.value.number.low().floor().to_int());
        if let Some(months) = months
            && least.as_ref().is_none_or(|(known, _)| months < *known)
        {
            least =
                Some((months, format!("{}, {},", one_line(&used.book.title), one_line(&used.book.edition))));
        }
    }
    least
}

/// The day on which the last test after start-up ended.
fn last_test(design: &Design) -> Option<Date> {
    last_test_of(&mut Facts::new(design)).value()
}

/// So many months of the calendar later, or the last day on which no more have begun.
fn later(from: Date, months: i64) -> Option<Date> {
    if !(0..=MOST_MONTHS).contains(&months) {
        return None;
    }
    // A month has 28 days at least and 31 at most: walk to the last day that counts as so many.
    let start = from.plus_days(months.checked_mul(28)?)?;
    let mut day = start;
    let most = months.checked_mul(31)?;
    for _ in 0..=most {
        let next = day.plus_days(1)?;
        if from.months_until(next) > months {
            return Some(day);
        }
        day = next;
    }
    None
}

fn upkeep_by(design: &Design) -> Option<String> {
    design.papers.upkeep.known().and_then(|upkeep| person(&upkeep.by))
}

fn upkeep(parts: &mut Parts, design: &Design) {
    parts.heading("Looking after it");
    let upkeep = design.papers.upkeep.known();
    let date = |get: &dyn Fn(&crate::design::model::papers::Upkeep) -> Option<String>| upkeep.and_then(get);
    let mut look = Blank::of(
        "Next look at the system",
        date(&|upkeep| upkeep.next_look.known().map(|on| day(&on.to_string()))),
    );
    if look.words.is_empty() {
        look.note = "Left blank: the records name no day.".to_owned();
    }
    let mut lines = vec![look];
    let energy = date(&|upkeep| upkeep.energy.known().map(|energy| energy.quantity.to_string()));
    let cost = date(&|upkeep| upkeep.cost.known().map(|cost| cost.quantity.to_string()));
    for (label, words) in [("Energy in a year", energy), ("Cost in a year", cost)] {
        if words.is_some() {
            lines.push(Blank::of(label, words));
        }
    }
    parts.0.push(Part::Blanks(lines));
    let labels =
        "Keep the labels where they are, so that the next plumber or electrician knows what the pipe is.";
    let outlet = "Do not block the end of the pipe outdoors, and put no window or air intake near it.";
    let others = "Tell whoever works on floors, pipes, heating or the roof that this system is there.";
    let paper = "Leave this paper with the house when you move.";
    let kept = kept_closed(design).into_iter();
    parts.list([labels, outlet].into_iter().chain(kept).chain([others, paper]).map(str::to_owned));
}

/// What has to stay closed to the air of the house, of what there is.
fn kept_closed(design: &Design) -> Vec<&'static str> {
    let foundation = &design.foundation;
    let has_sheet = foundation.areas.things().any(|(_, area)| area.membrane.known().is_some());
    let mut lines = Vec::new();
    // Of a drain whose kind is not told, it may be in the floor.
    let in_floor = |drain: &Drain| drain.kind.known().is_none_or(|kind| *kind == DrainKind::Floor);
    let told = foundation.drains.is_none() || foundation.drains.things().next().is_some();
    let has_floor_drain = foundation.drains.things().any(|(_, drain)| in_floor(drain));
    if has_floor_drain || !told {
        lines.push("Keep floor drains filled with water.");
    }
    if !foundation.sumps.is_none() {
        lines.push("Keep lids of sumps closed.");
    }
    if has_sheet {
        lines.push("Keep the sheet over the soil whole: step beside it, and have cuts closed.");
    }
    lines
}
