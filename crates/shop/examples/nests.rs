//! Lays what an outside judge looks at, and prints it as JSON.
//!
//! `nests FOLDER SETS FILE…` writes `FOLDER/nests.json`: so many sets of parts made at random, then the packing problems
//! in the files. For a parameter file it writes `FOLDER/NAME.json` and `NAME-sawn.json`: its sheets as they are laid, and as for a saw.

mod bench;

use std::path::Path;
use std::time::Instant;

use bench::{Bench, Problem, Task};
use glam::{DVec2, dvec2};
use plate::Contour;
use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha8Rng;
use rayon::prelude::*;
use serde_json::{Value, json};
use shop::nest::{Item, Kind, Nest, NestError, Rect, Rules, Size, least_height, nest};
use shop::sheets::gaps;
use shop::{LaidSheet, StockPlan, Work};

/// Rounds for a packing problem with each of its dice: a second for a hundred items.
const ROUNDS: usize = 100_000;
/// So many dice, as in the table of the example `packing`.
const SEEDS: u64 = 8;

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [folder, sets, files @ ..] = &arguments[..] else { panic!("nests FOLDER SETS FILE…") };
    let folder = Path::new(folder);
    std::fs::create_dir_all(folder).expect("the folder can be made");
    let (designs, problems): (Vec<&String>, Vec<&String>) =
        files.iter().partition(|file| file.ends_with(".toml"));
    for path in designs {
        let name = Path::new(path).file_stem().expect("a file has a name").to_string_lossy();
        write(&folder.join(format!("{name}.json")), &design(path, false));
        write(&folder.join(format!("{name}-sawn.json")), &design(path, true));
    }
    let bench = Bench::read(problems.into_iter());
    let sets: u64 = sets.parse().expect("a number of sets");
    let random: Vec<Value> = (0..sets).into_par_iter().filter_map(random_set).collect();
    let (strips, sheets): (Vec<&Problem>, Vec<&Problem>) =
        bench.problems.iter().partition(|problem| matches!(problem.task, Task::Strip { .. }));
    let all = json!({
        "sets": random,
        "strips": strips.par_iter().map(|problem| strip(problem)).collect::<Vec<_>>(),
        "problems": sheets.par_iter().map(|problem| problem_with_sheets(problem, &bench)).collect::<Vec<_>>(),
    });
    write(&folder.join("nests.json"), &all);
}

fn write(path: &Path, value: &Value) {
    std::fs::write(path, value.to_string()).expect("the folder can be written to");
}

/// A part with its size, whether it may be turned, and an opening from its lower left corner.
struct Part {
    size: Size,
    turns: bool,
    opening: Option<Rect>,
}

fn random_set(seed: u64) -> Option<Value> {
    let mut dice = ChaCha8Rng::seed_from_u64(seed);
    let gap = dice.random_range(0..12);
    let parts: Vec<Part> = (0..dice.random_range(1..40)).map(|_| random_part(&mut dice)).collect();
    let kinds: Vec<Kind> = (0..dice.random_range(1..4))
        .map(|_| Kind {
            size: Size { width: dice.random_range(160..500), height: dice.random_range(160..500) },
            cost: dice.random_range(0..200),
            quantity: dice.random_bool(0.3).then(|| dice.random_range(1..4)),
            turns: dice.random_bool(0.8),
        })
        .collect();
    let larger = |size: Size| Size { width: size.width + gap, height: size.height + gap };
    let room = |rect: &Rect| {
        let Rect { x, y, size: Size { width, height } } = *rect;
        Rect { x: x + gap, y: y + gap, size: Size { width: width - gap, height: height - gap } }
    };
    let item = |part: &Part| {
        let rooms: Vec<Rect> = part.opening.iter().map(room).collect();
        Item { size: larger(part.size), turns: part.turns, openings: rooms.clone(), rooms }
    };
    let items: Vec<Item> = parts.iter().map(item).collect();
    let grown: Vec<Kind> =
        kinds.iter().map(|kind| Kind { size: larger(kind.size), ..kind.clone() }).collect();
    let rules = Rules { is_guillotine: seed.is_multiple_of(3), rounds: 300, tidying: 100, seed };
    let nest = match nest(&items, &grown, rules) {
        Ok(nest) => nest,
        Err(NestError::TooLarge(_) | NestError::TooFew { .. }) => return None,
        Err(error) => panic!("{error}"),
    };
    let part = |part: &Part| {
        let opening = part.opening.map(|r| [r.x, r.y, r.size.width, r.size.height]);
        json!({ "size": sides(part.size), "turns": part.turns, "opening": opening })
    };
    let parts: Vec<Value> = parts.iter().map(part).collect();
    let name = format!("random {seed}");
    Some(nested(&name, gap, rules.is_guillotine, parts, &kinds, &nest))
}

fn random_part(dice: &mut ChaCha8Rng) -> Part {
    let is_frame = dice.random_bool(0.15);
    let sides = if is_frame { 90..160 } else { 4..150 };
    let mut side = || dice.random_range(sides.clone());
    let size = Size { width: side(), height: side() };
    let opening = is_frame.then(|| {
        let [left, low, right, high] = [(); 4].map(|()| dice.random_range(5..20));
        let size = Size { width: size.width - left - right, height: size.height - low - high };
        Rect { x: left, y: low, size }
    });
    Part { size, turns: dice.random_bool(0.8), opening }
}

fn problem_with_sheets(Problem { name, task }: &Problem, bench: &Bench) -> Value {
    let Task::Sheets { kinds, items } = task else { panic!("{name} is no problem with sheets") };
    let one = |seed| {
        let rules = Rules { rounds: ROUNDS, tidying: 0, seed, is_guillotine: false };
        nest(items, kinds, rules).expect("it has sheets enough")
    };
    let nests: Vec<Nest> = (1..=SEEDS).into_par_iter().map(one).collect();
    let nest = nests.iter().min_by_key(|nest| nest.cost).expect("at least one");
    let part =
        |item: &Item| json!({ "size": sides(item.size), "turns": item.turns, "opening": null });
    let parts = items.iter().map(part).collect();
    let mut told = nested(name, 0, false, parts, kinds, nest);
    told["best_known"] = json!(bench.best_known.get(name));
    told
}

fn nested(
    name: &str,
    gap: i32,
    is_guillotine: bool,
    parts: Vec<Value>,
    kinds: &[Kind],
    nest: &Nest,
) -> Value {
    let kind = |kind: &Kind| {
        json!({
            "size": sides(kind.size), "cost": kind.cost, "quantity": kind.quantity, "turns": kind.turns,
        })
    };
    let sheet = |sheet: &shop::nest::Sheet| {
        let put = |put: &shop::nest::Put| json!({ "part": put.item, "at": [put.rect.x, put.rect.y], "is_turned": put.is_turned });
        json!({ "kind": sheet.kind, "laid": sheet.puts.iter().map(put).collect::<Vec<_>>() })
    };
    json!({
        "name": name,
        "gap": gap,
        "is_guillotine": is_guillotine,
        "parts": parts,
        "kinds": kinds.iter().map(kind).collect::<Vec<_>>(),
        "cost": nest.cost,
        "bound": nest.bound,
        "sheets": nest.sheets.iter().map(sheet).collect::<Vec<_>>(),
    })
}

fn sides(size: Size) -> [i32; 2] {
    [size.width, size.height]
}

fn strip(Problem { name, task }: &Problem) -> Value {
    let Task::Strip { width, wanted, optimum } = task else { panic!("{name} is no strip") };
    let begin = Instant::now();
    let (height, places) = least_height(*width, wanted).expect("none is wider than the strip");
    let seconds = begin.elapsed().as_secs_f64();
    let laid = |(rect, is_turned): &(Rect, bool)| json!({ "at": [rect.x, rect.y], "is_turned": is_turned });
    json!({
        "name": name,
        "width": width,
        "optimum": optimum,
        "height": height,
        "seconds": seconds,
        "parts": wanted.iter().map(|(size, _)| sides(*size)).collect::<Vec<_>>(),
        "laid": places.iter().map(laid).collect::<Vec<_>>(),
    })
}

/// The sheets of a parameter file, in the form of `checks/shop.json`; if asked for, as a saw cuts them.
fn design(path: &str, is_sawn: bool) -> Value {
    let text = std::fs::read_to_string(path).unwrap_or_else(|error| panic!("{path}: {error}"));
    let read = params::read(&text);
    let mut file = read.file.unwrap_or_else(|| panic!("{path}: {:#?}", read.findings));
    if is_sawn {
        file.cutting.straight_through = Some(true);
    }
    let design = design::resolve(&file).design.expect("it resolves");
    let (works, _) = shop::works(&file, &design);
    let begin = Instant::now();
    let (plans, _) = shop::sheets::lay(&file, &design, &works);
    let seconds = begin.elapsed().as_secs_f64();
    let sheets = plans.iter().flat_map(|plan| plan.sheets.iter().map(move |sheet| (plan, sheet)));
    let wanted = design.pieces.iter().filter(|piece| piece.role.is_sheet());
    json!({
        "sheets": sheets.map(|(plan, sheet)| told_sheet(&file, &design, &works, plan, sheet)).collect::<Vec<_>>(),
        "seconds": seconds,
        "wanted": wanted.map(|piece| (piece.number.clone(), json!(piece.quantity))).collect::<serde_json::Map<_, _>>(),
        "prices": plans.iter().map(|plan| json!([plan.price, plan.least_price])).collect::<Vec<_>>(),
    })
}

fn told_sheet(
    file: &params::File,
    design: &design::Design,
    works: &[Work],
    plan: &StockPlan,
    sheet: &LaidSheet,
) -> Value {
    let cutting = &file.cutting;
    let laid = |laid: &shop::Laid| {
        let work =
            works.iter().find(|work| work.piece == laid.piece).expect("what is laid is made");
        let point = |p: DVec2| <[f64; 2]>::from(laid.point(p));
        let around = |contour: &Contour| points(contour).into_iter().map(point).collect::<Vec<_>>();
        json!({
            "piece": design.pieces[laid.piece].number,
            "copy": laid.copy,
            "loops": work.pattern.through.iter().map(around).collect::<Vec<_>>(),
        })
    };
    let offcut = |offcut: &shop::Offcut| json!({ "name": offcut.name, "corners_mm": offcut.corners_mm.map(<[f64; 2]>::from) });
    json!({
        "name": sheet.name,
        "sheet": plan.sheet,
        "size_mm": <[f64; 2]>::from(sheet.size_mm),
        "price": sheet.price,
        "margin_mm": cutting.margin.to_mm(),
        "spacing_mm": cutting.spacing.to_mm(),
        "cut_mm": cutting.cut_width().to_mm(),
        "is_straight_through": gaps::is_straight_through(cutting),
        "laid": sheet.laid.iter().map(laid).collect::<Vec<_>>(),
        "offcuts": sheet.offcuts.iter().map(offcut).collect::<Vec<_>>(),
        "saw_cuts": sheet.saw_cuts.iter().map(|cut| cut.ends_mm.map(<[f64; 2]>::from)).collect::<Vec<_>>(),
    })
}

/// Points along a contour; of an arc sixty-four, on the arc.
fn points(contour: &Contour) -> Vec<DVec2> {
    let of = |segment: &plate::Segment| {
        let number = if segment.arc.is_some() { 64 } else { 1 };
        let at = |k: u32| segment.point_at(f64::from(k) / f64::from(number));
        (0..number).map(at).map(|p| dvec2(p.x, p.y)).collect::<Vec<_>>()
    };
    contour.0.iter().flat_map(of).collect()
}
