/** What the command line and the report print: no figure smaller than it can mean, none without its unit. */
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { callCli } from './call-cli.ts';

const path = (name: string): string =>
  fileURLToPath(new URL(`../../fixtures/designs/${name}.json`, import.meta.url));

/** What no reader can use, what it looks like, and an example. */
const REFUSED: readonly (readonly [what: string, looks: RegExp, example: string])[] = [
  ['volts under a microvolt', /\d [npfa]V\b/u, 'Inhibit  106 fV'],
  ['seconds under a picosecond', /\d [fa]s\b/u, 'window −210 fs'],
  // Chances go down to 1e−12; nothing else is told by a power of ten.
  ['a bare power of ten', /^(?!.*(?:chance|over the uncertainty)).*\de[−-]\d/imu, 'drive edges  4e−8'],
  ['more than four digits', /(?<![\w.])(?:[1-9]\d?\.\d{3}|\d{3}\.\d\d|0\.0*[1-9]\d{4})/u, 'from 58.3812 ns'],
  ['a hyphen for a minus', /(?:^|[\s(])-\d/mu, 'keeps -10.9 % of a ZERO'],
  ['no number at all', /\b(?:NaN|undefined|null|Infinity)\b/u, 'margin  NaN'],
  ['SI by the column', /\(SI\)/u, 'nominal (SI)'],
];

/** The lines of a text that hold something refused, each with what it is. */
function refusedIn(text: string, refused = REFUSED): string[] {
  return text
    .split('\n')
    .flatMap((line) =>
      refused.flatMap(([what, looks]) => (looks.test(line) ? [`${what}: ${line.trim()}`] : [])),
    );
}

const printed = async (...words: string[]): Promise<string> => {
  const { status, stdout, stderr } = await callCli(words);
  expect(status, stderr).toBe(0);
  expect(stdout.length).toBeGreaterThan(200);
  return stdout;
};

/** A study of a few points. */
const STUDIES = [
  ['rate', 'steps=2', 'cases=worst'],
  ['sensitivity'],
  ['tolerance', 'draws=6'],
  ['temperature', 'steps=2', 'coarse=2'],
  ['pattern', 'random=1', 'marches=false'],
  ['shmoo', 'rows=2', 'columns=2', 'coarse=2'],
  ['scale', 'sizes=[4]', 'windings=["shared-one-run"]', 'largest=false'],
] as const;

it.each(REFUSED)('%s would be seen', (what, _looks, example) => {
  expect(refusedIn(`fine 12.3 mV, 389.5 ns\n${example}`)).toEqual([`${what}: ${example}`]);
});

describe.each(['minimal', 'single-core-jig'])('figures of %s', (name) => {
  it.each(['check', 'simulate', 'channel'])('of %s', async (command) => {
    expect(refusedIn(await printed(command, path(name)))).toEqual([]);
  });

  it.each(STUDIES)('of the study %s', async (...study) => {
    const [kind, ...options] = study as readonly string[] as [string, ...string[]];
    const given = options.flatMap((option) => ['--option', option]);
    expect(refusedIn(await printed('study', kind, path(name), '--workers', '1', ...given))).toEqual([]);
  });
});

it('figures of the window of a jig, and of its report', async () => {
  expect(refusedIn(await printed('window', path('single-core-jig')))).toEqual([]);
  const html = await printed('report', path('single-core-jig'));
  const words = html.replaceAll(/<(?:style|svg)[^]*?<\/(?:style|svg)>/gu, '').replaceAll(/<[^>]+>/gu, '\n');
  // It ends with the inputs, digit by digit as they were given.
  const anywhere = REFUSED.filter(([what]) => /volts|seconds|at all/u.test(what));
  expect(refusedIn(words, anywhere)).toEqual([]);
});
