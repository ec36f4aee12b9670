//! The day in signs: tanks and hands against the clock, in plain ASCII.

use super::Results;
use tankday_base::print::{Line, Style, columns_of, count_word, fitted, padded};
use tankday_base::shop::Day;
use tankday_base::units::{Moment, Span};
use tankday_record::{Analysis, LogEntry, TankLog, TankState};

/// Days that are drawn.
const MOST_DAYS: usize = 2;
/// Pairs of hands that are drawn.
const MOST_HANDS: u32 = 4;
/// Minutes that one sign may stand for, the finest first.
const STEPS: [i64; 6] = [5, 10, 15, 30, 60, 120];

/// One sign and how it is set.
type Sign = (char, Style);

/// A clock axis in signs.
struct Axis {
    from: Moment,
    step: Span,
    signs: usize,
    name: usize,
}

impl Axis {
    fn cell(&self, i: usize) -> (Moment, Moment) {
        let at = |i: usize| self.from + Span::micros(self.step.in_micros() * i64::try_from(i).unwrap_or(0));
        (at(i), at(i + 1))
    }

    /// The state that fills most of each sign; `empty` is what no stretch covers.
    fn signs(&self, stretches: &[(Moment, Moment, Sign)], empty: Sign) -> Vec<Sign> {
        let most = |i: usize| {
            let (from, to) = self.cell(i);
            let mut sums = vec![(self.step, empty)];
            for (a, b, sign) in stretches {
                let (a, b) = ((*a).max(from), (*b).min(to));
                if b > a {
                    add(&mut sums, *sign, b - a);
                }
            }
            let covered: Span = sums.iter().skip(1).map(|s| s.0).sum();
            let bare = (self.step - covered, empty);
            sums.into_iter()
                .skip(1)
                .fold(bare, |best, s| if s.0 > best.0 { s } else { best })
                .1
        };
        (0..self.signs).map(most).collect()
    }

    fn index(&self, at: Moment) -> usize {
        let cells = (at - self.from)
            .in_micros()
            .div_euclid(self.step.in_micros().max(1));
        usize::try_from(cells)
            .unwrap_or(0)
            .min(self.signs.saturating_sub(1))
    }
}

fn add(sums: &mut Vec<(Span, Sign)>, sign: Sign, span: Span) {
    match sums.iter_mut().skip(1).find(|s| s.1 == sign) {
        Some(sum) => sum.0 += span,
        None => sums.push((span, sign)),
    }
}

pub(super) fn lines(results: &Results<'_>, columns: usize) -> Vec<Line> {
    let days = &results.shop.calendar.days;
    let Some(finish) = results.figures.end.max(results.figures.finish) else {
        return Vec::new();
    };
    let worked = |until: Moment| {
        let freed = results
            .record
            .entries
            .iter()
            .filter(|e| matches!(e.event, LogEntry::HandsFree { .. }));
        freed
            .map(|e| e.at)
            .filter(|at| *at < until)
            .max()
            .unwrap_or(Moment::ZERO)
    };
    let mut lines = Vec::new();
    let drawn = days.iter().take(MOST_DAYS).filter(|d| d.open <= finish);
    let drawn = drawn.count();
    for (i, day) in days.iter().enumerate().take(drawn) {
        let next = days.get(i + 1).map_or(Moment::NEVER, |d| d.open);
        let Some(axis) = axis(
            results,
            day,
            if next == Moment::NEVER {
                finish
            } else {
                worked(next)
            },
            columns,
        ) else {
            return Vec::new();
        };
        lines.push(heading(results, i, &axis));
        lines.push(hours(&axis));
        lines.extend(tanks(results, &axis));
        lines.extend(hands(results, day, &axis));
    }
    if !lines.is_empty() {
        lines.push(Line::of(
            Style::Dim,
            "  / heating  _ hot, waiting  L1# coating  ~ recovering  x care  . off",
        ));
        lines.push(Line::of(
            Style::Dim,
            "  = hands working  - break  . hands waiting",
        ));
        lines.extend(not_drawn(&days[drawn..], finish));
    }
    lines
}

/// How many days more there are, and on how many of them all is ready and done before they begin.
fn not_drawn(days: &[Day], finish: Moment) -> Option<Line> {
    let idle = days.iter().filter(|d| d.open > finish).count();
    let counted = |n: usize| match n {
        1 => "one more day".to_owned(),
        n => format!("{} more days", count_word(n)),
    };
    let words = match (days.len(), idle) {
        (0, _) => return None,
        (all, 0) => format!("  and {}", counted(all)),
        (all, idle) if all == idle => format!("  and {}, with nothing left to do", counted(all)),
        (all, idle) => format!(
            "  and {}, with nothing left to do on the last{}",
            counted(all),
            match idle {
                1 => String::new(),
                idle => format!(" {}", count_word(idle)),
            }
        ),
    };
    Some(Line::of(Style::Dim, words))
}

/// From opening, or the heater's timer before it, to closing or the end, whichever is later; none for days without end.
fn axis(results: &Results<'_>, day: &Day, end: Moment, columns: usize) -> Option<Axis> {
    let tanks = results.shop.tanks().map(|(_, s, _)| columns_of(&s.name));
    let name = 4 + tanks.max().unwrap_or(5).clamp(7, 20);
    let heated = results
        .figures
        .tanks
        .iter()
        .filter_map(|t| t.heater_on)
        .filter(|at| *at < day.open)
        .min();
    let from = heated
        .filter(|_| results.shop.calendar.days.first() == Some(day))
        .unwrap_or(day.open);
    let to = if day.close == Moment::NEVER {
        end
    } else {
        day.close.max(end)
    };
    if to <= from || to - from > Span::hours(48.0) {
        return None;
    }
    let room = i64::try_from(columns.saturating_sub(name)).ok()?;
    let signs = |minutes: i64| {
        let step = Span::whole_minutes(minutes).in_micros();
        let from = from.in_micros().div_euclid(step);
        (to.in_micros() + step - 1).div_euclid(step) - from
    };
    let minutes = STEPS.into_iter().find(|m| signs(*m) <= room)?;
    let step = Span::whole_minutes(minutes);
    let from = Moment::micros(from.in_micros().div_euclid(step.in_micros()) * step.in_micros());
    Some(Axis {
        from,
        step,
        signs: usize::try_from(signs(minutes)).ok()?,
        name,
    })
}

fn heading(results: &Results<'_>, day: usize, axis: &Axis) -> Line {
    let minutes = axis.step.in_micros() / 60_000_000;
    let which = if results.many().is_some() {
        " nearest the middle;"
    } else {
        ","
    };
    let days = &results.shop.calendar.days;
    let name = match days.get(day).filter(|_| days.len() > 1) {
        Some(d) => results
            .shop
            .calendar
            .date(d.open)
            .strftime("%A %-d %B")
            .to_string()
            .to_uppercase(),
        None => "THE DAY".to_owned(),
    };
    Line::of(Style::Bold, name).and(
        Style::Plain,
        format!("{which} each character is {minutes} minutes"),
    )
}

fn hours(axis: &Axis) -> Line {
    let hour = Span::whole_minutes(60).in_micros();
    let per_hour = (hour / axis.step.in_micros().max(1)).max(1);
    // Two digits and two blanks for each label.
    let every = (4 + per_hour - 1) / per_hour;
    let mut words = vec![' '; axis.signs + 2];
    for i in 0..axis.signs {
        let (from, to) = axis.cell(i);
        let (_, since) = from.day_and_time();
        let starts = since.in_micros() % hour == 0 && to > from;
        let at = since.in_micros() / hour;
        if starts && at % every == 0 {
            for (place, digit) in words.iter_mut().skip(i).zip(format!("{at:02}").chars()) {
                *place = digit;
            }
        }
    }
    let words: String = words.into_iter().collect();
    Line::plain(" ".repeat(axis.name)).and(Style::Dim, words.trim_end())
}

fn lane(axis: &Axis, name: &str, signs: &[Sign]) -> Line {
    let width = axis.name.saturating_sub(4);
    let line = Line::plain(format!("  {}  ", padded(&fitted(name, width), width)));
    signs
        .iter()
        .fold(line, |line, (sign, style)| line.and(*style, sign.to_string()))
}

fn tanks(results: &Results<'_>, axis: &Axis) -> Vec<Line> {
    let read = Analysis::of(results.shop, results.record);
    let tanks = results.shop.tanks();
    tanks
        .map(|(id, station, _)| lane(axis, &station.name, &tank_signs(results, axis, read.tank(id))))
        .collect()
}

fn tank_signs(results: &Results<'_>, axis: &Axis, tank: Option<&TankLog>) -> Vec<Sign> {
    let states = tank.map_or(&[][..], TankLog::states);
    let stretches: Vec<_> = states.iter().map(|s| (s.from, s.to, sign(s.state))).collect();
    let mut signs = axis.signs(&stretches, ('.', Style::Plain));
    let end = axis.cell(axis.signs).0;
    let coated = states.iter().filter_map(|s| match s.state {
        TankState::Coating(load) if s.to > axis.from && s.from < end => Some((s.from, s.to, load)),
        _ => None,
    });
    for (from, to, load) in coated {
        // The signs between the first and the last moment of this load that no other state has won.
        let (first, last) = (axis.index(from), axis.index(to - Span::micros(1)));
        let won: Vec<usize> = (first..=last)
            .filter(|i| signs.get(*i).is_some_and(|s| s.0 == '#'))
            .collect();
        let label: Vec<char> = results.labels.load(load).chars().collect();
        let middle = axis.index(Moment::micros(i64::midpoint(from.in_micros(), to.in_micros())));
        let places = if won.is_empty() { vec![middle] } else { won };
        for (n, place) in places.iter().enumerate() {
            let written = if label.len() <= places.len() {
                label.get(n).copied()
            } else {
                None
            };
            if let Some(sign) = signs.get_mut(*place) {
                *sign = (written.unwrap_or('#'), Style::Coat);
            }
        }
    }
    signs
}

fn sign(state: TankState) -> Sign {
    match state {
        TankState::Off => ('.', Style::Plain),
        TankState::Heating => ('/', Style::Heat),
        TankState::Waiting => ('_', Style::Plain),
        TankState::Coating(_) => ('#', Style::Coat),
        TankState::Recovering => ('~', Style::Heat),
        TankState::Care => ('x', Style::Care),
    }
}

fn hands(results: &Results<'_>, day: &Day, axis: &Axis) -> Vec<Line> {
    let pairs = results.shop.hands;
    let one = |hand: u32| {
        let mut stretches: Vec<_> = day
            .breaks
            .iter()
            .map(|b| (b.from, b.until, ('-', Style::Plain)))
            .collect();
        let mut since = None;
        for entry in &results.record.entries {
            match entry.event {
                LogEntry::HandsTake { hand: h, .. } if h == hand => since = Some(entry.at),
                LogEntry::HandsFree { hand: h } if h == hand => {
                    stretches.extend(since.take().map(|from| (from, entry.at, ('=', Style::Plain))));
                }
                _ => {}
            }
        }
        let name = if pairs == 1 {
            "hands".to_owned()
        } else {
            format!("hands {}", hand + 1)
        };
        lane(axis, &name, &axis.signs(&stretches, ('.', Style::Plain)))
    };
    (0..pairs.min(MOST_HANDS)).map(one).collect()
}
