//! Keys of storage vessels.

use super::{Kind, Table, may, must};
use tankday_base::units::Volume;

/// A storage vessel.
pub(crate) static VESSELS: Table = Table {
    path: "vessels",
    what: "a vessel",
    keys: &[
        must("name", Kind::Text, "what it is called, such as storage jug"),
        must(
            "bath",
            Kind::Text,
            "the bath whose solution it keeps, by its name",
        ),
        must(
            "holds",
            Kind::of::<Volume>(),
            "what each of its two containers holds, such as 25 L",
        ),
        may(
            "filtered",
            Kind::Or(&[Kind::of::<Volume>(), Kind::Word(&["as the tank"])]),
            "filtered solution in it at the start, such as 20 L; `as the tank` for one filling",
        ),
    ],
};
