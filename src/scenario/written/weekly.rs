//! Days that come again every week, as written.

use super::{Break, Days, Given};
use crate::fields::Places;
use crate::node::{Node, Spanned, Value};
use crate::reader::{DATE, SPAN, YES, count};
use crate::thing::{Kind, Reader, Thing, thing};
use crate::walk::Walk;
use crate::week_hours::{PATTERN, WeekHours, week_hours};
use jiff::civil::Date;
use tankday_base::units::Span;

/// Most opening hours in one week, and most dates that are left out.
const MOST_WINDOWS: usize = 64;
const MOST_EXCEPT: usize = 5_000;

const HOURS: Reader<WeekHours> = Reader::new(Kind::Week(PATTERN), week_hours);
const WINDOWS: Kind = Kind::Some(&Kind::Or(&[HOURS.kind, Kind::Thing(Window::TABLE)]));

thing! {
    /// Days that come again every week. What lies between two windows of one day is like a break of that day: if nobody
    /// stays, loads are out, heaters off and lids on from its first moment, as long as it is. It is not like a closing: the
    /// day goes on after it, so that `overnight` means the night, and `day 2` the next date.
    Weekly "days.every", "a recurring day" {
        must own "every" every: Vec<Window> = WINDOWS
            => |f| f.list(&Self::every, MOST_WINDOWS, Window::read),
            "the hours of a week, such as [Tue 16:30 to 21:00, Sat 08:00 to 14:00]; between two windows of one day is a break";
        may "from" from: Date = DATE,
            "the first date that may be one of them, such as 2026-03-09; else the day after those before";
        may "for" over: Span = SPAN, "how long they come again, counted from that date, such as 3 weeks";
        may "until" until: Date = DATE, "the last date that may be one of them, instead of `for`";
        may own "except" except: Vec<Spanned<Date>> = Kind::Some(&DATE.kind) => |f| dates(f),
            "dates on which the shop stays closed, such as [2026-03-14]";
        may own "breaks" breaks: Vec<Break> = Days::breaks.kind
            => |f| f.list(&Self::breaks, super::shop::MOST_BREAKS, Break::read),
            "breaks of every day whose hours they lie in, such as [18:30 to 18:45]";
        may own "stays" stays: Given<bool> = YES.kind => |f| f.or(&Days::stays),
            "whether somebody stays in sight of the tanks between two windows of a day and after closing";
    }
    plus {
        /// Whether hours are written that could not be read.
        unread: bool = |f| f.node(&Self::every).is_some_and(|n| !f.walk.items(n).is_empty());
    }
}

/// Dates, each with its place.
fn dates(f: &mut crate::fields::Fields) -> Vec<Spanned<Date>> {
    let read = |n: &Node, w: &mut Walk| (DATE.read)(n, w).map(|date| Spanned::new(date, n.at));
    f.list(&Weekly::except, MOST_EXCEPT, read)
}

thing! {
    /// Opening hours on some weekdays.
    Window "days.every.hours", "a window of opening hours" {
        must "at" at: WeekHours = HOURS, "the weekdays and their hours, such as Sat 08:00 to 14:00";
        may "hands" hands: u32 = count::<1, 1_000>(),
            "pairs of hands in these hours, such as 2; else those of the shop";
    }
}

impl Window {
    /// Its hours alone, or with its keys; none if they are not known.
    fn read(node: &Node, walk: &mut Walk) -> Option<Self> {
        let window = match node.value {
            Value::Map(_) => <Self as Thing>::read(node, walk)?,
            _ => Self {
                at: Some(Spanned::new(week_hours(node, walk)?, node.at)),
                ..Self::absent(node.at, walk)
            },
        };
        window.at.is_some().then_some(window)
    }
}

/// One entry of the days.
#[derive(Debug)]
pub(crate) enum OpenDays {
    /// A date, or several in a row alike, or a shop that never closes.
    Dated(Days),
    /// Days of a week that comes again.
    Weekly(Weekly),
}

impl OpenDays {
    /// What an editor checks it by.
    pub(super) const KIND: Kind =
        Kind::Some(&Kind::Or(&[Kind::Thing(Days::TABLE), Kind::Thing(Weekly::TABLE)]));

    /// By its keys: those that only recurring days have tell which it is.
    pub(super) fn read(node: &Node, walk: &mut Walk) -> Option<Self> {
        let own = [
            &Weekly::every,
            &Weekly::from.key(),
            &Weekly::over.key(),
            &Weekly::until.key(),
            &Weekly::except,
        ];
        if own.iter().any(|key| node.key(key.name).is_some()) {
            return Weekly::read(node, walk).map(Self::Weekly);
        }
        Days::read(node, walk).map(Self::Dated)
    }

    /// Hands of its own hours: those of each where they are written.
    pub(crate) fn hands(&self) -> Vec<&Given<u32>> {
        match self {
            Self::Dated(days) => vec![&days.hands],
            Self::Weekly(weekly) => weekly.every.iter().map(|w| &w.hands).collect(),
        }
    }

    /// Its breaks.
    pub(crate) fn breaks(&self) -> &[Break] {
        match self {
            Self::Dated(days) => &days.breaks,
            Self::Weekly(weekly) => &weekly.breaks,
        }
    }

    /// Where it stands, and its keys.
    pub(crate) fn places(&self) -> &Places {
        match self {
            Self::Dated(days) => &days.places,
            Self::Weekly(weekly) => &weekly.places,
        }
    }
}
