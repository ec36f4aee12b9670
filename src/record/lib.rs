//! What happened, in order. The engine only appends; every figure is computed from here alone.

mod analysis;
mod cargo;
mod chain;
mod csv;
mod declared;
mod event;
mod figures;
mod finished;
mod labels;
mod long_run;
mod lost;
#[cfg(any(test, feature = "made"))]
pub mod made;
pub mod one_load;
mod priced;
mod reading;
mod sound;
mod tally;
mod tank_state;
mod task;
mod top_up;
mod visit;
mod waits;
mod watch;
mod window;

pub use analysis::{Analysis, Handled, TankLog};
pub use cargo::{Came, Cargo, Lot};
pub use chain::{Cause, Chain, Piece};
pub use csv::{CsvError, from_csv, to_csv, to_json};
pub use event::{Breach, LoadNo, LogEntry, OrderNo};
pub use figures::hours_open;
pub use figures::{
    ALL_BUT_STOPPED, Bare, BathFigure, BathWear, Bottleneck, CareFigure, Caution, Cost, CostKind, DwellRange,
    Figures, Kept, LeftBehind, OrderCost, OrderFigure, Reading, ReworkFigure, RinseFigure, StepShare,
    TankFigure, TankLoad, TankShares, WaitCause, Waited, Warning, WarningKind, Waste, bare,
};
pub use finished::{Finished, finished, summed};
pub use labels::{Labels, numbered};
pub use long_run::{LongRun, Served};
pub use lost::{TankHours, tank_hours};
pub use priced::{CostLine, CostOf, Priced, priced};
pub use reading::{BathReadings, BathSample, Coated, HeaterState};
pub use sound::Soundness;
pub use tally::{MeanSpan, StationFigure, Tally};
pub use tank_state::{TankState, TankStretch};
pub use task::{CareKind, CareUse, Task, TaskKind};
pub use top_up::ToppedUp;
pub use visit::{Trajectory, Visit};
pub use waits::{OrderWaits, Stretch, Wait, order_waits};
pub use watch::{Entry, Looks, NullObserver, Observer, Record};
