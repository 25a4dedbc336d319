//! Guards that files made to do harm are refused in little time, with few words.

use std::time::{Duration, Instant};

/// Reads a text, of which one finding must have this code.
#[track_caller]
fn check(text: &str, code: &str) {
    let start = Instant::now();
    let read = params::read(text);
    let took = start.elapsed();
    let codes: Vec<_> = read.findings.iter().map(|finding| finding.code).collect();
    assert!(codes.contains(&code), "only {codes:?}");
    assert!(read.file.is_none());
    assert!(read.findings.len() <= 101, "{} findings", read.findings.len());
    assert!(read.findings.iter().all(|finding| finding.to_string().len() < 2000), "a long message");
    assert!(took < Duration::from_secs(5), "took {took:?}");
}

#[test]
fn a_file_longer_than_any_is_not_read() {
    check(&"#".repeat(1_000_001), "too-long");
}

#[test]
fn nesting_without_end() {
    check(&format!("a = {}", "[".repeat(500_000)), "syntax");
    check(&format!("a = {}", "{a=".repeat(300_000)), "syntax");
    check(&format!("{}a = 1", "a.".repeat(490_000)), "syntax");
    check(&format!("[{}a]", "a.".repeat(490_000)), "syntax");
    let nested = ("{".to_owned() + &"a.".repeat(78) + "a=").repeat(78);
    check(&format!("x = {nested}1{}", "}".repeat(78)), "syntax");
    let nested = ("{".to_owned() + &"a.".repeat(19) + "a=").repeat(19);
    check(&format!("x = {nested}1{}", "}".repeat(19)), "missing-key");
    check(&format!("box = {nested}1{}", "}".repeat(19)), "missing-key");
}

#[test]
fn rows_in_rows_without_end() {
    let open: String =
        (0..35).map(|_| "{ section = \"a\", across = [{ section = \"b\", along = [").collect();
    check(&format!("along = [{open}{}]", "]}]}".repeat(35)), "syntax");
}

#[test]
fn lists_and_tables_without_end() {
    check(&format!("along = [{}]", "{},".repeat(300_000)), "missing-key");
    check(&"[[along]]\n".repeat(99_000), "too-many");
    check(&"[[sock_holder]]\nsocks = 99\n".repeat(36_000), "missing-key");
    check(&(0..80_000).map(|n| format!("k{n}=1\n")).collect::<String>(), "missing-key");
    check(&(0..50_000).map(|n| format!("[leaf.l{n}]\n")).collect::<String>(), "missing-key");
    check(&format!("sheet = {{ s = {{ measured = [{}] }} }}", "1,".repeat(490_000)), "missing-key");
}

#[test]
fn mistakes_without_end() {
    check(&"=\n".repeat(490_000), "syntax");
    check(&"=\n".repeat(40_000), "syntax");
    check(&"a=1\n".repeat(20_000), "duplicate-key");
    check(&format!("a = [{}]", ",".repeat(90_000)), "syntax");
    check(&"\"".repeat(90_000), "syntax");
    check(&"\r".repeat(90_000), "syntax");
    check(&"[a]\n".repeat(20_000), "duplicate-key");
}

#[test]
fn texts_without_end() {
    check(&format!("title = \"{}\"", "x".repeat(900_000)), "missing-key");
    check(&format!("title = \"{}\"", "\u{202e}".repeat(300_000)), "missing-key");
    check(&format!("{} = 1", "x".repeat(900_000)), "missing-key");
    check(&format!("[sheet.{}]", "x".repeat(900_000)), "missing-key");
    check(&format!("[box]\nsheet = {}", "9".repeat(900_000)), "missing-key");
    check(&format!("[box.outside]\nlength = \"{}\"", "1/".repeat(400_000)), "missing-key");
}
