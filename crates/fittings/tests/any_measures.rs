//! Guards that any measures of the fittings that `design` draws by itself give a part that prints, or a refusal; and what
//! each part promises. Measures of all kinds are drawn in `crates/solid/tests/fittings.rs`, where solids are made of them.

use fittings::{
    Error, Fitting, GuideChannel, KINDS, Knob, Printer, ScrewSize, SockRing, channel_width_mm,
    check_printable_by, guide_channel, knob, sock_ring,
};
use plate::{Shape, Tolerance, arrange};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

/// Measures of fittings, and numbers that are none.
fn measure() -> impl Strategy<Value = f64> {
    prop_oneof![
        12 => 0.5..400.0_f64,
        6 => 0.5..15.0_f64,
        1 => prop::sample::select(vec![0.0, -1.0, f64::NAN, f64::INFINITY, 1e-9, 1e7, f64::MAX]),
    ]
}

/// Nozzles from fine to coarse, layers of a quarter to three quarters of them, with and without elephant's foot.
fn printer() -> impl Strategy<Value = Printer> {
    (0.25..=1.2_f64, 0.25..=0.75_f64, prop_oneof![Just(0.0), 0.05..0.4_f64]).prop_map(
        |(nozzle_mm, share, foot_mm)| {
            let layer_mm = share * nozzle_mm;
            Printer { nozzle_mm, layer_mm, foot_mm, ..Printer::default() }
        },
    )
}

fn volume_mm3(shape: &Shape) -> f64 {
    match shape {
        Shape::Sheet(plate) => {
            arrange(plate, &Tolerance::default()).expect("it was arranged before").volume()
        }
        Shape::Turned(turned) => turned.volume_mm3(),
    }
}

fn is_sound(fitting: &Fitting, printer: &Printer) -> Result<(), TestCaseError> {
    prop_assert_eq!(check_printable_by(&fitting.shape, printer), Ok(()));
    let [x, y] = fitting.print.bed_footprint_mm;
    let volume = volume_mm3(&fitting.shape);
    prop_assert!(0.0 < volume && volume < x * y * fitting.print.height_mm);
    Ok(())
}

/// A refusal is of what was asked for, and tells the number that is wrong; it is a mistake of the drawing only where
/// something is asked for that is larger than anything can be drawn.
fn is_worded(refusal: &Error, asked: &[f64]) -> Result<(), TestCaseError> {
    let is_of_what_was_asked = matches!(
        refusal,
        Error::NotPositive { .. }
            | Error::ThinWall { .. }
            | Error::TooShort { .. }
            | Error::Clearance { .. }
            | Error::SheetBand { .. }
    );
    let is_vast = asked.iter().any(|mm| *mm > 1e6);
    prop_assert!(is_of_what_was_asked || is_vast, "{refusal}");
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 2000,
        rng_seed: RngSeed::Fixed(3),
        failure_persistence: None,
        ..ProptestConfig::default()
    })]

    #[test]
    fn guides(
        (width, depth, length, wall) in (measure(), measure(), measure(), measure()),
        stop in any::<bool>(), lead_in in prop_oneof![Just(0.0), measure()], printer in printer(),
    ) {
        let guide = GuideChannel {
            channel_width_mm: width,
            depth_mm: depth,
            length_mm: length,
            wall_mm: wall,
            stop,
            lead_in_mm: lead_in,
        };
        match guide_channel(&guide, &printer) {
            Ok(fitting) => is_sound(&fitting, &printer)?,
            Err(refusal) => is_worded(&refusal, &[width, depth, length, wall, lead_in])?,
        }
    }

    #[test]
    fn rings(hole in measure(), play in measure(), sheet in measure(), band in 0.0..1.0_f64, printer in printer()) {
        let ring = SockRing {
            hole_diameter_mm: hole,
            sheet_mm: [sheet, sheet + band],
            bore_diameter_mm: hole - play,
            clearance_mm: 0.25,
        };
        match sock_ring(&ring, &printer) {
            Ok(made) => {
                is_sound(&made.fitting, &printer)?;
                prop_assert!(made.spigot_diameter_mm < hole && hole < made.flange_diameter_mm);
            }
            Err(refusal) => is_worded(&refusal, &[hole, play, sheet])?,
        }
    }

    #[test]
    fn knobs(clearance_mm in 0.0..=1.0_f64, printer in printer()) {
        let mut last = 0.0;
        for screw in ScrewSize::ALL {
            let fitting = knob(&Knob { screw, clearance_mm }, &printer).expect("every clearance in range");
            is_sound(&fitting, &printer)?;
            let volume = volume_mm3(&fitting.shape);
            prop_assert!(last < volume, "a larger screw has the larger knob");
            last = volume;
        }
    }

    #[test]
    fn every_sheet_of_the_band_slides(least in 2.0..20.0_f64, band in 0.0..1.0_f64, clearance in 0.0..1.0_f64) {
        let width = channel_width_mm([least, least + band], clearance).expect("a width");
        prop_assert!(width >= least + band);
        prop_assert!(width - least <= band + 2.0 * clearance + 1e-9);
    }
}

/// Layers and lines are whole where the kind, and not a measure, says how high or thick a part is.
#[test]
fn heights_are_whole_layers() {
    for layer_mm in [0.12, 0.2, 0.28] {
        let printer = Printer { layer_mm, ..Printer::default() };
        for kind in KINDS {
            let fitting = kind.made([], &printer).expect(kind.name);
            let layers = fitting.print.height_mm / layer_mm;
            assert!((layers - layers.round()).abs() < 1e-6, "{} {layers}", kind.name);
            let floors: Vec<f64> = match &fitting.shape {
                Shape::Sheet(plate) => {
                    let deep = plate.cuts.iter().map(|cut| cut.depth);
                    deep.filter(|depth| *depth < plate.thickness).collect()
                }
                Shape::Turned(_) => vec![],
            };
            for depth in floors {
                let layers = depth / layer_mm;
                assert!((layers - layers.round()).abs() < 1e-6, "{} {depth}", kind.name);
            }
        }
    }
}
