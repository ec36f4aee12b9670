//! Rinses: what loads bring in and take out, and the strength of their water, worked out again step by step in time.

use super::found::{FaultKind, Findings};
use super::hands::{Doing, Kind};
use super::stage::{Story, Visit};
use std::collections::BTreeMap;
use tankday_base::shop::{Rinse, RinseLimit, Shop, StationId, StepRef};
use tankday_base::units::{Moment, Span};
use tankday_record::{LoadNo, LogEntry, Record};

/// Relative error that is forgiven: the water is followed by steps, not by a formula.
const NEAR: f64 = 1e-6;
/// Steps in which a turn of the water is followed.
const STEPS: f64 = 64.0;

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() <= NEAR * (a.abs() + b.abs()) + 1e-12
}

/// Water of one rinse: total acid of each tub in points, up to a moment.
struct Water {
    rinse: Rinse,
    tubs: Vec<f64>,
    at: Moment,
    inside: u32,
    loads: u32,
    /// Since its last renewal it was used before an opening.
    stood: bool,
    due: bool,
}

/// Liquid on a load: litres, its points where they are known, the points of the bath where it was rinsed since.
#[derive(Clone, Copy)]
struct Film {
    litres: f64,
    points: Option<f64>,
    bath: Option<f64>,
}

const DRY: Film = Film {
    litres: 0.0,
    points: Some(0.0),
    bath: None,
};

/// All rinses, what is on loads, and who must be rinsed where.
struct Rinses<'a> {
    shop: &'a Shop,
    story: &'a Story,
    tasks: &'a [Doing],
    waters: BTreeMap<StationId, Water>,
    films: BTreeMap<LoadNo, Film>,
    must: BTreeMap<LoadNo, StationId>,
}

pub(super) fn check(shop: &Shop, record: &Record, story: &Story, tasks: &[Doing], found: &mut Findings<'_>) {
    let stations = (0..).map(StationId).zip(&shop.stations);
    let waters: BTreeMap<StationId, Water> = stations
        .filter_map(|(id, s)| Some((id, Water::clean(s.rinse?))))
        .collect();
    if waters.is_empty() {
        return;
    }
    let mut rinses = Rinses {
        shop,
        story,
        tasks,
        waters,
        films: BTreeMap::new(),
        must: BTreeMap::new(),
    };
    for entry in &record.entries {
        rinses.note(entry.at, &entry.event, found);
    }
    for (load, station) in rinses.must {
        let text = format!("is never rinsed in {}", found.station(station));
        found.of_load(Moment::ZERO, FaultKind::Rinse, load, &text);
    }
}

impl Rinses<'_> {
    fn is_tank(&self, station: StationId) -> bool {
        self.shop
            .stations
            .get(station.index())
            .is_some_and(|s| s.tank.is_some())
    }

    fn note(&mut self, at: Moment, event: &LogEntry, found: &mut Findings<'_>) {
        match *event {
            LogEntry::Opens => self.waters.values_mut().for_each(|w| w.stood |= w.loads > 0),
            LogEntry::WorkBegins { load, station, .. } => {
                if self.waters.contains_key(&station) {
                    self.must.insert(load, station);
                } else if !self.is_tank(station) {
                    self.films.remove(&load);
                }
            }
            LogEntry::Rinsed {
                load,
                station,
                brought,
                strength,
                first,
                last,
            } => {
                if self.must.remove(&load) != Some(station) {
                    found.of_load(at, FaultKind::Rinse, load, "is rinsed where it is not");
                }
                let told = [
                    brought.in_litres(),
                    strength.in_points(),
                    first.in_points(),
                    last.in_points(),
                ];
                self.rinsed(at, load, station, told, found);
            }
            LogEntry::LiftBegins { load, station, step } => self.lifted(at, load, station, step),
            LogEntry::Renewed { station, volume } => self.renewed(at, station, volume.in_litres(), found),
            _ => {}
        }
    }

    /// Told are the litres and points that come in, and the points of the first and the last tub.
    fn rinsed(
        &mut self,
        at: Moment,
        load: LoadNo,
        station: StationId,
        told: [f64; 4],
        found: &mut Findings<'_>,
    ) {
        let [litres, points, first, last] = told;
        let film = self.films.entry(load).or_insert(DRY);
        if !near(film.litres, litres) || film.points.is_some_and(|p| !near(p, points)) || points < 0.0 {
            found.of_load(
                at,
                FaultKind::Rinse,
                load,
                "brings other liquid into a rinse than is on it",
            );
        }
        if film.points.is_none() {
            film.bath = Some(points);
        }
        film.points = Some(points);
        let bath = film.bath;
        let Some(water) = self.waters.get_mut(&station) else {
            return;
        };
        water.follow(at);
        water.take(litres, points, bath);
        let sound = |tub: Option<&f64>, told: f64| tub.is_some_and(|t| near(*t, told));
        if !sound(water.tubs.first(), first) || !sound(water.tubs.last(), last) {
            let text = format!("the water of {} has another strength", found.station(station));
            found.say(at, FaultKind::Rinse, text);
        }
    }

    fn lifted(&mut self, at: Moment, load: LoadNo, station: StationId, step: StepRef) {
        if let Some(water) = self.waters.get_mut(&station) {
            water.follow(at);
            water.inside = water.inside.saturating_sub(1);
            if let (Some(film), Some(last)) = (self.films.get_mut(&load), water.tubs.last()) {
                film.points = Some(*last);
            }
        } else if self.is_tank(station) {
            let mut visits = self.story.visits.iter();
            let visit = visits.find(|v| v.load == load && v.step == step && v.lift == Some(at));
            let litres = visit.map_or(0.0, |v| dragged(self.shop, self.story, v));
            let film = Film {
                litres,
                points: None,
                bath: None,
            };
            self.films.insert(load, film);
        }
    }

    fn renewed(&mut self, at: Moment, station: StationId, litres: f64, found: &mut Findings<'_>) {
        let Some(water) = self.waters.get_mut(&station) else {
            return;
        };
        let rinse = water.rinse;
        let all = rinse.fill.in_litres() * f64::from(rinse.tubs.max(1));
        let by_hands = renews(self.tasks, station, at, rinse.renewal.takes);
        let asked = water.due || (rinse.renewal.at_opening && water.stood);
        if !near(litres, all) || water.inside > 0 || !by_hands || !asked {
            let text = format!(
                "{} is renewed without need, room, hands or water",
                found.station(station)
            );
            found.say(at, FaultKind::Rinse, text);
        }
        *water = Water {
            at,
            ..Water::clean(rinse)
        };
    }
}

/// Whether hands were at it just so long; where it takes no time nobody is looked for.
fn renews(tasks: &[Doing], station: StationId, at: Moment, takes: Span) -> bool {
    let task =
        |t: &Doing| t.kind == Kind::Renew && t.station == station && t.to == Some(at) && at - t.from == takes;
    takes <= Span::ZERO || tasks.iter().any(task)
}

/// Litres on the pieces of a load as it leaves a bath: their surfaces, thinned by the square root of the time of
/// dripping, which counts from 1 s to 40 s and is 10 s for the figure of the part.
fn dragged(shop: &Shop, story: &Story, visit: &Visit) -> f64 {
    let steps = shop.routes.get(visit.step.route.index()).map(|r| &r.steps);
    let drip = steps
        .and_then(|s| s.get(visit.step.step.index()))
        .map_or(10.0, |s| s.drip.in_seconds());
    let on = |lot: &usize| {
        let lot = story.lots.get(*lot)?;
        let part = shop.parts.get(lot.part.index())?;
        let square_metres = part.area.in_square_decimetres() / 100.0;
        Some(f64::from(lot.pieces) * square_metres * part.drag_out.in_millilitres_per_square_metre() / 1e3)
    };
    let all: f64 = visit.lots.iter().filter_map(on).sum();
    all / (drip.clamp(1.0, 40.0) / 10.0).sqrt()
}

impl Water {
    fn clean(rinse: Rinse) -> Self {
        Self {
            rinse,
            tubs: vec![0.0; rinse.tubs.max(1) as usize],
            at: Moment::ZERO,
            inside: 0,
            loads: 0,
            stood: false,
            due: false,
        }
    }

    /// Up to a moment: while a load is in, clean water runs from the last tub to the first. Runge-Kutta in small steps.
    fn follow(&mut self, at: Moment) {
        let minutes = (at - self.at).in_minutes();
        self.at = at;
        let turns = self.rinse.flow.in_litres_per_minute() * minutes / self.rinse.fill.in_litres();
        if self.inside == 0 || turns.is_nan() || turns <= 0.0 {
            return;
        }
        // After so many turns nothing is left that could be told.
        let turns = turns.min(60.0 + 4.0 * self.tubs.len() as f64);
        let steps = (turns * STEPS).ceil().clamp(16.0, 20_000.0);
        let h = turns / steps;
        for _ in 0..steps as u32 {
            let k1 = slope(&self.tubs);
            let k2 = slope(&along(&self.tubs, &k1, h / 2.0));
            let k3 = slope(&along(&self.tubs, &k2, h / 2.0));
            let k4 = slope(&along(&self.tubs, &k3, h));
            for (i, tub) in self.tubs.iter_mut().enumerate() {
                let k = |k: &[f64]| k.get(i).copied().unwrap_or(0.0);
                *tub += h / 6.0 * (k(&k1) + 2.0 * k(&k2) + 2.0 * k(&k3) + k(&k4));
            }
        }
    }

    /// A load passes the tubs.
    fn take(&mut self, litres: f64, points: f64, bath: Option<f64>) {
        let tub = self.rinse.fill.in_litres();
        let mut carried = points;
        for strength in &mut self.tubs {
            // What was in the tub and what comes in, in points times litres.
            *strength = (*strength * tub + carried * litres) / (tub + litres);
            carried = *strength;
        }
        self.inside += 1;
        self.loads += 1;
        let limit = match self.rinse.renewal.at {
            Some(RinseLimit::Points(points)) => Some(points.in_points()),
            Some(RinseLimit::OfBath(share)) => bath.map(|b| b * share.in_fraction()),
            None => None,
        };
        let strong = limit.is_some_and(|l| carried >= l * (1.0 - NEAR));
        let many = self.rinse.renewal.after.is_some_and(|most| self.loads >= most);
        self.due |= strong || many;
    }
}

fn slope(tubs: &[f64]) -> Vec<f64> {
    let next = tubs.iter().skip(1).copied().chain(std::iter::once(0.0));
    tubs.iter().zip(next).map(|(own, next)| next - own).collect()
}

fn along(tubs: &[f64], slope: &[f64], h: f64) -> Vec<f64> {
    tubs.iter().zip(slope).map(|(t, s)| t + h * s).collect()
}
