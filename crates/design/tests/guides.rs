//! Guards how high guides reach: every leaf of a slot leaves them before it meets the rim, or the maker is told.

mod common;
#[allow(dead_code, clippy::allow_attributes, reason = "every test file uses a part of this")]
mod plain;

use common::{demo, found_in, resolved};
use design::{Design, Piece, Role};
use plain::PLAIN;
use plate::Shape;

const RIM: &str = "rim = { width = 40, braces = [{ at = 400, width = 60 }] }\n";
const SLOT: &str = "slot = [\"loose\"]";
/// The crest of the lift-out leaf, 240 high; ears on it make it 280. Inside, the sump is 364 high.
const CREST: &str = "crest = { height = 240, teeth = { width = 8, gap = 8, depth = 30 } }";

fn changed(changes: &[(&str, &str)]) -> String {
    changes.iter().fold(PLAIN.to_owned(), |text, (from, to)| {
        assert!(text.contains(from), "the plain sump has no `{from}`");
        text.replacen(from, to, 1)
    })
}

/// Heights of the guides of this kind, mm: guides stand upright, their own y upwards.
fn heights(design: &Design, role: Role) -> Vec<f64> {
    let height = |piece: &Piece| match &piece.shape {
        Shape::Sheet(plate) => {
            let [lo, hi] = plate.outline.bounds().expect("it has an outline");
            hi.y - lo.y
        }
        Shape::Turned(_) => panic!("guides are flat"),
    };
    design.pieces.iter().filter(|p| p.role == role).map(height).collect()
}

/// All strips of the plain sump with these changes must be this high, and nothing else may be found.
#[track_caller]
fn check(changes: &[(&str, &str)], height_mm: f64, found: &str) {
    let text = changed(changes);
    let heads: Vec<String> = found_in(&text)
        .lines()
        .map(|line| line.split(':').next().expect("a head").to_owned())
        .collect();
    assert_eq!(heads.join("; "), found, "{}", found_in(&text));
    let heights = heights(&resolved(&text), Role::GuideStrip);
    assert!(!heights.is_empty());
    for height in heights {
        assert!((height - height_mm).abs() < 1e-9, "{height} is not {height_mm}");
    }
}

#[test]
fn guides_end_so_low_that_the_leaf_leaves_them_below_the_rim() {
    // 364 − 280 of room, 3 less.
    check(&[], 81.0, "");
    // The highest leaf of the slot decides: 364 − 300 − 3.
    let high = format!(
        "[leaf.high]\nmount = \"lift-out\"\nfinger_holes = false\ncrest = {{ height = 300 }}\n{}",
        "[leaf.loose]"
    );
    check(&[("[leaf.loose]", &high), (SLOT, "slot = [\"loose\", \"high\"]")], 61.0, "");
}

#[test]
fn guides_reach_the_lowest_crest_where_nothing_lies_above() {
    check(&[(RIM, "")], 240.0, "");
    let low = "[leaf.low]\nmount = \"lift-out\"\ncrest = { height = 180 }\n[leaf.loose]";
    let slot = (SLOT, "slot = [\"loose\", \"low\"]");
    check(&[(RIM, ""), ("[leaf.loose]", low), slot], 180.0, "");
}

#[test]
fn a_rim_beside_the_leaf_leaves_its_guides_as_they_are() {
    // In printed channels the leaf ends 11.9 mm from the outside, in strips 9.3 mm.
    let low = (CREST, "crest = { height = 180 }");
    let printed = (SLOT, "slot = [\"loose\"]\nguide = \"printed\"");
    let channels = |rim: &str| {
        let d = resolved(&changed(&[low, printed, (RIM, rim)]));
        heights(&d, Role::GuideChannel)
    };
    let is = |lengths: &[f64], mm: f64| lengths.iter().all(|length| (length - mm).abs() < 1e-9);
    let beside = channels("rim = { width = 11, corner = 1 }\n");
    assert!(is(&beside, 180.0), "{beside:?}");
    // With ears 220 high, 364 inside: 144 of room.
    let over = channels("rim = { width = 12, corner = 1 }\n");
    assert!(is(&over, 141.0), "{over:?}");
    let brace = channels("rim = { width = 11, corner = 1, braces = [{ at = 245, width = 60 }] }\n");
    assert!(is(&brace, 141.0), "{brace:?}");
}

#[test]
fn a_leaf_that_the_rim_keeps_in_its_guides() {
    // With ears 325 high: 39 of room, and guides of 40 hold it to the last.
    let high = "crest = { height = 285 }";
    check(&[(CREST, high)], 40.0, "Tight guides-under-rim leaf.loose.crest.height");
    let text = found_in(&changed(&[(CREST, high)]));
    assert!(text.contains("325 mm high, it can be raised 39 mm to the rim above it"), "{text}");
    // 43 are enough.
    check(&[(CREST, "crest = { height = 281 }")], 40.0, "");
}

#[test]
fn the_file_may_give_the_height_of_guides() {
    check(&[(SLOT, "slot = [\"loose\"]\nguide_height = 150")], 150.0, "");
    check(&[(SLOT, "slot = [\"loose\"]\nguide_height = 20")], 20.0, "");
}

#[test]
fn printed_channels_are_as_long_as_they_reach() {
    let d = resolved(&changed(&[(SLOT, "slot = [\"loose\"]\nguide = \"printed\"")]));
    let lengths = heights(&d, Role::GuideChannel);
    assert!(lengths.iter().all(|length| (length - 81.0).abs() < 1e-9), "{lengths:?}");
}

/// Of sheet that swells so little, 390.4 mm from groove to groove take 0.39 mm by water, 0.16 mm by 10 K and 1.3 mm by cuts
/// and places: 1 mm of play at either end.
const HARDLY_SWELLS: (&str, &str) = ("[box]", "[tolerance]\nswelling = 0.001\n[box]");

#[test]
fn a_rim_over_a_groove_closes_it() {
    let groove = (SLOT, "slot = [\"loose\"]\nguide = \"groove\"");
    let text = found_in(&changed(&[groove, HARDLY_SWELLS]));
    assert!(text.starts_with("Fails groove-under-rim along[1].guide: "), "{text}");
    assert!(text.contains("upwards only, after 364 mm, and meets the rim after 84 mm"), "{text}");
    // Grooves of 3.2 mm, and 1 mm of play at either end.
    assert!(text.contains("as deep as it goes it still stands 1.2 mm in the other"), "{text}");
    assert_eq!(found_in(&changed(&[groove, HARDLY_SWELLS, (RIM, "")])), "");
    let low = (SLOT, "slot = [\"loose\"]\nguide = \"groove\"\nguide_height = 100");
    let text = found_in(&changed(&[low, HARDLY_SWELLS, (RIM, "")]));
    assert!(text.starts_with("Tight guide-height-of-groove along[1].guide_height: "), "{text}");
}

/// What can be drawn out of a groove to a side is not kept in by a rim; that it is not held at all is what fails.
#[test]
fn a_rim_does_not_close_grooves_that_do_not_hold_the_leaf() {
    let heads = |depth: &str| {
        let slot = format!("slot = [\"loose\"]\nguide = \"groove\"\nguide_depth = {depth}");
        let text = found_in(&changed(&[(SLOT, &slot), HARDLY_SWELLS]));
        let codes = text.lines().filter_map(|line| line.split(' ').nth(1));
        codes.map(str::to_owned).collect::<Vec<_>>()
    };
    // With 1 mm of play at either end a groove of 2 mm lets go of it.
    assert_eq!(heads("2"), ["guide-too-shallow"]);
    assert_eq!(heads("2.5"), ["guide-too-shallow", "groove-under-rim"]);
    assert_eq!(heads("4"), ["groove-under-rim"]);
}

#[test]
fn guides_of_the_demos_let_their_leaves_out() {
    for name in ["seahorse", "mangrove", "fragfarm"] {
        let d = demo(name);
        let inside = d.outside.z - d.floor_z;
        for role in [Role::GuideStrip, Role::GuideChannel] {
            for height in heights(&d, role) {
                assert!((40.0..0.5 * inside).contains(&height), "{name}: {height}");
            }
        }
    }
}
