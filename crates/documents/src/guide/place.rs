//! Where parts are, which way they go and from where they are fed, in words.

use design::{Design, PlacedId, Role};
use glam::DVec3;
use shop::glue_up::{FedSeam, Step, StepPlace, lying};
use units::Length;

/// What of the box lies on the bench, in words.
pub(super) fn rest(design: &Design, step: &Step, down: DVec3, is_on_blocks: bool) -> String {
    if step.place == StepPlace::Bench {
        let host = step.standing.first().map_or("", |&id| design.placed[id].name.as_str());
        return if is_on_blocks {
            format!(
                "{host} turned over, flat on blocks of one height that are taller than what is glued below"
            )
        } else {
            format!("{host} flat on the bench")
        };
    }
    lying(down).to_owned()
}

/// Onto what of it the box is turned, in words.
pub(super) fn onto(down: DVec3) -> &'static str {
    match down.as_ivec3().to_array() {
        [0, 0, -1] => "onto its bottom",
        [0, 0, 1] => "upside down",
        [0, -1, 0] => "onto its front",
        [0, 1, 0] => "onto its back",
        [-1, 0, 0] => "onto its inlet end",
        _ => "onto its far end",
    }
}

/// Which way a part goes in, in words.
pub(super) fn way(step: &Step) -> &'static str {
    let Some(way) = step.way else { return "no straight way in is free: try it dry first" };
    if step.place == StepPlace::Bench {
        return "laid on from above";
    }
    match way.as_ivec3().to_array() {
        [0, 0, -1] => "lowered straight down from above",
        [0, -1, 0] => "pushed in level towards the front",
        [0, 1, 0] => "pushed in level towards the back",
        [-1, 0, 0] => "pushed in level towards the inlet end",
        _ => "pushed in level towards the far end",
    }
}

/// Least and greatest corner of a part.
pub(super) fn bounds(design: &Design, id: PlacedId) -> [DVec3; 2] {
    let placed = &design.placed[id];
    let [lo, hi] = design.pieces[placed.piece].shape.bounds();
    let (p, q) = (placed.pose.transform_point3(lo), placed.pose.transform_point3(hi));
    [p.min(q), p.max(q)]
}

/// Where a new part sits: on a wall or leaf by its edges, in the box from the inside of its walls. Walls and the rim need
/// no measure.
pub(super) fn measures(design: &Design, step: &Step) -> Vec<String> {
    let show = |mm: f64| Length::mm(mm).show(design.report);
    match step.place {
        StepPlace::Bench => {
            let Some(&host) = step.standing.first() else { return Vec::new() };
            let [lo, hi] = bounds(design, host);
            let on = |&id: &PlacedId| {
                let [a, _] = bounds(design, id);
                let size = hi - lo;
                // Along the face: the two axes in which the host is large.
                let thin = (0..3).min_by(|&i, &j| size[i].total_cmp(&size[j])).unwrap_or(0);
                let named = [
                    "its edge towards the inlet end",
                    "its edge towards the front",
                    "its lower edge",
                ];
                let far: Vec<String> = (0..3)
                    .filter(|&k| k != thin)
                    .map(|k| format!("{} from {}", show(a[k] - lo[k]), named[k]))
                    .collect();
                format!("{}: {}", design.placed[id].name, far.join(", "))
            };
            step.parts.iter().map(on).collect()
        }
        StepPlace::Box => step.parts.first().map_or(Vec::new(), |&id| in_box(design, id)),
    }
}

/// A leaf, or a small part, by the inside of the walls.
fn in_box(design: &Design, id: PlacedId) -> Vec<String> {
    let role = design.pieces[design.placed[id].piece].role;
    if matches!(role, Role::Wall | Role::Rim | Role::Bottom) {
        return Vec::new();
    }
    let show = |mm: f64| Length::mm(mm).show(design.report);
    let inside = fit::inside_corner(design);
    let [lo, hi] = bounds(design, id);
    let size = hi - lo;
    let mut told = Vec::new();
    if size.x <= size.y {
        told.push(format!(
            "its face towards the inlet end {} from the inside of that wall",
            show(lo.x - inside.x)
        ));
    }
    if size.y < size.x {
        told.push(format!(
            "its face towards the front {} from the inside of that wall",
            show(lo.y - inside.y)
        ));
    }
    if lo.z - inside.z > 0.5 {
        told.push(format!(
            "its lower edge {} above the bottom: set it on blocks of that height",
            show(lo.z - inside.z)
        ));
    }
    told
}

/// The clear width between two alike strips next to each other, mm, where a leaf slides.
pub(super) fn channel(design: &Design, step: &Step) -> Option<f64> {
    let is_strip = |id: &PlacedId| design.pieces[design.placed[*id].piece].role == Role::GuideStrip;
    let [first, second] = step.parts[..] else { return None };
    if !(is_strip(&first) && is_strip(&second)) {
        return None;
    }
    let ([a, b], [c, d]) = (bounds(design, first), bounds(design, second));
    let gap = (c.max(a) - b.min(d)).max_element();
    (gap > 0.5).then_some(gap)
}

/// From which side a seam is fed, in words.
pub(super) fn fed_from(design: &Design, step: &Step, seam: &FedSeam) -> String {
    /// So far from the seam it is clear in which space one is, mm.
    const OFF_MM: f64 = 25.0;
    if step.place == StepPlace::Bench {
        return "beside it, along its long edge".to_owned();
    }
    let is_inside = |p: DVec3| p.cmpgt(DVec3::ZERO).all() && p.cmplt(design.outside).all();
    // A quarter from either end: the corners lie in no chamber.
    let along = |share: f64| seam.ends[0].lerp(seam.ends[1], share) + seam.from * OFF_MM;
    let [a, b] = [along(0.25), along(0.75)];
    if !is_inside(a) {
        return "outside".to_owned();
    }
    let chamber = |at: DVec3| {
        let at = at.truncate();
        let holds = |c: &&design::Chamber| c.min.cmple(at).all() && at.cmple(c.max).all();
        design.chambers.iter().find(holds).map(|c| c.name.as_str())
    };
    match (chamber(a), chamber(b)) {
        (Some(a), Some(b)) if a == b => format!("inside, in {a}"),
        _ => "inside".to_owned(),
    }
}
