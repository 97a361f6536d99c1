// What a trial comes to, worked out on the phone so that it is there without signal.
//
// The rules are those of src/testweld (verdict.rs, dial.rs, exchange.rs, reading.rs) and their limits
// come with the page, as data. tests/it/crew_verdict.rs runs both over thousands of trials and wants
// the same answer. Temperatures are in °C and speeds in ft/min inside, as there, so that the same
// sums are done on the same numbers. What the server answers replaces what is said here.
(() => {
  "use strict";

  // Of a unit conversion; src/units/mod.rs.
  const NOISE = 1e-9;
  // Nearer to a tie than this, in marks of the dial, is a tie; src/testweld/dial.rs.
  const TIE_NOISE = 1e-7;
  const MOST_HALF_STEPS = 20;
  const FEET = 0.3048;
  const BURNS = ["browning", "yellowing", "char", "heavy-bleed-out"];

  const isBelow = (one, limit) => one < limit - NOISE;
  const isAbove = (one, limit) => one > limit + NOISE;
  const reaches = (size, least) => size >= least - NOISE;
  const ascending = (heats) => heats.sort((one, other) => one - other);

  const celsius = (degrees, units) => (units === "us" ? (degrees - 32) / 1.8 : degrees);
  const degrees = (celsius, units) => (units === "us" ? celsius * 1.8 + 32 : celsius);
  const feet = (speed, units) => (units === "us" ? speed : speed / FEET);
  const speedIn = (feet, units) => (units === "us" ? feet : feet * FEET);
  const millimeters = (width, units) => (units === "us" ? width * 25.4 : width);

  // One heat, all its strips together: a burn wins, then one strip that is not fused fails the heat,
  // then there have to be enough strips to pass it.
  function judgeStrips(strips, rules) {
    const burns = BURNS.filter((sign) => strips.some((strip) => strip.signs.includes(sign)));
    if (burns.length > 0) return { verdict: "burnt", why: burns };
    const across = strips.filter((strip) => strip.peeled !== "along");
    const cold = coldSigns(across, rules);
    if (cold.length > 0) return { verdict: "cold", why: cold };
    if (across.length > 0 && across.length >= rules.min_strips) {
      const narrowest = Math.min(...across.map((strip) => strip.width_mm));
      return { verdict: "good", why: [], short: !reaches(narrowest, rules.target_width_mm) };
    }
    const why = ["too-few-strips"];
    if (strips.length > across.length) why.push("peeled-along");
    return { verdict: "not-conclusive", why };
  }

  function coldSigns(strips, rules) {
    const narrow = (strip) =>
      strip.parted === "film-tear" && !reaches(strip.width_mm, rules.min_width_mm);
    const found = [
      ["parted", (strip) => strip.parted === "cold"],
      ["mixed", (strip) => strip.parted === "mixed"],
      ["narrow", narrow],
      ["void", (strip) => strip.signs.includes("void")],
      ["scrim-not-reached", (strip) => strip.signs.includes("scrim-not-reached")],
    ];
    return found.filter(([, shows]) => strips.some(shows)).map(([name]) => name);
  }

  // Every heat, ascending; strips of a heat that was tried twice are judged together.
  function judgeHeats(tried, welder, rules) {
    const heats = [];
    for (const { heat, strips } of tried) {
      const same = heats.find((one) => !isBelow(one.heat, heat) && !isAbove(one.heat, heat));
      if (same) same.strips.push(...strips);
      else heats.push({ heat, strips: [...strips] });
    }
    heats.sort((one, other) => one.heat - other.heat);
    return heats.map(({ heat, strips }) => {
      const outside = isBelow(heat, welder.heat_low_c) || isAbove(heat, welder.heat_max_c);
      const judged = outside
        ? { verdict: "not-conclusive", why: ["outside-machine"] }
        : judgeStrips(strips, rules);
      const across = strips.filter((strip) => strip.peeled !== "along").length;
      return { heat, ...judged, strips_across: across, strips_along: strips.length - across };
    });
  }

  // The nearest mark of the dial between bottom and top; of two the cooler.
  function dial(heat, bottom, top, rules) {
    const marks = degrees(heat, rules.units) / rules.dial_increment;
    const nearest = Math.ceil(marks - 0.5 - TIE_NOISE);
    const mark = [nearest, nearest + 1, nearest - 1]
      .map((mark) => celsius(mark * rules.dial_increment, rules.units))
      .find((mark) => !isBelow(mark, bottom) && !isAbove(mark, top));
    return mark === undefined ? heat : mark;
  }

  // The speed that is worth one step of heat, as far as the machine goes; none by hand.
  function speedRoom(hotter, speed, welder, rules) {
    if (speed === null || welder.speed_min_ft_min === null) return null;
    const perLog = rules.heat_per_ft_min_k * rules.heat_per_near_ft_min;
    const wanted = speed * Math.exp(-hotter / perLog);
    const to = Math.min(Math.max(wanted, welder.speed_min_ft_min), welder.speed_max_ft_min);
    return Math.abs(to - speed) <= NOISE ? null : to;
  }

  // From the verdicts to the window, the setting, and what to try next.
  function readWindow(heats, speed, welder, rules) {
    const outside = (heat) => heat.why.includes("outside-machine");
    const of = (wanted) => ascending(heats.filter(wanted).map((heat) => heat.heat));
    const sorted = {
      good: of((heat) => heat.verdict === "good"),
      cold: of((heat) => heat.verdict === "cold"),
      burnt: of((heat) => heat.verdict === "burnt"),
      outside: of(outside),
      doubtful: of((heat) => heat.verdict === "not-conclusive" && !outside(heat)),
    };
    sorted.failed = ascending([...sorted.cold, ...sorted.burnt]);
    const machine = { welder, speed, rules };
    const { window, findings, contradicts } =
      sorted.good.length > 0 ? withGood(sorted, machine) : withoutGood(sorted, machine);
    if (sorted.outside.length > 0) findings.push({ name: "outside-machine", heats: [] });
    if (sorted.doubtful.length > 0) findings.push({ name: "repeat", heats: sorted.doubtful });
    let setting;
    if (contradicts) setting = { verdict: "do-not-weld", why: "contradiction" };
    else if (window) setting = { verdict: "run-at", why: null, heat: window.center, speed };
    else if (sorted.failed.length === 0) setting = { verdict: "do-not-weld", why: "not-conclusive" };
    else setting = { verdict: "do-not-weld", why: "nothing-good" };
    return { window, setting, findings };
  }

  function withGood(sorted, machine) {
    const [bottom, top] = [sorted.good[0], sorted.good[sorted.good.length - 1]];
    const window = {
      bottom,
      top,
      center: dial(bottom + (top - bottom) / 2, bottom, top, machine.rules),
      bottom_found: sorted.cold.some((cold) => isBelow(cold, bottom)),
      top_found: sorted.burnt.some((burnt) => isAbove(burnt, top)),
    };
    const odd = contradictions(sorted, bottom, top);
    if (odd.length > 0) return { window, findings: odd, contradicts: true };
    const findings = [
      ...narrow(sorted, machine, window),
      ...openTop(machine, window),
      ...openBottom(machine, window),
    ];
    return { window, findings, contradicts: false };
  }

  // What cannot be if heat is all that was varied.
  function contradictions(sorted, bottom, top) {
    const findings = [];
    const inside = sorted.failed.filter((heat) => !isBelow(heat, bottom) && !isAbove(heat, top));
    if (inside.length > 0) findings.push({ name: "hole-in-the-middle", heats: inside });
    const cold = sorted.cold.find((cold) => isAbove(cold, top));
    if (cold !== undefined) findings.push({ name: "cold-above-good", heats: [cold] });
    const burnt = sorted.burnt.findLast((burnt) => isBelow(burnt, bottom));
    if (burnt !== undefined) findings.push({ name: "burnt-below-good", heats: [burnt] });
    return findings;
  }

  function narrow(sorted, machine, window) {
    if (reaches(window.top - window.bottom, machine.welder.heat_step_k)) return [];
    const heats = halfStepsOutside(sorted, machine, window);
    const single = !isAbove(window.top, window.bottom);
    return [{ name: single ? "single-good-heat" : "narrower-than-step", heats }];
  }

  // Half a step to each side, where the machine has it and it lies short of the next that failed.
  function halfStepsOutside(sorted, { welder, rules }, window) {
    const half = welder.heat_step_k / 2;
    const free = (low, heat, high) =>
      !sorted.failed.some((tried) => !isBelow(tried, low) && !isAbove(tried, high)) &&
      !isBelow(heat, welder.heat_low_c) &&
      !isAbove(heat, welder.heat_max_c);
    const onDial = (heat) => dial(heat, heat - half, heat + half, rules);
    const below = onDial(window.bottom - half);
    const above = onDial(window.top + half);
    const heats = [];
    if (free(below, below, window.bottom) && isBelow(below, window.bottom)) heats.push(below);
    if (free(window.top, above, above) && isAbove(above, window.top)) heats.push(above);
    return heats;
  }

  function openTop({ welder, speed, rules }, window) {
    if (window.top_found) return [];
    if (isBelow(window.top, welder.heat_max_c)) {
      const next = Math.min(window.top + welder.heat_step_k, welder.heat_max_c);
      return [{ name: "top-not-found", heats: [next] }];
    }
    return [{ name: "top-at-maximum", heats: [], speed: slower(speed, welder, rules) }];
  }

  function openBottom({ welder, speed, rules }, window) {
    if (window.bottom_found) return [];
    if (isAbove(window.bottom, welder.heat_low_c)) {
      const next = Math.max(window.bottom - welder.heat_step_k, welder.heat_low_c);
      return [{ name: "bottom-not-found", heats: [next] }];
    }
    return [{ name: "bottom-at-lowest", heats: [], speed: faster(speed, welder, rules) }];
  }

  const slower = (speed, welder, rules) => speedRoom(welder.heat_step_k, speed, welder, rules);
  const faster = (speed, welder, rules) => speedRoom(-welder.heat_step_k, speed, welder, rules);

  function withoutGood(sorted, machine) {
    const { welder, speed, rules } = machine;
    const cold = sorted.cold[sorted.cold.length - 1];
    const burnt = sorted.burnt[0];
    const one = (name, more, contradicts = false) => ({
      window: null,
      findings: [{ name, heats: [], ...more }],
      contradicts,
    });
    if (cold === undefined && burnt === undefined) {
      return { window: null, findings: [], contradicts: false };
    }
    if (cold !== undefined && burnt !== undefined) {
      if (!isAbove(burnt, cold)) return one("burnt-below-cold", {}, true);
      return one("cold-then-burnt", { heats: halfStepsBetween(machine, cold, burnt) });
    }
    if (cold !== undefined) {
      if (!isBelow(cold, welder.heat_max_c)) {
        return one("all-cold-to-maximum", { speed: slower(speed, welder, rules) });
      }
      return one("all-cold", { heats: [Math.min(cold + welder.heat_step_k, welder.heat_max_c)] });
    }
    if (!isAbove(burnt, welder.heat_low_c)) {
      return one("all-burnt-to-lowest", { speed: faster(speed, welder, rules) });
    }
    return one("all-burnt", { heats: [Math.max(burnt - welder.heat_step_k, welder.heat_low_c)] });
  }

  function halfStepsBetween({ welder, rules }, cold, burnt) {
    const half = welder.heat_step_k / 2;
    const heats = [];
    let heat = cold + half;
    while (isBelow(heat, burnt) && heats.length < MOST_HALF_STEPS) {
      const dialed = dial(heat, cold, burnt, rules);
      if (isAbove(dialed, cold) && isBelow(dialed, burnt)) heats.push(dialed);
      if (!isAbove(heat + half, heat)) break;
      heat += half;
    }
    return heats;
  }

  // The trial as it is sent (docs/trial.schema.json), in the units of `rules`. An automatic welder
  // needs a speed that it can travel, or the trial proves nothing.
  function judge(trial, welder, rules) {
    const { units } = rules;
    const tried = trial.heats.map(({ heat, strips }) => ({
      heat: celsius(heat, units),
      strips: strips.map((strip) => ({
        width_mm: millimeters(strip.width, units),
        parted: strip.parted,
        signs: strip.signs ?? [],
        peeled: strip.peeled ?? "across",
      })),
    }));
    const heats = judgeHeats(tried, welder, rules);
    const speed = typeof trial.speed === "number" ? feet(trial.speed, units) : null;
    const doubts = speedDoubts(speed, welder);
    const read =
      doubts.length > 0
        ? { window: null, setting: { verdict: "do-not-weld", why: "not-conclusive" }, findings: [] }
        : readWindow(heats, speed, welder, rules);
    return shown({ heats, doubts, ...read }, units);
  }

  function speedDoubts(speed, welder) {
    if (welder.kind !== "automatic") return [];
    if (speed === null) return ["speed-missing"];
    if (welder.speed_min_ft_min === null) return [];
    const kept = Math.min(Math.max(speed, welder.speed_min_ft_min), welder.speed_max_ft_min);
    return Math.abs(kept - speed) <= NOISE ? [] : ["speed-outside-machine"];
  }

  // Back into the crew's units.
  function shown(read, units) {
    const heat = (value) => degrees(value, units);
    const speed = (value) => (typeof value === "number" ? speedIn(value, units) : null);
    const { window, setting } = read;
    return {
      heats: read.heats.map((one) => ({ ...one, heat: heat(one.heat) })),
      doubts: read.doubts,
      setting: {
        verdict: setting.verdict,
        why: setting.why,
        heat: setting.verdict === "run-at" ? heat(setting.heat) : null,
        speed: setting.verdict === "run-at" ? speed(setting.speed) : null,
      },
      window: window && {
        ...window,
        bottom: heat(window.bottom),
        top: heat(window.top),
        center: heat(window.center),
      },
      findings: read.findings.map((finding) => ({
        name: finding.name,
        heats: finding.heats.map(heat),
        speed: speed(finding.speed),
      })),
    };
  }

  globalThis.fairseam = { ...globalThis.fairseam, verdict: { judge } };
})();
