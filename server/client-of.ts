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

/** One household has many IPv6 addresses: the first half of one counts. An IPv4 address in an IPv6 one is itself. */
function network(address: string): string {
  if (!isIPv6(address)) return address;
  const [head, tail = ''] = withHexTail(address.split('%', 1)[0]).split('::');
  const groups = head === '' ? [] : head.split(':');
  const after = tail === '' ? [] : tail.split(':');
  const zeros = Array.from({ length: Math.max(0, 8 - groups.length - after.length) }, () => '0');
  const all = [...groups, ...zeros, ...after].map((group) => Number.parseInt(group, 16));
  const mapped = all.slice(0, 5).every((group) => group === 0) && all[5] === 0xffff;
  if (mapped) return [all[6] >> 8, all[6] & 255, all[7] >> 8, all[7] & 255].join('.');
  return all
    .slice(0, 4)
    .map((group) => group.toString(16))
    .join(':');
}

/** The last four bytes of an IPv6 address may be written like an IPv4 one. */
function withHexTail(address: string): string {
  return address.replace(/(\d+)\.(\d+)\.(\d+)\.(\d+)$/u, (_whole, ...bytes: string[]) => {
    const [a, b, c, d] = bytes.map(Number);
    return `${((a << 8) | b).toString(16)}:${((c << 8) | d).toString(16)}`;
  });
}
