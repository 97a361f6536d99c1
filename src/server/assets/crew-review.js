// The end of the form: what the trial comes to, each heat to look at again, what else is to be said.
(() => {
  "use strict";

  const { base, strips, verdict, view, keypad: keys, draft: trialDraft } = globalThis.fairseam;
  const { page, say, figures, el, button } = base;

  function review(steps) {
    const trial = trialDraft.trial();
    const missing = trialDraft.wanted(trial);
    const lines = [];
    let judged = null;
    if (missing) {
      const [id, name] = missing;
      const step = steps.all().findIndex((step) => step.name === name);
      lines.push(el("p", { class: "problem" }, say(id)));
      if (step >= 0) lines.push(button(say("fill-in"), "first", () => steps.show(step)));
    } else {
      judged = verdict.judge(trial, trialDraft.welder(), page.data.rules);
      lines.push(...view.judgedParts(judged), ...addTried(judged, steps));
    }
    const write = button(say("write-down"), "first", () => steps.writeDown(write, judged), {
      id: "write-down",
    });
    return [
      say("review"),
      [
        ...lines,
        heatsTable(judged, steps),
        addHeat(steps),
        moreFields(),
        missing ? null : el("p", { class: "hint" }, say("certifies-nothing")),
        missing ? null : write,
      ],
    ];
  }

  // The heats that the verdict asks for next, each one tap away.
  function addTried(judged, steps) {
    const { draft } = trialDraft.state;
    const inside = (heat) => !draft.heats.some((one) => Math.abs(one.heat - heat) < 0.5);
    const wanted = judged.findings
      .filter((finding) => finding.name !== "repeat")
      .flatMap((finding) => finding.heats)
      .filter(inside);
    return [...new Set(wanted)].map((heat) =>
      button(say("try-heat", { heat: figures.heatWithUnit(heat) }), "second", () => addOne(heat, steps)),
    );
  }

  function addOne(heat, steps) {
    trialDraft.state.draft.heats.push({ heat: Math.round(heat * 10) / 10, strips: [] });
    steps.show(steps.all().findLastIndex((step) => step.name === "heat"));
  }

  function addHeat(steps) {
    let value = null;
    const add = button(say("add-heat"), "second", () => value !== null && addOne(value, steps), {
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

  function heatsTable(judged, steps) {
    const { draft } = trialDraft.state;
    const rows = draft.heats.map((tried, place) => {
      const step = steps.all().findIndex((one) => one.name === "heat" && one.place === place);
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
          () => steps.show(step),
        ),
      );
    });
    return el("ol", { class: "heat-rows" }, ...rows);
  }

  function moreFields() {
    const { draft } = trialDraft.state;
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
            trialDraft.save();
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
      trialDraft.isAutomatic()
        ? field("ran_speed", say("more-ran-speed", { unit: units.speed }), { inputmode: "decimal" })
        : null,
      field("note", say("more-note")),
    );
  }

  globalThis.fairseam = { ...globalThis.fairseam, review: { review } };
})();
