//! The design while it is being put together: parts that can still get cuts, joints between them.

use std::collections::BTreeMap;

use findings::Finding;
use fittings::PrintNotes;
use glam::{DAffine3, DVec3};
use params::File;
use plate::{Cut, Engraving, Plate, Shape};
use units::Length;

use crate::frame::{Host, side_words};
use crate::model::{Joint, JointKind, Loose, Role, Sheet};
use crate::removables::LeafSlot;
use crate::sheets::sheets;

/// Index of a part among [`Builder::drafts`].
pub(crate) type DraftId = usize;

/// One part in its place, still open to further cuts.
#[derive(Clone, Debug)]
pub(crate) struct Draft {
    pub(crate) name: String,
    /// Name shared by alike parts: `guide strip`.
    pub(crate) piece: String,
    pub(crate) parameter: String,
    pub(crate) role: Role,
    pub(crate) shape: Shape,
    pub(crate) sheet: Option<String>,
    pub(crate) pose: DAffine3,
    pub(crate) loose: Option<Loose>,
    pub(crate) service: Vec<[DVec3; 2]>,
    pub(crate) is_spare: bool,
    /// Whether it has no place at all: a jig, a fitting in store.
    pub(crate) is_only_made: bool,
    /// How many are made: one, but for what is only made.
    pub(crate) count: usize,
    /// For what is fixed to another part and moves with it: the leaf of a door, the shelf of a sock ring,
    /// the main body of equipment.
    pub(crate) part_of: Option<DraftId>,
    /// For a clip that holds by being bent open: the sheet that it grips, whose room its legs take as they are printed.
    pub(crate) grips: Option<DraftId>,
    /// For a spare: the part that stands in its place.
    pub(crate) spare_for: Option<DraftId>,
    /// For a leaf: where it stands, or would.
    pub(crate) slot: Option<LeafSlot>,
    /// For a leaf, and its door with screws and knobs: the leaf's name in the file.
    pub(crate) leaf: Option<String>,
    /// The parameter of each engraving of the shape.
    pub(crate) engraved_by: Vec<String>,
    pub(crate) notes: Vec<String>,
    /// For what is printed: how it lies on the bed, and what it mates.
    pub(crate) print: Option<PrintNotes>,
    /// Of what is bought; sheet and printed parts look like their material.
    pub(crate) colour: [u8; 3],
}

/// Colour of what is bought and has none of its own.
const GREY: [u8; 3] = [120, 120, 124];

impl Draft {
    /// A part without service room, glued in.
    pub(crate) fn new(
        role: Role,
        name: impl Into<String>,
        parameter: impl Into<String>,
        shape: Shape,
    ) -> Self {
        let name = name.into();
        Self {
            piece: name.clone(),
            name,
            parameter: parameter.into(),
            role,
            shape,
            sheet: None,
            pose: DAffine3::IDENTITY,
            loose: None,
            service: Vec::new(),
            is_spare: false,
            is_only_made: false,
            count: 1,
            part_of: None,
            grips: None,
            spare_for: None,
            slot: None,
            leaf: None,
            engraved_by: Vec::new(),
            notes: Vec::new(),
            print: None,
            colour: GREY,
        }
    }

    pub(crate) fn piece(mut self, piece: impl Into<String>) -> Self {
        self.piece = piece.into();
        self
    }

    pub(crate) fn sheet(mut self, sheet: &Sheet) -> Self {
        self.sheet = Some(sheet.name.clone());
        self
    }

    pub(crate) fn pose(mut self, pose: DAffine3) -> Self {
        self.pose = pose;
        self
    }

    pub(crate) fn note(mut self, note: impl Into<String>) -> Self {
        self.notes.push(note.into());
        self
    }

    /// How it is printed; how it lies is also a note.
    pub(crate) fn printed(mut self, print: PrintNotes) -> Self {
        let how = print.orientation.clone();
        self.print = Some(print);
        self.note(how)
    }

    pub(crate) fn colour(mut self, colour: [u8; 3]) -> Self {
        self.colour = colour;
        self
    }

    pub(crate) fn lifts(mut self, lift_mm: f64) -> Self {
        self.loose = Some(Loose { lift_mm });
        self
    }
}

/// Collects parts, joints and findings.
#[derive(Debug)]
pub(crate) struct Builder<'f> {
    pub(crate) file: &'f File,
    pub(crate) sheets: BTreeMap<String, Sheet>,
    pub(crate) drafts: Vec<Draft>,
    pub(crate) joints: Vec<Joint>,
    pub(crate) findings: Vec<Finding>,
}

impl<'f> Builder<'f> {
    pub(crate) fn new(file: &'f File) -> Self {
        Self {
            file,
            sheets: sheets(file),
            drafts: Vec::new(),
            joints: Vec::new(),
            findings: Vec::new(),
        }
    }

    /// The sheet of a part: its own, else the box's.
    pub(crate) fn sheet(&self, own: Option<&String>) -> Sheet {
        let name = own.unwrap_or(&self.file.enclosure.sheet);
        self.sheets.get(name).cloned().expect("names of sheets were checked when the file was read")
    }

    /// Radius of inner corners of a part cut from this sheet.
    pub(crate) fn inner_corner_mm(&self, sheet: &Sheet) -> f64 {
        let tool = 0.5 * self.file.cutting_of(Some(&sheet.name)).cut_width().to_mm();
        self.file.cutting.inner_corner.map_or(sheet.nominal_mm, Length::to_mm).max(tool)
    }

    /// Adds a part. A name that is taken gets a number.
    pub(crate) fn add(&mut self, mut draft: Draft) -> DraftId {
        draft.name = untaken(&draft.name, |name| self.drafts.iter().any(|d| d.name == name));
        self.drafts.push(draft);
        self.drafts.len() - 1
    }

    pub(crate) fn plate_mut(&mut self, id: DraftId) -> &mut Plate {
        match &mut self.drafts[id].shape {
            Shape::Sheet(plate) => plate,
            Shape::Turned(_) => unreachable!("cuts are made in sheet only"),
        }
    }

    /// Cuts a part on the face that looks into the sump at `host`.
    pub(crate) fn cut(&mut self, host: &Host, cut: Cut) {
        self.plate_mut(host.draft).cuts.push(cut);
    }

    pub(crate) fn engrave(&mut self, id: DraftId, engraving: Engraving, parameter: &str) {
        self.plate_mut(id).engravings.push(engraving);
        self.drafts[id].engraved_by.push(parameter.to_owned());
    }

    /// Glues `a` to `b`; `out` is the direction from `a` to `b` in the sump.
    pub(crate) fn glue(
        &mut self,
        kind: JointKind,
        (a, b): (DraftId, DraftId),
        out: DVec3,
        length_mm: f64,
        width_mm: f64,
    ) {
        let enters = match kind {
            JointKind::Rabbet => "step in ",
            JointKind::Dado => "groove in ",
            _ => "",
        };
        let faces = [
            side_words(&self.drafts[a].pose, out).to_owned(),
            format!("{enters}{}", side_words(&self.drafts[b].pose, -out)),
        ];
        self.joints.push(Joint { a, b, kind, length_mm, width_mm, faces });
    }

    /// Two parts touch without being glued.
    pub(crate) fn touch(&mut self, kind: JointKind, a: DraftId, b: DraftId) {
        self.joints.push(Joint {
            a,
            b,
            kind,
            length_mm: 0.0,
            width_mm: 0.0,
            faces: [String::new(), String::new()],
        });
    }

    /// A length in the units that the maker wants reports in.
    pub(crate) fn show(&self, mm: f64) -> String {
        Length::mm(mm).show(self.file.report.system())
    }

    pub(crate) fn find(&mut self, finding: Finding) {
        self.findings.push(finding);
    }
}

/// The name, or if it is taken the name with the least number from 2 on that makes it another.
pub(crate) fn untaken(name: &str, is_taken: impl Fn(&str) -> bool) -> String {
    let numbered = (2..).map(|n| format!("{name} {n}"));
    std::iter::once(name.to_owned())
        .chain(numbered)
        .find(|name| !is_taken(name))
        .expect("numbers do not end")
}
