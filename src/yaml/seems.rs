//! What a file of bytes seems to be that is no text in UTF-8.

/// What a file starts with, and what it then is.
const SIGNS: &[(&[u8], &str)] = &[
    (b"%PDF", "a PDF"),
    (b"\x89PNG", "a picture (PNG)"),
    (b"\xff\xd8\xff", "a picture (JPEG)"),
    (b"GIF8", "a picture (GIF)"),
    (b"BM", "a picture (BMP)"),
    (b"II*\0", "a picture (TIFF)"),
    (b"MM\0*", "a picture (TIFF)"),
    (b"AC10", "a drawing (DWG)"),
    (b"PK\x03\x04", "a document of a word processor or a spreadsheet, or a zip archive"),
    (b"\xd0\xcf\x11\xe0", "a document of an older word processor or spreadsheet"),
    (b"{\\rtf", "a document in rich text (RTF)"),
    (b"\x1f\x8b", "a packed file (gzip)"),
    (b"7z\xbc\xaf", "a packed file (7z)"),
    (b"\xff\xfe", "text saved as UTF-16"),
    (b"\xfe\xff", "text saved as UTF-16"),
];

/// How much of a file is looked at.
const LOOKED_AT: usize = 4096;

/// What the bytes seem to be if they are no text; nothing for text, even if a few of its signs are damaged.
#[must_use]
pub(super) fn seems(bytes: &[u8]) -> Option<&'static str> {
    let head = bytes.get(..LOOKED_AT.min(bytes.len())).unwrap_or(bytes);
    let holds = |wanted: &[u8]| head.windows(wanted.len()).take(64).any(|part| part == wanted);
    let zeros = head.iter().filter(|byte| **byte == 0).count();
    // Two letters that a text could start with as well say a picture only if the rest is none.
    let is_text = zeros == 0 && std::str::from_utf8(bytes).is_ok();
    let sign = SIGNS.iter().find(|(start, _)| bytes.starts_with(start));
    if let Some((start, what)) = sign
        && (!is_text || start.len() > 2)
    {
        return Some(what);
    }
    let lower: Vec<u8> = head.iter().take(64).map(u8::to_ascii_lowercase).collect();
    if lower.trim_ascii_start().starts_with(b"<!doctype html")
        || lower.trim_ascii_start().starts_with(b"<html")
    {
        return Some("a page of the web (HTML)");
    }
    if is_text {
        return None;
    }
    if holds(b"ftyp") {
        return Some("a picture or a film from a telephone or camera");
    }
    // Every second byte is zero: letters of two bytes each, without the mark that says so.
    let of_two = |from: usize| head.iter().skip(from).step_by(2).filter(|byte| **byte == 0).count();
    let most = head.len() / 2;
    if most >= 8 && (of_two(1) > most * 3 / 4 || of_two(0) > most * 3 / 4) {
        return Some("text saved as UTF-16");
    }
    let acts = |byte: &&u8| **byte < 0x20 && !matches!(**byte, b'\t' | b'\n' | b'\r' | 0x0c | 0x1b | 0);
    let high = head.iter().filter(|byte| **byte >= 0x80).count();
    let odd = head.iter().filter(acts).count();
    (odd * 50 > head.len() || high * 3 > head.len()).then_some("a file for another program")
}

#[cfg(test)]
mod tests {
    use super::seems;

    #[test]
    fn a_file_that_is_no_text_is_known_by_how_it_starts() {
        for (bytes, what) in [
            (&b"%PDF-1.7\n%\xe2\xe3"[..], "PDF"),
            (b"\x89PNG\r\n\x1a\n\0\0", "PNG"),
            (b"\xff\xd8\xff\xe0\0\x10JFIF", "JPEG"),
            (b"PK\x03\x04\x14\0", "word processor"),
            (b"{\\rtf1\\ansi undercroft: 1}", "rich text"),
            (b"\0\0\0\x18ftypheic\0\0", "telephone"),
            (b"\xff\xfeu\0n\0", "UTF-16"),
            (b"u\0n\0d\0e\0r\0c\0r\0o\0f\0t\0:\0", "UTF-16"),
            (b"<!DOCTYPE html><html>", "web"),
            (b"\x01\x02\x03\x04\x05\x06\x90\x91\x92", "another program"),
        ] {
            let said = seems(bytes);
            assert!(said.is_some_and(|said| said.contains(what)), "{what}: {said:?}");
        }
    }

    #[test]
    fn text_is_text_though_a_sign_of_it_is_damaged() {
        for bytes in
            [&b"undercroft: 1\n"[..], b"BM: 1\n", b"edge: 17 ft 2\xbd in\n", "über: ½ in\n".as_bytes(), b""]
        {
            assert_eq!(seems(bytes), None, "{bytes:?}");
        }
    }
}
