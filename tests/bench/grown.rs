//! A large design made from a small one: entries of its lists stand in it again and again, each under a name of its own.

/// Lists of the example, the entry that is repeated, and how many lines each repetition takes.
const REPEATED: [(&str, &str); 6] = [
    ("openings", "kitchen_window"),
    ("spaces", "hall_closet"),
    ("joints", "floor_wall"),
    ("areas", "crawl"),
    ("runs", "ceiling"),
    ("suction_points", "s1"),
];

/// The text with entries repeated until it has so many lines.
pub(crate) fn grown(text: &str, lines: usize) -> String {
    let mut text = text.to_owned();
    let each: usize = REPEATED.iter().map(|(list, name)| block(&text, list, name).lines().count()).sum();
    let times = lines.saturating_sub(text.lines().count()).div_ceil(each.max(1));
    for (list, name) in REPEATED {
        let block = block(&text, list, name).to_owned();
        let copy = |n: usize| block.replacen(&format!("{name}:"), &format!("{name}_{n}:"), 1);
        let copies: String = (2..times + 2).map(copy).collect();
        text = text.replacen(&block, &format!("{block}{copies}"), 1);
    }
    text
}

/// The lines of an entry of a list.
fn block<'t>(text: &'t str, list: &str, name: &str) -> &'t str {
    let head = text.find(&format!(" {list}:\n")).map_or(0, |at| at + list.len() + 2);
    let rest = text.get(head..).unwrap_or("");
    let start = head + rest.find(&format!(" {name}:")).map_or(0, |at| at + 1);
    let line = text.get(..start).and_then(|before| before.rfind('\n')).map_or(0, |at| at + 1);
    let depth = start - line;
    let mut end = line;
    for (at, one) in text.get(line..).unwrap_or("").split_inclusive('\n').enumerate() {
        let indent = one.len() - one.trim_start().len();
        if at > 0 && indent <= depth {
            break;
        }
        end += one.len();
    }
    text.get(line..end).unwrap_or("")
}
