//! One thing made easier.

use tankday_base::random::Spread;
use tankday_base::shop::{CoatRule, HeatOn, Shop, StationId, StepTime};
use tankday_base::units::Span;

/// A thing that can be made easier.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ease {
    /// Every step of this name in half the time.
    StepInHalf(String),
    /// Dwell in half the time.
    DwellInHalf,
    /// Every heater twice as strong.
    StrongerHeaters,
    /// A supply twice as strong, where heaters share one.
    StrongerSupply,
    /// One more pair of hands.
    MoreHands,
    /// One more place at a station.
    MorePlaces(StationId),
    /// No breaks.
    NoBreaks,
    /// Heat an hour earlier; where heating begins by hand at opening, have it hot by then, with a timer.
    HeatEarlier,
    /// Putting in and taking out in half the time.
    QuickerHandling,
    /// Tanks are charged with whatever waits.
    NoFillRule,
}

impl Ease {
    /// All that make sense for a shop.
    #[must_use]
    pub fn all(shop: &Shop) -> Vec<Self> {
        let mut all = Vec::new();
        for step in shop.routes.iter().flat_map(|r| &r.steps) {
            let half = Self::StepInHalf(step.name.clone());
            if step.time != StepTime::Coat && step.relief.is_none() && !all.contains(&half) {
                all.push(half);
            }
        }
        if shop.tanks().next().is_some() {
            all.extend([
                Self::DwellInHalf,
                Self::StrongerHeaters,
                Self::StrongerSupply,
                Self::HeatEarlier,
            ]);
        }
        if shop.hands > 0 {
            all.extend([Self::MoreHands, Self::QuickerHandling]);
        }
        all.extend(
            (0u32..)
                .zip(&shop.stations)
                .map(|(i, _)| Self::MorePlaces(StationId(i))),
        );
        all.extend([Self::NoBreaks, Self::NoFillRule]);
        all.retain(|ease| eased(shop, ease) != *shop);
        all
    }

    /// In words, as a line of the summary: `blast in half the time`.
    #[must_use]
    pub fn words(&self, shop: &Shop) -> String {
        match self {
            Self::StepInHalf(step) => format!("{step} in half the time"),
            Self::DwellInHalf => "dwell in half the time".into(),
            Self::StrongerHeaters if shop.tanks().count() == 1 => "heater twice as strong".into(),
            Self::StrongerHeaters => "heaters twice as strong".into(),
            Self::StrongerSupply => "a supply twice as strong".into(),
            Self::MoreHands => "one more pair of hands".into(),
            Self::MorePlaces(station) => match shop.stations.get(station.index()) {
                Some(s) if s.tank.is_some() => format!("room for a second load, {}", s.name),
                Some(s) => format!("one more place, {}", s.name),
                None => "one more place".into(),
            },
            Self::NoBreaks => "no breaks".into(),
            Self::HeatEarlier if shop.rules.heat.on == HeatOn::AtOpening => {
                "hot at opening, by a timer".into()
            }
            Self::HeatEarlier => "heat an hour earlier".into(),
            Self::QuickerHandling => "in and out in half the time".into(),
            Self::NoFillRule => "no waiting for fuller loads".into(),
        }
    }
}

/// The shop with one thing made easier; unchanged where there is nothing to ease.
#[must_use]
pub fn eased(shop: &Shop, ease: &Ease) -> Shop {
    let mut shop = shop.clone();
    match ease {
        Ease::StepInHalf(name) => halve_step(&mut shop, name),
        Ease::DwellInHalf => halve_dwell(&mut shop),
        Ease::StrongerHeaters => {
            for tank in shop.stations.iter_mut().filter_map(|s| s.tank.as_mut()) {
                tank.heater.power = tank.heater.power * 2.0;
            }
        }
        Ease::StrongerSupply => shop.supply = shop.supply.map(|limit| limit * 2.0),
        Ease::MoreHands => {
            shop.hands = shop.hands.saturating_add(1);
            for crew in &mut shop.calendar.crews {
                crew.hands = crew.hands.saturating_add(1);
            }
        }
        Ease::MorePlaces(station) => {
            if let Some(station) = shop.stations.get_mut(station.index()) {
                station.places = station.places.saturating_add(1);
            }
        }
        Ease::NoBreaks => shop.calendar.days.iter_mut().for_each(|day| day.breaks.clear()),
        Ease::HeatEarlier => heat_earlier(&mut shop),
        Ease::QuickerHandling => {
            for step in shop.routes.iter_mut().flat_map(|r| &mut r.steps) {
                (step.put_in, step.take_out) = (step.put_in.times(0.5), step.take_out.times(0.5));
            }
        }
        Ease::NoFillRule => {
            if shop.rules.fill.at_least > tankday_base::units::Share::ZERO {
                shop.rules.fill.at_least = tankday_base::units::Share::ZERO;
                shop.rules.fill.wait_at_most = Span::ZERO;
            }
        }
    }
    shop
}

fn halve_step(shop: &mut Shop, name: &str) {
    for step in shop
        .routes
        .iter_mut()
        .flat_map(|r| &mut r.steps)
        .filter(|s| s.name == name)
    {
        if let StepTime::Work { load, each } = &mut step.time {
            (*load, *each) = (halved(load), each.times(0.5));
        }
    }
}

/// Half the dwell: the coating grows twice as fast, and the least dwell is half as long.
fn halve_dwell(shop: &mut Shop) {
    for bath in &mut shop.baths {
        bath.least = bath.least.times(0.5);
        if let CoatRule::Time(spread) = &mut bath.coat {
            *spread = halved(spread);
        }
    }
    for material in &mut shop.materials {
        material.slower *= 0.5;
    }
}

fn heat_earlier(shop: &mut Shop) {
    let hour = Span::whole_minutes(60);
    let earlier = |at: Span| (at - hour).max(Span::ZERO);
    let opening = shop
        .calendar
        .days
        .first()
        .map_or(Span::ZERO, |d| d.open.day_and_time().1);
    shop.rules.heat.on = match shop.rules.heat.on {
        HeatOn::AtOpening => HeatOn::ReadyBy(opening),
        HeatOn::ReadyBy(at) => HeatOn::ReadyBy(earlier(at)),
        HeatOn::At(at) => HeatOn::At(earlier(at)),
    };
}

/// Every time half as long.
fn halved(spread: &Spread) -> Spread {
    let half = |span: &Span| span.times(0.5);
    match spread {
        Spread::Fixed(span) => Spread::Fixed(half(span)),
        Spread::Uniform { least, most } => Spread::Uniform {
            least: half(least),
            most: half(most),
        },
        Spread::Normal { mean, sd } => Spread::Normal {
            mean: half(mean),
            sd: half(sd),
        },
        Spread::Triangular { least, mostly, most } => Spread::Triangular {
            least: half(least),
            mostly: half(mostly),
            most: half(most),
        },
        Spread::Exponential { mean } => Spread::Exponential { mean: half(mean) },
        Spread::Lognormal { mean, sd } => Spread::Lognormal {
            mean: half(mean),
            sd: half(sd),
        },
        Spread::Gamma { mean, sd } => Spread::Gamma {
            mean: half(mean),
            sd: half(sd),
        },
        Spread::Readings(times) => Spread::Readings(times.iter().map(half).collect()),
    }
}
