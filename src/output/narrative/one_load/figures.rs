//! What a load takes from its bath, what waiting costs, what does not go in with it.

use super::super::Block;
use super::{Telling, celsius, little, short};
use tankday_base::print::{list, number, pieces_of, plural};
use tankday_base::units::Energy;
use tankday_record::one_load::{Course, Ends, Gave, Later};

impl Telling<'_> {
    pub(super) fn gave(&self) -> Block {
        let now = &self.load.now;
        let mut rows = vec![(
            "water".to_owned(),
            format!(
                "{} goes off, {} is carried out; top up with distilled water",
                little(now.evaporated),
                little(now.dragged_out)
            ),
        )];
        if let Some(gave) = &now.chemistry {
            rows.extend(readings(gave));
        }
        rows.extend(self.life().map(|words| ("goes on".to_owned(), words)));
        Block {
            heading: "What it takes from the bath",
            caption: "The bath before and after the load",
            columns: ["reading", "change"],
            rows,
        }
    }

    fn life(&self) -> Option<String> {
        let life = self.load.life.as_ref()?;
        Some(match life.first() {
            Some(reach) if reach.loads < 1.0 => {
                format!(
                    "the limit comes with this load: {}",
                    reach.what.sentence(reach.side)
                )
            }
            Some(reach) => format!(
                "good for about {}, this one counted, then {}",
                pieces_of(reach.loads.floor().min(1e9) as u32, "such load"),
                reach.what.sentence(reach.side)
            ),
            None => "no limit in sight".to_owned(),
        })
    }

    /// Now, or when the bath is hot.
    pub(super) fn hot(&self) -> Block {
        let Some(later) = &self.load.later else {
            return Block {
                heading: "",
                caption: "",
                columns: ["", ""],
                rows: Vec::new(),
            };
        };
        let (now, hot) = (&self.load.now, &later.course);
        let rows = vec![
            (
                format!("now, at {}", celsius(now.at.in_celsius())),
                self.way(now, None),
            ),
            (
                format!("wait for {}", celsius(hot.at.in_celsius())),
                self.way(hot, Some(later)),
            ),
        ];
        Block {
            heading: "Now, or wait until it is hot",
            caption: "Time and power of both ways",
            columns: ["way", "time and power"],
            rows,
        }
    }

    fn way(&self, course: &Course, later: Option<&Later>) -> String {
        let drawn = later.map_or(Energy::ZERO, |l| l.drawn) + course.drawn;
        let kwh = drawn.in_kilowatt_hours();
        let prices = &self.shop.prices;
        let cost = match prices.given() && prices.power_per_kwh > 0.0 {
            true => format!(", {} {}", number(kwh * prices.power_per_kwh, 2), prices.currency),
            false => String::new(),
        };
        let used = format!("{} kWh{cost}", number(kwh, 2));
        if course.ends == Ends::Nothing {
            return format!("no coating, {used}");
        }
        let thin = match course.ends {
            Ends::OutOfTime => ", below target",
            _ => "",
        };
        let stay = short(course.stay);
        match later {
            None => format!("out after {stay}{thin}, {used}"),
            Some(l) => format!(
                "{} to heat, {stay} in the bath{thin}: out after {}, {used}",
                short(l.waits),
                short(l.waits + course.stay)
            ),
        }
    }

    /// Parts that do not go in with it, those with one reason together.
    pub(super) fn apart(&self) -> Block {
        let mut reasons: Vec<(&str, Vec<String>)> = Vec::new();
        for apart in &self.load.apart {
            let Some(part) = self.shop.parts.get(apart.part.index()) else {
                continue;
            };
            let name = plural(&part.name);
            match reasons.iter_mut().find(|(why, _)| *why == apart.why) {
                Some((_, names)) => names.push(name),
                None => reasons.push((&apart.why, vec![name])),
            }
        }
        let rows = reasons
            .into_iter()
            .map(|(why, names)| (list(&names), why.to_owned()));
        Block {
            heading: "Not in with it",
            caption: "Parts that don't go in with this load",
            columns: ["parts", "reason"],
            rows: rows.collect(),
        }
    }
}

fn readings(gave: &Gave) -> Vec<(String, String)> {
    let (b, a) = (&gave.before, &gave.after);
    let concentrate = match gave.concentrate.in_litres() * 1e3 {
        ml if ml < 0.5 => String::new(),
        _ => format!("; {} of concentrate bring it back", little(gave.concentrate)),
    };
    let acid = format!(
        "{} to {} points{concentrate}",
        number(b.total_acid.in_points(), 1),
        number(a.total_acid.in_points(), 1)
    );
    let free = format!(
        "{} to {} points",
        number(b.free_acid.in_points(), 1),
        number(a.free_acid.in_points(), 1)
    );
    let iron = format!(
        "{} to {} g/L",
        number(b.iron.in_grams_per_litre(), 2),
        number(a.iron.in_grams_per_litre(), 2)
    );
    let more = format!(
        "{} g of dry sludge, {} of hydrogen",
        number(gave.sludge.in_grams(), 1),
        little(gave.hydrogen)
    );
    let mut rows = vec![
        ("total acid", acid),
        ("free acid", free),
        ("iron", iron),
        ("gives", more),
    ];
    if gave.exhausted {
        rows.push(("runs out", "the bath is too weak for this load".to_owned()));
    }
    rows.into_iter()
        .map(|(name, words)| (name.to_owned(), words))
        .collect()
}
