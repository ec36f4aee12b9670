//! Days written back: every day of a shop, as it is read again.

use super::draft::Draft;
use super::meant_time::WEEKDAYS;
use super::node::{Node, SourceSpan, Spanned, Value};
use super::written::{Break as Pause, Days, File as Written, Weekly, Window};
use tankday_base::shop::{Break, Crew, Day, Shop};
use tankday_base::units::Moment;

/// Makes nodes that all stand at one place.
#[derive(Clone, Copy)]
struct Writer {
    at: SourceSpan,
}

impl Writer {
    fn text(self, text: impl Into<String>) -> Node {
        Node::of_text(text.into(), self.at)
    }

    fn yes(self, yes: bool) -> Node {
        self.text(if yes { "yes" } else { "no" })
    }

    fn list(self, all: impl Iterator<Item = Node>) -> Node {
        Node::new(Value::List(all.collect()), self.at)
    }

    fn map(self, entries: Vec<(&str, Node)>) -> Node {
        let key = |(k, v): (&str, Node)| (Spanned::new(k.to_owned(), self.at), v);
        Node::new(Value::Map(entries.into_iter().map(key).collect()), self.at)
    }

    fn breaks<'a>(self, day: &Day, breaks: impl Iterator<Item = &'a Break>) -> Node {
        let pause = |b: &Break| {
            self.map(vec![
                (Pause::at.name, self.text(from_to(day, b.from, b.until))),
                (Pause::stays.name, self.yes(b.stays)),
            ])
        };
        self.list(breaks.map(pause))
    }

    fn day(self, shop: &Shop, day: &Day) -> Node {
        let crews = shop.crews_of(day);
        if crews
            .windows(2)
            .any(|pair| matches!(pair, [a, b] if a.hands != b.hands))
        {
            return self.windows(shop, day, &crews);
        }
        let mut entries = vec![
            (
                Days::date.name,
                self.text(shop.calendar.date(day.open).to_string()),
            ),
            (Days::open.name, self.text(clock(day, day.open))),
            (Days::close.name, self.text(clock(day, day.close))),
            (Days::breaks.name, self.breaks(day, day.breaks.iter())),
            (Days::stays.name, self.yes(day.stays)),
        ];
        if let Some(crew) = crews.first() {
            entries.push((Days::hands.name, self.text(crew.hands.to_string())));
        }
        self.map(entries)
    }

    /// A day on which more or fewer hands come after some break: one window for each number of hands.
    fn windows(self, shop: &Shop, day: &Day, crews: &[Crew]) -> Node {
        let date = shop.calendar.date(day.open);
        let weekday = usize::try_from(date.weekday().to_monday_zero_offset()).ok();
        let weekday = weekday.and_then(|d| WEEKDAYS.get(d)).copied().unwrap_or_default();
        let mut all: Vec<(Crew, Moment)> = Vec::new();
        for (crew, (_, until)) in crews.iter().zip(day.stretches()) {
            match all.last_mut() {
                Some((last, end)) if last.hands == crew.hands => *end = until,
                _ => all.push((*crew, until)),
            }
        }
        let between = |b: &&Break| !all.iter().any(|(c, _)| c.from == b.until && c.from != day.open);
        let window = |(crew, until): &(Crew, Moment)| {
            let hours = format!("{weekday} {}", from_to(day, crew.from, *until));
            self.map(vec![
                (Window::at.name, self.text(hours)),
                (Window::hands.name, self.text(crew.hands.to_string())),
            ])
        };
        self.map(vec![
            (Weekly::every.name, self.list(all.iter().map(window))),
            (Weekly::from.name, self.text(date.to_string())),
            (Weekly::over.name, self.text("1 day")),
            (
                Weekly::breaks.name,
                self.breaks(day, day.breaks.iter().filter(between)),
            ),
            (Weekly::stays.name, self.yes(day.stays)),
        ])
    }
}

/// A time of a day; its end is 24:00.
fn clock(day: &Day, at: Moment) -> String {
    match at.day_and_time().0 == day.open.day_and_time().0 {
        true => at.clock(),
        false => "24:00".to_owned(),
    }
}

fn from_to(day: &Day, from: Moment, until: Moment) -> String {
    format!("{} to {}", clock(day, from), clock(day, until))
}

impl Draft {
    /// Writes out every day of a shop in place of the days stated.
    pub fn write_days(&mut self, shop: &Shop) {
        let writer = Writer { at: self.tree.at };
        let days = writer.list(shop.calendar.days.iter().map(|day| writer.day(shop, day)));
        if let Value::Map(entries) = &mut self.tree.value {
            entries.retain(|(k, _)| k.value != Written::days.name);
            entries.push((Spanned::new(Written::days.name.to_owned(), writer.at), days));
        }
        self.changed = true;
    }
}
