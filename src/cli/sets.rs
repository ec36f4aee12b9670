//! `KEY=VALUE`: values put in place of those that a scenario has, without editing it.

use super::exit::Failure;
use super::load::rendered;
use clap::Args;
use tankday_scenario::{Draft, Findings};

/// Values in place of those written.
#[derive(Debug, Clone, Default, PartialEq, Eq, Args)]
pub(super) struct Sets {
    /// What if: put a value in place of the one written, `--set "tanks.black tank.fill=24 L"`; the file stays as it is. Several
    /// with a `;` between them. As often as you like. Keys are those of `sweep --vary`.
    #[arg(long = "set", value_name = "KEY=VALUE", value_parser = Setting::read)]
    all: Vec<Setting>,
}

/// What one `--set` says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Setting {
    typed: String,
    pairs: Vec<(String, String)>,
}

impl Setting {
    fn read(text: &str) -> Result<Self, String> {
        Ok(Self {
            typed: text.trim().to_owned(),
            pairs: pairs(text)?,
        })
    }
}

/// `shop.hands=2; prices.hands=30 per h` as keys and values.
///
/// # Errors
/// Where a piece is no `KEY=VALUE`.
pub(super) fn pairs(text: &str) -> Result<Vec<(String, String)>, String> {
    let setting = |part: &str| {
        let (key, value) = part
            .split_once('=')
            .ok_or_else(|| format!("`{}` is no KEY=VALUE such as shop.hands=2", part.trim()))?;
        Ok((key.trim().to_owned(), value.trim().to_owned()))
    };
    text.split(';').map(setting).collect()
}

/// Puts each value where its key leads. A key may be unknown to some of the scenarios, as a tank that only one of them has,
/// but not to all; `named` is how the option is called in print.
///
/// # Errors
/// A key that leads nowhere in any of them.
pub(super) fn put(drafts: &mut [Draft], pairs: &[(String, String)], named: &str) -> Result<(), Findings> {
    for (key, value) in pairs {
        let mut first = None;
        let mut known = false;
        for draft in drafts.iter_mut() {
            match draft.set(named, key, value) {
                Ok(()) => known = true,
                Err(found) => first = first.or(Some(found)),
            }
        }
        if let (false, Some(found)) = (known, first) {
            return Err(found);
        }
    }
    Ok(())
}

impl Sets {
    /// Puts all of them into the scenarios.
    ///
    /// # Errors
    /// Wrong input: a key that leads nowhere in any of them.
    pub(super) fn put(&self, drafts: &mut [Draft]) -> Result<(), Failure> {
        for setting in &self.all {
            put(drafts, &setting.pairs, "--set").map_err(|found| Failure::input(rendered(&found)))?;
        }
        Ok(())
    }

    /// As they are typed behind a command, each with a blank before it.
    pub(super) fn typed(&self) -> String {
        let one = |s: &Setting| format!(" --set \"{}\"", s.typed);
        self.all.iter().map(one).collect()
    }
}
