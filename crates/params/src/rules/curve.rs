//! A pump's curve: its order, its units, and what else the file says of the same pump.

use findings::Finding;
use units::{Flow, Length};

use super::{At, Rules, each};
use crate::words::quoted;
use crate::{CurvePoint, Equipment, EquipmentKind};

/// The least that a greatest head can be: the bound of `head`.
const LEAST_HEAD: Length = Length::mm(50.0);
/// Whose curve ends below this and begins above that was probably read off in m³/h. Our judgement: the
/// smallest pumps for aquaria move 100 to 200 L/h and lift to about half a metre.
const LEAST_FLOW: Flow = Flow::l_per_h(50.0);
const HIGH: Length = Length::mm(500.0);
/// By more than this share two statements about one pump disagree. Our judgement: data sheets round to
/// a few percent, and points are read off to a few more.
const ALIKE: f64 = 0.1;

pub(super) fn check(rules: &mut Rules<'_>) {
    for equipment in each("equipment", &rules.file.equipment) {
        let path = equipment.key("curve");
        let points: Vec<_> = each(&path, &equipment.value.curve).collect();
        if !in_order(rules, &path, &points) || equipment.value.kind != EquipmentKind::Pump {
            continue;
        }
        let (Some(first), Some(last)) = (points.first(), points.last()) else { continue };
        let read = [path.as_str(), &equipment.key("kind")];
        if head_in_metres(rules, first, &read) || flow_in_cubic_metres(rules, first, last, &read) {
            continue;
        }
        as_extremes(rules, &equipment, [first, last], &read);
    }
}

/// Along a pump's curve the flow rises and the head falls.
fn in_order(rules: &mut Rules<'_>, path: &str, points: &[At<'_, CurvePoint>]) -> bool {
    for (before, point) in points.iter().zip(points.iter().skip(1)) {
        let (from, to) = (before.value, point.value);
        let (key, message) = if to.flow <= from.flow {
            let show = |flow: Flow| flow.show(rules.file.report.system());
            let [from, to] = [from, to].map(|point| show(point.flow));
            ("flow", format!("the flow goes from {from} to {to}, but it must rise along the curve"))
        } else if to.head >= from.head {
            let [from, to] = [from, to].map(|point| rules.show(point.head));
            ("head", format!("the head goes from {from} to {to}, but it must fall along the curve"))
        } else {
            continue;
        };
        let finding = Finding::fails("curve-order", point.key(key), message).with_hint(
            "write the points from the least flow to the greatest, as read off the data sheet",
        );
        rules.add(&[path], finding);
        return false;
    }
    true
}

/// The greatest head has the bounds of `head`; below them it was meant in another unit.
fn head_in_metres(rules: &mut Rules<'_>, first: &At<'_, CurvePoint>, read: &[&str]) -> bool {
    let head = first.value.head;
    if LEAST_HEAD <= head {
        return false;
    }
    let path = first.key("head");
    let message = format!(
        "the greatest `head` of the curve is {}, but it must be at least {}",
        rules.show(head),
        rules.show(LEAST_HEAD)
    );
    let finding = Finding::fails("out-of-range", &path, message)
        .with_limit(head.to_mm(), LEAST_HEAD.to_mm(), "mm")
        .with_hint(format!(
            "a number without a unit is in mm; with one it stands in quotes, such as `\"{} m\"`",
            head.to_mm()
        ));
    rules.add(read, finding);
    true
}

/// Hardly any flow from a pump that lifts high: perhaps cubic metres.
fn flow_in_cubic_metres(
    rules: &mut Rules<'_>,
    first: &At<'_, CurvePoint>,
    last: &At<'_, CurvePoint>,
    read: &[&str],
) -> bool {
    let (flow, head) = (last.value.flow, first.value.head);
    if LEAST_FLOW <= flow || head <= HIGH {
        return false;
    }
    let path = last.key("flow");
    let flow = flow.to_l_per_h();
    let message = format!(
        "the greatest flow of the curve is only {flow} L/h, though the pump lifts water {} high",
        rules.show(head)
    );
    let finding = Finding::tight("curve-flow", &path, message)
        .with_limit(flow, LEAST_FLOW.to_l_per_h(), "L/h")
        .with_source("our judgement: the smallest aquarium pumps move 100 to 200 L/h")
        .with_hint(format!(
            "is it in m³/h? a number without a unit is in L/h; write `\"{flow} m3/h\"`, and so for every point"
        ));
    rules.add(read, finding);
    true
}

/// `flow` and `head` stand in for a curve; beside one they must say the same. Where the curve does not
/// reach to an axis, the extreme lies beyond its last point there.
fn as_extremes(
    rules: &mut Rules<'_>,
    equipment: &At<'_, Equipment>,
    [first, last]: [&At<'_, CurvePoint>; 2],
    read: &[&str],
) {
    let system = rules.file.report.system();
    let pump = equipment.value;
    let extremes = [
        (
            "head",
            pump.head.map(|head| (head.to_mm(), rules.show(head))),
            (first.value.head.to_mm(), rules.show(first.value.head)),
            first.value.flow <= Flow::l_per_h(0.0),
        ),
        (
            "flow",
            pump.flow.map(|flow| (flow.to_l_per_h(), flow.show(system))),
            (last.value.flow.to_l_per_h(), last.value.flow.show(system)),
            last.value.head <= Length::ZERO,
        ),
    ];
    for (key, said, (of_curve, shown), reaches_axis) in extremes {
        let Some((said, said_shown)) = said else { continue };
        let is_less = said < (1.0 - ALIKE) * of_curve;
        let is_more = reaches_axis && (1.0 + ALIKE) * of_curve < said;
        if !is_less && !is_more {
            continue;
        }
        let path = equipment.key(key);
        let to = if reaches_axis { "goes to" } else { "goes at least to" };
        let message = format!(
            "the greatest {key} of {} is {said_shown}, but its curve {to} {shown}; the curve counts",
            quoted(&pump.name)
        );
        let finding = Finding::tight("curve-disagrees", &path, message)
            .with_source("our judgement: 10 % cover the rounding of data sheets")
            .with_hint(format!("correct `{key}` or `curve`, or delete `{key}`"));
        let read: Vec<_> = read.iter().copied().chain([path.as_str()]).collect();
        rules.add(&read, finding);
    }
}
