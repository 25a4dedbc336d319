//! Film for a background: what is cut, how it is put on.

use design::Design;
use glam::DVec2;
use paper::{Block, Figure, Mark, Outline, Piece, Stroke};
use params::{Background, M2_PER_FT2, Wall};
use shop::{
    Film, FilmPanel, OUTDOOR_YEARS, RETAIL_USD_SQ_FT, STRIP_OVERLAP_MM, shown_area, shown_money,
};
use units::{Length, System};

use crate::prose::{Kind, boxes, chapter, items, part, table, title, words};

/// A panel is drawn at most so large, mm.
const DRAWN_MM: DVec2 = DVec2::new(150.0, 70.0);
/// From the middle of a rectangle to its upper left corner, y up.
const UP_LEFT: DVec2 = DVec2::new(-1.0, 1.0);

/// The page about film.
pub fn film(design: &Design, background: &Background, film: &Film, currency: &str) -> Vec<Block> {
    let show = |mm: f64| Length::mm(mm).show(design.report);
    let mut blocks = vec![title(format!("Background film: {}", design.title))];
    blocks.push(amounts(design, film, currency));
    for panel in &film.panels {
        blocks.push(Block::Together(vec![
            part(format!("{}, seen from outside", wall_words(panel.wall))),
            drawn(panel),
            words(format!(
                "Cut {} × {}: the wall's face is {} × {}, with {} of bleed on every side{}.",
                show(panel.size_mm.x),
                show(panel.size_mm.y),
                show(panel.face_mm.x),
                show(panel.face_mm.y),
                show(background.bleed.to_mm()),
                in_strips(panel, design.report)
            )),
        ]));
        blocks.extend(cut_outs(design, panel));
    }
    let has_holes = film.panels.iter().any(|panel| !panel.cut_outs.is_empty());
    blocks.extend(how(has_holes));
    blocks
}

fn amounts(design: &Design, film: &Film, currency: &str) -> Block {
    let show = |mm: f64| Length::mm(mm).show(design.report);
    let money = |range| shown_money(range, currency);
    let area = shown_area(film.area_m2, design.report);
    let mut all = vec![
        format!("Area with bleed: {area}."),
        format!(
            "From a roll {} wide: {} of its length.",
            show(film.roll_width_mm),
            show(film.roll_length_mm)
        ),
    ];
    match film.price {
        Some(price) => all.push(format!("Film: {} (by the area of the panels, and by that of the roll).", money(price))),
        None => all.push(format!(
            "Film: no price in the file (`background.price_m2` or `background.price_ft2`). Common practice: about \
             {RETAIL_USD_SQ_FT:.0} US dollars a square foot in retail, here about {:.0} US dollars.",
            RETAIL_USD_SQ_FT * film.area_m2 / M2_PER_FT2
        )),
    }
    let [least, most] = film.hours;
    match film.work_price {
        Some(price) => all.push(format!(
            "Put on by a shop: {} beside the film, for {least} to {most} hours (hours: our judgement; a rate by the hour and \
             the material: common practice).",
            money(price)
        )),
        None => all.push(format!(
            "Put on by two people in {least} to {most} hours (our judgement). A shop asks a rate by the hour and the material \
             (common practice)."
        )),
    }
    all.push(format!(
        "Adhesive vinyl for outdoors is rated for about {OUTDOOR_YEARS} years (common practice)."
    ));
    items(all)
}

fn in_strips(panel: &FilmPanel, system: System) -> String {
    if panel.strips < 2 {
        return String::new();
    }
    let over = Length::mm(STRIP_OVERLAP_MM).show(system);
    format!(
        "; the roll is narrower, so it is made of {} strips that lie {over} over each other",
        panel.strips
    )
}

fn wall_words(wall: Wall) -> &'static str {
    match wall {
        Wall::Front => "Front wall",
        Wall::Back => "Back wall",
        Wall::InletEnd => "Inlet end wall",
        Wall::FarEnd => "Far end wall",
    }
}

/// The panel with the wall's edge and its holes, not to scale on paper.
fn drawn(panel: &FilmPanel) -> Block {
    let scale = (DRAWN_MM / panel.size_mm).min_element();
    let size = panel.size_mm * scale;
    let bleed = 0.5 * (panel.size_mm - panel.face_mm);
    // From the lower left corner of the wall, y up, to the figure, y down.
    let at = |p: DVec2| DVec2::new((p.x + bleed.x) * scale, size.y - (p.y + bleed.y) * scale);
    let rectangle = |lo: DVec2, hi: DVec2| -> Vec<Piece> {
        let corners = [lo, DVec2::new(hi.x, lo.y), hi, DVec2::new(lo.x, hi.y)];
        (0..4).map(|k| Piece::Line { from: corners[k], to: corners[(k + 1) % 4] }).collect()
    };
    let circle = |middle: DVec2, radius: f64| -> Vec<Piece> {
        let (c, r) = (at(middle), DVec2::new(radius * scale, 0.0));
        let half = |from: DVec2| Piece::Arc { centre: c, from, sweep: std::f64::consts::PI };
        vec![half(c + r), half(c - r)]
    };
    let line = |width: f64, dashes: Vec<f64>| Some(Stroke { width, colour: [38, 50, 58], dashes });
    let mut loops = vec![rectangle(DVec2::ZERO, size)];
    loops.extend(panel.cut_outs.iter().map(|c| {
        let half = 0.5 * c.cut_mm;
        if c.is_round {
            circle(c.middle_mm, half.x)
        } else {
            rectangle(at(c.middle_mm + half * UP_LEFT), at(c.middle_mm - half * UP_LEFT))
        }
    }));
    let film = Outline {
        loops,
        is_closed: true,
        stroke: line(0.35, Vec::new()),
        fill: Some([214, 222, 228]),
    };
    let face = Outline {
        loops: vec![rectangle(
            at(DVec2::new(0.0, panel.face_mm.y)),
            at(DVec2::new(panel.face_mm.x, 0.0)),
        )],
        is_closed: true,
        stroke: line(0.18, vec![2.0, 1.0]),
        fill: None,
    };
    Block::Figure {
        figure: Figure { size, marks: vec![Mark::Outline(film), Mark::Outline(face)] },
        may_shrink: true,
        caption: "Film grey, the wall's edge dashed. Not to scale.".to_owned(),
    }
}

fn cut_outs(design: &Design, panel: &FilmPanel) -> Option<Block> {
    if panel.cut_outs.is_empty() {
        return None;
    }
    let show = |mm: f64| Length::mm(mm).show(design.report);
    let size = |mm: DVec2, is_round: bool| {
        if is_round {
            format!("⌀ {}", show(mm.x))
        } else {
            format!("{} × {}", show(mm.x), show(mm.y))
        }
    };
    let rows = panel.cut_outs.iter().map(|cut_out| {
        [
            if cut_out.what.is_empty() { "hole".to_owned() } else { cut_out.what.clone() },
            show(cut_out.middle_mm.x),
            show(cut_out.middle_mm.y),
            size(cut_out.hole_mm, cut_out.is_round),
            size(cut_out.cut_mm, cut_out.is_round),
        ]
    });
    let columns = [
        ("cut-out for", Kind::Words),
        ("middle, from the left", Kind::Number),
        ("from below", Kind::Number),
        ("hole in the wall", Kind::Number),
        ("cut out of the film", Kind::Number),
    ];
    Some(table(columns, rows))
}

/// How it is put on; common practice, but for its place in the order.
fn how(has_holes: bool) -> Vec<Block> {
    let holes = has_holes.then_some(
        "Cut round the holes with the blade where the table says, clear of every flange, so that a gasket seals on bare sheet.",
    );
    let steps = [
        "Clean the wall with water and a drop of dish soap and a soft cloth, no solvent and no glass cleaner with \
         ammonia; let it dry. Take the sheet's protective film off the outer face now.",
        "Mix clean water with a few drops of dish soap in a sprayer.",
        "Lay the film face down, peel its liner back while the second person wets the whole adhesive face. Wet the wall \
         as well: both faces must be wet, so that the film floats.",
        "Hang it by its upper edge, float it into place, bleed even on all sides.",
        "Squeegee from the middle to the edges, in strokes that overlap, until no water comes out. Prick a bubble that stays \
         with a needle and press it flat.",
        "Wait an hour, then trim along the wall's edges with a new blade, held flat and away from the sheet: a scratch in \
         the sheet is where it cracks.",
    ];
    let last = "Leave it for a day before fittings go in; small blisters of water dry within a week or two.";
    vec![
        chapter("How it is put on"),
        words(
            "After the leak test, which must see every seam, and before any fitting goes in (our judgement). Outside only: film \
             does not belong under water. Two people, a room without dust, 15 to 25 °C.",
        ),
        boxes(steps.into_iter().chain(holes).chain([last])),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::guide::tests::text;

    #[test]
    fn cost_area_and_holes_are_told() {
        let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../params/seahorse.toml");
        let file = params::read(&std::fs::read_to_string(path).unwrap()).file.unwrap();
        let design = design::resolve(&file).design.unwrap();
        let mut background = file.background.clone().unwrap();
        let of = shop::film(&file, &design).unwrap();
        let told = text(&film(&design, &background, &of, "EUR"));
        assert!(told.contains(&format!("{:.2} m²", of.area_m2)), "{told}");
        assert!(
            told.contains("EUR")
                && told.contains("both faces must be wet")
                && told.contains("Two people")
        );
        let has_holes = of.panels.iter().any(|panel| !panel.cut_outs.is_empty());
        assert_eq!(told.contains("clear of every flange"), has_holes, "{told}");
        assert_eq!(told.matches("[figure]").count(), 1);
        background.price_m2 = None;
        let mut file = file;
        file.background = Some(background.clone());
        let of = shop::film(&file, &design).unwrap();
        assert!(text(&film(&design, &background, &of, "")).contains("7 US dollars a square foot"));
    }
}
