//! JSON Schema of the report, so that programs know what to expect.

use serde_json::{Value, json};

fn number() -> Value {
    json!({ "type": "number" })
}

fn maybe(kind: &str) -> Value {
    json!({ "type": [kind, "null"] })
}

fn text() -> Value {
    json!({ "type": "string" })
}

fn list(of: Value) -> Value {
    json!({ "type": "array", "items": of })
}

/// An object whose every listed key is there; more may come within one `format`.
fn object(keys: &[(&str, Value)], optional: &[(&str, Value)]) -> Value {
    let all = keys.iter().chain(optional).map(|(name, shape)| ((*name).to_owned(), shape.clone()));
    json!({
        "type": "object",
        "properties": all.collect::<serde_json::Map<_, _>>(),
        "required": keys.iter().map(|(name, _)| *name).collect::<Vec<_>>(),
    })
}

/// The JSON Schema (draft 2020-12) of what `loomwright check --format json` prints.
///
/// ```
/// let schema = loomwright::study::judge::report_schema();
/// assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
/// assert_eq!(schema["type"], "object");
/// ```
pub fn report_schema() -> Value {
    let finding = object(
        &[
            ("rule", text()),
            ("subject", text()),
            ("signal", json!({ "enum": ["notice", "caution", "warning", "danger"] })),
            ("case", maybe("string")),
            ("message", text()),
            ("measured", maybe("number")),
            ("limit", maybe("number")),
            ("unit", text()),
            ("margin", maybe("number")),
            ("citation", text()),
            ("confidence", json!({ "enum": ["published", "memory", "common-practice"] })),
            ("remedies", list(text())),
        ],
        &[],
    );
    let check = object(
        &[
            ("rule", text()),
            ("subject", text()),
            ("measured", maybe("number")),
            ("limit", maybe("number")),
            ("unit", text()),
            ("margin", number()),
            ("signal", json!({ "enum": ["notice", "caution", "warning", "danger", null] })),
        ],
        &[("case", text())],
    );
    let protective = object(
        &[("device", text()), ("drop_v", number()), ("heat_w", number())],
        &[
            ("rated_v", number()),
            ("breaks_a", number()),
            ("carries_a", number()),
            ("thread", text()),
            ("torque_nm", number()),
        ],
    );
    let level = object(
        &[("node", text()), ("busbar", json!({ "type": "boolean" })), ("highest_a", number())],
        &[("lowest_a", number())],
    );
    let limit = object(&[("limit", text()), ("value", text()), ("reason", text())], &[]);
    let sheet = object(&[("name", text()), ("like", text()), ("rating_a", number()), ("source", text())], &[]);
    let run = object(
        &[
            ("name", text()),
            ("circuit", maybe("string")),
            ("leg", json!({ "enum": ["positive", "negative"] })),
            ("from", text()),
            ("to", text()),
            ("size", text()),
            ("csa_mm2", number()),
            ("kind", text()),
            ("material", text()),
            ("conductor_chosen", json!({ "type": "boolean" })),
            ("fuse_family", maybe("string")),
            ("fuse_rating_a", maybe("number")),
            ("fuse_chosen", json!({ "type": "boolean" })),
            ("route_m", number()),
            ("cut_m", number()),
            ("installation", text()),
            ("hottest_zone", text()),
            ("ambient_c", number()),
            ("limit_c", number()),
            ("ampacity_a", maybe("number")),
            ("ampacity_governed_by", text()),
            ("current_a", number()),
            ("current_set_by", text()),
            ("conductor_temperature_c", maybe("number")),
            ("drop_v", number()),
            ("loss_w", number()),
        ],
        &[
            ("duty", text()),
            ("duty_ampacity_a", number()),
            ("fault_highest_a", number()),
            ("fault_lowest_a", number()),
            ("opens_on_lowest_s", number()),
            ("time_margin", number()),
            ("unprotected_m", number()),
            ("protective_device", protective),
        ],
    );
    let device = object(
        &[
            ("device", json!({ "enum": ["battery", "alternator", "converter", "load"] })),
            ("name", text()),
            ("lowest_voltage_v", maybe("number")),
            ("lowest_case", maybe("string")),
            ("highest_voltage_v", maybe("number")),
            ("current_a", maybe("number")),
        ],
        &[
            ("heat_w", number()),
            ("free_surface_m2", number()),
            ("short_circuit_peak_a", number()),
            ("short_circuit_steady_a", number()),
        ],
    );
    let alternator = object(&[("name", text()), ("asked_a", number()), ("available_a", number())], &[]);
    let bindings: Vec<&str> = crate::converter::Binding::ALL.iter().map(|binding| binding.name()).collect();
    let converter = object(
        &[
            ("name", text()),
            ("input_voltage_v", number()),
            ("input_current_a", number()),
            ("output_w", number()),
            ("heat_w", number()),
            ("limited_by", json!({ "enum": bindings })),
        ],
        &[],
    );
    let relay = object(&[("name", text()), ("closed", json!({ "type": "boolean" })), ("senses_v", number())], &[]);
    let node = object(&[("name", text())], &[("voltage_v", number())]);
    let run_in_case =
        object(&[("name", text()), ("current_a", number()), ("loss_w", number())], &[("temperature_c", number())]);
    let fatten = object(&[("consumer", text()), ("case", text()), ("run", text()), ("volts_per_kg", number())], &[]);
    let case = object(
        &[
            ("name", text()),
            ("outcome", json!({ "enum": ["operating-point", "none"] })),
            ("loss_w", number()),
            ("residual_a", maybe("number")),
            ("alternators", list(alternator)),
            ("converters", list(converter)),
            ("relays", list(relay)),
            ("nodes", list(node)),
            ("runs", list(run_in_case)),
        ],
        &[
            ("stability_margin", number()),
            ("load_factor", number()),
            ("given_w", number()),
            ("drawn_w", number()),
            ("imbalance", number()),
        ],
    );
    let existing = object(
        &[
            ("part", json!({ "enum": crate::installation::Part::NAMES })),
            ("name", text()),
            ("verdict", json!({ "enum": ["may-stay", "must-change", "removed"] })),
            ("why", list(text())),
        ],
        &[],
    );
    let assumption = object(&[("text", text()), ("source", text()), ("confidence", text())], &[]);
    let mut schema = object(
        &[
            ("format", json!({ "const": 1 })),
            ("engine_version", text()),
            ("name", text()),
            ("practice", text()),
            ("verdict", json!({ "enum": ["holds", "does-not-hold"] })),
            ("findings", list(finding)),
            ("checks", list(check)),
            ("runs", list(run)),
            ("devices", list(device)),
            ("cases", list(case)),
            ("fault_levels", list(level)),
            ("fatten_first", list(fatten)),
            ("limits", list(limit)),
            ("fuses", list(sheet)),
            ("assumptions", list(assumption)),
        ],
        &[("existing", list(existing))],
    );
    if let Some(object) = schema.as_object_mut() {
        object.insert("$schema".into(), "https://json-schema.org/draft/2020-12/schema".into());
        object.insert("title".into(), "Loomwright report".into());
    }
    schema
}
