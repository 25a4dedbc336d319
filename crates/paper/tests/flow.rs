//! Guards the flow of blocks: nothing leaves the page, nothing lies over another, no word is lost or out of order.

use glam::{DVec2, dvec2};
use paper::{
    Align, Block, Caution, Column, Figure, Form, Mark, Page, PaperForm, Stroke, Table, flow, style,
};
use proptest::prelude::*;

fn form() -> Form {
    Form::text(PaperForm::A, "HEAD", "FOOT")
}

/// The words of pages in the order in which they are drawn, without head, foot and what repeats.
fn words(pages: &[Page], form: &Form) -> String {
    let is_text = |at: DVec2| form.top_mm <= at.y && at.y <= form.size.y - form.bottom_mm;
    let mut all = String::new();
    for mark in pages.iter().flat_map(|page| &page.figure.marks) {
        if let Mark::Words { at, text, .. } = mark
            && is_text(*at)
        {
            all.push_str(text);
        }
    }
    all.replace(' ', "")
}

#[track_caller]
fn check_places(pages: &[Page]) {
    for page in pages {
        let mut lines: Vec<[DVec2; 2]> = Vec::new();
        for mark in &page.figure.marks {
            let [lo, hi] = mark.bounds();
            assert!(
                lo.min_element() > -1e-6 && (hi - page.figure.size).max_element() < 1e-6,
                "{mark:?} leaves the page"
            );
            if matches!(mark, Mark::Words { .. }) {
                let over = |b: &[DVec2; 2]| {
                    lo.x < b[1].x - 1e-6
                        && b[0].x < hi.x - 1e-6
                        && lo.y < b[1].y - 1e-6
                        && b[0].y < hi.y - 1e-6
                };
                assert!(!lines.iter().any(over), "{mark:?} lies over other words");
                lines.push([lo, hi]);
            }
        }
    }
}

fn left(head: &str, may_wrap: bool) -> Column {
    Column { head: head.into(), align: Align::Left, may_wrap }
}

fn long_table(rows: usize) -> Block {
    let row = |i: usize| {
        vec![
            format!("r{i}"),
            "a few words that may be broken into lines where they must be, once or twice".into(),
            format!("{i}.5"),
        ]
    };
    let right = Column { head: "price".into(), align: Align::Right, may_wrap: false };
    Block::Table(Table {
        columns: vec![left("no", false), left("what", true), right],
        rows: (0..rows).map(row).collect(),
        has_sum: true,
    })
}

#[test]
fn a_table_repeats_its_head_and_keeps_its_sum_with_the_row_before() {
    for rows in 40..90 {
        let pages = flow(&[Block::Heading(1, "Parts".into()), long_table(rows)], &form());
        let texts = |page: &Page| -> Vec<String> {
            let texts = page.figure.marks.iter().filter_map(|mark| match mark {
                Mark::Words { text, .. } => Some(text.clone()),
                _ => None,
            });
            texts.collect()
        };
        assert!(pages.len() >= 2, "{rows}");
        for page in &pages {
            assert!(texts(page).contains(&"price".to_owned()));
            // Never a head or a sum alone, never with one row.
            let n = texts(page)
                .iter()
                .filter(|text| text.starts_with('r') && text[1..].parse::<u32>().is_ok())
                .count();
            assert!(n >= 2, "{rows} rows: {n} on a page");
        }
        check_places(&pages);
    }
}

#[test]
fn a_heading_is_never_the_last_on_a_page() {
    for lines in 30..60 {
        let mut blocks: Vec<Block> = (0..lines).map(|i| Block::Words(format!("w{i}"))).collect();
        blocks.push(Block::Heading(2, "Next".into()));
        blocks.push(Block::Words("follows".into()));
        let pages = flow(&blocks, &form());
        let with = |word: &str| {
            let is_it = |mark: &Mark| matches!(mark, Mark::Words { text, .. } if text == word);
            pages.iter().position(|page| page.figure.marks.iter().any(is_it))
        };
        assert_eq!(with("Next"), with("follows"), "{lines}");
    }
}

#[test]
fn a_figure_with_a_scale_says_so_when_it_had_to_be_made_smaller() {
    let mut figure = Figure::new(dvec2(300.0, 100.0));
    figure.line(DVec2::ZERO, dvec2(300.0, 100.0), Stroke::whole(0.5, style::INK));
    let said = |may_shrink| {
        let block = Block::Figure { figure: figure.clone(), may_shrink, caption: "Side".into() };
        let pages = flow(&[block], &form());
        check_places(&pages);
        words(&pages, &form()).contains("Nottoscale")
    };
    assert!(said(false));
    assert!(!said(true));
}

#[test]
fn what_is_together_stays_together_and_side_by_side_is_side_by_side() {
    let step = |i: usize| {
        let words = vec![Block::Words(format!("step {i}")), Block::Words("long ".repeat(60))];
        let mut figure = Figure::new(dvec2(60.0, 50.0));
        figure.circle(dvec2(30.0, 25.0), 20.0, Some(Stroke::whole(0.25, style::INK)), None);
        let drawn =
            vec![Block::Figure { figure, may_shrink: true, caption: format!("picture {i}") }];
        Block::Together(vec![
            Block::Heading(3, format!("Step {i}")),
            Block::Beside(vec![(1.0, words), (1.0, drawn)]),
        ])
    };
    let pages = flow(&(1..12).map(step).collect::<Vec<_>>(), &form());
    check_places(&pages);
    for page in &pages {
        let has = |what: String| {
            page.figure.marks.iter().any(|m| matches!(m, Mark::Words { text, .. } if *text == what))
        };
        for i in 1..12 {
            assert_eq!(has(format!("Step {i}")), has(format!("picture {i}")));
        }
    }
    let bookmarks: usize = pages.iter().map(|page| page.bookmarks.len()).sum();
    assert_eq!(bookmarks, 11);
}

#[test]
fn nothing_is_one_empty_page() {
    assert_eq!(flow(&[], &form()).len(), 1);
    assert_eq!(flow(&[Block::NewPage], &form()).len(), 1);
    let two = [Block::Words("a".into()), Block::NewPage, Block::NewPage, Block::Words("b".into())];
    assert_eq!(flow(&two, &form()).len(), 2);
}

fn text() -> impl Strategy<Value = String> {
    proptest::collection::vec("[a-zA-Z0-9é×.-]{1,12}|[a-z]{60,90}", 1..25)
        .prop_map(|words| words.join(" "))
}

fn texts() -> impl Strategy<Value = Vec<String>> {
    proptest::collection::vec(text(), 1..6)
}

fn block() -> impl Strategy<Value = Block> {
    let table = (
        proptest::collection::vec([text(), text(), text()], 1..15),
        any::<[bool; 3]>(),
        any::<bool>(),
    );
    let leaf = prop_oneof![
        (1u8..4, text()).prop_map(|(level, text)| Block::Heading(level, text)),
        text().prop_map(Block::Words),
        texts().prop_map(Block::Items),
        texts().prop_map(Block::Boxes),
        (1usize..98, texts()).prop_map(|(n, items)| Block::Numbered(n, items)),
        (text(), texts()).prop_map(|(head, words)| Block::Caution(Caution { head, words })),
        Just(Block::NewPage),
        (10.0..400.0, 10.0..400.0, any::<bool>()).prop_map(|(x, y, may_shrink)| {
            let mut figure = Figure::new(dvec2(x, y));
            figure.rectangle(
                DVec2::splat(1.0),
                dvec2(x, y) - 1.0,
                Some(Stroke::whole(0.5, style::INK)),
                None,
            );
            Block::Figure { figure, may_shrink, caption: String::new() }
        }),
        table.prop_map(|(rows, wraps, has_sum)| Block::Table(Table {
            columns: ["", "", ""]
                .iter()
                .zip(wraps)
                .map(|(head, wraps)| left(head, wraps))
                .collect(),
            rows: rows.into_iter().map(Vec::from).collect(),
            has_sum,
        })),
    ];
    leaf.prop_recursive(2, 12, 3, |inner| {
        let some = proptest::collection::vec(inner, 1..4);
        prop_oneof![
            some.clone().prop_map(Block::Together),
            proptest::collection::vec((0.5..2.0, some), 1..3).prop_map(Block::Beside),
        ]
    })
}

/// All words of a block in reading order, without blanks.
fn told(block: &Block) -> String {
    let all = |items: &[String]| items.concat();
    let told = match block {
        Block::Heading(_, text) | Block::Words(text) => text.clone(),
        Block::Items(items) | Block::Boxes(items) => all(items),
        Block::Numbered(n, items) => {
            items.iter().enumerate().map(|(i, item)| format!("{}{item}", n + i)).collect()
        }
        Block::Table(table) => table.rows.iter().flatten().cloned().collect(),
        Block::Figure { .. } | Block::NewPage => String::new(),
        Block::Caution(caution) => format!("{}{}", caution.head, all(&caution.words)),
        Block::Together(blocks) => blocks.iter().map(told).collect(),
        Block::Beside(columns) => columns.iter().flat_map(|(_, blocks)| blocks).map(told).collect(),
    };
    told.replace(' ', "")
}

/// A table whose row is split over pages interleaves its cells: there the letters are compared, not their order.
fn sorted(text: &str) -> Vec<char> {
    let mut letters: Vec<char> = text.chars().collect();
    letters.sort_unstable();
    letters
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 100, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn blocks_of_all_kinds_lie_on_the_page_apart_and_complete(blocks in proptest::collection::vec(block(), 1..8)) {
        let form = form();
        let pages = flow(&blocks, &form);
        check_places(&pages);
        let expected: String = blocks.iter().map(told).collect();
        let found = words(&pages, &form).replace("Nottoscale:madesmallertofitthepage.", "");
        prop_assert_eq!(sorted(&found), sorted(&expected));
        let has_table = format!("{blocks:?}").contains("Table");
        if !has_table {
            prop_assert_eq!(found, expected);
        }
    }
}

#[test]
fn no_line_to_be_ticked_stands_alone_on_a_page() {
    let items = |n: usize| (0..n).map(|i| format!("item {i}")).collect::<Vec<_>>();
    // Whatever stands above, the break lies between the second and the last but one.
    for above in 0..60 {
        let lines = (0..above).map(|i| Block::Words(format!("line {i}")));
        let blocks: Vec<Block> = lines.chain([Block::Boxes(items(8))]).collect();
        for page in flow(&blocks, &form()) {
            let is_item = |mark: &&Mark| matches!(mark, Mark::Words { text, .. } if text.starts_with("item "));
            let count = page.figure.marks.iter().filter(is_item).count();
            assert_ne!(count, 1, "{above} lines above");
        }
    }
}
