//! Every bath: its heat and water add up from sample to sample, its heater gives no more than it can, and loads go in within
//! its band.
//!
//! Heat held is that of the water, by a table, and of the vessel at 500 J/(kg K), the heat capacity of stainless steel that the
//! thermal model of the project uses. Between two samples the change of heat held must equal heated - lost - to loads +
//! carried within [`SHARE`] of all that flowed and of the heat moved, plus [`LEAST`].

use super::found::{FaultKind, Findings};
use super::stage::{Story, Visit};
use super::water::{density, enthalpy};
use tankday_base::shop::{Shop, StationId, Tank};
use tankday_base::units::{Energy, Mass, Moment, Power, Quantity, Span, TempDiff, Temperature, Volume};
use tankday_record::{BathSample, HeaterState, LogEntry, Record};

/// Tolerated share of what flowed: the table and the model differ by at most 0.014 % in the heat capacity of water on
/// average, by 0.06 % close to boiling, where one of them follows the saturation line.
const SHARE: f64 = 1.5e-3;
/// Tolerated in any case: a millionth of a kelvin in some litres.
const LEAST: Energy = Energy::joules(0.5);
/// Heat capacity of the vessel, J/(kg K).
const VESSEL: f64 = 500.0;
/// Heat capacity of water, J/(kg K), within a percent from 0 to 100 °C: for tolerances only.
const WATER: f64 = 4_190.0;
/// So little below its set point a bath counts as there.
const TOLERANCE: TempDiff = TempDiff::kelvin(1e-3);
/// Rounding in sums.
const ROUNDING: f64 = 1e-9;
/// Water that one step of the model may be off by where its laws have a bend, at the temperature of the room: 0.1 g.
const STEP: Mass = Mass::kilograms(1e-4);
/// Tolerated in a volume: density by table, and what "room temperature" means for a filling.
const FILLING: f64 = 0.01;

/// One sample with its time and its place in the record.
#[derive(Clone, Copy)]
struct Look<'a> {
    at: Moment,
    place: usize,
    s: &'a BathSample,
}

pub(super) fn check(shop: &Shop, record: &Record, story: &Story, found: &mut Findings<'_>) {
    for (id, _, tank) in shop.tanks() {
        let looks: Vec<Look<'_>> = looks(record, id).collect();
        let Some(first) = looks.first() else {
            let text = format!("nothing is known of {}", found.station(id));
            found.say(Moment::ZERO, FaultKind::Water, text);
            continue;
        };
        let bath = Bath { shop, id, tank };
        bath.start(first, found);
        for look in &looks {
            bath.volume(look, found);
        }
        for (a, b) in looks.iter().zip(looks.iter().skip(1)) {
            bath.water(a, b, found);
            bath.heat(a, b, found);
            bath.heater(a, b, found);
        }
        bath.topped_up(record, &looks, found);
        bath.loads(story, &looks, found);
        bath.band(record, story, &looks, found);
    }
}

fn looks(record: &Record, id: StationId) -> impl Iterator<Item = Look<'_>> {
    record
        .entries
        .iter()
        .enumerate()
        .filter_map(move |(place, entry)| match &entry.event {
            LogEntry::Bath { tank, sample } if *tank == id => Some(Look {
                at: entry.at,
                place,
                s: sample,
            }),
            _ => None,
        })
}

struct Bath<'a> {
    shop: &'a Shop,
    id: StationId,
    tank: &'a Tank,
}

impl Bath<'_> {
    fn say(&self, at: Moment, kind: FaultKind, what: &str, found: &mut Findings<'_>) {
        let text = format!("{}: {what}", found.station(self.id));
        found.say(at, kind, text);
    }

    /// The first sample is the scenario's, with nothing summed yet.
    fn start(&self, first: &Look<'_>, found: &mut Findings<'_>) {
        let s = first.s;
        let full = Mass::kilograms(998.2 * self.tank.volume.in_cubic_metres());
        let temperature = (s.temperature - self.tank.temperature).in_kelvin().abs() < 1e-9;
        let energies = [s.drawn, s.heated, s.lost, s.carried, s.to_loads];
        let masses = [s.evaporated, s.topped_up, s.dragged_out];
        let sums = energies.iter().all(|e| e.base() == 0.0) && masses.iter().all(|m| m.base() == 0.0);
        if !temperature || !sums || (s.water / full - 1.0).abs() > FILLING {
            self.say(
                first.at,
                FaultKind::Water,
                "the bath does not begin as the scenario says",
                found,
            );
        }
    }

    fn volume(&self, look: &Look<'_>, found: &mut Findings<'_>) {
        let holds = density(look.s.temperature).base() * look.s.volume.base();
        if (holds - look.s.water.base()).abs() > 1e-3 * look.s.water.base().abs() + 1e-9 {
            self.say(
                look.at,
                FaultKind::Water,
                "volume and mass of the water do not agree",
                found,
            );
        }
    }

    fn water(&self, a: &Look<'_>, b: &Look<'_>, found: &mut Findings<'_>) {
        let (a, s) = (a.s, b.s);
        let sums =
            (s.topped_up - a.topped_up) - (s.evaporated - a.evaporated) - (s.dragged_out - a.dragged_out);
        let off = (s.water - a.water - sums).base();
        let scale = s.water.base().abs() + s.topped_up.base() + s.evaporated.base() + s.dragged_out.base();
        if off.abs() > ROUNDING * scale {
            let text = format!(
                "{:.6} kg of water too {}",
                off.abs(),
                if off > 0.0 { "much" } else { "little" }
            );
            self.say(b.at, FaultKind::Water, &text, found);
        }
        let shrinks = |x: Mass, y: Mass| y.base() < x.base() - ROUNDING * scale - STEP.base();
        let sums = [
            (a.topped_up, s.topped_up),
            (a.evaporated, s.evaporated),
            (a.dragged_out, s.dragged_out),
        ];
        if sums.into_iter().any(|(x, y)| shrinks(x, y)) || s.water.base() < 0.0 {
            self.say(b.at, FaultKind::Water, "a sum of water grows smaller", found);
        }
    }

    /// J/K of the bath and its vessel.
    fn capacity(&self, s: &BathSample) -> f64 {
        s.water.base() * WATER + self.tank.wall.vessel.base() * VESSEL
    }

    fn held(&self, s: &BathSample) -> f64 {
        let vessel = self.tank.wall.vessel.base() * VESSEL * s.temperature.in_celsius();
        s.water.base() * enthalpy(s.temperature) + vessel
    }

    fn heat(&self, a: &Look<'_>, b: &Look<'_>, found: &mut Findings<'_>) {
        let (x, y) = (a.s, b.s);
        let flows = [
            y.heated - x.heated,
            x.lost - y.lost,
            x.to_loads - y.to_loads,
            y.carried - x.carried,
        ];
        let sum: f64 = flows.iter().map(|e| e.base()).sum();
        let change = self.held(y) - self.held(x);
        // Of water that is let out and poured in at one moment `carried` tells the difference only.
        let poured = (y.topped_up - x.topped_up).base() * enthalpy(self.shop.air.temperature)
            + (y.dragged_out - x.dragged_out).base() * enthalpy(x.temperature.max(y.temperature));
        let moved = flows.iter().map(|e| e.base().abs()).sum::<f64>() + change.abs() + poured.abs();
        let off = change - sum;
        let rounding = 1e-12
            * (y.heated.base().abs() + y.lost.base().abs() + y.carried.base().abs() + self.held(y).abs());
        if off.is_nan() || off.abs() > LEAST.base() + SHARE * moved + rounding {
            let text = format!(
                "{:.1} kJ of heat too {}",
                off.abs() / 1e3,
                if off > 0.0 { "much" } else { "little" }
            );
            self.say(b.at, FaultKind::Energy, &text, found);
        }
    }

    fn heater(&self, a: &Look<'_>, b: &Look<'_>, found: &mut Findings<'_>) {
        let heater = self.tank.heater;
        let drawn = b.s.drawn - a.s.drawn;
        let heated = b.s.heated - a.s.heated;
        let scale = ROUNDING * b.s.drawn.base().abs() + 1e-3;
        // A bath a hair below its set point is taken as there: what that hair holds arrives at once.
        let landed = match b.s.heater {
            HeaterState::Holding => {
                TOLERANCE.in_kelvin() * self.capacity(b.s) / heater.efficiency.in_fraction()
            }
            _ => 0.0,
        };
        let slack = scale + landed;
        if (heated.base() - drawn.base() * heater.efficiency.in_fraction()).abs() > scale {
            self.say(
                b.at,
                FaultKind::Heater,
                "what is drawn and what arrives do not agree",
                found,
            );
        }
        let most = Energy::joules(heater.power.in_watts() * (b.at - a.at).in_seconds());
        if drawn.base() > most.base() + slack || drawn.base() < -scale {
            let power = Power::watts(drawn.base() / (b.at - a.at).max(Span::micros(1)).in_seconds());
            let text = format!(
                "the heater draws {:.2} kW of {:.2} kW",
                power.in_kilowatts(),
                heater.power.in_kilowatts()
            );
            self.say(b.at, FaultKind::Heater, &text, found);
        }
        if a.s.heater == HeaterState::Off && drawn.base().abs() > slack {
            self.say(
                b.at,
                FaultKind::Heater,
                "the heater draws power while it is off",
                found,
            );
        }
    }

    /// Water topped up by the events is the water topped up by the samples.
    fn topped_up(&self, record: &Record, looks: &[Look<'_>], found: &mut Findings<'_>) {
        let cold = density(self.shop.air.temperature);
        let mut poured = Volume::ZERO;
        let mut next = looks.iter().peekable();
        for (place, entry) in record.entries.iter().enumerate() {
            if let Some(look) = next.next_if(|l| l.place == place) {
                let mass = cold.base() * poured.base();
                let soon = record.entries.iter().skip(place).take_while(|e| e.at == look.at);
                let later = soon
                    .filter_map(|e| self.poured(&e.event))
                    .fold(0.0, |sum, v| sum + v.base() * cold.base());
                let sum = look.s.topped_up.base();
                let slack = FILLING * sum + 1e-9;
                if sum < mass - slack || sum > mass + later + slack {
                    self.say(
                        look.at,
                        FaultKind::Water,
                        "what was topped up is not what was poured in",
                        found,
                    );
                }
            }
            if let Some(volume) = self.poured(&entry.event) {
                poured += volume;
                if volume.base() < 0.0 {
                    self.say(
                        entry.at,
                        FaultKind::Water,
                        "less than nothing is poured in",
                        found,
                    );
                }
            }
        }
    }

    fn poured(&self, event: &LogEntry) -> Option<Volume> {
        match event {
            LogEntry::ToppedUp { tank, volume } if *tank == self.id => Some(*volume),
            LogEntry::CareEnds { tank, used, .. } if *tank == self.id => {
                Some(used.water + used.concentrate + used.refilled)
            }
            _ => None,
        }
    }

    /// Work cannot take up more heat than warming it from the room to the hottest bath takes.
    fn loads(&self, story: &Story, looks: &[Look<'_>], found: &mut Findings<'_>) {
        let Some(last) = looks.last() else { return };
        let hottest = looks
            .iter()
            .map(|l| l.s.temperature)
            .fold(self.shop.air.temperature, Temperature::max);
        let rise = (hottest - self.shop.air.temperature).in_kelvin();
        let stays = story
            .visits
            .iter()
            .filter(|v| v.station == self.id && v.begins.is_some());
        let most: f64 = stays.map(|v| self.heat_capacity(story, v) * rise).sum();
        if last.s.to_loads.base() > most * (1.0 + SHARE) + LEAST.base()
            || last.s.to_loads.base() < -LEAST.base()
        {
            self.say(
                last.at,
                FaultKind::Energy,
                "the work takes up more heat than warming it needs, or gives heat",
                found,
            );
        }
    }

    /// J/K of everything in a load.
    fn heat_capacity(&self, story: &Story, visit: &Visit) -> f64 {
        let lots = visit.lots.iter().filter_map(|&l| story.lots.get(l));
        let one = |lot: &super::stage::Lot| {
            let part = self.shop.parts.get(lot.part.index())?;
            let material = self.shop.materials.get(part.material.index())?;
            Some(part.mass.base() * material.heat_capacity.base() * f64::from(lot.pieces))
        };
        lots.filter_map(one).sum()
    }

    /// A load goes in, and the bath is called in its band, only when it is; judged by the samples before and after.
    fn band(&self, record: &Record, story: &Story, looks: &[Look<'_>], found: &mut Findings<'_>) {
        let Some(bath) = self.shop.baths.get(self.tank.bath.index()) else {
            return;
        };
        for visit in story.visits.iter().filter(|v| v.station == self.id) {
            let near = around(looks, visit.set_in);
            let hot = near.iter().any(|t| *t >= bath.band.least - SLACK);
            let cool = near.iter().any(|t| *t <= bath.band.most + SLACK);
            if !(hot && cool) {
                found.of_load(
                    visit.set_in,
                    FaultKind::Band,
                    visit.load,
                    "goes into a bath that is not in its band",
                );
            }
        }
        for entry in &record.entries {
            let here = matches!(entry.event, LogEntry::InBand { tank } if tank == self.id);
            if here
                && !around(looks, entry.at)
                    .iter()
                    .any(|t| *t >= bath.band.least - SLACK)
            {
                self.say(
                    entry.at,
                    FaultKind::Band,
                    "is called in its band and is not",
                    found,
                );
            }
        }
    }
}

/// Tolerated in a temperature that was waited for.
const SLACK: TempDiff = TempDiff::kelvin(1e-4);

/// Temperatures of the last sample before a moment, of all at it, and of the first behind it.
fn around(looks: &[Look<'_>], at: Moment) -> Vec<Temperature> {
    let first = looks.partition_point(|l| l.at < at).saturating_sub(1);
    let last = looks.partition_point(|l| l.at <= at);
    looks
        .iter()
        .take(last + 1)
        .skip(first)
        .map(|l| l.s.temperature)
        .collect()
}
