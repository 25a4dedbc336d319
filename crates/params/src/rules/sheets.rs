//! Sheets and cutting: numbers that must agree.

use findings::Finding;
use units::Length;

use super::{At, Rules, each, each_named};
use crate::{Measured, Sheet};

pub(super) fn check(rules: &mut Rules<'_>) {
    for (_, sheet) in each_named("sheet", &rules.file.sheet) {
        measured(rules, &sheet);
        own(rules, &sheet);
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
        let message = format!(
            "the least thickness, {}, is more than the greatest, {}",
            rules.show(least),
            rules.show(most)
        );
        let hint = "write the least first";
        return rules.add(&[&path], Finding::fails("band-order", &path, message).with_hint(hint));
    }
    let ordered = sheet.value.thickness;
    let off = |thickness: Length| (thickness.to_mm() - ordered.to_mm()).abs();
    let farthest = if off(least) > off(most) { least } else { most };
    let [ordered_text, farthest_text] = [ordered, farthest].map(|length| rules.show(length));
    let tolerance = cast_tolerance_mm(ordered.to_mm());
    let finding = if off(farthest) > IMPLAUSIBLE * tolerance {
        let message =
            format!("the sheet was ordered {ordered_text} thick, but measures {farthest_text}");
        Finding::fails("measured-implausible", &path, message)
            .with_hint("measure again, or correct `thickness`; mind the unit")
    } else if off(farthest) > tolerance {
        let message = format!(
            "the sheet was ordered {ordered_text} thick and measures {farthest_text}; even a cast sheet is not more than {} off",
            rules.show(Length::mm(tolerance))
        );
        Finding::tight("measured-far-off", &path, message)
            .with_limit(off(farthest), tolerance, "mm")
            .with_source("ISO 7823-1, thickness of cast acrylic sheet: ±(0.4 + 0.1 t) mm")
            .with_hint("measure again; if it is so, all slots are made for what you measured")
    } else {
        return;
    };
    rules.add(&[&path, &sheet.key("thickness")], finding);
}

/// What is at home is not bought.
fn own(rules: &mut Rules<'_>, sheet: &At<'_, Sheet>) {
    for size in each(&sheet.key("stock"), &sheet.value.stock) {
        if size.value.own && size.value.price.is_some_and(|price| 0.0 < price) {
            rules.no_effect(
                &size.key("price"),
                &[&size.key("own")],
                "a sheet of your own costs nothing: this changes nothing".to_owned(),
                "delete `price`, or `own` if it is to be bought",
            );
        }
    }
}

/// Tolerance of the thickness of cast acrylic sheet, mm, for an ordered thickness of 1.5 to 25 mm:
/// ±(0.4 + 0.1 t), ISO 7823-1. It is the widest of the materials that sumps are made from.
fn cast_tolerance_mm(nominal: f64) -> f64 {
    0.4 + 0.1 * nominal
}

/// No sheet is this many tolerances off: the number is of another sheet or in another unit. Common practice.
const IMPLAUSIBLE: f64 = 2.0;

fn inner_corner(rules: &mut Rules<'_>) {
    let cutting = &rules.file.cutting;
    let Some(corner) = cutting.inner_corner else { return };
    let least = cutting.cut_width() * 0.5;
    if corner < least {
        let path = "cutting.inner_corner";
        let [tool, least_text, corner_text] =
            [cutting.cut_width(), least, corner].map(|length| rules.show(length));
        let message = format!(
            "a cut {tool} wide leaves corners of at least {least_text} radius, not {corner_text}"
        );
        let finding = Finding::fails("corner-too-sharp", path, message).with_limit(
            corner.to_mm(),
            least.to_mm(),
            "mm",
        );
        rules.add(
            &[path, "cutting.tool", "cutting.process", "cutting.kerf"],
            finding.with_hint(format!("write at least {least_text}, or leave it out")),
        );
    }
}
