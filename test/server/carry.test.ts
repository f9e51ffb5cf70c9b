import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { designToJson } from '../../engine/design/design-to-json.ts';
import { stagesOf } from '../../engine/stages/stage.ts';
import { demo } from '../demo-design.ts';
import { callCli } from './call-cli.ts';

const folder = mkdtempSync(join(tmpdir(), 'strobewright-carry-'));
afterAll(() => rmSync(folder, { recursive: true }));
const put = (name: string, content: unknown): string => {
  const path = join(folder, name);
  writeFileSync(path, JSON.stringify(content));
  return path;
};

describe('carry', () => {
  const design = demo('common-practice-8x8');
  const final = put('final.json', designToJson(design));
  const rig = designToJson(stagesOf(design)[0]!.design) as Record<string, Record<string, object>>;
  const fitted = put('rig.json', {
    ...rig,
    core: { ...rig['core'], parameters: { ...rig['core']!['parameters'], remanentFlux: '4.6 nWb' } },
  });

  it('writes the final design with what the stage has found, and says what it did', async () => {
    const output = join(folder, 'next.json');
    const ended = await callCli(['carry', final, fitted, '--stage', 'rig', '--output', output]);
    expect(ended).toMatchObject({ status: 0, stdout: '' });
    expect(ended.stderr).toBe('remanent flux of a core: 5 nWb, found 4.6 nWb; taken over.\n');
    const next = JSON.parse(readFileSync(output, 'utf8'));
    expect(next.core.parameters.remanentFlux).toBe('4.6 nWb');
    expect({ ...next, core: {} }).toEqual({ ...designToJson(design), core: {} });
  });

  it('refuses a stage that the design does not have, in a sentence', async () => {
    const ended = await callCli(['carry', final, fitted, '--stage', 'word']);
    expect(ended.status).toBe(2);
    expect(ended.stderr).toContain('a single mat has none called word; give rig or mat.');
  });
});
