//! `sumpwright new`: writes a starter file, and its schema beside it.

use std::fs;
use std::path::Path;

use anyhow::bail;

use crate::args::NewArgs;
use crate::whole_file::{self, There};
use crate::{Outcome, schema, terminal};

pub(crate) fn run(args: &NewArgs) -> anyhow::Result<Outcome> {
    let schema_path = args.file.with_file_name(schema::FILE);
    if args.file == schema_path {
        bail!("`{}` is the schema's name; choose another for the parameter file", schema::FILE);
    }
    let schema = schema::text();
    let has_schema = fs::read_to_string(&schema_path).is_ok_and(|there| there == schema);
    refuse_a_folder(&args.file)?;
    refuse_a_folder(&schema_path)?;
    if !args.force {
        refuse_if_there(&args.file)?;
    }
    // What is not known to be ours is never replaced, for `--force` is about the parameter file.
    let is_old_schema = !has_schema && is_our_schema(&schema_path);
    if !has_schema && !is_old_schema && fs::symlink_metadata(&schema_path).is_ok() {
        bail!(
            "`{}` is there already and is not a schema that sumpwright wrote; move it away, or write the \
             parameter file into another folder",
            schema_path.display()
        );
    }
    // What has come up since we looked stays, too.
    let there = |is_replaced| if is_replaced { There::IsReplaced } else { There::Stays };
    if !has_schema {
        whole_file::write(&schema_path, schema.as_bytes(), there(is_old_schema))?;
    }
    let starter = params::starter(params::Starter { us: args.us });
    whole_file::write(&args.file, starter.as_bytes(), there(args.force))?;
    terminal::say(&format!(
        "wrote `{file}` and `{schema}`\nnext: edit it, then `sumpwright check {file}`",
        file = args.file.display(),
        schema = schema_path.display()
    ));
    Ok(Outcome::Fine)
}

/// Whether a file is a schema that another version of this program wrote.
fn is_our_schema(path: &Path) -> bool {
    let text = fs::read_to_string(path).unwrap_or_default();
    let there: serde_json::Value = serde_json::from_str(&text).unwrap_or_default();
    let ours = params::schema();
    ["$schema", "title"]
        .iter()
        .all(|key| ours.get(key).is_some() && there.get(key) == ours.get(key))
}

fn refuse_a_folder(path: &Path) -> anyhow::Result<()> {
    if path.is_dir() {
        bail!("`{}` is a folder; give the name of a file to write", path.display());
    }
    Ok(())
}

fn refuse_if_there(path: &Path) -> anyhow::Result<()> {
    if fs::symlink_metadata(path).is_ok() {
        bail!(
            "`{}` is there already; choose another name, or replace it with `--force`",
            path.display()
        );
    }
    Ok(())
}
