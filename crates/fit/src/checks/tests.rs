//! Guards what is said, and how it is graded, of every outcome.

use design::{Design, Removable, RemovableKind};
use findings::Grade;
use glam::DVec3;

use super::*;
use crate::motion::{Motion, Rigid};
use crate::report::{
    ChamberReach, Clearance, HeldTo, Passed, Report, Rescue, Step, ToolReach, Way,
};
use crate::way::{Cure, Proof, SectionProof, Verdict};
use crate::words;
use crate::world::World;

/// A demo whose report is written by hand.
fn demo() -> (Fit, Design) {
    let text = include_str!("../../../../params/brook.toml");
    let file = params::read(text).file.expect("it reads");
    let mut design = design::resolve(&file).design.expect("it resolves");
    design.report = units::System::Metric;
    let removable = |name: &str, kind| Removable {
        name: name.to_owned(),
        parameter: format!("at.{name}"),
        kind,
        ..design.removables[0].clone()
    };
    design.removables = vec![
        removable("board", RemovableKind::Leaf),
        removable("pump", RemovableKind::Equipment),
        removable("heater", RemovableKind::Equipment),
        removable("sump", RemovableKind::Sump),
    ];
    let report = Report {
        clearances: Vec::new(),
        ways: Vec::new(),
        emptying: Vec::new(),
        reach: Vec::new(),
        rescue: None,
    };
    (Fit { world: World::of(&design), report }, design)
}

fn up() -> Vec<Motion> {
    vec![Motion::slide(Rigid::HOME, DVec3::Z * 400.0)]
}

fn step(design: &Design, removable: usize) -> Step {
    Step {
        removable,
        name: design.removables[removable].name.clone(),
        undo: None,
        pushed_aside: Vec::new(),
        moves: words::tell(&up(), units::System::Metric, "out of the sump", false),
        least_gap_mm: 1.0,
    }
}

fn none(removable: usize, alone: Verdict) -> Way {
    Way {
        removable,
        alone,
        steps: Vec::new(),
        is_shortest: false,
        passes: None,
        blocked_by: Vec::new(),
        cure: None,
    }
}

/// All findings but those on what is heavy, which are about the design alone.
fn but_weights(fit: &Fit, design: &Design) -> Vec<Finding> {
    let mut findings = grade(fit, design);
    findings.retain(|f| !f.code.ends_with("-weight"));
    findings
}

/// The one finding about the first way, as text.
fn said(way: impl Fn(&Design) -> Way) -> (Grade, String) {
    let (mut fit, design) = demo();
    fit.report.ways = vec![way(&design)];
    let findings = but_weights(&fit, &design);
    let [finding] = &findings[..] else { panic!("{findings:#?}") };
    (finding.grade, finding.to_string())
}

#[test]
fn a_way_with_everything_in_place() {
    let way = |design: &Design| Way {
        steps: vec![step(design, 1)],
        is_shortest: true,
        ..none(1, Verdict::Found(up()))
    };
    let known = "holds[way-out] at.pump\n  `pump` comes out with everything else in place: raise it 400 mm, out of the sump (checked for the part taken 0.1 mm smaller all round)";
    assert_eq!(said(way), (Grade::Holds, known.to_owned()));
}

#[test]
fn a_way_after_others() {
    let way = |design: &Design| Way {
        steps: vec![step(design, 2), step(design, 1), step(design, 0)],
        is_shortest: true,
        ..none(0, Verdict::NotFound { steps: 9 })
    };
    let known = "holds[way-out-order] at.board\n  `board` comes out after `heater` and `pump`, in this order; every smaller choice was tried and none found to do; then: raise it 400 mm, out of the sump (checked for the part taken 0.1 mm smaller all round)";
    assert_eq!(said(way), (Grade::Holds, known.to_owned()));
}

#[test]
fn a_proof_fails() {
    let proof = Proof::Section(SectionProof {
        section_mm: [440.0, 8.0],
        opening_mm: [330.0, 285.0],
        takes_mm: 428.0,
        is_cabinet: false,
        at: glam::DVec3::ZERO,
        under: None,
    });
    let (grade, text) = said(|_| none(0, Verdict::ProvedNone(proof.clone())));
    assert_eq!(grade, Grade::Fails);
    assert!(text.contains("measured 428 mm, limit 440 mm"), "{text}");
    assert!(text.contains("whatever the motion: it is 12 mm too wide to turn out through the opening of the rim (`box.rim`): a sheet"), "{text}");
    assert!(text.contains("takes at most 428 mm"), "{text}");
    assert!(text.contains("help: make it at least 12 mm narrower, by the lesser of its two sides, or make the opening larger; necessary, not sure to be enough"), "{text}");
    // What is bought is not made smaller.
    let (_, text) = said(|_| none(1, Verdict::ProvedNone(proof.clone())));
    assert!(text.contains("help: choose one that is at least 12 mm narrower, or"), "{text}");
}

#[test]
fn nothing_found_is_no_proof() {
    let (grade, text) = said(|_| Way {
        blocked_by: vec![("rim".to_owned(), 12.0), ("brace".to_owned(), 3.0)],
        cure: Some(Cure::Smaller { by_mm: 5.0 }),
        ..none(0, Verdict::NotFound { steps: 123_456 })
    });
    assert_eq!(grade, Grade::NotChecked);
    for words in [
        "not checked[way-out] at.board",
        "within 123456 steps",
        "this is not a proof",
        "stopped by `rim` by 12 mm and `brace` by 3 mm",
        "it comes out if it is 5 mm shorter along its longest level side",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
}

#[test]
fn a_part_that_fits_no_opening_is_not_searched_for_longer() {
    let (grade, text) = said(|_| none(0, Verdict::NotFound { steps: 40 }));
    assert_eq!(grade, Grade::NotChecked);
    assert!(text.contains("no position was found in which it passes an opening"), "{text}");
    assert!(!text.contains("--thorough"), "{text}");
}

#[test]
fn a_thick_part_must_be_thinner() {
    let proof = Proof::Section(SectionProof {
        section_mm: [100.0, 90.0],
        opening_mm: [300.0, 80.0],
        takes_mm: 80.0,
        is_cabinet: false,
        at: glam::DVec3::ZERO,
        under: None,
    });
    let (_, text) = said(|_| none(0, Verdict::ProvedNone(proof.clone())));
    assert!(text.contains("make it at least 10 mm thinner"), "{text}");
}

#[test]
fn a_cure_names_what_to_change() {
    let of = |cure: Cure| {
        said(|_| Way { cure: Some(cure.clone()), ..none(0, Verdict::NotFound { steps: 1 }) }).1
    };
    let moved = of(Cure::Moved { removable: 1, by_mm: [0.0, -20.0] });
    assert!(moved.contains("[way-out] at.pump"), "{moved}");
    assert!(moved.contains("`pump` stands 20 mm towards the front"), "{moved}");
    let ceiling = of(Cure::HigherCeiling { by_mm: 50.0 });
    assert!(ceiling.contains("[way-out] cabinet.inside.height"), "{ceiling}");
}

#[test]
fn what_begins_in_a_clash_is_not_searched() {
    let (grade, text) = said(|_| none(0, Verdict::StartsInClash { with: vec![0] }));
    assert_eq!(grade, Grade::NotChecked);
    assert!(text.contains("was not searched for: in its place it shares room with"), "{text}");
}

/// A rim is narrowed, not left out.
#[test]
fn a_rim_in_the_way_is_to_be_narrower() {
    let (_, design) = demo();
    let is_rim = |p: &design::Placed| design.pieces[p.piece].role == design::Role::Rim;
    let thing = design.placed.iter().position(is_rim).expect("the demo has a rim");
    let cure = |thing| Cure::Without { thing, name: "it".to_owned() };
    assert!(words::cure(&cure(thing), 0, &design).contains("a narrower rim or a wider opening"));
    let is_leaf = |p: &design::Placed| design.pieces[p.piece].role == design::Role::Leaf;
    let leaf = design.placed.iter().position(is_leaf).expect("the demo has a leaf");
    assert_eq!(words::cure(&cure(leaf), 0, &design), "it comes out if `it` is not in its way");
}

#[test]
fn the_least_gap_is_told_as_far_as_it_was_looked_for() {
    let metric = units::System::Metric;
    assert_eq!(words::gap(1.5, metric), "1.5 mm");
    assert_eq!(words::gap(f64::INFINITY, metric), "more than 60 mm");
}

#[test]
fn the_sump_has_a_code_of_its_own_and_no_question_without_a_cabinet() {
    let (_, text) =
        said(|design| Way { steps: vec![step(design, 3)], ..none(3, Verdict::Found(up())) });
    assert!(
        text.starts_with("holds[sump-into-cabinet] at.sump\n  the empty sump comes out"),
        "{text}"
    );
    let (fit, mut design) = demo();
    design.surroundings = None;
    let findings = but_weights(&fit, &design);
    assert_eq!((findings.len(), findings[0].grade), (1, Grade::NotChecked));
    assert_eq!(findings[0].code, "sump-into-cabinet");
}

/// What stays in is named, unless it comes out with something else, or is not in.
#[test]
fn a_sump_with_something_stuck_is_tight() {
    let of = |spare: bool| {
        let (mut fit, mut design) = demo();
        design.removables[0].instead_of = spare.then_some(1);
        let found = |which| Way {
            steps: vec![step(&design, which)],
            is_shortest: true,
            ..none(which, Verdict::Found(up()))
        };
        let stuck = none(0, Verdict::NotFound { steps: 5 });
        fit.report.ways = vec![stuck, found(1), found(2), found(3)];
        let findings = grade(&fit, &design);
        let sump = findings.iter().find(|f| f.code == "sump-into-cabinet").expect("told");
        (sump.grade, sump.message.clone())
    };
    let (grade, message) = of(false);
    assert_eq!(grade, Grade::Tight);
    assert!(message.contains("with `board` still in it"), "{message}");
    let (grade, message) = of(true);
    assert_eq!(grade, Grade::Holds);
    assert!(message.contains("after everything in it"), "{message}");
}

/// A way that is hard to follow says so.
#[test]
fn turning_while_sliding_is_said() {
    let turn = glam::DQuat::from_rotation_x(1.0);
    let at = Rigid { turn, shift: DVec3::Z * 100.0 };
    let screw = [Motion { from: Rigid::HOME, to: at, pivot: DVec3::ZERO }];
    let (grade, text) = said(|design| {
        let moves = words::tell(&screw, units::System::Metric, "out of the sump", false);
        let step = Step { moves, ..step(design, 1) };
        assert!(!step.is_plain());
        Way { steps: vec![step], is_shortest: true, ..none(1, Verdict::Found(screw.to_vec())) }
    });
    assert!(text.contains("(1 move, some turning while sliding; checked"), "{text}");
    assert_eq!(grade, Grade::Tight);
    assert!(
        text.contains("holds on paper only: it takes 1 move, some turning while sliding"),
        "{text}"
    );
    assert!(text.contains("count it as not coming out: try it with one of cardboard"), "{text}");
}

/// Seven moves, or a gap that no hand keeps, are too much.
#[test]
fn what_no_hand_can_do_is_tight() {
    let of = |n_moves: usize, gap_mm: Option<f64>| {
        said(|design| {
            let mut step = step(design, 1);
            step.moves = vec![step.moves[0].clone(); n_moves];
            let passes = gap_mm.map(|gap_mm| Passed { name: "rim".to_owned(), gap_mm });
            Way { steps: vec![step], passes, ..none(1, Verdict::Found(up())) }
        })
    };
    assert_eq!(of(6, None).0, Grade::Holds);
    let (grade, text) = of(7, None);
    assert_eq!(grade, Grade::Tight);
    assert!(text.contains("on paper only: it takes 7 moves"), "{text}");
    let (grade, text) = of(1, Some(0.1));
    assert_eq!(grade, Grade::Tight);
    assert!(text.contains("it has 0.1 mm beside `rim`, and a hand wants 0.5"), "{text}");
    assert!(text.contains("measured 0.1 mm, limit 0.5 mm"), "{text}");
    assert!(text.contains("what would ease it: more room beside `rim`"), "{text}");
}

#[test]
fn alike_things_are_told_once() {
    let (mut fit, mut design) = demo();
    design.removables[2].parameter = design.removables[1].parameter.clone();
    let stuck = |which| none(which, Verdict::NotFound { steps: 5 });
    fit.report.ways = vec![stuck(0), stuck(1), stuck(2)];
    let findings = but_weights(&fit, &design);
    assert_eq!(findings.len(), 2);
    assert!(findings[1].message.contains("the same goes for one more like it"));
}

fn clearance(gap_mm: f64, limit_mm: f64) -> Clearance {
    Clearance {
        a: 0,
        b: 1,
        names: ["left".to_owned(), "right".to_owned()],
        parameters: ["p.left".to_owned(), "p.right".to_owned()],
        gap_mm,
        at: [DVec3::ZERO, DVec3::ZERO],
        limit_mm,
        held_to: HeldTo::Gap,
        when: None,
    }
}

#[test]
fn own_play_is_no_gap_of_the_file() {
    let (mut fit, design) = demo();
    let play = |gap| Clearance { held_to: HeldTo::OwnPlay, ..clearance(gap, 0.0) };
    fit.report.clearances = vec![play(0.9), play(1.5)];
    let finding = grade(&fit, &design).remove(0);
    assert_eq!((finding.grade, finding.code), (Grade::Holds, "clearance-play"));
    assert!(finding.message.starts_with("2 pairs of parts have their own play"));
    assert!(!finding.to_string().contains("fit.gap"), "{finding}");
}

/// Places count from the inner faces, as in the file.
#[test]
fn places_count_as_the_file_does() {
    let (mut fit, design) = demo();
    let at = inside_corner(&design) + DVec3::new(10.0, 20.0, 30.0);
    fit.report.clearances = vec![Clearance { at: [at; 2], ..clearance(-3.0, 2.0) }];
    let message = grade(&fit, &design).remove(0).message;
    assert!(
        message.ends_with("at 10 mm from the inner face of the inlet end wall, 20 mm from that of the front wall, 30 mm above the inside of the bottom"),
        "{message}"
    );
}

#[test]
fn gaps_are_graded_and_grouped() {
    let (mut fit, design) = demo();
    let gap = design.fit.gap.to_mm();
    fit.report.clearances = vec![
        clearance(-3.0, gap),
        clearance(0.5, gap),
        clearance(0.7, gap),
        clearance(gap, gap),
        clearance(gap + 5.0, gap),
        Clearance { when: Some("its cup lifted off".to_owned()), ..clearance(-1.0, gap) },
    ];
    let findings = but_weights(&fit, &design);
    let short: Vec<(Grade, &str)> = findings.iter().map(|f| (f.grade, f.code)).collect();
    assert_eq!(
        short,
        [
            (Grade::Fails, "share-room"),
            (Grade::Tight, "clearance-gap"),
            (Grade::Tight, "service-room"),
            (Grade::Holds, "clearance-gap"),
        ]
    );
    assert!(findings[1].message.contains("0.5 mm apart"), "{}", findings[1].message);
    assert!(findings[1].message.contains("one more pair"), "{}", findings[1].message);
    assert!(findings[3].message.starts_with("2 pairs"), "{}", findings[3].message);
}

fn tool(name: &str, share: f64, best_share: f64, taken_out: &[usize]) -> ToolReach {
    ToolReach {
        tool: name.to_owned(),
        share,
        best_share,
        taken_out: taken_out.to_vec(),
        out_of_reach: None,
    }
}

#[test]
fn a_floor_is_reached_by_the_best_of_hand_and_tools() {
    let of = |tools: Vec<ToolReach>| {
        let (mut fit, design) = demo();
        fit.report.reach = vec![ChamberReach {
            chamber: "inlet".to_owned(),
            parameter: "along[0]".to_owned(),
            tools,
            hindrances: Vec::new(),
        }];
        grade(&fit, &design).remove(0)
    };
    let whole = of(vec![tool("hand", 0.5, 0.8, &[1]), tool("net", 0.7, 1.0, &[1, 2])]);
    assert_eq!((whole.grade, whole.code), (Grade::Holds, "reach-floor"));
    assert_eq!(
        whole.message,
        "of the floor of chamber `inlet` the hand reaches 50 %, and 80 % with `pump` out; the net reaches 70 %, and 100 % with `pump` and `heater` out"
    );
    assert_eq!(of(vec![tool("hand", 0.5, 0.9, &[1])]).grade, Grade::Tight);
    // Nearly all is not all.
    assert!(of(vec![tool("hand", 0.997, 0.997, &[])]).message.contains("99 %"));
}

#[test]
fn a_rescue_needs_ways() {
    let of = |share, is_possible| {
        let (mut fit, design) = demo();
        let moves = if is_possible { step(&design, 1).moves } else { Vec::new() };
        let steps = vec![Step { moves, ..step(&design, 1) }];
        fit.report.rescue = Some(Rescue { chamber: "inlet".to_owned(), steps, share, is_possible });
        let finding = grade(&fit, &design).remove(0);
        let names_it = finding.message.contains("no way out is known of `pump`");
        assert_eq!(names_it, !is_possible, "{}", finding.message);
        (finding.grade, finding.code)
    };
    assert_eq!(of(1.0, true), (Grade::Holds, "rescue"));
    assert_eq!(of(0.8, true), (Grade::Tight, "rescue"));
    assert_eq!(of(1.0, false), (Grade::NotChecked, "rescue"));
}
