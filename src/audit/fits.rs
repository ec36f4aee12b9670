//! What goes into a tank lies under its solution, and is not meant for another.

use super::found::FaultKind;
use super::life::Follow;
use tankday_base::shop::{Inside, Part, StationId, Tank};
use tankday_base::units::{Moment, Quantity};
use tankday_record::LoadNo;

/// Nothing longer than the longest line through the solution lies under it, and nothing larger than all of it; what is
/// turned end for end needs half its length. Necessary, not sufficient: how it lies is for others to say.
fn can_lie(part: &Part, tank: &Tank) -> bool {
    let Some(size) = part.goes.size else { return true };
    let fill = tank.fill.base();
    let square = match tank.inside {
        Inside::Box { length, width, .. } => {
            let (l, w) = (length.base(), width.base());
            let deep = fill / l / w;
            l * l + w * w + deep * deep
        }
        Inside::Round { diameter, .. } => {
            let d = diameter.base();
            let deep = 4.0 * fill / (std::f64::consts::PI * d * d);
            d * d + deep * deep
        }
    };
    let halves = if part.goes.turned { 2.0 } else { 1.0 };
    let long = size.sides.map(Quantity::base).into_iter().fold(0.0, f64::max) / halves;
    let bulk: f64 = size.sides.map(Quantity::base).into_iter().product();
    long * long <= square * (1.0 + 1e-6) && bulk <= fill * halves * (1.0 + 1e-6)
}

impl Follow<'_, '_, '_> {
    /// Looks at one of the loads that go into a station together.
    pub(super) fn goes_in(&mut self, at: Moment, no: LoadNo, station: StationId) {
        let shop = self.shop;
        let Some(tank) = shop.stations.get(station.index()).and_then(|s| s.tank.as_ref()) else {
            return;
        };
        let order = self.story.load(no).and_then(|l| self.order_of(l));
        let Some((order, part)) =
            order.and_then(|o| Some((o.tanks.clone(), shop.parts.get(o.part.index())?)))
        else {
            return;
        };
        let same_bath = |s: &&StationId| {
            let other = shop.stations.get(s.index()).and_then(|s| s.tank.as_ref());
            other.is_some_and(|t| t.bath == tank.bath)
        };
        for named in [&part.goes.tanks, &order] {
            let mut meant = named.iter().filter(same_bath).peekable();
            if meant.peek().is_some() && !meant.any(|s| *s == station) {
                let text = "goes into a tank that it is not meant for";
                self.found.of_load(at, FaultKind::Room, no, text);
            }
        }
        if !can_lie(part, tank) {
            let text = format!(
                "goes into a tank under whose solution `{}` does not lie",
                part.name
            );
            self.found.of_load(at, FaultKind::Room, no, &text);
        }
    }
}
