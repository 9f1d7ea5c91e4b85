//! Reading goes on whatever the file holds.

/// Numbers that look thrown and are the same in every run: xorshift.
pub(crate) struct Dice(u64);

impl Dice {
    /// Dice that fall their own way for every seed.
    pub(crate) fn new(seed: u64) -> Self {
        let mut dice = Dice(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ 0x2545_f491_4f6c_dd1d);
        dice.throw();
        dice
    }

    fn throw(&mut self) -> u64 {
        self.0 |= u64::from(self.0 == 0);
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    /// A number below a limit.
    pub(crate) fn below(&mut self, limit: usize) -> usize {
        (self.throw() >> 11) as usize % limit.max(1)
    }

    /// One of several.
    pub(crate) fn one<T: Copy>(&mut self, of: &[T]) -> T {
        of[self.below(of.len())]
    }
}

/// How many random files a test looks at: its own share, or as many as `UNDERCROFT_MUTATIONS` says.
pub(crate) fn share(own: u64) -> u64 {
    std::env::var("UNDERCROFT_MUTATIONS").ok().and_then(|count| count.parse().ok()).unwrap_or(own)
}
