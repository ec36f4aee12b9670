//! A plan does not hang on the order in which a file lists what has no order.

use std::sync::atomic::AtomicBool;
use tankday::plan::{Effort, plan};
use tankday::shop::Shop;

fn read(name: &str) -> Shop {
    let path = format!("tests/data/{name}.yaml");
    let text = std::fs::read_to_string(&path).unwrap();
    tankday::scenario::read(&path, &text).unwrap().shop
}

#[test]
fn orders_listed_otherwise_are_planned_alike() {
    for name in ["mixed-day-first", "thirty"] {
        let shop = read(name);
        let judged = |shop: &Shop| {
            let found = plan(shop, 1, Effort::Days(150), &AtomicBool::new(false), &|_| ()).unwrap();
            (found.judged.finish, found.judged.late, found.judged.late_orders)
        };
        let as_listed = judged(&shop);
        let mut turned = shop.clone();
        turned.orders.reverse();
        assert_eq!(judged(&turned), as_listed, "{name}, turned round");
        let mut apart = shop.clone();
        let middle = apart.orders.len() / 2;
        apart.orders.rotate_left(middle);
        assert_eq!(judged(&apart), as_listed, "{name}, cut in two");
    }
}
