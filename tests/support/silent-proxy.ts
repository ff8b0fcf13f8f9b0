import type { AddressInfo } from "node:net";
import { connect, createServer, type Socket } from "node:net";

/** Passes a TCP port on to a socket, until told to keep silent: as a firewall that forgot its connections, it neither passes nor closes. */
export async function startSilentProxy(to: string) {
  const sockets = new Set<Socket>();
  const server = createServer((near) => {
    const far = connect(to);
    for (const socket of [near, far]) {
      sockets.add(socket);
      socket.on("error", () => {});
      socket.once("close", () => sockets.delete(socket));
    }
    near.pipe(far);
    far.pipe(near);
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  return {
    port: (server.address() as AddressInfo).port,
    /** Connections that are open say nothing from now on; new ones are passed on. */
    silence() {
      for (const socket of sockets) {
        socket.unpipe();
        socket.pause();
      }
    },
    close() {
      for (const socket of sockets) socket.destroy();
      return new Promise<void>((resolve) => server.close(() => resolve()));
    },
  };
}
