//! What stands in the cabinet beside the sump: mat, posts, shelves, fixtures.

use glam::{DAffine3, DVec3};
use params::CabinetFixture;
use plate::{Shape, Turned};

use super::room::{self, Body};
use super::{Frame, SurroundingKind, Things, size};
use crate::draft::Builder;
use crate::enclosure::Enclosure;
use crate::frame::pose;

pub(super) fn add(
    b: &mut Builder<'_>,
    things: &mut Things,
    frame: &Frame<'_>,
    enclosure: &Enclosure,
) {
    let mat = frame.spec.mat.to_mm();
    if mat > 0.0 {
        let corners = [-mat * DVec3::Z, enclosure.outside.with_z(0.0)];
        things.block(SurroundingKind::Mat, "mat", "cabinet.mat", corners);
    }
    posts(b, things, frame, enclosure);
    shelves(b, things, frame, enclosure);
    for (i, fixture) in frame.spec.fixture.iter().enumerate() {
        let parameter = format!("cabinet.fixture[{i}]");
        let Some(body) = fixture_body(frame, fixture) else { continue };
        room::check_apart(b, enclosure, &body, &fixture.name, &format!("{parameter}.at"));
        add_body(things, &body, &fixture.name, parameter);
    }
}

fn posts(b: &mut Builder<'_>, things: &mut Things, frame: &Frame<'_>, enclosure: &Enclosure) {
    let inside = frame.spec.inside;
    for (i, post) in frame.spec.post.iter().enumerate() {
        let ([x, y], [w, d]) = (post.at, post.size);
        let top = post.top.unwrap_or(inside.height);
        let corners = [frame.at([x, y, post.bottom]), frame.at([x + w, y + d, top])];
        let (name, parameter) = (format!("post {}", post.name), format!("cabinet.post[{i}]"));
        room::check_apart(b, enclosure, &Body::Block(corners), &name, &format!("{parameter}.at"));
        things.block(SurroundingKind::Post, name, parameter, corners);
    }
}

fn shelves(b: &mut Builder<'_>, things: &mut Things, frame: &Frame<'_>, enclosure: &Enclosure) {
    for (i, shelf) in frame.spec.shelf.iter().enumerate() {
        let ([x, y], [w, d]) = (shelf.at, shelf.size);
        let lo = frame.at([x, y, shelf.height]);
        let corners = [lo, lo + size([w, d, shelf.thickness])];
        let (name, parameter) = (format!("shelf {}", shelf.name), format!("cabinet.shelf[{i}]"));
        room::check_apart(b, enclosure, &Body::Block(corners), &name, &format!("{parameter}.at"));
        things.block(SurroundingKind::Shelf, name, parameter, corners);
        if let Some(thing) = things.0.last_mut() {
            thing.is_removable = shelf.removable;
        }
    }
}

/// The body of a fixture; `None` where the file gives none, which was said when it was read.
fn fixture_body(frame: &Frame<'_>, fixture: &CabinetFixture) -> Option<Body> {
    let at = frame.at(fixture.at);
    if let Some(block) = fixture.block {
        return Some(Body::Block([at, at + size(block)]));
    }
    let (to, diameter) = match (&fixture.cylinder, fixture.pipe.zip(fixture.to)) {
        (Some(cylinder), _) => (at + cylinder.height.to_mm() * DVec3::Z, cylinder.diameter),
        (None, Some((diameter, to))) => (frame.at(to), diameter),
        (None, None) => return None,
    };
    (to != at).then(|| Body::Bar { ends: [at, to], radius_mm: 0.5 * diameter.to_mm() })
}

fn add_body(things: &mut Things, body: &Body, name: &str, parameter: String) {
    match *body {
        Body::Block(corners) => things.block(SurroundingKind::Fixture, name, parameter, corners),
        Body::Bar { ends: [from, to], radius_mm } => {
            let shape = Shape::Turned(Turned::cylinder(2.0 * radius_mm, from.distance(to)));
            things.add(SurroundingKind::Fixture, name, parameter, shape, along(from, to));
        }
    }
}

/// A pose whose own z runs from one point to another.
fn along(from: DVec3, to: DVec3) -> DAffine3 {
    let (x, y) = (to - from).normalize().any_orthonormal_pair();
    pose(x, y, from)
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec3;

    #[test]
    fn a_pipe_runs_from_end_to_end_in_any_direction() {
        let from = dvec3(10.0, 20.0, 30.0);
        for way in [DVec3::X, DVec3::NEG_X, DVec3::Y, DVec3::NEG_Z, dvec3(1.0, -2.0, 0.5)] {
            let to = from + 70.0 * way;
            let pose = along(from, to);
            let end = pose.transform_point3(from.distance(to) * DVec3::Z);
            assert!(pose.transform_point3(DVec3::ZERO).abs_diff_eq(from, 1e-9));
            assert!(end.abs_diff_eq(to, 1e-9), "{way}: {end}");
            let m = pose.matrix3;
            assert!((m.determinant() - 1.0).abs() < 1e-12, "it is a rotation: {m}");
        }
    }
}
