//! Planning a day: what goes in with what, in which order. The planner sees the line as a function from shop, plan and
//! luck to a record: every candidate is judged by the same simulation.
//!
//! `model.rs` knows what can be decided, `try_out.rs` puts a decision to the test, `settled.rs` what is already, `mend.rs` holds back what came too early, `judge.rs`
//! watches a run and says what it costs. `canonical.rs` numbers orders so that their place in a file does
//! not matter, `divide.rs` cuts up orders that are too large, `start.rs` makes first plans by rules
//! of thumb, `pack.rs`, `fewer.rs` and `exchange.rs` group lots into loads, `beam_search.rs` builds days side by side where limits
//! are narrow (`lanes.rs` says of what). `change.rs` changes a plan a little, `insert.rs` takes a load out and puts it back
//! where it fits (`standing.rs` knows the others, `chain.rs` its tasks, `gaps.rs` sets of moments), `search.rs` looks for a
//! better plan and `ways.rs` remembers which changes pay. `choose.rs` makes the last choice under luck, `heater_timing.rs` says when
//! to heat, `bound` how good a plan could be at best (`rooms.rs`: in how many loads), `timed.rs` follows one once. `effort.rs` says how much is tried and `climb.rs` tries less first,
//! `weight.rs` by how much less where a day takes long.
//! `promise` asks what can be promised for one more order.
//!
//! # How a plan is found
//!
//! `line::Plan` is what the line follows (`line::dispatch`): loads, tanks, a sequence of tasks, and times before which
//! none starts. Strictly, each station and the hands take tasks in their order and nothing else; otherwise the order
//! is a preference. Orders too large for one load are divided by the rule, or at other places if days by rules of
//! thumb come out better then (`divide.rs`). The search starts from rules of thumb and closely packed loads
//! (`pack.rs` fills load after load; `fewer.rs` finds one load less, all but two loads kept and what lies apart tried
//! in the last two; `exchange.rs` lets single lots change loads), and where limits are narrow from days that are
//! built deed by deed, many beginnings side by side (`beam_search.rs`: a sequence has times that keep all limits, or it
//! is given up before the line sees it).
//!
//! Where there are tanks and hands, most of the search is done in a timetable of the shop (`timetable/`, its files
//! are listed in `mod.rs`): whole seconds, hands with their hours, places with their room, tanks with the stretches
//! in which they are hot, no bath. A decision there is a list of loads in the order of charging, with the freedom of
//! the dispatcher (what hands turn to first, when lots are prepared, how long a load waits on purpose). The
//! dispatcher makes of it a complete day: before anything begins, every lift and every other limited wait must still
//! be in time afterwards, in the order of their latest moments. So every decision is a day that keeps its windows,
//! and annealing spends nothing on days that are none. The best days are run by the line, in their order and at their
//! times; how long loads stayed and when baths were hot goes back (`level.rs`, `learn.rs`), three times. The day by
//! the shop's own rules is a candidate as it is run, and no plan that is worse on the day of mean times is taken
//! (`tests/plan_cases.rs`). After that the line is asked for fewer days than without a timetable (`search.rs`).
//!
//! Where nothing but stations keeps work waiting, the day is a graph, and a tabu search shifts tasks to the ends of the
//! blocks on the path that sets its end (`blocks/`); the line then is asked for fewer days, unless orders are late.
//!
//! The line's own search changes a little at a time (a change for the worse is taken less and less often; what pays
//! is tried more, `ways.rs`), and lets the line judge each; a plan that breaks a limit is mended by holding back what
//! came too early. `insert.rs` takes a load or a few out and puts each back where it ends earliest among the others:
//! for one load among loads whose times stand the moments for each of its tasks form a few intervals, so that this is
//! exact. Four searches with their own luck run side by side whatever the machine. What no plan can beat is in
//! `bound/`: each order by itself; hands, tanks and stations one at a time, each with the least before and after
//! (largest tail first, with interruptions), in their hours, in the fewest loads; lateness by the k-th order that can
//! be ready. Each holds for every day on which all gets ready, also for one that breaks limits:
//! `tests/plan_bounds.rs` holds them against days by the rules and by any plans. "Cannot be kept" is said only of an
//! order that no plan has ready in time by itself (`earliest_ready`). The last choice is made under luck
//! (`choose.rs`, `Found::choice`): of the best by fewest due times and limits missed on 24 common days, from normal
//! effort on of the best two on 200; then by cost. Where no plan is as good as the shop's own rules on the day of
//! mean times, or these keep clearly more due times under luck, the plan is `Keeping::OwnRules`: the line runs as if
//! there were none. Beside end and lateness each day's own end counts (`Days` in `judge.rs`). With its times a plan
//! says on which day a load goes in: heaters are on for planned loads only (`line/planned_loads.rs`), and
//! `Plan::heat` names every heating-up that is later than the rules would have it, between two waves as well; it is
//! taken if it saves more than it costs (`heater_timing.rs`). A day that takes long to simulate counts as several
//! (`weight.rs`). Many lots on many days are planned day after day in the timetable (`rolling.rs`). From the second
//! round on care is brought forward, too (`care_timing.rs`): first a good day by the rules, then a better one with a bath
//! served where that stands less in the way. `cargo run --release --example published -- tests/scheduling/*.json`
//! holds it against published instances.
//!
//! # Known and left
//!
//! - Of several hundred orders on many days what is found is often no better than the shop's own rules, which then
//!   stay: the timetable knows nothing of care of baths, and the line can be asked for few such days.
//! - Where orders are cut up is decided before the search, by rules of thumb; only orders too large for one load are
//!   cut. A bath is heated later than the rules say, never earlier, and only for the first load of its tank. Care is
//!   brought forward to the end of an earlier load of its tank (`plan/serve.rs`, `Plan::calls`), never put off: what
//!   its rule says is the latest. Without `after:` care in a plan file waits for its rule. A load of a plan goes into
//!   one tank; routes through two baths are told `any` tank.

pub mod mornings;
pub mod plan_file;
pub mod planned;

mod beam_search;
mod blocks;
mod bound;
mod canonical;
mod care_timing;
mod chain;
mod change;
mod choose;
mod climb;
mod divide;
mod effort;
mod exchange;
mod fewer;
mod gaps;
mod heater_timing;
mod hot;
mod insert;
mod judge;
mod lanes;
mod longest;
mod mend;
mod model;
mod names;
mod pack;
mod promise;
mod rooms;
mod search;
mod settled;
mod standing;
mod start;
mod timed;
mod timetable;
mod try_out;
mod ways;
mod weight;

pub use bound::{Bounds, bounds, earliest_ready};
pub use choose::{Chances, Choice};
pub(crate) use climb::plan_on;
pub use effort::Effort;
pub use judge::Judged;
pub use promise::{Asked, Promised, Refused, promise};
pub use search::{Found, RuleResult, plan};
pub(crate) use timed::{Timed, timed};
pub use timed::{by_own_rules, cost_under_luck, judged};
pub use timetable::days_laid_out;
