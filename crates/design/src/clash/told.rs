//! What is said of two parts that share room: where, and what to do.

use findings::Finding;
use glam::DVec3;

use crate::draft::{Builder, Draft, DraftId};
use crate::frame::bounds;
use crate::model::Role;
use crate::printed;
use crate::removables::index_in;
use crate::spaces::Layout;
use crate::tolerance::written_up;

/// Two parts that share a box of room.
pub(super) fn finding(
    b: &Builder<'_>,
    layout: &Layout,
    [i, j]: [DraftId; 2],
    [lo, hi]: [DVec3; 2],
) -> Finding {
    let (a, c) = (&b.drafts[i], &b.drafts[j]);
    // The part that is easier to move is the one to speak of: what has a spot of its own in the file first.
    let is_placed = |draft: &Draft| draft.role.is_bought() && chamber_of(b, draft).is_some();
    let is_easier = match (is_placed(a), is_placed(c)) {
        (false, true) => false,
        (true, _) => true,
        (false, false) => a.role.is_bought() || (a.loose.is_some() && c.loose.is_none()),
    };
    let (mover, other) = if is_easier { (i, j) } else { (j, i) };
    let name = |id: DraftId| {
        let draft = &b.drafts[id];
        if draft.is_spare { format!("{}, when it is in,", draft.name) } else { draft.name.clone() }
    };
    let size = hi - lo;
    let [x, y, z] = size.to_array().map(|mm| b.show(mm));
    let [along, back, up] = (0.5 * (lo + hi)).to_array().map(|mm| b.show(mm));
    let message = format!(
        "{} and {} share room: {x} × {y} × {z}, {along} from the inlet end, {back} from the front, {up} above the ground",
        name(mover),
        name(other)
    );
    let hint = on_its_feet(b, mover, other).or_else(|| on_its_feet(b, other, mover));
    let hint = hint.unwrap_or_else(|| {
        let whereabouts = whereabouts(b, layout, mover, other).unwrap_or_default();
        format!(
            "move or shrink one of them{whereabouts}; the other is given by `{}`",
            b.drafts[other].parameter
        )
    });
    Finding::fails("parts-overlap", &b.drafts[mover].parameter, message)
        .with_limit(-size.min_element(), 0.0, "mm")
        .with_hint(hint)
}

/// Equipment that stands in feet instead of on them.
fn on_its_feet(b: &Builder<'_>, thing: DraftId, foot: DraftId) -> Option<String> {
    let draft = &b.drafts[thing];
    let main = draft.part_of.map_or(draft, |main| &b.drafts[main]);
    (main.role == Role::Equipment && printed::carries(b, foot)).then(|| {
        let stand = printed::stand_mm(b, foot).map_or_else(String::new, |mm| {
            format!(" = {}", written_up(mm, b.file.report.system()))
        });
        format!(
            "give `{}` its `stand{stand}`: then it stands on `{}` and not in it",
            main.name, b.drafts[foot].name
        )
    })
}

/// Where the other one is, as `at` of what is to be moved counts in its chamber.
fn whereabouts(b: &Builder<'_>, layout: &Layout, mover: DraftId, other: DraftId) -> Option<String> {
    let name = chamber_of(b, &b.drafts[mover])?;
    let chamber = layout.chamber(name)?;
    let [lo, hi] = bounds(&b.drafts[other].shape, &b.drafts[other].pose);
    let floor_z = floor_z(b)?;
    let range = |from: f64, to: f64| format!("{} to {}", b.show(from), b.show(to));
    Some(format!(
        ": {} takes {} from the inlet side of chamber `{name}`, {} from its front and {} above the bottom, as `at` and \
         heights count there",
        b.drafts[other].name,
        range(lo.x - chamber.min.x, hi.x - chamber.min.x),
        range(lo.y - chamber.min.y, hi.y - chamber.min.y),
        range(lo.z - floor_z, hi.z - floor_z)
    ))
}

/// The chamber that the file puts something in at a spot.
fn chamber_of<'b>(b: &'b Builder<'_>, draft: &Draft) -> Option<&'b str> {
    let at = |list: &str| index_in(&draft.parameter, list);
    if let Some(drain) = at("drain").and_then(|i| b.file.drain.get(i)) {
        return Some(&drain.chamber);
    }
    if let Some(thing) = at("equipment").and_then(|i| b.file.equipment.get(i)) {
        return Some(&thing.chamber);
    }
    at("fitting").and_then(|i| b.file.fitting.get(i)?.chamber.as_deref())
}

/// Height of the inside of the bottom.
fn floor_z(b: &Builder<'_>) -> Option<f64> {
    let bottom = b.drafts.iter().find(|draft| draft.role == Role::Bottom)?;
    Some(bounds(&bottom.shape, &bottom.pose)[1].z)
}
