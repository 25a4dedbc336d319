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
    let whole = hanging_together(&main, &bodies);
    for (part, body) in parts.iter().zip(&bodies) {
        let is_held = whole.iter().any(|held| std::ptr::eq(*held, body));
        judge(rules, &part.path, "part", body, &main, is_held, thing.stand, &read);
    }
    for stub in each(&equipment.key("stub"), &thing.stub) {
        let body = body_of_stub(stub.value);
        let is_held = whole.iter().any(|held| is_stub_on(stub.value, held));
        judge(rules, &stub.path, "stub", &body, &main, is_held, thing.stand, &read);
    }
}

/// The main body, and all parts that hang on it, one on the other.
fn hanging_together<'a>(main: &'a Body, parts: &'a [Body]) -> Vec<&'a Body> {
    let mut whole = vec![main];
    let mut rest: Vec<&Body> = parts.iter().collect();
    loop {
        let (held, apart): (Vec<_>, Vec<_>) =
            rest.into_iter().partition(|part| whole.iter().any(|body| body.is_near(part)));
        if held.is_empty() {
            return whole;
        }
        whole.extend(held);
        rest = apart;
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
    is_held: bool,
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
    } else if !is_held {
        let message =
            format!("this {what} touches neither the main body nor a part that hangs on it");
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
    stub_as_thick(stub, stub.diameter.to_mm() / 2.0)
}

/// The box around a stub of this radius; of none, its middle line.
fn stub_as_thick(stub: &Stub, radius: f64) -> Body {
    let (axis, sign) = match stub.towards {
        Towards::Up => (2, 1.0),
        Towards::InletEnd => (0, -1.0),
        Towards::FarEnd => (0, 1.0),
        Towards::Front => (1, -1.0),
        Towards::Back => (1, 1.0),
    };
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

/// Whether a stub touches a body: the box around it does, and its middle line is no farther off than it is thick. So the
/// corners of that box, where nothing of a round stub is, do not count.
fn is_stub_on(stub: &Stub, body: &Body) -> bool {
    let radius = stub.diameter.to_mm() / 2.0;
    body_of_stub(stub).is_near(body) && stub_as_thick(stub, 0.0).gap_mm(body) <= radius + TOUCH_MM
}

impl Body {
    /// Whether nothing of it stands out of the other.
    fn is_in(&self, other: &Self) -> bool {
        let is_boxed = (0..3).all(|axis| {
            other.least[axis] <= self.least[axis] && self.most[axis] <= other.most[axis]
        });
        is_boxed && (!other.is_round || self.farthest_from_axis_of(other) <= other.radius())
    }

    /// Whether both touch, within what is read off a ruler.
    fn is_near(&self, other: &Self) -> bool {
        self.gap_mm(other) <= TOUCH_MM
    }

    /// How far both are apart, mm; exact, since each is as wide at every height.
    fn gap_mm(&self, other: &Self) -> f64 {
        let between = |axis: usize| {
            (self.least[axis] - other.most[axis]).max(other.least[axis] - self.most[axis]).max(0.0)
        };
        let level = match (self.is_round, other.is_round) {
            (false, false) => between(0).hypot(between(1)),
            (true, false) => self.level_gap_to_box_mm(other),
            (false, true) => other.level_gap_to_box_mm(self),
            (true, true) => {
                let [x, y] = [0, 1].map(|axis| self.middle(axis) - other.middle(axis));
                (x.hypot(y) - self.radius() - other.radius()).max(0.0)
            }
        };
        level.hypot(between(2))
    }

    /// Seen from above, from this cylinder to a box.
    fn level_gap_to_box_mm(&self, block: &Self) -> f64 {
        let [x, y] = [0, 1].map(|axis| {
            let middle = self.middle(axis);
            middle - middle.clamp(block.least[axis], block.most[axis])
        });
        (x.hypot(y) - self.radius()).max(0.0)
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
