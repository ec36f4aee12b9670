//! What moves the price of an order most.

use super::{Quoted, Run, last_cost};
use crate::what_if::{Ease, eased};
use tankday_base::shop::{OrderId, Prices, Shop, StepRef};
use tankday_record::{CostOf, Priced};

/// A tenth more of a price.
const TENTH: f64 = 1.1;

/// What is taken otherwise.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LeverKind {
    /// Twice as many pieces.
    TwiceAsMany,
    /// The step that takes hands longest, in half the time.
    StepInHalf(StepRef),
    /// Hands a tenth dearer.
    Hands,
    /// Power a tenth dearer.
    Power,
    /// Concentrate a tenth dearer.
    Concentrate,
}

/// What the cost of a piece becomes if one thing is otherwise.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lever {
    /// What is otherwise.
    pub kind: LeverKind,
    /// Cost of a piece then.
    pub each: f64,
    /// Share by which that is more; less than nothing where it is less.
    pub by: f64,
}

/// All of them, the strongest first; those that move nothing are left out.
pub(super) fn of(shop: &Shop, order: OrderId, quoted: &Quoted, run: &impl Run) -> Vec<Lever> {
    let Some(today) = quoted.today.as_ref().filter(|t| t.total() > 0.0) else {
        return Vec::new();
    };
    let now = each(today);
    let lever = |kind: LeverKind| {
        let then = each(&last_cost(&changed(shop, order, kind)?, run)?);
        Some(Lever {
            kind,
            each: then,
            by: then / now - 1.0,
        })
    };
    let mut levers: Vec<Lever> = kinds(shop, today).into_iter().filter_map(lever).collect();
    levers.retain(|l| l.by.abs() >= 5e-4);
    levers.sort_by(|a, b| b.by.abs().total_cmp(&a.by.abs()));
    levers
}

fn each(priced: &Priced) -> f64 {
    priced.total() / f64::from(priced.pieces.max(1))
}

fn kinds(shop: &Shop, today: &Priced) -> Vec<LeverKind> {
    let hands = today.lines.iter().filter_map(|l| match l.of {
        // Relief is as long as the steel needs, and a dwell as long as the bath does.
        CostOf::Hands(step, time) => {
            let at = shop.find_step(step)?;
            let own = at.relief.is_none() && at.time != tankday_base::shop::StepTime::Coat;
            own.then_some((step, time))
        }
        _ => None,
    });
    let longest = hands.max_by_key(|(_, time)| *time);
    let step = longest.map(|(step, _)| LeverKind::StepInHalf(step));
    let prices = [LeverKind::Hands, LeverKind::Power, LeverKind::Concentrate];
    std::iter::once(LeverKind::TwiceAsMany)
        .chain(step)
        .chain(prices)
        .collect()
}

fn changed(shop: &Shop, order: OrderId, kind: LeverKind) -> Option<Shop> {
    let dearer = |of: fn(&mut Prices) -> &mut f64| {
        let mut shop = shop.clone();
        let price = of(&mut shop.prices);
        *price *= TENTH;
        shop
    };
    Some(match kind {
        LeverKind::TwiceAsMany => {
            let mut shop = shop.clone();
            let order = shop.orders.get_mut(order.index())?;
            order.count = order.count.checked_mul(2)?;
            shop
        }
        LeverKind::StepInHalf(step) => eased(shop, &Ease::StepInHalf(shop.find_step(step)?.name.clone())),
        LeverKind::Hands => dearer(|p| &mut p.hands_per_hour),
        LeverKind::Power => dearer(|p| &mut p.power_per_kwh),
        LeverKind::Concentrate => dearer(|p| &mut p.concentrate_per_litre),
    })
}
