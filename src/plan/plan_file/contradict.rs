//! Notes that contradict the clock or each other.

use super::Reader;
use super::loads::Grouped;
use super::noted::Noted;
use super::passed::Passed;
use tankday_base::shop::Arrival;
use tankday_base::units::Moment;
use tankday_line::Plan;
use tankday_scenario::{Code, Finding, SourceSpan, Spanned};

impl Noted<'_> {
    /// Nothing is noted that has not happened yet, and nothing ends before it begins.
    pub(super) fn not_in_the_future(&self, reader: &mut Reader<'_>) {
        let loads = self.notes.loads.iter().flat_map(|l| [Some(l.into), l.out]);
        let steps = self.notes.done.iter().flat_map(|s| [s.begun, s.done]);
        let readings = self.notes.readings.iter().map(|r| Some(r.time));
        let care = self.notes.care.iter().map(|c| Some(c.done));
        for time in loads
            .chain(steps)
            .chain(readings)
            .chain(care)
            .flatten()
            .filter(|t| t.value > self.at)
        {
            reader.add(
                Finding::new(Code::Time, time.at, "this has not happened yet")
                    .label(format!("after {}", self.at.clock()))
                    .help("note what has happened; what is to come is planned, or give a later `--at`"),
            );
        }
        let loads = self.notes.loads.iter().map(|l| (Some(l.into), l.out));
        let steps = self.notes.done.iter().map(|s| (s.begun, s.done));
        for (from, to) in loads.chain(steps) {
            if let (Some(from), Some(to)) = (from, to)
                && to.value < from.value
            {
                reader.add(
                    Finding::new(Code::Time, to.at, "this ends before it begins")
                        .label(to.value.clock())
                        .and(from.at, from.value.clock()),
                );
            }
        }
    }

    /// No more loads in a tank at a time than it has places.
    pub(super) fn one_at_a_time(&self, reader: &mut Reader<'_>, grouped: &Grouped<'_>) {
        for (i, load) in self.notes.loads.iter().enumerate() {
            let tank = self.tank_of(reader, grouped, &load.id.value);
            let places = tank.map_or(1, |t| reader.shop.stations[t as usize].places) as usize;
            let inside = self.notes.loads[..i].iter().filter(|o| {
                let out = o.out.map_or(Moment::NEVER, |t| t.value);
                let own = load.out.map_or(Moment::NEVER, |t| t.value);
                o.tank.value == load.tank.value && o.into.value < own && load.into.value < out
            });
            let inside: Vec<_> = inside.collect();
            if inside.len() >= places
                && let Some(other) = inside.first()
            {
                let until = other.out.map_or("and is still in it".to_owned(), |t| {
                    format!("until {}", t.value.clock())
                });
                reader.add(
                    Finding::new(
                        Code::Contradiction,
                        load.into.at,
                        format!(
                            "{} cannot have gone in then: {} was in the {}",
                            load.id.value, other.id.value, load.tank.value
                        ),
                    )
                    .label(load.into.value.clock())
                    .and(other.out.map_or(other.into.at, |t| t.at), until),
                );
            }
        }
    }

    fn tank_of(&self, reader: &Reader<'_>, grouped: &Grouped<'_>, load: &str) -> Option<u32> {
        let first = grouped.members.get(load)?.first()?;
        let tank = grouped.tank[*first as usize];
        (tank as usize).lt(&reader.shop.stations.len()).then_some(tank)
    }

    pub(super) fn not_before_it_came(
        &self,
        reader: &mut Reader<'_>,
        lot: &tankday_line::PlanLot,
        time: Spanned<Moment>,
    ) {
        let order = &reader.shop.orders[lot.order as usize];
        if let Arrival::At(arrives) = order.arrival
            && time.value < arrives
        {
            let message = format!("{} comes at {}", order.id, arrives.clock());
            reader.add(
                Finding::new(Code::Contradiction, time.at, message)
                    .label("before it came")
                    .help("correct the time; or note under `late` when the order came"),
            );
        }
    }

    /// What comes behind the bath comes after the load is out of it.
    pub(super) fn out_of_the_bath(
        &self,
        reader: &mut Reader<'_>,
        bathed: Option<&tankday_scenario::NotedLoad>,
        p: &Passed,
        place: SourceSpan,
    ) {
        // Everything done, with no word of the bath, is taken as it is.
        let Some(load) = bathed else { return };
        let finding = match load.out {
            None => Finding::new(
                Code::Contradiction,
                place,
                format!("{} is still in the {}", load.id.value, load.tank.value),
            )
            .help("note when it came out: `out: 08:30`"),
            Some(out) if p.begun.or(p.done).is_some_and(|t| t.value < out.value) => Finding::new(
                Code::Contradiction,
                place,
                format!("{} came out of the {} only later", load.id.value, load.tank.value),
            )
            .and(out.at, "out"),
            Some(_) => return,
        };
        reader.add(finding);
    }

    /// A step is not done before one that must be done first.
    pub(super) fn in_order(&self, reader: &mut Reader<'_>, plan: &Plan, lot: u32, steps: &[Passed]) {
        for a in steps {
            for b in steps {
                let first = plan.comes_before(reader.line, lot, a.step, b.step);
                let end = a.done.or(a.begun);
                let start = b.begun.or(b.done);
                let (Some(end), Some(start)) = (end, start) else {
                    continue;
                };
                let going_on = a.done.is_none();
                if !first || (start.value >= end.value && !going_on) {
                    continue;
                }
                let route = &reader.shop.routes[plan.lots[lot as usize].route as usize];
                let name = |s: u32| route.steps[s as usize].name.clone();
                let message = format!("`{}` cannot be done before `{}` is", name(b.step), name(a.step));
                reader.add(
                    Finding::new(Code::Contradiction, start.at, message)
                        .label(start.value.clock())
                        .and(
                            end.at,
                            if going_on {
                                "still going on".to_owned()
                            } else {
                                end.value.clock()
                            },
                        ),
                );
            }
        }
    }
}
