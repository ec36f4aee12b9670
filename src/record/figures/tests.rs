use super::{Figures, WarningKind};
use crate::made::{BENCH, CABINET, TANK, at, min, shop, step, two_loads};
use crate::{Analysis, LoadNo, LogEntry, Observer, Record, Tally};
use tankday_base::shop::{OrderId, Shop, StationId};
use tankday_base::units::Span;

fn figures() -> (Shop, Figures) {
    let shop = shop();
    let figures = Figures::of(&shop, &two_loads());
    (shop, figures)
}

#[test]
fn orders_and_ends_by_hand() {
    let (_, f) = figures();
    assert_eq!(f.finish, Some(at(8, 49)));
    assert_eq!(f.end, Some(at(8, 49)));
    let ready: Vec<_> = f
        .orders
        .iter()
        .map(|o| (o.id.as_str(), o.pieces, o.ready, o.due))
        .collect();
    let due = Some(at(9, 0));
    assert_eq!(
        ready,
        [("A1", 16, Some(at(8, 32)), due), ("A2", 60, Some(at(8, 49)), due)]
    );
    assert!(
        f.orders
            .iter()
            .all(|o| o.on_time() && o.late() == Some(Span::ZERO))
    );
    // (62 + 79) / 2 minutes in the shop.
    assert_eq!(f.in_system.mean(), Some(Span::minutes(70.5)));
}

#[test]
fn loads_and_tank_by_hand() {
    let (_, f) = figures();
    let loads: Vec<_> = f.loads.iter().map(|l| (l.load, l.begins, l.dwell())).collect();
    assert_eq!(
        loads,
        [
            (LoadNo(0), at(8, 16), Some(min(12))),
            (LoadNo(1), at(8, 33), Some(min(12)))
        ]
    );
    let first = &f.loads[0];
    assert!((first.area.in_square_decimetres() - 14.4).abs() < 1e-9);
    assert!((first.mass.in_kilograms() - 3.2).abs() < 1e-9);
    let tank = &f.tanks[0];
    assert_eq!(tank.heat_up, Some(min(45)));
    assert_eq!(
        tank.lowest.map(tankday_base::units::Temperature::in_celsius),
        Some(86.5)
    );
    // Of 570 minutes: 45 heating, 24 coating, 1 from the band to the first dwell and 5 between the dwells recovering, the rest off.
    let shares = tank.shares;
    let minutes = |share: tankday_base::units::Share| (share.in_fraction() * 570.0).round() as i64;
    assert_eq!(minutes(shares.heating), 45);
    assert_eq!(minutes(shares.recovering), 6);
    assert_eq!(minutes(shares.coating), 24);
    assert_eq!(minutes(shares.off), 495);
    assert!((tank.energy.in_kilowatt_hours() - 3.0).abs() < 1e-9);
}

#[test]
fn bath_gains_the_area_of_its_loads() {
    let (_, f) = figures();
    let bath = &f.baths[0];
    // 3.0 and (14.4 + 7.2) dm2 in 20 L.
    assert!((bath.now.area.in_square_decimetres_per_litre() - 4.08).abs() < 1e-9);
    assert_eq!(bath.now.uses, 6);
    assert_eq!(bath.name, "manganese");
}

#[test]
fn stations_and_hands_by_hand() {
    let (_, f) = figures();
    let of = |id: StationId| f.stations[id.index()];
    // A1 none, A2 20 min.
    assert_eq!(of(CABINET).wait.mean(), Some(min(10)));
    // From 07:50 to 08:15, from 08:10 to 08:32.
    assert_eq!(of(TANK).wait.mean(), Some(Span::minutes(23.5)));
    assert_eq!((of(TANK).served, of(BENCH).served), (2, 2));
    // The record is 570 minutes long; the cabinet was taken for 40 of them, the tank for 28, worked for 24.
    assert!((of(CABINET).taken * 570.0 - 40.0).abs() < 1e-6);
    assert!((of(TANK).taken * 570.0 - 28.0).abs() < 1e-6);
    assert!((of(TANK).at_work * 570.0 - 24.0).abs() < 1e-6);
    // 40 of blasting, 4 in and out, 6 of oiling, in 540 minutes.
    assert!((f.hands[0].in_fraction() * 540.0 - 50.0).abs() < 1e-6);
}

#[test]
fn costs_by_hand() {
    let (_, f) = figures();
    assert!((f.cost.power - 0.9).abs() < 1e-9);
    // One pair of hands from 07:30 to 08:49 at 28 an hour.
    assert_eq!(f.cost.hands_time, min(79));
    assert!((f.cost.hands - 28.0 * 79.0 / 60.0).abs() < 1e-9);
    assert!((f.cost.total() - 0.9 - 28.0 * 79.0 / 60.0).abs() < 1e-9);
}

#[test]
fn hands_paid_to_closing_by_hand() {
    let (mut shop, record) = (shop(), two_loads());
    let worked = Figures::of(&shop, &record).cost;
    shop.prices.hands_paid = tankday_base::shop::HandsPaid::ToClosing;
    let paid = Figures::of(&shop, &record).cost;
    // The shop is open for 540 minutes; either way the other figure stands beside it.
    assert_eq!(paid.hands_time, min(540));
    assert_eq!(
        (paid.hands, paid.hands_otherwise),
        (worked.hands_otherwise, worked.hands)
    );
    assert!(paid.hands > worked.hands);
}

#[test]
fn hardened_pieces_are_named() {
    let (_, f) = figures();
    let hard: Vec<_> = f
        .warnings
        .iter()
        .filter(|w| w.kind == WarningKind::NotRelieved)
        .collect();
    assert_eq!(hard.len(), 1);
    assert_eq!(hard[0].at.len(), 1);
    assert_eq!(hard[0].at[0].load, Some(LoadNo(1)));
}

#[test]
fn an_order_left_over_is_named_first_of_all_orders() {
    let mut record = two_loads();
    record
        .entries
        .retain(|e| !matches!(e.event, LogEntry::OrderReady { order } if order.0 == 1));
    let f = Figures::of(&shop(), &record);
    let left = f
        .warnings
        .iter()
        .find(|w| w.kind == WarningKind::NotReady)
        .unwrap();
    assert_eq!(left.orders, [1]);
    assert!(!f.orders[1].on_time());
}

#[test]
fn a_tally_that_watches_agrees_with_one_that_is_fed() {
    let shop = shop();
    let mut watching = Tally::new(&shop);
    for entry in two_loads().entries {
        watching.note(entry.at, entry.event);
    }
    let fed = Analysis::of(&shop, &two_loads()).tally;
    assert_eq!(watching.stations(), fed.stations());
    assert_eq!(watching.ready(OrderId(1)), Some(at(8, 49)));
    assert_eq!(watching.step_wait(step(1)).count, 2);
    assert_eq!(watching.kept_promises(), (2, 2));
}

#[test]
fn no_part_of_a_record_is_needed() {
    let whole = two_loads();
    for skip in 0..whole.entries.len() {
        let mut holed = whole.clone();
        holed.entries.remove(skip);
        let f = Figures::of(&shop(), &holed);
        let s = f.tanks[0].shares;
        let sum = s.heating + s.waiting + s.coating + s.recovering + s.care + s.off;
        assert!(
            (sum.in_fraction() - 1.0).abs() < 1e-9,
            "without entry {skip}: {s:?}"
        );
    }
    assert!(Figures::of(&shop(), &Record::default()).orders.is_empty());
}
