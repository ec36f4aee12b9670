//! When hands may begin something, and how much time of a resource has passed at a moment.

use tankday_base::shop::{Hands, HandsFirst, Shop, StepTime};
use tankday_base::units::{Moment, Span};

/// Why hands are not on duty.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Off {
    /// Before the first opening.
    NotYet,
    Break,
    /// From closing to the next opening.
    Closed,
}

/// How far work that has begun may reach into a stretch in which none begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Overrun {
    pub(super) break_by: Span,
    pub(super) closed_by: Span,
}

impl Overrun {
    /// The larger of both, each by itself.
    pub(super) fn max(self, other: Self) -> Self {
        Self {
            break_by: self.break_by.max(other.break_by),
            closed_by: self.closed_by.max(other.closed_by),
        }
    }

    /// The same into breaks and into the night.
    pub(super) const fn of(by: Span) -> Self {
        Self {
            break_by: by,
            closed_by: by,
        }
    }
}

/// The hours of hands. What lies after the last closing counts as if they went on: bounds are for plans that get
/// everything ready.
pub(super) struct Hours {
    off: Vec<(Moment, Moment, Off)>,
    open: Moment,
    /// Whether a load can be in a bath before anybody has come.
    early: bool,
    /// Whether hands may begin what goes on after closing: only where nobody looks at the clock.
    in_order_asked: bool,
}

impl Hours {
    pub(super) fn of(shop: &Shop) -> Self {
        let mut off = Vec::new();
        let mut since = (Moment::ZERO, Off::NotYet);
        for day in &shop.calendar.days {
            off.push((since.0, day.open, since.1));
            off.extend(day.breaks.iter().map(|b| (b.from, b.until, Off::Break)));
            since = (day.close, Off::Closed);
        }
        off.retain(|o| o.0 < o.1);
        let steps = shop.routes.iter().flat_map(|r| &r.steps);
        let alone = |s: &tankday_base::shop::Step| {
            s.time == StepTime::Coat && (s.hands != Hands::Ends || s.put_in <= Span::ZERO)
        };
        Self {
            off,
            open: shop.calendar.days.first().map_or(Moment::ZERO, |d| d.open),
            early: steps.into_iter().any(alone),
            in_order_asked: shop.rules.hands == HandsFirst::InOrderAsked,
        }
    }

    /// The first moment from then on at which hands may begin what can wait.
    pub(super) fn begin(&self, at: Moment) -> Moment {
        let next = self.off.partition_point(|o| o.1 <= at);
        match self.off.get(next) {
            Some(o) if o.0 <= at => o.1,
            _ => at,
        }
    }

    /// The first moment from then on at which hands may do what must not wait: in breaks and at night, too.
    pub(super) fn begin_urgent(&self, at: Moment) -> Moment {
        if self.early { at } else { at.max(self.open) }
    }

    /// When work is over that is laid down in every break and at closing.
    pub(super) fn with_pauses(&self, begun: Moment, work: Span) -> Moment {
        let (mut at, mut left) = (self.begin(begun), work);
        let next = self.off.partition_point(|o| o.1 <= at);
        for o in self.off.get(next..).unwrap_or_default() {
            if at + left <= o.0 {
                break;
            }
            left -= o.0 - at;
            at = o.1;
        }
        at + left
    }

    /// The time in which work that can wait may be done, if what has begun may reach so far into breaks and nights.
    pub(super) fn on_duty(&self, overrun: Overrun) -> Clock {
        let by = |off: Off| match off {
            Off::NotYet => Span::ZERO,
            Off::Break => overrun.break_by,
            Off::Closed if self.in_order_asked => overrun.break_by.max(overrun.closed_by),
            Off::Closed => overrun.closed_by,
        };
        let left = self.off.iter().map(|o| (o.0 + by(o.2), o.1));
        Clock::without(left.filter(|o| o.0 < o.1))
    }
}

/// Time that passes for a resource: all but some stretches.
pub(super) struct Clock {
    /// Stretches that do not count, in order, and what has passed when each begins.
    off: Vec<(Moment, Moment, Span)>,
}

impl Clock {
    /// All time counts.
    pub(super) const fn always() -> Self {
        Self { off: Vec::new() }
    }

    fn without(stretches: impl Iterator<Item = (Moment, Moment)>) -> Self {
        let mut lost = Span::ZERO;
        let counted = stretches.map(|(from, until)| {
            let passed = from - Moment::ZERO - lost;
            lost += until - from;
            (from, until, passed)
        });
        Self {
            off: counted.collect(),
        }
    }

    /// What has passed by then.
    pub(super) fn passed(&self, at: Moment) -> Span {
        let next = self.off.partition_point(|o| o.1 <= at);
        let lost = match next.checked_sub(1).and_then(|i| self.off.get(i)) {
            Some(o) => o.1 - Moment::ZERO - o.2,
            None => Span::ZERO,
        };
        let all = at - Moment::ZERO - lost;
        self.off.get(next).map_or(all, |o| all.min(o.2))
    }

    /// The first moment by which so much has passed.
    pub(super) fn moment(&self, passed: Span) -> Moment {
        let next = self.off.partition_point(|o| o.2 < passed);
        let lost = match next.checked_sub(1).and_then(|i| self.off.get(i)) {
            Some(o) => o.1 - Moment::ZERO - o.2,
            None => Span::ZERO,
        };
        Moment::ZERO + passed + lost
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(minutes: i64) -> Moment {
        Moment::ZERO + Span::whole_minutes(minutes)
    }

    fn day() -> Hours {
        Hours {
            off: vec![
                (at(0), at(60), Off::NotYet),
                (at(120), at(150), Off::Break),
                (at(200), at(300), Off::Closed),
            ],
            open: at(60),
            early: false,
            in_order_asked: false,
        }
    }

    #[test]
    fn work_begins_on_duty_and_is_laid_down_in_breaks() {
        let min = Span::whole_minutes;
        let day = day();
        assert_eq!(
            [0, 60, 119, 120, 149, 150].map(|t| day.begin(at(t))),
            [60, 60, 119, 150, 150, 150].map(at)
        );
        assert_eq!(day.with_pauses(at(0), min(60)), at(120));
        assert_eq!(day.with_pauses(at(0), min(61)), at(151));
        assert_eq!(day.with_pauses(at(130), min(51)), at(301));
        assert_eq!(day.begin_urgent(at(10)), at(60));
        assert_eq!(day.begin_urgent(at(130)), at(130));
    }

    #[test]
    fn a_clock_leaves_out_what_does_not_count() {
        let min = Span::whole_minutes;
        let clock = day().on_duty(Overrun {
            break_by: min(10),
            closed_by: min(200),
        });
        assert_eq!(clock.passed(at(30)), min(0));
        assert_eq!(clock.passed(at(125)), min(65));
        assert_eq!(clock.passed(at(140)), min(70));
        assert_eq!(clock.passed(at(250)), min(170));
        for passed in [1, 69, 70, 71, 200] {
            assert_eq!(clock.passed(clock.moment(min(passed))), min(passed));
        }
        assert_eq!(clock.moment(min(70)), at(130));
        assert_eq!(clock.moment(min(71)), at(151));
        assert_eq!(Clock::always().moment(min(7)), at(7));
    }
}
