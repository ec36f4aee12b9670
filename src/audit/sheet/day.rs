//! The sheet of each working day: which rows stand on it, and what must stand around them, worked out from the record, the
//! calendar and the shop alone.

use super::table::{Act, Row};
use super::{Faults, Told};
use jiff::civil::Date;
use tankday_base::shop::Shop;
use tankday_base::units::{Moment, Span};

/// What is worn and must be near wherever there is hot acid, and what its hydrogen asks for: NIOSH on phosphoric acid, a
/// handbook page on acid cleaning safety.
pub(super) const WEAR: &str =
    "Face shield, gloves, apron, boots; eyewash and shower near. Ventilate; no flame.";
/// What a sheet is not.
pub(super) const DEFERS: &str = "This sheet plans work. It does not replace the safety data sheet, local codes, permits or \
                                 a trained and licensed person.";
/// What a point is: stated where somebody is to titrate.
const POINT: &str = "1 point: 1 mL of 0.1 N caustic soda on a 10 mL sample of the bath; total acid until it turns pink with \
                     phenolphthalein, free acid until the first colour change, with methyl orange or bromophenol blue.";
/// Small numbers as words.
const SMALL: [&str; 13] = [
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
];

/// One day's sheet.
pub(super) struct DaySheet<'a> {
    pub(super) date: Date,
    pub(super) open: Moment,
    close: Moment,
    pub(super) rows: Vec<&'a Told<'a>>,
    /// What no load goes in below; empty in a shop without baths.
    least: String,
}

/// The sheets of all days: a row belongs to the last day whose midnight has passed, or to the first.
pub(super) fn sheets<'a>(shop: &Shop, told: &'a [Told<'a>]) -> Vec<DaySheet<'a>> {
    let days = &shop.calendar.days;
    let least = least(shop);
    let of = |(i, day): (usize, &tankday_base::shop::Day)| {
        let midnight = |at: Moment| at - at.day_and_time().1;
        let from = if i == 0 { None } else { Some(midnight(day.open)) };
        let until = days.get(i + 1).map(|next| midnight(next.open));
        let own = |t: &&Told<'_>| from.is_none_or(|f| t.row.at >= f) && until.is_none_or(|u| t.row.at < u);
        DaySheet {
            date: shop.calendar.date(day.open),
            open: day.open,
            close: day.close,
            rows: told.iter().filter(own).collect(),
            least: least.clone(),
        }
    };
    days.iter().enumerate().map(of).collect()
}

/// The lowest temperatures at which loads go in, each once.
fn least(shop: &Shop) -> String {
    let baths = shop
        .tanks()
        .filter_map(|(_, _, tank)| shop.baths.get(tank.bath.index()));
    let mut all: Vec<String> = baths
        .map(|b| format!("{:.0} °C", b.band.least.in_celsius()))
        .collect();
    all.sort_unstable();
    all.dedup();
    match all.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, others)) => format!("{} and {last}", others.join(", ")),
        None => String::new(),
    }
}

impl DaySheet<'_> {
    /// `Thursday 5 March`
    pub(super) fn name(&self) -> String {
        self.date.strftime("%A %-d %B").to_string()
    }

    /// `No load goes in below 88 °C.`
    pub(super) fn least(&self) -> Option<String> {
        (!self.least.is_empty()).then(|| format!("No load goes in below {}.", self.least))
    }

    /// What a point is, where a row asks for a titration.
    pub(super) fn point(&self) -> Option<&'static str> {
        let asks = |t: &&Told<'_>| t.row.cell("caution").contains("titrate");
        self.rows.iter().any(asks).then_some(POINT)
    }

    /// What stands above the rows of every form: what to wear, the least temperature, what a sheet is not, what a point is.
    pub(super) fn above(&self) -> Vec<String> {
        let mut all = vec![WEAR.to_owned()];
        all.extend(self.least());
        all.push(DEFERS.to_owned());
        all.extend(self.point().map(str::to_owned));
        all
    }

    pub(super) fn has(&self, what: &str) -> bool {
        self.rows.iter().any(|t| t.row.cell("what") == what)
    }

    /// `Open 07:30, one break, closing 17:00. Last hands-on work done by 16:12.`
    pub(super) fn hours(&self) -> String {
        let breaks = self.rows.iter().filter(|t| t.row.cell("what") == "break").count();
        let count = SMALL
            .get(breaks)
            .map_or_else(|| breaks.to_string(), |w| (*w).to_owned());
        let breaks = match breaks {
            0 => String::new(),
            1 => ", one break".to_owned(),
            _ => format!(", {count} breaks"),
        };
        let close = match self.close {
            Moment::NEVER => String::new(),
            close => format!(", closing {}", close.clock()),
        };
        let acts = self.rows.iter().flat_map(|t| &t.acts);
        let done = acts.filter(|d| d.hand.is_some()).map(|d| d.to).max();
        let done = done.map_or(String::new(), |at| {
            format!(" Last hands-on work done by {}.", at.clock())
        });
        format!("Open {}{breaks}{close}.{done}", self.open.clock())
    }

    /// Whether a row stands in the afternoon, or on a later day.
    pub(super) fn is_late(&self, row: &Row) -> bool {
        let (day, time) = row.at.day_and_time();
        day > self.open.day_and_time().0 || time >= Span::hours(12.0)
    }

    /// What kind of row each is, and whether it names its weekday: where that is not the sheet's.
    pub(super) fn check_rows(&self, shop: &Shop, faults: &mut Faults) {
        for told in &self.rows {
            let row = told.row;
            // What goes off by itself with nobody there is no task.
            let should = match by_itself(row) && !super::left::somebody_is_there(shop, row.at) {
                true => &["note"],
                false => kind(row),
            };
            if !should.contains(&row.cell("what")) {
                faults.of_row(
                    row,
                    &format!("it is called `{}`, and it is `{}`", row.cell("what"), should[0]),
                );
            }
            let weekday = shop.calendar.date(row.at).strftime("%A: ").to_string();
            let other = row.at.day_and_time().0 != self.open.day_and_time().0;
            if other != row.cell("task").starts_with(&weekday) {
                faults.of_row(
                    row,
                    &format!("its day is {weekday}and the sheet is of {}", self.name()),
                );
            }
        }
    }
}

/// Whether a row tells of a heater that goes off by itself.
fn by_itself(row: &Row) -> bool {
    let switched = |words: &str| row.cell("task").contains(words);
    row.acts.first() == Some(&Act::HeaterOff)
        && (switched("heater switches itself off") || switched("eaters switch themselves off"))
}

/// What a row of its acts may be called.
fn kind(row: &Row) -> &'static [&'static str] {
    match row.acts.first() {
        Some(Act::TakeOut) => &["must not wait"],
        Some(Act::Ready) => &["ready", "ready late"],
        Some(Act::Break) => &["break"],
        Some(Act::Note) => &["note"],
        _ => &["do"],
    }
}
