//! Hostile input: damaged parameter files never panic, never hang, and never write outside the folder.

mod common;
#[path = "common/mutate.rs"]
mod mutate;

use std::fs;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::mpsc::{self, RecvTimeoutError};
use std::time::Duration;

use common::{DEMOS, Dice, contents, demo, run};
use mutate::mutate;
use plate::{Shape, Tolerance, arrange};

/// How long one file may take. Most take a few milliseconds; this leaves room for a busy machine.
const LONGEST: Duration = Duration::from_secs(20);

/// A file that is damaged: demo files in turn, and how its dice were thrown.
fn damaged(seed: u64) -> String {
    let mut dice = Dice(seed);
    let name = DEMOS[dice.below(DEMOS.len())];
    mutate(&fs::read_to_string(demo(name)).expect("a demo file"), &mut dice)
}

/// Reads, resolves and arranges; whatever comes of it is fine, as long as something comes.
fn try_design(text: &str) -> Option<usize> {
    let file = params::read(text).file?;
    let design = design::resolve(&file).design?;
    for piece in &design.pieces {
        match &piece.shape {
            Shape::Sheet(plate) => drop(arrange(plate, &Tolerance::default())),
            Shape::Turned(turned) => drop(turned.check()),
        }
    }
    Some(design.pieces.len())
}

#[test]
fn ten_thousand_damaged_files_neither_panic_nor_hang() {
    let (sender, receiver) = mpsc::channel();
    let work = std::thread::spawn(move || {
        let mut designs = 0;
        for seed in 0..10_000 {
            sender.send(seed).expect("the watch is listening");
            let text = damaged(seed);
            let outcome = catch_unwind(AssertUnwindSafe(|| try_design(&text)));
            let pieces =
                outcome.unwrap_or_else(|_| panic!("seed {seed} panics; its file is:\n{text}"));
            designs += usize::from(pieces.is_some());
        }
        designs
    });
    let mut seed = 0;
    loop {
        match receiver.recv_timeout(LONGEST) {
            Ok(next) => seed = next,
            Err(RecvTimeoutError::Disconnected) => break,
            Err(RecvTimeoutError::Timeout) => {
                panic!("seed {seed} hangs; its file is:\n{}", damaged(seed))
            }
        }
    }
    let designs = work.join().expect("no panic");
    // If hardly any file got as far as a design, the damages would be too rough to test one.
    assert!(designs > 2000, "{designs} of 10000 made a design");
    println!("{designs} of 10000 damaged files made a design");
}

#[test]
fn eighty_damaged_files_write_nothing_outside_the_folder() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    let work = dir.path().join("a/b/c");
    fs::create_dir_all(&work).expect("made");
    let mut made = 0;
    for seed in 20_000..20_080 {
        // Ways out are searched for too, but not for long: damaged sumps have many that there are not.
        let text = damaged(seed) + "\n[fit]\nsearch = 1\n";
        fs::write(work.join("sump.toml"), &text).expect("written");
        let output = run(&work, &["make", "sump.toml", "--into", "target", "--no-pictures"]);
        let code = output.status.code();
        assert!(matches!(code, Some(0..=2)), "seed {seed}: {}", common::all_of(&output));
        made += usize::from(code == Some(0));
        let outside: Vec<String> = contents(dir.path())
            .into_keys()
            .filter(|path| !path.starts_with("a/b/c/target/"))
            .collect();
        assert_eq!(outside, ["a/b/c/sump.toml"], "seed {seed}");
    }
    assert!(made > 5, "{made} of 80 were made");
    println!("{made} of 80 damaged files were made");
}
