//! Guards how tolerances add up, and what is measured on designs.

use super::*;
use crate::panel::{Duration, Held, Load, Peak, Remedies, Run, Shape, Theory};
use crate::sample::{changed, of_text};
use glam::DVec2;
use proptest::prelude::*;

fn part(words: &str, low: f64, high: f64, is_shared: bool) -> Part {
    Part {
        words: words.to_owned(),
        mm: [low, high],
        cause: if is_shared { Cause::OneChance } else { Cause::Chance },
    }
}

fn even(mm: f64) -> Part {
    part("part", -mm, mm, false)
}

fn stack(nominal_mm: f64, parts: Vec<Part>) -> Stack {
    let subject =
        Subject { code: StackCode::LeafFits, words: String::new(), parameter: String::new() };
    Stack::new(subject, nominal_mm, [None, None], parts)
}

fn is(measured: [f64; 2], expected: [f64; 2]) -> bool {
    measured.iter().zip(expected).all(|(a, b)| (a - b).abs() < 5e-4)
}

/// "Tolerance stack-up: a worked example using worst-case and RSS" (metricmech, 2026): a bore 40 ± 0.10 deep less spacer 25 ± 0.05, ring 2 ± 0.03 and shoulder 10 ± 0.05 leaves
/// 3.00 ± 0.23 at worst and ± 0.126 by root-sum-square.
#[test]
fn a_published_example_comes_out() {
    let gap = stack(40.0 - 25.0 - 2.0 - 10.0, [0.10, 0.05, 0.03, 0.05].map(even).to_vec());
    assert!(is(gap.worst_mm, [2.77, 3.23]), "{gap:?}");
    assert!(is(gap.likely_mm, [2.874, 3.126]), "{gap:?}");
}

/// Two sheets of 10 mm ± 1.4, a cut ± 0.5 and a place ± 0.3: 3.6 at worst, 2.064 likely if the sheets differ; from one sheet
/// both thicknesses are one cause of ± 2.8.
#[test]
fn two_thicknesses_of_one_sheet_are_one_cause() {
    let of = |is_shared: bool| {
        let sheet = || part("thickness", -1.4, 1.4, is_shared);
        stack(0.0, vec![sheet(), sheet(), even(0.5), even(0.3)])
    };
    assert!(is(of(false).worst_mm, [-3.6, 3.6]) && is(of(true).worst_mm, [-3.6, 3.6]));
    assert!(is(of(false).likely_mm, [-2.064, 2.064]));
    let one_cause = (2.8_f64 * 2.8 + 0.34).sqrt();
    assert!(is(of(true).likely_mm, [-one_cause, one_cause]));
}

#[test]
fn what_acts_to_one_side_moves_the_middle() {
    let gap = stack(2.0, vec![part("swelling", -1.2, 0.0, true)]);
    assert!(is(gap.worst_mm, [0.8, 2.0]) && is(gap.likely_mm, [0.8, 2.0]));
}

/// By hand: 3 mm, of which chances make ± 0.3 and ± 0.4, by squares ± 0.5. As fitted it is 2.5 to 3.5 mm. Wet through it is 1.2 mm
/// less and after years of bulging another 0.6 mm: 0.7 to 1.7 mm, and neither is halved or squared. At worst 0.5 to 3.7 mm.
#[test]
fn what_is_certain_counts_wholly_as_fitted_and_wet_through() {
    let comes = |words: &str, mm: f64| parts::certain(words, [-mm, 0.0]);
    let chances = || vec![even(0.3), even(0.4)];
    let fitted = stack(3.0, chances());
    assert!(is(fitted.likely_mm, [2.5, 3.5]), "{fitted:?}");
    let with = [chances(), vec![comes("swelling", 1.2), comes("bulge", 0.6)]].concat();
    let gap = stack(3.0, with);
    assert!(is(gap.worst_mm, [0.5, 3.7]) && is(gap.likely_mm, [0.7, 3.5]), "{gap:?}");
    // As chances they would leave 2.1 ± √(0.3² + 0.4² + 0.6² + 0.3²), 1.263 mm at least.
    let one_sided = |mm: f64| part("one", -mm, 0.0, false);
    let squared = stack(3.0, [chances(), vec![one_sided(1.2), one_sided(0.6)]].concat());
    assert!(is([squared.likely_mm[0]; 2], [1.2633; 2]), "{squared:?}");
}

/// 384 mm between the walls: the box swells by half of 0.4 % of that, 0.768 mm, and a spare comes in dry.
#[test]
fn a_dry_leaf_in_a_wet_box_is_held_by_less() {
    let stacks = of(&[]);
    let less = |code: &str| {
        let parts = one(&stacks, code).parts.iter();
        parts.filter(|p| p.words.contains("box swollen")).map(|p| p.mm[0]).collect::<Vec<_>>()
    };
    for code in ["leaf-held", "shelf-rests"] {
        let [mm] = less(code)[..] else { panic!("{code}") };
        assert!((mm + 0.768).abs() < 1e-9, "{code}: {mm}");
    }
    assert!(less("leaf-fits").is_empty(), "there it helps, and may come late");
}

proptest! {
    #[test]
    fn what_is_likely_lies_within_the_worst(
        nominal in -5.0..5.0_f64,
        sides in prop::collection::vec((0.0..3.0_f64, 0.0..3.0_f64, any::<bool>()), 0..9),
    ) {
        let one = |(low, high, is_shared): &(f64, f64, bool)| part("one", -low, *high, *is_shared);
        let gap = stack(nominal, sides.iter().map(one).collect());
        prop_assert!(gap.worst_mm[0] <= gap.likely_mm[0] + 1e-12);
        prop_assert!(gap.likely_mm[0] <= gap.likely_mm[1]);
        prop_assert!(gap.likely_mm[1] <= gap.worst_mm[1] + 1e-12);
        prop_assert!(gap.worst_mm[0] <= nominal && nominal <= gap.worst_mm[1]);
    }
}

fn of(changes: &[(&str, &str)]) -> Vec<Stack> {
    let (file, design) = changed(changes);
    stacks(&file, &design, &[])
}

#[track_caller]
fn one<'a>(stacks: &'a [Stack], code: &str) -> &'a Stack {
    stacks.iter().find(|stack| stack.code.as_str() == code).expect("it is there")
}

const SLOT: &str = "slot = [\"loose\"]";

/// Channels are 0.8 mm wider than the sheet, and 8 mm (strips), 12 mm (printed) or 40 % of 8 mm (grooves) deep. Beyond either
/// end of the leaf they leave half of what it takes, rounded up: 0.44 % of 384, 379.2 or 390.4 mm, 0.9 mm by its cuts and the
/// walls' distance, and 0.4 mm by two backs of prints or two floors of grooves.
#[test]
fn channels_of_all_kinds_are_measured_as_they_are_drawn() {
    for (guide, depth, ends) in [("strips", 8.0, 2.6), ("printed", 12.0, 3.0), ("groove", 3.2, 3.2)]
    {
        let with = format!("{SLOT}\nguide = \"{guide}\"");
        let stacks = of(&[(SLOT, &with)]);
        for (code, expected) in
            [("leaf-slides", 0.8), ("leaf-fits", ends), ("leaf-held", depth - ends)]
        {
            let nominal = one(&stacks, code).nominal_mm;
            assert!((nominal - expected).abs() < 1e-9, "{guide} {code}: {nominal}");
        }
    }
}

/// 600 mm of acrylic: 0.3 % of water are 1.8 mm; 10 K at 70 · 10⁻⁶/K are 0.42 mm, at the 80 of our values 0.48.
#[test]
fn long_parts_grow_by_water_and_warmth() {
    let (file, design) = changed(&[("[box]", "[tolerance]\nswelling = 0.003\n[box]")]);
    let causes = Causes::of(&file, &design, &[]);
    let [water, warmth] = causes.growth_alone(&design.sheets["clear"], 600.0, -1.0);
    assert!(is(water.mm, [-1.8, 0.0]), "{water:?}");
    assert!(is(warmth.mm, [-0.48, 0.24]), "{warmth:?}");
    // Walls of the same sheet take half of the warmth away.
    let [_, between] = causes.growth(&design.sheets["clear"], 600.0, -1.0);
    assert!(is(between.mm, [-0.24, 0.12]), "{between:?}");
}

/// The plain sump as it is built by what it says, and judged by another `tolerance`.
fn judged(tolerance: &str) -> Vec<Stack> {
    let (file, _) = changed(&[("[box]", &format!("[tolerance]\n{tolerance}\n[box]"))]);
    stacks(&file, &changed(&[]).1, &[])
}

#[test]
fn more_tolerance_makes_every_range_wider() {
    let tight = judged("cut = 0.1\nassembly = 0.2\nprinted = 0.1");
    let wide = judged("cut = 0.3\nassembly = 1\nprinted = 0.3");
    assert_eq!(tight.len(), wide.len());
    assert!(tight.len() >= 9, "{}", tight.len());
    for (a, b) in tight.iter().zip(&wide) {
        assert_eq!((a.code, &a.words), (b.code, &b.words));
        assert!(b.worst_mm[0] < a.worst_mm[0] && b.worst_mm[1] >= a.worst_mm[1], "{}", a.words);
        assert!(b.likely_mm[0] < a.likely_mm[0], "{}", a.words);
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    /// Whatever a file says, what it leaves to the design works at its worst: nothing bends here.
    #[test]
    fn what_is_built_by_a_tolerance_works_by_it(
        [cut, assembly, printed] in [0.0..1.0_f64, 0.0..2.0_f64, 0.0..0.5_f64],
        swelling in prop::option::of(0.0..0.01_f64),
        [fitted, coldest, warmer] in [10.0..30.0_f64, 0.0..30.0_f64, 0.0..30.0_f64],
        material in prop::sample::select(vec!["cast acrylic", "PVC", "polycarbonate"]),
        guide in prop::sample::select(vec!["strips", "printed", "groove"]),
        width in 300.0..900.0_f64,
    ) {
        let swelling = swelling.map_or(String::new(), |share| format!("swelling = {share}\n"));
        let tolerance = format!(
            "[tolerance]\ncut = {cut}\nassembly = {assembly}\nprinted = {printed}\n{swelling}fitted_at = {fitted}\ntemperature = [{coldest}, {}]\n[box]",
            coldest + warmer
        );
        let stacks = of(&[
            ("[box]", &tolerance),
            ("[leaf.loose]", "[leaf.loose]\nsheet = \"other\""),
            ("[box]", &format!("[sheet.other]\nmaterial = \"{material}\"\nthickness = 8\nmeasured = [7.8, 8.1]\n[box]")),
            (SLOT, &format!("{SLOT}\nguide = \"{guide}\"")),
            ("width = 400, height", &format!("width = {width}, height")),
        ]);
        for code in ["leaf-fits", "leaf-slides", "shelf-fits", "ring-fits"] {
            let stack = one(&stacks, code);
            prop_assert!(stack.worst_mm[0] >= stack.least_mm - 1e-6, "{guide}: {stack:?}");
        }
        // No more than is needed: to 0.1 mm at either end, and what the leaf that is that much shorter grows less. Where it is
        // never as warm again as at fitting, it must still have gone in there.
        let fits = one(&stacks, "leaf-fits");
        let is_within = (coldest..=coldest + warmer).contains(&fitted);
        prop_assert!(!is_within || fits.worst_mm[0] < 0.3 + 0.02 * fits.nominal_mm, "{fits:?}");
    }
}

#[test]
fn no_tolerance_leaves_the_drawing() {
    let nothing = "[tolerance]\ncut = 0\nassembly = 0\nprinted = 0\nswelling = 0\nfitted_at = 20\ntemperature = [20, 20]\n[box]";
    for stack in of(&[("[box]", nothing)]) {
        // What is sewn differs whatever is cut, and a door's play on its screws is drawn.
        if matches!(stack.code.as_str(), "sock-sits" | "door-covers") {
            continue;
        }
        assert!(is(stack.worst_mm, [stack.nominal_mm; 2]), "{stack:?}");
    }
}

/// A band of thickness takes from the play on one side and gives on the other, and the channel is made for its thickest.
#[test]
fn the_thickest_place_of_a_sheet_slides_and_the_thinnest_rattles() {
    let band = of(&[("measured = 8", "measured = [7.6, 8.2]")]);
    let slides = one(&band, "leaf-slides");
    // Drawn 7.9 mm in 9.0 mm; strips ± 0.5; water 0.4 % of 7.9 mm.
    assert!((slides.nominal_mm - 1.1).abs() < 1e-9);
    assert!((slides.worst_mm[0] - (1.1 - 0.3 - 0.5 - 0.0316 - 0.0063)).abs() < 1e-3, "{slides:?}");
    assert!((slides.worst_mm[1] - (1.1 + 0.3 + 0.5 + 0.0032)).abs() < 1e-3, "{slides:?}");
}

/// A panel of 800 × 400 mm in its own frame that bends as far along every column as `mm` says.
fn bent(placed: design::PlacedId, mm: [f64; 3], is_lasting: bool) -> Panel {
    let most = mm.into_iter().fold(0.0, f64::max);
    let load = Load {
        words: "some water".to_owned(),
        before_mm: 0.0,
        behind_mm: 0.0,
        is_lasting,
        duration: if is_lasting { Duration::Years } else { Duration::Hours },
        stress_mpa: 0.0,
        allowable_mpa: 1.0,
        limit_mpa: 1.0,
        stress_place: String::new(),
        deflection_mm: most,
        deflection_place: String::new(),
        theory: Theory::Holds,
        run: Run::Hinged,
    };
    let peak = Peak { value: most, at_mm: DVec2::ZERO, place: String::new(), load: 0 };
    Panel {
        placed,
        piece: 0,
        name: String::new(),
        parameter: String::new(),
        sheet: String::new(),
        thickness_mm: 8.0,
        rectangle_mm: [DVec2::ZERO, DVec2::new(800.0, 400.0)],
        edges: [Held::Glued; 4],
        supports: Vec::new(),
        lines: Vec::new(),
        braces_mm: Vec::new(),
        loads: vec![load],
        stress: peak.clone(),
        deflection: peak,
        deflection_limit_mm: 1.0,
        allowable_mpa: 1.0,
        brief_mpa: 1.0,
        wet_mpa: 1.0,
        strength_mpa: 1.0,
        doubts: Vec::new(),
        bulge_mm: None,
        corners: Vec::new(),
        rim: None,
        set: None,
        screws: None,
        contours: Vec::new(),
        shape: Shape {
            xs_mm: vec![0.0, 400.0, 800.0],
            ys_mm: vec![0.0, 400.0],
            mm: [mm, mm].concat().into_iter().map(Some).collect(),
        },
        remedies: Remedies::default(),
    }
}

fn named(design: &Design, name: &str) -> design::PlacedId {
    design.placed.iter().position(|p| p.name == name).expect("it is there")
}

#[test]
fn a_bulging_wall_lets_go_of_leaf_and_shelf() {
    let (file, design) = changed(&[]);
    let front = named(&design, "front wall");
    let of = |panels: &[Panel]| stacks(&file, &design, panels);
    let straight = of(&[]);
    let bowed = of(&[bent(front, [3.0; 3], true)]);
    for code in ["leaf-held", "shelf-rests"] {
        let (a, b) = (one(&straight, code), one(&bowed, code));
        assert!((a.worst_mm[0] - b.worst_mm[0] - 3.0).abs() < 1e-9, "{code}");
    }
    assert_eq!(one(&straight, "leaf-slides"), one(&bowed, "leaf-slides"));
    // What leans inwards takes nothing.
    let inwards = of(&[bent(front, [-3.0, -3.0, 0.0], true)]);
    assert!(is(one(&inwards, "leaf-held").worst_mm, one(&straight, "leaf-held").worst_mm));
}

/// The leaf stands 240 mm and some from the inlet end. Of a wall that bends by 4 mm in the middle of its length and not at its
/// ends, the guide there moves out by as much as the wall does along it.
#[test]
fn the_wall_counts_where_the_guide_is() {
    let (file, design) = changed(&[]);
    let front = named(&design, "front wall");
    let leaf = crate::place::bounds_of(&design, named(&design, "leaf loose"));
    let middle = 0.5 * (leaf[0] + leaf[1]);
    let x = design.placed[front].pose.inverse().transform_point3(middle).x;
    let expected = 4.0 * (1.0 - (x - 400.0).abs() / 400.0);
    assert!((1.0..3.9).contains(&expected), "{expected}");
    let part = |stacks: &[Stack]| {
        let held = one(stacks, "leaf-held");
        held.parts.iter().find(|p| p.words.contains("bulge")).map(|p| -p.mm[0])
    };
    let ours = part(&stacks(&file, &design, &[bent(front, [0.0, 4.0, 0.0], true)]));
    assert!((ours.expect("it bulges") - expected).abs() < 1e-9, "{ours:?} {expected}");
    assert!(part(&stacks(&file, &design, &[])).is_none());
}

/// Strips reach 81 mm up from the bottom's upper face, 8 mm above the wall's lower edge or level with it. A wall or a leaf that
/// leans out by 4 mm at its upper edge, 400 mm up, takes of the hold only what it does at the strips' upper end.
#[test]
fn what_bends_above_the_guides_takes_nothing() {
    let (file, design) = changed(&[]);
    let leans = |placed: design::PlacedId| {
        let mut panel = bent(placed, [4.0; 3], true);
        panel.shape.mm = [[0.0; 3], [4.0; 3]].concat().into_iter().map(Some).collect();
        panel
    };
    let front = named(&design, "front wall");
    let strip = crate::place::bounds_of(&design, named(&design, "guide strip first 1"));
    assert!((strip[1].z - strip[0].z - 81.0).abs() < 1e-9, "{strip:?}");
    let top = design.placed[front].pose.inverse().transform_point3(strip[1]).y;
    assert!((81.0..=89.0).contains(&top), "{top}");
    let part = |stacks: &[Stack], words: &str| {
        let held = one(stacks, "leaf-held");
        held.parts.iter().find(|p| p.words.contains(words)).map(|p| -p.mm[0])
    };
    let wall = part(&stacks(&file, &design, &[leans(front)]), "bulge").expect("it bulges");
    assert!((wall - 4.0 * top / 400.0).abs() < 1e-9, "{wall}");
    let leaf = named(&design, "leaf loose");
    let bow = part(&stacks(&file, &design, &[leans(leaf)]), "bows").expect("it bows");
    let expected = bent::shortening_mm(4.0 * 81.0 / 400.0, 381.4);
    assert!((bow - expected).abs() < 1e-9, "{bow} {expected}");
}

/// 381.4 mm long, strips of 8 mm, play of 2.6 mm at the ends. A bow of 40 mm shortens the leaf by π² · 40² / (4 · 381.4) =
/// 10.351 mm: it is out of its guides. One of 3 mm takes 0.0582 mm, and turns the ends by π · 3 / 381.4, which is 0.1977 mm
/// over the 8 mm that stand in the strips.
#[test]
fn a_leaf_that_bows_comes_out_of_its_guides() {
    let (file, design) = changed(&[]);
    let leaf = named(&design, "leaf loose");
    let of = |mm: f64, is_lasting: bool| stacks(&file, &design, &[bent(leaf, [mm; 3], is_lasting)]);
    let straight = stacks(&file, &design, &[]);
    let less = |stacks: &[Stack], code: &str| {
        one(&straight, code).worst_mm[0] - one(stacks, code).worst_mm[0]
    };
    assert!((less(&of(3.0, true), "leaf-held") - 0.0582).abs() < 1e-4);
    assert!((less(&of(3.0, true), "leaf-slides") - 0.1977).abs() < 1e-4);
    let out = of(40.0, true);
    assert!((less(&out, "leaf-held") - 10.351).abs() < 1e-3);
    assert!(one(&out, "leaf-held").margins_mm()[1] < 0.0);
    // For hours it is told, and does not count.
    let hours = of(40.0, false);
    let held = one(&hours, "leaf-held");
    assert!((held.worst_mm[0] - one(&straight, "leaf-held").worst_mm[0]).abs() < 1e-9);
    let told = held.briefly.as_ref().expect("it is told");
    assert!((held.worst_mm[0] - told.worst_mm - 10.351).abs() < 1e-3 && told.words == "some water");
    assert!(one(&straight, "leaf-held").briefly.is_none());
}

/// By the file: lap 25 mm; screws of 5 mm with 0.5 mm of play in the leaf, in slots as wide as the cutter of 6 mm.
#[test]
fn doors_are_measured_on_leaf_and_screws() {
    let stacks = of(&[]);
    let laps: Vec<f64> =
        stacks.iter().filter(|s| s.code.as_str() == "door-covers").map(|s| s.nominal_mm).collect();
    assert!(laps.len() == 2 && laps.iter().all(|lap| (lap - 25.0).abs() < 1e-9), "{laps:?}");
    assert!((one(&stacks, "door-slides").nominal_mm - (0.5 + 1.0)).abs() < 1e-9);
}

/// A leaf 384 mm between walls with a door of 140 mm and two laps of 25 mm in its middle leaves 97 mm to either wall, 89 mm
/// to strips of 8 mm; 1.3 mm of play at the ends, 0.75 mm of the screws, 0.5 mm of the guide and three cuts come off.
#[test]
fn a_door_on_a_loose_leaf_clears_its_guides() {
    let stacks = of(&[("[leaf.gate]", "[leaf.gate]\nmount = \"lift-out\"")]);
    let clear = one(&stacks, "door-clear");
    assert!((clear.nominal_mm - 89.0).abs() < 1e-9, "{clear:?}");
    assert!((clear.worst_mm[0] - (89.0 - 1.3 - 0.75 - 0.5 - 0.6)).abs() < 1e-9, "{clear:?}");
    assert!(of(&[]).iter().all(|stack| stack.code.as_str() != "door-clear"));
}

/// A bag of 100 mm with a flange of 114 mm in a bore of 102 mm: 6 mm all round, 5 mm when the bag has moved by 1 mm.
#[test]
fn a_sock_sits_alike_on_a_ring_and_in_a_bare_hole() {
    let ring = of(&[]);
    let bare = of(&[("bypass = {", "ring = \"none\"\nbypass = {")]);
    for stacks in [&ring, &bare] {
        assert!((one(stacks, "sock-sits").nominal_mm - 5.0).abs() < 1e-9);
    }
    assert!(bare.iter().all(|stack| stack.code.as_str() != "ring-fits"));
    // As wide as hole and ring at their worst want it: 0.2 mm and 0.4 mm.
    assert!((one(&ring, "ring-fits").nominal_mm - 0.6).abs() < 1e-9);
}

#[test]
fn spares_are_measured_in_the_slot_of_the_leaf_that_is_in() {
    let text = std::fs::read_to_string(format!(
        "{}/../../params/seahorse.toml",
        env!("CARGO_MANIFEST_DIR")
    ))
    .expect("the demo is there");
    let (file, design) = of_text(&text);
    let slides: Vec<Stack> = stacks(&file, &design, &[])
        .into_iter()
        .filter(|stack| stack.code.as_str() == "leaf-slides")
        .collect();
    assert_eq!(slides.len(), 2);
    assert!(slides[0].words.contains("comb") && slides[1].words.contains("letterbox"));
    assert!(is(slides[0].worst_mm, slides[1].worst_mm));
}

#[test]
fn a_sump_that_only_goes_in_endwise_has_no_straight_way() {
    let cabinet = |to: &str| {
        format!(
            "[cabinet]\ninside = {{ length = 900, width = 450, height = 700 }}\nopening = [{{ side = \"front\", from = 50, to = {to} }}]\n[box]"
        )
    };
    let through = |to: &str| {
        let stacks = of(&[("[box]", &cabinet(to))]);
        stacks.iter().filter(|s| s.words.contains("through the opening")).count()
    };
    assert_eq!([through("870"), through("700")], [2, 0]);
}
