//! Whether a load may go in.

use super::{Telling, celsius, out_when, short, target_words};
use tankday_base::bath::chemistry::{Gravity, Watched};
use tankday_base::print::{capital, list, number, pieces_of, plural};
use tankday_base::shop::{CoatsFrom, PartId, RouteId};
use tankday_base::units::Span;
use tankday_record::one_load::{Ends, Forbids, Pieces, Ruled};

impl Telling<'_> {
    /// Whether it may go in as things are, and why, the gravest first.
    pub(super) fn verdict(&self) -> (bool, Vec<String>) {
        let against: Vec<String> = [
            self.refused(),
            self.bare(),
            self.not_together(),
            self.sticks_out(),
            self.too_much(),
            self.outside(),
        ]
        .into_iter()
        .flatten()
        .collect();
        if against.is_empty() {
            return (
                true,
                vec![self.goes(), self.hint()].into_iter().flatten().collect(),
            );
        }
        (false, against)
    }

    /// Pieces that must stay out of the bath, each with its reason.
    fn refused(&self) -> Option<String> {
        let refused = |p: &Pieces| Some(format!("{}: {}", plural(self.name(p)), p.refused.as_ref()?));
        let all: Vec<String> = self.load.pieces.iter().filter_map(refused).collect();
        (!all.is_empty()).then(|| {
            format!(
                "No coating expected, keep them out of the bath. {}.",
                capital(&all.join("; "))
            )
        })
    }

    /// Nothing grows in this bath.
    fn bare(&self) -> Option<String> {
        if self.load.now.ends != Ends::Nothing || self.load.has_refused() {
            return None;
        }
        let now = &self.load.now;
        let hottest = now
            .looks
            .iter()
            .map(|l| l.temperature.in_celsius())
            .fold(f64::MIN, f64::max);
        let limit = |from: CoatsFrom| from.limit().in_celsius();
        let why = match hottest <= limit(CoatsFrom::Steel) + 1.0 {
            true => format!(
                "the bath gets no hotter than {}: steel takes none up to {}, cast iron none up to {}",
                celsius(hottest),
                celsius(limit(CoatsFrom::Steel)),
                celsius(limit(CoatsFrom::CastIron))
            ),
            false => format!(
                "the bath is too cold for too long in the {} that the load may stay",
                short(now.stay)
            ),
        };
        Some(format!("No coating expected: {why}.{}", self.wait()))
    }

    fn wait(&self) -> String {
        match &self.load.later {
            Some(later) if later.course.ends != Ends::Nothing => {
                format!(
                    " Wait {} for {}.",
                    short(later.waits),
                    celsius(later.course.at.in_celsius())
                )
            }
            _ => String::new(),
        }
    }

    /// Parts of it that the shop's own rules, or their dwells, keep apart.
    fn not_together(&self) -> Option<String> {
        let clash = self.load.clashes.first()?;
        let name = |part: PartId| self.shop.parts.get(part.index()).map_or("?", |p| p.name.as_str());
        let [one, other] = [clash.one, clash.other].map(|part| plural(name(part)));
        let why = self.forbidden(clash.why, [&one, &other]);
        let more = match self.load.clashes.len() - 1 {
            0 => String::new(),
            more => format!(" The same holds for {}.", pieces_of(more as u32, "further pair")),
        };
        Some(format!(
            "Don't put them in together: {why}.{more} Put {one} and {other} in one after the other."
        ))
    }

    fn forbidden(&self, why: Forbids, [one, other]: [&str; 2]) -> String {
        let route = |r: Option<RouteId>| {
            let route = r.and_then(|r| self.shop.routes.get(r.index()));
            route.map_or_else(|| "no route to this bath".to_owned(), |r| format!("`{}`", r.name))
        };
        match why {
            Forbids::Rule(Ruled::NothingTogether) => {
                "the shop's rules (`combine: never`) put no loads together".to_owned()
            }
            Forbids::Rule(Ruled::OnePart) => {
                "the shop's rules (`combine: same part`) put only pieces of one part together".to_owned()
            }
            Forbids::Rule(Ruled::OneRoute(a, b)) => format!(
                "the shop's rules (`combine: same route`) put only work of one route together, and {one} take {}, {other} {}",
                route(a),
                route(b)
            ),
            Forbids::Dwells(a, b) => format!("{one} stay {}, {other} {}", dwell_words(a), dwell_words(b)),
        }
    }

    fn sticks_out(&self) -> Option<String> {
        let out: Vec<String> = self
            .load
            .pieces
            .iter()
            .filter(|p| p.lies.is_none())
            .map(|p| plural(self.name(p)))
            .collect();
        (!out.is_empty()).then(|| {
            format!(
                "It won't fit: {} can't go under the solution, however they are turned.",
                list(&out)
            )
        })
    }

    /// By how much, and how much of it would go in.
    fn too_much(&self) -> Option<String> {
        if self.load.fits() {
            return None;
        }
        let shares = self.load.room.shares(&self.load.takes);
        let names = ["area", "mass", "basket room"];
        let over = shares.iter().zip(names).filter_map(|(s, name)| {
            let share = s.filter(|s| s.in_fraction() > 1.0 + 1e-9)?;
            Some(format!(
                "{name} {} % over the limit",
                number(share.in_percent() - 100.0, 0)
            ))
        });
        let over: Vec<String> = over.collect();
        let most = shares
            .iter()
            .flatten()
            .map(|s| s.in_fraction())
            .fold(1.0, f64::max);
        let pieces = self.load.pieces.as_slice();
        let part = match pieces {
            [one] => format!(
                "{} of the {} go in",
                (f64::from(one.count) / most).floor(),
                one.count
            ),
            _ => format!("{} loads of this kind would do", most.ceil()),
        };
        Some(format!("It won't fit: {}. {}.", list(&over), capital(&part)))
    }

    /// The bath is outside its limits, or colder than any load may find it.
    fn outside(&self) -> Option<String> {
        let stops = self.load.breaches.iter().filter(|b| b.gravity == Gravity::Stop);
        let mut why: Vec<&str> = stops
            .filter(|b| b.what != Watched::Temperature)
            .map(|b| b.what.sentence(b.side))
            .collect();
        let at = self.load.now.at.in_celsius();
        let band = self.recipe()?.band;
        if at < band.least.in_celsius() - 1e-6 && self.load.now.ends != Ends::Nothing {
            let least = celsius(band.least.in_celsius());
            return Some(format!(
                "Don't put it in yet: no load goes in below {least}.{}",
                self.wait()
            ));
        }
        if at > band.most.in_celsius() + 1e-6 {
            why.push("it is too hot");
        }
        let why: Vec<String> = why.into_iter().map(str::to_owned).collect();
        (!why.is_empty()).then(|| format!("Don't put it in: {}. Put the bath right first.", list(&why)))
    }

    fn goes(&self) -> Option<String> {
        let now = &self.load.now;
        let till = out_when(now).map_or(String::new(), |words| format!(", out {words}"));
        Some(match now.ends {
            Ends::OutOfTime => format!(
                "It fits, but the coating stays below its target: the longest stay, {}, is over before.",
                short(now.stay)
            ),
            Ends::Full => format!(
                "It fits, but this steel ends below the target of {}: {} in the bath{till}.",
                target_words(self.recipe()?)?,
                short(now.stay)
            ),
            Ends::Done | Ends::Nothing => format!("It fits: {} in the bath{till}.", short(now.stay)),
        })
    }

    /// What waiting would gain.
    fn hint(&self) -> Option<String> {
        let later = self.load.later.as_ref()?;
        let (now, then) = (self.load.now.stay, later.waits + later.course.stay);
        let words = match now <= then {
            true => format!(
                "Putting it in now is quicker by {} than waiting until it is hot.",
                short(then - now)
            ),
            false => format!("Waiting until it is hot is quicker by {}.", short(now - then)),
        };
        Some(words)
    }
}

/// `5 to 12 min`.
fn dwell_words((least, most): (Span, Span)) -> String {
    format!("{:.0} to {:.0} min", least.in_minutes(), most.in_minutes())
}
