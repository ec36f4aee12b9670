//! Hands: no more at work than are there in these hours.

use super::found::{FaultKind, Findings};
use std::collections::BTreeSet;
use tankday_base::shop::Shop;
use tankday_record::{LogEntry, Record};

/// Whoever turns to a task finds fewer at work than are there; who is still at one when fewer come ends it.
pub(super) fn check(shop: &Shop, record: &Record, found: &mut Findings<'_>) {
    let mut busy: BTreeSet<u32> = BTreeSet::new();
    for entry in &record.entries {
        match entry.event {
            LogEntry::HandsTake { hand, .. } => {
                busy.insert(hand);
                let here = shop.hands_at(entry.at) as usize;
                if busy.len() > here {
                    let text = format!("{} pairs of hands are at work where {here} are there", busy.len());
                    found.say(entry.at, FaultKind::Hands, text);
                }
            }
            LogEntry::HandsFree { hand } => {
                busy.remove(&hand);
            }
            _ => {}
        }
    }
}
