//! What calls for which caution: the kind of a step, what is lifted, a heater that goes on.

use super::caution::StepCaution;
use super::rows::Maker;
use super::tasks::{SheetTask, is_tank};
use tankday_base::shop::{
    HEAVY_LIFT, HeaterKind, Held, LidKind, Lies, Part, Shop, StationId, Step, StepKind, StepRef,
};
use tankday_base::units::{Mass, Moment, Share};
use tankday_record::LoadNo;

impl Maker<'_> {
    /// What a step of a load calls for before hands begin it.
    pub(super) fn of_step(&self, load: LoadNo, at: StepRef) -> Vec<StepCaution> {
        let mut cautions = of_kind(self.shop, at);
        if self.leads_to_acid(at) && self.parts_of(load).any(|p| is_hard(self.shop, p)) {
            cautions.push(StepCaution::NoAcid);
        }
        cautions
    }

    /// Whether a step is where a load sets out for a bath, or a pickle before one.
    fn leads_to_acid(&self, at: StepRef) -> bool {
        let Some(route) = self.shop.routes.get(at.route.index()) else {
            return false;
        };
        let before_bath = route
            .steps
            .iter()
            .skip(at.step.index() + 1)
            .any(|s| s.kind == StepKind::Coat);
        let own = self.shop.find_step(at);
        before_bath && own.is_some_and(|s| s.after.is_empty() || s.kind == StepKind::Pickle)
    }

    /// What a load calls for before it goes into a bath.
    pub(super) fn of_lift(&self, load: LoadNo) -> Vec<StepCaution> {
        let mut cautions = Vec::new();
        let heaviest = self.parts_of(load).map(|p| p.mass).fold(Mass::ZERO, Mass::max);
        let on_wire = self.parts_of(load).any(|p| p.held == Held::Wire);
        // A load in a basket is lifted whole, one on wires piece by piece.
        let in_basket = self.parts_of(load).any(|p| p.held == Held::Basket);
        let whole = self.cargo.mass(self.shop, load);
        if heaviest >= HEAVY_LIFT || (in_basket && whole >= HEAVY_LIFT) {
            cautions.push(StepCaution::HeavyLift);
        }
        if on_wire {
            cautions.push(StepCaution::PlainWire);
        }
        cautions
    }

    /// Which end of a load goes in, where a tank covers one half of its parts at a time.
    pub(super) fn turned(&self, deed: &SheetTask, load: LoadNo) -> Option<StepCaution> {
        let task = deed.tasks().find(|t| is_tank(self.shop, t))?;
        let tank = self.shop.tank(task.station)?;
        let turned = self
            .parts_of(load)
            .any(|p| p.goes.lies(tank) == Some(Lies::Turned));
        let (_, at) = task.load?;
        let steps = &self.shop.routes.get(at.route.index())?.steps;
        let coats = |s: &Step| s.kind == StepKind::Coat;
        let again = steps.iter().take(at.step.index()).any(coats);
        turned.then_some(match again {
            true => StepCaution::OtherEnd,
            false => StepCaution::OneEnd,
        })
    }

    fn parts_of(&self, load: LoadNo) -> impl Iterator<Item = &Part> {
        self.cargo
            .parts(self.shop, load)
            .into_iter()
            .map(|(_, part, _)| part)
    }

    /// What heaters that go on call for.
    pub(super) fn of_heaters(&self, tanks: &[StationId], at: Moment) -> Vec<StepCaution> {
        let days = &self.shop.calendar.days;
        let open = days.iter().any(|d| d.open <= at && at < d.close);
        let all = || {
            tanks
                .iter()
                .filter_map(|t| self.shop.stations.get(t.index())?.tank)
        };
        let immersed = all().any(|t| t.heater.kind == HeaterKind::Immersion);
        let mut cautions = Vec::new();
        if !open {
            cautions.push(StepCaution::HeaterOnAlone);
        }
        let bare = all().all(|t| t.lid == LidKind::None);
        match (immersed, bare) {
            (true, false) => cautions.push(StepCaution::ResidualCurrent),
            (true, true) => cautions.push(StepCaution::OpenResidualCurrent),
            (false, false) if open => cautions.push(StepCaution::HeaterOn),
            (false, true) if open => cautions.push(StepCaution::OpenHeaterOn),
            _ => {}
        }
        let tight = |lid: LidKind| matches!(lid, LidKind::Lid { leak, .. } if leak <= Share::ZERO);
        if all().any(|t| tight(t.lid)) {
            cautions.push(StepCaution::TightLid);
        }
        cautions
    }
}

fn is_hard(shop: &Shop, part: &Part) -> bool {
    shop.materials
        .get(part.material.index())
        .is_some_and(|m| m.hardened)
}

/// What the kind of a step calls for, and those of the steps before it.
fn of_kind(shop: &Shop, at: StepRef) -> Vec<StepCaution> {
    let Some(own) = shop.find_step(at) else {
        return Vec::new();
    };
    let before = |i: &tankday_base::shop::StepIx| {
        shop.find_step(StepRef { step: *i, ..at })
            .map(|s| (s.kind, s.relief))
    };
    let from_hot = || {
        let before = own.after.iter().filter_map(before);
        // What is held in the room to be relieved is not hot.
        before
            .clone()
            .any(|(kind, relief)| kind.leaves_hot() && relief.is_none_or(|r| r.heat.is_some()))
    };
    match own.kind {
        StepKind::Blast => vec![StepCaution::Blast],
        StepKind::DegreaseHotAlkaline => vec![StepCaution::HotCaustic],
        StepKind::DegreaseSolvent => vec![StepCaution::Solvent],
        StepKind::Pickle => vec![StepCaution::Pickle],
        StepKind::Preheat | StepKind::DryByOven => vec![StepCaution::Bake],
        StepKind::Relieve if own.relief.is_none_or(|r| r.heat.is_some()) => vec![StepCaution::Bake],
        StepKind::Seal => vec![StepCaution::Seal],
        StepKind::SealHexavalent => vec![StepCaution::Hexavalent],
        StepKind::DryByAir => vec![StepCaution::CompressedAir],
        StepKind::OilHot => vec![StepCaution::HotOil, StepCaution::Oil],
        StepKind::Oil if from_hot() => vec![StepCaution::HotOil, StepCaution::Oil],
        StepKind::Oil => vec![StepCaution::Oil],
        StepKind::Wipe if comes_oiled(shop, at) => vec![StepCaution::Oil],
        _ => Vec::new(),
    }
}

/// Whether oil goes on before a step: steps stand in an order in which they may be done.
fn comes_oiled(shop: &Shop, at: StepRef) -> bool {
    let route = shop.routes.get(at.route.index());
    route.is_some_and(|r| r.steps.iter().take(at.step.index()).any(|s| s.kind.oils()))
}
