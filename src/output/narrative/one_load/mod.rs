//! What is said of one load: whether it may go in, how it goes, what it takes, what not to put in with it.

mod came_out;
mod figures;
mod new_bath;
mod set_right;
mod verdict;

pub use came_out::{CameOut, seen};
pub use new_bath::new_bath_told;
pub use set_right::set_right_told;

use super::{Block, Card, dwell_believed, look_for};
use tankday_base::bath::chemistry::fresh::FOAM_ROOM;
use tankday_base::bath::chemistry::{Gravity, Watched};
use tankday_base::print::{capital, how_long, list, number, pieces_of, plural};
use tankday_base::shop::{BathRecipe, CoatRule, Coats, HEAVY_LIFT, Lies, Shop};
use tankday_base::units::{Quantity, Share, Span, Volume};
use tankday_record::DwellRange;
use tankday_record::one_load::{Course, Ends, Look, OneLoad, Pieces, Takes};

/// Gas at which most finishers call a load nearly done.
const NEARLY: Share = Share::percent(10.0);

/// Heading of how a load goes: the curve of coat and fizzing belongs there.
pub const IN_THE_BATH: &str = "In the bath";

/// Tells of a load.
#[must_use]
pub fn load_told(shop: &Shop, load: &OneLoad) -> Card {
    let told = Telling { shop, load };
    let (may, answer) = told.verdict();
    let blocks = [told.room(), told.bath(), told.gave(), told.hot(), told.apart()];
    Card {
        place: format!(
            "{} at {}",
            capital(told.tank()),
            celsius(load.now.at.in_celsius())
        ),
        about: list(&load.pieces.iter().map(|p| told.of(p)).collect::<Vec<_>>()),
        may,
        answer,
        blocks: blocks.into_iter().filter(|b| !b.rows.is_empty()).collect(),
        watch: told.watch(),
    }
}

/// `95 °C`, `93.4 °C`.
fn celsius(value: f64) -> String {
    let rounded = (value * 10.0).round() / 10.0;
    let places = usize::from(rounded.fract() != 0.0);
    format!("{} °C", number(rounded, places))
}

/// A span to the minute, and to the half where it is short.
fn short(span: Span) -> String {
    let minutes = span.in_minutes();
    if minutes >= 10.0 {
        return how_long(span);
    }
    let halves = (minutes * 2.0).round() / 2.0;
    format!("{} min", number(halves, usize::from(halves.fract() != 0.0)))
}

/// `1.4 L`, `350 mL`.
fn little(volume: Volume) -> String {
    let litres = volume.in_litres();
    if litres >= 1.0 {
        format!("{} L", number(litres, 1))
    } else {
        format!("{} mL", number(litres * 1e3, 0))
    }
}

struct Telling<'a> {
    shop: &'a Shop,
    load: &'a OneLoad,
}

impl<'a> Telling<'a> {
    fn tank(&self) -> &'a str {
        self.shop.station_name(self.load.tank)
    }

    fn recipe(&self) -> Option<&'a BathRecipe> {
        let tank = self.shop.tank(self.load.tank)?;
        self.shop.baths.get(tank.bath.index())
    }

    fn name(&self, pieces: &Pieces) -> &'a str {
        self.shop
            .parts
            .get(pieces.part.index())
            .map_or("?", |p| p.name.as_str())
    }

    fn of(&self, pieces: &Pieces) -> String {
        pieces_of(pieces.count, self.name(pieces))
    }

    fn room(&self) -> Block {
        let (takes, room) = (&self.load.takes, &self.load.room);
        let [area, mass, basket] = room.shares(takes);
        let mut rows = Vec::new();
        let mut row = |name: &str, of: (f64, f64), unit: &str, share: Option<Share>| {
            let Some(share) = share else { return };
            let places = usize::from(of.1 < 100.0);
            let (has, most) = (number(of.0, places), number(of.1, places));
            let percent = number(share.in_percent(), 0);
            let words = match share.in_fraction() > 1.0 + 1e-9 {
                true => format!(
                    "{has} of {most} {unit}, {} {unit} too much",
                    number(of.0 - of.1, places)
                ),
                false => format!("{has} of {most} {unit}, {percent} % of the load limit"),
            };
            rows.push((name.to_owned(), words));
        };
        let dm2 = |t: &Takes| t.area.in_square_decimetres();
        row("area", (dm2(takes), dm2(room)), "dm²", area);
        row(
            "mass",
            (takes.mass.in_kilograms(), room.mass.in_kilograms()),
            "kg",
            mass,
        );
        let litres = |t: &Takes| t.basket.map_or(0.0, Volume::in_litres);
        row("basket", (litres(takes), litres(room)), "L", basket);
        let ways = self.load.pieces.iter().filter_map(|p| Some((p, lies(p.lies?)?)));
        let ways = ways.map(|(p, way)| format!("{} {way}", plural(self.name(p))));
        let ways: Vec<String> = ways.collect();
        if !ways.is_empty() {
            rows.push(("length".to_owned(), ways.join("; ")));
        }
        let free = number(self.load.headroom.in_millimetres(), 0);
        rows.push((
            "headroom".to_owned(),
            format!("{free} mm above the bath with the load in"),
        ));
        Block {
            heading: "Does it fit",
            caption: "The load against the tank's limits",
            columns: ["limit", "this load"],
            rows,
        }
    }

    fn bath(&self) -> Block {
        let now = &self.load.now;
        let mut rows = vec![("dip".to_owned(), dip(now))];
        if now.ends != Ends::Nothing {
            rows.push(("coating".to_owned(), self.coating()));
            rows.extend(self.gas().map(|words| ("fizzing".to_owned(), words)));
        }
        Block {
            heading: IN_THE_BATH,
            caption: "Temperature, coating and fizzing while the load is in",
            columns: ["figure", "with this load"],
            rows,
        }
    }

    /// `13.5 g/m² on wood screws, 14.4 g/m² on yoke levers after 12 min; 10 to 19 min by what is known of growth`.
    fn coating(&self) -> String {
        let now = &self.load.now;
        let mut each: Vec<(String, Vec<String>)> = Vec::new();
        for (pieces, weight) in self.load.pieces.iter().zip(&now.coated) {
            let weight = format!("{} g/m²", number(weight.in_grams_per_square_metre(), 1));
            let name = plural(self.name(pieces));
            match each.iter_mut().find(|(w, _)| *w == weight) {
                Some((_, names)) => names.push(name),
                None => each.push((weight, vec![name])),
            }
        }
        let one = each.len() == 1;
        let on = |(weight, names): &(String, Vec<String>)| match one {
            true => weight.clone(),
            false => format!("{weight} on {}", list(names)),
        };
        let said: Vec<String> = each.iter().map(on).collect();
        let range = range_of(now)
            .map(|r| dwell_believed(&r))
            .filter(|r| r.contains("to"));
        let range = range.map_or(String::new(), |r| {
            format!(" ({r} min by what is known of such baths)")
        });
        format!("{} after {}{range}", said.join(", "), short(now.stay))
    }

    /// `down to 10 % at 9 min, coat at 93 % then; leave it to 12 min`.
    fn gas(&self) -> Option<String> {
        let now = &self.load.now;
        let out = now.out()?;
        let first = now.looks.first()?;
        let rate = first.rises.in_litres_per_minute();
        let starts = format!("{} L/min of hydrogen at first", number(rate, 1));
        let then = match now.gas_down_to(NEARLY).filter(|l| l.after < now.stay) {
            Some(look) => format!(
                "down to {} at {}, coat at {} then; leave it to {}",
                percent(look.gas),
                short(look.after),
                percent(look.coat),
                short(now.stay)
            ),
            None => format!("down to {} as it comes out", percent(out.gas)),
        };
        Some(format!("{starts}; {then}"))
    }

    fn watch(&self) -> Vec<String> {
        let mut said = Vec::new();
        if self.load.headroom.base() < FOAM_ROOM.base() {
            said.push(format!(
                "{}: only {} mm of headroom for froth. Fresh steel froths: fill less, add slowly, wait between.",
                capital(self.tank()),
                number(self.load.headroom.in_millimetres(), 0)
            ));
        }
        let warned = self.load.breaches.iter().filter(|b| b.gravity == Gravity::Warn);
        let warned = warned.filter(|b| b.what != Watched::Temperature || self.load.later.is_none());
        said.extend(warned.map(|b| {
            format!(
                "{}: close to a limit, soon {}.",
                capital(self.tank()),
                b.what.sentence(b.side)
            )
        }));
        said.extend(self.trials());
        said.extend(self.hydrogen());
        let lift = self.load.takes.mass;
        if lift > HEAVY_LIFT {
            let kg = number(lift.in_kilograms(), 0);
            said.push(format!(
                "{kg} kg in one load: lift with a second person or a hoist."
            ));
        }
        said
    }

    /// What may come out bare.
    fn trials(&self) -> Vec<String> {
        let why = |p: &Pieces| {
            let part = self.shop.parts.get(p.part.index())?;
            match &self.shop.materials.get(part.material.index())?.coats {
                Coats::AfterTrial(why) => Some(format!(
                    "{}: a trial piece first, since {why}.",
                    capital(self.name(p))
                )),
                Coats::Yes | Coats::No(_) => None,
            }
        };
        self.load.pieces.iter().filter_map(why).collect()
    }

    /// Hard and sprung pieces.
    fn hydrogen(&self) -> Option<String> {
        let hard = |p: &&Pieces| {
            let part = self.shop.parts.get(p.part.index());
            let material = part.and_then(|p| self.shop.materials.get(p.material.index()));
            material.is_some_and(|m| m.hardened)
        };
        let names: Vec<String> = self
            .load
            .pieces
            .iter()
            .filter(hard)
            .map(|p| plural(self.name(p)))
            .collect();
        (!names.is_empty()).then(|| {
            format!(
                "Hydrogen can crack {} later: no acid before coating, relief after it. Get written sign-off before use.",
                list(&names)
            )
        })
    }
}

/// What to look for at its end.
pub(super) fn out_when(course: &Course) -> Option<&'static str> {
    range_of(course).as_ref().map(look_for)
}

fn range_of(course: &Course) -> Option<DwellRange> {
    let (quick, slow) = course.range?;
    Some(DwellRange {
        least: quick,
        most: slow,
        quick,
        slow,
        fizz: course.out()?.gas,
    })
}

fn percent(share: Share) -> String {
    format!("{} %", number(share.in_percent(), 0))
}

fn dip(now: &Course) -> String {
    let before = celsius(now.at.in_celsius());
    if now.at.in_celsius() - now.lowest.in_celsius() < 0.05 {
        return format!("none to speak of at {before}");
    }
    let back = match now.recovered {
        Some(span) => format!("back after {}", short(span)),
        None => "not back while the load is in".to_owned(),
    };
    format!(
        "from {before} down to {}; {back}",
        celsius(now.lowest.in_celsius())
    )
}

fn lies(how: Lies) -> Option<&'static str> {
    match how {
        Lies::Flat => None,
        Lies::Upright => Some("hang upright"),
        Lies::Across => Some("lie from corner to corner"),
        Lies::Tilted => Some("go in tilted"),
        Lies::Turned => Some("go in half by half, turned end for end"),
    }
}

/// So many looks of a course, the first and the last among them, evenly apart.
#[must_use]
pub fn some_looks(course: &Course, most: usize) -> Vec<&Look> {
    let last = course.looks.len().saturating_sub(1);
    let steps = last.min(most.saturating_sub(1)).max(1);
    let mut picked: Vec<usize> = (0..=steps).map(|i| i * last / steps).collect();
    picked.dedup();
    picked.into_iter().filter_map(|i| course.looks.get(i)).collect()
}

/// The weight that the bath's coatings are to reach, where it has a target.
pub(super) fn target_words(recipe: &BathRecipe) -> Option<String> {
    match &recipe.coat {
        CoatRule::Target(weight) => Some(format!("{} g/m²", number(weight.in_grams_per_square_metre(), 1))),
        CoatRule::Time(_) => None,
    }
}
