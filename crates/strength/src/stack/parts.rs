//! What makes gaps vary, by the file.

use design::tolerance::{Grown, Tolerances};
use design::{Design, Placed, PlacedId, Role, Sheet};
use glam::DVec3;
use params::File;

use super::bent::Bent;
use super::{Cause, Part};
use crate::panel::Panel;

/// The causes of all variation, and what they act on.
pub(super) struct Causes<'a> {
    pub(super) file: &'a File,
    pub(super) design: &'a Design,
    panels: &'a [Panel],
    /// By the file; the same that the design leaves room for.
    tolerances: Tolerances<'a>,
}

impl<'a> Causes<'a> {
    pub(super) fn of(file: &'a File, design: &'a Design, panels: &'a [Panel]) -> Self {
        Self { file, design, panels, tolerances: Tolerances::of(file) }
    }

    /// The sheet of a placed part or a spare.
    pub(super) fn sheet(&self, placed: &Placed) -> Option<&'a Sheet> {
        self.design.sheets.get(self.design.pieces[placed.piece].sheet.as_ref()?)
    }

    /// A cut edge of a placed part.
    pub(super) fn cut(&self, part: PlacedId, words: &str) -> Part {
        even(words, self.cut_mm(part))
    }

    /// A cut edge of a part of this sheet.
    pub(super) fn cut_from(&self, sheet: &Sheet, words: &str) -> Part {
        even(words, self.tolerances.cut_mm(Some(&sheet.name)))
    }

    /// How far a cut edge of a placed part may lie from where it is drawn, mm.
    pub(super) fn cut_mm(&self, part: PlacedId) -> f64 {
        self.tolerances.cut_mm(self.design.pieces[self.design.placed[part].piece].sheet.as_deref())
    }

    /// A part glued in its place.
    pub(super) fn glued(&self, words: &str) -> Part {
        even(words, self.tolerances.assembly_mm)
    }

    /// A printed face.
    pub(super) fn printed(&self, words: &str) -> Part {
        even(words, self.tolerances.printed_mm)
    }

    /// A width between two printed faces: a line that is laid too wide takes from it on both sides.
    pub(super) fn printed_width(&self, words: &str) -> Part {
        even(words, self.tolerances.printed_width_mm())
    }

    /// The thickness of a sheet in a gap that it takes from (`times` -1) or adds to (1). All of it comes from one sheet.
    pub(super) fn thickness(&self, sheet: &Sheet, drawn_mm: f64, times: f64) -> Part {
        let off = sheet.band_mm.map(|t| times * (t - drawn_mm));
        Part {
            words: format!("thickness of sheet {}", sheet.name),
            mm: [off[0].min(off[1]), off[0].max(off[1])],
            cause: Cause::OneChance,
        }
    }

    /// What water and warmth make of a length of a wet part between walls of the box, in a gap that it takes from
    /// (`times` -1) or adds to (1). Water comes in time: at first nothing, in the end all of it, and the box may come later.
    pub(super) fn growth(&self, sheet: &Sheet, length_mm: f64, times: f64) -> [Part; 2] {
        grown(self.tolerances.between_walls(sheet.material), length_mm, times)
    }

    /// What water and warmth make of a length of a part that nothing grows along with.
    pub(super) fn growth_alone(&self, sheet: &Sheet, length_mm: f64, times: f64) -> [Part; 2] {
        grown(self.tolerances.alone(sheet.material), length_mm, times)
    }

    /// What a box that is wet already takes from the hold of a part of this length that comes in dry: a spare, or what lay
    /// outside for weeks.
    pub(super) fn swollen_box(&self, length_mm: f64) -> Part {
        let water_mm = self.tolerances.of_box().water * length_mm;
        certain("the box swollen by water around a dry part", [-water_mm, 0.0])
    }

    /// What water and warmth make of the box, which is wet on one face, in a gap that it takes from.
    pub(super) fn growth_of_box(&self, length_mm: f64) -> [Part; 2] {
        grown(self.tolerances.of_box(), length_mm, -1.0)
    }

    /// How a placed part bends under loads that last, or under the worst of all; `None` where that is not known.
    pub(super) fn bent(&self, placed: PlacedId, lasts: bool) -> Option<Bent<'a>> {
        Bent::of(self.panels, placed, lasts)
    }

    /// How far parts bulge away from what stands between them, each along its line in the sump's frame: what this takes
    /// from a gap. `None` where no bulge is known.
    pub(super) fn bulge(&self, along: &[Along], lasts: bool) -> Option<Part> {
        let of = |&(host, line): &Along| {
            let placed = &self.design.placed[host?];
            let is_wall = self.design.pieces[placed.piece].role == Role::Wall;
            let bent = self.bent(host?, lasts)?;
            let to_host = placed.pose.inverse();
            let line = line.map(|point| to_host.transform_point3(point).truncate());
            Some(bent.most_along(line, is_wall))
        };
        let known: Vec<f64> = along.iter().filter_map(of).collect();
        let part = certain("bulge of the walls under water", [-known.iter().sum::<f64>(), 0.0]);
        (!known.is_empty()).then_some(part)
    }
}

/// A part, and a line along it in the sump's frame.
pub(super) type Along = (Option<PlacedId>, [DVec3; 2]);

fn grown(grown: Grown, length_mm: f64, times: f64) -> [Part; 2] {
    let by_water = times * grown.water * length_mm;
    let by_warmth = grown.warmth.map(|share| times * share * length_mm);
    [
        certain("swelling by water", [by_water.min(0.0), by_water.max(0.0)]),
        one_cause("warmth", [by_warmth[0].min(by_warmth[1]), by_warmth[0].max(by_warmth[1])]),
    ]
}

/// The same to both sides.
fn even(words: &str, mm: f64) -> Part {
    Part { words: words.to_owned(), mm: [-mm, mm], cause: Cause::Chance }
}

/// A part that has one cause wherever it acts in a stack.
pub(super) fn one_cause(words: &str, mm: [f64; 2]) -> Part {
    Part { words: words.to_owned(), mm, cause: Cause::OneChance }
}

/// A part that comes with water and years, and then wholly.
pub(super) fn certain(words: &str, mm: [f64; 2]) -> Part {
    Part { words: words.to_owned(), mm, cause: Cause::Certain }
}
