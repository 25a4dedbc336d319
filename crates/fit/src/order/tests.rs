//! Guards the order of removals against made-up stacks whose shortest orders are known.

mod shaft;

use glam::DVec3;

use super::*;
use crate::motion::Rigid;

/// Things that hold each other down: each comes out as soon as all of one of its sets are gone.
#[derive(Default)]
struct Stack {
    /// For each the sets that free it by plain moves.
    frees: Vec<Vec<Vec<RemovableId>>>,
    /// The same for a search by chance.
    by_chance: Vec<Vec<Vec<RemovableId>>>,
    wholes: Vec<Vec<RemovableId>>,
    instead_of: Vec<Option<RemovableId>>,
}

impl Stack {
    fn new(frees: &[&[&[RemovableId]]]) -> Self {
        let owned = |sets: &[&[RemovableId]]| sets.iter().map(|set| set.to_vec()).collect();
        Self {
            frees: frees.iter().map(|sets| owned(sets)).collect(),
            by_chance: vec![Vec::new(); frees.len()],
            wholes: vec![Vec::new(); frees.len()],
            instead_of: vec![None; frees.len()],
        }
    }

    fn sets(&self, which: RemovableId) -> impl Iterator<Item = &Vec<RemovableId>> {
        self.frees[which].iter().chain(&self.by_chance[which])
    }
}

/// A way that remembers which set it relies on.
fn way(set: usize) -> Vec<Motion> {
    let shift = u32::try_from(set).map(f64::from).expect("few sets");
    vec![Motion::slide(Rigid::HOME, DVec3::new(shift, 0.0, 100.0))]
}

impl Search for Stack {
    fn count(&self) -> usize {
        self.frees.len()
    }
    fn instead_of(&self, which: RemovableId) -> Option<RemovableId> {
        self.instead_of[which]
    }
    fn wholes(&self, which: RemovableId) -> &[RemovableId] {
        &self.wholes[which]
    }
    fn is_last(&self, _: RemovableId) -> bool {
        false
    }
    fn way(&self, which: RemovableId, gone: &[bool], tries: Tries) -> Verdict {
        let n_tried = match tries {
            Tries::Plain => self.frees[which].len(),
            Tries::Chance { .. } => self.sets(which).count(),
        };
        let is_gone = |set: &Vec<RemovableId>| set.iter().all(|k| gone[*k]);
        let set = self.sets(which).take(n_tried).position(is_gone);
        set.map_or(Verdict::NotFound { steps: 7 }, |set| Verdict::Found(way(set)))
    }
    fn holds(&self, which: RemovableId, gone: &[bool], moves: &[Motion]) -> bool {
        self.is_free(which, gone, moves)
    }
    fn is_free(&self, which: RemovableId, gone: &[bool], moves: &[Motion]) -> bool {
        let set = self.sets(which).enumerate().find(|(set, _)| way(*set) == moves);
        set.is_some_and(|(_, set)| set.iter().all(|k| gone[*k]))
    }
}

fn orders(stack: &Stack) -> Vec<Vec<RemovableId>> {
    let names = |known: &Known| known.order.iter().map(|out| out.which).collect();
    all(stack).1.iter().map(names).collect()
}

const FREE: &[&[RemovableId]] = &[&[]];

#[test]
fn a_stack_comes_off_from_the_top() {
    let stack = Stack::new(&[&[&[1]], &[&[2]], &[&[3]], FREE]);
    assert_eq!(orders(&stack), [vec![3, 2, 1, 0], vec![3, 2, 1], vec![3, 2], vec![3]]);
}

#[test]
fn what_does_not_matter_stays() {
    // 0 needs only 4; 1, 2, 3 come out before it, but for others.
    let stack = Stack::new(&[&[&[4]], FREE, FREE, &[&[1, 2]], FREE]);
    let orders = orders(&stack);
    assert_eq!(orders[0], [4, 0]);
    assert_eq!(orders[3], [1, 2, 3]);
}

#[test]
fn a_shorter_order_than_that_of_emptying_is_seen() {
    // Pruned from its end, the order for 0 keeps 1 and 2; 3 alone would do.
    let stack = Stack::new(&[&[&[1, 2], &[3]], FREE, FREE, FREE]);
    let known = &all(&stack).1[0];
    let order: Vec<_> = known.order.iter().map(|out| out.which).collect();
    assert_eq!(order, [3, 0]);
    assert!(known.is_shortest);
    // 4 is only free after 3, and a pair of both does for 0 what three others do.
    let stack = Stack::new(&[&[&[1, 2, 5], &[3, 4]], FREE, FREE, FREE, &[&[3]], FREE]);
    let known = &all(&stack).1[0];
    let order: Vec<_> = known.order.iter().map(|out| out.which).collect();
    assert_eq!((order, known.is_shortest), (vec![3, 4, 0], true));
}

#[test]
fn chance_is_asked_with_everything_in_place_before_anything_is_taken_out() {
    let mut stack = Stack::new(&[&[&[1]], FREE]);
    assert_eq!(orders(&stack)[0], [1, 0]);
    stack.by_chance[0] = vec![vec![]];
    assert_eq!(orders(&stack)[0], [0]);
}

#[test]
fn chance_goes_on_where_plain_moves_end() {
    let mut stack = Stack::new(&[&[&[1]], &[], FREE]);
    stack.by_chance[1] = vec![vec![2]];
    assert_eq!(orders(&stack), [vec![2, 1, 0], vec![2, 1], vec![2]]);
}

#[test]
fn two_that_lock_each_other_are_left() {
    let stack = Stack::new(&[&[&[1]], &[&[0]], FREE]);
    let known = all(&stack).1;
    assert!(known[0].order.is_empty() && known[1].order.is_empty());
    assert_eq!(known[0].alone, Verdict::NotFound { steps: 7 });
    assert_eq!(known[2].order.len(), 1);
}

#[test]
fn a_door_goes_with_its_leaf_and_has_an_order_of_its_own() {
    // 1 is the door of the leaf 0; 2 lies on both.
    let mut stack = Stack::new(&[&[&[2]], &[&[2]], FREE]);
    stack.wholes[1] = vec![0];
    let (outs, known) = all(&stack);
    assert_eq!(outs.iter().map(|out| out.which).collect::<Vec<_>>(), [2, 0]);
    assert_eq!(known[1].order.iter().map(|out| out.which).collect::<Vec<_>>(), [2, 1]);
}

#[test]
fn a_door_is_taken_off_when_its_leaf_needs_it() {
    let mut stack = Stack::new(&[&[&[1]], FREE]);
    stack.wholes[1] = vec![0];
    assert_eq!(orders(&stack), [vec![1, 0], vec![1]]);
}

#[test]
fn a_spare_is_asked_with_its_counterpart_out() {
    // 1 stands where 0 stands; 2 lies on both.
    let mut stack = Stack::new(&[&[&[2]], &[&[0, 2]], FREE]);
    stack.instead_of[1] = Some(0);
    let (outs, known) = all(&stack);
    assert_eq!(outs.iter().map(|out| out.which).collect::<Vec<_>>(), [2, 0]);
    assert_eq!(known[1].order.iter().map(|out| out.which).collect::<Vec<_>>(), [2, 1]);
}

/// Numbers that look thrown, by a linear congruence (Knuth, The Art of Computer Programming, vol. 2, 3.3.4).
fn thrown(state: &mut u64) -> usize {
    *state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
    usize::try_from(*state >> 33).expect("31 bits")
}

#[test]
fn every_order_works_and_none_of_its_things_can_stay() {
    let mut state = 1;
    for _ in 0..300 {
        let n = 3 + thrown(&mut state) % 6;
        let set = |state: &mut u64, own| -> Vec<RemovableId> {
            let n_others = thrown(state) % 4;
            (0..n_others).map(|_| thrown(state) % n).filter(|k| *k != own).collect()
        };
        let mut stack = Stack::new(&vec![FREE; n]);
        for own in 0..n {
            stack.frees[own] = (0..1 + own % 2).map(|_| set(&mut state, own)).collect();
        }
        for (which, known) in all(&stack).1.iter().enumerate() {
            let order: Vec<_> = known.order.iter().map(|out| out.which).collect();
            assert_eq!(works(&stack, &order), !order.is_empty());
            // Whatever comes out comes out when everything that can come out has come out.
            assert_eq!(order.is_empty(), !reachable(&stack)[which]);
            for k in 0..order.len().saturating_sub(1) {
                let mut without = order.clone();
                without.remove(k);
                assert!(!works(&stack, &without), "{which} does not need {}", order[k]);
            }
            if known.is_shortest && !order.is_empty() {
                assert_eq!(order.len(), shortest(&stack, which));
            }
        }
    }
}

fn works(stack: &Stack, order: &[RemovableId]) -> bool {
    let mut gone = vec![false; stack.count()];
    let is_free = |which: &RemovableId| {
        let is_found = matches!(stack.way(*which, &gone, Tries::Plain), Verdict::Found(_));
        gone[*which] = true;
        is_found
    };
    !order.is_empty() && order.iter().all(is_free)
}

fn reachable(stack: &Stack) -> Vec<bool> {
    let mut gone = vec![false; stack.count()];
    for _ in 0..stack.count() {
        for which in 0..stack.count() {
            gone[which] |= matches!(stack.way(which, &gone, Tries::Plain), Verdict::Found(_));
        }
    }
    gone
}

/// The length of the shortest order, by trying every set of removals in breadth.
fn shortest(stack: &Stack, target: RemovableId) -> usize {
    let mut sets = vec![vec![false; stack.count()]];
    for length in 1.. {
        let mut next = Vec::new();
        for gone in &sets {
            for which in (0..stack.count()).filter(|k| !gone[*k]) {
                if matches!(stack.way(which, gone, Tries::Plain), Verdict::Found(_)) {
                    if which == target {
                        return length;
                    }
                    let mut more = gone.clone();
                    more[which] = true;
                    next.push(more);
                }
            }
        }
        next.sort();
        next.dedup();
        sets = next;
    }
    unreachable!("asked only of what comes out")
}

/// How many steps of all orders are not free when they are made, or take out what is out.
fn wrong_steps(stack: &Stack) -> usize {
    let (outs, known) = all(stack);
    let emptying = (vec![false; stack.count()], outs);
    let orders = known.into_iter().enumerate().map(|(k, known)| (before(stack, k), known.order));
    let wrong = |(mut gone, order): (Vec<bool>, Vec<Out>)| {
        let is_wrong = |out: &&Out| {
            let is_wrong = gone[out.which] || !stack.is_free(out.which, &gone, &out.way);
            take(stack, out.which, &mut gone);
            is_wrong
        };
        order.iter().filter(is_wrong).count()
    };
    std::iter::once(emptying).chain(orders).map(wrong).sum()
}

/// The length of the shortest order there is, by trying them all.
fn least(stack: &Stack, target: RemovableId) -> Option<usize> {
    let is_found =
        |which, gone: &[bool]| matches!(stack.way(which, gone, Tries::Plain), Verdict::Found(_));
    let may_go = |which: RemovableId, gone: &[bool]| {
        let is_spare = stack.instead_of[which].is_some();
        let takes_it = stack.wholes[target].contains(&which);
        !gone[which] && which != target && !is_spare && !takes_it && is_found(which, gone)
    };
    let mut layer = vec![before(stack, target)];
    for depth in 1..=stack.count() {
        if layer.iter().any(|gone| is_found(target, gone)) {
            return Some(depth);
        }
        let mut next: Vec<Vec<bool>> = Vec::new();
        for gone in &layer {
            for which in (0..stack.count()).filter(|which| may_go(*which, gone)) {
                let mut gone = gone.clone();
                take(stack, which, &mut gone);
                next.push(gone);
            }
        }
        next.sort_unstable();
        next.dedup();
        layer = next;
    }
    None
}

#[test]
fn a_door_behind_a_pump_that_only_its_leaf_frees_is_not_told_to_come_after_it() {
    // 0 is a leaf and 1 its door, behind the pump 2; the pump comes out when the leaf is out.
    let mut stack = Stack::new(&[FREE, &[&[2]], &[&[0]]]);
    stack.wholes[1] = vec![0];
    assert_eq!(wrong_steps(&stack), 0);
    assert_eq!(orders(&stack), [vec![0], vec![], vec![0, 2]]);
}

#[test]
fn orders_of_random_stacks_are_free_and_as_short_as_is_said() {
    use rand::{Rng, SeedableRng};
    let mut dice = rand_chacha::ChaCha8Rng::seed_from_u64(5);
    let (mut n_shortest, mut n_with_parts) = (0, 0);
    for _ in 0..3000 {
        let n = dice.random_range(3..8);
        let mut stack = Stack::new(&vec![FREE; n]);
        for which in 0..n {
            let mut set = || {
                let some = dice.random_range(0..4);
                let mut set: Vec<RemovableId> =
                    (0..some).map(|_| dice.random_range(0..n)).filter(|k| *k != which).collect();
                set.sort_unstable();
                set.dedup();
                set
            };
            stack.frees[which] = vec![set(), set()];
        }
        if dice.random() {
            let whole = dice.random_range(0..n);
            stack.wholes[(whole + 1) % n] = vec![whole];
            n_with_parts += 1;
        }
        assert_eq!(wrong_steps(&stack), 0, "{:?} {:?}", stack.frees, stack.wholes);
        for (which, known) in all(&stack).1.iter().enumerate() {
            if !known.order.is_empty() && known.is_shortest {
                n_shortest += 1;
                let length = Some(known.order.len());
                assert_eq!(length, least(&stack, which), "{which} of {:?}", stack.frees);
            }
        }
    }
    assert!(n_shortest > 5000 && n_with_parts > 1000, "{n_shortest} {n_with_parts}");
}
