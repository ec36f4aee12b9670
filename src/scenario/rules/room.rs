//! Room: whether the work that is asked for fits the tanks.

use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::node::SourceSpan;
use crate::written::{Part, Tank};
use std::collections::BTreeSet;
use tankday_base::print::pieces_of;
use tankday_base::units::{Quantity, Volume};

pub(super) const ALL: &[Rule] = &[
    Rule::Whole(one_piece_fits),
    Rule::Part(more_than_its_metal),
    Rule::Whole(loads_of_an_order),
    Rule::Whole(loads_of_a_bath),
];

/// What of one tank's room one piece takes.
struct Take {
    /// Largest share of any kind of room.
    share: f64,
    /// Which kind, and the piece and the room in figures.
    what: &'static str,
    piece: String,
    room: String,
    at: SourceSpan,
}

/// None where something could not be read.
fn take(f: &Facts, part: &Part, tank: &Tank) -> Option<Take> {
    let bath = f.bath(&tank.bath.as_ref()?.value)?;
    let fill = tank.fill.as_ref()?.value;
    let (mass, area) = f.measures(part)?;
    let room = bath.room.as_ref()?;
    let shape = part.shape_at();
    let (area_room, mass_room) = (room.area.as_ref()?.value * fill, room.mass.as_ref()?.value * fill);
    let by_area = Take {
        share: area / area_room,
        what: "area",
        piece: format!("{:.3} dm2", area.in_square_decimetres()),
        room: format!("{:.3} dm2", area_room.in_square_decimetres()),
        at: part
            .places
            .of_value(&Part::area)
            .or(shape)
            .unwrap_or(part.name.at),
    };
    let by_mass = Take {
        share: mass / mass_room,
        what: "mass",
        piece: format!("{:.3} kg", mass.in_kilograms()),
        room: format!("{:.3} kg", mass_room.in_kilograms()),
        at: part
            .places
            .of_value(&Part::mass)
            .or(shape)
            .unwrap_or(part.name.at),
    };
    let worst = if by_mass.share > by_area.share {
        by_mass
    } else {
        by_area
    };
    let by_bulk = by_bulk(part, tank);
    Some(match by_bulk {
        Some(bulk) if bulk.share > worst.share => bulk,
        _ => worst,
    })
}

/// `1 piece fits one load`, `12 pieces fit one load`
pub(super) fn fit_one_load(pieces: f64) -> String {
    let fit = if pieces < 2.0 { "fits" } else { "fit" };
    format!("{} {fit} one load", pieces_of(pieces as u32, "piece"))
}

/// How many pieces fit a tank at once; none where something could not be read, or not one fits.
pub(super) fn pieces(f: &Facts, part: &Part, tank: &Tank) -> Option<f64> {
    let share = take(f, part, tank)?.share;
    (share > 0.0 && share <= 1.0).then(|| (1.0 / share * (1.0 + 1e-9)).floor())
}

/// None where nobody cares about baskets.
fn by_bulk(part: &Part, tank: &Tank) -> Option<Take> {
    let (bulk, basket) = (part.bulk.as_ref()?, tank.basket.as_ref()?.value?);
    let litres = |v: Volume| format!("{:.3} L", v.in_litres());
    let own = bulk.value.filter(|v| v.base() > 0.0)?;
    Some(Take {
        share: own / basket,
        what: "bulk",
        piece: litres(own),
        room: litres(basket),
        at: bulk.at,
    })
}

/// The tank in which one piece takes the least of the room; none where a tank could not be read, which might have been it.
fn best(f: &Facts, part: &Part, tanks: &[&Tank]) -> Option<Take> {
    let takes: Option<Vec<Take>> = tanks.iter().map(|t| take(f, part, t)).collect();
    let takes = takes.filter(|_| f.tanks_are_known())?;
    takes.into_iter().min_by(|a, b| a.share.total_cmp(&b.share))
}

/// One piece fits at least one of the tanks that can coat it.
fn one_piece_fits(f: &Facts) -> Vec<Finding> {
    let mut seen = BTreeSet::new();
    let mut found = Vec::new();
    for (order, part, step) in f.coatings() {
        if !seen.insert((part.name.at.start, step.places.at.start)) {
            continue;
        }
        let Some(take) = best(f, part, &f.tanks_meant(order, part, step)).filter(|t| t.share > 1.0) else {
            continue;
        };
        let message = format!(
            "one `{}` does not fit any tank: its {} is {}",
            part.name.value,
            take.what,
            plain(&take.piece)
        );
        found.push(
            Finding::new(Code::Capacity, take.at, message)
                .label(format!("room for {}", plain(&take.room)))
                .and(
                    step.bath.as_ref().map_or(step.places.at, |b| b.at),
                    "would go in here",
                )
                .help("a larger tank, a larger `room` at the bath, or another way for this part"),
        );
    }
    found
}

/// A piece takes more room in a basket than its metal.
fn more_than_its_metal(f: &Facts, part: &Part) -> Option<Finding> {
    let bulk = part.bulk.as_ref()?;
    let (own, (mass, _)) = (bulk.value?, f.measures(part)?);
    let metal = mass / f.material(part)?.density;
    (own < metal * 0.999).then(|| {
        let mass = plain(&format!("{:.3} g", mass.in_grams()));
        let message = format!(
            "`{}` takes less room than its own metal: {mass} are {}",
            part.name.value,
            plain(&format!("{:.3} mL", metal.in_litres() * 1e3))
        );
        Finding::warning(Code::Range, bulk.at, message)
            .label("as little as that?")
            .help("usual are 1.3 to 10 times the metal, for there is air between the pieces (common practice, no source)")
    })
}

/// Without zeros at the end.
fn plain(figure: &str) -> String {
    let (number, unit) = figure.split_once(' ').unwrap_or((figure, ""));
    format!("{} {unit}", number.trim_end_matches('0').trim_end_matches('.'))
}

/// Most loads that one order may become.
const MOST_LOADS: f64 = 10_000.0;

/// An order does not become more loads than anybody could work off.
fn loads_of_an_order(f: &Facts) -> Vec<Finding> {
    let mut found = Vec::new();
    for (order, part, step) in f.coatings() {
        let Some(count) = &order.count else { continue };
        let Some(take) = best(f, part, &f.tanks_meant(order, part, step)).filter(|t| t.share <= 1.0) else {
            continue;
        };
        let per_load = (1.0 / take.share).floor().max(1.0);
        let loads = (f64::from(count.value) / per_load).ceil();
        if loads > MOST_LOADS {
            found.push(
                Finding::error(Code::Limit, count.at)
                    .says(format!("this order would take {loads:.0} loads"))
                    .label(fit_one_load(per_load))
                    .help(format!("an order may take {MOST_LOADS:.0} loads: divide it")),
            );
        }
    }
    found
}

/// More surface than this by volume is rather much, and more than that nobody coats well, m2/m3; more mass than this
/// packs the work, kg/m3. Assumptions, from a barrel line in a handbook chapter on phosphate coatings: 2 to 3.4 dm2/L and
/// 0.25 kg/L in use, drums rated for 0.30 kg/L.
const MUCH_SURFACE: f64 = 20.0;
const MOST_SURFACE: f64 = 40.0;
const MOST_MASS: f64 = 300.0;

/// A bath is not loaded with more than it coats evenly.
fn loads_of_a_bath(f: &Facts) -> Vec<Finding> {
    let mut found = Vec::new();
    for room in f.file.baths.iter().filter_map(|b| b.room.as_ref()) {
        if let Some(area) = room
            .area
            .as_ref()
            .filter(|a| a.value.base() > MUCH_SURFACE * (1.0 + 1e-9))
        {
            let dm2 = area.value.base() / 10.0;
            let (message, label) = if area.value.base() > MOST_SURFACE {
                (
                    format!("{dm2} dm2 for each litre: no bath coats so much at once evenly"),
                    "far too much",
                )
            } else {
                (
                    format!("{dm2} dm2 for each litre is rather much: blotchy work is likely"),
                    "much",
                )
            };
            found.push(
                Finding::warning(Code::Capacity, area.at, message)
                    .label(label)
                    .help("1 dm2/L is a good load of a small bath, 2 dm2/L the most"),
            );
        }
        if let Some(mass) = room
            .mass
            .as_ref()
            .filter(|m| m.value.base() > MOST_MASS * (1.0 + 1e-9))
        {
            let message = format!(
                "{} kg for each litre: the pieces lie on one another, and no liquid gets between them",
                mass.value.base() / 1e3
            );
            found.push(
                Finding::warning(Code::Capacity, mass.at, message)
                    .label("packed")
                    .help("0.25 kg/L is a good load, 0.3 kg/L the most"),
            );
        }
    }
    found
}
