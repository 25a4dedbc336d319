use serde_json::Value;

use crate::File;

/// The JSON Schema of the parameter file.
pub fn schema() -> Value {
    schemars::schema_for!(File).to_value()
}
