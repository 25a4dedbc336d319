use findings::Finding;
use toml::de::DeTable;

use crate::{File, Spans};

/// What reading a parameter file gives.
#[derive(Clone, Debug)]
pub struct Read {
    /// The file, unless a finding fails.
    pub file: Option<File>,
    /// Where each parameter stands.
    pub spans: Spans,
    /// All that is wrong with it.
    pub findings: Vec<Finding>,
}

/// Reads the text of a parameter file.
pub fn read(text: &str) -> Read {
    let (table, errors) = DeTable::parse_recoverable(text);
    let spans = Spans::of(table.get_ref());
    let mut findings: Vec<_> = errors.iter().map(|error| syntax(error, text)).collect();
    let mut file = None;
    if findings.is_empty() {
        match toml::from_str(text) {
            Ok(read) => file = Some(read),
            Err(error) => findings.push(syntax(&error, text)),
        }
    }
    Read { file, spans, findings }
}

fn syntax(error: &toml::de::Error, text: &str) -> Finding {
    Finding::fails("file-form", "", error.message())
        .at(error.span().unwrap_or(0..text.len().min(1)))
}
