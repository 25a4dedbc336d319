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
    if !args.force {
        refuse_if_there(&args.file)?;
        if !has_schema {
            refuse_if_there(&schema_path)?;
        }
    }
    // What has come up since we looked stays, too.
    let there = if args.force { There::IsReplaced } else { There::Stays };
    if !has_schema {
        whole_file::write(&schema_path, schema.as_bytes(), there)?;
    }
    let starter = params::starter(params::Starter { us: args.us });
    whole_file::write(&args.file, starter.as_bytes(), there)?;
    terminal::say(&format!(
        "wrote `{file}` and `{schema}`\nnext: edit it, then `sumpwright check {file}`",
        file = args.file.display(),
        schema = schema_path.display()
    ));
    Ok(Outcome::Fine)
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
