//! A bath that has fallen below its mark while all hands are busy waits for them; it must not keep the clock from moving.

use crate::made_shop::{clock, order, shop};
use tankday::line::Line;
use tankday::record::{Event, Watcher};
use tankday::units::Moment;

/// Counts top-ups, and gives up on a run that says more than any run of this shop has to say.
#[derive(Default)]
struct Water {
    events: u32,
    top_ups: u32,
}

impl Watcher for Water {
    fn note(&mut self, _at: Moment, event: Event) {
        self.events += 1;
        assert!(self.events < 20_000, "the run does not get on");
        self.top_ups += u32::from(matches!(event, Event::ToppedUp { .. }));
    }
}

#[test]
fn a_low_bath_waits_for_busy_hands() {
    let shop = shop(1, 1, (1..8).map(|n| order(&format!("A{n}"))).collect());
    let mut water = Water::default();
    let outcome = Line::new(&shop).run(None, &mut water);
    assert!(water.top_ups > 0 && !outcome.endless);
    assert!(outcome.stopped < clock(1, 12, 0));
}
