//! Luck is addressed, not drawn in passing.
//!
//! A draw is one 64-bit word, a pure function of its address: (seed, replication, purpose, who, visit). Two
//! alternatives therefore see the same luck wherever they do the same thing, and a draw that is added somewhere
//! shifts none elsewhere.
//!
//! Seed, replication and purpose choose a stream, and its two keys are read from ChaCha with 8 rounds, one of the
//! portable generators that `rand` names: the seed is its seed, the replication its stream, the purpose the place
//! in that stream. Within a stream a word is made by two rounds of the 64-bit finaliser of SplitMix64 (G. L. Steele,
//! D. Lea, C. H. Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014) with the constants of D. Stafford's
//! variant 13, one round for `who` and one for `visit`. Both steps are one-to-one, so two items of a stream never
//! share a word at the same visit.

use rand::rngs::ChaCha8Rng;
use rand::{Rng, SeedableRng};

/// 2^64 divided by the golden ratio, made odd: successive multiples spread evenly.
const GOLDEN: u64 = 0x9e37_79b9_7f4a_7c15;

/// What a draw is for: arrivals, the time of one step, ...
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Purpose(u64);

impl Purpose {
    /// The purpose of this name. It depends on nothing but the name: purposes may be added and reordered freely.
    ///
    /// The name is hashed by the 64-bit FNV-1a function of G. Fowler, L. C. Noll and K.-P. Vo.
    #[must_use]
    pub const fn named(name: &str) -> Self {
        let mut hash: u64 = 0xcbf2_9ce4_8422_2325;
        let mut rest = name.as_bytes();
        while let [first, tail @ ..] = rest {
            hash = (hash ^ *first as u64).wrapping_mul(0x0100_0000_01b3);
            rest = tail;
        }
        Self(hash)
    }
}

/// The random streams of one replication.
///
/// ```
/// use tankday_base::random::{Streams, Purpose};
///
/// const SOAK: Purpose = Purpose::named("soak");
/// let soak = Streams::new(42, 0).stream(SOAK);
/// assert_eq!(soak.word(7, 0), Streams::new(42, 0).stream(SOAK).word(7, 0));
/// assert_ne!(soak.word(7, 0), soak.word(7, 1));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Streams {
    seed: u64,
    replication: u64,
}

impl Streams {
    /// The luck that a seed gives to a replication, the first being 0.
    #[must_use]
    pub const fn new(seed: u64, replication: u64) -> Self {
        Self { seed, replication }
    }

    /// The stream for one purpose. Making it takes some ten times as long as a draw from it: keep it.
    #[must_use]
    pub fn stream(self, purpose: Purpose) -> Stream {
        let mut seed = [0; 32];
        for (place, byte) in seed.iter_mut().zip(self.seed.to_le_bytes()) {
            *place = byte;
        }
        let mut generator = ChaCha8Rng::from_seed(seed);
        generator.set_stream(self.replication);
        generator.set_word_pos(u128::from(purpose.0) * 4);
        Stream {
            who_key: generator.next_u64(),
            visit_key: generator.next_u64(),
        }
    }
}

/// All the words of one purpose in one replication.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stream {
    who_key: u64,
    visit_key: u64,
}

impl Stream {
    /// The word for an order, load or item, at its first (0), second, ... visit.
    #[inline]
    #[must_use]
    pub const fn word(&self, who: u64, visit: u64) -> u64 {
        let item = finalise(self.who_key.wrapping_add(who.wrapping_mul(GOLDEN)));
        finalise(
            item.wrapping_add(self.visit_key)
                .wrapping_add(visit.wrapping_mul(GOLDEN)),
        )
    }
}

/// A number in the open interval (0, 1) from a word: the middle of one of 2^52 equal cells. The middles lie
/// symmetrically about a half, and both the number and its complement are exact.
#[inline]
#[must_use]
pub const fn unit(word: u64) -> f64 {
    const CELLS: f64 = (1u64 << 52) as f64;
    ((word >> 12) as f64 + 0.5) / CELLS
}

/// The finaliser of SplitMix64 with the constants of Stafford's variant 13.
#[inline]
const fn finalise(z: u64) -> u64 {
    let z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}
