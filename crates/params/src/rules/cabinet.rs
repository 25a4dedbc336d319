//! The cabinet: openings that begin before they end, and posts, shelves and fixtures that stand in it.

use findings::Finding;
use units::Length;

use super::{At, Rules, each};
use crate::path;
use crate::{Cabinet, CabinetFixture, CabinetOpening, CabinetSide};

const INSIDE: &str = "cabinet.inside";

pub(super) fn check(rules: &mut Rules<'_>) {
    let Some(cabinet) = &rules.file.cabinet else { return };
    for at in each("cabinet.opening", &cabinet.opening) {
        opening(rules, &at, cabinet);
    }
    for at in each("cabinet.post", &cabinet.post) {
        let post = at.value;
        within_floor(rules, &at.path, "post", [post.at, add(post.at, post.size)], cabinet);
        let top = post.top.map(|top| (at.key("top"), top));
        upright(rules, (at.key("bottom"), post.bottom), top, cabinet, "post");
    }
    for at in each("cabinet.shelf", &cabinet.shelf) {
        let shelf = at.value;
        within_floor(rules, &at.path, "shelf", [shelf.at, add(shelf.at, shelf.size)], cabinet);
        below_ceiling(rules, &at.path, "shelf", shelf.height + shelf.thickness, cabinet);
    }
    for at in each("cabinet.fixture", &cabinet.fixture) {
        fixture(rules, &at, cabinet);
    }
}

/// An opening begins before it ends, within its wall.
fn opening(rules: &mut Rules<'_>, at: &At<'_, CabinetOpening>, cabinet: &Cabinet) {
    let opening = at.value;
    let [side, from, to, bottom, top] =
        ["side", "from", "to", "bottom", "top"].map(|key| at.key(key));
    let (wall, length) = match opening.side {
        CabinetSide::Front | CabinetSide::Back => ("length", cabinet.inside.length),
        CabinetSide::InletEnd | CabinetSide::FarEnd => ("width", cabinet.inside.width),
    };
    let wall = (path::key(INSIDE, wall), length);
    let height = (path::key(INSIDE, "height"), cabinet.inside.height);
    let spans = [
        (from, opening.from.unwrap_or(Length::ZERO), (to, opening.to), wall, "wide", &[&*side][..]),
        (bottom, opening.bottom, (top, opening.top), height, "high", &[]),
    ];
    for (begin, begins, (end, ends), wall, word, read) in spans {
        if let Some(ends) = ends
            && ends > wall.1
        {
            let message = format!(
                "the opening goes up to {}, but its wall is only {} {word} inside",
                rules.show(ends),
                rules.show(wall.1)
            );
            outside(
                rules,
                &end,
                message,
                "move it in, or leave it out",
                &[read, &[&wall.0]].concat(),
            );
            continue;
        }
        let end = ends.map_or(wall, |ends| (end, ends));
        if begins >= end.1 && rules.gaps.knows(&at.path) && knows(rules, read) {
            rules.smaller([(begin, begins), end], "the opening does not begin before it ends");
        }
    }
}

/// Something upright ends above where it begins, in the cabinet.
fn upright(
    rules: &mut Rules<'_>,
    bottom: (String, Length),
    top: Option<(String, Length)>,
    cabinet: &Cabinet,
    what: &str,
) {
    if let Some((path, top)) = &top {
        below_ceiling(rules, path, what, *top, cabinet);
    }
    let ceiling = (path::key(INSIDE, "height"), cabinet.inside.height);
    rules.smaller(
        [bottom, top.unwrap_or(ceiling)],
        &format!("the {what} does not begin below where it ends"),
    );
}

/// A fixture is exactly one body, in the cabinet; a pipe has another end.
fn fixture(rules: &mut Rules<'_>, at: &At<'_, CabinetFixture>, cabinet: &Cabinet) {
    let fixture = at.value;
    let keys = ["box", "cylinder", "pipe"];
    let is_given = [fixture.block.is_some(), fixture.cylinder.is_some(), fixture.pipe.is_some()];
    let count = is_given.into_iter().filter(|given| *given).count();
    if count != 1 {
        if rules.gaps.knows_keys(&at.path, &keys) {
            let what = if count == 0 { "none" } else { "more than one" };
            let message = format!(
                "this fixture has {what} of `box`, `cylinder` and `pipe`, but exactly one is needed"
            );
            let hint = "write `box = [along, front to back, upwards]`, `cylinder = { diameter = …, height = … }`, or `pipe = …` (its diameter) with `to`";
            rules.add(&[], Finding::fails("not-one", &at.path, message).with_hint(hint));
        }
        return;
    }
    if let Some(size) = fixture.block {
        within(rules, &at.path, "box", [fixture.at, add(fixture.at, size)], cabinet);
    }
    if let Some(cylinder) = fixture.cylinder {
        let [x, y, z] = fixture.at;
        let radius = cylinder.diameter * 0.5;
        let least = [x - radius, y - radius, z];
        let most = [x + radius, y + radius, z + cylinder.height];
        within(rules, &at.path, "cylinder", [least, most], cabinet);
    }
    pipe(rules, at, cabinet);
}

/// A pipe has another end; nothing else has.
fn pipe(rules: &mut Rules<'_>, at: &At<'_, CabinetFixture>, cabinet: &Cabinet) {
    let path = at.key("to");
    match (at.value.pipe, at.value.to) {
        (None, Some(_)) => {
            let message = "only a pipe runs to another end, so `to` is not used".to_owned();
            let hint = "delete it, or give the diameter of a `pipe` instead of the body";
            rules.no_effect(&path, &[&at.key("pipe")], message, hint);
        }
        (Some(_), None) if rules.gaps.knows_keys(&at.path, &["pipe", "to"]) => {
            let message = "this pipe has only one end";
            let finding = Finding::fails("missing-end", &at.path, message).with_hint(
                "add `to = [along, front to back, upwards]`, where its middle line ends",
            );
            rules.add(&[], finding);
        }
        (Some(_), Some(to)) if to == at.value.at => {
            let message = "the pipe ends where it begins";
            let finding = Finding::fails("no-length", &path, message)
                .with_hint("change `at` or `to`, the two ends of its middle line");
            rules.add(&[&path, &at.key("at")], finding);
        }
        (Some(_), Some(to)) => {
            // It may lie in a wall, half in it; its middle line is in the cabinet.
            for end in [at.value.at, to] {
                within(rules, &at.path, "pipe", [end, end], cabinet);
            }
        }
        (Some(_) | None, None) => {}
    }
}

/// A body, from its least to its greatest corner, lies in the cabinet.
fn within(
    rules: &mut Rules<'_>,
    path: &str,
    what: &str,
    [least, most]: [[Length; 3]; 2],
    cabinet: &Cabinet,
) {
    let flat = |[x, y, _]: [Length; 3]| [x, y];
    if within_floor(rules, path, what, [flat(least), flat(most)], cabinet) {
        below_ceiling(rules, path, what, most[2], cabinet);
    }
}

/// What lies between these corners, seen from above, lies in the cabinet; whether it does.
fn within_floor(
    rules: &mut Rules<'_>,
    path: &str,
    what: &str,
    [least, most]: [[Length; 2]; 2],
    cabinet: &Cabinet,
) -> bool {
    let sides = [
        ("length", "along the cabinet", "at the inlet end", cabinet.inside.length),
        ("width", "from front to back", "at the front", cabinet.inside.width),
    ];
    for (axis, (key, direction, begin, size)) in sides.into_iter().enumerate() {
        let message = if least[axis] < Length::ZERO {
            format!("the {what} stands {} out of the cabinet {begin}", rules.show(-least[axis]))
        } else if most[axis] > size {
            format!(
                "the {what} goes up to {} {direction}, which is {} inside",
                rules.show(most[axis]),
                rules.show(size)
            )
        } else {
            continue;
        };
        let hint = "places count from the inside of the cabinet's wall at the inlet end, from the inside of its front, and from its floor";
        outside(rules, path, message, hint, &[&path::key(INSIDE, key)]);
        return false;
    }
    true
}

/// Under a ceiling nothing goes higher; without one, pipes and posts may.
fn below_ceiling(rules: &mut Rules<'_>, path: &str, what: &str, top: Length, cabinet: &Cabinet) {
    if cabinet.ceiling && top > cabinet.inside.height {
        let message = format!(
            "the {what} goes up to {}, but the ceiling is at {}",
            rules.show(top),
            rules.show(cabinet.inside.height)
        );
        let hint = "lower it, or write `ceiling = false` if nothing closes the cabinet above";
        outside(rules, path, message, hint, &[&path::key(INSIDE, "height"), "cabinet.ceiling"]);
    }
}

fn outside(rules: &mut Rules<'_>, path: &str, message: String, hint: &str, read: &[&str]) {
    let read: Vec<_> = read.iter().copied().chain([path]).collect();
    rules.add(&read, Finding::fails("outside-cabinet", path, message).with_hint(hint));
}

fn knows(rules: &Rules<'_>, paths: &[&str]) -> bool {
    paths.iter().all(|path| rules.gaps.knows(path))
}

fn add<const N: usize>(at: [Length; N], size: [Length; N]) -> [Length; N] {
    std::array::from_fn(|axis| at[axis] + size[axis])
}
