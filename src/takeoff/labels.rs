//! Gauge, alarm and labels.

use crate::base::number::Ratio;
use crate::design::model::controls::{Alarm, Gauge, Label};
use crate::facts::tubing::tubing;
use crate::yaml::words::Words;

use super::desk::{Desk, most, spoken, want};
use super::hangers::begun;
use super::pipe::Laid;
use super::usual;
use super::{Group, Line};

/// Counts gauges, alarms and labels.
pub(super) fn signs(desk: &mut Desk<'_, '_>, laid: &[Laid<'_>]) {
    let systems: Vec<_> = desk.design.systems.things().enumerate().collect();
    for (owner, (name, system)) in systems {
        let driven = system.fan.known().is_some();
        match system.gauge.known() {
            Some(gauge) => the_gauge(desk, name, owner, gauge),
            None if driven && !system.gauge.is_none() => {
                desk.lacks(
                    Group::Signs,
                    format!("the gauge of {name}"),
                    want(&system.gauge, &system.here, None),
                );
            }
            None => {}
        }
        match system.alarm.known() {
            Some(alarm) => the_alarm(desk, name, alarm),
            None if driven && !system.alarm.is_none() => {
                desk.lacks(
                    Group::Signs,
                    format!("the alarm of {name}"),
                    want(&system.alarm, &system.here, None),
                );
            }
            None => {}
        }
        if system.labels.known().is_none() && !system.labels.is_none() {
            desk.lacks(
                Group::Signs,
                format!("the labels of {name}"),
                want(&system.labels, &system.here, None),
            );
        }
        for (key, label) in system.labels.things() {
            one_label(desk, key, label, owner, laid);
        }
    }
    if let Some(pipe) = desk.design.foundation.rough_in.known() {
        let size = pipe.size.known().map_or("", |size| size.spelling());
        if pipe.capped.known() == Some(&true) {
            desk.add(Line::of(Group::Fittings, "cap", size).count(1, "the pipe roughed in", &pipe.here));
        }
        if let Some(text) = pipe.label.known() {
            let line = Line::of(Group::Signs, "label", format!("\"{}\"", text.as_str()));
            desk.add(line.count(1, "the pipe roughed in", &pipe.here));
        }
    }
}

fn the_gauge<'d>(desk: &mut Desk<'_, 'd>, name: &str, owner: usize, gauge: &'d Gauge) {
    let part = gauge.kind.known().map_or("gauge", |kind| kind.spelling());
    let range = gauge.range.known().map(|range| format!("to {}", range.quantity));
    let place = gauge.space.known().map(|space| format!("in {}", spoken(space.as_str())));
    let size = range.into_iter().chain(place).collect::<Vec<_>>().join(", ");
    let called = desk.called("gauge", name);
    desk.add(Line::of(Group::Signs, part, size).count(1, called.clone(), &gauge.here));
    let to = gauge.tap.known().map_or("the pipe".to_owned(), |tap| spoken(tap.as_str()));
    desk.add(Line::of(Group::Signs, "barbed tap for the gauge", "").count(1, called.clone(), &gauge.here));
    let long = tubing(desk.facts, owner, gauge);
    let what = format!("the length of the tubing of {called}");
    let Some(long) = desk.or_lacks(Group::Signs, what, long) else {
        let line = Line::of(Group::Signs, "tubing for the gauge", "").count(1, called, &gauge.here);
        return desk.add(line.note(format!("Measure it from the gauge to {to}.")));
    };
    let waste = usual::waste(desk.shop);
    let long = usual::to_the_inch(&(long.high() * (&Ratio::ONE + &waste.value)));
    let line = Line::of(Group::Signs, "tubing for the gauge", "").length(&long, called, &gauge.here);
    desk.add(
        line.assumes(waste.said)
            .assumes(format!("tubing goes along walls from the gauge to the nearest place of {to}")),
    );
}

fn the_alarm(desk: &mut Desk<'_, '_>, name: &str, alarm: &Alarm) {
    let warns: Vec<&str> = alarm.warns.members().map(|warns| warns.spelling()).collect();
    let watches = alarm.watches.known().map(|watches| format!("watches {}", watches.spelling()));
    let place = alarm.space.known().map(|space| format!("in {}", spoken(space.as_str())));
    let size: Vec<String> = warns.into_iter().map(str::to_owned).chain(watches).chain(place).collect();
    let called = desk.called("alarm", name);
    let mut line = Line::of(Group::Signs, "alarm", size.join(", ")).count(1, called, &alarm.here);
    if let Some(power) = alarm.power.known() {
        line = line.note(format!("Runs on: {}.", power.spelling()));
    }
    desk.add(line);
}

fn one_label(desk: &mut Desk<'_, '_>, key: &str, label: &Label, owner: usize, laid: &[Laid<'_>]) {
    let on = label.on.known().map_or(String::new(), |on| format!("for the {}", on.spelling()));
    let says: Vec<&str> = label.says.members().map(|says| says.spelling()).collect();
    let says = if says.is_empty() { String::new() } else { format!("says {}", says.join(", ")) };
    let text = label.text.known().map_or(String::new(), |text| format!("\"{}\"", text.as_str()));
    let size: Vec<String> = [on, says, text].into_iter().filter(|part| !part.is_empty()).collect();
    let run =
        label.of.known().and_then(|of| laid.iter().find(|run| run.system == owner && run.key == of.as_str()));
    let mut assumed = None;
    let count = match (label.count.known(), label.spacing.known()) {
        (Some(count), _) => count.0,
        (None, Some(spacing)) => {
            let length = run.and_then(|run| run.length.as_ref());
            let Some(count) = length.and_then(|length| begun(length, &most(&spacing.number()))) else {
                let missing = want(&label.count, &label.here, None);
                desk.lacks(Group::Signs, format!("how many labels {} is", spoken(key)), missing);
                return;
            };
            assumed = Some("one label for each spacing that begins");
            count
        }
        (None, None) => 1,
    };
    let place = label.space.known().map(|space| format!(" in {}", spoken(space.as_str())));
    let of = run.map(|run| format!(" on {}", run.name));
    let what = format!("{}{}{}", spoken(key), of.unwrap_or_default(), place.unwrap_or_default());
    let mut line = Line::of(Group::Signs, "label", size.join(", ")).count(count, what, &label.here);
    if let Some(letters) = label.letters.known() {
        line = line.note(format!("Letters of {}.", letters.quantity));
    }
    if label.at_turns.known() == Some(&true) {
        line = line.note("One more at each turn.");
    }
    if let Some(assumed) = assumed {
        line = line.assumes(assumed);
    }
    desk.add(line);
}
