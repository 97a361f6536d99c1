// The day on the phone: what is next and in how long, what to set, what is still unsent; kept current
// while there is signal, readable without.
(() => {
  "use strict";

  const { base, outbox, verdict, form } = globalThis.fairseam;
  const { page, say, figures, clock, now, duration, el, button } = base;
  const at = (id) => document.getElementById(id);
  const show = (id, shown) => {
    at(id).hidden = !shown;
  };
  const CLOCK = "fairseam-clock-ahead";
  const state = { trials: [], signal: navigator.onLine, noKey: false, unkept: false };

  // ---- what is next ----

  // Every checkpoint of both days that still wants a trial, as far as the phone knows.
  function open() {
    return page.data.checkpoints.filter(
      (point) => !point.made && !madeHere(point) && now() < Date.parse(point.over),
    );
  }

  // One that a trial of this phone was made for, sent or not; a trial that proves nothing does not.
  const madeHere = (point) =>
    state.trials.some(
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
      at("next-day").textContent = base.localDate(now()) === next.date ? "" : next.day;
      showCountdown(next);
    }
    for (const item of document.querySelectorAll("#list [data-key]")) showStanding(item, next);
  }

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

  const ofThisDay = () =>
    state.trials.filter(
      (entry) => entry.site === page.data.site_key && entry.date === base.localDate(now()),
    );

  // The server's word where it has spoken, else the phone's own.
  function shownSetting(entry) {
    const setting = entry.answer?.judged?.setting ?? entry.local.setting;
    const run = setting.verdict === "run-at";
    return { run, figures: run ? form.settingFigures(setting) : "" };
  }

  // ---- what is still unsent ----

  function showUnsent() {
    const unsent = state.trials.filter((entry) => entry.state !== "sent");
    const refused = unsent.filter((entry) => entry.state === "refused").length;
    show("unsent-open", unsent.length > 0);
    at("unsent-open").classList.toggle("refused", refused > 0);
    at("unsent-open").textContent =
      refused > 0
        ? say("unsent-refused", { count: refused })
        : say("unsent-count", { count: unsent.length });
    at("unsent-list").replaceChildren(...unsent.map(unsentItem));
    if (unsent.length === 0 && !at("unsent").hidden) go("day");
  }

  function unsentItem(entry) {
    const title = `${clock(entry.made_at)} · ${entry.trial.welder} · ${entry.trial.who}`;
    const setting = shownSetting(entry);
    const parts = [
      el("h3", { dir: "auto" }, title),
      el("p", {}, setting.run ? say("set-words", { setting: setting.figures }) : say("do-not-weld")),
    ];
    if (entry.state === "refused") {
      parts.push(
        el("p", { class: "problem" }, say("refused-because"), " ", entry.fault),
        el(
          "div",
          { class: "buttons" },
          button(say("open-again"), "first", () => openAgain(entry)),
          button(say("throw-away"), "second", (event) => throwAway(event.target, entry)),
        ),
      );
    } else {
      parts.push(el("p", {}, say("not-sent-yet")));
    }
    return el("li", {}, ...parts);
  }

  // A new try is a new trial: the old one stays unsent until the new one is kept.
  async function openAgain(entry) {
    await outbox.drafts.save({ ...entry.draft, site: page.data.site_key, sent_id: outbox.newId() });
    await outbox.drop(entry.sent_id);
    await refreshTrials();
    form.start(null, await outbox.drafts.load(page.data.site_key));
  }

  // Asked twice: a glove has touched the wrong place before.
  async function throwAway(pressed, entry) {
    if (pressed.dataset.sure !== "yes") {
      pressed.dataset.sure = "yes";
      pressed.textContent = say("throw-away-sure");
      return;
    }
    await outbox.drop(entry.sent_id);
    await refreshTrials();
  }

  async function refreshTrials() {
    try {
      state.trials = await outbox.all();
      state.unkept = false;
    } catch {
      // A phone that keeps nothing (a private window, a full disk) is told of at once.
      state.unkept = true;
    }
    showAll();
  }

  let sending = null;
  function send() {
    sending ??= (async () => {
      try {
        const waits = await outbox.sendAll();
        if (waits === "no-signal") state.signal = false;
        state.noKey = waits === "no-key";
      } finally {
        sending = null;
        await refreshTrials();
        form.answered(state.trials);
      }
    })();
    return sending;
  }

  // ---- signal ----

  function showSignal() {
    const words = state.unkept
      ? say("keeps-nothing")
      : state.noKey
        ? say("no-key")
        : state.signal
          ? say("signal")
          : say("no-signal", { time: clock(page.data.at) });
    const shown = at("signal");
    if (shown.textContent !== words) shown.textContent = words;
    document.body.classList.toggle("without-signal", !state.signal);
    document.body.classList.toggle("trouble", state.noKey || state.unkept);
    show("enter", state.noKey);
  }

  function showAll() {
    showNext();
    showRunning();
    showUnsent();
    showSignal();
  }

  // ---- kept current ----

  // The page is fetched anew and its parts are put in place of the old ones: one way to show a day,
  // the server's.
  async function refresh() {
    let fresh;
    try {
      const answer = await fetch(location.pathname, { cache: "no-store", redirect: "error" });
      if (answer.status === 401 || answer.status === 403) state.noKey = true;
      if (!answer.ok) return showSignal();
      fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
    } catch {
      return undefined;
    }
    // What the worker has kept is no news.
    if (fresh.body.dataset.from === "phone") return undefined;
    const before = open()[0];
    const data = base.read(fresh);
    const news = data.versions.plan !== page.data.versions.plan;
    page.data = data;
    delete document.body.dataset.from;
    readClock();
    const opened = new Set(
      [...document.querySelectorAll("#list [data-key] details[open]")].map(
        (details) => details.closest("[data-key]").dataset.key,
      ),
    );
    for (const id of ["head-date", "weather", "list", "tested", "notes"]) {
      at(id).replaceWith(document.adoptNode(fresh.getElementById(id)));
    }
    for (const item of document.querySelectorAll("#list [data-key]")) {
      if (opened.has(item.dataset.key)) item.querySelector("details").open = true;
    }
    delete at("next-some").dataset.key;
    const after = open()[0];
    if (news && before && after && (before.key !== after.key || before.time !== after.time)) {
      at("news").textContent = say("plan-changed", { time: clock(after.time) });
      show("news", true);
    }
    return showAll();
  }

  // A page out of the phone's own store tells an old time: the difference found last still holds.
  function readClock() {
    const ahead = Date.parse(page.data.now) - Date.now();
    if (document.body.dataset.from !== "phone") localStorage.setItem(CLOCK, String(ahead));
    page.clockAhead = Number(localStorage.getItem(CLOCK) ?? 0);
  }

  let events = null;
  function listen() {
    if (events && events.readyState !== EventSource.CLOSED) return;
    events = new EventSource("events");
    events.onopen = () => {
      state.signal = true;
      showSignal();
      send();
    };
    events.onerror = () => {
      state.signal = false;
      showSignal();
    };
    for (const kind of ["plan", "book"]) {
      events.addEventListener(kind, (event) => {
        const { version } = JSON.parse(event.data);
        if (version !== page.data.versions[kind]) refreshSoon();
      });
    }
  }

  // A plan and a book that change together are fetched once.
  let soon = null;
  function refreshSoon() {
    soon ??= setTimeout(async () => {
      soon = null;
      await refresh();
    }, 150);
  }

  // ---- views ----

  function go(view) {
    for (const id of ["day", "form", "unsent"]) show(id, id === view);
    const title = at(view).querySelector("h1, h2");
    title.tabIndex = -1;
    title.focus();
    window.scrollTo(0, 0);
  }

  async function record(key) {
    const point = page.data.checkpoints.find((point) => point.key === key) ?? null;
    const kept = await outbox.drafts.load(page.data.site_key).catch(() => undefined);
    form.start(point, kept);
  }

  function wire() {
    at("record-next").addEventListener("click", () => record(at("next-some").dataset.key));
    at("record-other").addEventListener("click", () => record(null));
    at("unsent-open").addEventListener("click", () => go("unsent"));
    at("unsent-back").addEventListener("click", () => go("day"));
    at("unsent-send").addEventListener("click", () => send());
    window.addEventListener("online", () => {
      listen();
      send();
    });
    window.addEventListener("offline", () => {
      state.signal = false;
      showSignal();
    });
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "visible") {
        listen();
        send();
        showAll();
      }
    });
    setInterval(showAll, 5_000);
    setInterval(() => {
      listen();
      if (state.trials.some((entry) => entry.state === "waiting")) send();
    }, 30_000);
  }

  async function register() {
    if (!("serviceWorker" in navigator)) return;
    navigator.serviceWorker.addEventListener("message", (event) => {
      if (event.data?.kept) document.body.dataset.kept = "yes";
      if (event.data?.sent) refreshTrials().then(() => form.answered(state.trials));
    });
    try {
      await navigator.serviceWorker.register("/crew/worker.js");
      const { active } = await navigator.serviceWorker.ready;
      const parts = [...document.querySelectorAll("link[href], script[src]")];
      const paths = parts.map((part) => part.getAttribute("href") ?? part.getAttribute("src"));
      active.postMessage({ keep: [location.pathname, ...paths] });
    } catch {
      // Without a worker the page works as long as there is signal.
    }
    // Asked for, so that a full phone throws away something else first.
    navigator.storage?.persist?.().catch(() => undefined);
  }

  // Has the phone send by itself when it gets signal, where it can.
  async function sendWhenAwake() {
    const ready = await navigator.serviceWorker?.ready;
    await ready?.sync?.register("fairseam-send").catch(() => undefined);
  }

  form.attach({
    go,
    // Kept first; only then is anything said or sent.
    written: async (entry) => {
      await outbox.queue(entry, page.data.site_key);
      await refreshTrials();
      sendWhenAwake();
      send();
    },
    madeHere,
    judge: verdict.judge,
  });
  readClock();
  wire();
  refreshTrials();
  register();
  // The first events tell the versions; a page out of the phone's own store is renewed by them.
  listen();
  send();
  document.body.dataset.ready = "yes";
})();
