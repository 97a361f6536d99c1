// What is still on this phone alone: how many at the top of the page, each in a list of its own, and
// what can be done with one that the server did not take.
(() => {
  "use strict";

  const { base, outbox, next } = globalThis.fairseam;
  const { page, say, clock, el, button } = base;
  const at = (id) => document.getElementById(id);
  const show = (id, shown) => {
    at(id).hidden = !shown;
  };
  let deck = null;

  function showAll(trials) {
    const unsent = trials.filter((entry) => entry.state !== "sent");
    const refused = unsent.filter((entry) => entry.state === "refused").length;
    show("unsent-open", unsent.length > 0);
    at("unsent-open").classList.toggle("refused", refused > 0);
    at("unsent-open").textContent =
      refused > 0
        ? say("unsent-refused", { count: refused })
        : say("unsent-count", { count: unsent.length });
    at("unsent-list").replaceChildren(...unsent.map(unsentItem));
    if (unsent.length === 0 && !at("unsent").hidden) deck.go("day");
  }

  function unsentItem(entry) {
    const title = `${clock(entry.made_at)} · ${entry.trial.welder} · ${entry.trial.who}`;
    const parts = [el("h3", { dir: "auto" }, title)];
    if (entry.state === "refused") {
      parts.push(
        el("p", { class: "problem" }, say("refused-because"), " ", entry.fault),
        el(
          "div",
          { class: "buttons" },
          button(say("open-again"), "first", () => openAgain(entry)),
          button(say("throw-away"), "second", (event) => throwAway(event.target, entry)),
        ),
      );
    } else {
      const setting = next.shownSetting(entry);
      const words = setting.run ? say("set-words", { setting: setting.figures }) : say("do-not-weld");
      parts.push(el("p", {}, words), el("p", {}, say("not-sent-yet")));
    }
    return el("li", {}, ...parts);
  }

  // A new try is a new trial: the old one stays unsent until the new one is kept.
  async function openAgain(entry) {
    await outbox.drafts.save({ ...entry.draft, site: page.data.site_key, sent_id: outbox.newId() });
    await outbox.drop(entry.sent_id);
    await deck.refreshTrials();
    deck.startForm(null, await outbox.drafts.load(page.data.site_key));
  }

  // Asked twice: a glove has touched the wrong place before.
  async function throwAway(pressed, entry) {
    if (pressed.dataset.sure !== "yes") {
      pressed.dataset.sure = "yes";
      pressed.textContent = say("throw-away-sure");
      return;
    }
    await outbox.drop(entry.sent_id);
    await deck.refreshTrials();
  }

  const attach = (given) => {
    deck = given;
  };

  globalThis.fairseam = { ...globalThis.fairseam, unsent: { attach, showAll } };
})();
