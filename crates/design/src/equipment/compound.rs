//! A piece of equipment as bodies: the main one, further ones, and stubs of hose and cable.

use glam::{DAffine3, DVec2, DVec3, dvec2};
use params::{Cylinder, Equipment, EquipmentBody, Stub, StubKind, Towards};
use plate::{Contour, Plate, Shape, Turned};
use units::Length;

use crate::frame::{bounds, pose};

/// How often something is turned by 90° about the upright axis, counter-clockwise seen from above.
pub(super) type Quarters = u8;

/// Where a compound stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Place {
    /// The middle of its main body, in the sump's x and y.
    pub(super) middle: DVec2,
    /// Height of its main body's foot, in the sump.
    pub(super) foot_z: f64,
    pub(super) quarters: Quarters,
}

/// What a body is to the whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum BodyKind {
    Main,
    Part,
    Stub(StubKind),
}

/// One body. Its pose counts from the middle of the main body's foot, before any turn.
#[derive(Clone, Debug)]
pub(super) struct Body {
    pub(super) kind: BodyKind,
    pub(super) name: String,
    pub(super) parameter: String,
    pub(super) shape: Shape,
    pose: DAffine3,
}

/// A piece of equipment with all that is one with it; its first body is the main one.
#[derive(Clone, Debug)]
pub(super) struct Compound<'a> {
    pub(super) spec: &'a Equipment,
    /// Path of its parameter.
    pub(super) parameter: String,
    pub(super) bodies: Vec<Body>,
}

impl<'a> Compound<'a> {
    /// `None` without a main body: that was said when the file was read.
    pub(super) fn of(spec: &'a Equipment, parameter: String) -> Option<Self> {
        let (shape, at) = upright(spec.block, spec.cylinder, DVec3::ZERO)?;
        let (kind, name) = (BodyKind::Main, spec.name.clone());
        let mut bodies = vec![Body { kind, name, parameter: parameter.clone(), shape, pose: at }];
        let parts = spec.part.iter().enumerate();
        bodies.extend(parts.filter_map(|(i, part)| further(spec, &parameter, i, part)));
        let stubs = spec.stub.iter().enumerate();
        bodies.extend(stubs.map(|(i, one)| stub(spec, &parameter, i, one)));
        Some(Self { spec, parameter, bodies })
    }

    /// Turns that make it stand otherwise: none for a lone cylinder, a quarter for a lone box.
    pub(super) fn turns(&self) -> &'static [Quarters] {
        match (self.bodies.len(), &self.bodies[0].shape) {
            (1, Shape::Turned(_)) => &[],
            (1, Shape::Sheet(_)) => &[1],
            _ => &[1, 3, 2],
        }
    }

    /// Room that must stay free for service: around its bodies but not its stubs, and above those that
    /// reach its upper end.
    pub(super) fn service(&self, place: &Place) -> Vec<[DVec3; 2]> {
        let service = &self.spec.service;
        let around = DVec2::splat(service.around.to_mm()).extend(0.0);
        let above = service.above.to_mm() * DVec3::Z;
        let is_kept = |body: &&Body| !matches!(body.kind, BodyKind::Stub(_));
        let rooms: Vec<[DVec3; 2]> =
            self.bodies.iter().filter(is_kept).map(|body| body.bounds(place)).collect();
        let top = rooms.iter().map(|room| room[1].z).fold(f64::NEG_INFINITY, f64::max);
        let room = |[lo, hi]: &[DVec3; 2]| {
            let lifted = if top - hi.z <= SAME_HEIGHT_MM { above } else { DVec3::ZERO };
            [*lo - around, *hi + around + lifted]
        };
        rooms.iter().map(room).collect()
    }
}

/// Bodies end at one height if they differ by no more, mm.
const SAME_HEIGHT_MM: f64 = 1e-6;

impl Body {
    /// From its own frame to the sump's.
    pub(super) fn pose(&self, place: &Place) -> DAffine3 {
        let turn = |v: DVec3| turned(place.quarters, v);
        let origin = place.middle.extend(place.foot_z) + turn(self.pose.translation);
        pose(turn(self.pose.matrix3.x_axis), turn(self.pose.matrix3.y_axis), origin)
    }

    pub(super) fn bounds(&self, place: &Place) -> [DVec3; 2] {
        bounds(&self.shape, &self.pose(place))
    }
}

/// A direction or a place turned about the upright axis. Zeros stay positive, so that they print as such.
fn turned(quarters: Quarters, v: DVec3) -> DVec3 {
    let turned = match quarters % 4 {
        1 => DVec3::new(-v.y, v.x, v.z),
        2 => DVec3::new(-v.x, -v.y, v.z),
        3 => DVec3::new(v.y, -v.x, v.z),
        _ => v,
    };
    turned + DVec3::ZERO
}

/// An upright box or cylinder with the middle of its foot at `foot`.
fn upright(
    block: Option<[Length; 3]>,
    cylinder: Option<Cylinder>,
    foot: DVec3,
) -> Option<(Shape, DAffine3)> {
    match (block, cylinder) {
        (Some(size), _) => {
            let [x, y, z] = size.map(Length::to_mm);
            let size = dvec2(x, y);
            let plate = Plate::new(Contour::rectangle(DVec2::ZERO, size), z);
            let corner = foot - (0.5 * size).extend(0.0);
            Some((Shape::Sheet(plate), pose(DVec3::X, DVec3::Y, corner)))
        }
        (None, Some(Cylinder { diameter, height })) => {
            let turned = Turned::cylinder(diameter.to_mm(), height.to_mm());
            Some((Shape::Turned(turned), pose(DVec3::X, DVec3::Y, foot)))
        }
        (None, None) => None,
    }
}

fn further(spec: &Equipment, parameter: &str, i: usize, part: &EquipmentBody) -> Option<Body> {
    let foot = DVec3::from_array(part.at.map(Length::to_mm));
    let (shape, pose) = upright(part.block, part.cylinder, foot)?;
    Some(Body {
        kind: BodyKind::Part,
        // The main body is the first part.
        name: format!("{} part {}", spec.name, i + 2),
        parameter: format!("{parameter}.part[{i}]"),
        shape,
        pose,
    })
}

fn stub(spec: &Equipment, parameter: &str, i: usize, stub: &Stub) -> Body {
    let from = DVec3::from_array(stub.from.map(Length::to_mm));
    // The bar runs along its own z axis, which is x × y.
    let (x, y) = match stub.towards {
        Towards::Up => (DVec3::X, DVec3::Y),
        Towards::FarEnd => (DVec3::Y, DVec3::Z),
        Towards::InletEnd => (DVec3::Z, DVec3::Y),
        Towards::Back => (DVec3::Z, DVec3::X),
        Towards::Front => (DVec3::X, DVec3::Z),
    };
    let what = match stub.kind {
        StubKind::Hose => "hose",
        StubKind::Cable => "cable",
    };
    Body {
        kind: BodyKind::Stub(stub.kind),
        name: format!("{} {what}", spec.name),
        parameter: format!("{parameter}.stub[{i}]"),
        shape: Shape::Turned(Turned::cylinder(stub.diameter.to_mm(), stub.length.to_mm())),
        pose: pose(x, y, from),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use params::{EquipmentKind, Service};

    fn pump() -> Equipment {
        let text = r#"
name = "pump"
kind = "pump"
chamber = "return"
box = [100, 60, 80]
at = [0, 0]
[[part]]
cylinder = { diameter = 40, height = 30 }
at = [30, 0, 80]
[[stub]]
from = [50, 10, 40]
towards = "far-end"
length = 25
diameter = 20
[service]
above = 50
around = 5
"#;
        toml(text)
    }

    fn toml(text: &str) -> Equipment {
        // Through a whole file, as a maker writes it.
        let head = r#"
format = 1
title = "One"
[sheet.s]
material = "PVC"
thickness = 8
[box]
outside = { length = 800, width = 400, height = 380 }
sheet = "s"
[[along]]
chamber = "return"
"#;
        let body = text
            .replace("[[part]]", "[[equipment.part]]")
            .replace("[[stub]]", "[[equipment.stub]]")
            .replace("[service]", "[equipment.service]");
        let read = params::read(&format!("{head}[[equipment]]\n{body}"));
        let file = read.file.unwrap_or_else(|| panic!("{:#?}", read.findings));
        file.equipment.into_iter().next().expect("there is one")
    }

    #[track_caller]
    fn close([lo, hi]: [DVec3; 2], expected: [[f64; 3]; 2]) {
        let [a, c] = expected.map(DVec3::from_array);
        assert!(lo.distance(a) < 1e-9 && hi.distance(c) < 1e-9, "{lo} to {hi}");
    }

    #[test]
    fn bodies_turn_with_the_main_one() {
        let spec = pump();
        assert_eq!(spec.kind, EquipmentKind::Pump);
        let compound = Compound::of(&spec, "equipment[0]".to_owned()).expect("it has a body");
        let at = |quarters| Place { middle: dvec2(200.0, 100.0), foot_z: 10.0, quarters };
        let [main, cup, hose] = &compound.bodies[..] else { panic!("three bodies") };
        assert_eq!([&main.name, &cup.name, &hose.name], ["pump", "pump part 2", "pump hose"]);
        assert_eq!(hose.parameter, "equipment[0].stub[0]");
        close(main.bounds(&at(0)), [[150., 70., 10.], [250., 130., 90.]]);
        close(main.bounds(&at(1)), [[170., 50., 10.], [230., 150., 90.]]);
        close(cup.bounds(&at(0)), [[210., 80., 90.], [250., 120., 120.]]);
        close(cup.bounds(&at(1)), [[180., 110., 90.], [220., 150., 120.]]);
        close(hose.bounds(&at(0)), [[250., 100., 40.], [275., 120., 60.]]);
        // To the far end, turned once: to the back; turned thrice: to the front.
        close(hose.bounds(&at(1)), [[180., 150., 40.], [200., 175., 60.]]);
        close(hose.bounds(&at(3)), [[200., 25., 40.], [220., 50., 60.]]);
        close(hose.bounds(&at(2)), [[125., 80., 40.], [150., 100., 60.]]);
    }

    #[test]
    fn service_room_is_around_all_bodies_and_above_the_highest() {
        let spec = pump();
        assert_ne!(spec.service, Service::default());
        let compound = Compound::of(&spec, "equipment[0]".to_owned()).expect("it has a body");
        let place = Place { middle: dvec2(200.0, 100.0), foot_z: 10.0, quarters: 0 };
        let [main, cup] = compound.service(&place)[..] else { panic!("two rooms") };
        close(main, [[145., 65., 10.], [255., 135., 90.]]);
        close(cup, [[205., 75., 90.], [255., 125., 170.]]);
    }
}
