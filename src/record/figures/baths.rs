//! What the tanks hold, how they were kept, and how far they still go.

use super::loads::TankLoad;
use crate::analysis::Analysis;
use crate::event::{BathReadings, BathSample, CareKind, CareUse, Coated, HeaterState, LogEntry};
use tankday_base::bath::chemistry::{Chemistry, Life, Mix, Readings, life_left};
use tankday_base::bath::water::measuring_density;
use tankday_base::shop::{BathId, BathRecipe, BathState, Contaminants, Recipe, Shop, StationId, Tank};
use tankday_base::units::{
    Area, AreaPerVolume, CoatWeight, Concentration, Mass, Moment, Quantity, Span, Volume, VolumePerArea,
};

/// Care of a bath, from beginning to end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CareFigure {
    /// What was done.
    pub kind: CareKind,
    /// When it began.
    pub from: Moment,
    /// When it ended.
    pub to: Moment,
    /// What it took.
    pub used: CareUse,
}

/// The bath in one tank at the end.
#[derive(Debug, Clone, PartialEq)]
pub struct BathFigure {
    /// The tank.
    pub tank: StationId,
    /// The recipe.
    pub bath: BathId,
    /// Its name; with the tank's where several tanks hold the same bath.
    pub name: String,
    /// How it reads at the end, its water made good.
    pub now: BathState,
    /// Coating formed in it.
    pub coating: Mass,
    /// Surface coated in it.
    pub coated: Area,
    /// Metal that dissolved in it from the work.
    pub metal: Mass,
    /// Hydrogen set free, by work and steel wool, at 20 °C.
    pub hydrogen: Volume,
    /// Bath that left on the work.
    pub dragged_out: Volume,
    /// Care that was ended, in order.
    pub care: Vec<CareFigure>,
    /// How far it still goes at the present mix of work; none where it does not wear, or did no work.
    pub life: Option<Life>,
    /// The same where it did no work and another tank of the same bath did: at the mix of that.
    pub spare: Option<Life>,
    /// The work that it did; none where it does not wear, or did none.
    pub mix: Option<Mix>,
}

impl BathFigure {
    /// All that care used.
    #[must_use]
    pub fn used(&self) -> CareUse {
        self.care.iter().fold(CareUse::default(), |sum, c| CareUse {
            water: sum.water + c.used.water,
            concentrate: sum.concentrate + c.used.concentrate,
            chemical: sum.chemical + c.used.chemical,
            wasted: sum.wasted + c.used.wasted,
            sludge: sum.sludge + c.used.sludge,
            hydrogen: sum.hydrogen + c.used.hydrogen,
            media: sum.media + c.used.media,
            drawn_off: sum.drawn_off + c.used.drawn_off,
            refilled: sum.refilled + c.used.refilled,
        })
    }
}

pub(super) fn of(read: &Analysis<'_>, loads: &[TankLoad]) -> Vec<BathFigure> {
    let (shop, watched) = (read.shop, &read.watched);
    let one = |(id, _, tank): (StationId, _, &Tank)| {
        let recipe = shop.baths.get(tank.bath.index())?;
        let sums = watched.sums.iter().find(|s| s.tank == id)?.clone();
        let mut figure = sums.figure(shop, id, tank, recipe, loads);
        figure.life = figure.goes_on(shop, recipe);
        figure.now.contaminants = watched.foreign.at(id, Moment::NEVER);
        Some(figure)
    };
    let mut figures: Vec<BathFigure> = shop.tanks().filter_map(one).collect();
    spare(shop, &mut figures);
    figures
}

/// Tanks that did no work could do that of another tank of the same bath.
fn spare(shop: &Shop, figures: &mut [BathFigure]) {
    let worked: Vec<(BathId, Mix, VolumePerArea)> = figures
        .iter()
        .filter_map(|f| Some((f.bath, f.mix?, f.drag_out()?)))
        .collect();
    for figure in figures.iter_mut().filter(|f| f.mix.is_none()) {
        let same = worked.iter().find(|(bath, ..)| *bath == figure.bath);
        figure.spare = same.and_then(|(_, mix, drag_out)| {
            let recipe = shop.baths.get(figure.bath.index())?;
            let drag_out = *drag_out;
            let chemistry = Recipe {
                drag_out,
                ..recipe.chemistry
            };
            figure.life_with(shop, &chemistry, mix)
        });
    }
}

impl BathFigure {
    /// Bath that leaves on a square metre of its work.
    fn drag_out(&self) -> Option<VolumePerArea> {
        (self.coated > Area::ZERO)
            .then(|| VolumePerArea::from_base(self.dragged_out.base() / self.coated.base()))
    }

    /// How far it still goes if the work goes on like this.
    fn goes_on(&self, shop: &Shop, recipe: &BathRecipe) -> Option<Life> {
        let (mix, drag_out) = (self.mix?, self.drag_out()?);
        let chemistry = Recipe {
            drag_out,
            ..recipe.chemistry
        };
        self.life_with(shop, &chemistry, &mix)
    }

    /// How far it goes on with constants and work.
    fn life_with(&self, shop: &Shop, chemistry: &Recipe, mix: &Mix) -> Option<Life> {
        let recipe = shop.baths.get(self.bath.index())?;
        let tank = shop.tank(self.tank)?;
        if !recipe.wears {
            return None;
        }
        let readings = Readings {
            volume: tank.fill,
            total_acid: self.now.total_acid,
            free_acid: self.now.free_acid,
            iron: self.now.iron,
            sludge: self.now.sludge,
        };
        let bath = Chemistry::new(chemistry, &readings).ok()?;
        Some(life_left(chemistry, &recipe.limits, &bath, mix))
    }

    /// Loads to the first limit at the ends of what is believed of the chemistry: the fewest and the most. Each constant
    /// that the scenario leaves at its default is taken at both ends of its range, one at a time; one that the shop has
    /// measured is taken as it is.
    #[must_use]
    pub fn loads_believed(&self, shop: &Shop) -> Option<(f64, f64)> {
        let recipe = shop.baths.get(self.bath.index())?;
        let mix = self.mix?;
        let chemistry = Recipe {
            drag_out: self.drag_out()?,
            ..recipe.chemistry
        };
        let loads = |c: &Recipe| Some(self.life_with(shop, c, &mix)?.first()?.loads);
        let usual = loads(&chemistry)?;
        let ends = chemistry.believed().into_iter().filter_map(|c| loads(&c));
        Some(ends.fold((usual, usual), |(least, most), n| (least.min(n), most.max(n))))
    }
}

/// What a record says of the work and care of one tank.
#[derive(Debug, Clone, Default)]
pub(super) struct Sums {
    pub(super) tank: StationId,
    /// How often its bath was sampled.
    pub(super) samples: usize,
    last: Option<BathSample>,
    hot: Span,
    on_since: Option<Moment>,
    coated: Coated,
    began: Option<(CareKind, Moment)>,
    /// Care that has ended.
    pub(super) care: Vec<CareFigure>,
}

impl Sums {
    pub(super) fn of(tank: StationId) -> Self {
        Self {
            tank,
            ..Self::default()
        }
    }

    pub(super) fn note(&mut self, at: Moment, event: &LogEntry) {
        match event {
            LogEntry::Bath { tank, sample } if *tank == self.tank => {
                self.samples += 1;
                if let Some(since) = self.on_since.take() {
                    self.hot += at - since;
                }
                self.on_since = (sample.heater != HeaterState::Off).then_some(at);
                self.last = Some(**sample);
            }
            LogEntry::Coated { tank, coated, .. } if *tank == self.tank => {
                self.coated.coating += coated.coating;
                self.coated.metal += coated.metal;
                self.coated.hydrogen += coated.hydrogen;
                self.coated.dragged_out += coated.dragged_out;
            }
            LogEntry::CareBegins { tank, care } if *tank == self.tank => self.began = Some((*care, at)),
            LogEntry::CareEnds { tank, care, used } if *tank == self.tank => {
                let from = self.began.take().map_or(at, |b| b.1);
                self.care.push(CareFigure {
                    kind: *care,
                    from,
                    to: at,
                    used: **used,
                });
            }
            _ => {}
        }
    }

    fn figure(
        self,
        shop: &Shop,
        id: StationId,
        tank: &Tank,
        recipe: &BathRecipe,
        loads: &[TankLoad],
    ) -> BathFigure {
        let own: Vec<&TankLoad> = loads.iter().filter(|l| l.tank == id).collect();
        let area: Area = own.iter().map(|l| l.area).sum();
        let now = match self.last.and_then(|s| s.readings) {
            Some(readings) => state(&readings, self.filled(tank.fill), tank.fill),
            None => untouched(recipe, &own, tank.fill),
        };
        let care_hydrogen: Volume = self.care.iter().map(|c| c.used.hydrogen).sum();
        let shared = shop.tanks().filter(|(.., t)| t.bath == tank.bath).count() > 1;
        let station = shop.stations.get(id.index()).map_or("", |s| s.name.as_str());
        BathFigure {
            tank: id,
            bath: tank.bath,
            name: if shared {
                format!("{} in {station}", recipe.name)
            } else {
                recipe.name.clone()
            },
            life: None,
            spare: None,
            mix: self.mix(shop, recipe, &own, area),
            now,
            coating: self.coated.coating,
            coated: area,
            metal: self.coated.metal,
            hydrogen: self.coated.hydrogen + care_hydrogen,
            dragged_out: self.coated.dragged_out,
            care: self.care,
        }
    }

    /// The volume by the fill at the end.
    fn filled(&self, fill: Volume) -> f64 {
        self.last.map_or(1.0, |s| (s.water / measuring_density()) / fill)
    }

    /// The work that it did.
    fn mix(&self, shop: &Shop, recipe: &BathRecipe, own: &[&TankLoad], area: Area) -> Option<Mix> {
        let loads = own.len() as f64;
        if !recipe.wears || own.is_empty() || area <= Area::ZERO {
            return None;
        }
        let weight = self.coated.coating.in_grams() / area.in_square_metres();
        let days = shop.calendar.days.len().max(1) as f64;
        Some(Mix {
            weight: CoatWeight::grams_per_square_metre(weight),
            area: area / loads,
            hot: self.hot.times(1.0 / loads),
            loads_by_day: loads / days,
        })
    }
}

fn state(r: &BathReadings, filled: f64, fill: Volume) -> BathState {
    BathState {
        total_acid: r.total_acid * filled,
        free_acid: r.free_acid * filled,
        iron: r.iron * filled,
        sludge: Concentration::from_base((r.stirred + r.settled).base() / fill.base()),
        uses: r.uses,
        area: AreaPerVolume::from_base(r.area.base() / fill.base()),
        contaminants: Contaminants::default(),
    }
}

/// A bath that does not wear still counts what it did.
fn untouched(recipe: &BathRecipe, own: &[&TankLoad], fill: Volume) -> BathState {
    let mut now = recipe.now;
    for load in own.iter().filter(|_| fill > Volume::ZERO) {
        now.area += AreaPerVolume::from_base(load.area.base() / fill.base());
        now.uses = now.uses.saturating_add(1);
    }
    now
}
