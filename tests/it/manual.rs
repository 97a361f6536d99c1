//! What a package puts beside the binary: every command has its page, every shell its script.

use std::process::Command;

use crate::binary::fairseam;
use crate::proof::{Allowed, Proof};
use crate::support::skip;

const NOW: &str = "2013-04-08T21:30:00Z";

/// The commands as `--help` lists them.
fn commands() -> Vec<String> {
    let help = fairseam(&["--help"], NOW).stdout;
    let listed = help.split("Commands:\n").nth(1).unwrap().split("\n\n").next().unwrap();
    let names: Vec<String> = listed
        .lines()
        .filter(|line| line.starts_with("  ") && !line.starts_with("   "))
        .map(|line| line.split_whitespace().next().unwrap().to_owned())
        .filter(|name| name != "help")
        .collect();
    assert!(names.len() > 6, "{names:?}");
    names
}

#[test]
fn every_command_has_a_man_page_with_its_flags() {
    let folder = tempfile::tempdir().unwrap();
    let into = folder.path().join("man1");
    let run = fairseam(&["manual", into.to_str().unwrap()], NOW);
    assert_eq!(run.code, 0, "{}", run.stderr);
    for name in commands() {
        let page = std::fs::read_to_string(into.join(format!("fairseam-{name}.1"))).unwrap();
        // man-pages(7): the title line, then NAME and SYNOPSIS.
        for part in [".TH ", ".SH NAME", ".SH SYNOPSIS"] {
            assert!(page.contains(part), "{name}: no `{part}`");
        }
        let help = fairseam(&[&name, "--help"], NOW).stdout;
        let flags = help.split_whitespace().filter(|word| word.starts_with("--") && word.len() > 3);
        for flag in flags {
            let flag = flag.trim_end_matches([',', '.', ';', ':', ']', ')', '`']);
            let escaped = flag.replace('-', "\\-");
            assert!(page.contains(&escaped) || page.contains(flag), "{name}: no {flag}");
        }
    }
}

#[test]
fn every_shell_has_its_script() {
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let run = fairseam(&["completions", shell], NOW);
        assert_eq!(run.code, 0, "{shell}: {}", run.stderr);
        for name in commands() {
            assert!(run.stdout.contains(&name), "{shell}: no {name}");
        }
    }
}

#[test]
fn bash_completes_what_is_typed() {
    let script = fairseam(&["completions", "bash"], NOW).stdout;
    let typed = format!(
        "{script}\nCOMP_WORDS=(fairseam pl); COMP_CWORD=1; _fairseam fairseam pl fairseam; echo \"${{COMPREPLY[@]}}\""
    );
    let mut proof = Proof::of(
        "files/completions",
        "What is completed of `fairseam pl`",
        "bash, with the script for it",
        "word",
        Allowed::Nothing,
    )
    .when_installed(1);
    let Ok(bash) = Command::new("bash").args(["-c", &typed]).output() else {
        skip("bash is not installed");
        return proof.done();
    };
    proof.same(String::from_utf8_lossy(&bash.stdout).trim(), "plan", String::new);
    proof.done();
}

#[test]
fn a_folder_that_cannot_be_made_is_said() {
    let file = tempfile::NamedTempFile::new().unwrap();
    let run = fairseam(&["manual", file.path().join("man").to_str().unwrap()], NOW);
    assert_eq!(run.code, 1);
    assert!(run.stderr.contains("cannot be made"), "{}", run.stderr);
}
