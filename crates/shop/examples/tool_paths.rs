//! Writes every operation of every panel of some parameter files, and of random plates, as a router and a laser would do
//! them: `tool_paths FOLDER COUNT FILE.toml …` writes `FOLDER/tool-paths.jsonl`, one line for each panel and process.
//!
//! `tests/outside/cut_judge.py` reads it. A line holds the plate as it was described, not as it was understood, so that
//! the judge finds by itself what must be left of the sheet.

#![expect(clippy::print_stdout, reason = "it tells what it has written")]

use std::error::Error;
use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use params::{Cutting, Process, Relief};
use plate::{Contour, Face, Plate, Shape, sample};
use shop::{CutPath, Machine, Operation, OperationKind, operations_of};

fn main() -> Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [folder, count, files @ ..] = arguments.as_slice() else {
        return Err("usage: tool_paths FOLDER COUNT FILE.toml …".into());
    };
    let count: usize = count.parse()?;
    let mut lines = String::new();
    for file in files {
        let read = params::read(&fs::read_to_string(file)?);
        let mut read = read.file.ok_or_else(|| format!("{file} cannot be read"))?;
        let stem = Path::new(file)
            .file_stem()
            .map_or_else(String::new, |s| s.to_string_lossy().into_owned());
        let mut seen: Vec<Plate> = Vec::new();
        for relief in [Relief::Beyond, Relief::Dogbone, Relief::Tbone] {
            read.cutting.relief = relief;
            let design =
                design::resolve(&read).design.ok_or_else(|| format!("{file} has no design"))?;
            for piece in design.pieces.iter().filter(|piece| piece.role.is_sheet()) {
                let Shape::Sheet(plate) = &piece.shape else { continue };
                // Only grooves have ends that differ.
                if seen.contains(plate) {
                    continue;
                }
                seen.push(plate.clone());
                let name = format!("{stem}: {} {}, {relief:?}", piece.number, piece.name);
                for process in [Process::Router, Process::Laser] {
                    let machine = Machine::new(&Cutting { process, ..read.cutting });
                    lines += &line(&name, &machine, plate)?;
                }
            }
        }
    }
    let (mut written, mut refused, mut seed) = (0, 0, 0);
    while written < count {
        seed += 1;
        let plate = sample::plate(seed);
        let mut both = String::new();
        for process in [Process::Router, Process::Laser] {
            let machine = Machine::new(&Cutting { process, ..Cutting::default() });
            // Some of the samples are there to be refused; what falls into pieces is no part.
            match line(&format!("random {seed}"), &machine, &plate) {
                Ok(line) => both += &line,
                Err(reason) => {
                    refused += 1;
                    println!("random {seed}: {reason}");
                    both.clear();
                    break;
                }
            }
        }
        if !both.is_empty() {
            lines += &both;
            written += 1;
        }
    }
    println!("{written} random plates, {refused} refused");
    fs::create_dir_all(folder)?;
    fs::write(Path::new(folder).join("tool-paths.jsonl"), lines)?;
    Ok(())
}

fn line(name: &str, machine: &Machine, plate: &Plate) -> Result<String, String> {
    let (pattern, operations) = operations_of(machine, plate)?;
    if pattern.through.iter().filter(|contour| contour.signed_area() > 0.0).count() != 1 {
        return Err("it falls into pieces".to_owned());
    }
    let process = if machine.process == Process::Router { "router" } else { "laser" };
    let cuts = plate.cuts.iter().map(|cut| {
        let depth = if cut.depth.is_finite() { cut.depth } else { 1e9 };
        format!(
            r#"{{"face":"{}","depth_mm":{depth:?},"contour":{}}}"#,
            face(cut.face),
            contour(&cut.contour)
        )
    });
    Ok(format!(
        "{{\"part\":{name:?},\"process\":\"{process}\",\"radius_mm\":{:?},\"thickness_mm\":{:?},\"outline\":{},\"cuts\":[{}],\"operations\":[{}]}}\n",
        machine.radius_mm(),
        plate.thickness,
        contour(&plate.outline),
        cuts.collect::<Vec<_>>().join(","),
        operations.iter().map(operation).collect::<Vec<_>>().join(",")
    ))
}

fn operation(operation: &Operation) -> String {
    let kind = match operation.kind {
        OperationKind::Engrave => "engrave",
        OperationKind::Pocket => "pocket",
        OperationKind::Hole => "hole",
        OperationKind::Inside => "inside",
        OperationKind::Outline => "outline",
    };
    let tool: Vec<String> = operation.tool.iter().map(path).collect();
    format!(
        r#"{{"kind":"{kind}","face":"{}","depth_mm":{:?},"edge":{},"tool":[{}]}}"#,
        face(operation.face),
        operation.depth_mm,
        path(&operation.edge),
        tool.join(",")
    )
}

fn face(face: Face) -> &'static str {
    match face {
        Face::Top => "top",
        Face::Bottom => "bottom",
    }
}

fn path(path: &CutPath) -> String {
    match path {
        CutPath::Closed(closed) => contour(closed),
        CutPath::Open(points) => {
            let lines = points.windows(2).map(|pair| plate::Segment::line(pair[0], pair[1]));
            contour(&Contour(lines.collect()))
        }
    }
}

/// Pieces as `[x, y, x, y]`, arcs with their centre and the angle turned.
fn contour(contour: &Contour) -> String {
    let mut text = String::from("[");
    for (i, piece) in contour.0.iter().enumerate() {
        let comma = if i > 0 { "," } else { "" };
        let (a, b) = (piece.start, piece.end);
        let _ = write!(text, "{comma}[{:?},{:?},{:?},{:?}", a.x, a.y, b.x, b.y);
        if let Some(arc) = piece.arc {
            let _ = write!(text, ",{:?},{:?},{:?}", arc.centre.x, arc.centre.y, arc.sweep);
        }
        text.push(']');
    }
    text.push(']');
    text
}
