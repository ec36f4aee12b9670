//! The JSON Schema of a scenario, for editors, made from the tables of keys.

use super::defaults;
use super::keys::{Key, Kind, SCENARIO, Table};
use crate::units::UnitName;
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;

/// The schema, draft 2020-12.
#[must_use]
pub fn schema() -> Value {
    let mut things = Things::default();
    let mut root = things.object(&SCENARIO);
    let defs: Map<String, Value> = things.done.into_iter().map(|(k, v)| (k.to_owned(), v)).collect();
    if let Value::Object(root) = &mut root {
        // What a scenario must hold may stand in the file that it extends.
        if let Some(required) = root.remove("required") {
            root.insert("if".to_owned(), json!({ "required": ["extends"] }));
            root.insert("else".to_owned(), json!({ "required": required }));
        }
        root.insert(
            "$schema".to_owned(),
            json!("https://json-schema.org/draft/2020-12/schema"),
        );
        root.insert("title".to_owned(), json!("tankday scenario"));
        root.insert("$defs".to_owned(), Value::Object(defs));
    }
    root
}

/// Things with keys that are described so far, by their path.
#[derive(Default)]
struct Things {
    done: BTreeMap<&'static str, Value>,
}

impl Things {
    fn reference(&mut self, table: &'static Table) -> Value {
        if !self.done.contains_key(table.path) {
            self.done.insert(table.path, Value::Null); // holds the place while its own things are described
            let object = self.object(table);
            self.done.insert(table.path, object);
        }
        json!({ "$ref": format!("#/$defs/{}", table.path.replace('~', "~0").replace('/', "~1").replace(' ', "%20")) })
    }

    fn object(&mut self, table: &'static Table) -> Value {
        let properties: Map<String, Value> = table
            .keys
            .iter()
            .map(|key| (key.name.to_owned(), self.property(table, key)))
            .collect();
        let required: Vec<&str> = table.keys.iter().filter(|k| k.required).map(|k| k.name).collect();
        json!({
            "type": "object",
            "properties": properties,
            "required": required,
            "additionalProperties": false,
        })
    }

    fn property(&mut self, table: &'static Table, key: &'static Key) -> Value {
        let mut value = self.kind(&key.kind);
        if let Value::Object(object) = &mut value {
            object.insert("description".to_owned(), json!(key.doc));
            if let Some(default) = defaults::find(&format!("{}.{}", table.path, key.name)) {
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
            Kind::Degrees => pattern(&format!(r"^\s*{NUMBER}\s*(°C|C|degC|°F|F|degF|K)\s*$")),
            Kind::Time => pattern(&format!(r"^\s*({NUMBER}\s*{TIME_UNIT}\s*)+$")),
            Kind::Spread => {
                json!({ "anyOf": [pattern(SPREAD), { "type": "array", "items": pattern(SPREAD) }] })
            }
            Kind::Clock => pattern(r"^\s*((\d{4}-\d{2}-\d{2}|day \d+)[ T]+)?\d{1,2}:\d{2}(:\d{2})?\s*$"),
            Kind::Date => pattern(r"^\d{4}-\d{2}-\d{2}$"),
            Kind::Price(unit) => {
                json!({ "type": "string", "pattern": r"^\s*[\d.]+\s*per\s+\S+", "examples": [format!("0.30 per {unit}")] })
            }
            Kind::Word(words) => json!({ "enum": words }),
            Kind::Pattern(p) => pattern(p),
            Kind::Thing(table) => self.reference(table),
            Kind::Things(table) => json!({ "type": "array", "items": self.reference(table) }),
            Kind::Named(table) => json!({ "type": "object", "additionalProperties": self.reference(table) }),
            Kind::NamedLists(table) => {
                json!({ "type": "object", "additionalProperties": { "type": "array", "items": self.reference(table) } })
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
