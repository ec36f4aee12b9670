//! Hands and hours: opening, breaks, closing, laying work down and taking it up.

use super::engine::{Due, Engine};
use super::shifts::Mark;
use super::start::{MUST, Rank};
use super::state::Phase;
use tankday_base::shop::{AtBreak, Hands, HandsFirst};
use tankday_base::units::Span;
use tankday_record::Event;

impl Engine<'_> {
    pub(super) fn hours_due(&mut self) {
        let Some(mark) = self.day.pass_mark() else {
            return;
        };
        if !self.day.on_duty() {
            self.lay_down_all();
        }
        match mark {
            Mark::Opens => {
                self.baths.tanks_at_opening(&mut self.day);
                self.baths.rinses_at_opening(&self.day);
            }
            Mark::Closes => self.baths.tanks_at_closing(&mut self.day),
            _ => self.baths.tanks_looked_at(&mut self.day),
        }
    }

    /// At a break and at closing every pair of hands lays down what may be laid down.
    fn lay_down_all(&mut self) {
        for hand in 0..self.hands.len() as u32 {
            let load = self.hands[hand as usize].load;
            if self.hands[hand as usize].task.is_some() && self.stops_at_break(load) {
                self.lay_down(load);
            }
        }
    }

    fn stops_at_break(&self, load: u32) -> bool {
        if load == super::state::NONE || self.loads[load].phase != Phase::Working {
            return false;
        }
        let step = self.step_of(load);
        step.hands == Hands::Throughout && step.at_break != AtBreak::FinishFirst && !step.wet()
    }

    fn lay_down(&mut self, load: u32) {
        let again = self.step_of(load).at_break == AtBreak::StartAgain;
        let now = self.day.now();
        let l = &mut self.loads[load];
        l.left = if again { l.planned } else { l.until - now };
        l.phase = Phase::Paused;
        l.asked = now;
        let (no, wake) = (l.no, l.wake.take());
        if wake.and_then(|w| self.day.cancel(w)).is_some() {
            self.day.moved();
        }
        self.day.note(|| Event::WorkPauses { load: no });
        self.free_hand(load);
        self.paused.push(load);
    }

    /// Work that was laid down is taken up again.
    pub(super) fn resume(&mut self, load: u32, hand: u32) {
        let until = self.day.now() + self.loads[load].left;
        self.take_hand(hand, load, tankday_record::TaskKind::Work, until);
        let l = &mut self.loads[load];
        l.phase = Phase::Working;
        l.until = until;
        let no = l.no;
        self.day.note(|| Event::WorkResumes { load: no });
        let wake = self.day.move_at(until, Due::Work(load));
        self.loads[load].wake = Some(wake);
    }

    /// Whether hands are on work that may be laid down for something more pressing.
    pub(super) fn may_interrupt(&self) -> bool {
        self.plan.rules.hands == HandsFirst::Urgent
            && self
                .hands
                .iter()
                .any(|h| h.task.is_some() && self.may_lay_down(h.load))
    }

    /// The hands that do it: free ones, or those that lay their work down for what must not wait.
    pub(super) fn hand_for(&mut self, rank: Rank) -> Option<u32> {
        if let Some(free) = self.hands.iter().position(|h| h.task.is_none()) {
            return Some(free as u32);
        }
        if rank.0 != MUST {
            return None;
        }
        let hand = (0..self.hands.len()).find(|&i| self.may_lay_down(self.hands[i].load))?;
        let load = self.hands[hand].load;
        if self.loads[load].until - self.day.now() > Span::ZERO {
            self.lay_down(load);
            return Some(hand as u32);
        }
        None
    }
}
