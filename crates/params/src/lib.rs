//! The parameter file: what a maker writes, with its defaults and their reasons, checked as it is read.
//!
//! Knows the file's form, names and places in the text. Knows no geometry: whether a hole fits its
//! wall is for `design` to say.
//!
//! ```
//! let read = params::read("format = 1\n[box]\nshet = \"clear\"\n");
//! assert!(read.file.is_none());
//! let finding = read.findings.iter().find(|finding| finding.code == "unknown-key").unwrap();
//! assert_eq!(finding.parameter, "box.shet");
//! assert_eq!(finding.hint.as_deref(), Some("write `sheet`"));
//! ```

mod file;
mod form;
mod gaps;
mod path;
mod read;
mod rules;
mod scalar;
mod schema;
mod spans;
mod starter;
mod syntax;
mod walk;
mod words;

pub use file::*;
pub use read::{Read, read};
pub use schema::schema;
pub use spans::Spans;
pub use starter::{Starter, starter};
pub use words::{listed, nearest};
