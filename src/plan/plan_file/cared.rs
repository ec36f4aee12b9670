//! Care of baths that was done, as noted.

use super::Reader;
use super::noted::{Noted, outside};
use tankday_base::shop::StationId;
use tankday_base::units::Moment;
use tankday_record::CareKind;
use tankday_scenario::{Code, Finding, NotedCare};

impl Noted<'_> {
    /// All care that was done, in the order of its times.
    pub(super) fn cared(&self, reader: &mut Reader<'_>) -> Vec<(StationId, CareKind, Moment)> {
        let all = self.notes.care.iter();
        let mut cared: Vec<_> = all.filter_map(|note| self.one_cared(reader, note)).collect();
        cared.sort_by_key(|(.., done)| *done);
        cared
    }

    fn one_cared(&self, reader: &mut Reader<'_>, note: &NotedCare) -> Option<(StationId, CareKind, Moment)> {
        let kind = reader.care_kind(&note.what);
        let tank = reader.tank(&note.tank);
        let (kind, tank) = (kind?, tank?);
        reader.has_care(&note.what, &note.tank, kind, tank)?;
        let done = note.done;
        if let Some(why) = outside(reader.shop, done.value) {
            reader.add(Finding::new(Code::Time, done.at, why).label("nothing is done then"));
            return None;
        }
        let mut loads = self.notes.loads.iter();
        let inside = loads.find(|l| {
            let out = l.out.map_or(Moment::NEVER, |t| t.value);
            l.tank.value == note.tank.value && l.into.value < done.value && done.value < out
        });
        if let Some(load) = inside {
            let message = format!("{} was in the {} then", load.id.value, load.tank.value);
            reader.add(
                Finding::new(Code::Contradiction, done.at, message)
                    .label(done.value.clock())
                    .and(load.into.at, "in")
                    .help("a bath is served when no load is in it: correct the time"),
            );
            return None;
        }
        Some((tank, kind, done.value))
    }
}
