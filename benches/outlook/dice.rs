//! The bench's own seeded generator: the same weather on every machine.

/// A stream of numbers from one seed.
///
/// The mixer of Steele, Lea and Flood 2014 ("Fast splittable pseudorandom number generators").
pub(crate) struct Dice(u64);

impl Dice {
    /// For one site and one year, so that each can be made on its own.
    pub(crate) fn of(site: usize, year: i32) -> Self {
        let year = u64::from(year.unsigned_abs());
        let mut dice = Self((site as u64 + 1).wrapping_mul(0x1_0000_0001).wrapping_add(year << 20));
        dice.next();
        dice
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// 0 to 1, 1 left out.
    pub(crate) fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// One of `count` things.
    pub(crate) fn one_of(&mut self, count: usize) -> usize {
        ((self.share() * count as f64) as usize).min(count.saturating_sub(1))
    }
}
