import type { Server } from "node:http";
import { createRequire } from "node:module";
import type { AddressInfo } from "node:net";
import type { BucketOptions } from "../../worker/store/documents-s3.js";
import { temporaryFolder } from "./invented.js";

interface BucketServer {
  run(): Promise<AddressInfo>;
  close(): Promise<void>;
  readonly httpServer: Server;
}
type MakeServer = new (options: Readonly<Record<string, unknown>>) => BucketServer;

/** An S3-compatible server on this machine with one empty bucket. */
export async function startBucketServer(): Promise<BucketOptions & { close(): Promise<void> }> {
  // The package brings no types.
  const Server: MakeServer = createRequire(import.meta.url)("@20minutes/s3rver");
  const folder = await temporaryFolder();
  const server = new Server({
    address: "127.0.0.1",
    port: 0,
    silent: true,
    directory: folder.path,
    configureBuckets: [{ name: "documents" }],
  });
  const { port } = await server.run();
  return {
    bucket: "documents",
    prefix: "heatgate/",
    region: "us-east-1",
    endpoint: `http://127.0.0.1:${port}`,
    credentials: { accessKeyId: "S3RVER", secretAccessKey: "S3RVER" },
    async close() {
      const closed = server.close();
      // Clients keep their connections, and closing waits for them.
      server.httpServer.closeAllConnections();
      await closed;
      await folder.remove();
    },
  };
}
