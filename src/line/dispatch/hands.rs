//! Hands: what they turn to, lay down and take up again.

use super::{Dispatch, MUST, Pick, Rank};
use crate::day::Event;
use crate::floor::Floor;
use crate::ids::{HandIx, LoadIx};
use crate::state::{Hand, Phase};
use tankday_base::shop::{AtBreak, HandsFirst};
use tankday_base::units::{Moment, Span};
use tankday_record::{LogEntry, Task, TaskKind};

impl Dispatch<'_> {
    /// From now on there are as many pairs of hands as the hours say.
    pub(crate) fn crew_comes(&mut self, floor: &Floor<'_>) {
        self.present = self.shop.hands_at(floor.day.now());
    }

    /// Whether a pair of hands that is there is at no task.
    pub(super) fn any_free(&self) -> bool {
        self.free_hands + self.present > self.plan.hands
    }

    /// Pairs of hands that are there.
    pub(super) fn hands_here(&self) -> impl Iterator<Item = HandIx> + use<> {
        self.hands.ids().take(self.present as usize)
    }

    /// Hands turn to a task with a load.
    pub(crate) fn take_hand(
        &mut self,
        floor: &mut Floor<'_>,
        hand: HandIx,
        load: LoadIx,
        kind: TaskKind,
        until: Moment,
    ) {
        let station = floor.flow[load].station;
        let task = Task {
            kind,
            station,
            load: Some((floor.flow[load].no, floor.flow.step_ref(load))),
            vessel: None,
        };
        floor.flow[load].held.hand = hand;
        self.take_hand_for(floor, hand, task, until, load);
    }

    pub(crate) fn take_hand_for(
        &mut self,
        floor: &mut Floor<'_>,
        hand: HandIx,
        task: Task,
        until: Moment,
        load: LoadIx,
    ) {
        self.free_hands -= 1;
        self.hands[hand] = Hand {
            task: Some(task),
            until,
            load,
            at: task.station,
            free_since: floor.day.now(),
        };
        floor.day.note(|| LogEntry::HandsTake { hand: hand.0, task });
    }

    pub(crate) fn free_hand(&mut self, floor: &mut Floor<'_>, load: LoadIx) {
        let hand = floor.flow[load].held.hand;
        floor.flow[load].held.hand = HandIx::NONE;
        self.release(floor, hand);
    }

    pub(crate) fn release(&mut self, floor: &mut Floor<'_>, hand: HandIx) {
        self.free_hands += 1;
        if !self.shop.walks.is_none() {
            let h = self.hands[hand];
            let out = h.task.is_some_and(|t| t.kind == TaskKind::TakeOut);
            if h.load != LoadIx::NONE {
                self.hands[hand].at = floor.flow.stands_at(h.load, out);
            }
        }
        self.hands[hand].task = None;
        self.hands[hand].load = LoadIx::NONE;
        self.hands[hand].free_since = floor.day.now();
        floor.day.work_is_over();
        floor.day.note(|| LogEntry::HandsFree { hand: hand.0 });
    }

    /// At a break and at closing every pair of hands lays down what may be laid down.
    pub(crate) fn lay_down_all(&mut self, floor: &mut Floor<'_>) {
        for hand in self.hands.ids() {
            let load = self.hands[hand].load;
            if self.hands[hand].task.is_some() && floor.flow.stops_at_break(load) {
                self.lay_down(floor, load);
            }
        }
    }

    fn lay_down(&mut self, floor: &mut Floor<'_>, load: LoadIx) {
        let again = floor.flow.step_of(load).at_break == AtBreak::StartAgain;
        let now = floor.day.now();
        let l = &mut floor.flow[load];
        l.times.left = if again {
            l.times.planned
        } else {
            l.times.until - now
        };
        l.phase = Phase::Paused;
        l.times.asked = now;
        let (no, completion) = (l.no, l.held.completion.take());
        if completion.and_then(|w| floor.day.cancel(w)).is_some() {
            floor.day.moved();
        }
        floor.day.note(|| LogEntry::WorkPauses { load: no });
        self.free_hand(floor, load);
        self.paused.push(load);
    }

    /// Work that was laid down is taken up again.
    pub(crate) fn resume(&mut self, floor: &mut Floor<'_>, load: LoadIx, hand: HandIx) {
        let until = floor.day.now() + floor.flow[load].times.left;
        self.take_hand(floor, hand, load, tankday_record::TaskKind::Work, until);
        let l = &mut floor.flow[load];
        l.phase = Phase::Working;
        l.times.until = until;
        let no = l.no;
        floor.day.note(|| LogEntry::WorkResumes { load: no });
        let completion = floor.day.move_at(until, Event::Work(load));
        floor.flow[load].held.completion = Some(completion);
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
    pub(crate) fn hand_for(&mut self, floor: &mut Floor<'_>, pick: Pick, rank: Rank) -> Option<HandIx> {
        let walked = self.any_free() && !self.shop.walks.is_none();
        let station = self.place_of(floor, pick).filter(|_| walked);
        if let Some(near) = station.and_then(|s| self.nearest_hand(floor, s)) {
            return Some(near);
        }
        if self.any_free()
            && let Some(free) = self.hands_here().find(|h| self.hands[*h].task.is_none())
        {
            return Some(free);
        }
        if rank.0 != MUST {
            return None;
        }
        let mut hands = self.hands.ids();
        let hand = hands.find(|&h| floor.flow.may_lay_down(self.hands[h].load))?;
        let load = self.hands[hand].load;
        if floor.flow[load].times.until - floor.day.now() > Span::ZERO {
            self.lay_down(floor, load);
            return Some(hand);
        }
        None
    }
}
