//! Chance that can be thrown again: numbers from a seed, the same everywhere.

/// SplitMix64: small, and good enough to pick cases with (memory: Steele, Lea
/// and Flood 2014).
#[derive(Clone, Debug)]
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }
    pub fn draw(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }
    /// From 0 to `n` - 1; 0 when `n` is 0.
    pub fn below(&mut self, n: usize) -> usize {
        (self.draw() % n.max(1) as u64) as usize
    }
    /// From `a` to `b`, both among them.
    pub fn from_to(&mut self, a: usize, b: usize) -> usize {
        a + self.below(b - a + 1)
    }
    /// True once in `n`.
    pub fn once_in(&mut self, n: usize) -> bool {
        self.below(n) == 0
    }
    pub fn pick<'a, T>(&mut self, from: &'a [T]) -> Option<&'a T> {
        from.get(self.below(from.len()))
    }
    pub fn shuffle<T>(&mut self, list: &mut [T]) {
        for n in (1..list.len()).rev() {
            list.swap(n, self.below(n + 1));
        }
    }
}
