//! What is bought and put in, each in itself: its body, and what only some kinds have.

use findings::Finding;
use units::Length;

use super::{At, Rules, bodies, each};
use crate::words::quoted;
use crate::{Cylinder, Equipment, EquipmentKind};

pub(super) fn check(rules: &mut Rules<'_>) {
    for equipment in each("equipment", &rules.file.equipment) {
        let body = equipment.value;
        one_body(rules, &equipment.path, "this equipment", body.block, body.cylinder);
        bodies::check(rules, &equipment);
        of_its_kind(rules, &equipment);
        if let (Some(intake), Some((key, height))) =
            (equipment.value.intake, height(equipment.value))
        {
            let what = "the intake is not below the top of its body";
            rules.smaller([(equipment.key("intake"), intake), (equipment.key(key), height)], what);
        }
        if let Some(depth) = equipment.value.depth {
            let system = rules.file.report.system();
            let show = |mm| Length::mm(mm).show_fine(system);
            let path = equipment.key("depth");
            rules.in_order(&path, depth.map(Length::to_mm), "depth", show);
        }
    }
}

/// Equipment, and each part of it, is a box or a cylinder.
pub(super) fn one_body(
    rules: &mut Rules<'_>,
    path: &str,
    this: &str,
    block: Option<[Length; 3]>,
    cylinder: Option<Cylinder>,
) {
    let what = match (block, cylinder) {
        (None, None) => "neither",
        (Some(_), Some(_)) => "both",
        _ => return,
    };
    if rules.gaps.knows_keys(path, &["box", "cylinder"]) {
        let message =
            format!("{this} has {what} of `box` and `cylinder`, but exactly one is needed");
        let hint = "write `box = [along, front to back, upwards]` or `cylinder = { diameter = …, height = … }`";
        rules.add(&[], Finding::fails("not-one", path, message).with_hint(hint));
    }
}

/// Height of the body, and the key that says it.
pub(super) fn height(equipment: &Equipment) -> Option<(&'static str, Length)> {
    match (equipment.block, equipment.cylinder) {
        (Some([.., height]), None) => Some(("box", height)),
        (None, Some(cylinder)) => Some(("cylinder", cylinder.height)),
        _ => None,
    }
}

/// What a pump or a skimmer has, nothing else does.
fn of_its_kind(rules: &mut Rules<'_>, equipment: &At<'_, Equipment>) {
    let thing = equipment.value;
    let of_pumps = [
        ("flow", thing.flow.is_some()),
        ("head", thing.head.is_some()),
        ("curve", !thing.curve.is_empty()),
        ("intake", thing.intake.is_some()),
        ("intake_diameter", thing.intake_diameter.is_some()),
    ];
    let of_skimmers =
        [("depth", thing.depth.is_some()), ("cup_overflow", thing.cup_overflow.is_some())];
    for (kind, word, keys) in [
        (EquipmentKind::Pump, "pump", of_pumps.as_slice()),
        (EquipmentKind::Skimmer, "skimmer", &of_skimmers),
    ] {
        if thing.kind == kind {
            continue;
        }
        for (key, _) in keys.iter().filter(|(_, is_given)| *is_given) {
            let message =
                format!("{} is no {word}, so its `{key}` is not used", quoted(&thing.name));
            let hint = format!("delete it, or write `kind = \"{word}\"`");
            rules.no_effect(&equipment.key(key), &[&equipment.key("kind")], message, &hint);
        }
    }
}
