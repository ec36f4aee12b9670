//! What one resource can do at best when everything else is left out of account.
//!
//! Several equal places or hands count as one that is so many times as quick and may interrupt its work: whatever they do
//! side by side, it can do as well, and nothing is over later.

use super::hours::{Clock, Hours};
use std::cmp::Reverse;
use std::collections::BinaryHeap;
use tankday_base::units::{Moment, Span};

/// What is to be done at a resource.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Job {
    /// Not before.
    pub(super) head: Moment,
    pub(super) work: Span,
    /// From its end to that of its order it takes at least so long.
    pub(super) tail: Span,
}

fn share(work: Span, lanes: u32) -> i64 {
    work.in_micros().max(0) / i64::from(lanes.max(1))
}

/// The earliest moment by which all jobs and their tails are over: at every moment the one with the longest tail among those
/// that are there (Jackson's schedule, 1955, with interruptions; Carlier, European Journal of Operational Research 11,
/// 1982; both from memory). Time off leaves it the best: it is earliest due date first, which no time off changes.
pub(super) fn longest_tail_first(jobs: &[Job], lanes: u32, clock: &Clock) -> Moment {
    let mut all: Vec<(i64, i64, i64)> = jobs
        .iter()
        .map(|j| {
            let head = clock.passed(j.head).in_micros();
            (head, j.tail.in_micros(), share(j.work, lanes))
        })
        .collect();
    all.sort_unstable();
    let mut there: BinaryHeap<(i64, i64)> = BinaryHeap::new();
    let (mut now, mut next, mut end) = (0, 0, Moment::ZERO);
    loop {
        while let Some(&(_, tail, work)) = all.get(next).filter(|j| j.0 <= now) {
            there.push((tail, work));
            next += 1;
        }
        let coming = all.get(next).map_or(i64::MAX, |j| j.0);
        match there.pop() {
            Some((tail, work)) if work <= coming - now => {
                now += work;
                end = end.max(clock.moment(Span::micros(now)) + Span::micros(tail));
            }
            Some((tail, work)) => {
                there.push((tail, work - (coming - now)));
                now = coming;
            }
            None if coming == i64::MAX => return end,
            None => now = coming,
        }
    }
}

/// The earliest moments by which one, two, three jobs can be over, whichever they are: at every moment the one of which
/// least is left (Schrage, Operations Research 16, 1968; from memory). In order; tails do not count.
pub(super) fn shortest_first(jobs: &[Job], lanes: u32, clock: &Clock) -> Vec<Moment> {
    let mut all: Vec<(i64, i64)> = jobs
        .iter()
        .map(|j| (clock.passed(j.head).in_micros(), share(j.work, lanes)))
        .collect();
    all.sort_unstable();
    let mut there: BinaryHeap<Reverse<i64>> = BinaryHeap::new();
    let (mut now, mut next) = (0, 0);
    let mut ends = Vec::with_capacity(all.len());
    loop {
        while let Some(&(_, work)) = all.get(next).filter(|j| j.0 <= now) {
            there.push(Reverse(work));
            next += 1;
        }
        let coming = all.get(next).map_or(i64::MAX, |j| j.0);
        match there.pop() {
            Some(Reverse(work)) if work <= coming - now => {
                now += work;
                ends.push(clock.moment(Span::micros(now)));
            }
            Some(Reverse(work)) => {
                there.push(Reverse(work - (coming - now)));
                now = coming;
            }
            None if coming == i64::MAX => return ends,
            None => now = coming,
        }
    }
}

/// The earliest ends of so many things that take at least `work` each, side by side in so many places: in the order in
/// which they can come. `by_hand` if none begins while hands are off duty. The k-th begins neither before the k-th head
/// nor before the one `lanes` before it is over.
pub(super) fn in_turn(
    mut heads: Vec<Moment>,
    work: Span,
    lanes: u32,
    by_hand: Option<&Hours>,
) -> Vec<Moment> {
    heads.sort_unstable();
    let mut ends: Vec<Moment> = Vec::with_capacity(heads.len());
    for (k, head) in heads.into_iter().enumerate() {
        let free = k.checked_sub(lanes.max(1) as usize).and_then(|i| ends.get(i));
        let at = free.map_or(head, |f| head.max(*f));
        ends.push(by_hand.map_or(at, |h| h.begin(at)) + work);
    }
    ends
}

/// The fewest late of things that can begin at once, each with its work and the time by which it must be over: in the order
/// of these times, and of those so far the longest is given up when one comes too late (Moore, Management Science 15,
/// 1968; from memory).
pub(super) fn fewest_late(jobs: &[(Span, Moment)], from: Moment, lanes: u32, clock: &Clock) -> u32 {
    let mut all: Vec<(Moment, i64)> = jobs.iter().map(|j| (j.1, share(j.0, lanes))).collect();
    all.sort_unstable();
    let mut kept: BinaryHeap<i64> = BinaryHeap::new();
    let (mut now, mut late) = (clock.passed(from).in_micros(), 0);
    for (due, work) in all {
        kept.push(work);
        now += work;
        if clock.moment(Span::micros(now)) > due
            && let Some(longest) = kept.pop()
        {
            now -= longest;
            late += 1;
        }
    }
    late
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(t: i64) -> Moment {
        Moment::ZERO + Span::whole_minutes(t)
    }

    fn job(&(head, work, tail): &(i64, i64, i64)) -> Job {
        Job {
            head: at(head),
            work: Span::whole_minutes(work),
            tail: Span::whole_minutes(tail),
        }
    }

    #[test]
    fn seven_jobs_of_a_textbook() {
        // Carlier's example of 1982, from memory: its best schedule without interruptions ends at 50, with them at 49 or
        // later: heads 10 and more, 5+6+7+4+3 of work, 7 and more of tails.
        let jobs = [
            (10, 5, 7),
            (13, 6, 26),
            (11, 7, 24),
            (20, 4, 21),
            (30, 3, 8),
            (0, 6, 17),
            (30, 2, 0),
        ]
        .map(|j| job(&j));
        let end = longest_tail_first(&jobs, 1, &Clock::always());
        // By hand: 6 runs 0-6, 3 from 11, 2 from 13 to 19, 3 on to 24, 4 to 28, 1 to 33 with a stop for 5 and 7.
        let by_subset = (1u32..128).map(|set| {
            let of: Vec<&Job> = (0..7).filter(|i| set >> i & 1 == 1).map(|i| &jobs[i]).collect();
            let head = of.iter().map(|j| j.head).min().unwrap_or(Moment::ZERO);
            let tail = of.iter().map(|j| j.tail).min().unwrap_or(Span::ZERO);
            head + of.iter().map(|j| j.work).sum::<Span>() + tail
        });
        // The schedule comes to exactly the largest of least head, work and least tail over all sets.
        assert_eq!(Some(end), by_subset.max());
        assert_eq!(end, at(49));
    }

    #[test]
    fn the_shortest_first_and_the_fewest_late() {
        let jobs = [(0, 10, 0), (2, 3, 0), (4, 1, 0)].map(|j| job(&j));
        assert_eq!(shortest_first(&jobs, 1, &Clock::always()), [5, 6, 14].map(at));
        let due = |work, due| (Span::whole_minutes(work), at(due));
        let jobs = [due(4, 5), due(3, 6), due(2, 8), due(6, 12)];
        assert_eq!(fewest_late(&jobs, at(0), 1, &Clock::always()), 1);
        assert_eq!(fewest_late(&jobs, at(4), 1, &Clock::always()), 2);
    }

    #[test]
    fn in_two_places_the_third_waits_for_the_first() {
        let ends = in_turn([0, 1, 2, 30].map(at).to_vec(), Span::whole_minutes(10), 2, None);
        assert_eq!(ends, [10, 11, 20, 40].map(at));
    }

    fn in_every_order(all: &mut Vec<Job>, from: usize, told: &mut impl FnMut(&[Job])) {
        if from == all.len() {
            return told(all);
        }
        for i in from..all.len() {
            all.swap(from, i);
            in_every_order(all, from + 1, told);
            all.swap(from, i);
        }
    }

    /// When each is over if they are begun in this order, each in the lane that is free first.
    fn one_after_another(jobs: &[Job], lanes: usize) -> Vec<Moment> {
        let mut free = vec![Moment::ZERO; lanes];
        let begin = |job: &Job| {
            free.sort_unstable();
            free[0] = free[0].max(job.head) + job.work;
            free[0]
        };
        jobs.iter().map(begin).collect()
    }

    #[test]
    fn no_sequence_of_up_to_five_jobs_is_better() {
        let mut state = 7u32;
        let mut pick = |below: u32| {
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            i64::from((state >> 16) % below)
        };
        let mut met = [0; 3];
        for round in 0..300 {
            let lanes = 1 + round % 2;
            let n = 1 + pick(5);
            let mut jobs: Vec<Job> = (0..n).map(|_| job(&(pick(30), 2 + pick(9), pick(30)))).collect();
            let clock = Clock::always();
            let end = longest_tail_first(&jobs, lanes, &clock);
            let row = shortest_first(&jobs, lanes, &clock);
            let due = |j: &Job| at(60) - j.tail;
            let from = jobs.iter().map(|j| j.head).min().unwrap();
            let dues: Vec<(Span, Moment)> = jobs.iter().map(|j| (j.work, due(j))).collect();
            let late = fewest_late(&dues, from, lanes, &clock);
            let (mut best, mut fewest) = (Moment::NEVER, u32::MAX);
            let mut first = vec![Moment::NEVER; jobs.len()];
            in_every_order(&mut jobs, 0, &mut |jobs| {
                let mut ends = one_after_another(jobs, lanes as usize);
                let with_tails = jobs.iter().zip(&ends).map(|(j, e)| *e + j.tail);
                best = best.min(with_tails.max().unwrap());
                let too_late = jobs.iter().zip(&ends).filter(|(j, e)| **e > due(j)).count();
                fewest = fewest.min(too_late as u32);
                ends.sort_unstable();
                first.iter_mut().zip(ends).for_each(|(f, e)| *f = (*f).min(e));
            });
            assert!(end <= best && late <= fewest && row.iter().zip(&first).all(|(r, f)| r <= f));
            met[0] += u32::from(end == best);
            met[1] += u32::from(late == fewest);
            met[2] += u32::from(row == first);
        }
        assert!(met.iter().all(|m| *m > 100), "{met:?}");
    }
}
