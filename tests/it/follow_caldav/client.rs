//! The crew's side: a client that fetches, and one that shows.

use std::fs;
use std::process::Command;

use super::Scene;
use crate::calendar_read_back::read_with_calcard;
use crate::radicale::{LOGIN, python};

/// `vdirsyncer` and `khal`, with a folder of their own.
pub(super) struct Client {
    folder: std::path::PathBuf,
}

impl Client {
    pub(super) fn new(scene: &Scene) -> Self {
        let folder = scene.folder.path().join("client");
        fs::create_dir_all(folder.join("calendars/crew")).unwrap();
        let (user, password) = LOGIN.split_once(':').unwrap();
        let sync = format!(
            "[general]\nstatus_path = \"{0}/status/\"\n[pair crew]\na = \"here\"\nb = \"there\"\n\
             collections = [\"crew\"]\nconflict_resolution = \"b wins\"\n\
             [storage here]\ntype = \"filesystem\"\npath = \"{0}/calendars/\"\nfileext = \".ics\"\n\
             [storage there]\ntype = \"caldav\"\nurl = \"{1}\"\nusername = \"{user}\"\n\
             password = \"{password}\"\n",
            folder.display(),
            scene.server.root()
        );
        fs::write(folder.join("vdirsyncer.conf"), sync).unwrap();
        let khal = format!(
            "[calendars]\n[[crew]]\npath = {0}/calendars/crew\n[locale]\nlocal_timezone = America/New_York\n\
             default_timezone = America/New_York\ntimeformat = %H:%M\ndateformat = %Y-%m-%d\n\
             longdateformat = %Y-%m-%d\ndatetimeformat = %Y-%m-%d %H:%M\n\
             longdatetimeformat = %Y-%m-%d %H:%M\n[sqlite]\npath = {0}/khal.db\n[default]\n\
             print_new = False\n",
            folder.display()
        );
        fs::write(folder.join("khal.conf"), khal).unwrap();
        Self { folder }
    }

    fn run(&self, module: &str, args: &[&str]) -> String {
        // As the packages' own entry points start.
        let main = match module {
            "khal" => "from khal.cli import main_khal as main; main()",
            _ => "from vdirsyncer.cli import app as main; main()",
        };
        let output = Command::new(python())
            .args(["-c", main])
            .args(args)
            .env("HOME", &self.folder)
            .env("XDG_CONFIG_HOME", &self.folder)
            .env("XDG_DATA_HOME", &self.folder)
            .env("XDG_CACHE_HOME", &self.folder)
            .env("NO_PROXY", "127.0.0.1")
            .env("LC_ALL", "C.UTF-8")
            .env("TZ", "America/New_York")
            .output()
            .unwrap();
        let stderr = String::from_utf8_lossy(&output.stderr).into_owned();
        assert!(output.status.success(), "{module} {args:?}: {stderr}");
        String::from_utf8(output.stdout).unwrap()
    }

    pub(super) fn sync(&self) {
        let config = self.folder.join("vdirsyncer.conf");
        let config = config.to_str().unwrap();
        self.run("vdirsyncer", &["-c", config, "discover", "--no-list"]);
        self.run("vdirsyncer", &["-c", config, "sync"]);
    }

    /// Start, SEQUENCE in the file and summary of each event of the day.
    pub(super) fn list(&self) -> String {
        let config = self.folder.join("khal.conf");
        let format = "{start-time}|{uid}|{title}";
        let shown = self.run(
            "khal",
            &[
                "-c",
                config.to_str().unwrap(),
                "list",
                "--day-format",
                "",
                "--format",
                format,
                "2013-04-09",
                "1d",
            ],
        );
        let files: Vec<String> = fs::read_dir(self.folder.join("calendars/crew"))
            .unwrap()
            .map(|entry| entry.unwrap().path())
            .filter(|path| path.extension().is_some_and(|end| end == "ics"))
            .map(|path| fs::read_to_string(path).unwrap())
            .collect();
        let line = |line: &str| {
            let [start, uid, title]: [&str; 3] =
                line.splitn(3, '|').collect::<Vec<_>>().try_into().unwrap();
            let file = files.iter().find(|text| read_with_calcard(text).1[0].uid == uid).unwrap();
            format!("{start} {} {title}", read_with_calcard(file).1[0].sequence)
        };
        shown.lines().filter(|text| text.contains('|')).map(line).collect::<Vec<_>>().join("\n")
    }
}
