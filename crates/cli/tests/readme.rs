//! What the README shows is true: its example passes, its links lead somewhere.

mod common;

use std::fs;
use std::path::{Path, PathBuf};

use common::{all_of, run};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn text_of(name: &str) -> String {
    fs::read_to_string(root().join(name)).expect("readable")
}

#[test]
fn the_example_is_made_and_nothing_of_it_fails() {
    let readme = text_of("README.md");
    let example = readme
        .split("```toml\n")
        .nth(1)
        .and_then(|rest| rest.split("```").next())
        .expect("an example");
    let dir = tempfile::tempdir().expect("a temporary folder");
    fs::write(dir.path().join("sump.toml"), example).expect("written");
    let output = run(dir.path(), &["make", "sump.toml", "--no-pictures"]);
    assert_eq!(output.status.code(), Some(0), "{}", all_of(&output));
    let told = String::from_utf8_lossy(&output.stderr);
    // What is only tight is for the reader to see: it is what such a sump is told.
    assert!(!told.contains("fails[") && told.contains(" hold; "), "{}", all_of(&output));
}

#[test]
fn links_lead_to_files() {
    for name in ["README.md", "DEVELOPERS.md"] {
        for link in text_of(name).split("](").skip(1).filter_map(|rest| rest.split(')').next()) {
            let is_here = link.starts_with("https://") || root().join(link).exists();
            assert!(is_here, "{name}: `{link}` is not there");
        }
    }
}

#[test]
fn files_that_the_notes_for_developers_name_are_there() {
    for word in text_of("DEVELOPERS.md").split('`').skip(1).step_by(2) {
        // What `make` writes is not in the repository.
        let is_made = word.starts_with("checks/");
        let is_path = word.contains('/') && !is_made && !word.contains([' ', '*', '<', '\n']);
        assert!(!is_path || root().join(word).exists(), "DEVELOPERS.md: `{word}` is not there");
    }
}
