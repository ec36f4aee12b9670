//! Moving a bath on in time.
//!
//! A bath either rests (holding at its set point, or in balance with the room: closed form) or flows. A flow is
//! integrated by a Runge-Kutta pair with steps that adapt, over heat lost, heat carried by vapour, water and
//! conversion; heat content and temperature follow from them.

use super::flow::{Course, Flow, Scale, Stop};
use super::state::{Bath, Heater, Heating};
use super::tank_heat::TankHeat;
use super::water;
use crate::units::{Energy, Mass, Quantity, Span, Temperature};

/// The first step and the longest, as a change of temperature, K.
const FIRST_STRIDE: f64 = 8.0;
const STRIDE: f64 = 25.0;
/// A bath so near below its set point has reached it, K: covers a predicted time rounded to the clock.
const NEAR: f64 = 5e-4;
/// A bath that changes no faster rests, K/s: a hundred-thousandth of a kelvin a day.
const AT_REST: f64 = 1e-10;
/// A flow that has taken so many steps has long come to rest.
const MOST_STEPS: u32 = 2_000;

/// What the bath does until something changes.
#[derive(Debug, Clone, Copy)]
pub(super) enum Regime {
    /// Temperature stays; the heater gives as much as is lost, W.
    Rest(f64),
    /// Heater power, W, and the set point the bath moves to, if it gets there.
    Flow { power: f64, goal: Option<f64> },
}

impl Bath {
    /// Moves the bath on.
    ///
    /// Holding is closed form, so cutting a span in pieces changes nothing beyond rounding; elsewhere the result
    /// is within the error control, a ten-thousandth of a kelvin for a step.
    pub fn advance(&mut self, tank: &TankHeat, span: Span) {
        self.run(tank, span.in_seconds(), None);
    }

    /// What the heater is doing.
    #[must_use]
    pub fn heating(&self, tank: &TankHeat) -> Heating {
        match (self.regime(tank), self.heater) {
            (Regime::Rest(power), Heater::Keep(set)) if power > 0.0 && self.temperature() >= set => {
                Heating::Holding
            }
            (Regime::Flow { power, .. } | Regime::Rest(power), _) if power > 0.0 => Heating::Full,
            _ => Heating::Idle,
        }
    }

    /// Runs for so many seconds, or until the stop is met; says the seconds gone and whether it was met.
    pub(super) fn run(&mut self, tank: &TankHeat, seconds: f64, stop: Option<Stop>) -> (f64, bool) {
        let mut gone = 0.0;
        let mut steps = 0;
        let mut hint = f64::INFINITY;
        while gone < seconds && seconds - gone > 1e-9 {
            let left = seconds - gone;
            self.land(tank);
            let (went, met) = match self.regime(tank) {
                Regime::Flow { power, goal } if steps < MOST_STEPS => {
                    self.flow(tank, power, goal, left, &mut hint, stop)
                }
                Regime::Flow { power, .. } | Regime::Rest(power) => self.rest(tank, power, left, stop),
            };
            steps += 1;
            gone += went;
            if met {
                return (gone, true);
            }
        }
        self.land(tank);
        (seconds, false)
    }

    pub(super) fn regime(&self, tank: &TankHeat) -> Regime {
        let lost = tank.leaving(self.temperature(), self.lid).heat.base();
        let net = self.net_power(tank).base();
        let at_goal = |set: Temperature| tank.leaving(set, self.lid).heat.base();
        let (power, goal) = match self.heater {
            Heater::Off => (0.0, None),
            Heater::Keep(_) if self.is_dry(tank) => (0.0, None),
            Heater::Keep(set) if self.temperature() > set || (self.temperature() == set && lost < 0.0) => {
                (0.0, (at_goal(set) > 0.0).then_some(set.in_celsius()))
            }
            Heater::Keep(set) if self.temperature() == set && net >= lost => return Regime::Rest(lost),
            Heater::Keep(set) => (net, (net > at_goal(set)).then_some(set.in_celsius())),
        };
        let drift = (power - lost) / self.content().capacity(self.celsius);
        if drift.abs() < AT_REST {
            return Regime::Rest(power);
        }
        Regime::Flow { power, goal }
    }

    /// Takes the set point exactly when the bath is just below it and the heater can hold it.
    fn land(&mut self, tank: &TankHeat) {
        let Heater::Keep(set) = self.heater else { return };
        let short = (set - self.temperature()).in_kelvin();
        let holds = || self.net_power(tank) >= tank.leaving(set, self.lid).heat;
        if short > 0.0 && short <= NEAR && holds() && !self.is_dry(tank) {
            let content = self.content();
            let more = content.heat(set.in_celsius()) - content.heat(self.celsius);
            self.ledger.heater += Energy::joules(more);
            self.celsius = set.in_celsius();
        }
    }

    /// Rests: temperature stays, water goes at a constant rate.
    fn rest(&mut self, tank: &TankHeat, power: f64, left: f64, stop: Option<Stop>) -> (f64, bool) {
        let dry = self.is_dry(tank);
        let leaving = tank.leaving(self.temperature(), self.lid).evaporation.base();
        let vapour = if dry { 0.0 } else { leaving };
        let rates = self.rate.all(self.celsius);
        let until = |amount: f64, rate: f64| {
            if rate > 0.0 {
                amount.max(0.0) / rate
            } else {
                f64::INFINITY
            }
        };
        let empty = until(self.water - tank.dry().base(), vapour);
        let stopped = match stop {
            Some(Stop::Water(level)) => until(self.water - level, vapour),
            Some(Stop::Conversion(from, amount)) => until(
                amount - self.conversion_on(from),
                self.rate.at(from, self.celsius),
            ),
            None => f64::INFINITY,
        };
        let h = left.min(empty).min(stopped);
        let gone = if h == empty {
            self.water - tank.dry().base()
        } else {
            vapour * h
        };
        self.book(
            power * h,
            power * h,
            gone * water::heat_content(self.temperature()).base(),
            gone,
        );
        for (sum, rate) in self.conversion.iter_mut().zip(rates) {
            *sum += rate * h;
        }
        (h, stopped <= h)
    }

    /// One step of a flow, no longer than `left`.
    fn flow(
        &mut self,
        tank: &TankHeat,
        power: f64,
        goal: Option<f64>,
        left: f64,
        hint: &mut f64,
        stop: Option<Stop>,
    ) -> (f64, bool) {
        let frame = Flow::new(tank, self, self.is_dry(tank), power);
        let h = self.stride(tank, power, goal, left, *hint, frame.first());
        let scale = Scale {
            capacity: self.content().capacity(self.celsius),
            full: tank.full().base(),
        };
        let made = frame.controlled(h, &scale);
        *hint = made.next;
        let stopped = stop.and_then(|stop| frame.until(stop, &made));
        let end = stopped.unwrap_or(made);
        self.take(power * end.seconds, &end.y, end.celsius);
        if let Some(goal) = goal {
            self.meet(goal);
        }
        (end.seconds, stopped.is_some())
    }

    /// Length to try: a stride of temperature, not beyond the set point, not beyond a dry tank.
    fn stride(
        &self,
        tank: &TankHeat,
        power: f64,
        goal: Option<f64>,
        left: f64,
        hint: f64,
        first: &Course,
    ) -> f64 {
        let drift = ((power - first[0]) / self.content().capacity(self.celsius)).abs();
        let spare = (self.water - tank.dry().base()).max(0.1 * tank.dry().base());
        let most = tank.most_evaporation(self.lid).base();
        let far = if hint.is_finite() {
            hint.min(STRIDE / drift)
        } else {
            FIRST_STRIDE / drift
        };
        let mut h = left.min(far);
        if most > 0.0 && first[2] < 0.0 {
            h = h.min(spare / most);
        }
        // Losses end with a kink at the temperature of the air: at the pace of now it is not passed.
        let above = (self.temperature() - tank.air()).in_kelvin();
        if above > 0.0 && power < first[0] {
            h = h.min(above / drift);
        }
        // A bath slows on its way, so a goal that is out of reach at the pace of now is out of reach.
        match goal {
            Some(goal) if (goal - self.celsius).abs() <= h * drift => self
                .seconds_to(tank, power, goal)
                .map_or(h, |s| s.min(left).min(1.5 * h)),
            _ => h,
        }
    }

    /// Takes the set point exactly when a step has just met or passed it; the difference is the error of the
    /// step and is booked as heat lost or gained by the room.
    fn meet(&mut self, goal: f64) {
        if self.celsius != goal && (self.celsius - goal).abs() <= NEAR {
            let content = self.content();
            let more = content.heat(goal) - content.heat(self.celsius);
            self.ledger.lost -= Energy::joules(more);
            self.celsius = goal;
        }
    }

    fn take(&mut self, heater: f64, y: &Course, celsius: f64) {
        self.book(heater, y[0], y[1], self.water - y[2]);
        self.conversion = [y[3], y[4]];
        self.celsius = celsius;
    }

    fn book(&mut self, heater: f64, lost: f64, carried: f64, vapour: f64) {
        self.ledger.heater += Energy::joules(heater);
        self.ledger.lost += Energy::joules(lost);
        self.ledger.vapour_heat += Energy::joules(carried);
        self.ledger.evaporated += Mass::kilograms(vapour);
        self.water -= vapour;
    }
}
