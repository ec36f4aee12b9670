//! From when on a bath takes no load, held against the record: no load goes in after it, at that time a limit was passed, and
//! just before it none was.

use crate::made_days::{two_loads, two_orders};
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;
use tankday::bath::chemistry::Gravity;
use tankday::bath::water::measuring_density;
use tankday::line::Line;
use tankday::random::Streams;
use tankday::record::{BathReadings, BathSample, Caution, Entry, Figures, LogEntry, Record, WarningKind};
use tankday::shop::{Shop, StationId};
use tankday::units::{Area, Concentration, Mass, Moment, Share, Span, Strength};

/// Whether a bath that reads so stops: worked out here once more.
fn stops(shop: &Shop, id: StationId, sample: &BathSample) -> bool {
    let tank = shop.tank(id).unwrap();
    let recipe = &shop.baths[tank.bath.index()];
    let Some(r) = sample.readings else { return false };
    let litres = (sample.water / measuring_density()).in_litres();
    let level = litres / tank.fill.in_litres();
    let full = level.min(1.0);
    let grams = (r.stirred + r.settled).in_grams();
    let sludge = Share::fraction(grams / recipe.chemistry.sludge_bed.in_grams_per_litre() / litres * full);
    let limits = &recipe.limits;
    let mended = shop.hands > 0 && shop.rules.top_up.below.in_fraction() > 0.0;
    let grave = [
        limits.strength.check(r.total_acid * full).map(|g| g.0),
        limits.ratio.check(r.total_acid / r.free_acid).map(|g| g.0),
        limits.iron.check(r.iron * full).map(|g| g.0),
        limits.sludge.check(sludge).map(|g| g.0),
        limits
            .level
            .check(Share::fraction(level))
            .map(|g| g.0)
            .filter(|_| !mended),
    ];
    grave.contains(&Some(Gravity::Stop))
}

/// Baths that are worn out soon, each by another limit, and that nobody cares for.
fn worn(mut shop: Shop, nth: usize) -> Shop {
    shop.rules.care.clear();
    for (i, bath) in (nth..).zip(&mut shop.baths) {
        bath.wears = true;
        let little = Concentration::grams_per_litre(0.003 * (1 + nth % 7) as f64);
        match i % 4 {
            0 => bath.limits.strength.stop_below = bath.now.total_acid * 0.9995,
            1 => bath.limits.iron.stop_above = bath.now.iron + little,
            2 => bath.limits.ratio.stop_below = bath.now.total_acid / bath.now.free_acid * 0.999,
            _ => {
                bath.limits.iron.stop_above = bath.now.iron + little;
                bath.limits.ratio.stop_below =
                    bath.now.total_acid / bath.now.free_acid * (1.0 - 0.0004 * (1 + nth % 9) as f64);
            }
        }
    }
    shop
}

fn faults(shop: &Shop, record: &Record, stop: &Caution) -> Vec<String> {
    let id = stop.station.unwrap();
    let goes_in = |e: &LogEntry| matches!(*e, LogEntry::SetIn { station, .. } if station == id);
    let after = record
        .entries
        .iter()
        .filter(|e| e.at > stop.at && goes_in(&e.event));
    let mut faults: Vec<String> = after
        .map(|e| format!("a load goes in at {}", e.at.clock()))
        .collect();
    let samples = record.entries.iter().filter_map(|e| match &e.event {
        LogEntry::Bath { tank, sample } if *tank == id => Some((e.at, stops(shop, id, sample))),
        _ => None,
    });
    let samples: Vec<(Moment, bool)> = samples.collect();
    let upto = samples.iter().rposition(|(at, _)| *at <= stop.at);
    if !upto.is_some_and(|i| samples[i].1) {
        faults.push(format!("no limit is passed at {}", stop.at.clock()));
    }
    let earlier = samples.iter().rposition(|(at, _)| *at < stop.at);
    let opens = shop.calendar.days[0].open;
    if stop.at > opens && earlier.is_some_and(|i| samples[i].1) {
        faults.push(format!("a limit is passed before {}", stop.at.clock()));
    }
    // What a load or care changes is known at once; what the air changes, as soon as the bath is looked at.
    let changes = |e: &LogEntry| match *e {
        LogEntry::Coated { tank, .. } | LogEntry::CareEnds { tank, .. } => tank == id,
        _ => false,
    };
    let since = earlier.map_or(opens, |i| samples[i].0);
    let mut between = record.entries.iter().filter(|e| since < e.at && e.at < stop.at);
    if let Some(e) = between.find(|e| changes(&e.event)).filter(|_| stop.at > opens) {
        faults.push(format!(
            "it is said only at {} of what was done at {}",
            stop.at.clock(),
            e.at.clock()
        ));
    }
    faults
}

#[test]
fn no_load_goes_in_after_a_bath_has_stopped() {
    let mut runner = TestRunner::deterministic();
    let any = crate::random_shop::any_shop();
    let (mut seen, mut in_the_day) = (0, 0);
    for nth in 0..160 {
        let shop = worn(any.new_tree(&mut runner).unwrap().current(), nth);
        let mut record = Record::default();
        Line::new(&shop).run(Some(Streams::new(3, nth as u64)), &mut record);
        let figures = Figures::of(&shop, &record);
        let stopped = figures
            .warnings
            .iter()
            .filter(|w| w.kind == WarningKind::BathStopped);
        for stop in stopped.flat_map(|w| &w.at) {
            seen += 1;
            in_the_day += usize::from(stop.at > shop.calendar.days[0].open);
            assert_eq!(
                faults(&shop, &record, stop),
                Vec::<String>::new(),
                "shop {nth}, {stop:?}"
            );
        }
    }
    assert!(seen > 40 && in_the_day > 20, "{seen}, {in_the_day}");
}

/// Iron passes its limit and comes back by itself; meanwhile the ratio has passed its own: the bath has taken none since the
/// first, and that is the time that is told.
#[test]
fn the_first_limit_tells_since_when() {
    let shop = two_orders();
    let mut record = two_loads();
    let tank = record.entries.iter().find_map(|e| match &e.event {
        LogEntry::Bath { tank, .. } => Some(*tank),
        _ => None,
    });
    let tank = tank.unwrap();
    let last = record.entries.iter().rev().find_map(|e| match &e.event {
        LogEntry::Bath { sample, .. } => Some(**sample),
        _ => None,
    });
    let end = record.entries.last().unwrap().at;
    let limits = &shop.baths[shop.tank(tank).unwrap().bath.index()].limits;
    let fits = BathReadings {
        total_acid: Strength::points(36.0),
        free_acid: Strength::points(6.0),
        iron: Concentration::grams_per_litre(1.2),
        stirred: Mass::ZERO,
        settled: Mass::ZERO,
        area: Area::ZERO,
        uses: 2,
    };
    let iron = limits.iron.stop_above + Concentration::grams_per_litre(1.0);
    let free_acid = Strength::points(36.0 / (limits.ratio.stop_below - 0.5));
    let course = [
        (1, fits),
        (10, BathReadings { iron, ..fits }),
        (
            20,
            BathReadings {
                iron,
                free_acid,
                ..fits
            },
        ),
        (30, BathReadings { free_acid, ..fits }),
    ];
    for (minutes, readings) in course {
        let sample = BathSample {
            readings: Some(readings),
            ..last.unwrap()
        };
        let event = LogEntry::Bath {
            tank,
            sample: Box::new(sample),
        };
        record.entries.push(Entry {
            at: end + Span::whole_minutes(minutes),
            event,
        });
    }
    let figures = Figures::of(&shop, &record);
    let stopped = figures
        .warnings
        .iter()
        .filter(|w| w.kind == WarningKind::BathStopped);
    let times: Vec<Moment> = stopped.flat_map(|w| &w.at).map(|c| c.at).collect();
    assert_eq!(times, [end + Span::whole_minutes(10)]);
}
