/** One message of the PostgreSQL protocol: a type byte, a length that counts itself, and the body. */
export interface Frame {
  readonly type: string;
  readonly bytes: Uint8Array;
  /** On ReadyForQuery: I idle, T in a transaction, E in a failed one. */
  readonly transactionStatus?: string;
}

export function* framesIn(bytes: Uint8Array): Generator<Frame> {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  for (let start = 0; start + HEADER <= bytes.length; ) {
    const type = String.fromCharCode(bytes[start]!);
    const end = start + 1 + view.getUint32(start + 1);
    const frame = { type, bytes: bytes.subarray(start, end) };
    yield type === "Z" ? { ...frame, transactionStatus: String.fromCharCode(bytes[start + HEADER]!) } : frame;
    start = end;
  }
}

/**
 * Where the first whole request ends in what a client has sent so far; 0 when it is still incomplete.
 * A request ends with Query, Sync, Flush or Terminate. The very first message has no type byte.
 */
export function requestEnd(received: Uint8Array, started: boolean): number {
  const view = new DataView(received.buffer, received.byteOffset, received.byteLength);
  if (!started) {
    if (received.length < 4) return 0;
    const end = view.getUint32(0);
    return end <= received.length ? end : 0;
  }
  for (let start = 0; start + HEADER <= received.length; ) {
    const end = start + 1 + view.getUint32(start + 1);
    if (end > received.length) return 0;
    if (REQUEST_ENDS.has(received[start]!)) return end;
    start = end;
  }
  return 0;
}

const HEADER = 5;
const REQUEST_ENDS = new Set([..."QSHX"].map((letter) => letter.charCodeAt(0)));
