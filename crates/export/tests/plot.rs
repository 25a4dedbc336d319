//! What is in the diagrams: well-formed files, the same bytes every time, heights that are the report's at
//! the stated scale, and no text on another, by the letters of the font that they ask for first.

use std::collections::BTreeSet;
use std::path::Path;

use ab_glyph::{Font, FontRef};
use design::Design;
use export::plot::{fit_plan, fit_side, long_section, rehearsal};
use fit::{Clearance, Origin, Report, World};
use glam::DVec3;
use rayon::prelude::*;
use roxmltree::{Document, Node};
use water::{Happening, Running, Setting};

const DEMOS: [&str; 4] = ["seahorse", "mangrove", "brook", "fragfarm"];

fn design(demo: &str) -> Design {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../params");
    let text =
        std::fs::read_to_string(folder.join(format!("{demo}.toml"))).expect("a demonstration");
    let file = params::read(&text).file.expect("a demonstration is sound");
    design::resolve(&file).design.expect("a demonstration stands")
}

fn running(design: &Design) -> Running<'_> {
    Running::new(&design.waterworks, Setting::default()).expect("a demonstration runs")
}

fn section(demo: &str) -> (Design, water::Report, String) {
    let design = design(demo);
    let report = water::report(&running(&design));
    let text = long_section(&design, &report);
    (design, report, text)
}

fn number(node: &Node<'_, '_>, name: &str) -> f64 {
    let text = node.attribute(name).unwrap_or_else(|| panic!("no {name} in {node:?}"));
    text.parse().unwrap_or_else(|_| panic!("{name} is no number: {text}"))
}

/// What a text covers, as the font has it: `[x0, y0, x1, y1]`. Letters reach 0.76 of the size up, and 0.24
/// down: ascent of `b` and descent of `p` in `DejaVu Sans`.
fn area(text: &Node<'_, '_>, fonts: &[FontRef<'_>; 2]) -> [f64; 4] {
    let font = &fonts[usize::from(text.attribute("font-weight") == Some("bold"))];
    let units = f64::from(font.units_per_em().expect("a size"));
    let words = text.text().expect("a text says something");
    let advance = |c| f64::from(font.h_advance_unscaled(font.glyph_id(c))) / units;
    let size = number(text, "font-size");
    let width = words.chars().map(advance).sum::<f64>() * size;
    let [x, y] = ["x", "y"].map(|k| number(text, k));
    let before = match text.attribute("text-anchor") {
        Some("start") => 0.0,
        Some("middle") => 0.5 * width,
        Some("end") => width,
        other => panic!("unknown anchor {other:?}"),
    };
    if text.attribute("transform").is_some() {
        [x - 0.76 * size, y + before - width, x + 0.24 * size, y + before]
    } else {
        [x - before, y - 0.76 * size, x - before + width, y + 0.24 * size]
    }
}

fn fonts() -> [FontRef<'static>; 2] {
    [dejavu::sans::regular(), dejavu::sans::bold()]
        .map(|bytes| FontRef::try_from_slice(bytes).expect("the font is whole"))
}

/// Straight pieces of all lines without a filling in the sections: levels in flow and at rest, dimensions,
/// leaders, marks, rulers.
fn strokes(document: &Document<'_>) -> Vec<[[f64; 2]; 2]> {
    let is_section = |n: &Node<'_, '_>| {
        n.ancestors().any(|a| a.attribute("id").is_some_and(|id| id.starts_with("section-")))
    };
    let mut all = Vec::new();
    for n in document.descendants().filter(is_section) {
        if n.has_tag_name("line") {
            all.push([["x1", "y1"], ["x2", "y2"]].map(|end| end.map(|k| number(&n, k))));
        } else if n.has_tag_name("path") && n.attribute("fill") == Some("none") {
            let path = n.attribute("d").expect("points");
            let numbers: Vec<f64> = path.split(' ').filter_map(|v| v.parse().ok()).collect();
            let points: Vec<[f64; 2]> = numbers.chunks_exact(2).map(|p| [p[0], p[1]]).collect();
            all.extend(points.windows(2).map(|w| [w[0], w[1]]));
        }
    }
    all
}

/// Whether a straight line passes through a rectangle: what is left of it between each pair of sides.
fn passes([a, b]: [[f64; 2]; 2], area: [f64; 4]) -> bool {
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for k in 0..2 {
        let (lo, hi) = (area[k] + 0.05, area[k + 2] - 0.05);
        let d = b[k] - a[k];
        if d.abs() < 1e-9 {
            if a[k] <= lo || hi <= a[k] {
                return false;
            }
        } else {
            let ends = [(lo - a[k]) / d, (hi - a[k]) / d];
            from = from.max(ends[0].min(ends[1]));
            to = to.min(ends[0].max(ends[1]));
        }
    }
    from < to
}

/// Texts through which a line runs.
fn struck_through(svg: &str) -> Vec<String> {
    let fonts = fonts();
    let document = Document::parse(svg).expect("well-formed");
    let strokes = strokes(&document);
    assert!(strokes.len() > 30, "only {} lines", strokes.len());
    let mut bad = Vec::new();
    for text in document.descendants().filter(|n| n.has_tag_name("text")) {
        let area = area(&text, &fonts);
        if let Some(line) = strokes.iter().find(|line| passes(**line, area)) {
            bad.push(format!("`{}` at {area:?} by {line:?}", text.text().expect("words")));
        }
    }
    bad
}

#[test]
fn no_line_runs_through_a_text_of_a_section() {
    for demo in DEMOS {
        assert_eq!(struck_through(&section(demo).2), Vec::<String>::new(), "{demo}");
    }
}

#[test]
fn the_judge_of_lines_sees_one() {
    let (_, report, text) = section("seahorse");
    // A name on the level of the first chamber, as a reader would find it struck through.
    let document = Document::parse(&text).expect("well-formed");
    let id = format!("level-A-{}", report.basins[0].name);
    let level = document.descendants().find(|n| n.attribute("id") == Some(&id));
    let line = level.and_then(|g| g.first_element_child()).expect("a level line");
    let (x, y) = (number(&line, "x1") + 5.0, number(&line, "y1") + 0.8);
    let words = format!(
        "<text x=\"{x}\" y=\"{y}\" font-size=\"2.2\" text-anchor=\"start\">name</text></svg>"
    );
    assert_eq!(struck_through(&text.replace("</svg>", &words)).len(), 1);
    assert!(passes([[0.0, 0.0], [4.0, 4.0]], [1.0, 1.0, 2.0, 2.0]));
    assert!(!passes([[0.0, 3.0], [4.0, 7.0]], [1.0, 1.0, 2.0, 2.0]));
}

#[test]
fn dimensions_stand_off_equipment() {
    for demo in DEMOS {
        let (_, _, text) = section(demo);
        let document = Document::parse(&text).expect("well-formed");
        let mut count = 0;
        for group in document.descendants().filter(|n| {
            n.has_tag_name("g") && n.attribute("id").is_some_and(|id| id.starts_with("section-"))
        }) {
            let bodies: Vec<[f64; 4]> = group
                .descendants()
                .filter(|n| n.has_tag_name("rect") && n.attribute("stroke") == Some("#6b4f1d"))
                .map(|n| {
                    let [x, y, w, h] = ["x", "y", "width", "height"].map(|k| number(&n, k));
                    [x - 0.7, y, x + w + 0.7, y + h]
                })
                .collect();
            for n in group
                .descendants()
                .filter(|n| n.has_tag_name("line") && n.attribute("stroke-width") == Some("0.13"))
            {
                let line = [["x1", "y1"], ["x2", "y2"]].map(|end| end.map(|k| number(&n, k)));
                let is_upright = (line[0][0] - line[1][0]).abs() < 1e-9;
                let is_long = (line[0][1] - line[1][1]).abs() > 6.0;
                // Leaders of names are as thin, and end in a dot.
                let is_leader =
                    n.next_sibling_element().is_some_and(|next| next.has_tag_name("circle"));
                if is_upright && is_long && !is_leader {
                    count += 1;
                    let body = bodies.iter().find(|b| passes(line, **b));
                    assert_eq!(body, None, "{demo}: dimension {line:?}");
                }
            }
        }
        assert!(count > 5, "{demo}: {count} dimensions");
    }
}

#[test]
fn kept_and_highest_safe_level_are_marked_at_their_heights() {
    for demo in DEMOS {
        let (design, report, text) = section(demo);
        let document = Document::parse(&text).expect("well-formed");
        let reserve = &report.reserve;
        let show = |m: f64| units::Length::mm(m * 1e3).show(design.report);
        let says = |words: &str| document.descendants().any(|n| n.text() == Some(words));
        let kept = if reserve.kept_is_assumed { "kept (assumed)" } else { "kept" };
        assert!(says(&format!("{kept} {}", show(reserve.kept_m))), "{demo}: kept level");
        let highest_m = reserve.highest_safe_m.expect("a demonstration has a safe level");
        assert!(says(&format!("MAX {}", show(highest_m))), "{demo}: highest safe level");
        let told = document.descendants().find_map(|n| n.text()?.strip_prefix("Scale 1 : "));
        let scale = told.and_then(|t| t.split(' ').next()?.parse::<f64>().ok()).expect("a scale");
        // As far over the level in flow as the report says.
        let id = format!("-{}", report.basins[reserve.basin].name);
        let level = document.descendants().find(|n| {
            n.attribute("id").is_some_and(|i| i.starts_with("level-") && i.ends_with(&id))
        });
        let level = level.and_then(|g| g.first_element_child()).expect("the return's level");
        let mark = document
            .descendants()
            .filter(|n| n.has_tag_name("line") && n.attribute("stroke") == Some("#8f2f1c"))
            .find(|n| n.ancestors().any(|a| Some(a) == level.parent().and_then(|p| p.parent())))
            .expect("a mark in the same section");
        let over_mm = (number(&level, "y1") - number(&mark, "y1")) * scale;
        let expected_mm = (highest_m - report.basins[reserve.basin].level_m.mid) * 1e3;
        assert!((over_mm - expected_mm).abs() < 2e-3 * scale, "{demo}: {over_mm} mm");
    }
}

/// Texts that touch another, or that the paper does not hold.
fn misplaced(svg: &str) -> Vec<String> {
    let fonts = fonts();
    let document = Document::parse(svg).expect("well-formed");
    let root = document.root_element();
    let page: Vec<f64> = root
        .attribute("viewBox")
        .expect("a view box")
        .split(' ')
        .map(|v| v.parse().expect("a number"))
        .collect();
    let texts: Vec<(String, [f64; 4])> = root
        .descendants()
        .filter(|n| n.has_tag_name("text"))
        .map(|n| (n.text().expect("words").to_owned(), area(&n, &fonts)))
        .collect();
    assert!(texts.len() > 15, "only {} texts", texts.len());
    let mut bad = Vec::new();
    for (i, (a, p)) in texts.iter().enumerate() {
        if p[0] < 0.0 || p[1] < 0.0 || p[2] > page[2] || p[3] > page[3] {
            bad.push(format!("`{a}` at {p:?} leaves the paper {page:?}"));
        }
        for (b, q) in &texts[i + 1..] {
            if p[0] < q[2] && q[0] < p[2] && p[1] < q[3] && q[1] < p[3] {
                bad.push(format!("`{a}` at {p:?} and `{b}` at {q:?}"));
            }
        }
    }
    bad
}

#[test]
fn the_judge_of_overlaps_sees_one() {
    let (_, _, text) = section("brook");
    assert_eq!(misplaced(&text), Vec::<String>::new());
    let words = "<text x=\"8\" y=\"12\" font-size=\"3\" text-anchor=\"start\">on it</text></svg>";
    assert_eq!(misplaced(&text.replace("</svg>", words)).len(), 1);
}

#[test]
fn no_text_of_a_section_touches_another() {
    for demo in DEMOS {
        assert_eq!(misplaced(&section(demo).2), Vec::<String>::new(), "{demo}");
    }
}

#[test]
fn water_stands_at_the_levels_of_the_report() {
    for demo in DEMOS {
        let (design, report, text) = section(demo);
        let document = Document::parse(&text).expect("well-formed");
        let told = document.descendants().find_map(|n| n.text()?.strip_prefix("Scale 1 : "));
        let told = told.and_then(|t| t.split(' ').next()).expect("the scale is told");
        let scale: f64 = told.parse().expect("a number");
        let mut seen = BTreeSet::new();
        let groups = document.descendants().filter(|n| n.has_tag_name("g"));
        for group in
            groups.filter(|g| g.attribute("id").is_some_and(|id| id.starts_with("section-")))
        {
            // The first of it is the outside of the box.
            let outline = group.children().find(|n| n.has_tag_name("rect")).expect("an outline");
            let underside = number(&outline, "y") + number(&outline, "height");
            assert!((number(&outline, "width") * scale - design.outside.x).abs() < 2e-3 * scale);
            assert!((number(&outline, "height") * scale - design.outside.z).abs() < 2e-3 * scale);
            for basin in &report.basins {
                let name = basin.name.replace([' ', ','], "-");
                let letter = &group.attribute("id").expect("an id")["section-".len()..];
                let id = format!("level-{letter}-{name}");
                let Some(level) = group.descendants().find(|n| n.attribute("id") == Some(&id))
                else {
                    continue;
                };
                let line = level.first_element_child().expect("a line");
                let height_mm = (underside - number(&line, "y1")) * scale - design.floor_z;
                let off = (height_mm - basin.level_m.mid * 1e3).abs();
                assert!(off < 2e-3 * scale, "{demo}, {name}: {height_mm} mm drawn, {off} mm off");
                seen.insert(basin.name.clone());
            }
        }
        assert_eq!(seen.len(), report.basins.len(), "{demo}: every basin is drawn");
    }
}

#[test]
fn a_section_says_name_level_and_freeboard_of_every_chamber() {
    for demo in DEMOS {
        let (design, report, text) = section(demo);
        let document = Document::parse(&text).expect("well-formed");
        let texts: Vec<&str> = document.descendants().filter_map(|n| n.text()).collect();
        for basin in &report.basins {
            let show = |m: f64| units::Length::mm(m * 1e3).show(design.report);
            assert!(texts.contains(&basin.name.as_str()), "{demo}: {}", basin.name);
            let level = format!("level {}", show(basin.level_m.mid));
            assert!(texts.iter().any(|t| t.starts_with(&level)), "{demo}: {level}");
            let freeboard = format!("freeboard {}", show(basin.rim_m - basin.level_m.mid));
            assert!(texts.contains(&freeboard.as_str()), "{demo}: {freeboard}");
        }
    }
}

#[test]
fn the_same_design_gives_the_same_bytes() {
    let (design, report, text) = section("fragfarm");
    assert_eq!(text, long_section(&design, &report));
    assert_eq!(text, section("fragfarm").2);
}

#[test]
fn the_judge_of_torn_numbers_sees_one() {
    let line = |words: &str| format!("<text text-anchor=\"start\">{words}</text>");
    let both = |a: &str, b: &str| format!("<svg>{}{}</svg>", line(a), line(b));
    assert_eq!(torn(&both("last after 47 h 7", "min")).len(), 1);
    assert_eq!(torn(&both("last after", "47 h 7 min")).len(), 0);
}

/// Lines that begin with the unit of a number on the line before.
fn torn(svg: &str) -> Vec<String> {
    let document = Document::parse(svg).expect("well-formed");
    // Of words that go on from line to line: those begin at the left, as numbers of axes do not.
    let texts = document.descendants().filter(|n| n.has_tag_name("text"));
    let texts = texts.filter(|n| n.attribute("text-anchor") == Some("start"));
    let words: Vec<&str> = texts.filter_map(|n| n.text()).collect();
    let is_unit = |word: &str| ["s", "min", "h", "days", "mm", "in"].contains(&word);
    let ends_in_number = |line: &str| line.ends_with(|c: char| c.is_ascii_digit());
    let pairs = words.windows(2).filter(|pair| {
        ends_in_number(pair[0]) && pair[1].split([' ', ',', '.']).next().is_some_and(is_unit)
    });
    pairs.map(|pair| pair.join(" / ")).collect()
}

#[test]
fn every_rehearsal_is_well_formed_without_overlaps() {
    for demo in DEMOS {
        let design = design(demo);
        let running = running(&design);
        let (failures, unknown) = water::rehearsals(&design.waterworks);
        assert!(unknown.is_empty() && failures.len() > 5, "{demo}");
        failures.par_iter().for_each(|failure| {
            let outcome = water::rehearse(&running, failure).expect("it can be played");
            let text = rehearsal(&outcome, &running, design.report);
            assert_eq!(misplaced(&text), Vec::<String>::new(), "{demo}, {}", outcome.name);
            assert_eq!(torn(&text), Vec::<String>::new(), "{demo}, {}", outcome.name);
            assert_eq!(text, rehearsal(&outcome, &running, design.report));
        });
    }
}

#[test]
fn curves_pass_where_the_axis_says() {
    let design = design("seahorse");
    let running = running(&design);
    let outcome = water::rehearse(&running, &water::Failure::PowerCut).expect("it can be played");
    let text = rehearsal(&outcome, &running, design.report);
    let document = Document::parse(&text).expect("well-formed");
    let find = |id: &str| document.descendants().find(|n| n.attribute("id") == Some(id));
    let panel = find("panel-Sump").expect("the sump's panel");
    // Numbers of the axis stand 0.9 mm under the middle of their ticks.
    let marks: Vec<(f64, f64)> = panel
        .children()
        .filter(|n| n.has_tag_name("text") && n.attribute("text-anchor") == Some("end"))
        .map(|n| (n.text().expect("words").parse().expect("a number"), number(&n, "y") - 0.9))
        .collect();
    let ((v0, y0), (v1, y1)) = (marks[0], marks[marks.len() - 1]);
    let value = |y: f64| v0 + (v1 - v0) * (y - y0) / (y1 - y0);
    for (tank, basin) in design.waterworks.basins.iter().enumerate() {
        let id = format!("curve-right-{}", basin.name.replace([' ', ','], "-"));
        let path = find(&id).and_then(|g| g.first_element_child()).expect("a curve");
        let points = path.attribute("d").expect("points");
        let y: f64 = points.split(' ').next_back().and_then(|y| y.parse().ok()).expect("a number");
        let end_mm = outcome.reaches[tank].end_m * 1e3;
        assert!((value(y) - end_mm).abs() < 0.1, "{}: {} mm, not {end_mm}", basin.name, value(y));
    }
}

#[test]
fn what_comes_again_and_again_is_told_once_with_its_number() {
    let design = design("seahorse");
    let running = running(&design);
    let outcome = water::rehearse(&running, &water::Failure::PowerBack).expect("it can be played");
    let is_float = |what: &Happening| matches!(what, Happening::TopUpOn | Happening::TopUpOff);
    let switched = outcome.events.iter().filter(|e| is_float(&e.what)).count();
    assert!(switched > 3, "the float switches {switched} times");
    let text = rehearsal(&outcome, &running, design.report);
    assert_eq!(text.matches("the float switches").count(), 1);
    assert!(text.contains(&format!("on and off, {} times", switched.div_ceil(2))));
}

/// A report with the gaps between the boxes around all things: as many and as crowded as real ones, at once.
fn gaps_between_boxes(design: &Design) -> Report {
    let world = World::of(design);
    let things: Vec<_> =
        world.things.iter().filter(|t| !matches!(t.origin, Origin::Spare(_))).collect();
    let mut clearances = Vec::new();
    for (i, a) in things.iter().enumerate() {
        for b in &things[i + 1..] {
            let (lo, hi) = (a.bounds[0].max(b.bounds[0]), a.bounds[1].min(b.bounds[1]));
            // Apart along an axis `hi` is where the one ends and `lo` where the other begins.
            let middle = 0.5 * (lo + hi);
            let ends = [hi, lo].map(|p| DVec3::select(lo.cmpgt(hi), p, middle));
            let gap_mm = ends[0].distance(ends[1]);
            if 0.3 < gap_mm && gap_mm < 150.0 {
                clearances.push(clearance([&a.name, &b.name], gap_mm, ends));
                let last = clearances.len() - 1;
                let id = |name: &str| world.things.iter().position(|t| t.name == name);
                clearances[last].a = id(&a.name).expect("it is there");
                clearances[last].b = id(&b.name).expect("it is there");
            }
        }
    }
    clearances.sort_by(|a, b| a.gap_mm.total_cmp(&b.gap_mm));
    report_of(clearances)
}

fn clearance(names: [&str; 2], gap_mm: f64, at: [DVec3; 2]) -> Clearance {
    Clearance {
        a: 0,
        b: 1,
        names: names.map(str::to_owned),
        parameters: [String::new(), String::new()],
        gap_mm,
        at,
        limit_mm: 2.0,
        held_to: fit::HeldTo::Gap,
        when: None,
    }
}

fn report_of(clearances: Vec<Clearance>) -> Report {
    Report { clearances, ways: Vec::new(), emptying: Vec::new(), reach: Vec::new(), rescue: None }
}

/// Lines of one group.
fn lines_of(document: &Document<'_>, id: &str) -> Vec<[[f64; 2]; 2]> {
    let group = document.descendants().find(|n| n.attribute("id") == Some(id)).expect("a group");
    let lines = group.descendants().filter(|n| n.has_tag_name("line"));
    lines.map(|n| [["x1", "y1"], ["x2", "y2"]].map(|end| end.map(|k| number(&n, k)))).collect()
}

fn scale_of(document: &Document<'_>) -> f64 {
    let told = document.descendants().find_map(|n| n.text()?.strip_prefix("Scale 1 : "));
    told.and_then(|t| t.split(' ').next()?.parse().ok()).expect("a scale")
}

#[test]
fn no_text_of_plan_or_side_view_touches_another_nor_a_dimension() {
    for demo in DEMOS {
        let design = design(demo);
        let report = gaps_between_boxes(&design);
        for (view, text) in
            [("plan", fit_plan(&design, &report)), ("side", fit_side(&design, &report))]
        {
            assert_eq!(misplaced(&text), Vec::<String>::new(), "{demo} {view}");
            let (document, fonts) = (Document::parse(&text).expect("well-formed"), fonts());
            let is_text = |n: &Node<'_, '_>| n.has_tag_name("text");
            let mut lines = lines_of(&document, "dimensions");
            assert!(lines.len() > 20, "{demo} {view}: {} lines", lines.len());
            lines.extend(lines_of(&document, "chains"));
            // Names and numbers; a leader ends at its own.
            let own = |line: &[[f64; 2]; 2], area: [f64; 4]| {
                let shrunk = [area[0] + 0.3, area[1] + 0.3, area[2] - 0.3, area[3] - 0.3];
                passes(*line, shrunk)
            };
            for node in document.descendants().filter(is_text) {
                let area = area(&node, &fonts);
                let struck = lines.iter().find(|line| own(line, area));
                assert_eq!(struck, None, "{demo} {view}: `{}`", node.text().unwrap_or_default());
            }
        }
    }
}

#[test]
fn a_gap_is_drawn_to_scale_and_told_in_the_units_of_the_file() {
    for (demo, told) in [("seahorse", "31 mm (1)"), ("brook", "1.22 in (1)")] {
        let design = design(demo);
        let at = [DVec3::new(300.0, 200.0, 100.0), DVec3::new(331.0, 200.0, 100.0)];
        let report = report_of(vec![clearance(["leaf", "pump"], 31.0, at)]);
        for text in [fit_plan(&design, &report), fit_side(&design, &report)] {
            let document = Document::parse(&text).expect("well-formed");
            assert!(document.descendants().any(|n| n.text() == Some(told)), "{demo}");
            let ends: Vec<f64> = lines_of(&document, "dimensions")
                .iter()
                .filter(|l| (l[0][0] - l[1][0]).abs() < 1e-9)
                .map(|l| l[0][0])
                .collect();
            let (least, most) =
                ends.iter().fold((f64::INFINITY, 0.0_f64), |(lo, hi), x| (lo.min(*x), hi.max(*x)));
            let drawn = (most - least) * scale_of(&document);
            assert!((drawn - 31.0).abs() < 2e-3 * scale_of(&document), "{demo}: {drawn} mm");
        }
    }
}

#[test]
fn a_gap_across_the_view_is_left_to_the_other_view() {
    let design = design("seahorse");
    let at = [DVec3::new(300.0, 200.0, 100.0), DVec3::new(300.0, 200.0, 112.0)];
    let report = report_of(vec![clearance(["leaf", "pump"], 12.0, at)]);
    assert!(!fit_plan(&design, &report).contains("12 mm (1)"));
    assert!(fit_side(&design, &report).contains("12 mm (1)"));
}

#[test]
fn what_shares_room_is_marked_in_both_views() {
    let design = design("mangrove");
    let at = [DVec3::new(300.0, 200.0, 100.0); 2];
    let report = report_of(vec![clearance(["leaf", "pump"], -3.5, at)]);
    for text in [fit_plan(&design, &report), fit_side(&design, &report)] {
        assert!(text.contains("−3.5 mm (1)"));
    }
}

#[test]
fn the_sump_in_its_cabinet_is_told_by_chains() {
    let design = design("seahorse");
    let around = design.surroundings.as_ref().expect("a cabinet");
    let show = |mm: f64| units::Length::mm(mm).show(design.report);
    let report = report_of(Vec::new());
    let (plan, side) = (fit_plan(&design, &report), fit_side(&design, &report));
    let over_rim = around.inside[1].z - design.outside.z;
    for (text, mm) in [
        (&plan, -around.inside[0].x),
        (&plan, -around.inside[0].y),
        (&plan, around.inside[1].y - design.outside.y),
        (&side, -around.inside[0].z),
        (&side, over_rim),
        (&side, design.outside.z),
    ] {
        let document = Document::parse(text).expect("well-formed");
        let words = show(mm);
        assert!(document.descendants().any(|n| n.text() == Some(&words)), "{words}");
    }
}

#[test]
fn plan_and_side_view_repeat_to_the_byte() {
    let design = design("fragfarm");
    let report = gaps_between_boxes(&design);
    assert_eq!(fit_plan(&design, &report), fit_plan(&design, &report));
    assert_eq!(fit_side(&design, &report), fit_side(&design, &report));
}
