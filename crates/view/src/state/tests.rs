//! Guards what is shown after what was chosen, on a demo that is loaded whole.

use std::sync::OnceLock;

use glam::dvec2;

use super::*;
use crate::loading::{Load, Stages, Told};

const FRAME: Frame = Frame { min: dvec2(0.0, 0.0), max: dvec2(1000.0, 700.0) };

fn model() -> &'static Model {
    static MODEL: OnceLock<Model> = OnceLock::new();
    MODEL.get_or_init(|| {
        let text = include_str!("../../../../params/seahorse.toml");
        let mut last = None;
        let _ = Stages::default().load("seahorse.toml", text, &mut |told| {
            if let Told::Model { model, .. } = told {
                last = Some(*model);
            }
            std::ops::ControlFlow::Continue(())
        });
        last.expect("the demo has a model")
    })
}

fn state() -> State {
    let mut state = State::default();
    state.carry_over(None, model());
    state.look_from(Side::Corner.direction(), model(), FRAME);
    state
}

#[test]
fn spares_and_the_cabinet_are_not_drawn_at_first() {
    let places = state().places(model());
    for (thing, place) in places.iter().enumerate() {
        let is_hidden = matches!(model().group(thing), Group::Spare | Group::Cabinet);
        assert_eq!(place.is_none(), is_hidden, "{}", model().show.things[thing].name);
    }
}

#[test]
fn a_way_out_is_played_and_back() {
    let mut state = state();
    let way = model().show.ways.iter().position(|way| !way.steps.is_empty()).expect("a way");
    let last = model().show.ways[way].steps.last().expect("a step");
    state.start(model(), Playing::Way(way));
    let height = |state: &State| {
        let place = state.places(model())[last.things[0]].expect("it is drawn");
        place.shift.length()
    };
    assert!(height(&state) < 1e-9);
    state.play.as_mut().expect("it plays").clock.advance(1e6);
    assert!(!state.is_moving() && height(&state) > 50.0);
    let clock = &mut state.play.as_mut().expect("it plays").clock;
    clock.go_back();
    clock.advance(1e6);
    assert!(height(&state) < 1e-9);
}

#[test]
fn the_other_leaf_of_a_slot_stands_in_its_place() {
    let mut state = state();
    let slots = &model().show.slots;
    for (k, slot) in slots.iter().enumerate() {
        for leaf in 0..slot.leaves.len() {
            state.leaves[k] = leaf;
            let places = state.places(model());
            for (other, (name, things)) in slot.leaves.iter().enumerate() {
                let is_drawn = things.iter().all(|thing| places[*thing].is_some());
                assert_eq!(is_drawn, other == leaf, "{name}");
            }
        }
        state.leaves[k] = 0;
    }
    assert!(!slots.is_empty(), "the demo has leaves for one slot");
}

#[test]
fn a_door_moves_and_the_water_follows_in_the_same_breath() {
    let mut state = state();
    let door = &model().show.doors[0];
    let before = state.levels(model());
    state.set_door(model(), 0, door.highest_mm);
    state.follow(model());
    for thing in &door.things {
        let place = state.places(model())[*thing].expect("it is drawn");
        let up_mm = door.highest_mm - door.set_mm;
        assert!(place.shift.distance(DVec3::Z * up_mm) < 1e-9, "{place:?}");
    }
    let after = state.levels(model());
    assert!(before.iter().zip(&after).any(|(b, a)| 5.0 < a - b), "{before:?} {after:?}");
    let [kept] = &state.to_keep(model())[..] else { panic!("one line keeps it") };
    assert_eq!(kept.text, format!("set = {}", door.highest_mm));
    assert!(matches!(kept.lines, Some(study::trial::Lines::InPlaceOf([a, b])) if a == b));
    state.back_to_file(model());
    state.follow(model());
    assert_eq!((state.levels(model()), state.tried), (before, None));
}

#[test]
fn a_door_goes_no_further_than_its_limits() {
    let mut state = state();
    let door = &model().show.doors[0];
    for (wanted, set) in
        [(-1e9, door.lowest_mm), (1e9, door.highest_mm), (door.set_mm + 0.04, door.set_mm)]
    {
        state.set_door(model(), 0, wanted);
        assert!((state.doors_mm[0] - set).abs() < 1e-9, "{wanted}");
    }
    state.set_door(model(), 99, 1.0);
}

#[test]
fn a_choice_is_kept_until_the_file_has_another() {
    let mut state = state();
    let set_mm = model().show.doors[0].set_mm;
    state.next_leaf(model(), 0);
    state.set_door(model(), 0, set_mm + 5.0);
    state.carry_over(Some(model()), model());
    assert_eq!(state.leaves[0], 1);
    assert!((state.doors_mm[0] - set_mm - 5.0).abs() < 1e-9);
    let mut other = model().clone();
    other.show.doors[0].set_mm = set_mm + 5.0;
    other.show.slots[0].leaves.swap(0, 1);
    state.carry_over(Some(model()), &other);
    assert!(state.is_as_in_file(&other), "what was written into the file is no trial");
}

#[test]
fn what_plays_has_its_own_leaf_in_the_slot() {
    let mut state = state();
    let slot = &model().show.slots[0];
    for (k, (name, things)) in slot.leaves.iter().enumerate() {
        let way = model().show.ways.iter().position(|way| way.name == *name).expect("a way");
        assert_eq!(model().show.things[things[0]].way, Some(way), "its own way out");
        for chosen in 0..slot.leaves.len() {
            state.leaves[0] = chosen;
            state.start(model(), Playing::Way(way));
            assert_eq!(state.standing(model()), [k]);
            assert!(state.places(model())[things[0]].is_some());
            state.play.as_mut().expect("it plays").clock.advance(1e6);
            let place = state.places(model())[things[0]].expect("it is drawn");
            assert!(50.0 < place.shift.length(), "{name} comes out");
        }
    }
}

#[test]
fn it_is_said_when_what_plays_has_another_leaf_than_the_chosen_one() {
    let mut state = state();
    let steps = &model().show.emptying;
    assert_eq!(state.not_as_chosen(model(), steps), Vec::<String>::new());
    state.next_leaf(model(), 0);
    let [words] = &state.not_as_chosen(model(), steps)[..] else { panic!("one slot") };
    let [own, chosen] = [0, 1].map(|leaf| &model().show.slots[0].leaves[leaf].0);
    assert!(
        words.starts_with(&format!("with `{own}` in divider `first`, as the file has it,")),
        "{words}"
    );
    assert!(words.ends_with(&format!("although `{chosen}` is chosen")), "{words}");
}

/// The chamber of every stop fills much of the picture, its middle is seen, and the cut is as before when one leaves.
#[test]
fn the_tour_shows_each_chamber_and_gives_the_cut_back() {
    let mut state = state();
    let cut = Cut { axis: Some(crate::cut::Axis::Up), share: 0.4, is_flipped: true };
    state.cut = cut;
    let stops = &model().show.stops;
    for (k, stop) in stops.iter().enumerate() {
        state.next_stop(model(), false, FRAME);
        assert_eq!(state.tour.map(|tour| tour.stop), Some(k));
        let [lo, hi] = stop.about;
        let camera = state.orbit.camera(FRAME);
        assert!(
            corners([lo, hi]).iter().all(|p| FRAME.holds(camera.project(*p))),
            "{}",
            stop.title
        );
        let shown = Frame::around(corners([lo, hi]).map(|p| camera.project(p))).expect("corners");
        let used = shown.size() / FRAME.size();
        assert!(used.max_element() > 0.5, "{}: {used}", stop.title);
        assert_eq!(state.toured(model()), (k > 0).then_some([lo, hi]));
        if k > 0 {
            let plane = state.plane(model());
            let kept = plane.keeps_of([lo, hi]).expect("the chamber stays");
            assert!((kept[0] - lo).length() < 1.0 && kept[1] == hi, "{kept:?}");
            assert!(!plane.keeps(lo - DVec3::Y), "the wall before it is cut away");
        }
    }
    state.next_stop(model(), false, FRAME);
    assert_eq!(state.tour.map(|tour| tour.stop), Some(stops.len() - 1), "it is the last");
    let mut other = model().clone();
    other.show.stops.remove(1);
    state.carry_over(Some(model()), &other);
    assert_eq!(state.tour.map(|tour| tour.stop), Some(stops.len() - 2), "the same chamber");
    state.leave_tour();
    assert_eq!((state.tour, state.cut), (None, cut));
}

#[test]
fn every_leaf_of_a_slot_has_its_name_on_it() {
    for (name, things) in model().show.slots.iter().flat_map(|slot| &slot.leaves) {
        let is_it = |label: &&scene::Label| label.body == things.first().copied();
        let label = model().scene.labels.iter().find(is_it).expect("a name");
        assert_eq!(label.text, *name);
        let [lo, hi] = model().body(things[0]).and_then(Body::bounds).expect("a size");
        assert!(lo.cmple(label.anchor).all() && label.anchor.cmple(hi).all(), "{label:?}");
    }
}

#[test]
fn everything_out_goes_step_by_step() {
    let mut state = state();
    state.start_by_steps(model(), Playing::Emptying);
    let steps = &model().show.emptying;
    let play = state.play.as_mut().expect("it plays");
    for (k, told) in steps.iter().enumerate() {
        assert!(!play.clock.is_running);
        assert_eq!(play.course.number_at(play.clock.t_s), k);
        let (step, _) = play.course.at(play.clock.t_s).expect("there is one");
        assert_eq!((&step.name, &step.undo), (&told.name, &told.undo), "before it moves");
        play.next_step();
        play.clock.advance(1e6);
    }
    assert!((play.clock.t_s - play.clock.span_s[1]).abs() < 1e-9);
    for k in (0..steps.len()).rev() {
        play.step_before();
        assert_eq!(play.course.number_at(play.clock.t_s), k);
    }
    play.step_before();
    assert!(play.clock.t_s.abs() < 1e-9);
}

#[test]
fn walls_come_out_only_with_the_sump() {
    let [front, pump] =
        ["front wall", "return pump"].map(|name| model().named(name).expect("there is one"));
    assert!(model().is_glued(front) && !model().is_glued(pump));
    let whole = name_of(model(), Playing::Way(model().whole.expect("it has a way")));
    assert!(whole.is_some_and(|name| name.contains("whole sump")));
}

#[test]
fn parts_are_walked_through_both_ways() {
    let mut state = state();
    state.pick_next(model(), false);
    let first = state.picked;
    let mut seen = BTreeSet::new();
    while seen.insert(state.picked) {
        let places = state.places(model());
        assert!(state.picked.is_some_and(|thing| places[thing].is_some()), "it is drawn");
        state.pick_next(model(), false);
    }
    assert_eq!(state.picked, first);
    assert_eq!(seen.len(), state.places(model()).iter().flatten().count());
    state.pick_next(model(), true);
    state.pick_next(model(), false);
    assert_eq!(state.picked, first);
}

/// Thickness of the demo's walls: the mean of what is `measured` of its `sheet.clear8`, mm.
const SHEET_MM: f64 = 7.85;

/// From the front, near its middle, the outer face of the front wall is met first, then its inner one: its sheet is
/// between.
#[test]
fn a_sheet_is_measured_through_itself() {
    let mut state = state();
    state.look_from(Side::Front.direction(), model(), FRAME);
    state.off.extend([Group::Equipment, Group::Plumbing]);
    let camera = state.orbit.camera(FRAME);
    let at = dvec2(430.0, 330.0);
    state.click_to_measure(model(), &camera, at);
    state.click_to_measure(model(), &camera, at + dvec2(20.0, 0.0));
    state.click_to_measure(model(), &camera, at + dvec2(20.0, 0.0));
    let dimension = state.dimension(&state.places(model())).expect("two places");
    assert!(dimension.is_square, "{:?}", state.measuring);
    let wall = model().named("front wall").and_then(|wall| model().body(wall));
    let [lo, hi] = wall.and_then(Body::bounds).expect("it has a size");
    assert!((hi.y - lo.y - SHEET_MM).abs() < 1e-3, "the file's sheet: {lo} {hi}");
    let mm = dimension.length_mm();
    assert!((mm - SHEET_MM).abs() < 1e-3, "{mm}");
    state.click_to_measure(model(), &camera, dvec2(300.0, 300.0));
    assert_eq!(state.measuring.spots.len(), 1, "a third place begins anew");
    state.measuring.clear();
    assert_eq!(state.dimension(&state.places(model())), None);
}

#[test]
fn clicks_go_through_clear_sheet() {
    let mut state = state();
    state.look_from(Side::Front.direction(), model(), FRAME);
    let pump = model().named("return pump").expect("there is one");
    let [lo, hi] = model().body(pump).and_then(Body::bounds).expect("it has a size");
    let camera = state.orbit.camera(FRAME);
    let place = camera.project(0.5 * (lo + hi));
    let hit = state.click(model(), &camera, place).expect("there is something");
    assert_eq!(hit.thing, pump, "the wall before it is clear");
    let mut seen = Vec::new();
    for _ in 0..12 {
        let hit = state.click(model(), &camera, place).expect("there is something");
        seen.push(model().show.things[hit.thing].name.as_str());
    }
    assert!(seen.contains(&"front wall"), "by more clicks: {seen:?}");
    assert_eq!(state.click(model(), &camera, dvec2(2.0, 2.0)), None);
    assert_eq!(state.picked, None);
}

/// From above, on everything that can be taken out and is met first there.
#[test]
fn two_quick_clicks_take_out_what_the_first_picked() {
    let mut state = state();
    state.look_from(Side::Above.direction(), model(), FRAME);
    let camera = state.orbit.camera(FRAME);
    let mut taken = 0;
    for (thing, body) in model().bodies() {
        let Some([lo, hi]) = body.bounds() else { continue };
        let place = camera.project(0.5 * (lo + hi));
        state.last_click = None;
        let way = state.click_or_second(model(), &camera, place, false);
        assert_eq!(way, None, "one click takes nothing out");
        let own = model().show.things[thing].way;
        if state.picked != Some(thing) || own.is_none() || model().is_glued(thing) {
            continue;
        }
        let way = state.click_or_second(model(), &camera, place, true);
        assert_eq!((state.picked, way), (Some(thing), own), "{}", model().show.things[thing].name);
        state.take_out(model(), way.expect("it has one"));
        let is_first = |steps: &[show::Step]| steps.iter().any(|step| step.things.contains(&thing));
        assert!(is_first(&model().show.ways[way.expect("it has one")].steps));
        state.stop();
        taken += 1;
    }
    assert!(taken > 2, "{taken} can be clicked from above");
    let wall = model().named("front wall");
    // The pump behind the clear front wall is what is meant.
    state.look_from(Side::Front.direction(), model(), FRAME);
    let camera = state.orbit.camera(FRAME);
    let pump = model().named("return pump").expect("there is one");
    let [lo, hi] = model().body(pump).and_then(Body::bounds).expect("it has a size");
    let place = camera.project(0.5 * (lo + hi));
    state.click_or_second(model(), &camera, place, false);
    assert_eq!(state.picked, Some(pump));
    let way = state.click_or_second(model(), &camera, place, true);
    assert_eq!((state.picked, way), (Some(pump), model().show.things[pump].way));
    state.picked = wall;
    assert_eq!(state.click_or_second(model(), &camera, dvec2(1.0, 1.0), true), None, "glued in");
}

#[test]
fn what_is_cut_away_is_not_picked() {
    let mut state = state();
    state.cut = Cut { axis: Some(crate::cut::Axis::Front), share: 0.3, is_flipped: false };
    state.look_from(Side::Front.direction(), model(), FRAME);
    let camera = state.orbit.camera(FRAME);
    let hit = state.click(model(), &camera, dvec2(500.0, 350.0)).expect("there is something");
    assert!(hit.at.y >= 0.3 * model().show.outside_mm.y - 1e-6, "{hit:?}");
}

#[test]
fn a_measure_is_kept_until_its_things_change() {
    let mut state = state();
    state.look_from(Side::Front.direction(), model(), FRAME);
    let camera = state.orbit.camera(FRAME);
    state.click_to_measure(model(), &camera, dvec2(430.0, 330.0));
    state.click_to_measure(model(), &camera, dvec2(600.0, 330.0));
    let measured = state.measuring.clone();
    assert_eq!(measured.spots.len(), 2);
    let mut fuller = model().clone();
    fuller.show.ways.clear();
    state.carry_over(Some(model()), &fuller);
    assert_eq!(state.measuring, measured, "only the ways are others");
    let thing = measured.spots[1].thing;
    let mut other = model().clone();
    other.shapes[thing] = std::sync::Arc::new((*other.shapes[thing]).clone());
    state.carry_over(Some(&fuller), &other);
    assert_eq!(state.measuring.spots, [], "it may be another thing");
}

#[test]
fn what_is_closed_does_not_begin_again() {
    let mut state = state();
    let way = model().show.ways.iter().position(|way| !way.steps.is_empty()).expect("a way");
    state.start(model(), Playing::Way(way));
    let mut dry = model().clone();
    dry.show.ways.clear();
    state.carry_over(Some(model()), &dry);
    assert!(state.play.is_none() && state.plays(), "it waits for its way");
    state.stop();
    state.carry_over(Some(&dry), model());
    assert_eq!(state.play, None);
}

#[test]
fn a_choice_survives_a_new_model() {
    let mut state = state();
    state.picked = model().named("return pump");
    let way = model().show.ways.iter().position(|way| !way.steps.is_empty()).expect("a way");
    state.start(model(), Playing::Way(way));
    state.play.as_mut().expect("it plays").clock.advance(0.25);
    let before = state.clone();
    let mut fewer = model().clone();
    fewer.show.ways.clear();
    state.carry_over(Some(model()), &fewer);
    assert_eq!((state.picked, &state.play), (before.picked, &None), "ways are not known yet");
    state.carry_over(Some(&fewer), model());
    assert_eq!(state.play, before.play, "it goes on as soon as they are");
    let mut other = model().clone();
    other.show.ways.truncate(1);
    other.show.ways[0].name = "another".to_owned();
    state.carry_over(Some(model()), &other);
    state.carry_over(Some(&other), model());
    assert_eq!(state.play, None, "it was gone for good");
}

#[test]
fn everything_shown_is_in_the_picture() {
    for side in Side::ALL {
        let mut state = state();
        state.look_from(side.direction(), model(), FRAME);
        let camera = state.orbit.camera(FRAME);
        let corners = model().bodies().take(model().scene.bodies.len());
        for corner in corners.flat_map(|(_, b)| b.triangles.iter().flat_map(|t| t.corners)) {
            assert!(FRAME.holds(camera.project(corner)), "{side:?}");
        }
    }
}
