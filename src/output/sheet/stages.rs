//! A stage of bath care in words: chemicals by their full name and in the strength that the shop buys, spent solution
//! into a drum.

use super::act::{Act, Amount};
use super::caution::StepCaution;
use tankday_base::print::how_long;
use tankday_base::shop::Trimming;
use tankday_base::units::{Span, Volume};
use tankday_record::{CareKind, CareUse, TaskKind};

/// Less than this is not worth a word.
const LITTLE: Volume = Volume::litres(0.05);
/// What holds for every drop of spent solution.
const ASK: &str = "ask before anything goes down a drain";

/// What hands do to a bath, and how it came out.
#[derive(Debug, Clone)]
pub(super) struct Stage<'a> {
    /// Whether the bath scalds, so that a pump moves it.
    pub(super) hot: bool,
    /// The tank.
    pub(super) name: &'a str,
    pub(super) kind: TaskKind,
    /// The care that it belongs to.
    pub(super) care: Option<CareKind>,
    pub(super) used: &'a CareUse,
    /// How long it lasts.
    pub(super) lasts: Span,
    /// How long a filter runs, in words.
    pub(super) runs: String,
    /// How long hands are busy with it.
    pub(super) hands: Span,
}

/// What is said of a stage.
#[derive(Debug)]
pub(super) struct Said {
    pub(super) act: Act,
    pub(super) words: String,
    pub(super) amounts: Vec<Amount>,
    pub(super) caution: StepCaution,
}

fn said(act: Act, words: String, amounts: Vec<Amount>, caution: StepCaution) -> Said {
    Said {
        act,
        words,
        amounts,
        caution,
    }
}

/// `20 L of`, or nothing where it is not known how much.
fn of(amount: Option<&Amount>) -> String {
    amount.map_or(String::new(), |a| format!("{a} of "))
}

impl Stage<'_> {
    /// In the tank itself, trimmed by this.
    pub(super) fn in_tank(&self, by: Option<Trimming>) -> Said {
        let (name, long) = (self.name, how_long(self.lasts));
        match self.kind {
            TaskKind::AddConcentrate => self.concentrate(),
            TaskKind::TrimRatio => self.trim(by),
            TaskKind::PutWoolIn => self.wool(),
            TaskKind::TakeWoolOut => said(
                Act::Care,
                format!("Take what is left of the steel wool out of the {name}, {long}"),
                Vec::new(),
                StepCaution::Foam,
            ),
            TaskKind::Decant => said(
                Act::Care,
                format!("Decant the {name} from its sludge{}, {long}", self.by_pump()),
                Vec::new(),
                StepCaution::Waste,
            ),
            TaskKind::SetUpFilter => said(
                Act::Care,
                format!(
                    "Set up the filter, {} the heel of the {name} on it; it runs {}{}",
                    if self.hot { "pump" } else { "pour" },
                    self.runs,
                    self.you()
                ),
                Vec::new(),
                StepCaution::Waste,
            ),
            TaskKind::FillBack => self.fill_back(),
            _ => self.make_up(),
        }
    }

    /// ` by pump`, where nobody may pour.
    const fn by_pump(&self) -> &'static str {
        if self.hot { " by pump" } else { "" }
    }

    /// `; you: 4 min` where a stage goes on by itself.
    fn you(&self) -> String {
        if self.lasts == self.hands {
            return String::new();
        }
        format!("; you: {}", how_long(self.hands))
    }

    fn concentrate(&self) -> Said {
        let added =
            (self.used.concentrate > Volume::ZERO).then(|| Amount::millilitres(self.used.concentrate));
        said(
            Act::Add,
            format!(
                "Add {}concentrate to the {}, stir gently, {}",
                of(added.as_ref()),
                self.name,
                how_long(self.lasts)
            ),
            added.into_iter().collect(),
            StepCaution::Concentrate,
        )
    }

    fn trim(&self, by: Option<Trimming>) -> Said {
        let (name, long, pure) = (self.name, how_long(self.lasts), self.used.chemical);
        let some = pure.in_grams() > 0.0;
        match by {
            Some(Trimming::PhosphoricAcid(bottle)) => {
                let amount = some.then(|| Amount::millilitres(bottle.holds(pure)));
                let words = format!(
                    "Add {}phosphoric acid {} to the {name}, slowly, {long}",
                    of(amount.as_ref()),
                    bottle.words()
                );
                said(
                    Act::Add,
                    words,
                    amount.into_iter().collect(),
                    StepCaution::Concentrate,
                )
            }
            by => {
                let what = by.map_or("what takes free acid out", Trimming::words);
                let amount = some.then(|| Amount::grams(pure));
                let words = format!(
                    "Stir {}{what} into the {name} bit by bit, {long}; it froths",
                    of(amount.as_ref())
                );
                said(Act::Add, words, amount.into_iter().collect(), StepCaution::Wool)
            }
        }
    }

    fn wool(&self) -> Said {
        let amount = (self.used.chemical.in_grams() > 0.0).then(|| Amount::grams(self.used.chemical));
        said(
            Act::Add,
            format!(
                "Dissolve {}steel wool in the {}, {}{}",
                of(amount.as_ref()),
                self.name,
                how_long(self.lasts),
                self.you()
            ),
            amount.into_iter().collect(),
            StepCaution::Wool,
        )
    }

    fn fill_back(&self) -> Said {
        let water = Amount::litres(self.used.water);
        let mut words = format!(
            "Fill the {} back{}, make good with {water} of distilled water, {}",
            self.name,
            self.by_pump(),
            how_long(self.lasts)
        );
        let mut amounts = vec![water];
        // Of a bath that is filtered only drops are lost; the heel of one that only settles is spent.
        if self.care == Some(CareKind::Settle) && self.used.wasted > LITTLE {
            let heel = Amount::litres(self.used.wasted);
            words.push_str(&format!("; the heel, {heel}, goes into the waste drum: {ASK}"));
            amounts.push(heel);
        }
        said(Act::Care, words, amounts, StepCaution::Waste)
    }

    fn make_up(&self) -> Said {
        let amounts = vec![
            Amount::litres(self.used.wasted),
            Amount::litres(self.used.water),
            Amount::millilitres(self.used.concentrate),
        ];
        let [spent, water, concentrate] = [0, 1, 2].map(|i| of(amounts.get(i)));
        let words = format!(
            "Drain {spent}the {} into the waste drum; {ASK}. Make up with {water}distilled water, then {concentrate}\
             concentrate, {} in all",
            self.name,
            how_long(self.lasts)
        );
        said(Act::Care, words, amounts, StepCaution::MakeUp)
    }

    /// In a vessel, while the tank works.
    pub(super) fn in_vessel(&self, vessel: &str) -> Said {
        let (name, long, used) = (self.name, how_long(self.lasts), self.used);
        let mut amounts = Vec::new();
        let mut water = String::new();
        if used.water >= LITTLE && matches!(self.kind, TaskKind::Exchange | TaskKind::FillBack) {
            let more = Amount::litres(used.water);
            water = format!(", make good with {more} of distilled water");
            amounts.push(more);
        }
        let words = match self.kind {
            TaskKind::Exchange => {
                let (drawn, kept) = (Amount::litres(used.drawn_off), Amount::litres(used.refilled));
                let words = format!(
                    "Draw {drawn} off the {name} into the empty half of the {vessel}, refill it with the {kept} that were \
                     kept{water}, {long}"
                );
                amounts.splice(0..0, [drawn, kept]);
                words
            }
            TaskKind::Decant => format!("Decant what settled in the {vessel} from its sludge, {long}"),
            TaskKind::SetUpFilter => {
                format!(
                    "Set up the filter, pour the heel in the {vessel} on it; it runs {}{}",
                    self.runs,
                    self.you()
                )
            }
            _ => format!(
                "Pour the filtered solution back into the {vessel}{water}, {long}: it keeps it for the next exchange"
            ),
        };
        said(Act::Care, words, amounts, StepCaution::Waste)
    }
}
