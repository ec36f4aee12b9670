//! When to serve a bath: care is brought forward to the end of an earlier load, where it stands less in the way. It is never
//! put off: what its rule says is when it must be done at the latest.

use super::model::{Evaluated, SearchContext, Solution};
use rand::RngExt;
use rand::rngs::ChaCha8Rng;
use tankday_base::shop::StationId;
use tankday_base::units::Moment;
use tankday_record::CareKind;

impl SearchContext<'_> {
    /// Brings some care forward, or leaves it to its rule again.
    pub(super) fn serve_earlier(&self, g: &mut Solution, tried: &Evaluated, rng: &mut ChaCha8Rng) {
        if !g.calls.is_empty() && rng.random_range(0..3) == 0 {
            g.calls.swap_remove(rng.random_range(0..g.calls.len()));
            return;
        }
        if tried.care.is_empty() {
            return;
        }
        let nth = rng.random_range(0..tried.care.len());
        let (tank, kind, at) = tried.care[nth];
        // Of a day that is under way nothing changes before now.
        let since = care_before(&tried.care[..nth], tank, kind).max(self.now);
        let loads = self.lifted(g, tried, tank, since, at);
        if loads.is_empty() {
            return;
        }
        let after = loads[rng.random_range(0..loads.len())];
        // Of the calls for this care between the one before and now only the new one stays.
        g.calls
            .retain(|(t, k, lot)| *t != tank || *k != kind || !loads.contains(&g.head[*lot as usize]));
        g.calls.push((tank, kind, after));
        g.calls.sort_unstable();
    }

    /// Heads of the loads that were lifted from a tank between two moments.
    fn lifted(
        &self,
        g: &Solution,
        tried: &Evaluated,
        tank: StationId,
        since: Moment,
        until: Moment,
    ) -> Vec<u32> {
        let heads = (0..self.lots() as u32).filter(|&l| g.head[l as usize] == l);
        heads
            .filter(|&l| g.tank[l as usize] == tank.0)
            .filter(|&l| {
                let step = self.blank.lots[l as usize].bath_step;
                let lift = step.map(|s| tried.begun[self.blank.task(l, s) as usize + 1]);
                lift.is_some_and(|at| at >= since && at < until)
            })
            .collect()
    }
}

/// When this care of this tank was last done before.
fn care_before(care: &[(StationId, CareKind, Moment)], tank: StationId, kind: CareKind) -> Moment {
    let same = |c: &&(StationId, CareKind, Moment)| c.0 == tank && c.1 == kind;
    care.iter().rfind(same).map_or(Moment::ZERO, |c| c.2)
}
