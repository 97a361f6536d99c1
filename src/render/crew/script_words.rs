//! Every sentence that the page's scripts say, with its variables left open: `in {duration}`.
//!
//! A script asks for it by the name in front; a test holds the names in the scripts against these.

use std::collections::BTreeMap;

use crate::render::trial::certifies_nothing;
use crate::words::{Language, tell};

/// By the name that a script uses.
pub(super) fn script_words(language: Language) -> BTreeMap<&'static str, String> {
    [day_words(language), form_words(language), verdict_words(language)]
        .into_iter()
        .flatten()
        .collect()
}

/// The day, the signal, what is unsent.
fn day_words(language: Language) -> Vec<(&'static str, String)> {
    vec![
        ("made-here", tell!(language, "crew-made-here")),
        ("in", tell!(language, "crew-in", duration = "{duration}")),
        ("now", tell!(language, "crew-now")),
        ("ago", tell!(language, "crew-ago", duration = "{duration}")),
        ("duration-minutes", tell!(language, "crew-duration-minutes", minutes = "{minutes}")),
        (
            "duration-hours",
            tell!(language, "crew-duration-hours", hours = "{hours}", minutes = "{minutes}"),
        ),
        (
            "duration-days",
            tell!(language, "crew-duration-days", days = "{days}", hours = "{hours}"),
        ),
        ("signal", tell!(language, "crew-signal")),
        ("no-signal", tell!(language, "crew-no-signal", time = "{time}")),
        ("no-key", tell!(language, "crew-no-key")),
        ("keeps-nothing", tell!(language, "crew-keeps-nothing")),
        ("unsent-count", tell!(language, "crew-unsent-count", count = "{count}")),
        ("unsent-refused", tell!(language, "crew-unsent-refused", count = "{count}")),
        ("not-sent-yet", tell!(language, "crew-not-sent-yet")),
        ("refused-because", tell!(language, "crew-refused-because")),
        ("open-again", tell!(language, "crew-open-again")),
        ("throw-away", tell!(language, "crew-throw-away")),
        ("throw-away-sure", tell!(language, "crew-throw-away-sure")),
        ("plan-changed", tell!(language, "crew-plan-changed", time = "{time}")),
        ("tested-at", tell!(language, "crew-tested-at", time = "{time}")),
        ("set-words", tell!(language, "crew-set-words", setting = "{setting}")),
    ]
}

/// The form, step by step.
fn form_words(language: Language) -> Vec<(&'static str, String)> {
    vec![
        ("step", tell!(language, "crew-step", step = "{step}", steps = "{steps}")),
        ("next", tell!(language, "crew-next-step")),
        ("back", tell!(language, "crew-back")),
        ("leave", tell!(language, "crew-leave")),
        ("to-the-day", tell!(language, "crew-to-the-day")),
        ("another-trial", tell!(language, "crew-another-trial")),
        ("half-filled", tell!(language, "crew-half-filled")),
        ("go-on", tell!(language, "crew-go-on")),
        ("begin-new", tell!(language, "crew-begin-new")),
        ("ask-welder", tell!(language, "crew-ask-welder")),
        ("ask-who", tell!(language, "crew-ask-who")),
        ("other-name", tell!(language, "crew-other-name")),
        ("ask-air", tell!(language, "crew-ask-air")),
        ("air-hint", tell!(language, "crew-air-hint")),
        ("ask-sheet", tell!(language, "crew-ask-sheet")),
        ("not-read", tell!(language, "crew-not-read")),
        ("ask-speed", tell!(language, "crew-ask-speed")),
        ("speed-held", tell!(language, "crew-speed-held")),
        ("speed-hint", tell!(language, "crew-speed-hint")),
        ("slower", tell!(language, "crew-slower")),
        ("faster", tell!(language, "crew-faster")),
        ("key-back", tell!(language, "crew-key-back")),
        ("key-sign", tell!(language, "crew-key-sign")),
        ("key-point", tell!(language, "crew-key-point")),
        (
            "heat-title",
            tell!(
                language,
                "crew-heat-title",
                heat = "{heat}",
                number = "{number}",
                count = "{count}"
            ),
        ),
        (
            "strip-number",
            tell!(language, "crew-strip-number", number = "{number}", least = "{least}"),
        ),
        ("strip-more", tell!(language, "crew-strip-more", number = "{number}")),
        ("strip-open", tell!(language, "crew-strip-open")),
        ("ask-parted", tell!(language, "crew-ask-parted")),
        ("ask-width", tell!(language, "crew-ask-width", unit = "{unit}")),
        ("ask-signs", tell!(language, "crew-ask-signs")),
        ("parted-film-tear", tell!(language, "crew-parted-film-tear")),
        ("parted-cold", tell!(language, "crew-parted-cold")),
        ("parted-mixed", tell!(language, "crew-parted-mixed")),
        ("sign-browning", tell!(language, "crew-sign-browning")),
        ("sign-yellowing", tell!(language, "crew-sign-yellowing")),
        ("sign-char", tell!(language, "crew-sign-char")),
        ("sign-heavy-bleed-out", tell!(language, "crew-sign-heavy-bleed-out")),
        ("sign-void", tell!(language, "crew-sign-void")),
        ("sign-scrim-not-reached", tell!(language, "crew-sign-scrim-not-reached")),
        ("peeled-along", tell!(language, "crew-peeled-along")),
        ("next-strip", tell!(language, "crew-next-strip")),
        ("same-as-last", tell!(language, "crew-same-as-last", strip = "{strip}")),
        ("heat-done", tell!(language, "crew-heat-done")),
        ("heat-not-welded", tell!(language, "crew-heat-not-welded")),
        ("one-more-strip", tell!(language, "crew-one-more-strip")),
        ("take-strip-back", tell!(language, "crew-take-strip-back")),
        ("review", tell!(language, "crew-review")),
        ("fill-in", tell!(language, "crew-fill-in")),
        ("wanted-welder", tell!(language, "crew-wanted-welder")),
        ("wanted-who", tell!(language, "crew-wanted-who")),
        ("wanted-air", tell!(language, "crew-wanted-air")),
        ("wanted-speed", tell!(language, "crew-wanted-speed")),
        ("wanted-strips", tell!(language, "crew-wanted-strips")),
        ("write-down", tell!(language, "crew-write-down")),
        ("try-heat", tell!(language, "crew-try-heat", heat = "{heat}")),
        ("other-heat", tell!(language, "crew-other-heat")),
        ("add-heat", tell!(language, "crew-add-heat")),
        ("strips-count", tell!(language, "crew-strips-count", count = "{count}")),
        ("more", tell!(language, "crew-more")),
        ("more-lot", tell!(language, "crew-more-lot")),
        ("more-roll", tell!(language, "crew-more-roll")),
        ("more-weights", tell!(language, "crew-more-weights")),
        ("more-air-flow", tell!(language, "crew-more-air-flow")),
        ("more-ran-heat", tell!(language, "crew-more-ran-heat", unit = "{unit}")),
        ("more-ran-speed", tell!(language, "crew-more-ran-speed", unit = "{unit}")),
        ("more-note", tell!(language, "crew-more-note")),
        ("result", tell!(language, "crew-result")),
        ("result-waiting", tell!(language, "crew-result-waiting")),
        ("result-sent", tell!(language, "crew-result-sent", id = "{id}")),
        ("result-refused", tell!(language, "crew-result-refused")),
        ("certifies-nothing", certifies_nothing(language)),
    ]
}

/// What a trial comes to.
fn verdict_words(language: Language) -> Vec<(&'static str, String)> {
    vec![
        ("set", tell!(language, "crew-set")),
        ("do-not-weld", tell!(language, "crew-do-not-weld")),
        ("why-nothing-good", tell!(language, "crew-why-nothing-good")),
        ("why-contradiction", tell!(language, "crew-why-contradiction")),
        ("why-not-conclusive", tell!(language, "crew-why-not-conclusive")),
        ("verdict-good", tell!(language, "crew-verdict-good")),
        ("verdict-cold", tell!(language, "crew-verdict-cold")),
        ("verdict-burnt", tell!(language, "crew-verdict-burnt")),
        ("verdict-not-conclusive", tell!(language, "crew-verdict-not-conclusive")),
        ("verdict-none", tell!(language, "crew-verdict-none")),
        (
            "window",
            tell!(language, "crew-window", bottom = "{bottom}", top = "{top}", ends = "{ends}"),
        ),
        ("window-one", tell!(language, "crew-window-one", top = "{top}", ends = "{ends}")),
        ("ends-found-found", tell!(language, "crew-ends-found-found")),
        ("ends-found-open", tell!(language, "crew-ends-found-open")),
        ("ends-open-found", tell!(language, "crew-ends-open-found")),
        ("ends-open-open", tell!(language, "crew-ends-open-open")),
        ("doubt-unknown-welder", tell!(language, "crew-doubt-unknown-welder")),
        ("doubt-other-kind", tell!(language, "crew-doubt-other-kind")),
        ("doubt-speed-missing", tell!(language, "crew-doubt-speed-missing")),
        ("doubt-speed-outside-machine", tell!(language, "crew-doubt-speed-outside-machine")),
        ("doubt-speed-varied", tell!(language, "crew-doubt-speed-varied")),
        ("doubt-weights-varied", tell!(language, "crew-doubt-weights-varied")),
        ("doubt-air-flow-varied", tell!(language, "crew-doubt-air-flow-varied")),
        (
            "finding-hole-in-the-middle",
            tell!(language, "crew-finding-hole-in-the-middle", heats = "{heats}"),
        ),
        (
            "finding-cold-above-good",
            tell!(language, "crew-finding-cold-above-good", heats = "{heats}"),
        ),
        (
            "finding-burnt-below-good",
            tell!(language, "crew-finding-burnt-below-good", heats = "{heats}"),
        ),
        ("finding-burnt-below-cold", tell!(language, "crew-finding-burnt-below-cold")),
        ("finding-all-cold", tell!(language, "crew-finding-all-cold", heats = "{heats}")),
        ("finding-all-cold-to-maximum", tell!(language, "crew-finding-all-cold-to-maximum")),
        ("finding-all-burnt", tell!(language, "crew-finding-all-burnt", heats = "{heats}")),
        ("finding-all-burnt-to-lowest", tell!(language, "crew-finding-all-burnt-to-lowest")),
        (
            "finding-cold-then-burnt",
            tell!(language, "crew-finding-cold-then-burnt", heats = "{heats}"),
        ),
        ("finding-cold-then-burnt-none", tell!(language, "crew-finding-cold-then-burnt-none")),
        (
            "finding-single-good-heat",
            tell!(language, "crew-finding-single-good-heat", heats = "{heats}"),
        ),
        ("finding-single-good-heat-none", tell!(language, "crew-finding-single-good-heat-none")),
        (
            "finding-narrower-than-step",
            tell!(language, "crew-finding-narrower-than-step", heats = "{heats}"),
        ),
        (
            "finding-narrower-than-step-none",
            tell!(language, "crew-finding-narrower-than-step-none"),
        ),
        ("finding-top-not-found", tell!(language, "crew-finding-top-not-found", heats = "{heats}")),
        ("finding-top-at-maximum", tell!(language, "crew-finding-top-at-maximum")),
        (
            "finding-bottom-not-found",
            tell!(language, "crew-finding-bottom-not-found", heats = "{heats}"),
        ),
        ("finding-bottom-at-lowest", tell!(language, "crew-finding-bottom-at-lowest")),
        ("finding-outside-machine", tell!(language, "crew-finding-outside-machine")),
        ("finding-repeat", tell!(language, "crew-finding-repeat", heats = "{heats}")),
        ("speed-next", tell!(language, "crew-speed-next", speed = "{speed}")),
    ]
}
