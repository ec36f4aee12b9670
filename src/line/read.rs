//! What was noted of a day under way: how baths read, what was done before, what began when.

use super::engine::{Due, Engine};
use super::plan::BathReading;
use super::state::Waiting;
use crate::kernel::ENDS;
use tankday_base::bath::chemistry::{Chemistry, Readings};
use tankday_base::units::{Moment, Span};

impl Engine<'_> {
    /// Puts the readings on the calendar.
    pub(super) fn expect_readings(&mut self) {
        let readings = self
            .follow
            .as_ref()
            .map_or(&[][..], |f| f.plan.readings.as_slice());
        for (i, reading) in (0..).zip(readings) {
            self.day.schedule(reading.at, ENDS, Due::Reading(i));
        }
    }

    /// A bath is from now on as it was read.
    pub(super) fn read_bath(&mut self, nth: u32) {
        let reading = self
            .follow
            .as_ref()
            .and_then(|f| f.plan.readings.get(nth as usize))
            .cloned();
        let Some(reading) = reading else { return };
        let Some(tank) = self.tanks.iter().position(|t| t.station == reading.tank) else {
            return;
        };
        self.touch(tank as u32);
        let table = &self.heat[tank];
        let recipe = &self.shop.baths[self.tanks[tank].bath.index()];
        let t = &mut self.tanks[tank];
        if let Some(temperature) = reading.temperature {
            t.heat.read_as(table, temperature);
        }
        if let Some(now) = &t.chemistry {
            let reads = taken(&reading, &now.readings());
            // One that no bath can read so is refused where the notes are read.
            if let Ok(mut new) = Chemistry::new(&recipe.chemistry, &reads) {
                new.contaminants = now.contaminants;
                t.chemistry = Some(new.with_history(now.area(), now.uses(), now.hot()));
            }
        }
        self.renew(tank as u32);
        self.mark_tank(tank as u32);
    }

    /// Whether a waiting load began as noted: then nothing keeps it.
    pub(super) fn is_pinned(&self, entry: &Waiting) -> bool {
        let Some(follow) = &self.follow else { return false };
        self.task_of(entry.load, entry.step)
            .is_some_and(|task| follow.plan.pinned[task as usize])
    }

    /// Whether a load with everything behind it was ready only later, as noted; it is so then.
    pub(super) fn is_ready_later(&mut self, load: u32) -> bool {
        let lot = self.loads[load].lot as usize;
        let lots = self.follow.as_ref().map(|f| f.plan.lots.as_slice());
        let noted = lots
            .and_then(|l| l.get(lot))
            .map_or(Moment::NEVER, |l| l.past_until);
        let later = noted < Moment::NEVER && noted > self.day.now();
        if later {
            self.day.move_at(noted, Due::Ready(load));
        }
        later
    }

    /// How long the work that begins now goes on, if it was noted when it was over.
    pub(super) fn noted_time(&self, load: u32) -> Option<Span> {
        let follow = self.follow.as_ref()?;
        let task = self.task_of(load, self.loads[load].step)?;
        let over = follow.plan.over[task as usize / 2];
        (over < Moment::NEVER).then(|| (over - self.day.now()).max(Span::ZERO))
    }
}

/// A reading laid over what the bath would read.
pub(super) fn taken(reading: &BathReading, now: &Readings) -> Readings {
    Readings {
        volume: now.volume,
        total_acid: reading.total_acid.unwrap_or(now.total_acid),
        free_acid: reading.free_acid.unwrap_or(now.free_acid),
        iron: reading.iron.unwrap_or(now.iron),
        sludge: reading.sludge.unwrap_or(now.sludge),
    }
}
