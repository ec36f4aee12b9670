//! Cases that come out exactly: Q1, Q2 and Q27 of the check values.

use super::queue_models::{Station, exponential, minutes};
use tankday::kernel::{Agenda, BreakRule, ENDS, Hours, Interval, LevelTally, STARTS, SpanTally, WaitingLine};
use tankday::luck::{Luck, Spread};
use tankday::units::{Moment, Span};

#[derive(Clone, Copy)]
enum Event {
    Arrival,
    Departure,
}

/// Q1: A. M. Law, Simulation Modeling and Analysis, section 1.4, simulated by hand there: one server, first come first
/// served, until the sixth customer starts service.
#[test]
fn q1_hand_trace() {
    let mut gaps = [0.4, 1.2, 0.5, 1.7, 0.2, 1.6, 0.2, 1.4, 1.9]
        .map(minutes)
        .into_iter();
    let mut services = [2.0, 0.7, 0.2, 1.1, 3.7, 0.6].map(minutes).into_iter();
    let (mut agenda, mut line) = (Agenda::new(), WaitingLine::first_come());
    let (mut waiting, mut busy) = (LevelTally::new(Moment::ZERO), LevelTally::new(Moment::ZERO));
    let (mut waits, mut each) = (SpanTally::default(), Vec::new());
    agenda.schedule(Moment::ZERO + gaps.next().unwrap(), STARTS, Event::Arrival);
    let mut end = Moment::ZERO;
    while let Some((now, event)) = agenda.next() {
        match event {
            Event::Departure => busy.change(-1, now),
            Event::Arrival => {
                line.join((), now);
                waiting.change(1, now);
                if let Some(gap) = gaps.next() {
                    agenda.schedule(now + gap, STARTS, Event::Arrival);
                }
            }
        }
        if busy.level() == 0
            && let Some(next) = line.take()
        {
            waiting.change(-1, now);
            waits.record(next.waited(now));
            each.push(next.waited(now));
            if each.len() == 6 {
                end = now;
                break;
            }
            busy.change(1, now);
            agenda.schedule(now + services.next().unwrap(), ENDS, Event::Departure);
        }
    }
    assert_eq!(end, Moment::ZERO + minutes(8.6));
    assert_eq!(each, [0.0, 0.8, 1.0, 0.0, 0.9, 3.0].map(minutes));
    assert_eq!(waits.mean(), minutes(0.95));
    assert_eq!(waiting.area(end), i128::from(minutes(9.9).in_micros()));
    assert_eq!(busy.area(end), i128::from(minutes(7.7).in_micros()));
    assert!((waiting.mean(end) - 9.9 / 8.6).abs() < 1e-12 && (busy.mean(end) - 7.7 / 8.6).abs() < 1e-12);
}

/// Q2, by definition: a job of 30 minutes starts at 11:45, the server is off from 12:00 to 12:30.
#[test]
fn q2_the_three_rules_for_breaks() {
    let clock = |hour: i64, minute: i64| Moment::ZERO + Span::whole_minutes(60 * hour + minute);
    let hours = Hours::new(
        &[Interval::new(clock(7, 0), clock(16, 0))],
        &[Interval::new(clock(12, 0), clock(12, 30))],
    );
    let end = |rule| hours.end_of_job(clock(11, 45), Span::whole_minutes(30), rule);
    assert_eq!(end(BreakRule::FinishFirst), Some(clock(12, 15)));
    assert_eq!(end(BreakRule::Pause), Some(clock(12, 45)));
    assert_eq!(end(BreakRule::StartAgain), Some(clock(13, 0)));
}

/// Q27: from empty to empty, the integral of the number inside is the sum of the times inside, and the integral of the
/// number busy the sum of the holding times (Little's law along a path), here to the microsecond.
#[test]
fn q27_balance() {
    let triangular = Spread::Triangular {
        least: minutes(3.0),
        mostly: minutes(5.0),
        most: minutes(9.0),
    };
    for (servers, gap, service, room) in [
        (1, exponential(1.1), exponential(1.0), usize::MAX),
        (3, exponential(2.0), triangular, usize::MAX),
        (2, Spread::Fixed(minutes(1.0)), exponential(3.0), 4),
        (50, exponential(0.1), Spread::Fixed(minutes(30.0)), usize::MAX),
    ] {
        let station = Station {
            warmup: 0,
            room,
            ..Station::new(servers, gap, service, 5_000)
        };
        for replication in 0..5 {
            let [inside, times, busy, held] = station.run(Luck::new(27, replication)).balance;
            assert!(inside > 0 && busy > 0);
            assert_eq!((inside, busy), (times, held), "{servers} servers");
        }
    }
}
