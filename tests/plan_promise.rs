//! What can be promised for one more order.

use std::sync::atomic::AtomicBool;
use tankday::line::Line;
use tankday::plan::{Asked, Effort, Promised, Refused, promise};
use tankday::plan_file::{understand, write};
use tankday::random::Streams;
use tankday::record::{LogEntry, Record};
use tankday::scenario::{Draft, File, PlanFile};
use tankday::shop::Shop;
use tankday::units::Share;

fn draft() -> Draft {
    draft_of("tests/plans/shop.yaml")
}

fn draft_of(path: &str) -> Draft {
    let file = File {
        name: path.to_owned(),
        id: path.to_owned(),
        text: std::fs::read_to_string(path).unwrap(),
    };
    Draft::open(file, &|_, _| Err("none".to_owned())).unwrap()
}

fn with(order: &str) -> Shop {
    let mut draft = draft();
    draft
        .add_order("--order", order)
        .unwrap_or_else(|f| panic!("{}", f.render(false)));
    draft
        .scenario()
        .unwrap_or_else(|f| panic!("{}", f.render(false)))
        .shop
}

fn promised(order: &str) -> Promised {
    let asked = Asked {
        sure: Share::percent(90.0),
        seed: 1,
        effort: Effort::Days(80),
        days: 20,
    };
    promise(&with(order), asked, &AtomicBool::new(false), &|_| ()).unwrap()
}

#[test]
fn an_order_is_read_from_a_line_or_from_keys() {
    let line = with("20 x wood screw, arrives: 08:00, id: N1");
    let keys = with("{id: N1, part: wood screw, route: screws, count: 20, arrives: 08:00}");
    assert_eq!(line.orders.last(), keys.orders.last());
    let order = line.orders.last().unwrap();
    assert_eq!(
        (order.count, line.routes[order.route.index()].name.as_str()),
        (20, "screws")
    );
}

#[test]
fn an_order_that_cannot_be_is_refused_where_it_is_wrong() {
    let refused = |order: &str| {
        let mut draft = draft();
        let read = draft.add_order("--order", order);
        read.and_then(|()| draft.scenario().map(|_| ()))
            .unwrap_err()
            .render(false)
    };
    assert!(refused("20 x wod screw").contains("--order:1:6"));
    assert!(refused("20 x wood screw, polihs").contains("did you mean `polish`?"));
    assert!(refused("20 x").contains("which part"));
    assert!(refused("0 x wood screw").contains("--order:1:1"));
    assert!(refused("a few screws").contains("this isn't an order"));
    assert!(refused("[{part: wood screw}, {part: vise jaw}]").contains("a list of 2"));
    assert!(refused("20 x door plate, screws").contains("aluminium"));
}

#[test]
fn a_small_order_fits_today_and_pushes_nobody_aside() {
    let found = promised("20 x wood screw");
    let by = found.by.expect("it fits");
    assert_eq!(found.more_days, 0);
    assert!(found.kept >= 18 && found.days == 20);
    assert_eq!(found.others.len(), 4);
    assert!(
        found.others.iter().all(|(before, with)| with >= before),
        "{:?}",
        found.others
    );
    // It must at least be degreased, put in, coated, taken out and oiled: 10 + 1 + 10 + 1 + 3 min after 07:30.
    assert!(by.clock().as_str() >= "07:55", "{}", by.clock());
    assert!(found.plan.is_some());
    let again = promised("20 x wood screw");
    assert_eq!(
        (again.by, again.kept, again.usual),
        (found.by, found.kept, found.usual)
    );
}

#[test]
fn too_much_for_today_goes_on_tomorrow() {
    // Each two castings are a load of ten minutes and more: sixty do not go through one day.
    let found = promised("100 x vise jaw");
    assert!(found.more_days >= 1, "{found:?}");
    assert!(matches!(
        found.refused,
        Some(Refused::NotReady(_) | Refused::Pushes(_))
    ));
    let by = found.by.expect("next week it fits");
    let last = found.shop.calendar.days.last().unwrap();
    assert!(by <= last.close && by.day_and_time().0 >= 1);
}

/// Where the shop's own rules alone have a time, the plan beside it is these rules and no other, on the days that are needed.
#[test]
fn what_is_promised_is_what_the_plan_does() {
    let mut draft = draft_of("tests/data/one-oil-place.yaml");
    draft
        .add_order("--order", "10 x small jaw, black, arrives: 19:00")
        .unwrap();
    let shop = draft.scenario().unwrap().shop;
    let asked = Asked {
        sure: Share::percent(90.0),
        seed: 1,
        effort: Effort::Days(20),
        days: 4,
    };
    let found = promise(&shop, asked, &AtomicBool::new(false), &|_| ()).unwrap();
    let (by, plan) = (found.by.unwrap(), found.plan.unwrap());
    let line = Line::new(&found.shop);
    // What is written is what was looked at.
    let text = write(&found.shop, &line, &plan);
    let file = PlanFile::read("plan.yaml", &text, &found.shop.calendar).unwrap();
    let again = understand(&found.shop, &line, &file).unwrap().plan;
    let new = found.shop.orders.len() - 1;
    let mut kept = 0;
    for day in 0..asked.days {
        let mut record = Record::default();
        line.follow(&again, Some(Streams::new(1, u64::from(day))), &mut record);
        let came = record.entries.iter().find_map(|e| match e.event {
            LogEntry::OrderArrives { order, source, .. } if source.index() == new => Some(order),
            _ => None,
        });
        let mut ready = record.entries.iter();
        kept +=
            u32::from(ready.any(
                |e| matches!(e.event, LogEntry::OrderReady { order } if Some(order) == came && e.at <= by),
            ));
    }
    assert_eq!(kept, found.kept, "{text}");
    if by <= shop.calendar.days[2].close {
        assert_eq!(found.shop.calendar.days.len(), 3);
    }
}
