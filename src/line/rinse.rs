//! Rinses on the line: what loads bring into them, what they leave with, when their water is renewed.
//!
//! # Known and left
//!
//! - Rinses are clean at the start of a run; their tap runs while a load is in; a load carries as much out of each
//!   tub as it brought into the first. The audit follows the water by steps in time, and checks the chance of a
//!   defect only from below.

use super::engine::{Due, Engine};
use super::state::NONE;
use tankday_base::bath::Tubs;
use tankday_base::shop::{Mishap, RinseLimit, Shop, StationId};
use tankday_base::units::{Moment, Span, Strength, Volume};
use tankday_record::{Event, Task, TaskKind};

/// What a load is wet with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Wet {
    /// How much; nothing on what no bath has seen.
    pub(super) volume: Volume,
    /// How strong.
    pub(super) strength: Strength,
    /// How strong the bath is that it came from.
    pub(super) bath: Strength,
}

impl Wet {
    pub(super) const DRY: Self = Self {
        volume: Volume::ZERO,
        strength: Strength::ZERO,
        bath: Strength::ZERO,
    };
}

/// The water of one rinse under way.
#[derive(Debug, Clone)]
pub(super) struct RinseRun {
    tubs: Tubs,
    /// The moment up to which `tubs` is advanced.
    at: Moment,
    /// Loads in it: its water runs while there are any.
    inside: u32,
    /// Loads since its water was renewed.
    loads: u32,
    /// Its water is to be renewed.
    due: bool,
    /// The hands that renew it.
    renewing: Option<u32>,
}

/// Every rinse of a shop, clean, by its station; empty where no station is one.
pub(super) fn rinses(shop: &Shop) -> Vec<Option<RinseRun>> {
    if shop.stations.iter().all(|s| s.rinse.is_none()) {
        return Vec::new();
    }
    let run = |rinse: tankday_base::shop::Rinse| RinseRun {
        tubs: Tubs::clean(rinse.fill, rinse.tubs),
        at: Moment::ZERO,
        inside: 0,
        loads: 0,
        due: false,
        renewing: None,
    };
    shop.stations.iter().map(|s| s.rinse.map(run)).collect()
}

impl Engine<'_> {
    fn rinse(&mut self, station: u32) -> Option<(&mut RinseRun, tankday_base::shop::Rinse)> {
        let run = self.rinses.get_mut(station as usize)?.as_mut()?;
        let plan = self.shop.stations[station as usize].rinse?;
        if run.inside > 0 {
            run.tubs.run(plan.flow, self.day.now() - run.at);
        }
        run.at = self.day.now();
        Some((run, plan))
    }

    /// A load has left a bath: it drips, and carries the rest along.
    pub(super) fn wetted(&mut self, load: u32, bath: Strength) {
        let volume = self.drag_out(load);
        self.loads[load].wet = Wet {
            volume,
            strength: bath,
            bath,
        };
    }

    /// A load begins a step: if that is a rinse, it passes the tubs; anywhere else it is dried, or rinsed in water that
    /// nobody counts.
    pub(super) fn dips(&mut self, load: u32) {
        let l = &self.loads[load];
        let (no, wet, station) = (l.no, l.wet, l.station);
        let Some((run, plan)) = self.rinse(station) else {
            self.loads[load].wet = Wet::DRY;
            return;
        };
        let spent = run.due && wet.bath > Strength::ZERO;
        let leaves = run.tubs.dip(wet.volume, wet.strength);
        run.inside += 1;
        run.loads += 1;
        let limit = match plan.renewal.at {
            Some(RinseLimit::Points(points)) => Some(points),
            Some(RinseLimit::OfBath(share)) if wet.bath > Strength::ZERO => {
                Some(wet.bath * share.in_fraction())
            }
            _ => None,
        };
        let strong = limit.is_some_and(|limit| leaves >= limit);
        let many = plan.renewal.after.is_some_and(|loads| run.loads >= loads);
        run.due |= strong || many;
        let first = run.tubs.first();
        if spent {
            self.loads[load].mishaps.add(Mishap::SpentRinse);
        }
        if plan.is_hot() && wet.bath > Strength::ZERO {
            self.loads[load].mishaps.add(Mishap::HotRinse);
        }
        self.day.note(|| Event::Rinsed {
            load: no,
            station: StationId(station),
            brought: wet.volume,
            strength: wet.strength,
            first,
            last: leaves,
        });
    }

    /// A load leaves a station: if that is a rinse, with the water of its last tub.
    pub(super) fn out_of_rinse(&mut self, load: u32) {
        let station = self.loads[load].station;
        let Some((run, _)) = self.rinse(station) else {
            return;
        };
        let strength = run.tubs.last();
        run.inside = run.inside.saturating_sub(1);
        self.loads[load].wet.strength = strength;
    }

    /// Whether the water of a rinse is being renewed, so that nothing can go in.
    pub(super) fn is_renewed(&self, station: u32) -> bool {
        let run = self.rinses.get(station as usize).and_then(Option::as_ref);
        run.is_some_and(|r| r.renewing.is_some())
    }

    /// Rinses that hands should renew now, with the time that it takes: due, empty, and work still to come.
    pub(super) fn spent_rinses(&self) -> Vec<(u32, Span)> {
        let to_come = self.loads.len() > 0 || self.sources_left > 0;
        let wants = |(i, run): (usize, &Option<RinseRun>)| {
            let run = run.as_ref()?;
            let plan = self.shop.stations[i].rinse?;
            let now = run.due && run.inside == 0 && run.renewing.is_none() && to_come;
            (now && self.stations[i].used == 0).then_some((i as u32, plan.renewal.takes))
        };
        self.rinses.iter().enumerate().filter_map(wants).collect()
    }

    /// Hands begin to renew a rinse.
    pub(super) fn renew_rinse(&mut self, station: u32, hand: u32) {
        let Some((run, plan)) = self.rinse(station) else {
            return;
        };
        run.renewing = Some(hand);
        let until = self.day.now() + plan.renewal.takes;
        let task = Task {
            kind: TaskKind::Renew,
            station: StationId(station),
            load: None,
            vessel: None,
        };
        self.take_hand_for(hand, task, until, NONE);
        self.day.move_at(until, Due::Renewed(station));
    }

    pub(super) fn renewed(&mut self, station: u32) {
        self.day.moved();
        let Some((run, _)) = self.rinse(station) else {
            return;
        };
        run.tubs.renew();
        run.loads = 0;
        run.due = false;
        let (hand, volume) = (run.renewing.take(), run.tubs.water());
        self.day.note(|| Event::Renewed {
            station: StationId(station),
            volume,
        });
        if let Some(hand) = hand {
            self.release(hand);
        }
        self.day.mark(station);
    }

    /// At an opening, water that was used and is renewed by the clock falls due.
    pub(super) fn rinses_at_opening(&mut self) {
        for station in 0..self.rinses.len() as u32 {
            if let Some((run, plan)) = self.rinse(station) {
                run.due |= plan.renewal.at_opening && run.loads > 0;
            }
        }
    }
}
