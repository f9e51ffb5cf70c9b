import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { SavedOptions } from '../../server/saved-files.ts';
import { openSavedFiles } from '../../server/saved-files.ts';
import { failing, lyingDisk, meanwhile, shortDisk, slowDisk, without } from './odd-disks.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'strobewright-faults-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const open = (options: Partial<SavedOptions> = {}) =>
  openSavedFiles({ folder, extension: 'json', names: 5, versions: 3, ...options });
const bytes = (text: string): Buffer => Buffer.from(text);
const codeOf = (promise: Promise<unknown>): Promise<unknown> =>
  promise.then(
    () => 'done',
    (error: { body?: { code: string } }) => error.body?.code ?? error,
  );
const filesIn = (): string[] => readdirSync(join(folder, readdirSync(folder)[0])).sort();

describe('a disk that fails', () => {
  it.each(['ENOSPC', 'EACCES', 'EIO'])(
    'with %s at any one call is told without a path, and the old version is as it was',
    async (code) => {
      let told = 0;
      for (let nth = 1; ; nth++) {
        rmSync(folder, { recursive: true });
        await open().save('kept', bytes('old'));
        const { disk, calls } = failing(nth, code);
        const outcome = await open({ disk })
          .save('kept', bytes('new'))
          .catch((error: unknown) => error);
        const { content, version } = await open().read('kept');
        if (outcome instanceof Error) {
          told++;
          expect(outcome).toMatchObject({
            status: 507,
            body: { code: code === 'ENOSPC' ? 'disk-full' : 'disk-fault' },
          });
          expect(outcome.message).toContain(code);
          expect(outcome.message).not.toContain(folder);
        } else {
          expect(content.toString()).toBe('new');
        }
        expect(content.toString()).toBe(version === 1 ? 'old' : 'new');
        expect((await open().list()).map(({ name }) => name)).toEqual(['kept']);
        expect((await open().read('kept', 1)).content.toString()).toBe('old');
        if (calls() < nth) break;
      }
      expect(told).toBeGreaterThanOrEqual(6);
    },
  );

  it('does not keep a later save from working', async () => {
    const { disk } = failing(1, 'EIO');
    const saved = open({ disk });
    expect(await codeOf(saved.save('a', bytes('1')))).toBe('disk-fault');
    expect(await codeOf(saved.save('a', bytes('1')))).toBe('done');
  });

  it.each([
    ['takes a part of a write and then nothing', () => shortDisk(30_000), 'disk-full'],
    ['says it took everything and kept half', () => lyingDisk, 'disk-fault'],
    ['has no room even for the name', () => shortDisk(5), 'disk-full'],
  ])('%s: the save is refused, nothing cut is ever shown', async (_what, disk, code) => {
    await open().save('kept', bytes('old'));
    expect(await codeOf(open({ disk: disk() }).save('kept', Buffer.alloc(40_000, 'x')))).toBe(code);
    expect(await codeOf(open({ disk: disk() }).save('new', Buffer.alloc(40_000, 'x')))).toBe(code);
    expect((await open().list()).map(({ name, version }) => [name, version])).toEqual([['kept', 1]]);
    expect((await open().read('kept')).content.toString()).toBe('old');
    expect(filesIn()).toEqual(['000001.json', 'about.json']);
  });

  it('takes a few bytes at a time: everything is there in the end', async () => {
    await open({ disk: slowDisk }).save('long', bytes('0123456789'.repeat(50)));
    expect((await open().read('long')).content.toString()).toBe('0123456789'.repeat(50));
  });

  it('knows no second names for a file: versions are exclusive all the same', async () => {
    const disk = without('link', 'EPERM');
    const two = [open({ disk, versions: 200 }), open({ disk, versions: 200 })];
    const saves = Array.from({ length: 60 }, async (_, i) => {
      const { version } = await two[i % 2].save('one', bytes(`text ${i}`));
      return [version, `text ${i}`] as const;
    });
    for (const [version, text] of await Promise.all(saves))
      expect((await open().read('one', version)).content.toString()).toBe(text);
    expect(filesIn().filter((name) => /claim|part/.test(name))).toEqual([]);
  });

  it('a claim that a killed server left behind costs a number and no more', async () => {
    const disk = without('link', 'EPERM');
    await open({ disk }).save('a', bytes('1'));
    writeFileSync(join(folder, readdirSync(folder)[0], '000002.json.claim'), '');
    expect(await open({ disk }).save('a', bytes('2'))).toEqual({ version: 3 });
    expect((await open({ disk, leftoverAge: 0 }).read('a')).content.toString()).toBe('2');
    expect(filesIn()).toEqual(['000001.json', '000003.json', 'about.json']);
  });
});

describe('two stores on one folder', () => {
  it('each acknowledged version reads back as written, whoever saves, removes or starts in between', async () => {
    const two = [open({ versions: 1000 }), open({ versions: 1000 })];
    const kept = new Map<string, string>();
    const line = async (who: number): Promise<void> => {
      for (let i = 0; i < 60; i++) {
        const text = `${who} ${i} ${'x'.repeat(i * 50)}`;
        const { version } = await two[who].save(`name ${i % 3}`, bytes(text));
        const key = `name ${i % 3}/${version}`;
        expect(kept.has(key)).toBe(false);
        kept.set(key, text);
        // A server that starts sweeps nothing that is being written.
        if (i % 10 === 0) await open().list();
      }
    };
    await Promise.all([line(0), line(1)]);
    expect(kept.size).toBe(120);
    for (const [key, text] of kept) {
      const [name, version] = key.split('/');
      expect((await two[0].read(name, Number(version))).content.toString()).toBe(text);
    }
  });

  it('only one may follow the version both have read', async () => {
    const two = [open(), open()];
    await two[0].save('a', bytes('1'));
    const codes = await Promise.all(two.map((saved, i) => codeOf(saved.save('a', bytes(`by ${i}`), 1))));
    expect(codes.sort()).toEqual(['done', 'other-version']);
  });

  it('what the other saves between the look and the naming is not followed unseen', async () => {
    await open().save('a', bytes('read by both'));
    const disk = meanwhile('link', () => open().save('a', bytes('theirs'), 1));
    expect(await codeOf(open({ disk }).save('a', bytes('mine'), 1))).toBe('other-version');
    expect((await open().read('a')).content.toString()).toBe('theirs');
    expect(filesIn()).toEqual(['000001.json', '000002.json', 'about.json']);
  });

  it('what one saves while the other removes is whole and has its name, or is gone and was told so', async () => {
    const two = [open(), open()];
    for (let i = 0; i < 40; i++) {
      await two[0].save('a', bytes('before'));
      const [, saved] = await Promise.allSettled([two[0].remove('a'), two[1].save('a', bytes('after'))]);
      expect(saved.status).toBe('fulfilled');
      const list = await open().list();
      if (list.length === 0) continue;
      expect(list[0]).toMatchObject({ name: 'a' });
      expect(list[0]).not.toHaveProperty('damaged');
      expect((await open().read('a')).content.toString()).toBe('after');
    }
    for (const place of readdirSync(folder))
      expect(readFileSync(join(folder, place, 'about.json'), 'utf8')).toContain('"a"');
  });
});
