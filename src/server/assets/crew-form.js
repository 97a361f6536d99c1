// A trial filled in tap by tap. Every tap is kept on the phone, so that a call, a dead battery or a
// closed page loses nothing; the form takes the day's figures with it when it begins.
(() => {
  "use strict";

  const { base, outbox, strips, view, keypad: keys } = globalThis.fairseam;
  const { page, say, figures, el, button } = base;
  const at = (id) => document.getElementById(id);
  let deck = null; // What the day has attached: how to leave, how to write down.
  let draft = null;
  let busy = false;

  const NAMES = "fairseam-names";
  const MOST_NAMES = 6;

  // ---- the draft ----

  const welderOf = () => page.data.welders.find((one) => one.name === draft.welder);
  const isAutomatic = () => welderOf()?.kind === "automatic";

  function newDraft(point) {
    const only = page.data.welders.length === 1 ? page.data.welders[0].name : null;
    const made = {
      site: page.data.site_key,
      sent_id: outbox.newId(),
      key: point?.key ?? null,
      checkpoint: point?.id ?? null,
      title: point?.title ?? say("another-trial"),
      welder: null,
      who: names()[0] ?? page.data.holder,
      air: null,
      sheet: null,
      speed: null,
      heats: [],
      more: { ...page.data.last_words, note: "", ran_heat: "", ran_speed: "" },
      step: 0,
    };
    draft = made;
    if (only !== null) takeWelder(only);
  }

  // The plan's speed and heats for that welder; for a trial between checkpoints those of the last one.
  function takeWelder(name) {
    const points = page.data.checkpoints;
    const own = points.find((point) => point.key === draft.key);
    const before = points.findLast((point) => Date.parse(point.time) <= base.now());
    const setting = (own ?? before ?? points[0])?.settings.find((one) => one.welder === name);
    draft.welder = name;
    draft.speed = setting?.speed ?? null;
    const heats = setting?.heats ?? page.data.welders.find((one) => one.name === name).full_range;
    draft.heats = heats.map((heat) => ({ heat, strips: [] }));
  }

  const save = () => outbox.drafts.save(draft).catch(() => undefined);

  // ---- steps ----

  function steps() {
    const all = [];
    if (page.data.welders.length > 1) all.push({ name: "welder" });
    all.push({ name: "who" }, { name: "air" }, { name: "sheet" });
    if (draft.welder === null || isAutomatic()) all.push({ name: "speed" });
    draft.heats.forEach((heat, place) => all.push({ name: "heat", place }));
    all.push({ name: "review" });
    return all;
  }

  function show(step) {
    const all = steps();
    draft.step = Math.min(Math.max(step, 0), all.length - 1);
    draft.strip = null;
    save();
    render();
    at("form-title").focus();
    window.scrollTo(0, 0);
  }

  const render = () => {
    const all = steps();
    const now = all[draft.step];
    const [title, parts] = STEPS[now.name](now);
    at("form-step").textContent = say("step", { step: draft.step + 1, steps: all.length });
    at("form-for").textContent = draft.title;
    at("form-title").textContent = title;
    at("form-body").replaceChildren(...parts.flat().filter(Boolean));
    at("form-back").textContent = draft.step === 0 ? say("leave") : say("back");
  };

  const next = () => show(draft.step + 1);
  const onward = (able, words = say("next")) =>
    button(words, "first", next, { disabled: !able, id: "form-next" });

  const STEPS = { welder, who, air, sheet, speed, heat, review };

  function welder() {
    const choices = page.data.welders.map((one) =>
      button(one.name, `big${draft.welder === one.name ? " chosen" : ""}`, () => {
        if (draft.welder !== one.name) takeWelder(one.name);
        next();
      }, { dir: "auto" }),
    );
    return [say("ask-welder"), [el("div", { class: "stack" }, ...choices)]];
  }

  function names() {
    try {
      return JSON.parse(localStorage.getItem(NAMES) ?? "[]");
    } catch {
      return [];
    }
  }

  function who() {
    const field = el("input", {
      type: "text",
      id: "who-field",
      class: "wide",
      autocomplete: "name",
      maxlength: "80",
      dir: "auto",
      value: draft.who,
    });
    const able = () => draft.who.trim() !== "";
    const go = onward(able());
    field.addEventListener("input", () => {
      draft.who = field.value;
      go.disabled = !able();
      save();
    });
    const known = [...new Set([...names(), page.data.holder])].slice(0, MOST_NAMES);
    const choices = known.map((name) =>
      button(name, "big", () => {
        draft.who = name;
        next();
      }, { dir: "auto" }),
    );
    const label = el("label", { for: "who-field" }, say("other-name"));
    return [say("ask-who"), [el("div", { class: "stack" }, ...choices), label, field, go]];
  }

  function figureStep(name, words, unit, signed, more = []) {
    const go = onward(draft[name] !== null);
    const pad = keys.keypad({
      label: words,
      unit,
      value: draft[name],
      signed,
      changed: (value) => {
        draft[name] = value;
        go.disabled = value === null;
        save();
      },
    });
    return [words, [pad, ...more, go]];
  }

  function air() {
    const hint = el("p", { class: "hint" }, say("air-hint"));
    return figureStep("air", say("ask-air"), page.data.unit_words.temperature, true, [hint]);
  }

  function sheet() {
    const none = button(say("not-read"), "second", () => {
      draft.sheet = null;
      next();
    });
    return figureStep("sheet", say("ask-sheet"), page.data.unit_words.temperature, true, [none]);
  }

  // The machine's own steps: half a foot, a tenth of a meter.
  function speed() {
    const step = page.data.rules.units === "us" ? 0.5 : 0.1;
    const shown = el("output", { class: "figure huge" });
    const go = onward(false, say("speed-held"));
    const tell = () => {
      shown.textContent = draft.speed === null ? "–" : figures.speed(draft.speed);
      go.disabled = draft.speed === null;
    };
    const change = (by) => () => {
      const from = draft.speed ?? 0;
      draft.speed = Math.max(step, Math.round((from + by) / step) * step);
      draft.speed = Math.round(draft.speed * 100) / 100;
      tell();
      save();
    };
    tell();
    return [
      say("ask-speed"),
      [
        el(
          "div",
          { class: "stepper" },
          button("−", "key", change(-step), { "aria-label": say("slower") }),
          el("p", {}, shown, " ", el("span", { class: "unit" }, page.data.unit_words.speed)),
          button("+", "key", change(step), { "aria-label": say("faster") }),
        ),
        el("p", { class: "hint" }, say("speed-hint")),
        go,
      ],
    ];
  }

  // ---- a heat ----

  function heat({ place }) {
    const tried = draft.heats[place];
    const title = say("heat-title", {
      heat: figures.heatWithUnit(tried.heat),
      number: place + 1,
      count: draft.heats.length,
    });
    const least = page.data.rules.min_strips;
    const done = tried.strips.filter(strips.isWhole).length;
    // A new heat opens with its first strip; one that is full with its list.
    if (draft.strip === null) draft.strip = done < least ? done : -1;
    return [title, draft.strip < 0 ? heatDone(tried) : stripStep(tried, least)];
  }

  function stripStep(tried, least) {
    const number = draft.strip;
    tried.strips[number] ??= strips.newStrip();
    const strip = tried.strips[number];
    const go = button(
      number + 1 < least ? say("next-strip") : say("heat-done"),
      "first",
      () => openStrip(number + 1 < least ? number + 1 : -1),
      { disabled: !strips.isWhole(strip), id: "strip-next" },
    );
    const changed = () => {
      go.disabled = !strips.isWhole(strip);
      save();
    };
    const before = tried.strips[number - 1];
    const same =
      number > 0 && !strips.isWhole(strip) && strips.isWhole(before)
        ? button(say("same-as-last", { strip: strips.stripWords(before) }), "big", () => {
            tried.strips[number] = { ...before, signs: [...before.signs] };
            openStrip(number + 1 < least ? number + 1 : -1);
          }, { id: "strip-same" })
        : null;
    const skip =
      number === 0 && !strips.isWhole(strip)
        ? button(say("heat-not-welded"), "second", () => {
            draft.heats = draft.heats.filter((one) => one !== tried);
            show(draft.step);
          })
        : null;
    return [
      el("h3", { class: "strip-title", tabindex: "-1", id: "strip-title" }, say("strip-number", { number: number + 1, least })),
      same,
      strips.stripForm(strip, number, changed),
      go,
      skip,
    ];
  }

  function openStrip(number) {
    const { place } = steps()[draft.step];
    const tried = draft.heats[place];
    tried.strips = tried.strips.filter((strip, index) => strips.isWhole(strip) || index === number);
    draft.strip = number;
    save();
    render();
    (at("strip-title") ?? at("form-title")).focus();
    window.scrollTo(0, 0);
  }

  function heatDone(tried) {
    const judged = deck.judge({ speed: draft.speed, heats: [tried] }, welderOf(), page.data.rules);
    const { verdict } = judged.heats[0];
    const number = tried.strips.length;
    return [
      el("p", { class: "heat-verdict", role: "status" }, view.chip(verdict)),
      strips.stripList(tried, openStrip),
      onward(true, say("next")),
      button(say("one-more-strip"), "second", () => openStrip(number)),
      button(say("take-strip-back"), "second", () => {
        tried.strips.pop();
        openStrip(tried.strips.length);
      }),
    ];
  }

  // ---- the end ----

  const orNull = (text) => (text ?? "").trim() || null;

  function trialOf() {
    const { more } = draft;
    const ran = keys.number(more.ran_heat ?? "");
    return {
      units: page.data.rules.units,
      who: draft.who.trim(),
      checkpoint: draft.checkpoint,
      welder: draft.welder,
      air: draft.air,
      sheet_temperature: draft.sheet,
      lot: orNull(more.lot),
      roll: orNull(more.roll),
      weights: orNull(more.weights),
      air_flow: orNull(more.air_flow),
      note: orNull(more.note),
      speed: isAutomatic() ? draft.speed : null,
      heats: draft.heats
        .map((one) => ({ heat: one.heat, strips: one.strips.filter(strips.isWhole) }))
        .filter((one) => one.strips.length > 0),
      ran:
        ran === null
          ? null
          : { heat: ran, speed: isAutomatic() ? keys.number(more.ran_speed ?? "") : null },
    };
  }

  // What is still wanted, with the step that asks for it.
  function wanted(trial) {
    const place = (name) => steps().findIndex((step) => step.name === name);
    if (trial.welder === null) return ["wanted-welder", place("welder")];
    if (trial.who === "") return ["wanted-who", place("who")];
    if (trial.air === null) return ["wanted-air", place("air")];
    if (isAutomatic() && trial.speed === null) return ["wanted-speed", place("speed")];
    if (trial.heats.length === 0) return ["wanted-strips", place("heat")];
    return null;
  }

  function review() {
    const trial = trialOf();
    const missing = wanted(trial);
    const lines = [];
    let judged = null;
    if (missing) {
      const [id, step] = missing;
      lines.push(el("p", { class: "problem" }, say(id)));
      if (step >= 0) lines.push(button(say("fill-in"), "first", () => show(step)));
    } else {
      judged = deck.judge(trial, welderOf(), page.data.rules);
      lines.push(...view.judgedParts(judged), ...addTried(judged));
    }
    const write = button(say("write-down"), "first", () => writeDown(write, trial, judged), {
      id: "write-down",
    });
    return [
      say("review"),
      [
        ...lines,
        heatsTable(judged),
        addHeat(),
        moreFields(),
        missing ? null : el("p", { class: "hint" }, say("certifies-nothing")),
        missing ? null : write,
      ],
    ];
  }

  // The heats that the verdict asks for next, each one tap away.
  function addTried(judged) {
    const inside = (heat) => !draft.heats.some((one) => Math.abs(one.heat - heat) < 0.5);
    const wanted = judged.findings
      .filter((finding) => finding.name !== "repeat")
      .flatMap((finding) => finding.heats)
      .filter(inside);
    return [...new Set(wanted)].map((heat) =>
      button(say("try-heat", { heat: figures.heatWithUnit(heat) }), "second", () => addOne(heat)),
    );
  }

  function addOne(heat) {
    draft.heats.push({ heat: Math.round(heat * 10) / 10, strips: [] });
    show(steps().findLastIndex((step) => step.name === "heat"));
  }

  function addHeat() {
    let value = null;
    const add = button(say("add-heat"), "second", () => value !== null && addOne(value), {
      disabled: true,
    });
    const unit = page.data.unit_words.temperature;
    const pad = keys.keypad({
      label: say("other-heat"),
      unit,
      value: null,
      signed: false,
      changed: (now) => {
        value = now;
        add.disabled = now === null;
      },
    });
    return el("details", {}, el("summary", {}, say("other-heat")), pad, add);
  }

  function heatsTable(judged) {
    const rows = draft.heats.map((tried, place) => {
      const step = steps().findIndex((one) => one.name === "heat" && one.place === place);
      const whole = tried.strips.filter(strips.isWhole).length;
      const found = judged?.heats.find((one) => Math.abs(one.heat - tried.heat) < 0.05);
      return el(
        "li",
        {},
        button(
          el(
            "span",
            { class: "heat-row" },
            el("span", { class: "figure" }, figures.heatWithUnit(tried.heat)),
            el("span", { class: "hint" }, say("strips-count", { count: whole })),
            found ? view.chip(found.verdict) : view.chip("none"),
          ),
          "row",
          () => show(step),
        ),
      );
    });
    return el("ol", { class: "heat-rows" }, ...rows);
  }

  function moreFields() {
    const field = (name, words, more = {}) =>
      el(
        "p",
        {},
        el("label", { for: `more-${name}` }, words),
        el("input", {
          type: "text",
          id: `more-${name}`,
          class: "wide",
          autocomplete: "off",
          maxlength: "500",
          dir: "auto",
          value: draft.more[name] ?? "",
          oninput: (event) => {
            draft.more[name] = event.target.value;
            save();
          },
          ...more,
        }),
      );
    const { unit_words: units } = page.data;
    return el(
      "details",
      { id: "more" },
      el("summary", {}, say("more")),
      field("lot", say("more-lot")),
      field("roll", say("more-roll")),
      field("weights", say("more-weights")),
      field("air_flow", say("more-air-flow")),
      field("ran_heat", say("more-ran-heat", { unit: units.temperature }), { inputmode: "decimal" }),
      isAutomatic()
        ? field("ran_speed", say("more-ran-speed", { unit: units.speed }), { inputmode: "decimal" })
        : null,
      field("note", say("more-note")),
    );
  }

  // ---- written down ----

  async function writeDown(pressed, trial, local) {
    if (busy) return;
    busy = true;
    pressed.disabled = true;
    // The fields below the verdict may have changed since it was shown.
    trial = trialOf();
    const made = new Date(base.now());
    const entry = {
      sent_id: draft.sent_id,
      site: draft.site,
      made_at: made.toISOString(),
      date: base.localDate(made),
      checkpoint_key: draft.key,
      trial: { ...trial, at: made.toISOString() },
      local,
      draft: structuredClone(draft),
    };
    try {
      await deck.written(entry);
    } catch {
      at("form-body").append(el("p", { class: "problem", role: "alert" }, say("keeps-nothing")));
      pressed.disabled = false;
      return;
    } finally {
      busy = false;
    }
    remember(trial.who);
    draft = null;
    showResult(entry, "waiting");
    at("form-title").focus();
    window.scrollTo(0, 0);
  }

  function remember(name) {
    const all = [name, ...names().filter((one) => one !== name)].slice(0, MOST_NAMES);
    localStorage.setItem(NAMES, JSON.stringify(all));
  }

  // The phone's own verdict at once; the server's in its place as soon as it is there.
  function showResult(entry) {
    const judged = entry.answer?.judged ?? entry.local;
    const words = {
      waiting: say("result-waiting"),
      sent: say("result-sent", { id: entry.answer?.id ?? "" }),
      refused: say("refused-because"),
    };
    const state = entry.state ?? "waiting";
    const fault = state === "refused" ? ` ${entry.fault}` : "";
    at("form-step").textContent = "";
    at("form-for").textContent = entry.trial.welder;
    at("form-title").textContent = say("result");
    at("form-back").textContent = say("to-the-day");
    const body = at("form-body");
    body.dataset.result = entry.sent_id;
    body.replaceChildren(
      ...view.judgedParts(judged),
      el("p", { class: `kept ${state}`, role: "status", id: "result-state" }, `${words[state]}${fault}`),
      el("p", { class: "hint" }, say("certifies-nothing")),
      button(say("to-the-day"), "first", leave, { id: "to-the-day" }),
    );
  }

  function answered(trials) {
    const id = at("form-body").dataset.result;
    const entry = trials.find((one) => one.sent_id === id);
    const shown = at("result-state");
    if (entry && shown && !shown.classList.contains(entry.state)) showResult(entry);
  }

  // ---- in and out ----

  function leave() {
    delete at("form-body").dataset.result;
    draft = null;
    deck.go("day");
  }

  function start(point, kept) {
    delete at("form-body").dataset.result;
    if (kept && (point === null || kept.key === point.key)) draft = kept;
    else if (kept) return askWhich(point, kept);
    else newDraft(point);
    deck.go("form");
    return show(draft.step);
  }

  // One half filled in is never thrown away by a tap on something else.
  function askWhich(point, kept) {
    deck.go("form");
    at("form-step").textContent = "";
    at("form-for").textContent = kept.title;
    at("form-title").textContent = say("half-filled");
    at("form-back").textContent = say("leave");
    at("form-body").replaceChildren(
      button(say("go-on"), "first", () => start(null, kept)),
      button(say("begin-new"), "second", () => {
        newDraft(point);
        show(0);
      }),
    );
    at("form-title").focus();
  }

  function attach(given) {
    deck = given;
    at("form-back").addEventListener("click", () => {
      const strip = draft?.strip;
      if (draft && strip > 0) openStrip(strip - 1);
      else if (draft && draft.step > 0) show(draft.step - 1);
      else leave();
    });
    at("form-leave").addEventListener("click", leave);
  }

  globalThis.fairseam = {
    ...globalThis.fairseam,
    form: { attach, start, answered, settingFigures: view.settingFigures },
  };
})();
