//! References: what a file speaks of by name is there, and what is there is used.

use std::collections::BTreeSet;

use findings::Finding;

use super::rows::{kind, rows};
use super::{Rules, each, each_named};
use crate::Item;
use crate::words::{listed, nearest, quoted};

/// A name that stands at a path.
type Named<'a> = (String, &'a str);

pub(super) fn check(rules: &mut Rules<'_>) {
    let file = rules.file;
    let known = file.sheet.keys().map(String::as_str).collect();
    dangling(rules, "sheet", "sheet", &known, &sheet_names(rules));

    let leaves: Vec<_> = leaf_names(rules);
    let known: BTreeSet<_> = file.leaf.keys().map(String::as_str).collect();
    dangling(rules, "leaf", "leaf", &known, &leaves);
    unused_leaves(rules, &known, &leaves);
    let hosts: Vec<_> = each("fitting", &file.fitting)
        .filter_map(|at| Some((at.key("leaf"), at.value.leaf.as_deref()?)))
        .collect();
    dangling(rules, "leaf", "leaf", &known, &hosts);

    let chambers = rows(file)
        .into_iter()
        .flat_map(|row| row.items)
        .filter_map(|item| item.chamber.as_deref())
        .collect();
    dangling(rules, "chamber", "along", &chambers, &chamber_names(rules));

    let known = file.equipment.iter().map(|thing| thing.name.as_str()).collect();
    dangling(rules, "equipment", "equipment", &known, &pump_names(rules));
    let known = file.wall_fitting.iter().map(|fitting| fitting.name.as_str()).collect();
    dangling(rules, "wall fitting", "wall_fitting", &known, &fitting_names(rules));
}

/// Reports names of nothing. `defined_in` is the table or list whose every part must be known to say so.
fn dangling(
    rules: &mut Rules<'_>,
    what: &str,
    defined_in: &str,
    known: &BTreeSet<&str>,
    names: &[Named<'_>],
) {
    let is_sure = match defined_in {
        "along" => knows_all_chambers(rules),
        "equipment" => knows_all_names(rules, defined_in, rules.file.equipment.len()),
        "wall_fitting" => knows_all_names(rules, defined_in, rules.file.wall_fitting.len()),
        table => rules.gaps.knows(table),
    };
    if !is_sure {
        return;
    }
    for (path, name) in names {
        if known.contains(name) {
            continue;
        }
        let hint = match nearest(name, known.iter().copied()) {
            Some(near) => format!("write `\"{near}\"`"),
            None if known.is_empty() => format!("this file has no {what} yet"),
            None => format!("this file has {}", listed(known.iter().copied(), "and")),
        };
        let message = format!("no {what} is called {}", quoted(name));
        rules.add(&[path], Finding::fails("unknown-name", path, message).with_hint(hint));
    }
}

fn knows_all_chambers(rules: &Rules<'_>) -> bool {
    rows(rules.file).iter().all(|row| {
        rules.gaps.knows(&row.path)
            && each(&row.path, row.items).all(|item| {
                kind(item.value).is_some()
                    && rules.gaps.knows_keys(&item.path, &["chamber", "across", "along"])
            })
    })
}

fn knows_all_names(rules: &Rules<'_>, list: &str, count: usize) -> bool {
    rules.gaps.knows(list)
        && (0..count).all(|i| rules.gaps.knows_keys(&crate::path::index(list, i), &["name"]))
}

fn sheet_names<'a>(rules: &Rules<'a>) -> Vec<Named<'a>> {
    let file = rules.file;
    let mut names = vec![("box.sheet".to_owned(), Some(&file.enclosure.sheet))];
    names.push(("box.bottom_sheet".to_owned(), file.enclosure.bottom_sheet.as_ref()));
    names.push((
        "box.rim.sheet".to_owned(),
        file.enclosure.rim.as_ref().and_then(|rim| rim.sheet.as_ref()),
    ));
    for (_, leaf) in each_named("leaf", &file.leaf) {
        names.push((leaf.key("sheet"), leaf.value.sheet.as_ref()));
        let door = leaf.value.door.as_ref().and_then(|door| door.sheet.as_ref());
        names.push((crate::path::key(&leaf.key("door"), "sheet"), door));
    }
    for holder in each("sock_holder", &file.sock_holder) {
        names.push((holder.key("sheet"), holder.value.sheet.as_ref()));
        names.push((
            crate::path::key(&holder.key("ledge"), "sheet"),
            holder.value.ledge.sheet.as_ref(),
        ));
    }
    names.extend(each("lid", &file.lid).map(|lid| (lid.key("sheet"), lid.value.sheet.as_ref())));
    names.into_iter().filter_map(|(path, name)| Some((path, name?.as_str()))).collect()
}

fn leaf_names<'a>(rules: &Rules<'a>) -> Vec<Named<'a>> {
    let mut names = Vec::new();
    for row in rows(rules.file) {
        for item in each(&row.path, row.items) {
            names.extend(item.value.leaf.as_deref().map(|leaf| (item.key("leaf"), leaf)));
            for (key, list) in [("leaves", &item.value.leaves), ("slot", &item.value.slot)] {
                let list = list.as_deref().unwrap_or_default();
                names.extend(each(&item.key(key), list).map(|at| (at.path, at.value.as_str())));
            }
        }
    }
    names
}

fn chamber_names<'a>(rules: &Rules<'a>) -> Vec<Named<'a>> {
    let file = rules.file;
    let mut names = Vec::new();
    names.extend(
        each("sock_holder", &file.sock_holder)
            .map(|at| (at.key("chamber"), at.value.chamber.as_str())),
    );
    names.extend(each("lid", &file.lid).map(|at| (at.key("chamber"), at.value.chamber.as_str())));
    names.extend(
        each("drain", &file.drain).map(|at| (at.key("chamber"), at.value.chamber.as_str())),
    );
    names.extend(
        each("fitting", &file.fitting)
            .filter_map(|at| Some((at.key("chamber"), at.value.chamber.as_deref()?))),
    );
    names.extend(
        each("fitting", &file.fitting)
            .filter_map(|at| Some((at.key("lid"), at.value.lid.as_deref()?))),
    );
    names.extend(
        each("equipment", &file.equipment).map(|at| (at.key("chamber"), at.value.chamber.as_str())),
    );
    names.extend(
        each("level_marks", &file.level_marks)
            .map(|at| (at.key("chamber"), at.value.chamber.as_str())),
    );
    names.extend(
        each("return_line", &file.return_line)
            .filter_map(|at| Some((at.key("to"), at.value.to.as_deref()?))),
    );
    let top_up = file.top_up.as_ref().and_then(|top_up| top_up.chamber.as_deref());
    names.extend(top_up.map(|name| ("top_up.chamber".to_owned(), name)));
    names
}

fn pump_names<'a>(rules: &Rules<'a>) -> Vec<Named<'a>> {
    each("return_line", &rules.file.return_line)
        .map(|at| (at.key("pump"), at.value.pump.as_str()))
        .collect()
}

fn fitting_names<'a>(rules: &Rules<'a>) -> Vec<Named<'a>> {
    each("drain", &rules.file.drain)
        .filter_map(|at| Some((at.key("through"), at.value.through.as_deref()?)))
        .collect()
}

/// A name that dangles, or a divider without a leaf, was probably meant for one that is not used.
fn unused_leaves(rules: &mut Rules<'_>, known: &BTreeSet<&str>, used: &[Named<'_>]) {
    let used: BTreeSet<_> = used.iter().map(|(_, name)| *name).collect();
    let items = || rows(rules.file).into_iter().flat_map(|row| row.items);
    let is_bare = |item: &Item| {
        item.divider.is_some()
            && item.leaf.is_none()
            && item.leaves.is_none()
            && item.slot.is_none()
    };
    if !rules.gaps.knows_all("along") || !used.is_subset(known) || items().any(is_bare) {
        return;
    }
    for name in known.difference(&used) {
        let message = format!("the leaf {} stands in no divider, so it is not made", quoted(name));
        let finding = Finding::tight("unused-leaf", crate::path::key("leaf", name), message);
        rules.add(&[], finding.with_hint("name it in a divider, or delete its table"));
    }
}
