//! Printed things as solids, meshes and files.

use anyhow::Context;
use export::step::{Assembly, Product};
use export::{step, stl, threemf};
use fittings::{BedError, Fitting, MOST_OVERHANG_DEG, OnBed, Printer, USUAL_GAP_MM, arranged};
use glam::{DAffine3, DVec3};
use serde_json::json;
use solid::{Mesh, Solid};

use crate::file_name::FileName;
use crate::files::Files;

/// STEP files carry a time. A true one would make equal things differ, so it is always this.
pub(crate) const TIME_STAMP: &str = "2000-01-01T00:00:00";

/// One thing to print, so many times.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Thing<'a> {
    /// What it is called.
    pub(crate) name: &'a str,
    /// Its number in a list.
    pub(crate) number: &'a str,
    /// What it is printed in, in words.
    pub(crate) material: &'a str,
    /// Colour of that: red, green, blue (sRGB).
    pub(crate) colour: [u8; 3],
    /// How many are wanted.
    pub(crate) count: usize,
    /// As it lies on the bed.
    pub(crate) fitting: &'a Fitting,
    /// Exact.
    pub(crate) solid: &'a Solid,
    /// Near to it.
    pub(crate) mesh: &'a Mesh,
}

impl<'a> Thing<'a> {
    /// Its least corner at the origin: flat face on the bed.
    fn on_bed(&self) -> DAffine3 {
        DAffine3::from_translation(-self.solid.bounds()[0])
    }

    /// Whether it lies on the bed, as it is or turned by 90°.
    pub(crate) fn fits(&self, printer: &Printer) -> bool {
        arranged(std::slice::from_ref(self.fitting), printer, 0.0).is_ok()
    }

    /// Its exact solid as a file.
    pub(crate) fn step(&self) -> anyhow::Result<Vec<u8>> {
        let assembly = Assembly {
            title: self.name,
            time_stamp: TIME_STAMP,
            products: vec![self.product()],
            instances: Vec::new(),
        };
        let text = step::write(&assembly)
            .with_context(|| format!("cannot write `{}` as STEP", self.name))?;
        Ok(text.into_bytes())
    }

    /// What its STEP file holds.
    pub(crate) fn product(&self) -> Product<'a> {
        Product { name: self.name, colour: self.colour, solid: self.solid }
    }

    /// Its mesh as a file, lying on the bed.
    pub(crate) fn stl(&self) -> Vec<u8> {
        stl::write_in_pose(self.mesh, self.name, &self.on_bed())
    }

    /// Adds its exact solid, its mesh as it lies, and the same with name, unit and colour.
    ///
    /// # Errors
    /// When a writer refuses.
    pub(crate) fn add_to(
        &self,
        files: &mut Files,
        folder: &'static str,
        name: &FileName,
    ) -> anyhow::Result<()> {
        files.add(folder, name, "step", format!("{}: exact solid", self.name), self.step()?);
        files.add(folder, name, "stl", format!("{}: mesh, in mm", self.name), self.stl());
        let words = format!("{}: mesh with name, unit and colour", self.name);
        files.add(folder, name, "3mf", words, threemf_of(self.name, &[self.alone()])?);
        Ok(())
    }

    /// One of it at a place.
    fn item(&self, pose: DAffine3) -> threemf::Item<'a> {
        threemf::Item {
            name: self.name,
            part_number: self.number,
            material: self.material,
            colour: self.colour,
            mesh: self.mesh,
            pose,
        }
    }

    /// One of it in the corner of the bed.
    pub(crate) fn alone(&self) -> threemf::Item<'a> {
        self.item(self.on_bed())
    }

    /// One of it where the arrangement puts it.
    fn placed(&self, place: &OnBed) -> threemf::Item<'a> {
        let [x, y] = place.at_mm;
        let at = DAffine3::from_translation(DVec3::new(x, y, 0.0));
        let turn = if place.is_turned {
            // A quarter turn to the left swings it over the edge of the bed, from where it is pushed back.
            let width = self.fitting.print.bed_footprint_mm[1];
            let quarter = DAffine3::from_rotation_z(std::f64::consts::FRAC_PI_2);
            DAffine3::from_translation(DVec3::new(width, 0.0, 0.0)) * quarter
        } else {
            DAffine3::IDENTITY
        };
        self.item(at * turn * self.on_bed())
    }
}

/// One filling of the bed.
#[derive(Debug)]
pub(crate) struct Plate<'a> {
    /// What lies on it.
    pub(crate) items: Vec<threemf::Item<'a>>,
    /// How many of which thing: its name and the number.
    pub(crate) counts: Vec<(&'a str, usize)>,
}

impl Plate<'_> {
    /// All that lies on it, as a file.
    ///
    /// # Errors
    /// When the writer refuses.
    pub(crate) fn threemf(&self, title: &str) -> anyhow::Result<Vec<u8>> {
        threemf_of(title, &self.items)
    }

    /// What lies on it: `4 pipe-clip, 1 door-stop`.
    pub(crate) fn words(&self) -> String {
        let counts = self.counts.iter().map(|(name, count)| format!("{count} × {name}"));
        counts.collect::<Vec<_>>().join(", ")
    }
}

fn threemf_of(title: &str, items: &[threemf::Item<'_>]) -> anyhow::Result<Vec<u8>> {
    threemf::write(title, items).with_context(|| format!("cannot write `{title}` as 3MF"))
}

/// What holds for the printer that all is made for, and the files that it must hold for: `checks/fittings.json`.
pub(crate) fn prints(
    printer: &Printer,
    fittings: Vec<String>,
    plates: Vec<String>,
) -> serde_json::Value {
    json!({
        "nozzle_mm": printer.nozzle_mm,
        "layer_mm": printer.layer_mm,
        "foot_mm": printer.foot_mm,
        "bed_mm": printer.bed_mm,
        "gap_mm": USUAL_GAP_MM,
        "most_overhang_deg": MOST_OVERHANG_DEG,
        "least_wall_mm": printer.least_wall_mm(),
        "fittings": fittings,
        "plates": plates,
    })
}

/// Why a thing cannot be printed, and what to do.
fn too_large(name: &str, [x, y, z]: [f64; 3], [bed_x, bed_y, bed_z]: [f64; 3]) -> anyhow::Error {
    let wider = |mm: f64, bed: f64| mm.max(bed).ceil();
    anyhow::anyhow!(
        "`{name}` does not fit onto the bed: it takes {x:.1} × {y:.1} mm and is {z:.1} mm high, as it lies or turned by 90°; the printer has \
         {bed_x} × {bed_y} × {bed_z} mm; make it smaller, or print it on a larger printer: `--bed {}x{}x{}`",
        wider(x.max(y), bed_x),
        wider(x.min(y), bed_y),
        wider(z, bed_z)
    )
}

/// All things on as few plates as are found.
///
/// # Errors
/// When one is larger than the bed.
pub(crate) fn plates<'a>(
    things: &[Thing<'a>],
    printer: &Printer,
) -> anyhow::Result<Vec<Plate<'a>>> {
    let each: Vec<usize> = things
        .iter()
        .enumerate()
        .flat_map(|(index, thing)| std::iter::repeat_n(index, thing.count))
        .collect();
    let fittings: Vec<Fitting> = each.iter().map(|&k| things[k].fitting.clone()).collect();
    let places = arranged(&fittings, printer, USUAL_GAP_MM).map_err(|error| match &error {
        BedError::TooLarge { fitting, size_mm, bed_mm } => {
            too_large(things[each[*fitting]].name, *size_mm, *bed_mm)
        }
        _ => anyhow::Error::new(error).context("cannot arrange the fittings on the bed"),
    })?;
    let count = places.iter().map(|place| place.plate + 1).max().unwrap_or(0);
    let mut plates: Vec<Plate<'_>> =
        (0..count).map(|_| Plate { items: Vec::new(), counts: Vec::new() }).collect();
    for place in &places {
        let index = each[place.fitting];
        let plate = &mut plates[place.plate];
        plate.items.push(things[index].placed(place));
        let name = things[index].name;
        match plate.counts.iter_mut().find(|(other, _)| *other == name) {
            Some((_, count)) => *count += 1,
            None => plate.counts.push((name, 1)),
        }
    }
    Ok(plates)
}
