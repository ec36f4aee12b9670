//! The stages of a timetable: steps under hands that follow each other at once or within a few minutes are one piece of
//! work, since nothing else finds room between them.

use super::compile::{Begins, secs};
use super::model::{FAR, NOWHERE, Secs, Stage};
use crate::chain::Op;
use crate::model::{NONE, SearchContext};
use tankday_base::shop::{SHORT_WAIT, StationId, StepTime};
use tankday_base::units::Span;

/// The stages of a way through the shop while they are put together.
#[derive(Default)]
pub(super) struct Stages {
    pub(super) stages: Vec<Stage>,
    pub(super) begins: Vec<Vec<Begins>>,
}

impl Stages {
    fn begin(&mut self, work: Secs, each: u32, hands: bool) {
        self.stages.push(Stage {
            work,
            each,
            hands,
            frees: 0,
            place: NOWHERE,
            leaves: false,
            passes: [NOWHERE; 3],
            least: 0,
            most: FAR,
            pauses: false,
        });
        self.begins.push(Vec::new());
    }

    fn tell(&mut self, step: u32, out: bool, after: Secs) {
        if let Some(last) = self.begins.last_mut() {
            last.push(Begins { step, out, after });
        }
    }

    /// The longest wait before what comes next.
    fn waits(&mut self, most: Secs) {
        if let Some(last) = self.stages.last_mut()
            && last.place == NOWHERE
        {
            last.most = last.most.min(last.least.saturating_add(most)).min(FAR);
        }
    }
}
impl SearchContext<'_> {
    /// The stages of a lot before its bath, or from its bath on.
    pub(super) fn stages(
        &self,
        l: u32,
        in_bath: bool,
        all: &mut Stages,
        places: &mut Places<'_>,
    ) -> Option<(u16, u16)> {
        let from = all.stages.len();
        let ops = self.ops(&[l], in_bath, NONE);
        for (i, op) in ops.iter().enumerate() {
            self.stage(op, l, i == 0, all, places, from);
        }
        Some((u16::try_from(from).ok()?, u16::try_from(all.stages.len()).ok()?))
    }

    fn stage(&self, op: &Op, l: u32, first: bool, all: &mut Stages, places: &mut Places<'_>, from: usize) {
        let step = self.owner[op.task as usize].1;
        let at = self.step(l, step);
        let own = all.stages.len() > from;
        let short = op.within <= SHORT_WAIT.in_micros() && own && !first;
        let place = if op.coats { NOWHERE } else { places.of(op) };
        if op.throughout {
            let (work, each) = match &at.time {
                StepTime::Work { load, each } => (load.mean(), *each),
                StepTime::Coat => (Span::micros(op.least), Span::ZERO),
            };
            let (work, each) = (secs(work.in_micros()), (each.in_micros() / 1_000) as u32);
            self.throughout(step, (work, each, op.within), short, place, all);
            if let Some(last) = all.stages.last_mut() {
                last.pauses = at.at_break != tankday_base::shop::AtBreak::FinishFirst && !short;
            }
            return;
        }
        let ends = at.hands == tankday_base::shop::Hands::Ends;
        if own && !first {
            all.waits(secs(op.within));
        }
        if ends {
            let at_once = own && !first && op.within <= 0;
            let offset = if at_once {
                all.stages.last().map_or(0, |s| s.work)
            } else {
                0
            };
            if at_once {
                if let Some(last) = all.stages.last_mut() {
                    last.work += secs(op.put);
                    last.most = FAR;
                }
            } else {
                all.begin(secs(op.put), 0, true);
            }
            all.tell(step, false, offset);
            if let Some(last) = all.stages.last_mut() {
                last.place = place;
                last.least = secs(op.least);
                last.most = if op.most >= crate::gaps::FAR {
                    FAR
                } else {
                    secs(op.most)
                };
            }
            all.begin(secs(op.take), 0, true);
            all.tell(step, true, 0);
            if let Some(last) = all.stages.last_mut() {
                last.frees = secs(op.take);
            }
            return;
        }
        let room_for_all = op.room >= self.lots() as u32;
        if own
            && room_for_all
            && let Some(last) = all.stages.last_mut()
            && last.place == NOWHERE
        {
            // By itself, with room for all: a wait.
            let after = last.work + last.least;
            last.least += secs(op.least);
            last.most = FAR;
            all.tell(step, false, after);
            return;
        }
        all.begin(0, 0, false);
        all.tell(step, false, 0);
        if let Some(last) = all.stages.last_mut() {
            last.least = secs(op.least);
            if !room_for_all {
                last.place = place;
                last.leaves = true;
            }
        }
    }

    fn throughout(
        &self,
        step: u32,
        (work, each, within): (Secs, u32, i64),
        short: bool,
        place: u8,
        all: &mut Stages,
    ) {
        let joins = short
            && all
                .stages
                .last()
                .is_some_and(|s| s.hands && s.place == NOWHERE && s.least == 0);
        if !joins {
            all.waits(secs(within));
            all.begin(work, each, true);
            all.tell(step, false, 0);
        } else if let Some(last) = all.stages.last_mut() {
            let offset = last.work;
            last.work += work;
            last.each += each;
            all.tell(step, false, offset);
        }
        if let Some(last) = all.stages.last_mut()
            && let Some(p) = last.passes.iter_mut().find(|p| **p == NOWHERE)
        {
            *p = place;
        }
    }
}

/// Places by their first station.
pub(super) struct Places<'w> {
    world: &'w SearchContext<'w>,
    stations: Vec<StationId>,
    pub(super) rooms: Vec<u32>,
}

impl<'w> Places<'w> {
    pub(super) fn new(world: &'w SearchContext<'w>) -> Self {
        Self {
            world,
            stations: Vec::new(),
            rooms: Vec::new(),
        }
    }

    /// The number of a place; nowhere, where there is room for all.
    fn of(&mut self, op: &Op) -> u8 {
        if op.room as usize >= self.world.lots() {
            return NOWHERE;
        }
        let at = self
            .stations
            .iter()
            .position(|s| *s == op.place)
            .unwrap_or_else(|| {
                self.stations.push(op.place);
                self.rooms.push(op.room);
                self.stations.len() - 1
            });
        u8::try_from(at).unwrap_or(NOWHERE)
    }
}
