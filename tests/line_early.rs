//! Nothing is laid bare long before its bath can take it, and what comes out of a bath is rinsed before it dries.

use tankday::line::Line;
use tankday::record::{Breach, LogEntry, Record};
use tankday::scenario;
use tankday::shop::Shop;
use tankday::units::{Moment, Span};

fn read(text: &str) -> Shop {
    scenario::read("early.yaml", text)
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

/// A pot that is hot after 43 min; jaws are stripped for 10 min and rinsed for 1 min.
fn shop(within: &str, more: &str) -> Shop {
    let text = std::fs::read_to_string("tests/data/stripped-bare.yaml").unwrap();
    let text = text.replace("within: 10 min}", within);
    assert!(text.contains(within));
    read(&format!("{text}{more}"))
}

fn day(shop: &Shop) -> Record {
    let mut record = Record::default();
    Line::new(shop).run(None, &mut record);
    record
}

/// When a step is begun, and how long loads waited too long for one.
fn begun(record: &Record, at: u32) -> Vec<Moment> {
    let entries = record.entries.iter();
    let begins = entries.filter(|e| matches!(&e.event, LogEntry::SetIn { step, .. } if step.step.0 == at));
    begins.map(|e| e.at).collect()
}

fn waited_too_long(record: &Record) -> Vec<Span> {
    let entries = record.entries.iter();
    entries
        .filter_map(|e| match e.event {
            LogEntry::Breaks {
                what: Breach::WaitedTooLong { by },
                ..
            } => Some(by),
            _ => None,
        })
        .collect()
}

fn clocks(all: &[Moment]) -> Vec<String> {
    all.iter().map(|at| at.clock()).collect()
}

#[test]
fn work_is_stripped_so_that_it_meets_a_hot_and_empty_bath() {
    let record = day(&shop("within: 10 min}", ""));
    let (stripped, coated) = (begun(&record, 0), begun(&record, 2));
    assert_eq!(waited_too_long(&record), []);
    assert_eq!((stripped.len(), coated.len()), (2, 2));
    // 13 min of stripping and rinsing, and no more than 10 min of waiting.
    for (strip, coat) in stripped.iter().zip(&coated) {
        let between = (*coat - *strip).in_minutes();
        assert!((13.0..=23.0).contains(&between), "{between}");
    }
}

#[test]
fn what_may_wait_is_stripped_at_once() {
    for within in ["within: 8 h}", "hands: ends}"] {
        let record = day(&shop(within, ""));
        assert_eq!(clocks(&begun(&record, 0)), ["08:00", "08:13"], "{within}");
    }
}

/// The bath loses no time by it: both loads go in when they would have gone in anyway.
#[test]
fn the_bath_does_not_wait_for_work_that_was_kept_back() {
    let kept = begun(&day(&shop("within: 10 min}", "")), 2);
    let at_once = begun(&day(&shop("within: 8 h}", "")), 2);
    assert_eq!(clocks(&kept), clocks(&at_once));
}

/// A bath that is heated later is waited for later.
#[test]
fn a_heater_that_goes_on_at_a_time_of_day_is_waited_for() {
    let record = day(&shop("within: 10 min}", "rules: {heat: {switch on: at 09:00}}\n"));
    let stripped = begun(&record, 0);
    assert_eq!(waited_too_long(&record), []);
    assert!(stripped[0].clock().as_str() > "09:15", "{}", stripped[0].clock());
}

/// One place in the sink, and a soak behind the bath: a load does not go in that would dry before it is rinsed, and where one
/// does dry, it is told.
#[test]
fn a_rinse_behind_the_bath_has_its_time() {
    let text = std::fs::read_to_string("tests/data/stripped-bare.yaml").unwrap();
    let soaked = text.replace(
        "    - {do: rinse, at: sink, for: 1 min, hands: throughout, at once: yes, within: 1 min}\n",
        "    - {do: rinse, at: sink, for: 1 min}\n",
    );
    let shop = read(&soaked);
    let rinse = &shop.routes[0].steps[3];
    assert_eq!(rinse.within, Some(Span::whole_minutes(2)));
    let first = &shop.routes[0].steps[1];
    assert_eq!(
        first.within, None,
        "before the bath nothing dries with acid on it"
    );
}

/// The pot of an evening with a break at 18:30; blasting takes so long for each of so many screws.
fn blasted(time: &str, screws: u32) -> Shop {
    let text = std::fs::read_to_string("tests/data/blasted-each.yaml").unwrap();
    let (each, count) = ("each piece: 30 s", "count: 120");
    assert!(text.contains(each) && text.contains(count));
    read(
        &text
            .replace(each, time)
            .replace(count, &format!("count: {screws}")),
    )
}

/// Hands do not turn to a blast of an hour beside stripped loads whose bath is soon hot, and not to one of half an hour behind
/// which a break would begin before the second is out.
#[test]
fn what_takes_its_time_for_each_piece_is_foreseen_for_all_of_them() {
    for screws in [20, 60, 90, 120, 200] {
        for time in [
            "each piece: 10 s",
            "each piece: 30 s",
            "for: 10 min, each piece: 25 s",
            "each piece: 50 s",
        ] {
            let record = day(&blasted(time, screws));
            assert_eq!(waited_too_long(&record), [], "{screws} screws, {time}");
        }
    }
}

/// A time that is the same whichever way it is written gives the same day.
#[test]
fn an_hour_for_each_piece_together_is_an_hour() {
    let only = |shop: &mut Shop| shop.orders.truncate(1);
    let mut pair = [blasted("each piece: 30 s", 120), blasted("for: 4 min", 120)];
    pair.iter_mut().for_each(only);
    let [each, whole] = pair.map(|shop| clocks(&begun(&day(&shop), 2)));
    assert_eq!(each, whole);
}
