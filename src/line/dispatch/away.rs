//! Loads that must be out of their bath before a break that nobody stays for (`baths/away.rs`).

use super::Dispatch;
use crate::cargo::Together;
use crate::floor::Floor;
use crate::ids::{LineIx, LoadIx, TankIx};
use crate::state::Waiting;
use tankday_base::units::{Moment, Span};

const MINUTE: i64 = 60_000_000;

impl Dispatch<'_> {
    /// Whether a load that goes in now with its company is out again before nobody is there. One that could never be is not
    /// kept back.
    pub(super) fn out_in_time(&self, floor: &Floor<'_>, tank: TankIx, line: LineIx, entry: &Waiting) -> bool {
        let Some(from) = floor.day.out_before() else {
            return true;
        };
        let step = floor.flow.plan_of(entry);
        let hands = step.put_in + step.take_out;
        let left = from - floor.day.now() - hands;
        let longest = floor.baths.longest_stretch(tank).unwrap_or_default();
        let most = floor
            .baths
            .most_dwell(tank)
            .min(floor.flow[entry.load].cargo.window.1);
        if most <= left {
            return true;
        }
        let least = floor.baths.expected_dwell(tank, &floor.flow[entry.load].cargo);
        if least > left {
            return least + hands > longest;
        }
        let stay = self.foreseen(floor, tank, line, entry);
        stay <= left || stay + hands > longest
    }

    /// Until when a load may wait for company if it is to be out before nobody is there.
    pub(super) fn waits_at_most(
        &self,
        floor: &Floor<'_>,
        tank: TankIx,
        line: LineIx,
        entry: &Waiting,
        until: Moment,
    ) -> Moment {
        let Some(from) = floor.day.out_before() else {
            return until;
        };
        let step = floor.flow.plan_of(entry);
        let hands = step.put_in + step.take_out;
        let most = floor
            .baths
            .most_dwell(tank)
            .min(floor.flow[entry.load].cargo.window.1);
        if until + hands + most <= from {
            return until;
        }
        let last = from - hands - self.foreseen(floor, tank, line, entry);
        // To the whole minute, so that it does not move each time that it is asked for.
        let last = Moment::micros(last.in_micros().div_euclid(MINUTE) * MINUTE);
        if last < floor.day.now() {
            until
        } else {
            until.min(last)
        }
    }

    /// How long a load would stay that went in now with its company, at most.
    fn foreseen(&self, floor: &Floor<'_>, tank: TankIx, line: LineIx, entry: &Waiting) -> Span {
        let cargo = |load: LoadIx| &floor.flow[load].cargo;
        let mut with = Together::of(cargo(entry.load));
        for other in &self.lines[line].0 {
            if let Some(sum) = self.company(floor, tank, entry, other, with.bulk) {
                with.add(cargo(other.load));
                with.bulk = sum;
            }
        }
        let others = self.lines[line].0.iter();
        let others = others.filter(|o| o.load != entry.load);
        let joined = others.filter(|o| self.company(floor, tank, entry, o, [0.0; 3]).is_some());
        let loads = std::iter::once(entry.load).chain(joined.map(|o| o.load));
        floor.baths.longest_dwell(tank, &with, loads.map(cargo))
    }
}
