//! Plan files and notes with mistakes made at random: nothing panics, each mistake is told at its line, and what is taken
//! can be run and is sound.

use proptest::test_runner::{RngAlgorithm, TestRng};
use rand::RngExt;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::atomic::AtomicBool;
use tankday::line::Line;
use tankday::plan::{Effort, plan};
use tankday::plan_file::{delays, repair, rest_of_day, understand, write};
use tankday::record::Record;
use tankday::scenario::{Findings, Notes, PlanFile, moment_of, read};
use tankday::shop::Shop;

fn shop(path: &str) -> Shop {
    read(path, &std::fs::read_to_string(path).unwrap()).unwrap().shop
}

/// What stands in place of a word: numbers, times, names and keys that are nearly right, and what is nothing at all.
const WORDS: [&str; 28] = [
    "0",
    "1",
    "-1",
    "7",
    "99",
    "1000000",
    "4294967296",
    "1e9",
    "0.5",
    "07:30",
    "08:30",
    "12:15",
    "23:59",
    "24:00",
    "25:00",
    "2026-03-05 09:00",
    "2026-03-06 08:00",
    "A1",
    "A2",
    "A9",
    "L1",
    "L2",
    "L99",
    "black tank",
    "oil",
    "coat",
    "~",
    "[]",
];

/// A text with one to three mistakes.
fn mutated(text: &str, rng: &mut TestRng) -> String {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    for _ in 0..rng.random_range(1..=3) {
        let at = rng.random_range(0..lines.len());
        match rng.random_range(0..8) {
            0 => {
                let other = rng.random_range(0..lines.len());
                lines.swap(at, other);
            }
            1 if lines.len() > 2 => drop(lines.remove(at)),
            2 => lines.insert(rng.random_range(0..=lines.len()), lines[at].clone()),
            3 => {
                let mut chars: Vec<char> = lines[at].chars().collect();
                if !chars.is_empty() {
                    let here = rng.random_range(0..chars.len());
                    chars.remove(here);
                }
                lines[at] = chars.into_iter().collect();
            }
            4 => {
                let mut chars: Vec<char> = lines[at].chars().collect();
                let here = rng.random_range(0..=chars.len());
                let any = [':', '{', '}', '[', ',', '-', '#', '"', '9', 'x', ' ', 'ä'];
                chars.insert(here, any[rng.random_range(0..any.len())]);
                lines[at] = chars.into_iter().collect();
            }
            _ => {
                // One word of the line becomes another: one of these, or one from another line.
                let from = rng.random_range(0..lines.len());
                let found = words(&lines[from]);
                let own = words(&lines[at]);
                if own.is_empty() {
                    continue;
                }
                let (a, b) = own[rng.random_range(0..own.len())];
                let new = if found.is_empty() || rng.random_range(0..2) == 0 {
                    WORDS[rng.random_range(0..WORDS.len())].to_owned()
                } else {
                    let (c, d) = found[rng.random_range(0..found.len())];
                    lines[from][c..d].to_owned()
                };
                lines[at].replace_range(a..b, &new);
            }
        }
    }
    lines.join("\n") + "\n"
}

/// Where the words of a line begin and end.
fn words(line: &str) -> Vec<(usize, usize)> {
    let mut found = Vec::new();
    let mut since = None;
    for (i, c) in line.char_indices() {
        match (c.is_alphanumeric() || c == ':', since) {
            (true, None) => since = Some(i),
            (false, Some(from)) => {
                found.push((from, i));
                since = None;
            }
            _ => {}
        }
    }
    found.extend(since.map(|from| (from, line.len())));
    found
}

/// Every finding stands at a line that there is.
fn told_at_their_lines(found: &Findings, name: &str, text: &str) -> Result<(), String> {
    let told = found.render(false);
    let lines = text.lines().count().max(1);
    let mut places = 0;
    for line in told.lines().filter_map(|l| l.trim_start().strip_prefix("--> ")) {
        let number = line
            .strip_prefix(name)
            .and_then(|rest| rest.strip_prefix(':'))
            .and_then(|rest| rest.split(':').next()?.parse::<usize>().ok());
        match number {
            Some(n) if (1..=lines + 1).contains(&n) => places += 1,
            _ => return Err(format!("no such line: {told}")),
        }
    }
    if places == 0 {
        return Err(format!("no place: {told}"));
    }
    Ok(())
}

/// A plan that is taken runs as the audit would have it.
fn plan_is_sound(shop: &Shop, text: &str) -> Result<bool, String> {
    let line = Line::new(shop);
    let file = match PlanFile::read("plan.yaml", text, &shop.calendar) {
        Ok(file) => file,
        Err(found) => return told_at_their_lines(&found, "plan.yaml", text).map(|()| false),
    };
    let (mended, _) = repair(shop, &line, &file);
    let _ = understand(shop, &line, &mended);
    let meant = match understand(shop, &line, &file) {
        Ok(meant) => meant,
        Err(found) => return told_at_their_lines(&found, "plan.yaml", text).map(|()| false),
    };
    let told = delays(shop, &line, &file, &meant);
    if !told.is_empty() {
        told_at_their_lines(&told, "plan.yaml", text)?;
    }
    let mut record = Record::default();
    line.follow(&meant.plan, None, &mut record);
    let faults = tankday::audit::check(shop, &record);
    if faults.is_empty() {
        Ok(true)
    } else {
        Err(format!("{faults:?}"))
    }
}

/// Notes that are taken leave a rest that can be planned, and a plan that can be read and run.
fn notes_are_sound(shop: &Shop, text: &str) -> Result<bool, String> {
    let now = moment_of("09:00", &shop.calendar).unwrap();
    let at_lines = |found: Findings| told_at_their_lines(&found, "notes.yaml", text).map(|()| false);
    let notes = match Notes::read("notes.yaml", text, &shop.calendar) {
        Ok(notes) => notes,
        Err(found) => return at_lines(found),
    };
    let rest = match rest_of_day(shop, &notes, now) {
        Ok(rest) => rest,
        Err(found) => return at_lines(found),
    };
    let told = rest.contradictions(&notes);
    if !told.is_empty() {
        return at_lines(told);
    }
    let found = rest.plan(1, Effort::Days(4), &AtomicBool::new(false), &|_| ());
    let found = found.ok_or("no plan of the rest")?;
    let line = Line::new(&rest.shop);
    let plan = write(&rest.shop, &line, &found.plan);
    match PlanFile::read("plan.yaml", &plan, &rest.shop.calendar)
        .and_then(|f| understand(&rest.shop, &line, &f))
    {
        Ok(_) => Ok(true),
        Err(found) => Err(format!(
            "its plan is not read again: {}\n{plan}",
            found.render(false)
        )),
    }
}

/// Makes so many mistakes and tells what went wrong; how many texts were taken all the same.
fn wrong(
    texts: &[String],
    seed: u8,
    many: usize,
    look: impl Fn(&str) -> Result<bool, String>,
) -> (Vec<String>, usize) {
    let mut rng = TestRng::from_seed(RngAlgorithm::ChaCha, &[seed; 32]);
    let (mut wrong, mut taken) = (Vec::new(), 0);
    for n in 0..many {
        let text = mutated(&texts[n % texts.len()], &mut rng);
        match catch_unwind(AssertUnwindSafe(|| look(&text))) {
            Ok(Ok(was)) => taken += usize::from(was),
            Ok(Err(why)) => wrong.push(format!("{why}\n{text}")),
            Err(_) => wrong.push(format!("panic\n{text}")),
        }
    }
    (wrong, taken)
}

fn plans_with_mistakes(seed: u8, many: usize) {
    let shop = shop("tests/plans/shop.yaml");
    let line = Line::new(&shop);
    let found = plan(&shop, 1, Effort::Days(20), &AtomicBool::new(false), &|_| ()).unwrap();
    let texts = [
        std::fs::read_to_string("tests/plans/good.yaml").unwrap(),
        write(&shop, &line, &found.plan),
    ];
    let (wrong, taken) = wrong(&texts, seed, many, |text| plan_is_sound(&shop, text));
    assert!(
        wrong.is_empty(),
        "{} wrong: {}",
        wrong.len(),
        wrong.join("\n----\n")
    );
    assert!(taken * 50 > many, "only {taken} are taken: this looks at nothing");
}

fn notes_with_mistakes(seed: u8, many: usize) {
    let shop = shop("tests/plans/shop.yaml");
    let texts = [std::fs::read_to_string("tests/notes/good.yaml").unwrap()];
    let (wrong, taken) = wrong(&texts, seed, many, |text| notes_are_sound(&shop, text));
    assert!(
        wrong.is_empty(),
        "{} wrong: {}",
        wrong.len(),
        wrong.join("\n----\n")
    );
    assert!(taken * 50 > many, "only {taken} are taken: this looks at nothing");
}

#[test]
fn plans_with_mistakes_are_told_or_sound() {
    plans_with_mistakes(1, 300);
}

#[test]
fn notes_with_mistakes_are_told_or_sound() {
    notes_with_mistakes(2, 150);
}

#[test]
#[ignore = "takes minutes"]
fn ten_thousand_plans_and_notes_with_mistakes() {
    plans_with_mistakes(3, 10_000);
    notes_with_mistakes(4, 10_000);
}
