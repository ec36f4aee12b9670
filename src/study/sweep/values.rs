//! What is varied: a key and its values, as typed: `tanks.black tank.fill=8 L..40 L/9`, `rules.care.filter=after 2..12
//! loads`, `rules.next load=due first, arrived first`.

/// Most values of one key.
pub const MOST_VALUES: usize = 200;
/// Values of a range that does not say how many and whose ends are not whole.
const USUAL: usize = 9;

/// A key and the values that it is given.
#[derive(Debug, Clone, PartialEq)]
pub struct Varied {
    /// Its path in the scenario.
    pub path: String,
    /// Its values, in order.
    pub values: Vec<Setting>,
    /// How numbers between are written; none where the values are words.
    pub form: Option<Form>,
}

impl Varied {
    /// What it is in words: `fill of the black tank`, `hands of the shop`, `price of power`, `rule care: filter`.
    #[must_use]
    pub fn name(&self) -> String {
        let parts: Vec<&str> = self.path.split('.').collect();
        match parts.as_slice() {
            ["rules", rest @ ..] if !rest.is_empty() => format!("rule {}", rest.join(": ")),
            ["shop", "prices", what] => format!("price of {what}"),
            ["shop", rest @ ..] if !rest.is_empty() => format!("{} of the shop", rest.join(" ")),
            [_, name, rest @ ..] if !rest.is_empty() => format!("{} of the {name}", rest.join(" ")),
            _ => self.path.clone(),
        }
    }
}

/// One value.
#[derive(Debug, Clone, PartialEq)]
pub struct Setting {
    /// As it stands in the scenario.
    pub text: String,
    /// Its number, in the unit typed; where the values are words, their place.
    pub at: f64,
}

/// How a number of this key is written.
#[derive(Debug, Clone, PartialEq)]
pub struct Form {
    /// Before the number.
    pub before: String,
    /// Behind it.
    pub after: String,
    /// Whole numbers only.
    pub whole: bool,
    /// Minutes of a day, written as `HH:MM`.
    pub clock: bool,
}

impl Form {
    /// The value at a number.
    #[must_use]
    pub fn at(&self, number: f64) -> Setting {
        let number = if self.whole || self.clock {
            number.round()
        } else {
            tidy(number)
        };
        let written = if self.clock {
            let minutes = number.clamp(0.0, 5_999.0) as u32;
            format!("{:02}:{:02}", minutes / 60, minutes % 60)
        } else {
            number.to_string()
        };
        Setting {
            text: format!("{}{written}{}", self.before, self.after),
            at: number,
        }
    }
}

/// Six digits are enough, and hide the rounding of steps.
fn tidy(number: f64) -> f64 {
    format!("{number:.5e}").parse().unwrap_or(number)
}

/// Reads a key and its values.
///
/// # Errors
/// A sentence that says what is wrong.
pub fn varied(typed: &str) -> Result<Varied, String> {
    let Some((path, values)) = typed.split_once('=') else {
        return Err(format!(
            "`{typed}` has no `=`: write KEY=VALUES, such as `tanks.black tank.fill=8 L..40 L/9`"
        ));
    };
    let (path, values) = (path.trim().to_owned(), values.trim());
    if path.is_empty() || values.is_empty() {
        return Err(format!("`{typed}` lacks a key or its values"));
    }
    let (settings, form) = match values.split_once("..") {
        Some((from, to)) => range(from.trim(), to.trim())?,
        None => listed(values)?,
    };
    if settings.len() > MOST_VALUES {
        return Err(format!("`{values}` are more than {MOST_VALUES} values"));
    }
    Ok(Varied {
        path,
        values: settings,
        form,
    })
}

/// A number in a text: what stands before, the number, what stands behind, whether it is a time of day.
struct Found<'a> {
    before: &'a str,
    number: f64,
    after: &'a str,
    clock: bool,
    whole: bool,
}

/// The first number of a text, or its last.
fn number_in(text: &str, last: bool) -> Option<Found<'_>> {
    let is = |c: char| c.is_ascii_digit() || c == '.' || c == ':';
    let bytes = text.char_indices();
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for (i, c) in bytes.filter(|(_, c)| is(*c)) {
        match runs.last_mut() {
            Some(run) if run.1 == i => run.1 = i + 1,
            _ => runs.push((i, i + c.len_utf8())),
        }
    }
    // A digit behind a letter belongs to a unit, as in dm2.
    let free = |(start, _): &&(usize, usize)| {
        !text
            .get(..*start)
            .and_then(|t| t.chars().last())
            .is_some_and(char::is_alphabetic)
    };
    let run = if last {
        runs.iter().rev().find(free)
    } else {
        runs.iter().find(free)
    };
    let &(start, end) = run?;
    let minus = text.get(..start)?.ends_with('-');
    let start = if minus { start - 1 } else { start };
    let written = text.get(start..end)?;
    let (number, clock) = match written.split_once(':') {
        Some((h, m)) => (h.parse::<f64>().ok()? * 60.0 + m.parse::<f64>().ok()?, true),
        None => (written.parse().ok()?, false),
    };
    Some(Found {
        before: text.get(..start)?,
        number,
        after: text.get(end..)?,
        clock,
        whole: !written.contains('.'),
    })
}

type Read = (Vec<Setting>, Option<Form>);

fn range(from: &str, to: &str) -> Result<Read, String> {
    let typed = format!("{from}..{to}");
    let (to, count) = match to.rsplit_once('/') {
        Some((to, n)) if !n.trim().is_empty() && n.trim().chars().all(|c| c.is_ascii_digit()) => {
            let n: usize = n.trim().parse().unwrap_or(usize::MAX);
            (to.trim(), Some(n))
        }
        _ => (to, None),
    };
    let no = |text: &str| format!("`{text}` in `{typed}` holds no number");
    let low = number_in(from, true).ok_or_else(|| no(from))?;
    let high = number_in(to, false).ok_or_else(|| no(to))?;
    let apart = !low.after.trim().is_empty() && low.after.trim() != high.after.trim();
    if apart || low.clock != high.clock {
        return Err(format!("both ends of `{typed}` are written in the same unit"));
    }
    if !high.before.trim().is_empty() && high.before.trim() != low.before.trim() {
        return Err(format!("both ends of `{typed}` are written in the same words"));
    }
    if low.number >= high.number {
        return Err(format!("`{typed}` does not rise"));
    }
    let whole = low.whole && high.whole && count.is_none() && !low.clock;
    let form = Form {
        before: low.before.to_owned(),
        after: high.after.to_owned(),
        whole,
        clock: low.clock,
    };
    let span = high.number - low.number;
    let count = count.unwrap_or(if whole { span as usize + 1 } else { USUAL });
    if !(2..=MOST_VALUES).contains(&count) {
        return Err(format!(
            "`{typed}` has {count} values: 2 to {MOST_VALUES} can be tried"
        ));
    }
    let step = span / (count - 1) as f64;
    let settings = (0..count)
        .map(|i| form.at(low.number + step * i as f64))
        .collect();
    Ok((settings, Some(form)))
}

fn listed(values: &str) -> Result<Read, String> {
    let words: Vec<&str> = values.split(',').map(str::trim).collect();
    if words.iter().any(|w| w.is_empty()) {
        return Err(format!("`{values}` holds an empty value"));
    }
    let found: Option<Vec<Found<'_>>> = words.iter().map(|w| number_in(w, false)).collect();
    let alike = found.filter(|all| {
        all.windows(2).all(|two| {
            matches!(two, [a, b] if a.before == b.before && a.after == b.after && a.clock == b.clock && a.number < b.number)
        })
    });
    let at = |i: usize| {
        alike
            .as_ref()
            .and_then(|f| f.get(i))
            .map_or(i as f64, |f| f.number)
    };
    let settings = words.iter().enumerate().map(|(i, w)| Setting {
        text: (*w).to_owned(),
        at: at(i),
    });
    let form = alike.as_ref().and_then(|all| {
        let first = all.first().filter(|_| all.len() > 1)?;
        Some(Form {
            before: first.before.to_owned(),
            after: first.after.to_owned(),
            whole: all.iter().all(|f| f.whole) && !first.clock,
            clock: first.clock,
        })
    });
    Ok((settings.collect(), form))
}

#[cfg(test)]
mod tests {
    use super::varied;

    fn texts(typed: &str) -> Vec<String> {
        varied(typed)
            .unwrap()
            .values
            .into_iter()
            .map(|v| v.text)
            .collect()
    }

    #[test]
    fn ranges_keep_their_unit_and_words() {
        let fill = texts("tanks.black tank.fill=8 L..40 L/9");
        assert_eq!(fill.len(), 9);
        assert_eq!(
            (fill[0].as_str(), fill[1].as_str(), fill[8].as_str()),
            ("8 L", "12 L", "40 L")
        );
        assert_eq!(
            texts("rules.care.filter=after 2..4 loads"),
            ["after 2 loads", "after 3 loads", "after 4 loads"]
        );
        assert_eq!(texts("a=0.5..1.5 dm2/L/3"), ["0.5 dm2/L", "1 dm2/L", "1.5 dm2/L"]);
        assert_eq!(texts("a=1 dm2/L..2 dm2/L"), ["1 dm2/L", "2 dm2/L"]);
        assert_eq!(texts("a=07:00..08:00/3"), ["07:00", "07:30", "08:00"]);
        assert_eq!(texts("a=-5 °C..5 °C/3"), ["-5 °C", "0 °C", "5 °C"]);
    }

    #[test]
    fn lists_are_taken_as_they_stand() {
        assert_eq!(
            texts("rules.next load=due first, arrived first"),
            ["due first", "arrived first"]
        );
        let list = varied("a=10 min, 25 min, 1 h").unwrap();
        assert!(list.form.is_none());
        let list = varied("a=10 min, 25 min").unwrap();
        assert_eq!(list.values[1].at, 25.0);
        assert!(list.form.is_some());
    }

    #[test]
    fn what_cannot_be_meant_is_refused() {
        for wrong in [
            "fill",
            "=8 L",
            "a=",
            "a=8 L..",
            "a=..8 L",
            "a=9 L..8 L",
            "a=500 mL..2 L",
            "a=1..2/1",
            "a=1..2/0",
            "a=1..9000",
            "a=1..2/999999999999999999999",
            "a=1,,2",
            "a=07:00..8",
            "a=after 2..before 4",
        ] {
            assert!(varied(wrong).is_err(), "{wrong}");
        }
    }
}
