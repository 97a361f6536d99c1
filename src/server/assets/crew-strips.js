// One heat: its strips tapped in one after the other, and what they prove so far.
(() => {
  "use strict";

  const { page, say, figures, el, button } = globalThis.fairseam.base;

  const PARTED = ["film-tear", "cold", "mixed"];
  const SIGNS = ["browning", "yellowing", "char", "heavy-bleed-out", "void", "scrim-not-reached"];
  const WIDTHS = {
    us: [0, 0.25, 0.5, 0.75, 1, 1.25, 1.5, 1.75, 2, 2.5],
    metric: [0, 5, 10, 15, 20, 25, 30, 38, 45, 50],
  };

  const newStrip = () => ({ parted: null, width: null, signs: [], peeled: "across" });
  const isWhole = (strip) => strip.parted !== null && strip.width !== null;

  // `strip` as it is said in a line: "film tear 1½ in, browning".
  function stripWords(strip) {
    const seen = strip.signs.map((sign) => say(`sign-${sign}`));
    const along = strip.peeled === "along" ? [say("peeled-along")] : [];
    const how = `${say(`parted-${strip.parted}`)} ${figures.widthWithUnit(strip.width)}`;
    return [how, ...seen, ...along].join(", ");
  }

  // The choices of one strip; `changed` hears every tap.
  function stripForm(strip, number, changed) {
    const radio = (name, value, words, kind) =>
      el(
        "label",
        { class: `choice ${kind}` },
        el("input", {
          type: "radio",
          name: `${name}-${number}`,
          value: String(value),
          checked: strip[name] === value,
          onchange: () => {
            strip[name] = value;
            changed();
          },
        }),
        el("span", {}, words),
      );
    const check = (checked, words, flip, kind = "") =>
      el(
        "label",
        { class: `choice ${kind}` },
        el("input", {
          type: "checkbox",
          checked,
          onchange: (event) => {
            flip(event.target.checked);
            changed();
          },
        }),
        el("span", {}, words),
      );
    const group = (legend, kind, ...choices) =>
      el("fieldset", { class: kind }, el("legend", {}, legend), el("div", { class: "choices" }, ...choices));
    const flipSign = (sign) => (seen) => {
      strip.signs = SIGNS.filter((one) => (one === sign ? seen : strip.signs.includes(one)));
    };
    return el(
      "div",
      { class: "strip-form" },
      group(
        say("ask-parted"),
        "parted",
        ...PARTED.map((way) => radio("parted", way, say(`parted-${way}`), way)),
      ),
      group(
        say("ask-width", { unit: page.data.unit_words.width }),
        "width",
        ...WIDTHS[page.data.rules.units].map((width) =>
          radio("width", width, figures.width(width), "figure"),
        ),
      ),
      group(
        say("ask-signs"),
        "signs",
        ...SIGNS.map((sign) => check(strip.signs.includes(sign), say(`sign-${sign}`), flipSign(sign))),
        check(strip.peeled === "along", say("peeled-along"), (along) => {
          strip.peeled = along ? "along" : "across";
        }),
      ),
    );
  }

  // The strips of a heat that are done, each of which can be opened again.
  function stripList(heat, open) {
    return el(
      "ol",
      { class: "strips" },
      ...heat.strips.map((strip, place) =>
        el(
          "li",
          {},
          button(isWhole(strip) ? stripWords(strip) : say("strip-open"), "strip", () => open(place)),
        ),
      ),
    );
  }

  globalThis.fairseam = {
    ...globalThis.fairseam,
    strips: { newStrip, isWhole, stripForm, stripList, stripWords },
  };
})();
