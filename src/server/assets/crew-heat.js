// One heat of the form: strip by strip, then what its strips prove.
(() => {
  "use strict";

  const { base, strips, verdict, view, draft: trialDraft } = globalThis.fairseam;
  const { page, say, figures, el, button } = base;
  const at = (id) => document.getElementById(id);

  function heat({ place }, steps) {
    const { draft } = trialDraft.state;
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
    return [title, draft.strip < 0 ? heatDone(tried, steps) : stripStep(tried, least, steps)];
  }

  function stripStep(tried, least, steps) {
    const { draft } = trialDraft.state;
    const openStrip = (number) => open(tried, number, steps);
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
      trialDraft.save();
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
            steps.show(draft.step);
          })
        : null;
    return [
      el("h3", { class: "strip-title", tabindex: "-1", id: "strip-title" }, stripTitle(number + 1, least)),
      same,
      strips.stripForm(strip, number, changed),
      go,
      skip,
    ];
  }

  const stripTitle = (number, least) =>
    number > least ? say("strip-more", { number }) : say("strip-number", { number, least });

  // Strips that were begun and left are not kept.
  function open(tried, number, steps) {
    const { draft } = trialDraft.state;
    tried.strips = tried.strips.filter((strip, index) => strips.isWhole(strip) || index === number);
    draft.strip = number;
    trialDraft.save();
    steps.render();
    (at("strip-title") ?? at("form-title")).focus();
    window.scrollTo(0, 0);
  }

  function heatDone(tried, steps) {
    const { draft } = trialDraft.state;
    const openStrip = (number) => open(tried, number, steps);
    const judged = verdict.judge({ speed: draft.speed, heats: [tried] }, trialDraft.welder(), page.data.rules);
    const [judgedHeat] = judged.heats;
    const number = tried.strips.length;
    return [
      el("p", { class: "heat-verdict", role: "status" }, view.chip(judgedHeat.verdict)),
      strips.stripList(tried, openStrip),
      steps.onward(true),
      button(say("one-more-strip"), "second", () => openStrip(number)),
      button(say("take-strip-back"), "second", () => {
        tried.strips.pop();
        openStrip(tried.strips.length);
      }),
    ];
  }

  globalThis.fairseam = { ...globalThis.fairseam, heat: { heat, open } };
})();
