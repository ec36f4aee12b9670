//! Whether orders are sound, followed event by event: for those who run many days and keep no record of them.

use super::cargo::Cargo;
use super::event::{Breach, LoadNo, LogEntry, OrderNo};
use super::figures::{Bare, NO_COAT, bare, coats, lies_bare};
use super::reading::Coated;
use std::collections::{BTreeMap, BTreeSet};
use tankday_base::shop::{Shop, StationId};
use tankday_base::units::Moment;

/// Follows what harms orders. What still waits when a run ends is not ready then, and not looked for here; of all else it says
/// what [`super::OrderFigure::is_sound`] says of a record.
#[derive(Debug, Clone)]
pub struct Soundness<'s> {
    shop: &'s Shop,
    cargo: Cargo,
    lifted: BTreeMap<LoadNo, (StationId, Coated)>,
    bare: BTreeSet<LoadNo>,
    /// Orders of which a load lay stripped too long: what joins it in its bath has not waited with it.
    stripped: BTreeSet<OrderNo>,
    made: BTreeMap<LoadNo, OrderNo>,
}

impl<'s> Soundness<'s> {
    /// Before the first event.
    #[must_use]
    pub fn new(shop: &'s Shop) -> Self {
        Self {
            shop,
            cargo: Cargo::default(),
            lifted: BTreeMap::new(),
            bare: BTreeSet::new(),
            stripped: BTreeSet::new(),
            made: BTreeMap::new(),
        }
    }

    /// The next event.
    pub fn note(&mut self, at: Moment, event: &LogEntry) {
        self.cargo.note(at, event);
        match *event {
            LogEntry::Coated {
                load,
                tank,
                ref coated,
            } => {
                self.lifted.insert(load, (tank, **coated));
            }
            LogEntry::Breaks {
                load,
                step,
                what: Breach::WaitedTooLong { by },
            } if lies_bare(self.shop, step, by) => match bare(self.shop, step) {
                Some(Bare::Stripped) => self.stripped.extend(self.made.get(&load)),
                _ => {
                    self.bare.insert(load);
                }
            },
            LogEntry::LoadMade { load, order, .. } => {
                self.made.insert(load, order);
            }
            _ => {}
        }
    }

    /// Whether nothing of an order lay bare longer than it may, and all of it took a coat.
    #[must_use]
    pub fn is_sound(&self, order: OrderNo) -> bool {
        let holds = |load: &LoadNo| self.cargo.lots(*load).any(|lot| lot.order == order);
        !self.stripped.contains(&order)
            && !self.bare.iter().any(holds)
            && !self.lifted.keys().any(|l| holds(l) && self.bald(*l, order))
    }

    /// Whether the parts of an order in a load came out of its last bath without a coat.
    fn bald(&self, load: LoadNo, order: OrderNo) -> bool {
        let source = self
            .cargo
            .order(order)
            .and_then(|c| self.shop.orders.get(c.source.index()));
        let (Some(order), Some((tank, coated))) = (source, self.lifted.get(&load)) else {
            return false;
        };
        let coats = coats(self.shop, *tank, &[(order.part, 1)], coated);
        coats.iter().any(|(_, weight)| *weight < NO_COAT)
    }
}
