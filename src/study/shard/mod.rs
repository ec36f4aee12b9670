//! One share of a study done elsewhere: what is written of it, and how shares become the whole again.
//!
//! Numbers are written as the 64 bits that they are, so that the joined study has the very bytes of the undivided one.
//!
//! # Known and left
//!
//! - `compare --assume` goes with no `--part`.

use crate::{Measure, Reading};
use serde::{Deserialize, Serialize};
use std::ops::Range;

/// The version of the written form.
const VERSION: u32 = 1;

/// Which share: the third of sixteen is `3/16`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Share {
    /// Which, from 1.
    pub nth: u32,
    /// Of how many.
    pub of: u32,
}

impl Share {
    /// Most shares of one study.
    pub const MOST: u32 = 10_000;

    /// Reads `3/16`.
    ///
    /// # Errors
    /// A sentence that says what is wrong.
    pub fn read(text: &str) -> Result<Self, String> {
        let help = "write which share and of how many, such as `3/16`";
        let (nth, of) = text.split_once('/').ok_or(help)?;
        let number = |t: &str| t.trim().parse::<u32>().map_err(|_| help.to_owned());
        let (nth, of) = (number(nth)?, number(of)?);
        if nth == 0 || nth > of || of > Self::MOST {
            return Err(format!("there is no share {nth} of {of}; {help}"));
        }
        Ok(Self { nth, of })
    }

    /// Its replications of so many: a stretch, as long as the others but for one.
    #[must_use]
    pub fn stretch(self, replications: u32) -> Range<u32> {
        let end = |n: u32| (u64::from(n) * u64::from(replications) / u64::from(self.of.max(1))) as u32;
        end(self.nth.saturating_sub(1))..end(self.nth)
    }
}

impl std::fmt::Display for Share {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}/{}", self.nth, self.of)
    }
}

/// A share as it is written.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Shard<S> {
    /// The version of the form.
    tankday_part: u32,
    /// Which share.
    share: Share,
    /// What tells this study from any other: its scenarios, values, luck and number of replications.
    study: String,
    /// Replications of the whole.
    replications: u32,
    /// The figures, by their keys.
    figures: Vec<String>,
    /// What is needed to tell the results.
    setup: S,
    /// Bits of all readings: by alternative, replication and figure.
    readings: Vec<Vec<Vec<u64>>>,
}

/// What a study is told from others by: the FNV-1a hash, 64 bits, of all that decides its results.
#[must_use]
pub fn fingerprint<'a>(texts: impl IntoIterator<Item = &'a str>) -> String {
    let version = env!("CARGO_PKG_VERSION");
    tankday_base::fingerprint::of(std::iter::once(version).chain(texts))
}

impl<S> Shard<S> {
    /// A share with its readings, alternative by alternative.
    pub fn new(share: Share, study: String, replications: u32, setup: S, readings: &[Vec<Reading>]) -> Self {
        let bits = |r: &Reading| r.0.map(f64::to_bits).to_vec();
        Self {
            tankday_part: VERSION,
            share,
            study,
            replications,
            figures: keys(),
            setup,
            readings: readings
                .iter()
                .map(|all| all.iter().map(bits).collect())
                .collect(),
        }
    }

    /// What was written beside the readings.
    pub const fn setup(&self) -> &S {
        &self.setup
    }
}

fn keys() -> Vec<String> {
    Measure::ALL.iter().map(|m| m.key().to_owned()).collect()
}

/// A study put together again: what was written beside the readings, and the readings, alternative by alternative.
pub type Whole<S> = (S, Vec<Vec<Reading>>);

/// Puts all shares of one study together; the names of the files they come from are for messages.
///
/// # Errors
/// When a share is missing or there twice, or when one is of another study; the sentence names the file.
pub fn joined<S: Clone + PartialEq>(mut parts: Vec<(String, Shard<S>)>) -> Result<Whole<S>, String> {
    parts.sort_by_key(|(_, p)| p.share.nth);
    let Some((first_name, first)) = parts.first().cloned() else {
        return Err("there are no parts".to_owned());
    };
    for (name, part) in &parts {
        if part.tankday_part != VERSION || part.figures != keys() {
            return Err(format!("{name} was written by another version of this program"));
        }
        let same = part.study == first.study
            && part.share.of == first.share.of
            && part.replications == first.replications
            && part.setup == first.setup;
        if !same {
            return Err(format!("{name} is a part of another study than {first_name}"));
        }
    }
    complete(&parts, first.share.of)?;
    let mut whole: Vec<Vec<Reading>> = vec![Vec::new(); first.readings.len()];
    for (name, part) in &parts {
        let expected = part.share.stretch(first.replications).len();
        let odd = part.readings.len() != whole.len() || part.readings.iter().any(|a| a.len() != expected);
        if odd {
            return Err(format!("{name} does not hold what part {} must", part.share));
        }
        for (all, more) in whole.iter_mut().zip(&part.readings) {
            for bits in more {
                let bits: [u64; Measure::COUNT] = bits
                    .as_slice()
                    .try_into()
                    .map_err(|_| format!("{name} does not hold what part {} must", part.share))?;
                all.push(Reading(bits.map(f64::from_bits)));
            }
        }
    }
    Ok((first.setup, whole))
}

/// Refuses shares that are missing or there twice.
fn complete<S>(parts: &[(String, Shard<S>)], of: u32) -> Result<(), String> {
    for pair in parts.windows(2) {
        if let [(one, a), (two, b)] = pair
            && a.share == b.share
        {
            return Err(format!("{one} and {two} are both part {}", a.share));
        }
    }
    let there = |n: &u32| parts.iter().any(|(_, p)| p.share.nth == *n);
    let missing: Vec<String> = (1..=of)
        .filter(|n| !there(n))
        .map(|n| format!("{n}/{of}"))
        .collect();
    match missing.as_slice() {
        [] => Ok(()),
        [one] => Err(format!("part {one} is missing")),
        some if some.len() <= 8 => Err(format!("parts {} are missing", tankday_base::print::list(some))),
        [first, ..] => Err(format!("{} parts are missing, {first} among them", missing.len())),
    }
}
