//! A promise is never later for less sureness or for more effort, and hardly ever for a smaller or an earlier order.

use proptest::test_runner::{RngAlgorithm, TestRng};
use rand::RngExt;
use std::sync::atomic::AtomicBool;
use tankday::plan::{Asked, Effort, Promised, promise};
use tankday::shop::{Arrival, Order, Shop};
use tankday::units::{Moment, Share, Span};

/// A smaller or an earlier order may be promised so much later: less is luck of the search.
const LATER: Span = Span::whole_minutes(10);

fn read(path: &str) -> Shop {
    let text = std::fs::read_to_string(path).unwrap();
    tankday::scenario::read(path, &text)
        .unwrap_or_else(|e| panic!("{}", e.render(false)))
        .shop
}

fn shops() -> Vec<Shop> {
    [
        "tests/data/mixed-day-first.yaml",
        "tests/data/thirty.yaml",
        "tests/data/mixed-and-one-screw.yaml",
        "tests/plans/shop.yaml",
    ]
    .map(read)
    .into()
}

/// One more order like one of the shop's own: so many pieces, that many minutes after opening.
fn one_more(shop: &Shop, like: usize, count: u32, after: i64) -> Shop {
    let mut shop = shop.clone();
    let open = shop.calendar.days[0].open;
    let order = Order {
        id: "N".into(),
        count,
        arrival: Arrival::At(open + Span::whole_minutes(after)),
        due_after: None,
        ..shop.orders[like].clone()
    };
    shop.orders.push(order);
    shop
}

fn told(shop: &Shop, sure: f64, effort: Effort) -> Promised {
    let asked = Asked {
        sure: Share::percent(sure),
        seed: 1,
        effort,
        days: 100,
    };
    promise(shop, asked, &AtomicBool::new(false), &|_| ()).unwrap()
}

fn by(found: &Promised) -> Moment {
    found.by.unwrap_or(Moment::NEVER)
}

/// Random pairs: an order, and one that is smaller, comes earlier, or both.
struct Pairs {
    shops: Vec<Shop>,
    rng: TestRng,
}

impl Pairs {
    fn new(seed: u8) -> Self {
        Self {
            shops: shops(),
            rng: TestRng::from_seed(RngAlgorithm::ChaCha, &[seed; 32]),
        }
    }

    fn next(&mut self) -> (Shop, Shop, String) {
        let rng = &mut self.rng;
        let which = rng.random_range(0..self.shops.len());
        let shop = &self.shops[which];
        let like = rng.random_range(0..shop.orders.len());
        let most = shop.orders[like].count * 3 / 2 + 2;
        let day = &shop.calendar.days[0];
        let last = ((day.close - day.open).in_minutes() * 0.7) as i64;
        let (count, after) = (rng.random_range(2..=most), rng.random_range(0..=last));
        let (less, earlier) = match rng.random_range(0..3) {
            0 => (rng.random_range(1..count), after),
            1 => (count, rng.random_range(0..=after)),
            _ => (rng.random_range(1..count), rng.random_range(0..=after)),
        };
        let said = format!("shop {which}, like {like}: {count} at {after}, {less} at {earlier}");
        (
            one_more(shop, like, count, after),
            one_more(shop, like, less, earlier),
            said,
        )
    }
}

/// How many of so many pairs are in the wrong order, and which.
fn wrong(seed: u8, pairs: usize) -> Vec<String> {
    let mut all = Pairs::new(seed);
    let mut wrong = Vec::new();
    for _ in 0..pairs {
        let (large, small, said) = all.next();
        let [late, early] = [large, small].map(|shop| by(&told(&shop, 90.0, Effort::Quick)));
        let day = |at: Moment| at.day_and_time().0;
        println!(
            "{said}: {} {} and {} {}",
            day(late),
            late.clock(),
            day(early),
            early.clock()
        );
        if early > late && (early - late > LATER || day(early) > day(late)) {
            println!("WRONG");
            wrong.push(said);
        }
    }
    wrong
}

#[test]
fn a_smaller_or_an_earlier_order_is_not_promised_later() {
    assert_eq!(wrong(1, 6), Vec::<String>::new());
}

/// Other pairs: `TANKDAY_SEED=7 TANKDAY_PAIRS=50 cargo test --test main -- --ignored --nocapture five_hundred`.
#[test]
#[ignore = "takes an hour"]
fn five_hundred_pairs_are_promised_in_their_order() {
    let set = |name: &str, usual: u16| std::env::var(name).map_or(usual, |n| n.parse().unwrap());
    let seed = u8::try_from(set("TANKDAY_SEED", 2)).unwrap();
    assert_eq!(
        wrong(seed, usize::from(set("TANKDAY_PAIRS", 500))),
        Vec::<String>::new()
    );
}

/// What the later or the larger of two finds serves the other as well: an order can wait, and has fewer pieces than there
/// is room for. Placed by themselves only, the first of these was promised 80 min later when it came 21 min earlier, the
/// second 15 min later with one piece instead of five.
#[test]
fn an_order_is_promised_what_a_later_or_a_larger_one_is() {
    let shops = shops();
    let told = |shop: usize, like: usize, count: u32, after: i64| {
        by(&told(
            &one_more(&shops[shop], like, count, after),
            90.0,
            Effort::Quick,
        ))
    };
    assert!(told(0, 1, 10, 0) <= told(0, 1, 10, 21) + LATER);
    assert!(told(2, 5, 1, 108) <= told(2, 5, 5, 108) + LATER);
}

#[test]
fn less_sureness_is_not_promised_later() {
    let mut all = Pairs::new(3);
    for _ in 0..3 {
        let (shop, _, said) = all.next();
        let times = [50.0, 70.0, 90.0, 97.0, 99.0].map(|sure| by(&told(&shop, sure, Effort::Days(200))));
        assert!(times.is_sorted(), "{said}: {times:?}");
    }
}

#[test]
fn more_effort_is_not_promised_later() {
    let mut all = Pairs::new(4);
    let efforts = [
        Effort::Days(20),
        Effort::Days(400),
        Effort::Days(1_400),
        Effort::Quick,
        Effort::Days(3_000),
    ];
    for _ in 0..4 {
        let (shop, _, said) = all.next();
        let times = efforts.map(|e| by(&told(&shop, 90.0, e)));
        assert!(
            times.is_sorted_by(|less, more| more <= less),
            "{said}: {:?}",
            times.map(Moment::clock)
        );
    }
}
