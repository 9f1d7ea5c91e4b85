//! A design as it lies on the desk: its file, the shop file beside it, and the field notes over it.

use super::host::{Host, Sort, folder_of, join};
use super::{Status, library};
use crate::base::near::nearest;
use crate::base::time::Date;
use crate::render::terminal::Look;
use crate::render::visible::one_line;
use crate::review::{Explained, Input, Library};

/// The shop file that is looked for beside a design.
const SHOP_FILE: &str = "shop.yaml";

/// A file with what stands in it, or why not.
type Taken = Result<Vec<u8>, String>;

/// A design file with all that goes with it.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Papers {
    /// Its name, as the person gave it.
    pub name: String,
    /// What stands in it.
    pub bytes: Vec<u8>,
    /// The shop file: its name and what stands in it.
    pub shop: Option<(String, Vec<u8>)>,
    /// The field notes: the name of each and what stands in it.
    pub field_notes: Vec<(String, Vec<u8>)>,
    /// What else has to be said of it, such as that its file is a link.
    pub remarks: Vec<String>,
}

impl Papers {
    /// The same as something to be reviewed.
    #[must_use]
    pub fn input<'a>(&'a self, on: Option<&'a str>, explained: Explained) -> Input<'a> {
        Input {
            name: &self.name,
            bytes: &self.bytes,
            shop: self.shop.as_ref().map(|(name, bytes)| (name.as_str(), bytes.as_slice())),
            field_notes: self
                .field_notes
                .iter()
                .map(|(name, bytes)| (name.as_str(), bytes.as_slice()))
                .collect(),
            on,
            stage: None,
            explained,
            notes: self.remarks.clone(),
        }
    }
}

/// The design that a command is about, and what it is to be held against.
#[derive(Clone, PartialEq, Eq, Debug, Default)]
pub struct Named {
    /// The design file.
    pub file: String,
    /// The day of the review.
    pub on: Option<String>,
    /// The shop file.
    pub shop: Option<String>,
    /// Field notes that lie over the design.
    pub field_notes: Vec<String>,
    /// Folders with more rulebooks.
    pub rulebooks: Vec<String>,
}

impl Named {
    /// Its books and its papers. Of the books only those that it names have to be sound.
    ///
    /// # Errors
    /// When something of it cannot be read; it is told already.
    pub fn laid_out(&self, host: &mut dyn Host, look: Look) -> Result<(Library, Papers), Status> {
        self.day(host)?;
        let library = library::for_designs(host, &self.rulebooks, look)?;
        Ok((library, self.taken(host)?))
    }

    /// Its papers alone.
    ///
    /// # Errors
    /// When one of them cannot be read; it is told already.
    pub fn papers(&self, host: &mut dyn Host) -> Result<Papers, Status> {
        self.day(host)?;
        self.taken(host)
    }

    fn day(&self, host: &mut dyn Host) -> Result<(), Status> {
        self.on.as_deref().and_then(no_day).map_or(Ok(()), |said| refuse(host, &said))
    }

    fn taken(&self, host: &mut dyn Host) -> Result<Papers, Status> {
        gathered(host, &self.file, self.shop.as_deref(), &self.field_notes)
            .or_else(|said| refuse(host, &said))
    }
}

fn refuse<T>(host: &mut dyn Host, said: &str) -> Result<T, Status> {
    host.tell(said);
    Err(Status::CouldNotRead)
}

/// Reads a design file with its shop file and these field notes.
///
/// # Errors
/// What to tell when one of them cannot be read; each on its own line.
pub fn gathered(
    host: &dyn Host,
    file: &str,
    shop: Option<&str>,
    field_notes: &[String],
) -> Result<Papers, String> {
    let bytes = take(host, file).map_err(|said| format!("{said}\n"))?;
    beside(host, file, bytes, shop, field_notes)
}

/// The same for a design file that was read already.
///
/// # Errors
/// What to tell when one of the others cannot be read; each on its own line.
pub fn beside(
    host: &dyn Host,
    file: &str,
    bytes: Vec<u8>,
    shop: Option<&str>,
    field_notes: &[String],
) -> Result<Papers, String> {
    let (shop, remarks) = shop_file(host, file, shop).map_err(|said| format!("{said}\n"))?;
    let mut papers = Vec::with_capacity(field_notes.len());
    let mut refused = String::new();
    for name in field_notes {
        match take(host, name) {
            Ok(bytes) => papers.push((name.clone(), bytes)),
            Err(said) => refused.push_str(&format!("{said}\n")),
        }
    }
    if !refused.is_empty() {
        return Err(refused);
    }
    Ok(Papers { name: file.to_owned(), bytes, shop, field_notes: papers, remarks })
}

/// What to tell when a text is no day.
#[must_use]
pub fn no_day(day: &str) -> Option<String> {
    Date::parse(day)
        .is_err()
        .then(|| format!("\"{}\" is not a day. Write it as 2026-05-12.\n", one_line(day)))
}

/// Reads a design file, or says why not, with the designs that lie beside it.
///
/// # Errors
/// What to tell when it cannot be read.
pub fn take(host: &dyn Host, file: &str) -> Taken {
    host.read(file).map_err(|refusal| {
        let mut said = format!("{} {}. {}", one_line(file), refusal.words(), refusal.advice());
        let folder = if host.sort_of(file) == Sort::Folder { file } else { folder_of(file) };
        if let Ok(names) = host.list(folder) {
            let designs: Vec<String> = names
                .iter()
                .filter(|(name, sort)| {
                    *sort == Sort::File && (name.ends_with(".yaml") || name.ends_with(".yml"))
                })
                .map(|(name, _)| join(folder, name))
                .collect();
            if let Some(near) = nearest(file, designs.iter().map(String::as_str)) {
                said.push_str(&format!(" Perhaps {} was meant.", one_line(&near)));
            } else if !designs.is_empty() && designs.len() <= 6 {
                said.push_str(&format!(" There is: {}.", one_line(&designs.join(", "))));
            }
        }
        said
    })
}

type Shop = (Option<(String, Vec<u8>)>, Vec<String>);

/// The shop file: the one that is named, else the one beside the design; with what has to be said of links.
fn shop_file(host: &dyn Host, file: &str, named: Option<&str>) -> Result<Shop, String> {
    let mut notes = Vec::new();
    if host.sort_of(file) == Sort::LinkElsewhere {
        notes.push(format!("{file} is a link to a file in another folder; that file was read."));
    }
    if let Some(named) = named {
        let bytes = host
            .read(named)
            .map_err(|refusal| format!("{} {}. {}", one_line(named), refusal.words(), refusal.advice()))?;
        return Ok((Some((named.to_owned(), bytes)), notes));
    }
    let beside = join(folder_of(file), SHOP_FILE);
    if beside == file {
        return Ok((None, notes));
    }
    match host.sort_of(&beside) {
        Sort::File | Sort::LinkInside => {
            let bytes = host.read(&beside).map_err(|refusal| {
                format!("{} {}. {}", one_line(&beside), refusal.words(), refusal.advice())
            })?;
            Ok((Some((beside, bytes)), notes))
        }
        Sort::LinkElsewhere => {
            notes.push(format!(
                "{beside} is a link to another folder and was not read. To use that file, name it with --shop."
            ));
            Ok((None, notes))
        }
        Sort::Folder | Sort::Other | Sort::Absent => Ok((None, notes)),
    }
}
