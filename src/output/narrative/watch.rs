//! What to watch: a fact, and what to do. Nothing is said that the run it is said of could contradict.

use super::Results;
use super::reading::reading;
use tankday_base::print::{capital, count_word, list, litres, minutes, number, plural};
use tankday_base::shop::{HeatOff, LidKind, Step, StepKind, StepRef};
use tankday_base::units::{Moment, Span, Volume};
use tankday_record::{Caution, Reading, Warning, WarningKind};

/// Places or times that are named in one.
const MOST_PLACES: usize = 4;
/// Times that are named in one where somebody could be hurt: as many as a finisher reads.
const MOST_SPELLS: usize = 12;

/// Fact of a warning, and what to do.
#[must_use]
pub fn watch(results: &Results<'_>, warning: &Warning) -> (String, &'static str) {
    let places = places(results, warning);
    match warning.kind {
        WarningKind::HotTankAlone => (
            format!("A hot tank is left alone: {places}."),
            "Somebody must stay in sight of it; or loads out, heater off, lid on.",
        ),
        WarningKind::NoLid => (
            format!("Hot and open with nobody there, for want of a lid: {places}."),
            "Cover it, and say so: `lid: loose`; or somebody must stay in sight of it.",
        ),
        WarningKind::InAtBreak => (
            format!("Somebody must stay in the break until a load is out of the bath: {places}."),
            "Say `stays: yes` of this break if somebody is in sight of the tank, or move the break.",
        ),
        WarningKind::HotStepAlone => (
            format!("Hot, with work in it, and nobody there: {places}."),
            "Somebody must stay in sight of it, or begin it so that it ends before.",
        ),
        WarningKind::NotReady => {
            let ids = warning
                .orders
                .iter()
                .filter_map(|i| Some(results.figures.orders.get(*i)?.id.clone()));
            (
                format!("Won't be finished: {}.", shortened(ids.collect(), MOST_PLACES)),
                "Begin earlier, add a day, or promise less.",
            )
        }
        WarningKind::NeverHot => (
            format!("Never hot enough to work: {places}."),
            if bare(results, warning) {
                "Heat earlier, use a lid, or a stronger heater."
            } else {
                "Heat earlier, or use a stronger heater."
            },
        ),
        WarningKind::WeakHeater => (
            format!("A heater too weak for its set point: {places}."),
            "Write the set point that it reaches, use a lid, or a stronger heater.",
        ),
        WarningKind::HotForNothing => (
            format!("Kept hot with nothing more to go in: {places}."),
            if results.shop.rules.heat.off == HeatOff::AtClosing {
                "Write `switch off: after the last load` under `rules: heat:`."
            } else {
                "Leave it off on such a day, or let `plan` say which tank is needed when."
            },
        ),
        WarningKind::RanLow => (
            format!("A heater switches itself off, since the bath has boiled low: {places}."),
            "Top up while it is hot, switch off when nothing more goes in, or use a lid.",
        ),
        WarningKind::HotSolids => (
            format!("Solids go into a bath above 70 °C: {places}."),
            "It froths over: let it cool first, or a little at a time, with waits between.",
        ),
        WarningKind::HotConcentrate => (
            format!("Concentrate goes into a bath above its band: {places}."),
            "It boils up and spits: let it cool into its band first.",
        ),
        WarningKind::BathStopped => (
            format!("A bath outside its limits, so no load goes in: {places}."),
            "Write a rule of care for it, or renew the bath: see `rules: care:`.",
        ),
        WarningKind::HeldBack => (
            format!("Work whose looks matter waits, for too little iron in the bath: {places}."),
            "Condition the bath with steel wool, or coat more scrap first: see `rules: care:`.",
        ),
        WarningKind::KeptBack => (
            format!("Kept out of the bath, as what must follow has no place in time: {places}."),
            "One more place there, or emptying it sooner, would free it.",
        ),
        WarningKind::Contaminated => (
            format!("Foreign metal or oil in a bath, so no load goes in: {places}."),
            "Drain all of it into the waste drum, clean the tank, make it up fresh: `renew: contaminated` plans it.",
        ),
        WarningKind::Exhausted => (
            format!("The bath was too weak to coat to the end: {places}."),
            "Replenish or renew it before the next load.",
        ),
        WarningKind::ThinCoat => (
            format!("Coating below target: {places}."),
            "Longer, hotter, or a lighter target; check the most this steel will take.",
        ),
        WarningKind::Unconditioned => (
            format!("Too little iron in the bath: {places}."),
            "Expect thin, patchy, light grey coats: condition it with steel wool, or coat scrap first.",
        ),
        WarningKind::TooColdToCoat => (
            format!("Too cold for a coating to grow: {places}."),
            "Steel takes none up to 82 °C, cast iron none up to 70 °C: heat the bath first, or preheat the load.",
        ),
        WarningKind::ColdBath => (
            format!("The bath falls below its band with work in it: {places}."),
            "Expect rough, grainy coats: smaller loads, or preheat them.",
        ),
        WarningKind::Overloaded => (
            format!("A lot of area or mass for the bath: {places}."),
            "Smaller loads coat more evenly and keep the bath hot.",
        ),
        WarningKind::StrengthOff => (
            format!("Total acid near its limit: {places}."),
            "Titrate, then add concentrate or water.",
        ),
        WarningKind::RatioOff => (
            format!("Acid ratio near its limit: {places}."),
            "Titrate. Low: sooty coats, take free acid out. High: blotchy coats, add free acid.",
        ),
        WarningKind::IronHigh => (
            format!("Much iron in the bath: {places}."),
            "White floating dust and sooty coats: renew half of it soon.",
        ),
        WarningKind::SludgeStirred => (
            format!("Much sludge in the bath: {places}."),
            "Stirred up it gives dusty coats: let it settle, decant, filter.",
        ),
        WarningKind::LevelOff => (
            format!("The level is off: {places}."),
            "The work must be covered, and foam must have room.",
        ),
        WarningKind::FoamRoom => (
            format!("{} of headroom for froth.", capital(&places)),
            "Fresh steel and steel wool froth: fill less, add slowly, wait between.",
        ),
        WarningKind::HeatersOverSupply => (
            format!("Heaters on together draw more than the supply gives: {places}."),
            "Worked out with their average draw: two that switch on at once trip the breaker. Run them in turns.",
        ),
        WarningKind::WaitsForSupply => (
            format!("Heaters wait for the supply: {places}."),
            "Heat one tank earlier, or give them a stronger supply.",
        ),
        WarningKind::StayedTooLong => (
            format!("Stayed longer than allowed: {places}."),
            if in_baths(results, warning) {
                "A coating grows coarse: inspect it."
            } else {
                "Inspect it before the next step."
            },
        ),
        WarningKind::WaitedTooLong => (
            format!("Waited longer than allowed: {places}."),
            "Look for flash rust and stains before going on.",
        ),
        WarningKind::SpentRinse => (
            format!("Rinsed in spent water: {places}."),
            "Acid that dries in gives stains and rust: renew the rinse earlier.",
        ),
        WarningKind::NotRelieved => (
            format!(
                "{} hardened, and no step relieves the hydrogen: {}.",
                are(results, warning),
                places
            ),
            "No acid before coating; 120 h at rest, or 8 h at 98 to 107 °C, before they carry load.",
        ),
        WarningKind::Hardened => (
            format!("{} hardened: {}.", are(results, warning), places),
            "No acid before coating; relief is on their route. Get written sign-off before use.",
        ),
        WarningKind::HeavyLoad => (
            format!("Load is close to the tank's limit, with heavy pieces: {places}."),
            if preheated(results, warning) {
                "Lower slowly: hot acid spits."
            } else {
                "Preheat it, lower slowly: hot acid spits on cold work."
            },
        ),
        WarningKind::Greasy => (
            format!("Oil may be left on this work: {places}."),
            "It coats blotchy there: degrease it once more.",
        ),
        WarningKind::Pickled => (
            format!("Cleaned in strong acid before the bath: {places}."),
            "Its coating grows coarse: inspect it; blast instead next time.",
        ),
        WarningKind::HolesDown => (
            format!("Blind holes hang down: {places}."),
            "Gas stays in them and leaves bare spots: hang it so that gas gets out.",
        ),
        WarningKind::Crevices => (
            format!("Seams hold liquid: {places}."),
            "Acid in them bleeds as rust: rinse well, dry soon.",
        ),
        WarningKind::Overtime => (
            format!("Work after closing: {places}."),
            "Begin earlier if nobody can stay.",
        ),
        WarningKind::TopUp => {
            let sum: Volume = warning.at.iter().map(|c| c.volume).sum();
            let count = warning.at.len();
            let many = if count == 1 {
                "One top-up".to_owned()
            } else {
                format!("{} top-ups", capital(&count_word(count)))
            };
            (
                format!("{many}, {} ({places}).", litres(sum)),
                "Distilled water, in a thin stream, face away from the tank.",
            )
        }
    }
}

/// The steps that a warning is about.
fn steps<'a>(results: &'a Results<'_>, warning: &'a Warning) -> impl Iterator<Item = &'a Step> {
    warning.at.iter().filter_map(|c| step(results, c.step?))
}

fn step<'a>(results: &'a Results<'_>, at: StepRef) -> Option<&'a Step> {
    results
        .shop
        .routes
        .get(at.route.index())?
        .steps
        .get(at.step.index())
}

/// Whether all of it happens in baths.
fn in_baths(results: &Results<'_>, warning: &Warning) -> bool {
    steps(results, warning).all(|s| s.kind == StepKind::Coat)
}

/// Whether all of it comes straight from being warmed.
fn preheated(results: &Results<'_>, warning: &Warning) -> bool {
    let warmed = |at: StepRef| {
        let own = step(results, at)?;
        let mut before = own
            .after
            .iter()
            .filter_map(|i| step(results, StepRef { step: *i, ..at }));
        Some(before.any(|s| s.kind == StepKind::Preheat))
    };
    warning
        .at
        .iter()
        .all(|c| c.step.and_then(warmed).unwrap_or(false))
}

/// Whether a tank that it is about has no lid.
fn bare(results: &Results<'_>, warning: &Warning) -> bool {
    let tanks = warning
        .at
        .iter()
        .filter_map(|c| results.shop.stations.get(c.station?.index())?.tank);
    tanks.into_iter().any(|t| t.lid == LidKind::None)
}

/// `Springs (A3, load L4) are`
fn are(results: &Results<'_>, warning: &Warning) -> String {
    let mut parts: Vec<String> = Vec::new();
    for caution in &warning.at {
        let load = results
            .figures
            .loads
            .iter()
            .find(|l| Some(l.load) == caution.load);
        for (id, _) in load.map_or(&[][..], |l| l.parts.as_slice()) {
            let part = results.shop.parts.get(id.index());
            let hardened = part
                .and_then(|p| results.shop.materials.get(p.material.index()))
                .is_some_and(|m| m.hardened);
            if let Some(name) = part.filter(|_| hardened).map(|p| plural(&p.name))
                && !parts.contains(&name)
            {
                parts.push(name);
            }
        }
    }
    format!("{} are", capital(&list(&parts)))
}

fn places(results: &Results<'_>, warning: &Warning) -> String {
    let place = |c: &Caution| -> String {
        let clock = tankday_base::print::clock_or_date(&results.shop.calendar, c.at);
        let station = c
            .station
            .and_then(|s| results.shop.stations.get(s.index()))
            .map(|s| s.name.clone());
        let step = c.step.and_then(|s| {
            results
                .shop
                .routes
                .get(s.route.index())?
                .steps
                .get(s.step.index())
        });
        let load = c.load.map(|l| results.labels.at(l, c.at).to_owned());
        let reading = c.reading.map(|r| format!(", {}", reading(r))).unwrap_or_default();
        match (warning.kind, load, step, station) {
            (WarningKind::TopUp, ..) => clock,
            (WarningKind::HotTankAlone | WarningKind::NoLid, _, _, Some(tank)) => {
                if c.by > Span::ZERO && c.at + c.by < Moment::NEVER {
                    format!("{tank}, {clock} to {}", until(results, c))
                } else {
                    format!("{tank}, from {clock} on")
                }
            }
            (WarningKind::BathStopped, _, _, Some(tank)) => format!("{tank} from {clock} on{reading}"),
            (WarningKind::WeakHeater, _, _, Some(tank)) => {
                format!("{tank} levels off near {}", reading.trim_start_matches(", "))
            }
            (WarningKind::HotForNothing, _, _, Some(tank)) => {
                format!(
                    "{tank}, {clock} to {}{reading}{}",
                    until(results, c),
                    costs(results, c)
                )
            }
            (WarningKind::InAtBreak, Some(load), ..) => {
                format!(
                    "{load} until {clock}, {} into the break",
                    tankday_base::print::how_long(c.by)
                )
            }
            (WarningKind::HotStepAlone, Some(load), Some(step), Some(station)) => {
                format!(
                    "{load} at {} in the {station}, {clock} to {}",
                    step.name,
                    until(results, c)
                )
            }
            (WarningKind::StayedTooLong | WarningKind::WaitedTooLong, Some(load), Some(step), _) => {
                format!(
                    "{load} at {} {clock}, {} over",
                    step.name,
                    tankday_base::print::how_long(c.by)
                )
            }
            (WarningKind::KeptBack, Some(load), Some(step), _) => {
                format!(
                    "{load} from {clock}, {}, for {}",
                    tankday_base::print::how_long(c.by),
                    step.name
                )
            }
            (WarningKind::FoamRoom, _, _, Some(tank)) => {
                format!("{tank}: only {}", reading.trim_start_matches(", "))
            }
            (WarningKind::Contaminated, _, _, Some(tank)) if c.by < Span::FOREVER => {
                format!("{tank}, {clock} to {}{reading}", until(results, c))
            }
            (WarningKind::WaitsForSupply, _, _, Some(tank)) => {
                format!("{tank} from {clock}, {} min", minutes(c.by))
            }
            (_, Some(load), _, _) => format!("{load} {clock}{reading}"),
            (_, None, _, Some(station)) => format!("{station} {clock}{reading}"),
            _ => format!("{clock}{reading}"),
        }
    };
    let most = match warning.kind {
        WarningKind::HotTankAlone
        | WarningKind::NoLid
        | WarningKind::InAtBreak
        | WarningKind::HotStepAlone => MOST_SPELLS,
        _ => MOST_PLACES,
    };
    shortened(warning.at.iter().map(place).collect(), most)
}

/// `, 0.93 EUR`: what the power costs that a caution is about, where it has a price.
fn costs(results: &Results<'_>, caution: &Caution) -> String {
    match caution.reading {
        Some(Reading::Power(_, costs)) if costs > 0.0 => {
            format!(", {} {}", number(costs, 2), results.shop.prices.currency)
        }
        _ => String::new(),
    }
}

fn until(results: &Results<'_>, caution: &Caution) -> String {
    let at: Moment = caution.at + caution.by.max(Span::ZERO);
    tankday_base::print::clock_or_date(&results.shop.calendar, at)
}

/// The first few of them by name, `most` at most, the others by their number.
fn shortened(mut names: Vec<String>, most: usize) -> String {
    let more = names.len().saturating_sub(most);
    names.truncate(most);
    match more {
        0 => names.join(", "),
        _ => format!("{} and {more} more", names.join(", ")),
    }
}
