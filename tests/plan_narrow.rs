//! Lines of tubs with narrow stays and one pair of hands: no plan beats the best of all sequences, and the planner's is
//! within 1 % of it. The best is found here by itself: every sequence of moves, each at its earliest times.

use crate::kept_cases::the_same;
use proptest::prelude::*;
use std::sync::atomic::AtomicBool;
use tankday::line::Line;
use tankday::plan::{Effort, plan};
use tankday::record::Record;
use tankday::scenario::read;
use tankday::units::Moment;

/// Seconds: carrying out of the rack and of each tub, the least and the longest stay in each tub.
#[derive(Debug, Clone)]
struct Tubs {
    carry: Vec<i64>,
    stay: Vec<(i64, i64)>,
    /// Without a load, for each tub on the way.
    step: i64,
    loads: usize,
}

impl Tubs {
    /// From a place to another; the rack is 0.
    fn walk(&self, from: usize, to: usize) -> i64 {
        self.step * (from as i64 - to as i64).abs()
    }

    fn scenario(&self) -> String {
        let places = self.stay.len() + 1;
        let name = |n: usize| {
            if n == 0 {
                "rack".to_owned()
            } else {
                format!("tub {n}")
            }
        };
        let pairs = (0..places)
            .flat_map(|a| (0..places).map(move |b| (a, b)))
            .filter(|(a, b)| a < b);
        let walks: Vec<String> = pairs
            .map(|(a, b)| {
                format!(
                    "{{from: {}, to: {}, takes: {} s}}",
                    name(a),
                    name(b),
                    self.walk(a, b)
                )
            })
            .collect();
        let mut stations = vec!["{name: rack, loads: 20}".to_owned()];
        let mut steps = format!(
            "    - {{do: wait, at: rack, for: 1 s, hands: ends, put in: 0 s, take out: {} s}}\n",
            self.carry[0]
        );
        for (n, (least, most)) in (1..).zip(&self.stay) {
            stations.push(format!("{{name: {}, loads: 1}}", name(n)));
            steps += &format!(
                "    - {{do: dip {n}, at: {}, for: {least} s, at most: {most} s, within: 0 s, hands: ends, put in: 0 s, take out: {} s}}\n",
                name(n),
                self.carry[n]
            );
        }
        let mut text = format!(
            "tankday: 1\ntitle: Tubs\nshop: {{hands: 1, walks: [{}]}}\n\
             days: [{{date: 2026-03-05, open: 07:00, close: 23:00}}]\n\
             stations: [{}]\nparts: {{bar: {{material: plain steel, mass: 1 kg, area: 1 dm2}}}}\nroutes:\n  way:\n{steps}    \
             - {{do: rest, at: rack, for: 1 s, within: 0 s, hands: none}}\norders:\n",
            walks.join(", "),
            stations.join(", ")
        );
        for n in 0..self.loads {
            text += &format!("  - {{id: A{n}, part: bar, count: 1, route: way}}\n");
        }
        text
    }

    /// Tries every next move of every load.
    fn search(&self, moves: &mut Vec<(usize, usize)>, next: &mut [usize], best: &mut i64) {
        if next.iter().all(|n| *n > self.stay.len()) {
            *best = (*best).min(self.end(moves).unwrap_or(i64::MAX));
            return;
        }
        for load in 0..next.len() {
            let from = next[load];
            let into = from + 1;
            let taken = into <= self.stay.len() && (0..next.len()).any(|o| o != load && next[o] == into);
            // Loads are alike: they leave the rack in their order.
            let early = from == 0 && load > 0 && next[load - 1] == 0;
            if from > self.stay.len() || taken || early {
                continue;
            }
            next[load] = into;
            moves.push((load, from));
            self.search(moves, next, best);
            moves.pop();
            next[load] = from;
        }
    }

    /// When the last load rests, if there are times that keep all limits.
    fn end(&self, moves: &[(usize, usize)]) -> Option<i64> {
        let mut at = vec![1; moves.len()];
        let before = |i: usize| {
            moves[..i]
                .iter()
                .position(|m| m.0 == moves[i].0 && m.1 + 1 == moves[i].1)
        };
        for _ in 0..=moves.len() {
            let was = at.clone();
            for (i, &(_, from)) in moves.iter().enumerate() {
                if i > 0 {
                    let last = moves[i - 1].1;
                    let place = (last + 1) % (self.stay.len() + 1);
                    at[i] = at[i].max(at[i - 1] + self.carry[last] + self.walk(place, from));
                }
                if let Some(b) = before(i) {
                    let (least, most) = self.stay[from - 1];
                    let set_in = at[b] + self.carry[from - 1];
                    at[i] = at[i].max(set_in + least);
                    at[b] = at[b].max(at[i] - most - self.carry[from - 1]);
                }
            }
            if was == at {
                let ends = moves.iter().zip(&at).map(|(m, t)| t + self.carry[m.1] + 1);
                return ends.max();
            }
        }
        None
    }
}

fn tubs() -> impl Strategy<Value = Tubs> {
    let stays = prop::collection::vec((20i64..150, 0i64..40), 3..5);
    (stays, prop::collection::vec(5i64..40, 5), 1i64..8, 2usize..4).prop_map(|(stays, carry, step, loads)| {
        Tubs {
            carry,
            stay: stays
                .into_iter()
                .map(|(least, more)| (least, least + more))
                .collect(),
            step,
            loads,
        }
    })
}

proptest! {
    #![proptest_config(the_same(12, 5))]

    #[test]
    fn narrow_stays_are_planned_as_well_as_can_be(tubs in tubs()) {
        let mut best = i64::MAX;
        tubs.search(&mut Vec::new(), &mut vec![0; tubs.loads], &mut best);
        let shop = read("tubs", &tubs.scenario()).unwrap_or_else(|f| panic!("{}", f.render(false))).shop;
        let found = plan(&shop, 1, Effort::Days(10_000), &AtomicBool::new(false), &|_| ()).unwrap();
        prop_assert_eq!((found.judged.breaches, found.judged.unready), (0, 0));
        let took = (found.judged.finish - (Moment::ZERO + tankday::units::Span::hours(7.0))).in_micros() / 1_000_000;
        prop_assert!(took >= best, "{took} s beats {best} s");
        prop_assert!(took * 100 <= best * 101, "{took} s where {best} s can be had");
        let mut record = Record::default();
        Line::new(&shop).follow(&found.plan, None, &mut record);
        let faults = tankday::audit::check(&shop, &record);
        prop_assert!(faults.is_empty(), "{:?}", faults);
    }
}
