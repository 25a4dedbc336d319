//! Printed fittings, each in itself and against the others: one place, and all of it.

use findings::Finding;
use units::Length;

use super::{At, Rules, each};
use crate::words::{listed, quoted};
use crate::{FittingAt, PrintedFitting, Wall};

pub(super) fn check(rules: &mut Rules<'_>) {
    for fitting in each("fitting", &rules.file.fitting) {
        let places = given(fitting.value);
        match places[..] {
            [place] => whole_place(rules, &fitting, place),
            _ => not_one(rules, &fitting, &places),
        }
    }
    apart(rules);
}

/// The keys that say where a fitting is.
const PLACES: [&str; 6] = ["wall", "rim", "leaf", "chamber", "lid", "loose"];

fn given(fitting: &PrintedFitting) -> Vec<&'static str> {
    let is_given = [
        fitting.wall.is_some(),
        fitting.rim.is_some(),
        fitting.leaf.is_some(),
        // With a leaf, the chamber says on which side of it.
        fitting.chamber.is_some() && fitting.leaf.is_none(),
        fitting.lid.is_some(),
        fitting.loose,
    ];
    PLACES.into_iter().zip(is_given).filter(|(_, given)| *given).map(|(key, _)| key).collect()
}

fn not_one(rules: &mut Rules<'_>, fitting: &At<'_, PrintedFitting>, places: &[&str]) {
    if !rules.gaps.knows_keys(&fitting.path, &PLACES) {
        return;
    }
    let kind = quoted(&fitting.value.kind);
    let message = if places.is_empty() {
        format!("this {kind} has no place: none of {}", listed(PLACES, "and"))
    } else {
        format!("this {kind} has more than one place: {}", listed(places.iter().copied(), "and"))
    };
    let hint = "write `wall` with `at` and `height`, `rim` with `at`, `leaf` with `chamber` and `at`, `chamber` with \
                `at = [x, y]` or `sock`, `lid` with `at = [x, y]`, or `loose = true` for what is only made";
    rules.add(&[], Finding::fails("not-one", &fitting.path, message).with_hint(hint));
}

/// Whether a place has what it needs, and nothing that says nothing there.
fn whole_place(rules: &mut Rules<'_>, fitting: &At<'_, PrintedFitting>, place: &str) {
    let in_sock = place == "chamber" && fitting.value.sock.is_some();
    if place != "chamber" && fitting.value.sock.is_some() {
        says_nothing(rules, fitting, "sock", place);
    }
    let at = match (place, fitting.value.at) {
        (_, Some(_)) if in_sock => {
            says_nothing(rules, fitting, "at", "sock");
            None
        }
        (_, None) if in_sock => None,
        ("loose", Some(_)) => {
            says_nothing(rules, fitting, "at", place);
            None
        }
        ("loose", None)
        | ("wall" | "rim" | "leaf", Some(FittingAt::Along(_)))
        | ("chamber" | "lid", Some(FittingAt::Spot(_))) => None,
        ("chamber" | "lid", at) => Some((at, "`at = [x, y]`, two lengths")),
        (_, at) => Some((at, "`at`, one length along it")),
    };
    if let Some((at, needed)) = at {
        let at_path = fitting.key("at");
        let what = if at.is_some() { "is of the wrong form" } else { "is missing" };
        let message = format!("with `{place}` a fitting needs {needed}: `at` {what}");
        let code = if at.is_some() { "wrong-type" } else { "missing-key" };
        let finding =
            Finding::fails(code, if at.is_some() { &at_path } else { &fitting.path }, message);
        rules.add(&[&at_path], finding.with_hint(format!("write {needed}")));
    }
    if place == "leaf" && fitting.value.chamber.is_none() {
        let message = "with `leaf` a fitting needs `chamber`, the side of the leaf that it is on";
        let finding = Finding::fails("missing-key", &fitting.path, message);
        let hint = "add `chamber`, the name of the chamber that it is in";
        rules.add(&[&fitting.key("chamber")], finding.with_hint(hint));
    }
    let height = fitting.key("height");
    match (place, fitting.value.height) {
        ("wall", None) => {
            let message = "with `wall` a fitting needs `height`, and it is missing";
            let finding = Finding::fails("missing-key", &fitting.path, message);
            let hint = "add `height`, a length above the inside of the bottom, or write `rim` in place of `wall` for what hangs on the upper edge";
            rules.add(&[&height], finding.with_hint(hint));
        }
        ("rim" | "chamber" | "lid" | "loose", Some(_)) => {
            says_nothing(rules, fitting, "height", place);
        }
        _ => {}
    }
}

fn says_nothing(rules: &mut Rules<'_>, fitting: &At<'_, PrintedFitting>, key: &str, place: &str) {
    let path = fitting.key(key);
    let message = format!("with `{place}` the `{key}` of a fitting says nothing");
    rules.no_effect(&path, &[&fitting.key(place)], message, "delete it");
}

/// Where a fitting is, to be compared.
#[derive(PartialEq)]
enum Spot<'a> {
    Wall(Wall, Length, Length),
    Rim(Wall, Length),
    Leaf(&'a str, &'a str, Length, Option<Length>),
    Chamber(&'a str, [Length; 2]),
    Sock(&'a str, u32),
    Lid(&'a str, [Length; 2]),
}

fn spot(fitting: &PrintedFitting) -> Option<Spot<'_>> {
    let chamber = fitting.chamber.as_deref();
    if let (["chamber"], Some(sock)) = (given(fitting).as_slice(), fitting.sock) {
        return Some(Spot::Sock(chamber?, sock));
    }
    match (given(fitting).as_slice(), fitting.at?) {
        (["wall"], FittingAt::Along(at)) => Some(Spot::Wall(fitting.wall?, at, fitting.height?)),
        (["rim"], FittingAt::Along(at)) => Some(Spot::Rim(fitting.rim?, at)),
        (["leaf"], FittingAt::Along(at)) => {
            Some(Spot::Leaf(fitting.leaf.as_deref()?, chamber?, at, fitting.height))
        }
        (["chamber"], FittingAt::Spot(at)) => Some(Spot::Chamber(chamber?, at)),
        (["lid"], FittingAt::Spot(at)) => Some(Spot::Lid(fitting.lid.as_deref()?, at)),
        _ => None,
    }
}

/// No two have the same place.
fn apart(rules: &mut Rules<'_>) {
    let spots: Vec<_> = each("fitting", &rules.file.fitting)
        .filter_map(|fitting| Some((spot(fitting.value)?, fitting)))
        .collect();
    for (i, (spot, fitting)) in spots.iter().enumerate() {
        let Some((_, first)) = spots[..i].iter().find(|(other, _)| other == spot) else { continue };
        let message = format!(
            "this {} is where {} of {} is already",
            quoted(&fitting.value.kind),
            quoted(&first.value.kind),
            quoted(&first.path)
        );
        let path = fitting.key(if fitting.value.sock.is_some() { "sock" } else { "at" });
        let finding = Finding::fails("place-taken", &path, message);
        let hint =
            "move one of them; for several of a kind write `quantity`, and the others are spares";
        rules.add(&[&fitting.path, &first.path], finding.with_hint(hint));
    }
}
