//! JSON Schema of a plan, from the key table, so that an editor completes it.

use super::keys::{Form, Key, SECTIONS, Section};
use serde_json::{Map, Value, json};

/// The JSON Schema (draft 2020-12) of a plan file.
///
/// ```
/// let schema = loomwright::text::plan_schema();
/// assert_eq!(schema["properties"]["format"]["const"], 1);
/// assert_eq!(schema["additionalProperties"], false); // a misspelt section is a mistake
/// ```
pub fn plan_schema() -> Value {
    let mut properties = Map::new();
    properties.insert("format".into(), json!({ "const": 1, "description": "Form of the file." }));
    for section in SECTIONS {
        properties.insert(section.name.into(), of_section(section));
    }
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Loomwright plan",
        "type": "object",
        "required": ["format", "plan"],
        "additionalProperties": false,
        "properties": properties,
    })
}

fn of_section(section: &Section) -> Value {
    let properties: Map<String, Value> = section.keys.iter().map(|key| (key.name.to_owned(), of_key(key))).collect();
    let required: Vec<&str> = section.keys.iter().filter(|key| key.required).map(|key| key.name).collect();
    let entry = json!({
        "type": "object",
        "properties": properties,
        "required": required,
        "additionalProperties": false,
    });
    if section.named {
        json!({ "type": "object", "description": section.about, "additionalProperties": entry })
    } else {
        let mut entry = entry;
        if let Some(object) = entry.as_object_mut() {
            object.insert("description".into(), section.about.into());
        }
        entry
    }
}

fn of_key(key: &Key) -> Value {
    let mut shape = match key.form {
        Form::Count => json!({ "type": "integer", "minimum": 1, "maximum": 20 }),
        Form::Flag => json!({ "type": "boolean" }),
        Form::Choice(known) => json!({ "type": "string", "enum": known }),
        Form::Choices(known) => json!({ "type": "array", "items": { "type": "string", "enum": known } }),
        Form::Efficiencies => {
            json!({ "type": "array", "items": { "type": "string" }, "minItems": 3 })
        }
        Form::Irradiations | Form::Temperatures => {
            json!({ "type": "array", "items": { "type": "string" }, "minItems": 12, "maxItems": 12 })
        }
        Form::Spans | Form::Spells | Form::Months => {
            json!({ "type": "array", "items": { "type": "string" }, "minItems": 1 })
        }
        Form::References | Form::Route | Form::Gates => json!({ "type": "array", "items": { "type": "string" } }),
        _ => json!({ "type": "string" }),
    };
    if let Some(object) = shape.as_object_mut() {
        object.insert("description".into(), key.about.into());
        let example = serde_json::from_str::<Value>(key.example).unwrap_or(Value::Null);
        object.insert("examples".into(), json!([example]));
    }
    shape
}
