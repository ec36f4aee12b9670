//! Rules as written.

use super::Got;
use super::care::Cares;
use super::odds::Odds;
use crate::keys;
use crate::node::{Node, Place, Value};
use crate::time::{self, When};
use crate::value::{self, word};
use crate::walk::{Fields, Walk};
use tankday_base::shop::{Combine, HandsFirst, HeatOff, HeatOn, LidRule, NextLoad, Split, WhenFull};
use tankday_base::units::{Share, Span, read_clock};

/// All of them.
#[derive(Debug)]
pub(crate) struct Rules {
    pub(crate) next: Got<NextLoad>,
    pub(crate) hands: Got<HandsFirst>,
    pub(crate) look_ahead: Got<bool>,
    pub(crate) when_full: Got<WhenFull>,
    pub(crate) split: Got<Split>,
    pub(crate) combine: Got<Combine>,
    pub(crate) fill_at_least: Got<Share>,
    pub(crate) fill_wait: Got<Span>,
    pub(crate) heat: Option<Heat>,
    pub(crate) top_up: Option<TopUp>,
    pub(crate) care: Option<Cares>,
    pub(crate) odds: Option<Odds>,
    /// Where they stand, if they are written.
    pub(crate) odds_at: Option<Place>,
    pub(crate) stop: Got<When>,
}

impl Rules {
    pub(super) fn read(node: &Node, walk: &mut Walk) -> Option<Self> {
        Fields::new(node, &keys::RULES, walk).map(Self::of)
    }

    pub(super) fn absent(at: Place, walk: &mut Walk) -> Self {
        Self::of(Fields::absent(&keys::RULES, walk, at))
    }

    fn of(mut f: Fields) -> Self {
        let mut fill = f.inner("fill", &keys::FILL);
        let fill_at_least = fill.as_mut().and_then(|f| f.or("at least", value::share));
        let fill_wait = fill.as_mut().and_then(|f| f.or("wait at most", time::span));
        Self {
            fill_at_least,
            fill_wait,
            next: f.or("next load", next_load),
            hands: f.or("hands first", |n, w| {
                word(
                    n,
                    w,
                    &[
                        ("urgent", HandsFirst::Urgent),
                        ("in order asked", HandsFirst::InOrderAsked),
                    ],
                )
            }),
            look_ahead: f.or("look ahead", value::yes),
            when_full: f.or("oil full", |n, w| {
                word(n, w, &[("wait", WhenFull::Wait), ("go", WhenFull::Go)])
            }),
            split: f.or("split", |n, w| {
                word(
                    n,
                    w,
                    &[("evenly", Split::Evenly), ("fill first", Split::FillFirst)],
                )
            }),
            combine: f.or("combine", combine),
            heat: f.inner("heat", &keys::HEAT).map(Heat::of),
            top_up: TopUp::of(&mut f),
            care: f.inner("care", &keys::CARE).map(Cares::of),
            odds_at: f.place("odds"),
            odds: f.inner("odds", &keys::ODDS).map(Odds::of),
            stop: f.get("stop", time::when),
        }
    }
}

fn next_load(node: &Node, walk: &mut Walk) -> Option<NextLoad> {
    word(
        node,
        walk,
        &[
            ("due first", NextLoad::DueFirst),
            ("arrived first", NextLoad::ArrivedFirst),
            ("longest dwell first", NextLoad::LongestDwellFirst),
            ("same route together", NextLoad::SameRouteTogether),
        ],
    )
}

fn combine(node: &Node, walk: &mut Walk) -> Option<Combine> {
    word(
        node,
        walk,
        &[
            ("never", Combine::Never),
            ("same part", Combine::SamePart),
            ("same route", Combine::SameRoute),
        ],
    )
}

/// Heating.
#[derive(Debug)]
pub(crate) struct Heat {
    pub(crate) on: Got<HeatOn>,
    pub(crate) off: Got<HeatOff>,
    pub(crate) lid: Got<LidRule>,
    pub(crate) unattended: Got<bool>,
}

impl Heat {
    fn of(mut f: Fields) -> Self {
        Self {
            on: f.or("switch on", switch_on),
            off: f.or("switch off", |n, w| {
                word(
                    n,
                    w,
                    &[
                        ("after the last load", HeatOff::AfterLast),
                        ("at closing", HeatOff::AtClosing),
                        ("never", HeatOff::Never),
                    ],
                )
            }),
            lid: f.or("lid", |n, w| {
                word(
                    n,
                    w,
                    &[
                        ("between loads", LidRule::BetweenLoads),
                        ("when off", LidRule::WhenOff),
                        ("never", LidRule::Never),
                    ],
                )
            }),
            unattended: f.or("unattended", |n, w| {
                word(n, w, &[("allowed", true), ("no", false)])
            }),
        }
    }
}

/// `at opening`, `at 07:00` or `ready by 08:30`.
fn switch_on(node: &Node, walk: &mut Walk) -> Option<HeatOn> {
    let text = value::scalar(node, walk, "when to switch on")?;
    if text == "at opening" {
        return Some(HeatOn::AtOpening);
    }
    let (read, rest): (fn(Span) -> HeatOn, &str) =
        match (text.strip_prefix("ready by "), text.strip_prefix("at ")) {
            (Some(rest), _) => (HeatOn::ReadyBy, rest),
            (None, Some(rest)) => (HeatOn::At, rest),
            (None, None) => (HeatOn::At, text),
        };
    let result = read_clock(rest).map_err(|e| {
        tankday_base::units::ReadError::new(e.message, "write `at opening`, `at 07:00` or `ready by 08:30`")
    });
    value::refuse(result, node, walk, "`at opening`, `at 07:00` or `ready by 08:30`").map(read)
}

/// Topping up.
#[derive(Debug)]
pub(crate) enum TopUp {
    /// Never.
    Never,
    /// When the level is below a share of the fill.
    Below {
        /// The share.
        below: Got<Share>,
        /// Hands' time.
        takes: Got<Span>,
        /// Whether the rule is written and not a default.
        written: bool,
    },
}

impl TopUp {
    fn of(f: &mut Fields) -> Option<Self> {
        if let Some(Value::Text(_)) = f.node("top up").map(|n| &n.value) {
            return f
                .get("top up", |n, w| word(n, w, &[("never", ())]))
                .map(|_| Self::Never);
        }
        let written = f.has("top up");
        let mut f = f.inner("top up", &keys::TOP_UP)?;
        Some(Self::Below {
            written,
            below: f.or("below", value::share),
            takes: f.or("takes", time::span),
        })
    }
}
