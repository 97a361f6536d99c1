//! A site file, read and found sound, or everything that is wrong with it.

use super::fault::{Fault, SiteFaults};
use super::lines::Lines;
use super::origin::Origins;
use super::section::{NoValue, Sections};
use super::syntax::Document;
use super::{Kind, Site, build, checks, read};

/// Size of a site file at most, in bytes. Whoever reads the file stops here.
pub const MAX_BYTES: usize = 1024 * 1024;

/// A site, and where each of its values comes from.
#[derive(Debug, Clone, PartialEq)]
pub struct Loaded {
    /// The site.
    pub site: Site,
    /// For every key: the file or the default.
    pub origins: Origins,
}

/// Reads a site file. `file_name` is how its faults name it.
///
/// # Errors
/// Everything that is wrong with the file, each fault in one sentence with its line.
pub fn load(text: &str, file_name: &str) -> Result<Loaded, SiteFaults> {
    if text.len() > MAX_BYTES {
        let bytes = text.len();
        let sentence = format!("the file has {bytes} bytes; expected at most {MAX_BYTES}");
        return Err(SiteFaults::new(file_name, vec![Fault { line: 1, key: None, sentence }]));
    }
    let lines = Lines::of(text);
    let document = Document::parse(&lines, text);
    let mut reading = read::read(&lines, document.root.get_ref());
    let mut faults = document.faults;
    if faults.is_empty() {
        faults.append(&mut reading.faults);
        faults.append(&mut reading.missing);
        checks::check(&reading.sections, reading.units, &mut faults);
    } else {
        // Only what surely stands as it was read is judged; nothing is called missing.
        let broken: Vec<usize> = faults.iter().map(|fault| fault.line).collect();
        reading
            .faults
            .retain(|fault| fault.line < document.trusted_below && !broken.contains(&fault.line));
        faults.append(&mut reading.faults);
    }
    if !faults.is_empty() {
        return Err(SiteFaults::new(file_name, faults));
    }
    match build::build(&reading.sections, reading.units) {
        Ok(site) => Ok(Loaded { site, origins: Origins { sections: in_force(reading.sections) } }),
        Err(NoValue(path)) => {
            let sentence = format!("`{path}` has no value; expected one");
            let fault = Fault { line: 1, key: Some(path.to_owned()), sentence };
            Err(SiteFaults::new(file_name, vec![fault]))
        }
    }
}

/// Without what does not apply: the default speeds of hand welders.
fn in_force(mut sections: Sections) -> Sections {
    for section in &mut sections.0 {
        if section.choice::<Kind>("welders[].kind") == Some(Kind::Hand) {
            section.entries.retain(|path, _| !path.starts_with("welders[].speed_"));
        }
    }
    sections
}
