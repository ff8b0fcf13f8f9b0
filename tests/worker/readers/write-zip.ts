import { crc32, deflateRawSync } from "node:zlib";

export interface ZipPart {
  readonly name: string;
  readonly content: string | Buffer | DeflatedContent;
}

/** Already compressed, so that a gigabyte need not be made to be sent. */
export interface DeflatedContent {
  readonly deflated: Buffer;
  readonly size: number;
}

/** A small zip archive, written by hand so that tests can also write ones that no program would. */
export function writeZip(parts: readonly ZipPart[]): Buffer {
  const files: Buffer[] = [];
  const directory: Buffer[] = [];
  let offset = 0;
  for (const { name, content } of parts) {
    const { deflated, size, crc } = compress(content);
    const nameBytes = Buffer.from(name);
    const shared = Buffer.alloc(26);
    shared.writeUInt16LE(20, 0); // version needed
    shared.writeUInt16LE(8, 4); // deflate
    shared.writeUInt32LE(crc, 10);
    shared.writeUInt32LE(deflated.length, 14);
    shared.writeUInt32LE(size, 18);
    shared.writeUInt16LE(nameBytes.length, 22);
    const local = Buffer.concat([Buffer.from("PK\x03\x04"), shared, nameBytes, deflated]);
    const rest = Buffer.alloc(14);
    rest.writeUInt32LE(offset, 10);
    directory.push(Buffer.concat([Buffer.from("PK\x01\x02"), Buffer.from([20, 0]), shared, rest, nameBytes]));
    files.push(local);
    offset += local.length;
  }
  const listing = Buffer.concat(directory);
  const end = Buffer.alloc(22);
  end.write("PK\x05\x06", 0, "latin1");
  end.writeUInt16LE(parts.length, 8);
  end.writeUInt16LE(parts.length, 10);
  end.writeUInt32LE(listing.length, 12);
  end.writeUInt32LE(offset, 16);
  return Buffer.concat([...files, listing, end]);
}

/** `count` times the same text, as one deflate stream of `count` equal blocks. */
export function repeatDeflated(text: string, count: number, before = "", after = ""): DeflatedContent {
  const flushed = (piece: string) => deflateRawSync(piece, { finishFlush: 3 /* Z_FULL_FLUSH */ });
  const block = flushed(text);
  const blocks = Array.from({ length: count }, () => block);
  return {
    deflated: Buffer.concat([flushed(before), ...blocks, deflateRawSync(after)]),
    size: Buffer.byteLength(before) + Buffer.byteLength(text) * count + Buffer.byteLength(after),
  };
}

function compress(content: ZipPart["content"]): { deflated: Buffer; size: number; crc: number } {
  if (typeof content === "object" && "deflated" in content) return { ...content, crc: 0 };
  const bytes = Buffer.from(content);
  return { deflated: deflateRawSync(bytes), size: bytes.length, crc: crc32(bytes) };
}
