//! When baths are cared for, as a plan file says it.

use super::loads::{Grouped, NONE};
use super::{Reader, unknown};
use tankday_base::shop::StationId;
use tankday_base::units::Moment;
use tankday_record::CareKind;
use tankday_scenario::{Code, Finding, SourceSpan, Spanned, WrittenCare};

/// Care that is understood.
#[derive(Clone, Copy)]
pub(super) struct Care {
    pub(super) tank: StationId,
    pub(super) kind: CareKind,
    pub(super) time: Moment,
    /// Head of the load after which it is done; none if its rule calls for it.
    pub(super) after: Option<u32>,
    /// Where it stands.
    pub(super) at: SourceSpan,
}

impl<'a> Reader<'a> {
    /// All care that can be.
    pub(super) fn care(&mut self, grouped: &Grouped<'_>) -> Vec<Care> {
        let file = self.file;
        file.care
            .iter()
            .filter_map(|c| self.one_care(c, grouped))
            .collect()
    }

    fn one_care(&mut self, care: &'a WrittenCare, grouped: &Grouped<'_>) -> Option<Care> {
        let (kind, tank) = (self.care_kind(&care.what), self.tank(&care.tank));
        let after = match &care.after {
            Some(name) => Some(self.head_of(name, grouped)?),
            None => None,
        };
        let (kind, tank) = (kind?, tank?);
        self.has_care(&care.what, &care.tank, kind, tank)?;
        if let (Some(head), Some(name)) = (after, &care.after)
            && ![tank.0, NONE].contains(&grouped.tank[head as usize])
        {
            let message = format!("`{}` does not go into `{}`", name.value, care.tank.value);
            self.add(Finding::new(Code::Contradiction, name.at, message).help("name a load of that tank"));
            return None;
        }
        Some(Care {
            tank,
            kind,
            time: care.time.value,
            after,
            at: care.time.at,
        })
    }

    /// Whether a rule says how to do that; if none does, that is told.
    pub(super) fn has_care(
        &mut self,
        what: &Spanned<String>,
        name: &Spanned<String>,
        kind: CareKind,
        tank: StationId,
    ) -> Option<()> {
        if self.line.has_care(tank, kind) {
            return Some(());
        }
        let message = format!("no rule says how to {} `{}`", kind.words(), name.value);
        self.add(
            Finding::new(Code::UnknownName, what.at, message)
                .help("the scenario says how under `rules:` and `care:`; write it there, or leave this out"),
        );
        None
    }

    pub(super) fn care_kind(&mut self, what: &Spanned<String>) -> Option<CareKind> {
        let kind = CareKind::ALL.into_iter().find(|k| k.words() == what.value);
        if kind.is_none() {
            let words: Vec<&str> = CareKind::ALL.iter().map(|k| k.words()).collect();
            self.add(unknown(what.at, "care called", &what.value, &words));
        }
        kind
    }

    /// The head of a load by its name.
    fn head_of(&mut self, name: &Spanned<String>, grouped: &Grouped<'_>) -> Option<u32> {
        let members = grouped.members.get(name.value.as_str());
        if members.is_none() {
            let loads: Vec<&str> = self.file.loads.iter().map(|l| l.id.value.as_str()).collect();
            if !loads.contains(&name.value.as_str()) {
                self.add(unknown(name.at, "load", &name.value, &loads));
            }
        }
        members?.iter().min().copied()
    }
}
