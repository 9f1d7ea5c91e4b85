//! Three-valued truth: true, false, or not known.
//!
//! Strong Kleene logic. Not knowing never turns into knowing: the negation of unknown is unknown, and
//! an "and" is only false, an "or" only true, when a known part decides it. *Why* something is not
//! known is kept beside the truth by whoever asks, not in it.

/// True, false, or not known.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Debug)]
pub enum Truth {
    /// Known not to hold.
    False,
    /// Cannot be told from what is known.
    Unknown,
    /// Known to hold.
    True,
}

impl Truth {
    /// Both hold.
    #[must_use]
    pub fn and(self, other: Truth) -> Truth {
        self.min(other)
    }

    /// At least one holds.
    #[must_use]
    pub fn or(self, other: Truth) -> Truth {
        self.max(other)
    }

    /// Whether it is known either way.
    #[must_use]
    pub fn is_known(self) -> bool {
        self != Truth::Unknown
    }

    /// Whether knowing more could have led from `self` to `later`.
    #[must_use]
    pub fn may_become(self, later: Truth) -> bool {
        self == Truth::Unknown || self == later
    }
}

impl std::ops::Not for Truth {
    type Output = Truth;

    /// It does not hold.
    fn not(self) -> Truth {
        match self {
            Truth::True => Truth::False,
            Truth::False => Truth::True,
            Truth::Unknown => Truth::Unknown,
        }
    }
}

impl From<bool> for Truth {
    fn from(known: bool) -> Self {
        if known { Truth::True } else { Truth::False }
    }
}

#[cfg(test)]
mod tests {
    use super::Truth;

    const ALL: [Truth; 3] = [Truth::False, Truth::Unknown, Truth::True];

    #[test]
    fn known_parts_behave_as_ordinary_logic() {
        for a in [false, true] {
            for b in [false, true] {
                assert_eq!(Truth::from(a).and(Truth::from(b)), Truth::from(a && b));
                assert_eq!(Truth::from(a).or(Truth::from(b)), Truth::from(a || b));
            }
            assert_eq!(!Truth::from(a), Truth::from(!a));
        }
    }

    #[test]
    fn laws_hold_for_every_combination() {
        for a in ALL {
            assert_eq!(!!a, a);
            for b in ALL {
                assert_eq!(a.and(b), b.and(a));
                assert_eq!(a.or(b), b.or(a));
                assert_eq!(!a.and(b), (!a).or(!b));
                for c in ALL {
                    assert_eq!(a.and(b).and(c), a.and(b.and(c)));
                    assert_eq!(a.or(b).or(c), a.or(b.or(c)));
                    assert_eq!(a.and(b.or(c)), a.and(b).or(a.and(c)));
                }
            }
        }
    }

    #[test]
    fn learning_more_never_turns_a_decided_answer() {
        for a in ALL {
            for b in ALL {
                for more_a in ALL.into_iter().filter(|m| a.may_become(*m)) {
                    for more_b in ALL.into_iter().filter(|m| b.may_become(*m)) {
                        assert!(a.and(b).may_become(more_a.and(more_b)));
                        assert!(a.or(b).may_become(more_a.or(more_b)));
                        assert!((!a).may_become(!more_a));
                    }
                }
            }
        }
    }
}
