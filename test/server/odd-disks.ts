import type { Disk, NewFile } from '../../server/disk.ts';
import { DISK } from '../../server/disk.ts';

/** The real disk, with every call, also those of an open file, passed through `around`. */
function wrapped(
  around: <R>(call: string, work: () => Promise<R>, words: readonly unknown[]) => Promise<R>,
): Disk {
  const wrapAll = <T extends object>(calls: T, kind: string): T =>
    Object.fromEntries(
      Object.entries(calls).map(([name, work]) => [
        name,
        async (...words: unknown[]) => {
          const call = `${kind}${name}`;
          const result = await around(
            call,
            () => (work as (...all: unknown[]) => Promise<unknown>)(...words),
            words,
          );
          return call === 'create' ? wrapAll(result as NewFile, 'file.') : result;
        },
      ]),
    ) as T;
  return wrapAll(DISK, '');
}

const fault = (code: string, about: unknown): Error =>
  Object.assign(new Error(`${code}: ${String(about)}`), { code });

/** Counts the calls; the nth fails with a code. */
export function failing(nth: number, code: string): { disk: Disk; calls: () => number } {
  let calls = 0;
  const disk = wrapped((call, work, words) =>
    ++calls === nth ? Promise.reject(fault(code, words[0] ?? call)) : work(),
  );
  return { disk, calls: () => calls };
}

/** One kind of call fails with a code, each time. */
export const without = (name: string, code: string): Disk =>
  wrapped((call, work) => (call === name ? Promise.reject(fault(code, call)) : work()));

/** Before the first call of a kind something else happens, as another server may do. */
export function meanwhile(name: string, happens: () => Promise<unknown>): Disk {
  let begun = false;
  return wrapped(async (call, work) => {
    if (call === name && !begun) {
      begun = true;
      await happens();
    }
    return work();
  });
}

/** Takes so many bytes in all, then no more, as a full disk does: part of a write, without a fault. */
export function shortDisk(room: number): Disk {
  let left = room;
  const take = (bytes: Uint8Array): Uint8Array => {
    const taken = bytes.subarray(0, left);
    left -= taken.length;
    return taken;
  };
  return {
    ...DISK,
    create: async (path, like) => {
      const file = await DISK.create(path, like);
      return { ...file, write: (bytes) => file.write(take(bytes)) };
    },
  };
}

/** Says that it took everything and keeps half. */
export const lyingDisk: Disk = {
  ...DISK,
  create: async (path, like) => {
    const file = await DISK.create(path, like);
    return {
      ...file,
      write: async (bytes) => {
        await file.write(bytes.subarray(0, bytes.length / 2));
        return bytes.length;
      },
    };
  },
};

/** Takes a few bytes at a time. */
export const slowDisk: Disk = {
  ...DISK,
  create: async (path, like) => {
    const file = await DISK.create(path, like);
    return { ...file, write: (bytes) => file.write(bytes.subarray(0, 7)) };
  },
};
