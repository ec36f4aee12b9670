//! The chemistry of a hot manganese phosphate bath: state, mass balance, events, limits, life.
//!
//! - [`Recipe`]: the constants, each an input; [`CONSTANTS`] explains them
//! - [`Chemistry`]: the state of one bath, and what happens to it
//! - [`Turnover`]: the mass balance of one coated surface
//! - [`Account`], [`Residuals`]: balances of iron, manganese, phosphorus and water that close to rounding
//! - [`pace()`], [`dwell`]: how the state of the bath and of a surface set the time
//! - [`Limits`], [`Breach`], [`Life`]: what to watch, and how long a bath will last
//!
//! Source where not said otherwise: the shop practice figures P1 to P78 of the checks, whose publications are
//! named beside each constant. The product and safety data sheet of the chemical bought override all of it.

mod account;
mod balance;
mod care;
mod constants;
pub mod fresh;
mod life;
mod limits;
pub mod mix;
mod pace;
pub mod species;
mod state;
mod work;

pub use crate::shop::{
    CoatsFrom, Contaminants, IronEffect, Limits, Oxidation, Recipe, StrengthEffect, Window,
};
pub use account::{Account, Residuals};
pub use balance::Turnover;
pub use care::Trim;
pub use constants::{CONSTANTS, Constant};
pub use life::{Life, Mix, Reach, life_left};
pub use limits::{Breach, Gravity, Side, Watched};
pub use pace::{
    BLASTED, CAST_IRON, DONE, Done, HARDENED, IronGrade, NO_COATING_BELOW, NO_GROWTH_BEYOND, PICKLED,
    POLISHED, Stay, Surface, Unreachable, Wanted, dwell, gassing, gassing_down_to, pace,
};
pub use species::{Dissolved, Elements, Sludge};
pub use state::{Chemistry, Contradiction, Exhausted, Readings};
