//! What is what, for readers that read aloud: headings, paragraphs, lists, tables, figures with words for who does not see
//! them. All else is marked as decoration.
//!
//! Source: ISO 32000-1, §14.7 and §14.8 (logical structure, tagged PDF), as the library `krilla` writes it. No conformity to
//! ISO 14289 (PDF/UA) is claimed. Read back by `tests/outside/pdf_judge.py`.

use std::num::NonZeroU16;
use std::ops::Range;

use krilla::tagging::{
    Artifact, ArtifactType, ContentTag, Identifier, ListNumbering, Node, SpanTag, TableHeaderScope,
    Tag, TagGroup, TagTree,
};
use paper::{Page, Role};

/// Marks that are drawn one after another and are one thing, or decoration.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Run {
    pub(super) marks: Range<usize>,
    tag: Option<paper::Tag>,
}

/// All marks of a page in runs. A page without parts is one figure.
pub(super) fn runs(page: &Page) -> Vec<Run> {
    let n = page.figure.marks.len();
    if page.parts.is_empty() && 0 < n {
        let names: Vec<&str> = page.bookmarks.iter().map(|(_, words)| words.as_str()).collect();
        let alt = format!("Drawing {}: {}", names.join(", "), page.figure.words_in_it());
        // Never one figure with that of the page before.
        return vec![Run {
            marks: 0..n,
            tag: Some(paper::Tag { thing: 0, role: Role::Figure(alt) }),
        }];
    }
    let mut runs = Vec::new();
    let mut done = 0;
    for part in &page.parts {
        if done < part.marks.start {
            runs.push(Run { marks: done..part.marks.start, tag: None });
        }
        runs.push(Run { marks: part.marks.clone(), tag: Some(part.tag.clone()) });
        done = part.marks.end;
    }
    if done < n {
        runs.push(Run { marks: done..n, tag: None });
    }
    runs
}

impl Run {
    /// What stands around it in the page's content.
    pub(super) fn content(&self) -> ContentTag<'static> {
        match self.tag.as_ref().map(|tag| &tag.role) {
            None => ContentTag::Artifact(Artifact::with_kind(ArtifactType::Layout)),
            Some(Role::Figure(_)) => ContentTag::Other,
            Some(_) => ContentTag::Span(SpanTag::empty()),
        }
    }
}

/// All runs of a document that are something, in the order of reading.
#[derive(Default)]
pub(super) struct Tags(Vec<(paper::Tag, Vec<Node>)>);

impl Tags {
    /// Adds a run that was drawn.
    pub(super) fn add(&mut self, run: Run, begun: Identifier) {
        let Some(tag) = run.tag else { return };
        let is_drawing = tag.thing == 0;
        // Lines of one cell may stand between those of others.
        let same = self.0.iter_mut().rev().take_while(|(other, _)| other.thing == tag.thing);
        match same.into_iter().find(|(other, _)| *other == tag && !is_drawing) {
            Some((_, nodes)) => nodes.push(begun.into()),
            None => self.0.push((tag, vec![begun.into()])),
        }
    }

    /// The tree that the document carries.
    pub(super) fn tree(self, language: &str) -> TagTree {
        let mut tree = TagTree::new().with_lang(Some(language.to_owned()));
        let mut left = self.0.into_iter().peekable();
        while let Some((tag, nodes)) = left.next() {
            let mut of_thing = vec![(tag.role, nodes)];
            if tag.thing != 0 {
                while let Some((tag, nodes)) = left.next_if(|(other, _)| other.thing == tag.thing) {
                    of_thing.push((tag.role, nodes));
                }
            }
            tree.push(thing(of_thing));
        }
        tree
    }
}

/// One heading, paragraph, list, table or figure.
fn thing(mut parts: Vec<(Role, Vec<Node>)>) -> TagGroup {
    match parts.first().map(|(role, _)| role.clone()) {
        Some(Role::Heading(level, words)) => {
            let level = NonZeroU16::new(u16::from(level)).unwrap_or(NonZeroU16::MIN);
            let nodes = parts.remove(0).1;
            TagGroup::with_children(Tag::Hn(level, Some(words)), nodes)
        }
        Some(Role::Figure(alt)) => {
            TagGroup::with_children(Tag::Figure(Some(alt)), parts.remove(0).1)
        }
        Some(Role::Label(_) | Role::Item(_)) => list(parts),
        Some(Role::Head(_) | Role::Cell(..)) => table(parts),
        Some(Role::Words) | None => {
            let nodes = parts.into_iter().flat_map(|(_, nodes)| nodes).collect();
            TagGroup::with_children(Tag::P, nodes)
        }
    }
}

fn list(parts: Vec<(Role, Vec<Node>)>) -> TagGroup {
    let is_numbered =
        parts.iter().any(|(role, nodes)| matches!(role, Role::Label(_)) && !nodes.is_empty());
    let numbering = if is_numbered { ListNumbering::Decimal } else { ListNumbering::Disc };
    let mut list = TagGroup::new(Tag::L(numbering));
    let mut item: Option<(usize, TagGroup)> = None;
    for (role, nodes) in parts {
        let (n, child) = match role {
            Role::Label(n) => (n, TagGroup::with_children(Tag::Lbl, nodes)),
            Role::Item(n) => (n, TagGroup::with_children(Tag::LBody, nodes)),
            _ => continue,
        };
        if item.as_ref().is_none_or(|(of, _)| *of != n) {
            let new = (n, TagGroup::new(Tag::LI));
            if let Some((_, before)) = item.replace(new) {
                list.push(before);
            }
        }
        if let Some((_, item)) = &mut item {
            item.push(child);
        }
    }
    if let Some((_, last)) = item {
        list.push(last);
    }
    list
}

fn table(parts: Vec<(Role, Vec<Node>)>) -> TagGroup {
    let mut table = TagGroup::new(Tag::Table);
    // The head is the row before the first.
    let mut rows: Vec<(Option<usize>, TagGroup)> = Vec::new();
    for (role, nodes) in parts {
        let (row, cell) = match role {
            Role::Head(_) => {
                (None, TagGroup::with_children(Tag::TH(TableHeaderScope::Column), nodes))
            }
            Role::Cell(row, _) => (Some(row), TagGroup::with_children(Tag::TD, nodes)),
            _ => continue,
        };
        match rows.last_mut().filter(|(of, _)| *of == row) {
            Some((_, group)) => group.push(cell),
            None => rows.push((row, TagGroup::with_children(Tag::TR, vec![cell.into()]))),
        }
    }
    for (_, row) in rows {
        table.push(row);
    }
    table
}
