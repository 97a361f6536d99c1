// Judges trials with the page's own script: one JSON of {trial, welder, rules} a line in, one verdict
// a line out. The first argument is the script.
import { readFileSync } from "node:fs";
import { createInterface } from "node:readline";
import { runInThisContext } from "node:vm";

const [, , script] = process.argv;
runInThisContext(readFileSync(script, "utf8"), { filename: script });
const { judge } = globalThis.fairseam.verdict;
for await (const line of createInterface({ input: process.stdin })) {
  const { trial, welder, rules } = JSON.parse(line);
  process.stdout.write(`${JSON.stringify(judge(trial, welder, rules))}\n`);
}
