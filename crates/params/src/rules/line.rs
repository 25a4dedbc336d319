//! Drains and return lines: their heights against the display's, their pumps, and what only some have.

use std::collections::BTreeMap;

use findings::Finding;
use units::Length;

use super::display::{BOX_DEPTH, CREST_HEIGHT, INSIDE_HEIGHT};
use super::equipment::height;
use super::{At, Rules, each};
use crate::words::{listed, quoted};
use crate::{Display, DrainAbove, DrainDuty, DrainPipe, Equipment, EquipmentKind, ReturnLine};

pub(super) const STANDS: &str = "display.stands";

pub(super) fn check(rules: &mut Rules<'_>) {
    for drain in each("drain", &rules.file.drain) {
        self::drain(rules, &drain);
        drain_through(rules, &drain);
        drain_above(rules, &drain);
        match &rules.file.display {
            Some(display) => drain_from(rules, &drain, display),
            None => drain_from_nowhere(rules, &drain),
        }
    }
    one_drain_a_fitting(rules);
    for line in each("return_line", &rules.file.return_line) {
        return_line(rules, &line);
    }
}

/// A pipe has a bore and a length, and a valve if it is set by one.
fn drain(rules: &mut Rules<'_>, drain: &At<'_, DrainPipe>) {
    if let Some(wall) = drain.value.wall {
        rules.larger(
            [(drain.key("diameter"), drain.value.diameter), (drain.key("wall"), wall * 2.0)],
            "the two walls leave no bore",
        );
    }
    if let Some(top) = drain.value.top {
        let what = "the pipe's upper end is not above its lower end";
        rules.larger([(drain.key("top"), top), (drain.key("end"), drain.value.end)], what);
    }
    if drain.value.valve.is_some() && drain.value.duty != DrainDuty::Main {
        let message =
            format!("{} is no main drain, so it runs without a valve", quoted(&drain.value.name));
        let hint = "delete it, or write `duty = \"main\"`";
        rules.no_effect(&drain.key("valve"), &[&drain.key("duty")], message, hint);
    }
}

/// Only a cabinet is looked at for what comes down in it.
fn drain_above(rules: &mut Rules<'_>, drain: &At<'_, DrainPipe>) {
    let is_used = drain.value.above == DrainAbove::default() || drain.value.through.is_some();
    if is_used || rules.file.cabinet.is_some() || !rules.gaps.knows_keys("", &["cabinet"]) {
        return;
    }
    let message = "the file has no `[cabinet]`, so `above` is not used".to_owned();
    let hint = "add `[cabinet]`, with which it is checked what comes out of it, or delete it";
    rules.no_effect(&drain.key("above"), &["cabinet"], message, hint);
}

/// A drain that comes in through a wall is not a loose pipe.
fn drain_through(rules: &mut Rules<'_>, drain: &At<'_, DrainPipe>) {
    if drain.value.through.is_none() {
        return;
    }
    for (key, is_given) in [
        ("at", drain.value.at.is_some()),
        ("top", drain.value.top.is_some()),
        ("above", drain.value.above != DrainAbove::default()),
    ] {
        if is_given {
            let message =
                format!("this drain comes in through a wall fitting, so its `{key}` is not used");
            let hint = "delete it; the wall fitting says where it is";
            rules.no_effect(&drain.key(key), &[&drain.key("through")], message, hint);
        }
    }
}

/// The mouth lies in the overflow box, and the pipe runs down from it.
fn drain_from(rules: &mut Rules<'_>, drain: &At<'_, DrainPipe>, display: &Display) {
    let path = drain.key("intake");
    let crest = display.overflow.crest.height;
    let floor = crest - display.overflow.weir_box.depth;
    let Some(intake) = drain.value.intake else {
        let message = format!(
            "without the height of its upper mouth, the water in {} cannot be computed",
            quoted(&drain.value.name)
        );
        let hint = format!(
            "add `intake`, a length above the inside of the display's bottom; in the overflow box that is from {} to {}",
            rules.show(floor),
            rules.show(crest)
        );
        let finding = Finding::fails("missing-intake", &path, message).with_hint(hint);
        if rules.gaps.knows_keys(&drain.path, &["intake"]) {
            rules.add(&["display", &path], finding);
        }
        return;
    };
    if !(floor < intake && intake < crest) {
        let message = format!(
            "the mouth lies at {}, but the overflow box goes from {} to its crest at {}",
            rules.show(intake),
            rules.show(floor),
            rules.show(crest)
        );
        let within = |height: Length| floor < height && height < crest;
        let hint = from_display_bottom(rules, "move the mouth", "intake", intake, display, within);
        let finding = Finding::fails("mouth-outside", &path, message).with_hint(hint);
        return rules.add(&[&path, CREST_HEIGHT, BOX_DEPTH], finding);
    }
    let end = drain.key("end");
    let fall = display.stands + intake - drain.value.end;
    if fall <= Length::ZERO {
        let message = format!("the pipe ends {} above its mouth in the display", rules.show(-fall));
        let finding = Finding::fails("drain-upwards", &end, message)
            .with_hint("lower `end`, or correct `stands` of the display");
        return rules.add(&[&path, &end, STANDS], finding);
    }
    let run_path = drain.key("run");
    if let Some(run) = drain.value.run
        && run < fall
    {
        let finding = too_short(rules, &run_path, run, fall);
        rules.add(&[&path, &end, &run_path, STANDS], finding);
    }
}

/// Without a display nobody knows where the water comes from.
fn drain_from_nowhere(rules: &mut Rules<'_>, drain: &At<'_, DrainPipe>) {
    let is_given = [
        ("intake", drain.value.intake.is_some()),
        ("run", drain.value.run.is_some()),
        ("valve", drain.value.valve.is_some() && drain.value.duty == DrainDuty::Main),
    ];
    if !rules.gaps.knows_keys("", &["display"]) {
        return;
    }
    for (key, _) in is_given.into_iter().filter(|(_, is_given)| *is_given) {
        let message = format!("the file has no `[display]`, so `{key}` is not used");
        let hint = "add `[display]`, from which levels in flow are computed, or delete it";
        rules.no_effect(&drain.key(key), &["display"], message, hint);
    }
}

/// No two drains come in through the same fitting.
fn one_drain_a_fitting(rules: &mut Rules<'_>) {
    let mut taken: BTreeMap<&str, String> = BTreeMap::new();
    for drain in each("drain", &rules.file.drain) {
        let Some(fitting) = drain.value.through.as_deref() else { continue };
        let path = drain.key("through");
        match taken.get(fitting) {
            None => drop(taken.insert(fitting, path)),
            Some(first) => {
                let message = format!(
                    "the fitting {} is taken by {} already",
                    quoted(fitting),
                    quoted(first)
                );
                let finding = Finding::fails("fitting-taken", &path, message)
                    .with_hint("give each drain a `[[wall_fitting]]` of its own");
                rules.add(&[&path, first], finding);
            }
        }
    }
}

fn return_line(rules: &mut Rules<'_>, line: &At<'_, ReturnLine>) {
    let pump = pump(rules, line);
    let outlet = line.key("outlet");
    let mut rise_from_bottom = line.value.outlet;
    if line.value.to.is_none() {
        let Some(display) = &rules.file.display else {
            if rules.gaps.knows_keys(&line.path, &["to"]) && rules.gaps.knows_keys("", &["display"])
            {
                let message = "this line ends in the display, but the file has no `[display]`";
                let finding = Finding::fails("no-display", &line.path, message)
                    .with_hint("add `[display]`, or say with `to` in which chamber it ends");
                rules.add(&[], finding);
            }
            return;
        };
        if line.value.outlet >= display.inside.height {
            return outlet_outside(rules, line, display);
        }
        break_hole(rules, line, display);
        rise_from_bottom = rise_from_bottom + display.stands;
    }
    let Some(pump) = pump else { return };
    let Some((key, pump_height)) = height(pump.value) else { return };
    let rise = rise_from_bottom - pump.value.stand - pump_height;
    if line.value.length < rise {
        let path = line.key("length");
        let finding = too_short(rules, &path, line.value.length, rise);
        rules.add(&[&path, &outlet, STANDS, &pump.key("stand"), &pump.key(key)], finding);
    }
}

/// The outlet lies in the display, counted from its own bottom; this one does not.
fn outlet_outside(rules: &mut Rules<'_>, line: &At<'_, ReturnLine>, display: &Display) {
    let (outlet, rim) = (line.value.outlet, display.inside.height);
    let path = line.key("outlet");
    let message = format!(
        "the outlet lies at {}, but the display goes up to its rim at {}",
        rules.show(outlet),
        rules.show(rim)
    );
    let within = |height: Length| Length::ZERO <= height && height < rim;
    let hint = from_display_bottom(rules, "move the outlet", "outlet", outlet, display, within);
    let finding = Finding::fails("outlet-outside", &path, message)
        .with_limit(outlet.to_mm(), rim.to_mm(), "mm")
        .with_hint(hint);
    rules.add(&[&path, INSIDE_HEIGHT], finding);
}

/// From where heights in the display count; and what to write when one was counted from the sump's
/// bottom, from where it would lie `within`.
fn from_display_bottom(
    rules: &Rules<'_>,
    what_to_do: &str,
    key: &str,
    height: Length,
    display: &Display,
    within: impl Fn(Length) -> bool,
) -> String {
    let hint = format!("{what_to_do}; heights count from the inside of the display's bottom");
    let counted_anew = height - display.stands;
    if !within(counted_anew) {
        return hint;
    }
    format!(
        "{hint}: if this one counts from the sump's, write `{key} = \"{}\"`",
        rules.show(counted_anew)
    )
}

fn too_short(rules: &Rules<'_>, path: &str, length: Length, least: Length) -> Finding {
    let message = format!(
        "the pipe is {} long, but straight up it is already {}",
        rules.show(length),
        rules.show(least)
    );
    Finding::fails("pipe-too-short", path, message)
        .with_limit(length.to_mm(), least.to_mm(), "mm")
        .with_hint("measure along the pipe; mind the unit")
}

/// The pump of a line: it is a pump, and says what it pumps. One that is not there is reported elsewhere.
fn pump<'a>(rules: &mut Rules<'a>, line: &At<'_, ReturnLine>) -> Option<At<'a, Equipment>> {
    let mut all = each("equipment", &rules.file.equipment);
    let found = all.find(|equipment| equipment.value.name == line.value.pump)?;
    let thing = found.value;
    if thing.kind != EquipmentKind::Pump {
        let path = line.key("pump");
        let message = format!("{} is no pump", quoted(&thing.name));
        let pumps = rules.file.equipment.iter().filter(|other| other.kind == EquipmentKind::Pump);
        let pumps: Vec<_> = pumps.map(|pump| pump.name.as_str()).collect();
        let hint = if pumps.is_empty() {
            "add `[[equipment]]` with `kind = \"pump\"`".to_owned()
        } else {
            format!("the pumps of this file: {}", listed(pumps, "and"))
        };
        rules.add(
            &[&path, "equipment"],
            Finding::fails("not-a-pump", &path, message).with_hint(hint),
        );
        return None;
    }
    if thing.curve.is_empty() && (thing.flow.is_none() || thing.head.is_none()) {
        let message = format!(
            "{} has a return line, but without its curve its flow cannot be computed",
            quoted(&thing.name)
        );
        let hint =
            "add `curve = [{ flow = …, head = … }, …]`, or `flow` and `head`, from its data sheet";
        let finding = Finding::fails("no-curve", &found.path, message).with_hint(hint);
        if rules.gaps.knows_keys(&found.path, &["curve", "flow", "head"]) {
            rules.add(&[&line.key("pump"), &found.key("name"), &found.key("kind")], finding);
        }
    }
    Some(found)
}

/// The hole that lets air in lies under water, else it squirts, and above the outlet, else the outlet
/// lets air in before.
fn break_hole(rules: &mut Rules<'_>, line: &At<'_, ReturnLine>, display: &Display) {
    let Some(hole) = line.value.break_hole else { return };
    let path = line.key("break_hole");
    let crest = display.overflow.crest.height;
    if hole > crest {
        let message = format!(
            "the hole lies at {}, above the water at about {}: it squirts while the pump runs",
            rules.show(hole),
            rules.show(crest)
        );
        let finding = Finding::tight("break-hole-dry", &path, message)
            .with_limit(hole.to_mm(), crest.to_mm(), "mm")
            .with_hint("move it down, a little below the crest of the overflow");
        rules.add(&[&path, CREST_HEIGHT], finding);
    } else if hole < line.value.outlet {
        let message = format!(
            "the hole lies at {}, below the outlet at {}, where air gets in first: the hole has no effect",
            rules.show(hole),
            rules.show(line.value.outlet)
        );
        let hint = "move it above the outlet, just below the water, or delete it";
        rules.no_effect(&path, &[&line.key("outlet")], message, hint);
    }
}
