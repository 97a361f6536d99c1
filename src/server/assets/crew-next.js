// What is next and in how long, how each checkpoint stands, what to set now: from the page's data and
// what this phone has made itself, sent or not.
(() => {
  "use strict";

  const { base, view } = globalThis.fairseam;
  const { page, say, clock, now, duration, el } = base;
  const at = (id) => document.getElementById(id);
  const show = (id, shown) => {
    at(id).hidden = !shown;
  };
  // The trials of this phone's store.
  const on = { trials: [] };

  // Every checkpoint of both days that still wants a trial, as far as the phone knows.
  function open() {
    return page.data.checkpoints.filter(
      (point) => !point.made && !madeHere(point) && now() < Date.parse(point.over),
    );
  }

  // One that a trial of this phone was made for, sent or not; a trial that proves nothing does not.
  const madeHere = (point) =>
    on.trials.some(
      (entry) =>
        entry.site === page.data.site_key &&
        entry.state !== "refused" &&
        entry.checkpoint_key === point.key &&
        entry.local.setting.why !== "not-conclusive",
    );

  function showNext() {
    const next = open()[0];
    show("next-none", !next);
    show("next-some", Boolean(next));
    if (next) {
      if (at("next-some").dataset.key !== next.key) {
        at("next-some").dataset.key = next.key;
        const body = document.querySelector(`#list [data-key="${CSS.escape(next.key)}"] .body`);
        at("next-body").replaceChildren(...[...body.cloneNode(true).childNodes]);
      }
      at("next-clock").textContent = clock(next.time);
      at("next-clock").dateTime = next.time;
      at("next-day").textContent = isToday(next) ? "" : next.day;
      showCountdown(next);
    }
    for (const item of document.querySelectorAll("#list [data-key]")) showStanding(item, next);
  }

  // A night shift has two dates.
  const isToday = (point) =>
    [point.date, base.localDate(point.time)].includes(base.localDate(now()));

  function showCountdown(next) {
    const minutes = Math.round((Date.parse(next.time) - now()) / 60_000);
    const words =
      minutes > 0
        ? say("in", { duration: duration(minutes) })
        : minutes === 0
          ? say("now")
          : say("ago", { duration: duration(-minutes) });
    const countdown = at("next-countdown");
    if (countdown.textContent !== words) countdown.textContent = words;
    countdown.classList.toggle("late", minutes < -next.allowed);
    countdown.classList.toggle("due", minutes <= 0 && minutes >= -next.allowed);
  }

  function showStanding(item, next) {
    const point = page.data.checkpoints.find((point) => point.key === item.dataset.key);
    if (!point) return;
    const standing = item.querySelector(".standing");
    const here = !point.made && madeHere(point);
    standing.textContent = here ? say("made-here") : point.standing;
    item.classList.toggle("made", point.made || here);
    item.classList.toggle("is-next", next?.key === point.key);
  }

  // ---- what to set now ----

  // Of each welder the newest of what the book and this phone know.
  function showRunning() {
    const newest = new Map();
    const take = (entry) => {
      const before = newest.get(entry.welder);
      if (!before || before.at < entry.at) newest.set(entry.welder, entry);
    };
    for (const entry of page.data.running) take({ ...entry, at: Date.parse(entry.at) });
    for (const entry of ofThisDay()) {
      if (entry.state === "refused") continue;
      const welder = entry.trial.welder;
      const unsent = entry.state === "waiting";
      const setting = shownSetting(entry);
      take({ welder, at: Date.parse(entry.made_at), ...setting, unsent });
    }
    const order = page.data.welders.map((welder) => welder.name);
    const rows = [...newest.values()]
      .sort((one, other) => order.indexOf(one.welder) - order.indexOf(other.welder))
      .map((entry) =>
        el(
          "li",
          { class: entry.run ? "run" : "stop" },
          el("span", { class: "welder", dir: "auto" }, entry.welder),
          el("strong", { class: "setting" }, entry.run ? entry.figures : say("do-not-weld")),
          el(
            "span",
            { class: "hint" },
            say("tested-at", { time: clock(entry.at) }),
            entry.unsent ? `, ${say("not-sent-yet")}` : "",
          ),
        ),
      );
    at("running-list").replaceChildren(...rows);
    show("running", rows.length > 0);
  }

  // No shift is longer; yesterday's settings are not today's.
  const LONGEST_SHIFT_MS = 14 * 3_600_000;
  const ofThisDay = () =>
    on.trials.filter(
      (entry) =>
        entry.site === page.data.site_key && now() - Date.parse(entry.made_at) < LONGEST_SHIFT_MS,
    );

  // The server's word where it has spoken, else the phone's own.
  function shownSetting(entry) {
    const setting = entry.answer?.judged?.setting ?? entry.local.setting;
    const run = setting.verdict === "run-at";
    return { run, figures: run ? view.settingFigures(setting) : "" };
  }

  function showAll(trials) {
    on.trials = trials;
    showNext();
    showRunning();
  }

  globalThis.fairseam = { ...globalThis.fairseam, next: { showAll, open, shownSetting } };
})();
