//! The luck of one run, addressed by what happens to whom: two shops see the same luck wherever they do the same.

use tankday_base::random::{Purpose, Spread, Stream, Streams, unit};
use tankday_base::shop::{OrderId, RouteId, Shop, StepIx};
use tankday_base::units::Span;

/// The addresses of a shop's luck, made once.
#[derive(Debug, Clone)]
pub(super) struct Addresses {
    /// A number for every source of orders, from its name.
    sources: Vec<u64>,
    /// For each step of all routes, one after the other. They hang on the step's name alone: a step on another
    /// route, or at another place, has the same luck.
    steps: Vec<Purpose>,
    /// Where each route begins in `steps`.
    first: Vec<usize>,
}

impl Addresses {
    pub(super) fn new(shop: &Shop) -> Self {
        let mut first = Vec::new();
        let mut steps = Vec::new();
        for route in &shop.routes {
            first.push(steps.len());
            steps.extend(
                route
                    .steps
                    .iter()
                    .map(|s| Purpose::named(&format!("step: {}", s.name))),
            );
        }
        let sources = shop.orders.iter().map(|o| name_number(&o.id)).collect();
        Self {
            sources,
            steps,
            first,
        }
    }
}

/// Draws, or means where nobody asked for luck.
#[derive(Debug, Clone)]
pub(super) struct Chance<'a> {
    addresses: &'a Addresses,
    drawn: Option<StepStreams>,
}

#[derive(Debug, Clone)]
struct StepStreams {
    gaps: Stream,
    pieces: Stream,
    steps: Vec<Stream>,
}

impl<'a> Chance<'a> {
    pub(super) fn new(addresses: &'a Addresses, luck: Option<Streams>) -> Self {
        let drawn = luck.map(|luck| StepStreams {
            gaps: luck.stream(Purpose::named("gap between arrivals")),
            pieces: luck.stream(Purpose::named("pieces of an order")),
            steps: addresses.steps.iter().map(|&p| luck.stream(p)).collect(),
        });
        Self { addresses, drawn }
    }

    /// Names a lot of an order for all its draws.
    pub(super) fn load(&self, source: OrderId, nth: u32, lot: u32) -> u64 {
        let order = self.addresses.sources[source.index()].wrapping_add(u64::from(nth) << 24);
        order.wrapping_add(u64::from(lot))
    }

    pub(super) fn gap(&self, gap: &Spread, source: OrderId, nth: u32) -> Span {
        match &self.drawn {
            None => gap.mean(),
            Some(s) => gap.draw(
                s.gaps
                    .word(self.addresses.sources[source.index()], u64::from(nth)),
            ),
        }
    }

    /// Pieces of an order, evenly from the fewest to the most; without luck their mean.
    pub(super) fn pieces(&self, fewest: u32, most: u32, source: OrderId, nth: u32) -> u32 {
        let source = self.addresses.sources[source.index()];
        match &self.drawn {
            None => fewest + (most - fewest) / 2,
            Some(s) => {
                let share = unit(s.pieces.word(source, u64::from(nth)));
                let span = f64::from(most - fewest) + 1.0;
                (fewest + (share * span) as u32).min(most)
            }
        }
    }

    /// The time of a step: the even visits of its stream.
    pub(super) fn time(&self, spread: &Spread, route: RouteId, step: StepIx, load: u64, visit: u32) -> Span {
        match (&self.drawn, spread) {
            (_, Spread::Fixed(time)) => *time,
            (None, _) => spread.mean(),
            (Some(s), _) => spread.draw(s.steps[self.at(route, step)].word(load, 2 * u64::from(visit))),
        }
    }

    /// Whether an inspection fails: the odd visits. Without luck, when it more often does than not, and then once.
    pub(super) fn fails(&self, share: f64, route: RouteId, step: StepIx, load: u64, visit: u32) -> bool {
        match &self.drawn {
            None => visit == 0 && share > 0.5,
            Some(s) => unit(s.steps[self.at(route, step)].word(load, 2 * u64::from(visit) + 1)) < share,
        }
    }

    fn at(&self, route: RouteId, step: StepIx) -> usize {
        self.addresses.first[route.index()] + step.index()
    }
}

fn name_number(name: &str) -> u64 {
    name.bytes().fold(0xcbf2_9ce4_8422_2325, |h: u64, b| {
        (h ^ u64::from(b)).wrapping_mul(0x0100_0000_01b3)
    })
}
