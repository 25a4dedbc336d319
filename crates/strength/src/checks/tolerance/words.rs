//! What is said of each kind of fit.

use std::borrow::Cow;

use design::tolerance::shown_up;
use params::{File, GuideKind};

use super::SAME_MM;
use crate::stack::{Stack, StackCode};

/// What is measured, in words.
pub(super) fn what(code: StackCode) -> &'static str {
    match code {
        StackCode::LeafHeld => "held by",
        StackCode::DoorCovers => "a lap of",
        StackCode::SockSits | StackCode::ShelfRests | StackCode::LidRests => "it lies on by",
        StackCode::LeafSlides
        | StackCode::LeafFits
        | StackCode::DoorSlides
        | StackCode::DoorClear
        | StackCode::RingFits
        | StackCode::ShelfFits
        | StackCode::GrooveTakes
        | StackCode::SumpEnters => "a gap of",
    }
}

/// What happens below the least gap.
pub(super) fn trouble(code: StackCode) -> &'static str {
    match code {
        StackCode::LeafSlides | StackCode::DoorSlides => "it does not move by hand",
        StackCode::LeafFits | StackCode::ShelfFits => "it jams, or pushes the walls apart",
        StackCode::LeafHeld => "it may fall out",
        StackCode::DoorCovers => "water runs past it",
        StackCode::DoorClear => "it catches on the guide when the leaf is lifted",
        StackCode::SockSits | StackCode::ShelfRests | StackCode::LidRests => "it may slip off",
        StackCode::RingFits | StackCode::GrooveTakes | StackCode::SumpEnters => "it does not go in",
    }
}

/// What happens above the greatest gap.
pub(super) fn too_much(code: StackCode) -> &'static str {
    match code {
        StackCode::GrooveTakes => "thin solvent does not fill it",
        StackCode::LeafSlides
        | StackCode::LeafFits
        | StackCode::LeafHeld
        | StackCode::DoorCovers
        | StackCode::DoorSlides
        | StackCode::DoorClear
        | StackCode::SockSits
        | StackCode::RingFits
        | StackCode::ShelfFits
        | StackCode::ShelfRests
        | StackCode::LidRests
        | StackCode::SumpEnters => "it rattles",
    }
}

/// What to do about a gap that is too small by `short_mm` at worst, or too large.
pub(super) fn hint(stack: &Stack, is_low: bool, short_mm: f64, file: &File) -> Cow<'static, str> {
    if let Some(first) = measure_first(stack, file) {
        return first.into();
    }
    let by = shown_up(short_mm, file.report.system());
    match stack.code {
        StackCode::LeafSlides => slides(stack.guide.unwrap_or_default(), is_low, &by).into(),
        StackCode::LeafHeld => held(stack.guide.unwrap_or_default(), &by).into(),
        StackCode::LeafFits => {
            "leave the leaf's ends until the box stands: measure between the guides and take off what is missing; or give `tolerance` what you know better".into()
        }
        StackCode::DoorCovers => format!("make the door's `lap` wider by {by}").into(),
        StackCode::DoorSlides => {
            "drill the leaf's holes with the door laid on, or ream its slots; or take a larger `screw`".into()
        }
        StackCode::DoorClear => {
            "make the opening narrower, move it with `offset`, or make `lap` smaller".into()
        }
        StackCode::SockSits => "take a sock with a wider `flange`, or a printed `ring`".into(),
        StackCode::RingFits => {
            "print the test piece first, and raise `printing.clearance` if it is tight".into()
        }
        StackCode::ShelfFits => {
            "leave the shelf's edges until the box stands, and take off what is missing".into()
        }
        StackCode::ShelfRests => format!("make `ledge.width` wider by {by}").into(),
        StackCode::LidRests => format!("make the lid's `lap` wider by {by}").into(),
        StackCode::GrooveTakes => groove(stack, is_low, file).into(),
        StackCode::SumpEnters => {
            "leave more room, or measure and give `tolerance` what you know better".into()
        }
    }
}

/// Where a sheet was not measured and its band takes a leaf's channel beyond a limit, there is nothing else to do first: what
/// is right for its thickest place is wrong for its thinnest.
pub(super) fn measure_first(stack: &Stack, file: &File) -> Option<String> {
    let name = stack.sheet.as_ref()?;
    let is_measured = file.sheet.get(name)?.measured.is_some();
    let is_of_leaf = stack.code == StackCode::LeafSlides;
    (is_of_leaf && !is_measured).then(|| {
        format!(
            "measure sheet `{name}` and write `measured` into `sheet.{name}`, before you change any `clearance`: until then its \
             whole band of thickness counts"
        )
    })
}

fn slides(guide: GuideKind, is_low: bool, by: &str) -> String {
    let change = if is_low {
        format!("make the divider's `clearance` larger by {by}")
    } else {
        "make the divider's `clearance` smaller".to_owned()
    };
    let make = match guide {
        GuideKind::Strips => "glue the strips with the leaf and a shim between them",
        GuideKind::Printed => "print one channel first and try an offcut of the leaf's sheet in it",
        GuideKind::Groove => "cut one groove in an offcut first and try the leaf's sheet in it",
    };
    format!("{change}; {make}; a leaf that bows wants thicker sheet")
}

fn held(guide: GuideKind, by: &str) -> String {
    let deeper = match guide {
        GuideKind::Strips => format!(
            "strips hold as deep as their sheet is thick, and {by} are missing: take `guide = \"printed\"`, whose `guide_depth` \
             you choose, or thicker sheet"
        ),
        GuideKind::Printed | GuideKind::Groove => {
            format!("make `guide_depth` larger by {by}")
        }
    };
    format!("{deeper}; or a thicker leaf against its bow, or thicker walls against their bulge")
}

fn groove(stack: &Stack, is_low: bool, file: &File) -> &'static str {
    let is_measured = stack
        .sheet
        .as_ref()
        .is_some_and(|name| file.sheet.get(name).is_some_and(|sheet| sheet.measured.is_some()));
    let is_high = stack.most_mm.is_some_and(|most| stack.worst_mm[1] > most + SAME_MM);
    match (is_low, is_high, is_measured) {
        (true, true, true) => {
            "cut a trial groove in an offcut of the same sheet first and set `cutting.groove_fit` by it; where it comes out wide, glue with thickened cement"
        }
        (true, true, false) => {
            "measure the sheet (`measured`) first; then cut a trial groove in an offcut of it and set `cutting.groove_fit` by that; where it comes out wide, glue with thickened cement"
        }
        (true, false, true) => {
            "cut a trial groove in an offcut of the same sheet first; raise `cutting.groove_fit`"
        }
        (true, false, false) => {
            "measure the sheet (`measured`) first; then cut a trial groove in an offcut of it, and raise `cutting.groove_fit`"
        }
        (false, _, true) => "take a butt joint, or glue with thickened cement",
        (false, _, false) => {
            "measure the sheet (`measured`), take a butt joint, or glue with thickened cement"
        }
    }
}
