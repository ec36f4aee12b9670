//! A sweep of two values as a table of cells, darker where the figure is higher.

use super::frame::Width;
use super::pen::{Anchor, Pen, Type, picture};
use super::svg::{Alt, Svg};
use super::sweep::{heading, key_titled, sentences, titled};
use super::sweep_shown::SweepShown;
use super::theme::Token;
use super::width::fitted;
use tankday_base::print::{lower, number};
use tankday_study::Measure;
use tankday_study::sweep::{BestCell, Setting, Sweep, best_cells};

const HUES: [Token; 5] = [Token::Map0, Token::Map1, Token::Map2, Token::Map3, Token::Map4];
const ROW: f64 = 28.0;
/// Above a band of columns, for their names; between two bands.
const HEAD: f64 = 34.0;
const BAND: f64 = 10.0;
/// Above all, for the titles, a line each.
const LINE: f64 = 17.0;
const TITLES: f64 = 3.0 * LINE + 4.0;
/// Room around a number in its cell.
const ROOM: f64 = 10.0;
/// Rows and columns beyond this are left to the table.
const MOST: usize = 40;

struct Cells<'a> {
    sweep: &'a Sweep,
    measure: Measure,
    rows: Vec<&'a Setting>,
    columns: Vec<&'a Setting>,
    best: Option<&'a BestCell>,
    least: f64,
    most: f64,
}

impl<'a> Cells<'a> {
    fn of(sweep: &'a Sweep, measure: Measure, best: Option<&'a BestCell>) -> Self {
        let means = sweep.points.iter().filter_map(|p| p.mean(measure));
        let means = means.map(|i| i.mean);
        let (least, most) = means.fold((f64::MAX, f64::MIN), |(l, h), m| (l.min(m), h.max(m)));
        let values = |key: usize| -> Vec<&Setting> {
            let key = sweep.keys.get(key);
            key.map_or_else(Vec::new, |k| k.values.iter().take(MOST).collect())
        };
        Self {
            sweep,
            measure,
            rows: values(0),
            columns: values(1),
            best,
            least,
            most,
        }
    }
}

/// Draws them: the first key downwards, the second from left to right. Only the heading where no figure changes.
pub(super) fn cells(sweep: &Sweep, shown: &SweepShown, width: Width) -> Svg {
    let all = best_cells(sweep);
    let cells = shown.drawn.first().map(|measure| {
        let best = all.iter().find(|b| b.measure == *measure);
        Cells::of(sweep, *measure, best)
    });
    let names: Vec<String> = sweep
        .keys
        .iter()
        .map(tankday_study::sweep::Varied::name)
        .collect();
    let names = tankday_base::print::list(&names);
    let title = format!("What changes with the {names}");
    let heading = heading(sweep, shown, &title, width);
    let top = heading.height();
    let planned = cells.as_ref().map(|cells| (cells, Plan::new(cells, width)));
    let tall = planned.as_ref().map_or(0.0, |(cells, plan)| plan.height(cells));
    let table = match &cells {
        Some(_) => format!("Table of {} cells for {names}.", sweep.points.len()),
        None => String::new(),
    };
    let alt = Alt {
        id: "sweep-map".to_owned(),
        title,
        desc: sentences(&[&table, &shown.finding, &shown.flat]),
        finding: shown.finding.clone(),
    };
    picture(
        (width.pixels(), (top + tall + 4.0).ceil() as u32),
        alt,
        &heading,
        |pen| {
            if let Some((cells, plan)) = &planned {
                cells.draw(pen, top, plan);
            }
        },
    )
}

/// How columns are put: as many side by side as leave room for their numbers, the rest in bands below.
struct Plan {
    side: f64,
    /// Pixels from side to side.
    room: f64,
    /// Pixels of the names of rows, and of one column.
    names: f64,
    wide: f64,
    /// Columns in a band.
    columns: usize,
}

impl Plan {
    fn new(cells: &Cells<'_>, width: Width) -> Self {
        let how = Type::note(Token::Ink2);
        let widest = |words: &mut dyn Iterator<Item = String>, how: Type| {
            words.map(|w| how.width(&w)).fold(0.0, f64::max)
        };
        let room = width.px() - 2.0 * width.side();
        let rows = widest(&mut cells.rows.iter().map(|s| s.text.clone()), how);
        let names = (rows + 12.0).min(0.3 * room);
        let means = cells.sweep.points.iter().filter_map(|p| p.mean(cells.measure));
        let numbers = widest(&mut means.map(|i| cells.number(i.mean)), how.bold());
        let heads = widest(&mut cells.columns.iter().map(|s| s.text.clone()), how).min(90.0);
        let least = (numbers.max(heads) + ROOM).min(room - names);
        let fit = ((room - names) / least.max(1.0)).floor().max(1.0);
        let bands = (cells.columns.len() as f64 / fit).ceil().max(1.0);
        let columns = (cells.columns.len() as f64 / bands).ceil().max(1.0);
        Self {
            side: width.side(),
            room,
            names,
            wide: ((room - names) / columns).min(least.max(90.0)),
            columns: columns as usize,
        }
    }

    fn band(&self, cells: &Cells<'_>) -> f64 {
        HEAD + ROW * cells.rows.len() as f64 + BAND
    }

    fn height(&self, cells: &Cells<'_>) -> f64 {
        TITLES + self.band(cells) * cells.columns.chunks(self.columns).count().max(1) as f64
    }
}

impl Cells<'_> {
    fn draw(&self, pen: &Pen<'_>, top: f64, plan: &Plan) {
        self.titles(pen, top, plan);
        let top = top + TITLES;
        for (band, columns) in self.columns.chunks(plan.columns).enumerate() {
            self.band(pen, top + plan.band(self) * band as f64, columns, plan);
        }
    }

    /// What the numbers are, and what lies downwards and to the right.
    fn titles(&self, pen: &Pen<'_>, top: f64, plan: &Plan) {
        let key = |at: usize| self.sweep.keys.get(at).map_or(String::new(), key_titled);
        let words = [
            (titled(self.measure), Type::label(Token::Ink).bold()),
            (format!("Downwards: {}", lower(&key(0))), Type::note(Token::Ink2)),
            (
                format!("To the right: {}", lower(&key(1))),
                Type::note(Token::Ink2),
            ),
        ];
        for (i, (words, how)) in words.iter().enumerate() {
            let words = fitted(words, how.size, how.weight, plan.room);
            pen.text(&words, (plan.side, top + 16.0 + LINE * i as f64), *how);
        }
    }

    /// A mean in its cell; large ones without decimals.
    fn number(&self, mean: f64) -> String {
        let large = self.most.abs() >= 1_000.0;
        number(mean, if large { 0 } else { self.measure.decimals() })
    }

    fn band(&self, pen: &Pen<'_>, top: f64, columns: &[&Setting], plan: &Plan) {
        let (how, wide) = (Type::note(Token::Ink2), plan.wide);
        let left = plan.side + plan.names;
        for (j, column) in columns.iter().enumerate() {
            let x = left + wide * (j as f64 + 0.5);
            let words = fitted(&column.text, how.size, how.weight, wide - 6.0);
            pen.text(&words, (x, top + HEAD - 8.0), how.anchored(Anchor::Middle));
        }
        for (i, row) in self.rows.iter().enumerate() {
            let y = top + HEAD + ROW * i as f64;
            let words = fitted(&row.text, how.size, how.weight, plan.names - 10.0);
            pen.text(&words, (left - 8.0, y + 18.0), how.anchored(Anchor::End));
            for (j, column) in columns.iter().enumerate() {
                self.cell(pen, [row, column], (left + wide * j as f64, y), wide);
            }
        }
    }

    fn cell(&self, pen: &Pen<'_>, at: [&Setting; 2], (x, y): (f64, f64), wide: f64) {
        let here = |p: &&tankday_study::sweep::Point| p.settings.iter().zip(at).all(|(a, b)| a == b);
        let Some(point) = self.sweep.points.iter().find(here) else {
            return;
        };
        let Some(mean) = point.mean(self.measure) else {
            pen.rect((x + 0.5, y + 0.5), (wide - 1.0, ROW - 1.0), Token::Panel);
            let how = Type::note(Token::Ink2).anchored(Anchor::Middle);
            pen.text("-", (x + 0.5 * wide, y + 18.0), how);
            return;
        };
        let share = (mean.mean - self.least) / (self.most - self.least).max(1e-12);
        let step = ((share * 5.0) as usize).min(4);
        let hue = HUES.get(step).copied().unwrap_or(Token::Map0);
        pen.rect((x + 0.5, y + 0.5), (wide - 1.0, ROW - 1.0), hue);
        let colour = if step > 2 { Token::OnCoat } else { Token::Ink };
        let how = Type::note(colour).anchored(Anchor::Middle);
        let framed = self
            .best
            .is_some_and(|b| b.alike.iter().any(|s| s.as_slice() == point.settings));
        let how = if framed { how.bold() } else { how };
        let words = self.number(mean.mean);
        pen.text(
            &fitted(&words, how.size, how.weight, wide - 3.0),
            (x + 0.5 * wide, y + 18.0),
            how,
        );
        if framed {
            let (a, b) = ((x + 2.0, y + 2.0), (x + wide - 2.0, y + ROW - 2.0));
            pen.outline(&[a, (b.0, a.1), b, (a.0, b.1)], Token::Ink, 3.0);
        }
    }
}
