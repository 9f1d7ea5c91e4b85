//! How much work a review is, counted: what is worked out, asked and told, not how long it takes. The same design is the
//! same work on every machine, so that a change that makes more of it is seen when it is made.

use undercroft::base::number::Number;
use undercroft::base::text::Span;
use undercroft::base::value::{Answer, EntryPath, Origin, Value};
use undercroft::base::vocabulary::{Answers, FactId, Thing, Vocabulary};
use undercroft::facts::ask::Ask;
use undercroft::judge::judge;
use undercroft::review::{Explained, Input, Library, review};

use crate::commands::example;

#[path = "bench/grown.rs"]
mod grown;

mod judged {
    use super::*;
    use std::sync::Arc;

    /// A design that counts how often it is asked.
    struct Counting<'d> {
        ask: Ask<'d>,
        asked: usize,
    }

    impl Answers for Counting<'_> {
        fn vocabulary(&self) -> &Vocabulary {
            self.ask.vocabulary()
        }

        fn ask(&mut self, fact: FactId, thing: Thing) -> Answer<Value> {
            self.asked += 1;
            self.ask.ask(fact, thing)
        }

        fn domain(&self, fact: FactId) -> (Option<Number>, Option<Number>) {
            self.ask.domain(fact)
        }

        fn origin(&mut self, fact: FactId, thing: Thing) -> Arc<Origin> {
            self.ask.origin(fact, thing)
        }

        fn name_of(&self, thing: Thing) -> String {
            self.ask.name_of(thing)
        }

        fn place_of(&self, thing: Thing) -> Option<Span> {
            self.ask.place_of(thing)
        }

        fn entry_of(&self, thing: Thing) -> Option<EntryPath> {
            self.ask.entry_of(thing)
        }
    }

    /// What judging one design and telling a page of it takes.
    #[derive(Clone, Copy, PartialEq, Eq, Debug)]
    struct Work {
        /// How many outcomes are made: each rule for each thing that it is asked of.
        outcomes: usize,
        /// How often the rules ask for a fact.
        asked: usize,
        /// How many facts are worked out for that, each once.
        worked_out: usize,
        /// Of how many outcomes it is worked out why, and the message made, for the page.
        explained: usize,
    }

    fn work(text: &str, library: &Library) -> Work {
        let input = Input {
            name: "a.yaml",
            bytes: text.as_bytes(),
            explained: Explained::OnThePage,
            ..Input::default()
        };
        let review = review(&input, library);
        let clauses = review.findings.iter().flat_map(|finding| &finding.clauses);
        let explained = clauses.filter(|clause| clause.trace.is_some()).count();
        let books: Vec<_> = review.used.iter().map(|used| used.book).collect();
        let mut counting = Counting { ask: Ask::new(&review.design), asked: 0 };
        let outcomes = judge(&books, review.stage, &mut counting).len();
        Work { outcomes, asked: counting.asked, worked_out: counting.ask.worked_out(), explained }
    }

    /// A design of four hundred lines under every book.
    fn large(library: &Library) -> String {
        let books: String = library.names().map(|name| format!("    {name}: adopted\n")).collect();
        let own = "    pennsylvania-2019: adopted\n    epa-1994: for information\n";
        let small = example("01-two-area-ranch");
        assert!(small.contains(own));
        grown::grown(&small.replace(own, &books), 400)
    }

    /// The figures stand here as they were counted last.
    #[test]
    fn a_review_is_no_more_work_than_it_was() {
        let library = Library::with(&[]);
        let counted = [
            ("01-two-area-ranch", Work { outcomes: 264, asked: 968, worked_out: 234, explained: 0 }),
            ("02-a-dozen-faults", Work { outcomes: 206, asked: 1355, worked_out: 189, explained: 36 }),
            ("03-half-finished", Work { outcomes: 222, asked: 1367, worked_out: 149, explained: 3 }),
            ("large", Work { outcomes: 5134, asked: 12308, worked_out: 1214, explained: 23 }),
        ];
        let mut said = String::new();
        for (name, was) in counted {
            let text = if name == "large" { large(&library) } else { example(name) };
            let is = work(&text, &library);
            if is != was {
                said.push_str(&format!("{name}: was {was:?}\n{name}: now {is:?}\n"));
            }
        }
        assert!(
            said.is_empty(),
            "The work has changed. Where a figure rose without more being asked of the program, find out why; where it \
             fell, write the lower one here, so that it stays low.\n{said}"
        );
    }
}
