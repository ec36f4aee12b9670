//! Everything that a scenario may leave out, as it would be written, and where it comes from. Each stands with its key,
//! where that is declared; reading takes its values from there and from nowhere else, so that what `check --defaults`
//! prints is what is used. Here stand the sources that several of them have.

mod fixed;

pub use fixed::{Fixed, fixed};

use super::thing::{Key, Kind, Table, Thing};
use super::written::{Chemistry, File};
use tankday_base::bath::chemistry::{CONSTANTS, Constant};

/// One default.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DefaultValue {
    /// Where it would stand: `tanks.heater.swing`.
    pub key: &'static str,
    /// As it would be written.
    pub value: &'static str,
    /// Where it comes from.
    pub source: &'static str,
}

impl DefaultValue {
    /// Whether its value is a difference of temperatures: it is converted otherwise than a temperature.
    #[must_use]
    pub fn is_difference(&self) -> bool {
        let of = |key: &&Key| matches!(key.kind, Kind::DegreesApart) && key.usual.contains(self);
        keys().iter().any(of)
    }
}

/// All defaults, in the order of a scenario.
pub fn defaults() -> impl Iterator<Item = &'static DefaultValue> {
    keys().into_iter().flat_map(|key| key.usual)
}

/// Every key of a scenario in the order in which their defaults are listed.
fn keys() -> Vec<&'static Key> {
    let mut all = Listing::default();
    all.table(File::TABLE);
    all.keys
}

/// Keys as they are listed, each table once, where it is met first.
#[derive(Default)]
struct Listing {
    keys: Vec<&'static Key>,
    tables: Vec<&'static str>,
}

impl Listing {
    fn table(&mut self, table: &'static Table) {
        if self.tables.contains(&table.path) {
            return;
        }
        self.tables.push(table.path);
        for key in table.keys.iter().filter(|k| k.after.is_empty()) {
            self.with_what_follows(key, table);
        }
    }

    /// A key, plain ones that stand behind it, the keys of what it holds, then things that stand behind it.
    fn with_what_follows(&mut self, key: &'static Key, table: &'static Table) {
        self.keys.push(key);
        let behind = table.keys.iter().filter(|k| k.after == key.name);
        let (plain, things): (Vec<_>, Vec<_>) = behind.partition(|k| k.kind.tables().is_empty());
        for key in plain {
            self.with_what_follows(key, table);
        }
        for inner in key.kind.tables() {
            self.table(inner);
        }
        for key in things {
            self.with_what_follows(key, table);
        }
    }
}

/// Why nobody is away from a hot bath unless the shop says who stays.
pub(super) const ALONE: &str = "no hot acid is left alone: common practice, no source";
/// Why a hot bath is moved by a pump only.
pub(super) const CARRIED: &str =
    "nobody decants, filters or carries a bath above 60 °C: common practice, no source";
pub(super) const CUSTOM: &str = "common practice, no source";
pub(super) const OURS: &str = "assumption of this program, no source";
pub(super) const AIM: &str =
    "assumption of this program, no source: due times first, then an early finish, then the rest";
pub(super) const NEUTRAL: &str = "left out unless you set it";
pub(super) const TWO_SUPPLIERS: &str =
    "supplier data sheets (95-98 °C; 90-95 °C and never under 90 °C); an encyclopaedia entry has 88-99 °C";
pub(super) const INSIDE: &str = "one step inside the limit: assumption";
pub(super) const LOADING: &str = "assumption, from a barrel line in a handbook chapter on phosphate coatings (ASM Handbook vol. 5, attribution from memory)";

/// Where a constant of the chemistry comes from stands with its range in the table of constants.
pub(super) const fn recipe(constant: usize) -> &'static str {
    CONSTANTS[constant].source
}

/// Constants without a key of their own: drag-out, and the second of the two factors of strength on time.
const WITHOUT_KEY: [usize; 2] = [7, 17];

/// The constant of the chemistry behind a key of `baths.chemistry`, with its range and how to measure it: both stand in
/// the same order.
#[must_use]
pub fn constant(key: &str) -> Option<&'static Constant> {
    let key = key.strip_prefix("baths.chemistry.").unwrap_or(key);
    let place = Chemistry::TABLE.keys.iter().position(|k| k.name == key)?;
    let mut with_key = (0..CONSTANTS.len()).filter(|i| !WITHOUT_KEY.contains(i));
    CONSTANTS.get(with_key.nth(place)?)
}

#[cfg(test)]
mod tests {
    use super::{Chemistry, File, Table, Thing, constant, defaults, keys};

    #[test]
    fn no_key_is_lost_or_listed_twice() {
        let declared: usize = Table::all(File::TABLE).iter().map(|t| t.keys.len()).sum();
        assert!(declared > 300, "{declared}");
        assert_eq!(keys().len(), declared);
    }

    #[test]
    fn what_must_be_written_has_no_default() {
        assert!(keys().iter().all(|k| k.usual.is_empty() || !k.required));
    }

    #[test]
    fn constants_and_keys_stand_in_one_order() {
        for key in Chemistry::TABLE.keys {
            let source = key.usual("").map(|d| d.source);
            assert_eq!(constant(key.name).map(|c| c.source), source, "{}", key.name);
        }
    }

    #[test]
    fn differences_of_temperatures_are_known() {
        let all: Vec<&str> = defaults().filter(|d| d.is_difference()).map(|d| d.key).collect();
        assert_eq!(all, ["tanks.heater.swing"]);
    }
}
