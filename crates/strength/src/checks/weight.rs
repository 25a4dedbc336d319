//! What a sump weighs: who carries it, what stands under it, and whether it stands.

use design::{Design, LIFTING_SOURCE, MOST_PEOPLE, Role, people_to_lift, who_lifts_alone};
use findings::Finding;
use params::File;
use units::{KG_PER_LB, Mass, System};

use crate::weight::{State, Weight};

/// Imposed loads that floors of homes are built for, kN/m²: category A of EN 1991-1-1, Table 6.2; each country chooses in
/// between.
const HOME_FLOOR_KN_M2: [f64; 2] = [1.5, 2.0];
/// Pounds-force per square foot in 1 kN/m²: 1000 / 4.448 222 by 0.3048² (NIST SP 811).
const PSF_PER_KN_M2: f64 = 20.885;

/// All that is found of weight.
pub(crate) fn check(weight: &Weight, file: &File, design: &Design) -> Vec<Finding> {
    let mut findings = vec![to_carry(weight, file), on_floor(weight, file, design)];
    findings.extend(unknown(weight, file, design));
    findings.extend(tips(weight, file, design));
    findings
}

/// What a person lifts, dry and with loose parts out.
fn to_carry(weight: &Weight, file: &File) -> Finding {
    let (kg, alone) = (weight.carried.total_kg(), file.strength.lift);
    let show = |kg: f64| show_kg(kg, file.report.system());
    let head = format!("empty, with all loose parts out, the sump weighs {}", show(kg));
    if kg <= alone {
        let message = format!("{head}; {}", who_lifts_alone(kg, alone));
        return Finding::holds("weight-to-carry", "strength.lift", message)
            .with_limit(kg, alone, "kg")
            .with_source(LIFTING_SOURCE);
    }
    let (people, hint) = match people_to_lift(kg, alone) {
        Some(n) => (
            format!("{n} people carry it"),
            "carry it with so many, never with water in it; wear gloves, edges cut".to_owned(),
        ),
        None => (
            format!("even {MOST_PEOPLE} people should not carry it"),
            "move it on a trolley or with lifting straps, and only empty; or glue it together where it stands".to_owned(),
        ),
    };
    let message = format!(
        "{head}, more than the {} that one strong person lifts at best: {people}",
        show(alone)
    );
    Finding::tight("weight-to-carry", "strength.lift", message)
        .with_limit(kg, alone, "kg")
        .with_source(LIFTING_SOURCE)
        .with_hint(hint)
}

/// What stands on the floor. Whether that bears it, nobody can say from here.
fn on_floor(weight: &Weight, file: &File, design: &Design) -> Finding {
    let system = file.report.system();
    let say = |state: &State| {
        let load = show_pressure(state.pressure_kn_m2, system);
        format!("{}, {load} on its footprint", show_kg(state.total_kg(), system))
    };
    let loads = match &weight.running {
        Some(running) => {
            format!(
                "running, the sump weighs {} (full to the rim {})",
                say(running),
                say(&weight.full)
            )
        }
        None => format!("full to the rim, the sump weighs {}", say(&weight.full)),
    };
    let above = design.waterworks.display.as_ref().map_or(String::new(), |display| {
        let litres = display.surface_mm2 * (display.crest_mm - display.floor_mm) * 1e-6;
        let litres = units::Volume::l(litres.round()).show(system);
        format!(" and up to {litres} of water in the display above")
    });
    let [least, most] = HOME_FLOOR_KN_M2.map(|load| show_pressure(load, system));
    let message = format!(
        "{loads}; the cabinet{above} stand on the same floor. Floors of homes are built for {least} to {most} spread over the room: whether yours bears this is not checked"
    );
    Finding::not_checked("floor-load", "box.outside", message)
        .with_source("EN 1991-1-1, category A, for information only")
        .with_hint("ask a structural engineer or the building's owner before you fill it; across the joists and near a bearing wall a floor bears most")
}

/// What has no known mass comes on top of all this: equipment without a weight, and small parts.
fn unknown(weight: &Weight, file: &File, design: &Design) -> Option<Finding> {
    let things = file.equipment.iter().enumerate().filter(|(_, thing)| thing.weight.is_none());
    let (places, names): (Vec<usize>, Vec<&str>) =
        things.map(|(i, thing)| (i, thing.name.as_str())).unzip();
    let small: Vec<&str> =
        weight.unknown.iter().map(String::as_str).filter(|n| !is_equipment(n, design)).collect();
    let what = match (names.is_empty(), small.len()) {
        (true, 0) => return None,
        (true, _) => small.join(", "),
        (false, 0) => names.join(", "),
        (false, 1) => format!("{}, and one kind of small part", names.join(", ")),
        (false, n) => format!("{}, and {n} kinds of small parts", names.join(", ")),
    };
    let message = format!(
        "not known, and so not in any weight, is the mass of {what}; in the water each counts as the water in its place"
    );
    let (parameter, hint) = match places.first() {
        Some(first) => (format!("equipment[{first}]"), "give each its `weight`"),
        None => ("equipment".to_owned(), "weigh them, if the last kilogram matters"),
    };
    Some(Finding::not_checked("weight-unknown", parameter, message).with_hint(hint))
}

/// Whether a name of what has no known mass, `drain main` or `2 × heater`, is that of a piece of equipment.
fn is_equipment(name: &str, design: &Design) -> bool {
    let of_piece = |piece: &design::Piece| {
        let before = name.strip_suffix(piece.name.as_str());
        before.is_some_and(|before| before.is_empty() || before.ends_with(" × "))
    };
    design.pieces.iter().any(|piece| piece.role == Role::Equipment && of_piece(piece))
}

/// It stands as long as its centre of gravity is within its footprint.
fn tips(weight: &Weight, file: &File, design: &Design) -> Option<Finding> {
    let states =
        [("carried in and set down", &weight.carried), ("dry with all in it", &weight.dry)];
    let outside = design.outside;
    let worst = states
        .into_iter()
        .filter(|(_, state)| state.total_kg() > 0.0)
        .map(|(words, state)| {
            let at = state.centre_mm.truncate();
            let land = at.min(outside.truncate() - at).min_element();
            (words, land)
        })
        .min_by(|a, b| a.1.total_cmp(&b.1))?;
    let (words, land) = worst;
    if land > 0.0 {
        return None;
    }
    let show = units::Length::mm(-land).show(file.report.system());
    let message =
        format!("{words}, its centre of gravity lies {show} beside its footprint: it tips");
    Some(
        Finding::fails("tips-over", "box.outside", message)
            .with_limit(land, 0.0, "mm")
            .with_hint("move heavy equipment inwards, or take it out before you set the sump down"),
    )
}

fn show_kg(kg: f64, system: System) -> String {
    // Nobody weighs a sump to 10 g.
    let unit = match system {
        System::Metric => 1.0,
        System::UsCustomary => KG_PER_LB,
    };
    let step = if kg < 100.0 { 0.1 * unit } else { unit };
    Mass::kg((kg / step).round() * step).show(system)
}

fn show_pressure(kn_m2: f64, system: System) -> String {
    match system {
        System::Metric => format!("{kn_m2:.1} kN/m²"),
        System::UsCustomary => format!("{:.0} lbf/ft²", kn_m2 * PSF_PER_KN_M2),
    }
}

#[cfg(test)]
mod tests;
