//! How each type that stands in an event is written in its column, and read from there.

use super::CsvError;
use super::columns::{Column, Row};
use super::names::Names;
use crate::event::{Breach, LoadNo, OrderNo};
use std::sync::Arc;
use tankday_base::shop::{Defect, OrderId, RouteId, Shop, StationId, StepIx, StepRef, VesselId};
use tankday_base::units::{
    Area, Concentration, Energy, Mass, Moment, Power, Quantity, Share, Span, Strength, Temperature, Volume,
};

/// What stands in a column, or in several from there on.
pub(crate) trait Cell: Sized {
    /// Fills it, and with it the columns for people.
    fn write(&self, row: &mut Row, at: Column, names: &Names<'_>);

    /// Reads it.
    ///
    /// # Errors
    /// If it can't be read, or names what the shop does not have.
    fn read(row: &Row, at: Column, shop: &Shop) -> Result<Self, CsvError>;
}

/// Types of which one number or text is written and read.
macro_rules! plain {
    ($($type:ty: $value:ident => $written:expr, $row:ident $at:ident => $read:expr;)+) => {$(
        impl Cell for $type {
            fn write(&self, row: &mut Row, at: Column, _names: &Names<'_>) {
                let $value = self;
                row.set(at, $written);
            }

            fn read($row: &Row, $at: Column, _shop: &Shop) -> Result<Self, CsvError> {
                Ok($read)
            }
        }
    )+};
}

plain! {
    u32: n => n, row at => row.get(at)?;
    bool: yes => yes, row at => row.get(at)?;
    f64: x => x, row at => row.number(at)?;
    Arc<str>: text => text, row at => row.text(at).into();
    LoadNo: load => load.0, row at => Self(row.get(at)?);
    Moment: when => when.in_micros(), row at => Self::micros(row.get(at)?);
    Span: span => span.in_micros(), row at => Self::micros(row.get(at)?);
    Temperature: t => t.in_celsius(), row at => Self::celsius(row.number(at)?);
    Area: q => q.base(), row at => Self::from_base(row.number(at)?);
    Concentration: q => q.base(), row at => Self::from_base(row.number(at)?);
    Energy: q => q.base(), row at => Self::from_base(row.number(at)?);
    Mass: q => q.base(), row at => Self::from_base(row.number(at)?);
    Power: q => q.base(), row at => Self::from_base(row.number(at)?);
    Share: q => q.base(), row at => Self::from_base(row.number(at)?);
    Strength: q => q.base(), row at => Self::from_base(row.number(at)?);
    Volume: q => q.base(), row at => Self::from_base(row.number(at)?);
    Defect: d => d.words(), row at => row.word(at, Defect::ALL.iter().map(|d| (d.words(), *d)))?;
}

impl<T: Cell> Cell for Box<T> {
    fn write(&self, row: &mut Row, at: Column, names: &Names<'_>) {
        self.as_ref().write(row, at, names);
    }

    fn read(row: &Row, at: Column, shop: &Shop) -> Result<Self, CsvError> {
        T::read(row, at, shop).map(Self::new)
    }
}

/// Empty columns where there is none.
impl<T: Cell> Cell for Option<T> {
    fn write(&self, row: &mut Row, at: Column, names: &Names<'_>) {
        if let Some(value) = self {
            value.write(row, at, names);
        }
    }

    fn read(row: &Row, at: Column, shop: &Shop) -> Result<Self, CsvError> {
        match row.text(at) {
            "" => Ok(None),
            _ => T::read(row, at, shop).map(Some),
        }
    }
}

impl Cell for (LoadNo, StepRef) {
    fn write(&self, row: &mut Row, at: Column, names: &Names<'_>) {
        self.0.write(row, at, names);
        self.1.write(row, Column::Step, names);
    }

    fn read(row: &Row, at: Column, shop: &Shop) -> Result<Self, CsvError> {
        Ok((
            LoadNo::read(row, at, shop)?,
            StepRef::read(row, Column::Step, shop)?,
        ))
    }
}

impl Cell for OrderNo {
    fn write(&self, row: &mut Row, at: Column, names: &Names<'_>) {
        row.set(at, self.0);
        row.set(Column::OrderName, names.order(*self));
    }

    fn read(row: &Row, at: Column, _shop: &Shop) -> Result<Self, CsvError> {
        row.get(at).map(Self)
    }
}

/// A number that must be one of so many.
fn one_of(row: &Row, at: Column, count: usize, what: &str) -> Result<u32, CsvError> {
    let n: u32 = row.get(at)?;
    match (n as usize) < count {
        true => Ok(n),
        false => Err(row.refuse(at, format!("the scenario has no such {what}"))),
    }
}

impl Cell for OrderId {
    fn write(&self, row: &mut Row, at: Column, _names: &Names<'_>) {
        row.set(at, self.0);
    }

    fn read(row: &Row, at: Column, shop: &Shop) -> Result<Self, CsvError> {
        one_of(row, at, shop.orders.len(), "order").map(Self)
    }
}

impl Cell for VesselId {
    fn write(&self, row: &mut Row, at: Column, _names: &Names<'_>) {
        row.set(at, self.0);
    }

    fn read(row: &Row, at: Column, shop: &Shop) -> Result<Self, CsvError> {
        one_of(row, at, shop.vessels.len(), "vessel").map(Self)
    }
}

impl Cell for StationId {
    fn write(&self, row: &mut Row, at: Column, names: &Names<'_>) {
        row.set(at, self.0);
        row.set(Column::StationName, names.station(*self));
    }

    fn read(row: &Row, at: Column, shop: &Shop) -> Result<Self, CsvError> {
        one_of(row, at, shop.stations.len(), "station").map(Self)
    }
}

/// The step that a load is at, with its route and name; in any other column another step of the same route.
impl Cell for StepRef {
    fn write(&self, row: &mut Row, at: Column, names: &Names<'_>) {
        row.set(at, self.step.0);
        if at == Column::Step {
            row.set(Column::Route, self.route.0);
            row.set(Column::StepName, names.step(*self));
        }
    }

    fn read(row: &Row, at: Column, shop: &Shop) -> Result<Self, CsvError> {
        let route = RouteId(row.get(Column::Route)?);
        let step = StepIx(row.get(at)?);
        match shop.routes.get(route.index()) {
            None => Err(row.refuse(Column::Route, "the scenario has no such route")),
            Some(known) if step.index() < known.steps.len() => Ok(Self { route, step }),
            Some(_) => Err(row.refuse(at, "the route has no such step")),
        }
    }
}

impl Cell for Breach {
    fn write(&self, row: &mut Row, at: Column, _names: &Names<'_>) {
        let (limit, by) = match self {
            Self::WaitedTooLong { by } => ("waited", by),
            Self::StayedTooLong { by } => ("stayed", by),
            Self::InAtBreak { by } => ("break", by),
        };
        row.set(at, limit);
        row.set(Column::By, by.in_micros());
    }

    fn read(row: &Row, at: Column, _shop: &Shop) -> Result<Self, CsvError> {
        let by = Span::micros(row.get(Column::By)?);
        let limits = [
            ("waited", Self::WaitedTooLong { by }),
            ("stayed", Self::StayedTooLong { by }),
            ("break", Self::InAtBreak { by }),
        ];
        row.word(at, limits.into_iter())
    }
}
