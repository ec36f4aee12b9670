//! The kinds of warning, each declared once: its code, what is so, and what to do.
//!
//! The order of the rows is the order of print: the worst first. In a fact, `{places}` stands for where and when,
//! `{subject}` for what it begins with. A second deed, after `or`, is for the shop that the first does not suit.

macro_rules! warnings {
    ($(
        $(#[$doc:meta])*
        $name:ident $code:literal $($hurts:ident)? $fact:literal $deed:literal $(or $other:literal)?;
    )+) => {
        /// What a warning is about. The order of the variants is the order of print: the worst first.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
        pub enum WarningKind { $($(#[$doc])* $name),+ }

        impl WarningKind {
            /// Every one, the worst first.
            pub const ALL: &'static [Self] = &[$(Self::$name),+];

            /// The code, as in `--json`.
            #[must_use]
            pub const fn code(self) -> &'static str {
                match self { $(Self::$name => $code),+ }
            }

            /// Whether somebody may be hurt unless somebody is there.
            #[must_use]
            pub const fn hurts(self) -> bool {
                match self { $(Self::$name => is_said!($($hurts)?)),+ }
            }

            /// What is so, with `{places}` and `{subject}` to be filled in.
            #[must_use]
            pub const fn fact(self) -> &'static str {
                match self { $(Self::$name => $fact),+ }
            }

            /// What to do.
            #[must_use]
            pub const fn deed(self) -> &'static str {
                match self { $(Self::$name => $deed),+ }
            }

            /// What to do where [`Self::deed`] does not suit the shop; the same where it always does.
            #[must_use]
            pub const fn other_deed(self) -> &'static str {
                match self { $($(Self::$name => $other,)?)+ _ => self.deed() }
            }
        }
    };
}

macro_rules! is_said {
    () => {
        false
    };
    (hurts) => {
        true
    };
}

warnings! {
    /// A hot tank is left alone.
    HotTankAlone "hot-tank-alone" hurts
        "A hot tank is left alone: {places}."
        "Somebody must stay in sight of it; or loads out, heater off, lid on.";
    /// A hot bath that has no lid stands open and nobody is there.
    NoLid "no-lid" hurts
        "Hot and open with nobody there, for want of a lid: {places}."
        "Cover it, and say so: `lid: loose`; or somebody must stay in sight of it.";
    /// A bath with a load in it stands higher than the rim of its tank.
    RunsOver "runs-over" hurts
        "Hot acid runs over the rim: {places}."
        "Fill less, or make the load smaller: hot solution takes more room than cold, and the work takes its own.";
    /// A load is in a bath when a break begins that nobody stays for.
    InAtBreak "in-at-break" hurts
        "Somebody must stay in the break until a load is out of the bath: {places}."
        "Say `stays: yes` of this break if somebody is in sight of the tank, or move the break.";
    /// Work is in an oven, in hot caustic or in hot oil, and nobody is there.
    HotStepAlone "hot-step-alone" hurts
        "Hot, with work in it, and nobody there: {places}."
        "Somebody must stay in sight of it, or begin it so that it ends before.";
    /// An order is not done at the end.
    NotReady "not-ready"
        "Won't be finished: {places}."
        "Begin earlier, add a day, or promise less.";
    /// A tank never reached its band although loads waited for it.
    NeverHot "never-hot"
        "Never hot enough to work: {places}."
        "Heat earlier, use a lid, or a stronger heater." or
        "Heat earlier, or use a stronger heater.";
    /// A heater brings a bath into its band and not to its set point.
    WeakHeater "weak-heater"
        "A heater too weak for its set point: {places}."
        "Write the set point that it reaches, use a lid, or a stronger heater.";
    /// A heater switched itself off, since too little was left in its tank.
    RanLow "ran-low" hurts
        "A heater switches itself off, since the bath has boiled low: {places}."
        "Top up while it is hot, switch off when nothing more goes in, or use a lid.";
    /// Solids go into a bath that is so hot that it froths over.
    HotSolids "hot-solids"
        "Solids go into a bath above 70 °C: {places}."
        "It froths over: let it cool first, or a little at a time, with waits between.";
    /// Concentrate or acid goes into a bath above its band.
    HotConcentrate "hot-concentrate"
        "Concentrate goes into a bath above its band: {places}."
        "It boils up and spits: let it cool into its band first.";
    /// A bath has boiled away with its heater on.
    BoilsDry "boils-dry" hurts
        "A bath boils dry with its heater on: {places}."
        "A heater in an empty tank burns through: somebody must top it up, or switch it off; use a low-level cut-off.";
    /// A bath reads outside its limits: no load goes in.
    BathStopped "bath-stopped"
        "A bath outside its limits, so no load goes in: {places}."
        "Write a rule of care for it, or renew the bath: see `rules: care:`." or
        "Nothing to write: its own rule of care brings it back.";
    /// Work whose looks matter is kept out of a bath with too little iron to the end.
    HeldBack "held-back"
        "Work whose looks matter waits, for too little iron in the bath: {places}."
        "Condition the bath with steel wool, or coat more scrap first: see `rules: care:`.";
    /// A load is kept out of the bath, since what must follow on it has no place in time.
    KeptBack "kept-back"
        "Kept out of the bath, as what must follow has no place in time: {places}."
        "One more place there, or emptying it sooner, would free it.";
    /// Foreign metal or oil in a bath: no load goes in.
    Contaminated "contaminated"
        "Foreign metal or oil in a bath, so no load goes in: {places}."
        "Drain all of it into the waste drum, clean the tank, make it up fresh: `renew: contaminated` plans it.";
    /// A bath was too weak to coat a load to its end.
    Exhausted "bath-exhausted"
        "The bath was too weak to coat to the end: {places}."
        "Replenish or renew it before the next load.";
    /// A load did not reach its coating weight.
    ThinCoat "thin-coat"
        "Coating below target: {places}."
        "Longer, hotter, or a lighter target; check the most this steel will take.";
    /// A bath that holds too little iron.
    Unconditioned "unconditioned"
        "Too little iron in the bath: {places}."
        "Expect thin, patchy, light grey coats: condition it with steel wool, or coat scrap first.";
    /// A load is in a bath that is so cold that nothing grows on its material.
    TooColdToCoat "too-cold-to-coat"
        "Too cold for a coating to grow: {places}."
        "Steel takes none up to 82 °C, cast iron none up to 70 °C: heat the bath first, or preheat the load.";
    /// A bath fell below its band with a load in it.
    ColdBath "cold-bath"
        "The bath falls below its band with work in it: {places}."
        "Expect rough, grainy coats: smaller loads, or preheat them.";
    /// A load brings more surface or mass than a bath of its size takes well.
    Overloaded "overloaded"
        "A lot of area or mass for the bath: {places}."
        "Smaller loads coat more evenly and keep the bath hot.";
    /// Total acid near its limit.
    StrengthOff "total-acid-off"
        "Total acid near its limit: {places}."
        "Titrate, then add concentrate or water.";
    /// Total by free acid near its limit.
    RatioOff "acid-ratio-off"
        "Acid ratio near its limit: {places}."
        "Titrate. Low: sooty coats, take free acid out. High: blotchy coats, add free acid.";
    /// Too much iron.
    IronHigh "iron-high"
        "Much iron in the bath: {places}."
        "White floating dust and sooty coats: renew half of it soon.";
    /// Much sludge: it is stirred up.
    SludgeStirred "sludge-stirred"
        "Much sludge in the bath: {places}."
        "Stirred up it gives dusty coats: let it settle, decant, filter.";
    /// Too little in the tank, or too much.
    LevelOff "level-off"
        "The level is off: {places}."
        "The work must be covered, and foam must have room.";
    /// Too little room over the bath for its foam.
    FoamRoom "foam-room"
        "{places} of headroom for froth."
        "Fresh steel and steel wool froth: fill less, add slowly, wait between.";
    /// A filter is not through when the record ends.
    FilterRuns "filter-runs"
        "The filter is not through when the days are over: {places}."
        "Till it is filled back the tank takes no load: a larger filter, a smaller heel, or an earlier stop.";
    /// Heaters that are on together are stronger than the supply they share.
    HeatersOverSupply "heaters-over-supply"
        "Heaters on together draw more than the supply gives: {places}."
        "Worked out with their average draw: two that switch on at once trip the breaker. Run them in turns.";
    /// A heater heats with less than its power, since others draw on the same supply.
    WaitsForSupply "waits-for-supply"
        "Heaters wait for the supply: {places}."
        "Heat one tank earlier, or give them a stronger supply.";
    /// A load stayed too long.
    StayedTooLong "stayed-too-long"
        "Stayed longer than allowed: {places}."
        "A coating grows coarse: inspect it." or
        "Inspect it before the next step.";
    /// A load waited too long.
    WaitedTooLong "waited-too-long"
        "Waited longer than allowed: {places}."
        "Look for flash rust and stains before going on." or
        "What is oiled or sealed keeps for a while: look it over before going on.";
    /// A load was rinsed in spent water.
    SpentRinse "spent-rinse"
        "Rinsed in spent water: {places}."
        "Acid that dries in gives stains and rust: renew the rinse earlier.";
    /// Hardened pieces that acid has touched before the bath.
    AcidOnHardened "acid-on-hardened"
        "Hardened work was in acid before the bath: {places}."
        "Acid makes hardened steel brittle: ask whoever answers for it before it goes on; blast or brush instead.";
    /// Hardened pieces whose route does not relieve hydrogen.
    NotRelieved "not-relieved"
        "{subject} hardened, and no step relieves the hydrogen: {places}."
        "No acid before coating. No force on them until relieved: 120 h at rest, or 8 h at 98 to 107 °C.";
    /// Hardened pieces: hydrogen.
    Hardened "hardened"
        "{subject} hardened: {places}."
        "No acid before coating; relief is on their route. Get written sign-off before use.";
    /// Heavy work goes into the bath cold.
    HeavyLoad "heavy-load"
        "Load is close to the tank's limit, with heavy pieces: {places}."
        "Lower slowly: hot acid spits." or
        "Preheat it, lower slowly: hot acid spits on cold work.";
    /// Work on which oil may be left.
    Greasy "greasy"
        "Oil may be left on this work: {places}."
        "It coats blotchy there: degrease it once more.";
    /// Work that was cleaned in strong acid.
    Pickled "pickled"
        "Cleaned in strong acid before the bath: {places}."
        "Its coating grows coarse: inspect it; blast instead next time.";
    /// Work with blind holes that hang down.
    HolesDown "holes-down"
        "Blind holes hang down: {places}."
        "Gas stays in them and leaves bare spots: hang it so that gas gets out.";
    /// Work with seams that hold liquid.
    Crevices "crevices"
        "Seams hold liquid: {places}."
        "Acid in them bleeds as rust: rinse well, dry soon.";
    /// Work after closing.
    Overtime "overtime"
        "Work after closing: {places}."
        "Begin earlier if nobody can stay.";
    /// A bath is kept hot for long though nothing more goes in.
    HotForNothing "hot-for-nothing"
        "Kept hot, and nothing goes in any more that day: {places}."
        "Write `switch off: after the last load` under `rules: heat:`." or
        "Leave it off on such a day, or let `plan` say which tank is needed when.";
    /// A bath is kept hot for long, and no load that waits fits its tank.
    HotNothingFits "hot-nothing-fits"
        "Kept hot while loads wait that are too large for the tank: {places}."
        "Loads are cut for the largest tank of a bath: give this one orders of its own with `tank:`, or leave it off.";
    /// A bath is hot for long before its first load.
    HotEarly "hot-early"
        "Hot long before the first load goes in: {places}."
        "Switch it on later: write `switch on: ready by` the time of that load under `rules: heat:`.";
    /// Water is made good while hot.
    TopUp "top-up"
        "{subject} ({places})."
        "Distilled water, in a thin stream, face away from the tank.";
}
