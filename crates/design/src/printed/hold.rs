//! What fittings hold or carry: a pipe in its clip, a probe in its holder, a skimmer on its feet. These touch by design.

use glam::{DVec3, Vec3Swizzles};
use plate::Shape;

use super::stand;
use crate::draft::{Builder, Draft, DraftId};
use crate::frame::bounds;
use crate::model::{JointKind, Role};
use crate::removables::index_in;

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
        let Some(holds) = kind(b, fitting).and_then(stand::holds) else { continue };
        for &thing in &things {
            match holds {
                stand::Holds::Upright if stands_in(&b.drafts[thing], &b.drafts[fitting]) => {
                    b.touch(JointKind::Slides, thing, fitting);
                }
                stand::Holds::OnTop if stands_on(&b.drafts[thing], &b.drafts[fitting]) => {
                    b.touch(JointKind::Rests, thing, fitting);
                }
                _ => {}
            }
        }
    }
}

fn kind<'a>(b: &Builder<'a>, fitting: DraftId) -> Option<&'a str> {
    let i = index_in(&b.drafts[fitting].parameter, "fitting")?;
    Some(b.file.fitting.get(i)?.kind.as_str())
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
