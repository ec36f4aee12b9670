//! Which station of a route is busiest.

use super::{Figures, hours_open};
use tankday_base::shop::{RouteId, Shop, StationId};
use tankday_base::units::{Moment, Share, Span};

/// The station of a route whose places are at work for the largest share of the open hours.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bottleneck {
    /// Which.
    pub station: StationId,
    /// Share of the open hours, less breaks, that its places are at work. Work outside the hours counts too.
    pub at_work: Share,
    /// How long loads wait for it, on average.
    pub wait: Option<Span>,
    /// The same share of the busiest pair of hands.
    pub hands: Share,
}

impl Figures {
    /// The busiest station of a route; of two alike the one written first. None if no work was done on it.
    #[must_use]
    pub fn bottleneck(&self, shop: &Shop, route: RouteId) -> Option<Bottleneck> {
        let steps = &shop.routes.get(route.index())?.steps;
        let on_route = |id: StationId| steps.iter().any(|s| s.stations.contains(&id));
        let closing = match self.closing {
            Moment::NEVER => self.window.1,
            at => at,
        };
        let open = hours_open(shop, closing).in_seconds();
        let span = (self.window.1 - self.window.0).in_seconds();
        let share = |figure: &crate::StationFigure| {
            let places = shop.stations.get(figure.station.index()).map_or(1, |s| s.places);
            figure.at_work * span / open / f64::from(places.max(1))
        };
        if open <= 0.0 {
            return None;
        }
        let mut most: Option<(f64, &crate::StationFigure)> = None;
        for figure in self.stations.iter().filter(|f| on_route(f.station)) {
            let busy = share(figure);
            if busy > most.map_or(0.0, |(most, _)| most) {
                most = Some((busy, figure));
            }
        }
        let (busy, figure) = most?;
        let hands = self.hands.iter().map(|s| s.in_fraction()).fold(0.0, f64::max);
        Some(Bottleneck {
            station: figure.station,
            at_work: Share::fraction(busy),
            wait: figure.wait.mean(),
            hands: Share::fraction(hands),
        })
    }
}
