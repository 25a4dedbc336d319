//! What a process cannot do, or should not, to the parts of a design.
//!
//! Where the tool does not get in is told with the paths, by [`works`](crate::works); this is what follows from the
//! process itself, and from round ends that square parts go into.

mod gap;
mod laser;
mod router;
mod saw;
mod square;

use std::collections::BTreeMap;

use design::{Design, PieceId};
use findings::Finding;
use params::Process;

use crate::process::Machine;
use crate::work::{Operation, OperationKind, Work};

/// All findings about the processes of a file: that of `cutting`, and those that sheets have of their own.
pub fn check_process(file: &params::File, design: &Design, works: &[Work]) -> Vec<Finding> {
    let own = |work: &Work| {
        let name = design.pieces[work.piece].sheet.as_ref()?;
        file.sheet.get(name)?.process.map(|_| name.as_str())
    };
    let mut groups: BTreeMap<Option<&str>, Vec<&Work>> = BTreeMap::new();
    for work in works {
        groups.entry(own(work)).or_default().push(work);
    }
    let mut findings = square::check(file, design, works);
    findings.extend(gap::check(file, design));
    for (sheet, works) in groups {
        let machine = Machine::new(&file.cutting_of(sheet));
        let parameter = sheet
            .map_or_else(|| "cutting.process".to_owned(), |name| format!("sheet.{name}.process"));
        let shop = Shop { file, design, works: &works, machine: &machine, parameter };
        findings.extend(match machine.process {
            Process::Router => router::check(&shop),
            Process::Laser => laser::check(&shop),
            Process::Saw => saw::check(&shop),
        });
    }
    findings
}

/// What all checks look at.
struct Shop<'a> {
    file: &'a params::File,
    design: &'a Design,
    /// Those that this machine cuts.
    works: &'a [&'a Work],
    machine: &'a Machine,
    /// Where the file says that it does.
    parameter: String,
}

impl Shop<'_> {
    fn show(&self, mm: f64) -> String {
        units::Length::mm(mm).show(self.design.report)
    }

    /// `03 back wall`.
    fn name(&self, piece: PieceId) -> String {
        let piece = &self.design.pieces[piece];
        format!("{} {}", piece.number, piece.name)
    }

    /// Names of these parts, with commas.
    fn names(&self, pieces: &[PieceId]) -> String {
        pieces.iter().map(|&piece| self.name(piece)).collect::<Vec<_>>().join(", ")
    }

    /// The parts of which an operation is so.
    fn parts(&self, is_so: impl Fn(&Operation) -> bool) -> Vec<PieceId> {
        let has = |work: &&&Work| work.operations.iter().any(&is_so);
        self.works.iter().filter(has).map(|work| work.piece).collect()
    }

    fn parts_with(&self, kind: OperationKind) -> Vec<PieceId> {
        self.parts(|operation| operation.kind == kind)
    }

    /// The sheets that parts are cut from, in the order of their names.
    fn sheets(&self) -> impl Iterator<Item = &design::Sheet> {
        let is_used = |sheet: &&design::Sheet| {
            let of_it =
                |work: &&Work| self.design.pieces[work.piece].sheet.as_deref() == Some(&sheet.name);
            self.works.iter().any(of_it)
        };
        self.design.sheets.values().filter(is_used)
    }

    /// Sheets thicker than a process usually cuts.
    fn too_thick(&self, most_mm: f64, what: &str, source: &str, hint: &str) -> Vec<Finding> {
        let thick = self.sheets().filter(|sheet| sheet.band_mm[1] > most_mm);
        let finding = |sheet: &design::Sheet| {
            let message = format!(
                "sheet `{}` may be as thick as {}; {what} cuts up to {}",
                sheet.name,
                self.show(sheet.band_mm[1]),
                self.show(most_mm)
            );
            Finding::tight(
                "sheet-thick-for-process",
                format!("sheet.{}.thickness", sheet.name),
                message,
            )
            .with_limit(most_mm - sheet.band_mm[1], 0.0, "mm")
            .with_source(source)
            .with_hint(hint)
        };
        thick.map(finding).collect()
    }
}

#[cfg(test)]
mod tests;
