//! The shop file under a design.

use undercroft::base::number::Number;
use undercroft::base::problem::{Problem, ProblemKind};
use undercroft::base::text::Sources;
use undercroft::design::model::shop::ShopFile;
use undercroft::design::{self, overlay};
use undercroft::yaml::entry::Entry;
use undercroft::yaml::scan;

use super::{RANCH, read};

const SHOP: &str = "undercroft: 1
fans:
  attic fan A:
    shut_off: 4.2 in WC
    axis: vertical
    power: 95 W
defaults: {pipe: {schedule: 40}, hangers: 6 ft}
";

fn read_shop(text: &str) -> (ShopFile, Vec<Problem>) {
    let mut sources = Sources::new();
    let id = sources.add("shop.yaml", text);
    let (tree, mut problems) = scan::read(id, text);
    let (shop, more) = design::read_shop(sources.get(id).unwrap(), &tree);
    problems.extend(more);
    (shop, problems)
}

#[test]
fn the_shop_fills_in_what_the_design_does_not_say_and_both_are_kept() {
    let (shop, problems) = read_shop(SHOP);
    assert!(problems.is_empty(), "{problems:?}");
    let own = "    fan:\n      model: attic fan A\n      power: 80 W\n      shut_off: 4.20 in WC\n      weatherproof: unknown\n";
    let (design, problems, _) = read(&RANCH.replacen("    fan:\n", own, 1));
    assert!(problems.is_empty(), "{problems:?}");
    assert!(overlay::check(&design, Some(&shop)).is_empty());
    let system = design.all_systems().next().unwrap().thing;
    let fan = overlay::fan(system, Some(&shop));
    let power = fan.entry(|fan| &fan.power);
    assert!(power.differ() && !power.is_from_shop());
    assert_eq!(power.known().unwrap().number(), Number::whole(80));
    assert!(!fan.entry(|fan| &fan.shut_off).differ(), "4.2 and 4.20 are the same");
    assert!(fan.entry(|fan| &fan.weatherproof).known().is_none(), "what is said to be unknown stays so");
    assert!(fan.entry(|fan| &fan.curve).known().is_some());
    let pipe = overlay::pipe(system, Some(&shop));
    assert!(!pipe.entry(|pipe| &pipe.schedule).is_from_shop());
    assert!(!pipe.entry(|pipe| &pipe.schedule).differ());
}

#[test]
fn the_shop_lies_under_a_fan_of_which_the_design_says_little() {
    let (shop, _) = read_shop(SHOP);
    let (design, _, _) = read("undercroft: 1\nsystems:\n  main:\n    fan: {model: attic fan A}\n");
    let system = design.all_systems().next().unwrap().thing;
    let shut_off = overlay::fan(system, Some(&shop));
    let shut_off = shut_off.entry(|fan| &fan.shut_off);
    assert!(shut_off.is_from_shop() && shut_off.known().is_some());
    let none = overlay::fan(system, None);
    assert!(none.entry(|fan| &fan.shut_off).known().is_none());
    let missing = Entry::missing("hangers", system.here.at);
    assert!(overlay::hangers(&missing, Some(&shop)).entry(|hangers| &hangers.spacing).is_from_shop());
}

#[test]
fn a_fan_that_the_shop_does_not_have_is_told_with_the_nearest() {
    let (shop, _) = read_shop(SHOP);
    let (design, _, sources) = read("undercroft: 1\nsystems:\n  main:\n    fan: {model: atic fan A}\n");
    let problems = overlay::check(&design, Some(&shop));
    assert_eq!(problems.len(), 1);
    assert_eq!(problems[0].kind, ProblemKind::UnknownName);
    assert_eq!(problems[0].nearest.as_deref(), Some("attic fan A"));
    assert_eq!(sources.slice(problems[0].at), "atic fan A");
    assert!(overlay::check(&design, None).is_empty());
}
