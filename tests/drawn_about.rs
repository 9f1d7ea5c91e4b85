//! What is drawn about a house: neighbours, lines of the property, chimneys, walls above the roof; floors of which it is not
//! known where they lie; and where the discharge may stand.

use undercroft::drawing::scene::{Layer, Pen};
use undercroft::drawing::{Paper, Sheet, Which};
use undercroft::yaml::splice::lay_over;

use super::drawings::{is_sound, sheets, with, words};
use super::placing::HOUSE;

/// A slab of 40 ft by 24 ft with a slab of 12 ft by 10 ft of which nobody said where it lies, and all that can stand about them.
const LOT: &str = "\
undercroft: 1
job: {title: A house among others}
site:
  ground: {main: 0 ft}
  property_lines: {east_line: [[46 ft, -200 ft], [46 ft, 200 ft]]}
building:
  roof:
    kind: flat
    parapets: {north_parapet: {height: 30 in, line: [[0 ft, 24 ft], [40 ft, 24 ft]]}}
    walls_above: {penthouse: {height: 8 ft, line: [[10 ft, 12 ft], [18 ft, 12 ft]]}}
  neighbours:
    shop:
      kind: adjacent building
      outline: [[52 ft, 0 ft], [64 ft, 0 ft], [64 ft, 20 ft], [52 ft, 20 ft]]
      openings: {shop_window: {kind: window, opens: yes, corners: [[52 ft, 4 ft, 3 ft], [52 ft, 8 ft, 7 ft]]}}
    far_barn: {kind: adjacent building, outline: [[400 ft, 0 ft], [420 ft, 0 ft], [420 ft, 20 ft], [400 ft, 20 ft]]}
  chimneys: {furnace_flue: {kind: masonry, at: [30 ft, 20 ft, 26 ft]}}
  intakes: {supply: {corners: [[0 ft, 5 ft, 3 ft], [0 ft, 7 ft, 5 ft]]}}
foundation:
  areas:
    house: {kind: slab, size: 40 ft x 24 ft, corner: [0 ft, 0 ft], top: 0 ft}
    annex: {kind: slab, size: 12 ft x 10 ft, top: 0 ft}
systems:
  main:
    # Openings and intakes are seen from it.
    discharge: {at: [30 ft, 2 ft, 14 ft], direction: up}
    suction_points:
      s1: {kind: slab, in: annex, from_walls: {north: 2 ft, west: 3 ft}}
";

fn told<'s>(sheet: &'s Sheet, title: &str) -> &'s [String] {
    let part = sheet.twin.iter().find(|part| part.title == title);
    part.map(|part| part.lines.as_slice()).unwrap_or_else(|| panic!("{title}: {:#?}", sheet.twin))
}

#[test]
fn what_stands_about_the_house_is_drawn_and_told_with_its_distance() {
    for one in sheets(LOT) {
        is_sound("a house among others", &one);
        let (which, _, sheet) = one;
        if which != Which::Plan {
            continue;
        }
        let lines = told(&sheet, "About the house");
        let line = |name: &str| {
            let found = lines.iter().find(|line| line.starts_with(name));
            found.unwrap_or_else(|| panic!("{name}: {lines:#?}")).as_str()
        };
        // The house reaches to 40 ft east: the line of the property is 6 ft off and the shop 12 ft. The barn is 360 ft off, and no
        // more is drawn than as much again as the house is long.
        assert_eq!(
            line("east line"),
            "east line, line of the property: 6 ft east of what is drawn of the house"
        );
        assert_eq!(line("shop,"), "shop, adjacent building: 12 ft east of what is drawn of the house");
        assert!(line("shop window").contains("52 ft east and 4 ft north"), "{lines:?}");
        assert!(line("far barn").ends_with("beyond this sheet"));
        assert!(line("furnace flue").ends_with("within what is drawn of the house"));
        assert!(line("north parapet").starts_with("north parapet, parapet 30 in high"));
        assert!(line("penthouse").starts_with("penthouse, wall above the roof 8 ft high"));
        assert_eq!(with(&sheet, Layer::Building, Pen::Property).len(), 1);
        assert_eq!(with(&sheet, Layer::Building, Pen::Above).len(), 2);
        let beside = words(&sheet, Layer::Sheet).join(" ");
        for wanted in ["air intake", "chimney or other vent", "neighbour's building", "beyond this sheet"] {
            assert!(beside.contains(wanted), "{wanted}: {beside}");
        }
    }
}

#[test]
fn a_floor_of_which_it_is_not_known_where_it_lies_is_drawn_apart_with_what_is_in_it() {
    for (which, _, sheet) in sheets(LOT) {
        if which != Which::Plan {
            continue;
        }
        let granted = told(&sheet, "Taken for granted").join(" ");
        assert!(granted.contains("annex: where on the site it lies is not stated"), "{granted}");
        assert!(!granted.contains("foundation."), "no key of the file: {granted}");
        // 12 ft by 10 ft, beside a house of 40 ft by 24 ft, and over none of it.
        let outline =
            |pen| with(&sheet, Layer::Building, pen).first().and_then(|mark| mark.extent()).unwrap();
        let (house, annex) = (outline(Pen::Wall), outline(Pen::Unsure));
        let wide = (annex.high.x - annex.low.x) / (house.high.x - house.low.x);
        assert!((wide - 12.0 / 40.0).abs() < 1e-6, "{wide}");
        assert!(annex.low.x > house.high.x);
        let points = told(&sheet, "Suction points, sumps, drains and test holes").join(" ");
        assert!(
            points.contains("3 ft off the west wall") && points.contains("2 ft off the north wall"),
            "{points}"
        );
    }
}

#[test]
fn where_the_discharge_may_stand_is_hatched_and_told_on_the_elevation() {
    // By hand, from the window and the limits: everywhere from 15 ft up (`allowed`).
    for one in sheets(HOUSE) {
        is_sound("a stack before a window", &one);
        let (which, paper, sheet) = one;
        if which != Which::Elevation(None) {
            assert!(with(&sheet, Layer::Shading, Pen::Allowed).is_empty());
            continue;
        }
        assert_eq!(with(&sheet, Layer::Shading, Pen::Allowed).len(), 1, "{paper:?}");
        let lines = told(&sheet, "Where the discharge may stand");
        assert!(lines.iter().any(|line| line.starts_with("from 15 ft up to")), "{lines:#?}");
        let window = "Discharge kept clear of openings that open (pennsylvania-2019)";
        assert!(lines.iter().any(|line| line.starts_with("It ends") && line.ends_with(window)), "{lines:#?}");
        assert!(lines.iter().any(|line| line.contains("does not stand where it may")), "{lines:#?}");
    }
    // A drawing on A4 says the same in words.
    let twin = |paper| {
        let all = sheets(HOUSE);
        let found = all.into_iter().find(|(which, on, _)| *which == Which::Elevation(None) && *on == paper);
        found.map(|(.., sheet)| sheet.twin)
    };
    assert_eq!(twin(Paper::Letter), twin(Paper::A4));
}

#[test]
fn what_stands_about_the_house_is_on_the_elevation_with_its_height() {
    let text = lay_over(
        LOT,
        &[
            ("building.roof.edge", "10 ft"),
            ("building.roof.walls_above.penthouse.top", "18 ft"),
            ("building.neighbours.shop.roof_edge", "12 ft"),
        ],
        &[],
    )
    .unwrap();
    for one in sheets(&text) {
        is_sound("a house among others", &one);
        let (which, _, sheet) = one;
        if which != Which::Elevation(None) {
            continue;
        }
        // Seen from the south, east lies to the right.
        let wanted = [
            "penthouse, wall above the roof: its top is at 18 ft",
            "north parapet, parapet: 30 in above the edge of the roof",
            "furnace flue, masonry: its top is at 26 ft",
            "shop, adjacent building: the edge of its roof is at 12 ft",
            "far barn, adjacent building: beyond this sheet",
            "east line, line of the property: 6 ft to the right of the house",
        ];
        assert_eq!(told(&sheet, "About the house"), wanted);
        // A wall from 10 ft to 18 ft east and from 10 ft to 18 ft up is as wide as it is high.
        let walls = with(&sheet, Layer::Building, Pen::Above);
        let square = walls.iter().filter_map(|mark| mark.extent()).any(|frame| {
            let (wide, high) = (frame.high.x - frame.low.x, frame.high.y - frame.low.y);
            (wide / high - 1.0).abs() < 1e-6
        });
        assert!(square, "{walls:?}");
    }
}
