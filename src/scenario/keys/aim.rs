//! Keys of what a plan is to be good at.

use super::{Kind, Table, may};

/// The aim.
pub(crate) static AIM: Table = Table {
    path: "aim",
    what: "an aim",
    keys: &[
        may(
            "late order",
            Kind::Number,
            "what an order that is late costs, whatever by how much",
        ),
        may(
            "late minute",
            Kind::Number,
            "what each minute costs that an order is late",
        ),
        may(
            "finish minute",
            Kind::Number,
            "what each minute costs until the last load is ready",
        ),
        may("kWh", Kind::Number, "what each kWh drawn costs the plan"),
        may(
            "litre of water",
            Kind::Number,
            "what each litre of water made good costs the plan",
        ),
        may(
            "minute of hands",
            Kind::Number,
            "what each minute costs that hands are busy",
        ),
        may(
            "overtaking",
            Kind::Yes,
            "whether a load may pass another on the way; if not, all stations see the loads in one order",
        ),
    ],
};
