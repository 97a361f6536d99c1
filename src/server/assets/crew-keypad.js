// A number, tapped in with gloves on: keys as large as a thumb, the figure as large as the sun asks
// for. The field takes a keyboard as well.
(() => {
  "use strict";

  const { say, el, button } = globalThis.fairseam.base;

  // What is written as a number; `null` where it is none. A comma is a point on many phones.
  function number(text) {
    const plain = text.trim().replace(",", ".").replace("−", "-");
    return /^-?\d{1,5}(\.\d{0,2})?$/.test(plain) ? Number(plain) : null;
  }

  // `unit` behind the figure, `signed` where it may lie below zero; `changed` hears every tap.
  function keypad({ label, unit, value, signed, changed }) {
    const field = el("input", {
      type: "text",
      inputmode: "none",
      autocomplete: "off",
      class: "keyed",
      "aria-label": `${label}, ${unit}`,
      value: value === null ? "" : String(value),
    });
    const tell = () => changed(number(field.value));
    field.addEventListener("input", tell);
    const tap = (sign) => {
      if (sign === "⌫") field.value = field.value.slice(0, -1);
      else if (sign === "±") {
        field.value = field.value.startsWith("-") ? field.value.slice(1) : `-${field.value}`;
      } else if (field.value.length < 7) field.value += sign;
      tell();
    };
    const names = { "⌫": say("key-back"), "±": say("key-sign"), ".": say("key-point") };
    const signs = ["1", "2", "3", "4", "5", "6", "7", "8", "9", signed ? "±" : ".", "0", "⌫"];
    const keys = signs.map((sign) =>
      button(sign, "key", () => tap(sign), { "aria-label": names[sign] ?? null }),
    );
    return el(
      "div",
      { class: "keypad" },
      el("p", { class: "keyed-line" }, field, el("span", { class: "unit" }, unit)),
      el("div", { class: "keys", role: "group", "aria-label": label }, ...keys),
    );
  }

  globalThis.fairseam = { ...globalThis.fairseam, keypad: { keypad, number } };
})();
