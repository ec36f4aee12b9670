//! Materials, routes and orders as written.

use super::{Got, MOST_STEPS};
use crate::finding::{Code, Finding};
use crate::keys;
use crate::node::{Node, Place, Spot, Value};
use crate::time::{self, When};
use crate::value;
use crate::walk::{Fields, Walk};
use tankday_base::luck::Spread;
use tankday_base::shop::{AtBreak, Hands, Relieves, StepKind};
use tankday_base::units::{Density, HeatCapacity, Share, Span, Speed, Temperature, VolumePerArea};

/// A material.
#[derive(Debug)]
pub(crate) struct Material {
    pub(crate) name: Spot<String>,
    pub(crate) like: Got<String>,
    pub(crate) coats: Got<bool>,
    pub(crate) because: Got<String>,
    pub(crate) heat_capacity: Got<HeatCapacity>,
    pub(crate) density: Got<Density>,
    pub(crate) slower: Got<f64>,
    pub(crate) heavier: Got<f64>,
    pub(crate) hardened: Got<bool>,
    pub(crate) tempered: Got<Temperature>,
    /// Where it says what it is like, if it does.
    pub(crate) like_at: Option<Place>,
}

impl Material {
    pub(super) fn read(name: &Spot<String>, node: &Node, walk: &mut Walk) -> Option<Self> {
        let mut f = Fields::of(name.at, node, &keys::MATERIALS, walk)?;
        Some(Self {
            name: name.clone(),
            like_at: f.place("like"),
            like: f.or("like", value::name),
            coats: f.get("coats", value::yes),
            because: f.or("because", value::text),
            heat_capacity: f.get("heat capacity", value::positive),
            density: f.get("density", value::positive),
            slower: f.get("slower", value::factor::<1, 100>),
            heavier: f.get("heavier", value::factor::<1, 100>),
            hardened: f.get("hardened", value::yes),
            tempered: f.get("tempered", value::temperature),
        })
    }
}

/// A way through the shop.
#[derive(Debug)]
pub(crate) struct Route {
    pub(crate) name: Spot<String>,
    pub(crate) steps: Vec<Step>,
    /// How many steps are written, those that could not be read included.
    pub(crate) written: usize,
}

impl Route {
    pub(super) fn read(name: &Spot<String>, node: &Node, walk: &mut Walk) -> Option<Self> {
        if matches!(node.value, Value::Map(_)) {
            walk.add(
                Finding::new(
                    Code::WrongKind,
                    name.at,
                    format!("the route `{}` is no list of steps", name.value),
                )
                .help(
                    "begin each step on a line of its own with a dash: `- {do: rinse, at: sink, for: 1 min}`",
                ),
            );
            return None;
        }
        let written = walk.items(node).len();
        let steps = walk.list(node, "steps", MOST_STEPS, Step::read);
        Some(Self {
            name: name.clone(),
            steps,
            written,
        })
    }
}

/// One step.
#[derive(Debug)]
pub(crate) struct Step {
    pub(crate) at: Place,
    /// What is done.
    pub(crate) what: Got<String>,
    /// The kind that is written.
    pub(crate) own_kind: Got<StepKind>,
    /// Its own name on the route, if one is given.
    pub(crate) own_name: Got<String>,
    /// Where it happens: `at`, or for a coating step the tanks that it names.
    pub(crate) stations: Vec<Spot<String>>,
    /// Tanks that it names.
    pub(crate) tanks: Vec<Spot<String>>,
    /// The bath that coats: as written, or that of the tank that it names.
    pub(crate) bath: Got<String>,
    pub(crate) time: Got<Spread>,
    pub(crate) each: Got<Span>,
    pub(crate) hands: Got<Hands>,
    pub(crate) put_in: Got<Span>,
    pub(crate) take_out: Got<Span>,
    /// How fast the air is that dries, where it does.
    pub(crate) dries: Got<Speed>,
    pub(crate) film: Got<VolumePerArea>,
    pub(crate) relieves: Got<Relieves>,
    /// Temperature of the work, none inside for that of the air; with its default where it relieves.
    pub(crate) heat: Got<Option<Temperature>>,
    pub(crate) drip: Got<Span>,
    pub(crate) most: Got<Span>,
    pub(crate) within: Got<Span>,
    pub(crate) at_once: Got<bool>,
    pub(crate) at_break: Got<AtBreak>,
    pub(crate) overnight: Got<()>,
    /// Absent where it follows the step above.
    pub(crate) after: Option<Vec<Spot<String>>>,
    pub(crate) only: Vec<Spot<String>>,
    /// None inside where the causes decide.
    pub(crate) fails: Got<Option<Share>>,
    pub(crate) back_to: Got<String>,
    /// Where its keys stand.
    pub(crate) places: StepPlaces,
}

/// Where the keys of a step stand, those whose mere presence matters.
#[derive(Debug, Default)]
pub(crate) struct StepPlaces {
    pub(crate) at: Option<Place>,
    pub(crate) bath: Option<Place>,
    /// Keys that say the same as another that is written, too: the key, its place, that of the other.
    pub(crate) twice: Vec<(&'static str, Place, Place)>,
    pub(crate) time: Option<Place>,
    pub(crate) each: Option<Place>,
    pub(crate) put_in: Option<Place>,
    pub(crate) take_out: Option<Place>,
    pub(crate) drip: Option<Place>,
    pub(crate) most: Option<Place>,
    pub(crate) fails: Option<Place>,
    pub(crate) back_to: Option<Place>,
}

impl StepPlaces {
    fn of(f: &Fields) -> Self {
        Self {
            at: f.place("at").or(f.place("tank")),
            bath: f.place("in").or(f.place("bath")).or(f.place("tank")),
            twice: [("at", "tank"), ("in", "bath")]
                .into_iter()
                .filter_map(|(a, b)| Some((b, f.place(b)?, f.place(a)?)))
                .collect(),
            time: f.place("for"),
            each: f.place("each piece"),
            put_in: f.place("put in"),
            take_out: f.place("take out"),
            drip: f.place("drip"),
            most: f.place("at most"),
            fails: f.place("fails"),
            back_to: f.place("back to"),
        }
    }
}

impl Step {
    fn read(node: &Node, walk: &mut Walk) -> Option<Self> {
        let mut f = Fields::new(node, &keys::STEPS, walk)?;
        let relieves = f.get("relieves", relieves);
        let what = relieves.as_ref().map(|r| r.value);
        let heat = heat(&mut f, what);
        Some(Self {
            at: f.at,
            places: StepPlaces::of(&f),
            within: within(&mut f, what, heat.as_ref().and_then(|h| h.value)),
            dries: dries(&mut f),
            film: f.get("film", value::positive),
            relieves,
            heat,
            what: f.get("do", value::name),
            own_kind: f.get("kind", |n, w| value::word(n, w, &StepKind::ALL)),
            own_name: f.get("as", value::name),
            stations: if f.has("at") {
                names(&mut f, "at")
            } else {
                names(&mut f, "tank")
            },
            tanks: names(&mut f, "tank"),
            bath: if f.has("in") {
                f.get("in", value::name)
            } else {
                f.get("bath", value::name)
            },
            time: f.or("for", time::spread),
            each: f.or("each piece", time::span),
            hands: f.or("hands", hands),
            put_in: f.or("put in", time::span),
            take_out: f.or("take out", time::span),
            drip: f.or("drip", time::span),
            most: f.get("at most", time::span),
            at_once: f.or("at once", value::yes),
            at_break: f.or("at a break", at_break),
            overnight: f.get("or", |n, w| value::word(n, w, &[("overnight", ())])),
            after: f.has("after").then(|| names(&mut f, "after")),
            only: names(&mut f, "only"),
            fails: f.get("fails", |n, w| value::or_word(n, w, "by cause", value::share)),
            back_to: f.get("back to", value::name),
        })
    }

    /// A step that names a tank and no bath coats in the bath of that tank.
    pub(super) fn find_bath(&mut self, tanks: &[super::Tank]) {
        let Some(named) = self.tanks.first().filter(|_| self.bath.is_none()) else {
            return;
        };
        let called = |t: &&super::Tank| t.name.as_ref().is_some_and(|n| n.value == named.value);
        let bath = tanks.iter().find(called).and_then(|t| t.bath.as_ref());
        self.bath = bath.map(|b| Spot::new(b.value.clone(), named.at));
    }

    /// What it is called on its route.
    pub(crate) fn name(&self) -> Option<&Spot<String>> {
        self.own_name.as_ref().or(self.what.as_ref())
    }

    /// Whether it coats.
    pub(crate) fn coats(&self) -> bool {
        self.places.bath.is_some()
    }
}

fn relieves(node: &Node, walk: &mut Walk) -> Option<Relieves> {
    let words = [("stress", Relieves::Stress), ("hydrogen", Relieves::Hydrogen)];
    value::word(node, walk, &words)
}

/// The air that dries: still, or moved by a fan.
fn dries(f: &mut Fields) -> Got<Speed> {
    let words = |n: &Node, w: &mut Walk| {
        value::word(
            n,
            w,
            &[
                ("still air", "steps.dries, still air"),
                ("fan", "steps.dries, fan"),
            ],
        )
    };
    let key = f.get("dries", words)?;
    let speed = f.walk.usual(key.value, value::quantity)?;
    Some(Spot::new(speed, key.at))
}

/// As written, or what relief usually has.
fn heat(f: &mut Fields, relieves: Option<Relieves>) -> Got<Option<Temperature>> {
    let read: crate::walk::Read<Option<Temperature>> =
        |n, w| value::or_word(n, w, "as the air", value::temperature);
    if f.has("heat") {
        return f.get("heat", read);
    }
    let usual = match relieves? {
        Relieves::Stress => "steps.heat, stress",
        Relieves::Hydrogen => "steps.heat, hydrogen",
    };
    let at = f.at;
    f.walk.usual(usual, read).map(|heat| Spot::new(heat, at))
}

/// As written; hydrogen is baked out soon after coating.
fn within(f: &mut Fields, relieves: Option<Relieves>, heat: Option<Temperature>) -> Got<Span> {
    if f.has("within") || relieves != Some(Relieves::Hydrogen) || heat.is_none() {
        return f.get("within", time::span);
    }
    let at = f.at;
    f.walk
        .usual("steps.within, hydrogen", time::span)
        .map(|span| Spot::new(span, at))
}

fn hands(node: &Node, walk: &mut Walk) -> Option<Hands> {
    value::word(
        node,
        walk,
        &[
            ("none", Hands::None),
            ("ends", Hands::Ends),
            ("throughout", Hands::Throughout),
        ],
    )
}

fn at_break(node: &Node, walk: &mut Walk) -> Option<AtBreak> {
    value::word(
        node,
        walk,
        &[
            ("finish first", AtBreak::FinishFirst),
            ("pause", AtBreak::Pause),
            ("start again", AtBreak::StartAgain),
        ],
    )
}

/// One name or a list of names, each with its place.
pub(super) fn names(f: &mut Fields, key: &str) -> Vec<Spot<String>> {
    let read = |n: &Node, w: &mut Walk| value::name(n, w).map(|name| Spot::new(name, n.at));
    f.node(key)
        .map_or_else(Vec::new, |n| f.walk.list(n, "names", MOST_STEPS, read))
}

/// An order.
#[derive(Debug)]
pub(crate) struct Order {
    pub(crate) id: Got<String>,
    pub(crate) part: Got<String>,
    pub(crate) count: Got<u32>,
    pub(crate) route: Got<String>,
    pub(crate) arrives: Option<Arrives>,
    pub(crate) due: Got<When>,
    pub(crate) due_after: Got<Span>,
    pub(crate) looks: Got<bool>,
    pub(crate) weight: Got<f64>,
    /// Tanks that it is meant for.
    pub(crate) tanks: Vec<Spot<String>>,
    /// Where both `due` and `due after` are written.
    pub(crate) both: Option<(Place, Place)>,
}

/// When an order comes.
#[derive(Debug)]
pub(crate) enum Arrives {
    /// Once.
    Once(Spot<When>),
    /// Again and again.
    Every {
        at: Place,
        gap: Got<Spread>,
        from: Got<When>,
        until: Got<When>,
        most: Got<u32>,
        narrowed: Box<Narrowed>,
        /// Whether anything ends the stream.
        ends: bool,
    },
}

/// When and in which sizes the orders of a stream come.
#[derive(Debug)]
pub(crate) struct Narrowed {
    /// Only in opening hours.
    pub(crate) only: Got<()>,
    /// On these weekdays, counted from Monday as 0; none if all.
    pub(crate) on: Vec<Spot<usize>>,
    /// Fewest pieces.
    pub(crate) fewest: Got<u32>,
}

impl Order {
    pub(super) fn read(node: &Node, walk: &mut Walk) -> Option<Self> {
        let mut f = Fields::new(node, &keys::ORDERS, walk)?;
        Some(Self {
            id: f.get("id", value::name),
            part: f.get("part", value::name),
            count: f.or("count", value::pieces),
            route: f.get("route", value::name),
            arrives: Arrives::of(&mut f),
            due: f.get("due", time::when),
            due_after: f.get("due after", time::span),
            looks: f.or("looks", |n, w| {
                value::word(n, w, &[("matter", true), ("do not matter", false)])
            }),
            weight: f.or("late counts", value::factor::<1, 100>),
            tanks: names(&mut f, "tank"),
            both: f.place("due").zip(f.place("due after")),
        })
    }
}

/// The weekdays of a stream.
fn weekdays(f: &mut Fields) -> Vec<Spot<usize>> {
    let read = |n: &Node, w: &mut Walk| {
        let choices: Vec<(&'static str, usize)> = keys::WEEKDAYS.iter().copied().zip(0..).collect();
        value::word(n, w, &choices).map(|day| Spot::new(day, n.at))
    };
    f.node("on").map_or_else(Vec::new, |n| {
        f.walk.list(n, "weekdays", keys::WEEKDAYS.len(), read)
    })
}

impl Arrives {
    fn of(f: &mut Fields) -> Option<Self> {
        if !matches!(f.node("arrives").map(|n| &n.value), Some(Value::Map(_))) {
            return f.or("arrives", time::when).map(Self::Once);
        }
        let mut f = f.inner("arrives", &keys::ARRIVES)?;
        Some(Self::Every {
            at: f.at,
            gap: f.get("every", time::spread),
            from: f.or("from", time::when),
            until: f.get("until", time::when),
            most: f.get("up to", value::count::<1, { super::MOST_IN_STREAM }>),
            narrowed: Box::new(Narrowed {
                only: f.get("only", |n, w| value::word(n, w, &[("opening hours", ())])),
                on: weekdays(&mut f),
                fewest: f.get("fewest", value::pieces),
            }),
            ends: f.has("until") || f.has("up to"),
        })
    }
}
