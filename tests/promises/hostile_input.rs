//! Promise 14: hostile input takes at most a second and 200 MB, gets a finding with a place, reads nothing else,
//! and prints nothing that acts on the screen.

use std::cell::RefCell;
use std::process::Command;
use std::time::{Duration, Instant};

use undercroft::app::host::memory::Memory;
use undercroft::app::host::{Host, Refusal, Sort};
use undercroft::cli::{Screen, run};
use undercroft::yaml::splice::lay_over;

use crate::commands::{call, example};

/// Texts meant to do harm, each with a name.
fn texts() -> Vec<(&'static str, String)> {
    let mut bomb = String::from("undercroft: 1\na0: &a0 [x, x, x, x, x, x, x, x, x, x]\n");
    for n in 1..40 {
        let before = n - 1;
        bomb.push_str(&format!("a{n}: &a{n} [{}]\n", vec![format!("*a{before}"); 10].join(", ")));
    }
    let levels = (0..100_000).map(|n| format!("{}a:\n", " ".repeat(n % 300))).collect::<String>();
    vec![
        ("alias bomb", bomb),
        ("an alias to itself", "undercroft: 1\njob: &j {title: *j}\n".into()),
        ("100,000 brackets", format!("undercroft: 1\njob: {}", "[".repeat(100_000))),
        ("100,000 braces", format!("undercroft: 1\njob: {}", "{a: ".repeat(100_000))),
        ("100,000 levels", levels),
        ("100,000 dashes", "- ".repeat(100_000)),
        ("one long line", format!("undercroft: 1\njob: {{title: {}}}\n", "x".repeat(4_000_000))),
        (
            "100,000 keys",
            format!("undercroft: 1\n{}", (0..100_000).map(|n| format!("k{n}: 1\n")).collect::<String>()),
        ),
        (
            "100,000 wrong values",
            format!(
                "undercroft: 1\nbuilding:\n  openings:\n{}",
                (0..20_000)
                    .map(|n| format!("    w{n}: {{kind: windw, opens: perhaps}}\n"))
                    .collect::<String>()
            ),
        ),
        ("control characters", "undercroft: 1\njob: {title: \"\\e[2J\\e]0;x\\a\\u202e\"}\n".into()),
        ("zero bytes", "undercroft: 1\njob: {title: \u{0}}\n".into()),
        (
            "a digit storm",
            format!("undercroft: 1\nbuilding: {{roof: {{edge: {} ft}}}}\n", "9".repeat(1_000_000)),
        ),
        (
            "deep expressions of units",
            format!("undercroft: 1\nbuilding: {{roof: {{edge: {}}}}}\n", "1 ft ".repeat(200_000)),
        ),
        ("far numbers", "undercroft: 1\nbuilding: {roof: {edge: 1e999999999 ft}}\n".into()),
    ]
}

#[test]
fn harmful_texts_take_a_second_and_200_megabytes_at_most() {
    let folder = tempfile::tempdir().unwrap();
    let program = env!("CARGO_BIN_EXE_undercroft");
    for (name, text) in texts() {
        let file = folder.path().join("design.yaml");
        std::fs::write(&file, &text).unwrap();
        let start = Instant::now();
        let out = Command::new("sh")
            .args(["-c", "ulimit -v 204800 2>/dev/null; exec \"$0\" review \"$1\"", program])
            .arg(&file)
            .output()
            .unwrap();
        let took = start.elapsed();
        let said = String::from_utf8_lossy(&out.stdout);
        let beside = String::from_utf8_lossy(&out.stderr);
        let tail: String = beside.chars().take(600).collect();
        assert!(matches!(out.status.code(), Some(1..=3)), "{name}: {:?}\n{tail}", out.status);
        // A line that is shown bears its number before the stroke.
        assert!(
            said.contains("line ") || said.contains(" │ ") || beside.contains("larger"),
            "{name}: no place\n{said:.2000}"
        );
        assert!(!said.chars().any(|c| c.is_control() && c != '\n'), "{name}");
        // Without optimisation and beside other work it may take longer.
        let most = if cfg!(debug_assertions) { Duration::from_secs(10) } else { Duration::from_secs(1) };
        assert!(took < most, "{name} took {took:?}");
    }
}

#[test]
fn no_field_of_text_carries_an_escape_to_the_screen() {
    let hostile =
        "\"\\e[31m\\e]8;;http://a.example\\a<script>alert(1)</script>\\u202e\\u0000../../etc/passwd\\r\\nA\"";
    let clean = example("02");
    let mut tried = 0;
    for path in [
        "job.title",
        "job.by",
        "job.address",
        "job.notes",
        "site.origin",
        "looked_for.openings.by",
        "building.notes",
        "systems.main.notes",
        "systems.main.fan.model",
        "building.openings.kitchen_window.kind",
        "building.openings.kitchen_window.into",
        "systems.main.fan.in",
        "job.stage",
        "job.date",
        "site.zone",
        "building.roof.edge",
        "\"\\e[7mkey\"",
    ] {
        let Ok(text) = lay_over(&clean, &[(path, hostile)], &[]) else { continue };
        tried += 1;
        let mut world = Memory::with([("a.yaml", text.as_str())]);
        for options in [&[][..], &["--plain"], &["--show", "everything"], &["--as", "json"]] {
            let mut arguments = vec!["review", "a.yaml"];
            arguments.extend(options);
            let came = call(&mut world, &arguments);
            let bad = |c: char| (c.is_control() && c != '\n') || matches!(c, '\u{202a}'..='\u{202e}');
            let said = if options.contains(&"json") {
                // In a report the characters are data; it has to be sound JSON without raw control characters.
                let report: serde_json::Value = serde_json::from_str(&came.printed).unwrap();
                assert!(report["reviews"][0]["findings"].is_array());
                came.printed.replace('\u{202e}', "")
            } else {
                came.printed
            };
            assert!(!said.contains(bad), "{path} {options:?}: {:?}", said.chars().find(|c| bad(*c)));
        }
    }
    assert!(tried >= 15, "{tried}");
}

/// A world that remembers what was read and listed.
struct Watched {
    inner: Memory,
    touched: RefCell<Vec<String>>,
}

impl Host for Watched {
    fn sort_of(&self, name: &str) -> Sort {
        self.inner.sort_of(name)
    }
    fn read(&self, name: &str) -> Result<Vec<u8>, Refusal> {
        self.touched.borrow_mut().push(name.to_owned());
        self.inner.read(name)
    }
    fn list(&self, name: &str) -> Result<Vec<(String, Sort)>, Refusal> {
        self.touched.borrow_mut().push(name.to_owned());
        self.inner.list(name)
    }
    fn create_folder(&mut self, name: &str, files: &[(String, Vec<u8>)]) -> Result<(), Refusal> {
        self.inner.create_folder(name, files)
    }
    fn create(&mut self, name: &str, bytes: &[u8]) -> Result<(), Refusal> {
        self.inner.create(name, bytes)
    }
    fn replace(&mut self, name: &str, was: &[u8], bytes: &[u8]) -> Result<(), Refusal> {
        self.inner.replace(name, was, bytes)
    }
    fn print(&mut self, text: &str) {
        self.inner.print(text);
    }
    fn tell(&mut self, text: &str) {
        self.inner.tell(text);
    }
    fn next_line(&mut self) -> Option<String> {
        self.inner.next_line()
    }
}

#[test]
fn nothing_is_read_but_what_was_named_and_the_shop_file_beside_it() {
    let text = lay_over(
        &example("01"),
        &[
            ("job.notes", "../../../etc/passwd"),
            ("job.title", "\"!include /etc/passwd\""),
            ("systems.main.fan.model", "https://example.com/fan"),
        ],
        &[],
    )
    .unwrap();
    let mut world = Watched {
        inner: Memory::with([
            ("job/design.yaml", text.as_str()),
            ("job/shop.yaml", "undercroft: 1\n"),
            ("job/other.yaml", "x: 1\n"),
            ("etc/passwd", "secret"),
        ]),
        touched: RefCell::default(),
    };
    let arguments = ["undercroft", "review", "job/design.yaml"].map(Into::into);
    run(arguments, &mut world, Screen::default());
    assert_eq!(world.touched.into_inner(), ["job/design.yaml", "job/shop.yaml"]);
    assert!(!world.inner.printed.contains("secret"));
}
