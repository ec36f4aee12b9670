//! How what stands in a record is declared.

/// Declares what an event holds, and of each field the column that holds it. The struct, writing and reading follow.
macro_rules! cells {
    (
        $(#[$head:meta])*
        pub struct $type:ident { $($(#[$about:meta])* pub $field:ident: $kind:ty = $column:ident,)+ }
    ) => {
        $(#[$head])*
        pub struct $type { $($(#[$about])* pub $field: $kind,)+ }

        impl Cell for $type {
            fn write(&self, row: &mut Row, _at: Column, names: &Names<'_>) {
                $(self.$field.write(row, Column::$column, names);)+
            }

            fn read(row: &Row, _at: Column, shop: &Shop) -> Result<Self, CsvError> {
                Ok(Self { $($field: Cell::read(row, Column::$column, shop)?,)+ })
            }
        }
    };
}

/// Declares kinds that are written as a word each.
macro_rules! words {
    ($(#[$head:meta])* pub enum $type:ident { $($(#[$doc:meta])* $kind:ident = $word:literal,)+ }) => {
        $(#[$head])*
        pub enum $type { $($(#[$doc])* $kind,)+ }

        impl $type {
            /// All of them.
            pub const ALL: [Self; [$(Self::$kind),+].len()] = [$(Self::$kind),+];

            /// In words.
            #[must_use]
            pub const fn words(self) -> &'static str {
                match self { $(Self::$kind => $word),+ }
            }
        }

        impl Cell for $type {
            fn write(&self, row: &mut Row, at: Column, _names: &Names<'_>) {
                row.set(at, self.words());
            }

            fn read(row: &Row, at: Column, _shop: &Shop) -> Result<Self, CsvError> {
                row.word(at, Self::ALL.iter().map(|kind| (kind.words(), *kind)))
            }
        }
    };
}

pub(crate) use {cells, words};
