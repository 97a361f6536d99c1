//! What the fuzzer is seeded with and all that it ever found, read once more by the same parsers; on a
//! machine with Rust alone.

use std::collections::BTreeSet;
use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};

use flate2::read::MultiGzDecoder;

use crate::binary::root;

#[path = "../fuzz/src/parsers/mod.rs"]
mod parsers;

use parsers::{PARSERS, Parser};

/// A line of `seeds.list`.
struct Seeds {
    parser: String,
    at: PathBuf,
    ending: String,
}

fn seeds() -> Vec<Seeds> {
    let list = fs::read_to_string(root().join("tests/fuzz/seeds.list")).unwrap();
    let lines = list.lines().filter(|line| !line.starts_with('#') && !line.trim().is_empty());
    let seeds = lines.map(|line| {
        let words: Vec<&str> = line.split_whitespace().collect();
        let [parser, at, ending] = words[..] else { panic!("not three words: {line}") };
        Seeds { parser: parser.to_owned(), at: root().join(at), ending: ending.to_owned() }
    });
    seeds.collect()
}

fn files_below(at: &Path) -> Vec<PathBuf> {
    if at.is_file() {
        return vec![at.to_owned()];
    }
    let Ok(entries) = fs::read_dir(at) else { return Vec::new() };
    let mut files: Vec<PathBuf> =
        entries.flat_map(|entry| files_below(&entry.unwrap().path())).collect();
    files.sort();
    files
}

/// The files of a line, unpacked where the parser does not do it by itself.
fn bodies(seeds: &Seeds) -> Vec<Vec<u8>> {
    let ends = |path: &PathBuf| path.to_string_lossy().ends_with(&seeds.ending);
    let files: Vec<PathBuf> = files_below(&seeds.at).into_iter().filter(ends).collect();
    assert!(!files.is_empty(), "{} has no seed in {:?}", seeds.parser, seeds.at);
    let body = |path: PathBuf| {
        let body = fs::read(path).unwrap();
        if seeds.ending != ".gz" || seeds.parser == "year_file" {
            return body;
        }
        let mut unpacked = Vec::new();
        MultiGzDecoder::new(&body[..]).read_to_end(&mut unpacked).unwrap();
        unpacked
    };
    files.into_iter().map(body).collect()
}

fn parser(name: &str) -> &'static Parser {
    PARSERS.iter().find(|parser| parser.name == name).unwrap_or_else(|| panic!("no parser {name}"))
}

#[test]
fn every_parser_reads_its_seeds_whole_cut_short_and_damaged() {
    let mut seeded = BTreeSet::new();
    for seeds in seeds() {
        let parser = parser(&seeds.parser);
        for body in bodies(&seeds) {
            // What is never taken in shows nothing behind the first check.
            if (parser.read)(&body) {
                seeded.insert(parser.name);
            }
            (parser.read)(&body[..body.len() / 2]);
            let mut damaged = body;
            let middle = damaged.len() / 3;
            damaged[middle] ^= 0x80;
            (parser.read)(&damaged);
        }
    }
    let all: BTreeSet<&str> = PARSERS.iter().map(|parser| parser.name).collect();
    assert_eq!(seeded, all, "parsers that no file of tests/fuzz/seeds.list suits");
}

#[test]
fn what_the_fuzzer_found_stays_mended() {
    let found = root().join("tests/fuzz/found");
    let mut replayed = 0;
    for folder in fs::read_dir(&found).unwrap().map(|entry| entry.unwrap().path()) {
        if !folder.is_dir() {
            continue;
        }
        let parser = parser(&folder.file_name().unwrap().to_string_lossy());
        for file in files_below(&folder) {
            (parser.read)(&fs::read(&file).unwrap());
            replayed += 1;
        }
    }
    assert!(replayed > 0, "nothing in {found:?}");
}

#[test]
fn every_parser_takes_nothing_and_bytes_that_are_no_text() {
    for parser in PARSERS {
        for body in [&b""[..], b"\0", b"\xff\xfe\x00", b"\xef\xbb\xbf", b"\n\n\n", b"{}", b"[[[["] {
            (parser.read)(body);
        }
    }
}
