//! `sumpwright view` starts the window that lies beside it, or says in one sentence why it cannot.
#![cfg(unix)]

mod common;

use std::fs;
use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

use assert_cmd::Command;

/// Held while a file that will be run is written, and while one is started.
///
/// A process that another test starts meanwhile holds the half-written file open until it has become its own
/// program, and the system refuses to run a file that is open for writing ("text file busy").
static RUNNABLE: Mutex<()> = Mutex::new(());

fn alone() -> MutexGuard<'static, ()> {
    RUNNABLE.lock().unwrap_or_else(PoisonError::into_inner)
}

/// A copy of the binary in a folder with a parameter file and, if `window` is a script, a window beside it.
fn beside(folder: &Path, window: Option<&str>) -> PathBuf {
    let _alone = alone();
    let copy = folder.join("sumpwright");
    fs::copy(env!("CARGO_BIN_EXE_sumpwright"), &copy).expect("copied");
    fs::copy(common::demo("brook"), folder.join("sump.toml")).expect("copied");
    if let Some(script) = window {
        let path = folder.join("sumpwright-view");
        fs::write(&path, format!("#!/bin/sh\n{script}\n")).expect("written");
        fs::set_permissions(&path, fs::Permissions::from_mode(0o755)).expect("made to run");
    }
    copy
}

fn view(folder: &Path, binary: &Path, args: &[&str]) -> (Option<i32>, String, String) {
    let _alone = alone();
    let output = Command::new(binary).current_dir(folder).arg("view").args(args).output();
    let output = output.expect("the binary runs");
    let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    (output.status.code(), text(&output.stdout), text(&output.stderr))
}

#[test]
fn the_window_gets_its_options_and_its_code_is_passed_on() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    let binary = beside(dir.path(), Some("printf '%s|' \"$@\"; exit 7"));
    let (code, out, err) = view(dir.path(), &binary, &["sump.toml"]);
    assert_eq!((code, out.as_str(), err.as_str()), (Some(7), "sump.toml|", ""));
    let (code, out, _) = view(dir.path(), &binary, &["--dark", "sump.toml"]);
    assert_eq!((code, out.as_str()), (Some(7), "--dark|sump.toml|"));
}

#[test]
fn a_file_called_like_an_option_is_still_a_file() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    let binary = beside(dir.path(), Some("printf '%s|' \"$@\""));
    fs::rename(dir.path().join("sump.toml"), dir.path().join("--help")).expect("renamed");
    let (code, out, _) = view(dir.path(), &binary, &["--", "--help"]);
    assert_eq!((code, out.as_str()), (Some(0), "./--help|"));
}

#[test]
fn a_window_that_is_ended_from_outside_is_no_success() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    let binary = beside(dir.path(), Some("kill -9 $$"));
    assert_eq!(view(dir.path(), &binary, &["sump.toml"]).0, Some(2));
}

#[test]
fn without_the_window_one_sentence_says_what_to_do() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    let binary = beside(dir.path(), None);
    let (code, out, err) = view(dir.path(), &binary, &["sump.toml"]);
    assert_eq!((code, out.as_str(), err.lines().count()), (Some(2), "", 1), "{err}");
    assert!(err.contains("`cargo build --release -p view`"), "{err}");
}

#[test]
fn without_the_file_no_window_opens() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    let binary = beside(dir.path(), Some("echo opened"));
    for wrong in ["other.toml", "."] {
        let (code, out, err) = view(dir.path(), &binary, &[wrong]);
        assert_eq!((code, out.as_str(), err.lines().count()), (Some(2), "", 1), "{err}");
        assert!(err.starts_with(&format!("error: cannot read `{wrong}`: ")), "{err}");
    }
}
