//! What to add to a bath that reads so, and when to leave it alone.

use super::super::{Block, Card};
use super::little;
use tankday_base::bath::chemistry::{Breach, Gravity, Readings, Side, Watched};
use tankday_base::print::{capital, list, number};
use tankday_base::shop::{Shop, StationId, Trimming};
use tankday_base::units::Mass;
use tankday_record::one_load::{PutIn, SetRight};

/// Tells how the bath of a tank is set right.
#[must_use]
pub fn set_right_told(shop: &Shop, tank: StationId, right: &SetRight) -> Card {
    let stops = |all: &[Breach]| all.iter().any(|b| b.gravity == Gravity::Stop);
    let adds: Vec<String> = right.put_in.iter().map(amount).collect();
    let mut answer = match (adds.is_empty(), right.passes.is_empty()) {
        (true, true) => vec!["Leave it alone: every reading is inside its limits.".to_owned()],
        (true, false) => vec!["Nothing that you add mends this.".to_owned()],
        (false, _) => vec![format!("Add {}.", list(&adds))],
    };
    answer.extend(right.still.iter().filter_map(|b| Some(left(b)?.to_owned())));
    let steps = right
        .put_in
        .iter()
        .enumerate()
        .map(|(i, put)| (format!("{}", i + 1), act(put)));
    let blocks = [
        Block {
            heading: "In this order",
            caption: "What to add, step by step",
            columns: ["step", "what to do"],
            rows: steps.collect(),
        },
        Block {
            heading: "How it reads, now and then",
            caption: "Readings before and after",
            columns: ["reading", "now and then"],
            rows: reads(&right.before, &right.after),
        },
    ];
    Card {
        place: capital(shop.station_name(tank)),
        about: right
            .passes
            .iter()
            .map(|b| b.what.sentence(b.side).to_owned())
            .collect::<Vec<_>>()
            .join(", "),
        may: !stops(&right.still),
        answer,
        blocks: blocks.into_iter().filter(|b| !b.rows.is_empty()).collect(),
        watch: right
            .put_in
            .iter()
            .filter_map(|put| Some(caution(put)?.to_owned()))
            .collect(),
    }
}

/// `57 mL of concentrate`.
fn amount(put: &PutIn) -> String {
    match put {
        PutIn::Water(volume) => format!("{} of distilled water", little(*volume)),
        PutIn::Wool(wool, _) => format!("{} of steel wool", grams(*wool)),
        PutIn::Concentrate(volume) => format!("{} of concentrate", little(*volume)),
        PutIn::Trim(by, pure) => match by {
            Trimming::PhosphoricAcid(bottle) => {
                format!(
                    "{} of phosphoric acid {}",
                    little(bottle.holds(*pure)),
                    bottle.words()
                )
            }
            Trimming::ManganeseCarbonate | Trimming::SodaAsh => format!("{} of {}", grams(*pure), by.words()),
        },
    }
}

pub(super) fn grams(mass: Mass) -> String {
    let grams = mass.in_grams();
    format!("{} g", number(grams, usize::from(grams < 10.0)))
}

fn act(put: &PutIn) -> String {
    let what = amount(put);
    match put {
        PutIn::Water(_) => format!("top up with {what}, to the mark"),
        PutIn::Wool(_, gas) => format!(
            "dissolve {what}, degreased, in the warm bath, and take the rest out; it gives off {} of hydrogen",
            little(*gas)
        ),
        PutIn::Concentrate(_) => format!("stir in {what}"),
        PutIn::Trim(Trimming::PhosphoricAcid(_), _) => format!("pour in {what}, slowly, stirring"),
        PutIn::Trim(..) => format!("stir in {what}, by spoons"),
    }
}

fn caution(put: &PutIn) -> Option<&'static str> {
    match put {
        PutIn::Wool(..) => Some(
            "Steel wool froths and gives off hydrogen: a hand's breadth of free space, small lots, no flame.",
        ),
        PutIn::Trim(Trimming::PhosphoricAcid(_), _) | PutIn::Concentrate(_) => {
            Some("Acid goes slowly into the bath, never water into acid. Read the product's own sheet first.")
        }
        PutIn::Trim(..) => Some("Carbonate froths with acid: add by spoons, wait between."),
        PutIn::Water(_) => None,
    }
}

/// What is left to do where nothing that is added helps.
fn left(breach: &Breach) -> Option<&'static str> {
    Some(match (breach.what, breach.side) {
        (Watched::Contaminants, _) => {
            "Foreign metal or oil doesn't come out again: throw the bath away and make up a new one."
        }
        (Watched::Iron, Side::Above) => "Too much iron: renew half of the bath, from the bottom.",
        (Watched::Sludge, _) => "Much sludge: let it settle cold, decant, filter.",
        (Watched::Strength, Side::Above) => "Too strong: take some bath out and top up with distilled water.",
        (Watched::Level, Side::Above) => "Too full: take some bath out, froth needs the room.",
        _ => return None,
    })
}

fn reads(before: &Readings, after: &Readings) -> Vec<(String, String)> {
    let row = |name: &str, of: &dyn Fn(&Readings) -> f64, unit: &str, places: usize| {
        let (now, then) = (number(of(before), places), number(of(after), places));
        (name.to_owned(), format!("{now} to {then}{unit}"))
    };
    vec![
        row("total acid", &|r| r.total_acid.in_points(), " points", 1),
        row("free acid", &|r| r.free_acid.in_points(), " points", 1),
        row("acid ratio", &|r| r.total_acid / r.free_acid, "", 1),
        row("iron", &|r| r.iron.in_grams_per_litre(), " g/L", 2),
        row("sludge", &|r| r.sludge.in_grams_per_litre(), " g/L", 2),
        row("volume", &|r| r.volume.in_litres(), " L", 1),
    ]
}
