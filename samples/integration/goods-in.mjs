/**
 * A procurement system's side of Heatgate, to copy and change: it hands in what came with an order, follows the feed of events and keeps
 * each heat of the order released, blocked or waiting for a person.
 *
 *   export HEATGATE=http://127.0.0.1:8080 KEY=hg_live_…           # a key with the scopes submit and read
 *   node samples/integration/goods-in.mjs hand-in 4500012 certificate.pdf impact.xlsx
 *   node samples/integration/goods-in.mjs follow --once           # without --once: for ever
 *
 * REQUIREMENT names a stored requirement; left out, each certificate is held to the grades it claims. Stock and cursor are in the file that
 * STOCK names (goods-in.json); a real one has them in its database, in one transaction. Webhooks are not needed: the feed has all that they
 * tell, in order, also what came while this program was not running. One process follows at a time.
 *
 * A heat of an order is released when every submission that names it releases it: a good impact test does not lift what the mill's
 * certificate blocked. A correction stands in place of the submission that it corrects.
 */
import { createHash } from "node:crypto";
import { readFile, rename, writeFile } from "node:fs/promises";
import { basename } from "node:path";
import { setTimeout as wait } from "node:timers/promises";

const { HEATGATE = "http://127.0.0.1:8080", KEY = "", REQUIREMENT, STOCK = "goods-in.json" } = process.env;
const POLL_MS = 5000;
const TRIES = 6;

/** What a verdict means for the stock. Whatever else there is waits for a person: only a pass releases. */
const AFTER_VERDICT = { pass: "released", fail: "blocked" };
/** What a person decided counts more than the verdict. */
const AFTER_DECISION = { accept: "released", concession: "released", return: "blocked", retest: "waiting" };

class Refused extends Error {
  constructor({ code, detail, advice }) {
    super(`${detail} (${code}). ${advice}`);
    this.code = code;
  }
}

/** Sends until there is an answer: a lost one, 429, 503 and "in use" are asked for again, when Retry-After says. */
async function request(path, { headers, ...options } = {}) {
  for (let attempt = 1; ; attempt += 1) {
    let answer;
    try {
      answer = await fetch(new URL(path, HEATGATE), {
        ...options,
        headers: { Authorization: `Bearer ${KEY}`, ...headers },
        signal: AbortSignal.timeout(60_000),
      });
    } catch (error) {
      if (attempt === TRIES) throw error;
    }
    if (answer?.ok) return answer;
    const problem = await answer?.json();
    const isPassing = !answer || answer.status >= 500 || answer.status === 429 || problem.code === "idempotency-key-in-use";
    if (!isPassing || attempt === TRIES) throw new Refused(problem);
    await wait(1000 * Number(answer?.headers.get("retry-after") ?? 2 ** attempt));
  }
}

/** Returns the submission's id. The key is made of the order and the documents, so running it again after a crash hands in nothing twice. */
async function handIn(order, paths) {
  const documents = await Promise.all(paths.map(async (path) => ({ name: basename(path), bytes: await readFile(path) })));
  const body = new FormData();
  const digest = createHash("sha256").update(order);
  for (const { name, bytes } of documents) {
    body.append("document", new Blob([bytes]), name);
    digest.update(name).update(createHash("sha256").update(bytes).digest());
  }
  if (REQUIREMENT) body.append("requirement", REQUIREMENT);
  body.append("tags", JSON.stringify({ order }));
  const answer = await request("/v1/submissions", {
    method: "POST",
    headers: { "Idempotency-Key": `"${digest.digest("hex")}"` },
    body,
  });
  const { id } = await answer.json();
  return id;
}

/** Takes in one page of the feed. Returns whether there was anything. */
async function takeIn(stock) {
  const answer = await request(`/v1/events?after=${stock.cursor}`);
  const { items, next, removedThrough } = await answer.json();
  if (removedThrough) console.error(`events up to ${removedThrough} are kept no more: read /v1/submissions instead`);
  for (const event of items) await act(stock, event);
  stock.cursor = next;
  await save(stock);
  return items.length > 0;
}

async function act(stock, { type, body: { data } }) {
  const { submission } = data;
  if (type === "submission.failed") console.log(`${submission}: ${data.failure.message}`);
  if (type === "submission.erased") for (const id of [submission, ...(data.corrections ?? [])]) drop(stock, id);
  if (type !== "submission.done" && type !== "decision.recorded") return;
  try {
    const { tags, correctionOf } = await (await request(`/v1/submissions/${submission}`)).json();
    if (!tags.order) return;
    if (type === "decision.recorded") {
      place(stock, submission, tags.order, data.heat, AFTER_DECISION[data.action], data.action);
      return;
    }
    const report = await readReport(submission, data.report.sha256);
    if (correctionOf) drop(stock, correctionOf);
    for (const { heat, verdict } of report.heats) {
      place(stock, submission, tags.order, heat, AFTER_VERDICT[verdict], `${verdict}, ${data.report.url}`);
    }
  } catch (error) {
    // An event of its own tells of that.
    if (error.code !== "submission-erased") throw error;
  }
}

/** The report is taken only if it is the one that the event speaks of. */
async function readReport(submission, sha256) {
  const answer = await request(`/v1/submissions/${submission}/report`, { headers: { Accept: "application/json" } });
  const bytes = Buffer.from(await answer.arrayBuffer());
  if (createHash("sha256").update(bytes).digest("hex") !== sha256) throw new Error(`${submission}: another report`);
  return JSON.parse(bytes.toString("utf8"));
}

function place(stock, submission, order, heat, state = "waiting", why = "") {
  stock.heats[order] ??= {};
  stock.heats[order][heat] ??= {};
  stock.heats[order][heat][submission] = state;
  console.log(`order ${order}, heat ${heat}: ${stateOf(stock.heats[order][heat])} (${why})`);
}

/** What a submission said of its heats counts no more; a heat of which nothing else is known waits. */
function drop(stock, submission) {
  for (const [order, heats] of Object.entries(stock.heats)) {
    for (const [heat, states] of Object.entries(heats)) {
      if (!(submission in states)) continue;
      delete states[submission];
      console.log(`order ${order}, heat ${heat}: ${stateOf(states)} (${submission} counts no more)`);
    }
  }
}

/** The worst of what the submissions say. */
function stateOf(states) {
  const all = Object.values(states);
  return ["blocked", "waiting", "released"].find((state) => all.includes(state)) ?? "waiting";
}

async function load() {
  try {
    return JSON.parse(await readFile(STOCK, "utf8"));
  } catch (error) {
    if (error.code !== "ENOENT") throw error;
    return { cursor: 0, heats: {} };
  }
}

/** In one step, so that a crash leaves the old file or the new one. */
async function save(stock) {
  await writeFile(`${STOCK}.new`, JSON.stringify(stock, undefined, 2));
  await rename(`${STOCK}.new`, STOCK);
}

async function main([command, ...rest]) {
  if (command === "hand-in" && rest.length > 1) {
    const [order, ...paths] = rest;
    console.log(await handIn(order, paths));
  } else if (command === "follow") {
    const stock = await load();
    for (;;) {
      const isMore = await takeIn(stock);
      if (!isMore && rest.includes("--once")) return;
      if (!isMore) await wait(POLL_MS);
    }
  } else {
    throw new Error("goods-in.mjs hand-in ORDER FILE…  |  goods-in.mjs follow [--once]");
  }
}

main(process.argv.slice(2)).catch((error) => {
  console.error(error.message);
  process.exitCode = 2;
});
