//! Orders on every day reckoned: when ready, how sure.

use tankday_base::print::Replication;
use tankday_base::shop::Shop;
use tankday_base::units::{Moment, Span};
use tankday_record::{Figures, OrderFigure};
use tankday_study::{Chance, Study, Sure};

/// One order and its days.
#[derive(Debug, Clone, PartialEq)]
pub struct PromiseLine {
    /// Its name.
    pub id: String,
    /// What it is of.
    pub part: String,
    /// When it was promised; none if it was not.
    pub due: Option<Moment>,
    /// When it is ready, on every day reckoned; none on days when it is not.
    pub ready: Vec<Option<Moment>>,
    /// Its chances.
    pub chance: Chance,
    /// What the days are over which these are counted.
    pub each: Replication,
    /// How sure it is.
    pub sure: Sure,
}

impl PromiseLine {
    /// By how much it is usually too late; early if negative. None if nothing was promised, or it is usually not ready.
    #[must_use]
    pub fn late(&self) -> Option<Span> {
        Some(self.chance.usual? - self.due?)
    }
}

/// The orders of the day drawn, in order of arrival, with their days if there are many.
pub(super) fn of(shop: &Shop, figures: &Figures, study: Option<&Study>) -> Vec<PromiseLine> {
    let line = |order: &OrderFigure| {
        let part = shop.parts.get(order.part.index());
        let (chance, ready) = match study {
            Some(study) => days(study, order),
            None => (one_day(order), vec![order.ready]),
        };
        let sure = match (study, chance.sure()) {
            // On time on the one day is not on all days.
            (None, Sure::Certain) => Sure::Safe,
            (_, sure) => sure,
        };
        PromiseLine {
            each: Replication::of_days(shop.calendar.days.len()),
            id: order.id.clone(),
            part: part.map_or_else(String::new, |p| p.name.clone()),
            due: study.map_or(order.due, |s| s.due((order.source, order.nth))),
            ready,
            chance,
            sure,
        }
    };
    figures.orders.iter().map(line).collect()
}

fn days(study: &Study, order: &OrderFigure) -> (Chance, Vec<Option<Moment>>) {
    let key = (order.source, order.nth);
    let ready = study.days.iter().filter_map(|day| day.orders.get(&key));
    (study.chance(key), ready.map(|(ready, _)| *ready).collect())
}

fn one_day(order: &OrderFigure) -> Chance {
    Chance {
        usual: order.ready,
        nine_in_ten: order.ready,
        on_time: u32::from(order.on_time()),
        harmed: u32::from(order.in_time() && !order.is_sound()),
        of: 1,
    }
}
