//! `--assume`: the same comparison, something taken otherwise in every scenario that knows it.

use super::orders_differ;
use crate::args::Compare as Typed;
use crate::exit::Failure;
use crate::load::rendered;
use crate::sets;
use crate::settings::Saying;
use tankday_base::shop::Shop;
use tankday_scenario::{Code, Draft, Findings};
use tankday_study::Days;
use tankday_study::compare::{Alternative, Assumption, Comparison};

/// What is typed: `two pairs of hands: shop.hands=2; prices.hands=30 per h`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Assume {
    words: String,
    typed: String,
    settings: Vec<(String, String)>,
}

impl Assume {
    /// Reads it.
    ///
    /// # Errors
    /// Where a setting is no `KEY=VALUE`.
    pub(crate) fn read(text: &str) -> Result<Self, String> {
        let key_ends = text.find('=').unwrap_or(text.len());
        let named = text.split_once(": ").filter(|(name, _)| name.len() < key_ends);
        let (words, rest) = named.map_or((text, text), |(name, rest)| (name, rest));
        let settings = sets::pairs(rest)?;
        Ok(Self {
            words: words.trim().to_owned(),
            typed: text.to_owned(),
            settings,
        })
    }

    /// The scenarios under it. A setting may be unknown to some, as a tank that only one of them has, but not to all.
    fn drafts(&self, drafts: &[&Draft]) -> Result<Vec<Draft>, Findings> {
        let mut changed: Vec<Draft> = drafts.iter().map(|draft| (*draft).clone()).collect();
        sets::put(&mut changed, &self.settings, "--assume")?;
        Ok(changed)
    }
}

/// An assumption's shops, or why they cannot be.
pub(super) type Shops = Result<Vec<Shop>, String>;

/// The shops under every assumption that was typed.
///
/// # Errors
/// When a key is known to no scenario. A value that makes a scenario wrong is told with its assumption, and the rest goes on.
pub(super) fn shops(drafts: &[&Draft], typed: &Typed) -> Result<Vec<Shops>, Failure> {
    let under = |assume: &Assume| {
        let drafts = assume.drafts(drafts)?;
        read(&drafts, typed.different_orders)
    };
    let all = typed.assume.iter().map(under).collect::<Result<_, Findings>>();
    all.map_err(|found| Failure::input(rendered(&found)))
}

/// Compares the alternatives under every assumption that was typed, with as many replications as `usual` has. `days` are
/// those of the shops that can be, assumption by assumption.
///
/// # Errors
/// When the work cannot be done.
pub(super) fn compared(
    all: &[Shops],
    days: &[Days<'_>],
    usual: &Comparison,
    typed: &Typed,
    saying: Saying,
) -> Result<Vec<Assumption>, Failure> {
    let many = u32::try_from(usual.replications()).unwrap_or(u32::MAX);
    let sampled = typed.sampling.exactly(many).run(days, saying)?;
    let mut readings = sampled.readings.into_iter();
    let mut comparison = |shops: &Vec<Shop>| {
        let named = usual.alternatives.iter().zip(shops);
        let alternatives = named.filter_map(|(a, _)| {
            Some(Alternative {
                name: a.name.clone(),
                outlay: a.outlay,
                readings: readings.next()?,
            })
        });
        Comparison::of(alternatives.collect())
    };
    let outcome = |shops: &Shops| shops.as_ref().map(&mut comparison).map_err(Clone::clone);
    let outcomes: Vec<Result<Comparison, String>> = all.iter().map(outcome).collect();
    let named = typed.assume.iter().zip(outcomes);
    Ok(named
        .map(|(assume, outcome)| Assumption {
            words: assume.words.clone(),
            typed: assume.typed.clone(),
            outcome,
        })
        .collect())
}

/// The shops under it. A key that is none is a slip of the pen; any other mistake belongs to the value that was tried.
fn read(drafts: &[Draft], different_orders: bool) -> Result<Shops, Findings> {
    let mut shops = Vec::new();
    for draft in drafts {
        match draft.scenario() {
            Ok(scenario) => shops.push(scenario.shop),
            Err(found) if found.list.iter().any(|f| f.code == Code::UnknownKey) => return Err(found),
            Err(found) => return Ok(Err(found.first())),
        }
    }
    let differ = shops
        .split_first()
        .filter(|_| !different_orders)
        .and_then(|(first, others)| others.iter().find_map(|other| orders_differ(first, other)));
    Ok(match differ {
        Some(what) => Err(format!("the orders differ then: {what}")),
        None => Ok(shops),
    })
}

#[cfg(test)]
mod tests {
    use super::Assume;

    #[test]
    fn an_assumption_may_be_named() {
        let pair = |k: &str, v: &str| (k.to_owned(), v.to_owned());
        let read = |text: &str| Assume::read(text).map(|a| (a.words, a.settings));
        assert_eq!(
            read("two pairs: shop.hands=2; prices.hands=30 per h"),
            Ok((
                "two pairs".to_owned(),
                vec![pair("shop.hands", "2"), pair("prices.hands", "30 per h")]
            ))
        );
        assert_eq!(
            read("orders.A1.arrives=at 7: 30"),
            Ok((
                "orders.A1.arrives=at 7: 30".to_owned(),
                vec![pair("orders.A1.arrives", "at 7: 30")]
            ))
        );
        assert!(read("shop.hands").is_err() && read("").is_err() && read("a=1;").is_err());
    }
}
