//! Whether what is printed can be glued to its sheet, and with what.

use std::collections::BTreeSet;

use findings::Finding;
use fittings::{Glue, SheetPlastic};
use params::{Material, listed};

use super::filament;
use crate::draft::{Builder, DraftId};
use crate::model::JointKind;

/// What a sheet of this material is to glue.
fn sheet_plastic(material: Material) -> SheetPlastic {
    match material {
        Material::CastAcrylic | Material::ExtrudedAcrylic => SheetPlastic::Acrylic,
        Material::Pvc => SheetPlastic::Pvc,
        Material::Polycarbonate => SheetPlastic::Polycarbonate,
    }
}

/// How the file's filament is glued to a sheet.
fn glue(b: &Builder<'_>, sheet: Option<&String>) -> Glue {
    filament(&b.file.printing).glue(sheet_plastic(b.sheet(sheet).material))
}

/// What a maker is told of a printed part that is glued to a sheet.
pub(crate) fn note(b: &Builder<'_>, sheet: Option<&String>) -> String {
    glue(b, sheet).words()
}

/// Printed parts that are glued, of a filament on which no glue holds: one finding for all of them.
pub(super) fn check(b: &Builder<'_>) -> Option<Finding> {
    let is_bonded = |kind: JointKind| kind.is_glued() || kind == JointKind::Stuck;
    let glued = b.joints.iter().filter(|joint| is_bonded(joint.kind));
    let pairs = glued.flat_map(|joint| [(joint.a, joint.b), (joint.b, joint.a)]);
    let is_printed = |id: DraftId| b.drafts[id].role.is_printed();
    let printed = pairs.filter(|&(part, host)| is_printed(part) && !is_printed(host));
    let all = printed.map(|(part, host)| (part, glue(b, b.drafts[host].sheet.as_ref())));
    let loose: Vec<(DraftId, Glue)> =
        all.filter(|(_, glue)| !matches!(glue, Glue::Takes(_))).collect();
    let (_, glue) = *loose.first()?;
    let names: BTreeSet<&str> = loose.iter().map(|(id, _)| b.drafts[*id].name.as_str()).collect();
    let names = listed(names, "and");
    let filament = filament(&b.file.printing).name();
    const PARAMETER: &str = "printing.filament";
    const CODE: &str = "filament-not-glued";
    let message = |why: &str| format!("{names} would be glued, printed in {filament}: {why}");
    let finding = match glue {
        Glue::Takes(_) => return None,
        Glue::Loosens(why) => {
            Finding::tight(CODE, PARAMETER, message(why.words)).with_source(why.source)
        }
        Glue::Never(why) => {
            Finding::fails(CODE, PARAMETER, message(why.words)).with_source(why.source)
        }
    };
    Some(finding.with_hint(
        "print what is glued in PETG or ASA; or take for a lift-out leaf `guide = \"groove\"` or `\"strips\"`, and fittings that are \
         hung, pressed or screwed",
    ))
}
