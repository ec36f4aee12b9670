//! What would help most: the same days run again with one thing made easier, and what that gains.

mod eased;
mod planned;

pub use eased::{Ease, eased};
pub use planned::{BeyondPlanning, WORTH_NAMING, beyond_planning};
use rayon::prelude::*;
use tankday_base::shop::Shop;
use tankday_base::units::{Moment, Span};
use tankday_record::{Figures, Record};

/// What one easing gains.
#[derive(Debug, Clone, PartialEq)]
pub struct Gain {
    /// What was made easier.
    pub ease: Ease,
    /// By how much earlier the last load is ready; zero if it is not.
    pub earlier: Span,
    /// By how much less all orders together are late; zero where that was not looked at.
    pub less_late: Span,
    /// Orders that get ready and did not before.
    pub more_orders: u32,
    /// By how much less is paid, in the shop's currency; below nothing if it is more. None where there are no prices, or
    /// that was not looked at. What the change itself would cost is not known.
    pub saves: Option<f64>,
}

impl Gain {
    /// What counts first: orders, then lateness, then the end.
    const fn size(&self) -> (u32, Span, Span) {
        (self.more_orders, self.less_late, self.earlier)
    }
}

/// Runs the shop with each thing eased in turn, and ranks what that gains, the best first.
///
/// `run` is the line as a function. More orders that get ready count first, then less lateness, then an earlier end.
pub fn gains(shop: &Shop, before: &Record, run: impl Fn(&Shop) -> Record + Sync) -> Vec<Gain> {
    let before = End::of(shop, before);
    let Some(end) = before.end else {
        return Vec::new();
    };
    let gain = |ease: Ease| {
        let easier = eased(shop, &ease);
        let then = End::of(&easier, &run(&easier));
        let as_many = then.ready >= before.ready;
        let earlier = match then.end {
            Some(sooner) if as_many && sooner < end => end - sooner,
            _ => Span::ZERO,
        };
        let less_late = match before.late - then.late {
            less if as_many => less.max(Span::ZERO),
            _ => Span::ZERO,
        };
        Gain {
            ease,
            earlier,
            less_late,
            more_orders: then.ready.saturating_sub(before.ready),
            saves: before.cost.zip(then.cost).map(|(before, then)| before - then),
        }
    };
    let mut gains: Vec<Gain> = Ease::all(shop).into_par_iter().map(gain).collect();
    gains.sort_by(|a, b| b.size().cmp(&a.size()).then(a.ease.cmp(&b.ease)));
    gains
}

/// How a run ended.
struct End {
    /// Orders that got ready.
    ready: u32,
    /// When the last load did.
    end: Option<Moment>,
    /// How late all orders are together, those that are ready.
    late: Span,
    /// What was paid, if there are prices.
    cost: Option<f64>,
}

impl End {
    fn of(shop: &Shop, record: &Record) -> Self {
        let figures = Figures::of(shop, record);
        Self {
            ready: figures.orders.iter().filter(|o| o.ready.is_some()).count() as u32,
            end: figures.end,
            late: figures.orders.iter().filter_map(|o| o.late()).sum(),
            cost: figures.cost.given.then(|| figures.cost.total()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use tankday_base::units::Power;
    use tankday_record::made::{at, min, shop};
    use tankday_record::{Entry, LoadNo, LogEntry};

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
