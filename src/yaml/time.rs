//! Entries that are calendar dates, moments and time zones, as people write them.

use serde_json::{Value, json};

use super::entry::Meaning;
use super::record::{Reader, Reads};
use super::schema::{Schemas, single_value};
use super::tree::NodeId;
use crate::base::problem::Problem;
use crate::base::text::Span;
use crate::base::time::{ClockReading, DATE, Instant, MOMENT, ZONE};
use crate::base::value::EntryPath;

pub use crate::base::time::{Date, NoInstant, Zone};

impl Reads for Date {
    const MAY_BE_NONE: bool = false;

    fn written_as() -> String {
        DATE.to_owned()
    }

    fn read(reader: &mut Reader<'_>, node: NodeId, _path: &EntryPath) -> Option<Self> {
        let at = reader.span(node);
        Date::parse(reader.text(node)?).map_err(|fault| reader.report(fault.problem(at))).ok()
    }

    fn means(&self) -> Meaning {
        Meaning::Value(self.to_string())
    }

    fn schema(defs: &mut Schemas) -> Value {
        defs.refer::<Date>("date", |_| json!({ "description": DATE, "type": "string" }))
    }
}

/// A moment: a day and a time of day, with an offset from universal time or in the zone of the place.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub struct Moment {
    /// What the calendar and the clock on the wall show.
    pub clock: ClockReading,
    /// Where it is written.
    pub at: Span,
}

impl Moment {
    /// The instant it names.
    pub fn instant(&self, zone: Option<&Zone>) -> Result<Instant, NoInstant> {
        self.clock.instant(zone)
    }
}

impl Reads for Moment {
    const MAY_BE_NONE: bool = false;

    fn written_as() -> String {
        MOMENT.to_owned()
    }

    fn read(reader: &mut Reader<'_>, node: NodeId, _path: &EntryPath) -> Option<Self> {
        let at = reader.span(node);
        match ClockReading::parse(reader.text(node)?) {
            Ok(clock) => {
                let moment = Moment { clock, at };
                reader.moments.push(moment);
                Some(moment)
            }
            Err(fault) => {
                reader.report(fault.problem(at));
                None
            }
        }
    }

    fn means(&self) -> Meaning {
        Meaning::Value(self.clock.to_string())
    }

    fn schema(defs: &mut Schemas) -> Value {
        defs.refer::<Moment>("moment", |_| json!({ "description": MOMENT, "type": "string" }))
    }
}

impl Reads for Zone {
    const MAY_BE_NONE: bool = false;

    fn written_as() -> String {
        ZONE.to_owned()
    }

    fn read(reader: &mut Reader<'_>, node: NodeId, _path: &EntryPath) -> Option<Self> {
        let at = reader.span(node);
        Zone::named(reader.text(node)?).map_err(|fault| reader.report(fault.problem(at))).ok()
    }

    fn means(&self) -> Meaning {
        Meaning::Value(self.name().to_owned())
    }

    fn schema(defs: &mut Schemas) -> Value {
        defs.refer::<Zone>("zone", |_| {
            let mut schema = single_value();
            if let Some(schema) = schema.as_object_mut() {
                schema.insert("description".to_owned(), json!(ZONE));
            }
            schema
        })
    }
}

/// The moments that the clocks of a zone show twice or never.
#[must_use]
pub fn check_clocks(moments: &[Moment], zone: Option<&Zone>) -> Vec<Problem> {
    let Some(zone) = zone else { return Vec::new() };
    let fault = |moment: &Moment| Some(moment.clock.clock_fault(zone)?.problem(moment.at));
    moments.iter().filter_map(fault).collect()
}
