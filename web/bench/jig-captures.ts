import { computed, signal } from '@preact/signals-core';
import type { TemplateResult } from 'lit-html';
import { formatQuantity } from '../../engine/base/format-quantity.ts';
import type { Unit } from '../../engine/base/units.ts';
import { readCapture } from '../../engine/capture/read-capture.ts';
import type { FittedCore } from '../../engine/fitting/jig/fit-core.ts';
import type { MeasuredDrive } from '../../engine/fitting/jig/read-current.ts';
import { createWork } from '../compute/work.ts';
import type { Said } from '../ui/status.ts';
import { createBenchClient } from './bench-client.ts';
import type { BenchState } from './bench-state.ts';
import { jigCapturesView, type JigGiven } from './jig-captures-view.ts';
import type { JigFields } from './jig-fields.ts';
import { readGiven, type Source } from './jig-given.ts';
import { JIG_SAMPLES } from './sample-captures.ts';

const READINGS: readonly (readonly [keyof FittedCore['measured'], string, Unit])[] = [
  ['peakOne', 'uV1', 'V'],
  ['peakTime', 't_p', 's'],
  ['switchTime', 't_s', 's'],
  ['disturbedZero', 'dVz', 'V'],
];

const NOTHING_GIVEN: JigGiven = {
  one: '',
  zero: '',
  oneCurrent: '',
  zeroCurrent: '',
  oneStart: '',
  zeroStart: '',
  gain: '',
};

/** Reads uV1, t_p, t_s and dVz off captures of one core on a jig, into the fields beside it. */
export function createJigCaptures(bench: BenchState, fields: JigFields): { view(): TemplateResult } {
  const work = createWork(createBenchClient());
  const given = signal<JigGiven>(NOTHING_GIVEN);
  const samples = signal<readonly Source[]>([]);
  const sources = computed((): readonly Source[] => [...bench.captures.value, ...samples.value]);

  function trySamples(): void {
    samples.value = JIG_SAMPLES.map(sourceOf);
    const [one, zero] = samples.value.map(({ label }) => label);
    given.value = { ...NOTHING_GIVEN, one: one!, zero: zero!, oneStart: '25 ns', zeroStart: '25 ns' };
    fields.setUp();
    measure();
  }

  function measure(): void {
    const asked = readGiven(given.value, sources.value, fields.typed('rise'));
    if (typeof asked === 'string') return work.say({ sign: 'error', text: asked });
    const { captures, drive } = asked;
    work.ask('measure', captures, {
      busy: 'Reading.',
      onAnswer: (measured) => {
        const read = readingsOf(measured);
        fields.readOff({
          ...Object.fromEntries(read.map(({ key, unit, value }) => [key, formatQuantity(value, unit, 5)])),
          ...(drive && {
            fullDrive: formatQuantity(drive.fullDrive, 'A', 5),
            rise: formatQuantity(drive.rise, 's', 5),
          }),
        });
        return readSaid(read, drive);
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

const readingsOf = (measured: FittedCore['measured']) =>
  READINGS.flatMap(([key, word, unit]) => {
    const reading = measured[key];
    return reading ? [{ key, word, unit, ...reading }] : [];
  });

function readSaid(read: ReturnType<typeof readingsOf>, drive: MeasuredDrive | undefined): Said {
  const words = read.map(
    ({ word, unit, value, error }) =>
      `${word} ${formatQuantity(value, unit, 4)} ± ${formatQuantity(error, unit, 2)}`,
  );
  const current = drive
    ? ` Full drive ${formatQuantity(drive.fullDrive, 'A', 4)} and its rise of ${formatQuantity(drive.rise, 's', 3)} are those of the captured current.`
    : '';
  return {
    sign: 'ok',
    text: `Read off: ${words.join(', ')} (one standard error each).${current} Now find the parameters.`,
  };
}
