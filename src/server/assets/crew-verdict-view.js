// A verdict as it is shown: the setting first and large, then what to do next, then heat by heat. It
// takes the phone's own verdict and the server's, which have the same names.
(() => {
  "use strict";

  const { say, figures, el } = globalThis.fairseam.base;

  // `925 °F · 8 ft/min`; no speed by hand.
  function settingFigures({ heat, speed }) {
    const at = typeof speed === "number" ? ` · ${figures.speedWithUnit(speed)}` : "";
    return `${figures.heatWithUnit(heat)}${at}`;
  }

  // The same in two lines, each of which stays whole.
  function settingLines({ heat, speed }) {
    const lines = [el("span", {}, figures.heatWithUnit(heat))];
    if (typeof speed === "number") lines.push(" ", el("span", {}, figures.speedWithUnit(speed)));
    return lines;
  }

  function settingBlock(setting) {
    const run = setting.verdict === "run-at";
    return el(
      "div",
      { class: `verdict-now ${run ? "run" : "stop"}` },
      el("p", { class: "verdict-word" }, say(run ? "set" : "do-not-weld")),
      run
        ? el("p", { class: "verdict-figures" }, ...settingLines(setting))
        : el("p", { class: "verdict-why" }, say(`why-${setting.why}`)),
    );
  }

  function windowLine({ window, setting }) {
    if (!window || setting.verdict !== "run-at") return null;
    const ends = `${window.bottom_found ? "found" : "open"}-${window.top_found ? "found" : "open"}`;
    const values = {
      bottom: figures.heat(window.bottom),
      top: figures.heatWithUnit(window.top),
      ends: say(`ends-${ends}`),
    };
    const one = window.bottom === window.top;
    return el("p", { class: "window" }, say(one ? "window-one" : "window", values));
  }

  function nextList(judged) {
    const doubts = judged.doubts.map((doubt) => say(`doubt-${doubt.name ?? doubt}`));
    const findings = judged.findings.map((finding) => {
      const said = say(`finding-${finding.name}`, { heats: figures.heatsWithUnit(finding.heats) });
      const speed = typeof finding.speed === "number";
      const nothing = finding.heats.length === 0 && HALF_STEPS.includes(finding.name);
      return [
        nothing ? say(`finding-${finding.name}-none`) : said,
        speed ? say("speed-next", { speed: figures.speedWithUnit(finding.speed) }) : "",
      ].join(" ");
    });
    const all = [...doubts, ...findings];
    return all.length === 0 ? null : el("ul", { class: "odd" }, ...all.map((said) => el("li", {}, said)));
  }

  // Their half steps may all have been tried.
  const HALF_STEPS = ["cold-then-burnt", "single-good-heat", "narrower-than-step"];

  const chip = (verdict) => el("span", { class: `chip ${verdict}` }, say(`verdict-${verdict}`));

  const judgedParts = (judged) =>
    [settingBlock(judged.setting), windowLine(judged), nextList(judged)].filter(Boolean);

  globalThis.fairseam = {
    ...globalThis.fairseam,
    view: { settingFigures, judgedParts, chip },
  };
})();
