//! What tests of the whole share: a seeded source of chance that is the same everywhere.
//!
//! Not here: tests of the whole, each in a folder of its own.

/// Numbers that look like chance: SplitMix64 (Steele, Lea and Flood, 2014; constants from memory).
pub struct Chance(pub u64);

impl Chance {
    /// The next 64 bits.
    pub fn next_u64(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A whole number below `limit`, which must be above 0.
    pub fn below(&mut self, limit: usize) -> usize {
        (self.next_u64() % limit.max(1) as u64) as usize
    }

    /// Even over (0, 1), neither end included.
    pub fn uniform(&mut self) -> f64 {
        ((self.next_u64() >> 11) as f64 + 0.5) / (1_u64 << 53) as f64
    }

    /// Standard normal, by Box and Muller.
    pub fn normal(&mut self) -> f64 {
        let (a, b) = (self.uniform(), self.uniform());
        (-2.0 * libm::log(a)).sqrt() * libm::cos(2.0 * core::f64::consts::PI * b)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_seed_gives_the_published_numbers() {
        // The first two that the authors' own generator gives for this seed (from memory).
        let mut chance = Chance(1_234_567);
        assert_eq!(chance.next_u64(), 6_457_827_717_110_365_317);
        assert_eq!(chance.next_u64(), 3_203_168_211_198_807_973);
    }

    #[test]
    fn normal_numbers_have_the_mean_and_the_spread_of_normal_numbers() {
        let mut chance = Chance(7);
        let many: Vec<f64> = (0..20_000).map(|_| chance.normal()).collect();
        let mean = many.iter().sum::<f64>() / 20_000.0;
        let variance = many.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>() / 20_000.0;
        assert!(mean.abs() < 0.03 && (variance - 1.0).abs() < 0.04, "{mean} {variance}");
    }
}
