//! Every picture at its extremes keeps the rules: one load, 300 orders, ten days, names of sixty letters, all late,
//! nothing done.

use crate::chart_pictures::{has_name_and_description, only_token_colours, words_are_legible_and_inside};
use crate::chart_svg::{elements, labels, points};
use crate::made_extremes::{pictures, seen, shops};
use tankday::chart::{OF_A_DAY, Svg, Width};

/// Labels that lie on each other; a hair's breadth is no overlap.
pub(crate) fn no_label_lies_on_another(name: &str, svg: &Svg) {
    let all = labels(svg);
    for (i, a) in all.iter().enumerate() {
        for b in &all[i + 1..] {
            let across = a.right.min(b.right) - a.left.max(b.left);
            let down = a.bottom.min(b.bottom) - a.top.max(b.top);
            assert!(
                across < 0.6 || down < 0.6,
                "{name}: `{}` and `{}` overlap by {across:.1} x {down:.1}",
                a.text,
                b.text
            );
        }
    }
}

pub(crate) fn everything_is_inside(name: &str, svg: &Svg) {
    let (wide, high) = (f64::from(svg.width()), f64::from(svg.height()));
    for (x, y) in points(svg) {
        let inside = (-0.1..=wide + 0.1).contains(&x) && (-0.1..=high + 0.1).contains(&y);
        assert!(inside, "{name}: {x} {y} outside {wide} x {high}");
    }
}

#[test]
fn every_picture_at_its_extremes_keeps_the_rules() {
    let all = pictures(&|name| name != "400 orders");
    assert!(all.len() > 200, "{}", all.len());
    for (name, svg) in all {
        only_token_colours(&name, &svg);
        words_are_legible_and_inside(&name, &svg);
        has_name_and_description(&name, &svg);
        no_label_lies_on_another(&name, &svg);
        everything_is_inside(&name, &svg);
        let count = elements(&svg).len();
        assert!(count < 3_500, "{name}: {count} elements");
        let bytes = svg.as_str().len();
        assert!(bytes < 200_000, "{name}: {bytes} bytes");
        assert!(
            !svg.as_str().contains("NaN") && !svg.as_str().contains("inf"),
            "{name}"
        );
        let sentences = svg.description().matches(". ").count() + 1;
        assert!(sentences <= 6, "{name}: {}", svg.description());
    }
}

/// A page holds every picture at every width: no two may carry the same id.
#[test]
fn ids_are_unique_on_a_page() {
    let (_, shop) = &shops()[0];
    let (view, _) = seen(shop);
    let mut ids = Vec::new();
    for width in Width::ALL {
        for svg in OF_A_DAY.iter().filter_map(|(_, draw)| draw(&view, width)) {
            let own: Vec<String> = elements(&svg)
                .iter()
                .filter_map(|e| e.get("id"))
                .map(str::to_owned)
                .collect();
            assert_eq!(own.len(), 2);
            assert!(own[0].ends_with(&format!("-{}-t", width.pixels())), "{own:?}");
            ids.extend(own);
        }
    }
    let count = ids.len();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), count);
}

/// In a page a picture has neither heading nor ground, and every colour is a token's.
#[test]
fn inline_pictures_leave_title_and_colours_to_the_page() {
    let (_, shop) = &shops()[0];
    let (view, _) = seen(shop);
    for (name, draw) in OF_A_DAY {
        let svg = draw(&view, Width::Page).unwrap();
        let inline = svg.inline();
        assert!(
            inline.starts_with("<svg ") && inline.ends_with("</svg>\n"),
            "{name}"
        );
        assert!(!inline.contains("\"#"), "{name}");
        assert!(inline.contains("\"var(--ink2)\""), "{name}");
        assert!(
            !inline.contains("font-size=\"18\""),
            "{name}: the heading is gone"
        );
        assert!(svg.as_str().contains("font-size=\"18\""), "{name}");
        assert!(
            !svg.finding().is_empty() && svg.title() != svg.finding(),
            "{name}"
        );
    }
}

/// Written to a folder for looking at, when one is named in `TANKDAY_PICTURES`.
#[cfg(feature = "png")]
#[test]
fn every_extreme_becomes_a_png() {
    let dir = std::env::var_os("TANKDAY_PICTURES").map(std::path::PathBuf::from);
    let all = pictures(&|name| dir.is_some() || name == "one load");
    for (name, svg) in all {
        let png = tankday::chart::png::render(&svg, 1.0).unwrap();
        assert!(png.starts_with(b"\x89PNG"), "{name}");
        if let Some(dir) = &dir {
            std::fs::write(dir.join(format!("{}.png", name.replace(' ', "-"))), png).unwrap();
        }
    }
}
