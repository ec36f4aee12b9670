//! What hands do, row by row.

use super::caution::StepCaution;
use super::rows::Maker;
use super::tasks::{Deed, is_tank, step};
use super::{Row, RowKind};
use crate::print::{capital, list, litres, minutes, number, pieces_of};
use crate::record::{Breach, LoadNo, TaskKind};
use crate::shop::StepRef;
use crate::units::Span;

impl Maker<'_> {
    pub(super) fn deed(&self, deed: &Deed) -> Row {
        match (deed.load(), deed.tasks.first()) {
            (Some(load), Some(first)) => match first.kind {
                TaskKind::PutIn if is_tank(self.shop, first) => self.charge(deed, load),
                TaskKind::PutIn => self.put_in(deed, load),
                TaskKind::TakeOut if is_tank(self.shop, first) => self.out_of_tank(deed, load),
                _ => self.work(deed, load),
            },
            (None, Some(first)) if first.kind == TaskKind::Renew => self.renew(deed),
            (None, Some(first)) if first.kind != TaskKind::TopUp => self.care(deed, first),
            _ => self.top_up(deed),
        }
    }

    /// A row with what every deed has.
    fn row(&self, deed: &Deed, load: LoadNo, words: String) -> Row {
        let parts = self.parts(load, deed.from);
        Row {
            at: deed.from,
            kind: RowKind::Deed,
            deed: words,
            load: self.labels.at(load, deed.from).to_owned(),
            part: parts,
            pieces: self.cargo.pieces_at(load, deed.from),
            station: deed
                .tasks
                .last()
                .map_or(String::new(), |t| self.station(t.station)),
            takes: Some(deed.takes),
            latest: None,
            cautions: Vec::new(),
            at_bath: false,
            to_note: self.to_note(deed),
        }
    }

    fn charge(&self, deed: &Deed, load: LoadNo) -> Row {
        let tank = deed
            .tasks
            .first()
            .map_or(String::new(), |t| self.station(t.station));
        let kinds = self.cargo.parts(self.shop, load);
        let counts: Vec<String> = kinds
            .iter()
            .map(|(_, part, n)| pieces_of(*n, &part.name))
            .collect();
        let words = format!(
            "{} into the {tank}, {}, {} dm², {} kg",
            self.labels.at(load, deed.from),
            list(&counts),
            number(self.cargo.area(self.shop, load).in_square_decimetres(), 1),
            number(self.cargo.mass(self.shop, load).in_kilograms(), 1),
        );
        let known = self.before.get(&load).into_iter().flatten().copied();
        let mut cautions: Vec<StepCaution> = std::iter::once(StepCaution::Foam).chain(known).collect();
        StepCaution::in_order(&mut cautions);
        Row {
            at_bath: true,
            cautions,
            station: tank,
            ..self.row(deed, load, words)
        }
    }

    fn out_of_tank(&self, deed: &Deed, load: LoadNo) -> Row {
        let mut words = format!("{} out", self.labels.at(load, deed.from));
        let steps: Vec<StepRef> = deed.steps().skip(1).collect();
        for name in self.step_names(&steps) {
            words.push_str(", ");
            words.push_str(&name);
        }
        let visit = deed.steps().next().and_then(|s| self.visit(load, s, deed.from));
        let latest = visit.and_then(|v| Some(v.begins? + v.most?));
        if let Some(latest) = latest {
            words.push_str(&format!(", at the latest {}", latest.clock()));
        }
        Row {
            kind: RowKind::Pressing,
            at_bath: true,
            latest,
            cautions: self.cautions(deed, load),
            station: deed
                .tasks
                .first()
                .map_or(String::new(), |t| self.station(t.station)),
            ..self.row(deed, load, words)
        }
    }

    fn put_in(&self, deed: &Deed, load: LoadNo) -> Row {
        let at = deed.tasks.first();
        let name = at
            .and_then(|t| t.load)
            .and_then(|(_, s)| step(self.shop, s))
            .map_or("", |s| s.name.as_str());
        let stays = deed
            .steps()
            .next()
            .and_then(|s| self.visit(load, s, deed.to))
            .map_or(Span::ZERO, |v| v.planned);
        let words = format!(
            "{} {}, {}, {} min at the {}",
            capital(name),
            self.labels.at(load, deed.from),
            self.parts(load, deed.from),
            minutes(stays),
            at.map_or(String::new(), |t| self.station(t.station)),
        );
        Row {
            cautions: self.cautions(deed, load),
            ..self.row(deed, load, words)
        }
    }

    fn work(&self, deed: &Deed, load: LoadNo) -> Row {
        let label = self.labels.at(load, deed.from);
        let only_out = deed.tasks.iter().all(|t| t.kind == TaskKind::TakeOut);
        let words = if only_out {
            format!(
                "Take {label}, {}, from the {}",
                self.parts(load, deed.from),
                self.station_of(deed)
            )
        } else {
            let steps: Vec<StepRef> = deed
                .tasks
                .iter()
                .filter(|t| t.kind != TaskKind::TakeOut)
                .filter_map(|t| Some(t.load?.1))
                .collect();
            let names = self.step_names(&steps);
            format!(
                "{} {label}, {}, {} min{}",
                capital(&names.join(", ")),
                self.parts(load, deed.from),
                minutes(deed.takes),
                if names.len() > 1 { " in all" } else { "" },
            )
        };
        Row {
            cautions: self.cautions(deed, load),
            ..self.row(deed, load, words)
        }
    }

    fn renew(&self, deed: &Deed) -> Row {
        let name = self.station_of(deed);
        let rinse = deed
            .tasks
            .first()
            .and_then(|t| self.shop.stations.get(t.station.index())?.rinse);
        let water = rinse.map_or(String::new(), |r| {
            format!(", {} clean water", litres(r.fill * f64::from(r.tubs)))
        });
        Row {
            cautions: vec![StepCaution::SpentRinse],
            ..self.without_load(deed, name.clone(), format!("Renew the {name}{water}"))
        }
    }

    /// A row of care that no load stands behind.
    fn without_load(&self, deed: &Deed, station: String, words: String) -> Row {
        Row {
            at: deed.from,
            kind: RowKind::Deed,
            deed: words,
            load: String::new(),
            part: String::new(),
            pieces: 0,
            station,
            takes: Some(deed.takes),
            latest: None,
            cautions: Vec::new(),
            at_bath: false,
            to_note: Vec::new(),
        }
    }

    fn top_up(&self, deed: &Deed) -> Row {
        let tank = deed.tasks.first().map(|t| t.station);
        let done = self
            .top_ups
            .iter()
            .find(|(t, at, _)| Some(*t) == tank && *at >= deed.from && *at <= deed.to);
        let water = done.map_or(String::new(), |(.., v)| {
            format!(", {} distilled water", litres(*v))
        });
        let name = tank.map_or(String::new(), |t| self.station(t));
        Row {
            cautions: vec![StepCaution::TopUp],
            at_bath: true,
            ..self.without_load(deed, name.clone(), format!("Top up the {name}{water}"))
        }
    }

    fn cautions(&self, deed: &Deed, load: LoadNo) -> Vec<StepCaution> {
        let done = deed.tasks.iter().filter(|t| t.kind != TaskKind::TakeOut);
        let steps = done.filter_map(|t| step(self.shop, t.load?.1));
        let mut cautions: Vec<StepCaution> = steps.filter_map(|s| StepCaution::of_step(&s.name)).collect();
        let breached = deed.steps().find_map(|s| self.breaches.get(&(load, s)));
        cautions.extend(breached.map(|b| match b {
            Breach::StayedTooLong { .. } => StepCaution::StayedTooLong,
            Breach::InAtBreak { .. } => StepCaution::InAtBreak,
            Breach::WaitedTooLong { .. } => StepCaution::WaitedTooLong,
        }));
        StepCaution::in_order(&mut cautions);
        cautions
    }

    fn station_of(&self, deed: &Deed) -> String {
        deed.tasks
            .first()
            .map_or(String::new(), |t| self.station(t.station))
    }
}
