// The page as a whole: kept current while there is signal, readable without, and what waits is sent
// as soon as there is signal again.
(() => {
  "use strict";

  const { base, outbox, form, next, unsent } = globalThis.fairseam;
  const { page, say, clock } = base;
  const at = (id) => document.getElementById(id);
  const show = (id, shown) => {
    at(id).hidden = !shown;
  };
  const CLOCK = "fairseam-clock-ahead";
  const state = { trials: [], signal: navigator.onLine, noKey: false, unkept: false };

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
    next.showAll(state.trials);
    unsent.showAll(state.trials);
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
    const before = next.open()[0];
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
    const after = next.open()[0];
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
    // Its links would lead out of a trial that is half filled in.
    show("foot", view === "day");
    showHalf();
    const title = at(view).querySelector("h1, h2");
    title.tabIndex = -1;
    title.focus();
    window.scrollTo(0, 0);
  }

  // One that is half filled in is offered before anything else.
  async function showHalf() {
    const kept = await outbox.drafts.load(page.data.site_key).catch(() => undefined);
    show("half", kept !== undefined);
  }

  async function record(key) {
    const point = page.data.checkpoints.find((point) => point.key === key) ?? null;
    const kept = await outbox.drafts.load(page.data.site_key).catch(() => undefined);
    form.start(point, kept);
  }

  function wire() {
    at("record-next").addEventListener("click", () => record(at("next-some").dataset.key));
    at("half").addEventListener("click", () => record(null));
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
  });
  unsent.attach({ go, refreshTrials, startForm: form.start });
  readClock();
  wire();
  showHalf();
  refreshTrials();
  register();
  // The first events tell the versions; a page out of the phone's own store is renewed by them.
  listen();
  send();
  document.body.dataset.ready = "yes";
})();
