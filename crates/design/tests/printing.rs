//! Guards what a maker is told when filament, bed or nozzle do not suit what is printed.

mod common;
mod plain;

use design::Role;
use plain::{PLAIN, check, found};
use plate::Shape;

fn check_printing(table: &str, expected: &[(&str, &str)]) {
    check("[box]", &format!("[printing]\n{table}\n[box]"), expected);
}

#[test]
fn filaments_that_stay_whole_in_water_are_not_spoken_of() {
    for name in ["PETG", "ASA", "ABS", "PP"] {
        check_printing(&format!("filament = \"{name}\""), &[]);
    }
}

#[test]
fn filaments_that_water_harms_are_named_with_their_source() {
    for name in ["PLA", "nylon", "TPU"] {
        check_printing(&format!("filament = \"{name}\""), &[("filament", "printing.filament")]);
    }
    let text = found("[box]", "[printing]\nfilament = \"PLA\"\n[box]");
    assert!(text.contains("Tight") && text.contains("water takes it apart"), "{text}");
}

#[test]
fn a_sump_with_nothing_printed_may_be_of_anything() {
    let printed = ["slot = [\"loose\"]", "[leaf.gate.door]", "bypass = {"];
    assert!(printed.iter().all(|part| PLAIN.contains(part)));
    let text = of_pla("");
    assert!(!text.contains("filament"), "{text}");
}

/// The plain sump of this filament with nothing printed but this.
fn of_pla(fitting: &str) -> String {
    let plain = PLAIN
        .replacen("[box]", "[printing]\nfilament = \"PLA\"\n[box]", 1)
        .replacen("slot = [\"loose\"]", "slot = [\"loose\"]\nguide = \"groove\"", 1)
        .replacen("bypass = {", "ring = \"none\"\nbypass = {", 1);
    let door = plain.find("[leaf.gate.door]").expect("a door");
    let end = plain.find("[leaf.loose]").expect("the next leaf");
    common::found_in(&format!("{}{}{fitting}", &plain[..door], &plain[end..]))
}

#[test]
fn jigs_stay_dry_and_may_be_of_anything() {
    let jig = of_pla("[[fitting]]\nkind = \"corner-block\"\nloose = true\n");
    assert!(!jig.contains("filament"), "{jig}");
    let clip = of_pla("[[fitting]]\nkind = \"pipe-clip\"\nloose = true\n");
    assert!(clip.contains("PLA is for jigs, not for fittings in water"), "{clip}");
}

#[test]
fn a_channel_that_is_longer_than_the_bed_is_told_how_it_is_parted() {
    let channel = "[[fitting]]\nkind = \"guide-channel\"\nwall = \"front\"\nat = 350\nheight = 140\nmeasures = { length = 240 }\n[[level_marks]]";
    let expected = [("print-larger-than-bed", "fitting[0]")];
    check("[[level_marks]]", channel, &expected);
}

#[test]
fn parts_that_the_bed_has_no_room_for_are_named_once() {
    check_printing("bed_width = 110", &[("print-larger-than-bed", "sock_holder[0].ring")]);
    check_printing("bed = 110", &[("ring-larger-than-bed", "sock_holder[0].ring")]);
    check_printing("bed_width = 130\nbed_height = 50", &[]);
}

#[test]
fn walls_grow_with_the_nozzle() {
    for nozzle in [0.25, 0.4, 0.8, 1.2] {
        check_printing(&format!("nozzle = {nozzle}"), &[]);
    }
}

/// Channels of two lengths, a knob with its nut, a sock's ring, fittings and jigs: all that a sump can have printed.
fn all_printed(foot: f64) -> design::Design {
    let text = PLAIN
        .replacen("slot = [\"loose\"]", "slot = [\"loose\"]\nguide = \"printed\"", 1)
        .replacen(
            "[box]",
            &format!("[printing]\nnozzle = 0.6\nlayer = 0.28\nfoot = {foot}\n[box]"),
            1,
        );
    let kinds: String = fittings::KINDS
        .iter()
        .map(|kind| format!("[[fitting]]\nkind = \"{}\"\nloose = true\n", kind.name))
        .collect();
    common::resolved(&format!("{text}{kinds}"))
}

/// By the file's nozzle and layers, not by the usual ones: heights count whole layers, and edges on the bed are drawn in over one.
#[test]
fn everything_printed_is_made_for_the_printer_of_the_file() {
    const LAYER: f64 = 0.28;
    const FOOT: f64 = 0.2;
    let (plain, stepped) = (all_printed(0.0), all_printed(FOOT));
    let printed = stepped.pieces.iter().zip(&plain.pieces).filter(|(p, _)| p.role.is_printed());
    let mut roles: Vec<Role> = Vec::new();
    for (piece, bare) in printed {
        let name = &piece.name;
        assert_eq!(name, &bare.name);
        roles.push(piece.role);
        let [lo, hi] = piece.shape.bounds();
        let layers = (hi.z - lo.z) / LAYER;
        assert!((layers - layers.round()).abs() < 1e-6, "{name} is {layers} layers high");
        match (&piece.shape, &bare.shape) {
            (Shape::Sheet(stepped), Shape::Sheet(plain)) => {
                let floors = plain.cuts.iter().map(|cut| cut.depth / LAYER);
                let through = plain.thickness / LAYER;
                for floor in floors.filter(|depth| *depth < through - 1e-9) {
                    assert!((floor - floor.round()).abs() < 1e-6, "{name}: {floor} layers deep");
                }
                // All around, so much is taken of one layer; at corners a little more or less, by the square of the foot, and
                // less where a hole's mouth runs out over the outline.
                let is_through = |cut: &&plate::Cut| cut.depth >= plain.thickness;
                let holes = plain.cuts.iter().filter(is_through).map(|cut| &cut.contour);
                let edges: Vec<f64> = std::iter::once(&plain.outline)
                    .chain(holes)
                    .flat_map(|contour| &contour.0)
                    .map(plate::Segment::length)
                    .collect();
                let taken = volume(plain) - volume(stepped);
                let expected = edges.iter().sum::<f64>() * FOOT * LAYER;
                let share = taken / expected;
                assert!((0.7..1.05).contains(&share), "{name}: {taken} mm³ of {expected} mm³");
            }
            (Shape::Turned(turned), _) => {
                // The outer edge on the bed, and how far it is out where the layer ends; a chamfer that is wider goes on.
                let corners = turned.profile.iter().zip(turned.profile.iter().cycle().skip(1));
                let rising = corners.filter(|(p, q)| p.y.abs() < 1e-9 && q.y > 0.0);
                let (edge, next) =
                    rising.max_by(|(p, _), (q, _)| p.x.total_cmp(&q.x)).expect("it has an edge");
                let drawn_in = (next.x - edge.x) * (LAYER / next.y).min(1.0);
                assert!(drawn_in > FOOT - 1e-9, "{name} is drawn in by {drawn_in}");
            }
            (Shape::Sheet(_), Shape::Turned(_)) => panic!("{name} is of one form"),
        }
    }
    for role in [Role::GuideChannel, Role::SockRing, Role::Knob, Role::Fitting, Role::Jig] {
        assert!(roles.contains(&role), "{role:?}");
    }
}

fn volume(plate: &plate::Plate) -> f64 {
    plate::arrange(plate, &plate::Tolerance::default()).expect("an arrangement").volume()
}

/// The clearance that the coupon found, on each side.
#[test]
fn the_coupon_rules_the_channels_of_a_sump() {
    let width = |printing: f64| -> f64 {
        let text = PLAIN
            .replacen("slot = [\"loose\"]", "slot = [\"loose\"]\nguide = \"printed\"", 1)
            .replacen("[box]", &format!("[printing]\nclearance = {printing}\n[box]"), 1);
        let design = common::resolved(&text);
        let channel = design.pieces.iter().find(|p| p.role == Role::GuideChannel).expect("one");
        let Shape::Sheet(plate) = &channel.shape else { panic!("a channel is flat") };
        let pocket = plate.cuts.iter().find(|cut| cut.face == plate::Face::Top).expect("one");
        let at_foot = pocket.contour.0.iter().map(|s| s.start).filter(|p| p.y < 10.0);
        let x: Vec<f64> = at_foot.map(|p| p.x).collect();
        x.iter().copied().fold(f64::MIN, f64::max) - x.iter().copied().fold(f64::MAX, f64::min)
    };
    // A leaf of 8 mm; the usual clearance of a leaf is 0.8 mm in all, here a little more by `tolerance`.
    let usual = width(0.25);
    assert!((8.8 - 1e-9..9.2).contains(&usual), "{usual}");
    for printing in [0.6, 0.75] {
        let is = width(printing);
        assert!((is - 8.0 - 2.0 * printing).abs() < 1e-9, "{is} by {printing}");
    }
}

#[test]
fn a_clearance_below_that_of_the_printer_is_told() {
    let with = |clearance: &str, guide: &str| {
        let text = PLAIN
            .replacen(
                "slot = [\"loose\"]",
                &format!("slot = [\"loose\"]\nguide = \"{guide}\"\nclearance = {clearance}"),
                1,
            )
            .replacen("[box]", "[printing]\nclearance = 0.45\n[box]", 1);
        common::found_in(&text)
    };
    let text = with("0.8", "printed");
    assert!(
        text.contains(
            "Tight clearance-below-printer along[1].clearance: printed channels have a clearance of 0.8 mm in all"
        ) && text.contains("needs 0.45 mm on each side"),
        "{text}"
    );
    for (clearance, guide) in [("0.9", "printed"), ("0.8", "strips"), ("0.8", "groove")] {
        let text = with(clearance, guide);
        assert!(!text.contains("clearance-below-printer"), "{text}");
    }
}

/// Guides and fittings that are glued, of what no glue holds on; those that are hung or pressed do not mind.
#[test]
fn what_is_glued_is_not_printed_of_what_sheds_glue() {
    let with = |filament: &str, guide: &str, fitting: &str| {
        let text = PLAIN
            .replacen("slot = [\"loose\"]", &format!("slot = [\"loose\"]\nguide = \"{guide}\""), 1)
            .replacen("[box]", &format!("[printing]\nfilament = \"{filament}\"\n[box]"), 1);
        common::found_in(&format!("{text}{fitting}"))
    };
    let clip = "[[fitting]]\nkind = \"pipe-clip\"\nwall = \"back\"\nat = 600\nheight = 150\nmeasures = { pipe = 20 }\n";
    let text = with("PP", "printed", clip);
    assert!(
        text.contains(
            "Fails filament-not-glued printing.filament: `guide channel first 1`, `guide channel first 2` and `pipe-clip` would be \
             glued, printed in PP: no glue holds on it"
        ),
        "{text}"
    );
    let text = with("nylon", "groove", clip);
    assert!(text.contains("Tight filament-not-glued printing.filament: `pipe-clip`"), "{text}");
    let hung =
        "[[fitting]]\nkind = \"probe-holder\"\nleaf = \"gate\"\nchamber = \"return\"\nat = 300\n";
    for (filament, guide, fitting) in
        [("PP", "groove", hung), ("PETG", "printed", clip), ("ASA", "printed", clip)]
    {
        let text = with(filament, guide, fitting);
        assert!(!text.contains("filament-not-glued"), "{text}");
    }
}

/// The words are those of filament and sheet, and none are said of what is not glued.
#[test]
fn notes_tell_how_a_part_is_glued() {
    let notes = |material: &str, filament: &str, kind: &str| {
        let text = PLAIN.replacen("cast acrylic", material, 1).replacen(
            "[box]",
            &format!("[printing]\nfilament = \"{filament}\"\n[box]"),
            1,
        );
        let design =
            common::resolved(&format!("{text}[[fitting]]\nkind = \"{kind}\"\nloose = true\n"));
        design.pieces.iter().find(|p| p.name == kind).expect("it is made").notes.join("\n")
    };
    let acrylic = notes("cast acrylic", "PETG", "pipe-clip");
    let [epoxy, gel, crazes] =
        ["two-part epoxy", "cyanoacrylate gel", "can craze acrylic"].map(|w| acrylic.find(w));
    assert!(epoxy.is_some() && epoxy < gel && gel < crazes, "{acrylic}");
    assert!(!notes("PVC", "PETG", "pipe-clip").contains("craze"));
    assert!(notes("cast acrylic", "PP", "pipe-clip").contains("no glue holds on it"));
    assert!(!notes("cast acrylic", "PETG", "probe-holder").contains("epoxy"));
}
