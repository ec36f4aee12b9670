//! What an order does to the others of its day: which are ready later for it, and which are lost.

use tankday_base::units::{Moment, Span};
use tankday_record::{Figures, OrderFigure};

/// Less than this later is not told: a minute is what a day sheet says.
const WORTH_TELLING: Span = Span::whole_minutes(1);

/// An order that becomes later, or is lost.
#[derive(Debug, Clone, PartialEq)]
pub struct Later {
    /// Its name.
    pub id: String,
    /// When it is ready without the other order.
    pub before: Moment,
    /// When it is ready with it; none if it isn't ready any more.
    pub after: Option<Moment>,
    /// Whether it was on time and isn't any more.
    pub misses: bool,
    /// Whether pieces of it come to harm that were sound: they lie bare too long or take no coat.
    pub harmed: bool,
}

impl Later {
    /// Whether the customer doesn't get it on the stated days: it isn't finished, or not sound.
    #[must_use]
    pub const fn is_lost(&self) -> bool {
        self.after.is_none() || self.harmed
    }
}

/// The orders that a day has ready later than another day, or loses; those that are lost first, then those latest by most.
pub(super) fn displaced(before: &Figures, with: &Figures) -> Vec<Later> {
    let mut all: Vec<Later> = before.orders.iter().filter_map(|o| later(o, with)).collect();
    let by = |l: &Later| l.after.unwrap_or(Moment::NEVER) - l.before;
    all.sort_by_key(|l| (!l.is_lost(), std::cmp::Reverse(by(l))));
    all
}

/// By how much a day costs more than another; none where it loses orders, since less work costs less and saves nothing.
pub(super) fn costs_more(later: &[Later], (before, with): (&Figures, &Figures)) -> Option<f64> {
    let keeps_all = !later.iter().any(Later::is_lost);
    keeps_all.then(|| with.cost.with_left() - before.cost.with_left())
}

fn later(before: &OrderFigure, with: &Figures) -> Option<Later> {
    let ready = before.ready?;
    let mut all = with.orders.iter();
    let then = all.find(|o| (o.source, o.nth) == (before.source, before.nth));
    let after = then.and_then(|o| o.ready);
    let harmed = before.is_sound() && then.is_some_and(|o| !o.is_sound());
    let later = harmed || after.is_none_or(|after| after >= ready + WORTH_TELLING);
    later.then(|| Later {
        id: before.id.clone(),
        before: ready,
        after,
        misses: before.in_time() && then.is_none_or(|o| !o.in_time()),
        harmed,
    })
}
