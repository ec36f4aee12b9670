//! Each kind of instance as an ordinary shop. A unit of time is a second, a minute on the lite day.
#![allow(clippy::panic)]

use super::finish_only;
use jiff::civil::date;
use serde_json::Value;
use tankday::random::Spread;
use tankday::shop::*;
use tankday::units::*;

type Built = Result<Shop, String>;

/// The smallest scenario that can be read: what nobody looks at comes from here.
const PLAIN: &str = "tankday: 1\ntitle: published\nshop: {hands: 0}\nparts:\n  piece: {material: plain steel, mass: 1 g, area: 1 cm2}\nroutes:\n  way:\n    - {do: wait, at: bench, for: 1 min, hands: none}\nstations:\n  - {name: bench}\norders:\n  - {id: A, part: piece, count: 1, route: way}\n";

fn plain(text: &str) -> Shop {
    let read = tankday::scenario::read("published", text);
    read.map(|s| s.shop)
        .unwrap_or_else(|e| panic!("{}", e.render(false)))
}

/// The shop that all begin with: never closed, no hands, no stations.
fn bare() -> Shop {
    let mut shop = plain(PLAIN);
    shop.calendar = Calendar {
        crews: Vec::new(),
        first: date(2026, 3, 2),
        days: vec![Day {
            open: Moment::ZERO,
            close: Moment::NEVER,
            breaks: Vec::new(),
            stays: false,
        }],
    };
    shop.stations.clear();
    shop.orders.clear();
    shop.rules.hands = HandsFirst::Urgent;
    shop.rules.look_ahead = true;
    shop.rules.stop = Moment::ZERO + Span::hours(24.0 * 3660.0);
    shop.aim = finish_only();
    shop
}

fn list(value: &Value) -> Result<&Vec<Value>, String> {
    value.as_array().ok_or_else(|| "a list is missing".to_owned())
}

fn number(value: &Value) -> Result<f64, String> {
    value.as_f64().ok_or_else(|| "a number is missing".to_owned())
}

fn numbers(value: &Value) -> Result<Vec<f64>, String> {
    list(value)?.iter().map(number).collect()
}

fn secs(s: f64) -> Span {
    Span::micros((s * 1e6).round() as i64)
}

fn add_station(shop: &mut Shop, name: String, places: u32) -> StationId {
    shop.stations.push(Station {
        name,
        places,
        together: 1,
        frees: Frees::WhenEmptied,
        tank: None,
        ..plain(PLAIN).stations[0].clone()
    });
    StationId(shop.stations.len() as u32 - 1)
}

/// A step right after the one before it.
fn step(shop: &Shop, at: StationId, time: Span, place: usize) -> Step {
    let mut step = shop.routes[0].steps[0].clone();
    step.name = format!("step {place}");
    step.stations = vec![at];
    step.time = StepTime::Work {
        load: Spread::Fixed(time),
        each: Span::ZERO,
    };
    step.hands = Hands::None;
    (step.put_in, step.take_out) = (Span::ZERO, Span::ZERO);
    (step.most, step.within) = (None, None);
    step.at_once = false;
    step.after = if place == 0 {
        Vec::new()
    } else {
        vec![StepIx(place as u32 - 1)]
    };
    step
}

fn add_order(shop: &mut Shop, part: u32, count: u32, route: u32, due: Option<Span>) {
    shop.orders.push(Order {
        id: format!("J{}", shop.orders.len()),
        part: PartId(part),
        count,
        route: RouteId(route),
        arrival: Arrival::At(Moment::ZERO),
        due_after: due,
        ..plain(PLAIN).orders[0].clone()
    });
}

fn routed(mut shop: Shop, jobs: &[Vec<(usize, f64)>]) -> Shop {
    let blank = shop.clone();
    shop.routes = jobs
        .iter()
        .enumerate()
        .map(|(j, job)| Route {
            name: format!("way {j}"),
            steps: job
                .iter()
                .enumerate()
                .map(|(k, &(m, t))| step(&blank, StationId(m as u32), secs(t), k))
                .collect(),
        })
        .collect();
    for j in 0..jobs.len() {
        add_order(&mut shop, 0, 1, j as u32, None);
    }
    shop
}

/// `data.jobs[j]` = list of [machine, duration].
pub(crate) fn job_shop(data: &Value) -> Built {
    let mut jobs = Vec::new();
    for job in list(&data["jobs"])? {
        let ops: Result<Vec<(usize, f64)>, String> = list(job)?
            .iter()
            .map(|op| Ok((number(&op[0])? as usize, number(&op[1])?)))
            .collect();
        jobs.push(ops?);
    }
    let machines = jobs.iter().flatten().map(|o| o.0 + 1).max().unwrap_or(0);
    let mut shop = bare();
    for m in 0..machines {
        add_station(&mut shop, format!("station {m}"), 1);
    }
    Ok(routed(shop, &jobs))
}

/// `data.times[j][m]`; loads do not overtake each other.
pub(crate) fn flow_shop(data: &Value) -> Built {
    let mut jobs = Vec::new();
    for job in list(&data["times"])? {
        jobs.push(numbers(job)?.into_iter().enumerate().collect::<Vec<_>>());
    }
    let machines = jobs.first().map_or(0, Vec::len);
    let mut shop = bare();
    shop.aim.overtaking = false;
    for m in 0..machines {
        add_station(&mut shop, format!("station {m}"), 1);
    }
    Ok(routed(shop, &jobs))
}

/// A deep tank at its temperature with room for so much surface and mass, hot from the beginning.
/// Litres in a tank: so many that nothing an instance does cools it, and no day of one dries it up. No instance knows of water.
const FILL: f64 = 200.0;

fn with_tank(area_dm2: f64, mass_kg: f64, tanks: u32) -> Shop {
    let text = "tankday: 1\ntitle: published\nshop: {hands: 1}\nbaths:\n  manganese:\n    band: {least: 50 °C, hold: 95 °C, most: 98 °C}\n    room: {area: 1 dm2/L, mass: 1 kg/L}\n    coat: {time: 1 min}\n    dwell: 1 s to 200 h\ntanks:\n  - {name: black tank, bath: manganese, inside: 35 cm x 25 cm x 300 cm, fill: 200 L, now: {temperature: 95 °C}, heater: {power: 20 kW, kind: immersion}}\nparts:\n  piece: {material: plain steel, mass: 1 g, area: 1 cm2, bulk: any}\nroutes:\n  way:\n    - {do: coat, in: manganese}\norders:\n  - {id: A, part: piece, count: 1, route: way}\nrules:\n  top up: never\n";
    let mut written = plain(text);
    let tank = written.stations.iter().find(|s| s.tank.is_some()).cloned();
    let mut shop = bare();
    shop.baths.append(&mut written.baths);
    if let Some(bath) = shop.baths.first_mut() {
        bath.coat = CoatRule::Time(Spread::Fixed(Span::ZERO));
        (bath.least, bath.most) = (Span::ZERO, Span::hours(24.0 * 3660.0));
        bath.room.area = AreaPerVolume::square_decimetres_per_litre(area_dm2 / FILL);
        bath.room.mass = MassPerVolume::kilograms_per_litre(mass_kg / FILL);
    }
    for n in 0..tanks {
        shop.stations.extend(tank.clone().map(|t| Station {
            name: format!("tank {n}"),
            ..t
        }));
    }
    shop.rules.combine = Combine::SameRoute;
    shop.rules.heat.off = HeatOff::Never;
    shop.rules.heat.on = HeatOn::AtOpening;
    shop.rules.heat.lid = LidRule::BetweenLoads;
    shop.rules.heat.unattended = true;
    shop.rules.top_up = TopUp {
        below: Share::ZERO,
        takes: Span::ZERO,
    };
    shop
}

fn coat(shop: &Shop, tanks: u32, place: usize) -> Step {
    Step {
        time: StepTime::Coat,
        stations: (0..tanks).map(StationId).collect(),
        ..step(shop, StationId(0), Span::ZERO, place)
    }
}

fn part_like(shop: &Shop, area_dm2: f64, mass_kg: f64, dwell: (Span, Span)) -> Part {
    Part {
        name: format!("part {}", shop.parts.len()),
        area: Area::square_decimetres(area_dm2),
        mass: Mass::kilograms(mass_kg),
        bulk: Volume::ZERO,
        drag_out: VolumePerArea::ZERO,
        dwell: Some(dwell),
        ..shop.parts[0].clone()
    }
}

/// Jobs with `time` and `size`; a batch lasts as long as its longest job; one family in each.
pub(crate) fn batch_machine(data: &Value) -> Built {
    let (times, sizes) = (numbers(&data["time"])?, numbers(&data["size"])?);
    let families: Vec<usize> = match data.get("family").filter(|f| !f.is_null()) {
        Some(f) => numbers(f)?.into_iter().map(|f| f as usize).collect(),
        None => vec![0; times.len()],
    };
    batches(number(&data["capacity"])?, &times, &sizes, &families)
}

/// Items with `weights`; every bin takes a second.
pub(crate) fn bin_packing(data: &Value) -> Built {
    let weights = numbers(&data["weights"])?;
    let n = weights.len();
    batches(number(&data["capacity"])?, &vec![1.0; n], &weights, &vec![0; n])
}

fn batches(capacity: f64, times: &[f64], sizes: &[f64], families: &[usize]) -> Built {
    if times.len() != sizes.len() || families.len() != sizes.len() {
        return Err("lists of different lengths".to_owned());
    }
    // A thousandth of a dm2 for each unit of size, so that the bath is not worn.
    let mut shop = with_tank(capacity / 1e3, 1e3, 1);
    let count = families.iter().max().map_or(1, |f| f + 1);
    let blank = shop.clone();
    shop.routes = (0..count)
        .map(|f| Route {
            name: format!("family {f}"),
            steps: vec![coat(&blank, 1, 0)],
        })
        .collect();
    for ((&t, &s), &f) in times.iter().zip(sizes).zip(families) {
        if s > capacity {
            return Err("something is larger than the machine".to_owned());
        }
        let part = part_like(&shop, s / 1e3, 1e-6, (secs(t), Span::hours(24.0 * 3660.0)));
        shop.parts.push(part);
        let part = shop.parts.len() as u32 - 1;
        add_order(&mut shop, part, 1, f as u32, None);
    }
    Ok(shop)
}

/// Identical parts through treatments 0 to n and back; the hands are the hoist. Setting in is the end of the carrying, a
/// part may not wait for its tank.
pub(crate) fn hoist(data: &Value) -> Built {
    let carry = numbers(&data["f"])?;
    let least = numbers(&data["tmin"])?;
    let most: Vec<Option<f64>> = list(&data["tmax"])?.iter().map(Value::as_f64).collect();
    let parts = number(&data["parts"])? as u32;
    if carry.len() != least.len() || most.len() != least.len() {
        return Err("lists of different lengths".to_owned());
    }
    let mut shop = bare();
    shop.hands = 1;
    let mut rows = Vec::new();
    for row in list(&data["e"])? {
        rows.push(numbers(row)?.into_iter().map(secs).collect::<Vec<_>>());
    }
    shop.walks = Walks::of(&rows);
    for i in 0..carry.len() {
        add_station(&mut shop, format!("tank {i}"), if i == 0 { parts } else { 1 });
    }
    let blank = shop.clone();
    let mut steps: Vec<Step> = (0..carry.len())
        .map(|i| Step {
            hands: Hands::Ends,
            take_out: secs(carry[i]),
            most: if i == 0 { None } else { most[i].map(secs) },
            within: (i > 0).then_some(Span::ZERO),
            ..step(
                &blank,
                StationId(i as u32),
                secs(if i == 0 { 0.0 } else { least[i] }),
                i,
            )
        })
        .collect();
    // Back at the station: there the part is laid down, and the hoist stands there.
    steps.push(step(&blank, StationId(0), Span::ZERO, carry.len()));
    shop.stations[0].places = 2 * parts.max(1);
    shop.routes = vec![Route {
        name: "line".to_owned(),
        steps,
    }];
    for _ in 0..parts {
        add_order(&mut shop, 0, 1, 0, None);
    }
    Ok(shop)
}

/// The lite day: preparation, charge, dwell, pull and rinse, drying, oil.
pub(crate) fn lite_day(data: &Value, aim: Aim) -> Built {
    let line = &data["line"];
    let minutes = |key: &str| number(&line[key]).map(|m| secs(60.0 * m));
    let tanks = number(&line["tanks"])? as u32;
    let mut shop = with_tank(
        number(&line["tank_area"])?,
        number(&line["tank_mass"])? / 10.0,
        tanks,
    );
    shop.aim = aim;
    shop.hands = 1;
    shop.rules.heat.on = HeatOn::At(minutes("tank_ready")?);
    let orders = list(&data["orders"])?;
    let many = orders.len() as u32 + 1;
    let bench = add_station(&mut shop, "bench".to_owned(), many);
    let rinse = add_station(&mut shop, "rinse".to_owned(), many);
    let rack = add_station(&mut shop, "rack".to_owned(), many);
    let oil = add_station(&mut shop, "oil".to_owned(), number(&line["oil_slots"])? as u32);
    let base = shop.clone();
    let prep = Step {
        hands: Hands::Throughout,
        at_break: AtBreak::FinishFirst,
        time: StepTime::Work {
            load: Spread::Fixed(Span::ZERO),
            each: Span::whole_minutes(1),
        },
        ..step(&base, bench, Span::ZERO, 0)
    };
    let coat = Step {
        hands: Hands::Ends,
        put_in: minutes("charge")?,
        take_out: minutes("lift")?,
        ..coat(&base, tanks, 1)
    };
    let rinse = Step {
        hands: Hands::Throughout,
        at_break: AtBreak::FinishFirst,
        at_once: true,
        ..step(&base, rinse, minutes("rinse")?, 2)
    };
    let dry = step(&base, rack, minutes("dry_min")?, 3);
    let oil = Step {
        hands: Hands::Ends,
        put_in: minutes("oil_in")?,
        take_out: minutes("oil_out")?,
        ..step(&base, oil, minutes("oil_min")?, 4)
    };
    let mut families: Vec<&str> = Vec::new();
    shop.routes.clear();
    for o in orders {
        let family = o["family"].as_str().unwrap_or("");
        if !families.contains(&family) {
            families.push(family);
            shop.routes.push(Route {
                name: family.to_owned(),
                steps: [&prep, &coat, &rinse, &dry, &oil].map(Clone::clone).to_vec(),
            });
        }
        let route = families.iter().position(|f| *f == family).unwrap_or(0) as u32;
        let count = number(&o["prep"])?;
        let window = (
            secs(60.0 * number(&o["dwell_min"])?),
            secs(60.0 * number(&o["dwell_max"])?),
        );
        let part = part_like(
            &shop,
            number(&o["area"])? / count,
            number(&o["mass"])? / 10.0 / count,
            window,
        );
        shop.parts.push(part);
        let part = shop.parts.len() as u32 - 1;
        add_order(
            &mut shop,
            part,
            count as u32,
            route,
            Some(secs(60.0 * number(&o["due"])?)),
        );
    }
    Ok(shop)
}
