//! What to print, how often and how: as the list in the folder, as a table, as data.

use serde_json::{Value, json};
use study::told::table::{Table, hanging, wrapped};

use super::Prints;
use crate::file_name::FileName;
use crate::printed::thing::{Plate, Thing};
use crate::printed::words;

impl Prints<'_> {
    /// `print-list.txt`.
    pub(super) fn text(&self) -> anyhow::Result<String> {
        let mut text = "What to print\n\n".to_owned();
        text += &wrapped(&words::printer(&self.printer, self.system));
        text += "\n";
        for (part, fitting) in &self.parts {
            let thing = super::thing(part, fitting);
            let size = words::size(fitting, self.system);
            let used = words::filament_used(&thing);
            let lies = &fitting.print.orientation;
            let words = format!("{}: {lies}, {size}; each takes {used}.", thing.name);
            text += &hanging(&format!("{} × {} ", thing.count, thing.number), &words);
            let what_for = super::what_for(part.piece);
            text += &hanging("    ", &words::sentence(what_for));
            for note in part.piece.notes.iter().filter(|note| *note != lies && *note != what_for) {
                text += &hanging("    ", &words::sentence(note));
            }
        }
        for thing in self.beds()?.1 {
            let words = format!("{} is larger than the bed and lies on no plate.", thing.name);
            text += &hanging("- ", &words);
        }
        text += "\nPlates\n";
        text += &self.bed_lines()?;
        for missing in &self.missing {
            text += &hanging("- ", &words::sentence(missing));
        }
        text += "\n";
        Ok(text + &words::how_to_print(&self.printer))
    }

    /// Files of the beds and what lies on them.
    fn bed_lines(&self) -> anyhow::Result<String> {
        let line = |(title, bed): &(String, Plate<'_>)| {
            hanging("- ", &format!("{}.3mf: {}.", FileName::of(title, "plate"), bed.words()))
        };
        Ok(self.titled_beds()?.iter().map(line).collect())
    }

    /// A line for each, and what lies on which plate, for a terminal.
    pub(crate) fn table(&self) -> anyhow::Result<String> {
        let beds = self.titled_beds()?;
        let things: Vec<Thing<'_>> = self.named().into_iter().map(|(thing, _)| thing).collect();
        let filament = design::filament(self.printing).name();
        let head = ["", "to print", "count", "size", "each takes", "plate", "lies"];
        let mut table = Table::new(format!("To print in {filament}"), head);
        for thing in &things {
            let plates = plates_of(thing, &beds);
            table.rows.push(vec![
                thing.number.to_owned(),
                thing.name.to_owned(),
                thing.count.to_string(),
                words::size(thing.fitting, self.system),
                format!("{:.1} cm³", thing.solid.volume_mm3() * 1e-3),
                if plates.is_empty() { "none".to_owned() } else { plates.join(", ") },
                thing.fitting.print.orientation.clone(),
            ]);
        }
        let count: usize = things.iter().map(|thing| thing.count).sum();
        let mm3 =
            |thing: &Thing<'_>| (0..thing.count).map(|_| thing.solid.volume_mm3()).sum::<f64>();
        let all = words::filament_of(things.iter().map(mm3).sum());
        table.notes.push(format!("{count} pieces in all take {all}."));
        table.notes.extend(
            self.beds()?.1.iter().map(|thing| {
                format!("{} is larger than the bed and lies on no plate.", thing.name)
            }),
        );
        if !self.coupons.is_empty() {
            let words = "Coupons come first: they find the numbers of your printer, as `print-list.txt` in the folder tells.";
            table.notes.push(words.to_owned());
        }
        table.notes.extend(self.missing.iter().map(|line| words::sentence(line)));
        table.notes.push(words::printer(&self.printer, self.system));
        let lines = self.bed_lines()?;
        Ok(format!("{}\nPlates\n{lines}", table.text_in_width()))
    }

    /// The same as data; lengths in mm.
    pub(crate) fn to_json(&self) -> anyhow::Result<Value> {
        let beds = self.titled_beds()?;
        let one = |thing: &Thing<'_>| {
            let [x, y] = thing.fitting.print.bed_footprint_mm;
            json!({
                "number": thing.number,
                "name": thing.name,
                "count": thing.count,
                "orientation": thing.fitting.print.orientation,
                "size_mm": [x, y, thing.fitting.print.height_mm],
                "volume_mm3": thing.solid.volume_mm3(),
                "plates": plates_of(thing, &beds),
            })
        };
        let notes = self.parts.iter().map(|(part, _)| &part.piece.notes);
        let things = self.things();
        let parts = things.iter().zip(notes).map(|(thing, notes)| {
            let mut value = one(thing);
            value["notes"] = json!(notes);
            value
        });
        let plate = |(title, bed): &(String, Plate<'_>)| {
            let holds =
                bed.counts.iter().map(|(name, count)| json!({"name": name, "count": count}));
            json!({
                "file": format!("{}.3mf", FileName::of(title, "plate")),
                "holds": holds.collect::<Vec<_>>(),
            })
        };
        Ok(json!({
            "filament": design::filament(self.printing).name(),
            "fittings": parts.collect::<Vec<_>>(),
            "coupons": self.coupon_things().iter().map(one).collect::<Vec<_>>(),
            "plates": beds.iter().map(plate).collect::<Vec<_>>(),
            "missing": self.missing,
        }))
    }
}

/// Numbers of the plates that it lies on: `1`, of a coupon `coupon 1`.
fn plates_of(thing: &Thing<'_>, beds: &[(String, Plate<'_>)]) -> Vec<String> {
    let holds = |bed: &Plate<'_>| bed.items.iter().any(|item| item.part_number == thing.number);
    let on = beds.iter().filter(|(_, bed)| holds(bed));
    on.map(|(title, _)| title.replace("plate ", "")).collect()
}
