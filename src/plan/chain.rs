//! What a load goes through, task by task, with the least and the most time of each: what the planner reckons with when
//! it looks for a place for one load among all others. The line judges afterwards.

use super::gaps::FAR;
use super::model::{NONE, SearchContext};
use tankday_base::shop::{Hands, StationId, StepIx, StepTime};
use tankday_base::units::{Moment, Span};

/// One step of a load.
#[derive(Debug, Clone)]
pub(super) struct Op {
    /// Its start; the next number is its taking out.
    pub(super) task: u32,
    /// Hands at the start, for so long; zero without.
    pub(super) put: i64,
    /// From the end of putting in to the earliest taking out, and to the latest.
    pub(super) least: i64,
    pub(super) most: i64,
    /// Hands at the end, for so long; zero without.
    pub(super) take: i64,
    /// Longest wait between the step before and this.
    pub(super) within: i64,
    /// Hands all the time.
    pub(super) throughout: bool,
    /// In a bath.
    pub(super) coats: bool,
    /// Where it is done, by the first station of the line, and how many loads find room there.
    pub(super) place: StationId,
    pub(super) room: u32,
    /// Where hands stand after taking out.
    pub(super) next: StationId,
}

impl SearchContext<'_> {
    /// The steps of a load that matter, its head named first: those before its bath, or from its bath on.
    pub(super) fn ops(&self, lots: &[u32], in_bath: bool, tank: u32) -> Vec<Op> {
        let Some(&lot) = lots.first() else {
            return Vec::new();
        };
        let planned = &self.blank.lots[lot as usize];
        let steps: Vec<u32> = (0..planned.steps)
            .filter(|s| planned.passes(*s) && !self.follows(lot))
            .filter(|s| !self.blank.pinned[self.blank.task(lot, *s) as usize])
            .collect();
        let part_of = |s: u32| planned.bath_step.is_some_and(|b| s >= b) == in_bath;
        let mut ops: Vec<Op> = Vec::with_capacity(steps.len());
        for (i, &s) in steps.iter().enumerate().filter(|s| part_of(*s.1)) {
            let mut op = self.op(lots, s, tank);
            op.next = steps
                .get(i + 1)
                .and_then(|&n| self.blank.stations_of(self.line, lot, n).first().copied())
                .unwrap_or(op.place);
            ops.push(op);
        }
        ops
    }

    fn op(&self, lots: &[u32], s: u32, tank: u32) -> Op {
        let lot = lots.first().copied().unwrap_or(0);
        let step = self.step(lot, s);
        let stations = self.blank.stations_of(self.line, lot, s);
        let place = match &step.time {
            StepTime::Coat if tank != NONE => StationId(tank),
            _ => stations.first().copied().unwrap_or(StationId(0)),
        };
        let here = |id: &&StationId| match &step.time {
            StepTime::Coat if tank != NONE => **id == place,
            _ => true,
        };
        let room = stations.iter().filter(here).map(|id| {
            let at = &self.shop.stations[id.index()];
            at.places.saturating_mul(at.together.max(1))
        });
        let (least, most) = self.stay(lots, lot, s);
        let ends = step.hands == Hands::Ends;
        let micros = |t: Span| if ends { t.in_micros() } else { 0 };
        let within = if step.at_once {
            0
        } else {
            step.within.map_or(FAR, Span::in_micros)
        };
        Op {
            task: self.blank.task(lot, s),
            put: micros(step.put_in),
            least,
            most,
            take: micros(step.take_out),
            within,
            throughout: step.hands == Hands::Throughout,
            coats: matches!(step.time, StepTime::Coat),
            place,
            room: room.fold(0, u32::saturating_add),
            next: place,
        }
    }

    /// From the end of putting in to the earliest taking out, and to the latest; in a bath as long as each of the load
    /// needs and none may be longer.
    fn stay(&self, lots: &[u32], lot: u32, s: u32) -> (i64, i64) {
        let all = || lots.iter().map(|&l| l as usize);
        let step = self.step(lot, s);
        let longest = self.longest(lot, s).map_or(FAR, Span::in_micros).min(FAR);
        let route = &self.shop.routes[self.blank.lots[lot as usize].route as usize];
        let lies = route.lies_at_most(StepIx(s)).map_or(FAR, Span::in_micros);
        match &step.time {
            StepTime::Work { load, each } => {
                let pieces: u32 = all().map(|l| self.blank.lots[l].pieces).sum();
                let least = (load.mean() + each.times(f64::from(pieces))).in_micros();
                let fixed = step.hands == Hands::Throughout;
                let longest = longest.max(least).min(least.saturating_add(lies));
                (least, if fixed { least } else { longest })
            }
            StepTime::Coat => {
                let least = all().map(|l| self.dwell[l].in_micros()).max().unwrap_or(0);
                let own = all().map(|l| self.blank.lots[l].window.1.in_micros()).min();
                (least, own.map_or(longest, |own| own.min(longest)).max(least))
            }
        }
    }

    /// When a lot is there.
    pub(super) fn there(&self, lot: u32) -> i64 {
        let order = self.blank.lots[lot as usize].order as usize;
        match self.shop.orders[order].arrival {
            tankday_base::shop::Arrival::At(at) => at.max(self.opens()).max(self.now).in_micros(),
            _ => 0,
        }
    }

    pub(super) fn opens(&self) -> Moment {
        self.shop.calendar.days.first().map_or(Moment::ZERO, |d| d.open)
    }

    /// When no hands work: before opening, in breaks, between days.
    pub(super) fn off_hours(&self) -> Vec<(i64, i64)> {
        let mut off = Vec::new();
        let mut since = i64::MIN / 8;
        for day in &self.shop.calendar.days {
            off.push((since, day.open.in_micros()));
            off.extend(
                day.breaks
                    .iter()
                    .map(|b| (b.from.in_micros(), b.until.in_micros())),
            );
            since = day.close.in_micros().min(FAR);
        }
        off
    }
}
