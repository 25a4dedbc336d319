//! Socks on their holes, and printed rings in theirs.

use design::{JointKind, PlacedId, Role};
use glam::DVec3;

use super::channel::partners;
use super::parts::{Causes, one_cause};
use super::round::{hole_radius_mm, turned, widest, widest_above};
use super::{Stack, StackCode, Subject};

/// What a sewn sock differs by from what it is sold as, on the radius, mm; our judgement.
const SEWN_MM: f64 = 1.0;
/// A flange must lie on by so much all round, mm; our judgement.
const LIES_MM: f64 = 1.0;

pub(super) fn stacks(causes: &Causes<'_>) -> Vec<Stack> {
    let design = causes.design;
    let of_role = |wanted: Role| {
        let role =
            move |placed: &PlacedId| design.pieces[design.placed[*placed].piece].role == wanted;
        (0..design.placed.len()).filter(role)
    };
    let rings = of_role(Role::SockRing).filter_map(|ring| ring_fits(causes, ring));
    let socks = of_role(Role::Sock).filter_map(|sock| sits(causes, sock));
    rings.chain(socks).collect()
}

/// The sock's flange on its ring or its bare hole, the bag pushed to one side.
fn sits(causes: &Causes<'_>, sock: PlacedId) -> Option<Stack> {
    let design = causes.design;
    let placed = &design.placed[sock];
    let on = partners(design, sock, JointKind::Rests).next()?;
    let profile = turned(design, placed)?;
    let (flange, _) = widest(profile);
    let low = profile.extent().1[0];
    let at_low = profile.profile.iter().filter(|p| p.y <= low + 1e-6);
    let bag = at_low.map(|p| p.x).reduce(f64::max)?;
    let is_ring = design.pieces[design.placed[on].piece].role == Role::SockRing;
    let (hole, edge) = if is_ring {
        let bore = turned(design, &design.placed[on])?.profile.iter().map(|p| p.x);
        (bore.reduce(f64::min)?, causes.printed_width("bore of the printed ring"))
    } else {
        let middle = placed.pose.transform_point3(DVec3::ZERO);
        let mut part = causes.cut(on, "hole");
        // The radius counts twice: the flange lies on by less, and the bag moves by more.
        part.mm = part.mm.map(|mm| 2.0 * mm);
        (hole_radius_mm(design, on, middle)?, part)
    };
    let parts = vec![
        edge,
        one_cause("size of the bag", [-SEWN_MM, SEWN_MM]),
        one_cause("size of the flange", [-SEWN_MM, SEWN_MM]),
    ];
    let subject = Subject {
        code: StackCode::SockSits,
        words: format!("flange of {} on its hole, the bag pushed to one side", placed.name),
        parameter: placed.parameter.clone(),
    };
    Some(Stack::new(subject, flange + bag - 2.0 * hole, [Some(LIES_MM), None], parts))
}

/// The ring's spigot in the hole of the shelf.
fn ring_fits(causes: &Causes<'_>, ring: PlacedId) -> Option<Stack> {
    let design = causes.design;
    let placed = &design.placed[ring];
    let profile = turned(design, placed)?;
    let (_, top) = widest(profile);
    let spigot = widest_above(profile, top)?;
    let shelf = partners(design, ring, JointKind::Rests)
        .find(|&other| design.pieces[design.placed[other].piece].role == Role::SockHolder)?;
    let hole = hole_radius_mm(design, shelf, placed.pose.transform_point3(DVec3::ZERO))?;
    let parts = vec![
        causes.cut(shelf, "width of the hole"),
        causes.printed_width("width of the printed ring"),
    ];
    let subject = Subject {
        code: StackCode::RingFits,
        words: format!("{} in its hole", placed.name),
        parameter: placed.parameter.clone(),
    };
    Some(Stack::new(subject, 2.0 * (hole - spigot), [Some(0.0), None], parts))
}
