//! Keys of the water in a rinse.

use super::{Kind, Table, may};
use tankday_base::units::{Share, Strength};

/// When the water of a rinse is renewed.
pub(crate) static FRESH_WATER: Table = Table {
    path: "stations.renew",
    what: "a rule for fresh water",
    keys: &[
        may(
            "at",
            Kind::Or(&[Kind::of::<Strength>(), Kind::of::<Share>()]),
            "when its last tub is so strong: 1 points, or 3 % of the bath that the load comes from",
        ),
        may("after", Kind::Count, "after so many loads, such as 20"),
        may("at opening", Kind::Yes, "every morning, if it was used"),
        may("takes", Kind::Time, "hands' time for it, such as 10 min"),
    ],
};
