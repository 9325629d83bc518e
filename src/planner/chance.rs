//! Choices that look free and are the same in every run.

#[derive(Debug, Clone)]
pub struct Chance(u64);

impl Chance {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0xD134_2543_DE82_EF95)
    }

    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    /// A number below `end`, which is not zero.
    pub fn below(&mut self, end: usize) -> usize {
        usize::try_from((u128::from(self.next()) * end as u128) >> 64).unwrap_or(0)
    }

    /// From zero up to but not one.
    pub fn share(&mut self) -> f64 {
        f64::from(u32::try_from(self.next() >> 32).unwrap_or(0)) / 4_294_967_296.0
    }

    pub fn shuffle<T>(&mut self, all: &mut [T]) {
        for last in (1..all.len()).rev() {
            all.swap(last, self.below(last + 1));
        }
    }
}
