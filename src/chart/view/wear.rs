//! Baths as they wear: readings against the surface coated, care, limits.

use super::Read;
use tankday_base::bath::water::measuring_density;
use tankday_base::shop::{Limits, StationId, Tank};
use tankday_base::units::{Moment, Volume};
use tankday_record::{BathSample, CareKind, LogEntry};

/// How a bath read at one moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WearPoint {
    /// When.
    pub at: Moment,
    /// Surface coated in it since the start of the run, m2.
    pub area: f64,
    /// Total acid, points; free acid by it; iron, g/L; sludge, % of the volume: in the order of [`WearLine::NAMES`].
    pub readings: [f64; 4],
}

/// One bath through the run.
#[derive(Debug, Clone, PartialEq)]
pub struct WearLine {
    /// The tank's name.
    pub name: String,
    /// In order of time.
    pub points: Vec<WearPoint>,
    /// Care that ended: at which surface, and what.
    pub care: Vec<(f64, CareKind)>,
    /// Where days began, by surface: the first of the run left out.
    pub days: Vec<f64>,
    /// Stop and warn, low and high, in the order of the readings.
    pub limits: [[f64; 4]; 4],
    /// Surface that it still coats before the first limit, m2, and which that is.
    pub goes_on: Option<(f64, &'static str)>,
}

impl WearLine {
    /// What the readings are called, and their units.
    pub const NAMES: [(&'static str, &'static str); 4] = [
        ("strength", "points"),
        ("total by free acid", ""),
        ("iron", "g/L"),
        ("sludge", "% of the volume"),
    ];
}

pub(super) fn of(read: &Read<'_>, figures: &tankday_record::Figures) -> Vec<WearLine> {
    let line = |(id, station, tank): (StationId, &tankday_base::shop::Station, &Tank)| {
        let recipe = read.shop.baths.get(tank.bath.index()).filter(|r| r.wears)?;
        let figure = figures.baths.iter().find(|b| b.tank == id)?;
        let first = figure.life.as_ref().and_then(|l| l.first());
        let mut line = WearLine {
            name: station.name.clone(),
            points: Vec::new(),
            care: Vec::new(),
            days: Vec::new(),
            limits: limits(&recipe.limits),
            goes_on: first.map(|r| (r.area.in_square_metres(), r.what.sentence(r.side))),
        };
        let bed = recipe.chemistry.sludge_bed.in_grams_per_litre();
        let (mut area, mut open) = (0.0, false);
        for entry in &read.record.entries {
            match &entry.event {
                LogEntry::Coated { load, tank, .. } if *tank == id => {
                    area += read.all.cargo.area(read.shop, *load).in_square_metres();
                }
                LogEntry::CareEnds { tank, care, .. } if *tank == id => line.care.push((area, *care)),
                LogEntry::Opens => {
                    line.days.extend(open.then_some(area));
                    open = true;
                }
                LogEntry::Bath { tank: t, sample } if *t == id => {
                    line.points.extend(point(entry.at, area, sample, tank.fill, bed));
                }
                _ => {}
            }
        }
        (!line.points.is_empty()).then_some(line)
    };
    read.shop.tanks().filter_map(line).collect()
}

/// Readings as they would be with the tank filled to its mark, so that what evaporates does not hide what wears.
fn point(at: Moment, area: f64, sample: &BathSample, fill: Volume, bed: f64) -> Option<WearPoint> {
    let r = sample.readings?;
    let filled = (sample.water / measuring_density()) / fill;
    let sludge = (r.stirred + r.settled).in_grams() / bed / fill.in_litres() * 100.0;
    let readings = [
        r.total_acid.in_points() * filled,
        r.total_acid / r.free_acid,
        r.iron.in_grams_per_litre() * filled,
        sludge,
    ];
    let point = WearPoint { at, area, readings };
    readings.iter().all(|x| x.is_finite()).then_some(point)
}

fn limits(limits: &Limits) -> [[f64; 4]; 4] {
    let s = &limits.strength;
    let i = &limits.iron;
    let r = &limits.ratio;
    let m = &limits.sludge;
    [
        [s.stop_below, s.warn_below, s.warn_above, s.stop_above].map(|x| x.in_points()),
        [r.stop_below, r.warn_below, r.warn_above, r.stop_above],
        [i.stop_below, i.warn_below, i.warn_above, i.stop_above].map(|x| x.in_grams_per_litre()),
        [m.stop_below, m.warn_below, m.warn_above, m.stop_above].map(|x| x.in_percent()),
    ]
}
