import { type RedisOptions as AllRedisOptions, Cluster, type ClusterOptions, Redis } from "ioredis";

/** Where Redis is: one server, the master that Sentinels name, or a Cluster. */
export interface RedisAddress {
  readonly url?: string;
  readonly password?: string;
  readonly certificateAuthority?: string;
  readonly sentinels?: readonly HostPort[];
  readonly sentinelName?: string;
  readonly clusterNodes?: readonly HostPort[];
}

type RedisOptions = Omit<AllRedisOptions, "replyMapping">;

export interface HostPort {
  readonly host: string;
  readonly port: number;
}

export function connectRedis(address: RedisAddress, options: RedisOptions): Redis | Cluster {
  const shared: RedisOptions = { ...readUrl(address), ...options, retryStrategy };
  if (address.clusterNodes && address.clusterNodes.length > 0) {
    // Of the cluster as a whole and not of the connections to its nodes.
    const { enableOfflineQueue = true, lazyConnect = false, ...redisOptions } = shared;
    const whole = { enableOfflineQueue, lazyConnect, clusterRetryStrategy: retryStrategy };
    const cluster = { redisOptions, ...whole } satisfies ClusterOptions;
    return new Cluster([...address.clusterNodes], cluster);
  }
  if (address.sentinels && address.sentinels.length > 0) {
    const { host: _host, port: _port, ...rest } = shared;
    return new Redis({ ...rest, sentinels: [...address.sentinels], name: address.sentinelName ?? "mymaster" });
  }
  return new Redis(shared);
}

/** Quickly at first, then once in five seconds, for ever. */
function retryStrategy(tries: number): number {
  return Math.min(100 * 2 ** Math.min(tries, 10), 5_000);
}

function readUrl({ url, password, certificateAuthority }: RedisAddress): RedisOptions {
  const parsed = url === undefined ? undefined : new URL(url);
  const secret = password ?? (parsed?.password ? decodeURIComponent(parsed.password) : undefined);
  const database = Number(parsed?.pathname.slice(1) || 0);
  return {
    ...(parsed && { host: parsed.hostname, port: Number(parsed.port || 6379) }),
    ...(parsed?.username && { username: decodeURIComponent(parsed.username) }),
    ...(secret !== undefined && { password: secret }),
    ...(database > 0 && { db: database }),
    ...(parsed?.protocol === "rediss:" && { tls: certificateAuthority ? { ca: certificateAuthority } : {} }),
  };
}
