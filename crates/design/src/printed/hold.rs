//! What fittings hold or carry: a pipe in its clip, a probe in its holder, a skimmer on its feet. These touch by design.

use findings::Finding;
use fittings::{Holds, Kind};
use glam::{DVec3, Vec3Swizzles};
use params::EquipmentKind;
use plate::Shape;

use crate::draft::{Builder, Draft, DraftId};
use crate::frame::bounds;
use crate::model::{JointKind, Role};
use crate::removables::index_in;
use crate::tolerance::written_up;

/// What stands this near above a foot stands on it, mm: less than a layer, read off a ruler.
const STANDS_MM: f64 = 0.5;

/// Joins fittings to the pipes and equipment that they hold, once all have their places.
pub(crate) fn hold(b: &mut Builder<'_>) {
    let is_fitting = |d: &Draft| d.role == Role::Fitting && !d.is_only_made;
    let is_held = |d: &Draft| matches!(d.role, Role::DrainPipe | Role::Equipment);
    let ids = |wanted: &dyn Fn(&Draft) -> bool| -> Vec<DraftId> {
        (0..b.drafts.len()).filter(|&id| wanted(&b.drafts[id])).collect()
    };
    let (fittings, things) = (ids(&is_fitting), ids(&is_held));
    for fitting in fittings {
        let Some(holds) = kind(b, fitting).and_then(|kind| kind.stand.holds) else { continue };
        for &thing in &things {
            match holds {
                Holds::Upright if stands_in(&b.drafts[thing], &b.drafts[fitting]) => {
                    b.touch(JointKind::Slides, thing, fitting);
                }
                Holds::OnTop if stands_on(&b.drafts[thing], &b.drafts[fitting]) => {
                    b.touch(JointKind::Rests, thing, fitting);
                }
                Holds::Upright | Holds::OnTop => {}
            }
        }
    }
    idle_feet(b);
}

/// Whether it is a fitting that something stands on.
pub(crate) fn carries(b: &Builder<'_>, fitting: DraftId) -> bool {
    let is_fitting = b.drafts[fitting].role == Role::Fitting && !b.drafts[fitting].is_only_made;
    is_fitting && kind(b, fitting).and_then(|kind| kind.stand.holds) == Some(Holds::OnTop)
}

/// Height above the inside of the bottom of the uppermost of a stack of feet, mm.
pub(crate) fn stand_mm(b: &Builder<'_>, foot: DraftId) -> Option<f64> {
    let parameter = &b.drafts[foot].parameter;
    let is_of_stack = |d: &&Draft| !d.is_only_made && d.parameter == *parameter;
    let top = b.drafts.iter().filter(is_of_stack).map(|d| room(d)[1].z).reduce(f64::max)?;
    let bottom = b.drafts.iter().find(|draft| draft.role == Role::Bottom)?;
    Some(top - room(bottom)[1].z)
}

/// Feet that carry nothing while a skimmer stands in their chamber: feet do not lift it by themselves.
fn idle_feet(b: &mut Builder<'_>) {
    let rests = |b: &Builder<'_>, id: DraftId| {
        b.joints.iter().any(|j| j.kind == JointKind::Rests && j.b == id && is_thing(b, j.a))
    };
    let feet: Vec<DraftId> = (0..b.drafts.len()).filter(|&id| carries(b, id)).collect();
    let used: Vec<&str> = feet
        .iter()
        .filter(|&&id| rests(b, id) || stands_in_the_way(b, id))
        .map(|&id| b.drafts[id].parameter.as_str())
        .collect();
    let idle = feet.iter().filter(|&&id| !used.contains(&b.drafts[id].parameter.as_str()));
    let mut told: Vec<Finding> = Vec::new();
    for &id in idle {
        let Some(finding) = idle_foot(b, id) else { continue };
        if !told.iter().any(|earlier| earlier.hint == finding.hint) {
            told.push(finding);
        }
    }
    told.into_iter().for_each(|finding| b.find(finding));
}

fn idle_foot(b: &Builder<'_>, foot: DraftId) -> Option<Finding> {
    let draft = &b.drafts[foot];
    let chamber = b.file.fitting.get(index_in(&draft.parameter, "fitting")?)?.chamber.as_ref()?;
    let is_its = |thing: &&params::Equipment| {
        thing.kind == EquipmentKind::Skimmer && thing.chamber == *chamber
    };
    let skimmer = b.file.equipment.iter().find(is_its)?;
    let height_mm = stand_mm(b, foot)?;
    let message = format!(
        "nothing stands on `{}`, {} high: `{}` in the same chamber stands at {}",
        draft.name,
        b.show(height_mm),
        skimmer.name,
        b.show(skimmer.stand.to_mm())
    );
    let stand = written_up(height_mm, b.file.report.system());
    let hint = format!(
        "give the skimmer `{}` its `stand = {stand}`, and an `at` that lies over the feet: feet lift nothing by themselves",
        skimmer.name
    );
    let finding = Finding::tight("feet-carry-nothing", &draft.parameter, message);
    Some(finding.with_hint(hint))
}

fn is_thing(b: &Builder<'_>, id: DraftId) -> bool {
    b.drafts[id].role == Role::Equipment
}

/// Whether equipment reaches into a foot: that is told as room that they share.
fn stands_in_the_way(b: &Builder<'_>, foot: DraftId) -> bool {
    let [lo, hi] = room(&b.drafts[foot]);
    let shares = |thing: &Draft| {
        let [low, high] = room(thing);
        thing.role == Role::Equipment && (hi.min(high) - lo.max(low)).min_element() > 0.0
    };
    b.drafts.iter().any(shares)
}

fn kind(b: &Builder<'_>, fitting: DraftId) -> Option<&'static Kind> {
    let i = index_in(&b.drafts[fitting].parameter, "fitting")?;
    Kind::named(&b.file.fitting.get(i)?.kind)
}

fn room(draft: &Draft) -> [DVec3; 2] {
    bounds(&draft.shape, &draft.pose)
}

/// Whether an upright round thing goes through a fitting: its axis passes within the box around that.
fn stands_in(thing: &Draft, fitting: &Draft) -> bool {
    let ([lo, hi], [low, high]) = (room(fitting), room(thing));
    let axis = thing.pose.translation;
    let is_upright = thing.pose.matrix3.z_axis.z.abs() > 0.5;
    matches!(thing.shape, Shape::Turned(_))
        && is_upright
        && axis.xy().cmpgt(lo.xy()).all()
        && axis.xy().cmplt(hi.xy()).all()
        && low.z < hi.z
        && high.z > lo.z
}

/// Whether a thing stands on the upper end of a fitting.
fn stands_on(thing: &Draft, fitting: &Draft) -> bool {
    let ([lo, hi], [low, high]) = (room(fitting), room(thing));
    let shared = hi.xy().min(high.xy()) - lo.xy().max(low.xy());
    (low.z - hi.z).abs() <= STANDS_MM && shared.min_element() > 0.0
}
