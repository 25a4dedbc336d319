//! The files about fit and ways out, for a folder of their own or for `--into`.

use std::path::Path;

use design::{Design, RemovableId};
use export::plot;
use fit::Fit;
use study::told::reach::Told;
use study::told::table::{Table, wrapped};
use study::told::ways_out::{ToldStep, WayOut};
use study::told::{cautions, clearances, reach, ways_out};

use crate::file_name::FileName;
use crate::fit_json;
use crate::whole_file;

/// A file about fit.
#[derive(Debug)]
pub(crate) struct FitFile {
    pub(crate) name: FileName,
    pub(crate) extension: &'static str,
    pub(crate) purpose: String,
    pub(crate) bytes: Vec<u8>,
}

/// All that is told in words.
#[derive(Clone, Debug)]
pub(crate) struct Words {
    pub(crate) clearances: Table,
    pub(crate) ways: Table,
    /// Each way in full.
    pub(crate) each: Vec<WayOut>,
    /// The order in which everything comes out.
    pub(crate) emptying: Vec<ToldStep>,
    /// What does not, in a sentence.
    pub(crate) left: Option<String>,
    pub(crate) reach: Table,
    pub(crate) rescue: Option<Told>,
}

/// What to mind, in the order in which it is read.
pub(crate) const CAUTIONS: [&str; 4] =
    [cautions::LIFTING, cautions::ANIMALS, cautions::MOVING, cautions::LOCAL];

impl Words {
    /// Of these removables and of the whole.
    pub(crate) fn of(fit: &Fit, design: &Design, asked: &[RemovableId]) -> Self {
        let report = &fit.report;
        let ways: Vec<_> =
            report.ways.iter().filter(|way| asked.contains(&way.removable)).collect();
        Self {
            clearances: clearances::table(report, design),
            ways: ways_out::table(&ways, report, design),
            each: ways.iter().map(|way| WayOut::of(way, report, design)).collect(),
            emptying: ways_out::emptying(report, design),
            left: ways_out::left(report, design),
            reach: reach::table(report, design),
            rescue: report.rescue.as_ref().map(|rescue| Told::of(rescue, report, design)),
        }
    }

    /// The ways alone: a table, what to mind, and each in full.
    pub(crate) fn ways_text(&self) -> String {
        let each: String = self.each.iter().map(|way| format!("\n{}", way.text())).collect();
        format!("{}\n{}{each}", self.ways.text(), cautions_text())
    }

    /// All of it.
    pub(crate) fn text(&self) -> String {
        let left = self.left.as_deref().map(wrapped).unwrap_or_default();
        let emptying =
            format!("{}\n{}{left}", ways_out::EMPTYING, ways_out::steps_text(&self.emptying));
        let told = [self.clearances.text(), self.ways_text(), emptying, self.reach.text()];
        let rescue = self.rescue.as_ref().map(Told::text);
        told.into_iter().chain(rescue).collect::<Vec<_>>().join("\n")
    }
}

fn cautions_text() -> String {
    CAUTIONS.iter().map(|words| wrapped(words)).collect()
}

/// Every removable of a design.
pub(crate) fn all(design: &Design) -> Vec<RemovableId> {
    (0..design.removables.len()).collect()
}

/// The words, plan and side view, and the motions as JSON.
pub(crate) fn of(fit: &Fit, design: &Design, asked: &[RemovableId]) -> Vec<FitFile> {
    let file = |name, extension, purpose: &str, text: String| FitFile {
        name: FileName::of(name, "fit"),
        extension,
        purpose: purpose.to_owned(),
        bytes: text.into_bytes(),
    };
    vec![
        file(
            "fit",
            "txt",
            "clearances, ways out, the order in which everything comes out, reach and rescue",
            Words::of(fit, design, asked).text(),
        ),
        file(
            "plan",
            "svg",
            "the sump in its cabinet from above, the tightest clearances as dimensions",
            plot::fit_plan(design, &fit.report),
        ),
        file(
            "side",
            "svg",
            "the same from the front, cut open",
            plot::fit_side(design, &fit.report),
        ),
        file(
            "ways",
            "json",
            "all of it for other programs: every motion as poses against time",
            format!("{:#}\n", fit_json::whole(fit, design, asked)),
        ),
    ]
}

/// Writes files into a folder that may hold others; those of the same name are replaced. Returns the paths.
pub(crate) fn write(folder: &Path, files: &[FitFile]) -> anyhow::Result<Vec<String>> {
    let named = files.iter().map(|file| (&file.name, file.extension, file.bytes.as_slice()));
    whole_file::write_all(folder, named)
}
