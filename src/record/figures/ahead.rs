//! What is still to be watched in the middle of a day: nothing that lies behind.

use super::{Caution, Figures, Warning, WarningKind};
use tankday_base::units::{Moment, Span};

impl Figures {
    /// The same figures without warnings of what was over before a moment.
    #[must_use]
    pub fn from_now_on(mut self, now: Moment) -> Self {
        let mut warnings = std::mem::take(&mut self.warnings);
        for warning in &mut warnings {
            let kind = warning.kind;
            warning.at.retain(|caution| self.lies_ahead(kind, caution, now));
        }
        warnings.retain(|w: &Warning| !w.at.is_empty() || !w.orders.is_empty());
        self.warnings = warnings;
        self
    }

    /// Whether what a caution is about goes on, or is still to come: a bath that stopped stays so, and a load that is in a
    /// bath is still to come out of it.
    fn lies_ahead(&self, kind: WarningKind, caution: &Caution, now: Moment) -> bool {
        let lasts = matches!(kind, WarningKind::BathStopped | WarningKind::WeakHeater);
        let inside = self.loads.iter().filter(|l| Some(l.load) == caution.load);
        let comes_out = inside
            .filter_map(|l| (l.set_in <= now).then_some(l.out))
            .any(|out| out.is_none_or(|out| out > now));
        lasts || comes_out || ends(kind, caution) >= now
    }
}

/// When what a caution is about is over.
fn ends(kind: WarningKind, caution: &Caution) -> Moment {
    match kind {
        // These say by how much a limit was passed up to then, not for how long from then on.
        WarningKind::WaitedTooLong | WarningKind::StayedTooLong | WarningKind::InAtBreak => caution.at,
        _ if caution.by >= Span::FOREVER => Moment::NEVER,
        _ => caution.at + caution.by.max(Span::ZERO),
    }
}
