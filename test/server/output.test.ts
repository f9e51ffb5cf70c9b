import { execFileSync, spawnSync } from 'node:child_process';
import {
  chmodSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { replaceWhole } from '../../server/disk.ts';
import { callCli } from './call-cli.ts';
import { CLI, ensureBuild } from './ensure-build.ts';
import { constantRunner, startTestServer } from './http-client.ts';
import { shortDisk } from './odd-disks.ts';

let folder: string;
let schema: string;
beforeAll(async () => {
  await ensureBuild();
  folder = mkdtempSync(join(tmpdir(), 'strobewright-output-'));
  schema = (await callCli(['schema'])).stdout;
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** The command through a shell, which opens what its standard output is sent to. */
const shell = (line: string) =>
  spawnSync('bash', ['-c', line], {
    cwd: folder,
    encoding: 'utf8',
    env: { ...process.env, SCHEMA: `${process.execPath} ${CLI} schema` },
  });

describe('--output', () => {
  it('to a device or a pipe writes to it and replaces nothing', () => {
    expect(shell('$SCHEMA --output /dev/null').status).toBe(0);
    expect(statSync('/dev/null').isCharacterDevice()).toBe(true);
    const pipe = shell('mkfifo pipe; cat pipe > through & $SCHEMA --output pipe; wait');
    expect([pipe.status, readFileSync(join(folder, 'through'), 'utf8') === schema]).toEqual([0, true]);
    expect(statSync(join(folder, 'pipe')).isFIFO()).toBe(true);
  });

  it.each(['/dev/stdout', '/dev/fd/1', '/proc/self/fd/1'])('to %s is standard output', (path) => {
    expect(shell(`$SCHEMA --output ${path} | cat`).stdout === schema).toBe(true);
    expect(shell(`echo before > log; $SCHEMA --output ${path} >> log; echo after >> log`).status).toBe(0);
    expect(readFileSync(join(folder, 'log'), 'utf8') === `before\n${schema}after\n`).toBe(true);
  });

  it('to another open file goes on where that is', () => {
    shell('echo before > log3; $SCHEMA --output /dev/fd/3 3>> log3');
    expect(readFileSync(join(folder, 'log3'), 'utf8') === `before\n${schema}`).toBe(true);
  });

  it('through a link replaces what it leads to and keeps its permissions', () => {
    writeFileSync(join(folder, 'target'), 'old');
    chmodSync(join(folder, 'target'), 0o640);
    symlinkSync('target', join(folder, 'link'));
    expect(shell('$SCHEMA --output link').status).toBe(0);
    expect(readFileSync(join(folder, 'target'), 'utf8') === schema).toBe(true);
    expect(statSync(join(folder, 'target')).mode & 0o777).toBe(0o640);
  });

  it('to a file marked read-only, to a folder or to nothing is refused in one sentence', async () => {
    writeFileSync(join(folder, 'kept'), 'old', { mode: 0o444 });
    mkdirSync(join(folder, 'sub'));
    for (const [path, word] of [
      [join(folder, 'kept'), 'read-only'],
      [join(folder, 'sub'), 'folder'],
      ['', 'empty'],
    ]) {
      const { status, stderr } = await callCli(['schema', '--output', path]);
      expect([status, stderr.trim().split('\n').length]).toEqual([2, 1]);
      expect(stderr).toContain(word);
    }
    expect(readFileSync(join(folder, 'kept'), 'utf8')).toBe('old');
    expect(readdirSync(folder).filter((name) => name.endsWith('.part'))).toEqual([]);
  });
});

describe('standard output', () => {
  it('on a full disk is told: exit status 2 and one sentence', () => {
    const { status, stderr } = shell('$SCHEMA > /dev/full');
    expect([status, stderr]).toEqual([2, expect.stringMatching(/^Standard output .*ENOSPC.*\.\n$/)]);
  });

  it('that somebody closes early is no fault', () => {
    expect(shell('set -o pipefail; $SCHEMA | head -c 10 > /dev/null')).toMatchObject({
      status: 0,
      stderr: '',
    });
  });
});

describe('a disk that fills up', () => {
  it('as a stand-in: what writes short is no success, and the old file is as it was', async () => {
    const path = join(folder, 'result');
    writeFileSync(path, 'old');
    const write = replaceWhole(
      shortDisk(1000),
      { path, part: `${path}.part`, folder },
      Buffer.alloc(1001, 'x'),
    );
    await expect(write).rejects.toMatchObject({ code: 'ENOSPC' });
    expect(readFileSync(path, 'utf8')).toBe('old');
    expect(readdirSync(folder)).not.toContain('result.part');
  });

  // A real one needs the right to mount.
  it('for real: --output, standard output and a kept capture', async ({ skip }) => {
    const disk = mount() ?? skip();
    try {
      writeFileSync(join(disk, 'result'), 'old');
      const output = await callCli(['schema', '--output', join(disk, 'result')]);
      expect([output.status, output.stderr]).toEqual([2, expect.stringContaining('the disk is full')]);
      const redirected = shell(`$SCHEMA > ${join(disk, 'redirected')}`);
      expect([redirected.status, redirected.stderr]).toEqual([2, expect.stringContaining('ENOSPC')]);
      rmSync(join(disk, 'redirected'));
      const server = await startTestServer({ runner: constantRunner('{}'), dataFolder: join(disk, 'data') });
      const keep = (body: string) =>
        server.ask('/api/v1/captures/a', { method: 'PUT', headers: { 'Content-Type': 'text/csv' }, body });
      expect((await keep('time_ns,u_mV\n')).status).toBe(201);
      const refused = await keep('0,1\n'.repeat(20_000));
      expect([refused.status, refused.body]).toEqual([507, expect.stringContaining('disk-full')]);
      expect((await server.ask('/api/v1/captures/a')).body).toBe('time_ns,u_mV\n');
      await server.close();
      expect(readFileSync(join(disk, 'result'), 'utf8')).toBe('old');
      expect(readdirSync(disk, { recursive: true }).filter((name) => String(name).includes('.part'))).toEqual(
        [],
      );
    } finally {
      execFileSync('umount', [disk]);
    }
  });
});

/** A disk of 48 KB; undefined where this user may not mount one. */
function mount(): string | undefined {
  const place = mkdtempSync(join(tmpdir(), 'strobewright-full-'));
  const { status } = spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=48k', 'tmpfs', place]);
  return status === 0 ? place : undefined;
}
