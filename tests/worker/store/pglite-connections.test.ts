import { afterAll, beforeAll, expect, test } from "vitest";
import { type Database, openEmbeddedDatabase } from "../../../worker/store/database.js";
import { embeddedFolder } from "../../support/embedded-folder.js";

let folder: Awaited<ReturnType<typeof embeddedFolder>>;
let database: Database;

beforeAll(async () => {
  folder = await embeddedFolder();
  database = await openEmbeddedDatabase(folder.path);
  await database.pool.query("CREATE TABLE public.note (text text)");
});
afterAll(async () => {
  await database.close();
  await folder.remove();
});

const countNotes = async () => (await database.pool.query("SELECT count(*)::integer AS n FROM public.note")).rows[0].n;

test("clients that ask different things at the same time each get their own answer", async () => {
  const ask = async (number: number) => {
    const text = number % 2 === 0;
    const sql = text ? "SELECT $1::text || 'x' AS answer" : "SELECT $1::integer + 1 AS answer, 2 AS more";
    return (await database.pool.query(sql, [number])).rows[0].answer;
  };
  const numbers = Array.from({ length: 60 }, (_, number) => number);
  const answers = await Promise.all(numbers.map(ask));
  expect(answers).toEqual(numbers.map((number) => (number % 2 === 0 ? `${number}x` : number + 1)));
});

test("an error of one client is not another one's", async () => {
  const [wrong, right] = await Promise.allSettled([
    database.pool.query("SELECT 1 / $1::integer", [0]),
    database.pool.query("SELECT $1::integer AS n", [7]),
  ]);
  expect(wrong).toMatchObject({ status: "rejected", reason: { code: "22012" } });
  expect(right).toMatchObject({ status: "fulfilled", value: { rows: [{ n: 7 }] } });
});

test("nobody sees, or gets in between, an open transaction", async () => {
  const client = await database.pool.connect();
  await client.query("BEGIN");
  await client.query("INSERT INTO public.note VALUES ('in a transaction')");
  const seen = countNotes();
  await new Promise((resolve) => setTimeout(resolve, 20));
  await client.query("ROLLBACK");
  client.release();
  expect(await seen).toBe(0);
});

test("a client that goes away in mid-transaction takes its changes with it and lets the others on", async () => {
  const client = await database.pool.connect();
  await client.query("BEGIN");
  await client.query("INSERT INTO public.note VALUES ('never committed')");
  client.release(true);
  expect(await countNotes()).toBe(0);
});

test("a notification reaches the clients that did not cause it", async () => {
  const listener = await database.pool.connect();
  const heard = new Promise((resolve) => listener.once("notification", resolve));
  await listener.query("LISTEN something");
  await database.pool.query("SELECT pg_notify('something', 'happened')");
  expect(await heard).toMatchObject({ channel: "something", payload: "happened" });
  listener.release(true);
});

test("what does not fit into one read of the stream arrives whole", async () => {
  const large = "x".repeat(3_000_000);
  const { rows } = await database.pool.query("SELECT $1::text AS large", [large]);
  expect(rows[0].large).toBe(large);
});
