//! Guards the places that are found for equipment, on many sumps: they clash with nothing, by the crate's
//! own check and by plain arithmetic of boxes and discs, and keep the gap that the file asks for.

use design::{Design, Placed, Role, resolve};
use findings::Grade;
use glam::{DVec2, DVec3, Vec3Swizzles};
use plate::Shape;
use proptest::prelude::*;

/// Least gap that the file asks for, mm.
const GAP_MM: f64 = 3.0;
/// Diameter of the socks, mm.
const SOCK_MM: f64 = 90.0;
const ROUNDING_MM: f64 = 1e-5;

/// A body of random form: how many forms there are is the first number's business.
type Form = (usize, [f64; 3]);

fn form() -> impl Strategy<Value = Form> {
    (0..2_usize, [15.0..130.0_f64, 15.0..130.0, 20.0..260.0])
}

fn body((kind, [x, y, z]): Form) -> String {
    match kind {
        0 => format!("box = [{x:.1}, {y:.1}, {z:.1}]\n"),
        _ => format!("cylinder = {{ diameter = {x:.1}, height = {z:.1} }}\n"),
    }
}

#[derive(Clone, Debug)]
struct Thing {
    form: Form,
    /// `None`: it is to be found.
    at: Option<[f64; 2]>,
    stand: f64,
    service: [f64; 2],
    /// A further body beside it, and a stub.
    more: (Option<(Form, f64)>, Option<usize>),
}

fn thing() -> impl Strategy<Value = Thing> {
    let at = prop::option::weighted(0.4, [0.0..300.0_f64, 0.0..300.0]);
    let stand = prop_oneof![Just(0.0), 5.0..60.0_f64];
    let service = prop_oneof![Just([0.0, 0.0]), [0.0..200.0_f64, 0.0..25.0]];
    let part = prop::option::weighted(0.4, (form(), -1.0..1.0_f64));
    let stub = prop::option::weighted(0.4, 0..5_usize);
    (form(), at, stand, service, (part, stub)).prop_map(|(form, at, stand, service, more)| Thing {
        form,
        at,
        stand,
        service,
        more,
    })
}

impl Thing {
    fn text(&self, i: usize, chamber: &str) -> String {
        let mut text = format!(
            "[[equipment]]\nname = \"thing {i}\"\nkind = \"other\"\nchamber = \"{chamber}\"\n{}stand = {:.1}\nservice = {{ above = {:.1}, around = {:.1} }}\n",
            body(self.form),
            self.stand,
            self.service[0],
            self.service[1]
        );
        if let Some([x, y]) = self.at {
            text += &format!("at = [{x:.1}, {y:.1}]\n");
        }
        let [x, _, z] = self.form.1;
        if let Some((form, aside)) = self.more.0 {
            text += &format!(
                "[[equipment.part]]\n{}at = [{:.1}, {:.1}, {:.1}]\n",
                body(form),
                0.5 * x,
                aside * 60.0,
                aside.abs() * 40.0
            );
        }
        if let Some(way) = self.more.1 {
            let towards = ["up", "inlet-end", "far-end", "front", "back"][way];
            text += &format!(
                "[[equipment.stub]]\nfrom = [0, 0, {:.1}]\ntowards = \"{towards}\"\nlength = 90\ndiameter = 12\n",
                0.8 * z
            );
        }
        text
    }
}

#[derive(Clone, Debug)]
struct Sump {
    inlet: f64,
    width: f64,
    height: f64,
    guide: usize,
    rim: Option<f64>,
    socks: bool,
    things: Vec<(Thing, bool)>,
}

fn sump() -> impl Strategy<Value = Sump> {
    let size = (160.0..320.0_f64, 220.0..450.0_f64, 300.0..420.0_f64);
    let choices = (0..3_usize, prop::option::of(30.0..60.0_f64), any::<bool>());
    let things = prop::collection::vec((thing(), any::<bool>()), 1..5);
    (size, choices, things).prop_map(|((inlet, width, height), (guide, rim, socks), things)| Sump {
        inlet,
        width,
        height,
        guide,
        rim,
        socks,
        things,
    })
}

impl Sump {
    fn text(&self) -> String {
        let Self { inlet, width, height, .. } = self;
        let rim = self.rim.map_or(String::new(), |rim| {
            format!(
                "rim = {{ width = {rim:.1}, corner = 15, braces = [{{ at = 520, width = 50 }}] }}\n"
            )
        });
        let guide = ["strips", "groove", "printed"][self.guide];
        let mut text = format!(
            "format = 1\ntitle = \"Places\"\n[sheet.s]\nmaterial = \"PVC\"\nthickness = 8\nmeasured = 8\n[box]\noutside = {{ length = 700, width = {width:.1}, height = {height:.1} }}\nsheet = \"s\"\n{rim}[fit]\ngap = {GAP_MM}\nfinger_gap = 8\n[leaf.out]\nmount = \"lift-out\"\ncrest = {{ height = 200 }}\n[[along]]\nchamber = \"inlet\"\nlength = {inlet:.1}\n[[along]]\ndivider = \"first\"\nleaf = \"out\"\nguide = \"{guide}\"\n[[along]]\nchamber = \"return\"\nlevel = 150\n",
        );
        if self.socks {
            text += &format!(
                "[[sock_holder]]\nchamber = \"inlet\"\nheight = 240\nsocks = 1\nsock = {{ diameter = {SOCK_MM}, length = 180 }}\nbypass = {{ width = 60, depth = 20 }}\n"
            );
        }
        for (i, (thing, is_in_inlet)) in self.things.iter().enumerate() {
            text += &thing.text(i, if *is_in_inlet { "inlet" } else { "return" });
        }
        text
    }
}

/// A part from above and between two heights: a rectangle, or a disc.
struct Room {
    lo: DVec3,
    hi: DVec3,
    /// Of an upright round one.
    is_round: bool,
}

fn room(design: &Design, placed: &Placed) -> Room {
    let (lo, hi, is_round) = match &design.pieces[placed.piece].shape {
        Shape::Sheet(plate) => {
            let [lo, hi] = plate.outline.bounds().expect("it has an outline");
            (lo.extend(0.0), hi.extend(plate.thickness), false)
        }
        Shape::Turned(turned) => {
            let (outer, [z0, z1]) = turned.extent();
            // A sock's bag; its flange lies on the shelf.
            let is_sock = design.pieces[placed.piece].role == Role::Sock;
            let r = if is_sock { 0.5 * SOCK_MM } else { outer };
            let is_upright = placed.pose.matrix3.z_axis.z.abs() > 0.5;
            (DVec3::new(-r, -r, z0), DVec3::new(r, r, z1), is_upright)
        }
    };
    let (p, q) = (placed.pose.transform_point3(lo), placed.pose.transform_point3(hi));
    Room { lo: p.min(q), hi: p.max(q), is_round }
}

/// How far two parts are apart, at least; negative or nothing where they may share room.
fn gap(a: &Room, b: &Room) -> f64 {
    let upwards = (b.lo.z - a.hi.z).max(a.lo.z - b.hi.z);
    let beside = match (a.is_round, b.is_round) {
        (true, true) => middle(a).distance(middle(b)) - radius(a) - radius(b),
        (true, false) => from_disc(a, b),
        (false, true) => from_disc(b, a),
        (false, false) => {
            let apart = (b.lo - a.hi).max(a.lo - b.hi).xy();
            if apart.min_element() > 0.0 { apart.length() } else { apart.max_element() }
        }
    };
    upwards.max(beside)
}

fn middle(room: &Room) -> DVec2 {
    0.5 * (room.lo + room.hi).xy()
}

fn radius(room: &Room) -> f64 {
    0.5 * (room.hi.x - room.lo.x)
}

fn from_disc(disc: &Room, other: &Room) -> f64 {
    let nearest = middle(disc).clamp(other.lo.xy(), other.hi.xy());
    middle(disc).distance(nearest) - radius(disc)
}

/// Parts whose outline is solid: a sock holder and a rim are open within theirs.
fn is_solid(role: Role) -> bool {
    !matches!(role, Role::SockHolder | Role::SockRing | Role::Rim | Role::Bottom)
}

/// Which piece of equipment a part belongs to, by the path of its parameter.
fn equipment(placed: &Placed) -> Option<&str> {
    let rest = placed.parameter.strip_prefix("equipment[")?;
    rest.split(']').next()
}

/// Checks every found place; returns how many there are, and for how many there was none.
fn places_hold(text: &str) -> Result<[usize; 2], TestCaseError> {
    let read = params::read(text);
    let Some(file) = read.file else { return Ok([0; 2]) };
    let resolved = resolve(&file);
    let Some(design) = resolved.design else { return Ok([0; 2]) };
    if design.chambers.is_empty() {
        return Ok([0; 2]); // It could not be laid out.
    }
    let of = |code: &str| -> Vec<&str> {
        let with = resolved.findings.iter().filter(|f| f.code == code);
        with.filter_map(|f| f.parameter.strip_prefix("equipment[")?.split(']').next()).collect()
    };
    let (found, without, clashing) = (of("place-found"), of("no-free-place"), of("parts-overlap"));
    for i in &found {
        prop_assert!(!clashing.contains(i), "thing {i} clashes: {:#?}", resolved.findings);
        let index: usize = i.parse().expect("a number");
        let spec = &file.equipment[index];
        let chamber = design.chambers.iter().find(|c| c.name == spec.chamber).expect("there");
        let main = format!("equipment[{i}]");
        for placed in design.placed.iter().filter(|p| equipment(p) == Some(i)) {
            let here = room(&design, placed);
            let inside = (here.lo.xy() - chamber.min).min(chamber.max - here.hi.xy());
            prop_assert!(
                inside.min_element() >= GAP_MM - ROUNDING_MM,
                "{} keeps {inside} inside its chamber",
                placed.name
            );
            for other in &design.placed {
                // What has no place stands in the way of others; that was said.
                let is_other = equipment(other) != Some(i)
                    && equipment(other).is_none_or(|other| !without.contains(&other));
                if is_other && is_solid(design.pieces[other.piece].role) {
                    let gap = gap(&here, &room(&design, other));
                    prop_assert!(
                        gap >= GAP_MM - ROUNDING_MM,
                        "{} keeps {gap} from {}",
                        placed.name,
                        other.name
                    );
                }
            }
            if placed.parameter != main {
                continue;
            }
            prop_assert!(!placed.service.is_empty());
            for &[lo, hi] in &placed.service {
                let service = Room { lo, hi, is_round: false };
                for other in design.placed.iter().filter(|p| p.loose.is_none()) {
                    if is_solid(design.pieces[other.piece].role) {
                        let gap = gap(&service, &room(&design, other));
                        prop_assert!(gap >= -ROUNDING_MM, "{} in service room: {gap}", other.name);
                    }
                }
            }
        }
    }
    Ok([found.len(), without.len()])
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 400,
        failure_persistence: None,
        rng_seed: proptest::test_runner::RngSeed::Fixed(7),
        ..ProptestConfig::default()
    })]

    #[test]
    fn found_places_clash_with_nothing(sump in sump()) {
        places_hold(&sump.text())?;
    }
}

#[test]
fn the_random_sumps_are_worth_trying() {
    use proptest::strategy::ValueTree;
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let mut sum = [0; 2];
    for _ in 0..150 {
        let text = sump().new_tree(&mut runner).expect("a sump").current().text();
        let counts = places_hold(&text).expect("it holds");
        sum = [sum[0] + counts[0], sum[1] + counts[1]];
    }
    assert!(sum[0] >= 100 && sum[1] >= 10, "{sum:?} found and not found");
}

#[test]
fn a_place_that_is_written_into_the_file_is_the_same_place() {
    use proptest::strategy::ValueTree;
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let mut tried = 0;
    for _ in 0..150 {
        let mut sump = sump().new_tree(&mut runner).expect("a sump").current();
        let Some(file) = params::read(&sump.text()).file else { continue };
        let found = resolve(&file);
        let failing = |f: &findings::Finding| f.grade == Grade::Fails;
        if found.findings.iter().any(failing) {
            continue;
        }
        let places = found.findings.iter().filter(|f| f.code == "place-found");
        for place in places.filter(|f| !f.message.contains("turned")) {
            let i: usize = place.parameter["equipment[".len()..]
                .split(']')
                .next()
                .and_then(|i| i.parse().ok())
                .expect("a number");
            let at = place.hint.as_deref().and_then(|hint| hint.split('`').nth(1)).expect("a hint");
            let mut numbers = at.trim_start_matches("at = [").trim_end_matches(']').split(", ");
            let mut next = || numbers.next().and_then(|n| n.parse().ok()).expect("a length");
            sump.things[i].0.at = Some([next(), next()]);
            tried += 1;
        }
        let read = params::read(&sump.text());
        let written = resolve(&read.file.expect("it reads as before"));
        assert!(!written.findings.iter().any(failing), "{:#?}", written.findings);
        let (a, b) = (found.design.expect("there"), written.design.expect("there"));
        for (one, other) in a.placed.iter().zip(&b.placed) {
            let moved = one.pose.translation.distance(other.pose.translation);
            // The text of this test has one decimal.
            assert!(moved < 0.1, "{} moves by {moved}", one.name);
        }
    }
    assert!(tried >= 30, "only {tried} were tried");
}
