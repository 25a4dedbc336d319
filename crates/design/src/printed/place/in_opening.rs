//! What is pressed into an opening needs that opening: of its form and size, and in its place.

use std::f64::consts::PI;

use findings::Finding;
use glam::{DVec2, DVec3};
use plate::{Contour, Plate, Shape};

use super::Asked;
use crate::draft::{Builder, DraftId};
use crate::tolerance::written_up;

/// How far from the middle of its opening a fitting may be put down, mm: it slips in there; our judgement.
const BESIDE_MM: f64 = 0.5;
/// By how much an opening and its corners may differ from those that the fitting is made for, mm: more takes its press from it, or
/// keeps it out; our judgement.
const GIVES_MM: f64 = 0.1;

/// By what a maker moves a fitting that is pressed in.
pub(super) enum MovedBy {
    /// On an upright sheet: `at` along this axis of the sump, and `height`.
    AtAndHeight(DVec3),
    /// On a lid: `at`, which has both.
    At,
}

/// An opening, or what a fitting is made for.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Opening {
    across: DVec2,
    form: Form,
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Form {
    Round,
    /// A rectangle with corners of this radius, mm.
    Rectangle(f64),
    /// What no fitting is made for.
    Other,
}

impl Opening {
    fn of(contour: &Contour) -> Option<(DVec2, Self)> {
        let [lo, hi] = contour.bounds()?;
        let across = hi - lo;
        let corner = contour.0.iter().find_map(|piece| piece.radius()).unwrap_or(0.0);
        let rectangle = across.x * across.y - (4.0 - PI) * corner * corner;
        let form = if contour.as_circle().is_some() {
            Form::Round
        } else if (contour.signed_area().abs() - rectangle).abs() < ROUNDING_SHARE * rectangle {
            Form::Rectangle(corner)
        } else {
            Form::Other
        };
        Some((0.5 * (lo + hi), Self { across, form }))
    }

    /// Whether what is made for this fits into the other.
    fn fits(self, other: Self) -> bool {
        let has_form = match (self.form, other.form) {
            (Form::Round, Form::Round) => true,
            (Form::Rectangle(a), Form::Rectangle(b)) => (a - b).abs() <= GIVES_MM,
            _ => false,
        };
        has_form && (self.across - other.across).abs().max_element() <= GIVES_MM
    }

    /// What it is, and its sizes.
    fn words(self, b: &Builder<'_>) -> String {
        let [x, y] = self.across.to_array().map(|mm| b.show(mm));
        match self.form {
            Form::Round => format!("hole of {x}"),
            Form::Rectangle(_) => format!("opening of {x} × {y}"),
            Form::Other => format!("opening of another form, {x} × {y}"),
        }
    }

    fn article(self) -> &'static str {
        if self.form == Form::Round { "a" } else { "an" }
    }

    fn corner(self) -> f64 {
        match self.form {
            Form::Rectangle(corner) => corner,
            Form::Round | Form::Other => 0.0,
        }
    }
}

/// Areas that differ by less of themselves are the same.
const ROUNDING_SHARE: f64 = 1e-6;

impl Asked<'_> {
    /// Whether a sheet has the opening that a fitting is made for, its middle at `at` in the sheet's own frame; else a
    /// finding.
    pub(super) fn is_in_opening(
        &self,
        b: &mut Builder<'_>,
        sheet: DraftId,
        at: DVec2,
        moved: &MovedBy,
    ) -> Option<()> {
        let Shape::Sheet(plate) = &b.drafts[sheet].shape else { return None };
        let wanted = self.made_for();
        let nearest = nearest(plate, at);
        if let Some((middle, is)) = nearest
            && middle.distance(at) <= BESIDE_MM
            && wanted.fits(is)
        {
            return Some(());
        }
        let finding = match nearest {
            Some((middle, is)) if is.fits_but_for_corners(wanted) => {
                self.other_corners(b, sheet, (wanted, is), self.moves(b, sheet, middle - at, moved))
            }
            _ => self.no_such_opening(b, sheet, at, (wanted, nearest), moved),
        };
        b.find(finding);
        None
    }

    fn made_for(&self) -> Opening {
        let is_round = self.wanted.known.iter().any(|known| known.measure.name == "hole");
        if is_round {
            return Opening { across: DVec2::splat(self.measure("hole")), form: Form::Round };
        }
        let across = DVec2::from(["width", "height"].map(|name| self.measure(name)));
        Opening { across, form: Form::Rectangle(self.measure("corner")) }
    }

    /// The opening is there, but its corners are others.
    fn other_corners(
        &self,
        b: &Builder<'_>,
        sheet: DraftId,
        (wanted, is): (Opening, Opening),
        (_, moves): (&'static str, Option<String>),
    ) -> Finding {
        let kind = self.wanted.kind.name;
        let message = format!(
            "the opening of {} has corners of a radius of {}, and this `{kind}` is made for {}",
            b.drafts[sheet].name,
            b.show(is.corner()),
            b.show(wanted.corner())
        );
        let moves = moves.map_or(String::new(), |moves| format!("; and {moves}"));
        let hint = format!("leave `corner` out of `measures`: it follows from the leaf{moves}");
        let parameter = format!("{}.measures", self.wanted.parameter);
        Finding::fails("fitting-off-hole", parameter, message).with_hint(hint)
    }

    fn no_such_opening(
        &self,
        b: &Builder<'_>,
        sheet: DraftId,
        at: DVec2,
        (wanted, nearest): (Opening, Option<(DVec2, Opening)>),
        moved: &MovedBy,
    ) -> Finding {
        let kind = self.wanted.kind.name;
        let name = &b.drafts[sheet].name;
        let message = format!("here {name} has no {} for this `{kind}`", wanted.words(b));
        let (key, hint) = match nearest {
            Some((middle, is)) => {
                let (key, moves) = self.moves(b, sheet, middle - at, moved);
                let is_same_form = matches!(
                    (is.form, wanted.form),
                    (Form::Round, Form::Round) | (Form::Rectangle(_), Form::Rectangle(_))
                );
                let size = match (wanted.fits(is), is_same_form) {
                    (true, _) => None,
                    (_, true) => Some("give its size in `measures`".to_owned()),
                    (_, false) => Some(format!("a `{kind}` has another form")),
                };
                let all: Vec<String> = moves.into_iter().chain(size).collect();
                (
                    key,
                    format!(
                        "the nearest is {} {}: {}",
                        is.article(),
                        is.words(b),
                        all.join("; and ")
                    ),
                )
            }
            None => ("at", "it has none at all: write `loose = true`".to_owned()),
        };
        let parameter = format!("{}.{key}", self.wanted.parameter);
        Finding::fails("fitting-off-hole", parameter, message).with_hint(hint)
    }

    /// The first key that moves it there, and what to write; nothing where it is there already.
    fn moves(
        &self,
        b: &Builder<'_>,
        sheet: DraftId,
        by: DVec2,
        moved: &MovedBy,
    ) -> (&'static str, Option<String>) {
        if by.length() <= BESIDE_MM {
            return ("at", None);
        }
        let written = |mm: f64| written_up(mm, b.file.report.system());
        let spec = self.wanted.spec;
        match (moved, spec.at) {
            (MovedBy::AtAndHeight(axis), Some(params::FittingAt::Along(at))) => {
                let by = b.drafts[sheet].pose.transform_vector3(by.extend(0.0));
                let height = spec.height.map_or(0.0, units::Length::to_mm);
                let keys = [("at", at.to_mm(), by.dot(*axis)), ("height", height, by.z)];
                let off: Vec<_> =
                    keys.into_iter().filter(|(.., by)| by.abs() > 0.5 * BESIDE_MM).collect();
                let first = off.first().map_or("at", |(key, ..)| key);
                let each =
                    |(key, is, by): &(&str, f64, f64)| format!("`{key} = {}`", written(is + by));
                let all: Vec<String> = off.iter().map(each).collect();
                (first, Some(format!("write {}", all.join(" and "))))
            }
            (MovedBy::At, Some(params::FittingAt::Spot(at))) => {
                let [x, y] = (DVec2::from(at.map(units::Length::to_mm)) + by).to_array();
                ("at", Some(format!("write `at = [{}, {}]`", written(x), written(y))))
            }
            _ => ("at", None),
        }
    }
}

impl Opening {
    /// Whether only the radius of its corners keeps it from fitting.
    fn fits_but_for_corners(self, wanted: Self) -> bool {
        let corner = |form: Form| matches!(form, Form::Rectangle(_));
        let as_wanted = Self { form: wanted.form, ..self };
        corner(self.form) && corner(wanted.form) && !wanted.fits(self) && wanted.fits(as_wanted)
    }
}

/// Middle of the opening whose middle is nearest, and the opening.
fn nearest(plate: &Plate, at: DVec2) -> Option<(DVec2, Opening)> {
    let openings = plate.cuts.iter().filter(|cut| cut.depth >= plate.thickness);
    let sized = openings.filter_map(|cut| Opening::of(&cut.contour));
    sized.min_by(|(a, _), (b, _)| a.distance(at).total_cmp(&b.distance(at)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use glam::dvec2;

    fn form(contour: &Contour) -> Form {
        Opening::of(contour).expect("it has bounds").1.form
    }

    #[test]
    fn openings_are_known_by_their_form() {
        assert_eq!(form(&Contour::circle(dvec2(3.0, 4.0), 25.0)), Form::Round);
        let (lo, hi) = (dvec2(10.0, 5.0), dvec2(70.0, 65.0));
        assert_eq!(form(&Contour::rectangle(lo, hi)), Form::Rectangle(0.0));
        let Form::Rectangle(corner) = form(&Contour::rounded_rectangle(lo, hi, 3.0)) else {
            panic!("it is a rectangle")
        };
        assert!((corner - 3.0).abs() < 1e-9);
        let triangle = Contour::polygon(&[lo, dvec2(70.0, 5.0), hi]);
        assert_eq!(form(&triangle), Form::Other);
    }

    #[test]
    fn what_is_round_goes_into_no_square_and_corners_count() {
        let of = |contour: &Contour| Opening::of(contour).expect("it has bounds").1;
        let (lo, hi) = (DVec2::ZERO, DVec2::splat(60.0));
        let square = of(&Contour::rectangle(lo, hi));
        let round = of(&Contour::circle(DVec2::ZERO, 30.0));
        let rounded = of(&Contour::rounded_rectangle(lo, hi, 3.0));
        assert!(round.fits(round) && square.fits(square) && rounded.fits(rounded));
        assert!(!round.fits(square) && !square.fits(round) && !rounded.fits(square));
        assert!(square.fits_but_for_corners(rounded) && !square.fits_but_for_corners(round));
        let wider = of(&Contour::circle(DVec2::ZERO, 30.2));
        assert!(!round.fits(wider), "0.4 mm take all of the press");
    }
}
