//! What pictures of one run need, read from its record: bars for each lane, temperatures, finished work.

mod baths;
mod cost;
mod end;
mod hands;
mod output;
mod promises;
mod stations;
mod wear;

pub use baths::{BathLine, TankBar};
pub use cost::{CostKind, CostView};
pub use end::{EndCause, EndGain, EndPiece, EndView};
pub use hands::{HandBar, HandLane};
pub use output::Output;
pub use promises::PromiseLine;
pub use stations::{StationBar, StationLane, StationState};
pub use wear::{WearLine, WearPoint};

use tankday_base::print::Replication;
use tankday_base::shop::{Calendar, Shop};
use tankday_base::units::{Moment, Span};
use tankday_record::{Analysis, Figures, Labels, Record};
use tankday_study::Study;
use tankday_study::what_if::Gain;

/// One run, ready to be drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct DayView {
    /// What the scenario calls itself.
    pub title: String,
    /// Dates.
    pub calendar: Calendar,
    /// Days to be drawn, in order.
    pub days: Vec<DayHours>,
    /// Tanks in the order written.
    pub tanks: Vec<BathLine>,
    /// Pairs of hands.
    pub hands: Vec<HandLane>,
    /// Stations that are no tanks, in the order written, those that nobody used left out.
    pub stations: Vec<StationLane>,
    /// Orders in order of arrival.
    pub orders: Vec<OrderMark>,
    /// Finished and promised work.
    pub output: Output,
    /// Baths that wear.
    pub wear: Vec<WearLine>,
    /// How sure each order is, in order of arrival.
    pub promises: Vec<PromiseLine>,
    /// What sets the end; none if nothing was ready after the opening.
    pub end: Option<EndView>,
    /// Costs; none where no price was given.
    pub cost: Option<CostView>,
    /// When the last hands-on work is done.
    pub finish: Option<Moment>,
    /// How many replications there are, this being the one nearest the middle of them; none if it is the only one.
    pub reckoned: Option<usize>,
}

/// One day on the clock.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DayHours {
    /// Where the picture of it begins: at opening, or with the heater before it.
    pub from: Moment,
    /// Where it ends: at closing, or with the work after it.
    pub to: Moment,
    /// Opening.
    pub open: Moment,
    /// Closing; none in a shop that never closes.
    pub close: Option<Moment>,
    /// Breaks.
    pub breaks: Vec<(Moment, Moment)>,
}

/// When an order was ready.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OrderMark {
    /// Its name.
    pub id: String,
    /// When it was ready; none if it was not.
    pub ready: Option<Moment>,
    /// When it was promised.
    pub due: Option<Moment>,
    /// Whether any of it lay bare longer than it may, or took no coat.
    pub harmed: bool,
}

impl OrderMark {
    /// By how much it was ready too late; none if it was on time, not promised or never ready.
    #[must_use]
    pub fn late(&self) -> Option<Span> {
        let late = self.ready? - self.due?;
        (late > Span::ZERO).then_some(late)
    }
}

/// The record, read once for all lanes.
struct Read<'a> {
    shop: &'a Shop,
    record: &'a Record,
    all: Analysis<'a>,
    labels: Labels,
}

impl DayView {
    /// What one replication is.
    pub(super) fn each(&self) -> Replication {
        Replication::of_days(self.calendar.days.len())
    }

    /// Reads a record.
    #[must_use]
    pub fn of(shop: &Shop, record: &Record) -> Self {
        let all = Analysis::of(shop, record);
        let figures = Figures::from(&all);
        let read = Read {
            shop,
            record,
            labels: Labels::from(&all),
            all,
        };
        let tanks = baths::of(&read);
        let orders = orders(&read, &figures);
        let mut hands = hands::of(&read);
        let days = days(shop, read.all.end, &tanks, &hands);
        hands::add_breaks(&mut hands, &days);
        Self {
            title: shop.title.clone(),
            calendar: shop.calendar.clone(),
            output: output::of(&read, &orders),
            stations: stations::of(&read),
            wear: wear::of(&read, &figures),
            promises: promises::of(shop, &figures, None),
            end: end::of(&read),
            cost: cost::of(&figures, shop.calendar.days.len(), None),
            finish: figures.finish,
            reckoned: None,
            days,
            tanks,
            hands,
            orders,
        }
    }

    /// With what is known beyond the one day: the replications it was chosen from, and what would help.
    #[must_use]
    pub fn with(mut self, shop: &Shop, study: Option<&Study>, gains: &[Gain]) -> Self {
        if let Some(end) = &mut self.end {
            end.add(shop, gains, study);
        }
        if let Some(study) = study {
            self.promises = promises::of(shop, &study.figures, Some(study));
            self.cost = cost::of(&study.figures, shop.calendar.days.len(), Some(study));
            self.output.days = study.days.iter().map(|d| d.finished.clone()).collect();
            self.reckoned = Some(study.days.len());
        }
        self
    }

    /// The days, widened to hold these moments too.
    pub(super) fn days_with(&self, moments: impl Iterator<Item = Moment>) -> Vec<DayHours> {
        let mut days = self.days.clone();
        for at in moments {
            widen(&mut days, at, at);
        }
        days
    }

    /// How many orders were ready when promised, or ready at all if nothing was promised.
    #[must_use]
    pub fn on_time(&self) -> usize {
        let good = |o: &&OrderMark| o.ready.is_some() && o.late().is_none() && !o.harmed;
        self.orders.iter().filter(good).count()
    }

    /// When the last of all orders was ready.
    #[must_use]
    pub fn last_ready(&self) -> Option<Moment> {
        self.orders.iter().filter_map(|o| o.ready).max()
    }
}

fn orders(read: &Read<'_>, figures: &Figures) -> Vec<OrderMark> {
    let mark = |(no, came): (tankday_record::OrderNo, &tankday_record::Came)| {
        let written = read.shop.orders.get(came.source.index());
        OrderMark {
            id: read.labels.order(no).to_owned(),
            ready: read.all.ready.get(&no).copied(),
            due: written.and_then(|o| o.due_after).map(|after| came.at + after),
            harmed: figures.orders.iter().any(|o| o.order == no && !o.is_sound()),
        }
    };
    read.all.cargo.orders().map(mark).collect()
}

/// Days that anything happened on, widened to what was done before opening and after closing.
fn days(shop: &Shop, last: Moment, tanks: &[BathLine], hands: &[HandLane]) -> Vec<DayHours> {
    let mut days: Vec<DayHours> = shop
        .calendar
        .days
        .iter()
        .enumerate()
        .filter(|(i, day)| *i == 0 || day.open <= last)
        .map(|(_, day)| {
            let close = (day.close < Moment::NEVER).then_some(day.close);
            DayHours {
                from: day.open,
                to: close.unwrap_or(last).max(day.open + Span::whole_minutes(1)),
                open: day.open,
                close,
                breaks: day.breaks.iter().map(|b| (b.from, b.until)).collect(),
            }
        })
        .collect();
    for bar in hands.iter().flat_map(|h| &h.bars) {
        widen(&mut days, bar.from, bar.to);
    }
    for bar in tanks.iter().flat_map(BathLine::heating) {
        widen(&mut days, bar.from, bar.to);
    }
    days
}

/// Gives work outside the hours to the day that it follows, heating before opening to the day that it serves.
fn widen(days: &mut [DayHours], from: Moment, to: Moment) {
    let at = days.partition_point(|d| d.open <= from);
    let next_open = days.get(at).map(|d| d.open);
    if let Some(next) = days.get_mut(at)
        && to >= next.open
    {
        next.from = next.from.min(from);
    } else if let Some(day) = at.checked_sub(1).and_then(|i| days.get_mut(i)) {
        day.to = day.to.max(next_open.map_or(to, |open| to.min(open)));
    } else if let Some(first) = days.first_mut() {
        first.from = first.from.min(from);
    }
}
