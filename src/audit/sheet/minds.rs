//! What is to be minded: each caution of a row is one that sheets know, and none is left out that a row's acts call for by
//! their kind: what is blasted, pickled, oiled, dried with air, put into a bath, heated, topped up; and by their load.

use super::Faults;
use super::acts::Done;
use super::day::DaySheet;
use super::loads::{ENDS, Loads, said_by_another};
use super::table::Act;
use std::collections::BTreeSet;
use tankday_base::shop::{LidKind, Shop, StepKind};

const FOAM: &str = "Foam: keep headroom free.";
const BLAST: &str = "No silica sand; respirator; dust collection on.";
const AIR: &str = "Compressed air: goggles; never at skin or clothes.";
const RAGS: &str = "Oily rags into the covered metal bin.";
const OVEN: &str = "Oven: gloves; nothing oily in.";
const CAUSTIC: &str = "Hot caustic blinds, burns: face shield, add slowly.";
const SOLVENT: &str = "Solvent: no flame, no sparks; fumes drawn off.";
const PICKLE: &str = "Acid fume: exhaust on. Acid into water, slowly.";
const SEAL: &str = "Hexavalent chromium in it? Carcinogen: stop and ask.";
const HEXAVALENT: &str = "Hexavalent chromium causes cancer: licensed practice only.";
const HOT_OIL: &str = "Dry parts only: boil-over. Below its flash point.";
const STEAM: &str = "Steam and splashes: face away, thin stream.";
const SPENT_RINSE: &str = "Spent rinse is controlled waste: not down drains.";
/// What is decanted, filtered or filled back while it scalds.
pub(super) const SCALDS: &str = "Still scalds: only the pump moves it.";
/// One of these stands wherever a heater goes on.
const HEATER: [&str; 5] = [
    "Level over the heater? Lid loose, air moving.",
    "Level over heater? Lid loose? Residual-current device?",
    "Level over the heater? Fumes drawn off?",
    "Level over heater? Fumes drawn off? Residual-current device?",
    "Heats before opening: somebody must be there.",
];
/// Once a day is enough.
const ONCE: [&str; 10] = [
    FOAM,
    BLAST,
    AIR,
    RAGS,
    OVEN,
    "Steel wire only: not galvanised, no copper.",
    "Near a limit of its acids: titrate first.",
    "Much iron: look for white floating dust.",
    "Much sludge: do not stir it up.",
    "Level off: cover the work, leave foam room.",
];
/// All others.
const OTHERS: [&str; 39] = [
    SCALDS,
    CAUSTIC,
    SOLVENT,
    PICKLE,
    SEAL,
    HEXAVALENT,
    HOT_OIL,
    STEAM,
    SPENT_RINSE,
    HEATER[0],
    HEATER[1],
    HEATER[2],
    HEATER[3],
    HEATER[4],
    "Hydrogen risk: no force on it until relieved.",
    "Heavy: lower slowly, hot acid spits.",
    "Hardened: relieve hydrogen before anything loads it.",
    "Hardened: no relief planned. No force until relieved.",
    "Hardened and pickled: it may crack. Ask first.",
    "Hardened: no acid before coating.",
    "Heavy at arm's length: two people, or hoist.",
    "Lid must vent: hydrogen collects under it.",
    "Little iron: expect thin, patchy, light grey.",
    "Falls below its band: expect rough coats.",
    "Too cold for this metal: no coat grows.",
    "Runs over: smaller load, or bail first.",
    ENDS[0],
    ENDS[1],
    "Much work: apart, turned two or three times.",
    "Coating will be below target: inspect.",
    "Oil left on it coats blotchy: degrease again.",
    "Pickled: expect a coarse coat; inspect.",
    "Blind holes down trap gas: turn them.",
    "Seams hold acid: rinse well, dry soon.",
    "Slowly, acid into bath, never the reverse.",
    "Froths: small lots, wait between; no flame.",
    "Above 70 °C: froths over; tiny lots, wait.",
    "Above its band: boils up; let it cool.",
    "Cool, gloved; sludge and waste: ask first.",
];
/// Only of what comes out of a bath.
const IN_BATH: &str = "Longer in the bath than allowed: inspect.";
/// Of what was not kept, and of a bath made up anew.
const KEPT: [&str; 6] = [
    "Nobody there later: stay, or begin it earlier.",
    IN_BATH,
    "Stayed there longer than allowed: inspect.",
    "The break begins with it in: somebody stays.",
    "Waited longer than allowed: look for rust.",
    "Water first, then acid, slowly; ask about waste.",
];

/// Holds the cautions of a day's rows.
pub(super) fn check(loads: &Loads<'_>, sheet: &DaySheet<'_>, faults: &mut Faults) {
    let mut said: BTreeSet<&str> = BTreeSet::new();
    for told in &sheet.rows {
        let row = told.row;
        let (own, rest) = read(row.cell("caution"));
        if !rest.is_empty() {
            faults.of_row(row, &format!("`{rest}` is no caution that a sheet has"));
        }
        for (nth, caution) in own.iter().enumerate() {
            let again = ONCE.contains(caution) && said.contains(caution);
            if again || own.iter().take(nth).any(|c| c == caution) {
                faults.of_row(row, &format!("it says again: {caution}"));
            }
        }
        for done in &told.acts {
            let of_load = loads.call_for(done);
            for caution in called_for(loads.shop, done).into_iter().chain(of_load) {
                let before = ONCE.contains(&caution) && said.contains(caution);
                if !own.contains(&caution) && !before && !said_by_another(caution, &own) {
                    faults.of_row(row, &format!("it does not say: {caution}"));
                }
            }
            for caution in loads.false_words(done, &own) {
                faults.of_row(row, &format!("nothing in it calls for: {caution}"));
            }
            if done.act == Act::HeaterOn && !HEATER.iter().any(|c| own.contains(c)) {
                faults.of_row(row, "it does not say what to mind of a heater that goes on");
            }
        }
        if row.acts.contains(&Act::HeaterOn)
            && own.iter().any(|c| c.contains("Lid loose"))
            && !any_lid(loads.shop, told)
        {
            faults.of_row(row, "it speaks of a lid, and there is none");
        }
        if own.contains(&IN_BATH) && !told.acts.iter().any(|d| d.act == Act::TakeOut) {
            faults.of_row(row, "it speaks of a bath, and nothing comes out of one");
        }
        said.extend(own);
    }
}

/// Whether a tank of a row has a lid.
fn any_lid(shop: &Shop, told: &super::Told<'_>) -> bool {
    let stations = told
        .acts
        .iter()
        .filter_map(|d| shop.stations.get(d.station?.index()));
    stations
        .filter_map(|s| s.tank.as_ref())
        .any(|t| t.lid != LidKind::None)
}

/// The cautions of a cell one by one, and what is left that is none.
fn read(cell: &str) -> (Vec<&'static str>, &str) {
    let (mut all, mut rest) = (Vec::new(), cell);
    let known = || ONCE.iter().chain(&OTHERS).chain(&KEPT);
    while let Some(caution) = known().find(|c| rest.starts_with(**c)) {
        all.push(*caution);
        rest = rest[caution.len()..].trim_start();
    }
    (all, rest)
}

/// What an act calls for by its kind.
fn called_for(shop: &Shop, done: &Done) -> Vec<&'static str> {
    let begins = matches!(done.act, Act::PutIn | Act::Start);
    let of = done.load.filter(|_| begins).and_then(|(_, at)| {
        let route = shop.routes.get(at.route.index())?;
        Some((route, at.step.index()))
    });
    let step = of.and_then(|(route, at)| route.steps.get(at));
    // What is wiped behind the oil leaves oily rags.
    let oiled = of.is_some_and(|(route, at)| {
        let mut before = route.steps.iter().take(at);
        before.any(|s| matches!(s.kind, StepKind::Oil | StepKind::OilHot))
    });
    let mut all = match step.map(|s| (s.kind, s.relief)) {
        Some((StepKind::Blast, _)) => vec![BLAST],
        Some((StepKind::DegreaseHotAlkaline, _)) => vec![CAUSTIC],
        Some((StepKind::DegreaseSolvent, _)) => vec![SOLVENT],
        Some((StepKind::Pickle, _)) => vec![PICKLE],
        Some((StepKind::Preheat | StepKind::DryByOven, _)) => vec![OVEN],
        Some((StepKind::Relieve, relief)) if relief.is_none_or(|r| r.heat.is_some()) => vec![OVEN],
        Some((StepKind::Seal, _)) => vec![SEAL],
        Some((StepKind::SealHexavalent, _)) => vec![HEXAVALENT],
        Some((StepKind::DryByAir, _)) => vec![AIR],
        Some((StepKind::OilHot, _)) => vec![HOT_OIL, RAGS],
        Some((StepKind::Oil, _)) => vec![RAGS],
        Some((StepKind::Wipe, _)) if oiled => vec![RAGS],
        _ => Vec::new(),
    };
    all.extend(match done.act {
        Act::PutIn => Some(FOAM),
        Act::TopUp => Some(STEAM),
        Act::RenewRinse => Some(SPENT_RINSE),
        _ => None,
    });
    all
}
