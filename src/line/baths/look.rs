//! Looking at a bath for the record. A look works on a copy: it never changes the bath, so that a run is the same with
//! and without a record.

use super::Baths;
use super::tank::{Tank, at_least};
use crate::day::{Day, Event};
use crate::ids::TankIx;
use tankday_base::bath::{Bath, Heater, Heating, Lid, TankHeat};
use tankday_base::units::{Energy, Moment, Span};
use tankday_record::{BathReadings, BathSample, HeaterState, LogEntry};

/// While its temperature moves a bath is looked at so often.
const LOOK: Span = Span::whole_minutes(5);
/// And so often while it is kept hot, since its water goes off.
const HELD: Span = Span::whole_minutes(30);

impl Baths<'_> {
    pub(super) fn sample(&mut self, day: &mut Day<'_>, tank: TankIx) {
        if !day.sees_baths() {
            return;
        }
        let t = &self.tanks[tank];
        let mut heat = t.heat;
        heat.advance(&self.heat[tank], day.now() - t.at);
        let moved = t.seen.sampled.is_none_or(|(last, heater)| {
            heater != heat.heater() || (heat.temperature() - last).in_kelvin().abs() >= 0.01
        });
        let inside = t.inside.iter().map(|i| i.heat).sum();
        let mut sample = sample_of(&heat, &self.heat[tank], inside);
        let mut chemistry = t.clone();
        chemistry.heat = heat;
        chemistry.follow(self.recipe(tank), (day.now() - t.at).max(Span::ZERO));
        sample.readings = chemistry.readings();
        let station = t.station;
        self.tanks[tank].seen.sampled = Some((sample.temperature, heat.heater()));
        day.note(|| LogEntry::Bath {
            tank: station,
            sample: Box::new(sample),
        });
        if self.tanks[tank].seen.looked_at > day.now() {
            return;
        }
        if moved {
            self.look_again(day, tank, &heat);
        } else if heat.heater() != Heater::Off {
            self.look_at(day, tank, day.now() + HELD);
        }
    }

    /// Looks again after a while, or just when the thermostat takes over.
    fn look_again(&mut self, day: &mut Day<'_>, tank: TankIx, heat: &Bath) {
        let table = &self.heat[tank];
        let to_hold = match heat.heating(table) {
            Heating::Full => heat.time_until_temperature(table, self.band(tank).hold),
            _ => None,
        };
        let wait = to_hold.filter(|d| *d > Span::ZERO).map_or(LOOK, |d| d.min(LOOK));
        self.look_at(day, tank, day.now() + wait);
    }

    fn look_at(&mut self, day: &mut Day<'_>, tank: TankIx, at: Moment) {
        self.tanks[tank].seen.looked_at = at;
        day.schedule(at, crate::day::LOOKS, Event::Sample(tank));
    }

    pub(crate) fn sample_due(&mut self, day: &mut Day<'_>, tank: TankIx) {
        self.sample(day, tank);
    }
}

/// The sample of a bath; `inside` is the heat capacity of the loads in it, J/K.
fn sample_of(heat: &Bath, table: &TankHeat, inside: f64) -> BathSample {
    let sums = heat.ledger();
    let held = Energy::joules(inside * heat.temperature().in_celsius());
    BathSample {
        temperature: heat.temperature(),
        volume: heat.water() / tankday_base::bath::water::density(heat.temperature()),
        water: heat.water(),
        heater: match (heat.heater(), heat.heating(table)) {
            (Heater::Off, _) => HeaterState::Off,
            (_, Heating::Full) => HeaterState::Heating,
            // It waits for its share of the supply.
            (Heater::Keep(set), Heating::Idle) if !at_least(heat.temperature(), set) => HeaterState::Heating,
            _ => HeaterState::Holding,
        },
        lid: table.has_lid() && heat.lid() == Lid::On,
        drawn: heat.drawn(table),
        heated: sums.heater,
        lost: sums.lost,
        carried: sums.added_heat - sums.vapour_heat - sums.removed_heat,
        to_loads: sums.load_heat_out - sums.load_heat_in + held,
        evaporated: sums.evaporated,
        topped_up: sums.added,
        dragged_out: sums.removed,
        readings: None,
    }
}

impl Tank {
    pub(super) fn readings(&self) -> Option<BathReadings> {
        let chemistry = self.chemistry.as_ref()?;
        Some(BathReadings {
            total_acid: chemistry.total_acid(),
            free_acid: chemistry.free_acid(),
            iron: chemistry.iron(),
            stirred: chemistry.suspended(),
            settled: chemistry.settled(),
            area: chemistry.area(),
            uses: chemistry.uses(),
        })
    }
}
