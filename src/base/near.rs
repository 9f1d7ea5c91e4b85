//! The nearest of several words to one that was not recognised.

/// The word among `offered` that `written` is most likely a slip for; nothing if none is close.
///
/// Counted are letters added, left out, changed, and two neighbours swapped; case, and whether words are
/// joined by a space, a hyphen or `_`, do not count. Of several equally near the first offered is given.
#[must_use]
pub fn nearest<'a>(written: &str, offered: impl IntoIterator<Item = &'a str>) -> Option<String> {
    let plain = |word: &str| -> Vec<char> {
        let joined = |c: char| if matches!(c, '_' | '-') { ' ' } else { c };
        word.trim().chars().take(80).flat_map(char::to_lowercase).map(joined).collect()
    };
    let wanted = plain(written);
    let allowed = (wanted.len() / 3).clamp(1, 4);
    let mut best: Option<(usize, &str)> = None;
    for word in offered {
        let candidate = plain(word);
        // Who wrote the first four letters right may have spelled the rest by ear.
        let same = candidate.iter().zip(&wanted).take_while(|(a, b)| a == b).count();
        let allowed = if same >= 4 { allowed + 1 } else { allowed };
        if candidate.len().abs_diff(wanted.len()) > allowed {
            continue;
        }
        let steps = distance(&wanted, &candidate);
        if steps <= allowed && steps < candidate.len().max(1) && best.is_none_or(|(least, _)| steps < least) {
            best = Some((steps, word));
        }
    }
    best.map(|(_, word)| word.to_owned())
}

/// How many letters have to be added, left out, changed or swapped with their neighbour.
fn distance(a: &[char], b: &[char]) -> usize {
    let mut before: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    let mut left_of_a = None;
    for (row, &from) in a.iter().enumerate() {
        let mut now = vec![row + 1];
        let mut left_of_b = None;
        for (column, &to) in b.iter().enumerate() {
            let get = |line: &[usize], at: usize| line.get(at).copied().unwrap_or(usize::MAX / 2);
            let mut least = (get(&last, column) + usize::from(from != to))
                .min(get(&last, column + 1) + 1)
                .min(get(&now, column) + 1);
            if left_of_a == Some(to) && left_of_b == Some(from) {
                least = least.min(get(&before, column.saturating_sub(1)) + 1);
            }
            now.push(least);
            left_of_b = Some(to);
        }
        before = std::mem::replace(&mut last, now);
        left_of_a = Some(from);
    }
    last.last().copied().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn a_slip_of_a_letter_or_two_is_found() {
        let words = ["clearance", "height", "soil", "natural draft"];
        assert_eq!(nearest("clearence", words).as_deref(), Some("clearance"));
        assert_eq!(nearest("hieght", words).as_deref(), Some("height"));
        assert_eq!(nearest("Natural-Draft", words).as_deref(), Some("natural draft"));
        assert_eq!(nearest("soils", words).as_deref(), Some("soil"));
        assert_eq!(nearest("skylite", ["window", "skylight"]).as_deref(), Some("skylight"));
    }

    #[test]
    fn a_swap_of_neighbours_is_one_step() {
        let count = |a: &str, b: &str| {
            super::distance(&a.chars().collect::<Vec<_>>(), &b.chars().collect::<Vec<_>>())
        };
        assert_eq!(count("ab", "ba"), 1);
        assert_eq!(count("hegde", "hedge"), 1);
        assert_eq!(count("", "abc"), 3);
        assert_eq!(count("kitten", "sitting"), 3);
    }

    #[test]
    fn nothing_is_offered_for_a_word_that_is_far_from_all() {
        assert_eq!(nearest("window", ["clearance", "height"]), None);
        assert_eq!(nearest("x", ["y"]), None);
    }
}
