//! The name of a file as a reference that other programs can follow.

/// The name as a relative reference, or one with `file:` in front where it begins at the root of a disk.
///
/// What is no letter, digit or one of `-._~` is written as its bytes, so that nothing in a name can be taken for
/// a scheme, a query or a fragment (RFC 3986, sections 2.1 and 4.2).
pub(super) fn uri(name: &str) -> String {
    let name = name.replace('\\', "/");
    let of_disk = match name.as_bytes() {
        [letter, b':', b'/', ..] if letter.is_ascii_alphabetic() => name.get(..2),
        _ => None,
    };
    let (front, rest) = match of_disk {
        Some(disk) => (format!("file:///{disk}"), name.get(2..).unwrap_or("")),
        None if name.starts_with('/') => ("file://".to_owned(), name.as_str()),
        None => (String::new(), name.as_str()),
    };
    let mut said = front;
    for byte in rest.bytes() {
        if byte.is_ascii_alphanumeric() || b"-._~/".contains(&byte) {
            said.push(char::from(byte));
        } else {
            said.push_str(&format!("%{byte:02X}"));
        }
    }
    said
}

#[cfg(test)]
mod tests {
    use super::uri;

    #[test]
    fn nothing_in_a_name_is_taken_for_a_part_of_an_address() {
        let said = [
            ("house.yaml", "house.yaml"),
            ("my house/½ #1?.yaml", "my%20house/%C2%BD%20%231%3F.yaml"),
            ("a:b.yaml", "a%3Ab.yaml"),
            ("jobs\\one.yaml", "jobs/one.yaml"),
            ("/srv/jobs/one.yaml", "file:///srv/jobs/one.yaml"),
            ("C:\\jobs\\one.yaml", "file:///C:/jobs/one.yaml"),
            ("../one.yaml", "../one.yaml"),
        ];
        for (name, address) in said {
            assert_eq!(uri(name), address);
        }
    }
}
