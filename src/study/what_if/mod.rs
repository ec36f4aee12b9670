//! What would help most: the same days run again with one thing made easier, and what that gains.

mod eased;
mod planned;

pub use eased::{Ease, eased};
pub use planned::{BeyondPlanning, WORTH_NAMING, beyond_planning};
use rayon::prelude::*;
use tankday_base::shop::Shop;
use tankday_base::units::{Moment, Span};
use tankday_record::{LogEntry, Record};

/// What one easing gains.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Gain {
    /// What was made easier.
    pub ease: Ease,
    /// By how much earlier the last load is ready; zero if it is not.
    pub earlier: Span,
    /// By how much less all orders together are late; zero where that was not looked at.
    pub less_late: Span,
    /// Orders that get ready and did not before.
    pub more_orders: u32,
}

impl Gain {
    /// What counts first: orders, then lateness, then the end.
    const fn size(&self) -> (u32, Span, Span) {
        (self.more_orders, self.less_late, self.earlier)
    }
}

/// How a run ended: orders that got ready, and when the last load did.
type End = (u32, Option<Moment>);

/// Runs the shop with each thing eased in turn, and ranks what that gains, the best first.
///
/// `run` is the line as a function. The gains are those of the last load that is ready; where more orders get ready
/// than before, that counts first.
pub fn gains(shop: &Shop, before: &Record, run: impl Fn(&Shop) -> Record + Sync) -> Vec<Gain> {
    let (ready, Some(end)) = end_of(before) else {
        return Vec::new();
    };
    let gain = |ease: Ease| {
        let (more, sooner) = end_of(&run(&eased(shop, &ease)));
        let earlier = match sooner {
            Some(sooner) if more >= ready && sooner < end => end - sooner,
            _ => Span::ZERO,
        };
        Gain {
            ease,
            earlier,
            less_late: Span::ZERO,
            more_orders: more.saturating_sub(ready),
        }
    };
    let mut gains: Vec<Gain> = Ease::all(shop).into_par_iter().map(gain).collect();
    gains.sort_by(|a, b| b.size().cmp(&a.size()).then(a.ease.cmp(&b.ease)));
    gains
}

fn end_of(record: &Record) -> End {
    let mut end = None;
    let mut ready = 0u32;
    for entry in &record.entries {
        match entry.event {
            LogEntry::LoadReady { .. } => end = Some(entry.at),
            LogEntry::OrderReady { .. } => ready += 1,
            _ => {}
        }
    }
    (ready, end)
}

#[cfg(test)]
mod tests {
    use super::*;
    use tankday_base::units::Power;
    use tankday_record::made::{at, min, shop};
    use tankday_record::{Entry, LoadNo};

    /// A line that takes an hour for heating with 2.5 kW and 20 min for blasting, and nothing else.
    fn made_up_line(shop: &Shop) -> Record {
        let power = shop
            .tanks()
            .next()
            .map_or(Power::ZERO, |(_, _, t)| t.heater.power);
        let heat = min(60).times(Power::kilowatts(2.5) / power);
        let blast = match &shop.routes[0].steps[0].time {
            tankday_base::shop::StepTime::Work {
                load: tankday_base::random::Spread::Fixed(span),
                ..
            } => *span,
            other => panic!("{other:?}"),
        };
        let when = at(7, 30) + heat + blast;
        Record {
            entries: vec![Entry {
                at: when,
                event: LogEntry::LoadReady { load: LoadNo(0) },
            }],
        }
    }

    #[test]
    fn the_largest_gain_comes_first() {
        let shop = shop();
        let gains = gains(&shop, &made_up_line(&shop), made_up_line);
        assert_eq!(gains[0].ease, Ease::StrongerHeaters);
        assert_eq!(gains[0].earlier, min(30));
        assert_eq!(gains[1].ease, Ease::StepInHalf("blast".into()));
        assert_eq!(gains[1].earlier, min(10));
        assert!(gains[2..].iter().all(|g| g.earlier == Span::ZERO));
    }

    #[test]
    fn every_easing_changes_the_shop() {
        let shop = shop();
        let all = Ease::all(&shop);
        assert!(all.len() >= 8, "{all:?}");
        for ease in all {
            assert_ne!(eased(&shop, &ease), shop, "{ease:?}");
        }
    }
}
