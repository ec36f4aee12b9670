//! What is typed behind `tankday quote`.

use crate::given::Given;
use crate::sets::Sets;
use clap::Args;
use std::path::PathBuf;
use tankday_base::shop::Shop;
use tankday_base::units::{Share, number, split_number};

/// `tankday quote`.
#[derive(Debug, Args)]
pub(in super::super) struct Typed {
    /// The scenario with the other orders of the day, the shop's prices and its rates.
    pub file: PathBuf,
    /// What is put in place of what is written.
    #[command(flatten)]
    pub set: Sets,
    /// The order: `60 wood screws, small steel`, or a file with the keys of an order. Without it every order of the scenario
    /// is quoted.
    #[arg(long, value_name = "ORDER")]
    pub order: Option<String>,
    /// Share of the price that isn't cost, such as `35 %`; without it as `shop.rates` says.
    #[arg(long, value_name = "SHARE", value_parser = margin)]
    pub margin: Option<Share>,
    /// The least that an order costs, such as `25 EUR`; without it as `shop.rates` says.
    #[arg(long, value_name = "AMOUNT", value_parser = Amount::read)]
    pub minimum: Option<Amount>,
    /// How it is given.
    #[command(flatten)]
    pub given: Given,
}

/// The most that a margin is, as in a scenario.
const MOST_MARGIN: f64 = 95.0;

/// Reads `35 %`.
///
/// # Errors
/// When it is no share, or leaves nothing of the price for the cost.
fn margin(text: &str) -> Result<Share, String> {
    let help = "a margin is a share of the price, such as `35 %`";
    let digits = text.trim().trim_end_matches('%').trim();
    match number(digits) {
        Ok(percent) if (0.0..=MOST_MARGIN).contains(&percent) => Ok(Share::percent(percent)),
        Ok(_) => Err(format!(
            "{help}, from 0 % to 95 %: above it nothing is left for the cost"
        )),
        Err(_) => Err(help.to_owned()),
    }
}

/// An amount of money, with its currency where that was typed.
#[derive(Debug, Clone, PartialEq)]
pub(in super::super) struct Amount {
    typed: String,
    value: f64,
    currency: Option<String>,
}

impl Amount {
    /// Reads `25 EUR` or `25`.
    ///
    /// # Errors
    /// When it is no amount.
    fn read(text: &str) -> Result<Self, String> {
        let help = "write an amount, such as `25` or `25 EUR`";
        let (value, rest) = split_number(text.trim()).map_err(|_| help.to_owned())?;
        if !(0.0..=1e9).contains(&value) {
            return Err(format!("{help}, from 0 to 1000000000"));
        }
        let currency = rest.trim();
        Ok(Self {
            typed: text.trim().to_owned(),
            value,
            currency: (!currency.is_empty()).then(|| currency.to_owned()),
        })
    }

    /// The amount in the shop's currency.
    ///
    /// # Errors
    /// When it is in another: nothing is converted.
    pub(super) fn within(&self, shop: &Shop) -> Result<f64, String> {
        let own = &shop.prices.currency;
        match &self.currency {
            Some(other) if other != own => Err(format!(
                "--minimum: `{}` is in {other}, and the scenario's prices are in {own}; write `{} {own}`, or change \
                 `shop.prices.currency`",
                self.typed,
                tankday_base::print::number(self.value, if self.value.fract() == 0.0 { 0 } else { 2 }),
            )),
            _ => Ok(self.value),
        }
    }
}
