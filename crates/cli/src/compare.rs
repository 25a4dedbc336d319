//! `sumpwright compare`: two designs side by side, or one before and after a change.

use anyhow::bail;
use serde_json::{Value, json};
use study::changed::{Changed, changed};
use study::compared::{self, Side};
use study::told::one_line;
use study::told::table::Table;
use study::{Reading, Source};

use crate::args::CompareArgs;
use crate::draw::{self, Style};
use crate::terminal::{self, Progress};
use crate::whole_file::{self, There};
use crate::{Outcome, reading};

pub(crate) fn run(args: &CompareArgs) -> anyhow::Result<Outcome> {
    let before = reading::read(&args.file)?;
    let (after, changes) = match &args.other {
        Some(other) => (reading::read(other)?, Vec::new()),
        None if args.set.is_empty() => bail!(
            "give a second file to compare with, or a setting to change, such as `--set box.outside.length=1200`"
        ),
        None => {
            let (text, changes) = changed(&before, &args.set)?;
            let name = match &args.into {
                Some(path) => path.display().to_string(),
                None => format!("{} with changes", before.source.name),
            };
            (Reading::of(Source { name, text }), changes)
        }
    };
    if let Some(path) = &args.into {
        whole_file::write(path, after.source.text.as_bytes(), There::Stays)?;
    }
    let progress = Progress::new();
    progress.next("Working out the first");
    let one = Side::of(&before);
    progress.next("Working out the second");
    let other = Side::of(&after);
    drop(progress);
    let tables = compared::tables([&one, &other], &changes);
    if args.json {
        terminal::print(&format!("{:#}\n", as_json([&one, &other], &tables, &changes)))?;
    } else {
        let names = [&one, &other].map(|side| one_line(&side.reading.source.name));
        let text: Vec<String> = tables.iter().map(Table::text_in_width).collect();
        terminal::print(&format!("{}, and {}\n\n{}", names[0], names[1], text.join("\n")))?;
        if let Some(path) = &args.into {
            terminal::say(&format!("wrote `{}`", path.display()));
        }
    }
    let report = other.report();
    if after.design.is_none() && !args.json {
        // What is wrong with a file that gives no design is best seen in its lines.
        let style =
            Style { is_coloured: terminal::has_colour(&std::io::stderr()), with_holding: false };
        terminal::say(draw::report(&report, style).trim_end());
    }
    Ok(Outcome::of(&after, &report))
}

fn as_json(sides: [&Side<'_>; 2], tables: &[Table], changes: &[Changed]) -> Value {
    let [before, after] = sides.map(|side| side.report().to_json());
    let table = |table: &Table| json!({ "title": table.title, "head": table.head, "rows": table.rows, "notes": table.notes });
    let change = |change: &Changed| json!({ "parameter": change.parameter, "before": change.before, "after": change.after });
    json!({
        "before": before,
        "after": after,
        "changes": changes.iter().map(change).collect::<Vec<_>>(),
        "differences": tables.iter().map(table).collect::<Vec<_>>(),
    })
}
