//! What hands do in the care of a bath, and how long it takes them.

use super::Baths;
use super::stages::Stage;
use super::vessel::Filtering;
use crate::day::Day;
use crate::ids::TankIx;
use tankday_base::shop::Chore;
use tankday_base::units::{Moment, Quantity, Span, Volume};
use tankday_record::TaskKind;

impl Baths<'_> {
    /// Hands' time for the present stage of a tank's care, if it waits for hands that may do it now.
    fn wants_care(&self, tank: TankIx) -> Option<(TaskKind, Span)> {
        let job = self.tanks[tank].care?;
        let Some(Stage::Hands(kind)) = self.stage_of(tank).filter(|_| !job.under_hands) else {
            return None;
        };
        let filter_taken = kind == TaskKind::SetUpFilter && self.filter_is_taken(Filtering::Tank(tank));
        (!filter_taken).then(|| (kind, self.takes(tank, kind)))
    }

    /// How long wool is in, with the hands that put it in and take it out.
    fn wool_takes(&self, tank: TankIx) -> Span {
        match self.chore(tank, self.rule_of(tank)) {
            Chore::Condition { takes, stays, .. } => takes + stays,
            _ => Span::ZERO,
        }
    }

    fn takes(&self, tank: TankIx, kind: TaskKind) -> Span {
        hands_take(
            &self.chore(tank, self.rule_of(tank)),
            kind,
            self.tanks[tank].heat.volume(),
        )
    }

    /// How long hands take for the present stage, if it waits for hands that may do it now and would be done before closing.
    pub(crate) fn care_in_time(&self, day: &Day<'_>, tank: TankIx) -> Option<Span> {
        let (kind, takes) = self.wants_care(tank)?;
        let in_time = day.now() + takes <= day.closes()
            && (kind != TaskKind::PutWoolIn || self.wool_out_in_time(day, tank, self.wool_takes(tank)));
        in_time.then_some(takes)
    }

    /// Hands turn to the present stage: with what, and until when.
    pub(crate) fn take_care(&mut self, day: &mut Day<'_>, tank: TankIx) -> Option<(TaskKind, Moment)> {
        let (kind, takes) = self.wants_care(tank)?;
        // How hot the bath is that something goes into.
        self.sample(day, tank);
        let until = day.now() + takes;
        if kind == TaskKind::SetUpFilter {
            self.filter = Some(Filtering::Tank(tank));
        }
        if let Some(job) = &mut self.tanks[tank].care {
            job.under_hands = true;
            job.until = until;
        }
        Some((kind, until))
    }
}

/// How long hands take for a stage of a chore at a bath of a volume.
pub(super) fn hands_take(chore: &Chore, kind: TaskKind, volume: Volume) -> Span {
    match (*chore, kind) {
        (Chore::Condition { takes, .. }, _) => takes.times(0.5),
        (Chore::Stop(stop), TaskKind::SetUpFilter) => stop.set_up,
        (Chore::Stop(stop), TaskKind::Decant) => {
            pouring(volume.base() * (1.0 - stop.heel.in_fraction()), stop.pour.base())
        }
        (Chore::Stop(stop), TaskKind::Exchange) => pouring(2.0 * volume.base(), stop.pour.base()),
        (Chore::Stop(stop), _) => pouring(volume.base(), stop.pour.base()),
        (Chore::Replenish { takes, .. } | Chore::Trim { takes, .. } | Chore::Renew { takes, .. }, _) => takes,
    }
}

/// Pouring so many m3 at so many m3/s.
pub(super) fn pouring(volume: f64, flow: f64) -> Span {
    Span::seconds(volume / flow)
}
