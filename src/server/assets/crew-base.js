// What every script of the crew's page has at hand: the day as data, the words of the page's
// language, figures as on the machine, elements.
(() => {
  "use strict";

  const read = (root) => JSON.parse(root.getElementById("crew-data").textContent);
  const page = { data: read(document) };

  // A sentence that the server has put into the page, with its variables filled in.
  function say(id, values = {}) {
    const pattern = page.data.words[id];
    if (pattern === undefined) return id;
    return pattern.replace(/\{(\w+)\}/g, (whole, name) =>
      Object.hasOwn(values, name) ? String(values[name]) : whole,
    );
  }

  const tenths = (value) => Math.round(value * 10) / 10;
  const figures = {
    heat: (value) => String(tenths(value)),
    heats: (values) => values.map((value) => String(tenths(value))).join(", "),
    heatWithUnit: (value) => `${tenths(value)} ${page.data.unit_words.temperature}`,
    heatsWithUnit: (values) => `${figures.heats(values)} ${page.data.unit_words.temperature}`,
    speed: (value) =>
      page.data.rules.units === "us" ? String(tenths(value)) : tenths(value).toFixed(1),
    speedWithUnit: (value) => `${figures.speed(value)} ${page.data.unit_words.speed}`,
    // As on a tape: 1½; in millimeters as they are.
    width: (value) => {
      if (page.data.rules.units !== "us") return String(tenths(value));
      const parts = { 0: "", 0.125: "⅛", 0.25: "¼", 0.5: "½", 0.75: "¾" };
      const whole = Math.floor(value);
      const part = parts[value - whole];
      if (part === undefined) return String(Math.round(value * 100) / 100);
      return whole === 0 && part !== "" ? part : `${whole}${part}`;
    },
    widthWithUnit: (value) => `${figures.width(value)} ${page.data.unit_words.width}`,
  };

  // On the site's clock, whatever zone the phone is in.
  const clock = (moment) =>
    new Intl.DateTimeFormat("en-GB", {
      hour: "2-digit",
      minute: "2-digit",
      hourCycle: "h23",
      timeZone: page.data.time_zone,
    }).format(new Date(moment));

  const localDate = (moment) =>
    new Intl.DateTimeFormat("en-CA", { timeZone: page.data.time_zone }).format(new Date(moment));

  // The server's clock: a phone's own may be off.
  const now = () => Date.now() + page.clockAhead;
  page.clockAhead = 0;

  function duration(minutes) {
    if (minutes < 60) return say("duration-minutes", { minutes });
    const hours = Math.floor(minutes / 60);
    if (hours >= 24) return say("duration-days", { days: Math.floor(hours / 24), hours: hours % 24 });
    return say("duration-hours", { hours, minutes: String(minutes % 60).padStart(2, "0") });
  }

  // An element; texts are texts, whatever they hold.
  function el(name, attributes = {}, ...content) {
    const made = document.createElement(name);
    for (const [key, value] of Object.entries(attributes)) {
      if (value === null || value === undefined || value === false) continue;
      if (key.startsWith("on")) made.addEventListener(key.slice(2), value);
      else if (key === "checked" || key === "disabled" || key === "hidden") made[key] = true;
      else made.setAttribute(key, value);
    }
    made.append(...content.flat().filter((one) => one !== null && one !== undefined));
    return made;
  }

  const button = (words, kind, onclick, more = {}) =>
    el("button", { type: "button", class: kind, onclick, ...more }, words);

  globalThis.fairseam = {
    ...globalThis.fairseam,
    base: { page, read, say, figures, clock, localDate, now, duration, el, button },
  };
})();
