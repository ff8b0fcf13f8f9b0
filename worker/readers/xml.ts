import { SaxesParser } from "saxes";
import { ReadFailure } from "./problem.js";
import { decodeText } from "./text/decode-text.js";

export interface XmlHandlers {
  /** Names come without their namespace prefix. Attributes have no prototype. */
  open?(name: string, attributes: Record<string, string>): void;
  close?(name: string): void;
  /** One run of text; entities resolved. Long runs may come in pieces. */
  text?(text: string): void;
}

export interface XmlFeed {
  write(chunk: Buffer): void;
  end(): void;
}

/** XML in pieces. No document type, so no entities but the five of XML itself. */
export function createXmlFeed(handlers: XmlHandlers): XmlFeed {
  const parser = new SaxesParser({ xmlns: false, position: false });
  let decoder: InstanceType<typeof TextDecoder> | undefined;
  parser.on("doctype", () => {
    throw new ReadFailure("document-type-refused", "It declares a document type (<!DOCTYPE).");
  });
  parser.on("error", (error) => {
    // saxes knows that the input ended too early only by these words.
    const early = /unclosed|document must contain a root|unexpected end/i.test(error.message);
    throw new ReadFailure(
      early ? "truncated" : "damaged",
      `The XML is not well formed: ${error.message.slice(0, 120)}.`,
    );
  });
  const { open, close, text } = handlers;
  if (open) parser.on("opentag", (tag) => open(localName(tag.name), tag.attributes as Record<string, string>));
  if (close) parser.on("closetag", (tag) => close(localName(tag.name)));
  if (text) {
    parser.on("text", text);
    parser.on("cdata", text);
  }

  return {
    write(chunk) {
      decoder ??= new TextDecoder(decodeText(chunk.subarray(0, 256)).encoding);
      parser.write(decoder.decode(chunk, { stream: true }));
    },
    end() {
      parser.write(decoder?.decode() ?? "");
      parser.close();
    },
  };
}

function localName(name: string): string {
  return name.slice(name.indexOf(":") + 1);
}
