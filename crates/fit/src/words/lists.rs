//! Several things, and shares, in a sentence.

/// Things in a sentence: `a`, `a and b`, `a, b and c`.
pub fn listed<S: AsRef<str>>(items: &[S]) -> String {
    let items: Vec<&str> = items.iter().map(AsRef::as_ref).collect();
    match items.as_slice() {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// A share as per cent, never rounded up to all or down to nothing.
pub fn percent(share: f64) -> String {
    let least = if 0.0 < share { 1.0 } else { 0.0 };
    let most = if share < 1.0 { 99.0 } else { 100.0 };
    format!("{:.0} %", (share * 100.0).round().clamp(least, most))
}
