//! Names: no two things of a kind have the same.

use std::collections::BTreeMap;

use findings::Finding;

use super::rows::rows;
use super::{Rules, each};
use crate::path;
use crate::words::quoted;

pub(super) fn check(rules: &mut Rules<'_>) {
    let file = rules.file;
    let named = |table: &str, names: Vec<&String>| {
        names.into_iter().map(|name| (path::key(table, name), name.clone())).collect()
    };
    unique(rules, named("sheet", file.sheet.keys().collect()));
    unique(rules, named("leaf", file.leaf.keys().collect()));

    let mut places = Vec::new();
    for row in rows(file) {
        for item in each(&row.path, row.items) {
            for (key, name) in [
                ("chamber", &item.value.chamber),
                ("divider", &item.value.divider),
                ("section", &item.value.section),
            ] {
                places.extend(name.iter().map(|name| (item.key(key), name.clone())));
            }
        }
    }
    unique(rules, places);

    // Loose things are labelled in pictures, all in the same way.
    let mut loose = Vec::new();
    loose.extend(
        each("wall_fitting", &file.wall_fitting).map(|at| (at.key("name"), at.value.name.clone())),
    );
    loose.extend(
        each("fitting", &file.fitting)
            .filter_map(|at| Some((at.key("name"), at.value.name.clone()?))),
    );
    loose.extend(each("drain", &file.drain).map(|at| (at.key("name"), at.value.name.clone())));
    loose.extend(
        each("equipment", &file.equipment).map(|at| (at.key("name"), at.value.name.clone())),
    );
    if let Some(cabinet) = &file.cabinet {
        let posts =
            each("cabinet.post", &cabinet.post).map(|at| (at.key("name"), at.value.name.clone()));
        let shelves =
            each("cabinet.shelf", &cabinet.shelf).map(|at| (at.key("name"), at.value.name.clone()));
        let fixtures = each("cabinet.fixture", &cabinet.fixture)
            .map(|at| (at.key("name"), at.value.name.clone()));
        loose.extend(posts.chain(shelves).chain(fixtures));
    }
    unique(rules, loose);

    let tools = each("reach.tool", &file.reach.tool);
    unique(rules, tools.map(|at| (at.key("name"), at.value.name.clone())).collect());
}

/// Names that differ only in case, or in spaces and hyphens, are the same to an ear and to some disks.
fn unique(rules: &mut Rules<'_>, names: Vec<(String, String)>) {
    let mut taken: BTreeMap<String, (String, String)> = BTreeMap::new();
    for (path, name) in names {
        if !rules.gaps.knows(&path) {
            continue;
        }
        match taken.get(&name.to_lowercase().replace('-', " ")) {
            None => {
                taken.insert(name.to_lowercase().replace('-', " "), (path, name));
            }
            Some((first_path, first)) => {
                let same = if *first == name {
                    "the name".to_owned()
                } else {
                    format!("too near to the name {}", quoted(first))
                };
                let message =
                    format!("{} is {same} of {} already", quoted(&name), quoted(first_path));
                rules.add(
                    &[],
                    Finding::fails("name-taken", path, message)
                        .with_hint("give it a name of its own"),
                );
            }
        }
    }
}
