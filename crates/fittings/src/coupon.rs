//! How the coupons are read, and where in the file their results go.

/// A coupon and what to do with it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Coupon {
    /// Its kind: a name of [`KINDS`](crate::KINDS), or none where any fitting does.
    pub kind: Option<&'static str>,
    /// Key of `[printing]` that its result goes into.
    pub key: &'static str,
    /// What to do, step by step.
    pub steps: &'static [&'static str],
}

/// The coupons in the order in which they are printed: each is made with what those before it found.
pub const COUPONS: &[Coupon] = &[
    Coupon {
        kind: None,
        key: "foot",
        steps: &[
            "write `foot = 0`, switch off the slicer's own compensation for the first layer, and print any flat fitting, or a coupon",
            "measure its width by caliper on the bed's side, at the very edge, and half-way up",
            "half of what it is wider at the bed goes into `foot`, and the slicer's own stays off; or leave 0, and switch it on again",
        ],
    },
    Coupon {
        kind: Some("hole-coupon"),
        key: "hole_loss",
        steps: &[
            "print it flat in the filament, with the settings, of the fittings, and let it cool on the bed",
            "take the pin that it was made for, without burr, and try the holes from the smallest on",
            "the number at the first hole that the pin drops through by its own weight goes into `hole_loss`",
            "if the pin drops through the first, write 0; if through none, print it with a larger `step`",
        ],
    },
    Coupon {
        kind: Some("clearance-coupon"),
        key: "clearance",
        steps: &[
            "print it flat in the filament, with the settings, of the fittings, and let it cool on the bed",
            "break the edges of the sheet with a scraper: a burr is thicker than the sheet",
            "slide the sheet, where it is thickest, into the slots from the tightest on, straight, without force",
            "the number at the first that slides freely over its whole depth goes into `clearance`",
            "if the sheet slides in the first, make the coupon with a smaller `least`; if in none, measure the sheet again",
            "for what is long, as a channel, or is moved under water with slime on it, take the next number",
        ],
    },
    Coupon {
        kind: Some("ring-coupon"),
        key: "clearance",
        steps: &[
            "print it after the hole coupon, whose result its holes are drawn with, and let it cool on the bed",
            "break the peg off at its neck and put it, by its foot, into the holes from the tightest on",
            "take the number at the first hole that it goes into to its foot and turns in freely",
            "if that is more than the slots of the clearance coupon have said, it goes into `clearance`; if it is less, the \
             slots' number stays",
            "if the peg goes into the first hole, make the coupon with a smaller `least`; if into none, with a larger `step`",
        ],
    },
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::KINDS;

    #[test]
    fn every_coupon_is_a_jig_and_has_its_words() {
        for coupon in COUPONS {
            let kind = coupon.kind.map(|name| KINDS.iter().find(|k| k.name == name).expect(name));
            assert!(kind.is_none_or(|kind| kind.is_jig && kind.name.ends_with("coupon")));
            let key = format!("`{}`", coupon.key);
            assert!(coupon.steps.iter().any(|step| step.contains(&key)), "{key}");
        }
        // And no coupon without words.
        let coupons = KINDS.iter().filter(|kind| kind.name.ends_with("coupon")).count();
        assert_eq!(coupons, COUPONS.iter().filter(|coupon| coupon.kind.is_some()).count());
    }
}
