//! One declaration for each thing that a scenario writes with keys, and in it one line for each key. From it follow the
//! table that mistakes are told from and the JSON Schema is made of, the values as written with their places, how they
//! are read, and the table of defaults: see [`thing!`].

use crate::defaults::DefaultValue;
use crate::fields::{Fields, Places};
pub(super) use crate::holds::Kind;
use crate::node::{Node, SourceSpan};
use crate::walk::{Read, Walk};
use std::ops::Deref;

/// The keys of one thing.
#[derive(Debug)]
pub(super) struct Table {
    /// Where it stands in a scenario: `tanks.heater`. Defaults are found under it.
    pub(super) path: &'static str,
    /// What it is called in a message, with its article: `a heater`.
    pub(super) what: &'static str,
    /// Its keys.
    pub(super) keys: &'static [Key],
}

impl Table {
    /// Itself and every table that its keys lead to, each once.
    pub(super) fn all(first: &'static Self) -> Vec<&'static Self> {
        let mut all = vec![first];
        let mut next = 0;
        while let Some(table) = all.get(next).copied() {
            for new in table.keys.iter().flat_map(|k| k.kind.tables()) {
                if !all.iter().any(|t: &&Self| t.path == new.path) {
                    all.push(new);
                }
            }
            next += 1;
        }
        all
    }
}

/// One key.
#[derive(Debug, Clone, Copy)]
pub(super) struct Key {
    /// As written.
    pub(super) name: &'static str,
    /// What it holds.
    pub(super) kind: Kind,
    /// Whether it must be there.
    pub(super) required: bool,
    /// What it means, in one line without a full stop.
    pub(super) doc: &'static str,
    /// What stands for it where it is left out; several if that depends on something else.
    pub(super) usual: &'static [DefaultValue],
    /// The key of the same thing behind whose defaults its own are listed; empty for the one before it.
    pub(super) after: &'static str,
}

impl Key {
    /// Itself, as [`Field::key`] is.
    pub(super) const fn key(self) -> Self {
        self
    }

    /// The same with what it holds.
    pub(super) const fn of(self, kind: Kind) -> Self {
        Self { kind, ..self }
    }

    /// Whether it is what a thing of a list is called, so that it is found in a file that is extended.
    pub(super) fn finds(&self) -> bool {
        ["name", "id"].contains(&self.name)
    }

    /// What stands for it in a case: `fitted`; an empty one where nothing else matters.
    pub(super) fn usual(&self, case: &str) -> Option<&'static DefaultValue> {
        let of = |d: &&DefaultValue| d.key.split_once(", ").map_or("", |(_, case)| case) == case;
        self.usual.iter().find(of)
    }
}

/// How a value is read, and what it is for an editor.
#[derive(Debug)]
pub(super) struct Reader<T> {
    /// What it is.
    pub(super) kind: Kind,
    /// How it is read.
    pub(super) read: Read<T>,
}

impl<T> Reader<T> {
    /// Of both.
    pub(super) const fn new(kind: Kind, read: Read<T>) -> Self {
        Self { kind, read }
    }
}

/// A key that holds one value, with how it is read.
#[derive(Debug)]
pub(super) struct Field<T> {
    key: Key,
    /// How its value is read.
    pub(super) read: Read<T>,
}

impl<T> Field<T> {
    /// A key with its reader.
    pub(super) const fn new(key: Key, reader: Reader<T>) -> Self {
        Self {
            key: key.of(reader.kind),
            read: reader.read,
        }
    }

    /// The key alone.
    pub(super) const fn key(&self) -> Key {
        self.key
    }
}

impl<T> Deref for Field<T> {
    type Target = Key;

    fn deref(&self) -> &Key {
        &self.key
    }
}

/// What is written with keys.
pub(super) trait Thing: Sized {
    /// Its keys.
    const TABLE: &'static Table;

    /// Its values.
    fn of(f: &mut Fields) -> Self;

    /// Where it stands, and its keys.
    fn places(&self) -> &Places;

    /// Where a key stands, if it is written.
    fn place(&self, key: &Key) -> Option<SourceSpan> {
        self.places().of(key)
    }

    /// Where two keys stand, if both are written.
    fn both(&self, one: &Key, other: &Key) -> Option<(SourceSpan, SourceSpan)> {
        self.place(one).zip(self.place(other))
    }

    /// Where the first of these keys stands that is written.
    fn first(&self, keys: &[&Key]) -> Option<SourceSpan> {
        keys.iter().find_map(|key| self.place(key))
    }

    /// Of a node.
    fn read(node: &Node, walk: &mut Walk) -> Option<Self> {
        Fields::new(node, Self::TABLE, walk).map(|mut f| Self::of(&mut f))
    }

    /// All of it as it is if nothing is written.
    fn absent(at: SourceSpan, walk: &mut Walk) -> Self {
        Self::of(&mut Fields::absent(walk, at))
    }
}

/// Declares a thing: its name here, its path and what messages call it; then its keys, in the order in which they are
/// listed. A key is one line, or two:
///
/// ```text
/// must      "power" power: Power = positive(), "rated power, such as 2.5 kW";
/// may       "tempered" tempered: Temperature = TEMPERATURE, "its tempering temperature, such as 300 °C";
/// or        "loads" loads: u32 = count::<1, 100>(), "loads that may be in at once", {"1": OURS};
/// may thing "wall" wall: Wall, "its walls";
/// ```
///
/// It `must` be written, `may` be left out, `or` else has the default that stands behind, with its source. Then how it is
/// kept: as one value (`Given<T>`, if nothing is said); as a `thing`, with all its defaults where it is left out; as a
/// `part`, a section of the file, whose place is its first key; as a `list` of things or things by name, `named`, with the
/// most that are read; as `names`; or in a way of its `own`: the kind for the schema, then `=> |f|` and what makes the
/// value of the fields. Defaults may depend on a case, `{"70 %" for "hot plate": "source"}`, which [`Walk::usual`] asks
/// for. `after "key"` lists the defaults behind those of another key. What is no key but follows from them stands under
/// `plus`. Where a key stands, everything written tells by [`Thing::place`].
macro_rules! thing {
    (
        $(#[$about:meta])*
        $name:ident $path:literal, $what:literal {
            $(
                $(#[$note:meta])*
                $need:ident $($how:ident)? $key:literal $field:ident : $type:ty
                $(= $by:expr $(=> |$f:ident| $own:expr)?)?, $doc:expr
                $(, { $($usual:tt)* })? $(, after $after:literal)?;
            )*
        }
        $( plus { $( $(#[$mark:meta])* $more:ident : $held:ty = |$g:ident| $value:expr; )* } )?
    ) => {
        $(#[$about])*
        #[derive(Debug)]
        pub(crate) struct $name {
            $( $(#[$note])* pub(crate) $field: $crate::thing::thing!(@held ($need $($how)?) $type), )*
            $($( $(#[$mark])* pub(crate) $more: $held, )*)?
            /// Where it stands, and its keys.
            pub(crate) places: $crate::fields::Places,
        }

        #[allow(non_upper_case_globals)]
        impl $name {
            $(
                pub(crate) const $field: $crate::thing::thing!(@field ($need $($how)?) $type) =
                    $crate::thing::thing!(@make ($need $($how)?) $type, [$($by)?], $crate::thing::Key {
                        name: $key,
                        kind: $crate::thing::Kind::Text,
                        required: $crate::thing::thing!(@required $need),
                        doc: $doc,
                        usual: $crate::thing::thing!(@usual $path $key $({ $($usual)* })?),
                        after: concat!("" $(, $after)?),
                    });
            )*
        }

        impl $crate::thing::Thing for $name {
            const TABLE: &'static $crate::thing::Table = &$crate::thing::Table {
                path: $path,
                what: $what,
                keys: &[$(Self::$field.key()),*],
            };

            fn of(f: &mut $crate::fields::Fields) -> Self {
                $(
                    let $field = $crate::thing::thing!(
                        @read f ($need $($how)?) $field $type, [$($by)?] [$($(|$f| $own)?)?]
                    );
                )*
                $($( let $more = { let $g = &mut *f; $value }; )*)?
                Self { $($field,)* $($($more,)*)? places: f.places() }
            }

            fn places(&self) -> &$crate::fields::Places {
                &self.places
            }
        }
    };

    (@required must) => { true };
    (@required $need:ident) => { false };

    (@held ($need:ident) $type:ty) => { $crate::written::Given<$type> };
    (@held ($need:ident thing) $type:ty) => { Option<$type> };
    (@held ($need:ident part) $type:ty) => { Option<$type> };
    (@held ($need:ident list) $type:ty) => { Vec<$type> };
    (@held ($need:ident named) $type:ty) => { Vec<$type> };
    (@held ($need:ident $how:ident) $type:ty) => { $type };

    (@field ($need:ident) $type:ty) => { $crate::thing::Field<$type> };
    (@field ($need:ident $how:ident) $type:ty) => { $crate::thing::Key };

    (@make ($need:ident) $type:ty, [$by:expr], $key:expr) => { $crate::thing::Field::new($key, $by) };
    (@make ($need:ident names) $type:ty, [], $key:expr) => {
        $key.of($crate::thing::Kind::Some(&$crate::thing::Kind::Text))
    };
    (@make ($need:ident own) $type:ty, [$by:expr], $key:expr) => { $key.of($by) };
    (@make ($need:ident list) $type:ty, [$by:expr], $key:expr) => {
        $key.of($crate::thing::Kind::Things(<$type as $crate::thing::Thing>::TABLE))
    };
    (@make ($need:ident named) $type:ty, [$by:expr], $key:expr) => {
        $key.of($crate::thing::Kind::Named(<$type as $crate::thing::Thing>::TABLE))
    };
    (@make ($need:ident $how:ident) $type:ty, [], $key:expr) => {
        $key.of($crate::thing::Kind::Thing(<$type as $crate::thing::Thing>::TABLE))
    };

    (@read $w:ident (or) $field:ident $type:ty, [$by:expr] []) => { $w.or(&Self::$field) };
    (@read $w:ident ($need:ident) $field:ident $type:ty, [$by:expr] []) => { $w.get(&Self::$field) };
    (@read $w:ident (must thing) $field:ident $type:ty, [] []) => {
        if $w.has(&Self::$field) { $w.thing(&Self::$field) } else { None }
    };
    (@read $w:ident ($need:ident own) $field:ident $type:ty, [$by:expr] [|$f:ident| $own:expr]) => {{
        let $f = &mut *$w;
        $own
    }};
    (@read $w:ident ($need:ident list) $field:ident $type:ty, [$by:expr] []) => {
        $w.list(&Self::$field, $by, <$type>::read)
    };
    (@read $w:ident ($need:ident $how:ident) $field:ident $type:ty, [$($by:expr)?] []) => {
        $w.$how(&Self::$field $(, $by)?)
    };

    (@usual $path:literal $key:literal) => { &[] };
    (@usual $path:literal $key:literal {
        $( $value:literal $(for $case:literal)? : $source:expr ),* $(,)?
    }) => {
        &[$( $crate::defaults::DefaultValue {
            key: concat!($path, ".", $key $(, ", ", $case)?),
            value: $value,
            source: $source,
        } ),*]
    };
}

pub(super) use thing;

/// A reader of one of a few words, each with what it means.
macro_rules! words {
    ($($word:literal => $value:expr),+ $(,)?) => {
        $crate::thing::Reader {
            kind: $crate::thing::Kind::Word(&[$($word),+]),
            read: |node, walk| $crate::value::word(node, walk, &[$(($word, $value)),+]),
        }
    };
}

pub(super) use words;

/// A reader of a word that stands for none, or of what another reader reads.
macro_rules! or_word {
    ($word:literal, $reader:expr) => {
        $crate::thing::Reader {
            kind: $crate::thing::Kind::Or(&[($reader).kind, $crate::thing::Kind::Word(&[$word])]),
            read: |node, walk| $crate::value::or_word(node, walk, $word, ($reader).read),
        }
    };
}

pub(super) use or_word;

/// What values mean together, of their names or as something with these names; none if any of them could not be read.
macro_rules! given {
    ($of:expr => $($meant:ident)::+ { $($field:ident),+ $(,)? }) => {
        $crate::thing::given!($of, |$($field),+| $($meant)::+ { $($field),+ })
    };
    ($of:expr, |$($field:ident),+ $(,)?| $meant:expr) => {
        'all: {
            $(let Some($field) = $of.$field.as_ref().map(|spot| spot.value.clone()) else { break 'all None };)+
            Some($meant)
        }
    };
}

pub(super) use given;
