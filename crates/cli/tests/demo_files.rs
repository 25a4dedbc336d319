//! The demo files: the schema beside them is the one that this version gives, and in none of them a finding fails.

mod common;

use std::path::Path;
use std::{env, fs};

use common::{all_of, run};

#[test]
fn the_schema_beside_the_demos_is_up_to_date() {
    let params = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../params");
    let schema = run(&params, &["schema"]);
    let path = params.join("sumpwright.schema.json");
    #[expect(
        clippy::disallowed_methods,
        reason = "a test is told from outside to rewrite what it compares with"
    )]
    if env::var("UPDATE_GOLDEN").is_ok() {
        fs::write(&path, &schema.stdout).expect("written");
    }
    let kept = fs::read(&path).unwrap_or_default();
    assert!(
        kept == schema.stdout,
        "params/sumpwright.schema.json is old; UPDATE_GOLDEN=1 rewrites it"
    );
}

#[test]
fn the_demos_check_without_failing() {
    let params = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../params");
    for name in ["seahorse", "mangrove", "brook", "fragfarm"] {
        let output = run(&params, &["check", &format!("{name}.toml"), "--json"]);
        assert_eq!(output.status.code(), Some(0), "{name}: {}", all_of(&output));
        let told: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
        assert_eq!(told["counts"]["fails"], 0, "{name}");
        // Levels and failures are computed; a band that is doubtful says so at its parameter. What is checked
        // for no sump yet has none.
        let findings = told["findings"].as_array().expect("a list");
        let missing = findings.iter().filter(|f| f["grade"] == "not-checked");
        let codes: Vec<&str> = missing
            .filter(|f| f["parameter"] == "")
            .map(|f| f["code"].as_str().expect("a code"))
            .collect();
        assert_eq!(codes, [""; 0], "{name}");
        let is_not_computed = |f: &serde_json::Value| {
            f["grade"] == "not-checked"
                && (f["code"] == "levels-in-flow" || f["code"] == "power-cut-and-blockage")
        };
        assert!(!findings.iter().any(is_not_computed), "{name}");
    }
}
