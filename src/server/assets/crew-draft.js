// The trial that is being filled in. Every tap is kept on the phone, so that a call, a dead battery or
// a closed page loses nothing; it takes the day's figures with it when it begins.
(() => {
  "use strict";

  const { base, outbox, strips, keypad: keys } = globalThis.fairseam;
  const { page, say } = base;

  const NAMES = "fairseam-names";
  const MOST_NAMES = 6;

  const state = { draft: null };
  const welder = () => page.data.welders.find((one) => one.name === state.draft.welder);
  const isAutomatic = () => welder()?.kind === "automatic";
  const save = () => outbox.drafts.save(state.draft).catch(() => undefined);

  function begin(point) {
    state.draft = {
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
      strip: null,
    };
    const [only, ...others] = page.data.welders;
    if (others.length === 0) takeWelder(only.name);
  }

  // The plan's speed and heats for that welder; for a trial between checkpoints those of the last one.
  function takeWelder(name) {
    const { draft } = state;
    const points = page.data.checkpoints;
    const own = points.find((point) => point.key === draft.key);
    const before = points.findLast((point) => Date.parse(point.time) <= base.now());
    const setting = (own ?? before ?? points[0])?.settings.find((one) => one.welder === name);
    const heats = setting?.heats ?? page.data.welders.find((one) => one.name === name).full_range;
    draft.welder = name;
    draft.speed = setting?.speed ?? null;
    draft.heats = heats.map((heat) => ({ heat, strips: [] }));
  }

  // Who has used this phone, the last one first.
  function names() {
    try {
      return JSON.parse(localStorage.getItem(NAMES) ?? "[]");
    } catch {
      return [];
    }
  }

  function remember(name) {
    const all = [name, ...names().filter((one) => one !== name)].slice(0, MOST_NAMES);
    localStorage.setItem(NAMES, JSON.stringify(all));
  }

  const known = () => [...new Set([...names(), page.data.holder])].slice(0, MOST_NAMES);
  const orNull = (text) => (text ?? "").trim() || null;

  // By docs/trial.schema.json; what is not known is null.
  function trial() {
    const { draft } = state;
    const { more } = draft;
    const ran = keys.number(more.ran_heat ?? "");
    const ranSpeed = isAutomatic() ? keys.number(more.ran_speed ?? "") : null;
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
      ran: ran === null ? null : { heat: ran, speed: ranSpeed },
    };
  }

  // The first thing that is still wanted and the name of the step that asks for it.
  function wanted(trial) {
    if (trial.welder === null) return ["wanted-welder", "welder"];
    if (trial.who === "") return ["wanted-who", "who"];
    if (trial.air === null) return ["wanted-air", "air"];
    if (isAutomatic() && trial.speed === null) return ["wanted-speed", "speed"];
    if (trial.heats.length === 0) return ["wanted-strips", "heat"];
    return null;
  }

  globalThis.fairseam = {
    ...globalThis.fairseam,
    draft: { state, begin, takeWelder, welder, isAutomatic, save, known, remember, trial, wanted },
  };
})();
