//! More days for a shop, as its calendar goes on.

use std::collections::BTreeSet;
use tankday_base::shop::{Break, Crew, Day, Shop};
use tankday_base::units::{Moment, Span};

const DAY: Span = Span::whole_minutes(24 * 60);
/// So far ahead is looked for another opening day.
const FAR: i64 = 31;

/// The shop with so many more opening days. They fall on the weekdays of the days stated; where fewer than five days are
/// stated, from Monday to Friday as well (common practice, no source). Each has the hours and hands of the same weekday,
/// else those of the last day.
#[must_use]
pub(super) fn with_more_days(shop: &Shop, more: usize) -> Shop {
    let mut long = shop.clone();
    let Some(last) = shop
        .calendar
        .days
        .last()
        .filter(|d| d.close < Moment::NEVER)
        .cloned()
    else {
        return long;
    };
    let weekday = |at: Moment| shop.calendar.date(at).weekday().to_monday_zero_offset();
    let mut open_on: BTreeSet<i8> = shop.calendar.days.iter().map(|d| weekday(d.open)).collect();
    if shop.calendar.days.len() < 5 {
        open_on.extend(0..5);
    }
    let mut days = 0;
    for ahead in 1..=FAR {
        if days == more {
            break;
        }
        let on = weekday(last.open + DAY.times(ahead as f64));
        if open_on.contains(&on) {
            let same = shop.calendar.days.iter().rev().find(|d| weekday(d.open) == on);
            let model = same.unwrap_or(&last);
            let midnight = |at: Moment| at - at.day_and_time().1;
            let by = midnight(last.open) + DAY.times(ahead as f64) - midnight(model.open);
            long.calendar.days.push(Day {
                open: model.open + by,
                close: model.close + by,
                breaks: model
                    .breaks
                    .iter()
                    .map(|b| Break {
                        from: b.from + by,
                        until: b.until + by,
                        ..*b
                    })
                    .collect(),
                stays: model.stays,
            });
            let crews = shop.crews_of(model).into_iter();
            long.calendar.crews.extend(crews.map(|c| Crew {
                from: c.from + by,
                ..c
            }));
            days += 1;
        }
    }
    if let Some(new) = long.calendar.days.last() {
        long.rules.stop = long.rules.stop + (new.close - last.close);
    }
    long
}

#[cfg(test)]
mod tests {
    use super::with_more_days;
    use tankday_record::made::shop;

    #[test]
    fn a_week_goes_on_after_its_end() {
        let shop = shop();
        let long = with_more_days(&shop, 6);
        let days = &long.calendar.days;
        assert_eq!(days.len(), shop.calendar.days.len() + 6);
        for pair in days.windows(2) {
            assert!(pair[0].close < pair[1].open);
            assert_eq!(pair[1].open.clock(), pair[0].open.clock());
        }
        let added = &days[shop.calendar.days.len()..];
        let weekdays: Vec<i8> = added
            .iter()
            .map(|d| long.calendar.date(d.open).weekday().to_monday_one_offset())
            .collect();
        assert!(weekdays.iter().all(|w| *w <= 5), "{weekdays:?}");
        assert!(long.rules.stop > shop.rules.stop);
    }
}
