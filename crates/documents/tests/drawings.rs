//! Guards the drawings of all demos: nothing leaves the page, no words lie over others or over an edge, everything that is
//! cut has its letter, and the size of every panel stands there.

use std::collections::BTreeSet;

use documents::{CuttingSheets, PanelDrawing, cutting_sheet, panel_drawing};
use glam::DVec2;
use paper::{Mark, Page, PaperForm, style};
use plate::{Contour, FlatPattern, Shape, Tolerance, arrange, flat_pattern};
use study::{PanelWords, Shopped};
use units::{Length, System};

const DEMOS: [(&str, &str); 5] = [
    ("brook", include_str!("../../../params/brook.toml")),
    ("fragfarm", include_str!("../../../params/fragfarm.toml")),
    ("mangrove", include_str!("../../../params/mangrove.toml")),
    ("seahorse", include_str!("../../../params/seahorse.toml")),
    ("stuck-leaf", include_str!("../../../params/stuck-leaf.toml")),
];

#[track_caller]
fn check(page: &Page, name: &str) {
    let figure = &page.figure;
    let mut words: Vec<([DVec2; 2], &str)> = Vec::new();
    for mark in &figure.marks {
        let [lo, hi] = mark.bounds();
        assert!(
            lo.min_element() >= 0.0 && (hi - figure.size).max_element() <= 0.0,
            "{name}: {mark:?} leaves the page"
        );
        if let Mark::Words { text, .. } = mark {
            for ([other_lo, other_hi], other) in &words {
                let is_apart = hi.x <= other_lo.x
                    || other_hi.x <= lo.x
                    || hi.y <= other_lo.y
                    || other_hi.y <= lo.y;
                assert!(is_apart, "{name}: \"{text}\" lies over \"{other}\"");
            }
            words.push(([lo, hi], text));
        }
    }
    // Edges of what is cut are drawn in ink, wider than all thin lines.
    for mark in &figure.marks {
        let Mark::Outline(outline) = mark else { continue };
        let is_edge = outline
            .stroke
            .as_ref()
            .is_some_and(|s| s.colour == style::INK && s.width > 0.3 && s.width < 0.6);
        if !is_edge {
            continue;
        }
        for piece in outline.loops.iter().flatten() {
            let [lo, hi] = piece.bounds();
            // Straight pieces along an axis: their box is the line itself.
            if (hi - lo).min_element() > 1e-6 {
                continue;
            }
            for ([words_lo, words_hi], text) in &words {
                let is_apart = hi.x <= words_lo.x
                    || words_hi.x <= lo.x
                    || hi.y <= words_lo.y
                    || words_hi.y <= lo.y;
                assert!(is_apart, "{name}: \"{text}\" lies over an edge");
            }
        }
    }
}

fn all_texts(page: &Page) -> Vec<&str> {
    let marks = page.figure.marks.iter();
    marks
        .filter_map(
            |mark| if let Mark::Words { text, .. } = mark { Some(text.as_str()) } else { None },
        )
        .collect()
}

fn number(mm: f64, system: System) -> String {
    let shown = Length::mm(mm).show_fine(system);
    shown.split(' ').next().expect("a number").to_owned()
}

#[test]
fn every_panel_of_every_demo_reads_well() {
    for (demo, text) in DEMOS {
        let file = params::read(text).file.expect("understood");
        let design = design::resolve(&file).design.expect("resolved");
        for piece in design.pieces.iter().filter(|piece| piece.role.is_sheet()) {
            let Shape::Sheet(plate) = &piece.shape else { continue };
            let arrangement = arrange(plate, &Tolerance::default()).expect("arranged");
            let pattern: FlatPattern = flat_pattern(plate, &arrangement);
            let words = PanelWords::of(&design, &file.cutting, piece);
            for paper in [PaperForm::A, PaperForm::Us] {
                let (design, pattern, words) = (&design, &pattern, &words);
                let of =
                    PanelDrawing { design, piece, pattern, words, papers: &file.papers, paper };
                let document = panel_drawing(&of);
                assert_eq!(document.pages.len(), 1, "{demo} {}", piece.number);
                let page = &document.pages[0];
                check(page, &format!("{demo} {}", piece.number));
                let [lo, hi] = pattern.through[0].bounds().expect("an outline");
                for length in (hi - lo).to_array() {
                    let number = number(length, design.report);
                    assert!(
                        all_texts(page).contains(&number.as_str()),
                        "{demo} {}: {number}",
                        piece.number
                    );
                }
                // Each letter stands in the table and on the view.
                let tags = page.figure.marks.iter().filter_map(|mark| match mark {
                    Mark::Words { text, lettering, .. }
                        if lettering.is_bold && lettering.colour == style::ACCENT =>
                    {
                        Some(text.as_str())
                    }
                    _ => None,
                });
                let tags: Vec<&str> = tags.collect();
                // `A` in the table, `32 × A` on the view.
                let kinds: BTreeSet<&str> =
                    tags.iter().filter_map(|tag| tag.rsplit(' ').next()).collect();
                assert_eq!(tags.len(), 2 * kinds.len(), "{demo} {}: {tags:?}", piece.number);
                let cut = pattern.through.len() - 1 + pattern.pockets.len();
                assert!(cut == 0 || !kinds.is_empty(), "{demo} {}", piece.number);
            }
        }
    }
}

#[test]
fn every_sheet_names_every_panel_on_it_and_lists_every_cut_of_a_saw() {
    for (demo, text) in DEMOS {
        check_sheets(demo, text);
    }
    let straight = DEMOS[1].1.replace("[cutting]", "[cutting]\nstraight_through = true");
    check_sheets("fragfarm cut straight through", &straight);
}

fn check_sheets(demo: &str, text: &str) {
    let file = params::read(text).file.expect("understood");
    let design = design::resolve(&file).design.expect("resolved");
    let shopped = Shopped::of(&file, &design);
    for plan in &shopped.plans {
        for paper in [PaperForm::A, PaperForm::Us] {
            let works = &shopped.works;
            let of = CuttingSheets { file: &file, design: &design, plan, works, paper };
            let document = cutting_sheet(&of);
            for page in &document.pages {
                check(page, &format!("{demo} {}", plan.sheet));
            }
            let named: Vec<&str> = document.pages.iter().flat_map(all_texts).collect();
            for laid in plan.sheets.iter().flat_map(|sheet| &sheet.laid) {
                let piece = &design.pieces[laid.piece];
                let number = match piece.quantity {
                    1 => piece.number.clone(),
                    _ => format!("{}/{}", piece.number, laid.copy),
                };
                let is_it =
                    |text: &&str| **text == number || **text == format!("{number} {}", piece.name);
                assert!(named.iter().any(is_it), "{demo} {}: {number}", plan.sheet);
            }
            // A cut's place is in the list.
            let cuts: usize = plan.sheets.iter().map(|sheet| sheet.saw_cuts.len()).sum();
            let is_place =
                |text: &&&str| text.starts_with("upright, x") || text.starts_with("level, y");
            assert_eq!(named.iter().filter(is_place).count(), cuts, "{demo} {}", plan.sheet);
            assert_eq!(cuts > 0, plan.is_straight_through, "{demo} {}", plan.sheet);
        }
    }
}

#[test]
fn a_panel_with_very_many_different_holes_reads_well_too() {
    let file = params::read(DEMOS[1].1).file.expect("understood");
    let design = design::resolve(&file).design.expect("resolved");
    let piece = design.pieces.iter().find(|piece| piece.role.is_sheet()).expect("a panel");
    let words = PanelWords::of(&design, &file.cutting, piece);
    for n in [10_u32, 40, 90] {
        let mut through = vec![Contour::rectangle(DVec2::ZERO, DVec2::new(900.0, 500.0))];
        // On the lines of a grid, but each of its own size and a little aside, so that none repeats.
        let holes = (0..n).map(|i| {
            let cell = DVec2::new(f64::from(i % 10), f64::from(i / 10));
            let aside = DVec2::new(f64::from(i * 7 % 13), f64::from(i * 5 % 11));
            Contour::circle(
                DVec2::new(45.0, 30.0) + cell * DVec2::new(85.0, 50.0) + aside,
                4.0 + 0.1 * f64::from(i),
            )
        });
        through.extend(holes.map(|hole| hole.reversed()));
        let pattern = FlatPattern { through, pockets: vec![], engravings: vec![] };
        let (design, pattern, words) = (&design, &pattern, &words);
        let of = PanelDrawing {
            design,
            piece,
            pattern,
            words,
            papers: &file.papers,
            paper: PaperForm::A,
        };
        let document = panel_drawing(&of);
        for page in &document.pages {
            check(page, &format!("{n} holes"));
        }
        let tags: usize = document
            .pages
            .iter()
            .flat_map(|page| &page.figure.marks)
            .filter(|mark| matches!(mark, Mark::Words { lettering, .. } if lettering.is_bold && lettering.colour == style::ACCENT))
            .count();
        assert_eq!(tags, 2 * usize::try_from(n).expect("small"), "{n}");
    }
}
