//! A `make` that is killed leaves the folder of the run before it, or the new one, whole.

mod common;

use std::fs;
use std::path::Path;
use std::thread::sleep;
use std::time::Instant;

use common::{Dice, assert_whole, contents, run, sumpwright};

/// Two different small files, so that an old folder can be told from a new one.
fn write_files(folder: &Path) {
    let text = include_str!("water/small.toml");
    for (name, title) in [("a.toml", "First"), ("b.toml", "Second")] {
        let lines = text.lines().map(|line| {
            if line.starts_with("title") { format!("title = \"{title}\"") } else { line.into() }
        });
        fs::write(folder.join(name), lines.collect::<Vec<_>>().join("\n")).expect("written");
    }
}

const MAKE: [&str; 5] = ["make", "", "--into", "target", "--no-pictures"];

fn make(file: &'static str) -> [&'static str; 5] {
    let mut args = MAKE;
    args[1] = file;
    args
}

/// Runs after which the test gives up: enough for any machine to hit the moments that are wanted.
const MOST_RUNS: u32 = 400;

#[test]
fn fifty_killed_runs_leave_a_whole_folder() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    write_files(dir.path());
    let target = dir.path().join("target");
    let start = Instant::now();
    assert_eq!(run(dir.path(), &make("a.toml")).status.code(), Some(0));
    let whole_run = start.elapsed();
    assert_whole(&target, "before any kill");

    let begun = dir.path().join(".target.sumpwright-new");
    let mut dice = Dice(7);
    let (mut killed, mut while_writing, mut replaced) = (0, 0, 0);
    let mut before = contents(&target);
    // A run that ends before its kill does not count, and some must be killed while they write.
    for moment in 0..MOST_RUNS {
        if killed >= 50 && while_writing >= 5 && replaced >= 1 {
            break;
        }
        // Half of the moments are spread over the run; half lie about its end, where files are written.
        let share = if moment % 2 == 0 { dice.share() } else { 0.7 + 0.6 * dice.share() };
        let file = if moment % 4 < 2 { "b.toml" } else { "a.toml" };
        let mut child = sumpwright(dir.path(), &make(file))
            .stdout(std::process::Stdio::null())
            .stderr(std::process::Stdio::null())
            .spawn()
            .expect("the binary runs");
        sleep(whole_run.mul_f64(share));
        child.kill().expect("killed");
        let was_killed = child.wait().expect("ended").code().is_none();
        killed += usize::from(was_killed);
        while_writing += usize::from(was_killed && begun.exists());
        assert_whole(
            &target,
            &format!("kill {moment} at {:?} of {whole_run:?}", whole_run.mul_f64(share)),
        );
        let after = contents(&target);
        replaced += usize::from(after != before);
        before = after;
    }
    println!(
        "{killed} runs were killed before their end, {while_writing} of them while they wrote; \
         {replaced} runs replaced the folder; a whole run takes {whole_run:?}"
    );
    assert!(killed >= 50, "only {killed} runs were killed before their end");
    assert!(while_writing >= 5, "only {while_writing} runs were killed while they wrote");
    assert!(replaced >= 1, "no run came to replace the folder");

    assert_eq!(run(dir.path(), &make("b.toml")).status.code(), Some(0));
    assert_whole(&target, "after all kills");
    let mut names: Vec<_> = fs::read_dir(dir.path())
        .expect("readable")
        .map(|entry| entry.expect("readable").file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    assert_eq!(
        names,
        ["a.toml", "b.toml", "target"],
        "a run tidies up after those that were killed"
    );
}
