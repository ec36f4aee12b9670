//! What is typed behind `tankday load`.

use crate::given::Given;
use crate::sets::Sets;
use clap::Args;
use std::path::PathBuf;
use tankday_base::units::Temperature;

/// `tankday load`.
#[derive(Debug, Args)]
pub(in super::super) struct Typed {
    /// The scenario.
    pub file: PathBuf,
    /// What is put in place of what is written.
    #[command(flatten)]
    pub set: Sets,
    /// What goes in: `400 wood screws + 25 lateral levers`. Without it: what to add to the bath, and when to leave it alone.
    #[arg(long, value_name = "PIECES")]
    pub load: Option<String>,
    /// The tank; without it the first that takes all the pieces.
    #[arg(long, value_name = "TANK")]
    pub tank: Option<String>,
    /// How hot the bath is as the load goes in, such as `88 °C`; without it as hot as it is held.
    #[arg(long, value_name = "TEMPERATURE", value_parser = super::temperature)]
    pub at: Option<Temperature>,
    /// How the bath reads: `total acid 33, free acid 5.5, iron 1.2 g/L`; what is left out is as the scenario says.
    #[arg(long, value_name = "READINGS")]
    pub bath: Option<String>,
    /// What the last load looks like: `grey, blotchy`. Tells the likely causes, and what doing it again costs.
    #[arg(long, value_name = "WORDS", value_parser = super::Seen::read)]
    pub came_out: Option<super::Seen>,
    /// How it is given.
    #[command(flatten)]
    pub given: Given,
}
