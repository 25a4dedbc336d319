//! Guards the factors: against matrices that are multiplied out, and that what is loose is named.

use super::*;

/// Second differences of 12 points: solved by hand with two right sides.
#[test]
fn solves_two_right_sides() {
    let n = 12;
    let mut k = Skyline::new(&(0..n).map(|i: usize| i.saturating_sub(1)).collect::<Vec<_>>());
    for i in 0..n {
        k.add(i, i, 2.0);
        if i > 0 {
            k.add(i - 1, i, -1.0);
        }
    }
    let mut b = vec![0.0; 2 * n];
    for i in 0..n {
        b[2 * i] = 1.0;
    }
    b[2 * (n - 1) + 1] = 1.0;
    k.factor().expect("it holds").solve(&mut b, 2);
    for i in 0..n {
        let (s, all) = ((i + 1) as f64, (n + 1) as f64);
        assert!((b[2 * i] - 0.5 * s * (all - s)).abs() < 1e-12);
        assert!((b[2 * i + 1] - s / all).abs() < 1e-14);
    }
}

#[test]
fn a_chain_without_an_anchor_is_loose_at_its_end() {
    let mut k = Skyline::new(&[0, 0, 1]);
    for i in 0..2 {
        k.add(i, i, 1.0);
        k.add(i + 1, i + 1, 1.0);
        k.add(i, i + 1, -1.0);
    }
    assert_eq!(k.factor().map(|_| ()), Err(Loose(2)));
}

/// Rows that begin anywhere, three to fill up; each number of right sides that goes its own way.
#[test]
fn solves_any_skyline_with_any_number_of_right_sides() {
    for n in [1, 3, 4, 5, 8, 30, 41] {
        let first: Vec<usize> = (0..n).map(|i: usize| i.saturating_sub((7 * i) % 11)).collect();
        let mut k = Skyline::new(&first);
        let mut dense = vec![0.0; n * n];
        for (i, first) in first.iter().enumerate() {
            for j in *first..=i {
                let value = if i == j { 30.0 } else { ((3 * i + 5 * j) % 7) as f64 - 3.0 };
                k.add(i, j, value);
                dense[n * i + j] = value;
                dense[n * j + i] = value;
            }
        }
        let factor = k.factor().expect("its diagonal is greater than all beside it");
        for cases in 1..=9 {
            let x = |i: usize, case: usize| ((i + 2 * case) % 5) as f64 - 1.5;
            let mut b = vec![0.0; n * cases];
            for (at, b) in b.iter_mut().enumerate() {
                let row = dense[n * (at / cases)..][..n].iter().enumerate();
                *b = row.map(|(j, k)| k * x(j, at % cases)).sum();
            }
            factor.solve(&mut b, cases);
            for (at, b) in b.iter().enumerate() {
                let want = x(at / cases, at % cases);
                assert!((b - want).abs() < 1e-12, "{n} {cases}: {b} {want}");
            }
        }
    }
}

#[test]
fn the_loose_row_is_named_wherever_among_four_it_is() {
    for loose in 0..9 {
        let mut k = Skyline::new(&(0..9).collect::<Vec<_>>());
        (0..9).filter(|&i| i != loose).for_each(|i| k.add(i, i, 2.0));
        assert_eq!(k.factor().map(|_| ()), Err(Loose(loose)));
    }
}
