// A phone and the hand that holds it: taps by the words on the page, as a person would.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const SIZE = { width: 360, height: 640 };

export function tools(modules) {
  const require = createRequire(`${modules}/`);
  const axe = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");
  return { chromium: require("playwright-core").chromium, axe };
}

export async function phone(browser, { base, key, locale = "en-US", shots, name }) {
  const context = await browser.newContext({
    viewport: SIZE,
    locale,
    hasTouch: true,
    isMobile: true,
    timezoneId: "Europe/Berlin", // Not the site's: the page goes by the roof's clock.
  });
  const page = await context.newPage();
  page.setDefaultTimeout(15_000);
  const faults = [];
  page.on("pageerror", (fault) => faults.push(fault.message));
  page.on("console", (line) => {
    // A cut wire is told of as a failed resource; that is what is tested.
    if (line.type() === "error" && !/ERR_|status of (4|5)/.test(line.text())) faults.push(line.text());
    if (/Content Security Policy/.test(line.text())) faults.push(line.text());
  });
  await page.goto(`${base}/enter#${key}`);
  await page.waitForURL(/\/crew\/[^/]+\/$/);
  const hand = {
    context,
    page,
    faults,
    tap: (words) => page.getByRole("button", { name: words, exact: false }).first().tap(),
    choose: (words) => page.locator("label.choice", { hasText: words }).first().tap(),
    text: (id) => page.locator(`#${id}`).innerText(),
    sees: (words) => page.getByText(words).first().waitFor(),
    // Kept for the hours without signal.
    kept: () => page.waitForSelector("body[data-kept=yes]"),
    shot: (what, whole = false) =>
      page.screenshot({ path: `${shots}/${name}-${what}.png`, fullPage: whole }),
    // Every heat that is still to come.
    async leaveOut(words) {
      const left = page.getByRole("button", { name: words });
      while (await left.isVisible()) await left.tap();
    },
    async figure(digits) {
      for (const digit of digits) {
        await page.locator(".keys").getByRole("button", { name: digit, exact: true }).tap();
      }
    },
  };
  return hand;
}

// One strip: how it parted, how wide, what is seen.
export async function strip(hand, [parted, width, ...signs]) {
  await hand.page.locator(`label.choice.${parted}`).tap();
  await hand.page.locator(".width label.choice", { hasText: new RegExp(`^${width}$`) }).tap();
  for (const sign of signs) await hand.choose(sign);
  await hand.page.locator("#strip-next").tap();
}

// The same strip three times, by the key for it.
export async function heat(hand, one) {
  await strip(hand, one);
  await hand.page.locator("#strip-same").tap();
  await hand.page.locator("#strip-same").tap();
  await hand.page.locator("#form-next").tap();
}

export const COLD = ["cold", "¼"];
export const GOOD = ["film-tear", "1½"];
export const BURNT = ["film-tear", "2", "browning"];
