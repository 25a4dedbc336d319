//! Guards that the words of every step agree with where its parts are: read back from the printed words, and compared with
//! the places of the walls alone, by code that shares nothing with that which wrote them.

use std::collections::BTreeSet;

use design::{Design, PlacedId};
use glam::DVec3;
use shop::glue_up::{GlueUp, Step, StepPlace};

use super::{demo, text};
use crate::guide::guide;

const DEMOS: [&str; 5] = ["brook", "fragfarm", "mangrove", "seahorse", "stuck-leaf"];

fn middle(design: &Design, id: PlacedId) -> DVec3 {
    let placed = &design.placed[id];
    let [lo, hi] = design.pieces[placed.piece].shape.bounds();
    placed.pose.transform_point3(0.5 * (lo + hi))
}

fn named(design: &Design, name: &str) -> PlacedId {
    let all = design.placed.iter();
    all.enumerate().find(|(_, p)| p.name == name).unwrap_or_else(|| panic!("no {name}")).0
}

/// Width of the strip where the boxes around two parts meet, mm: of the three measures of what they share the middle one.
fn strip_mm(design: &Design, a: PlacedId, b: PlacedId) -> f64 {
    let bounds = |id: PlacedId| {
        let placed = &design.placed[id];
        let [lo, hi] = design.pieces[placed.piece].shape.bounds();
        let (p, q) = (placed.pose.transform_point3(lo), placed.pose.transform_point3(hi));
        [p.min(q), p.max(q)]
    };
    let ([lo, hi], [low, high]) = (bounds(a), bounds(b));
    let mut shared = (hi.min(high) - lo.max(low)).to_array();
    shared.sort_by(f64::total_cmp);
    shared[1]
}

/// The wall or bottom that is below when it is told so: `onto its front`, `lying on its back`.
fn below(words: &str) -> Option<&'static str> {
    let told = [
        ("its front", "front wall"),
        ("its back", "back wall"),
        ("its inlet end", "inlet end wall"),
        ("its far end", "far end wall"),
        ("its bottom", "bottom"),
    ];
    told.iter().find(|(words_of, _)| words.starts_with(words_of)).map(|(_, name)| *name)
}

/// Which way is down when that part is below, from where it is in the whole box.
fn down_with(design: &Design, name: &str) -> DVec3 {
    let off = middle(design, named(design, name)) - 0.5 * design.outside;
    let axis = (0..3).max_by(|&i, &j| off[i].abs().total_cmp(&off[j].abs())).unwrap();
    // A wall lies near one side of the box, nearer than half of any other measure would have it.
    let share = off / design.outside;
    let axis = if share[axis].abs() > 0.3 {
        axis
    } else {
        (0..3).max_by(|&i, &j| share[i].abs().total_cmp(&share[j].abs())).unwrap()
    };
    DVec3::AXES[axis] * off[axis].signum()
}

/// All places in the words after a start, each cut off there.
fn after<'a>(words: &'a str, start: &'a str) -> impl Iterator<Item = &'a str> {
    words.match_indices(start).map(move |(at, _)| &words[at + start.len()..])
}

/// What in the words of a step does not agree with it.
fn wrong(design: &Design, step: &Step, words: &str, had: &BTreeSet<PlacedId>) -> Vec<String> {
    let mut wrong = Vec::new();
    let mut say = |what: String| wrong.push(what);
    let name = |id: PlacedId| design.placed[id].name.as_str();
    let heading = words.lines().next().unwrap_or_default();
    let is_bench = step.place == StepPlace::Bench;

    // What is said to be new is what goes in, and was nowhere before.
    let new: Vec<&str> = if is_bench {
        step.parts.iter().map(|&id| name(id)).collect()
    } else {
        vec![name(step.parts[0])]
    };
    for part in &new {
        if !heading.contains(&format!("{part} (")) {
            say(format!("{part} is new and the heading does not say so"));
        }
    }
    if is_bench {
        let (_, onto) = heading.split_once(" onto ").unwrap_or_default();
        if !onto.starts_with(&format!("{} (", name(step.standing[0]))) {
            say(format!("it is not glued onto `{onto}`"));
        }
    }
    for id in &step.parts {
        if had.contains(id) {
            say(format!("{} was there already", name(*id)));
        }
    }

    // Every part that is named in a joint is there, and one of the two is new.
    let there: Vec<PlacedId> = step.standing.iter().chain(&step.parts).copied().collect();
    let mut joints = 0;
    for line in words.lines() {
        let what = line.split([':', '|']).next().unwrap_or_default().trim();
        let Some((a, b)) = what.split_once(" to ") else { continue };
        let known = |name: &str| design.placed.iter().position(|p| p.name == name);
        let (Some(a), Some(b)) = (known(a), known(b)) else { continue };
        joints += 1;
        if !there.contains(&a) || !there.contains(&b) {
            say(format!("`{what}` names what is not there yet"));
        }
        if !step.parts.contains(&a) && !step.parts.contains(&b) {
            say(format!("`{what}` has nothing new"));
        }
        // A wide strip is fed from both sides, another from either: by the boxes of the two parts alone.
        let is_solvent = !line.to_lowercase().contains("on both faces before they meet");
        let width = strip_mm(design, a, b);
        if is_solvent && line.contains(", and ") != (width > 15.0) {
            say(format!("`{what}` is {width} mm wide, and is told to be fed from the wrong sides"));
        }
        // Where it is fed: in a chamber that the seam borders on.
        for told in line.to_lowercase().split("inside, in ").skip(1) {
            let chamber = design
                .chambers
                .iter()
                .filter(|c| told.starts_with(&c.name.to_lowercase()))
                .max_by_key(|c| c.name.len())
                .unwrap_or_else(|| panic!("no chamber in `{told}`"));
            let near = step.feeds.iter().flat_map(|feed| &feed.joints).any(|fed| {
                let joint = &design.joints[fed.joint];
                (joint.a, joint.b) == (a, b)
                    && fed.seams.iter().any(|seam| {
                        let at = 0.5 * (seam.ends[0] + seam.ends[1]).truncate();
                        at.distance(at.clamp(chamber.min, chamber.max)) < 20.0
                    })
            });
            if !near {
                say(format!("`{what}` does not border on {}", chamber.name));
            }
        }
    }
    let made = step.feeds.iter().map(|feed| feed.joints.len()).sum::<usize>();
    if joints != made {
        say(format!("{joints} joints are told, {made} are fed"));
    }

    // What holds it square is there.
    for told in after(words, "push it up against ").chain(after(words, "Hold: square to ")) {
        let told = told.split([';', '.']).next().unwrap_or_default();
        let told = told.split(", which").next().unwrap_or_default();
        for part in told.split(", ").flat_map(|part| part.split(" and ")) {
            if !step.standing.contains(&named(design, part)) {
                say(format!("{part} is to hold it and is not there"));
            }
        }
    }
    if is_bench {
        return wrong;
    }

    // How the box lies, in the order in which it is told; it begins and ends on its bottom.
    let shown =
        after(words, "Shown: the box lying on ").chain(after(words, "Shown: the box standing on "));
    let turned = after(words, "urn the box: onto ");
    let told = |words: &str| below(words).unwrap_or_else(|| panic!("`{words}`"));
    let mut shown: Vec<&str> = shown.map(told).collect();
    let mut turned: Vec<&str> = turned.map(told).collect();
    let downs: Vec<DVec3> = step.feeds.iter().map(|feed| feed.down).collect();
    let is_up = |down: &DVec3| down.dot(DVec3::NEG_Z) > 0.5;
    let lies = |names: &[&str]| names.iter().map(|n| down_with(design, n)).collect::<Vec<_>>();
    let agree = |a: &mut Vec<&str>, downs: Vec<DVec3>| {
        let mut told = lies(a);
        let mut downs = downs;
        // The two lists of pictures are read by their words, not by their place on the page.
        let order = |d: &DVec3| d.as_ivec3().to_array();
        told.sort_by_key(order);
        downs.sort_by_key(order);
        told.len() == downs.len() && told.iter().zip(&downs).all(|(a, b)| a.distance(*b) < 1e-6)
    };
    if !downs.iter().any(|down| down.dot(DVec3::Z) > 0.5) {
        if !agree(&mut shown, downs.clone()) {
            say(format!("pictures are told to show {shown:?}, and it lies {downs:?}"));
        }
        let of_turns: Vec<DVec3> = downs.iter().copied().filter(|down| !is_up(down)).collect();
        if !agree(&mut turned, of_turns) {
            say(format!("it is to be turned onto {turned:?}, and lies {downs:?}"));
        }
    }
    let is_back = words.contains("turn the box back: onto its bottom");
    if is_back != downs.last().is_some_and(|down| !is_up(down)) {
        say("it is not told, or told for nothing, to turn the box back".to_owned());
    }

    // The way in leads towards the wall that is named.
    if let (Some(way), Some(told)) = (step.way, after(words, "pushed in level towards the ").next())
    {
        let wall =
            ["front", "back", "inlet end", "far end"].into_iter().find(|n| told.starts_with(n));
        let wall = format!("{} wall", wall.unwrap_or_else(|| panic!("`{told}`")));
        if down_with(design, &wall).distance(way) > 1e-6 {
            say(format!("it goes {way}, not towards the {wall}"));
        }
    } else if words.contains("lowered straight down") != (step.way == Some(DVec3::NEG_Z)) {
        say("the way in is told wrongly".to_owned());
    }
    wrong
}

/// Everything that is wrong with the words of a guide.
fn all_wrong(design: &Design, glue_up: &GlueUp, told: &str) -> Vec<String> {
    let steps: Vec<&str> = told.split("### Step ").skip(1).collect();
    assert_eq!(steps.len(), glue_up.steps.len());
    let mut had: BTreeSet<PlacedId> = BTreeSet::new();
    let mut in_box: BTreeSet<PlacedId> = BTreeSet::new();
    let mut all = Vec::new();
    for (step, words) in glue_up.steps.iter().zip(steps) {
        let words = words.split("\n## ").next().unwrap_or_default();
        let had = if step.place == StepPlace::Bench { &mut had } else { &mut in_box };
        all.extend(wrong(design, step, words, had));
        had.extend(&step.parts);
    }
    all
}

fn told(name: &str) -> (Design, GlueUp, String) {
    let (file, design, scene) = demo(name);
    let (glue_up, _) = shop::glue_up::glue_up(&design);
    let of = super::of(&file, &design, &scene, &glue_up);
    let told = text(&guide(&of).unwrap());
    (design, glue_up, told)
}

#[test]
fn the_words_of_every_step_agree_with_its_position() {
    for name in DEMOS {
        let (design, glue_up, told) = told(name);
        assert_eq!(all_wrong(&design, &glue_up, &told), Vec::<String>::new(), "{name}");
    }
}

#[test]
fn words_that_are_wrong_are_found_out() {
    let (design, glue_up, told) = told("seahorse");
    let damaged = |from: &str, to: &str| {
        assert!(told.contains(from), "`{from}` is not in the guide");
        all_wrong(&design, &glue_up, &told.replacen(from, to, 1))
    };
    for (from, to) in [
        ("urn the box: onto its front", "urn the box: onto its back"),
        ("Shown: the box lying on its front", "Shown: the box lying on its back"),
        ("turn the box back: onto its bottom", "go on"),
        ("leaf weir to bottom", "leaf weir to rim"),
        (": leaf weir (", ": leaf gate ("),
        ("onto front wall (", "onto back wall ("),
        ("push it up against front wall", "push it up against rim"),
        ("lowered straight down", "pushed in level towards the front"),
        ("nside, in skimmer", "nside, in inlet"),
        ("utside, or inside", "utside, and inside"),
    ] {
        assert!(!damaged(from, to).is_empty(), "`{from}` as `{to}` is not found out");
    }
}

/// A box of thick sheet with a leaf in grooves: every strip is wider than solvent runs in from one side.
#[test]
fn a_wide_groove_is_fed_from_both_sides() {
    let text_of = |thickness: u32| {
        format!(
            "format = 1\ntitle = \"t\"\n[sheet.s]\nmaterial = \"cast acrylic\"\nthickness = {thickness}\n[box]\noutside = {{ length = \
             900, width = 500, height = 400 }}\nsheet = \"s\"\n[leaf.a]\ncrest = {{ height = 250 }}\n[[along]]\nchamber = \
             \"one\"\nlength = 400\n[[along]]\ndivider = \"d\"\nleaf = \"a\"\njoint = \"dado\"\n[[along]]\nchamber = \"two\"\n"
        )
    };
    for (thickness, joined) in [(20, ", and "), (10, ", or ")] {
        let file = params::read(&text_of(thickness)).file.unwrap();
        let design = design::resolve(&file).design.unwrap();
        let (glue_up, _) = shop::glue_up::glue_up(&design);
        let parts = study::parts::build_within(&design, 0.5).unwrap();
        let scene = study::scene(&design, &parts).unwrap();
        let told = text(&guide(&super::of(&file, &design, &scene, &glue_up)).unwrap());
        assert_eq!(all_wrong(&design, &glue_up, &told), Vec::<String>::new(), "{thickness}");
        let groove = told.lines().find(|line| line.contains("leaf a to front wall")).unwrap();
        assert!(groove.contains("in a groove") && groove.contains(joined), "{groove}");
        let wrong = told.replace(joined, if joined == ", and " { ", or " } else { ", and " });
        assert!(!all_wrong(&design, &glue_up, &wrong).is_empty(), "{thickness}");
    }
}
