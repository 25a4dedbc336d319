use super::*;
use crate::panel::{DoorAt, Duration, Panel, Run};
use crate::panels::bearing::Way;
use crate::panels::doors::{Placing, panel, placings};
use crate::panels::solve::Moduli;
use crate::sample::changed;
use crate::{Levels, Strength};

const DENSITY: f64 = 1025.0;
const G: f64 = 9.806_65;
/// Edges of the plain sump's door, so far apart that two pairs of screws have room.
const TWO_PAIRS: [(&str, &str); 1] = [("lowest = 160", "lowest = 200")];

fn waters(basins: Vec<Levels>) -> Waters {
    Waters { density_kg_m3: DENSITY, basins, heads: Vec::new() }
}

fn door(changes: &[(&str, &str)], basins: Vec<Levels>) -> Panel {
    let (file, design) = changed(changes);
    let strength = Strength::of(&file, &design, &waters(basins));
    let hung = strength.panels.into_iter().find(|panel| panel.screws.is_some());
    hung.unwrap_or_else(|| panic!("{:?}", strength.not_assessed))
}

/// The door of the plain sump as it hangs where it is set so, no level known.
fn sample(at: DoorAt) -> Placing {
    sample_of(&[], at)
}

fn sample_of(changes: &[(&str, &str)], at: DoorAt) -> Placing {
    let (file, design) = changed(changes);
    let is_door = |p: &PlacedId| design.pieces[design.placed[*p].piece].role == Role::Door;
    let door = (0..design.placed.len()).find(is_door).expect("a door");
    let all = placings(&file, &design, &waters(Vec::new()), door, Way::Off).expect("it hangs");
    all.into_iter().find(|placing| placing.set.at == at).expect("it has a range")
}

/// Height of the lower edge of the plain sump's door above the inside of the bottom, mm.
fn foot_mm(panel: &Panel, set_mm: f64) -> f64 {
    let [lo, hi] = panel.rectangle_mm;
    set_mm + panel.set.expect("a door").raised_mm - (hi.y - lo.y)
}

/// A thrust, what screws carry and what the leaf pushes, of the only load.
fn only(panel: &Panel) -> &crate::ScrewLoad {
    let screws = panel.screws.as_ref().expect("a door");
    assert_eq!(panel.loads.len(), 1, "{:?}", panel.loads);
    &screws.loads[0]
}

#[track_caller]
fn is_near(value: f64, want: f64, by: f64) {
    assert!((value / want - 1.0).abs() <= by, "{value} against {want}");
}

/// Water to the upper edge of its leaf, 280 mm high, covers it: the pressure at its middle on all of it, lap included, is what
/// screws carry less what the leaf pushes back.
#[test]
fn screws_and_leaf_balance_the_water() {
    for (changes, set_mm) in [(&[][..], 185.0), (&TWO_PAIRS, 205.0)] {
        let panel = door(changes, Vec::new());
        let [lo, hi] = panel.rectangle_mm;
        let size = (hi - lo) * 1e-3;
        let load = only(&panel);
        let depth = (280.0 - foot_mm(&panel, set_mm)) * 1e-3 - 0.5 * size.y;
        assert!(depth > 0.5 * size.y, "the door is wholly under water");
        is_near(load.thrust_n, DENSITY * G * depth * size.x * size.y, 1e-6);
        let pulls: f64 = load.pulls_n.iter().sum();
        assert!(load.prying_n >= -1e-9);
        is_near(pulls - load.prying_n, load.thrust_n, 1e-9);
    }
}

/// One pair of screws, which stay where they are while the door is set lower or higher. With soft screws it turns about them until
/// one end levers against the leaf: its upper end, or where the opening begins below. The water's middle lies `h² / (12 d)`
/// below the door's, d deep; about the screws `T |y − y_w| = P |e − y|` with the end e.
#[test]
fn a_door_on_one_pair_levers_on_one_end() {
    for (at, foot_mm, from_above) in
        [(DoorAt::Lowest, 45.0, true), (DoorAt::AsSet, 70.0, true), (DoorAt::Highest, 95.0, false)]
    {
        let Placing { model, bearings, .. } = sample(at);
        let height = model.board.size().y;
        let screws = &model.screwed.as_ref().expect("screws").at_mm;
        assert_eq!(screws.len(), 2);
        let y = screws[0].y - model.board.lo.y;
        is_near(y, 127.5 - foot_mm, 1e-9);
        let moduli = Moduli { panel: 3e9, rim: 3e9 };
        let pulls = |run: Run| -> Vec<f64> {
            let solved = model.solve(run, moduli, 0.0074, &bearings).expect("it stands");
            solved.bending.fields[0].reactions.points.iter().map(|n| n.abs()).collect()
        };
        let depth = 280.0 - foot_mm - 0.5 * height;
        let area = model.board.size().element_product() * 1e-6;
        let thrust = DENSITY * G * depth * 1e-3 * area;
        let water = 0.5 * height - height * height / (12.0 * depth);
        let end = if from_above { height } else { 120.0 - foot_mm };
        assert!((y > water) == from_above, "{at:?}");
        let prying = thrust * (y - water).abs() / (end - y).abs();
        // Where the upper end is free, what is faint there carries a little.
        let by = if from_above { 1e-5 } else { 1e-3 };
        let soft = pulls(Run::Hinged);
        for pull in &soft[..2] {
            is_near(*pull, 0.5 * (thrust + prying), by);
        }
        is_near(soft[2..].iter().sum::<f64>(), prying, 10.0 * by);
        // Its own lower edge is a longer lever than the edge of the opening, on which a soft one turns.
        assert_eq!(pulls(Run::SidesClamped)[0] > soft[0], from_above, "{at:?}");
    }
}

/// Told is the place at which screws are pulled hardest: the lowest, for there the water stands highest above it and it levers
/// most.
#[test]
fn it_is_told_of_where_it_is_strained_most() {
    let panel = door(&[], Vec::new());
    assert_eq!(panel.set.expect("a door").at, DoorAt::Lowest);
    assert!(panel.loads[0].words.ends_with("the door as low as it goes"), "{:?}", panel.loads);
}

#[test]
fn a_door_that_is_alike_on_both_sides_pulls_its_screws_alike() {
    let panel = door(&TWO_PAIRS, Vec::new());
    let screws = panel.screws.as_ref().expect("a door");
    assert_eq!(screws.at_mm.len(), 4);
    let pulls = &only(&panel).pulls_n;
    let middle = 0.5 * (panel.rectangle_mm[0].x + panel.rectangle_mm[1].x);
    for (at, pull) in screws.at_mm.iter().zip(pulls) {
        let mirrored = DVec2::new(2.0 * middle - at.x, at.y);
        let other = screws.at_mm.iter().position(|other| other.distance(mirrored) < 1e-6);
        is_near(*pull, pulls[other.expect("on the other side too")], 1e-6);
    }
    let lower = |i: &usize| screws.at_mm[*i].y < 0.5 * panel.rectangle_mm[1].y;
    let sum =
        |is_low: bool| -> f64 { (0..4).filter(|i| lower(i) == is_low).map(|i| pulls[i]).sum() };
    assert!(sum(true) > sum(false), "water presses harder below: {pulls:?}");
}

/// The same door on either face of its leaf, as it is set, pushed off by water of the same height.
#[test]
fn it_does_not_matter_which_face_it_lies_on() {
    let of = |changes: &[(&str, &str)]| {
        let (file, design) = changed(changes);
        let set = sample_of(changes, DoorAt::AsSet);
        panel(&file, &design, &[set]).expect("it stands").expect("it is pushed")
    };
    let up = of(&[]);
    let down = of(&[("highest = 210", "highest = 210\nside = \"downstream\"")]);
    is_near(only(&up).most_n(), only(&down).most_n(), 1e-6);
    is_near(up.stress.value, down.stress.value, 1e-6);
    // Flow pushes a door on the downstream face off for years; where no level is known all of it does.
    assert_eq!(up.loads[0].duration, Duration::Hours);
    assert_eq!(down.loads[0].duration, Duration::Years);
}

/// Levels in flow decide which way water pushes for years.
#[test]
fn levels_in_flow_push_it_off_for_years_where_they_are_higher_behind() {
    let level = |mm: f64| Levels {
        running_mm: mm,
        running_low_mm: mm,
        highest_mm: mm,
        highest_in: String::new(),
    };
    let levels = |levels: [f64; 3]| levels.map(level).to_vec();
    // The door lies upstream, towards the middle chamber.
    let on = door(&[], levels([200.0, 190.0, 120.0]));
    assert!(on.loads.iter().all(|load| !load.is_lasting), "{:?}", on.loads);
    let off = door(&[], levels([200.0, 120.0, 190.0]));
    let lasting = off.loads.iter().position(|load| load.is_lasting).expect("pushed off");
    let screws = off.screws.as_ref().expect("a door");
    let [lo, hi] = off.rectangle_mm;
    let foot = foot_mm(&off, 185.0);
    let top = foot + hi.y - lo.y;
    // How much of the square above the lower edge a level wets.
    let pushes = |mm: f64| {
        let wet = (mm.min(top) - foot).max(0.0) * 1e-3;
        wet * ((mm - foot) * 1e-3 - 0.5 * wet)
    };
    let thrust = DENSITY * G * (hi.x - lo.x) * 1e-3 * (pushes(190.0) - pushes(120.0));
    is_near(screws.loads[lasting].thrust_n, thrust, 1e-6);
    assert!(screws.lasting_factor() > screws.factor());
}

/// Without a leaf that pushes it is a plate on points. A square one held at its corners under even pressure bends 0.0255 q a⁴/D in
/// its middle at ν = 0.3, by finite elements of another kind (scikit-fem's Argyris triangles, 12 cells along a side: 0.025 506), and
/// each corner carries a quarter.
#[test]
fn without_a_leaf_it_is_a_plate_on_points() {
    let Placing { mut model, mut bearings, .. } = sample(DoorAt::AsSet);
    let side = 200.0;
    (model.board.lo, model.board.hi) = (DVec2::ZERO, DVec2::splat(side));
    (model.poisson, model.foot_mm, model.own_weight_pa) = (0.3, None, 0.0);
    let corners = [(0.0, 0.0), (side, 0.0), (0.0, side), (side, side)];
    let screwed = model.screwed.as_mut().expect("screws");
    screwed.at_mm = corners.map(DVec2::from).to_vec();
    screwed.stops_mm = [Vec::new(), Vec::new()];
    bearings[0].before_mm = 100.0;
    let moduli = Moduli { panel: 3e9, rim: 3e9 };
    let solved = model.solve(Run::Hinged, moduli, 0.004, &bearings[..1]).expect("it stands");
    let field = &solved.bending.fields[0];
    let (q, a) = (DENSITY * G * 0.1, side * 1e-3);
    let d = solved.bending.plate.rigidity();
    is_near(field.deflection.value, 0.025_506 * q * a.powi(4) / d, 2e-3);
    assert!(field.deflection.at.iter().all(|at| (at - 0.5 * a).abs() < 1e-3));
    for pull in &field.reactions.points[..4] {
        is_near(*pull, 0.25 * q * a * a, 1e-6);
    }
}

/// Whatever the levels, it is settled where the leaf stops it: also where water pushes it right at its screws, where it is in
/// balance without the leaf.
#[test]
fn it_hangs_under_any_levels() {
    for changes in [&[][..], &TWO_PAIRS] {
        for own in [0.0, 80.0, 127.5, 150.0, 184.0] {
            for more in [0.1, 1.0, 10.0, 60.0] {
                let [own, other] = [own, own + more].map(|mm| Levels {
                    running_mm: mm,
                    running_low_mm: mm,
                    highest_mm: mm,
                    highest_in: String::new(),
                });
                let panel = door(changes, vec![other.clone(), own, other]);
                for load in &panel.screws.as_ref().expect("a door").loads {
                    assert!(
                        load.thrust_n > 0.0 && load.prying_n > -1e-3 * load.thrust_n,
                        "{load:?}"
                    );
                    assert!(load.soft_n <= load.most_n(), "{load:?}");
                }
            }
        }
    }
}

#[test]
fn a_slot_takes_a_strip_out_of_what_a_knob_presses_on() {
    let whole = std::f64::consts::PI * 49.0;
    is_near(beside_slot_mm2(7.0, 0.0), whole, 1e-9);
    assert!(beside_slot_mm2(7.0, 14.0).abs() < 1e-9);
    // By counting squares of a hundredth of a millimetre.
    let squares = (0..1400).flat_map(|i| (0..1400).map(move |j| (i, j)));
    let at = |k: i32| -7.0 + (f64::from(k) + 0.5) * 0.01;
    let is_in = |&(i, j): &(i32, i32)| at(i).abs() > 3.0 && at(i).hypot(at(j)) < 7.0;
    let counted = squares.filter(is_in).count() as f64 * 1e-4;
    is_near(beside_slot_mm2(7.0, 6.0), counted, 1e-3);
}
