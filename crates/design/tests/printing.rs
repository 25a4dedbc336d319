//! Guards what a maker is told when filament, bed or nozzle do not suit what is printed.

mod common;
mod plain;

use plain::{PLAIN, check, found};

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
