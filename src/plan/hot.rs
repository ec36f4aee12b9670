//! When the baths are hot for the first time: no plan has a load in one before.

use tankday_base::shop::{Shop, StationId};
use tankday_base::units::Moment;
use tankday_line::Line;
use tankday_record::{LogEntry, Looks, Observer};

/// For each station the moment before which no load can go in: of a tank that is heated up from the start the one at which
/// it comes into its band. Zero where that is not known, or hangs on what is done: where water is added or a bath is served
/// while it heats up, or where heaters share a supply.
pub(super) fn first_hot(shop: &Shop) -> Vec<Moment> {
    let mut seen = Thermometer {
        hot: shop
            .stations
            .iter()
            .map(|s| s.tank.map_or(Seen::Touched, |_| Seen::Nothing))
            .collect(),
    };
    if shop.supply.is_none() && shop.tanks().next().is_some() {
        Line::new(shop).run(None, &mut seen);
    }
    let known = |seen: &Seen| match seen {
        Seen::Hot(at) => *at,
        Seen::Nothing | Seen::Touched => Moment::ZERO,
    };
    seen.hot.iter().map(known).collect()
}

/// What was seen of a station first.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Seen {
    Nothing,
    /// Something was done there before it was hot.
    Touched,
    Hot(Moment),
}

/// Rules decide when heaters go on, not plans: a run by the rules shows it.
struct Thermometer {
    hot: Vec<Seen>,
}

impl Thermometer {
    fn see(&mut self, station: StationId, what: Seen) {
        if let Some(seen) = self.hot.get_mut(station.index())
            && *seen == Seen::Nothing
        {
            *seen = what;
        }
    }
}

impl Observer for Thermometer {
    fn looks(&self) -> Looks {
        Looks::Events
    }

    fn most_events(&self) -> u64 {
        500_000
    }

    fn has_enough(&self) -> bool {
        !self.hot.contains(&Seen::Nothing)
    }

    fn note(&mut self, at: Moment, event: LogEntry) {
        match event {
            LogEntry::InBand { tank } => self.see(tank, Seen::Hot(at)),
            LogEntry::ToppedUp { tank, .. } | LogEntry::CareBegins { tank, .. } => {
                self.see(tank, Seen::Touched)
            }
            LogEntry::SetIn { station, .. } => self.see(station, Seen::Touched),
            _ => {}
        }
    }
}

/// For each station when its bath came into its band on a day by the shop's own rules, in order.
pub(super) fn in_band(shop: &Shop) -> Vec<Vec<Moment>> {
    let mut seen = Bands(vec![Vec::new(); shop.stations.len()]);
    if shop.tanks().next().is_some() {
        Line::new(shop).run(None, &mut seen);
    }
    seen.0
}

/// Notes when baths come into their band.
struct Bands(Vec<Vec<Moment>>);

impl Observer for Bands {
    fn looks(&self) -> Looks {
        Looks::Events
    }

    fn most_events(&self) -> u64 {
        2_000_000
    }

    fn note(&mut self, at: Moment, event: LogEntry) {
        if let LogEntry::InBand { tank } = event
            && let Some(seen) = self.0.get_mut(tank.index())
        {
            seen.push(at);
        }
    }
}
