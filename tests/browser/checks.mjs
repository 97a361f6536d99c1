// What holds for every view of the page: WCAG by axe, targets for gloves, nothing wider than the phone.
import assert from "node:assert/strict";

const RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
// WCAG 2.2 AA asks for 24 px (2.5.8); a glove for twice that.
const FOR_GLOVES_PX = 48;

export async function lookAt(page, axe, view, leastPx = FOR_GLOVES_PX) {
  await page.evaluate(axe);
  const found = await page.evaluate(
    (rules) => globalThis.axe.run(document, { runOnly: { type: "tag", values: rules } }),
    RULES,
  );
  const told = found.violations.map(
    (one) => `${one.id}: ${one.nodes.map((node) => `${node.html}\n  ${node.failureSummary}`).join("\n")}`,
  );
  assert.deepEqual(told, [], `${view}: axe found violations`);
  assert.ok(found.passes.length > 10, `${view}: axe looked at ${found.passes.length} rules only`);
  const small = await page.evaluate((least) => {
    const targets = [...document.querySelectorAll("button, summary, label.choice, input.wide, nav a")];
    return targets
      .filter((one) => one.checkVisibility() && one.getBoundingClientRect().height < least)
      .map((one) => `${one.outerHTML.slice(0, 90)} ${one.getBoundingClientRect().height}`);
  }, leastPx);
  assert.deepEqual(small, [], `${view}: targets lower than ${leastPx} px`);
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  assert.ok(wide <= 0, `${view}: ${wide} px wider than the phone`);
}
