//! A sentence of the sheet without the names in it: a tank may be called `1`, an order `10 min`, and neither is a time.

use super::acts::Done;
use super::held::Held;
use tankday_base::print::plural;
use tankday_base::shop::Shop;

/// Stands for a name; no number, no unit and no word of a sheet is like it.
const NAME: &str = "_";

/// The sentence of a row without the names of its acts: of loads, orders, places, parts, steps, baths and vessels. Longer
/// ones go first; each goes only where it stands as words of its own, so that `1` is not taken out of `12 min`.
pub(super) fn nameless(held: &Held<'_>, acts: &[&Done], task: &str) -> String {
    let mut names = of_acts(held, acts);
    names.extend(held.shop.baths.iter().map(|b| b.name.clone()));
    names.extend(held.shop.vessels.iter().map(|v| v.name.clone()));
    names.retain(|name| !name.is_empty());
    names.sort_by_key(|name| std::cmp::Reverse(name.len()));
    names.dedup();
    names
        .iter()
        .fold(task.to_owned(), |text, name| without(&text, name))
}

fn of_acts(held: &Held<'_>, acts: &[&Done]) -> Vec<String> {
    let mut names = Vec::new();
    for done in acts {
        names.push(done.name.clone());
        let station = done.station.and_then(|s| held.shop.stations.get(s.index()));
        names.extend(station.map(|s| s.name.clone()));
        let Some((load, at)) = done.load else { continue };
        names.push(held.names.load(load, done.at).to_owned());
        names.extend(held.names.orders_in(load, done.at));
        names.extend(steps(held.shop, at.route.index()));
        let parts = held.names.inside(load, done.at);
        let parts = parts.iter().filter_map(|(id, _)| held.shop.parts.get(id.index()));
        names.extend(parts.flat_map(|p| [p.name.clone(), plural(&p.name)]));
    }
    names
}

/// What the steps of a route are called.
fn steps(shop: &Shop, route: usize) -> impl Iterator<Item = String> + '_ {
    let steps = shop.routes.get(route).map_or(&[][..], |r| &r.steps);
    steps.iter().map(|s| s.name.clone())
}

/// A text without a name, however it begins, wherever it stands between other signs than letters and figures.
fn without(text: &str, name: &str) -> String {
    let (mut out, mut rest) = (String::with_capacity(text.len()), text);
    let mut last = None;
    while let Some(first) = rest.chars().next() {
        let behind = begins_with(rest, name).filter(|behind| {
            let word = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
            let joined_before = word(last) && word(name.chars().next());
            let joined_behind = word(behind.chars().next()) && word(name.chars().next_back());
            !joined_before && !joined_behind
        });
        if let Some(behind) = behind {
            out.push_str(NAME);
            (rest, last) = (behind, None);
        } else {
            out.push(first);
            (rest, last) = (rest.get(first.len_utf8()..).unwrap_or_default(), Some(first));
        }
    }
    out
}

/// What stands behind a name that a text begins with; its first letter may be a capital there.
fn begins_with<'t>(text: &'t str, name: &str) -> Option<&'t str> {
    if let Some(behind) = text.strip_prefix(name) {
        return Some(behind);
    }
    let (mut letters, mut own) = (text.chars(), name.chars());
    let (first, small) = (letters.next()?, own.next()?);
    let same = small.to_uppercase().eq(std::iter::once(first));
    same.then(|| letters.as_str().strip_prefix(own.as_str()))?
}

#[cfg(test)]
mod tests {
    use super::without;

    #[test]
    fn a_name_is_taken_out_where_it_stands_alone() {
        assert_eq!(
            without("L1 into the 1 for 11 min", "1"),
            "L1 into the _ for 11 min"
        );
        assert_eq!(without("10 min: heater on", "10 min"), "_: heater on");
        assert_eq!(without("Oil tray, oil tray 2", "oil tray"), "_, _ 2");
        assert_eq!(without("knives and knife", "knife"), "knives and _");
    }
}
