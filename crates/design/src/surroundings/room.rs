//! What makes it impossible to place the sump in its cabinet at all.
//!
//! Only what is certain is said here, about the box of the sump itself: bottom, walls and rim. Gaps, and
//! whatever stands in or on the sump, are measured elsewhere.

use findings::Finding;
use glam::{DVec2, DVec3, dvec2};

use super::Frame;
use crate::draft::Builder;
use crate::enclosure::Enclosure;

/// Room shared by less than this, mm, is touch.
const TOUCH_MM: f64 = 0.005;

/// What stands in the cabinet, in the sump's frame.
pub(super) enum Body {
    /// A box between two corners.
    Block([DVec3; 2]),
    /// A round bar between the two ends of its middle line, its ends flat.
    Bar { ends: [DVec3; 2], radius_mm: f64 },
}

/// The sump stands within the cabinet's inside.
pub(super) fn check_place(b: &mut Builder<'_>, frame: &Frame<'_>, enclosure: &Enclosure) {
    let ([lo, hi], sump) = (frame.inside, enclosure.outside);
    let inside = hi - lo;
    let sides = [(0, "length", "long", "its far end"), (1, "width", "wide", "its back")];
    for (axis, field, word, end) in sides {
        let larger = sump[axis] - inside[axis];
        let beyond = sump[axis] - hi[axis];
        if larger > TOUCH_MM {
            let message = format!(
                "the sump is {} {word}, {} more than the cabinet inside",
                b.show(sump[axis]),
                b.show(larger)
            );
            b.find(
                Finding::fails(
                    "sump-larger-than-cabinet",
                    format!("cabinet.inside.{field}"),
                    message,
                )
                .with_limit(-larger, 0.0, "mm")
                .with_hint("take a larger cabinet or a smaller box (`box.outside`)"),
            );
        } else if beyond > TOUCH_MM {
            let message = format!("the sump stands {} out of the cabinet at {end}", b.show(beyond));
            b.find(
                Finding::fails("sump-out-of-cabinet", "cabinet.sump_at", message)
                    .with_limit(-beyond, 0.0, "mm")
                    .with_hint(format!(
                        "set it back by that, or leave `sump_at` out: it then stands in the middle of the {}",
                        b.show(inside[axis])
                    )),
            );
        }
    }
    let higher = sump.z - hi.z;
    if frame.spec.ceiling && higher > TOUCH_MM {
        let message = format!(
            "the sump, {} high{}, is {} higher than the cabinet inside",
            b.show(sump.z),
            if frame.spec.mat.to_mm() > 0.0 { " on its mat" } else { "" },
            b.show(higher)
        );
        b.find(
            Finding::fails("sump-larger-than-cabinet", "cabinet.inside.height", message)
                .with_limit(-higher, 0.0, "mm")
                .with_hint("take a higher cabinet, a thinner `mat` or a lower box (`box.outside`)"),
        );
    }
}

/// Something in the cabinet shares no room with bottom, walls and rim of the sump.
pub(super) fn check_apart(
    b: &mut Builder<'_>,
    enclosure: &Enclosure,
    body: &Body,
    name: &str,
    parameter: &str,
) {
    let hits =
        shell(enclosure).into_iter().filter_map(|(part, room)| Some((part, depth(body, room)?)));
    let Some((part, deep)) = hits.max_by(|a, b| a.1.total_cmp(&b.1)) else { return };
    let message = format!("{name} reaches {} into the {part} of the sump", b.show(deep));
    b.find(
        Finding::fails("cabinet-in-sump", parameter, message)
            .with_limit(-deep, 0.0, "mm")
            .with_hint("move it, or the sump with `cabinet.sump_at`"),
    );
}

/// Bottom, walls and rim as boxes; the rounding of the rim's openings is left out.
fn shell(enclosure: &Enclosure) -> Vec<(&'static str, [DVec3; 2])> {
    let size = enclosure.outside;
    let (outer, [lo, hi]) = (size.truncate(), enclosure.inside);
    let upright =
        |a: DVec2, c: DVec2| [a.extend(enclosure.floor_z), c.extend(enclosure.wall_top_z)];
    let mut all = vec![
        ("bottom", [DVec3::ZERO, size.with_z(enclosure.floor_z)]),
        ("front wall", upright(DVec2::ZERO, dvec2(outer.x, lo.y))),
        ("back wall", upright(dvec2(0.0, hi.y), outer)),
        ("inlet end wall", upright(DVec2::ZERO, dvec2(lo.x, outer.y))),
        ("far end wall", upright(dvec2(hi.x, 0.0), outer)),
    ];
    let (Some(_), [first, .., last] | [first @ last]) =
        (enclosure.rim, enclosure.rim_openings.as_slice())
    else {
        return all;
    };
    let level = |a: DVec2, c: DVec2| ("rim", [a.extend(enclosure.wall_top_z), c.extend(size.z)]);
    all.push(level(DVec2::ZERO, dvec2(outer.x, first[0].y)));
    all.push(level(dvec2(0.0, first[1].y), outer));
    all.push(level(DVec2::ZERO, dvec2(first[0].x, outer.y)));
    all.push(level(dvec2(last[1].x, 0.0), outer));
    let braces = enclosure.rim_openings.windows(2);
    all.extend(braces.map(|w| level(dvec2(w[0][1].x, 0.0), dvec2(w[1][0].x, outer.y))));
    all
}

/// How deep a body reaches into a box, mm, where it certainly does.
fn depth(body: &Body, [lo, hi]: [DVec3; 2]) -> Option<f64> {
    let deep = match *body {
        Body::Block([a, c]) => (c.min(hi) - a.max(lo)).min_element(),
        Body::Bar { ends: [from, to], radius_mm } => {
            let along = to - from;
            let near = |p: DVec3| p.clamp(lo, hi);
            let t = nearest(|t| {
                let p = from + t * along;
                p.distance_squared(near(p))
            });
            let p = from + t * along;
            let q = near(p);
            // The nearest point of the box lies in the bar, unless it lies beyond the bar's flat end.
            let at = (q - from).dot(along) / along.length_squared();
            if !(0.0..=1.0).contains(&at) {
                return None;
            }
            radius_mm - p.distance(q)
        }
    };
    (deep > TOUCH_MM).then_some(deep)
}

/// Where a convex function is least between 0 and 1, by thirds: far below a micrometre over any cabinet.
fn nearest(f: impl Fn(f64) -> f64) -> f64 {
    let (mut lo, mut hi) = (0.0, 1.0);
    for _ in 0..100 {
        let (a, b) = (lo + (hi - lo) / 3.0, hi - (hi - lo) / 3.0);
        if f(a) <= f(b) {
            hi = b;
        } else {
            lo = a;
        }
    }
    0.5 * (lo + hi)
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec3;

    const BLOCK: [DVec3; 2] = [DVec3::ZERO, dvec3(100.0, 50.0, 10.0)];

    /// A bar from one point to another, and how deep it must reach into the block.
    #[track_caller]
    fn check(from: DVec3, to: DVec3, expected: Option<f64>) {
        let deep = depth(&Body::Bar { ends: [from, to], radius_mm: 8.0 }, BLOCK);
        match (deep, expected) {
            (Some(deep), Some(expected)) => assert!((deep - expected).abs() < 1e-6, "{deep}"),
            _ => assert_eq!(deep.is_some(), expected.is_some(), "{deep:?}"),
        }
    }

    #[test]
    fn a_bar_reaches_in_by_its_radius_less_its_distance() {
        // Upright beside a face, level above it, slanting over an edge at a distance of √(3² + 4²).
        check(dvec3(-5.0, 20.0, -90.0), dvec3(-5.0, 20.0, 90.0), Some(3.0));
        check(dvec3(-90.0, 20.0, 16.0), dvec3(200.0, 20.0, 16.0), Some(2.0));
        check(dvec3(-90.0, -3.0, 14.0), dvec3(200.0, -3.0, 14.0), Some(3.0));
        check(dvec3(-9.0, 20.0, -90.0), dvec3(-9.0, 20.0, 90.0), None);
    }

    #[test]
    fn a_bar_that_ends_before_a_face_does_not_touch_it() {
        // Its flat end stands 5 mm above, though a ball of its radius there would reach in.
        check(dvec3(50.0, 20.0, 15.0), dvec3(50.0, 20.0, 90.0), None);
        check(dvec3(50.0, 20.0, 9.0), dvec3(50.0, 20.0, 90.0), Some(8.0));
    }

    #[test]
    fn blocks_reach_in_by_the_least_of_what_they_share() {
        let deep = depth(&Body::Block([dvec3(90.0, 10.0, 4.0), dvec3(130.0, 20.0, 99.0)]), BLOCK);
        assert!(deep.is_some_and(|deep| (deep - 6.0).abs() < 1e-12));
        assert!(
            depth(&Body::Block([dvec3(100.0, 0.0, 0.0), dvec3(120.0, 9.0, 9.0)]), BLOCK).is_none()
        );
    }
}
