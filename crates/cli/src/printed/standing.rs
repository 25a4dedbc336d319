//! What an earlier run made into the folder: the same fittings may be replaced, others not.

use std::fs;
use std::path::Path;

use anyhow::bail;

use super::asked::Asked;

/// Whether the folder is free, or was made by asking for the same kinds: then their measures are tried anew. Gives the
/// command that is replaced, where it is another.
///
/// # Errors
/// When other fittings would be lost.
pub(super) fn replaced(
    folder: &Path,
    command_file: &str,
    asked: &[Asked],
    command: &str,
) -> anyhow::Result<Option<String>> {
    // Whoever has no such file has no fittings: whether it may be replaced is for the folder to say.
    let Ok(earlier) = fs::read_to_string(folder.join(command_file)) else { return Ok(None) };
    let earlier = earlier.trim();
    if earlier == command {
        return Ok(None);
    }
    let (were, are) = (kinds(earlier), asked.iter().map(|asked| asked.kind.name));
    let mut are: Vec<&str> = are.collect();
    are.dedup();
    if were == are {
        return Ok(Some(earlier.to_owned()));
    }
    bail!(
        "`{}` holds other fittings, of an earlier run: {}; choose another folder with `--into`, remove this one, or ask for \
         all of them at once",
        folder.display(),
        were.join(", ")
    )
}

/// Kinds that a command asks for, each once where it stands several times in a row.
fn kinds(command: &str) -> Vec<&str> {
    let words = command.split(' ').skip_while(|word| *word != "fittings").skip(1);
    let mut kinds: Vec<&str> = words
        .take_while(|word| !word.starts_with("--"))
        .filter(|word| !word.contains('='))
        .collect();
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
    }
}
