//! What an order costs, line by line: its share of the costs of a day, the wear of the bath, and the shop's own rates.
//!
//! What the costs of the day know already ([`super::Cost`], with what is left undone in the baths) is taken from there and
//! divided as they are divided among orders ([`super::OrderCost`]). What has no price adds nothing, and its line says which key
//! is missing.
//!
//! # Known and left
//!
//! - Rejects count the share that the route states; what happens to a load on its way (`rules.odds`) does not raise it.
//! - Steel wool, carbonate and acid that care uses have no price yet: a line says so.

use super::event::OrderNo;
use super::figures::{Cost, Figures, OrderCost, OrderFigure, StepShare};
use tankday_base::shop::{Per, Rate, Route, Shop, StepIx, StepKind, StepRef, Supplies};
use tankday_base::units::{Area, Mass, Share, Span};

/// What a line is for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CostOf {
    /// Hands at a step, for so long.
    Hands(StepRef, Span),
    /// Hands that are paid and work on no load: they wait, or care for the baths. Below nothing where they work in breaks.
    Between(Span),
    /// Power of the heaters.
    Heat,
    /// Water, topped up and for rinsing.
    Water,
    /// Concentrate, added or to be added for what the work used up.
    Concentrate,
    /// Steel wool, carbonate or acid that care of the baths used in the run, all orders together.
    CareChemicals(Mass),
    /// Its share of the stop that sludge calls for.
    Sludge,
    /// Filter media.
    FilterMedia,
    /// Spent liquid.
    Waste,
    /// Wear of the baths by iron: their renewal over their life, of which the order uses such a share.
    Wear(Share),
    /// What a step uses up.
    Supplies(StepRef, Supplies),
    /// Overhead for the hours in tanks.
    TankHours(Span),
    /// Loads that fail at an inspection and are done again; none where no step of the route says how many do.
    Rejects(Option<StepRef>),
}

/// One line of what an order costs.
#[derive(Debug, Clone, PartialEq)]
pub struct CostLine {
    /// What for.
    pub of: CostOf,
    /// How much, in the shop's currency, as far as it is known.
    pub money: f64,
    /// What the scenario leaves out, so that the line holds less than all: keys, as in `shop.prices.hands`.
    pub missing: Vec<String>,
}

/// An order with what it costs.
#[derive(Debug, Clone, PartialEq)]
pub struct Priced {
    /// Pieces.
    pub pieces: u32,
    /// Mass of all of them.
    pub mass: Mass,
    /// The lines, in the order in which they are told.
    pub lines: Vec<CostLine>,
}

impl Priced {
    /// All lines together.
    #[must_use]
    pub fn total(&self) -> f64 {
        self.lines.iter().map(|l| l.money).sum()
    }

    /// Keys that are missing, each once.
    #[must_use]
    pub fn missing(&self) -> Vec<&str> {
        let mut all: Vec<&str> = Vec::new();
        for key in self.lines.iter().flat_map(|l| &l.missing) {
            if !all.contains(&key.as_str()) {
                all.push(key);
            }
        }
        all
    }
}

/// What an order of a run costs; none where the run has no such order, or it is not ready at the end.
#[must_use]
pub fn priced(shop: &Shop, figures: &Figures, order: OrderNo) -> Option<Priced> {
    let figure = figures.orders.iter().find(|o| o.order == order)?;
    let share = figures.order_costs.iter().find(|s| s.order == order)?;
    figure.ready?;
    let written = shop.orders.get(figure.source.index())?;
    let pricing = Pricing {
        shop,
        cost: &figures.cost,
        chemicals: figures.baths.iter().map(|b| b.used().chemical).sum(),
        media: figures.waste.media > 0,
        liquid: figures.waste.liquid().in_litres() > 0.0,
        rinse: figures.waste.rinse.in_litres() > 0.0,
        share,
        figure,
        route: shop.routes.get(written.route.index())?,
        piece: shop
            .parts
            .get(figure.part.index())
            .map_or((Area::ZERO, Mass::ZERO), |p| (p.area, p.mass)),
    };
    Some(Priced {
        pieces: figure.pieces,
        mass: pricing.piece.1 * f64::from(figure.pieces),
        lines: pricing.lines(),
    })
}

/// An order of a run, before its lines.
struct Pricing<'a> {
    shop: &'a Shop,
    cost: &'a Cost,
    /// What care used beside concentrate, and whether it used filter media.
    chemicals: Mass,
    media: bool,
    /// Whether the run leaves waste, and rinse water among it.
    liquid: bool,
    rinse: bool,
    share: &'a OrderCost,
    figure: &'a OrderFigure,
    route: &'a Route,
    piece: (Area, Mass),
}

impl Pricing<'_> {
    fn lines(&self) -> Vec<CostLine> {
        let mut lines = self.hands();
        lines.extend(self.bath());
        lines.extend(self.supplies());
        lines.extend(self.tank_hours());
        let rejects = self.rejects(&lines);
        lines.extend(rejects);
        lines.retain(|l| l.money.abs() > 1e-9 || !l.missing.is_empty());
        lines
    }

    /// Prices of the shop that a line needs and the scenario does not state.
    fn unstated(&self, needed: &[&str]) -> Vec<String> {
        let stated = &self.shop.prices.stated;
        let missing = needed.iter().filter(|key| !stated.contains(key));
        missing.map(|key| format!("shop.prices.{key}")).collect()
    }

    fn line(&self, of: CostOf, money: f64, needed: &[&str]) -> CostLine {
        CostLine {
            of,
            money,
            missing: self.unstated(needed),
        }
    }

    /// Hands by step, then what they are paid for beside it.
    fn hands(&self) -> Vec<CostLine> {
        let rate = self.shop.prices.hands_per_hour;
        let at_work = self.share.steps.iter().filter(|s| s.hands > Span::ZERO);
        let mut lines: Vec<CostLine> = at_work
            .map(|s| {
                let of = CostOf::Hands(s.step, s.hands);
                self.line(of, s.hands.in_hours() * rate, &["hands"])
            })
            .collect();
        let paid = self.cost.hands_time.times(self.share.of_hands.in_fraction());
        let between = paid - self.share.steps.iter().map(|s| s.hands).sum();
        lines.push(CostLine {
            of: CostOf::Between(between),
            money: between.in_hours() * rate,
            missing: Vec::new(),
        });
        lines
    }

    /// What the baths take, by area.
    fn bath(&self) -> Vec<CostLine> {
        let own = self.share.of_rest.in_fraction();
        let coats = self.share.area > Area::ZERO;
        let needs = |keys: &'static [&'static str], so: bool| if so { keys } else { &[] };
        let water: &'static [&'static str] = match self.rinse {
            true => &["distilled water", "rinse water"],
            false => &["distilled water"],
        };
        let cost = self.cost;
        let wear: f64 = self.share.wear.iter().map(|w| w.cost()).sum();
        let used: f64 = self.share.wear.iter().map(|w| w.used.in_fraction()).sum();
        vec![
            self.line(CostOf::Heat, own * cost.power, needs(&["power"], coats)),
            self.line(CostOf::Water, own * cost.water, needs(water, coats)),
            self.line(
                CostOf::Concentrate,
                own * (cost.chemicals + cost.left.acid),
                needs(&["concentrate"], !self.share.wear.is_empty()),
            ),
            self.care_chemicals(coats),
            self.line(CostOf::Sludge, own * cost.left.sludge, &[]),
            self.line(
                CostOf::FilterMedia,
                own * cost.filter,
                needs(&["filter medium"], coats && self.media),
            ),
            self.line(
                CostOf::Waste,
                own * cost.waste,
                needs(&["waste"], coats && self.liquid),
            ),
            self.line(
                CostOf::Wear(Share::fraction(used)),
                wear,
                needs(&["waste"], used > 0.0),
            ),
        ]
    }

    fn care_chemicals(&self, coats: bool) -> CostLine {
        let used = coats && self.chemicals > Mass::ZERO;
        let missing = "a price for steel wool, carbonate and acid (there is no key for it)";
        CostLine {
            of: CostOf::CareChemicals(self.chemicals),
            money: 0.0,
            missing: used.then(|| missing.to_owned()).into_iter().collect(),
        }
    }

    /// What steps use up, by the shop's rates.
    fn supplies(&self) -> Vec<CostLine> {
        let line = |s: &StepShare| {
            let step = self.shop.find_step(s.step)?;
            let what = Supplies::of(step)?;
            let rate = self.shop.prices.rates.of(what);
            Some(CostLine {
                of: CostOf::Supplies(s.step, what),
                money: rate.map_or(0.0, |rate| self.used(s, rate)),
                missing: match rate {
                    Some(_) => Vec::new(),
                    None => vec![format!("shop.rates.{}", what.words())],
                },
            })
        };
        self.share.steps.iter().filter_map(line).collect()
    }

    /// What a step uses up at a rate.
    fn used(&self, step: &StepShare, rate: Rate) -> f64 {
        let (area, mass) = self.piece;
        rate.amount
            * match rate.per {
                Per::Hour => step.stays.in_hours(),
                Per::SquareDecimetre => area.in_square_decimetres() * step.pieces,
                Per::Kilogram => mass.in_kilograms() * step.pieces,
                Per::Load => step.loads,
                Per::Piece => step.pieces,
            }
    }

    /// Overhead, if the shop has a rate for it.
    fn tank_hours(&self) -> Option<CostLine> {
        let rate = self.shop.prices.rates.tank_hour?;
        let in_tank = |s: &&StepShare| {
            self.shop
                .find_step(s.step)
                .is_some_and(|s| s.kind == StepKind::Coat)
        };
        let stays: Span = self.share.steps.iter().filter(in_tank).map(|s| s.stays).sum();
        Some(CostLine {
            of: CostOf::TankHours(stays),
            money: stays.in_hours() * rate,
            missing: Vec::new(),
        })
    }

    /// Loads that are done again: at an inspection that so many fail, everything from the step that they go back to on, once
    /// more for each failure that is to be expected.
    fn rejects(&self, lines: &[CostLine]) -> Vec<CostLine> {
        let retries = (0u32..).zip(&self.route.steps).filter_map(|(at, step)| {
            let passes = step.only.is_empty() || step.only.contains(&self.figure.part);
            step.retry.filter(|_| passes).map(|retry| (StepIx(at), retry))
        });
        let mut told: Vec<CostLine> = retries
            .map(|(at, retry)| {
                let fails = retry.share.in_fraction().min(0.99);
                // A day of average times fails once what fails more often than not.
                let done = if fails > 0.5 { 1.0 } else { 0.0 };
                let more = (fails / (1.0 - fails) - done).max(0.0);
                let again = self.again(lines, retry.back_to, at) / (1.0 + done);
                CostLine {
                    of: CostOf::Rejects(Some(self.step(at))),
                    money: more * again,
                    missing: Vec::new(),
                }
            })
            .collect();
        if told.is_empty() {
            told.push(CostLine {
                of: CostOf::Rejects(None),
                money: 0.0,
                missing: vec!["`fails` at an inspection of the route".to_owned()],
            });
        }
        told
    }

    fn step(&self, step: StepIx) -> StepRef {
        let written = self.shop.orders.get(self.figure.source.index());
        StepRef {
            route: written.map_or(tankday_base::shop::RouteId(0), |o| o.route),
            step,
        }
    }

    /// What the lines cost of the steps from one to another, the bath with them if it is among these.
    fn again(&self, lines: &[CostLine], from: StepIx, to: StepIx) -> f64 {
        let within = |step: StepRef| (from.0..=to.0).contains(&step.step.0);
        let steps = self.route.steps.iter().skip(from.index());
        let mut steps = steps.take((to.0.saturating_sub(from.0) + 1) as usize);
        let coats = steps.any(|s| s.kind == StepKind::Coat);
        let again = |line: &&CostLine| match line.of {
            CostOf::Hands(step, _) | CostOf::Supplies(step, _) => within(step),
            CostOf::Between(_) | CostOf::Rejects(_) => false,
            _ => coats,
        };
        lines.iter().filter(again).map(|l| l.money).sum()
    }
}
