//! Bodies and stubs that are one with a piece of equipment: each is of one shape, hangs together with the
//! rest, and adds something.

use findings::Finding;
use units::Length;

use super::equipment::one_body;
use super::{At, Rules, each};
use crate::{Cylinder, Equipment, EquipmentBody, Stub, Towards};

/// Parts that are this near to each other are taken to touch, mm. Our judgement: sizes are read off a
/// ruler to a mm or two.
const TOUCH_MM: f64 = 3.0;

pub(super) fn check(rules: &mut Rules<'_>, equipment: &At<'_, Equipment>) {
    let thing = equipment.value;
    let Some(main) = body(thing.block, thing.cylinder, [Length::ZERO; 3]) else { return };
    let parts: Vec<_> = each(&equipment.key("part"), &thing.part).collect();
    for part in &parts {
        one_body(rules, &part.path, "this part", part.value.block, part.value.cylinder);
    }
    let Some(bodies) = parts.iter().map(|part| body_of(part.value)).collect::<Option<Vec<_>>>()
    else {
        return;
    };
    let read = read(equipment);
    for (index, (part, body)) in parts.iter().zip(&bodies).enumerate() {
        let others = bodies.iter().enumerate().filter(|(other, _)| *other != index);
        let others: Vec<_> = others.map(|(_, body)| body).chain([&main]).collect();
        judge(rules, &part.path, "part", body, &main, &others, thing.stand, &read);
    }
    for stub in each(&equipment.key("stub"), &thing.stub) {
        let body = body_of_stub(stub.value);
        let others: Vec<_> = bodies.iter().chain([&main]).collect();
        judge(rules, &stub.path, "stub", &body, &main, &others, thing.stand, &read);
    }
}

fn read(equipment: &At<'_, Equipment>) -> [String; 5] {
    ["box", "cylinder", "part", "stub", "stand"].map(|key| equipment.key(key))
}

#[expect(clippy::too_many_arguments, reason = "one judgement over one body among others")]
fn judge(
    rules: &mut Rules<'_>,
    path: &str,
    what: &str,
    body: &Body,
    main: &Body,
    others: &[&Body],
    stand: Length,
    read: &[String],
) {
    let read: Vec<_> = read.iter().map(String::as_str).collect();
    let lowest = stand.to_mm() + body.least[2];
    if lowest < 0.0 {
        let message = format!(
            "this {what} reaches {} below the inside of the sump's bottom",
            rules.show(Length::mm(-lowest))
        );
        let hint =
            "its height counts from the foot of the main body, which `stand` sets above the bottom";
        rules.add(&read, Finding::fails("below-bottom", path, message).with_hint(hint));
    } else if body.is_in(main) {
        let message = format!("this {what} lies wholly in the main body, so it adds nothing");
        let hint = "delete it, or move it; places count from the middle of the main body's foot";
        rules.no_effect(path, &read, message, hint);
    } else if !others.iter().any(|other| body.is_near(other)) {
        let message = format!("this {what} touches neither the main body nor another part of it");
        let hint = "places count from the middle of the main body's foot: to the middle of a part's own foot, to where a stub begins";
        rules.add(&read, Finding::tight("apart", path, message).with_hint(hint));
    }
}

/// A body in the frame of the main body's foot, mm.
struct Body {
    least: [f64; 3],
    most: [f64; 3],
    /// Whether it is an upright cylinder; else the whole box.
    is_round: bool,
}

fn body_of(part: &EquipmentBody) -> Option<Body> {
    body(part.block, part.cylinder, part.at)
}

fn body(block: Option<[Length; 3]>, cylinder: Option<Cylinder>, foot: [Length; 3]) -> Option<Body> {
    let (size, is_round) = match (block, cylinder) {
        (Some(size), None) => (size.map(Length::to_mm), false),
        (None, Some(Cylinder { diameter, height })) => {
            ([diameter, diameter, height].map(Length::to_mm), true)
        }
        _ => return None,
    };
    let [x, y, z] = foot.map(Length::to_mm);
    let least = [x - size[0] / 2.0, y - size[1] / 2.0, z];
    Some(Body { least, most: std::array::from_fn(|axis| least[axis] + size[axis]), is_round })
}

/// The box around a stub.
fn body_of_stub(stub: &Stub) -> Body {
    let (axis, sign) = match stub.towards {
        Towards::Up => (2, 1.0),
        Towards::InletEnd => (0, -1.0),
        Towards::FarEnd => (0, 1.0),
        Towards::Front => (1, -1.0),
        Towards::Back => (1, 1.0),
    };
    let radius = stub.diameter.to_mm() / 2.0;
    let from = stub.from.map(Length::to_mm);
    let mut to = from;
    to[axis] += sign * stub.length.to_mm();
    let across = |of: usize| if of == axis { 0.0 } else { radius };
    Body {
        least: std::array::from_fn(|of| from[of].min(to[of]) - across(of)),
        most: std::array::from_fn(|of| from[of].max(to[of]) + across(of)),
        is_round: false,
    }
}

impl Body {
    /// Whether nothing of it stands out of the other.
    fn is_in(&self, other: &Self) -> bool {
        let is_boxed = (0..3).all(|axis| {
            other.least[axis] <= self.least[axis] && self.most[axis] <= other.most[axis]
        });
        is_boxed && (!other.is_round || self.farthest_from_axis_of(other) <= other.radius())
    }

    /// Whether the boxes around both come near each other.
    fn is_near(&self, other: &Self) -> bool {
        (0..3).all(|axis| {
            self.least[axis] <= other.most[axis] + TOUCH_MM
                && other.least[axis] <= self.most[axis] + TOUCH_MM
        })
    }

    fn radius(&self) -> f64 {
        (self.most[0] - self.least[0]) / 2.0
    }

    fn middle(&self, axis: usize) -> f64 {
        f64::midpoint(self.least[axis], self.most[axis])
    }

    /// How far its farthest point is from the upright middle line of the other.
    fn farthest_from_axis_of(&self, other: &Self) -> f64 {
        let apart = [0, 1].map(|axis| (self.middle(axis) - other.middle(axis)).abs());
        if self.is_round {
            return apart[0].hypot(apart[1]) + self.radius();
        }
        let half = [0, 1].map(|axis| (self.most[axis] - self.least[axis]) / 2.0);
        (apart[0] + half[0]).hypot(apart[1] + half[1])
    }
}
