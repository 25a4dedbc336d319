//! Shelves between their walls and on their ledges.

use design::{JointKind, PlacedId, Role};

use super::channel::partners;
use super::parts::Causes;
use super::{Part, Stack, StackCode, Subject};
use crate::place::{axis_of, bounds_of};

/// A shelf must lie on each ledge by so much, pushed to the other side, mm; our judgement.
const LIES_MM: f64 = 3.0;

pub(super) fn stacks(causes: &Causes<'_>) -> Vec<Stack> {
    let design = causes.design;
    let is_shelf =
        |placed: &PlacedId| design.pieces[design.placed[*placed].piece].role == Role::SockHolder;
    let shelves = (0..design.placed.len()).filter(is_shelf);
    shelves.filter_map(|shelf| on_ledges(causes, shelf)).flatten().collect()
}

/// Between the walls that carry its ledges, and on these.
fn on_ledges(causes: &Causes<'_>, shelf: PlacedId) -> Option<[Stack; 2]> {
    let design = causes.design;
    let placed = &design.placed[shelf];
    let sheet = causes.sheet(placed)?;
    let is_ledge =
        |other: &PlacedId| design.pieces[design.placed[*other].piece].role == Role::Ledge;
    let mut ledges = partners(design, shelf, JointKind::Rests).filter(is_ledge);
    let [one, other] = [ledges.next()?, ledges.next()?];
    let [a, b] = [one, other].map(|ledge| bounds_of(design, ledge));
    let middle = |corners: [glam::DVec3; 2]| 0.5 * (corners[0] + corners[1]);
    let v = axis_of(middle(b) - middle(a));
    let room = b[1][v].max(a[1][v]) - a[0][v].min(b[0][v]);
    let [lo, hi] = bounds_of(design, shelf);
    let size = hi[v] - lo[v];
    let ledge = (a[1][v] - a[0][v]).min(b[1][v] - b[0][v]);
    let ends = || -> Vec<Part> {
        vec![
            causes.cut(shelf, "one edge of the shelf"),
            causes.cut(shelf, "other edge of the shelf"),
            causes.glued("distance of the walls"),
        ]
    };
    let subject = |code: StackCode, words: &str| Subject {
        code,
        words: format!("{} {words}", placed.name),
        parameter: placed.parameter.clone(),
    };
    let mut fits = ends();
    fits.extend(causes.growth(sheet, size, -1.0));
    let mut rests = ends();
    rests.push(causes.cut(one, "edge of the ledge"));
    rests.extend(causes.growth(sheet, size, 1.0));
    rests.push(causes.swollen_box(room));
    let along = [(one, a), (other, b)]
        .map(|(ledge, corners)| (partners(design, ledge, JointKind::Butt).next(), corners));
    rests.extend(causes.bulge(&along, true));
    Some([
        Stack::new(
            subject(StackCode::ShelfFits, "between the walls that carry it"),
            room - size,
            [Some(0.0), None],
            fits,
        ),
        Stack::new(
            subject(StackCode::ShelfRests, "on one ledge when it is pushed to the other"),
            ledge - (room - size),
            [Some(LIES_MM), None],
            rests,
        ),
    ])
}
