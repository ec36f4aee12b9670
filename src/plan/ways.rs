//! In how many ways a plan is changed, and how often each is tried: what pays for its simulated days is tried more.

use rand::RngExt;
use rand::rngs::ChaCha8Rng;

/// A way to change a plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Move {
    Regroup,
    PlaceLoad,
    PlaceTask,
    Swap,
    PutBack,
    ShiftLoad,
    /// Last, since it is left out where there is no care.
    Serve,
}

const ALL: [Move; 7] = [
    Move::Regroup,
    Move::PlaceLoad,
    Move::PlaceTask,
    Move::Swap,
    Move::PutBack,
    Move::ShiftLoad,
    Move::Serve,
];
/// How often each is tried at first, in hundredths.
const AT_FIRST: [f64; 7] = [27.0, 9.0, 20.0, 24.0, 12.0, 8.0, 6.0];
/// No way is tried less or more often than its first share by this factor.
const APART: f64 = 5.0;
/// After so many changes the shares are set anew, and what lies further back counts half.
const ROUND: u32 = 256;

/// The ways, and what each has brought.
#[derive(Debug, Clone)]
pub(super) struct Ways {
    share: [f64; 7],
    gained: [f64; 7],
    days: [f64; 7],
    since: u32,
    /// Whether baths are served otherwise than their rules say.
    serves: bool,
}

impl Ways {
    pub(super) fn new(serves: bool) -> Self {
        Self {
            share: AT_FIRST,
            gained: [0.0; 7],
            days: [0.0; 7],
            since: 0,
            serves,
        }
    }

    /// One of the ways; without tanks nothing is grouped, where there is no care no bath is served.
    pub(super) fn pick(&self, groups: bool, care: bool, rng: &mut ChaCha8Rng) -> Move {
        let among = usize::from(!groups)..ALL.len() - usize::from(!(care && self.serves));
        let sum: f64 = self.share[among.clone()].iter().sum();
        let mut left = rng.random::<f64>() * sum;
        for i in among {
            let (way, share) = (ALL[i], self.share[i]);
            left -= share;
            if left < 0.0 {
                return way;
            }
        }
        Move::ShiftLoad
    }

    /// A way was tried for so many days: a plan that is better counts one, the best so far counts more.
    pub(super) fn tell(&mut self, way: Move, days: u64, gained: f64) {
        let i = ALL.iter().position(|w| *w == way).unwrap_or(0);
        self.gained[i] += gained;
        self.days[i] += days as f64;
        self.since += 1;
        if self.since >= ROUND {
            self.since = 0;
            self.set_anew();
        }
    }

    fn set_anew(&mut self) {
        let all = (self.gained.iter().sum::<f64>() + 1.0) / (self.days.iter().sum::<f64>() + 1.0);
        for (i, first) in AT_FIRST.into_iter().enumerate() {
            // A few days at the common rate stand for what is not yet known.
            let rate = (self.gained[i] + 20.0 * all) / (self.days[i] + 20.0);
            self.share[i] = first * (rate / all).clamp(1.0 / APART, APART);
            self.gained[i] *= 0.5;
            self.days[i] *= 0.5;
        }
    }
}
