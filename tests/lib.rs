//! What tests of the whole share: a seeded source of chance that is the same everywhere. Not here: any test.

/// Numbers that look like chance (SplitMix64, constants from memory).
pub struct Chance(pub u64);

impl Chance {
    /// A whole number below `limit`, which must be above 0.
    pub fn below(&mut self, limit: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) % limit.max(1) as u64) as usize
    }
}
