//! Every dependency is justified on its page, and the page names no other.

use std::collections::BTreeSet;
use std::fs;

use crate::binary::root;

#[test]
fn every_dependency_has_its_reason() {
    let manifest: toml::Table =
        fs::read_to_string(root().join("Cargo.toml")).unwrap().parse().unwrap();
    let used: BTreeSet<String> = ["dependencies", "dev-dependencies"]
        .iter()
        .flat_map(|part| manifest[*part].as_table().unwrap().keys().cloned())
        .collect();
    let page = fs::read_to_string(root().join("docs/dependencies.md")).unwrap();
    let rows = page.lines().filter(|line| line.starts_with("| `"));
    let cells = rows.map(|row| row.split('|').nth(1).unwrap());
    let tests = page.split("For tests and benches:").nth(1).unwrap().split("\n\n").next().unwrap();
    let named: BTreeSet<String> = cells
        .chain([tests])
        .flat_map(|text| text.split('`').skip(1).step_by(2))
        .map(str::to_owned)
        .collect();
    assert_eq!(used, named, "Cargo.toml on the left, docs/dependencies.md on the right");
}

#[test]
fn the_minimum_rust_version_is_checked_by_clippy_and_the_resolver() {
    let manifest: toml::Table =
        fs::read_to_string(root().join("Cargo.toml")).unwrap().parse().unwrap();
    let package = &manifest["package"];
    // Edition 2024 brings the resolver that minds rust-version (The Cargo Book, resolver "3").
    assert_eq!(package["edition"].as_str(), Some("2024"));
    assert!(package["rust-version"].as_str().is_some());
    // `incompatible_msrv` is in clippy's suspicious group, which `all` holds and CI denies.
    assert_eq!(manifest["lints"]["clippy"]["all"]["level"].as_str(), Some("warn"));
    assert_eq!(manifest["lints"]["rust"]["unsafe_code"].as_str(), Some("forbid"));
    let ci = fs::read_to_string(root().join(".ci/run")).unwrap();
    assert!(ci.contains("clippy --locked --all-targets -- -D warnings"));
}
