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
        Stages.load("seahorse.toml", text, &mut |told| {
            if let Told::Model { model, .. } = told {
                last = Some(*model);
            }
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
fn clicks_go_through_clear_sheet() {
    let mut state = state();
    state.look_from(Side::Front.direction(), model(), FRAME);
    let pump = model().named("return pump").expect("there is one");
    let [lo, hi] = model().body(pump).and_then(scene::Body::bounds).expect("it has a size");
    let camera = state.orbit.camera(FRAME);
    let place = camera.project(0.5 * (lo + hi));
    let mut seen = Vec::new();
    for _ in 0..12 {
        let hit = state.click(model(), &camera, place).expect("there is something");
        seen.push(model().show.things[hit.thing].name.as_str());
        if hit.thing == pump {
            break;
        }
    }
    assert_eq!(seen.last(), Some(&"return pump"), "{seen:?}");
    assert!(seen.len() > 1, "the front wall is before it: {seen:?}");
    assert_eq!(state.click(model(), &camera, dvec2(2.0, 2.0)), None);
    assert_eq!(state.picked, None);
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
