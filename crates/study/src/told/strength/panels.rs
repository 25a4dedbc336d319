//! Tables of panels that bend: stress, deflection, loads, edges, corners, rim, what would help.

use design::Design;
use strength::{Duration, Load, Panel, Run, Strength, Theory};

use super::shown::{Shown, held, show_factor};
use crate::told::figures::NONE;
use crate::told::table::Table;

/// How places are meant.
const PLACES: &str = "Places are seen from the inside of a wall, from above the bottom, and as a leaf lies on its drawing.";

/// Each panel on one line: stress and deflection of what is allowed.
pub(super) fn summary(strength: &Strength, design: &Design) -> Table {
    let shown = Shown(design.report);
    let mut table = Table::new(
        "Panels under water",
        [
            "panel",
            "sheet",
            "stress",
            "for hours",
            "factor, years",
            "all loads",
            "bends",
            "bulge, years",
            "at most",
        ],
    );
    let row = |panel: &Panel| {
        let bulge = |k: usize| panel.bulge_mm.map_or(NONE.to_owned(), |mm| shown.bend(mm[k]));
        vec![
            panel.name.clone(),
            format!("{}, {}", panel.sheet, shown.bend(panel.thickness_mm)),
            shown.stress_of(panel.stress.value, panel.allowable_mpa),
            shown.stress(panel.brief_mpa),
            show_factor(panel.lasting_factor()),
            show_factor(panel.factor()),
            shown.bend_of(panel.deflection.value, panel.deflection_limit_mm),
            bulge(0),
            bulge(1),
        ]
    };
    table.rows = strength.panels.iter().map(row).collect();
    table.notes = vec![
        "Sheet: with the least thickness of its band. Stress: the greatest, of what the sheet may carry for years there; \
         for hours, a day at most, it may carry what stands beside. Factor: how many times the stress fits into that, rim and corners of openings included; of levels in flow, \
         which bear for years, and of all loads: failures, water to the rim and one side drained bear for hours."
            .to_owned(),
        "Bends: at most, of what is wanted. Bulge: of the upper edge, with the level in flow after years, and at most. \
         Under loads for years sheet creeps, which its lasting modulus tells; under loads of hours that for minutes."
            .to_owned(),
        format!(
            "Glued edges are neither hinged nor clamped: each result is the worst of all hinged, the sides clamped alone, \
             bottom and top clamped alone. {PLACES}"
        ),
    ];
    table
}

/// Where each panel is stressed and bends most, and under which load.
pub(super) fn places(strength: &Strength) -> Table {
    let mut table = Table::new(
        "Where, and under which load",
        ["panel", "stressed most", "under", "bends most", "under", "theory"],
    );
    let row = |panel: &Panel| {
        vec![
            panel.name.clone(),
            panel.stress.place.clone(),
            load_words(panel, panel.stress.load),
            panel.deflection.place.clone(),
            load_words(panel, panel.deflection.load),
            theory(panel.theory()),
        ]
    };
    table.rows = strength.panels.iter().map(row).collect();
    table.notes = vec![
        "The theory is that of thin plates bent little; where a panel bends more than half its thickness, the true \
         deflection is less than told, and over twice its thickness nothing is vouched for."
            .to_owned(),
    ];
    table
}

/// Every load of every panel.
pub(super) fn loads(strength: &Strength, design: &Design) -> Table {
    let shown = Shown(design.report);
    let mut table = Table::new(
        "Every load of every panel",
        [
            "panel",
            "load",
            "water on the upper face",
            "on the lower face",
            "bears for",
            "stress",
            "for so long",
            "bends",
            "seams",
        ],
    );
    let row = |panel: &Panel, load: &Load| {
        vec![
            panel.name.clone(),
            load.words.clone(),
            shown.length(load.before_mm),
            shown.length(load.behind_mm),
            duration(load).to_owned(),
            shown.stress_of(load.stress_mpa, load.allowable_mpa),
            shown.stress(load.limit_mpa),
            shown.bend(load.deflection_mm),
            run(load.run).to_owned(),
        ]
    };
    let panels = strength.panels.iter();
    table.rows = panels.flat_map(|panel| panel.loads.iter().map(|load| row(panel, load))).collect();
    table.notes = vec![
        "Heights of water above the inside of the bottom. The upper face of a wall is its inner one. Several chambers \
         against one wall: the highest level is taken over its whole width, which is on the safe side. Stress: of what may be \
         carried for years; beside it, what may be carried for as long as the load bears. Days are some days, until somebody \
         mends what failed; hours a day at most."
            .to_owned(),
    ];
    table
}

/// How every edge is held.
pub(super) fn edges(strength: &Strength) -> Table {
    let mut table = Table::new(
        "How panels are held",
        ["panel", "left", "right", "lower edge", "upper edge", "supports between"],
    );
    let row = |panel: &Panel| {
        let [left, right, lower, upper] = panel.edges.map(|edge| held(edge).to_owned());
        let supports = match &panel.supports[..] {
            [] => NONE.to_owned(),
            supports => supports.join(", "),
        };
        vec![panel.name.clone(), left, right, lower, upper, supports]
    };
    table.rows = strength.panels.iter().map(row).collect();
    table.notes = vec![PLACES.to_owned()];
    table
}

/// Corners of openings, notches and slots.
pub(super) fn corners(strength: &Strength, design: &Design) -> Table {
    let shown = Shown(design.report);
    let mut table = Table::new(
        "Corners of openings",
        ["panel", "corner", "radius", "for years", "of all loads", "remark"],
    );
    let row = |panel: &Panel, corner: &strength::Corner| {
        let stress = |mpa: Option<f64>| {
            mpa.map_or("not assessed".to_owned(), |mpa| shown.stress_of(mpa, panel.wet_mpa))
        };
        vec![
            panel.name.clone(),
            corner.words.clone(),
            shown.bend(corner.radius_mm),
            stress(corner.lasting_mpa),
            stress(corner.stress_mpa),
            if corner.why_not.is_empty() { NONE.to_owned() } else { corner.why_not.clone() },
        ]
    };
    let panels = strength.panels.iter();
    table.rows =
        panels.flat_map(|panel| panel.corners.iter().map(|corner| row(panel, corner))).collect();
    table
}

/// The rim along each wall, and its braces.
pub(super) fn rims(strength: &Strength, design: &Design) -> Table {
    let shown = Shown(design.report);
    let mut table = Table::new(
        "Rim and braces",
        ["along", "for years", "of all loads", "greatest pull in a brace"],
    );
    let row = |panel: &Panel| {
        let rim = panel.rim.as_ref()?;
        Some(vec![
            panel.name.clone(),
            shown.stress_of(rim.lasting_mpa, rim.allowable_mpa),
            shown.stress_of(rim.stress_mpa, rim.allowable_mpa),
            if rim.brace_n > 0.0 { shown.force(rim.brace_n) } else { NONE.to_owned() },
        ])
    };
    table.rows = strength.panels.iter().filter_map(row).collect();
    table
}

/// What would make each hold, or hold better.
pub(super) fn remedies(strength: &Strength, design: &Design) -> Table {
    let shown = Shown(design.report);
    let mut table = Table::new(
        "What would help",
        [
            "panel",
            "factor of all loads",
            "thinnest sheet that holds",
            "a rim half as wide again; of a box without one, a first rim",
            "one more brace",
        ],
    );
    let tried = |with: Option<[f64; 2]>| {
        with.map_or(NONE.to_owned(), |[factor, bulge_mm]| {
            format!("factor {}, bulge {}", show_factor(factor), shown.bend(bulge_mm))
        })
    };
    let row = |panel: &Panel| {
        let remedies = &panel.remedies;
        vec![
            panel.name.clone(),
            show_factor(panel.factor()),
            remedies.thinnest_mm.map_or("none".to_owned(), |mm| shown.bend(mm)),
            tried(remedies.wider_rim.or(remedies.with_rim)),
            tried(remedies.one_more_brace),
        ]
    };
    table.rows = strength.panels.iter().map(row).collect();
    table.notes = vec![
        "Thicknesses as they are ordered, of the usual ones of the same material; each was reckoned with its nominal thickness \
         less the usual tolerance of such sheet, so that one of the same thickness that you measured may do where it is not told \
         here. Corners of openings and seams come on top. A first rim is taken 50 mm wide. A brace stands in the middle of the \
         longest stretch."
            .to_owned(),
    ];
    table
}

/// A load with how long it bears.
fn load_words(panel: &Panel, load: usize) -> String {
    panel
        .loads
        .get(load)
        .map_or(NONE.to_owned(), |load| format!("{} ({})", load.words, duration(load)))
}

fn duration(load: &Load) -> &'static str {
    match load.duration {
        Duration::Hours => "hours",
        Duration::Days => "days",
        Duration::Years => "years",
    }
}

fn run(run: Run) -> &'static str {
    match run {
        Run::Hinged => "all hinged",
        Run::SidesClamped => "sides clamped",
        Run::EndsClamped => "bottom and top clamped",
    }
}

fn theory(theory: Theory) -> String {
    match theory {
        Theory::Holds => "holds".to_owned(),
        Theory::Overstates { share } => {
            format!(
                "tells too much: about {:.0} % of it is true; stress at most 3 % more",
                100.0 * share
            )
        }
        Theory::Refused => "does not reach so far".to_owned(),
    }
}
