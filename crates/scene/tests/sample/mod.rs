//! A sump of plain boxes and turned bodies, made by hand, that tests draw.
#![allow(dead_code, clippy::allow_attributes, reason = "not every test uses all of it")]

use fit::Rigid;
use glam::{DVec2, DVec3, dvec2, dvec3};
use scene::{Body, Label, Level, Look, Scene, Side, Topic, Triangle, Water};

pub(crate) const CLEAR: Look = Look { colour: [208, 232, 236], is_clear: true };
pub(crate) const GREY: Look = Look { colour: [205, 208, 210], is_clear: false };
const PRINTED: Look = Look { colour: [226, 120, 62], is_clear: false };
const DARK: Look = Look { colour: [62, 70, 80], is_clear: false };
const PIPE: Look = Look { colour: [214, 216, 214], is_clear: false };
const CLOTH: Look = Look { colour: [238, 236, 228], is_clear: false };

pub(crate) fn body(name: &str, look: Look) -> Body {
    Body {
        name: name.to_owned(),
        look,
        triangles: Vec::new(),
        edges: Vec::new(),
        engraved: Vec::new(),
        way: None,
    }
}

/// A box of sheet: its two largest faces are broad, the others edges.
pub(crate) fn sheet(name: &str, look: Look, lo: DVec3, hi: DVec3) -> Body {
    let size = hi - lo;
    let thin = if size.x <= size.y.min(size.z) { 0 } else { 1 + usize::from(size.z < size.y) };
    let mut made = body(name, look);
    for axis in 0..3 {
        for end in [0.0, 1.0] {
            let at = |u: f64, v: f64| {
                let mut unit = [0.0; 3];
                unit[axis] = end;
                unit[(axis + 1) % 3] = u;
                unit[(axis + 2) % 3] = v;
                lo + DVec3::from(unit) * size
            };
            let mut normal = [0.0; 3];
            normal[axis] = 2.0 * end - 1.0;
            let side = if axis == thin { Side::Broad } else { Side::Edge };
            quad(&mut made, [at(0., 0.), at(1., 0.), at(1., 1.), at(0., 1.)], normal.into(), side);
        }
    }
    let corner = |i: usize| {
        let pick = |bit: usize, a: f64, b: f64| if i & bit == 0 { a } else { b };
        dvec3(pick(1, lo.x, hi.x), pick(2, lo.y, hi.y), pick(4, lo.z, hi.z))
    };
    for i in 0..8 {
        for bit in [1, 2, 4] {
            if i & bit == 0 {
                made.edges.push(vec![corner(i), corner(i | bit)]);
            }
        }
    }
    made
}

/// A quad in any turning; the normal decides which side is out.
fn quad(to: &mut Body, mut q: [DVec3; 4], normal: DVec3, side: Side) {
    if (q[1] - q[0]).cross(q[2] - q[0]).dot(normal) < 0.0 {
        q.reverse();
    }
    for [a, b, c] in [[0, 1, 2], [0, 2, 3]] {
        to.triangles.push(Triangle { corners: [q[a], q[b], q[c]], normals: [normal; 3], side });
    }
}

/// A leaf across the sump at `x`, whose top steps up and down: `(y, top)` from front to back, each
/// top reaching to the next `y`.
pub(crate) fn leaf(
    name: &str,
    look: Look,
    x: [f64; 2],
    bottom: f64,
    steps: &[(f64, f64)],
    end: f64,
) -> Body {
    let mut made = body(name, look);
    let n = steps.len();
    let next = |i: usize| if i + 1 < n { steps[i + 1].0 } else { end };
    let mut outline = vec![dvec2(steps[0].0, bottom)];
    for (i, &(y, top)) in steps.iter().enumerate() {
        outline.extend([dvec2(y, top), dvec2(next(i), top)]);
        for (x, sign) in [(x[0], -1.0), (x[1], 1.0)] {
            let p = |y: f64, z: f64| dvec3(x, y, z);
            let q = [p(y, bottom), p(next(i), bottom), p(next(i), top), p(y, top)];
            quad(&mut made, q, DVec3::X * sign, Side::Broad);
        }
    }
    outline.push(dvec2(end, bottom));
    for (i, a) in outline.iter().enumerate() {
        let b = outline[(i + 1) % outline.len()];
        let p = |x: f64, q: DVec2| dvec3(x, q.x, q.y);
        let along = b - *a;
        let normal = dvec3(0.0, -along.y, along.x).normalize();
        quad(&mut made, [p(x[0], *a), p(x[1], *a), p(x[1], b), p(x[0], b)], normal, Side::Edge);
        made.edges.push(vec![p(x[0], *a), p(x[1], *a)]);
        for x in x {
            made.edges.push(vec![p(x, *a), p(x, b)]);
        }
    }
    made
}

/// A body turned about an upright axis; `profile` in `(r, z)`, counter-clockwise.
pub(crate) fn turned(name: &str, look: Look, at: DVec3, profile: &[(f64, f64)]) -> Body {
    const N: usize = 48;
    let mut made = body(name, look);
    let direction = |i: usize| {
        let turn = std::f64::consts::TAU * (i % N) as f64 / N as f64;
        dvec3(libm::cos(turn), libm::sin(turn), 0.0)
    };
    for (k, &(r0, z0)) in profile.iter().enumerate() {
        let (r1, z1) = profile[(k + 1) % profile.len()];
        if r0 < 1e-9 && r1 < 1e-9 {
            continue;
        }
        let slope = dvec2(z1 - z0, r0 - r1).normalize();
        let normal = |i: usize| direction(i) * slope.x + DVec3::Z * slope.y;
        let point = |i: usize, r: f64, z: f64| at + direction(i) * r + DVec3::Z * z;
        for i in 0..N {
            let corners =
                [point(i, r0, z0), point(i + 1, r0, z0), point(i + 1, r1, z1), point(i, r1, z1)];
            let normals = [normal(i), normal(i + 1), normal(i + 1), normal(i)];
            for [a, b, c] in [[0, 1, 2], [0, 2, 3]] {
                let corners = [corners[a], corners[b], corners[c]];
                let [p, q, s] = corners;
                if (q - p).cross(s - p).length() > 1e-9 {
                    let normals = [normals[a], normals[b], normals[c]];
                    made.triangles.push(Triangle { corners, normals, side: Side::Broad });
                }
            }
        }
        if r0 > 1e-9 {
            made.edges.push((0..=N).map(|i| point(i, r0, z0)).collect());
        }
    }
    made
}

fn cylinder(name: &str, look: Look, at: DVec3, diameter: f64, height: f64) -> Body {
    let r = 0.5 * diameter;
    turned(name, look, at, &[(0., 0.), (r, 0.), (r, height), (0., height)])
}

fn pipe(name: &str, look: Look, at: DVec3, outer: f64, inner: f64, height: f64) -> Body {
    let (r, hole) = (0.5 * outer, 0.5 * inner);
    turned(name, look, at, &[(hole, 0.), (r, 0.), (r, height), (hole, height)])
}

/// A flat ring with rounded inner corners.
fn rim(look: Look, size: DVec3, width: f64, corner: f64, thickness: f64) -> Body {
    let mut made = body("rim", look);
    let (mut inner, mut outer) = (Vec::new(), Vec::new());
    let middle = dvec2(0.5 * size.x, 0.5 * size.y);
    for k in 0..4 {
        let sign = [dvec2(1., -1.), dvec2(1., 1.), dvec2(-1., 1.), dvec2(-1., -1.)][k];
        let centre = middle + sign * (middle - width - corner);
        for i in 0..=8 {
            let turn = std::f64::consts::FRAC_PI_2 * (k as f64 - 1.0 + i as f64 / 8.0);
            inner.push(centre + dvec2(libm::cos(turn), libm::sin(turn)) * corner);
            outer.push(middle + sign * middle);
        }
    }
    let n = inner.len();
    let at = |p: DVec2, z: f64| dvec3(p.x, p.y, size.z + z);
    for i in 0..n {
        let j = (i + 1) % n;
        for (z, normal) in [(0.0, -DVec3::Z), (thickness, DVec3::Z)] {
            let q = [at(inner[i], z), at(outer[i], z), at(outer[j], z), at(inner[j], z)];
            quad(&mut made, q, normal, Side::Broad);
        }
        let mut wall = |a: DVec2, b: DVec2, inwards: bool| {
            let along = (b - a).normalize_or_zero();
            let out = dvec3(along.y, -along.x, 0.0) * if inwards { -1.0 } else { 1.0 };
            if out.length() > 0.5 {
                let q = [at(a, 0.), at(b, 0.), at(b, thickness), at(a, thickness)];
                quad(&mut made, q, out, Side::Edge);
            }
        };
        wall(outer[i], outer[j], false);
        wall(inner[i], inner[j], true);
    }
    for z in [0.0, thickness] {
        for line in [&inner, &outer] {
            made.edges.push(line.iter().chain(line.first()).map(|&p| at(p, z)).collect());
        }
    }
    for p in outer.iter().step_by(9) {
        made.edges.push(vec![at(*p, 0.), at(*p, thickness)]);
    }
    made
}

const SIZE: DVec3 = dvec3(1000.0, 420.0, 380.0);
const T: f64 = 8.0;

/// A five-chamber sump, 1000 × 420 × 380 mm.
pub(crate) fn sump() -> Scene {
    sump_of(CLEAR)
}

/// The same of any sheet.
pub(crate) fn sump_of(wall: Look) -> Scene {
    let mut s = Scene {
        title: "Five chambers".to_owned(),
        report: units::System::Metric,
        outside: SIZE,
        bodies: Vec::new(),
        waters: Vec::new(),
        labels: Vec::new(),
        levels: Vec::new(),
        guides: Vec::new(),
        section_y: 210.0,
        spares: Vec::new(),
        cabinet: None,
    };
    shell(&mut s, wall);
    dividers(&mut s, wall);
    inserts(&mut s, wall);
    water(&mut s);
    s
}

fn shell(s: &mut Scene, look: Look) {
    let top = SIZE.z - T;
    s.bodies.push(sheet("bottom", look, DVec3::ZERO, dvec3(SIZE.x, SIZE.y, T)));
    s.bodies.push(sheet("front", look, dvec3(0., 0., T), dvec3(SIZE.x, T, top)));
    s.bodies.push(sheet("back", look, dvec3(0., SIZE.y - T, T), dvec3(SIZE.x, SIZE.y, top)));
    s.bodies.push(sheet("inlet end", look, dvec3(0., T, T), dvec3(T, SIZE.y - T, top)));
    s.bodies.push(sheet(
        "return end",
        look,
        dvec3(SIZE.x - T, T, T),
        dvec3(SIZE.x, SIZE.y - T, top),
    ));
    let mut ring = rim(look, dvec3(SIZE.x, SIZE.y, top), 45.0, 20.0, T);
    ring.name = "rim".to_owned();
    s.bodies.push(ring);
    label(s, "rim", Topic::Rim, dvec3(SIZE.x - 140.0, 22.0, SIZE.z), "rim");
    label(s, "front", Topic::Wall, dvec3(90.0, 0.0, 120.0), "front");
    label(s, "back", Topic::Wall, dvec3(500.0, SIZE.y - T, 330.0), "back");
    label(s, "bottom", Topic::Wall, dvec3(930.0, 0.0, 4.0), "bottom");
    let marks = (0..12).map(|i| {
        let z = T + 120.0 + 10.0 * f64::from(i);
        let length = if i % 5 == 0 { 24.0 } else { 12.0 };
        vec![dvec3(900.0, 0.0, z), dvec3(900.0 + length, 0.0, z)]
    });
    s.bodies[1].engraved.extend(marks);
}

fn label(s: &mut Scene, text: &str, topic: Topic, anchor: DVec3, body: &str) {
    let body = s.bodies.iter().position(|b| b.name == body);
    s.labels.push(Label { text: text.to_owned(), topic, anchor, body });
}

/// Straight up.
fn lifted(mm: f64) -> Option<Vec<Rigid>> {
    Some(vec![Rigid::HOME, Rigid::HOME.moved(DVec3::Z * mm)])
}

fn dividers(s: &mut Scene, look: Look) {
    let (y0, y1) = (T + 10.0, SIZE.y - T - 10.0);
    let mut comb = Vec::new();
    let mut y = y0 + 6.0;
    comb.push((y0, 262.0));
    while y < y1 - 14.0 {
        comb.push((y, 232.0));
        comb.push((y + 6.0, 262.0));
        y += 14.0;
    }
    let mut first = leaf("leaf comb", look, [238.0, 246.0], T, &comb, y1);
    first.way = lifted(230.0);
    s.bodies.push(first);
    label(s, "comb", Topic::Leaf, dvec3(242.0, 150.0, 262.0), "leaf comb");
    for (i, y) in [(1, T), (2, y1 - 4.0)] {
        for x in [231.0, 247.0] {
            let strip = sheet(
                &format!("guide strip {i} {x}"),
                look,
                dvec3(x, y, T),
                dvec3(x + 6.0, y + 14.0, SIZE.z - T),
            );
            s.bodies.push(strip);
        }
    }
    let walls = (T, SIZE.y - T);
    for (name, x, bottom, top) in [
        ("trap 1", 560.0, T, 250.0),
        ("trap 2", 592.0, T + 60.0, 320.0),
        ("trap 3", 624.0, T, 220.0),
    ] {
        s.bodies.push(leaf(name, look, [x, x + T], bottom, &[(walls.0, top)], walls.1));
        label(s, name, Topic::Leaf, dvec3(x + 4.0, 290.0, top), name);
    }
    s.bodies.push(leaf(
        "planted",
        look,
        [780.0, 788.0],
        T,
        &[(walls.0, 300.0), (130.0, 205.0), (290.0, 300.0)],
        walls.1,
    ));
    label(s, "weir", Topic::Leaf, dvec3(784.0, 60.0, 300.0), "planted");
    let mut door = sheet("door", GREY, dvec3(789.0, 110.0, 150.0), dvec3(794.0, 310.0, 225.0));
    door.way = lifted(150.0);
    s.bodies.push(door);
    label(s, "door", Topic::Door, dvec3(791.0, 210.0, 225.0), "door");
    for y in [125.0, 295.0] {
        let mut knob = cylinder(&format!("knob {y}"), PRINTED, dvec3(800.0, y, 182.0), 18.0, 12.0);
        knob.way = lifted(150.0);
        s.bodies.push(knob);
    }
}

fn inserts(s: &mut Scene, look: Look) {
    let mut shelf =
        sheet("sock holder", look, dvec3(12.0, 60.0, 300.0), dvec3(190.0, 380.0, 308.0));
    shelf.way = lifted(300.0);
    s.bodies.push(shelf);
    label(s, "sock holder", Topic::SockHolder, dvec3(150.0, 66.0, 308.0), "sock holder");
    for (i, y) in [140.0, 290.0].into_iter().enumerate() {
        let mut sock = turned(
            &format!("sock {i}"),
            CLOTH,
            dvec3(100.0, y, 0.0),
            &[
                (0., 92.),
                (38., 96.),
                (52., 140.),
                (52., 312.),
                (46., 312.),
                (46., 142.),
                (34., 104.),
                (0., 100.),
            ],
        );
        sock.way = lifted(300.0);
        s.bodies.push(sock);
        let mut ring =
            pipe(&format!("ring {i}"), PRINTED, dvec3(100.0, y, 308.0), 124.0, 104.0, 8.0);
        ring.way = lifted(300.0);
        s.bodies.push(ring);
        let mut drain =
            pipe(&format!("drain pipe {i}"), PIPE, dvec3(100.0, y, 250.0), 40.0, 34.0, 210.0);
        drain.way = lifted(420.0);
        s.bodies.push(drain);
    }
    label(s, "filter sock", Topic::Insert, dvec3(100.0, 140.0, 250.0), "sock 0");
    label(s, "drain pipe", Topic::Insert, dvec3(100.0, 290.0, 450.0), "drain pipe 1");
    s.bodies.push(sheet("ledge 1", look, dvec3(T, T, 292.0), dvec3(230.0, T + 16.0, 300.0)));
    let mut skimmer = turned(
        "skimmer",
        DARK,
        dvec3(710.0, 260.0, T),
        &[
            (0., 0.),
            (60., 0.),
            (60., 180.),
            (34., 215.),
            (34., 260.),
            (50., 264.),
            (50., 330.),
            (0., 330.),
        ],
    );
    skimmer.way = lifted(260.0);
    s.bodies.push(skimmer);
    label(s, "skimmer", Topic::Equipment, dvec3(710.0, 260.0, 338.0), "skimmer");
    let mut pump = sheet("pump", DARK, dvec3(850.0, 150.0, T), dvec3(950.0, 270.0, T + 85.0));
    pump.way = lifted(200.0);
    pump.triangles.iter_mut().for_each(|t| t.side = Side::Broad);
    s.bodies.push(pump);
    let mut outlet = pipe("outlet", DARK, dvec3(900.0, 210.0, T + 85.0), 32.0, 24.0, 60.0);
    outlet.way = lifted(200.0);
    s.bodies.push(outlet);
    label(s, "return pump", Topic::Equipment, dvec3(900.0, 210.0, T + 85.0), "pump");
    let heater = cylinder("heater", DARK, dvec3(830.0, 370.0, 40.0), 28.0, 220.0);
    s.bodies.push(heater);
    label(s, "heater", Topic::Equipment, dvec3(830.0, 370.0, 250.0), "heater");
}

fn water(s: &mut Scene) {
    let chambers = [
        ("inlet", 8.0, 238.0, 238.0),
        ("planted", 246.0, 560.0, 238.0),
        ("bubble trap", 568.0, 592.0, 246.0),
        ("riser", 600.0, 624.0, 216.0),
        ("skimmer chamber", 632.0, 780.0, 204.0),
        ("return", 788.0, 992.0, 168.0),
    ];
    for (name, x0, x1, top) in chambers {
        let (min, max) = (dvec3(x0, T, T), dvec3(x1, SIZE.y - T, top));
        s.waters.push(Water { name: name.to_owned(), min, max, is_open: true });
        if x1 - x0 > 100.0 || name == "bubble trap" {
            let label_at = dvec3(0.5 * (x0 + x1), 90.0, top);
            label(s, name, Topic::Chamber, label_at, "");
            s.levels.push(Level {
                chamber: name.to_owned(),
                min: dvec2(min.x, min.y),
                max: dvec2(max.x, max.y),
                floor_z: T,
                height_mm: top - T,
            });
        }
    }
}
