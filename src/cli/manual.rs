//! `fairseam manual` and `fairseam completions`: what a package puts beside the binary, made from
//! the same words as `--help`.

use std::fs;

use anyhow::Context;
use clap::CommandFactory;

use super::arguments::{CommandLine, CompletionsArguments, ManualArguments};
use super::outcome::{print, say};

/// Writes one man page a command into a folder.
pub(super) fn pages(arguments: &ManualArguments) -> anyhow::Result<()> {
    let folder = &arguments.folder;
    fs::create_dir_all(folder)
        .with_context(|| format!("the folder {} cannot be made", folder.display()))?;
    clap_mangen::generate_to(CommandLine::command(), folder)
        .with_context(|| format!("the man pages cannot be written to {}", folder.display()))?;
    say(&format!("man pages written to {}", folder.display()));
    Ok(())
}

/// Prints what a shell needs to complete commands, flags and file names.
pub(super) fn completions(arguments: &CompletionsArguments) -> anyhow::Result<()> {
    let mut script = Vec::new();
    let mut command = CommandLine::command();
    clap_complete::generate(arguments.shell, &mut command, "fairseam", &mut script);
    print(&String::from_utf8(script).context("the completion script is not text")?)
}
