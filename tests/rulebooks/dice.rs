//! Chance for tests, without chance.

/// Numbers that look random and are the same on every run.
pub(super) struct Dice(u64);

impl Dice {
    pub(super) fn new() -> Self {
        Dice(0x2545_f491_4f6c_dd1d)
    }

    /// A number from nought to just below `end`.
    pub(super) fn below(&mut self, end: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % u64::try_from(end).unwrap()).unwrap()
    }
}
