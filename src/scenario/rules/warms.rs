//! Whether baths get hot, and whether what wants a hot bath ends before somebody must be away from it. Worked out from
//! cold, with the lid on as far as there is one: what does not go even so never goes.

use super::Facts;
use super::bath::celsius;
use super::{clocked, ready};
use crate::finding::{Code, Finding};
use crate::written::{Act, Step, Tank};
use tankday_base::bath::{Bath, Heater, Lid, TankHeat};
use tankday_base::print::how_long;
use tankday_base::random::Spread;
use tankday_base::shop::{
    self, BathRecipe, Chore, CoatRule, Day, HeatOff, HeatOn, LidRule, Reads, Shop, Trigger,
};
use tankday_base::units::{Moment, Power, Quantity, Span, Temperature, Volume};

/// Longer than this no heater takes that goes with its tank; common practice, no source.
const LONG: Span = Span::whole_minutes(60 * 4);

/// One tank with its losses.
pub(super) struct Warm<'a> {
    written: &'a Tank,
    pub(super) tank: &'a shop::Tank,
    pub(super) heat: TankHeat,
    pub(super) lid: Lid,
}

impl Warm<'_> {
    /// How long it takes to a temperature from cold; none if it never gets there.
    pub(super) fn takes(&self, to: Temperature) -> Option<Span> {
        if self.tank.temperature >= to {
            return Some(Span::ZERO);
        }
        let mut bath = Bath::new(&self.heat, self.tank.fill, self.tank.temperature);
        bath.set_lid(self.lid);
        bath.switch(Heater::Keep(to));
        bath.time_until_temperature(&self.heat, to)
    }

    /// What the heater must draw to hold a temperature.
    fn needs(&self, at: Temperature) -> Power {
        self.heat.leaving(at, self.lid).heat / self.heat.efficiency().in_fraction().max(1e-9)
    }

    /// The highest temperature that it gets to.
    fn highest(&self) -> Temperature {
        let (mut least, mut most) = (self.heat.air().in_celsius(), self.heat.limit().in_celsius());
        for _ in 0..40 {
            let middle = (least + most) / 2.0;
            let leaves = self.heat.leaving(Temperature::celsius(middle), self.lid).heat;
            if leaves < self.heat.net_power() {
                least = middle;
            } else {
                most = middle;
            }
        }
        Temperature::celsius(least)
    }
}

/// What can be said of the heat.
pub(super) fn found(f: &Facts, shop: &Shop) -> Vec<Finding> {
    let lid = match shop.rules.heat.lid {
        LidRule::Never => Lid::Off,
        LidRule::BetweenLoads | LidRule::WhenOff => Lid::On,
    };
    let tanks = f.file.tanks.iter().zip(&shop.stations);
    let warm = |(written, station)| {
        let station: &shop::Station = station;
        let tank = station.tank.as_ref()?;
        let heat = TankHeat::new(tank, &shop.air);
        Some(Warm {
            written,
            tank,
            heat,
            lid,
        })
    };
    let tanks: Vec<Warm> = tanks.filter_map(warm).collect();
    let mut found: Vec<Finding> = tanks.iter().filter_map(|w| gets_hot(w, shop)).collect();
    let gets_hot = found.is_empty();
    if gets_hot {
        found.extend(tanks.iter().filter_map(|w| coats_in_time(f, w, shop)));
        found.extend(f.acts().filter_map(|act| wool_in_time(act, &tanks, shop)));
    }
    found.extend(f.acts().filter_map(|act| hands_in_time(act, shop)));
    found.extend(clocked::all(f, &tanks, shop, &found));
    if gets_hot {
        found.extend(ready::found(f, &tanks, shop));
    }
    found
}

fn watts(power: Power) -> String {
    let watts = power.in_watts();
    if watts < 1000.0 {
        format!("{:.0} W", watts)
    } else {
        format!("{} kW", (watts / 10.0).round() / 100.0)
    }
}

/// The heater gets its bath into the band, and in time.
fn gets_hot(w: &Warm, shop: &Shop) -> Option<Finding> {
    let band = shop.baths.get(w.tank.bath.index())?.band;
    let power = w.written.heater.as_ref()?.power.as_ref()?;
    let (rated, litres) = (watts(power.value), w.tank.fill.in_litres());
    let usual = "usual are 50 to 500 W/L (common practice, no source)";
    let with = if w.lid == Lid::On && w.heat.has_lid() {
        ", even with the lid on"
    } else {
        ""
    };
    let of_fill = format!("{rated} for {} L", (litres * 10.0).round() / 10.0);
    let by_hand = matches!(shop.rules.heat.on, HeatOn::AtOpening) && shop.rules.heat.off != HeatOff::Never;
    let day = shop.calendar.days.iter().map(open).max().unwrap_or(Span::FOREVER);
    let (message, label, help) = match (w.takes(band.least), w.takes(band.hold)) {
        (None, _) => (
            format!(
                "{of_fill}: the bath gets to {} at most{with}, and no load goes in below {}",
                celsius(w.highest()),
                celsius(band.least)
            ),
            "never hot",
            format!(
                "{usual}; {} hold {} here",
                watts(w.needs(band.least)),
                celsius(band.least)
            ),
        ),
        (Some(takes), _) if by_hand && takes >= day => (
            format!(
                "{of_fill}: the bath takes {} to get to {}, and the shop is open {}",
                how_long(takes),
                celsius(band.least),
                how_long(day)
            ),
            "never hot in a day",
            format!(
                "{usual}; or have a timer switch it on, `heat: {{switch on: ready by 09:00}}`, if somebody is there"
            ),
        ),
        (_, None) => (
            format!(
                "{of_fill}: the bath gets to {} at most{with}, not to the {} that it is to hold",
                celsius(w.highest()),
                celsius(band.hold)
            ),
            "too weak",
            format!(
                "{usual}; {} hold {} here",
                watts(w.needs(band.hold)),
                celsius(band.hold)
            ),
        ),
        (Some(takes), _) if takes > LONG => (
            format!("{of_fill}: the bath takes {} to get hot", how_long(takes)),
            "very weak",
            format!("{usual}: is a digit or the unit wrong?"),
        ),
        _ => return None,
    };
    Some(
        Finding::warning(Code::Bath, power.at, message)
            .label(label)
            .help(help),
    )
}

/// How long a day is open.
fn open(day: &Day) -> Span {
    if day.close == Moment::NEVER {
        Span::FOREVER
    } else {
        day.close - day.open
    }
}

/// The stretches of a day in which somebody is by the tanks.
fn stretches(day: &Day) -> Vec<Span> {
    let mut from = day.open;
    let mut all = Vec::new();
    for pause in day.breaks.iter().filter(|b| !b.stays) {
        all.push(pause.from - from);
        from = pause.until;
    }
    all.push(if day.close == Moment::NEVER || day.stays {
        Span::FOREVER
    } else {
        day.close - from
    });
    all
}

/// Whether so much fits into a stretch of a day, when the bath is hot after so long; what it warms before a break it keeps.
fn fits(day: &Day, shop: &Shop, warms: Span, needs: Span) -> bool {
    let by_timer = shop.rules.heat.off == HeatOff::Never || !matches!(shop.rules.heat.on, HeatOn::AtOpening);
    let mut cold = if by_timer { Span::ZERO } else { warms };
    stretches(day).into_iter().any(|stretch| {
        let done = stretch >= cold + needs;
        cold = Ord::max(cold - stretch, Span::ZERO);
        done
    })
}

/// Whether a bath that is heated by hand gets hot before a break with too little time left for a load, and no stretch of the day
/// is long enough to heat it again and coat a load: it cools in every break, and somewhat before.
fn hot_in_vain(day: &Day, shop: &Shop, warms: Span, stays: Span) -> bool {
    let by_hand = shop.rules.heat.off != HeatOff::Never && matches!(shop.rules.heat.on, HeatOn::AtOpening);
    let all = stretches(day);
    by_hand && all.iter().all(|s| *s < warms + stays) && all.first().is_some_and(|s| *s >= warms)
}

fn longest(days: &[Day]) -> Span {
    days.iter().flat_map(stretches).max().unwrap_or(Span::ZERO)
}

/// The shortest stay that a bath may ask for.
fn shortest(bath: &BathRecipe) -> Span {
    let of_rule = match &bath.coat {
        CoatRule::Time(Spread::Fixed(time)) => *time,
        CoatRule::Time(Spread::Uniform { least, .. } | Spread::Triangular { least, .. }) => *least,
        CoatRule::Time(_) | CoatRule::Target(_) => Span::ZERO,
    };
    Ord::max(of_rule, bath.least)
}

/// Hours of the shop in which a tank coats at all.
fn coats_in_time(f: &Facts, w: &Warm, shop: &Shop) -> Option<Finding> {
    let bath = shop.baths.get(w.tank.bath.index())?;
    let warms = w.takes(bath.band.least)?;
    let days = &shop.calendar.days;
    let stays = shortest(bath);
    let never = !days.iter().any(|d| fits(d, shop, warms, stays));
    if days.is_empty() || !(never || days.iter().all(|d| hot_in_vain(d, shop, warms, stays))) {
        return None;
    }
    let in_it = |s: &Step| f.tanks_for(s).iter().any(|t| t.places.at == w.written.places.at);
    let at = w.written.name.as_ref()?.at;
    f.steps().any(|(_, s)| s.coats() && in_it(s)).then(|| {
        let (warms, stays) = (how_long(warms), how_long(stays));
        let takes = format!("it takes {warms} to get hot and a load stays {stays} or longer");
        let (message, label) = match never {
            true => (
                format!("no load fits into a day of this tank: {takes}"),
                "heated for nothing",
            ),
            false => (
                format!(
                    "only if this tank stays hot over a break, a load fits into a day: {takes}, and no time between breaks \
                     is as long as both"
                ),
                "may be heated for nothing",
            ),
        };
        Finding::warning(Code::Time, at, message)
            .label(label)
            .help(away_help(longest(days)))
    })
}

fn away_help(longest: Span) -> String {
    format!(
        "the longest time without a break or closing is {}: write longer hours, `stays: yes` for a break in which somebody \
         is in sight of the tank, or a stronger heater",
        how_long(longest)
    )
}

/// Steel wool is out before somebody must be away.
fn wool_in_time(act: &Act, tanks: &[Warm], shop: &Shop) -> Option<Finding> {
    let Some(Chore::Condition { at, stays, takes, .. }) = act.chore.filter(|_| !act.when.is_empty()) else {
        return None;
    };
    let days = &shop.calendar.days;
    let warms = tanks.iter().filter_map(|w| w.takes(at)).min()?;
    let needs = stays + takes;
    let first = days.iter().position(|d| fits(d, shop, warms, needs));
    let due = || tanks.iter().any(|w| is_due(act, w, shop));
    let message = match first {
        Some(0) => return None,
        Some(_) if !due() => return None,
        Some(before) => format!(
            "`{}` does not fit into {}",
            act.name,
            if before == 1 {
                "the first day".to_owned()
            } else {
                format!("the first {before} days")
            }
        ),
        None => format!("`{}` never fits into a day", act.name),
    };
    let short = days.get(..first.unwrap_or(days.len())).unwrap_or_default();
    let message = format!(
        "{message}: wool takes {}, and the bath {} to get to {}",
        how_long(needs),
        how_long(warms),
        celsius(at)
    );
    Some(
        Finding::warning(Code::Time, act.at, message)
            .label(if first.is_some() {
                "heated for nothing until then"
            } else {
                "never happens"
            })
            .help(away_help(longest(short))),
    )
}

/// Whether a bath calls for its wool as it starts.
fn is_due(act: &Act, w: &Warm, shop: &Shop) -> bool {
    let iron = shop.baths.get(w.tank.bath.index()).map(|b| b.now.iron);
    act.when.iter().any(|t| match t.value {
        Trigger::Reads(Reads::IronBelow(mark)) => iron.is_some_and(|iron| iron < mark),
        trigger => trigger.by_the_clock(),
    })
}

/// Hands come to the end of a chore within a day.
fn hands_in_time(act: &Act, shop: &Shop) -> Option<Finding> {
    let chore = act.chore.filter(|_| act.written && !act.when.is_empty())?;
    let fill = shop.stations.iter().filter_map(|s| Some(s.tank?.fill));
    let fill = fill.fold(Volume::ZERO, Volume::max);
    let (what, takes) = match chore {
        Chore::Replenish { takes, .. }
        | Chore::Trim { takes, .. }
        | Chore::Condition { takes, .. }
        | Chore::Renew { takes, .. } => ("it", takes),
        Chore::Stop(stop) => {
            let clear = fill.base() * (1.0 - stop.heel.in_fraction());
            ("decanting", Span::seconds(clear / stop.pour.base()))
        }
    };
    let day = shop.calendar.days.iter().map(open).max()?;
    (takes > day).then(|| {
        let message = format!(
            "`{}` never ends: {what} takes hands {}, and the shop is open {}",
            act.name,
            how_long(takes),
            how_long(day)
        );
        Finding::warning(Code::Time, act.at, message)
            .label("longer than a day")
            .help("is a digit or the unit wrong?")
    })
}
