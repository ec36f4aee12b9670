//! The JSON Schema of a scenario, for editors, made from the tables of keys.

use super::thing::{Key, Kind, Table, Thing};
use super::usual;
use super::written::File;
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;
use tankday_base::units::UnitName;

/// The schema, draft 2020-12. A file that extends another writes what it changes; all else stands there.
#[must_use]
pub fn schema() -> Value {
    let (mut changed, mut whole) = (Things::changed(), Things::default());
    let mut root = changed.object(File::TABLE);
    let mut strict = whole.object(File::TABLE);
    changed.or_from_a_file(&mut root);
    whole.or_from_a_file(&mut strict);
    let mut defs = whole.done;
    defs.append(&mut changed.done);
    if let Value::Object(root) = &mut root {
        root.remove("required");
        root.insert("if".to_owned(), json!({ "required": [File::_extends.name] }));
        root.insert("else".to_owned(), strict);
        root.insert(
            "$schema".to_owned(),
            json!("https://json-schema.org/draft/2020-12/schema"),
        );
        root.insert("title".to_owned(), json!("tankday scenario"));
        root.insert("$defs".to_owned(), Value::Object(defs.into_iter().collect()));
    }
    root
}

/// Things with keys that are described so far, by their path.
#[derive(Default)]
struct Things {
    done: BTreeMap<String, Value>,
    /// Whether they are written over those of another file, so that they need not be whole.
    changes: bool,
}

impl Things {
    fn changed() -> Self {
        Self {
            changes: true,
            ..Self::default()
        }
    }

    /// Orders may stand in a table of their own.
    fn or_from_a_file(&mut self, file: &mut Value) {
        let table = self.reference(<crate::table::From as Thing>::TABLE);
        if let Some(orders) = file
            .pointer_mut("/properties/orders")
            .and_then(Value::as_object_mut)
        {
            let list = json!({ "type": orders.remove("type"), "items": orders.remove("items") });
            orders.insert("anyOf".to_owned(), json!([list, table]));
        }
    }

    fn reference(&mut self, table: &'static Table) -> Value {
        let name = if self.changes {
            format!("changed.{}", table.path)
        } else {
            table.path.to_owned()
        };
        if !self.done.contains_key(&name) {
            self.done.insert(name.clone(), Value::Null); // holds the place while its own things are described
            let object = self.object(table);
            self.done.insert(name.clone(), object);
        }
        json!({ "$ref": format!("#/$defs/{}", name.replace('~', "~0").replace('/', "~1").replace(' ', "%20")) })
    }

    fn object(&mut self, table: &'static Table) -> Value {
        let properties: Map<String, Value> = table
            .keys
            .iter()
            .map(|key| (key.name.to_owned(), self.property(table, key)))
            .collect();
        let needed = |k: &&Key| k.required && (!self.changes || k.finds());
        let required: Vec<&str> = table.keys.iter().filter(needed).map(|k| k.name).collect();
        json!({
            "type": "object",
            "properties": properties,
            "required": required,
            "additionalProperties": false,
        })
    }

    /// A thing that is written as a whole or not at all, as the steps of a route.
    fn whole(&mut self, table: &'static Table) -> Value {
        let changes = std::mem::replace(&mut self.changes, false);
        let reference = self.reference(table);
        self.changes = changes;
        reference
    }

    fn property(&mut self, table: &'static Table, key: &'static Key) -> Value {
        let mut value = self.kind(&key.kind);
        if let Value::Object(object) = &mut value {
            let usual = usual::range_of(table.path, key.name);
            let usual = usual.map_or_else(String::new, |range| format!("; usual are {range}"));
            object.insert("description".to_owned(), json!(format!("{}{usual}", key.doc)));
            if let Some(default) = key.usual("") {
                object.insert("default".to_owned(), json!(default.value));
            }
        }
        value
    }

    fn kind(&mut self, kind: &'static Kind) -> Value {
        match kind {
            Kind::Text => json!({ "type": ["string", "number"] }),
            Kind::Yes => json!({ "enum": ["yes", "no", true, false] }),
            Kind::Count => json!({ "type": "integer", "minimum": 0 }),
            Kind::Number => json!({ "type": "number" }),
            Kind::Quantity(units) => pattern(&quantity(units)),
            Kind::Degrees | Kind::DegreesApart => {
                pattern(&format!(r"^\s*{NUMBER}\s*(°C|C|degC|°F|F|degF|K)\s*$"))
            }
            Kind::Time => pattern(&format!(r"^\s*({NUMBER}\s*{TIME_UNIT}\s*)+$")),
            Kind::Spread => {
                json!({ "anyOf": [pattern(SPREAD), { "type": "array", "items": pattern(SPREAD) }] })
            }
            Kind::Clock => pattern(
                r"^\s*((\d{4}-\d{2}-\d{2}|day \d+|([A-Za-z]{3,9},? +)?(\d{1,2}\.? +[A-Za-z]{3,9}|[A-Za-z]{3,9} +\d{1,2})|[A-Za-z]{3,9})[ T]+)?\d{1,2}(:\d{2}(:\d{2})?\s*([AaPp][Mm])?|\s*[AaPp][Mm])\s*$",
            ),
            Kind::Date => pattern(r"^\d{4}-\d{2}-\d{2}$"),
            Kind::Price(unit) => {
                json!({ "type": "string", "pattern": r"^\s*[\d.]+\s*per\s+\S+", "examples": [format!("0.30 per {unit}")] })
            }
            Kind::Word(words) => json!({ "enum": words }),
            Kind::Pattern(p) | Kind::Week(p) => pattern(p),
            Kind::Thing(table) => self.reference(table),
            Kind::Things(table) => json!({ "type": "array", "items": self.reference(table) }),
            Kind::Named(table) => json!({ "type": "object", "additionalProperties": self.reference(table) }),
            Kind::NamedLists(table) => {
                json!({ "type": "object", "additionalProperties": { "type": "array", "items": self.whole(table) } })
            }
            Kind::Some(kind) => {
                let one = self.kind(kind);
                json!({ "anyOf": [one, { "type": "array", "items": one }] })
            }
            Kind::Or(kinds) => {
                let all: Vec<Value> = kinds.iter().map(|k| self.kind(k)).collect();
                json!({ "anyOf": all })
            }
        }
    }
}

const NUMBER: &str = r"[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?";
const TIME_UNIT: &str = "(s|sec|seconds?|min|mins|minutes?|h|hr|hours?|d|days?|weeks?)";
const SPREAD: &str = r"^\s*(about |exponential |lognormal |gamma )?[\d.].*([a-z]|mostly\s+[\d.]+)\s*$";

fn pattern(pattern: &str) -> Value {
    json!({ "type": "string", "pattern": pattern })
}

/// A number, then one of the units.
fn quantity(units: &[UnitName]) -> String {
    let spellings: Vec<String> = units
        .iter()
        .flat_map(|u| u.spellings)
        .map(|s| escaped(s))
        .collect();
    format!(r"^\s*{NUMBER}\s*({})\s*$", spellings.join("|"))
}

/// A unit as a pattern that matches it and nothing else.
fn escaped(unit: &str) -> String {
    let mut out = String::new();
    for c in unit.chars() {
        if matches!(c, '(' | ')' | '.' | '/') {
            out.push('\\');
        }
        out.push(c);
    }
    out
}
