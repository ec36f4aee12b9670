//! The stages of every chore, in their order.

use tankday_base::shop::Chore;
use tankday_base::units::Temperature;
use tankday_record::TaskKind;

/// One stage of a chore.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Stage {
    /// Cools or warms to a temperature.
    Reach(Temperature),
    /// Stands by itself: settles, filters, dissolves wool.
    Stands,
    /// Takes hands.
    Hands(TaskKind),
}

/// The stages of a chore, in their order.
pub(super) fn stage(chore: &Chore, at: u8) -> Option<Stage> {
    use Stage::{Hands, Reach, Stands};
    let stages: &[Stage] = match *chore {
        Chore::Replenish { .. } => &[Hands(TaskKind::AddConcentrate)],
        Chore::Trim { .. } => &[Hands(TaskKind::TrimRatio)],
        Chore::Condition { at, .. } => &[
            Reach(at),
            Hands(TaskKind::PutWoolIn),
            Stands,
            Hands(TaskKind::TakeWoolOut),
        ],
        Chore::Stop(stop) if stop.into.is_some() => &[Reach(stop.cool_to), Hands(TaskKind::Exchange)],
        Chore::Stop(stop) if stop.filtered => &[
            Reach(stop.cool_to),
            Stands,
            Hands(TaskKind::Decant),
            Hands(TaskKind::SetUpFilter),
            Stands,
            Hands(TaskKind::FillBack),
        ],
        Chore::Stop(stop) => &[
            Reach(stop.cool_to),
            Stands,
            Hands(TaskKind::Decant),
            Hands(TaskKind::FillBack),
        ],
        Chore::Renew { cool_to, .. } => &[Reach(cool_to), Hands(TaskKind::MakeUpAnew)],
    };
    stages.get(usize::from(at)).copied()
}
