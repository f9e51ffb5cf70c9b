import { availableParallelism, loadavg } from 'node:os';
import { parseArgs } from 'node:util';
import { benchBaselines } from './baseline-bench.ts';
import { benchEngine } from './engine-bench.ts';
import { benchGrowth } from './growth-bench.ts';
import { benchLessons } from './lessons-bench.ts';
import { benchPage } from './page-bench.ts';
import { benchServer } from './server-bench.ts';
import { benchStudies } from './study-bench.ts';
import { recordGroup } from './figures-file.ts';
import { writeTo, type BenchContext } from './table.ts';
import { benchWindow } from './window-bench.ts';

const GROUPS: Readonly<Record<string, (bench: BenchContext) => Promise<void>>> = {
  engine: benchEngine,
  baseline: benchBaselines,
  window: benchWindow,
  study: benchStudies,
  server: benchServer,
  page: benchPage,
  lessons: benchLessons,
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

let lines: string[] = [];
const bench = writeTo((line) => {
  process.stdout.write(`${line}\n`);
  lines.push(line);
}, values);
for (const name of names) {
  if (!wanted.includes(name)) continue;
  lines = [];
  await GROUPS[name]!(bench);
  const on = `${new Date().toISOString().slice(0, 10)}, Node ${process.version}, ${values.quick ? 'few samples' : 'all samples'}, load ${load()} on ${availableParallelism()} processors${values.full ? ', --full' : ''}.`;
  process.stdout.write(`  ${on}\n`);
  recordGroup(name, lines, on);
}
