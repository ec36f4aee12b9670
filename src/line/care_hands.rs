//! What hands do in the care of a bath, and how long it takes them.

use super::engine::{Due, Engine};
use super::stages::Stage;
use super::start::{FEED, Pick, Rank};
use super::state::NONE;
use super::vessel::Filtering;
use tankday_base::shop::Chore;
use tankday_base::units::{Quantity, Span};
use tankday_record::{Task, TaskKind};

impl Engine<'_> {
    /// Hands' time for the present stage of a tank's care, if it waits for hands that may do it now.
    pub(super) fn wants_care(&self, tank: u32) -> Option<(TaskKind, Span)> {
        let job = self.tanks[tank as usize].care?;
        let Some(Stage::Hands(kind)) = self.stage_of(tank).filter(|_| job.hand == NONE) else {
            return None;
        };
        let filter_taken = kind == TaskKind::SetUpFilter && self.filter_is_taken(Filtering::Tank(tank));
        (!filter_taken).then(|| (kind, self.takes(tank, kind)))
    }

    /// How long wool is in, with the hands that put it in and take it out.
    fn wool_takes(&self, tank: u32) -> Span {
        match self.chore(tank, self.rule_of(tank)) {
            Chore::Condition { takes, stays, .. } => takes + stays,
            _ => Span::ZERO,
        }
    }

    fn takes(&self, tank: u32, kind: TaskKind) -> Span {
        let volume = self.tanks[tank as usize].heat.volume();
        match (self.chore(tank, self.rule_of(tank)), kind) {
            (Chore::Condition { takes, .. }, _) => takes.times(0.5),
            (Chore::Stop(stop), TaskKind::SetUpFilter) => stop.set_up,
            (Chore::Stop(stop), TaskKind::Decant) => {
                pouring(volume.base() * (1.0 - stop.heel.in_fraction()), stop.pour.base())
            }
            (Chore::Stop(stop), TaskKind::Exchange) => pouring(2.0 * volume.base(), stop.pour.base()),
            (Chore::Stop(stop), _) => pouring(volume.base(), stop.pour.base()),
            (Chore::Replenish { takes, .. } | Chore::Trim { takes, .. } | Chore::Renew { takes, .. }, _) => {
                takes
            }
        }
    }

    /// Offers care to free hands.
    pub(super) fn offer_bath_care(&mut self, best: &mut Option<(Pick, Rank)>) {
        for tank in 0..self.tanks.len() as u32 {
            let Some((kind, takes)) = self.wants_care(tank) else {
                continue;
            };
            let in_time = self.day.now() + takes <= self.day.closes()
                && (kind != TaskKind::PutWoolIn || self.wool_out_in_time(tank, self.wool_takes(tank)));
            if in_time && self.leaves_time(takes, false, None) {
                super::pick::better(best, Pick::Care(tank), (FEED, i64::MIN, i64::from(tank)));
            }
        }
    }

    /// Hands turn to the present stage.
    pub(super) fn take_care(&mut self, tank: u32, hand: u32) {
        let Some((kind, takes)) = self.wants_care(tank) else {
            return;
        };
        // How hot the bath is that something goes into.
        self.sample(tank);
        let until = self.day.now() + takes;
        let task = Task {
            kind,
            station: self.plan.tanks[tank as usize],
            load: None,
            vessel: None,
        };
        self.take_hand_for(hand, task, until, NONE);
        if kind == TaskKind::SetUpFilter {
            self.filter = Some(Filtering::Tank(tank));
        }
        if let Some(job) = &mut self.tanks[tank as usize].care {
            job.hand = hand;
            job.until = until;
        }
        self.day.move_at(until, Due::Care(tank));
    }
}

/// Pouring so many m3 at so many m3/s.
pub(super) fn pouring(volume: f64, flow: f64) -> Span {
    Span::seconds(volume / flow)
}
