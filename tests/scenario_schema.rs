//! The JSON Schema: whole, closed, and with a word about each key.

use serde_json::Value;
use tankday::scenario;

#[test]
fn every_reference_leads_somewhere() {
    let schema = scenario::schema();
    let defs = schema["$defs"].as_object().unwrap();
    let mut count = 0;
    visit(&schema, &mut |value| {
        if let Some(path) = value.get("$ref").and_then(Value::as_str) {
            let name = path.strip_prefix("#/$defs/").unwrap().replace("%20", " ");
            assert!(defs.contains_key(&name), "{path}");
            count += 1;
        }
    });
    assert!(count > 20);
}

#[test]
fn things_take_no_other_keys_and_each_key_is_described() {
    let schema = scenario::schema();
    let mut keys = 0;
    visit(&schema, &mut |value| {
        if let Some(properties) = value.get("properties").and_then(Value::as_object) {
            assert_eq!(value["additionalProperties"], Value::Bool(false));
            for (key, property) in properties {
                let words = property["description"].as_str().unwrap_or_default();
                assert!(words.len() > 8, "{key}");
                keys += 1;
            }
        }
    });
    assert!(keys > 100);
}

#[test]
fn what_must_be_written_is_required() {
    let schema = scenario::schema();
    assert_eq!(
        schema["else"]["required"],
        serde_json::json!(["tankday", "parts", "routes", "orders"])
    );
    assert_eq!(schema["$defs"]["tanks"]["required"][4], "heater");
    assert_eq!(
        schema["$defs"]["rules.heat"]["properties"]["switch off"]["default"],
        "after the last load"
    );
    assert_eq!(
        schema["$defs"]["rules.care.filter"]["properties"]["pour"]["description"],
        "how fast hands decant and fill back, such as 4 L/min; usual are 0.2 to 60 L/min"
    );
}

/// A file that extends another may write a tank's heater alone, but must say whose; a route is written whole.
#[test]
fn a_file_that_extends_need_not_be_whole() {
    let schema = scenario::schema();
    assert_eq!(schema["if"]["required"], serde_json::json!(["extends"]));
    assert!(schema.get("required").is_none());
    let tanks = schema["properties"]["tanks"]["items"]["$ref"].as_str();
    assert_eq!(tanks, Some("#/$defs/changed.tanks"));
    let changed = &schema["$defs"]["changed.tanks"];
    assert_eq!(changed["required"], serde_json::json!(["name"]));
    assert_eq!(
        schema["$defs"]["changed.orders"]["required"],
        serde_json::json!(["id"])
    );
    assert_eq!(
        schema["$defs"]["changed.tanks.heater"]["required"],
        serde_json::json!([])
    );
    let steps = &schema["properties"]["routes"]["additionalProperties"]["items"]["$ref"];
    assert_eq!(steps, "#/$defs/steps");
    assert_eq!(
        schema["else"]["properties"]["tanks"]["items"]["$ref"],
        "#/$defs/tanks"
    );
}

/// Calls for every object of a value.
fn visit(value: &Value, call: &mut impl FnMut(&Value)) {
    match value {
        Value::Object(map) => {
            call(value);
            map.values().for_each(|v| visit(v, call));
        }
        Value::Array(all) => all.iter().for_each(|v| visit(v, call)),
        _ => {}
    }
}
