//! The printed channel in which a lift-out leaf slides.

use glam::{DVec2, dvec2, dvec3};
use plate::{Contour, Cut, Face, Plate, Shape};

use crate::error::{Error, check_band, check_clearance, check_positive, check_wall};
use crate::fitting::Fitting;
use crate::kind::{Kind, Measure, Measures};
use crate::mate::{Form, Mate};
use crate::mates::OFF_GROUND_MM;
use crate::measure::PRACTICE;
use crate::printer::Printer;
use crate::stand::{Follows, InPieces, Side, Stand};
use crate::strain::beam_length_mm;

/// A channel of a back plate and two legs.
///
/// Its frame: the flat back at `z = 0`, the channel open towards `+z`, `y` along its length from
/// the lower end, `x = 0` in the middle of the channel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GuideChannel {
    /// Distance between the legs; see [`channel_width_mm`].
    pub channel_width_mm: f64,
    /// How deep the leaf reaches into it; rounded up to whole layers.
    pub depth_mm: f64,
    /// From end to end. A guide longer than the print bed is printed in several.
    pub length_mm: f64,
    /// Thickness of legs and stop, and of the back, rounded up to whole layers.
    pub wall_mm: f64,
    /// Whether a stop closes the lower end.
    pub stop: bool,
    /// How far each leg leans out at the upper end, over three times that length; 0: not at all.
    /// The legs keep their thickness, so the channel is wider outside there, too.
    pub lead_in_mm: f64,
}

/// Width of a channel for a sheet that measures `[least, most]` mm: the thickest place of the
/// sheet and the clearance on both sides.
///
/// Common practice: 0.15 to 0.25 mm on each side of sheet measured by caliper.
pub fn channel_width_mm(sheet_mm: [f64; 2], clearance_mm: f64) -> Result<f64, Error> {
    check_band(sheet_mm)?;
    check_clearance(clearance_mm)?;
    Ok(sheet_mm[1] + 2.0 * clearance_mm)
}

/// The kind.
pub(crate) const GUIDE_CHANNEL: Kind = Kind {
    name: "guide-channel",
    what_for: "glued to a wall, a leaf slides in it; or pressed on the edge of a sheet",
    is_jig: false,
    stand: Stand {
        // Its back on the wall, the end with the lead-in up.
        instead: Some((
            "pressed",
            &Stand::nowhere("a pressed channel is put on the edge of a sheet by hand"),
        )),
        ..Stand::glued(Side::Bed, Side::Crown)
    },
    in_pieces: Some(InPieces { length: "length", lowest: "stop", highest: "lead-in" }),
    advice: "try the coupon first: a channel that is too tight swells shut. A glued one is glued along its whole back. It leads a leaf and does not seal it",
    measures: &[
        Measure::mm(
            "sheet",
            "thickness of the leaf by caliper: where it is thickest, or thinnest if pressed",
            [2.0, 8.0, 20.0],
            "common practice: sumps are made of 6 to 10 mm",
        )
        .follows(Follows::SheetOrThinnest("pressed")),
        Measure::mm(
            "depth",
            "how deep the leaf stands in it; deeper if pressed, where the legs need it to bend",
            [5.0, 12.0, 30.0],
            PRACTICE,
        ),
        Measure::mm(
            "length",
            "length; longer than the bed: print several",
            [30.0, 150.0, 400.0],
            PRACTICE,
        ),
        Measure::mm(
            "lead-in",
            "how far each leg leans out at the upper end",
            [0.0, 3.0, 6.0],
            PRACTICE,
        ),
        Measure::choice("stop", "a stop closes the lower end", true, PRACTICE),
        Measure::choice("pressed", "no clearance: it is pressed on the sheet", false, PRACTICE),
        Measure::spread_over_thinnest().only("pressed", true),
    ],
    make: of_kind,
};

/// Thickness of back and legs of the kind, mm: six lines of the usual nozzle; common practice.
const WALL_MM: f64 = 2.4;

fn of_kind(m: &Measures, printer: &Printer) -> Result<Fitting, Error> {
    let clearance_mm = if m.is("pressed") { 0.0 } else { printer.clearance_mm };
    let guide = GuideChannel {
        channel_width_mm: channel_width_mm([m.get("sheet"); 2], clearance_mm)?,
        depth_mm: m.get("depth"),
        length_mm: m.get("length"),
        wall_mm: printer.wall_mm(WALL_MM),
        stop: m.is("stop"),
        lead_in_mm: m.get("lead-in"),
    };
    let Fitting { shape, print } = match m.is("pressed") {
        true => channel(&pressed(guide, m.get("spread"), printer), true, printer)?,
        false => channel(&guide, false, printer)?,
    };
    Ok(Fitting { shape, print: print.meeting("sheet", [m.get("sheet"); 2]) })
}

/// One that is pressed on a sheet: its legs so thick that a line can be taken off their mouth, and so deep that they stand
/// for years what the thickest place of the sheet spreads them by. They stand upright on the bed, so that the sheet bends
/// them across their layers, which stand half of what lines stand along themselves (our judgement; tests of printed parts
/// give from a third to three quarters of the strength).
fn pressed(guide: GuideChannel, spread_mm: f64, printer: &Printer) -> GuideChannel {
    let wall_mm = guide.wall_mm.max(printer.wall_mm(1.5 * printer.least_wall_mm()));
    let most = 0.5 * printer.filament.strain_for_years();
    // Both legs bend alike.
    let free_mm = beam_length_mm(wall_mm, 0.5 * spread_mm, most);
    let mouth = printer.height_mm(MOUTH_MM);
    GuideChannel { wall_mm, depth_mm: guide.depth_mm.max(free_mm + mouth), ..guide }
}

/// Height of the mouth of one that is pressed, where it leads the sheet's edge in, and how much wider it is there on each
/// side, mm, in two steps; our judgement.
const MOUTH_MM: f64 = 1.2;
const MOUTH_OUT_MM: f64 = 0.6;

/// The guide channel, printed lying on its back, in whole layers of this printer: its back is as thick as its legs or a little
/// thicker, its channel as deep as asked or a little deeper. Its edges on the bed are drawn in.
pub fn guide_channel(guide: &GuideChannel, printer: &Printer) -> Result<Fitting, Error> {
    channel(guide, false, printer)?.with_foot(printer)
}

/// As [`guide_channel`], its edges as they are.
fn channel(guide: &GuideChannel, has_mouth: bool, printer: &Printer) -> Result<Fitting, Error> {
    check_positive(&[
        ("channel width", guide.channel_width_mm),
        ("channel depth", guide.depth_mm),
        ("guide's length", guide.length_mm),
    ])?;
    check_wall("guide's wall", None, guide.wall_mm, printer)?;
    // A channel that is narrower than a line prints shut.
    if guide.channel_width_mm < printer.nozzle_mm {
        let (wall_mm, least_mm) = (guide.channel_width_mm, printer.nozzle_mm);
        let (what, measure) = ("channel for the `sheet`", Some("sheet"));
        return Err(Error::ThinWall { what, measure, wall_mm, least_mm });
    }
    check_wall("guide, along its `length`,", Some("length"), guide.length_mm, printer)?;
    if !(0.0..=guide.length_mm).contains(&guide.lead_in_mm) {
        return Err(Error::NotPositive { what: "lead-in", mm: guide.lead_in_mm });
    }
    // A lead-in that is shorter than two lines are wide leads nothing.
    let is_led = STEEPNESS * guide.lead_in_mm > printer.least_wall_mm();
    let lead_in_mm = if is_led { guide.lead_in_mm } else { 0.0 };
    let guide = &GuideChannel { lead_in_mm, ..*guide };
    let lower_end_mm = match guide.stop {
        true => guide.wall_mm,
        false if guide.lead_in_mm > 0.0 => EARLIER * guide.wall_mm,
        false => 0.0,
    };
    let ends_mm = STEEPNESS * guide.lead_in_mm + lower_end_mm;
    if ends_mm >= guide.length_mm {
        return Err(Error::TooShort { length_mm: guide.length_mm, ends_mm });
    }
    let from = if guide.stop { guide.wall_mm } else { -BEYOND_MM };
    let outline = funnel(guide, guide.wall_mm, 0.0, 0.0);
    let channel = funnel(guide, 0.0, from, BEYOND_MM);
    let [back_mm, depth_mm] = [guide.wall_mm, guide.depth_mm].map(|mm| printer.height_mm(mm));
    let mut plate = Plate::new(outline, back_mm + depth_mm);
    plate.cuts.push(Cut::pocket(channel, Face::Top, depth_mm));
    let mut mouth_mm = 0.0;
    if has_mouth {
        let out = MOUTH_OUT_MM.min(guide.wall_mm - printer.least_wall_mm());
        for share in [0.5, 1.0] {
            let wider = funnel(guide, share * out, from, BEYOND_MM);
            let deep = printer.height_mm((1.5 - share) * MOUTH_MM);
            plate.cuts.push(Cut::pocket(wider, Face::Top, deep));
            mouth_mm = deep.max(mouth_mm);
        }
    }
    let leaf = Mate {
        with: "sheet",
        size_mm: guide.channel_width_mm,
        band_mm: [guide.channel_width_mm; 2],
        form: Form::Slot { along: DVec2::Y, mouth_mm: Some(0.0) },
        at: dvec3(0.0, from.max(0.0) + OFF_GROUND_MM, back_mm + 0.5 * (depth_mm - mouth_mm)),
        heights_mm: [back_mm, back_mm + depth_mm - mouth_mm],
        play_mm: 0.0,
        loss_mm: 0.0,
    };
    Ok(Fitting::new(Shape::Sheet(plate), "back down, channel up", printer)?.mating(vec![leaf]))
}

/// Length of the lead-in over its width.
const STEEPNESS: f64 = 3.0;

/// How far the channel's contour hangs over an open end.
const BEYOND_MM: f64 = 1.0;

/// Of legs as thick as 1 that lean out at 1 in [`STEEPNESS`]: how wide they are across the channel, 1 / cos θ, and how much
/// earlier than their inside their outside leans, tan (θ / 2).
const ACROSS: f64 = 1.054_092_553_389_46;
const EARLIER: f64 = 0.162_277_660_168_38;

/// The channel, or it with legs so thick, from `from` to the upper end and `beyond` it, wider at the lead-in.
fn funnel(guide: &GuideChannel, legs: f64, from: f64, beyond: f64) -> Contour {
    let half = 0.5 * guide.channel_width_mm + legs;
    let mut right = vec![dvec2(half, from)];
    let (end, mut out) = (guide.length_mm, half);
    if guide.lead_in_mm > 0.0 {
        out += guide.lead_in_mm + (ACROSS - 1.0) * legs;
        right.push(dvec2(half, end - STEEPNESS * guide.lead_in_mm - EARLIER * legs));
        right.push(dvec2(out, end));
    }
    if guide.lead_in_mm <= 0.0 || beyond > 0.0 {
        right.push(dvec2(out, end + beyond));
    }
    let left = right.iter().rev().map(|p| dvec2(-p.x, p.y));
    let corners: Vec<DVec2> = right.iter().copied().chain(left).collect();
    Contour::polygon(&corners)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::FLAT;
    use plate::{FlatPattern, Tolerance, arrange, flat_pattern};

    const GUIDE: GuideChannel = GuideChannel {
        channel_width_mm: 8.5,
        depth_mm: 12.0,
        length_mm: 150.0,
        wall_mm: 2.4,
        stop: true,
        lead_in_mm: 3.0,
    };

    fn pattern(guide: &GuideChannel) -> (f64, FlatPattern) {
        let Shape::Sheet(plate) = guide_channel(guide, &FLAT).expect("a guide").shape else {
            panic!("a guide is flat")
        };
        let arrangement = arrange(&plate, &Tolerance::default()).expect("an arrangement");
        (arrangement.volume(), flat_pattern(&plate, &arrangement))
    }

    #[test]
    fn volume_is_back_legs_and_stop() {
        let (volume, pattern) = pattern(&GUIDE);
        let flare = 3.0 * 9.0; // two triangles of 3 by 9 mm
        let outside = 13.3 * 150.0 + outer_flare();
        let channel = 8.5 * (150.0 - 2.4) + flare;
        assert!((volume - (outside * 14.4 - channel * 12.0)).abs() < 1e-6);
        assert_eq!(pattern.pockets.len(), 1);
        assert!((pattern.pockets[0].area_mm2() - channel).abs() < 1e-9);
    }

    /// Two triangles at a slope of 1 in 3 on legs of 2.4 mm: the line 2.4 mm beside that of the channel.
    fn outer_flare() -> f64 {
        let out = 3.0 + 2.4 * (10.0_f64.sqrt() / 3.0 - 1.0);
        out * 3.0 * out
    }

    /// Legs that lean are as thick as those that do not.
    #[test]
    fn legs_that_lean_out_keep_their_thickness() {
        let (inner, outer) = (funnel(&GUIDE, 0.0, 0.0, 0.0), funnel(&GUIDE, 2.4, 0.0, 0.0));
        let (inside, outside) = (inner.0[1], outer.0[1]);
        let normal = (inside.end - inside.start).perp().normalize();
        for place in [outside.start, outside.end] {
            assert!((normal.dot(place - inside.start).abs() - 2.4).abs() < 1e-9, "{place}");
        }
    }

    /// A beam with its root at the ground, bent across its layers.
    #[test]
    fn pressed_it_is_so_deep_that_its_legs_stand_it_and_its_mouth_leads_in() {
        for filament in crate::Filament::ALL {
            for nozzle_mm in [0.4, 0.8, 1.2] {
                let printer = Printer { filament, nozzle_mm, ..FLAT };
                let given = [("pressed", 1.0), ("depth", 5.0), ("spread", 0.8), ("lead-in", 0.0)];
                let made = GUIDE_CHANNEL.made(given, &printer).expect("a channel");
                let Shape::Sheet(plate) = &made.shape else { panic!("a guide is flat") };
                let wall = 0.5 * (made.print.bed_footprint_mm[0] - 8.0);
                let strain = 1.5 * wall * 0.4 / (plate.cuts[0].depth - 1.2_f64).powi(2);
                assert!(strain <= 0.5 * filament.strain_for_years() + 1e-9, "{strain}");
                let wide = |k: usize| {
                    let [lo, hi] = plate.cuts[k].contour.bounds().expect("a pocket");
                    hi.x - lo.x
                };
                assert!(wide(0) < wide(1) && wide(1) < wide(2));
                assert!(plate.cuts[1].depth > plate.cuts[2].depth);
            }
        }
    }

    #[test]
    fn without_stop_and_lead_in_it_is_a_plain_channel() {
        let plain = GuideChannel { stop: false, lead_in_mm: 0.0, ..GUIDE };
        let (volume, pattern) = pattern(&plain);
        assert!((volume - (13.3 * 14.4 - 8.5 * 12.0) * 150.0).abs() < 1e-6);
        assert_eq!(pattern.pockets[0].loops[0].0.len(), 4);
    }

    #[test]
    fn the_thickest_sheet_slides_and_the_notes_tell_the_room() {
        let width = channel_width_mm([7.7, 8.0], 0.25).expect("a width");
        assert!((width - 8.5).abs() < 1e-12);
        let fitting = guide_channel(&GUIDE, &FLAT).expect("a guide");
        let [x, y] = fitting.print.bed_footprint_mm;
        let flared = 19.3 + 4.8 * (10.0_f64.sqrt() / 3.0 - 1.0);
        assert!((x - flared).abs() < 1e-9 && (y - 150.0).abs() < 1e-9);
        assert!((fitting.print.height_mm - 14.4).abs() < 1e-9);
        assert_eq!(fitting.print.orientation, "back down, channel up");
    }

    #[test]
    fn impossible_guides_are_refused_with_the_numbers() {
        #[track_caller]
        fn check(guide: GuideChannel, words: &str) {
            let refusal = guide_channel(&guide, &FLAT).expect_err("refused").to_string();
            assert!(refusal.contains(words), "{refusal}");
        }
        check(GuideChannel { depth_mm: 0.0, ..GUIDE }, "channel depth is 0 mm");
        check(GuideChannel { channel_width_mm: f64::NAN, ..GUIDE }, "channel width is NaN mm");
        check(GuideChannel { wall_mm: 0.5, ..GUIDE }, "guide's wall would be 0.50 mm thick");
        check(GuideChannel { length_mm: 11.0, ..GUIDE }, "lead-in of 11.4 mm together");
        check(GuideChannel { lead_in_mm: -1.0, ..GUIDE }, "lead-in is -1 mm");
        assert!(channel_width_mm([8.0, 7.7], 0.25).is_err());
        assert!(channel_width_mm([7.7, 8.0], -0.1).is_err());
    }

    #[test]
    fn as_a_kind_it_fits_the_measured_sheets_over_their_band() {
        use crate::testing::{is_close, volume_mm3};
        let usual = GUIDE_CHANNEL.made([], &FLAT).expect("a guide");
        let flare = 27.0;
        let (outside, inside) = (13.3 * 150.0 + outer_flare(), 8.5 * 147.6 + flare);
        is_close(volume_mm3(&usual), outside * 14.4 - inside * 12.0);
        for [least, most] in [[7.7, 8.0], [5.8, 6.1]] {
            let width = |pressed: f64, sheet: f64| {
                let given = [("sheet", sheet), ("pressed", pressed), ("lead-in", 0.0)];
                let made = GUIDE_CHANNEL.made(given, &FLAT).expect("a guide");
                made.print.bed_footprint_mm[0] - 4.8
            };
            is_close(width(0.0, most), most + 0.5);
            // Pressed, the thinnest place is held without play.
            is_close(width(1.0, least), least);
        }
    }
}
