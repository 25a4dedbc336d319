//! Which failures are rehearsed.

use design::{Waterworks, WayKind};
use params::DrainDuty;

use super::failure::{Failure, strainers};

/// A name in the file that is no failure's.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("no rehearsal is called `{name}`")]
pub struct UnknownName {
    /// The name.
    pub name: String,
    /// Path of the parameter.
    pub parameter: String,
    /// What the rehearsals of this file are called.
    pub known: Vec<String>,
}

/// Every single failure that the waterworks have the parts for.
pub fn standing(works: &Waterworks) -> Vec<Failure> {
    let mut all = vec![Failure::PowerCut, Failure::PowerBack];
    all.extend(drains(works));
    if !works.shelves.is_empty() {
        all.push(Failure::SocksClogged);
    }
    if strainers(works).next().is_some() {
        all.push(Failure::StrainersClogged);
    }
    all.extend(leaves(works));
    all.extend(doors(works));
    if works.top_up.is_some() {
        all.extend([Failure::TopUpStuck, Failure::NoTopUp]);
    } else {
        all.push(Failure::NoTopUp);
    }
    let lines = || works.lines.iter().enumerate();
    all.extend(
        lines()
            .filter(|(_, l)| l.has_check_valve)
            .map(|(line, _)| Failure::CheckValveFails { line }),
    );
    all.extend(
        lines()
            .filter(|(_, l)| l.has_break_hole)
            .map(|(line, _)| Failure::BreakHoleBlocked { line }),
    );
    let basins = works.basins.iter().enumerate();
    let may_leak = basins.filter(|(_, b)| b.is_chamber && b.wall_run_mm > 0.0);
    all.extend(may_leak.map(|(basin, _)| Failure::SeamLeaks { basin }));
    for (skimmer, s) in works.skimmers.iter().enumerate() {
        all.push(Failure::CupOverflows { skimmer, has_blocked_holes: false });
        let cover = works.covers.iter().find(|c| c.basin == s.basin);
        if cover.is_some_and(|c| !c.holes.is_empty()) {
            all.push(Failure::CupOverflows { skimmer, has_blocked_holes: true });
        }
    }
    all
}

/// Standing failures less those that the file leaves out, and the pairs that it names.
pub fn rehearsals(works: &Waterworks) -> (Vec<Failure>, Vec<UnknownName>) {
    let all = standing(works);
    let known: Vec<String> = all.iter().map(|f| f.name(works)).collect();
    let mut unknown = Vec::new();
    let mut find = |name: &str, parameter: String| {
        let found = known.iter().position(|k| k.eq_ignore_ascii_case(name.trim()));
        if found.is_none() {
            unknown.push(UnknownName { name: name.to_owned(), parameter, known: known.clone() });
        }
        found
    };
    let left_out: Vec<usize> = (works.rehearsals.leave_out.iter().enumerate())
        .filter_map(|(i, name)| find(name, format!("rehearsals.leave_out[{i}]")))
        .collect();
    let pairs: Vec<Failure> = (works.rehearsals.together.iter().enumerate())
        .filter_map(|(i, pair)| {
            let both: Vec<usize> = (pair.iter().enumerate())
                .filter_map(|(k, name)| find(name, format!("rehearsals.together[{i}][{k}]")))
                .collect();
            let [a, b] = both.try_into().ok()?;
            Some(Failure::Together(vec![all[a].clone(), all[b].clone()]))
        })
        .collect();
    let kept =
        all.iter().enumerate().filter(|(i, _)| !left_out.contains(i)).map(|(_, f)| f.clone());
    (kept.chain(pairs).collect(), unknown)
}

/// Each drain that carries water while all is well, and all of these together.
fn drains(works: &Waterworks) -> Vec<Failure> {
    let of = |duty: DrainDuty| -> Vec<usize> {
        let drains = works.drains.iter().enumerate();
        drains.filter(|(_, d)| d.duty == duty && d.intake_mm.is_some()).map(|(k, _)| k).collect()
    };
    let (mains, mut secondaries) = (of(DrainDuty::Main), of(DrainDuty::Secondary));
    if mains.is_empty() && secondaries.is_empty() {
        // Whatever they are called, they carry the water.
        secondaries = of(DrainDuty::Emergency);
    }
    let one = |k: &usize, word: &str, is_only: bool| {
        let name = if is_only {
            format!("{word} drain")
        } else {
            format!("{word} drain {}", works.drains[*k].name)
        };
        Failure::DrainsBlocked { drains: vec![*k], name }
    };
    let mut failures: Vec<Failure> =
        mains.iter().map(|k| one(k, "main", mains.len() == 1)).collect();
    if mains.is_empty() {
        failures
            .extend(secondaries.iter().map(|k| one(k, word_of(works, *k), secondaries.len() == 1)));
    }
    let all: Vec<usize> = mains.iter().chain(&secondaries).copied().collect();
    if all.len() > 1 {
        let name = match (mains.is_empty(), secondaries.is_empty()) {
            (false, false) => "main and secondary drains",
            (false, true) => "all main drains",
            _ => "all drains",
        };
        failures.push(Failure::DrainsBlocked { drains: all, name: name.to_owned() });
    }
    failures
}

fn word_of(works: &Waterworks, drain: usize) -> &'static str {
    match works.drains[drain].duty {
        DrainDuty::Main => "main",
        DrainDuty::Secondary => "secondary",
        DrainDuty::Emergency => "emergency",
    }
}

/// Each lift-out leaf that is in.
fn leaves(works: &Waterworks) -> Vec<Failure> {
    let mut failures: Vec<Failure> = Vec::new();
    for way in works.ways.iter().filter(|w| w.is_in && w.lifts_out) {
        let failure = Failure::LeafMissing {
            divider: way.divider.clone(),
            place: way.place,
            leaf: way.leaf.clone(),
        };
        if !failures.contains(&failure) {
            failures.push(failure);
        }
    }
    failures
}

/// Each door, off and shut.
fn doors(works: &Waterworks) -> Vec<Failure> {
    let mut leaves: Vec<&String> = Vec::new();
    for way in works.ways.iter().filter(|w| w.is_in && w.kind == WayKind::Door) {
        if !leaves.contains(&&way.leaf) {
            leaves.push(&way.leaf);
        }
    }
    let both = |leaf: &String| {
        [Failure::DoorOff { leaf: leaf.clone() }, Failure::DoorShut { leaf: leaf.clone() }]
    };
    leaves.into_iter().flat_map(both).collect()
}
