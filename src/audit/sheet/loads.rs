//! What a load asks to be minded when it goes into a bath: by what its parts are made of, what they weigh and how they are
//! held, and by how the bath reads just then.

use super::acts::Done;
use super::minds::SCALDS;
use super::names::Names;
use super::table::Act;
use tankday_base::bath::HOT;
use tankday_base::shop::{
    BathRecipe, HEAVY_LIFT, HEAVY_PIECE, HEAVY_SHARE, Held, Mishap, Part, PartId, Relieves, Room, Shop,
    StationId, StepKind, StepRef, Tank,
};
use tankday_base::units::{Mass, Moment};
use tankday_record::{BathSample, LogEntry, Record};

const HEAVY: &str = "Heavy: lower slowly, hot acid spits.";
const RELIEVED: &str = "Hardened: relieve hydrogen before anything loads it.";
const NOT_RELIEVED: &str = "Hardened: no relief planned. No force until relieved.";
const ACID_ON_HARD: &str = "Hardened and pickled: it may crack. Ask first.";
const NO_ACID: &str = "Hardened: no acid before coating.";
const LIFT: &str = "Heavy at arm's length: two people, or hoist.";
const WIRE: &str = "Steel wire only: not galvanised, no copper.";
const TITRATE: &str = "Near a limit of its acids: titrate first.";
const IRON: &str = "Much iron: look for white floating dust.";
const LITTLE_IRON: &str = "Little iron: expect thin, patchy, light grey.";
const MUCH: &str = "Much work: apart, turned two or three times.";
/// Which end of a part goes in that is turned end for end: at its first coat, and at any later one.
pub(super) const ENDS: [&str; 2] = [
    "One end in; other end at second coat.",
    "Turned: its bare end goes in.",
];
/// What parts bring that a caution is about.
const BRINGS: [(Mishap, &str); 4] = [
    (Mishap::Greasy, "Oil left on it coats blotchy: degrease again."),
    (Mishap::Pickled, "Pickled: expect a coarse coat; inspect."),
    (Mishap::HolesDown, "Blind holes down trap gas: turn them."),
    (Mishap::Crevices, "Seams hold acid: rinse well, dry soon."),
];
/// About the coating and not about who is by: of several that a row calls for it says one.
const SPOILS: [&str; 15] = [
    TITRATE,
    IRON,
    LITTLE_IRON,
    MUCH,
    BRINGS[0].1,
    BRINGS[1].1,
    BRINGS[2].1,
    BRINGS[3].1,
    "Falls below its band: expect rough coats.",
    "Too cold for this metal: no coat grows.",
    "Much sludge: do not stir it up.",
    "Coating will be below target: inspect.",
    "Longer in the bath than allowed: inspect.",
    "Stayed there longer than allowed: inspect.",
    "Waited longer than allowed: look for rust.",
];
/// Said of what a load is, whatever the bath: never of one that is not so.
const OF_PARTS: [&str; 9] = [
    ENDS[0],
    ENDS[1],
    HEAVY,
    LIFT,
    WIRE,
    BRINGS[0].1,
    BRINGS[1].1,
    BRINGS[2].1,
    BRINGS[3].1,
];

/// Whether a row need not say a caution, since it says another of the kind.
pub(super) fn said_by_another(caution: &str, own: &[&'static str]) -> bool {
    SPOILS.contains(&caution) && own.iter().any(|c| SPOILS.contains(c))
}

/// The shop, its record, and what its loads are called.
pub(super) struct Loads<'a> {
    pub(super) shop: &'a Shop,
    pub(super) record: &'a Record,
    pub(super) names: &'a Names,
}

/// A load that goes into a bath.
struct Charge<'a> {
    kinds: Vec<(PartId, &'a Part, u32)>,
    mass: Mass,
    tank: &'a Tank,
    recipe: &'a BathRecipe,
    step: StepRef,
}

impl Loads<'_> {
    /// What an act calls for because of its load.
    pub(super) fn call_for(&self, done: &Done) -> Vec<&'static str> {
        let mut all = Vec::new();
        if self.scalds(done) {
            all.push(SCALDS);
        }
        if self.sets_out_hard(done) {
            all.push(NO_ACID);
        }
        let (Some(charge), Some(station)) = (self.charge(done), done.station) else {
            return all;
        };
        all.extend(self.hydrogen(&charge));
        all.extend(self.acid_on_hard(&charge).then_some(ACID_ON_HARD));
        all.extend(charge.of_parts(self.coated_before(charge.step)));
        let dm2: f64 = charge
            .kinds
            .iter()
            .map(|(_, p, n)| p.area.in_square_decimetres() * f64::from(*n))
            .sum();
        let litres = charge.tank.fill.in_litres();
        let much = dm2 > Room::MUCH.area.in_square_decimetres_per_litre() * litres
            || charge.mass.in_kilograms() > Room::MUCH.mass.in_kilograms_per_litre() * litres;
        all.extend(much.then_some(MUCH));
        if let Some(sample) = self.before(done, station) {
            all.extend(readings(&charge, sample));
        }
        all
    }

    /// Whether a bath is decanted, filtered or filled back that scalds.
    fn scalds(&self, done: &Done) -> bool {
        use tankday_record::TaskKind::{Decant, FillBack, SetUpFilter};
        let handled = done.act == Act::Care
            && done
                .task
                .is_some_and(|t| t.vessel.is_none() && matches!(t.kind, Decant | FillBack | SetUpFilter));
        let read = |e: &tankday_record::Entry| match &e.event {
            LogEntry::Bath { tank, sample } if Some(*tank) == done.station => Some(sample.temperature),
            _ => None,
        };
        let before = self.record.entries.iter().filter(|e| e.at <= done.at);
        handled && before.rev().find_map(read).is_some_and(|t| t > HOT)
    }

    /// What of a load's own an act may say: anything, where it is no load that goes into a bath.
    pub(super) fn false_words(&self, done: &Done, said: &[&'static str]) -> Vec<&'static str> {
        let Some(charge) = self.charge(done) else {
            return Vec::new();
        };
        let true_ones = charge.of_parts(self.coated_before(charge.step));
        let told = OF_PARTS.into_iter().filter(|c| said.contains(c));
        told.filter(|c| !true_ones.contains(c)).collect()
    }

    fn charge(&self, done: &Done) -> Option<Charge<'_>> {
        let ((load, step), station) = (done.load?, done.station?);
        let tank = self.shop.stations.get(station.index())?.tank.as_ref()?;
        let recipe = self.shop.baths.get(tank.bath.index())?;
        let kinds = (done.act == Act::PutIn).then(|| self.parts(done, load))?;
        let mass = kinds.iter().map(|(_, p, n)| p.mass * f64::from(*n)).sum();
        Some(Charge {
            kinds,
            mass,
            tank,
            recipe,
            step,
        })
    }

    fn parts(&self, done: &Done, load: tankday_record::LoadNo) -> Vec<(PartId, &Part, u32)> {
        let inside = self.names.inside(load, done.to).into_iter();
        let known = |(id, n): (PartId, u32)| Some((id, self.shop.parts.get(id.index())?, n));
        inside.filter_map(known).collect()
    }

    fn is_hard(&self, part: &Part) -> bool {
        let material = self.shop.materials.get(part.material.index());
        material.is_some_and(|m| m.hardened)
    }

    /// Whether something hardened begins its way to a bath, or comes to a pickle before one.
    fn sets_out_hard(&self, done: &Done) -> bool {
        let Some((load, at)) = done.load.filter(|_| matches!(done.act, Act::PutIn | Act::Start)) else {
            return false;
        };
        let Some(route) = self.shop.routes.get(at.route.index()) else {
            return false;
        };
        let later = route.steps.get(at.step.index() + 1..).unwrap_or_default();
        let own = route.steps.get(at.step.index());
        let first = own.is_some_and(|s| s.after.is_empty() || s.kind == StepKind::Pickle);
        let coats = later.iter().any(|s| s.kind == StepKind::Coat);
        first && coats && self.parts(done, load).iter().any(|(_, p, _)| self.is_hard(p))
    }

    /// Whether hydrogen is relieved of everything hardened behind the bath.
    fn hydrogen(&self, charge: &Charge<'_>) -> Option<&'static str> {
        let hard: Vec<PartId> = charge
            .kinds
            .iter()
            .filter(|(_, p, _)| self.is_hard(p))
            .map(|(id, ..)| *id)
            .collect();
        let route = self.shop.routes.get(charge.step.route.index())?;
        let later = route.steps.get(charge.step.step.index()..)?;
        let relieved = |id: &PartId| {
            later.iter().any(|s| {
                let own = s.only.is_empty() || s.only.contains(id);
                own && s.relief.is_some_and(|r| r.what == Relieves::Hydrogen)
            })
        };
        match (hard.is_empty(), hard.iter().all(relieved)) {
            (true, _) => None,
            (false, true) => Some(RELIEVED),
            (false, false) => Some(NOT_RELIEVED),
        }
    }

    /// Whether its route coats before a step.
    fn coated_before(&self, at: StepRef) -> bool {
        let route = self.shop.routes.get(at.route.index());
        let before = route.and_then(|r| r.steps.get(..at.step.index()));
        before
            .unwrap_or_default()
            .iter()
            .any(|s| s.kind == StepKind::Coat)
    }

    /// Whether something hardened in it was pickled before the bath, on its route or before it came.
    fn acid_on_hard(&self, charge: &Charge<'_>) -> bool {
        let route = self.shop.routes.get(charge.step.route.index());
        let before = route.and_then(|r| r.steps.get(..charge.step.step.index()));
        let pickled = |id: PartId, part: &Part| {
            let steps = before.unwrap_or_default().iter();
            let mut own = steps.filter(|s| s.only.is_empty() || s.only.contains(&id));
            part.brings.has(Mishap::Pickled) || own.any(|s| s.kind == StepKind::Pickle)
        };
        let mut hard = charge.kinds.iter().filter(|(_, p, _)| self.is_hard(p));
        hard.any(|(id, part, _)| pickled(*id, part))
    }

    /// How a bath last was when the dwell began that follows an act.
    fn before(&self, done: &Done, station: StationId) -> Option<&BathSample> {
        let (load, _) = done.load?;
        let begins = |e: &&tankday_record::Entry| matches!(e.event, LogEntry::WorkBegins { load: l, station: s, .. } if (l, s) == (load, station));
        let later = self.record.entries.iter().filter(|e| e.at >= done.at);
        let begins: Moment = later.into_iter().find(begins)?.at;
        let earlier = self.record.entries.iter().filter(|e| e.at <= begins);
        earlier.rev().find_map(|e| match &e.event {
            LogEntry::Bath { tank, sample } if *tank == station => Some(&**sample),
            _ => None,
        })
    }
}

impl Charge<'_> {
    fn of_parts(&self, again: bool) -> Vec<&'static str> {
        let any = |is: &dyn Fn(&Part) -> bool| self.kinds.iter().any(|(_, p, _)| is(p));
        let mut all = Vec::new();
        let room = (self.recipe.room.mass * self.tank.fill).in_kilograms();
        let on_wire = any(&|p| p.held == Held::Wire);
        let heavy = any(&|p| p.held == Held::Wire && p.mass >= HEAVY_PIECE);
        if heavy && room > 0.0 && self.mass.in_kilograms() >= HEAVY_SHARE.in_fraction() * room {
            all.push(HEAVY);
        }
        let basket = any(&|p| p.held == Held::Basket) && self.mass >= HEAVY_LIFT;
        if basket || any(&|p| p.mass >= HEAVY_LIFT) {
            all.push(LIFT);
        }
        all.extend(on_wire.then_some(WIRE));
        if any(&|p| p.goes.turned && !covers(self.tank, p)) {
            all.push(ENDS[usize::from(again)]);
        }
        let brought = BRINGS
            .into_iter()
            .filter(|(what, _)| any(&|p| p.brings.has(*what)));
        all.extend(brought.map(|(_, words)| words));
        all
    }
}

/// Whether a tank covers a part as it lies.
fn covers(tank: &Tank, part: &Part) -> bool {
    let whole = tankday_base::shop::Goes {
        turned: false,
        ..part.goes.clone()
    };
    whole.lies(tank).is_some()
}

/// What readings call for, as if what has boiled away were topped up.
fn readings(charge: &Charge<'_>, sample: &BathSample) -> Vec<&'static str> {
    let Some(r) = sample.readings else {
        return Vec::new();
    };
    let cold = tankday_base::bath::water::measuring_density();
    let litres = (sample.water / cold).in_litres();
    let filled = (litres / charge.tank.fill.in_litres()).min(1.0);
    let limits = &charge.recipe.limits;
    let strength = r.total_acid.in_points() * filled;
    let ratio = r.total_acid / r.free_acid;
    let iron = r.iron.in_grams_per_litre() * filled;
    let (low, high) = (limits.strength.warn_below, limits.strength.warn_above);
    let off = strength < low.in_points()
        || strength > high.in_points()
        || ratio < limits.ratio.warn_below
        || ratio > limits.ratio.warn_above;
    let mut all = Vec::new();
    all.extend(off.then_some(TITRATE));
    all.extend((iron > limits.iron.warn_above.in_grams_per_litre()).then_some(IRON));
    all.extend((iron < limits.iron.warn_below.in_grams_per_litre()).then_some(LITTLE_IRON));
    all
}
