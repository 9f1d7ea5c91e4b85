//! Things that stand on one spot of a view: one sign, and one label for all of them.

use super::scene::Spot;
use super::signs::Key;
use super::view::View;

/// What stands on one spot.
struct Stack {
    at: Spot,
    signs: Vec<Key>,
    lines: Vec<String>,
}

/// All spots on which something stands.
#[derive(Default)]
pub(crate) struct Spots(Vec<Stack>);

/// Things no farther apart than this, in metres, stand on one spot.
const TOGETHER: f64 = 0.12;

/// Which sign is drawn where several would lie over one another.
fn rank(key: Key) -> u8 {
    match key {
        Key::Fan => 0,
        Key::Discharge => 1,
        Key::Point => 2,
        Key::Sump => 3,
        Key::Drain => 4,
        Key::Chimney => 5,
        Key::Valve => 5,
        Key::Gauge | Key::Disconnect => 6,
        Key::TestHole => 7,
        _ => 8,
    }
}

impl Spots {
    pub(crate) fn add(&mut self, at: Spot, sign: Option<Key>, line: Option<String>) {
        let found = self.0.iter().position(|stack| stack.at.away(at) < TOGETHER);
        let stack = match found.and_then(|found| self.0.get_mut(found)) {
            Some(stack) => stack,
            None => {
                self.0.push(Stack { at, signs: Vec::new(), lines: Vec::new() });
                let Some(stack) = self.0.last_mut() else { return };
                stack
            }
        };
        stack.signs.extend(sign);
        stack.lines.extend(line);
    }

    /// Draws them: where several stand on one spot, the sign that matters most.
    pub(crate) fn draw(self, view: &mut View) {
        for Stack { at, signs, lines } in self.0 {
            let first = signs.into_iter().min_by_key(|sign| rank(*sign));
            if let Some(sign) = first {
                view.sign(at, sign);
            }
            if !lines.is_empty() {
                view.label(at, first.map_or(3.0, |sign| sign.reach() + 2.0), 2, lines);
            }
        }
    }
}
