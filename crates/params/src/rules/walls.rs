//! Drains that come in through a wall: whether the chamber lies at that wall, by the order of the rows.

use std::collections::BTreeMap;

use findings::Finding;

use super::rows::{Kind, kind};
use super::{Rules, each};
use crate::words::quoted;
use crate::{Item, Wall};

pub(super) fn check(rules: &mut Rules<'_>) {
    let mut sides = BTreeMap::new();
    walk(&rules.file.along, true, Sides([true; 4]), &mut sides);
    for drain in each("drain", &rules.file.drain) {
        let Some(through) = drain.value.through.as_deref() else { continue };
        let mut fittings = each("wall_fitting", &rules.file.wall_fitting);
        let Some(fitting) = fittings.find(|fitting| fitting.value.name == through) else {
            continue;
        };
        let Some(at) = sides.get(drain.value.chamber.as_str()) else { continue };
        if at.has(fitting.value.wall) {
            continue;
        }
        let path = drain.key("through");
        let message = format!(
            "the fitting {} goes through {}, but chamber {} lies at {}",
            quoted(through),
            words(fitting.value.wall),
            quoted(&drain.value.chamber),
            at.listed()
        );
        let hint = format!(
            "move the fitting with `{}`, or name the chamber that it leads into",
            fitting.key("wall")
        );
        let finding = Finding::tight("fitting-elsewhere", &path, message).with_hint(hint);
        let chamber = drain.key("chamber");
        rules.add(&[&path, &chamber, "wall_fitting", "along"], finding);
    }
}

const WALLS: [Wall; 4] = [Wall::InletEnd, Wall::FarEnd, Wall::Front, Wall::Back];

fn words(wall: Wall) -> &'static str {
    match wall {
        Wall::InletEnd => "the inlet end",
        Wall::FarEnd => "the far end",
        Wall::Front => "the front",
        Wall::Back => "the back",
    }
}

/// Which walls of the box bound a space, in the order of `WALLS`.
#[derive(Clone, Copy)]
struct Sides([bool; 4]);

impl Sides {
    fn has(self, wall: Wall) -> bool {
        WALLS.into_iter().zip(self.0).any(|(side, is_bound)| is_bound && side == wall)
    }

    fn listed(self) -> String {
        let bound = WALLS.into_iter().zip(self.0).filter(|(_, is_bound)| *is_bound);
        let names: Vec<_> = bound.map(|(wall, _)| words(wall)).collect();
        match names.split_last() {
            None => "no wall".to_owned(),
            Some((last, [])) => (*last).to_owned(),
            Some((last, others)) => format!("{} and {last}", others.join(", ")),
        }
    }
}

/// The walls of each chamber of a row: its first and last take the row's ends, all take its flanks.
fn walk<'a>(
    row: &'a [Item],
    is_along: bool,
    Sides(of_row): Sides,
    into: &mut BTreeMap<&'a str, Sides>,
) {
    let [near, far] = if is_along { [0, 1] } else { [2, 3] };
    for (index, item) in row.iter().enumerate() {
        let mut sides = of_row;
        sides[near] &= index == 0;
        sides[far] &= index + 1 == row.len();
        match kind(item) {
            Some((Kind::Chamber, name)) => drop(into.insert(name, Sides(sides))),
            Some((Kind::Section, _)) => {
                let inner = if is_along { &item.across } else { &item.along };
                walk(inner, !is_along, Sides(sides), into);
            }
            _ => {}
        }
    }
}
