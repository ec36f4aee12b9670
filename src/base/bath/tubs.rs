//! Tubs of a rinse, one after the other, with clean water running against the work.

use crate::units::{Amount, Quantity, Span, Strength, Volume, VolumeFlow};

/// Tubs of one volume, each well mixed, in the order in which work passes them.
#[derive(Debug, Clone, PartialEq)]
pub struct Tubs {
    volume: Volume,
    strengths: Vec<Strength>,
}

impl Tubs {
    /// Clean ones, at least one.
    #[must_use]
    pub fn clean(volume: Volume, number: u32) -> Self {
        Self {
            volume,
            strengths: vec![Strength::ZERO; number.max(1) as usize],
        }
    }

    /// A load passes all of them: into each it brings liquid, from each it takes as much of the mixture along. Says
    /// how strong the liquid is that it leaves the last with.
    pub fn dip(&mut self, brought: Volume, strength: Strength) -> Strength {
        let brought = brought.max(Volume::ZERO);
        let all = self.volume + brought;
        let mut carried = strength;
        for tub in &mut self.strengths {
            if all > Volume::ZERO {
                *tub = (*tub * self.volume.base() + carried * brought.base()) / all.base();
            }
            carried = *tub;
        }
        carried
    }

    /// Clean water runs into the last tub, from there into the one before, and over the rim of the first. With
    /// T = Q t / V, tub i of n then has exp(-T) times the sum over k of c(i+k) T^k / k! (the exact solution of
    /// V dc(i)/dt = Q (c(i+1) - c(i)), with clean water for c(n+1)).
    pub fn run(&mut self, flow: VolumeFlow, time: Span) {
        let turns = flow.base() * time.in_seconds() / self.volume.base();
        if turns.is_nan() || turns <= 0.0 {
            return;
        }
        for i in 0..self.strengths.len() {
            let mut share = libm::exp(-turns);
            let mut mixed = Strength::ZERO;
            for (k, strength) in self.strengths.iter().skip(i).enumerate() {
                if k > 0 {
                    share *= turns / k as f64;
                }
                mixed += *strength * share;
            }
            if let Some(tub) = self.strengths.get_mut(i) {
                *tub = mixed;
            }
        }
    }

    /// Strength of the first.
    #[must_use]
    pub fn first(&self) -> Strength {
        self.strengths.first().copied().unwrap_or(Strength::ZERO)
    }

    /// Strength of the last: what work leaves with.
    #[must_use]
    pub fn last(&self) -> Strength {
        self.strengths.last().copied().unwrap_or(Strength::ZERO)
    }

    /// Acid in all of them.
    #[must_use]
    pub fn acid(&self) -> Amount {
        let sum: Strength = self.strengths.iter().copied().sum();
        sum * self.volume
    }

    /// Water in all of them.
    #[must_use]
    pub fn water(&self) -> Volume {
        self.volume * self.strengths.len() as f64
    }

    /// Emptied and filled with clean water.
    pub fn renew(&mut self) {
        self.strengths.fill(Strength::ZERO);
    }
}
