//! Interchangeable leaves, side by side.

use std::collections::BTreeMap;

use super::Combination;
use crate::running::Running;

/// More combinations than this are not computed one by one.
const MOST: usize = 64;

/// A place in a divider and the leaves that can stand there, the one that is in first.
type Choice = ((String, usize), Vec<String>);

pub(super) fn all(running: &Running<'_>) -> Vec<Combination> {
    let choices = choices(running);
    if choices.is_empty() {
        return Vec::new();
    }
    let count: usize = choices.iter().map(|(_, leaves)| leaves.len()).product();
    (0..count.min(MOST)).map(|index| one(running, &choices, index)).collect()
}

/// How many combinations there are beyond those that are computed.
pub(super) fn left_out(running: &Running<'_>) -> usize {
    let count: usize = choices(running).iter().map(|(_, leaves)| leaves.len()).product();
    count.saturating_sub(MOST)
}

fn choices(running: &Running<'_>) -> Vec<Choice> {
    let mut choices: BTreeMap<(String, usize), Vec<String>> = BTreeMap::new();
    // Leaves that are in come first in the list of ways.
    for way in &running.system.works.ways {
        let leaves = choices.entry((way.divider.clone(), way.place)).or_default();
        if !leaves.contains(&way.leaf) {
            leaves.push(way.leaf.clone());
        }
    }
    choices.into_iter().filter(|(_, leaves)| leaves.len() > 1).collect()
}

/// The combination of this number, the last choice running fastest.
fn one(running: &Running<'_>, choices: &[Choice], mut index: usize) -> Combination {
    let mut setting = running.system.setting.clone();
    // The valve is set anew by the trickle.
    setting.valves.clear();
    let mut leaves = Vec::new();
    let mut is_in = true;
    for ((divider, place), names) in choices.iter().rev() {
        let k = index % names.len();
        index /= names.len();
        is_in &= k == 0;
        setting.leaves.insert((divider.clone(), *place), names[k].clone());
        leaves.insert(0, (divider.clone(), names[k].clone()));
    }
    match Running::new(running.system.works, setting) {
        Ok(other) => Combination {
            leaves,
            is_in,
            return_flow_m3_s: other.return_flow(),
            levels_m: other.levels_m[..other.system.tanks.basins].to_vec(),
            not_computed: None,
        },
        Err(error) => Combination {
            leaves,
            is_in,
            return_flow_m3_s: 0.0,
            levels_m: Vec::new(),
            not_computed: Some(error.to_string()),
        },
    }
}
