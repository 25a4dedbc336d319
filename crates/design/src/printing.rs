//! The printer of the file, and whether what is printed suits it and the water.

mod glued;

use findings::Finding;
use fittings::{Filament, InPieces, Kind, Printer, UnderWater, thinnest_of_turned_mm};
use params::Printing;
use plate::{Defect, Shape, Tolerance, arrange};

use crate::draft::{Builder, Draft};
use crate::model::Role;
use crate::removables::index_in;

pub(crate) use glued::note as glue_note;

/// The printer that the file tells of.
pub fn printer(printing: &Printing) -> Printer {
    Printer {
        nozzle_mm: printing.nozzle.to_mm(),
        layer_mm: printing.layer().to_mm(),
        bed_mm: printing.room().map(units::Length::to_mm),
        clearance_mm: printing.clearance.to_mm(),
        hole_loss_mm: printing.hole_loss.to_mm(),
        foot_mm: printing.foot().to_mm(),
        filament: filament(printing),
    }
}

/// The filament of the file, as fittings know it.
pub fn filament(printing: &Printing) -> Filament {
    match printing.filament {
        params::Filament::Petg => Filament::Petg,
        params::Filament::Asa => Filament::Asa,
        params::Filament::Abs => Filament::Abs,
        params::Filament::Pp => Filament::Pp,
        params::Filament::Pla => Filament::Pla,
        params::Filament::Nylon => Filament::Nylon,
        params::Filament::Tpu => Filament::Tpu,
    }
}

/// Finds what water, bed and nozzle do not suit. Nothing printed, nothing found.
pub(crate) fn check(b: &mut Builder<'_>) {
    let printer = printer(&b.file.printing);
    let mut found = Vec::new();
    // Jigs stay dry.
    if b.drafts.iter().any(|draft| draft.role.is_printed() && draft.role != Role::Jig) {
        found.extend(in_water(b));
    }
    found.extend(glued::check(b));
    for draft in b.drafts.iter().filter(|draft| draft.role.is_printed()) {
        found.extend(on_bed(b, draft, &printer));
        // Fittings made from their measures have whole lines; between the strokes of their text there is less.
        if !matches!(draft.role, Role::Fitting | Role::Jig) {
            found.extend(thin_wall(b, draft, &printer));
        }
    }
    for finding in found {
        b.find(finding);
    }
}

/// What stays in the water for years.
fn in_water(b: &Builder<'_>) -> Option<Finding> {
    const PARAMETER: &str = "printing.filament";
    let filament = filament(&b.file.printing);
    let water_c = b.file.water.temperature.to_celsius();
    let name = filament.name();
    let first = filament.advice().first()?;
    let finding = match (filament.under_water(), filament.warmest_c()) {
        (UnderWater::Unfit, _) => {
            let message = format!("{name} is for jigs, not for fittings in water: {}", first.words);
            Finding::tight("filament", PARAMETER, message).with_source(first.source)
        }
        (UnderWater::WithCare, _) => {
            let message = format!("fittings of {name} need care in water: {}", first.words);
            Finding::tight("filament", PARAMETER, message).with_source(first.source)
        }
        (UnderWater::Fit, Some(warmest_c)) if water_c > warmest_c => {
            let message = format!(
                "{name} keeps its shape up to about {warmest_c:.0} °C, and the water has {water_c:.0} °C"
            );
            Finding::tight("filament", PARAMETER, message)
                .with_limit(water_c, warmest_c, "°C")
                .with_source(
                    "temperature of deflection under load (ISO 75) less 15 °C, our judgement",
                )
        }
        (UnderWater::Fit, _) => return None,
    };
    Some(finding.with_hint("print fittings in PETG or ASA; jigs may be of anything"))
}

/// Whether a part lies on the bed, as it is or turned by 90°. A sock ring says so itself.
fn on_bed(b: &Builder<'_>, draft: &Draft, printer: &Printer) -> Option<Finding> {
    if b.findings
        .iter()
        .any(|f| f.code == "ring-larger-than-bed" && draft.parameter.starts_with(&f.parameter))
    {
        return None;
    }
    let [lo, hi] = draft.shape.bounds();
    let size = hi - lo;
    let [length, width, height] = printer.bed_mm;
    let lies = |x: f64, y: f64| x <= length + HAIR_MM && y <= width + HAIR_MM;
    if (lies(size.x, size.y) || lies(size.y, size.x)) && size.z <= height + HAIR_MM {
        return None;
    }
    let message = format!(
        "{} takes {} × {} on the bed and is {} high; the printer has {} × {} × {}",
        draft.name,
        b.show(size.x),
        b.show(size.y),
        b.show(size.z),
        b.show(length),
        b.show(width),
        b.show(height)
    );
    let hint = match kind_of(b, draft).and_then(|kind| kind.in_pieces) {
        Some(InPieces { length, lowest, highest }) => format!(
            "write two fittings of half its `{length}`, one above the other: the lower with `{highest} = 0`, the upper with \
             `{lowest} = false`; or give your printer's `printing.bed`, `bed_width` and `bed_height`"
        ),
        None => {
            "give your printer's `printing.bed`, `bed_width` and `bed_height`, or make it smaller"
                .to_owned()
        }
    };
    Some(Finding::fails("print-larger-than-bed", &draft.parameter, message).with_hint(hint))
}

/// The kind of a fitting of the file.
fn kind_of(b: &Builder<'_>, draft: &Draft) -> Option<&'static Kind> {
    Kind::named(&b.file.fitting.get(index_in(&draft.parameter, "fitting")?)?.kind)
}

/// A hair of rounding keeps no part off a bed of just its size.
const HAIR_MM: f64 = 1e-6;

/// The thinnest wall, if it is of less than two lines of the nozzle.
fn thin_wall(b: &Builder<'_>, draft: &Draft, printer: &Printer) -> Option<Finding> {
    let least = printer.least_wall_mm();
    let thinnest = thinnest(&draft.shape, least, printer.layer_mm);
    if thinnest > least - HAIR_MM {
        return None;
    }
    let message = format!(
        "{} has a wall of {}; a nozzle of {} prints walls of {} and more",
        draft.name,
        b.show(thinnest),
        b.show(printer.nozzle_mm),
        b.show(least)
    );
    Some(
        Finding::tight("thin-for-nozzle", &draft.parameter, message)
            .with_limit(thinnest, least, "mm")
            .with_source("common practice: two lines side by side")
            .with_hint("print it with a finer nozzle: `printing.nozzle`"),
    )
}

/// The thinnest wall of a shape, mm; of a sheet, if it is thinner than `least`, else infinite.
fn thinnest(shape: &Shape, least: f64, layer_mm: f64) -> f64 {
    let plate = match shape {
        Shape::Sheet(plate) => plate,
        Shape::Turned(turned) => return thinnest_of_turned_mm(turned, layer_mm),
    };
    let tol = Tolerance { least_wall: least - HAIR_MM, ..Tolerance::default() };
    // What cannot be arranged is told where parts are checked.
    let defects = arrange(plate, &tol).map(|a| a.defects(&tol)).unwrap_or_default();
    let width = |defect: &Defect| match defect {
        Defect::ThinWall { width_mm, .. } => Some(*width_mm),
        _ => None,
    };
    defects.iter().filter_map(width).fold(f64::INFINITY, f64::min)
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::{DVec2, dvec2};
    use plate::{Contour, Cut, Plate, Turned};
    use units::Length;

    #[test]
    fn the_printer_has_the_defaults_of_the_file() {
        let usual = printer(&Printing::default());
        assert_eq!(usual, Printer::default());
        let other = Printing {
            nozzle: Length::mm(0.6),
            bed: Length::mm(250.0),
            bed_width: Some(Length::mm(210.0)),
            ..Printing::default()
        };
        let other = printer(&other);
        assert!((other.layer_mm - 0.3).abs() < 1e-12 && (other.foot_mm - 0.2).abs() < 1e-12);
        let bed = other.bed_mm.iter().zip([250.0, 210.0, 250.0]);
        assert!(bed.into_iter().all(|(is, should)| (is - should).abs() < 1e-9));
    }

    #[test]
    fn every_filament_keeps_its_name() {
        let all = [
            params::Filament::Petg,
            params::Filament::Asa,
            params::Filament::Abs,
            params::Filament::Pp,
            params::Filament::Pla,
            params::Filament::Nylon,
            params::Filament::Tpu,
        ];
        for (written, known) in all.into_iter().zip(Filament::ALL) {
            let found = filament(&Printing { filament: written, ..Printing::default() });
            assert_eq!(found, known);
            assert!(format!("{written:?}").eq_ignore_ascii_case(found.name()));
        }
    }

    #[test]
    fn walls_of_sheets_are_measured_where_they_are_thin() {
        let mut plate = Plate::new(Contour::rectangle(DVec2::ZERO, dvec2(40.0, 30.0)), 6.0);
        plate.cuts.push(Cut::through(Contour::rectangle(dvec2(1.0, 5.0), dvec2(20.0, 25.0))));
        let shape = Shape::Sheet(plate);
        let of = |least| thinnest(&shape, least, 0.2);
        assert!((of(1.6) - 1.0).abs() < 1e-9);
        assert!(of(1.0).is_infinite() && of(0.8).is_infinite());
    }

    #[test]
    fn walls_of_turned_bodies_are_measured_along_the_radius() {
        let of = |turned: Turned| thinnest(&Shape::Turned(turned), 0.8, 0.2);
        assert!((of(Turned::pipe(20.0, 18.6, 10.0)) - 0.7).abs() < 1e-9);
        assert!((of(Turned::cylinder(1.5, 10.0)) - 1.5).abs() < 1e-9);
    }
}
