//! All warnings, and the cautions that always hold.

use super::Run;
use crate::report::first::warned;
use crate::report::page::Part;
use crate::sheet::{NEAR, WEAR};
use maud::{Markup, html};

/// What always holds, each with its authority where one is known; they defer to safety data sheets, local codes and
/// licensed practice.
const ALWAYS: [&str; 7] = [
    "Steel in the bath gives off hydrogen, which burns and can explode. Ventilate; no flame or spark over the tank; no \
     tight lid.",
    "Steel wool and fresh steel foam: leave free space above the bath and add in small lots.",
    "Mist and steam: local exhaust. Add acid slowly to water, never water to acid.",
    "Keep aluminium, zinc, brass and magnesium out of the bath.",
    "Never leave a hot tank unattended; a low-level cut-off for the heater.",
    "Hardened or sprung parts that carry load need relief before and after; the customer decides in writing.",
    "Spent bath, sludge, rinse and oil are controlled waste in many places: ask before the first drop goes down a \
     drain.",
];

pub(super) fn part(told: &Run<'_>) -> Markup {
    let warnings = &told.results.figures.warnings;
    Part {
        id: "warnings",
        heading: "Before you switch the heater on",
        found: html! {
            "This report plans work and certifies nothing. Safety data sheets, local codes, permits and a trained and \
             licensed person come first."
        },
        read: "",
        pictures: html! {
            @if !warnings.is_empty() {
                h3 { "What is unusual here" }
                ul.list { @for warning in warnings { li { (warned(told.results, warning)) } } }
            }
            h3 { "What always holds" }
            ul.list {
                li { "Hot acid splashes and burns. " (WEAR) "; lower and lift slowly; " (NEAR) "." }
                @for caution in ALWAYS { li { (caution) } }
            }
        },
        beside: false,
        table: Markup::default(),
    }
    .section()
}
