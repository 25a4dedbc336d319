//! What an earlier run made into the folder: the same fittings, or those of the same sump, may be replaced, others not.

use std::fs;
use std::path::Path;

use anyhow::bail;

/// Whether the folder is free, or was made by asking for the same kinds, or for the same of the same file: then their measures
/// are tried anew. Gives the
/// command that is replaced, where it is another.
///
/// # Errors
/// When other fittings would be lost.
pub(super) fn replaced(
    folder: &Path,
    command_file: &str,
    command: &str,
) -> anyhow::Result<Option<String>> {
    // Whoever has no such file has no fittings: whether it may be replaced is for the folder to say.
    let Ok(earlier) = fs::read_to_string(folder.join(command_file)) else { return Ok(None) };
    let earlier = earlier.trim();
    if earlier == command {
        return Ok(None);
    }
    let were = kinds(earlier);
    if were == kinds(command) {
        return Ok(Some(earlier.to_owned()));
    }
    bail!(
        "`{}` holds other fittings, of an earlier run: {}; choose another folder with `--into`, remove this one, or ask for \
         all of them at once",
        folder.display(),
        were.join(", ")
    )
}

/// Kinds, file and names that a command asks for, each once where it stands several times in a row.
fn kinds(command: &str) -> Vec<&str> {
    let asked = command.split_once("fittings ").map_or("", |(_, asked)| asked);
    // A file's name stands in quotes where it has spaces.
    let (file, others) = match asked.strip_prefix('"').and_then(|rest| rest.split_once('"')) {
        Some((file, others)) => (Some(file), others),
        None => (None, asked),
    };
    let others = others.split_whitespace().take_while(|word| !word.starts_with("--"));
    let mut kinds: Vec<&str> =
        file.into_iter().chain(others.filter(|word| !word.contains('='))).collect();
    kinds.dedup();
    kinds
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn kinds_are_read_from_a_command() {
        let command = "sumpwright fittings pipe-clip pipe=32 pipe-clip pipe=40 door-knob screw=M5 --count 1 --into FOLDER";
        assert_eq!(kinds(command), ["pipe-clip", "door-knob"]);
        let command = "sumpwright fittings \"My sump.toml\" lid-handle --into FOLDER";
        assert_eq!(kinds(command), ["My sump.toml", "lid-handle"]);
        assert_eq!(kinds("sumpwright fittings a.toml --into FOLDER"), ["a.toml"]);
    }
}
