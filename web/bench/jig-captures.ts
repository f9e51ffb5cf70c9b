import { computed, signal } from '@preact/signals-core';
import type { TemplateResult } from 'lit-html';
import { formatQuantity } from '../../engine/base/format-quantity.ts';
import { readQuantity, type Unit } from '../../engine/base/units.ts';
import { readCapture } from '../../engine/capture/read-capture.ts';
import type { FittedCore, JigCaptures } from '../../engine/fitting/jig/fit-core.ts';
import { createWork } from '../compute/work.ts';
import type { Said } from '../ui/status.ts';
import { createBenchClient } from './bench-client.ts';
import type { BenchState } from './bench-state.ts';
import { jigCapturesView, type JigGiven } from './jig-captures-view.ts';
import type { JigFields } from './jig-fields.ts';
import { JIG_SAMPLES } from './sample-captures.ts';

interface Source {
  readonly label: string;
  readonly trace: { readonly time: Float64Array; readonly value: Float64Array };
}

const READINGS: readonly (readonly [keyof FittedCore['measured'], string, Unit])[] = [
  ['peakOne', 'uV1', 'V'],
  ['peakTime', 't_p', 's'],
  ['switchTime', 't_s', 's'],
  ['disturbedZero', 'dVz', 'V'],
];

/** Reads uV1, t_p, t_s and dVz off captures of one core on a jig, into the fields beside it. */
export function createJigCaptures(bench: BenchState, fields: JigFields): { view(): TemplateResult } {
  const work = createWork(createBenchClient());
  const given = signal<JigGiven>({ one: '', zero: '', oneStart: '', zeroStart: '', gain: '' });
  const samples = signal<readonly Source[]>([]);
  const sources = computed((): readonly Source[] => [...bench.captures.value, ...samples.value]);

  function trySamples(): void {
    samples.value = JIG_SAMPLES.map(sourceOf);
    const [one, zero] = samples.value.map(({ label }) => label);
    given.value = { one: one!, zero: zero!, oneStart: '25 ns', zeroStart: '25 ns', gain: '' };
    fields.setUp();
    measure();
  }

  function measure(): void {
    const captures = readGiven(given.value, sources.value, fields.typed('rise'));
    if (typeof captures === 'string') return work.say({ sign: 'error', text: captures });
    work.ask('measure', captures, {
      busy: 'Reading.',
      onAnswer: (measured) => {
        const read = readingsOf(measured);
        fields.readOff(
          Object.fromEntries(read.map(({ key, unit, value }) => [key, formatQuantity(value, unit, 5)])),
        );
        return readSaid(read);
      },
    });
  }

  return {
    view: () =>
      jigCapturesView({
        labels: sources.value.map(({ label }) => label),
        given: given.value,
        work: work.state.value,
        onGive: (part) => {
          given.value = { ...given.value, ...part };
        },
        onMeasure: measure,
        onSamples: trySamples,
      }),
  };
}

function sourceOf({ title, text }: (typeof JIG_SAMPLES)[number]): Source {
  const { time, traces } = readCapture(text).capture!;
  return { label: title, trace: { time, value: traces[0]!.value } };
}

/** What is to be read, from the fields as typed; or what is wrong with them. */
function readGiven(given: JigGiven, sources: readonly Source[], rise: string): JigCaptures | string {
  const named = (wanted: string) => sources.find(({ label }) => label === wanted);
  const [one, zero] = [named(given.one), named(given.zero)];
  if (!one) return 'Choose the capture of a ONE: take one at the top of this page first.';
  const long = readTime(rise, 'The rise of the drive');
  if (typeof long === 'string') return long;
  const start = readTime(given.oneStart, 'The start of the drive’s rise in the ONE');
  if (typeof start === 'string') return start;
  const second = zero ? readTime(given.zeroStart, 'The start of the drive’s rise in the ZERO') : 0;
  if (typeof second === 'string') return second;
  const gain = given.gain.trim() === '' ? 1 : Number(given.gain.replace(',', '.'));
  if (!(Math.abs(gain) > 0 && Number.isFinite(gain)))
    return 'The gain must be a plain number that is not 0: write it like 10.';
  return {
    one: { trace: one.trace, edge: { start, rise: long } },
    disturbedZero: zero && { trace: zero.trace, edge: { start: second, rise: long } },
    gain,
  };
}

/** s, or what is wrong with it. */
function readTime(text: string, what: string): number | string {
  const reading = readQuantity(text.trim(), 's');
  return reading.ok
    ? reading.value
    : `${what} must be a time with its unit, but it ${reading.why}: write it like 25 ns.`;
}

const readingsOf = (measured: FittedCore['measured']) =>
  READINGS.flatMap(([key, word, unit]) => {
    const reading = measured[key];
    return reading ? [{ key, word, unit, ...reading }] : [];
  });

function readSaid(read: ReturnType<typeof readingsOf>): Said {
  const words = read.map(
    ({ word, unit, value, error }) =>
      `${word} ${formatQuantity(value, unit, 4)} ± ${formatQuantity(error, unit, 2)}`,
  );
  return {
    sign: 'ok',
    text: `Read off: ${words.join(', ')} (one standard error each). Now find the parameters.`,
  };
}
