//! Reads the measures of tanks: insides, layers, vessels.

use super::finding::{Code, Finding};
use super::node::{Node, Value};
use super::value::{quantity, refuse, scalar};
use super::walk::Walk;
use tankday_base::shape::Coarse;
use tankday_base::shop::{Inside, Size};
use tankday_base::units::{Conductivity, Length, Mass, Quantity, ReadError, read_quantity, split_number};

/// `35 cm x 25 cm x 30 cm`, or `round 20 cm x 18 cm`.
pub(super) fn inside(node: &Node, walk: &mut Walk) -> Option<Inside> {
    const WANTED: &str = "the inside of a tank";
    const FORM: &str =
        "write `35 cm x 25 cm x 30 cm` (length, width, height), or `round 20 cm x 18 cm` (diameter, height)";
    if !matches!(node.value, Value::Text(_) | Value::Empty) {
        let message = format!("{WANTED} is expected, {} is written", node.kind());
        let finding = Finding::new(Code::WrongKind, node.at, message);
        return walk.refuse(finding.label(format!("this is {}", node.kind())).help(FORM));
    }
    let text = scalar(node, walk, WANTED)?;
    let (round, measures) = text
        .strip_prefix("round")
        .map_or((false, text), |rest| (true, rest));
    let lengths = refuse(lengths(measures), node, walk, "lengths with their unit")?;
    match (round, lengths.as_slice()) {
        (false, &[length, width, height]) => Some(Inside::Box {
            length,
            width,
            height,
        }),
        (true, &[diameter, height]) => Some(Inside::Round { diameter, height }),
        _ => walk.refuse(
            Finding::error(Code::WrongKind, node.at)
                .says(format!("`{text}` is not the inside of a tank"))
                .label(if round {
                    "two measures are expected"
                } else {
                    "three measures are expected"
                })
                .help(FORM),
        ),
    }
}

/// `3 m`, or `600 x 40 x 20 mm`: the box around a piece.
pub(super) fn size(node: &Node, walk: &mut Walk) -> Option<Size> {
    let text = scalar(node, walk, "the size of a piece")?;
    match *refuse(lengths(text), node, walk, "lengths with their unit")?.as_slice() {
        [long] => Some(Size::new([long, Length::ZERO, Length::ZERO], true)),
        [a, b, c] => Some(Size::new([a, b, c], false)),
        _ => walk.refuse(
            Finding::error(Code::WrongKind, node.at)
                .says(format!("`{text}` is not the size of a piece"))
                .label("one measure or three are expected")
                .help("write its length, `3 m`, or length, width and height, `600 x 40 x 20 mm`"),
        ),
    }
}

/// Lengths between `x`; one without a unit takes that of the last.
fn lengths(text: &str) -> Result<Vec<Length>, ReadError> {
    let pieces: Vec<&str> = text.split(['x', '×']).map(str::trim).collect();
    let last = pieces.last().copied().unwrap_or_default();
    let unit = split_number(last).map_or("", |(_, unit)| unit);
    let read = |piece: &&str| {
        let own = split_number(piece)?.1;
        let length: Length = if own.is_empty() {
            read_quantity(&format!("{piece} {unit}"))?
        } else {
            read_quantity(piece)?
        };
        if length > Length::ZERO && length <= MOST_LENGTH {
            return Ok(length);
        }
        Err(ReadError::new(
            format!("`{piece}` is not a length here"),
            "lengths up to 20 m are read",
        ))
    };
    pieces.iter().map(read).collect()
}

const MOST_LENGTH: Length = Length::metres(20.0);

/// A layer of insulation as written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Layer {
    /// Thickness; zero for none.
    pub(super) thickness: Length,
    /// Its conductivity, if written.
    pub(super) conductivity: Option<Conductivity>,
}

/// `none`, `25 mm` or `25 mm of 0.04 W/mK`.
pub(super) fn layer(node: &Node, walk: &mut Walk) -> Option<Layer> {
    let text = scalar(node, walk, "a thickness, or `none`,")?;
    if text == "none" {
        return Some(Layer {
            thickness: Length::ZERO,
            conductivity: None,
        });
    }
    let (thick, rest) = text
        .split_once(" of ")
        .map_or((text, None), |(a, b)| (a, Some(b)));
    let thickness = refuse(
        read_quantity(thick),
        node,
        walk,
        "`none`, `25 mm` or `25 mm of 0.04 W/mK`",
    )?;
    let conductivity = match rest {
        Some(rest) => Some(refuse(
            read_quantity(rest),
            node,
            walk,
            "a conductivity such as 0.04 W/mK",
        )?),
        None => None,
    };
    let bad = thickness < Length::ZERO
        || thickness > MOST_LENGTH
        || conductivity.is_some_and(|c: Conductivity| c.base() <= 0.0);
    if bad {
        return walk.refuse(Finding::error(Code::Range, node.at).says("this is not a layer of insulation"));
    }
    Some(Layer {
        thickness,
        conductivity,
    })
}

/// The empty tank: how heavy, or how thick.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Vessel {
    /// Its mass.
    Weighs(Mass),
    /// Its thickness all round but the top.
    Thick(Length),
}

/// `6 kg` or `1 mm thick`.
pub(super) fn vessel(node: &Node, walk: &mut Walk) -> Option<Vessel> {
    let text = scalar(node, walk, "a mass or a thickness")?;
    let wanted = "a mass such as 6 kg, or `1 mm thick`";
    match text.strip_suffix("thick") {
        Some(thick) => refuse(read_quantity(thick), node, walk, wanted).map(Vessel::Thick),
        None => quantity(node, walk).map(Vessel::Weighs),
    }
}

/// A thread and the length under the head.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Thread {
    /// The size.
    pub(super) size: Coarse,
    /// Length.
    pub(super) length: Length,
}

/// `M6 x 20`, in millimetres.
pub(super) fn thread(node: &Node, walk: &mut Walk) -> Option<Thread> {
    let text = scalar(node, walk, "a thread and a length")?;
    let wanted = "a thread and a length such as M6 x 20";
    let wrong = |what: String| ReadError::new(what, "write `M6 x 20`: thread, length under the head in mm");
    let read = || -> Result<Thread, ReadError> {
        let parts = text
            .strip_prefix('M')
            .and_then(|rest| rest.split_once(['x', '×']));
        let (d, l) = parts.ok_or_else(|| wrong(format!("`{text}` is not a thread and a length")))?;
        let millimetres = |piece: &str| -> Result<Length, ReadError> {
            let (number, unit) = split_number(piece.trim())?;
            match unit {
                "" | "mm" => Ok(Length::millimetres(number)),
                _ => Err(wrong(format!("`{}` is not in millimetres", piece.trim()))),
            }
        };
        let (diameter, length) = (millimetres(d)?, millimetres(l)?);
        let size = Coarse::of(diameter).ok_or_else(|| {
            let sizes = Coarse::ALL.map(|s| format!("{s:?}")).join(", ");
            let text = format!("there is no `M{}` in the table of screws", d.trim());
            ReadError::new(text, format!("its sizes are {sizes}; else state mass and area"))
        })?;
        if length <= Length::ZERO || length > Length::metres(1.0) {
            return Err(wrong(format!("`{}` is not the length of a screw", l.trim())));
        }
        Ok(Thread { size, length })
    };
    refuse(read(), node, walk, wanted)
}

/// So many lengths between `x`: `80 mm x 40 mm x 2 mm`.
pub(super) fn lengths_of<const N: usize>(node: &Node, walk: &mut Walk) -> Option<[Length; N]> {
    let text = scalar(node, walk, "measures")?;
    let all = refuse(lengths(text), node, walk, "lengths with their unit")?;
    let found = <[Length; N]>::try_from(all).ok();
    if found.is_none() {
        let wanted = if N == 2 {
            "two measures are expected"
        } else {
            "three measures are expected"
        };
        let message = format!("`{text}` does not have the right measures");
        walk.add(Finding::new(Code::WrongKind, node.at, message).label(wanted));
    }
    found
}
