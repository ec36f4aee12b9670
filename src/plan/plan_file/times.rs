//! The times of tasks: in the order of their lines, and within the hours.

use super::Reader;
use super::tasks::Known;
use tankday_base::units::{Moment, Span};
use tankday_line::Plan;
use tankday_scenario::{Code, Finding};

impl Reader<'_> {
    /// Lines stand in the order of their times: those that must be moved for it are told.
    pub(super) fn in_time_order(&mut self, known: &[Known]) {
        let timed: Vec<(usize, Moment)> = known
            .iter()
            .enumerate()
            .filter_map(|(i, k)| Some((i, k.time?.value)))
            .collect();
        let times: Vec<Moment> = timed.iter().map(|t| t.1).collect();
        let stays = longest_rising(&times);
        for (n, &(i, at)) in timed.iter().enumerate() {
            if stays[n] {
                continue;
            }
            let above = timed[..n].iter().enumerate().rev();
            let higher = above
                .filter(|(m, _)| stays[*m])
                .map(|(_, t)| *t)
                .find(|t| t.1 > at);
            let below = timed[n + 1..]
                .iter()
                .zip(&stays[n + 1..])
                .find(|(t, s)| **s && t.1 < at);
            let (other, message) = match (higher, below) {
                (Some(t), _) => (t.0, "this is to begin before what stands above it"),
                (None, Some((t, _))) => (t.0, "this is to begin after what stands below it"),
                _ => continue,
            };
            let Some(time) = known[i].time else { continue };
            let mut finding = Finding::new(Code::Time, time.at, message)
                .label(at.clock())
                .help("put the lines in the order of their times, or change the time");
            if let Some(other) = known[other].time {
                finding = finding.and(other.at, other.value.clock());
            }
            self.add(finding);
        }
    }

    /// Hands begin nothing outside opening hours, and only what cannot wait in a break.
    pub(super) fn in_hours(&mut self, known: &[Known], plan: &Plan) {
        for k in known.iter().filter(|k| !k.out && plan.by_hand(k.task)) {
            let Some(time) = k.time else { continue };
            let lot = &plan.lots[k.lot as usize];
            let step = &self.shop.routes[lot.route as usize].steps[k.step as usize];
            let pressing = step.at_once || step.within.is_some_and(|w| w <= Span::whole_minutes(10));
            let days = &self.shop.calendar.days;
            let day = days.iter().find(|d| d.open <= time.value && time.value < d.close);
            let pause = day.and_then(|d| d.breaks.iter().find(|b| b.holds(time.value)));
            let (label, help) = match (day, pause) {
                (None, _) if pressing => continue,
                (None, _) => {
                    let open: Vec<String> = days
                        .iter()
                        .take(3)
                        .map(|d| format!("{} to {}", d.open.clock(), d.close.clock()))
                        .collect();
                    (
                        "the shop is closed",
                        format!("it is open from {}", open.join(", then from ")),
                    )
                }
                (Some(_), Some(b)) if !pressing => (
                    "in the break",
                    format!("the break is from {} to {}", b.from.clock(), b.until.clock()),
                ),
                _ => continue,
            };
            let words = self.words(k, plan);
            self.add(
                Finding::new(Code::Time, time.at, format!("{words} cannot begin then"))
                    .label(label)
                    .help(help),
            );
        }
    }
}

/// Of some times those that may stay where they are, if as few as possible are moved so that they rise.
pub(super) fn longest_rising(times: &[Moment]) -> Vec<bool> {
    // For each length the index where the least last time of a rising row of that length stands.
    let mut ends: Vec<usize> = Vec::new();
    let mut before: Vec<Option<usize>> = Vec::with_capacity(times.len());
    for (i, time) in times.iter().enumerate() {
        let at = ends.partition_point(|&e| times[e] <= *time);
        before.push(at.checked_sub(1).map(|a| ends[a]));
        if at == ends.len() {
            ends.push(i);
        } else {
            ends[at] = i;
        }
    }
    let mut stays = vec![false; times.len()];
    let mut at = ends.last().copied();
    while let Some(i) = at {
        stays[i] = true;
        at = before[i];
    }
    stays
}

#[cfg(test)]
mod tests {
    use super::longest_rising;
    use tankday_base::units::Moment;

    #[test]
    fn only_what_stands_wrong_is_told() {
        let times = |all: &[i64]| all.iter().map(|t| Moment::micros(*t)).collect::<Vec<_>>();
        assert_eq!(longest_rising(&times(&[1, 9, 2, 3])), [true, false, true, true]);
        assert_eq!(longest_rising(&times(&[1, 2, 2, 1])), [true, true, true, false]);
        assert!(longest_rising(&[]).is_empty());
    }
}
