//! Cases worked by hand, from the flags to the setting.

use super::flat;
use crate::proof::{Allowed, Proof};
use crate::record_crew::recorded;
#[test]
fn hand_worked_cases_end_to_end() {
    // The verdicts are those of the hand-worked table of tests/it/testweld_window.rs and of
    // docs/test-welds.md; heats worked by hand from steps of 100 °F between 700 and 1100 °F.
    let cases: &[(&str, &str, &[&str])] = &[
        (
            // The trade's own example (*common practice*): 800 bottom, 1050 top, set about 925.
            "700 ccc, 800 ggg, 900 ggg, 1000 ggg, 1050 ggg, 1100 bbb",
            "SET automatic 1: 925 °F at 8 ft/min",
            &["Window 800 to 1050 °F, 250 °F wide; both ends found"],
        ),
        (
            "700 ccc, 800 ccc, 900 ccc",
            "DO NOT WELD with automatic 1: no heat was good",
            &["cold up to 900 °F, the highest tried", "Try 1000 °F, at the same speed."],
        ),
        (
            "700 ccc, 1100 ccc",
            "DO NOT WELD with automatic 1: no heat was good",
            &[
                "cold up to 1100 °F, the machine's maximum",
                "Only speed is left",
                "slower: worth about 100 °F",
            ],
        ),
        (
            "900 bbb, 1000 bbb",
            "DO NOT WELD with automatic 1: no heat was good",
            &["burnt down to 900 °F, the lowest tried", "Try 800 °F"],
        ),
        (
            "700 bbb, 800 bbb",
            "DO NOT WELD with automatic 1: no heat was good",
            &[
                "burnt down to 700 °F, the machine's first heat",
                "Only speed is left",
                "faster: worth about 100 °F",
            ],
        ),
        (
            "800 ccc, 900 bbb",
            "DO NOT WELD with automatic 1: no heat was good",
            &["800 °F was cold and 900 °F already burnt", "half steps in between: 850 °F"],
        ),
        (
            "800 ccc, 850 bbb",
            "DO NOT WELD with automatic 1: no heat was good",
            &["Nothing is left to try in between at this speed"],
        ),
        (
            "800 bbb, 900 ccc",
            "DO NOT WELD with automatic 1: the heats contradict each other",
            &["800 °F was burnt below a cold 900 °F", "Then repeat the trial."],
        ),
        (
            "700 ccc, 800 ggg, 900 ggg, 1000 ggg, 1100 ggg",
            "SET automatic 1: 950 °F at 8 ft/min",
            &[
                "Good up to 1100 °F, the machine's maximum",
                "Only a slower speed would show the top",
            ],
        ),
        (
            "700 ggg, 800 ggg, 900 bbb",
            "SET automatic 1: 750 °F at 8 ft/min",
            &[
                "Good down to 700 °F, the machine's first heat",
                "Only a faster speed would show the bottom",
            ],
        ),
        (
            "825 ggg, 925 ggg, 1025 ggg",
            "SET automatic 1: 925 °F at 8 ft/min",
            &[
                "neither end found",
                "Good up to 1025 °F, the highest tried",
                "Try 1100 °F to find the top",
                "Good down to 825 °F, the lowest tried",
                "Try 725 °F to find the bottom",
            ],
        ),
        (
            "700 ggg, 800 ggg, 900 ccc, 1000 bbb, 1100 ggg",
            "DO NOT WELD with automatic 1: the heats contradict each other",
            &[
                "900 and 1000 °F failed between the good heats 800 and 1100 °F",
                "Then repeat 900 and 1000 °F.",
            ],
        ),
        (
            "800 ggg, 900 ggg, 1000 ccc",
            "DO NOT WELD with automatic 1: the heats contradict each other",
            &["1000 °F was cold above a good 900 °F", "Then repeat 1000 °F."],
        ),
        (
            "800 bbb, 900 ggg, 1000 ggg",
            "DO NOT WELD with automatic 1: the heats contradict each other",
            &["800 °F was burnt below a good 900 °F", "Then repeat 800 °F."],
        ),
        (
            "700 ccc, 800 ccc, 900 ggg, 1000 bbb, 1100 bbb",
            "SET automatic 1: 900 °F at 8 ft/min",
            &["One single heat was good, 900 °F", "half steps beside it: 850 and 950 °F"],
        ),
        (
            "850 ccc, 900 ggg, 950 bbb",
            "SET automatic 1: 900 °F at 8 ft/min",
            &["The half steps to each side have been tried"],
        ),
        (
            "800 ccc, 850 ggg, 900 ggg, 950 bbb",
            "SET automatic 1: 875 °F at 8 ft/min",
            &["The window is 50 °F wide, narrower than a step of 100 °F"],
        ),
        (
            "700 ccc, 800 ggg, 900 gg, 1000 ggg, 1100 bbb",
            "SET automatic 1: 900 °F at 8 ft/min",
            &[
                "900 °F proved nothing.",
                "Repeat 900 °F: three strips or more",
                "2 strips peeled across the seam, expected 3 or more",
            ],
        ),
        (
            "800 gg, 900 aaa",
            "DO NOT WELD with automatic 1: this trial proves nothing",
            &[
                "800 and 900 °F proved nothing.",
                "3 strips peeled along the seam, which tells nothing",
            ],
        ),
        (
            "600 ccc, 800 ggg, 900 bbb, 700 ccc",
            "SET automatic 1: 800 °F at 8 ft/min",
            &[
                "600 °F proved nothing: the site file gives this machine 700 to 1100 °F.",
                "Keep to the machine's heats",
            ],
        ),
    ];
    let mut proof = Proof::of(
        "weld/told",
        "What a trial says first: the setting, or not to weld",
        "worked by hand; the first, 800 to 1050 °F set at 925, is *common practice*",
        "trials",
        Allowed::Nothing,
    );
    for (table, headline, sentences) in cases {
        let told = recorded(table);
        let text = told.shown();
        proof.same(&text.lines().next(), &Some(*headline), || (*table).to_owned());
        for sentence in *sentences {
            assert!(flat(text).contains(sentence), "{table} does not say `{sentence}`:\n{text}");
        }
        assert!(text.lines().all(|line| line.chars().count() <= 80), "{table}:\n{text}");
        assert!(!flat(text).to_lowercase().contains("the weld is good"), "{text}");
        assert!(flat(text).contains("It certifies no seam"), "{text}");
        if headline.starts_with("DO NOT WELD") {
            assert!(!text.contains("Window "), "a window beside DO NOT WELD, {table}:\n{text}");
            assert!(text.contains("=> "), "no next step, {table}:\n{text}");
        }
    }
    proof.done();
}
