//! Guards the contract of every flow law: signs, derivatives, continuity and direction at random states
//! and leans, and what the laws say against published values.

use std::f64::consts::PI;
use std::sync::Arc;

use proptest::prelude::*;
use water::law::{Crest, Fabric, FullPipe, Gate, Lip, Pipe, Strips, Validity};
use water::{G, Law, PipeLine, PumpCurve, TABLE_POINTS};

const L_H: f64 = 1.0 / 3.6e6;

fn line() -> impl Strategy<Value = PipeLine> {
    (0.012..0.06_f64, 0.0..3.0_f64, 0.5..15.0_f64).prop_map(|(bore_m, length_m, loss_k)| PipeLine {
        bore_m,
        length_m,
        loss_k,
        roughness_m: 1.5e-6,
        viscosity_m2_s: 1e-6,
    })
}

fn gate() -> impl Strategy<Value = Option<Gate>> {
    proptest::option::of(
        (0.0..0.4_f64, 0.005..0.05_f64).prop_map(|(z_m, over_m)| Gate { z_m, over_m }),
    )
}

fn law() -> impl Strategy<Value = Law> {
    let crest = (0.0..0.4_f64, 0.01..0.5_f64, 0.0..0.02_f64, 0.0..0.4_f64, 1.0..10.0_f64).prop_map(
        |(z, width, thickness, height, b)| Law::crest(z, width, thickness, height, width * b),
    );
    let rectangle = (0.0..0.4_f64, 0.0005..0.1_f64, 0.005..0.4_f64)
        .prop_map(|(z, height, width)| Law::rectangle(z, z + height, width));
    let comb = (0.0..0.4_f64, 0.005..0.05_f64, 0.02..0.2_f64).prop_map(|(z, depth, width)| {
        Law::Strips(Strips::comb(0.6, z, z + depth, width, 2.0 * width))
    });
    let holes = (0.05..0.4_f64, 0.005..0.08_f64, 1.0..6.0_f64, 1.0..3.0_f64).prop_map(
        |(z, d, count, long)| {
            Law::Strips(Strips::slot_round_ends(0.61, z, d * long, d, count.round(), 8))
        },
    );
    let full = (line(), -0.5..0.4_f64).prop_map(|(line, out_m)| FullPipe {
        out_m,
        doubt: 0.07,
        table: Arc::new(line.flow_table(1.2, TABLE_POINTS)),
    });
    let lip = (0.0..0.4_f64, 0.015..0.06_f64, proptest::option::of(full))
        .prop_map(|(z, bore, full)| Law::lip(z, bore, full));
    let mouth =
        (0.0..0.4_f64, 0.02..1.0_f64, 1e-4..0.02_f64).prop_map(|(z, p, a)| Law::mouth(z, p, a));
    let pipe = (line(), -0.5..0.4_f64, gate()).prop_map(|(line, out, gate)| {
        Law::pipe(out, gate, Arc::new(line.flow_table(0.6, TABLE_POINTS)))
    });
    let pump = (line(), 0.3..1.5_f64, gate(), 500.0..9000.0_f64, 0.5..5.0_f64).prop_map(
        |(line, out, gate, q_l_h, head)| {
            let curve = PumpCurve::from_extremes(q_l_h * L_H, head).expect("a parabola is a curve");
            Law::pump(out, gate, Arc::new(curve.table(&line, TABLE_POINTS)))
        },
    );
    let fabric = (0.0..0.3_f64, 0.05..0.3_f64, 0.3..0.8_f64, 0.0..0.04_f64, 1e-4..1.0_f64)
        .prop_map(|(z, height, p, a, k)| Law::fabric(z, z + height, p, a, k));
    let rate = (0.0..1e-3_f64, gate()).prop_map(|(q, gate)| Law::rate(q, gate));
    prop_oneof![crest, rectangle, comb, holes, lip, mouth, pipe, pump, fabric, rate]
}

/// Levels far apart, and levels that nearly meet.
fn levels() -> impl Strategy<Value = (f64, f64)> {
    prop_oneof![
        (0.0..0.7_f64, 0.0..0.7_f64),
        (0.0..0.7_f64, -7.0..-2.0_f64).prop_map(|(up, log)| (up, up - 10_f64.powf(log))),
        (0.0..0.7_f64, -7.0..-2.0_f64).prop_map(|(up, log)| (up, up + 10_f64.powf(log))),
    ]
}

fn lean() -> impl Strategy<Value = f64> {
    prop_oneof![Just(0.0), Just(1.0), Just(-1.0), -1.0..1.0_f64]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(4_000))]

    #[test]
    fn more_water_above_passes_more_and_more_water_below_less(
        law in law(), (up, down) in levels(), lean in lean(), step_log in -7.0..-0.5_f64,
    ) {
        let step = 10_f64.powf(step_log);
        let here = law.flow(up, down, lean);
        prop_assert!(here.q.is_finite() && here.up >= 0.0 && here.down <= 0.0, "{here:?}");
        let grain = 1e-13 * here.q.abs() + 1e-17;
        prop_assert!(law.flow(up + step, down, lean).q >= here.q - grain, "by the upper level");
        prop_assert!(law.flow(up, down + step, lean).q <= here.q + grain, "by the lower level");
    }

    #[test]
    fn derivatives_are_those_of_the_discharge(law in law(), (up, down) in levels(), lean in lean()) {
        let e = 1e-8;
        let here = law.flow(up, down, lean);
        let q = |up, down| law.flow(up, down, lean).q;
        let sides = [
            (here.up, (here.q - q(up - e, down)) / e, (q(up + e, down) - here.q) / e),
            (here.down, (here.q - q(up, down - e)) / e, (q(up, down + e) - here.q) / e),
        ];
        for (slope, before, after) in sides {
            // Between the slopes on either side: equal where the law is smooth, apart at a corner.
            let grain = 2e-3 * before.abs().max(after.abs()) + 1e-6 * here.q.abs() + 1e-9;
            prop_assert!(slope >= before.min(after) - grain && slope <= before.max(after) + grain,
                "{slope} {before} {after}");
        }
    }

    #[test]
    fn nothing_jumps(law in law(), (up, down) in levels(), lean in lean()) {
        let e = 1e-10;
        let here = law.flow(up, down, lean).q;
        for (up, down) in [(up + e, down), (up - e, down), (up, down + e), (up, down - e)] {
            prop_assert!((law.flow(up, down, lean).q - here).abs() < 1e-7);
        }
    }

    #[test]
    fn running_back_is_running_forth_seen_from_the_other_side(
        law in law(), (up, down) in levels(), lean in lean(),
    ) {
        let (there, back) = (law.flow(up, down, lean), law.flow(down, up, lean));
        if law.runs_back() {
            prop_assert_eq!((there.q, there.up, there.down), (-back.q, -back.down, -back.up));
            prop_assert!(law.flow(up, up, lean).q.abs() < 1e-300);
        } else {
            prop_assert!(there.q >= 0.0);
        }
    }

    #[test]
    fn a_lean_stays_inside_the_doubt(law in law(), (up, down) in levels()) {
        let [least, best, most] = [-1.0, 0.0, 1.0].map(|lean| law.flow(up, down, lean).q.abs());
        prop_assert!(least <= best && best <= most);
        prop_assert!(most <= 1.5001 * best + 1e-18 && least >= 0.4999 * best - 1e-18);
    }

    #[test]
    fn nothing_passes_below_the_sill(law in law(), below in 0.0..0.3_f64, lean in lean()) {
        if let Some(sill) = law.sill_m() {
            prop_assert!(law.flow(sill - below, sill - below - 0.1, lean).q.abs() < 1e-300);
        }
    }
}

fn l_h(law: &Law, up_m: f64, down_m: f64) -> f64 {
    law.flow(up_m, down_m, 0.0).q / L_H
}

#[test]
fn full_width_crest_is_kindsvater_and_carters() {
    // `fluids` 1.3.1, Q_weir_rectangular_full_Kindsvater_Carter, b = 0.4 m, p = 0.25 m, L/h; that one
    // includes −1 mm in width and +1 mm in head, which are taken out here.
    let crest = Law::crest(0.25, 0.4, 0.0, 0.25, 0.4);
    for (h, theirs) in [(0.03, 14143.1), (0.04, 21617.4), (0.06, 39613.7)] {
        let theirs = theirs * 0.4 / 0.399 * f64::powf(h / (h + 0.001), 1.5);
        assert!((l_h(&crest, 0.25 + h, 0.0) / theirs - 1.0).abs() < 3e-4, "{h}");
    }
}

#[test]
fn coefficients_agree_with_the_bureau_of_reclamations_table() {
    // USBR, Water Measurement Manual, as tabled in EPA/600/R-17/111 (SWMM Reference Manual II):
    // L/B, c1 and c2 in ft^½/s, over (2/3)·√(2·32.174).
    let table = [
        (0.2, -0.0087, 3.152),
        (0.4, 0.0317, 3.164),
        (0.5, 0.0612, 3.173),
        (0.6, 0.0995, 3.178),
        (0.7, 0.1602, 3.182),
        (0.8, 0.2376, 3.189),
        (0.9, 0.3447, 3.205),
        (1.0, 0.4000, 3.220),
    ];
    let unit = 2.0 / 3.0 * (2.0_f64 * 32.174).sqrt();
    for (ratio, c1, c2) in table {
        let (alpha, beta) = water::weir::kindsvater_carter(ratio);
        assert!((alpha / (c2 / unit) - 1.0).abs() < 0.003, "α at {ratio}");
        assert!((beta - c1 / unit).abs() < 0.001, "β at {ratio}");
    }
}

#[test]
fn drowned_crest_is_villemontes() {
    // (1 − r^1.5)^0.385, Villemonte 1947; by hand.
    for (r, share) in
        [(0.2, 0.9646), (0.5, 0.8454), (0.8, 0.6163), (0.9, 0.4770), (0.95, 0.3671), (0.99, 0.1983)]
    {
        assert!((water::weir::villemonte(r).0 - share).abs() < 6e-5, "{r}");
        let crest = Law::crest(0.2, 0.3, 0.0, 0.2, 0.3);
        let (free, drowned) = (l_h(&crest, 0.23, 0.0), l_h(&crest, 0.23, 0.2 + 0.03 * r));
        assert!((drowned / free - share).abs() < 6e-5, "{r}");
    }
}

#[test]
fn thick_crest_passes_as_brater_and_king_say() {
    let (thin, thick) = (Law::crest(0.2, 0.3, 0.0, 0.2, 0.3), Law::crest(0.2, 0.3, 0.01, 0.2, 0.3));
    for (h, c) in [(0.005, 1.45), (0.0125, 1.64), (0.02, 1.83), (0.03, 1.83)] {
        let share = l_h(&thick, 0.2 + h, 0.0) / l_h(&thin, 0.2 + h, 0.0);
        assert!((share - c / 1.83).abs() < 1e-9, "{h}");
    }
}

#[test]
fn opening_is_the_large_rectangular_orifice_and_the_drowned_weir() {
    // 0.2 m × 40 mm, C = 0.61: the integral of C·b·√(2g·Δ) over the height by SciPy's quad, L/h.
    let gap = Law::rectangle(0.1, 0.14, 0.2);
    for (h1, h2, theirs) in [
        (0.02, 0.0, 3667.68),
        (0.04, 0.0, 10373.76),
        (0.1, 0.0, 21948.08),
        (0.1, 0.03, 20396.38),
        (0.1, 0.06, 15560.65),
        (0.03, 0.02, 5186.88),
    ] {
        let ours = l_h(&gap, 0.1 + h1, 0.1 + h2);
        assert!((ours - theirs).abs() < 0.02, "{h1} {h2}: {ours}");
    }
    // Drowned orifice C·A·√(2g·Δ): 50 × 50 mm under 10 mm; L/h, by hand.
    assert!((l_h(&Law::rectangle(0.0, 0.05, 0.05), 0.31, 0.3) - 2431.4).abs() < 0.06);
}

#[test]
fn round_hole_has_the_area_and_the_flow_of_a_circle() {
    let (d, centre) = (0.03_f64, 0.1);
    let hole = Strips::circle(0.61, centre, d, 16);
    assert!((hole.area_m2() - 0.25 * PI * d * d).abs() < 1e-15);
    let hole = Law::Strips(hole);
    let drowned = 0.61 * 0.25 * PI * d * d * (2.0 * G * 0.02_f64).sqrt();
    assert!((hole.flow(0.3, 0.28, 0.0).q / drowned - 1.0).abs() < 1e-6);
    // Free, half full, just full and deep: the sum of C·chord·√(2g·Δ) over ten thousand slices.
    for (level, within) in [(centre, 0.01), (centre + 0.5 * d, 0.003), (centre + 0.05, 1e-4)] {
        let n = 10_000_u32;
        let exact: f64 = (0..n)
            .map(|i| {
                let y = d * ((f64::from(i) + 0.5) / f64::from(n) - 0.5);
                let chord = 2.0 * (0.25 * d * d - y * y).sqrt();
                0.61 * chord * (2.0 * G * (level - centre - y).max(0.0)).sqrt() * d / f64::from(n)
            })
            .sum();
        let ours = hole.flow(level, 0.0, 0.0).q;
        assert!((ours / exact - 1.0).abs() < within, "{level}: {}", ours / exact);
    }
}

#[test]
fn slots_with_round_ends_have_their_area() {
    let stadium = |long: f64, wide: f64| (long - wide) * wide + 0.25 * PI * wide * wide;
    let upright = Strips::slot_round_ends(0.61, 0.1, 0.04, 0.006, 12.0, 8);
    let lying = Strips::slot_round_ends(0.61, 0.1, 0.006, 0.04, 12.0, 8);
    for (slots, top) in [(upright, 0.14), (lying, 0.106)] {
        assert!((slots.area_m2() / (12.0 * stadium(0.04, 0.006)) - 1.0).abs() < 1e-12);
        let mut edge = 0.1;
        for strip in slots.strips() {
            assert!((strip.z0_m - edge).abs() < 1e-12, "one above the other");
            edge = strip.z1_m;
        }
        assert!((edge - top).abs() < 1e-12);
    }
}

#[test]
fn comb_passes_through_its_slots_and_then_over_all() {
    let comb = Law::Strips(Strips::comb(0.6, 0.2, 0.23, 0.1, 0.2));
    let slots = Law::Strips(Strips::rectangle(0.6, 0.2, f64::INFINITY, 0.1));
    assert!((l_h(&comb, 0.22, 0.0) - l_h(&slots, 0.22, 0.0)).abs() < 1e-9);
    // The same with the tips as a second weir and the slots as closed above.
    let over = Law::Strips(Strips::rectangle(0.6, 0.23, f64::INFINITY, 0.2));
    let closed = Law::Strips(Strips::rectangle(0.6, 0.2, 0.23, 0.1));
    let sum = l_h(&over, 0.25, 0.0) + l_h(&closed, 0.25, 0.0);
    assert!((l_h(&comb, 0.25, 0.0) - sum).abs() < 1e-9);
}

#[test]
fn lip_passes_as_weir_and_orifice_meet() {
    // π·D·1.84·h^1.5 and 0.6·A·√(2gh) (HEC-22), soft minimum by an independent Python script; L/h.
    for (d, h, theirs) in [
        (0.025, 0.01, 413.0),
        (0.032, 0.01, 596.0),
        (0.032, 0.02, 1060.0),
        (0.04, 0.03, 2055.0),
        (0.05, 0.05, 4182.0),
        (0.063, 0.02, 3298.0),
    ] {
        assert!((l_h(&Law::lip(0.3, d, None), 0.3 + h, 0.0) - theirs).abs() < 0.6, "{d} {h}");
    }
}

#[test]
fn lip_never_passes_more_than_its_pipe() {
    let line = PipeLine {
        bore_m: 0.026,
        length_m: 2.0,
        loss_k: 6.0,
        roughness_m: 1.5e-6,
        viscosity_m2_s: 1e-6,
    };
    let full =
        FullPipe { out_m: 0.0, doubt: 0.07, table: Arc::new(line.flow_table(1.0, TABLE_POINTS)) };
    let lip = Law::Lip(Lip::new(0.4, 0.026, Some(full)));
    for up in [0.41, 0.43, 0.5, 0.8] {
        assert!(lip.flow(up, 0.0, 0.0).q < line.q_at(up));
        assert!(lip.flow(up, up, 0.0).q.abs() < 1e-300, "a drowned outlet stops it");
    }
    assert!(lip.flow(0.9, 0.0, 0.0).q > 0.9 * line.q_at(0.9));
}

#[test]
fn sock_seeps_by_the_integral_of_its_wall() {
    let (z0, z1, p, a, k) = (0.1, 0.3, 0.5, 0.01, 0.02);
    let sock = Law::Fabric(Fabric::new(z0, z1, p, a, k));
    for (h1, h2) in [(0.25, 0.0), (0.25, 0.2), (0.35, 0.05), (0.35, 0.32), (0.15, 0.14)] {
        let n = 10_000_u32;
        let top = f64::min(h1, z1);
        let wall: f64 = (0..n)
            .map(|i| {
                let z = z0 + (top - z0) * (f64::from(i) + 0.5) / f64::from(n);
                (h1 - f64::max(z, h2)) * (top - z0) / f64::from(n)
            })
            .sum();
        let exact = k * (p * wall + a * (h1 - f64::max(z0, h2)));
        assert!((sock.flow(h1, h2, 0.0).q / exact - 1.0).abs() < 1e-7, "{h1} {h2}");
    }
}

#[test]
fn range_is_named() {
    let crest = Law::Crest(Crest::new(0.25, 0.4, 0.0, 0.25, 0.4));
    let validity = |head: f64| crest.range(0.25 + head, 0.0).validity;
    assert_eq!(validity(-0.01), Validity::Within);
    assert_eq!(validity(0.004), Validity::NotPredictable);
    assert_eq!(validity(0.012), Validity::Extrapolated);
    assert_eq!(validity(0.04), Validity::Within);
    assert_eq!(validity(0.7), Validity::Extrapolated);
    assert!(crest.range(0.254, 0.0).why.contains("5 mm"));
}

#[test]
fn range_of_pipes_pumps_and_socks_is_named() {
    let line = PipeLine {
        bore_m: 0.026,
        length_m: 2.0,
        loss_k: 6.0,
        roughness_m: 1.5e-6,
        viscosity_m2_s: 1e-6,
    };
    let gate = Gate { z_m: 0.2, over_m: 0.02 };
    let mut pipe = Pipe::new(0.0, Some(gate), Arc::new(line.flow_table(0.5, TABLE_POINTS)));
    pipe.transition_m3_s = Some(line.transition_m3_s());
    let pipe = Law::Pipe(pipe);
    // 3000 is in the middle of the transition: head from the line itself.
    let middle = line.head(1.5 * line.transition_m3_s().0);
    for (up, down, why) in [
        (0.3, 0.0, ""),
        (0.21, 0.0, "draws air"),
        (0.3, 0.4, "running back"),
        (0.6, 0.0, "above the pipe's table"),
        (0.3, 0.3 - middle, "neither laminar nor turbulent"),
        (0.3, 0.3 - 0.1 * middle, ""),
    ] {
        let range = pipe.range(up, down);
        assert!(
            range.why.contains(why) && range.why.is_empty() == why.is_empty(),
            "{up} {down}: {range:?}"
        );
    }

    // A curve that ends at 1 m of head.
    let curve = PumpCurve::new(&[(0.0, 3.0), (3e-4, 1.0)]).unwrap();
    let table = curve.table(&line, TABLE_POINTS);
    let ends = 1.0 - line.head(3e-4);
    assert!(ends > 0.1 && (table.curve_ends_at_lift_m() - ends).abs() < 1e-12);
    let pump = Law::pump(1.0, None, Arc::new(table));
    for (up, why) in [(0.1, ""), (1.0 - ends + 0.01, "past the end"), (1.1, "past the end")] {
        let range = pump.range(up, 0.0);
        assert!(
            range.why.contains(why) && range.why.is_empty() == why.is_empty(),
            "{up}: {range:?}"
        );
    }
    assert!(pump.range(-3.0, 0.0).why.contains("cannot lift"));

    let sock = Law::fabric(0.1, 0.3, 0.5, 0.0, 0.02);
    assert_eq!(sock.range(0.2, 0.0).validity, Validity::Within);
    assert_eq!(sock.range(0.31, 0.0).validity, Validity::Extrapolated);
    let bottom_only = Law::fabric(0.0, 0.0, 0.0, 0.5, 0.02);
    assert_eq!(bottom_only.range(0.2, 0.0).validity, Validity::Within);

    let lip = Law::lip(0.3, 0.032, None);
    assert!(lip.range(0.31, 0.0).why.contains("gulps"));
    assert_eq!(lip.range(0.4, 0.35).validity, Validity::NotPredictable);
    assert_eq!(Law::mouth(0.3, 0.2, 0.01).range(0.303, 0.0).validity, Validity::NotPredictable);
    assert_eq!(Law::mouth(0.3, 0.2, 0.01).range(0.303, 0.301).validity, Validity::Within);
}

proptest! {
    #[test]
    fn any_pump_through_any_line_falls_with_the_lift(
        steps in prop::collection::vec((0.05..1.0_f64, 0.05..1.0_f64), 1..8), line in line(), speed in 0.3..1.0_f64,
    ) {
        let heads: f64 = steps.iter().map(|step| step.1).sum();
        let mut points = vec![(0.0, heads)];
        for (dq, dh) in steps {
            let (q, h) = points[points.len() - 1];
            points.push((q + 1e-3 * dq, (h - dh).max(0.0)));
        }
        let curve = PumpCurve::new(&points).unwrap().at_speed(speed);
        let table = curve.table(&line, TABLE_POINTS);
        let mut before = f64::INFINITY;
        for i in 0..=100_u32 {
            let lift = 0.0101 * f64::from(i) * curve.head_max_m();
            let (q, slope) = table.at(lift);
            let grain = 1e-13 * curve.q_max_m3_s();
            prop_assert!(q <= before + grain && q >= 0.0 && slope <= 0.0, "{lift}: {q} {slope} {before}");
            prop_assert!(q <= curve.q_max_m3_s() + grain);
            let exact = curve.operating_point(lift, &line);
            prop_assert!((q - exact).abs() < 5e-3 * curve.q_max_m3_s(), "{lift}: {q} {exact}");
            if exact > 0.0 && exact < curve.q_max_m3_s() {
                prop_assert!((curve.head(exact) - line.head(exact) - lift).abs() < 1e-9);
            }
            before = q;
        }
    }

    #[test]
    fn any_line_loses_the_head_it_was_given(line in line(), log in -6.0..1.0_f64) {
        let head = 10_f64.powf(log);
        prop_assert!((line.head(line.q_at(head)) / head - 1.0).abs() < 1e-10);
    }
}

#[test]
fn laws_are_written_with_their_name_and_measures() {
    let json = serde_json::to_value(Law::lip(0.3, 0.032, None)).unwrap();
    assert_eq!(json["law"], "lip");
    assert_eq!(json["bore_m"], 0.032);
    let table = Arc::new(
        PipeLine {
            bore_m: 0.02,
            length_m: 1.0,
            loss_k: 2.0,
            roughness_m: 0.0,
            viscosity_m2_s: 1e-6,
        }
        .flow_table(1.0, 3),
    );
    let json = serde_json::to_value(Law::pipe(0.1, None, table)).unwrap();
    assert_eq!(json["law"], "pipe");
    assert_eq!(json["table"]["nodes"].as_array().unwrap().len(), 3);
}
