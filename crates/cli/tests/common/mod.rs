//! What the tests of the binary share: running it, dice that fall the same every time, folders.

#![allow(dead_code, clippy::allow_attributes, reason = "every test file uses a part of this")]

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use sha2::{Digest, Sha256};

/// The four demo files.
pub(crate) const DEMOS: [&str; 4] = ["brook", "fragfarm", "mangrove", "seahorse"];

/// The path of a demo file.
pub(crate) fn demo(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../params").join(name).with_extension("toml")
}

/// The binary, to be run in a folder, whatever the environment of the test says about colours.
pub(crate) fn sumpwright(folder: &Path, args: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_sumpwright"));
    command.args(args).current_dir(folder).env_remove("NO_COLOR").env_remove("RAYON_NUM_THREADS");
    command
}

/// Runs the binary to its end.
pub(crate) fn run(folder: &Path, args: &[&str]) -> Output {
    sumpwright(folder, args).output().expect("the binary runs")
}

/// Exit code, standard output and standard error as one text.
pub(crate) fn all_of(output: &Output) -> String {
    let code = output.status.code().map_or("killed".to_owned(), |code| code.to_string());
    let [out, err] =
        [&output.stdout, &output.stderr].map(|bytes| String::from_utf8_lossy(bytes).into_owned());
    format!("exit code: {code}\n--- stdout ---\n{out}--- stderr ---\n{err}")
}

/// Path and content of every file in a folder, hidden ones included.
pub(crate) fn contents(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut files = BTreeMap::new();
    let mut open = vec![folder.to_owned()];
    while let Some(inner) = open.pop() {
        for path in
            fs::read_dir(inner).expect("readable").map(|entry| entry.expect("readable").path())
        {
            if path.is_dir() {
                open.push(path);
            } else {
                let name =
                    path.strip_prefix(folder).expect("within").to_string_lossy().replace('\\', "/");
                files.insert(name, fs::read(&path).expect("readable"));
            }
        }
    }
    files
}

/// Fails unless a folder holds exactly what its manifest says.
#[track_caller]
pub(crate) fn assert_whole(folder: &Path, when: &str) {
    let mut files = contents(folder);
    let manifest = files.remove("manifest.json").unwrap_or_else(|| panic!("{when}: no manifest"));
    let manifest: serde_json::Value = serde_json::from_slice(&manifest).expect("a whole manifest");
    for listed in manifest["files"].as_array().expect("a list") {
        let path = listed["path"].as_str().expect("a path");
        let bytes = files.remove(path).unwrap_or_else(|| panic!("{when}: `{path}` is missing"));
        let digest: String =
            Sha256::digest(&bytes).iter().map(|byte| format!("{byte:02x}")).collect();
        assert_eq!(listed["sha256"], digest.as_str(), "{when}: `{path}`");
        assert_eq!(listed["bytes"], bytes.len(), "{when}: `{path}`");
    }
    assert!(files.is_empty(), "{when}: not listed: {:?}", files.keys());
}

/// Dice that fall the same on every run (splitmix64: Steele, Lea, Flood 2014).
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    /// Any number.
    pub(crate) fn roll(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number below `n`, which is not 0.
    pub(crate) fn below(&mut self, n: usize) -> usize {
        usize::try_from(self.roll() % n as u64).expect("below a usize")
    }

    /// A number in 0..1.
    #[expect(clippy::cast_precision_loss, reason = "53 bits fit")]
    pub(crate) fn share(&mut self) -> f64 {
        (self.roll() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// One of a list.
    pub(crate) fn pick<'a, T: ?Sized>(&mut self, list: &[&'a T]) -> &'a T {
        list[self.below(list.len())]
    }
}
