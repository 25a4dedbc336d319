use shop::nest::{Item, Kind, Rules, Size, least_height, nest};
fn main() {
    let file = std::env::args().nth(1).unwrap();
    let rounds: usize = std::env::args().nth(2).map_or(1500, |a| a.parse().unwrap());
    let gu = std::env::args().nth(3).is_some();
    for line in std::fs::read_to_string(file).unwrap().lines() {
        let v: Vec<&str> = line.split_whitespace().collect();
        let p = |i: usize| v[i].parse::<i32>().unwrap();
        let t = std::time::Instant::now();
        if v[1] == "S" {
            let n = p(4) as usize;
            let w: Vec<(Size, bool)> = (0..n)
                .map(|k| (Size { width: p(5 + 2 * k), height: p(6 + 2 * k) }, true))
                .collect();
            let (h, pl) = least_height(p(2), &w, 1.0).unwrap();
            for (i, a) in pl.iter().enumerate() {
                assert!(a.0.right() <= p(2) && a.0.top() <= h);
                for b in &pl[..i] {
                    assert!(!a.0.overlaps(b.0))
                }
            }
            println!("{} {} of {} {:.2}s", v[0], h, p(3), t.elapsed().as_secs_f64());
        } else {
            let m = p(2) as usize;
            let kinds: Vec<Kind> = (0..m)
                .map(|k| Kind {
                    size: Size { width: p(3 + 4 * k), height: p(4 + 4 * k) },
                    cost: p(5 + 4 * k) as u64,
                    quantity: (p(6 + 4 * k) > 0).then(|| p(6 + 4 * k) as usize),
                    turns: true,
                })
                .collect();
            let b = 3 + 4 * m;
            let n = p(b) as usize;
            let items: Vec<Item> = (0..n)
                .map(|k| Item {
                    size: Size { width: p(b + 1 + 2 * k), height: p(b + 2 + 2 * k) },
                    turns: true,
                    rooms: vec![],
                })
                .collect();
            let r = nest(&items, &kinds, Rules { rounds, is_guillotine: gu }).unwrap();
            for s in &r.sheets {
                for (i, a) in s.puts.iter().enumerate() {
                    let k = kinds[s.kind].size;
                    assert!(a.rect.right() <= k.width && a.rect.top() <= k.height);
                    for q in &s.puts[..i] {
                        assert!(!a.rect.overlaps(q.rect))
                    }
                }
            }
            println!(
                "{} n={} cost {} bound {} gap {:.2}% {:.2}s",
                v[0],
                n,
                r.cost,
                r.bound.cost,
                100.0 * (r.cost as f64 / r.bound.cost as f64 - 1.0),
                t.elapsed().as_secs_f64()
            );
        }
    }
}
