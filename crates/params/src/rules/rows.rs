//! Rows of chambers and dividers.

use findings::Finding;
use units::Length;

use super::{At, Rules, each};
use crate::words::{listed, quoted};
use crate::{File, Item, Mount};

/// All that stands in all rows.
const MOST_ITEMS: usize = 200;

/// Which way a row lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Axis {
    Along,
    Across,
}

/// What an item is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    Chamber,
    Divider,
    Section,
}

/// A row of the file.
pub(super) struct Row<'a> {
    pub(super) path: String,
    pub(super) items: &'a [Item],
    axis: Axis,
}

/// All rows, the outer before the inner.
pub(super) fn rows(file: &File) -> Vec<Row<'_>> {
    let mut rows = vec![Row { path: "along".to_owned(), items: &file.along, axis: Axis::Along }];
    let mut next = 0;
    while let Some(row) = rows.get(next) {
        let mut inner = Vec::new();
        for item in each(&row.path, row.items) {
            inner.push(Row {
                path: item.key("across"),
                items: &item.value.across,
                axis: Axis::Across,
            });
            inner.push(Row {
                path: item.key("along"),
                items: &item.value.along,
                axis: Axis::Along,
            });
        }
        rows.extend(inner.into_iter().filter(|row| !row.items.is_empty()));
        next += 1;
    }
    rows
}

/// What an item is and what it is called, if it is exactly one thing.
pub(super) fn kind(item: &Item) -> Option<(Kind, &str)> {
    match (&item.chamber, &item.divider, &item.section) {
        (Some(name), None, None) => Some((Kind::Chamber, name)),
        (None, Some(name), None) => Some((Kind::Divider, name)),
        (None, None, Some(name)) => Some((Kind::Section, name)),
        _ => None,
    }
}

pub(super) fn check(rules: &mut Rules<'_>) {
    let rows = rows(rules.file);
    let count: usize = rows.iter().map(|row| row.items.len()).sum();
    if count > MOST_ITEMS {
        let message = format!(
            "the sump has {count} chambers, dividers and sections, but at most {MOST_ITEMS} are allowed"
        );
        rules.add(&[], Finding::fails("too-many", "along", message));
        return;
    }
    for row in &rows {
        order(rules, row);
        sizes_left_out(rules, row);
        for item in each(&row.path, row.items) {
            let is_sure = rules.gaps.knows_keys(&item.path, &["chamber", "divider", "section"]);
            match kind(item.value) {
                _ if !is_sure => {}
                None => not_one_thing(rules, &item),
                Some((kind, name)) => {
                    misplaced_keys(rules, &item, kind, row.axis);
                    match kind {
                        Kind::Chamber => {}
                        Kind::Divider => divider(rules, &item),
                        Kind::Section => section(rules, &item, name, row.axis),
                    }
                }
            }
        }
    }
}

fn not_one_thing(rules: &mut Rules<'_>, item: &At<'_, Item>) {
    let (message, hint) = if [&item.value.chamber, &item.value.divider, &item.value.section]
        .iter()
        .all(|x| x.is_none())
    {
        (
            "this is no chamber, divider or section",
            "add `chamber`, `divider` or `section`, and its name",
        )
    } else {
        (
            "this is more than one of chamber, divider and section",
            "write an item of its own for each",
        )
    };
    rules.add(&[], Finding::fails("not-one", &item.path, message).with_hint(hint));
}

/// A row begins and ends with a chamber or section, and dividers part them.
fn order(rules: &mut Rules<'_>, row: &Row<'_>) {
    let items: Vec<_> = each(&row.path, row.items).collect();
    let is_sure = rules.gaps.knows(&row.path)
        && items
            .iter()
            .all(|item| rules.gaps.knows_keys(&item.path, &["chamber", "divider", "section"]));
    let Some(kinds) =
        items.iter().map(|item| kind(item.value)).collect::<Option<Vec<_>>>().filter(|_| is_sure)
    else {
        return;
    };
    let mut wrong = |at: &str, message: String, hint: &str| {
        rules.findings.push(Finding::fails("row-order", at, message).with_hint(hint));
    };
    let (Some(first), Some(last)) = (kinds.first(), kinds.last()) else {
        return wrong(
            &row.path,
            format!("`{}` has no chamber", row.path),
            "add at least one item with `chamber`",
        );
    };
    let hint = "a row begins and ends with a chamber or section; the walls of the box are there of themselves";
    if first.0 == Kind::Divider {
        wrong(
            &items[0].path,
            format!("`{}` begins with a divider, {}", row.path, quoted(first.1)),
            hint,
        );
    }
    if last.0 == Kind::Divider && kinds.len() > 1 {
        wrong(
            &items[items.len() - 1].path,
            format!("`{}` ends with a divider, {}", row.path, quoted(last.1)),
            hint,
        );
    }
    for (pair, item) in kinds.windows(2).zip(&items[1..]) {
        let [(a, a_name), (b, b_name)] = [pair[0], pair[1]];
        let names = listed([a_name, b_name], "and");
        match (a == Kind::Divider, b == Kind::Divider) {
            (true, true) => {
                let hint = "put a chamber between them, or all their leaves into one divider with `leaves`";
                wrong(
                    &item.path,
                    format!("the dividers {names} have no chamber between them"),
                    hint,
                );
            }
            (false, false) => wrong(
                &item.path,
                format!("{names} have no divider between them"),
                "put a divider between them",
            ),
            _ => {}
        }
    }
}

/// One of a row takes what the others leave.
fn sizes_left_out(rules: &mut Rules<'_>, row: &Row<'_>) {
    let (key, size): (_, fn(&Item) -> Option<Length>) = match row.axis {
        Axis::Along => ("length", |item| item.length),
        Axis::Across => ("width", |item| item.width),
    };
    let left_out = |item: &At<'_, Item>| {
        size(item.value).is_none() && rules.gaps.knows_keys(&item.path, &[key])
    };
    let sized = each(&row.path, row.items).filter_map(|item| {
        kind(item.value).filter(|(kind, _)| *kind != Kind::Divider).map(|(_, name)| (item, name))
    });
    let open: Vec<_> = sized.filter(|(item, _)| left_out(item)).collect();
    if let [(_, first), others @ ..] = &open[..] {
        for (item, name) in others {
            let message = format!(
                "{} leaves its {key} out, and {} does so before; only one can take the rest",
                quoted(name),
                quoted(first)
            );
            rules.findings.push(
                Finding::fails("two-left-out", &item.path, message)
                    .with_hint(format!("add `{key}`")),
            );
        }
    }
}

/// Keys that say nothing about an item of this kind.
fn misplaced_keys(rules: &mut Rules<'_>, item: &At<'_, Item>, kind: Kind, axis: Axis) {
    use Kind::{Chamber, Divider, Section};
    let Item {
        length,
        width,
        level,
        leaf,
        leaves,
        slot,
        spacing,
        guide,
        guide_depth,
        guide_height,
        clearance,
        joint,
        across,
        along,
        ..
    } = item.value;
    let given = [
        ("length", length.is_some(), &[Chamber, Section][..]),
        ("width", width.is_some(), &[Chamber, Section]),
        ("level", level.is_some(), &[Chamber]),
        ("leaf", leaf.is_some(), &[Divider]),
        ("leaves", leaves.is_some(), &[Divider]),
        ("slot", slot.is_some(), &[Divider]),
        ("spacing", spacing.is_some(), &[Divider]),
        ("guide", guide.is_some(), &[Divider]),
        ("guide_depth", guide_depth.is_some(), &[Divider]),
        ("guide_height", guide_height.is_some(), &[Divider]),
        ("clearance", clearance.is_some(), &[Divider]),
        ("joint", joint.is_some(), &[Divider]),
        ("across", !across.is_empty(), &[Section]),
        ("along", !along.is_empty(), &[Section]),
    ];
    for (key, is_given, owners) in given {
        let path = item.key(key);
        if is_given && !owners.contains(&kind) {
            let message =
                format!("`{key}` is for a {}, but this is a {}", owners[0].word(), kind.word());
            rules.add(
                &[&path],
                Finding::fails("misplaced-key", &path, message)
                    .with_hint("delete it, or move it to where it belongs"),
            );
        }
    }
    let (is_across, wrong, right) = match axis {
        Axis::Along => (width.is_some(), "width", "length"),
        Axis::Across => (length.is_some(), "length", "width"),
    };
    if is_across && kind != Divider {
        let path = item.key(wrong);
        let message = format!(
            "this row lies {}, so its items have a `{right}`; their {wrong} is that of the row",
            axis.words()
        );
        rules.add(
            &[&path],
            Finding::fails("misplaced-key", &path, message)
                .with_hint(format!("write `{right}`, or delete it")),
        );
    }
}

/// A section is a row that lies the other way.
fn section(rules: &mut Rules<'_>, item: &At<'_, Item>, name: &str, axis: Axis) {
    let (inner, right, other, wrong) = match axis {
        Axis::Along => (&item.value.across, "across", &item.value.along, "along"),
        Axis::Across => (&item.value.along, "along", &item.value.across, "across"),
    };
    let hint = format!("write its chambers and dividers as `{right}`");
    if !other.is_empty() {
        let path = item.key(wrong);
        let message = format!(
            "the section {} lies in a row {}, so it is laid out {right}",
            quoted(name),
            axis.words()
        );
        rules.add(&[&path], Finding::fails("misplaced-key", &path, message).with_hint(hint));
    } else if inner.is_empty() && rules.gaps.knows_keys(&item.path, &[right]) {
        let message = format!("the section {} has no chambers", quoted(name));
        rules.add(&[], Finding::fails("row-order", &item.path, message).with_hint(hint));
    }
}

/// A divider has its leaves in exactly one of three ways.
fn divider(rules: &mut Rules<'_>, item: &At<'_, Item>) {
    let Item {
        leaf,
        leaves,
        slot,
        spacing,
        guide,
        guide_depth,
        guide_height,
        clearance,
        joint,
        ..
    } = item.value;
    let ways = [leaf.is_some(), leaves.is_some(), slot.is_some()]
        .into_iter()
        .filter(|given| *given)
        .count();
    if !rules.gaps.knows_keys(&item.path, &["leaf", "leaves", "slot"]) {
        return;
    }
    if ways != 1 {
        let what = if ways == 0 { "none" } else { "more than one" };
        let message = format!(
            "this divider has {what} of `leaf`, `leaves` and `slot`, but exactly one is needed"
        );
        let hint = "`leaf` for one leaf, `leaves` for some one behind the other, `slot` for some that take each other's place";
        return rules.add(&[], Finding::fails("not-one", &item.path, message).with_hint(hint));
    }
    slot_leaves(rules, item);
    let names: Vec<_> =
        leaf.iter().chain(leaves.iter().flatten()).chain(slot.iter().flatten()).collect();
    let mounts: Option<Vec<_>> =
        names.iter().map(|name| rules.file.leaf.get(*name).map(|leaf| leaf.mount)).collect();
    let Some(mounts) = mounts else { return };
    let read: Vec<_> = names.iter().map(|name| format!("leaf.{name}.mount")).collect();
    let read: Vec<_> = read.iter().map(String::as_str).collect();
    let mut idle = |key: &str, reason: &str| {
        let path = item.key(key);
        let message = format!("`{key}` does nothing here: {reason}");
        rules.add(&read, Finding::tight("no-effect", path, message).with_hint("delete it"));
    };
    if !mounts.contains(&Mount::LiftOut) {
        for (key, is_given) in [
            ("guide", guide.is_some()),
            ("guide_depth", guide_depth.is_some()),
            ("guide_height", guide_height.is_some()),
            ("clearance", clearance.is_some()),
        ] {
            if is_given {
                idle(key, "no leaf of this divider lifts out");
            }
        }
    }
    if joint.is_some() && !mounts.contains(&Mount::Glued) {
        idle("joint", "no leaf of this divider is glued");
    }
    if spacing.is_some() && leaves.as_ref().is_none_or(|leaves| leaves.len() < 2) {
        idle("spacing", "no two leaves of this divider stand one behind the other");
    }
}

/// Leaves that take each other's place are different leaves, and lift out.
fn slot_leaves(rules: &mut Rules<'_>, item: &At<'_, Item>) {
    let slot = item.value.slot.as_deref().unwrap_or_default();
    for name in each(&item.key("slot"), slot) {
        let index = slot.iter().position(|other| other == name.value);
        if index.is_some_and(|first| crate::path::index(&item.key("slot"), first) != name.path) {
            let message = format!("{} is in this slot twice", quoted(name.value));
            rules.add(
                &[&name.path],
                Finding::fails("twice", &name.path, message).with_hint("delete one of the two"),
            );
        } else if rules.file.leaf.get(name.value).is_some_and(|leaf| leaf.mount == Mount::Glued) {
            let message = format!("{} is in a slot, but it is glued", quoted(name.value));
            let hint = format!("write `mount = \"lift-out\"` in `[leaf.{}]`", name.value);
            let mount = format!("leaf.{}.mount", name.value);
            rules.add(
                &[&name.path, &mount],
                Finding::fails("slot-glued", &name.path, message).with_hint(hint),
            );
        }
    }
}

impl Axis {
    fn words(self) -> &'static str {
        match self {
            Self::Along => "along the sump",
            Self::Across => "across the sump",
        }
    }
}

impl Kind {
    fn word(self) -> &'static str {
        match self {
            Self::Chamber => "chamber",
            Self::Divider => "divider",
            Self::Section => "section",
        }
    }
}
