//! Slips of people who write a design by hand, and what they are told.

use undercroft::base::problem::Problem;
use undercroft::render::words;

use super::{RANCH, read};

const SLIPS: &str = include_str!("../design_files/by_hand.txt");

/// All that a person reads of the problems, the places left out.
fn said(problems: &[Problem]) -> String {
    let sentences = problems.iter().map(|problem| {
        let said = words::of(problem);
        format!("{} {} {}", said.what, said.why, said.todo)
    });
    sentences.collect::<Vec<_>>().join("\n")
}

#[test]
fn every_slip_is_told_in_words_that_help() {
    let mut wrong = Vec::new();
    let mut count = 0;
    for line in SLIPS.lines().filter(|line| !line.starts_with('#') && !line.is_empty()) {
        count += 1;
        let columns: Vec<&str> = line.split(" | ").collect();
        let [was, is, problems, words] = columns.as_slice() else { panic!("{line}") };
        let written = |text: &str| text.replace("\\n", "\n").replace("\\t", "\t");
        let (was, is) = (written(was), written(is));
        assert!(RANCH.contains(&was), "the ranch does not hold {was:?}");
        let (_, found, _) = read(&RANCH.replacen(&was, &is, 1));
        let said = said(&found);
        let expected: usize = problems.trim().parse().unwrap();
        let lacks: Vec<&str> =
            words.split(" & ").map(str::trim).filter(|words| !said.contains(words)).collect();
        if found.len() != expected || !lacks.is_empty() {
            wrong.push(format!("{is:?}: {} problems, lacks {lacks:?}\n{said}\n", found.len()));
        }
        let in_quotes = ["\"\"", "\"“", "”\"", "\"'", "'\""];
        assert!(!in_quotes.iter().any(|quotes| said.contains(quotes)), "quotes in quotes: {said}");
    }
    assert!(count >= 60, "only {count} slips");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
