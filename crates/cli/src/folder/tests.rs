//! Guards what is replaced, what is kept, and what a killed run leaves.

use std::fs;
use std::path::Path;

use super::*;

fn files(text: &str) -> Files {
    let mut files = Files::default();
    files.add_fixed("parameters.toml", "a copy", "format = 1");
    files.add_fixed("panels/a.txt", "a panel", text);
    files
}

fn put(target: &Path, text: &str) -> anyhow::Result<()> {
    let files = files(text);
    Folder::reserve(target, "parameters.toml")?
        .put(&files, &Manifest::of(&files, "parameters.toml"))
}

fn panel(target: &Path) -> String {
    fs::read_to_string(target.join("panels/a.txt")).expect("the panel is there")
}

/// Names in the folder that holds the target, hidden ones included.
fn names_in(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("read");
    let mut names: Vec<_> =
        entries.map(|e| e.expect("read").file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

#[track_caller]
fn refuses(target: &Path, words: &str) {
    let error = format!("{:#}", put(target, "new").expect_err("refused"));
    assert!(error.contains(words), "{error}");
}

#[test]
fn a_folder_is_made_and_replaced_and_nothing_is_left_beside_it() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    let target = dir.path().join("out/sump");
    for text in ["first", "second"] {
        put(&target, text).expect("written");
        assert_eq!(panel(&target), text);
        assert_eq!(names_in(&dir.path().join("out")), ["sump"]);
        assert_eq!(names_in(&target), ["manifest.json", "panels", "parameters.toml"]);
    }
}

#[test]
fn an_empty_folder_is_replaced() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    let target = dir.path().join("sump");
    fs::create_dir(&target).expect("made");
    put(&target, "new").expect("written");
    assert_eq!(panel(&target), "new");
}

#[test]
fn a_folder_of_somebody_else_stays() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    fs::write(dir.path().join("letter.txt"), "dear").expect("written");
    refuses(dir.path(), "files that sumpwright did not write");
    refuses(&dir.path().join("letter.txt"), "not a folder");
    assert_eq!(names_in(dir.path()), ["letter.txt"]);
}

#[test]
fn work_of_the_maker_in_our_folder_is_not_lost() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    let target = dir.path().join("sump");
    put(&target, "old").expect("written");
    fs::write(target.join("panels/.DS_Store"), "litter").expect("written");
    put(&target, "old").expect("litter is no work");
    fs::write(target.join("panels/notes.txt"), "cut on Monday").expect("written");
    refuses(&target, "`panels/notes.txt`");
    fs::remove_file(target.join("panels/notes.txt")).expect("removed");
    fs::write(target.join("panels/a.txt"), "changed").expect("written");
    refuses(&target, "`panels/a.txt`");
    assert_eq!(panel(&target), "changed");
}

#[test]
fn two_runs_at_once_are_kept_apart() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    let target = dir.path().join("sump");
    let first = Folder::reserve(&target, "parameters.toml").expect("free");
    refuses(&target, "another run is writing it");
    drop(first);
    put(&target, "new").expect("free again");
}

#[test]
fn the_current_folder_and_those_above_it_are_refused() {
    refuses(Path::new("."), "current folder");
    refuses(Path::new("/"), "current folder");
    refuses(Path::new(".."), "current folder");
}

#[test]
fn leftovers_of_a_killed_run_are_tidied_up() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    let target = dir.path().join("sump");
    put(&target, "old").expect("written");
    fs::create_dir(dir.path().join(".sump.sumpwright-new")).expect("made");
    fs::write(dir.path().join(".sump.sumpwright-new/half"), "ha").expect("written");
    fs::write(dir.path().join(".sump.sumpwright-lock"), "").expect("written");
    put(&target, "new").expect("written");
    assert_eq!(panel(&target), "new");
    assert_eq!(names_in(dir.path()), ["sump"]);
}

#[test]
fn an_old_folder_that_was_moved_aside_comes_back() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    let target = dir.path().join("sump");
    put(&target, "old").expect("written");
    fs::rename(&target, dir.path().join(".sump.sumpwright-old")).expect("moved");
    let folder = Folder::reserve(&target, "parameters.toml").expect("free");
    assert_eq!(panel(&target), "old");
    drop(folder);
    assert_eq!(names_in(dir.path()), ["sump"]);
}

#[cfg(unix)]
#[test]
fn a_link_to_a_folder_stays_a_link() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    let (real, link) = (dir.path().join("real"), dir.path().join("link"));
    fs::create_dir(&real).expect("made");
    std::os::unix::fs::symlink(&real, &link).expect("linked");
    put(&link, "new").expect("written");
    assert_eq!(panel(&real), "new");
    assert!(fs::symlink_metadata(&link).expect("there").is_symlink());
}
