//! Values that can be read but hardly believed: most are a slip of a digit or of a unit. Each comes with its usual range.

use super::{Facts, Rule};
use crate::finding::{Code, Finding};
use crate::written::{Act, Order, Part, Step, Tank};
use std::collections::BTreeSet;
use tankday_base::bath::filter::{Filter, gravity_head};
use tankday_base::bath::settle::Liquid;
use tankday_base::print::{how_long, pieces_of};
use tankday_base::shop::{Chore, HeaterKind, Inside, Stop};
use tankday_base::units::{Area, Concentration, Length, Mass, Moment, Quantity, Span, Temperature, Volume};

pub(super) const ALL: &[Rule] = &[
    Rule::Coated(mass_and_area),
    Rule::Coated(metal_in_its_size),
    Rule::Part(thickness),
    Rule::Whole(face_under_the_solution),
    Rule::Tank(heater_power),
    Rule::Once(hands_price),
    Rule::Whole(days_of_an_order),
    Rule::Act(filters_for_ever),
];

/// Sheet is hardly thinner in a shop that blackens hardware, m; assumption, no source.
const THIN_SHEET: f64 = 0.1e-3;
/// Thinner, the bath eats it up: a coating of 15 g/m2 takes about 1 µm of steel off each face; assumption, no source.
const FOIL: f64 = 5e-6;

/// Least area of so much metal: that of a ball.
fn ball(volume: Volume) -> Area {
    let v = volume.in_cubic_metres();
    Area::square_metres(libm::cbrt(36.0 * core::f64::consts::PI * v * v))
}

/// Area of so much metal as a sheet, its edges left aside.
fn sheet(volume: Volume, thick: f64) -> Area {
    Area::square_metres(2.0 * volume.in_cubic_metres() / thick)
}

fn area_words(area: Area) -> String {
    let dm2 = area.in_square_decimetres();
    if dm2 >= 0.1 {
        format!("{} dm2", figures(dm2))
    } else {
        format!("{} cm2", figures(dm2 * 100.0))
    }
}

fn mass_words(mass: Mass) -> String {
    let g = mass.in_grams();
    if g >= 1000.0 {
        format!("{} kg", figures(g / 1000.0))
    } else if g < 0.1 {
        format!("{} mg", figures(g * 1000.0))
    } else {
        format!("{} g", figures(g))
    }
}

/// Two significant digits.
fn figures(value: f64) -> String {
    if value <= 0.0 || !value.is_finite() {
        return "0".to_owned();
    }
    let digits = 1 - libm::floor(libm::log10(value)) as i32;
    if digits <= 0 {
        let unit = libm::exp10(f64::from(-digits));
        return format!("{}", (value / unit).round() * unit);
    }
    let text = format!("{value:.*}", digits.unsigned_abs() as usize);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Mass and area of a part go together as metal can be shaped: between a ball and a thin sheet.
fn mass_and_area(f: &Facts, part: &Part) -> Option<Finding> {
    let (mass, area) = f.measures(part)?;
    let material = f.material(part)?;
    let at = part
        .places
        .of_value(&Part::area)
        .or(part.places.of_value(&Part::mass))
        .filter(|_| !part.is_shaped())?;
    if mass <= Mass::ZERO || area <= Area::ZERO {
        return None;
    }
    let volume = mass / material.density;
    let (least, most) = (ball(volume), sheet(volume, THIN_SHEET));
    let (label, weight): (_, fn(Code, _, String) -> Finding) = if area > sheet(volume, FOIL) {
        ("thinner than foil: the bath would eat it up", Finding::new)
    } else if area > most {
        ("very much area", Finding::warning)
    } else if area < least * 0.999 {
        ("too little area", Finding::warning)
    } else {
        return None;
    };
    let message = format!(
        "a piece of {} with {} can't be made of {}",
        mass_words(mass),
        area_words(area),
        material.name
    );
    let finding = weight(Code::Range, at, message).label(label);
    let finding = match part.places.of_value(&Part::mass) {
        Some(mass_at) => finding.and(mass_at, "its mass"),
        None => finding,
    };
    Some(finding.help(format!(
        "so much {} has from {} (a ball) to {} (sheet of {} mm): check the units of both",
        material.name,
        area_words(least),
        area_words(most),
        THIN_SHEET * 1e3
    )))
}

/// The box around a piece holds its metal.
fn metal_in_its_size(f: &Facts, part: &Part) -> Option<Finding> {
    let stated = part.box_size.as_ref()?;
    let (mass, _) = f.measures(part)?;
    let holds = stated.value.volume();
    let metal = mass / f.material(part)?.density;
    (holds > Volume::ZERO && metal > holds * 1.05).then(|| {
        let message = format!(
            "`{}` is smaller than its own metal: {} takes {} cm3, the box around it has {}",
            part.name.value,
            mass_words(mass),
            figures(metal.in_litres() * 1e3),
            figures(holds.in_litres() * 1e3)
        );
        Finding::warning(Code::Range, stated.at, message)
            .label("too small")
            .help("write the box around one piece, its longest side first")
    })
}

/// Greatest thickness of a piece that a shop of this kind relieves, m; assumption, no source.
const THICK: Length = Length::millimetres(300.0);

/// A piece is no thicker than a person could lift.
fn thickness(_: &Facts, part: &Part) -> Option<Finding> {
    let thick = part.thick.as_ref()?;
    (thick.value > THICK).then(|| {
        let message = format!(
            "`{}` is {} m thick",
            part.name.value,
            figures(thick.value.in_metres())
        );
        Finding::new(Code::Range, thick.at, message)
            .label("as thick as that?")
            .help("usual are 1 to 100 mm (common practice, no source); up to 300 mm is read")
    })
}

/// Largest flat section through the solution of a tank, m2.
fn section(tank: &Tank) -> Option<f64> {
    let (inside, fill) = (tank.inside.as_ref()?.value, tank.fill.as_ref()?.value);
    let depth = tankday_base::shop::depth(inside, fill).base();
    Some(match inside {
        Inside::Box { length, width, .. } => {
            let (a, b) = (length.base().max(width.base()), length.base().min(width.base()));
            let sloping = (a * (b * b + depth * depth).sqrt()).max(b * (a * a + depth * depth).sqrt());
            sloping.max((a * a + b * b).sqrt() * depth)
        }
        Inside::Round { diameter, .. } => {
            let d = diameter.base();
            d * (d * d + depth * depth).sqrt()
        }
    })
}

/// A solid piece shows a face of at least a quarter of its area from one side (Cauchy's formula: the mean over all
/// sides is a quarter). Where no section of the solution is as large and no size is stated, it hardly lies under it.
fn face_under_the_solution(f: &Facts) -> Vec<Finding> {
    let mut seen = BTreeSet::new();
    let large = |(order, part, step): (&Order, &Part, &Step)| {
        if part.size().is_some() || !seen.insert(part.name.at.start) {
            return None;
        }
        let (_, area) = f.measures(part)?;
        let tanks = f.tanks_meant(order, part, step);
        let most = tanks.iter().filter_map(|t| section(t)).fold(0.0, f64::max);
        (most > 0.0 && area.in_square_metres() / 4.0 > most).then(|| {
            let message = format!(
                "a piece with {} hardly lies under the solution of any tank here, unless it is folded or ribbed",
                area_words(area)
            );
            Finding::warning(Code::Capacity, part.places.of_value(&Part::area).unwrap_or(part.name.at), message)
                .label("no size is stated")
                .help("write its `size`, such as `size: 600 x 400 x 3 mm`: then it is checked")
        })
    };
    f.coatings().filter_map(large).collect()
}

/// Most power by volume that is usual, W/L, and most under a pot by its bottom, W/cm2: common practice, no source.
const MUCH_BY_LITRE: f64 = 800.0;
const MUCH_BY_BOTTOM: f64 = 12.0;

/// A heater that boils the bath in a few minutes is a slip.
fn heater_power(_: &Facts, tank: &Tank) -> Option<Finding> {
    let heater = tank.heater.as_ref()?;
    let (power, fill) = (heater.power.as_ref()?, tank.fill.as_ref()?.value);
    let by_litre = power.value.in_watts() / fill.in_litres();
    let bottom = match tank.inside.as_ref()?.value {
        Inside::Box { length, width, .. } => length.base() * width.base(),
        Inside::Round { diameter, .. } => core::f64::consts::FRAC_PI_4 * diameter.base() * diameter.base(),
    };
    let by_bottom = power.value.in_watts() / (bottom * 1e4);
    let under = heater
        .kind
        .as_ref()
        .is_some_and(|k| k.value != HeaterKind::Immersion);
    let (message, help) = if under && by_bottom > MUCH_BY_BOTTOM {
        (
            format!(
                "{} kW under this tank is {} W for each cm2 of its bottom",
                figures(power.value.in_kilowatts()),
                figures(by_bottom)
            ),
            "usual are 2 to 8 W/cm2, so 1 to 5 kW under a pot (common practice, no source): is a decimal point missing?",
        )
    } else if by_litre > MUCH_BY_LITRE {
        (
            format!(
                "{} kW in {} L is {} W for each litre",
                figures(power.value.in_kilowatts()),
                figures(fill.in_litres()),
                figures(by_litre)
            ),
            "usual are 50 to 500 W/L (common practice, no source): is a decimal point missing?",
        )
    } else {
        return None;
    };
    Some(
        Finding::warning(Code::Range, power.at, message)
            .label("very strong")
            .help(help),
    )
}

/// An hour of hands by a kWh of power, whatever the currency: usual 30 to 300, hardly above this. Common practice, no
/// source.
const HANDS_BY_POWER: f64 = 2_000.0;
/// The same in currencies of about that worth.
const MUCH_AN_HOUR: f64 = 500.0;

/// Hands do not cost as much in a minute as they do in an hour.
fn hands_price(f: &Facts) -> Option<Finding> {
    let prices = f.file.shop.as_ref()?.prices.as_ref()?;
    let (hands, power) = (prices.hands.as_ref()?, prices.power.as_ref()?);
    let currency = prices.currency.as_ref().map_or("", |c| c.value.as_str());
    let common = ["EUR", "USD", "GBP", "CHF", "CAD", "AUD", "€", "$", "£"].contains(&currency);
    let by_power = power.value > 0.0 && hands.value / power.value > HANDS_BY_POWER;
    let help = "usual are 10 to 150 EUR or USD an hour, 30 to 300 times the price of a kWh (common practice, no source)";
    (by_power || (common && hands.value > MUCH_AN_HOUR)).then(|| {
        let message = format!("{} {currency} for an hour of hands", figures(hands.value));
        Finding::warning(Code::Range, hands.at, message)
            .label("per hour?")
            .help(help)
    })
}

/// An order whose coating alone takes longer than the shop is open.
fn days_of_an_order(f: &Facts) -> Vec<Finding> {
    let Some(hours) = f.hours else { return Vec::new() };
    let days = &hours.calendar.days;
    if hours.watched_until.is_some() || days.iter().any(|d| d.close == Moment::NEVER) {
        return Vec::new();
    }
    let open: Span = days.iter().map(|d| d.close - d.open).sum();
    let longest = days.iter().map(|d| d.close - d.open).max().unwrap_or(Span::ZERO);
    if longest <= Span::ZERO {
        return Vec::new();
    }
    let long = |(order, part, step): (&Order, &Part, &Step)| {
        let count = order.count.as_ref()?;
        let tanks = f.tanks_meant(order, part, step);
        let per_hour = |t: &&Tank| {
            let dwell = f.bath(&t.bath.as_ref()?.value)?.dwell.as_ref()?.value.0;
            let own = part.dwell.as_ref().map_or(dwell, |d| d.value.0.max(dwell));
            let pieces = super::room::pieces(f, part, t)?;
            let places = f64::from(t.loads.as_ref().map_or(1, |l| l.value));
            (own > Span::ZERO).then(|| pieces * places / own.in_hours())
        };
        let all: Option<Vec<f64>> = tanks.iter().map(per_hour).collect();
        let sum: f64 = all?.into_iter().sum();
        let needs = f64::from(count.value) / sum;
        let best = tanks
            .iter()
            .filter_map(|t| super::room::pieces(f, part, t))
            .fold(1.0, f64::max);
        (sum > 0.0 && needs > open.in_hours()).then(|| {
            let message = format!(
                "this order takes {}: at least {} in the bath, and the shop is open {}",
                pieces_of((f64::from(count.value) / best).ceil() as u32, "load"),
                how_long(Span::hours(needs)),
                how_long(open)
            );
            Finding::warning(Code::Order, count.at, message)
                .label(super::room::fit_one_load(best))
                .help(format!(
                    "it needs at least {} like the longest of these, or a larger tank; or is a digit too many?",
                    pieces_of((needs / longest.in_hours()).ceil() as u32, "day")
                ))
        })
    };
    f.coatings().filter_map(long).collect()
}

/// A filter stop that takes longer is no rule for a day's work: a filter that does not run through in a night is
/// changed, or larger. Common practice, no source.
const LONG_FILTERING: Span = Span::whole_minutes(60 * 24);
/// Sludge in the heel as assumed for the check, g/L: at the upper limit that a bath is taken out of use at.
const CHECKED_SLUDGE: Concentration = Concentration::grams_per_litre(10.0);

/// Filtering ends within a day.
fn filters_for_ever(f: &Facts, act: &Act) -> Option<Finding> {
    if act.when.is_empty() {
        return None;
    }
    let fills = f.file.tanks.iter().filter_map(|t| Some(t.fill.as_ref()?.value));
    let volume = fills.max_by(|a, b| a.base().total_cmp(&b.base()))?;
    let Some(Chore::Stop(stop)) = &act.chore else {
        return None;
    };
    let stop = Some(stop).filter(|s| s.filtered)?;
    let takes = filtering(stop, volume);
    let heel = stop.heel.in_fraction();
    let (message, help) = if heel < 0.02 {
        (
            format!(
                "a heel of {} %: nothing is left over the sludge, so sludge and solution are never parted",
                figures(heel * 100.0)
            ),
            "usual are 10 to 30 % of the volume (common practice, no source)".to_owned(),
        )
    } else if takes.is_none_or(|t| t > LONG_FILTERING) {
        let words = takes.map_or("never ends".to_owned(), |t| {
            format!("takes about {}", how_long(t))
        });
        (
            format!(
                "filtering {} L through {} dm2 {words}",
                figures(volume.in_litres() * heel),
                figures(stop.area.in_square_decimetres())
            ),
            "usual are 2 to 20 dm2 of filter and a heel of 10 to 30 % (common practice, no source); worked out with 10 g/L of sludge".to_owned(),
        )
    } else {
        return None;
    };
    Some(
        Finding::warning(Code::Range, act.at, message)
            .label("would not end in a day")
            .help(help),
    )
}

/// How long the heel of a bath goes through a new filter, with sludge as assumed for this check; none if it never does.
fn filtering(stop: &Stop, volume: Volume) -> Option<Span> {
    let heel = volume * stop.heel.in_fraction();
    let liquid = Liquid::water(Temperature::celsius(50.0).min(stop.cool_to));
    let filter = Filter {
        area: stop.area,
        pressure: gravity_head(liquid.density, stop.head),
        medium: stop.medium,
        cake: stop.cake,
    };
    let solids = CHECKED_SLUDGE.base() * volume.base() / heel.base();
    let ruth = filter
        .ruth(liquid.viscosity, Concentration::grams_per_litre(solids))
        .ok()?;
    Some(ruth.time_for(heel))
}
