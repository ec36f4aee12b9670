//! What stands above a picture: its name, the finding in words, where and when.

use super::frame::Width;
use super::pen::{Pen, Type};
use super::theme::Token;
use super::view::DayView;
use super::width::{Weight, fitted, wrapped};

/// Size of the title, from line to line of it, and of the finding.
const TITLE: f64 = 18.0;
const TITLE_LINE: f64 = 22.0;
const LINE: f64 = 18.0;
/// Lines that tell the place at most.
const MOST_LINES: usize = 3;
/// More replications than this are not drawn one by one.
pub(super) const MOST_SHOWN: usize = 250;

/// Title, finding, and where and when.
pub(super) struct Heading {
    title: Vec<String>,
    finding: Vec<String>,
    place: Vec<String>,
    side: f64,
}

impl Heading {
    /// Above a picture of the day drawn.
    pub(super) fn new(title: &str, finding: &str, view: &DayView, width: Width) -> Self {
        let how = match view.reckoned {
            Some(days) if days > 1 => {
                let all = view.each().simulated(days);
                format!("the one of {all} that is nearest the middle")
            }
            _ => String::new(),
        };
        Self::placed(title, finding, view, &how, width)
    }

    /// Above a picture of all days reckoned.
    pub(super) fn of_days(title: &str, finding: &str, view: &DayView, width: Width) -> Self {
        let how = match view.reckoned {
            Some(days) if days > 1 => view.each().simulated(days),
            _ => String::new(),
        };
        Self::placed(title, finding, view, &how, width)
    }

    /// Place and dates are those of the view.
    fn placed(title: &str, finding: &str, view: &DayView, how: &str, width: Width) -> Self {
        let day = view
            .days
            .first()
            .map(|d| super::clock_axis::long_date(&view.calendar, d.open));
        let place = match (day, view.days.last()) {
            (Some(first), Some(last)) if view.days.len() > 1 => {
                let last = super::clock_axis::long_date(&view.calendar, last.open);
                format!("{}, {first} to {last}", view.title)
            }
            (Some(first), _) => format!("{}, {first}", view.title),
            _ => view.title.clone(),
        };
        let place = if how.is_empty() {
            place
        } else {
            format!("{place}; {how}")
        };
        Self::plain(title, finding, &place, width)
    }

    /// A heading of which the place is told as it is.
    pub(super) fn plain(title: &str, finding: &str, place: &str, width: Width) -> Self {
        let room = width.px() - 2.0 * width.side();
        let mut lines = wrapped(place, 12.0, Weight::Regular, room);
        if lines.len() > MOST_LINES {
            let rest = lines.split_off(MOST_LINES - 1).join(" ");
            lines.push(fitted(&rest, 12.0, Weight::Regular, room));
        }
        Self {
            title: wrapped(title, TITLE, Weight::Bold, room),
            finding: wrapped(finding, 13.0, Weight::Regular, room),
            place: lines,
            side: width.side(),
        }
    }

    /// How many pixels it takes.
    pub(super) fn height(&self) -> f64 {
        let lines = self.finding.len() + self.place.len().max(1);
        42.0 + TITLE_LINE * (self.title.len().max(1) as f64 - 1.0) + LINE * lines as f64
    }

    pub(super) fn draw(&self, pen: &Pen<'_>) {
        let title = Type {
            size: TITLE,
            ..Type::label(Token::Ink)
        };
        let mut y = 32.0 - TITLE_LINE;
        for line in &self.title {
            y += TITLE_LINE;
            pen.text(line, (self.side, y), title.bold());
        }
        y = y.max(32.0) + 4.0;
        let finding = self.finding.iter().map(|line| (line, Type::label(Token::Ink)));
        let place = self.place.iter().map(|line| (line, Type::note(Token::Ink2)));
        for (line, how) in finding.chain(place) {
            y += LINE;
            pen.text(line, (self.side, y), how);
        }
    }
}
