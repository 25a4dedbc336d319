//! Laws that hold for every sump, tried on the demonstrations.

mod common;

use common::{run, works};
use design::{Waterworks, WayShape};
use water::{
    Failure, Kind, Leans, Part, Running, Setting, SteadySolver, Stop, TransientOptions,
    rehearse_once, transient,
};

const DEMOS: [(&str, &str); 4] = [
    ("seahorse", include_str!("../../../params/seahorse.toml")),
    ("mangrove", include_str!("../../../params/mangrove.toml")),
    ("brook", include_str!("../../../params/brook.toml")),
    ("fragfarm", include_str!("../../../params/fragfarm.toml")),
];

/// Levels are compared to a thousandth of a millimetre, m.
const SAME_M: f64 = 1e-6;

fn each(check: impl Fn(&str, &Waterworks)) {
    for (name, text) in DEMOS {
        check(name, &works(text));
    }
}

fn settled(mut running: Running<'_>) -> Running<'_> {
    let mut solver = SteadySolver::new(&running.system.network).expect("the network is sound");
    running.settle(&mut solver).expect("the flows balance");
    running
}

fn basins<'a>(running: &'a Running<'_>) -> &'a [f64] {
    &running.levels_m[..running.system.tanks.basins]
}

#[test]
fn all_demos_run() {
    each(|name, works| {
        let running = run(works).unwrap_or_else(|error| panic!("{name}: {error}"));
        assert!(running.return_flow() > 1e-4, "{name}");
        assert!(running.settled.residual_m3_s < 1e-11, "{name}");
    });
}

/// What comes into every free tank leaves it.
#[test]
fn flows_balance_in_every_tank() {
    each(|name, works| {
        let running = run(works).expect("it runs");
        let inflow = running.system.network.inflow(&running.levels_m);
        for (i, is_held) in running.system.held().into_iter().enumerate() {
            assert!(is_held || inflow[i].abs() < 1e-11, "{name}: {} in tank {i}", inflow[i]);
        }
    });
}

#[test]
fn more_flow_never_lowers_a_level() {
    each(|name, works| {
        let mut running = run(works).expect("it runs");
        let pumps: Vec<usize> =
            running.system.elements(|p| matches!(p, Part::Line { .. })).collect();
        let mut before = vec![f64::NEG_INFINITY; running.system.tanks.basins];
        for share in [0.2, 0.4, 0.6, 0.8, 1.0, 1.2] {
            for &i in &pumps {
                running.system.network.elements[i].scale = share;
            }
            running = settled(running);
            for (i, (&level, low)) in basins(&running).iter().zip(&before).enumerate() {
                assert!(level >= low - SAME_M, "{name}: tank {i} at {share}");
            }
            before = basins(&running).to_vec();
        }
    });
}

#[test]
fn a_lower_crest_never_raises_a_level() {
    each(|name, works| {
        let before = run(works).expect("it runs");
        for k in 0..works.ways.len() {
            let mut lower = works.clone();
            match &mut lower.ways[k].shape {
                WayShape::Crest { height_mm, .. } => *height_mm -= 15.0,
                WayShape::Comb { sill_mm, tip_mm, .. } => {
                    *sill_mm -= 15.0;
                    *tip_mm -= 15.0;
                }
                WayShape::Door { set_mm, .. } => *set_mm -= 15.0,
                _ => continue,
            }
            // The same valves: a keeper would set them anew.
            let setting =
                Setting { valves: before.system.setting.valves.clone(), ..Setting::default() };
            let after = Running::new(&lower, setting).expect("it runs");
            for (i, (a, b)) in basins(&after).iter().zip(basins(&before)).enumerate() {
                // The valve is set to a millionth of its bore.
                assert!(*a <= b + 1e-5, "{name}: way {k} raises tank {i} by {}", a - b);
            }
        }
    });
}

/// With evaporation and top-up off, a running sump stays as it is; disturbed, it comes back.
#[test]
fn the_steady_state_is_where_time_leads() {
    each(|name, works| {
        let mut running = run(works).expect("it runs");
        let evaporates = |p: &Part| matches!(p, Part::DisplayEvaporation | Part::SumpEvaporation);
        let air: Vec<usize> = running.system.elements(evaporates).collect();
        for i in air {
            running.system.network.elements[i].scale = 0.0;
        }
        let running = settled(running);
        let mut network = running.system.network.clone();
        let begun = network.volumes(&running.levels_m);
        let mut moved = begun.clone();
        // A litre from the display to the first chamber.
        moved[running.system.tanks.display] -= 1e-3;
        moved[0] += 1e-3;
        let exact = TransientOptions { level_m: 1e-8, ..TransientOptions::default() };
        let run = transient(&mut network, &moved, 86_400.0, &mut (), &exact)
            .expect("the network is sound");
        assert_eq!(run.stop, Stop::End);
        for (i, (a, b)) in run.levels_m.iter().zip(&running.levels_m).enumerate() {
            assert!((a - b).abs() < 2e-5, "{name}: tank {i} {a} {b}");
        }
    });
}

#[test]
fn the_band_holds_the_level() {
    each(|name, works| {
        let running = run(works).expect("it runs");
        let report = water::report(&running);
        let figures = report.basins.iter().map(|b| b.level_m).chain([report.display_m]);
        for figure in figures {
            assert!(figure.low <= figure.mid && figure.mid <= figure.high, "{name}: {figure:?}");
        }
        // And levels at coefficients inside the box lie inside the band.
        for lean in [-0.7, 0.4] {
            let kinds = Kind::ALL.into_iter().enumerate();
            let leans = kinds.fold(Leans::NONE, |l, (k, kind)| {
                l.with(kind, if k % 2 == 0 { lean } else { -lean })
            });
            let other = running.leaning(&leans).expect("the flows balance");
            for basin in &report.basins {
                let level = other.levels_m[basin.tank];
                let Some(figure) = Some(basin.level_m) else { continue };
                assert!(
                    figure.low - SAME_M <= level && level <= figure.high + SAME_M,
                    "{name}: {} at {level}, {figure:?}",
                    basin.name
                );
            }
        }
    });
}

#[test]
fn water_is_kept_in_every_rehearsal() {
    each(|name, works| {
        let running = run(works).expect("it runs");
        let (failures, unknown) = water::rehearsals(works);
        assert!(unknown.is_empty(), "{name}: {unknown:?}");
        for failure in &failures {
            let outcome = rehearse_once(&running, failure).expect("it can be rehearsed");
            let share = outcome.drift_m3 / outcome.total_m3;
            assert!(share < 1e-9, "{name}, {}: {share:e}", outcome.name);
            assert_eq!(outcome.stop, Stop::End, "{name}, {}", outcome.name);
        }
    });
}

/// After a power cut the display has run back to where air gets in, and in the sump every chamber that the
/// return has reached stands level with it.
#[test]
fn a_power_cut_ends_at_rest() {
    each(|name, works| {
        let running = run(works).expect("it runs");
        let outcome = rehearse_once(&running, &Failure::PowerCut).expect("it can be rehearsed");
        let t = &running.system.tanks;
        let end = |tank: usize| outcome.reaches[tank].end_m;
        let breaks_m = works.lines.iter().filter(|l| l.to.is_none()).map(|l| l.break_mm * 1e-3);
        let lowest = breaks_m.fold(f64::INFINITY, f64::min);
        // Below it only evaporation lowers the display.
        assert!(lowest - 0.02 < end(t.display) && end(t.display) <= lowest + 1e-4, "{name}");
        let level = end(t.returning);
        assert!(running.levels_m[t.returning] < level, "{name}: the return rises");
        assert!(level < works.basins[t.returning].rim_mm * 1e-3, "{name}");
        for way in works.ways.iter().filter(|w| w.is_in) {
            if let WayShape::Crest { height_mm, .. } = way.shape {
                // A millimetre of water over a crest is no longer held by it.
                let is_joined =
                    [way.up, way.down].iter().all(|&b| end(b) > height_mm * 1e-3 + 1e-3);
                let apart = (end(way.up) - end(way.down)).abs();
                assert!(!is_joined || apart < 1e-4, "{name}: {} mm over {}", apart * 1e3, way.leaf);
            }
        }
    });
}

/// Behind the last leaf of the brook, under which the water passes, it stands level with the space before:
/// the crest that the return would drown is that of the leaf before, at 8 1/2 in.
#[test]
fn the_crest_that_the_return_would_drown_is_sought_through_gaps() {
    let works = works(DEMOS[2].1);
    let reserve = water::report(&run(&works).expect("it runs")).reserve;
    assert_eq!(reserve.decided_by, "the crest of over, which it would drown");
    assert!((reserve.highest_safe_m.expect("some level is safe") - 8.5 * 0.0254).abs() < 1e-9);
}

/// Speed is steps times the cost of a step. Of the steps, those over settled top-up cycles are saved, while
/// every switching of the float is told: one rehearsal of two days tells of several dozen.
#[test]
fn all_rehearsals_of_the_largest_demo_take_a_few_thousand_steps() {
    let works = works(include_str!("../../../params/fragfarm.toml"));
    let running = run(&works).expect("it runs");
    let failures = water::standing(&works);
    let mut steps = 0;
    let mut most_switched = 0;
    for failure in &failures {
        let outcome = rehearse_once(&running, failure).expect("it can be rehearsed");
        let is_float = |what: &water::Happening| {
            matches!(what, water::Happening::TopUpOn | water::Happening::TopUpOff)
        };
        let switched = outcome.events.iter().filter(|e| is_float(&e.what)).count();
        assert!(outcome.events.is_sorted_by(|a, b| a.t_s <= b.t_s), "{}", outcome.name);
        assert!(outcome.samples.is_sorted_by(|a, b| a.t_s <= b.t_s), "{}", outcome.name);
        most_switched = most_switched.max(switched);
        steps += outcome.steps;
    }
    println!("{steps} steps for {} rehearsals", failures.len());
    assert!(steps < 4800, "{steps} steps");
    assert!(50 < most_switched, "the float switches {most_switched} times");
}

#[test]
fn flows_in_time_are_what_fills_and_empties_the_display() {
    each(|name, works| {
        let running = settled(Running::new(works, Setting::default()).expect("it runs"));
        let system = &running.system;
        let outcome = rehearse_once(&running, &Failure::PowerBack).expect("it can be rehearsed");
        let above = [system.tanks.display, system.tanks.weir_box];
        let crosses = |i: &usize| {
            let element = &system.network.elements[*i];
            above.contains(&element.up) != above.contains(&element.down)
        };
        let all: Vec<usize> = (0..system.network.elements.len()).filter(crosses).collect();
        let (up, down): (Vec<usize>, Vec<usize>) =
            all.iter().partition(|i| above.contains(&system.network.elements[**i].down));
        let [up, down] = [up, down].map(|some| outcome.flows_m3_s(&system.network, &some));
        let volume = |levels_m: &[f64]| -> f64 {
            above.iter().map(|&tank| system.network.tanks[tank].volume(levels_m[tank]).0).sum()
        };
        // By trapezes over the samples, against the volumes: once down while the power is off, and once up again.
        let (mut moved, mut most) = (0.0_f64, 0.0_f64);
        let begun = volume(&outcome.samples[0].levels_m);
        let mut worst = 0.0_f64;
        // Of periods that were leapt over only the ends are known.
        let until_s = outcome.cycles.iter().map(|cycle| cycle.from_s).fold(f64::INFINITY, f64::min);
        let known = outcome.samples.windows(2).take_while(|pair| pair[1].t_s <= until_s);
        for (k, pair) in known.enumerate() {
            let net = [up[k][1] - down[k][1], up[k + 1][0] - down[k + 1][0]];
            moved += 0.5 * (net[0] + net[1]) * (pair[1].t_s - pair[0].t_s);
            let gained = volume(&pair[1].levels_m) - begun;
            most = most.max(gained.abs());
            worst = worst.max((gained - moved).abs());
        }
        println!("{name}: {:.3} L of {:.1} L", worst * 1e3, most * 1e3);
        assert!(1e-3 < most, "{name}: nothing came down");
        assert!(worst < 0.03 * most, "{name}: {worst} of {most} m³");
    });
}
