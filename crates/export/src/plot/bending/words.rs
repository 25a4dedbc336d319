//! The words of the drawing.

use design::{Design, Role};
use paper::NO_BREAK;
use strength::{Corner, Duration, Load, Panel, Theory};
use units::{Length, System};

use super::Frame;
use crate::decimal::decimal;

/// What stands under the title, a sentence each.
pub(super) fn head(design: &Design, panel: &Panel) -> Vec<String> {
    let mm = |mm: f64| Length::mm(mm).show_fine(design.report);
    let mut head = vec![format!(
        "{}. {}{}. Sheet {}, reckoned with its least thickness of {}.",
        design.title,
        seen_from(design, panel),
        on_the_left(design, panel),
        panel.sheet,
        mm(panel.thickness_mm)
    )];
    if let Some(load) = panel.loads.get(panel.deflection.load) {
        let [lo, hi] = [panel.deflection.value, panel.deflection_limit_mm].map(mm);
        head.push(format!(
            "It bends most with {} ({}), and is drawn so: {lo}, {}; at most {hi} {} wanted. {}",
            load.words,
            duration(load),
            panel.deflection.place,
            if design.report == System::Metric { "are" } else { "is" },
            theory(load.theory)
        ));
    }
    if let Some(load) = panel.loads.get(panel.stress.load) {
        let mpa = |mpa: f64| stress_words(mpa, design.report);
        let brief = match load.duration {
            Duration::Years => String::new(),
            Duration::Days => format!(", and {} for some days", mpa(load.limit_mpa)),
            Duration::Hours => format!(", and {} for a day at most", mpa(load.limit_mpa)),
        };
        head.push(format!(
            "It is stressed most with {} ({}): {}, {}; it may carry {} for years{brief}.",
            load.words,
            duration(load),
            mpa(panel.stress.value),
            panel.stress.place,
            mpa(panel.allowable_mpa),
        ));
    }
    head.extend(corner(panel).map(|(corner, mpa)| {
        let mpa = stress_words(mpa, design.report);
        format!("At the edge of {} it is {mpa} by the rule for corners.", corner.words)
    }));
    head.iter().map(|words| words.trim_end().to_owned()).collect()
}

/// A stress whose unit does not stand alone at the beginning of a line.
fn stress_words(mpa: f64, report: System) -> String {
    report.show_stress(mpa).replace(' ', &NO_BREAK.to_string())
}

/// The corner that is stressed most, and how much, MPa, where that is more than the panel's own greatest stress.
pub(super) fn corner(panel: &Panel) -> Option<(&Corner, f64)> {
    let stressed = panel.corners.iter().filter_map(|corner| Some((corner, corner.stress_mpa?)));
    let most = stressed.max_by(|a, b| a.1.total_cmp(&b.1));
    most.filter(|(_, mpa)| *mpa > panel.stress.value)
}

/// From where one looks: at its upper face.
fn seen_from(design: &Design, panel: &Panel) -> &'static str {
    let out = design.placed[panel.placed].pose.matrix3.z_axis;
    match design.pieces[panel.piece].role {
        Role::Wall => "Seen from inside the sump",
        Role::Bottom => "Seen from above",
        _ if out.x > 0.5 => "Seen from the far end",
        _ if out.x < -0.5 => "Seen from the inlet end",
        _ if out.y > 0.5 => "Seen from the back",
        _ if out.y < -0.5 => "Seen from the front",
        _ => "Seen at its upper face, as on its drawing",
    }
}

/// What of the sump is on which side of the drawing.
fn on_the_left(design: &Design, panel: &Panel) -> &'static str {
    let right = design.placed[panel.placed].pose.matrix3.x_axis;
    match () {
        () if right.x > 0.5 => ", the inlet end on the left",
        () if right.x < -0.5 => ", the inlet end on the right",
        () if right.y > 0.5 => ", the front on the left",
        () if right.y < -0.5 => ", the front on the right",
        () => "",
    }
}

fn duration(load: &Load) -> &'static str {
    match load.duration {
        Duration::Hours => "for hours",
        Duration::Days => "for days",
        Duration::Years => "for years",
    }
}

fn theory(theory: Theory) -> String {
    match theory {
        Theory::Holds => String::new(),
        Theory::Overstates { share } => format!(
            "That is over half its thickness: the true deflection is about {:.0} % of what is drawn.",
            100.0 * share
        ),
        Theory::Refused => {
            "That is over twice its thickness, beyond the theory: what is drawn is not vouched for."
                .to_owned()
        }
    }
}

/// What stands under everything.
pub(super) fn foot(panel: &Panel) -> Vec<String> {
    let mut foot = Vec::new();
    if !panel.supports.is_empty() {
        foot.push(format!("Between its edges it is held by: {}.", panel.supports.join(", ")));
    }
    foot.push(
        "Estimates: what decides is the leak test of the glue-up guide, outdoors or in a tub. A panel that gives way floods, \
         and its edges cut."
            .to_owned(),
    );
    foot
}

/// The greatest deflection, as it stands beside its mark.
pub(super) fn deflection(frame: &Frame<'_>) -> String {
    Length::mm(frame.panel.deflection.value).show_fine(frame.design.report)
}

/// The greatest stress, likewise.
pub(super) fn stress(frame: &Frame<'_>) -> String {
    frame.design.report.show_stress(frame.panel.stress.value)
}

/// The stress at the corner that is stressed most, likewise.
pub(super) fn corner_stress(frame: &Frame<'_>) -> Option<String> {
    corner(frame.panel).map(|(_, mpa)| frame.design.report.show_stress(mpa))
}

/// From one line to the next, mm; `None` of fewer than one line.
pub(super) fn step_mm(panel: &Panel) -> Option<f64> {
    let levels = panel.contours.iter().map(|contour| contour.mm.abs());
    levels.reduce(f64::min)
}

/// A deflection as a number on a line, as finely as its step needs.
pub(super) fn bend_number(mm: f64, frame: &Frame<'_>) -> String {
    let step = step_mm(frame.panel).unwrap_or(mm);
    let [value, step] = match frame.design.report {
        System::Metric => [mm, step],
        System::UsCustomary => [mm, step].map(|mm| Length::mm(mm).to_in()),
    };
    // Steps are 1, 2 or 5 times a power of ten of the unit.
    #[expect(clippy::cast_possible_truncation, reason = "a few digits")]
    let digits = (-(step * (1.0 + 1e-9)).log10().floor()).clamp(0.0, 6.0) as i32;
    decimal(value, digits)
}

/// `mm` or `in`.
pub(super) fn unit(frame: &Frame<'_>) -> &'static str {
    match frame.design.report {
        System::Metric => "mm",
        System::UsCustomary => "in",
    }
}

/// What the lines are, in the key.
pub(super) fn lines(frame: &Frame<'_>) -> Option<String> {
    let step = step_mm(frame.panel)?;
    let positive = frame.panel.contours.first().is_some_and(|contour| contour.mm > 0.0);
    let way = if positive { "away from you" } else { "towards you" };
    Some(format!(
        "equal deflection, every {} {unit}, {way}",
        bend_number(step, frame),
        unit = unit(frame)
    ))
}
