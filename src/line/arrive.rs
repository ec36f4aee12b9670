//! Orders come and become loads.

use super::engine::Engine;
use super::flow::Arrived;
use super::lots::lots;
use tankday_base::shop::OrderId;

impl Engine<'_> {
    pub(super) fn arrive(&mut self, source: OrderId) {
        let come = self.floor.flow.arrives(&mut self.floor.day, source);
        self.floor.baths.stream_goes_on(source, come.goes_on);
        let plan = &self.plan.orders[source];
        let planned: Vec<(u32, u32)> = self.floor.flow.planned_lots(source, come.nth);
        if !planned.is_empty() {
            for lot in planned {
                self.make_load(source, &come, lot);
            }
        } else if come.pieces == plan.count {
            for (lot, pieces) in (0..).zip(&plan.lots) {
                self.make_load(source, &come, (lot, *pieces));
            }
        } else {
            for lot in (0..).zip(lots(come.pieces, plan.most_in_lot, self.plan.rules.split)) {
                self.make_load(source, &come, lot);
            }
        }
    }

    fn make_load(&mut self, source: OrderId, come: &Arrived, lot: (u32, u32)) {
        let load = self.floor.flow.make_load(&mut self.floor.day, source, come, lot);
        self.floor.coming(load, 1);
        self.go_on(load);
    }
}
