//! Guards the shape of the workspace: which crate may use which, and that only the programs touch the
//! world.

use std::fs;
use std::path::{Path, PathBuf};

/// Lower layers first; a crate may use only crates on lines before its own.
const LAYERS: &[&[&str]] = &[
    &["units", "bending", "findings", "paper"],
    &["params"],
    &["plate"],
    &["fittings"],
    &["design"],
    &["solid", "water", "fit", "shop", "strength"],
    &["export", "scene", "show"],
    &["study"],
    &["page", "documents"],
    &["sumpwright", "view"],
];

/// The programs: they read files, watch the clock and talk to a person.
const PROGRAMS: &[&str] = &["sumpwright", "view"];

/// What reaches outside a function's arguments. Only programs may.
const WORLD: &[&str] =
    &["std::fs", "std::env", "std::time", "std::net", "std::process", "std::thread::sleep"];

#[test]
fn crates_only_look_down() {
    for (folder, manifest) in manifests() {
        let name = manifest["package"]["name"].as_str().expect("a package has a name");
        let own =
            layer(name).unwrap_or_else(|| panic!("`{name}` in {} has no layer", folder.display()));
        for used in dependencies(&manifest) {
            let is_below = layer(&used).is_none_or(|other| other < own);
            assert!(is_below, "`{name}` must not use `{used}`: it is not below it");
        }
    }
}

#[test]
fn every_crate_keeps_the_lints_of_the_workspace() {
    for (folder, manifest) in manifests() {
        let lints = manifest.get("lints").and_then(|lints| lints.get("workspace"));
        assert_eq!(lints, Some(&toml::Value::Boolean(true)), "{}", folder.display());
    }
}

#[test]
fn only_the_programs_touch_the_world() {
    for (folder, manifest) in manifests() {
        if manifest["package"]["name"].as_str().is_some_and(|name| PROGRAMS.contains(&name)) {
            continue;
        }
        for file in rust_files(&folder.join("src")) {
            // Tests may read the demos.
            if file.file_name().is_some_and(|name| name == "tests.rs") {
                continue;
            }
            let text = fs::read_to_string(&file).expect("a source file is text");
            let code = text.split("#[cfg(test)]\nmod tests {").next().unwrap_or_default();
            for (i, line) in code.lines().enumerate() {
                let found = WORLD.iter().find(|words| line.contains(*words));
                assert!(
                    found.is_none(),
                    "{}:{}: `{}` belongs into a program",
                    file.display(),
                    i + 1,
                    found.unwrap_or(&"")
                );
            }
        }
    }
}

fn layer(name: &str) -> Option<usize> {
    LAYERS.iter().position(|line| line.contains(&name))
}

/// Folder and manifest of every crate.
fn manifests() -> Vec<(PathBuf, toml::Table)> {
    let crates = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let folders = fs::read_dir(crates).expect("the folder of the crates");
    let mut manifests = Vec::new();
    for folder in folders.map(|entry| entry.expect("readable").path()) {
        let text = fs::read_to_string(folder.join("Cargo.toml")).expect("every folder is a crate");
        manifests.push((folder, text.parse().expect("a manifest is TOML")));
    }
    assert!(manifests.len() >= LAYERS.len());
    manifests
}

/// Names of all that a crate depends on, in whatever table of the manifest.
fn dependencies(manifest: &toml::Table) -> Vec<String> {
    let mut names = Vec::new();
    for (key, value) in manifest {
        match value {
            toml::Value::Table(table) if key.ends_with("dependencies") => {
                names.extend(table.keys().cloned());
            }
            toml::Value::Table(table) if key == "target" => {
                names.extend(
                    table.values().filter_map(toml::Value::as_table).flat_map(dependencies),
                );
            }
            _ => {}
        }
    }
    names
}

fn rust_files(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for path in fs::read_dir(folder).expect("readable").map(|entry| entry.expect("readable").path())
    {
        if path.is_dir() {
            files.extend(rust_files(&path));
        } else if path.extension().is_some_and(|extension| extension == "rs") {
            files.push(path);
        }
    }
    files
}
