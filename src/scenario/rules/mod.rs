//! Rules of meaning: what a scenario must keep beyond its format. One function each, from the facts to findings.

mod names;

use super::calendar::Hours;
use super::finding::Finding;
use super::names::Names;
use super::written::File;

/// What the rules look at.
#[derive(Debug, Clone, Copy)]
pub(super) struct Facts<'a> {
    /// As written.
    pub(super) file: &'a File,
    /// Its names.
    pub(super) names: &'a Names,
    /// Its days, if nothing is wrong with them.
    pub(super) hours: Option<&'a Hours>,
}

/// A rule.
type Rule = fn(&Facts) -> Vec<Finding>;

const ALL: &[&[Rule]] = &[names::ALL];

/// Everything that the rules find.
pub(super) fn check(facts: &Facts) -> Vec<Finding> {
    ALL.iter()
        .flat_map(|topic| topic.iter())
        .flat_map(|rule| rule(facts))
        .collect()
}
