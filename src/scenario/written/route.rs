//! Routes and their steps as written.

use super::{Given, MOST_STEPS, Part};
use crate::defaults::{CUSTOM, NEUTRAL, OURS};
use crate::fields::Fields;
use crate::finding::{Code, Finding};
use crate::kinds::{Said, said};
use crate::node::{Node, SourceSpan, Spanned, Value};
use crate::reader::{AS_AIR, NAME, SHARE, SPAN, SPREAD, YES, positive};
use crate::thing::{Kind, Reader, Thing, or_word, thing, words};
use crate::value;
use crate::walk::Walk;
use tankday_base::random::Spread;
use tankday_base::shop::{AtBreak, Hands, Relieves, StepKind};
use tankday_base::units::{Share, Span, Speed, Temperature, VolumePerArea};

/// A way through the shop.
#[derive(Debug)]
pub(crate) struct Route {
    pub(crate) name: Spanned<String>,
    pub(crate) steps: Vec<Step>,
    /// How many steps are written, those that could not be read included.
    pub(crate) written: usize,
}

impl Route {
    pub(super) fn read(name: &Spanned<String>, node: &Node, walk: &mut Walk) -> Option<Self> {
        if matches!(node.value, Value::Map(_)) {
            let message = format!("the route `{}` is not a list of steps", name.value);
            let help =
                "begin each step on a line of its own with a dash: `- {do: rinse, at: sink, for: 1 min}`";
            return walk.refuse(Finding::new(Code::WrongKind, name.at, message).help(help));
        }
        let written = walk.items(node).len();
        let mut steps = walk.list(node, "steps", MOST_STEPS, Step::of_route);
        if steps.len() == written {
            Step::goes_on_soon(&mut steps, walk);
            Step::acid_goes_off(&mut steps, walk);
        }
        Some(Self {
            name: name.clone(),
            steps,
            written,
        })
    }
}

/// The words of [`StepKind::ALL`].
const KINDS: [&str; StepKind::ALL.len()] = {
    let mut words = [""; StepKind::ALL.len()];
    let mut i = 0;
    while i < words.len() {
        words[i] = StepKind::ALL[i].0;
        i += 1;
    }
    words
};
const KIND: Reader<StepKind> = Reader::new(Kind::Word(&KINDS), |n, w| value::word(n, w, &StepKind::ALL));
const HANDS: Reader<Hands> = words!(
    "none" => Hands::None,
    "ends" => Hands::Ends,
    "throughout" => Hands::Throughout,
);
const AT_BREAK: Reader<AtBreak> = words!(
    "finish first" => AtBreak::FinishFirst,
    "pause" => AtBreak::Pause,
    "start again" => AtBreak::StartAgain,
);
/// Air that dries, by the case of its speed.
const DRIES: Reader<&str> = words!("still air" => "still air", "fan" => "fan");
const RELIEVES: Reader<Relieves> = words!("stress" => Relieves::Stress, "hydrogen" => Relieves::Hydrogen);

thing! {
    /// One step.
    Step "steps", "a step" {
        must "do" what: String = NAME, "what is done, such as blast";
        /// The kind that is written.
        may "kind" own_kind: StepKind = KIND,
            "what kind of step it is, where `do` says it in words of your own: cautions go by it";
        may "as" own_name: String = NAME, "its name on this route, if something is done twice";
        /// Where it happens: `at`, or for a coating step the tanks that it names.
        may own "at" stations: Vec<Spanned<String>> = Kind::Some(&Kind::Text)
            => |f| if f.has(&Self::stations) { f.names(&Self::stations) } else { f.names(&Self::tanks) },
            "the station, or several in the order of preference";
        /// The bath that coats: as written, or that of the tank that it names.
        may own "in" bath: Given<String> = Kind::Text
            => |f| f.value(if f.has(&Self::bath) { &Self::bath } else { &Self::_other }, value::name),
            "the bath that coats, instead of a station and a time";
        may own "bath" _other: () = Kind::Text => |_f| (), "another word for `in`";
        /// Tanks that it names.
        may names "tank" tanks: Vec<Spanned<String>>,
            "the tank that coats, or several, instead of a bath: their bath coats";
        or "for" time: Spread = SPREAD,
            "how long, such as 8 min, 4 to 7 min, about 5 min ± 1 min", {"0 min": "only beside `each piece`"};
        or "each piece" each: Span = SPAN, "so much more for each piece, such as 20 s", {"0 s": NEUTRAL};
        or "hands" hands: Hands = HANDS,
            "whether hands are needed: none, ends (put in, take out) or throughout", {"ends": OURS};
        or "put in" put_in: Span = SPAN, "hands' time to put a load in, such as 1 min", {"1 min": CUSTOM};
        or "take out" take_out: Span = SPAN,
            "hands' time to take a load out, such as 1 min", {"1 min": CUSTOM};
        or "drip" drip: Span = SPAN,
            "how long a load drips over the bath while it is taken out, such as 20 s",
            {"10 s": "common practice, no source; weighed panels gain nothing beyond 40 s (Rinsing Manual, Appendix D)"};
        /// With its default where acid works on, or the time is one that never ends.
        may "at most" most: Span = SPAN, "longest stay before the work suffers, such as 30 min", {
            "5 min" for "acid, beyond its time": "common practice, no source: acid that has done its work eats steel",
        };
        /// With its default where it bakes out hydrogen, or what comes out of a bath or of acid goes on.
        may "within" within: Span = SPAN,
            "longest wait after the step before, such as 1 min", {
            "2 min" for "behind acid": "common practice, no source: acid that dries on stains, and what is left of it rusts",
            "15 min" for "wet from acid": "common practice, no source: bare wet steel rusts in minutes",
            "2 min" for "rinse after the bath": "common practice, no source: hot work dries in a minute or two, and the acid on it stains",
            "15 min" for "wet after the bath": "common practice, no source: wet steel rusts in minutes, and 5 min is better",
            "1 h" for "bare after the bath": "common practice, no source: until it is oiled or sealed, wet or bare work rusts",
            "4 h" for "hydrogen": "common practice, no source; an old rule said 24 h; where it is held at room temperature no limit",
        }, after "heat";
        or "at once" at_once: bool = YES,
            "yes: the same hands go on from the step before without laying the load down", {"no": NEUTRAL}, after "within";
        or "at a break" at_break: AtBreak = AT_BREAK,
            "what becomes of work under hands when a break begins", {"finish first": CUSTOM}, after "at once";
        may "or" overnight: () = words!("overnight" => ()), "overnight: may stay in until the next opening";
        /// Absent where it follows the step above.
        may own "after" after: Option<Vec<Spanned<String>>> = Kind::Some(&Kind::Text)
            => |f| f.has(&Self::after).then(|| f.names(&Self::after)),
            "steps that must be done before, by name, or `nothing`; else the one above";
        /// How fast the air is that dries, where it does.
        may own "dries" dries: Given<Speed> = DRIES.kind => |f| dries(f),
            "drying by the air of the room, instead of a time: it follows from the air and the part", {
            "0 m/s" for "still air": "a film at the wet bulb's temperature; pool equation of ASHRAE",
            "2 m/s" for "fan": "common practice, no source",
        };
        may "film" film: VolumePerArea = positive(),
            "water that is on the work when it begins to dry, such as 15 mL/m2 after blowing off";
        may "relieves" relieves: Relieves = RELIEVES,
            "what a long step without hands relieves: stress, before coating, or hydrogen, after it";
        /// Temperature of the work, none inside for that of the air; with its default where it relieves.
        may own "heat" heat: Given<Option<Temperature>> = AS_AIR.kind => |f| heat(f, relieves.as_ref(), rests(what.as_ref(), own_kind.as_ref())),
            "temperature of the work in this step, such as 102 °C", {
            "190 °C" for "stress": "DOD-P-16232F, 3.3: 177 to 204 °C, 1 h for each inch of thickness, at least half an hour",
            "as the air" for "hydrogen, at rest": OURS,
            "102 °C" for "hydrogen": "98 to 107 °C for 8 h, or 120 h at room temperature (`as the air`): from memory, the paragraphs of DOD-P-16232F and MIL-DTL-16232G were not seen",
        };
        may names "only" only: Vec<Spanned<String>>, "only these parts pass it";
        /// None inside where the causes decide.
        may "fails" fails: Option<Share> = or_word!("by cause", SHARE),
            "share of loads that fail here, such as 2 %, or by cause: what happened to a load counts";
        may "back to" back_to: String = NAME, "the step that a failed load goes back to";
    }
}

impl Step {
    /// A step with the time within which hydrogen is baked out after coating.
    fn of_route(node: &Node, walk: &mut Walk) -> Option<Self> {
        let mut step = Self::read(node, walk)?;
        let bakes = step
            .relieves
            .as_ref()
            .is_some_and(|r| r.value == Relieves::Hydrogen);
        let heated = step.heat.as_ref().is_some_and(|h| h.value.is_some());
        if bakes && heated && step.place(&Self::within).is_none() {
            let usual = walk.usual(&Self::within, "hydrogen");
            step.within = usual.map(|span| Spanned::new(span, step.places.at));
        }
        step.acid_works_on(walk);
        Some(step)
    }

    /// What is left in acid when its time is over comes out soon, unless it may stay over night.
    fn acid_works_on(&mut self, walk: &mut Walk) {
        let free = self.place(&Self::most).is_none()
            && self.place(&Self::each).is_none()
            && self.overnight.is_none();
        let by_hand = self.hands.as_ref().is_some_and(|h| h.value == Hands::Ends);
        if self.kind() == StepKind::Pickle && free && by_hand {
            let time = self.time.as_ref().and_then(|t| as_a_rule(&t.value));
            let more = walk.usual(&Self::most, "acid, beyond its time");
            let most = time.zip(more).map(|(time, more)| time + more);
            self.most = most.map(|span| Spanned::new(span, self.places.at));
        }
    }

    /// What comes out of acid is rinsed before it is dry, and goes on from the rinse before it rusts.
    fn acid_goes_off(steps: &mut [Self], walk: &mut Walk) {
        for i in 1..steps.len() {
            let acid = |step: Option<&Self>| step.is_some_and(|s| s.kind() == StepKind::Pickle);
            let (before, step) = (&steps[i - 1], &steps[i]);
            let rinsed = before.kind() == StepKind::Rinse && acid(i.checked_sub(2).map(|n| &steps[n]));
            let case = match (acid(Some(before)), rinsed) {
                (true, _) => "behind acid",
                (_, true) => "wet from acid",
                _ => continue,
            };
            let follows = step.after.is_none() && step.relieves.is_none();
            if follows && step.place(&Self::within).is_none() {
                let usual = walk.usual(&Self::within, case);
                steps[i].within = usual.map(|span| Spanned::new(span, steps[i].places.at));
            }
        }
    }

    /// What comes out of a bath goes on until something keeps rust from it: it is rinsed before it is dry, and what is wet or
    /// bare does not wait for hours, a night least of all. What lies for its hydrogen lies long anyway.
    fn goes_on_soon(steps: &mut [Self], walk: &mut Walk) {
        let mut bare = false;
        for i in 1..steps.len() {
            let (before, step) = (&steps[i - 1], &steps[i]);
            let kept = before.kind().keeps_rust_away() || before.relieves.is_some();
            bare = before.coats() || bare && !kept;
            let follows = bare && step.after.is_none() && step.relieves.is_none();
            if follows && step.place(&Self::within).is_none() {
                let case = match step.kind() {
                    StepKind::Rinse if before.coats() => "rinse after the bath",
                    kind if kind.dries() => "wet after the bath",
                    _ => "bare after the bath",
                };
                let usual = walk.usual(&Self::within, case);
                steps[i].within = usual.map(|span| Spanned::new(span, steps[i].places.at));
            }
        }
    }

    /// A step that names a tank and no bath coats in the bath of that tank.
    pub(super) fn find_bath(&mut self, tanks: &[super::Tank]) {
        let Some(named) = self.tanks.first().filter(|_| self.bath.is_none()) else {
            return;
        };
        let called = |t: &&super::Tank| t.name.as_ref().is_some_and(|n| n.value == named.value);
        let bath = tanks.iter().find(called).and_then(|t| t.bath.as_ref());
        self.bath = bath.map(|b| Spanned::new(b.value.clone(), named.at));
    }

    /// What it is called on its route.
    pub(crate) fn name(&self) -> Option<&Spanned<String>> {
        self.own_name.as_ref().or(self.what.as_ref())
    }

    /// Whether a part passes it.
    pub(crate) fn concerns(&self, part: &Part) -> bool {
        self.only.is_empty() || self.only.iter().any(|name| name.value == part.name.value)
    }

    /// Where the bath is named that coats, if one is.
    pub(crate) fn bath_at(&self) -> Option<SourceSpan> {
        self.first(&[&Self::bath, &Self::_other, &Self::tanks])
    }

    /// Whether it coats.
    pub(crate) fn coats(&self) -> bool {
        self.bath_at().is_some()
    }
}

/// The longest that a time is as a rule; none of one that knows no end.
fn as_a_rule(time: &Spread) -> Option<Span> {
    match time {
        Spread::Normal { mean, sd } | Spread::Lognormal { mean, sd } | Spread::Gamma { mean, sd } => {
            Some(*mean + sd.times(3.0))
        }
        _ => Some(time.most()).filter(|most| *most < Span::FOREVER),
    }
}

/// The air that dries: still, or moved by a fan.
fn dries(f: &mut Fields) -> Given<Speed> {
    let key = f.value(&Step::dries, DRIES.read)?;
    let speed = f.walk.usual_of(&Step::dries, key.value, value::quantity)?;
    Some(Spanned::new(speed, key.at))
}

/// Whether a step is a rest, by its kind or the words of `do`.
fn rests(what: Option<&Spanned<String>>, kind: Option<&Spanned<StepKind>>) -> bool {
    match (kind, what) {
        (Some(kind), _) => kind.value == StepKind::Rest,
        (None, Some(what)) => matches!(said(&what.value), Said::Known(StepKind::Rest)),
        (None, None) => false,
    }
}

/// As written, or what relief usually has.
fn heat(f: &mut Fields, relieves: Option<&Spanned<Relieves>>, rests: bool) -> Given<Option<Temperature>> {
    if f.has(&Step::heat) {
        return f.value(&Step::heat, AS_AIR.read);
    }
    let case = match relieves?.value {
        Relieves::Stress => "stress",
        Relieves::Hydrogen if rests => "hydrogen, at rest",
        Relieves::Hydrogen => "hydrogen",
    };
    f.value_or(&Step::heat, case, AS_AIR.read)
}
