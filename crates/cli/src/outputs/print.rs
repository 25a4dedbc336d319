//! Printed fittings on their beds, the coupons that the printer is set by, and how to print all of it.

use anyhow::Context;
use design::{Design, Role};
use export::expectations::{AssemblyFile, AssemblyItem, MeshFile, mesh_tolerance_mm3};
use export::step::{self, Assembly};
use export::threemf;
use fittings::{COUPONS, Fitting, Kind, PrintNotes, Printer};
use params::{File, Printing};
use study::Part;
use study::parts::CHORD_ERROR_MM;
use study::told::table::{hanging, wrapped};
use units::System;

use super::Output;
use crate::file_name::FileName;
use crate::files::Files;
use crate::printed::thing::{Plate, TIME_STAMP, Thing, plates, prints};
use crate::printed::{Made, words};

/// The mesh of a printed part, its lowest face at height 0.
pub(super) fn of_part(part: &Part<'_>) -> Option<Output> {
    let piece = part.piece;
    piece.role.is_printed().then(|| {
        let fitting = fitting(part);
        (
            "print",
            FileName::of_part(piece),
            "stl",
            format!("{}: print {}, as it lies; mm", piece.name, piece.quantity),
            thing(part, &fitting).stl(),
        )
    })
}

/// What is printed for a sump: its fittings as often as they are wanted, and coupons.
#[derive(Debug)]
pub(super) struct Prints<'a> {
    printer: Printer,
    printing: &'a Printing,
    system: System,
    parts: Vec<(&'a Part<'a>, Fitting)>,
    coupons: Vec<Made>,
    /// Why a coupon could not be made.
    missing: Vec<String>,
}

impl<'a> Prints<'a> {
    /// All that is printed; empty where nothing is.
    pub(super) fn of(file: &'a File, design: &Design, parts: &'a [Part<'a>]) -> Self {
        let printed = parts.iter().filter(|part| part.piece.role.is_printed());
        let mut all = Self {
            printer: design::printer(&file.printing),
            printing: &file.printing,
            system: design.report,
            parts: printed.map(|part| (part, fitting(part))).collect(),
            coupons: Vec::new(),
            missing: Vec::new(),
        };
        if !all.parts.is_empty() {
            all.add_coupons(design);
        }
        all
    }

    /// Each coupon once; those that a sheet slides in for every sheet of a leaf or door.
    fn add_coupons(&mut self, design: &Design) {
        let slides = |role: Role| matches!(role, Role::Leaf | Role::Door);
        let mut sheets: Vec<&str> = design
            .pieces
            .iter()
            .filter(|piece| slides(piece.role))
            .filter_map(|piece| piece.sheet.as_deref())
            .collect();
        sheets.sort_unstable();
        sheets.dedup();
        for kind in COUPONS.iter().filter_map(|coupon| Kind::named(coupon.kind?)) {
            if kind.measures.iter().all(|measure| measure.name != SHEET) {
                self.add_coupon(kind, kind.name.to_owned(), Vec::new());
                continue;
            }
            for sheet in sheets.iter().filter_map(|name| design.sheets.get(*name)) {
                let name = format!("{} {}", kind.name, sheet.name);
                self.add_coupon(kind, name, vec![(SHEET, sheet.band_mm[1])]);
            }
        }
    }

    fn add_coupon(&mut self, kind: &'static Kind, name: String, given: Vec<(&'static str, f64)>) {
        match crate::printed::built(kind, &given, &self.printer) {
            Ok((fitting, solid, mesh)) => {
                let number = format!("c{}", self.coupons.len() + 1);
                let made = Made { kind, given, name, number, count: 1, fitting, solid, mesh };
                self.coupons.push(made);
            }
            Err(error) => self.missing.push(format!("{name} is not there: {error:#}")),
        }
    }

    fn things(&self) -> Vec<Thing<'_>> {
        self.parts.iter().map(|(part, fitting)| thing(part, fitting)).collect()
    }

    fn coupon_things(&self) -> Vec<Thing<'_>> {
        let colour = self.colour();
        self.coupons.iter().map(|made| made.thing("printed", colour)).collect()
    }

    fn colour(&self) -> [u8; 3] {
        let of_parts = self.parts.first().map(|(part, _)| part.piece.look.colour);
        of_parts.unwrap_or_default()
    }

    /// The beds with the fittings, with what is larger than a bed left out.
    fn beds(&self) -> anyhow::Result<(Vec<Plate<'_>>, Vec<Thing<'_>>)> {
        let (fits, too_large): (Vec<_>, Vec<_>) =
            self.things().into_iter().partition(|thing| thing.fits(&self.printer));
        Ok((plates(&fits, &self.printer)?, too_large))
    }

    /// The beds with the coupons.
    fn coupon_beds(&self) -> anyhow::Result<Vec<Plate<'_>>> {
        let fits: Vec<Thing<'_>> =
            self.coupon_things().into_iter().filter(|t| t.fits(&self.printer)).collect();
        plates(&fits, &self.printer)
    }

    /// Adds the beds, the coupons and the list to `print/`.
    ///
    /// # Errors
    /// When a writer refuses.
    pub(super) fn add(&self, files: &mut Files) -> anyhow::Result<()> {
        if self.parts.is_empty() {
            return Ok(());
        }
        let (beds, _) = self.beds()?;
        for (stem, beds) in [(PLATE, beds), (COUPON_PLATE, self.coupon_beds()?)] {
            for (index, bed) in beds.iter().enumerate() {
                let title = format!("{stem} {}", index + 1);
                let bytes = threemf::write(&title, &bed.items)
                    .with_context(|| format!("cannot write `{title}` as 3MF"))?;
                let words = format!("{title}: {}; mm", bed.words());
                files.add("print", &FileName::of(&title, "plate"), "3mf", words, bytes);
            }
        }
        for thing in self.coupon_things() {
            let name = FileName::of(thing.name, "coupon");
            let words = format!("{}: a coupon that the printer is set by; mm", thing.name);
            files.add("print", &name, "stl", words, thing.stl());
            let words = format!("{}: its exact solid", thing.name);
            files.add("print", &name, "step", words, thing.step()?);
        }
        files.add_fixed(
            "print/print-list.txt",
            "what to print, how often and how, and what to mind",
            self.text()?,
        );
        Ok(())
    }

    fn text(&self) -> anyhow::Result<String> {
        let (beds, too_large) = self.beds()?;
        let mut text = "What to print\n\n".to_owned();
        text += &wrapped(&words::printer(&self.printer, self.system));
        text += "\n";
        for (part, fitting) in &self.parts {
            let thing = thing(part, fitting);
            let size = words::size(fitting, self.system);
            let used = words::filament_used(&thing);
            let words = format!(
                "{}: {size}, {}; each takes {used}.",
                thing.name, fitting.print.orientation
            );
            text += &hanging(&format!("{} × {} ", thing.count, thing.number), &words);
            for note in &part.piece.notes {
                text += &hanging("    ", &words::sentence(note));
            }
        }
        for thing in too_large {
            let words = format!("{} is larger than the bed and lies on no plate.", thing.name);
            text += &hanging("- ", &words);
        }
        text += "\nPlates\n";
        for (stem, beds) in [(PLATE, beds), (COUPON_PLATE, self.coupon_beds()?)] {
            for (index, bed) in beds.iter().enumerate() {
                let name = FileName::of(&format!("{stem} {}", index + 1), "plate");
                text += &hanging("- ", &format!("{name}.3mf: {}.", bed.words()));
            }
        }
        for missing in &self.missing {
            text += &hanging("- ", &words::sentence(missing));
        }
        text += "\n";
        Ok(text + &words::how_to_print(design::filament(self.printing)))
    }

    /// What other programs must find in the 3MF of the beds.
    pub(super) fn assemblies(&self) -> Vec<AssemblyFile> {
        let things: Vec<Thing<'_>> =
            self.things().into_iter().chain(self.coupon_things()).collect();
        let file = |threemf: String, bed: &Plate<'_>| {
            let item = |item: &threemf::Item<'_>| {
                let thing = things.iter().find(|thing| thing.number == item.part_number);
                let thing = thing.expect("items are made of things");
                let tolerance = mesh_tolerance_mm3(thing.solid, thing.mesh, CHORD_ERROR_MM);
                AssemblyItem::new(item, thing.solid.volume_mm3(), tolerance)
            };
            AssemblyFile { threemf, items: bed.items.iter().map(item).collect() }
        };
        self.bed_files().iter().map(|(path, bed)| file(path.clone(), bed)).collect()
    }

    /// Paths of the beds, and what is on them.
    fn bed_files(&self) -> Vec<(String, Plate<'_>)> {
        // What cannot be arranged was refused when the files were added.
        let beds = self.beds().map(|(beds, _)| beds).unwrap_or_default();
        let coupons = self.coupon_beds().unwrap_or_default();
        let named = |stem: &'static str, beds: Vec<_>| {
            beds.into_iter().enumerate().map(move |(index, bed)| {
                let name = FileName::of(&format!("{stem} {}", index + 1), "plate");
                (format!("print/{name}.3mf"), bed)
            })
        };
        named(PLATE, beds).chain(named(COUPON_PLATE, coupons)).collect()
    }

    /// What other programs must find in the STEP files of the coupons.
    pub(super) fn solids(&self) -> step::Expectations {
        let things = self.coupon_things();
        let file = |thing: &Thing<'_>| format!("print/{}.step", FileName::of(thing.name, "coupon"));
        let files: Vec<String> = things.iter().map(file).collect();
        let numbers = things.iter().map(|thing| thing.number);
        let numbers_and_files: Vec<(&str, &str)> =
            numbers.zip(files.iter().map(String::as_str)).collect();
        let assembly = Assembly {
            title: "coupons",
            time_stamp: TIME_STAMP,
            products: things.iter().map(Thing::product).collect(),
            instances: Vec::new(),
        };
        step::Expectations::new(&assembly, None, &numbers_and_files, Vec::new())
    }

    /// What other programs must find in the STL of the coupons.
    pub(super) fn meshes(&self) -> Vec<MeshFile> {
        let file = |thing: Thing<'_>| MeshFile {
            name: thing.name.to_owned(),
            stl: format!("print/{}.stl", FileName::of(thing.name, "coupon")),
            volume_mm3: thing.solid.volume_mm3(),
            tolerance_mm3: mesh_tolerance_mm3(thing.solid, thing.mesh, CHORD_ERROR_MM),
            is_for_printing: true,
        };
        self.coupon_things().into_iter().map(file).collect()
    }

    /// What a printer must find.
    pub(super) fn prints(&self) -> serde_json::Value {
        let parts = self.parts.iter().map(|(part, _)| FileName::of_part(part.piece));
        let coupons = self.coupons.iter().map(|made| FileName::of(&made.name, "coupon"));
        let files = parts.chain(coupons).map(|name| format!("print/{name}.stl")).collect();
        let beds = self.bed_files().into_iter().map(|(path, _)| path).collect();
        prints(&self.printer, files, beds)
    }

    /// Whether nothing is printed.
    pub(super) fn is_empty(&self) -> bool {
        self.parts.is_empty()
    }
}

/// The measure of a coupon that a sheet slides in.
const SHEET: &str = "sheet";
/// What files of beds are called, before their number.
const PLATE: &str = "plate";
const COUPON_PLATE: &str = "coupon plate";

/// A part as it lies on the bed: its own frame has the flat face down.
fn fitting(part: &Part<'_>) -> Fitting {
    let [lo, hi] = part.solid.bounds();
    let size = hi - lo;
    let print = PrintNotes {
        orientation: "flat face down, as it lies".to_owned(),
        bed_footprint_mm: [size.x, size.y],
        height_mm: size.z,
    };
    Fitting { shape: part.piece.shape.clone(), print }
}

fn thing<'a>(part: &'a Part<'_>, fitting: &'a Fitting) -> Thing<'a> {
    let piece = part.piece;
    Thing {
        name: &piece.name,
        number: &piece.number,
        material: &piece.material,
        colour: piece.look.colour,
        count: piece.quantity,
        fitting,
        solid: &part.solid,
        mesh: &part.mesh,
    }
}
