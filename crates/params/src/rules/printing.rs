//! Printing: numbers that a nozzle cannot do, or that leave nothing to slide.

use findings::Finding;
use units::Length;

use super::Rules;

/// A layer that is higher than this share of the nozzle bonds badly to the one below (common practice: three quarters,
/// at most four fifths).
const MOST_LAYER: f64 = 0.75;
/// Edges are drawn in by at most this share of the nozzle: more would print into the air (our judgement).
const MOST_FOOT: f64 = 0.5;
/// Printed faces closer than this to what slides on them stick (common practice).
const LEAST_CLEARANCE_MM: f64 = 0.1;

pub(super) fn check(rules: &mut Rules<'_>) {
    layer(rules);
    foot(rules);
    clearance(rules);
}

fn layer(rules: &mut Rules<'_>) {
    let (nozzle, path) = (rules.file.printing.nozzle, "printing.layer");
    let Some(layer) = rules.file.printing.layer else { return };
    let most = nozzle * MOST_LAYER;
    if layer.to_mm() < most.to_mm() + HAIR_MM {
        return;
    }
    let [layer_text, nozzle_text, most_text] = [layer, nozzle, most].map(|l| rules.show(l));
    let cannot = layer.to_mm() > nozzle.to_mm() - HAIR_MM;
    let finding = if cannot {
        let message =
            format!("layers {layer_text} high cannot be pressed out of a nozzle of {nozzle_text}");
        Finding::fails("layer-too-thick", path, message)
    } else {
        let message =
            format!("layers {layer_text} high hold together badly from a nozzle of {nozzle_text}");
        Finding::tight("layer-too-thick", path, message)
    };
    let finding = finding
        .with_limit(layer.to_mm(), most.to_mm(), "mm")
        .with_source("common practice: at most three quarters of the nozzle")
        .with_hint(format!("write at most {most_text}, or leave it out"));
    rules.add(&[path, "printing.nozzle"], finding);
}

fn foot(rules: &mut Rules<'_>) {
    let (nozzle, path) = (rules.file.printing.nozzle, "printing.foot");
    let Some(foot) = rules.file.printing.foot else { return };
    let most = nozzle * MOST_FOOT;
    if foot.to_mm() < most.to_mm() + HAIR_MM {
        return;
    }
    let [foot_text, most_text] = [foot, most].map(|l| rules.show(l));
    let message = format!(
        "edges on the bed drawn in by {foot_text} leave the second layer hanging by more than half a line"
    );
    let finding = Finding::fails("foot-too-wide", path, message)
        .with_limit(foot.to_mm(), most.to_mm(), "mm")
        .with_source("our judgement: half the nozzle")
        .with_hint(format!(
            "write at most {most_text}; let the first layer be pressed down less for the rest"
        ));
    rules.add(&[path, "printing.nozzle"], finding);
}

fn clearance(rules: &mut Rules<'_>) {
    let path = "printing.clearance";
    let clearance = rules.file.printing.clearance;
    if clearance.to_mm() > LEAST_CLEARANCE_MM - HAIR_MM {
        return;
    }
    let message = format!(
        "with {} of clearance each side, nothing slides in what is printed",
        rules.show(clearance)
    );
    let finding = Finding::tight("clearance-too-small", path, message)
        .with_limit(clearance.to_mm(), LEAST_CLEARANCE_MM, "mm")
        .with_source("common practice: 0.1 to 0.4 mm each side")
        .with_hint(format!(
            "print the clearance coupon and write what it says; at least {}",
            rules.show(Length::mm(LEAST_CLEARANCE_MM))
        ));
    rules.add(&[path], finding);
}

/// A hair of rounding is no reason to complain.
const HAIR_MM: f64 = 1e-9;

#[cfg(test)]
mod tests {
    use crate::starter::{Starter, starter};

    #[track_caller]
    fn check(printing: &str, told: &[&str]) {
        let text = starter(Starter { us: false });
        let with_table =
            text.replacen("[printing]\nnozzle = 0.4\n", &format!("[printing]\n{printing}\n"), 1);
        assert_ne!(text, with_table, "the starter has another table now");
        let read = crate::read(&with_table);
        let codes: Vec<String> = read
            .findings
            .iter()
            .map(|f| format!("{} {} {}", f.grade, f.code, f.parameter))
            .collect();
        assert_eq!(codes, told, "{:?}", read.findings);
    }

    #[test]
    fn usual_printers_are_fine() {
        check("", &[]);
        check("nozzle = 0.6\nlayer = 0.45\nclearance = 0.1\nfoot = 0.3\nhole_loss = 0", &[]);
        check("nozzle = 0.25", &[]);
        check("filament = \"nylon\"\nbed = 256\nbed_width = 220\nbed_height = 250", &[]);
    }

    #[test]
    fn layers_go_with_the_nozzle() {
        check("layer = 0.3", &[]);
        check("layer = 0.32", &["tight layer-too-thick printing.layer"]);
        check("layer = 0.4", &["fails layer-too-thick printing.layer"]);
        check("nozzle = 0.25\nlayer = 0.2", &["tight layer-too-thick printing.layer"]);
    }

    #[test]
    fn feet_and_clearances_have_their_limits() {
        check("foot = 0.25", &["fails foot-too-wide printing.foot"]);
        check("clearance = 0", &["tight clearance-too-small printing.clearance"]);
    }
}
