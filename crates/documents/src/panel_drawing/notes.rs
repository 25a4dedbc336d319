//! What is said beside the view, and which edges are glued.

use std::collections::BTreeSet;

use design::{Design, Piece, PieceId};
use plate::FlatPattern;

use super::PanelDrawing;
use super::dimensions::Stations;
use super::features::SAME_MM;
use super::view::Side;
use crate::lengths::Lengths;

/// A line for each thing that must be known.
pub(super) fn notes(
    of: &PanelDrawing<'_>,
    stations: &Stations,
    glued: &[Side],
    other_glue: &[String],
) -> Vec<String> {
    let piece = of.piece;
    let lengths = Lengths(of.design.report);
    let mut notes = vec![format!("Material: {}.", study::stock::words(of.design, piece))];
    if let plate::Shape::Sheet(plate) = &piece.shape {
        notes.push(format!(
            "Drawn for t = {}. Quantity: {}.",
            lengths.with_unit(plate.thickness),
            piece.quantity
        ));
    }
    if !of.words.facing.is_empty() {
        notes.push(format!("View of the upper face. {}", of.words.facing));
    }
    notes.extend(corner_radii(of.pattern, lengths));
    if let (Some(depth), false) = (of.words.engraving_mm, of.pattern.engravings.is_empty()) {
        notes.push(format!("Thin lines in colour: engraved, {} deep.", lengths.with_unit(depth)));
    }
    if !glued.is_empty() {
        let edges =
            "Edges with a dash-dotted line are glued: left as cut, square, not flame polished.";
        notes.push(edges.to_owned());
        notes.extend(which_of_each(of.design, piece));
    }
    if !other_glue.is_empty() {
        notes.push(format!("Something is glued to: {}.", other_glue.join(", ")));
    }
    notes.extend(of.words.notes.iter().cloned());
    if stations.is_cut {
        notes.push(
            "Not every corner is dimensioned: the DXF of this panel has them all.".to_owned(),
        );
    }
    if of.design.report == units::System::UsCustomary {
        notes.push("Lengths are decimal inches.".to_owned());
    }
    notes.push("In the conventions of ISO 128, 129-1, 5455, 5457 and 7200.".to_owned());
    notes
}

/// `Corners of the outline: 4 × R 3.`
fn corner_radii(pattern: &FlatPattern, lengths: Lengths) -> Option<String> {
    let outer = pattern.through.iter().filter(|contour| contour.signed_area() > 0.0);
    let mut radii: Vec<(f64, usize)> = Vec::new();
    for radius in outer.flat_map(|contour| &contour.0).filter_map(plate::Segment::radius) {
        match radii.iter_mut().find(|(other, _)| (other - radius).abs() < SAME_MM) {
            Some((_, n)) => *n += 1,
            None => radii.push((radius, 1)),
        }
    }
    radii.sort_by(|a, b| a.0.total_cmp(&b.0));
    let words: Vec<String> =
        radii.iter().map(|(r, n)| format!("{n} × R {}", lengths.number(*r))).collect();
    (!words.is_empty()).then(|| format!("Roundings of the outline: {}.", words.join(", ")))
}

/// Where copies of a piece are glued at different edges: which at which. One drawing marks the edges of all.
fn which_of_each(design: &Design, piece: &Piece) -> Option<String> {
    let copies = design.placed.iter().enumerate();
    let copies = copies.filter(|(_, placed)| design.pieces[placed.piece].number == piece.number);
    let edges_of = |copy: usize| {
        let joints = design.joints.iter().filter(|joint| joint.kind.is_glued());
        let ends = joints.flat_map(|j| [j.a, j.b].into_iter().zip(&j.faces));
        let own = ends.filter(|(placed, face)| *placed == copy && face.ends_with(" edge"));
        own.map(|(_, face)| face.as_str()).collect::<BTreeSet<&str>>()
    };
    let told: Vec<(&str, BTreeSet<&str>)> =
        copies.map(|(copy, placed)| (placed.name.as_str(), edges_of(copy))).collect();
    if told.windows(2).all(|pair| pair[0].1 == pair[1].1) {
        return None;
    }
    let words = |(name, edges): &(&str, BTreeSet<&str>)| {
        let edges: Vec<&str> = edges.iter().copied().collect();
        format!("{name} at its {}", fit::listed(&edges))
    };
    let each: Vec<String> = told.iter().map(words).collect();
    Some(format!("Of each copy not all of them are: {}.", each.join("; ")))
}

/// Which sides of the panel's box are glued, and what else of it is, in words.
pub(super) fn glued(design: &Design, piece: &Piece) -> (Vec<Side>, Vec<String>) {
    let id: Option<PieceId> = design.pieces.iter().position(|other| other.number == piece.number);
    let (mut sides, mut others) = (Vec::new(), Vec::new());
    for joint in design.joints.iter().filter(|joint| joint.kind.is_glued()) {
        for (placed, face) in [joint.a, joint.b].into_iter().zip(&joint.faces) {
            if Some(design.placed[placed].piece) != id {
                continue;
            }
            match face.as_str() {
                "left edge" => sides.push(Side::Left),
                "right edge" => sides.push(Side::Right),
                "lower edge" => sides.push(Side::Lower),
                "upper edge" => sides.push(Side::Upper),
                other if !others.iter().any(|known| known == other) => {
                    others.push(other.to_owned());
                }
                _ => {}
            }
        }
    }
    sides.sort_unstable();
    sides.dedup();
    (sides, others)
}
