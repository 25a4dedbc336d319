//! The display and its overflow.

use findings::Finding;
use units::{Length, Volume};

use super::Rules;
use super::leaves::teeth_in_sheet;

/// Paths that other checks speak of too.
pub(super) const CREST_HEIGHT: &str = "display.overflow.crest.height";
pub(super) const BOX_DEPTH: &str = "display.overflow.box.depth";
pub(super) const INSIDE_HEIGHT: &str = "display.inside.height";

pub(super) fn check(rules: &mut Rules<'_>) {
    let Some(display) = &rules.file.display else { return };
    let (crest, weir_box) = (display.overflow.crest, display.overflow.weir_box);
    let at = |path: &str, value: Length| (path.to_owned(), value);
    rules.smaller(
        [at(CREST_HEIGHT, crest.height), at(INSIDE_HEIGHT, display.inside.height)],
        "the crest of the overflow is not below the display's rim",
    );
    if teeth_in_sheet(rules, "display.overflow.crest", crest.height, crest.teeth)
        && let Some(teeth) = crest.teeth
    {
        rules.larger(
            [at(BOX_DEPTH, weir_box.depth), at("display.overflow.crest.teeth.depth", teeth.depth)],
            "the overflow box is no deeper than the teeth of its crest",
        );
        rules.larger(
            [
                at("display.overflow.crest.width", crest.width),
                at("display.overflow.crest.teeth.gap", teeth.gap),
            ],
            "the crest has no room for a gap between teeth",
        );
    }
    displaced(rules);
}

/// Rock and sand leave some water.
fn displaced(rules: &mut Rules<'_>) {
    let Some(display) = &rules.file.display else { return };
    let inside = display.inside;
    let full_m3 = inside.length.to_m() * inside.width.to_m() * display.overflow.crest.height.to_m();
    let full = Volume::l(1000.0 * full_m3);
    let path = "display.displaced";
    let system = rules.file.report.system();
    let [taken, holds] = [display.displaced, full].map(|volume| volume.show(system));
    let message = format!(
        "rock and sand take {taken}; up to its overflow the display holds {holds} with nothing in it"
    );
    let finding = if display.displaced >= full {
        Finding::fails("no-water-left", path, message)
    } else if display.displaced.to_l() > MUCH_ROCK * full.to_l() {
        Finding::tight("much-rock", path, message).with_source("common practice")
    } else {
        return;
    };
    let finding = finding.with_hint(
        "write what rock and sand take of the water, a few tenths of the display at most; mind the unit",
    );
    rules.add(&[path, "display.inside", CREST_HEIGHT], finding);
}

/// Rock and sand that take more of a display than this are a slip of the pen; common practice.
const MUCH_ROCK: f64 = 0.6;
