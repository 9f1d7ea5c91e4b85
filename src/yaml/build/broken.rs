//! What a fault leaves behind: what was open is closed and counts as broken, and the lines that were not read
//! are noted.

use super::{Builder, Holds};
use crate::base::problem::{Lost, Problem};
use crate::yaml::tree::{NodeId, NodeKind};

/// A fault that ended the reading of a piece of the text.
pub(in crate::yaml) struct Stop {
    /// What there is to say.
    pub(in crate::yaml) problem: Box<Problem>,
    /// Up to where the piece was read.
    pub(super) at: usize,
}

impl From<Problem> for Stop {
    fn from(problem: Problem) -> Self {
        Stop { at: problem.at.start as usize, problem: Box::new(problem) }
    }
}

impl Builder<'_> {
    /// Takes note of a fault and closes what it left open, down to `floor` open lists and maps. What is
    /// closed so, and the innermost key that got no value, counts as broken; a value that stands right in front
    /// of the fault may lack its end and counts as not read. `end` is where reading goes on.
    pub(in crate::yaml) fn break_off(&mut self, stop: Stop, floor: usize, end: usize) {
        let Stop { problem, at: stopped } = stop;
        let problem = *problem;
        let at = problem.at.start as usize;
        let lost = self.lost(at, end);
        self.problems.push(if problem.lost.is_none() { problem.lost(lost) } else { problem });
        self.drop_last_value(stopped);
        // A line that stands too far out ends the blocks above it; what is written below it may belong to them.
        self.broken.append(&mut self.just_ended);
        let waits =
            self.frames.last().is_some_and(|frame| matches!(&frame.holds, Holds::Map { key: Some(_), .. }));
        if waits {
            let place = self.after_key(at);
            let id = self.add(NodeKind::Nothing, place.clone(), false);
            self.broken.push(id);
            self.place(id, place.end);
        }
        while self.frames.len() > floor {
            if let Some(frame) = self.frames.last() {
                self.broken.push(frame.id);
            }
            self.close(None);
        }
        self.broken.extend(self.frames.iter().map(|frame| frame.id));
        if self.nodes.is_empty() {
            return;
        }
        self.broken.push(NodeId(0));
    }

    /// The lines from a fault to the end of what is read as one.
    fn lost(&self, at: usize, end: usize) -> Lost {
        let line = |at: usize| {
            let before = self.text.get(..at).unwrap_or("");
            1 + before.bytes().filter(|byte| *byte == b'\n').count()
        };
        let keys = self.frames.iter().filter_map(|frame| match &frame.holds {
            Holds::Map { key, .. } => key.as_ref().map(|key| key.text.clone()),
            Holds::List(_) => None,
        });
        let mut section: Vec<String> = keys.collect();
        let waits = matches!(self.frames.last(), Some(frame) if matches!(frame.holds, Holds::Map { key: Some(_), .. }));
        if waits && section.len() > 1 {
            section.pop(); // a key without its value is no section
        }
        let unread = self.text.get(at..end).unwrap_or("");
        // Blank lines and comments at the end belong to what follows.
        let says = |line: &str| !line.trim().is_empty() && !line.trim_start().starts_with('#');
        let behind = unread.split('\n').enumerate().filter(|(_, line)| says(line)).last();
        let first = line(at);
        Lost { section, first, last: first + behind.map_or(0, |(lines, _)| lines) }
    }

    /// Forgets the value that stands right in front of the place where reading stopped.
    fn drop_last_value(&mut self, stopped: usize) {
        let Some(id) = self.last_value.take() else { return };
        let Some(node) = self.nodes.get_mut(id.0 as usize) else { return };
        let between = self.text.get(node.span.end as usize..stopped);
        if between.is_some_and(|between| between.trim_matches([' ', ':']).is_empty()) {
            node.kind = NodeKind::Nothing;
            self.broken.push(id);
        }
    }
}
