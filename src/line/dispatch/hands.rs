//! Hands: what they turn to, lay down and take up again.

use super::{Dispatch, MUST, Pick, Rank};
use crate::day::Due;
use crate::floor::Floor;
use crate::state::{Hand, NONE, Phase};
use tankday_base::shop::{AtBreak, HandsFirst, StationId};
use tankday_base::units::{Moment, Span};
use tankday_record::{Event, Task, TaskKind};

impl Dispatch<'_> {
    /// Hands turn to a task with a load.
    pub(crate) fn take_hand(
        &mut self,
        floor: &mut Floor<'_>,
        hand: u32,
        load: u32,
        kind: TaskKind,
        until: Moment,
    ) {
        let station = StationId(floor.flow[load].station);
        let task = Task {
            kind,
            station,
            load: Some((floor.flow[load].no, floor.flow.step_ref(load))),
            vessel: None,
        };
        floor.flow[load].hand = hand;
        self.take_hand_for(floor, hand, task, until, load);
    }

    pub(crate) fn take_hand_for(
        &mut self,
        floor: &mut Floor<'_>,
        hand: u32,
        task: Task,
        until: Moment,
        load: u32,
    ) {
        self.free_hands -= 1;
        self.hands[hand as usize] = Hand {
            task: Some(task),
            until,
            load,
            at: task.station,
            free_since: floor.day.now(),
        };
        floor.day.note(|| Event::HandsTake { hand, task });
    }

    pub(crate) fn free_hand(&mut self, floor: &mut Floor<'_>, load: u32) {
        let hand = floor.flow[load].hand;
        floor.flow[load].hand = NONE;
        self.release(floor, hand);
    }

    pub(crate) fn release(&mut self, floor: &mut Floor<'_>, hand: u32) {
        self.free_hands += 1;
        if !self.shop.walks.is_none() {
            let h = self.hands[hand as usize];
            let out = h.task.is_some_and(|t| t.kind == TaskKind::TakeOut);
            if h.load != NONE {
                self.hands[hand as usize].at = floor.flow.stands_at(h.load, out);
            }
        }
        self.hands[hand as usize].task = None;
        self.hands[hand as usize].load = NONE;
        self.hands[hand as usize].free_since = floor.day.now();
        floor.day.work_is_over();
        floor.day.note(|| Event::HandsFree { hand });
    }

    /// At a break and at closing every pair of hands lays down what may be laid down.
    pub(crate) fn lay_down_all(&mut self, floor: &mut Floor<'_>) {
        for hand in 0..self.hands.len() as u32 {
            let load = self.hands[hand as usize].load;
            if self.hands[hand as usize].task.is_some() && floor.flow.stops_at_break(load) {
                self.lay_down(floor, load);
            }
        }
    }

    fn lay_down(&mut self, floor: &mut Floor<'_>, load: u32) {
        let again = floor.flow.step_of(load).at_break == AtBreak::StartAgain;
        let now = floor.day.now();
        let l = &mut floor.flow[load];
        l.left = if again { l.planned } else { l.until - now };
        l.phase = Phase::Paused;
        l.asked = now;
        let (no, wake) = (l.no, l.wake.take());
        if wake.and_then(|w| floor.day.cancel(w)).is_some() {
            floor.day.moved();
        }
        floor.day.note(|| Event::WorkPauses { load: no });
        self.free_hand(floor, load);
        self.paused.push(load);
    }

    /// Work that was laid down is taken up again.
    pub(crate) fn resume(&mut self, floor: &mut Floor<'_>, load: u32, hand: u32) {
        let until = floor.day.now() + floor.flow[load].left;
        self.take_hand(floor, hand, load, tankday_record::TaskKind::Work, until);
        let l = &mut floor.flow[load];
        l.phase = Phase::Working;
        l.until = until;
        let no = l.no;
        floor.day.note(|| Event::WorkResumes { load: no });
        let wake = floor.day.move_at(until, Due::Work(load));
        floor.flow[load].wake = Some(wake);
    }

    /// Whether hands are on work that may be laid down for something more pressing.
    pub(super) fn may_interrupt(&self, floor: &Floor<'_>) -> bool {
        self.plan.rules.hands == HandsFirst::Urgent
            && self
                .hands
                .iter()
                .any(|h| h.task.is_some() && floor.flow.may_lay_down(h.load))
    }

    /// The hands that do it: free ones that stand there, free ones, or those that lay their work down for what must not wait.
    pub(crate) fn hand_for(&mut self, floor: &mut Floor<'_>, pick: Pick, rank: Rank) -> Option<u32> {
        let station = self.place_of(floor, pick).filter(|_| !self.shop.walks.is_none());
        if let Some(near) = station.and_then(|s| self.nearest_hand(floor, s)) {
            return Some(near);
        }
        if let Some(free) = self.hands.iter().position(|h| h.task.is_none()) {
            return Some(free as u32);
        }
        if rank.0 != MUST {
            return None;
        }
        let hand = (0..self.hands.len()).find(|&i| floor.flow.may_lay_down(self.hands[i].load))?;
        let load = self.hands[hand].load;
        if floor.flow[load].until - floor.day.now() > Span::ZERO {
            self.lay_down(floor, load);
            return Some(hand as u32);
        }
        None
    }
}
