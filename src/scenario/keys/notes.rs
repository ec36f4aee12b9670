//! Keys of the notes of a day that is under way.

use super::{Kind, Table, may, must};
use tankday_base::units::{Concentration, Strength};

/// Notes.
pub(crate) static NOTES: Table = Table {
    path: "notes",
    what: "a set of notes",
    keys: &[
        must("notes", Kind::Word(&["1"]), "version of the format: 1"),
        may(
            "loads",
            Kind::Things(&NOTED_LOADS),
            "what went into a bath, and came out",
        ),
        may(
            "done",
            Kind::Things(&NOTED_STEPS),
            "other steps that were begun or done",
        ),
        may(
            "late",
            Kind::Things(&NOTED_LATE),
            "orders that come later than they should",
        ),
        may("readings", Kind::Things(&NOTED_READINGS), "how the baths read"),
    ],
};

/// A load that went in.
pub(crate) static NOTED_LOADS: Table = Table {
    path: "notes.loads",
    what: "a load",
    keys: &[
        must("id", Kind::Text, "its name, such as L1"),
        must("tank", Kind::Text, "the tank that it went into"),
        must(
            "holds",
            Kind::Some(&Kind::Pattern(r"^\s*[0-9]+ of .+$")),
            "pieces and the order that they come from, such as [400 of A1, 25 of A4]",
        ),
        must("in", Kind::Clock, "when it went in, such as 08:15"),
        may(
            "out",
            Kind::Clock,
            "when it came out; it is still in if nothing is written",
        ),
        may(
            "seen",
            Kind::Word(&["still fizzing", "fizzing stopped"]),
            "what its gas looked like as it came out; the rest is planned by it",
        ),
    ],
};

/// A step that was begun or done.
pub(crate) static NOTED_STEPS: Table = Table {
    path: "notes.done",
    what: "a step that was done",
    keys: &[
        may(
            "order",
            Kind::Text,
            "of which order, before it met others in a bath",
        ),
        may(
            "lot",
            Kind::Or(&[Kind::Count, Kind::Word(&["all"])]),
            "which of its lots, counted through the loads, or all of them; must be said where there are several",
        ),
        may(
            "pieces",
            Kind::Count,
            "how many that lot has; if nothing is written, as the rules divide what is in no load",
        ),
        may("load", Kind::Text, "of which load, from the bath on"),
        may(
            "step",
            Kind::Text,
            "which step, with all before it; all steps if none is named",
        ),
        may("begun", Kind::Clock, "when it was begun, such as 08:15"),
        may(
            "done",
            Kind::Clock,
            "when it was done; it goes on if nothing is written",
        ),
    ],
};

/// An order that comes late.
pub(crate) static NOTED_LATE: Table = Table {
    path: "notes.late",
    what: "a late order",
    keys: &[
        must("order", Kind::Text, "which"),
        must("arrives", Kind::Clock, "when it comes, such as 11:30"),
    ],
};

/// How a bath reads.
pub(crate) static NOTED_READINGS: Table = Table {
    path: "notes.readings",
    what: "a reading",
    keys: &[
        must("tank", Kind::Text, "of which tank"),
        must("at", Kind::Clock, "when it was taken, such as 10:30"),
        may("temperature", Kind::Degrees, "such as 93 °C"),
        may("total acid", Kind::of::<Strength>(), "such as 33 points"),
        may("free acid", Kind::of::<Strength>(), "such as 5.5 points"),
        may("iron", Kind::of::<Concentration>(), "such as 1.2 g/L"),
        may("sludge", Kind::of::<Concentration>(), "such as 0.8 g/L"),
    ],
};
