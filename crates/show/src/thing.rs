//! What is told of a body when it is picked.

use serde::Serialize;

/// Place in the list of all bodies of a scene: those of the sump, then its spares, then the things of its cabinet.
pub type ThingId = usize;

/// One body.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Thing {
    /// Its name, unique.
    pub name: String,
    /// Which of the groups that are switched on and off together it is in.
    pub group: Group,
    /// What it is: `leaf`, `return pump`, `drain pipe`.
    pub what: String,
    /// Path of its parameter, and the line of the file where that is, from 1.
    pub parameter: String,
    /// Line of the file, from 1.
    pub line: Option<usize>,
    /// Its size in the file's units, in words.
    pub size: String,
    /// What it is cut from, or bought as.
    pub stock: Option<String>,
    /// Its mass in words, where it is known.
    pub mass: Option<String>,
    /// Findings that are about it: indices into [`Show::findings`](crate::Show::findings).
    pub findings: Vec<usize>,
    /// What comes out with it or before it moves: an index into [`Show::ways`](crate::Show::ways).
    pub way: Option<usize>,
}

/// What is switched on and off together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Group {
    /// What is cut and glued, and the fittings on it.
    Sump,
    /// What stands in it.
    Equipment,
    /// Drains, returns and what hangs on them.
    Plumbing,
    /// Leaves that can stand in place of others.
    Spare,
    /// What is around it.
    Cabinet,
}
