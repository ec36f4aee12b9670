//! Keys of a plan that is written to a file.

use super::{Kind, Table, may, must};

/// A plan.
pub(crate) static PLAN: Table = Table {
    path: "plan",
    what: "a plan",
    keys: &[
        must("plan", Kind::Word(&["1"]), "version of the format: 1"),
        may("for", Kind::Text, "title of the scenario that it was made for"),
        may(
            "rests on",
            Kind::Text,
            "what tells the orders, routes and stations that it was made for from all others",
        ),
        may(
            "follow",
            Kind::Word(&["strictly", "loosely", "own rules"]),
            "strictly: each place and the hands keep to the order of the tasks; loosely: as far as it goes; own rules: nothing is planned, the day goes by the rules of the scenario",
        ),
        may(
            "loads",
            Kind::Things(&PLAN_LOADS),
            "what goes into which tank together; only with `follow: own rules` there are none",
        ),
        may("tasks", Kind::Things(&PLAN_TASKS), "what is done, in order"),
        may(
            "heat",
            Kind::Things(&PLAN_HEAT),
            "baths that are heated later than the rules say",
        ),
        may(
            "care",
            Kind::Things(&PLAN_CARE),
            "when the baths are cared for: after a load, or once their rules call for it",
        ),
    ],
};

/// A load of a plan.
pub(crate) static PLAN_LOADS: Table = Table {
    path: "plan.loads",
    what: "a load",
    keys: &[
        must("id", Kind::Text, "its name, such as L1"),
        may(
            "tank",
            Kind::Text,
            "the tank that it goes into; any that can take it if none is named",
        ),
        must(
            "holds",
            Kind::Some(&Kind::Pattern(r"^\s*[0-9]+ of .+$")),
            "pieces and the order that they come from, such as [400 of A1, 25 of A4]",
        ),
    ],
};

/// A task of a plan.
pub(crate) static PLAN_TASKS: Table = Table {
    path: "plan.tasks",
    what: "a task",
    keys: &[
        may("at", Kind::Clock, "it does not begin before, such as 08:15"),
        may("do", Kind::Text, "the step that begins"),
        may(
            "take out",
            Kind::Text,
            "the step that ends: the load is taken out",
        ),
        may(
            "order",
            Kind::Text,
            "whose: an order, before it meets others in a bath",
        ),
        may(
            "lot",
            Kind::Count,
            "which of its lots, counted through the loads; 1 if none is named",
        ),
        may("load", Kind::Text, "whose: a load, from the bath on"),
    ],
};

/// Heating in a plan.
pub(crate) static PLAN_HEAT: Table = Table {
    path: "plan.heat",
    what: "heating of a bath",
    keys: &[
        must(
            "ready by",
            Kind::Clock,
            "the heaters go on so that the bath is hot just then, such as 09:40",
        ),
        must("tank", Kind::Text, "in which tank"),
    ],
};

/// Care in a plan.
pub(crate) static PLAN_CARE: Table = Table {
    path: "plan.care",
    what: "care of a bath",
    keys: &[
        must("at", Kind::Clock, "it does not begin before, such as 13:00"),
        may(
            "after",
            Kind::Text,
            "the load after which it is done, whether its rule calls for it by then or not",
        ),
        must("do", Kind::Text, "what is done, such as filter or replenish"),
        must("tank", Kind::Text, "in which tank"),
    ],
};
