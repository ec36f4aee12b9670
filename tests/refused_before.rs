//! What `--out` refuses is refused before the work, and what goes from a folder is named.

use crate::nothing_lost::{home, run};
use std::fs;

/// What is refused is refused before the work and not after it: here the work would take hours. It concerns pictures as it does
/// pages, a file that the command reads, and a file where the folder would have to be.
#[test]
fn what_would_be_refused_is_refused_before_the_work() {
    let home = home();
    let dir = home.path();
    fs::create_dir(dir.join("out")).unwrap();
    fs::write(dir.join("file"), "mine").unwrap();
    let long = ["--replications", "100000"];
    let plan = ["plan", "shop.yaml", "--effort", "1000000000"];
    let promise = [
        "promise",
        "scenario.yaml",
        "--order",
        "3 x wood screw",
        "--effort",
        "1000000000",
    ];
    let sweep = [&["sweep", "shop.yaml", "--vary", "shop.hands=1, 2"][..], &long].concat();
    let compare = [&["compare", "shop.yaml", "scenario.yaml"][..], &long].concat();
    let day = [&["run", "shop.yaml"][..], &long].concat();
    for (words, picture) in [
        (&plan[..], "day.svg"),
        (&sweep, "lost.svg"),
        (&compare, "compare.png"),
        (&day, "day.png"),
    ] {
        let foreign = dir.join("out").join(picture);
        fs::write(&foreign, "mine").unwrap();
        let (status, said) = run(&[words, &["--out", "out"]].concat(), dir);
        assert!(
            status == 1 && said.contains(picture),
            "{words:?}: {status} {said}"
        );
        fs::remove_file(foreign).unwrap();
        for place in ["file", "file/below"] {
            let (status, said) = run(&[words, &["--out", place]].concat(), dir);
            assert!(
                status == 1 && said.contains("file is a file"),
                "{words:?}: {status} {said}"
            );
        }
    }
    let (status, said) = run(&[&promise[..], &["--out", "."]].concat(), dir);
    assert!(
        status == 1 && said.contains("scenario.yaml: this command reads it"),
        "{status} {said}"
    );
    assert_eq!(fs::read(dir.join("file")).unwrap(), b"mine");
}

/// A plan that goes since a run takes its place is named, however little is to be said.
#[test]
fn a_plan_that_goes_is_named_however_little_is_said() {
    let home = home();
    let (status, _) = run(
        &["plan", "shop.yaml", "--effort", "20", "--out", "out"],
        home.path(),
    );
    assert_eq!(status, 0);
    assert!(home.path().join("out/plan.yaml").exists());
    let (status, said) = run(&["run", "shop.yaml", "--out", "out"], home.path());
    assert_eq!(status, 0, "{said}");
    assert!(
        said.starts_with("Removed from out") && said.contains("plan.yaml"),
        "{said}"
    );
    assert!(!home.path().join("out/plan.yaml").exists());
}
