//! tankday: the working day of a small finishing line, simulated and planned.

pub use tankday_audit as audit;
pub use tankday_base::bath;
pub use tankday_base::print;
pub use tankday_base::random;
pub use tankday_base::route;
pub use tankday_base::shape;
pub use tankday_base::shop;
pub use tankday_base::stats;
pub use tankday_base::units;
pub use tankday_chart as chart;
pub use tankday_cli as cli;
pub use tankday_line as line;
pub use tankday_line::kernel;
pub use tankday_output::narrative;
pub use tankday_output::report;
pub use tankday_output::sheet;
pub use tankday_plan as plan;
pub use tankday_plan::plan_file;
pub use tankday_plan::planned;
pub use tankday_record as record;
pub use tankday_scenario as scenario;
pub use tankday_study as study;
pub use tankday_study::compare;
pub use tankday_study::quote;
pub use tankday_study::shard;
pub use tankday_study::sweep;
pub use tankday_study::what_if;
