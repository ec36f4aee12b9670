//! A textbook queue from the parts of the kernel: Poisson arrivals, exponential service, several servers, first come
//! first served. Run it with `cargo run --release --example textbook_queue`.

use tankday::kernel::{Agenda, Clock, ENDS, STARTS, SpanTally, WaitingLine};
use tankday::luck::{Luck, Purpose, Spread};
use tankday::units::{Moment, Span};

enum Event {
    Arrival,
    Departure,
}

/// The mean wait of `items` items before service, in minutes.
fn mean_wait(servers: u32, gap: &Spread, service: &Spread, items: u64) -> f64 {
    let [gaps, services] = ["gap", "service"].map(|name| Luck::new(1, 0).stream(Purpose::named(name)));
    let (mut agenda, mut clock, mut line) = (Agenda::new(), Clock::default(), WaitingLine::first_come());
    let (mut waits, mut idle, mut arrived) = (SpanTally::default(), servers, 0);
    agenda.schedule(Moment::ZERO + gap.draw(gaps.word(0, 0)), STARTS, Event::Arrival);
    while let Some((at, event)) = agenda.next() {
        clock.advance(at);
        match event {
            Event::Departure => idle += 1,
            Event::Arrival => {
                line.join(arrived, at);
                arrived += 1;
                if arrived < items {
                    agenda.schedule(at + gap.draw(gaps.word(arrived, 0)), STARTS, Event::Arrival);
                }
            }
        }
        while idle > 0
            && let Some(next) = line.take()
        {
            idle -= 1;
            waits.record(next.waited(clock.now()));
            let end = at + service.draw(services.word(next.item, 0));
            agenda.schedule(end, ENDS, Event::Departure);
        }
    }
    waits.mean_micros() / Span::minutes(1.0).in_micros() as f64
}

/// The mean wait by Erlang's C formula: arrivals at rate `a` per mean service time.
fn erlang_c_wait(servers: u32, a: f64, mean_service: f64) -> f64 {
    let blocked = (1..=servers).fold(1.0, |b, k| a * b / (f64::from(k) + a * b));
    let spare = f64::from(servers) - a;
    let waiting = f64::from(servers) * blocked / (spare + a * blocked);
    waiting * mean_service / spare
}

fn main() {
    let exponential = |mean| Spread::Exponential { mean };
    let (gap, service) = (exponential(Span::minutes(4.0)), exponential(Span::minutes(6.0)));
    let found = mean_wait(2, &gap, &service, 2_000_000);
    let theory = erlang_c_wait(2, 6.0 / 4.0, 6.0);
    println!("mean wait {found:.3} min, in theory {theory:.3} min");
}
