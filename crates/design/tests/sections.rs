//! Guards sections, where a leaf is the wall of other parts: nothing is fixed to a leaf that lifts out, or
//! where there is none, and a sock holder finds its place between the guides.

mod common;

use common::found_in;
use design::{Design, JointKind, Role};

/// A sump whose middle is split across by `side`, between the leaves `before` and `after`. It is built so truly and swells
/// so little that a lift-out leaf is held by grooves of 3.2 mm.
const SPLIT: &str = r#"
format = 1
title = "Split"
[sheet.clear]
material = "cast acrylic"
thickness = 8
measured = 8
[cutting]
tool = 4
[tolerance]
assembly = 0.2
swelling = 0.001
[box]
outside = { length = 900, width = 500, height = 380 }
sheet = "clear"
[leaf.before]
crest = { height = 280 }
[leaf.after]
crest = { height = 240 }
[leaf.side]
crest = { height = 260 }
[[along]]
chamber = "inlet"
length = 200
[[along]]
divider = "first"
leaf = "before"
[[along]]
section = "middle"
[[along.across]]
chamber = "near"
width = 240
[[along.across]]
divider = "split"
leaf = "side"
[[along.across]]
chamber = "far"
[[along]]
divider = "second"
leaf = "after"
[[along]]
chamber = "return"
length = 200
level = 120
[[equipment]]
name = "pump"
kind = "pump"
chamber = "return"
box = [100, 80, 100]
"#;

/// A sock holder of a chamber, as low as it gets.
fn holder(chamber: &str, height: f64) -> String {
    format!(
        "[[sock_holder]]\nchamber = \"{chamber}\"\nheight = {height}\nsocks = 1\nsock = {{ diameter = 100, length = 90 }}\nbypass = {{ width = 80, depth = 20 }}\n"
    )
}

fn changed(changes: &[(&str, &str)], more: &str) -> String {
    let text = changes.iter().fold(SPLIT.to_owned(), |text, (from, to)| {
        assert!(text.contains(from), "the split sump has no `{from}`");
        text.replacen(from, to, 1)
    });
    text + more
}

/// Grade, code and parameter of all that is found.
#[track_caller]
fn check(text: &str, expected: &[&str]) {
    let found = found_in(text);
    let heads: Vec<&str> =
        found.lines().filter_map(|line| line.split_once(": ")).map(|p| p.0).collect();
    assert_eq!(heads, expected, "\n{found}");
}

fn design(text: &str) -> Design {
    check(text, &[]);
    let file = params::read(text).file.expect("it reads");
    design::resolve(&file).design.expect("it resolves")
}

const LIFTS: &str = "mount = \"lift-out\"\ncrest";

#[test]
fn the_split_sump_has_no_findings() {
    check(SPLIT, &[]);
}

#[test]
fn a_divider_that_ends_at_a_lift_out_leaf() {
    let text = changed(&[("[leaf.before]\ncrest", &format!("[leaf.before]\n{LIFTS}"))], "");
    check(&text, &["Fails fixed-to-lift-out along[2].across[1]"]);
    // The same with guides.
    let text = text.replacen("[leaf.side]\ncrest", &format!("[leaf.side]\n{LIFTS}"), 1);
    check(&text, &["Fails fixed-to-lift-out along[2].across[1]"]);
}

#[test]
fn a_leaf_that_hardly_reaches_what_it_is_glued_to() {
    let low =
        [("[leaf.after]\ncrest = { height = 240 }", "[leaf.after]\ncrest = { height = 100 }")];
    check(
        &changed(&low, ""),
        &[
            "Tight glued-over-little along[2].across[1]",
            "Tight crest-drowned along[4].level",
            "Tight crest-drowned along[4].level",
        ],
    );
    let gap = [low[0], ("[leaf.side]", "[leaf.side]\nunderflow = 110")];
    let found = found_in(&changed(&gap, ""));
    assert!(found.contains("Fails nothing-to-glue-to along[2].across[1]"), "{found}");
}

#[test]
fn guides_end_where_the_leaf_that_carries_them_ends() {
    for guide in ["strips", "printed", "groove"] {
        let guides = format!("leaf = \"side\"\nguide = \"{guide}\"");
        let changes = [
            ("[leaf.side]\ncrest", format!("[leaf.side]\n{LIFTS}")),
            ("leaf = \"side\"", guides),
            ("[sheet.clear]", "[printing]\nbed = 500\n[sheet.clear]".to_owned()),
        ];
        let changes = changes.each_ref().map(|(from, to)| (*from, to.as_str()));
        let design = design(&changed(&changes, ""));
        let tops: Vec<f64> = design
            .placed
            .iter()
            .filter(|p| {
                matches!(design.pieces[p.piece].role, Role::GuideStrip | Role::GuideChannel)
            })
            .map(|p| top_of(&design, p) - design.floor_z)
            .collect();
        // Two at the high leaf, two at the low one; a printed channel is one part, a groove none.
        let expected: &[f64] = match guide {
            "strips" => &[260.0, 260.0, 240.0, 240.0],
            "printed" => &[260.0, 240.0],
            _ => &[],
        };
        assert_eq!(tops.len(), expected.len());
        for (top, expected) in tops.iter().zip(expected) {
            assert!((top - expected).abs() < 1e-9, "{guide}: {tops:?}");
        }
    }
}

fn top_of(design: &Design, placed: &design::Placed) -> f64 {
    let plate::Shape::Sheet(plate) = &design.pieces[placed.piece].shape else {
        panic!("a sheet part")
    };
    let [lo, hi] = plate.outline.bounds().expect("it has an outline");
    let corner = |p: glam::DVec3| placed.pose.transform_point3(p).z;
    corner(lo.extend(0.0)).max(corner(hi.extend(plate.thickness)))
}

#[test]
fn a_sock_holder_beside_guides_has_its_ledges_where_they_can_be_glued() {
    for guide in ["strips", "printed", "groove"] {
        let guides = format!("leaf = \"side\"\nguide = \"{guide}\"");
        let lifts = format!("[leaf.side]\n{LIFTS}");
        let changes = [("[leaf.side]\ncrest", lifts.as_str()), ("leaf = \"side\"", &guides)];
        for chamber in ["near", "far"] {
            let design = design(&changed(&changes, &holder(chamber, 247.0)));
            let ledges: Vec<_> = design
                .joints
                .iter()
                .filter(|j| {
                    j.kind.is_glued() && design.pieces[design.placed[j.a].piece].role == Role::Ledge
                })
                .map(|j| design.placed[j.b].name.as_str())
                .collect();
            assert_eq!(ledges, ["leaf after", "leaf before"], "{guide} {chamber}");
        }
    }
}

#[test]
fn a_ledge_above_or_below_the_leaf_behind_it() {
    check(&changed(&[], &holder("near", 290.0)), &["Fails ledge-off-leaf sock_holder[0].height"]);
    let gap = [("[leaf.side]", "[leaf.side]\nunderflow = 110")];
    let found = found_in(&changed(&gap, &holder("near", 110.0)));
    assert!(found.contains("Fails ledge-off-leaf sock_holder[0].height"), "{found}");
}

#[test]
fn a_sock_holder_between_two_lift_out_leaves() {
    let lifts = |leaf: &str| format!("[leaf.{leaf}]\n{LIFTS}");
    let (before, after) = (lifts("before"), lifts("after"));
    let plain = "[[along]]\nchamber = \"near\"\n";
    let start = SPLIT.find("[[along]]\nsection").expect("a section");
    let end = SPLIT.find("[[along]]\ndivider = \"second\"").expect("a divider");
    let text = format!("{}{plain}{}", &SPLIT[..start], &SPLIT[end..])
        .replacen("[leaf.before]\ncrest", &before, 1)
        .replacen("[leaf.after]\ncrest", &after, 1);
    // Front and back carry the ledges; the shelf stays clear of the strips at both of its ends.
    check(&(text + &holder("near", 300.0)), &[]);
}

#[test]
fn a_sock_holder_in_a_corner_of_lift_out_leaves() {
    // Between the front and a lift-out leaf, between a wall and a lift-out leaf: one pair must be whole.
    let row = "[[along]]\nsection = \"all\"\n[[along.across]]\nsection = \"front row\"\nwidth = 240\n[[along.across.along]]\nchamber = \"near\"\n[[along.across.along]]\ndivider = \"first\"\nleaf = \"before\"\n[[along.across.along]]\nchamber = \"inlet\"\nlength = 200\n[[along.across]]\ndivider = \"split\"\nleaf = \"side\"\n[[along.across]]\nchamber = \"return\"\nlevel = 120\n[[equipment]]\nname = \"pump\"\nkind = \"pump\"\nchamber = \"return\"\nbox = [100, 80, 100]\n";
    let start = SPLIT.find("[[along]]").expect("a row");
    let text =
        SPLIT[..start].replacen("[leaf.before]\ncrest", &format!("[leaf.before]\n{LIFTS}"), 1);
    check(&format!("{text}{row}{}", holder("near", 265.0)), &[]);
    let text = text.replacen("[leaf.side]\ncrest", &format!("[leaf.side]\n{LIFTS}"), 1);
    let text = format!("{text}{row}{}", holder("near", 265.0));
    check(&text, &["Fails fixed-to-lift-out along[0].across[0].along[1]"]);
}

#[test]
fn joints_name_the_edges_and_faces_that_meet() {
    let text = SPLIT.replacen(
        "sheet = \"clear\"\n[leaf",
        "sheet = \"clear\"\njoint = \"rabbet\"\n[leaf",
        1,
    );
    let text = text.replacen("leaf = \"side\"", "leaf = \"side\"\njoint = \"dado\"", 1);
    let design = design(&text);
    let joint = |a: &str, b: &str| {
        let is_it =
            |j: &&design::Joint| design.placed[j.a].name == a && design.placed[j.b].name == b;
        design.joints.iter().find(is_it).unwrap_or_else(|| panic!("no joint of {a} and {b}"))
    };
    for (a, b, kind, faces, length, width) in [
        (
            "front wall",
            "bottom",
            JointKind::Rabbet,
            ["lower edge", "step in upper face"],
            900.0,
            11.2,
        ),
        (
            "inlet end wall",
            "bottom",
            JointKind::Rabbet,
            ["lower edge", "step in upper face"],
            490.4,
            11.2,
        ),
        (
            "inlet end wall",
            "front wall",
            JointKind::Rabbet,
            ["left edge", "step in upper face"],
            375.2,
            11.2,
        ),
        (
            "far end wall",
            "front wall",
            JointKind::Rabbet,
            ["right edge", "step in upper face"],
            375.2,
            11.2,
        ),
        ("leaf before", "bottom", JointKind::Butt, ["lower edge", "upper face"], 484.0, 8.0),
        ("leaf before", "back wall", JointKind::Butt, ["right edge", "upper face"], 280.0, 8.0),
        ("leaf side", "bottom", JointKind::Butt, ["lower edge", "upper face"], 474.4, 8.0),
        (
            "leaf side",
            "leaf before",
            JointKind::Dado,
            ["left edge", "groove in upper face"],
            260.0,
            14.4,
        ),
        // The leaf before the return ends lower.
        (
            "leaf side",
            "leaf after",
            JointKind::Dado,
            ["right edge", "groove in lower face"],
            240.0,
            14.4,
        ),
    ] {
        let joint = joint(a, b);
        assert_eq!(
            (joint.kind, joint.faces.each_ref().map(String::as_str)),
            (kind, faces),
            "{a} {b}"
        );
        let sizes = [(joint.length_mm, length), (joint.width_mm, width)];
        assert!(sizes.iter().all(|(is, wanted)| (is - wanted).abs() < 1e-9), "{a} {b}: {sizes:?}");
    }
}
