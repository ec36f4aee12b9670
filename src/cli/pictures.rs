//! The pictures of a run, drawn side by side.

use super::check::file_name;
use super::exit::Failure;
use super::summary::Results;
use rayon::prelude::*;
use tankday_base::shop::{RouteId, Shop};
use tankday_chart::{DayView, OF_A_DAY, Svg, Width, route};

/// The picture that is drawn for a wide screen; the others are for a page.
const WIDE: &str = "day";

/// The names of the files of a picture.
pub(super) fn names(picture: &str) -> Vec<String> {
    let ends: &[&str] = if cfg!(feature = "png") {
        &["svg", "png"]
    } else {
        &["svg"]
    };
    ends.iter().map(|end| format!("{picture}.{end}")).collect()
}

/// The names of all files that [`pictures`] may make.
pub(super) fn wanted(shop: &Shop) -> Vec<String> {
    let of_routes = routes(shop).into_iter().map(|(_, name)| name);
    let all = OF_A_DAY
        .iter()
        .map(|(name, _)| (*name).to_owned())
        .chain(of_routes);
    all.flat_map(|name| names(&name)).collect()
}

/// All pictures as files: name and bytes.
///
/// # Errors
/// When a drawing cannot be turned into pixels.
pub(super) fn pictures(results: &Results<'_>, view: &DayView) -> Result<Vec<(String, Vec<u8>)>, Failure> {
    let drawn: Result<Vec<_>, Failure> = OF_A_DAY
        .par_iter()
        .filter_map(|(name, draw)| {
            let width = if *name == WIDE { Width::Wide } else { Width::Page };
            Some(files(name, &draw(view, width)?))
        })
        .collect();
    let mut all: Vec<_> = drawn?.into_iter().flatten().collect();
    for (id, name) in routes(results.shop) {
        all.extend(files(&name, &route_picture(results, id, Width::Page))?);
    }
    Ok(all)
}

/// Routes that orders take, with the names of their files.
pub(super) fn routes(shop: &Shop) -> Vec<(RouteId, String)> {
    let mut found: Vec<(RouteId, String)> = Vec::new();
    for (id, route) in (0..).map(RouteId).zip(&shop.routes) {
        if shop.orders.iter().any(|o| o.route == id) {
            let name = file_name(&route.name);
            let taken = found.iter().any(|(_, other)| *other == name);
            let name = if taken {
                format!("{name}-{}", id.index() + 1)
            } else {
                name
            };
            found.push((id, name));
        }
    }
    found
}

/// A route, with what was busiest on the day drawn.
pub(super) fn route_picture(results: &Results<'_>, id: RouteId, width: Width) -> Svg {
    route(results.shop, id, Some(results.figures), width)
}

/// What pictures are drawn from.
pub(super) fn view(results: &Results<'_>) -> DayView {
    DayView::of(results.shop, results.record).with(results.shop, results.many(), results.gains)
}

/// A drawing as files: name and bytes.
#[cfg(feature = "png")]
pub(super) fn files(name: &str, svg: &Svg) -> Result<Vec<(String, Vec<u8>)>, Failure> {
    /// Pixels for one of the drawing: sharp on paper at half a page.
    const SCALE: f64 = 2.0;
    let png = tankday_chart::png::render(svg, SCALE);
    let png = png.map_err(|e| Failure::work(format!("cannot draw {name}.png: {e}")))?;
    Ok(vec![
        (format!("{name}.svg"), svg.as_str().as_bytes().to_vec()),
        (format!("{name}.png"), png),
    ])
}

/// A drawing as a file: name and bytes.
#[cfg(not(feature = "png"))]
pub(super) fn files(name: &str, svg: &Svg) -> Result<Vec<(String, Vec<u8>)>, Failure> {
    Ok(vec![(format!("{name}.svg"), svg.as_str().as_bytes().to_vec())])
}
