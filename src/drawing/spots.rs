//! Things that stand on one spot of a view, each with its sign and its label.

use super::scene::Spot;
use super::signs::Key;
use super::view::View;

/// What stands on one spot.
struct Stack {
    at: Spot,
    /// Those that have a sign, each with what is said of it.
    signs: Vec<(Key, Vec<String>)>,
    /// What is said of those that have none.
    lines: Vec<String>,
}

/// All spots on which something stands.
#[derive(Default)]
pub(crate) struct Spots(Vec<Stack>);

/// Things no farther apart than this, in metres, stand on one spot.
const TOGETHER: f64 = 0.12;

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
        match sign {
            Some(sign) => stack.signs.push((sign, line.into_iter().collect())),
            None => stack.lines.extend(line),
        }
    }

    /// Draws them, the sign that matters most first; what has no sign is told with it.
    pub(crate) fn draw(self, view: &mut View) {
        for Stack { at, mut signs, lines } in self.0 {
            signs.sort_by_key(|(sign, _)| sign.rank());
            match signs.first_mut() {
                Some((_, said)) => said.extend(lines),
                None if lines.is_empty() => {}
                None => view.label(at, 3.0, 2, lines),
            }
            for (sign, said) in signs {
                view.sign(at, sign);
                if !said.is_empty() {
                    view.label(at, sign.reach() + 2.0, 2, said);
                }
            }
        }
    }
}
