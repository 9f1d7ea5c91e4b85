//! Reads a PDF back with a reader that has nothing to do with what wrote it: where each piece of text lies and how wide
//! it is, the tree of parts, the list of what is where, what leads where.

use std::collections::BTreeMap;

use lopdf::content::Content;
use lopdf::{Dictionary, Document, Object, ObjectId};

/// A piece of text on a page, in points from its lower left corner.
#[derive(Clone, Debug)]
pub(crate) struct Piece {
    pub(crate) x: f64,
    pub(crate) y: f64,
    pub(crate) wide: f64,
    pub(crate) size: f64,
    pub(crate) text: String,
    /// Its number among the parts of its page; what adorns a page has none.
    pub(crate) part: Option<i64>,
}

pub(crate) struct Page {
    pub(crate) wide: f64,
    pub(crate) high: f64,
    pub(crate) pieces: Vec<Piece>,
}

/// A part: what it is, what its text is, on which pages it lies, what it says of itself to those who do not see it.
#[derive(Clone, Debug, Default)]
pub(crate) struct Part {
    pub(crate) role: String,
    pub(crate) text: String,
    pub(crate) at: Vec<(usize, i64)>,
    pub(crate) says: String,
}

/// A line of the list of what is where: how deep, its words, the page, how far up it leads.
#[derive(Clone, Debug)]
pub(crate) struct Mark {
    pub(crate) depth: usize,
    pub(crate) words: String,
    pub(crate) page: usize,
    pub(crate) y: f64,
}

pub(crate) struct Read {
    pub(crate) pages: Vec<Page>,
    /// Every part that holds text or a drawing, in the order of the tree.
    pub(crate) parts: Vec<Part>,
    pub(crate) marks: Vec<Mark>,
    /// From which page to which something leads.
    pub(crate) leads: Vec<(usize, usize)>,
}

struct Face {
    letters: BTreeMap<Vec<u8>, String>,
    widths: BTreeMap<u16, f64>,
}

fn number(object: &Object) -> f64 {
    f64::from(object.as_float().unwrap())
}

fn get<'d>(document: &'d Document, from: &'d Dictionary, key: &[u8]) -> Option<&'d Object> {
    from.get(key).ok().map(|object| document.dereference(object).unwrap().1)
}

fn dictionary<'d>(document: &'d Document, from: &'d Dictionary, key: &[u8]) -> &'d Dictionary {
    get(document, from, key).unwrap().as_dict().unwrap()
}

/// What stands between angle brackets, as bytes.
fn hex(text: &str) -> Vec<u8> {
    let digits: Vec<u8> = text.bytes().filter(u8::is_ascii_hexdigit).collect();
    digits.chunks(2).map(|two| u8::from_str_radix(std::str::from_utf8(two).unwrap(), 16).unwrap()).collect()
}

fn utf16(bytes: &[u8]) -> String {
    let units: Vec<u16> = bytes.chunks(2).map(|two| u16::from_be_bytes([two[0], two[1]])).collect();
    String::from_utf16(&units).unwrap()
}

/// Which text each code of a font stands for, and how wide its glyphs are.
fn face(document: &Document, font: &Dictionary) -> Face {
    let map = get(document, font, b"ToUnicode").unwrap().as_stream().unwrap();
    let map = String::from_utf8(map.decompressed_content().unwrap_or_else(|_| map.content.clone())).unwrap();
    let mut letters = BTreeMap::new();
    for block in map.split("beginbfchar").skip(1) {
        let block = block.split("endbfchar").next().unwrap();
        let codes: Vec<&str> = block.split('<').skip(1).map(|one| one.split('>').next().unwrap()).collect();
        for pair in codes.chunks(2) {
            letters.insert(hex(pair[0]), utf16(&hex(pair[1])));
        }
    }
    assert!(!map.contains("beginbfrange"), "ranges are not read here");
    let below = get(document, font, b"DescendantFonts").unwrap().as_array().unwrap();
    let below = document.dereference(&below[0]).unwrap().1.as_dict().unwrap();
    let mut widths = BTreeMap::new();
    let mut listed = get(document, below, b"W").unwrap().as_array().unwrap().iter();
    while let Some(first) = listed.next() {
        let first = u16::try_from(first.as_i64().unwrap()).unwrap();
        match listed.next().unwrap() {
            Object::Array(each) => {
                widths.extend((first..).zip(each.iter().map(number)));
            }
            last => {
                let wide = number(listed.next().unwrap());
                widths.extend(
                    (first..=u16::try_from(last.as_i64().unwrap()).unwrap()).map(|code| (code, wide)),
                );
            }
        }
    }
    Face { letters, widths }
}

type Matrix = [f64; 6];

/// First one change of place, then another.
fn then(first: Matrix, next: Matrix) -> Matrix {
    let [a, b, c, d, e, f] = first;
    let [p, q, r, s, t, u] = next;
    [a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s, e * p + f * r + t, e * q + f * s + u]
}

fn matrix(operands: &[Object]) -> Matrix {
    let numbers: Vec<f64> = operands.iter().map(number).collect();
    numbers.try_into().unwrap()
}

fn page(document: &Document, id: ObjectId) -> Page {
    let page = document.get_dictionary(id).unwrap();
    let extent: Vec<f64> =
        get(document, page, b"MediaBox").unwrap().as_array().unwrap().iter().map(number).collect();
    let fonts: BTreeMap<Vec<u8>, Face> = document
        .get_page_fonts(id)
        .unwrap()
        .into_iter()
        .map(|(name, font)| (name, face(document, font)))
        .collect();
    let content = Content::decode(&document.get_page_content(id)).unwrap();
    let one: Matrix = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0];
    let (mut here, mut kept) = (one, Vec::new());
    let (mut text, mut size, mut font) = (one, 0.0, None);
    let mut parts: Vec<Option<i64>> = Vec::new();
    let mut pieces = Vec::new();
    for operation in &content.operations {
        let operands = &operation.operands;
        match operation.operator.as_str() {
            "q" => kept.push(here),
            "Q" => here = kept.pop().unwrap(),
            "cm" => here = then(matrix(operands), here),
            "BT" => text = one,
            "Tm" => text = matrix(operands),
            "Tf" => {
                font = fonts.get(operands[0].as_name().unwrap());
                size = number(&operands[1]);
            }
            "BMC" => parts.push(None),
            "BDC" => {
                // What stands within a part, such as a letter that is to be read as another, belongs to it.
                let within = parts.last().copied().flatten();
                let own = match &operands[1] {
                    Object::Dictionary(about) => about.get(b"MCID").ok().map(|id| id.as_i64().unwrap()),
                    _ => None,
                };
                let adorns = operands[0].as_name().unwrap() == b"Artifact";
                parts.push(if adorns { None } else { own.or(within) });
            }
            "EMC" => drop(parts.pop().unwrap()),
            "Tj" | "TJ" => {
                let font = font.unwrap();
                let shown = match &operands[0] {
                    Object::Array(each) => each.clone(),
                    only => vec![only.clone()],
                };
                let (mut said, mut wide) = (String::new(), 0.0);
                for one in &shown {
                    match one {
                        Object::String(codes, _) => {
                            for code in codes.chunks(2) {
                                said.push_str(&font.letters[code]);
                                wide += font.widths[&u16::from_be_bytes([code[0], code[1]])];
                            }
                        }
                        back => wide -= number(back),
                    }
                }
                let at = then(text, here);
                let wide = wide / 1000.0 * size;
                let part = parts.last().copied().flatten();
                pieces.push(Piece {
                    x: at[4],
                    y: at[5],
                    wide: wide * at[0],
                    size: size * at[3].abs(),
                    text: said,
                    part,
                });
                text = then([1.0, 0.0, 0.0, 1.0, wide, 0.0], text);
            }
            _ => {}
        }
    }
    assert!(kept.is_empty() && parts.is_empty(), "what was begun was ended");
    Page { wide: extent[2], high: extent[3], pieces }
}

impl Read {
    pub(crate) fn of(bytes: &[u8]) -> Self {
        let document = Document::load_mem(bytes).unwrap();
        let ids: Vec<ObjectId> = document.get_pages().into_values().collect();
        let pages: Vec<Page> = ids.iter().map(|id| page(&document, *id)).collect();
        let mut texts: BTreeMap<(usize, i64), String> = BTreeMap::new();
        for (at, page) in pages.iter().enumerate() {
            for piece in &page.pieces {
                if let Some(part) = piece.part {
                    texts.entry((at, part)).or_default().push_str(&piece.text);
                }
            }
        }
        let mut read = Read { pages, parts: Vec::new(), marks: Vec::new(), leads: Vec::new() };
        let root = document.catalog().unwrap();
        let tree = dictionary(&document, root, b"StructTreeRoot");
        let walk = Walk { document: &document, ids: &ids, texts: &texts };
        walk.below(tree, None, &mut Part::default(), &mut read.parts);
        walk.marks(dictionary(&document, root, b"Outlines"), 0, &mut read.marks);
        for (at, id) in ids.iter().enumerate() {
            let page = document.get_dictionary(*id).unwrap();
            let Some(notes) = get(&document, page, b"Annots") else { continue };
            for note in notes.as_array().unwrap() {
                let note = document.dereference(note).unwrap().1.as_dict().unwrap();
                read.leads.push((at, walk.place(get(&document, note, b"Dest").unwrap()).0));
            }
        }
        read
    }

    /// All of what is told, in the order of the tree, without any white.
    pub(crate) fn told(&self) -> String {
        self.parts.iter().flat_map(|part| part.text.chars()).filter(|c| !c.is_whitespace()).collect()
    }
}

struct Walk<'d> {
    document: &'d Document,
    ids: &'d [ObjectId],
    texts: &'d BTreeMap<(usize, i64), String>,
}

impl Walk<'_> {
    fn page_of(&self, of: &Dictionary) -> Option<usize> {
        let id = of.get(b"Pg").ok()?.as_reference().unwrap();
        self.ids.iter().position(|one| *one == id)
    }

    fn below(&self, of: &Dictionary, page: Option<usize>, part: &mut Part, parts: &mut Vec<Part>) {
        let page = self.page_of(of).or(page);
        let Some(children) = get(self.document, of, b"K") else { return };
        let one = [children.clone()];
        let children = children.as_array().map_or(&one[..], Vec::as_slice);
        for child in children {
            match self.document.dereference(child).unwrap().1 {
                Object::Integer(id) => self.holds(page.unwrap(), *id, part),
                Object::Dictionary(child) => {
                    if let Ok(id) = child.get(b"MCID") {
                        self.holds(self.page_of(child).or(page).unwrap(), id.as_i64().unwrap(), part);
                    } else if let Ok(role) = child.get(b"S") {
                        self.enter(child, role, page, part, parts);
                    }
                }
                other => panic!("{other:?}"),
            }
        }
    }

    fn enter(
        &self,
        child: &Dictionary,
        role: &Object,
        page: Option<usize>,
        part: &mut Part,
        parts: &mut Vec<Part>,
    ) {
        let role = String::from_utf8(role.as_name().unwrap().to_vec()).unwrap();
        let says = child.get(b"Alt").map(|says| lopdf::decode_text_string(says).unwrap()).unwrap_or_default();
        // What leads somewhere is read with the words that it stands in.
        if role == "Link" {
            return self.below(child, page, part, parts);
        }
        if !part.at.is_empty() {
            parts.push(std::mem::take(part));
        }
        let mut own = Part { role, says, ..Part::default() };
        self.below(child, page, &mut own, parts);
        if !own.at.is_empty() {
            parts.push(own);
        }
    }

    fn holds(&self, page: usize, id: i64, part: &mut Part) {
        part.text.push_str(self.texts.get(&(page, id)).map_or("", String::as_str));
        part.at.push((page, id));
    }

    fn place(&self, to: &Object) -> (usize, f64) {
        let to = self.document.dereference(to).unwrap().1.as_array().unwrap();
        let id = to[0].as_reference().unwrap();
        (self.ids.iter().position(|one| *one == id).unwrap(), number(&to[3]))
    }

    fn marks(&self, of: &Dictionary, depth: usize, marks: &mut Vec<Mark>) {
        let mut next = of.get(b"First").ok();
        while let Some(one) = next {
            let one = self.document.dereference(one).unwrap().1.as_dict().unwrap();
            let words = lopdf::decode_text_string(one.get(b"Title").unwrap()).unwrap();
            let (page, y) = self.place(one.get(b"Dest").unwrap());
            marks.push(Mark { depth, words, page, y });
            self.marks(one, depth + 1, marks);
            next = one.get(b"Next").ok();
        }
    }
}
