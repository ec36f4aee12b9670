//! What `check` takes of a tank for want of a word on it is said, where the exhaust that hot acid needs, or the legs that it
//! stands on, make it untrue.

use crate::command_line::{home, run, text};

#[test]
fn still_air_and_a_bottom_that_loses_nothing_are_said() {
    let home = home();
    let said = |tank: &str| {
        let shop = std::fs::read_to_string("scenarios/first-day.yaml").unwrap();
        let changed = shop.replacen(
            "wall: {vessel: 1.2 kg}",
            &format!("wall: {{vessel: 1.2 kg{tank}"),
            1,
        );
        assert!(tank == "}" || changed != shop);
        std::fs::write(home.path().join("own.yaml"), changed).unwrap();
        let done = run(&["check", "own.yaml"], home.path());
        assert!(done.status.success(), "{}", text(&done.stderr));
        text(&done.stdout)
    };
    let as_it_is = said("}");
    assert!(as_it_is.contains("reckoned in still air: "), "{as_it_is}");
    assert!(
        as_it_is.contains("reckoned without loss through the bottom: "),
        "{as_it_is}"
    );
    let stated = said(", bottom: 5 W/m2K}\n    draught: 1.3");
    assert!(!stated.contains("reckoned"), "{stated}");
}
