//! What is settled in a plan before anything is decided: a day that is under way.

use super::model::{SearchContext, Solution};
use tankday_base::units::Moment;
use tankday_line::Plan;

impl SearchContext<'_> {
    /// Whether a lot goes on only as part of a load that went in as noted.
    pub(super) fn follows(&self, lot: u32) -> bool {
        self.fixed[lot as usize] && self.blank.head[lot as usize] != lot
    }

    /// Puts lots into the loads of a decision; what went in as noted stays as it is.
    pub(super) fn group(&self, g: &Solution, plan: &mut Plan) {
        if !self.fixed.contains(&true) {
            return plan.group(&g.head, &g.tank);
        }
        let pick = |own: &[u32], settled: &[u32]| -> Vec<u32> {
            let all = own.iter().zip(settled).zip(&self.fixed);
            all.map(|((o, s), fixed)| if *fixed { *s } else { *o }).collect()
        };
        plan.group(&pick(&g.head, &self.blank.head), &pick(&g.tank, &self.blank.tank));
    }
}

/// Whether the load of a lot went into its bath as noted, or has passed it.
pub(super) fn went_in(plan: &Plan, lot: &tankday_line::PlanLot, i: u32) -> bool {
    let head = plan.head[i as usize];
    lot.bath_step
        .is_some_and(|step| !lot.passes(step) || plan.pinned[plan.task(head, step) as usize])
}

/// Before this nothing begins that has not begun.
pub(super) fn now(plan: &Plan) -> Moment {
    let open = plan.hold.iter().zip(&plan.pinned).filter(|(_, pinned)| !**pinned);
    open.map(|(hold, _)| *hold).min().unwrap_or(Moment::ZERO)
}
