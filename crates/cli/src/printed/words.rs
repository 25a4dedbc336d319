//! What is told of printed things: their measures, how they lie, what they take.

use fittings::{ALWAYS, Advice, COUPONS, Fitting, Kind, Measure, Of, Printer, UnderWater};
use study::told::table::{hanging, wrapped};
use units::{Length, System};

use super::thing::Thing;

/// Diameter of the usual filament, mm; common practice.
const FILAMENT_MM: f64 = 1.75;

/// A number of a measure, as it is read.
pub(crate) fn value(measure: &Measure, number: f64, system: System) -> String {
    match measure.of {
        Of::Mm => Length::mm(number).show_fine(system),
        Of::Count => format!("{number}"),
        Of::Degrees => format!("{number}°"),
        Of::Screw => format!("M{number}"),
        Of::Choice => (if number > 0.5 { "yes" } else { "no" }).to_owned(),
    }
}

/// Measures of a kind with these numbers, in one line: `pipe 32 mm, width 15 mm`.
pub(crate) fn measures(kind: &Kind, given: &[(&'static str, f64)], system: System) -> String {
    let counts = kind.measures.iter().filter(|measure| kind.counts(measure, given));
    let told = counts.filter_map(|measure| {
        let number = number(measure, given);
        match measure.of {
            // A choice that is made is told by its name, one that is not by nothing.
            Of::Choice => (number > 0.5).then(|| measure.name.to_owned()),
            _ => Some(format!("{} {}", measure.name, value(measure, number, system))),
        }
    });
    told.collect::<Vec<_>>().join(", ")
}

/// What was given for a measure, or what it usually is.
pub(crate) fn number(measure: &Measure, given: &[(&'static str, f64)]) -> f64 {
    given.iter().find(|(name, _)| *name == measure.name).map_or(measure.usual, |(_, n)| *n)
}

/// Room on the bed and height: `41.3 × 47 × 15 mm`.
pub(crate) fn size(fitting: &Fitting, system: System) -> String {
    let [x, y] = fitting.print.bed_footprint_mm;
    let [x, y, z] = [x, y, fitting.print.height_mm].map(|mm| Length::mm(mm).show(system));
    let bare = |text: &str| text.split(' ').next().unwrap_or_default().to_owned();
    format!("{} × {} × {z}", bare(&x), bare(&y))
}

/// What one takes when it is printed full.
pub(crate) fn filament_used(thing: &Thing<'_>) -> String {
    filament_of(thing.solid.volume_mm3())
}

/// The filament that a volume takes when it is printed full.
pub(crate) fn filament_of(mm3: f64) -> String {
    let metres = mm3 / (0.25 * std::f64::consts::PI * FILAMENT_MM * FILAMENT_MM) * 1e-3;
    format!("{:.1} cm³, printed full: {metres:.1} m of filament of {FILAMENT_MM} mm", mm3 * 1e-3)
}

/// Printer and clearance in a sentence.
pub(crate) fn printer(printer: &Printer, system: System) -> String {
    let mm = |mm: f64| Length::mm(mm).show_fine(system);
    let [x, y, z] = printer.bed_mm.map(mm);
    format!(
        "Made for a nozzle of {} and layers of {} on a bed of {x} × {y}, {z} high; clearance {} each side of what \
         slides, upright holes {} wider than they are to be; {}.",
        mm(printer.nozzle_mm),
        mm(printer.layer_mm),
        mm(printer.clearance_mm),
        mm(printer.hole_loss_mm),
        edges_on_bed(printer, system),
    )
}

/// How edges on the bed are drawn.
fn edges_on_bed(printer: &Printer, system: System) -> String {
    if printer.foot_mm > 0.0 {
        let foot = Length::mm(printer.foot_mm).show_fine(system);
        format!(
            "edges on the bed drawn in by {foot} over one layer alone, a step that fills as that layer spreads and no chamfer"
        )
    } else {
        "edges on the bed drawn as they are to be".to_owned()
    }
}

/// What the slicer must not do once more, and what it may: holes and edges on the bed are drawn for what the coupons found.
fn compensation(printer: &Printer) -> &'static str {
    match (printer.hole_loss_mm > 0.0, printer.foot_mm > 0.0) {
        (true, true) => {
            "Switch off the slicer's own compensation for the first layer and for holes: both are drawn already."
        }
        (true, false) => {
            "Switch off the slicer's own compensation for holes, which is drawn already. The one for the first layer is not drawn: \
             leave it as it is, or give `foot` as a coupon finds it and switch it off."
        }
        (false, true) => {
            "Switch off the slicer's own compensation for the first layer, which is drawn already. The one for holes is not drawn: \
             leave it as it is, or give `hole_loss` as its coupon finds it and switch it off."
        }
        (false, false) => {
            "Nothing is drawn for a first layer that spreads or for holes that come out narrow: leave the slicer's own compensation \
             as it is, or give `foot` and `hole_loss` as the coupons find them and switch it off."
        }
    }
}

/// How to print: settings, the filament, what holds for all, and the coupons, as text.
pub(crate) fn how_to_print(printer: &Printer) -> String {
    let filament = printer.filament;
    let mut text = String::new();
    text += "How to print\n";
    text += &hanging(
        "- ",
        "Lay everything as it lies in the files: flat face down, no support, no raft. Do not scale it. STL knows no unit: \
         the files are in millimetres.",
    );
    text += &hanging(
        "- ",
        "Slice with the nozzle and the layers that it is made for: walls are whole lines, heights whole layers. Full, or \
         with four walls at least. (common practice)",
    );
    text += &hanging("- ", compensation(printer));
    let fit = match filament.under_water() {
        UnderWater::Fit => "may stay in the water, as far as is known",
        UnderWater::WithCare => "may stay in the water, with what is said here",
        UnderWater::Unfit => "is not to stay in the water: for jigs and for trying out",
    };
    text += &format!("\n{} {fit} (our judgement)\n", filament.name());
    if let Some(warmest) = filament.warmest_c() {
        let words =
            format!("Not where it becomes warmer than {warmest} °C for long. (our judgement)");
        text += &hanging("- ", &words);
    }
    text += &advice(filament.advice());
    text += "\nFor every filament\n";
    text += &advice(ALWAYS);
    text += "\nFirst the coupons\n";
    text += &wrapped(
        "Each finds a number, in mm, for this printer and filament. Write it into the parameter file, or give it on the command \
         line, and print the fittings with it.",
    );
    for coupon in COUPONS {
        let name = coupon.kind.unwrap_or("any fitting");
        text += &format!("{} by {name}\n", coupon.key);
        for step in coupon.steps {
            text += &hanging("- ", &sentence(step));
        }
        text += &hanging("- ", &goes_into(coupon.key));
    }
    text
}

/// What a coupon of this kind tells and where its result goes; `None` of what is none.
pub(crate) fn result_of(kind: &Kind) -> Option<String> {
    let coupon = COUPONS.iter().find(|coupon| coupon.kind == Some(kind.name))?;
    Some(goes_into(coupon.key))
}

/// Where a number goes, with the line to write.
fn goes_into(key: &str) -> String {
    let option = key.replace('_', "-");
    let usual = Printer::default();
    let such = match key {
        "hole_loss" => usual.hole_loss_mm,
        "foot" => usual.foot_mm,
        _ => usual.clearance_mm,
    };
    format!(
        "Its number goes into the parameter file below `[printing]` as `{key} = {such}`, with the number found in place of {such}; without a \
         parameter file it is `--{option} {such}`."
    )
}

fn advice(all: &[Advice]) -> String {
    all.iter().map(|a| hanging("- ", &format!("{} ({})", sentence(a.words), a.source))).collect()
}

/// With a capital letter and a full stop.
pub(crate) fn sentence(words: &str) -> String {
    format!("{}.", findings::capital(words.trim_end_matches('.')))
}
