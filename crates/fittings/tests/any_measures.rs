//! Guards that any measures give a part that prints, or a refusal; and what each part promises.

use fittings::{
    Error, Fitting, GuideChannel, KINDS, Kind, Knob, Measure, Of, Printer, ScrewSize, SockRing,
    channel_width_mm, check_printable, guide_channel, knob, sock_ring,
};
use plate::{Shape, Tolerance, arrange};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::{RngSeed, TestRunner};

/// Measures of fittings, and numbers that are none.
fn measure() -> impl Strategy<Value = f64> {
    prop_oneof![
        12 => 0.5..400.0_f64,
        6 => 0.5..15.0_f64,
        1 => prop::sample::select(vec![0.0, -1.0, f64::NAN, f64::INFINITY, 1e-9, 1e7, f64::MAX]),
    ]
}

fn volume_mm3(shape: &Shape) -> f64 {
    match shape {
        Shape::Sheet(plate) => {
            arrange(plate, &Tolerance::default()).expect("it was arranged before").volume()
        }
        Shape::Turned(turned) => turned.volume_mm3(),
    }
}

fn is_sound(fitting: &Fitting) -> Result<(), TestCaseError> {
    prop_assert_eq!(check_printable(&fitting.shape), Ok(()));
    let [x, y] = fitting.print.bed_footprint_mm;
    let volume = volume_mm3(&fitting.shape);
    prop_assert!(0.0 < volume && volume < x * y * fitting.print.height_mm);
    Ok(())
}

fn is_worded(refusal: &Error) -> Result<(), TestCaseError> {
    let words = refusal.to_string();
    prop_assert!(words.contains("mm") || words.contains("profile"), "{}", words);
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
        stop in any::<bool>(), lead_in in prop_oneof![Just(0.0), measure()],
    ) {
        let guide = GuideChannel {
            channel_width_mm: width,
            depth_mm: depth,
            length_mm: length,
            wall_mm: wall,
            stop,
            lead_in_mm: lead_in,
        };
        match guide_channel(&guide) {
            Ok(fitting) => is_sound(&fitting)?,
            Err(refusal) => is_worded(&refusal)?,
        }
    }

    #[test]
    fn rings(hole in measure(), play in measure(), sheet in measure(), band in 0.0..1.0_f64) {
        let ring = SockRing {
            hole_diameter_mm: hole,
            sheet_mm: [sheet, sheet + band],
            bore_diameter_mm: hole - play,
            clearance_mm: 0.25,
        };
        match sock_ring(&ring) {
            Ok(made) => {
                is_sound(&made.fitting)?;
                prop_assert!(made.spigot_diameter_mm < hole && hole < made.flange_diameter_mm);
            }
            Err(refusal) => is_worded(&refusal)?,
        }
    }

    #[test]
    fn knobs(clearance_mm in 0.0..=1.0_f64) {
        let mut last = 0.0;
        for screw in ScrewSize::ALL {
            let fitting = knob(&Knob { screw, clearance_mm }).expect("every clearance in range");
            is_sound(&fitting)?;
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

/// Any number within the limits of a measure.
fn within(measure: &Measure) -> BoxedStrategy<f64> {
    let (least, most) = (measure.least, measure.most);
    match measure.of {
        Of::Mm | Of::Degrees => (least..=most).boxed(),
        Of::Count | Of::Screw | Of::Choice => {
            (least..=most).prop_map(move |n| n.round().clamp(least, most)).boxed()
        }
    }
}

fn printer() -> impl Strategy<Value = Printer> {
    let nozzle = prop::sample::select(vec![0.25, 0.4, 0.6, 0.8]);
    (nozzle, 0.25..0.75_f64, 0.0..0.4_f64, 0.0..0.4_f64, 0.0..0.4_f64).prop_map(
        |(nozzle_mm, layer_share, clearance_mm, hole_loss_mm, foot_mm)| Printer {
            nozzle_mm,
            layer_mm: (20.0 * layer_share * nozzle_mm).round().max(1.0) / 20.0,
            clearance_mm,
            hole_loss_mm,
            foot_mm,
            ..Printer::default()
        },
    )
}

/// So many sets of measures of a kind on as many printers: how many give a body. Each other one is refused by name.
///
/// That a body prints is checked where it is made, and not again here: that would take half of the time.
fn bodies_of(kind: &Kind, sets_wanted: u32) -> Result<u32, TestCaseError> {
    let config = ProptestConfig { rng_seed: RngSeed::Fixed(8), ..ProptestConfig::default() };
    let mut runner = TestRunner::new(config);
    let measures: Vec<BoxedStrategy<f64>> = kind.measures.iter().map(within).collect();
    let sets = (measures, printer());
    let mut bodies = 0;
    for _ in 0..sets_wanted {
        let (values, printer) = sets.new_tree(&mut runner).expect("a set").current();
        let given = kind.measures.iter().map(|m| m.name).zip(values.iter().copied());
        match kind.made(given, &printer) {
            Ok(fitting) => {
                let [x, y] = fitting.print.bed_footprint_mm;
                let size = [x, y, fitting.print.height_mm];
                prop_assert!(size.iter().all(|s| *s > 0.0 && s.is_finite()), "{:?}", size);
                bodies += 1;
            }
            Err(refusal) => {
                let is_named = matches!(
                    refusal,
                    Error::ThinWall { .. }
                        | Error::NotPositive { .. }
                        | Error::TooShort { .. }
                        | Error::Foot { .. }
                        | Error::Defect(_)
                        | Error::Outline(_)
                        | Error::Profile(_)
                );
                prop_assert!(is_named, "{:?} {:?}: {}", values, printer, refusal);
            }
        }
    }
    Ok(bodies)
}

/// Nine tenths of all measures make a body; of a reducer fewer, because hole and bore are free of each other.
#[track_caller]
fn check_bodies(kinds: impl Iterator<Item = &'static Kind>, sets_wanted: u32) {
    let mut told = String::new();
    let mut are_enough = true;
    for kind in kinds {
        let bodies = bodies_of(kind, sets_wanted);
        let least_percent = if kind.name == "reducer" { 70 } else { 90 };
        are_enough &= bodies.as_ref().is_ok_and(|n| 100 * n >= least_percent * sets_wanted);
        told += &format!("{}: {bodies:?}\n", kind.name);
    }
    assert!(are_enough, "bodies of {sets_wanted} each:\n{told}");
}

#[test]
fn most_measures_of_every_part_give_a_body_and_all_others_a_named_refusal() {
    check_bodies(KINDS.iter().filter(|kind| !kind.is_jig), 1000);
}

/// The text on them takes most of the time, so every day only a quarter is tried; with `SUMPWRIGHT_ALL_CASES` set, all.
#[test]
fn most_measures_of_every_jig_give_a_body_and_all_others_a_named_refusal() {
    let all = std::env::var_os("SUMPWRIGHT_ALL_CASES").is_some();
    check_bodies(KINDS.iter().filter(|kind| kind.is_jig), if all { 1000 } else { 250 });
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
