//! The luck of one run, addressed by what happens to whom: two shops see the same luck wherever they do the same.

use crate::luck::{Luck, Purpose, Spread, Stream, unit};
use crate::shop::Shop;
use crate::units::Span;

/// Draws, or means where nobody asked for luck.
#[derive(Debug, Clone)]
pub(super) struct Chance {
    drawn: Option<Streams>,
    /// A number for every source, from its name.
    sources: Vec<u64>,
}

#[derive(Debug, Clone)]
struct Streams {
    gaps: Stream,
    /// By route and step: the time, the inspection.
    steps: Vec<Vec<(Stream, Stream)>>,
}

impl Chance {
    pub(super) fn new(shop: &Shop, luck: Option<Luck>) -> Self {
        let sources = shop.orders.iter().map(|o| name_number(&o.id)).collect();
        let drawn = luck.map(|luck| Streams {
            gaps: luck.stream(Purpose::named("gap between arrivals")),
            steps: shop
                .routes
                .iter()
                .map(|r| r.steps.iter().map(|s| step_streams(luck, &s.name)).collect())
                .collect(),
        });
        Self { drawn, sources }
    }

    /// Names a lot of an order for all its draws.
    pub(super) fn load(&self, source: u32, nth: u32, lot: u32) -> u64 {
        self.sources[source as usize]
            .wrapping_add(u64::from(nth) << 24)
            .wrapping_add(u64::from(lot))
    }

    pub(super) fn gap(&self, gap: &Spread, source: u32, nth: u32) -> Span {
        match &self.drawn {
            None => gap.mean(),
            Some(s) => gap.draw(s.gaps.word(self.sources[source as usize], u64::from(nth))),
        }
    }

    pub(super) fn time(&self, spread: &Spread, route: u32, step: u32, load: u64, visit: u32) -> Span {
        match &self.drawn {
            None => spread.mean(),
            Some(s) => spread.draw(
                s.steps[route as usize][step as usize]
                    .0
                    .word(load, u64::from(visit)),
            ),
        }
    }

    /// Whether an inspection fails; without luck, when it more often does than not.
    pub(super) fn fails(&self, share: f64, route: u32, step: u32, load: u64, visit: u32) -> bool {
        match &self.drawn {
            None => visit == 0 && share > 0.5,
            Some(s) => {
                unit(
                    s.steps[route as usize][step as usize]
                        .1
                        .word(load, u64::from(visit)),
                ) < share
            }
        }
    }
}

/// Streams hang on the step's name alone, so that a step on another route, or at another place, has the same luck.
fn step_streams(luck: Luck, step: &str) -> (Stream, Stream) {
    let purpose = |what: &str| Purpose::named(&format!("{what}: {step}"));
    (luck.stream(purpose("time")), luck.stream(purpose("inspection")))
}

fn name_number(name: &str) -> u64 {
    name.bytes().fold(0xcbf2_9ce4_8422_2325, |h: u64, b| {
        (h ^ u64::from(b)).wrapping_mul(0x0100_0000_01b3)
    })
}
