//! Sheets, cutting and printing: numbers that must agree.

use findings::Finding;
use units::Length;

use super::{At, Rules, each_named};
use crate::{Measured, Sheet};

pub(super) fn check(rules: &mut Rules<'_>) {
    for (_, sheet) in each_named("sheet", &rules.file.sheet) {
        measured(rules, &sheet);
    }
    inner_corner(rules);
}

/// A measured thickness goes from least to greatest, and is near the one that was ordered.
fn measured(rules: &mut Rules<'_>, sheet: &At<'_, Sheet>) {
    let path = sheet.key("measured");
    let [least, most] = match sheet.value.measured {
        None => return,
        Some(Measured::One(thickness)) => [thickness; 2],
        Some(Measured::Band(band)) => band,
    };
    if least > most {
        let message =
            format!("the least thickness, {}, is more than the greatest, {}", mm(least), mm(most));
        let hint = "write the least first";
        return rules.add(&[&path], Finding::fails("band-order", &path, message).with_hint(hint));
    }
    let nominal = sheet.value.thickness.to_mm();
    let farthest =
        if (least.to_mm() - nominal).abs() > (most.to_mm() - nominal).abs() { least } else { most };
    let off = (farthest.to_mm() - nominal).abs();
    let finding = if off > implausible_mm(nominal) {
        let message =
            format!("the sheet was ordered {nominal} mm thick, but measures {}", mm(farthest));
        Finding::fails("measured-implausible", &path, message)
            .with_hint("measure again, in the same unit, or correct `thickness`")
    } else if off > cast_tolerance_mm(nominal) {
        let message = format!(
            "the sheet measures {}, farther from the ordered {nominal} mm than the {} mm that a cast sheet may be",
            mm(farthest),
            round(cast_tolerance_mm(nominal))
        );
        Finding::tight("measured-far-off", &path, message)
            .with_source("ISO 7823-1, thickness of cast acrylic sheet: ±(0.4 + 0.1 t) mm")
            .with_hint("measure again; if it is so, all slots are made for what you measured")
    } else {
        return;
    };
    rules.add(&[&path, &sheet.key("thickness")], finding);
}

/// Tolerance of the thickness of cast acrylic sheet, mm, for an ordered thickness of 1.5 to 25 mm:
/// ±(0.4 + 0.1 t), ISO 7823-1. It is the widest of the materials that sumps are made from.
fn cast_tolerance_mm(nominal: f64) -> f64 {
    0.4 + 0.1 * nominal
}

/// No sheet is this far off: the number is of another sheet or in another unit. Common practice.
fn implausible_mm(nominal: f64) -> f64 {
    2.0 * cast_tolerance_mm(nominal)
}

fn inner_corner(rules: &mut Rules<'_>) {
    let cutting = &rules.file.cutting;
    let Some(corner) = cutting.inner_corner else { return };
    let radius = 0.5 * cutting.tool.to_mm();
    if corner.to_mm() < radius {
        let path = "cutting.inner_corner";
        let message = format!(
            "a cutter of {} leaves corners of at least {} mm radius, not {}",
            mm(cutting.tool),
            round(radius),
            mm(corner)
        );
        let finding = Finding::fails("corner-too-sharp", path, message).with_limit(
            corner.to_mm(),
            radius,
            "mm",
        );
        rules.add(
            &[path, "cutting.tool"],
            finding.with_hint(format!("write at least {}, or leave it out", round(radius))),
        );
    }
}

/// A length in full, to a thousandth of a millimetre.
pub(super) fn mm(length: Length) -> String {
    format!("{} mm", round(length.to_mm()))
}

fn round(mm: f64) -> f64 {
    (mm * 1000.0).round() / 1000.0
}
