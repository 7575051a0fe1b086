//! Random numbers that are the same on every machine and with every version of every library:
//! layouts are part of what a build writes, so their source is kept here.

/// The generator xoshiro256++ (Blackman and Vigna 2021, "Scrambled linear pseudorandom number
/// generators"), seeded by their `SplitMix64`.
#[derive(Clone, Debug)]
pub(super) struct Random {
    state: [u64; 4],
}

impl Random {
    pub(super) fn new(seed: u64) -> Self {
        let mut counter = seed;
        let state = std::array::from_fn(|_| {
            counter = counter.wrapping_add(0x9e37_79b9_7f4a_7c15);
            let mut z = counter;
            z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
            z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
            z ^ (z >> 31)
        });
        Self { state }
    }

    fn next(&mut self) -> u64 {
        let s = &mut self.state;
        let result = s[0].wrapping_add(s[3]).rotate_left(23).wrapping_add(s[0]);
        let t = s[1] << 17;
        s[2] ^= s[0];
        s[3] ^= s[1];
        s[1] ^= s[2];
        s[0] ^= s[3];
        s[2] ^= t;
        s[3] = s[3].rotate_left(45);
        result
    }

    /// Uniform in 0…1, 1 excluded.
    pub(super) fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 * (1.0 / (1u64 << 53) as f64)
    }

    /// Uniform in `low…high`; `low` where the range is empty.
    pub(super) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low).max(0.0) * self.unit()
    }

    /// Uniform among `0..count`; 0 where `count` is 0.
    pub(super) fn below(&mut self, count: usize) -> usize {
        ((self.next() >> 32) as usize * count) >> 32
    }

    /// Normal with mean 0 and the given deviation (Box and Muller 1958).
    pub(super) fn normal(&mut self, deviation: f64) -> f64 {
        let radius = (-2.0 * (1.0 - self.unit()).ln()).sqrt();
        deviation * radius * (std::f64::consts::TAU * self.unit()).cos()
    }

    /// Fisher and Yates' shuffle.
    pub(super) fn shuffle<T>(&mut self, items: &mut [T]) {
        for last in (1..items.len()).rev() {
            items.swap(last, self.below(last + 1));
        }
    }
}
