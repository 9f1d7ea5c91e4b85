//! Work that several hands share. However many take part, what comes out is the same and stands in the same order.

use std::cell::Cell;
use std::num::NonZero;
use std::panic::resume_unwind;
use std::sync::OnceLock;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

thread_local! {
    /// Whether whoever works here shares nothing: all others are busy already.
    static ALONE: Cell<bool> = const { Cell::new(false) };
}

/// How many hands there are for whatever is asked for here.
fn hands() -> usize {
    static THERE: OnceLock<usize> = OnceLock::new();
    if ALONE.get() {
        return 1;
    }
    *THERE.get_or_init(|| std::thread::available_parallelism().map_or(1, NonZero::get))
}

/// Does all of this with one hand.
pub fn alone<R>(work: impl FnOnce() -> R) -> R {
    let before = ALONE.replace(true);
    let done = work();
    ALONE.set(before);
    done
}

/// Two pieces of work, done beside each other where there are hands for both.
pub fn both<A: Send, B>(one: impl FnOnce() -> A + Send, other: impl FnOnce() -> B) -> (A, B) {
    if hands() < 2 {
        return (one(), other());
    }
    std::thread::scope(|scope| {
        let beside = scope.spawn(|| alone(one));
        let other = alone(other);
        (beside.join().unwrap_or_else(|cause| resume_unwind(cause)), other)
    })
}

/// Does a piece of work, and meanwhile, where there is another hand for it, begins on other pieces one after another. What
/// was not begun when the work was done is left.
pub fn meanwhile<T: Sync, R>(pieces: &[T], ahead: impl Fn(&T) + Sync, work: impl FnOnce() -> R) -> R {
    if hands() < 2 {
        return work();
    }
    let done = AtomicBool::new(false);
    let begin = || pieces.iter().take_while(|_| !done.load(Ordering::Relaxed)).for_each(&ahead);
    std::thread::scope(|scope| {
        scope.spawn(|| alone(begin));
        let came = alone(work);
        done.store(true, Ordering::Relaxed);
        came
    })
}

/// Works on each piece; every hand begins with tools of its own. What comes of them stands in the order of the pieces.
pub fn each<T: Sync, R: Send, S>(
    pieces: &[T],
    tools: impl Fn() -> S + Sync,
    work: impl Fn(&mut S, &T) -> R + Sync,
) -> Vec<R> {
    let next = AtomicUsize::new(0);
    let hand = || {
        let mut tools = tools();
        let mut done = Vec::new();
        loop {
            let at = next.fetch_add(1, Ordering::Relaxed);
            let Some(piece) = pieces.get(at) else { return done };
            done.push((at, work(&mut tools, piece)));
        }
    };
    let more = hands().min(pieces.len()).saturating_sub(1);
    let mut done = std::thread::scope(|scope| {
        let others: Vec<_> = (0..more).map(|_| scope.spawn(|| alone(hand))).collect();
        let mut done = if more > 0 { alone(hand) } else { hand() };
        for other in others {
            done.extend(other.join().unwrap_or_else(|cause| resume_unwind(cause)));
        }
        done
    });
    done.sort_unstable_by_key(|(at, _)| *at);
    done.into_iter().map(|(_, came)| came).collect()
}

#[cfg(test)]
mod tests {
    use super::{alone, both, each, meanwhile};

    #[test]
    fn what_comes_out_stands_in_the_order_of_what_went_in() {
        let pieces: Vec<u64> = (0..500).collect();
        let work = |used: &mut u64, piece: &u64| {
            *used += 1;
            (0..piece % 7 * 1000).sum::<u64>() + piece
        };
        let shared = each(&pieces, || 0, work);
        assert_eq!(shared, alone(|| each(&pieces, || 0, work)));
        assert_eq!(shared.len(), 500);
        assert!(each(&[], || 0, work).is_empty());
        assert_eq!(both(|| 1, || "two"), (1, "two"));
    }

    #[test]
    fn what_is_begun_meanwhile_is_begun_in_order_and_only_until_the_work_is_done() {
        let begun = std::sync::Mutex::new(Vec::new());
        let note = |piece: &u32| begun.lock().unwrap().push(*piece);
        assert_eq!(meanwhile(&[1, 2, 3], note, || "done"), "done");
        let seen = begun.lock().unwrap().clone();
        assert!([1, 2, 3].starts_with(&seen), "{seen:?}");
        begun.lock().unwrap().clear();
        assert_eq!(alone(|| meanwhile(&[1, 2, 3], note, || "done")), "done");
        assert!(begun.lock().unwrap().is_empty(), "one hand alone begins on nothing else");
    }

    #[test]
    fn whoever_is_alone_shares_nothing() {
        let here = std::thread::current().id();
        let who = || std::thread::current().id();
        assert_eq!(alone(|| both(who, who)), (here, here));
        assert!(alone(|| each(&[0; 50], || (), |(), _| who())).iter().all(|one| *one == here));
    }
}
