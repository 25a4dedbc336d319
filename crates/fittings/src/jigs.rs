//! Tools for the workshop: what holds and guides while a sump is glued, and what measures.

mod corner_block;
mod drilling_guide;
mod kerf_gauge;
mod ring_coupon;
mod rows;
mod slot_spacer;

pub(crate) use corner_block::CORNER_BLOCK;
pub(crate) use drilling_guide::DRILLING_GUIDE;
pub(crate) use kerf_gauge::KERF_GAUGE;
pub(crate) use ring_coupon::RING_COUPON;
pub(crate) use rows::{CLEARANCE_COUPON, HOLE_COUPON, THICKNESS_GAUGE};
pub(crate) use slot_spacer::SLOT_SPACER;

/// A number as it is written on a jig: to two decimals, without zeros at its end.
fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests {
    use crate::{Kind, Printer};
    use plate::{Shape, Tolerance, arrange};

    /// Volume of a jig as made, without the foot's step, and with its text filled again.
    #[track_caller]
    pub(super) fn volume_without_text(
        kind: &Kind,
        given: &[(&str, f64)],
        printer: &Printer,
    ) -> f64 {
        let printer = Printer { foot_mm: 0.0, ..*printer };
        let made = kind.made(given.iter().copied(), &printer).expect("a jig");
        let Shape::Sheet(plate) = made.shape else { panic!("jigs are plates") };
        let bare = crate::lettering::without_text(&plate).unwrap_or(plate);
        arrange(&bare, &Tolerance::default()).expect("an arrangement").volume()
    }

    #[test]
    fn numbers_are_short() {
        for (value, text) in [
            (8.0, "8"),
            (7.6, "7.6"),
            (0.15, "0.15"),
            (8.249_999_99, "8.25"),
            (0.0, "0"),
            (10.0, "10"),
        ] {
            assert_eq!(super::number(value), text);
        }
    }
}
