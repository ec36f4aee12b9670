//! What a promise says of the other orders, and of an order that no plan has ready.

use crate::command_line::{run, text};

/// Two orders for one oil tin, which takes one load a night.
const ONE_TIN: &str = include_str!("data/oil-tin-overnight.yaml");

/// What is said, in one line.
fn promised(scenario: &str, order: &str) -> String {
    let home = tempfile::tempdir().unwrap();
    std::fs::write(home.path().join("shop.yaml"), scenario).unwrap();
    let words = ["promise", "shop.yaml", "--order", order, "--replications", "10"];
    let done = run(&words, home.path());
    let said = text(&done.stdout);
    let said = said.split("\n\n").next().unwrap_or_default();
    said.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// "All other orders are kept as often as without it" was said of one that is late without the new order and never finished
/// with it.
#[test]
fn an_order_that_is_never_finished_for_the_new_one_is_named() {
    let said = promised(ONE_TIN, "6 x strap, black");
    assert!(said.contains("can be promised for"), "{said}");
    assert!(
        said.contains("straps won't be finished (without the new order usually"),
        "{said}"
    );
}

/// With two nights more it is finished, and later.
#[test]
fn how_much_later_an_order_is_for_the_new_one_is_said() {
    let said = promised(&ONE_TIN.replace("repeat: 3", "repeat: 5"), "6 x strap, black");
    assert!(
        said.contains("will usually be ready") && said.contains("later than without the new order"),
        "{said}"
    );
    assert!(!said.contains("won't be finished"), "{said}");
}

/// Three tins take all orders in one night.
#[test]
fn nothing_is_said_of_orders_that_are_as_before() {
    let said = promised(
        &ONE_TIN.replace("oil tin, loads: 1", "oil tin, loads: 3"),
        "6 x strap, black",
    );
    assert!(said.contains("can be promised for"), "{said}");
    assert!(
        said.contains("All other orders are on time as often as without it."),
        "{said}"
    );
}

/// A due time that is asked for is answered, yes or no, before the earliest one; and the exit code goes by the answer.
#[test]
fn a_due_time_that_is_asked_for_is_answered() {
    let first_day = std::fs::read_to_string("scenarios/first-day.yaml").unwrap();
    let of = |due: &str| promised(&first_day, &format!("20 x lever cap screw{due}"));
    let plain = of("");
    assert!(
        plain.starts_with("20 lever cap screws can be promised for "),
        "{plain}"
    );
    let yes = of(", due: 12:00");
    assert!(
        yes.starts_with(
            "Yes, 12:00 today can be promised for 20 lever cap screws: ready by then on 10 of 10"
        ),
        "{yes}"
    );
    assert!(yes.contains("The earliest that can be promised is "), "{yes}");
    let no = of(", due: 08:35");
    assert!(
        no.starts_with("No, 08:35 today can't be promised for 20 lever cap screws"),
        "{no}"
    );
    assert!(
        no.contains("ready by then on 0 of 10") && no.contains("The earliest that can be promised is "),
        "{no}"
    );
    let home = tempfile::tempdir().unwrap();
    std::fs::write(home.path().join("shop.yaml"), &first_day).unwrap();
    let code = |due: &str| {
        let order = format!("20 x lever cap screw{due}");
        run(
            &["promise", "shop.yaml", "--order", &order, "--replications", "10"],
            home.path(),
        )
        .status
        .code()
    };
    assert_eq!(
        [code(""), code(", due: 12:00"), code(", due: 08:35")],
        [Some(0), Some(0), Some(3)]
    );
}

/// That others are on time as often as without the new order says nothing of whether they are kept: that is said as well.
#[test]
fn whether_the_orders_of_the_day_are_kept_is_said() {
    let first_day = std::fs::read_to_string("scenarios/first-day.yaml").unwrap();
    let kept = promised(&first_day, "20 x lever cap screw");
    assert!(
        kept.contains("on time on at least 10 of 10") || kept.contains("But not all of them are kept"),
        "{kept}"
    );
    let due = first_day.lines().find(|l| l.contains("due:")).unwrap();
    let (before, after) = due.split_once("due: ").unwrap();
    let early = format!("{before}due: 08:31{}", &after[5..]);
    let late = promised(&first_day.replace(due, &early), "20 x lever cap screw");
    assert!(
        late.contains("But not all of them are kept: of 10") && late.contains("on only 0"),
        "{late}"
    );
}

/// A small jar and one pair of hands: of three thousand bars nobody has to search for a day.
#[test]
fn what_no_plan_has_ready_is_not_searched_for() {
    let shop = ONE_TIN
        .replace("repeat: 3", "repeat: 1")
        .replace("for: 5 min, hands", "each piece: 60 s, hands");
    let home = tempfile::tempdir().unwrap();
    std::fs::write(home.path().join("shop.yaml"), shop).unwrap();
    let asked = |order: &str| {
        let words = [
            "promise",
            "shop.yaml",
            "--order",
            order,
            "--replications",
            "10",
            "--json",
        ];
        let done = run(&words, home.path());
        let data: serde_json::Value = serde_json::from_slice(&done.stdout).unwrap();
        (done.status.code().unwrap(), data)
    };
    let (status, data) = asked("6000 x strap, black");
    assert_eq!(status, 3);
    assert!(
        data["promise"].is_null() && data["out_of_reach"] == true,
        "{data:#}"
    );
    assert_eq!(
        (&data["plans"], &data["more_days"]),
        (&0.into(), &6.into()),
        "{data:#}"
    );
    // What can be done is searched for.
    let (_, data) = asked("6 x strap, black");
    assert_eq!(data["out_of_reach"], false, "{data:#}");
    assert!(data["plans"].as_u64().unwrap() > 0, "{data:#}");
    assert!(!data["promise"].is_null(), "{data:#}");
}
