//! In which units a page speaks first: those in which its scenario is written.

/// The units that a page shows until its reader turns them. Its text is always written in metric ones; its script turns
/// them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Units {
    /// °C, litres, millimetres, kilograms.
    Metric,
    /// °F, gallons, inches, pounds.
    Customary,
}

/// How quantities end that are written in customary units, and in metric ones.
const CUSTOMARY: [&str; 9] = ["°F", "gal", "qt", "fl oz", "lb", "oz", "in", "ft", "in2"];
const METRIC: [&str; 13] = [
    "°C", "L", "mL", "kg", "g", "mm", "cm", "m", "cm2", "dm2", "mm2", "m2", "m3",
];

impl Units {
    /// Those in which most quantities of a scenario are written; metric where there are as many of both.
    #[must_use]
    pub fn of(scenario: &str) -> Self {
        let (mut customary, mut metric) = (0, 0);
        for line in scenario.lines() {
            let said = line.split(" #").next().unwrap_or_default();
            let words: Vec<&str> = said
                .split([' ', ',', '{', '}', '[', ']'])
                .filter(|w| !w.is_empty())
                .collect();
            for pair in words.windows(2) {
                if pair[0].parse::<f64>().is_err() {
                    continue;
                }
                customary += usize::from(CUSTOMARY.contains(&pair[1]));
                metric += usize::from(METRIC.contains(&pair[1]));
            }
        }
        if customary > metric {
            Self::Customary
        } else {
            Self::Metric
        }
    }

    /// The word for it in the page.
    pub(super) const fn word(self) -> &'static str {
        match self {
            Self::Metric => "metric",
            Self::Customary => "other",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Units;

    #[test]
    fn a_page_speaks_as_its_scenario_is_written() {
        let customary =
            "band: {least: 190 °F, hold: 203 °F}\nfill: 6 gal # 23 L, 23 L, 23 L\ntarget: 13 g/m2";
        assert_eq!(Units::of(customary), Units::Customary);
        assert_eq!(Units::of("band: {least: 88 °C}\nfill: 6 gal"), Units::Metric);
        assert_eq!(Units::of(""), Units::Metric);
    }
}
