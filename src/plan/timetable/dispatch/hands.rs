//! Hands and places: until when work goes on, and what is taken and given back.

use super::super::model::{FAR, NOWHERE, Secs, Stage};
use super::{BREACH, BREACH_MINUTE, Dispatcher, Way, Window};

impl Dispatcher<'_> {
    /// When hands are back on duty.
    pub(super) fn back(&self) -> Secs {
        self.t.duty.get(self.duty).map_or(FAR, |d| d.from.max(self.now))
    }

    /// When work is over that begins now.
    pub(super) fn ends(&self, work: Secs, pauses: bool) -> Secs {
        if !pauses {
            return self.now + work;
        }
        let (mut at, mut left, mut d) = (self.now, work, self.duty);
        while let Some(duty) = self.t.duty.get(d) {
            at = at.max(duty.from);
            if at + left <= duty.until {
                return at + left;
            }
            left -= duty.until - at;
            d += 1;
        }
        FAR
    }

    /// Whether what begins now is over before closing, or may be laid down.
    pub(super) fn before_closing(&self, work: Secs, pauses: bool) -> bool {
        pauses
            || self.plain
            || self
                .t
                .duty
                .get(self.duty)
                .is_some_and(|d| self.now + work <= d.closes)
    }

    pub(super) fn take_hands(&mut self, until: Secs) {
        if let Some(free) = self.hands.iter_mut().min() {
            *free = until;
        }
        if !self.plain {
            self.works(until);
        }
    }

    /// Hands work until then: of the day that is today.
    pub(super) fn works(&mut self, until: Secs) {
        let opens = self.t.duty.get(self.duty).map_or(self.today, |d| d.opens);
        if opens > self.today && opens <= self.now {
            self.earlier += (self.worked - self.today).max(0);
            self.today = opens;
        }
        self.worked = self.worked.max(until);
    }

    pub(super) fn room(&self, stage: &Stage, leaves: u8) -> bool {
        let free = |p: u8| p == NOWHERE || p == leaves || self.used[p as usize] < self.t.rooms[p as usize];
        free(stage.place) && stage.passes.iter().all(|p| free(*p))
    }

    /// Whether a place that is taken now, and given back no sooner than `until`, still has room for all that must pass it by
    /// then.
    pub(super) fn keeps_room(&self, stage: &Stage, (lot, until): (u16, Secs)) -> bool {
        let place = stage.place;
        if place == NOWHERE || self.used[place as usize] + 1 < self.t.rooms[place as usize] {
            return true;
        }
        let in_time = |w: &Window| {
            let way = match w.lot {
                true => &self.lots[w.who as usize],
                false => &self.loads[w.who as usize],
            };
            let next = &self.t.stages[way.stage as usize];
            until <= w.hi || (w.lot && w.who == lot) || !(next.place == place || next.passes.contains(&place))
        };
        self.windows.iter().all(in_time)
    }

    /// Takes the place of a stage, gives that of the stage before.
    pub(super) fn moves(&mut self, way: Way, stage: &Stage, end: Secs) -> u8 {
        if way.place != NOWHERE {
            if self.plain || stage.frees <= 0 {
                self.used[way.place as usize] -= 1;
            } else {
                self.leaving.push((self.now + stage.frees, way.place));
            }
        }
        if self.hands.len() > 1 {
            for p in stage.passes {
                if p != NOWHERE {
                    self.used[p as usize] += 1;
                    self.leaving.push((end, p));
                }
            }
        }
        if stage.place != NOWHERE {
            self.used[stage.place as usize] += 1;
            if stage.leaves {
                self.leaving.push((end + stage.least, stage.place));
                return NOWHERE;
            }
        }
        stage.place
    }

    pub(super) fn breach(&mut self, by: Secs) {
        if by > 0 {
            self.day.breaches += 1;
            self.day.cost += BREACH + BREACH_MINUTE * f64::from(by) / 60.0;
        }
    }
}
