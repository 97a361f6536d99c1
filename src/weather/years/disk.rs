//! Weather files on disk, plain or gzipped, within bounds.

use std::fs::{self, File};
use std::io::{self, BufRead, BufReader, Read};
use std::path::{Path, PathBuf};

use flate2::bufread::MultiGzDecoder;

use super::YearsError;

/// A file that is read as a whole: a year of hours with every column fills a tenth of this.
const LONGEST: u64 = 64 << 20;
/// A file that is read line by line: a century of hours with every column fills a third of this.
const LONGEST_OF_LINES: u64 = 1 << 30;
/// A line of an hour is a tenth of this.
const LONGEST_LINE: u64 = 16 << 10;

/// The files themselves, and those of the folders by name, without hidden ones and subfolders.
pub(super) fn files_below(paths: &[PathBuf]) -> Result<Vec<PathBuf>, YearsError> {
    let mut files = Vec::new();
    for path in paths {
        if path.is_dir() {
            files.extend(in_folder(path)?);
        } else {
            files.push(path.clone());
        }
    }
    Ok(files)
}

fn in_folder(folder: &Path) -> Result<Vec<PathBuf>, YearsError> {
    let said = |error: io::Error| fault(folder, &error);
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).map_err(said)? {
        let path = entry.map_err(said)?.path();
        let hidden = path.file_name().is_some_and(|name| name.to_string_lossy().starts_with('.'));
        if path.is_file() && !hidden {
            files.push(path);
        }
    }
    if files.is_empty() {
        return Err(YearsError::NoFiles { path: folder.to_owned() });
    }
    files.sort();
    Ok(files)
}

/// The content of a file from its beginning, unpacked.
pub(super) struct Content {
    path: PathBuf,
    from: Box<dyn BufRead>,
}

impl Content {
    /// Opens a regular file; what is packed is told by its first bytes, not by its name.
    pub(super) fn open(path: &Path) -> Result<Self, YearsError> {
        let said = |error: io::Error| fault(path, &error);
        // A pipe or a device may never end, and a pipe not even begin.
        if !fs::metadata(path).map_err(said)?.is_file() {
            return Err(YearsError::File {
                path: path.to_owned(),
                problem: "it is no regular file".to_owned(),
            });
        }
        let mut file = BufReader::new(File::open(path).map_err(said)?);
        let packed = file.fill_buf().map_err(said)?.starts_with(&[0x1f, 0x8b]);
        let from: Box<dyn BufRead> = match packed {
            true => Box::new(BufReader::new(MultiGzDecoder::new(file))),
            false => Box::new(file),
        };
        Ok(Self { path: path.to_owned(), from })
    }

    /// The rest of it, for files that are read as a whole.
    pub(super) fn whole(mut self) -> Result<Vec<u8>, YearsError> {
        let mut bytes = Vec::new();
        let read = self.from.by_ref().take(LONGEST + 1).read_to_end(&mut bytes);
        let read = read.map_err(|error| fault(&self.path, &error))?;
        if read as u64 > LONGEST {
            return Err(self.problem(format!("it is larger than {} MB unpacked", LONGEST >> 20)));
        }
        Ok(bytes)
    }

    /// Its first `length` bytes or fewer, without taking them.
    pub(super) fn start(path: &Path, length: u64) -> Result<Vec<u8>, YearsError> {
        let mut bytes = Vec::new();
        let content = Self::open(path)?;
        let read = content.from.take(length).read_to_end(&mut bytes);
        read.map_err(|error| fault(path, &error))?;
        Ok(bytes)
    }

    /// The next line with its end, into `line`; its length, 0 at the end of the file.
    pub(super) fn line(&mut self, line: &mut Vec<u8>) -> Result<u64, YearsError> {
        line.clear();
        let read = self.from.by_ref().take(LONGEST_LINE).read_until(b'\n', line);
        let length = read.map_err(|error| fault(&self.path, &error))? as u64;
        if length == LONGEST_LINE {
            return Err(self.problem(format!("it has a line of more than {LONGEST_LINE} bytes")));
        }
        Ok(length)
    }

    /// `length` bytes from byte `from` on.
    pub(super) fn part(mut self, from: u64, length: u64) -> Result<Vec<u8>, YearsError> {
        let mut bytes = Vec::new();
        let skipped = io::copy(&mut self.from.by_ref().take(from), &mut io::sink());
        skipped
            .and_then(|_| self.from.by_ref().take(length).read_to_end(&mut bytes))
            .map_err(|error| fault(&self.path, &error))?;
        Ok(bytes)
    }

    /// That a file of lines goes on too long.
    pub(super) fn check_length(&self, read: u64) -> Result<(), YearsError> {
        if read > LONGEST_OF_LINES {
            let most = LONGEST_OF_LINES >> 20;
            return Err(self.problem(format!("it is larger than {most} MB unpacked")));
        }
        Ok(())
    }

    fn problem(&self, problem: String) -> YearsError {
        YearsError::File { path: self.path.clone(), problem }
    }
}

fn fault(path: &Path, error: &io::Error) -> YearsError {
    YearsError::File { path: path.to_owned(), problem: error.to_string() }
}
