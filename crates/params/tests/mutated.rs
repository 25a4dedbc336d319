//! Guards that no file, however it was damaged, makes reading panic, hang or contradict itself.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::time::{Duration, Instant};

use findings::Grade;
use params::Starter;

/// How many damaged files are read.
const MUTANTS: usize = 10_000;
/// In how many threads, each with its own damages, the same on every machine.
const THREADS: u64 = 4;

/// Pieces that damage is done with.
const NASTY: [&str; 56] = [
    "",
    " ",
    "\n",
    "\r",
    "\t",
    "\u{0}",
    "\u{feff}",
    "\u{202e}",
    "é",
    "🐟",
    "“",
    "\"",
    "'",
    "\"\"\"",
    "'''",
    "\\",
    "\\u0000",
    "#",
    "=",
    "==",
    ",",
    ",,",
    ".",
    "..",
    "[",
    "]",
    "[[",
    "]]",
    "{",
    "}",
    "{}",
    "[]",
    "nan",
    "-inf",
    "1e999",
    "-0",
    "0x7fffffffffffffff",
    "99999999999999999999",
    "1979-05-27T07:32:00Z",
    "true",
    "False",
    "\"36 1/4 in\"",
    "\"1/0 in\"",
    "\"30 gal\"",
    "\"\"",
    "\"..\"",
    "\"a\\u202eb\"",
    "[along]",
    "[[along]]",
    "[leaf.\"a.b\"]",
    "divider",
    "section",
    "across = [{ chamber = \"x\" }]",
    "a.b.c.d.e.f.g.h = 1",
    "format = 2",
    "[[[[[[[[[[",
];

#[test]
fn damaged_files_are_read_or_refused() {
    let texts = sources();
    let sources: Vec<_> = texts.iter().map(|text| tokens(text)).collect();
    let parts: Vec<_> = (1..=THREADS).collect();
    let results: Vec<_> = std::thread::scope(|scope| {
        let threads: Vec<_> =
            parts.iter().map(|part| scope.spawn(|| damage(&sources, *part))).collect();
        threads.into_iter().map(|thread| thread.join().expect("no panic")).collect()
    });
    let right: usize = results.iter().map(|result| result.right).sum();
    let slowest = results.iter().map(|result| result.slowest).max().unwrap_or_default();
    let mut codes: BTreeMap<&str, usize> = BTreeMap::new();
    for (code, count) in results.iter().flat_map(|result| &result.codes) {
        *codes.entry(code).or_default() += count;
    }
    println!("{right} of {MUTANTS} still right; slowest {slowest:?}; {codes:?}");
    assert!(slowest < Duration::from_secs(2), "one took {slowest:?}");
    // Damage that is never noticed, or always, would test little.
    assert!((100..MUTANTS - 100).contains(&right), "{right} of {MUTANTS} were right");
    assert!(codes.len() > 20, "only {codes:?} came up");
}

#[derive(Default)]
struct Damage {
    /// How many files were still right.
    right: usize,
    slowest: Duration,
    codes: BTreeMap<&'static str, usize>,
}

/// One thread's part.
fn damage(sources: &[Vec<&str>], part: u64) -> Damage {
    let mut random = Random(0x5eed << 16 | part);
    let mut damage = Damage::default();
    for number in 0..MUTANTS / usize::try_from(THREADS).expect("few") {
        let file = mutant(sources, &mut random);
        let start = Instant::now();
        let read = params::read(&file);
        damage.slowest = damage.slowest.max(start.elapsed());
        check(&read, &file, number);
        damage.right += usize::from(read.file.is_some());
        for finding in read.findings {
            *damage.codes.entry(finding.code).or_default() += 1;
        }
    }
    damage
}

#[track_caller]
fn check(read: &params::Read, file: &str, number: usize) {
    let fails = read.findings.iter().any(|finding| finding.grade == Grade::Fails);
    assert_eq!(
        read.file.is_none(),
        fails,
        "mutant {number}: a file and a failure, or neither:\n{file}"
    );
    for finding in &read.findings {
        let span = finding.span.clone().expect("every finding has a place");
        assert!(
            file.get(span).is_some(),
            "mutant {number}: {finding} points beside the text:\n{file}"
        );
        assert_ne!(finding.code, "disagreement", "mutant {number}: {finding}:\n{file}");
        let shown = finding.to_string();
        assert!(
            !shown.contains(
                |c: char| c != '\n' && (c.is_control() || c == '\u{202e}' || c == '\u{feff}')
            ),
            "mutant {number}: {shown:?}"
        );
        assert!(shown.len() < 2000, "mutant {number}: a message of {} bytes", shown.len());
    }
}

/// Both starter files, and the files that the tool is shown with.
fn sources() -> Vec<String> {
    let mut sources: Vec<_> = [false, true].map(|us| params::starter(Starter { us })).into();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../params");
    let entries = fs::read_dir(folder).expect("the folder of the demonstrations");
    let mut paths: Vec<_> = entries.map(|entry| entry.expect("an entry").path()).collect();
    paths.sort();
    let files = paths.iter().filter(|path| path.extension().is_some_and(|ending| ending == "toml"));
    sources.extend(files.map(|path| fs::read_to_string(path).expect("a text")));
    sources
}

/// A file with one to three damages of its tokens, and perhaps one of its bytes.
fn mutant(sources: &[Vec<&str>], random: &mut Random) -> String {
    let mut tokens = random.pick(sources).clone();
    for _ in 0..=random.below(3) {
        damage_tokens(&mut tokens, sources, random);
    }
    let file = tokens.concat();
    if random.below(4) == 0 { bytes_damaged(file, random) } else { file }
}

fn bytes_damaged(file: String, random: &mut Random) -> String {
    let mut bytes = file.into_bytes();
    let at = random.below(bytes.len() + 1);
    let end = (at + random.below(20)).min(bytes.len());
    match random.below(5) {
        0 => bytes.truncate(at),
        1 => drop(bytes.drain(at..end)),
        2 => bytes.insert(at, random.byte()),
        3 if at < end => bytes[at] ^= 1 << random.below(8),
        _ => bytes[at..end].reverse(),
    }
    String::from_utf8_lossy(&bytes).into_owned()
}

fn damage_tokens<'a>(tokens: &mut Vec<&'a str>, sources: &[Vec<&'a str>], random: &mut Random) {
    let at = random.below(tokens.len());
    let other = random.below(tokens.len());
    match random.below(12) {
        7.. => tokens[at] = like(tokens[at], random.pick::<Vec<_>>(sources), random),
        0 => drop(tokens.remove(at)),
        1 => tokens.insert(at, tokens[other]),
        2 => tokens.swap(at, other),
        3 => tokens[at] = tokens[other],
        4 => tokens[at] = NASTY[random.below(NASTY.len())],
        5 => tokens.insert(at, NASTY[random.below(NASTY.len())]),
        _ => {
            // A stretch of another file.
            let from = random.pick(sources);
            let start = random.below(from.len());
            let end = (start + random.below(60)).min(from.len());
            tokens.splice(at..at, from[start..end].iter().copied());
        }
    }
}

/// A token of the same kind, so that the file stays TOML: a number for a number, a text for a text.
fn like<'a>(token: &'a str, source: &[&'a str], random: &mut Random) -> &'a str {
    let kind = |token: &str| {
        token.chars().next().map(|c| (c.is_ascii_digit(), c.is_alphabetic(), c == '"'))
    };
    let all: Vec<_> =
        source.iter().copied().chain(NASTY).filter(|other| kind(other) == kind(token)).collect();
    if all.is_empty() { token } else { all[random.below(all.len())] }
}

/// Words, numbers, texts in quotes, and each other character for itself.
fn tokens(file: &str) -> Vec<&str> {
    let mut tokens = Vec::new();
    let mut rest = file;
    while let Some(first) = rest.chars().next() {
        let is_word = |c: char| c.is_alphanumeric() || matches!(c, '_' | '-' | '.');
        let length = if is_word(first) {
            rest.find(|c| !is_word(c)).unwrap_or(rest.len())
        } else if first == '"' {
            rest[1..].find('"').map_or(1, |end| end + 2)
        } else {
            first.len_utf8()
        };
        let (token, after) = rest.split_at(length);
        tokens.push(token);
        rest = after;
    }
    tokens
}

/// Marsaglia's xorshift, the same on every run and machine.
struct Random(u64);

impl Random {
    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0
    }

    fn below(&mut self, end: usize) -> usize {
        usize::try_from(self.next() >> 33).expect("31 bits") % end.max(1)
    }

    fn byte(&mut self) -> u8 {
        self.next().to_be_bytes()[0]
    }

    fn pick<'a, T>(&mut self, items: &'a [T]) -> &'a T {
        &items[self.below(items.len())]
    }
}
