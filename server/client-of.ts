import type { IncomingMessage } from 'node:http';
import { isIPv6 } from 'node:net';

/** Says which client sent a request, for its share of places: by address, or by a header that a proxy sets. */
export type ClientOf = (request: IncomingMessage) => string;

/**
 * @param header name of the header in which a trusted proxy in front of the server names the client; of a list the
 * last entry counts, since the proxy nearest to us added it. Undefined: the address of the connection.
 */
export function clientOf(header?: string): ClientOf {
  return (request) => {
    const value = header === undefined ? undefined : request.headers[header.toLowerCase()];
    const named = (Array.isArray(value) ? value.at(-1) : value)?.split(',').at(-1)?.trim();
    return named ? network(named.slice(0, 100)) : network(request.socket.remoteAddress ?? '');
  };
}

/** One household has many IPv6 addresses: the first half of one counts. */
function network(address: string): string {
  const v4 = /^::ffff:(\d+\.\d+\.\d+\.\d+)$/i.exec(address);
  if (v4 !== null) return v4[1];
  if (!isIPv6(address)) return address;
  const [head, tail = ''] = address.split('%', 1)[0].split('::');
  const groups = head === '' ? [] : head.split(':');
  const after = tail === '' ? [] : tail.split(':');
  const zeros = address.includes('::') ? Math.max(0, 8 - groups.length - after.length) : 0;
  return [...groups, ...Array.from({ length: zeros }, () => '0'), ...after]
    .slice(0, 4)
    .map((group) => Number.parseInt(group, 16).toString(16))
    .join(':');
}
