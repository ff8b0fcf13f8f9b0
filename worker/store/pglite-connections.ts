import { Duplex } from "node:stream";
import { setImmediate as nextTurn } from "node:timers/promises";
import type { PGlite } from "@electric-sql/pglite";
import { framesIn, requestEnd } from "./wire-frames.js";

/**
 * Lets several `pg` clients share one PGlite database, each through a stream that speaks the PostgreSQL protocol.
 *
 * PGlite has a single session, so three things are settled here that a server settles by itself:
 * a client's request (parse, bind, execute, sync) is run in one piece, or another client's unnamed statement could slip
 * between; a client that opened a transaction keeps the database until it ends; and a notification is handed to every
 * client, because PGlite would give it only to the one that caused it and a waiting worker would sleep on.
 */
export function sharePglite(database: PGlite): { connect(): Duplex } {
  const connections = new Set<PgliteConnection>();
  const waiting: Request[] = [];
  let transactionOwner: PgliteConnection | undefined;
  let running = false;

  return {
    connect() {
      const connection = new PgliteConnection(submit, leave);
      connections.add(connection);
      return connection;
    },
  };

  function submit(request: Request): void {
    waiting.push(request);
    if (!running) void run();
  }

  async function run(): Promise<void> {
    running = true;
    for (let request = takeNext(); request; request = takeNext()) {
      try {
        answer(request.from, await database.execProtocolRaw(request.bytes));
      } catch (error) {
        request.from.destroy(error as Error);
      }
      await nextTurn();
    }
    running = false;
  }

  function takeNext(): Request | undefined {
    if (!transactionOwner) return waiting.shift();
    const index = waiting.findIndex((request) => request.from === transactionOwner);
    return index < 0 ? undefined : waiting.splice(index, 1)[0];
  }

  function answer(to: PgliteConnection, bytes: Uint8Array): void {
    const own: Uint8Array[] = [];
    for (const frame of framesIn(bytes)) {
      if (frame.type === "A") {
        for (const connection of connections) if (connection !== to) connection.push(Buffer.from(frame.bytes));
      }
      if (frame.type === "Z") transactionOwner = frame.transactionStatus === "I" ? undefined : to;
      own.push(frame.bytes);
    }
    if (own.length > 0 && !to.destroyed) to.push(Buffer.concat(own));
  }

  function leave(connection: PgliteConnection): void {
    connections.delete(connection);
    for (let index = waiting.length - 1; index >= 0; index--) {
      if (waiting[index]?.from === connection) waiting.splice(index, 1);
    }
    // A client that goes away in mid-transaction must not hold the database for ever.
    if (transactionOwner === connection) submit({ from: connection, bytes: ROLLBACK });
  }
}

interface Request {
  readonly from: PgliteConnection;
  readonly bytes: Uint8Array;
}

const ROLLBACK = Buffer.from("Q\0\0\0\x0dROLLBACK\0", "latin1");

/** Has the few socket methods that `pg` calls beside those of a stream. */
class PgliteConnection extends Duplex {
  #received = Buffer.alloc(0);
  #started = false;

  constructor(
    private readonly submit: (request: Request) => void,
    private readonly leave: (connection: PgliteConnection) => void,
  ) {
    super();
  }

  connect(): this {
    setImmediate(() => this.emit("connect"));
    return this;
  }
  setNoDelay(): this {
    return this;
  }
  setKeepAlive(): this {
    return this;
  }
  ref(): this {
    return this;
  }
  unref(): this {
    return this;
  }

  override _read(): void {}

  override _write(chunk: Buffer, _encoding: BufferEncoding, done: (error?: Error) => void): void {
    this.#received = Buffer.concat([this.#received, chunk]);
    for (
      let end = requestEnd(this.#received, this.#started);
      end > 0;
      end = requestEnd(this.#received, this.#started)
    ) {
      this.submit({ from: this, bytes: new Uint8Array(this.#received.subarray(0, end)) });
      this.#received = this.#received.subarray(end);
      this.#started = true;
    }
    done();
  }

  override _final(done: (error?: Error) => void): void {
    done();
    this.destroy();
  }

  override _destroy(error: Error | null, done: (error?: Error | null) => void): void {
    this.leave(this);
    done(error);
  }
}
