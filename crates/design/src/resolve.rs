//! From the parameter file to a design.

use findings::{Finding, Grade};
use params::File;

use crate::draft::{Builder, Draft, DraftId, untaken};
use crate::model::{Design, Look, Piece, PieceId, Placed, Role};
use crate::removables::Places;
use crate::{
    checks, enclosure, equipment, layout, levels, lid, marks, printed, printing, removables,
    sheets, sock_holder, standing, surroundings, wall_fitting, waterworks,
};

/// A design and all that was found on the way.
#[derive(Clone, Debug)]
pub struct Resolved {
    /// The design; `None` when it could not be put together. It may exist although findings fail:
    /// then it can be looked at, not made.
    pub design: Option<Design>,
    /// Everything that was found.
    pub findings: Vec<Finding>,
}

/// The highest level at which a return chamber may be kept: from it a power cut leaves the freeboard. It
/// is known only when the flow of the water in the resolved design has been reckoned with.
#[derive(Clone, Debug, PartialEq)]
pub struct SafeLevel {
    /// Name of the return chamber.
    pub chamber: String,
    /// Height above the inside of the bottom, mm.
    pub height_mm: f64,
}

/// Resolves a file that was read without failing findings.
pub fn resolve(file: &File) -> Resolved {
    resolve_once(file, None)
}

/// The same with the highest safe level engraved on the scales of its chamber. Where it has no place on a
/// scale, the scale goes without it and a finding says so.
pub fn resolve_with(file: &File, highest_safe: &SafeLevel) -> Resolved {
    let has_failed = |resolved: &Resolved| {
        resolved.design.is_none() || resolved.findings.iter().any(|f| f.grade == Grade::Fails)
    };
    let with = resolve_once(file, Some(highest_safe));
    if !has_failed(&with) {
        return with;
    }
    // A mark that nobody asked for must not stop a design.
    let mut without = resolve_once(file, None);
    if has_failed(&without) {
        return without;
    }
    let message = format!(
        "the mark of the highest safe running level of `{}` would run over a hole or an edge: it is not engraved",
        highest_safe.chamber
    );
    without.findings.push(
        Finding::tight("safe-level-off-marks", "level_marks", message)
            .with_hint("move the scale with `at`, away from what is cut beside it"),
    );
    without
}

fn resolve_once(file: &File, highest_safe: Option<&SafeLevel>) -> Resolved {
    let mut b = Builder::new(file);
    let Some(enclosure) = enclosure::build(&mut b) else {
        return Resolved { design: None, findings: b.findings };
    };
    let layout = layout::build(&mut b, &enclosure);
    let is_laid_out = !b.findings.iter().any(|f| f.grade == Grade::Fails);
    sock_holder::build(&mut b, &enclosure, &layout);
    wall_fitting::build(&mut b, &enclosure);
    // Before equipment, which looks for free places.
    printed::build(&mut b, &enclosure, &layout);
    equipment::build(&mut b, &enclosure, &layout);
    printed::hold(&mut b);
    lid::build(&mut b, &enclosure, &layout);
    printed::build_on_lids(&mut b, &enclosure, &layout);
    marks::build(&mut b, &enclosure, &layout, highest_safe);
    let standing = if is_laid_out {
        levels::stand(&mut b, &enclosure, &layout)
    } else {
        levels::Standing::default()
    };
    if is_laid_out {
        standing::check(&mut b, &enclosure, &layout, &standing);
    }
    let surroundings = surroundings::build(&mut b, &enclosure);
    printing::check(&mut b);
    checks::run(&mut b, &layout);

    let (pieces, piece_of) = pieces(&b);
    let (placed, place_of) = places(&b, &piece_of, |draft| !draft.is_spare && !draft.is_only_made);
    let (spares, spare_of) = places(&b, &piece_of, |draft| draft.is_spare);
    let mut joints = b.joints.clone();
    joints.retain(|j| place_of[j.a].is_some() && place_of[j.b].is_some());
    for joint in &mut joints {
        for end in [&mut joint.a, &mut joint.b] {
            *end = place_of[*end].expect("joints of spares were dropped");
        }
    }
    let places = Places { placed: &place_of, spares: &spare_of };
    let removables = removables::build(&b, &places, surroundings.as_ref());
    let waterworks = waterworks::build(&b, &enclosure, &layout, &standing);
    let design = Design {
        title: file.title.clone(),
        report: file.report.system(),
        outside: enclosure.outside,
        floor_z: enclosure.floor_z,
        sheets: b.sheets.clone(),
        pieces,
        placed,
        spares,
        joints,
        chambers: standing.chambers,
        waters: standing.waters,
        waterworks,
        removables,
        surroundings,
        fit: file.fit,
        reach: file.reach.clone(),
        one_lifts_kg: file.strength.lift,
    };
    // The same is true of both sides of many things; it is said once.
    let mut findings: Vec<Finding> = Vec::new();
    for finding in b.findings {
        if !findings.contains(&finding) {
            findings.push(finding);
        }
    }
    Resolved { design: Some(design), findings }
}

/// Groups alike parts into pieces, numbered in the order sheet, printed, bought; and says which piece each
/// part is.
fn pieces(b: &Builder<'_>) -> (Vec<Piece>, Vec<PieceId>) {
    let mut order: Vec<usize> = (0..b.drafts.len()).collect();
    let rank = |role: Role| {
        if role.is_sheet() {
            0
        } else if role.is_printed() {
            1
        } else {
            2
        }
    };
    order.sort_by_key(|&i| (rank(b.drafts[i].role), b.drafts[i].role, i));

    let mut pieces: Vec<Piece> = Vec::new();
    let mut firsts: Vec<&Draft> = Vec::new();
    let mut piece_of = vec![0; b.drafts.len()];
    for &i in &order {
        let draft = &b.drafts[i];
        let twin = firsts.iter().position(|first| is_alike(first, draft));
        let piece = twin.unwrap_or_else(|| {
            let mut piece = piece(b, draft, &pieces);
            piece.body_of = body_of(draft).map(|main| piece_of[main]);
            pieces.push(piece);
            firsts.push(draft);
            pieces.len() - 1
        });
        pieces[piece].quantity += draft.count;
        pieces[piece].is_spare &= draft.is_spare;
        pieces[piece].only_made += if draft.is_only_made { draft.count } else { 0 };
        piece_of[i] = piece;
    }
    (pieces, piece_of)
}

/// The parts that are wanted in their places, and which of these each part is.
fn places(
    b: &Builder<'_>,
    piece_of: &[PieceId],
    is_wanted: impl Fn(&Draft) -> bool,
) -> (Vec<Placed>, Vec<Option<usize>>) {
    let mut placed = Vec::new();
    let mut place_of = vec![None; b.drafts.len()];
    for (i, draft) in b.drafts.iter().enumerate().filter(|(_, d)| is_wanted(d)) {
        place_of[i] = Some(placed.len());
        placed.push(Placed {
            piece: piece_of[i],
            name: draft.name.clone(),
            parameter: draft.parameter.clone(),
            leaf: draft.leaf.clone(),
            pose: draft.pose,
            loose: draft.loose,
            service: draft.service.clone(),
        });
    }
    (placed, place_of)
}

/// Of a further body of equipment: its main body. It comes later, so that this one has its piece by then.
fn body_of(draft: &Draft) -> Option<DraftId> {
    draft.part_of.filter(|_| draft.role == Role::Equipment)
}

/// Whether two parts are the same piece: alike in all but their place.
fn is_alike(a: &Draft, b: &Draft) -> bool {
    a.piece == b.piece
        && body_of(a) == body_of(b)
        && a.role == b.role
        && a.sheet == b.sheet
        && a.shape == b.shape
        && a.notes == b.notes
}

/// A part as a piece of the cut list, named unlike the `earlier` ones.
fn piece(b: &Builder<'_>, draft: &Draft, earlier: &[Piece]) -> Piece {
    let sheet = draft.sheet.as_ref().and_then(|name| b.sheets.get(name));
    let is_taken = |name: &str| earlier.iter().any(|p| p.name == name);
    // Parts that differ but share a piece's name go by their own.
    let name = if is_taken(&draft.piece) { &draft.name } else { &draft.piece };
    let name = untaken(name, is_taken);
    let (material, density_kg_m3, look) = match sheet {
        Some(sheet) => {
            (sheets::words(sheet.material).to_owned(), Some(sheet.density_kg_m3), sheet.look)
        }
        None if draft.role.is_printed() => {
            ("printed".to_owned(), None, sheets::opaque(&b.file.printing.colour))
        }
        None => {
            let look = Look { colour: draft.colour, is_clear: false };
            ("bought".to_owned(), equipment::density_kg_m3(b, draft), look)
        }
    };
    Piece {
        number: format!("{:02}", earlier.len() + 1),
        name,
        parameter: draft.parameter.clone(),
        role: draft.role,
        shape: draft.shape.clone(),
        sheet: draft.sheet.clone(),
        material,
        density_kg_m3,
        look,
        quantity: 0,
        is_spare: true,
        only_made: 0,
        body_of: None,
        notes: draft.notes.clone(),
        print: draft.print.clone(),
    }
}
