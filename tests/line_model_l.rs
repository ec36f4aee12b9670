//! Model L, a whole line without heat: Poisson arrivals, preparation, a batch tank, rinse and oil, one operator for every
//! transfer.
//!
//! Sources: R1 and R3 are means of 30 runs of a million items on which six independent engines agree within their
//! noise (5.7512 ± 0.0009 min before the tank, 62.2033 ± 0.0054 min in the line); R3 follows from the rates alone.
//! Here 30 runs of 100,000 items; the start from empty weighs ten times as much and is still below the tolerance of 1 %.

use crate::line_shops::model_l;
use rayon::prelude::*;
use tankday::line::Line;
use tankday::luck::Luck;
use tankday::record::{Event, Watcher};
use tankday::units::Moment;

const TANK: u32 = 1;

/// Sums the waits before the tank and the times in the line.
#[derive(Default)]
struct Waits {
    asked: Vec<Moment>,
    came: Vec<Moment>,
    tank: f64,
    line: f64,
    tasks: f64,
    begun: Moment,
    items: f64,
}

impl Watcher for Waits {
    const SAMPLES: bool = false;
    fn note(&mut self, at: Moment, event: Event) {
        match event {
            Event::LoadMade { .. } => {
                self.came.push(at);
                self.asked.push(at);
            }
            Event::Waits { load, .. } => self.asked[load.0 as usize] = at,
            Event::SetIn { load, step, .. } if step.step.0 == TANK => {
                self.tank += (at - self.asked[load.0 as usize]).in_minutes();
            }
            Event::LoadReady { load } => {
                self.line += (at - self.came[load.0 as usize]).in_minutes();
                self.items += 1.0;
            }
            Event::HandsTake { .. } => self.begun = at,
            Event::HandsFree { .. } => self.tasks += (at - self.begun).in_minutes(),
            _ => {}
        }
    }
}

#[test]
fn waits_are_those_of_six_other_engines() {
    let shop = model_l(100_000);
    let line = Line::new(&shop);
    let runs: Vec<[f64; 3]> = (0..30)
        .into_par_iter()
        .map(|r| {
            let mut waits = Waits::default();
            let outcome = line.run(Some(Luck::new(1, r)), &mut waits);
            assert_eq!(waits.items, 100_000.0);
            [
                waits.tank / waits.items,
                waits.line / waits.items,
                waits.tasks / outcome.finish.in_minutes(),
            ]
        })
        .collect();
    let mean = |i: usize| runs.iter().map(|r| r[i]).sum::<f64>() / 30.0;
    let near = |found: f64, known: f64| assert!((found / known - 1.0).abs() < 0.01, "{found}, not {known}");
    near(mean(0), 5.7512);
    near(mean(1), 62.2033);
    // R3: four transfers of half a minute for an item every 4.5 min.
    near(mean(2), 0.444_444);
}
