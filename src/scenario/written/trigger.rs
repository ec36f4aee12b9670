//! What calls for care of a bath, as written.

use crate::node::{Node, Spanned};
use crate::thing::{Kind, Reader};
use crate::value;
use crate::walk::Walk;
use tankday_base::shop::{Reads, Trigger};
use tankday_base::units::{
    Area, Concentration, Quantity, ReadError, Share, Strength, number, read_clock, read_quantity,
    split_number,
};

/// So many triggers one rule may have.
const MOST_TRIGGERS: usize = 20;

const ONE: Kind = Kind::Pattern(
    r"^\s*(never|overnight|at the break|after the last load|contaminated|at \d{1,2}:\d{2}|after \d+ loads?|after [\d.]+ \S+|((strength|ratio|iron|sludge) )?(below|above) [\d.]+.*)\s*$",
);

pub(super) const TRIGGERS: Reader<Vec<Spanned<Trigger>>> = Reader::new(Kind::Some(&ONE), triggers);
pub(super) const WHEN_DOC: &str = "when: never, after 4 loads, after 0.5 m2, below 31 points, ratio above 6.8, iron above 3 g/L, sludge above 4 %, contaminated, at 16:00, at the break, after the last load, overnight; or several of these";
/// One trigger or several; none for `never`.
fn triggers(node: &Node, walk: &mut Walk) -> Option<Vec<Spanned<Trigger>>> {
    let all = walk.list(node, "triggers", MOST_TRIGGERS, |n, w| {
        let text = value::scalar(n, w, "when it is done")?;
        let read = trigger(text);
        let got = value::refuse(read, n, w, "when it is done")?;
        Some(got.map(|t| Spanned::new(t, n.at)))
    });
    Some(all.into_iter().flatten().collect())
}

const FORMS: &str = "write never, overnight, at the break, after the last load, at 16:00, after 4 loads, after 0.5 m2, \
                    below 31 points, ratio above 6.8, iron above 3 g/L, sludge above 4 %, or contaminated";

fn trigger(text: &str) -> Result<Option<Trigger>, ReadError> {
    let text = text.trim();
    let unknown = || ReadError::new(format!("`{text}` is not a time for care"), FORMS);
    Ok(Some(match text {
        "never" => return Ok(None),
        "overnight" => Trigger::Overnight,
        "at the break" => Trigger::AtBreak,
        "after the last load" => Trigger::AfterLast,
        "contaminated" => Trigger::Reads(Reads::Contaminated),
        _ => {
            if let Some(rest) = text.strip_prefix("after ") {
                after(rest, text)?
            } else if let Some(rest) = text.strip_prefix("at ") {
                Trigger::Clock(read_clock(rest)?)
            } else {
                Trigger::Reads(reads(text).ok_or_else(unknown)??)
            }
        }
    }))
}

/// `4 loads` or `0.5 m2`.
fn after(rest: &str, text: &str) -> Result<Trigger, ReadError> {
    let (count, unit) = split_number(rest).map_err(|e| ReadError::new(e.message, FORMS))?;
    if unit == "load" || unit == "loads" {
        let whole = count.fract() == 0.0 && (1.0..=1e6).contains(&count);
        return if whole {
            Ok(Trigger::Loads(count as u32))
        } else {
            Err(ReadError::new(
                format!("`{text}` counts no loads"),
                "write a whole number from 1 on: `after 4 loads`",
            ))
        };
    }
    let area = read_quantity::<Area>(rest).map_err(|e| ReadError::new(e.message, FORMS))?;
    if area.base() > 0.0 {
        Ok(Trigger::Coated(area))
    } else {
        Err(ReadError::new(
            format!("`{text}` is not an area"),
            "write an area above zero: `after 0.5 m2`",
        ))
    }
}

/// `iron above 3 g/L`; points are strength, g/L iron, % sludge where nothing is named.
fn reads(text: &str) -> Option<Result<Reads, ReadError>> {
    let named = [
        ("total acid ", "strength"),
        ("strength ", "strength"),
        ("acid ratio ", "ratio"),
        ("ratio ", "ratio"),
        ("iron ", "iron"),
        ("sludge ", "sludge"),
    ];
    let (what, rest) = named
        .iter()
        .find_map(|(word, what)| text.strip_prefix(word).map(|rest| (*what, rest)))
        .unwrap_or(("", text));
    let below = rest.starts_with("below ");
    let rest = rest
        .strip_prefix("below ")
        .or_else(|| rest.strip_prefix("above "))?;
    let what = match (what, rest.trim()) {
        ("", r) if r.ends_with("points") || r.ends_with("point") => "strength",
        ("", r) if r.ends_with("g/L") => "iron",
        ("", r) if r.ends_with('%') => "sludge",
        (what, _) => what,
    };
    Some(match (what, below) {
        ("strength", true) => read_quantity::<Strength>(rest).map(Reads::StrengthBelow),
        ("ratio", true) => number(rest.trim()).map(Reads::RatioBelow),
        ("ratio", false) => number(rest.trim()).map(Reads::RatioAbove),
        ("iron", true) => read_quantity::<Concentration>(rest).map(Reads::IronBelow),
        ("iron", false) => read_quantity::<Concentration>(rest).map(Reads::IronAbove),
        ("sludge", false) => read_quantity::<Share>(rest).map(Reads::SludgeAbove),
        _ => return None,
    })
}
