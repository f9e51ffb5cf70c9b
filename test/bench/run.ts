import { availableParallelism, loadavg } from 'node:os';
import { parseArgs } from 'node:util';
import { benchBaselines } from './baseline-bench.ts';
import { benchEngine } from './engine-bench.ts';
import { benchGrowth } from './growth-bench.ts';
import { benchPage } from './page-bench.ts';
import { benchServer } from './server-bench.ts';
import { benchStudies } from './study-bench.ts';
import { writeTo, type BenchContext } from './table.ts';
import { benchWindow } from './window-bench.ts';

const GROUPS: Readonly<Record<string, (bench: BenchContext) => Promise<void>>> = {
  engine: benchEngine,
  baseline: benchBaselines,
  window: benchWindow,
  study: benchStudies,
  server: benchServer,
  page: benchPage,
  growth: benchGrowth,
};

const { values } = parseArgs({
  options: {
    only: { type: 'string', multiple: true },
    quick: { type: 'boolean', default: false },
    full: { type: 'boolean', default: false },
  },
});
const load = (): string => loadavg()[0]!.toFixed(1);
const names = Object.keys(GROUPS);
const wanted = values.only ?? names;
const unknown = wanted.filter((name) => !names.includes(name));
if (unknown.length > 0)
  throw new RangeError(`--only takes ${names.join(', ')}; received ${unknown.join(', ')}: name one of them.`);

const bench = writeTo((line) => process.stdout.write(`${line}\n`), values);
bench.note(
  `Node ${process.version}, ${values.quick ? 'quick: few samples' : 'all samples'}; ratios within this run.`,
);
for (const name of names) {
  if (!wanted.includes(name)) continue;
  await GROUPS[name]!(bench);
  bench.note(
    `Load of the machine: ${load()} (wall times mean little above the number of cores, ${availableParallelism()}).`,
  );
}
