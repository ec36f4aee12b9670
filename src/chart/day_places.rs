//! Where the bars of the day stand, for those who point at them.

use super::clock_axis::ClockAxis;
use super::day::{HANDS, Plan, STATION, TANK, Tops, heading, samples};
use super::day_down::Down;
use super::frame::Width;
use super::tank_lane::longest;
use super::view::DayView;
use tankday_base::units::Moment;

/// A lane of the picture, counted as in the view.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LaneOf {
    /// A tank.
    Tank(usize),
    /// A pair of hands.
    Hands(usize),
    /// A station.
    Station(usize),
}

/// Where bars stand in the picture of the day.
pub struct Places<'v>(Laid<'v>);

enum Laid<'v> {
    Across { axis: ClockAxis, tops: Tops },
    Down(Box<Down<'v>>),
}

impl<'v> Places<'v> {
    /// In the picture of this width.
    #[must_use]
    pub fn of(view: &'v DayView, width: Width) -> Self {
        let heading = heading(view, width);
        if width == Width::Phone {
            let down = Down::new(view, &heading, samples(view, false));
            return Self(Laid::Down(Box::new(down)));
        }
        let plan = Plan::new(view, &heading, width);
        Self(Laid::Across {
            tops: Tops::of(view, plan.frame.top),
            axis: plan.frame.axis,
        })
    }

    /// Left, top, width and height in pixels of a bar's longest piece; none where it is not drawn.
    #[must_use]
    pub fn bar(&self, lane: LaneOf, from: Moment, to: Moment) -> Option<[f64; 4]> {
        let (axis, tops) = match &self.0 {
            Laid::Down(down) => return down.bar(lane, from, to),
            Laid::Across { axis, tops } => (axis, tops),
        };
        let (top, height) = match lane {
            LaneOf::Tank(i) => (tops.tanks.get(i)?, TANK),
            LaneOf::Hands(i) => (tops.hands.get(i)?, HANDS),
            LaneOf::Station(i) => (tops.stations.get(i)?, STATION),
        };
        let (a, b) = longest(axis, from, to)?;
        Some([a, *top, b - a, height])
    }
}
