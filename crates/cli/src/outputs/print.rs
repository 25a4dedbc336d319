//! Printed fittings on their beds, the coupons that the printer is set by, and how to print all of it.

mod expected;
mod list;

use design::{Design, Piece, Role};
use fittings::{COUPONS, Fitting, Kind, PrintNotes, Printer};
use params::{File, Printing};
use study::Part;
use study::in_flow::name_hint;
use units::System;

use super::Output;
use crate::file_name::FileName;
use crate::files::Files;
use crate::printed::Made;
use crate::printed::thing::{Plate, Thing, plates};

/// The folder of all that is printed, beside the other files of a sump.
pub(super) const BESIDE: &str = "print";

/// The mesh of a printed part, its lowest face at height 0.
pub(super) fn of_part(part: &Part<'_>) -> Option<Output> {
    let piece = part.piece;
    piece.role.is_printed().then(|| {
        let fitting = fitting(part);
        (
            BESIDE,
            FileName::of_part(piece),
            "stl",
            format!("{}: print {}, as it lies; mm", piece.name, piece.quantity),
            thing(part, &fitting).stl(),
        )
    })
}

/// What is printed for a sump: its fittings as often as they are wanted, and coupons.
#[derive(Debug)]
pub(crate) struct Prints<'a> {
    /// Where its files stand in theirs.
    folder: &'static str,
    printer: Printer,
    printing: &'a Printing,
    system: System,
    parts: Vec<(&'a Part<'a>, Fitting)>,
    coupons: Vec<Made>,
    colour: [u8; 3],
    /// Why a coupon could not be made.
    missing: Vec<String>,
}

impl<'a> Prints<'a> {
    /// All that is printed, for a folder; empty where nothing is.
    pub(crate) fn of(
        file: &'a File,
        design: &Design,
        parts: &'a [Part<'a>],
        folder: &'static str,
    ) -> Self {
        let printed = parts.iter().filter(|part| part.piece.role.is_printed());
        let parts: Vec<_> = printed.map(|part| (part, fitting(part))).collect();
        let mut all = Self {
            folder,
            printer: design::printer(&file.printing),
            printing: &file.printing,
            system: design.report,
            colour: parts.first().map(|(part, _)| part.piece.look.colour).unwrap_or_default(),
            parts,
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

    /// Keeps those of these names, or of names that make the same file name; of coupons too.
    ///
    /// # Errors
    /// When nothing has one of the names.
    pub(crate) fn keep_only(&mut self, names: &[String]) -> anyhow::Result<()> {
        let plain = |name: &str| FileName::of(name, "").to_string();
        let is = |asked: &String, name: &str| {
            let plain_name = plain(name);
            asked == name || (!plain_name.is_empty() && plain(asked) == plain_name)
        };
        let coupons = self.coupons.iter().map(|made| &made.name);
        let known: Vec<String> =
            self.parts.iter().map(|(part, _)| &part.piece.name).chain(coupons).cloned().collect();
        for asked in names {
            if !known.iter().any(|name| is(asked, name)) {
                anyhow::bail!(
                    "nothing called `{asked}` is printed for this sump; {}",
                    name_hint(asked, &known)
                );
            }
        }
        let is_wanted = |name: &str| names.iter().any(|asked| is(asked, name));
        self.parts.retain(|(part, _)| is_wanted(&part.piece.name));
        self.coupons.retain(|made| is_wanted(&made.name));
        self.missing.clear();
        Ok(())
    }

    /// The fittings, without the coupons.
    fn things(&self) -> Vec<Thing<'_>> {
        self.parts.iter().map(|(part, fitting)| thing(part, fitting)).collect()
    }

    fn coupon_things(&self) -> Vec<Thing<'_>> {
        self.coupons.iter().map(|made| made.thing("printed", self.colour)).collect()
    }

    /// Every thing with the name of its files.
    fn named(&self) -> Vec<(Thing<'_>, FileName)> {
        let name = |(part, _): &(&Part<'_>, Fitting)| FileName::of_part(part.piece);
        let parts = self.things().into_iter().zip(self.parts.iter().map(name));
        parts.chain(self.coupons_named()).collect()
    }

    fn coupons_named(&self) -> Vec<(Thing<'_>, FileName)> {
        let things = self.coupon_things().into_iter();
        things.map(|thing| (thing, FileName::of(thing.name, "coupon"))).collect()
    }

    /// Every thing with what it is for, and whether it is a tool, no part of the sump.
    pub(crate) fn shown(&self) -> Vec<(Thing<'_>, &str, bool)> {
        let parts = self.parts.iter().map(|(part, fitting)| {
            let is_tool = part.piece.role == Role::Jig;
            (thing(part, fitting), what_for(part.piece), is_tool)
        });
        let things = self.coupon_things();
        let coupons = self.coupons.iter().map(|made| made.kind.what_for);
        parts
            .chain(things.into_iter().zip(coupons).map(|(thing, what)| (thing, what, true)))
            .collect()
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

    /// All beds, those of the coupons last, with what each is called.
    fn titled_beds(&self) -> anyhow::Result<Vec<(String, Plate<'_>)>> {
        let titled = |stem: &'static str, beds: Vec<_>| {
            beds.into_iter().enumerate().map(move |(k, bed)| (format!("{stem} {}", k + 1), bed))
        };
        let (beds, coupons) = (self.beds()?.0, self.coupon_beds()?);
        Ok(titled(PLATE, beds).chain(titled(COUPON_PLATE, coupons)).collect())
    }

    /// Adds the beds, the coupons and the list.
    ///
    /// # Errors
    /// When a writer refuses.
    pub(super) fn add(&self, files: &mut Files) -> anyhow::Result<()> {
        if self.is_empty() {
            return Ok(());
        }
        for (thing, name) in self.coupons_named() {
            let words = format!("{}: a coupon that the printer is set by; mm", thing.name);
            files.add(self.folder, &name, "stl", words, thing.stl());
            let words = format!("{}: its exact solid", thing.name);
            files.add(self.folder, &name, "step", words, thing.step()?);
        }
        self.add_beds_and_list(files)
    }

    /// Adds every thing alone, the beds and the list: all that is printed, without the rest of the sump.
    ///
    /// # Errors
    /// When a writer refuses.
    pub(crate) fn add_alone(&self, files: &mut Files) -> anyhow::Result<()> {
        for (thing, name) in self.named() {
            thing.add_to(files, self.folder, &name)?;
        }
        self.add_beds_and_list(files)
    }

    fn add_beds_and_list(&self, files: &mut Files) -> anyhow::Result<()> {
        for (title, bed) in self.titled_beds()? {
            let words = format!("{title}: {}; mm", bed.words());
            files.add(
                self.folder,
                &FileName::of(&title, "plate"),
                "3mf",
                words,
                bed.threemf(&title)?,
            );
        }
        let words = "what to print, how often and how, and what to mind";
        files.add(self.folder, &FileName::of("print-list", ""), "txt", words, self.text()?);
        Ok(())
    }

    /// Path of a file.
    fn path(&self, name: &FileName, extension: &str) -> String {
        let slash = if self.folder.is_empty() { "" } else { "/" };
        format!("{}{slash}{name}.{extension}", self.folder)
    }

    /// Whether nothing is printed.
    pub(crate) fn is_empty(&self) -> bool {
        self.parts.is_empty() && self.coupons.is_empty()
    }
}

/// The measure of a coupon that a sheet slides in.
const SHEET: &str = "sheet";
/// What files of beds are called, before their number.
const PLATE: &str = "plate";
const COUPON_PLATE: &str = "coupon plate";

/// What a printed piece is for.
fn what_for(piece: &Piece) -> &str {
    let kind = match piece.role {
        Role::GuideChannel => "guide-channel",
        Role::SockRing => "sock-ring",
        Role::Knob => "door-knob",
        // What the file asks for by its kind says so first.
        _ => return piece.notes.first().map_or("", String::as_str),
    };
    Kind::named(kind).map_or(piece.role.words(), |kind| kind.what_for)
}

/// A part as it lies on the bed: its own frame has the flat face down.
fn fitting(part: &Part<'_>) -> Fitting {
    let [lo, hi] = part.solid.bounds();
    let size = hi - lo;
    let told = part.piece.print.as_ref();
    let orientation = told.map_or("flat face down, as it lies", |print| &print.orientation);
    let print = PrintNotes {
        orientation: orientation.to_owned(),
        bed_footprint_mm: [size.x, size.y],
        height_mm: size.z,
        mates: told.map_or_else(Vec::new, |print| print.mates.clone()),
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
