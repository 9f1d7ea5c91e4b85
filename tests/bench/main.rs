//! How long the program takes, and how that stands to what no reader of such files can do without: reading the same text
//! with another reader and holding it against the same schema, nothing else.
//!
//! `cargo bench` prints one line for each thing that is measured; where parts are named, as in
//! `cargo bench --bench speed -- fields`, for these alone. Time is that of the processor, where the system tells it, so that
//! what else runs on the machine changes little; what all hands share is told by the clock as well, for that is what a person
//! waits. Under `cargo test` nothing is measured.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)]

mod fills;
mod grown;
mod pipes;

use std::fs::read_to_string;
use std::hint::black_box;
use std::path::Path;
use std::process::{Command, Stdio};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

use undercroft::app::host::memory::Memory;
use undercroft::base::hands;
use undercroft::calc::field::work_out;
use undercroft::calc::network::solve;
use undercroft::cli::{Screen, run};
use undercroft::design::design_schema_text;
use undercroft::review::{Input, Library, read_text, review};

use grown::grown;

/// Asks this program to make one review and to say how much memory it took.
const ALONE: &str = "--one-review-alone";

fn main() {
    let arguments: Vec<String> = std::env::args().collect();
    if arguments.iter().any(|one| one == ALONE) {
        reviewed(&large());
        println!("{}", peak().unwrap_or(0));
        return;
    }
    // `cargo test --benches` only looks whether it runs.
    if !arguments.iter().any(|one| one == "--bench") {
        assert!(large().lines().count() >= 2000);
        return;
    }
    let named: Vec<&String> = arguments.iter().skip(1).filter(|one| !one.starts_with('-')).collect();
    let parts: [(&str, fn()); 6] = [
        ("reviews", reviews),
        ("pipes", pipes_solved),
        ("fields", fields),
        ("programs", processes),
        ("thousand", thousand),
        ("memory", memory),
    ];
    assert!(named.iter().all(|name| parts.iter().any(|(part, _)| name == part)), "no such part: {named:?}");
    for (part, measure) in parts {
        if named.is_empty() || named.iter().any(|name| *name == part) {
            measure();
        }
    }
}

/// Two thousand lines reviewed, and what goes into that.
fn reviews() {
    let large = large();
    let validator = jsonschema::options()
        .with_draft(jsonschema::Draft::Draft202012)
        .offline()
        .build(design_schema_text())
        .unwrap();
    let floor = measured("floor: another reader and the schema, 2,000 lines", 20, || {
        let value: serde_yaml::Value = serde_yaml::from_str(&large).unwrap();
        let value = serde_json::to_value(value).unwrap();
        black_box(validator.iter_errors(&value).count());
    });
    measured("every book put up, none read", 20, || {
        black_box(Library::with(&[]));
    });
    let every_book = || {
        let library = Library::with(&[]);
        assert!(library.all().1.is_empty());
    };
    measured("every book read and checked by one hand", 20, || hands::alone(every_book));
    by_the_clock(Duration::from_millis(15), "every book read and checked by all hands", 20, every_book);
    measured("2,000 lines read", 10, || {
        black_box(read_text(&large));
    });
    let library = Library::with(&[]);
    assert!(library.all().1.is_empty());
    let input = Input { name: "a.yaml", bytes: large.as_bytes(), ..Input::default() };
    measured("2,000 lines judged under every book, the books at hand", 10, || {
        hands::alone(|| black_box(review(&input, &library)));
    });
    let whole = measured("2,000 lines reviewed under every book, from nothing, by one hand", 10, || {
        hands::alone(|| reviewed(&large));
    });
    println!("{:>10.2} times the floor; at most 3 is the aim", whole.as_secs_f64() / floor.as_secs_f64());
    by_the_clock(Duration::from_millis(50), "the same by all hands", 20, || reviewed(&large));
}

/// Networks of pipes.
fn pipes_solved() {
    // A fan, a stack, two branches; and 167 points at the ends of 332 runs: 501 links.
    let (house, large) = (pipes::branching(2), pipes::branching(167));
    each(Duration::from_micros(50), "the pipes of a house solved", || {
        black_box(solve(&house).unwrap());
    });
    each(Duration::from_millis(5), "five hundred links solved", || {
        black_box(solve(&large).unwrap());
    });
}

/// The suction under slabs.
fn fields() {
    let ((house, step), (slab, fine)) = (fills::house(), fills::slab());
    each(Duration::from_millis(50), "the field under a house", || {
        black_box(work_out(&house, step).unwrap());
    });
    each(Duration::from_millis(500), "the field of a slab of 20 m by 20 m on cells of 5 cm", || {
        black_box(work_out(&slab, fine).unwrap());
    });
}

/// The memory that one review takes.
fn memory() {
    let alone = Command::new(std::env::current_exe().unwrap()).arg(ALONE).output().unwrap();
    let kilobytes: f64 = String::from_utf8(alone.stdout).unwrap().trim().parse().unwrap();
    println!("{:>10.1} MB at most for one of them; at most 64 is the aim", kilobytes / 1024.0);
}

/// A design of two thousand lines that names every book.
fn large() -> String {
    let library = Library::with(&[]);
    let books: String = library.names().map(|name| format!("    {name}: adopted\n")).collect();
    let own = "    pennsylvania-2019: adopted\n    epa-1994: for information\n";
    grown(&small().replace(own, &books), 2000)
}

fn small() -> String {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    read_to_string(root.join("examples/01-two-area-ranch/design.yaml")).unwrap()
}

/// One review as a person calls it.
fn reviewed(text: &str) {
    let mut world = Memory::with([("a.yaml", text)]);
    run(["undercroft", "review", "a.yaml"].map(Into::into), &mut world, Screen::default());
    assert!(world.printed.contains("findings"), "{}{}", world.printed, world.told);
}

/// The program itself, started anew each time.
fn processes() {
    let program = env!("CARGO_BIN_EXE_undercroft");
    for (says, arguments) in [
        ("started, doing nothing", ["--version"].as_slice()),
        ("started, every book listed", &["rulebook", "list"]),
    ] {
        let times = 10;
        let before = Instant::now();
        for _ in 0..times {
            let status = Command::new(program).args(arguments).stdout(Stdio::null()).status().unwrap();
            assert!(status.success());
        }
        line(before.elapsed() / times, &format!("{says}, by the clock"));
    }
}

/// A thousand small designs by two hands, the books at hand.
fn thousand() {
    let library = Library::with(&[]);
    let text = small();
    let next = AtomicUsize::new(0);
    let hand = || {
        let before = Clock::now();
        while next.fetch_add(1, Ordering::Relaxed) < 1000 {
            let input = Input { name: "a.yaml", bytes: text.as_bytes(), ..Input::default() };
            hands::alone(|| black_box(review(&input, &library)));
        }
        before.elapsed()
    };
    let longer = std::thread::scope(|scope| {
        let other = scope.spawn(hand);
        hand().max(other.join().unwrap())
    });
    line(longer, "a thousand small designs by two hands; at most 3,000 ms is the aim");
}

/// The time that a thread was on a processor; by the clock where the system does not tell it.
struct Clock(Result<u64, Instant>);

impl Clock {
    fn now() -> Self {
        let told = read_to_string("/proc/thread-self/schedstat").ok();
        let spent = told.and_then(|told| told.split(' ').next()?.parse().ok());
        Clock(spent.ok_or_else(Instant::now))
    }

    fn elapsed(&self) -> Duration {
        match (&self.0, Clock::now().0) {
            (Ok(before), Ok(now)) => Duration::from_nanos(now - before),
            (Err(before), _) => before.elapsed(),
            (Ok(_), Err(_)) => Duration::ZERO,
        }
    }
}

/// The shortest of several times, which is said.
fn measured(says: &str, times: u32, mut act: impl FnMut()) -> Duration {
    let once = |_| {
        let before = Clock::now();
        act();
        before.elapsed()
    };
    let least = (0..times).map(once).min().unwrap_or_default();
    line(least, says);
    least
}

/// The shortest of several times by the clock, which is said.
fn by_the_clock(most: Duration, says: &str, times: u32, mut act: impl FnMut()) {
    let once = |_| {
        let before = Instant::now();
        act();
        before.elapsed()
    };
    let least = (0..times).map(once).min().unwrap_or_default();
    line(least, &format!("{says}, by the clock; at most {} ms is the aim", most.as_millis()));
}

/// The time of one of many: what is quicker than the clock can tell is repeated until a fifth of a second has passed, three
/// times over, and the shortest is said.
fn each(most: Duration, says: &str, mut act: impl FnMut()) {
    let mut once = || {
        let (before, mut times, mut more) = (Clock::now(), 0, 1);
        loop {
            (0..more).for_each(|_| act());
            times += more;
            let passed = before.elapsed();
            if passed >= Duration::from_millis(200) {
                return passed / times;
            }
            // Looking at the clock takes time as well.
            more *= 2;
        }
    };
    let least = (0..3).map(|_| once()).min().unwrap_or_default();
    let micros = |time: Duration| time.as_secs_f64() * 1e6;
    println!("{:>10.1} us {says}; at most {} us is the aim", micros(least), micros(most));
}

fn line(took: Duration, says: &str) {
    println!("{:>10.2} ms {says}", took.as_secs_f64() * 1000.0);
}

/// The most memory this process has held, in kilobytes, where the system tells it.
fn peak() -> Option<u64> {
    let status = read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM"))?;
    line.split_whitespace().nth(1)?.parse().ok()
}
