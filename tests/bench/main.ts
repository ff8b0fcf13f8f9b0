/**
 * `npm run bench`: every `*.bench.ts` beside this file, one after the other and each in a process of its own, so that no benchmark
 * warms or bloats the next. `npm run bench -- readers judge` runs those two.
 *
 * What to compare between machines are the ratios: both sides of each were measured in the same process, minutes apart at most.
 */
import { spawnSync } from "node:child_process";
import { readdirSync } from "node:fs";

const SUFFIX = ".bench.ts";

const wanted = process.argv.slice(2);
const names = readdirSync(import.meta.dirname)
  .filter((file) => file.endsWith(SUFFIX))
  .map((file) => file.slice(0, -SUFFIX.length))
  .sort();
const unknown = wanted.filter((name) => !names.includes(name));
if (unknown.length > 0) {
  process.stderr.write(`No benchmark is called ${unknown.join(", ")}; there are ${names.join(", ")}.\n`);
  process.exit(2);
}

const failed: string[] = [];
for (const name of wanted.length > 0 ? wanted : names) {
  process.stdout.write(`\n== ${name}\n`);
  const file = `${import.meta.dirname}/${name}${SUFFIX}`;
  const { status } = spawnSync(process.execPath, ["--import", "tsx", "--expose-gc", file], { stdio: "inherit" });
  if (status !== 0) failed.push(name);
}
if (failed.length > 0) {
  process.stderr.write(`\nDid not finish: ${failed.join(", ")}\n`);
  process.exit(1);
}
