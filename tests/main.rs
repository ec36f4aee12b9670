//! Everything that is tested from outside, one module for each behaviour.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod audit_balance;
mod audit_by_hand;
mod audit_faults;
mod bath_tanks;
mod bath_trajectories;
mod chem_balance;
mod chem_growth;
mod chem_hydrogen;
mod chem_ledger;
mod command_line;
mod kernel_batches;
mod kernel_exact;
mod kernel_queues;
mod line_day_by_hand;
mod line_low_water;
mod line_rules;
mod line_shops;
mod luck_quantiles;
mod luck_spreads;
mod luck_streams;
mod made_shop;
mod queue_files;
mod queue_models;
mod record_csv;
mod record_labels;
mod rinse_dry;
mod route_graph;
mod scenario_reads;
mod settle_filter;
mod small_shop;
mod stats_coverage;
mod stats_intervals;
mod stats_nist;
mod stats_series;
