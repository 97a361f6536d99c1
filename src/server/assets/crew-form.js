// The form: one question a step, each with targets for gloves, and what comes of it.
(() => {
  "use strict";

  const { base, view, keypad: keys, draft: trialDraft, heat: heats, review } = globalThis.fairseam;
  const { page, say, figures, el, button } = base;
  const { state } = trialDraft;
  const at = (id) => document.getElementById(id);
  let deck = null; // What the day has attached: how to leave, how to write down.
  let busy = false;

  // ---- steps ----

  function steps() {
    const { draft } = state;
    const all = [];
    if (page.data.welders.length > 1) all.push({ name: "welder" });
    all.push({ name: "who" }, { name: "air" }, { name: "sheet" });
    if (draft.welder === null || trialDraft.isAutomatic()) all.push({ name: "speed" });
    draft.heats.forEach((heat, place) => all.push({ name: "heat", place }));
    all.push({ name: "review" });
    return all;
  }

  function show(step) {
    const { draft } = state;
    const all = steps();
    draft.step = Math.min(Math.max(step, 0), all.length - 1);
    draft.strip = null;
    trialDraft.save();
    render();
    at("form-title").focus();
    window.scrollTo(0, 0);
  }

  const render = () => {
    const { draft } = state;
    const all = steps();
    const now = all[draft.step];
    const [title, parts] = STEPS[now.name](now);
    at("form-step").textContent = say("step", { step: draft.step + 1, steps: all.length });
    at("form-for").textContent = draft.title;
    at("form-title").textContent = title;
    at("form-body").replaceChildren(...parts.flat().filter(Boolean));
    at("form-back").textContent = draft.step === 0 ? say("leave") : say("back");
    at("form-leave").hidden = draft.step === 0;
  };

  const next = () => show(state.draft.step + 1);
  const onward = (able, words = say("next")) =>
    button(words, "first", next, { disabled: !able, id: "form-next" });

  const STEPS = {
    welder,
    who,
    air,
    sheet,
    speed,
    heat: (step) => heats.heat(step, nav),
    review: () => review.review(nav),
  };

  function welder() {
    const { draft } = state;
    const choices = page.data.welders.map((one) =>
      button(one.name, `big${draft.welder === one.name ? " chosen" : ""}`, () => {
        if (draft.welder !== one.name) trialDraft.takeWelder(one.name);
        next();
      }, { dir: "auto" }),
    );
    return [say("ask-welder"), [el("div", { class: "stack" }, ...choices)]];
  }

  function who() {
    const { draft } = state;
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
      trialDraft.save();
    });
    const choices = trialDraft.known().map((name) =>
      button(name, "big", () => {
        draft.who = name;
        next();
      }, { dir: "auto" }),
    );
    const label = el("label", { for: "who-field" }, say("other-name"));
    return [say("ask-who"), [el("div", { class: "stack" }, ...choices), label, field, go]];
  }

  function figureStep(name, words, unit, signed, more = []) {
    const { draft } = state;
    const go = onward(draft[name] !== null);
    const pad = keys.keypad({
      label: words,
      unit,
      value: draft[name],
      signed,
      changed: (value) => {
        draft[name] = value;
        go.disabled = value === null;
        trialDraft.save();
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
      state.draft.sheet = null;
      next();
    });
    return figureStep("sheet", say("ask-sheet"), page.data.unit_words.temperature, true, [none]);
  }

  // The machine's own steps: half a foot, a tenth of a meter.
  function speed() {
    const { draft } = state;
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
      trialDraft.save();
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

  // ---- written down ----

  async function writeDown(pressed, local) {
    if (busy) return;
    busy = true;
    pressed.disabled = true;
    const { draft } = state;
    const trial = trialDraft.trial();
    const made = new Date(base.now());
    const entry = {
      sent_id: draft.sent_id,
      site: draft.site,
      made_at: made.toISOString(),
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
    trialDraft.remember(trial.who);
    state.draft = null;
    showResult(entry, "waiting");
    at("form-title").focus();
    window.scrollTo(0, 0);
  }

  // The phone's own verdict at once; the server's in its place as soon as it is there.
  function showResult(entry) {
    const refused = entry.state === "refused";
    const words = {
      waiting: say("result-waiting"),
      sent: say("result-sent", { id: entry.answer?.id ?? "" }),
      refused: say("refused-because"),
    };
    const state = entry.state ?? "waiting";
    const fault = refused ? ` ${entry.fault}` : "";
    // No setting comes of what the book did not take.
    const judged = refused ? [] : view.judgedParts(entry.answer?.judged ?? entry.local);
    at("form-step").textContent = "";
    at("form-for").textContent = entry.trial.welder;
    at("form-title").textContent = say(refused ? "result-refused" : "result");
    at("form-back").textContent = say("to-the-day");
    at("form-leave").hidden = true;
    const body = at("form-body");
    body.dataset.result = entry.sent_id;
    body.replaceChildren(
      ...judged,
      el("p", { class: `kept ${state}`, role: "status", id: "result-state" }, `${words[state]}${fault}`),
      refused ? "" : el("p", { class: "hint" }, say("certifies-nothing")),
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
    state.draft = null;
    deck.go("day");
  }

  function start(point, kept) {
    delete at("form-body").dataset.result;
    if (kept && (point === null || kept.key === point.key)) state.draft = kept;
    else if (kept) return askWhich(point, kept);
    else trialDraft.begin(point);
    deck.go("form");
    return show(state.draft.step);
  }

  // One half filled in is never thrown away by a tap on something else.
  function askWhich(point, kept) {
    deck.go("form");
    at("form-step").textContent = "";
    at("form-for").textContent = kept.title;
    at("form-title").textContent = say("half-filled");
    at("form-back").textContent = say("leave");
    at("form-leave").hidden = true;
    at("form-body").replaceChildren(
      button(say("go-on"), "first", () => start(null, kept)),
      button(say("begin-new"), "second", () => {
        trialDraft.begin(point);
        show(0);
      }),
    );
    at("form-title").focus();
  }

  const nav = { all: steps, show, render, onward, writeDown };

  function attach(given) {
    deck = given;
    at("form-back").addEventListener("click", () => {
      const { draft } = state;
      const strip = draft?.strip;
      if (draft && strip > 0) heats.open(draft.heats[steps()[draft.step].place], strip - 1, nav);
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
