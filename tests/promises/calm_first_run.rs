//! Promise 12: a calm first run. A poor old file with hundreds of findings prints at most 25 lines before the
//! details, grouped by cause.

use undercroft::app::host::memory::Memory;
use undercroft::yaml::splice::lay_over;

use crate::commands::{call, example};

/// The faulty example with three hundred windows too near, and a hundred values that cannot be read.
fn poor_old_file() -> String {
    let text = example("02");
    let windows: Vec<(String, String)> = (0..300)
        .map(|n| {
            let value = format!("{{kind: window, opens: yes, into: kitchen, from_discharge: {{straight: {} in, top_below: 3 in}}}}", n % 60 + 6);
            (format!("building.openings.window_{n}"), value)
        })
        .chain((0..100).map(|n| (format!("foundation.joints.crack_{n}"), "{kind: crack, length: 12, closed: maybe}".to_owned())))
        .collect();
    let values: Vec<(&str, &str)> =
        windows.iter().map(|(path, value)| (path.as_str(), value.as_str())).collect();
    lay_over(&text, &values, &[]).unwrap()
}

#[test]
fn hundreds_of_findings_begin_with_at_most_25_lines_grouped_by_cause() {
    let text = poor_old_file();
    for options in [&["--width", "80"][..], &["--width", "120"], &["--width", "100"], &["--plain"]] {
        let mut world = Memory::with([("old.yaml", text.as_str())]);
        let mut arguments = vec!["review", "old.yaml"];
        arguments.extend(options);
        let whole = call(&mut world, &arguments).printed;
        assert!(whole.matches("(unmet)").count() > 290, "{}", whole.matches("(unmet)").count());
        arguments.extend(["--show", "summary"]);
        let first = call(&mut world, &arguments).printed;
        let before = first.split("\n\nThis page is no").next().unwrap();
        let lines = before.lines().count();
        assert!(lines <= 25, "{lines} lines:\n{before}");
        // The first part of the whole page is the same, but for the line that leads to the details.
        let same = before
            .lines()
            .take(lines - 1)
            .filter(|line| whole.lines().take(26).any(|own| own == *line))
            .count();
        assert!(same + 3 >= lines, "{same} of {lines}:\n{before}\n\n{whole:.3000}");
        assert!(before.contains("300 places") || before.contains("301 places"), "{before}");
        assert!(before.contains("could not be read"), "{before}");
        assert!(before.contains("Do not drill"), "{before}");
    }
}
