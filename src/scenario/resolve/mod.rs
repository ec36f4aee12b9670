//! From the scenario as written to the shop as meant. Runs only when nothing was found wrong; a value that is
//! nevertheless not there makes the whole thing none.

mod bath;
mod dry;
mod relief;
mod rinse;
mod tank;
mod vessel;
mod work;

pub(super) use bath::{chemistry, growth};
pub(super) use dry::needed as drying;
pub(super) use relief::needed as relief_needed;
pub(super) use work::material;

use super::calendar::Hours;
use super::names::Names;
use super::thing::given;
use super::walk::Walk;
use super::written::{Act, Aim, Air, Cares, File, Given, Odds, Prices, Rates, Rules, TopUp};
use tankday_base::bath::air::{height_of, pressure_at};
use tankday_base::shop;
use tankday_base::units::{Moment, Share, Span};

/// What resolving looks things up in.
#[derive(Debug, Clone, Copy)]
pub(super) struct Context<'a> {
    pub(super) file: &'a File,
    pub(super) names: &'a Names,
    pub(super) hours: &'a Hours,
}

impl Context<'_> {
    /// The shop.
    pub(super) fn shop(self, walk: &mut Walk) -> Option<shop::Shop> {
        let file = self.file;
        let written = file.shop.as_ref()?;
        let air = air(written.air.as_ref()?)?;
        let materials = work::materials(self)?;
        let (hands, crews) = self.hours.hands(written.hands.as_ref()?.value);
        Some(shop::Shop {
            title: file.title.as_ref()?.value.clone(),
            calendar: shop::Calendar {
                crews,
                ..self.hours.calendar.clone()
            },
            hands,
            prices: prices(written)?,
            baths: file.baths.iter().map(bath::bath).collect::<Option<_>>()?,
            stations: tank::stations(self, air.temperature, hands, walk)?,
            vessels: vessel::vessels(self)?,
            supply: written.supply.as_ref()?.value,
            pump: written.pump.as_ref()?.value,
            parts: file
                .parts
                .iter()
                .map(|p| work::part(p, self.names, &materials))
                .collect::<Option<_>>()?,
            materials,
            routes: file
                .routes
                .iter()
                .map(|r| work::route(r, self))
                .collect::<Option<_>>()?,
            orders: file
                .orders
                .iter()
                .map(|o| work::order(o, self))
                .collect::<Option<_>>()?,
            rules: rules(file.rules.as_ref()?, hands, self, walk)?,
            walks: walks(written, self.names)?,
            aim: aim(file.aim.as_ref()?)?,
            air,
        })
    }
}

/// The air: its pressure is stated or follows from the height.
pub(super) fn air(written: &Air) -> Option<shop::Air> {
    let altitude = written.altitude.as_ref()?.value;
    let (pressure, altitude) = match &written.pressure {
        Some(p) => (p.value, height_of(p.value)),
        None => (pressure_at(altitude), altitude),
    };
    Some(shop::Air {
        temperature: written.temperature.as_ref()?.value,
        humidity: written.humidity.as_ref()?.value,
        pressure,
        altitude,
    })
}

/// Times between places; nothing written, no time. A way back that is not written takes as long.
fn walks(written: &super::written::Shop, names: &Names) -> Option<shop::Walks> {
    if written.walks.is_empty() {
        return Some(shop::Walks::default());
    }
    let many = names.stations.len();
    let mut rows: Vec<Vec<Option<Span>>> = vec![vec![None; many]; many];
    let mut put = |from: u32, to: u32, takes: Span, over: bool| {
        let cell = rows.get_mut(from as usize).and_then(|r| r.get_mut(to as usize));
        if let Some(cell) = cell.filter(|c| over || c.is_none()) {
            *cell = Some(takes);
        }
    };
    for back in [false, true] {
        for walk in &written.walks {
            let from = *names.stations.get(&walk.from.as_ref()?.value)?;
            let to = *names.stations.get(&walk.to.as_ref()?.value)?;
            let takes = walk.takes.as_ref()?.value;
            if back {
                put(to, from, takes, false);
            } else {
                put(from, to, takes, true);
            }
        }
    }
    let row = |r: Vec<Option<Span>>| r.into_iter().map(|t| t.unwrap_or(Span::ZERO)).collect();
    Some(shop::Walks::of(&rows.into_iter().map(row).collect::<Vec<_>>()))
}

fn aim(written: &Aim) -> Option<shop::Aim> {
    given! {
        written => shop::Aim {
            late_order, late_minute, finish_minute, power_kwh, water_litre, hands_minute, overtaking,
        }
    }
}

fn prices(shop: &super::written::Shop) -> Option<shop::Prices> {
    let written = shop.prices.as_ref()?;
    Some(shop::Prices {
        currency: written.currency.as_ref()?.value.clone(),
        power_per_kwh: written.power.as_ref()?.value,
        hands_per_hour: written.hands.as_ref()?.value,
        hands_paid: shop.hands_paid.as_ref()?.value,
        water_per_litre: written.water.as_ref()?.value,
        concentrate_per_litre: written.concentrate.as_ref()?.value,
        rinse_per_litre: written.rinse_water.as_ref()?.value,
        waste_per_litre: written.waste.as_ref()?.value,
        filter_each: written.filter.as_ref()?.value,
        stated: written
            .places
            .written
            .iter()
            .map(|(key, ..)| *key)
            .filter(|key| *key != Prices::currency.name)
            .collect(),
        rates: rates(shop.rates.as_ref()?),
    })
}

/// Rates; what is not written is not known.
fn rates(written: &Rates) -> shop::Rates {
    let value = |money: &Given<f64>| money.as_ref().map(|m| m.value);
    shop::Rates {
        supplies: written
            .supplies()
            .into_iter()
            .filter_map(|(what, rate)| Some((what, rate.as_ref()?.value)))
            .collect(),
        tank_hour: value(&written.tank_hour),
        margin: written.margin.as_ref().map(|m| m.value),
        minimum: value(&written.minimum),
    }
}

fn rules(written: &Rules, hands: u32, c: Context, walk: &mut Walk) -> Option<shop::Rules> {
    let (heat, fill) = (written.heat.as_ref()?, written.fill.as_ref()?);
    Some(shop::Rules {
        next: written.next.as_ref()?.value,
        hands: written.hands.as_ref()?.value,
        look_ahead: written.look_ahead.as_ref()?.value,
        when_full: written.when_full.as_ref()?.value,
        split: written.split.as_ref()?.value,
        combine: written.combine.as_ref()?.value,
        fill: given! { fill => shop::Fill { at_least, wait_at_most } }?,
        heat: given! { heat => shop::Heat { on, off, lid, unattended } }?,
        top_up: top_up(written.top_up.as_ref()?, hands)?,
        hold_back: written.care.as_ref()?.hold_back.as_ref()?.value,
        care: care(written.care.as_ref()?, hands, c.names)?,
        stop: stop(written, c.hours, walk)?,
    })
}

/// Care; where there are no hands, only what is written.
fn care(written: &Cares, hands: u32, names: &Names) -> Option<Vec<shop::Care>> {
    let wanted = |act: &&Act| !act.when.is_empty() && (act.written || hands > 0);
    let rule = |act: &Act| {
        Some(shop::Care {
            chore: chore(act, names)?,
            when: act.when.iter().map(|t| t.value).collect(),
        })
    };
    written.acts().filter(wanted).map(rule).collect()
}

/// What is done, in the vessel that it names.
fn chore(act: &Act, names: &Names) -> Option<shop::Chore> {
    let mut chore = act.chore?;
    if let (shop::Chore::Stop(stop), Some(into)) = (&mut chore, &act.into) {
        stop.into = Some(shop::VesselId(*names.vessels.get(&into.value)?));
    }
    Some(chore)
}

/// Topping up; where there are no hands, never.
fn top_up(written: &TopUp, hands: u32) -> Option<shop::TopUp> {
    let never = shop::TopUp {
        below: Share::ZERO,
        takes: Span::ZERO,
    };
    match written {
        TopUp::Never => Some(never),
        TopUp::Below(_, false) if hands == 0 => Some(never),
        TopUp::Below(rule, _) => given! { rule => shop::TopUp { below, takes } },
    }
}

/// The odds of inspection that a scenario states, or those taken for granted.
pub(super) fn stated_odds(file: &File) -> Option<(Share, shop::Odds)> {
    let written = file.rules.as_ref()?.odds.as_ref()?;
    Some((written.base.as_ref()?.value, odds(written)?))
}

/// By how much each cause multiplies the odds.
fn odds(written: &Odds) -> Option<shop::Odds> {
    given! {
        written => shop::Odds {
            overloaded, underfired, without_iron, much_iron, sludge, too_hot, too_short, too_long, spent_rinse,
            waited, hot_rinse, dried_on, greasy, pickled, holes_down, crevices,
        }
    }
}

/// When the simulation ends at the latest.
fn stop(written: &Rules, hours: &Hours, walk: &mut Walk) -> Option<Moment> {
    if let Some(stop) = &written.stop {
        return hours.moment(stop.value);
    }
    match (hours.watched_until, hours.last_closing()) {
        (Some(end), _) => Some(end),
        (None, Some(close)) => {
            Some(close + walk.usual_of(&Rules::stop, "after the last closing", super::time::span)?)
        }
        (None, None) => None,
    }
}
