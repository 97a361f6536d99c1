//! From what is typed to what the foreman reads: every case of `docs/test-welds.md`.

mod by_hand;

use crate::record_crew::{Memory, WHO, heat_flags, record_into, recorded, site, site_of};

/// On one line, so that a sentence can be looked for.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn each_verdict_says_what_was_seen() {
    let told = recorded("700 ccm, 800 ggg, 900 gggb");
    let text = flat(told.shown());
    for sentence in [
        "700 °F cold 2 strips parted cold; 1 strip tore only in part",
        "800 °F good 3 strips tore to the scrim, the narrowest over 1.5 in",
        "900 °F burnt browning seen; a burn counts however wide it holds",
        "3 x 1.5 in film tear; 2 in film tear, browning",
        "2 x 0.25 in cold; 1.5 in mixed",
    ] {
        assert!(text.contains(sentence), "`{sentence}` is missing:\n{}", told.shown());
    }
    let flags = ["--heat", "800", "--strips", "1.25 f x2, 1.25 f, 1 f al", "--heat", "900"];
    let flags =
        [&WHO[..], &flags[..], &["--strips", "0.5 film-tear, 1.5 f+void, 1.5 f+s"]].concat();
    let site = site();
    let told = record_into(&mut Memory::of(&site), &site, None, &flags, "");
    let text = flat(told.shown());
    for sentence in [
        "the narrowest over 1.25 in, short of the width aimed at; 1 strip peeled along the seam set aside",
        "1 strip tore over too little, the narrowest over 0.5 in; 1 strip with a void; 1 strip without scrim in sight",
    ] {
        assert!(text.contains(sentence), "`{sentence}` is missing:\n{}", told.shown());
    }
}

#[test]
fn what_proves_nothing_is_written_all_the_same_and_said() {
    let site = site();
    let heats = heat_flags("700 ccc, 800 ggg, 900 ggg, 1000 bbb");
    let heats: Vec<&str> = heats.iter().map(String::as_str).collect();
    let cases: &[(&[&str], &str)] = &[
        (
            &["--welder", "robot", "--who", "J.", "--air", "60", "--speed", "8"],
            "the site file has no welder `robot`",
        ),
        (&["--welder", "automatic 1", "--who", "J.", "--air", "60"], "no speed was written down"),
        (
            &["--welder", "automatic 1", "--who", "J.", "--air", "60", "--speed", "25"],
            "the speed is 25 ft/min, and by the site file this machine travels 3 to 18 ft/min",
        ),
        (
            &[
                "--welder",
                "automatic 1",
                "--who",
                "J.",
                "--air",
                "60",
                "--speed",
                "8",
                "--heat",
                "850 at 10",
                "--strips",
                "none",
            ],
            "two things were varied, heat and speed: the heats were welded at 8 to 10 ft/min",
        ),
    ];
    for (flags, sentence) in cases {
        let mut book = Memory::of(&site);
        let flags = [*flags, &heats[..]].concat();
        let told = record_into(&mut book, &site, None, &flags, "");
        assert!(told.shown().starts_with("DO NOT WELD with "), "{}", told.shown());
        assert!(flat(told.shown()).contains(sentence), "{sentence}:\n{}", told.shown());
        assert!(told.told().contains("it is not conclusive"), "{}", told.told());
        assert_eq!(book.entries.len(), 1, "{sentence}");
    }
}

#[test]
fn what_cannot_be_true_is_refused_and_nothing_is_written() {
    let site = site();
    let base = ["--welder", "automatic 1", "--who", "J.", "--heat", "800", "--strips", "1.5 f x3"];
    let cases: &[(&[&str], &str)] = &[
        (&["--air", "900"], "the air is 900 °F (482 °C), expected -130"),
        (&["--air", "60", "--at", "2027-04-22 09:00"], "the trial is dated 1 d 0 h after now"),
        (&["--air", "60", "--speed", "800"], "the speed is 800.0 ft/min"),
        (&["--speed", "9"], "`--air`: expected the air temperature in the shade, found none"),
        (&["--air", "6O"], "`--air`: expected a temperature in °F, such as `68`, found `6O`"),
        (&["--air", "60", "--at", "2027-03-14 02:30"], "does not exist on the site's clock"),
        (&["--air", "60", "--at", "yesterday"], "`--at`: expected a time"),
        (
            &["--air", "60", "--heat", "900"],
            "expected one `--strips` for each `--heat`, found 1 for 2",
        ),
        (&["--air", "60", "--polymer", "rubber"], "expected `pvc`, `tpo` or `kee`, found `rubber`"),
    ];
    for (flags, expected) in cases {
        let mut book = Memory::of(&site);
        let told = record_into(&mut book, &site, None, &[&base[..], flags].concat(), "");
        assert!(told.refusal().contains(expected), "{flags:?} said {}", told.refusal());
        assert!(told.refusal().contains("nothing was written"), "{}", told.refusal());
        assert!(book.entries.is_empty(), "{flags:?} was written");
    }
    // All at once, not one by one.
    let told = record_into(
        &mut Memory::of(&site),
        &site,
        None,
        &["--air", "warm", "--speed", "9 mph", "--heat", "x", "--strips", "1 torn"],
        "",
    );
    for place in ["`--air`", "`--speed`", "`--heat 1`", "`--strips 1`"] {
        assert!(told.refusal().contains(place), "{place} is not in {}", told.refusal());
    }
}

#[test]
fn a_dry_run_judges_and_writes_nothing() {
    let site = site();
    let heats = heat_flags("700 ccc, 800 ggg, 900 bbb");
    let flags: Vec<&str> = WHO.into_iter().chain(heats.iter().map(String::as_str)).collect();
    let mut book = Memory::of(&site);
    let told = record_into(&mut book, &site, None, &[&flags[..], &["--dry-run"]].concat(), "");
    assert!(told.shown().starts_with("SET automatic 1: 800 °F at 8 ft/min"));
    assert!(told.told().contains("nothing was written"));
    assert!(book.entries.is_empty());
    book.broken = true;
    let told = record_into(&mut book, &site, None, &flags, "");
    assert!(told.refusal().contains("the disk is full"), "an unwritten trial is no success");
}

#[test]
fn a_correction_changes_what_it_names_and_keeps_the_rest() {
    let site = site();
    let mut book = Memory::of(&site);
    let heats = heat_flags("700 ccc, 800 ggg, 900 bbb");
    let flags: Vec<&str> = WHO.into_iter().chain(heats.iter().map(String::as_str)).collect();
    record_into(&mut book, &site, None, &flags, "").result.unwrap();
    let change = ["--correct", "1", "--by", "M.", "--why", "lot misread", "--lot", "B7"];
    let told = record_into(&mut book, &site, None, &change, "");
    assert!(told.told().contains("trial 1 corrected"), "{}", told.told());
    let [first, second] = book.entries.as_slice() else { panic!("{:?}", book.entries) };
    assert_eq!(second.trial.lot.as_deref(), Some("B7"));
    let mut undone = second.trial.clone();
    undone.lot = None;
    assert_eq!(undone, first.trial);
    let (of, correction) = second.corrects.clone().unwrap();
    assert_eq!(
        (of.as_str(), correction.by.as_str(), correction.why.as_str()),
        ("1", "M.", "lot misread")
    );
    let unknown = ["--correct", "9", "--by", "M.", "--why", "x", "--lot", "B7"];
    let told = record_into(&mut book, &site, None, &unknown, "");
    assert!(told.refusal().contains("there is no trial `9`"), "{}", told.refusal());
    let silent = ["--correct", "1", "--by", "M.", "--why", " ", "--lot", "B7"];
    assert!(
        record_into(&mut book, &site, None, &silent, "").refusal().contains("`--why` is empty")
    );
    let usage = crate::record_crew::usage_error(&["--correct", "1", "--lot", "B7"]);
    assert!(usage.contains("--why") && usage.contains("--by"), "{usage}");
}

#[test]
fn a_hand_welder_and_a_metric_site_read_in_their_own_words() {
    let site = site_of(&[
        ("units", "\"metric\""),
        ("sheet.thickness", "1.5"),
        ("welders.heat_low", "370"),
        ("welders.heat_max", "600"),
        ("welders.heat_step", "50"),
        ("welders.speed_min", "1"),
        ("welders.speed_max", "5"),
        ("rules.ambient_change", "5.5"),
    ]);
    let flags = ["--welder", "automatic 1", "--who", "J.", "--air", "20", "--speed", "2.4"];
    let heats = ["--heat", "400", "--strips", "8 cold x3", "--heat", "450", "--strips", "40 f x3"];
    let more =
        ["--heat", "500 °C", "--strips", "1.5 in f x3", "--heat", "550", "--strips", "45 f+c x3"];
    let flags = [&flags[..], &heats[..], &more[..]].concat();
    let told = record_into(&mut Memory::of(&site), &site, None, &flags, "");
    let text = told.shown();
    assert!(text.starts_with("SET automatic 1: 475 °C at 2.4 m/min"), "{text}");
    assert!(flat(text).contains("Window 450 to 500 °C, 50 °C wide; both ends found"), "{text}");
    assert!(flat(text).contains("pvc 1.5 mm"), "{text}");
    let site = crate::record_crew::site();
    let flags = [
        "--welder",
        "hand 1",
        "--who",
        "J.",
        "--air",
        "60",
        "--heat",
        "700",
        "--strips",
        "1/4 cold x3",
        "--heat",
        "800",
        "--strips",
        "1.5 f x3",
        "--heat",
        "900",
        "--strips",
        "1.5 f x3",
    ];
    let told = record_into(&mut Memory::of(&site), &site, None, &flags, "");
    assert!(told.shown().starts_with("SET hand 1: 850 °F\n"), "{}", told.shown());
    let with_speed = [&flags[..], &["--speed", "8"]].concat();
    let told = record_into(&mut Memory::of(&site), &site, None, &with_speed, "");
    assert!(told.refusal().contains("a speed is given for a hand welder"), "{}", told.refusal());
}

#[test]
fn the_setting_really_run_goes_with_the_trial() {
    let site = site();
    let heats = heat_flags("700 ccc, 800 ggg, 900 bbb");
    let flags: Vec<&str> = WHO.into_iter().chain(heats.iter().map(String::as_str)).collect();
    let flags = [&flags[..], &["--run-setting", "810 at 8 ft/min"]].concat();
    let mut book = Memory::of(&site);
    record_into(&mut book, &site, None, &flags, "").result.unwrap();
    let (heat, speed) = book.entries[0].ran.unwrap();
    assert!((heat.fahrenheit() - 810.0).abs() < 1e-9);
    assert!((speed.unwrap().feet_per_minute() - 8.0).abs() < 1e-9);
}

#[test]
fn hostile_names_stay_on_their_line() {
    let site = site();
    let heats = heat_flags("700 ccc, 800 ggg, 900 bbb");
    let hostile = "Zo\u{eb} \"O'B\"\n\u{1b}[31m<script>\u{202e}🙂; DROP TABLE trials;--";
    let flags = [
        "--welder",
        "automatic 1",
        "--who",
        hostile,
        "--air",
        "60",
        "--speed",
        "8",
        "--lot",
        hostile,
        "--note",
        hostile,
    ];
    let flags: Vec<&str> = flags.into_iter().chain(heats.iter().map(String::as_str)).collect();
    let mut book = Memory::of(&site);
    let told = record_into(&mut book, &site, None, &flags, "");
    let text = told.shown();
    assert!(!text.contains('\u{1b}') && !text.contains('\u{202e}'), "{text:?}");
    assert!(text.lines().all(|line| line.chars().count() <= 80), "{text}");
    // The book keeps what was typed, to the letter.
    assert_eq!(book.entries[0].trial.lot.as_deref(), Some(hostile));
}
