//! Loads that must be out of their bath before a break that nobody stays for (`baths/away.rs`).

use super::baths::Together;
use super::engine::Engine;
use super::state::Waiting;
use tankday_base::units::{Moment, Span};
use tankday_record::{Breach, Event};

const MINUTE: i64 = 60_000_000;

impl Engine<'_> {
    /// Whether a load that goes in now with its company is out again before nobody is there. One that could never be is not
    /// kept back.
    pub(super) fn out_in_time(&self, tank: u32, line: u32, entry: &Waiting) -> bool {
        let Some(from) = self.day.out_before() else {
            return true;
        };
        let step = self.plan_of(entry);
        let hands = step.put_in + step.take_out;
        let left = from - self.day.now() - hands;
        let longest = self.baths.longest_stretch(tank).unwrap_or_default();
        let most = self
            .baths
            .most_dwell(tank)
            .min(self.loads[entry.load].cargo.window.1);
        if most <= left {
            return true;
        }
        let least = self.baths.expected_dwell(tank, &self.loads[entry.load].cargo);
        if least > left {
            return least + hands > longest;
        }
        let stay = self.foreseen(tank, line, entry);
        stay <= left || stay + hands > longest
    }

    /// Until when a load may wait for company if it is to be out before nobody is there.
    pub(super) fn waits_at_most(&self, tank: u32, line: u32, entry: &Waiting, until: Moment) -> Moment {
        let Some(from) = self.day.out_before() else {
            return until;
        };
        let step = self.plan_of(entry);
        let hands = step.put_in + step.take_out;
        let most = self
            .baths
            .most_dwell(tank)
            .min(self.loads[entry.load].cargo.window.1);
        if until + hands + most <= from {
            return until;
        }
        let last = from - hands - self.foreseen(tank, line, entry);
        // To the whole minute, so that it does not move each time that it is asked for.
        let last = Moment::micros(last.in_micros().div_euclid(MINUTE) * MINUTE);
        if last < self.day.now() {
            until
        } else {
            until.min(last)
        }
    }

    /// How long a load would stay that went in now with its company, at most.
    fn foreseen(&self, tank: u32, line: u32, entry: &Waiting) -> Span {
        let cargo = |load: u32| &self.loads[load].cargo;
        let mut with = Together::of(cargo(entry.load));
        for other in &self.lines[line as usize].0 {
            if let Some(sum) = self.company(tank, entry, other, with.bulk) {
                with.add(cargo(other.load));
                with.bulk = sum;
            }
        }
        let others = self.lines[line as usize].0.iter();
        let others = others.filter(|o| o.load != entry.load);
        let joined = others.filter(|o| self.company(tank, entry, o, [0.0; 3]).is_some());
        let loads = std::iter::once(entry.load).chain(joined.map(|o| o.load));
        self.baths.longest_dwell(tank, &with, loads.map(cargo))
    }

    /// A load is being lifted: says so if a break began while it was in that nobody stays for.
    pub(super) fn told_of_break(&mut self, load: u32) {
        let (step, begun) = (self.step_of(load), self.loads[load].begun);
        let (set_in, out) = (begun - step.put_in, self.day.now() + step.take_out);
        let Some(first) = self.day.first_break_within(set_in, out) else {
            return;
        };
        let (by, no, step) = (out - first.from, self.loads[load].no, self.step_ref(load));
        self.day.note(|| Event::Breaks {
            load: no,
            step,
            what: Breach::InAtBreak { by },
        });
    }
}
