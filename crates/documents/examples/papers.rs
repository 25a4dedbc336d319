//! Writes the drawings of a parameter file as PDF, to look at: `papers FILE FOLDER`.

use std::error::Error;
use std::fs;
use std::path::PathBuf;

use documents::{CuttingSheets, PanelDrawing, cutting_sheet, panel_drawing};
use paper::{Document, PaperForm};
use params::PaperSize;
use study::{PanelWords, Shopped};

fn main() -> Result<(), Box<dyn Error>> {
    let mut arguments = std::env::args().skip(1);
    let (Some(file), Some(folder)) = (arguments.next(), arguments.next()) else {
        return Err("give a parameter file and a folder".into());
    };
    let folder = PathBuf::from(folder);
    fs::create_dir_all(&folder)?;
    let write = |name: &str, document: &Document| -> Result<(), Box<dyn Error>> {
        fs::write(folder.join(format!("{name}.pdf")), export::pdf::write(document)?)?;
        Ok(())
    };

    let file =
        params::read(&fs::read_to_string(file)?).file.ok_or("the file has faults: see `check`")?;
    let design = design::resolve(&file).design.ok_or("the file cannot be made: see `check`")?;
    let paper = match file.papers.size {
        Some(PaperSize::Letter) => PaperForm::Us,
        None if design.report == units::System::UsCustomary => PaperForm::Us,
        _ => PaperForm::A,
    };
    let parts = study::parts::build(&design).map_err(|_| "a panel is no closed solid")?;
    for part in &parts {
        let Some(flat) = &part.flat else { continue };
        let words = PanelWords::of(&design, &file.cutting, part.piece);
        let (piece, pattern) = (part.piece, &flat.pattern);
        let of = PanelDrawing {
            design: &design,
            piece,
            pattern,
            words: &words,
            papers: &file.papers,
            paper,
        };
        write(&format!("panel-{}", piece.number), &panel_drawing(&of))?;
    }
    let shopped = Shopped::of(&file, &design);
    for plan in &shopped.plans {
        let of = CuttingSheets { file: &file, design: &design, plan, works: &shopped.works, paper };
        write(&format!("cutting-{}", plan.sheet), &cutting_sheet(&of))?;
    }
    Ok(())
}
